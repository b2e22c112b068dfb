"""One student's feedback page: what was typed, how it was read, the verdict, and the worked solution."""

from markupsafe import Markup

from gearlab.course.files import one_line, safe
from gearlab.course.gradebook import points_text
from gearlab.course.marks import MarkedTask, state
from gearlab.course.pages import Frame, part
from gearlab.course.roster import Student
from gearlab.practice import HomeworkSet
from gearlab.practice.contract import rules, why, within
from gearlab.practice.verdict import CONDITION_NAMES, NAMES
from gearlab.theory.units import written

LONGEST = 300  # characters of an answer that a page shows
SIGNS = {"right": "✓", "partly": "◐", "wrong": "✗", "empty": "–"}


class FeedbackPages:
    """Writes the feedback pages of a set.

    homework: the set, from the edition that was handed out.
    """

    def __init__(self, homework: HomeworkSet):
        css = Markup(part("page.css") + part("feedback.css"))
        self._page = Frame(
            "feedback.html",
            ("who", "id", "packet", "points", "overview", "notes", "questions"),
            set=homework,
            css=css,
            rules=" ".join(rules(entry.question for entry in homework.entries)),
            out_of=points_text(homework.points),
        )
        self._questions = [
            Frame(
                "feedback_question.html",
                ("points", "prompt", "answers", "open", "solution"),
                number=number,
                question=entry.question,
                out_of=points_text(entry.points),
            )
            for number, entry in enumerate(homework.entries, start=1)
        ]
        self._heads = [
            {
                answer.id: safe(answer.label + (f", in {_spelled(answer.unit)}" if answer.unit else ""))
                for answer in entry.question.answers
            }
            for entry in homework.entries
        ]

    def page(self, student: Student, packet: str, marked: list[MarkedTask], notes: list[str]) -> str:
        """The page of one student.

        notes: remarks about the file that was handed in.
        """
        overview, questions, total = [], [], 0.0
        for number, (task, frame, heads) in enumerate(zip(marked, self._questions, self._heads), start=1):
            total += task.points
            tone = _tone(task)
            overview.append(
                f'<li class="{tone}"><a href="#q{number}"><span class="sign"'
                f' aria-hidden="true">{SIGNS[tone]}</span> {number}: {points_text(task.points)} of'
                f" {points_text(task.entry.points)}</a></li>"
            )
            questions.append(
                frame.fill(
                    {
                        "points": points_text(task.points),
                        "open": "" if tone == "right" else " open",
                        "prompt": safe(task.draw.prompt),
                        "answers": _answers(task, heads),
                        "solution": task.entry.question.solution(task.draw, form="html"),
                    }
                )
            )
        return self._page.fill(
            {
                "who": safe(student.name or student.id),
                "id": safe(student.id),
                "packet": packet,
                "points": points_text(total),
                "overview": "".join(overview),
                "notes": "".join(f'<p class="note">{safe(note)}</p>\n' for note in notes),
                "questions": "".join(questions),
            }
        )


def _tone(task: MarkedTask) -> str:
    """The state of a whole question."""
    states = {state(verdict) for verdict in task.verdicts.values()}
    if len(states) == 1:
        return states.pop()
    return "partly" if task.points > 0 else "wrong"


def _answers(task: MarkedTask, heads: dict[str, str]) -> str:
    """What was typed, read and found, for each answer of a question."""
    scale, question = task.entry.scale, task.entry.question
    of_conditions = not question.judges_fields
    pieces = [_chosen(task)] if of_conditions else []
    for identity, head in heads.items():
        verdict = task.verdicts[identity]
        tone = state(verdict)
        points = f"{points_text(verdict.points * scale)} of {points_text(verdict.out_of * scale)}"
        title = (
            f'<span class="sign" aria-hidden="true">{SIGNS[tone]}</span> {head}:'
            f" {(CONDITION_NAMES if of_conditions else NAMES)[verdict.kind]}"
        )
        pieces.append(
            f'<div class="answer {tone}"><h3><span>{title}</span><span class="worth">{points}</span></h3>\n'
        )
        asked = _asked(task, identity)
        if verdict.kind == "not answered" or not question.judges_fields:
            if asked:
                pieces.append(f"<dl>{asked}</dl>\n")
        else:
            read = (
                ""
                if not (question.echoes and verdict.read)
                else f"<dt>read as</dt><dd>{safe(verdict.read.removeprefix('read as '))}</dd>"
            )
            pieces.append(
                f"<dl><dt>you answered</dt><dd><bdi>{safe(_typed(task, identity))}</bdi></dd>"
                f"{read}{asked}</dl>\n"
            )
        sentence = verdict.sentence.removeprefix("Met.").strip() if of_conditions else verdict.sentence
        if sentence and sentence != "Right.":
            pieces.append(f"<p>{safe(sentence)}</p>\n")
        lost = why(verdict)
        if lost and verdict.kind != "not answered" and (question.judges_fields or verdict.points):
            pieces.append(f'<p class="why">{safe(lost[0].upper() + lost[1:])}.</p>\n')
        pieces.append("</div>\n")
    reason = task.texts.get("reason")
    if reason and reason.strip():
        pieces.append(
            '<div class="answer empty"><h3>your reason</h3><p'
            f' class="reason"><bdi>{safe(reason)}</bdi></p></div>\n'
        )
    return "".join(pieces)


def _asked(task: MarkedTask, identity: str) -> str:
    """What was asked of an answer, and how far off would have been right."""
    question = task.entry.question
    contract = question.contracts.get(identity)
    if contract is None or not contract.asked:
        return ""
    margin = ""
    if question.kind == "number":
        answer = question.answer(identity)
        limit = within(answer, task.draw.keys[answer.place])
        margin = f"; right {limit}" if limit else ""
    return f"<div><dt>asked</dt><dd>{safe(contract.asked + margin)}</dd></div>"


def _chosen(task: MarkedTask) -> str:
    """What was typed into the fields of a question with many right answers."""
    rows = []
    for field in task.entry.question.fields:
        text = _typed(task, field.id)
        reading = task.read[field.id]
        read = (
            safe(reading.echo.removeprefix("read as "))
            if reading.ok
            else "nothing"
            if reading.empty
            else "could not be read"
        )
        rows.append(
            f'<dt>{safe(field.label)}</dt><dd><bdi>{safe(text)}</bdi> <span class="soft">({read})</span></dd>'
        )
    return f'<dl class="chosen">{"".join(rows)}</dl>\n'


def _typed(task: MarkedTask, identity: str) -> str:
    """The answer as it was given; for a choice, the words of the options."""
    text = one_line(task.texts.get(identity, ""))
    if len(text) > LONGEST:
        text = text[:LONGEST] + " ..."
    return task.entry.question.in_words(task.draw, text, task.read[identity])


def _spelled(unit: str) -> str:
    """A unit behind "in": what would read "in in" is spelt out."""
    return "inches" if unit == "in" else written(unit)
