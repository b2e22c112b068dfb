"""One student's feedback page: what was typed, how it was read, the verdict, and the worked solution."""

from collections.abc import Iterable

from markupsafe import Markup

from gearlab.course.decisions.marks import Told
from gearlab.course.decisions.totals import Settled
from gearlab.course.files import one_line, safe
from gearlab.course.gradebook import points_text
from gearlab.course.marks import MarkedTask, cause_words, state
from gearlab.course.pages import Frame, part
from gearlab.course.roster import Student
from gearlab.practice import HomeworkSet
from gearlab.practice.contract import rules, why, within
from gearlab.practice.judging import told_once
from gearlab.practice.verdict import CONDITION_NAMES, NAMES, Verdict
from gearlab.theory.units import written

_WHO = {"look_again": "Noted by"}
LONGEST = 300  # characters of an answer that a page shows
SIGNS = {"right": "✓", "partly": "◐", "wrong": "✗", "empty": "–", "open": "○"}


class FeedbackPages:
    """Writes the feedback pages of a set.

    homework: the set, from the edition that was handed out.
    """

    def __init__(self, homework: HomeworkSet):
        css = Markup(part("page.css") + part("feedback.css"))
        self._page = Frame(
            "feedback.html",
            ("who", "id", "packet", "points", "out_of", "overview", "notes", "questions"),
            set=homework,
            css=css,
            rules=" ".join(rules(entry.question for entry in homework.entries)),
        )
        self._questions = [
            Frame(
                "feedback_question.html",
                ("points", "out_of", "prompt", "decided", "answers", "open", "solution"),
                number=number,
                question=entry.question,
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

    def page(
        self, student: Student, packet: str, marked: list[MarkedTask], notes: list[str], settled: Settled
    ) -> str:
        """The page of one student.

        marked: empty where nothing was handed in, or nothing is to be marked.
        notes: remarks about the file that was handed in.
        settled: the mark in all, with what was decided about it.
        """
        overview, questions = [], []
        for number, (task, frame, heads) in enumerate(zip(marked, self._questions, self._heads), start=1):
            tone = _tone(task)
            overview.append(
                f'<li class="{tone}"><a href="#q{number}"><span class="sign"'
                f' aria-hidden="true">{SIGNS[tone]}</span> {number}: {_reached(task.points, task.open)} of'
                f" {points_text(task.out_of)}{' (decided)' if task.told else ''}</a></li>"
            )
            questions.append(
                frame.fill(
                    {
                        "points": _reached(task.points, task.open),
                        "out_of": points_text(task.out_of),
                        "decided": _spread(task) + _decided(task.told_of()),
                        "open": "" if tone == "right" else " open",
                        "prompt": safe(task.draw.prompt),
                        "answers": _answers(task, heads),
                        "solution": task.entry.question.solution(task.draw, form="html"),
                    }
                )
            )
        if open_ := sum(task.open for task in marked):
            left = points_text(open_)
            many = f"{left} point{' is' if left == '1' else 's are'}"
            notes = [
                *notes,
                f"{many} still open: what you wrote is read by people, and not all of it is yet.",
            ]
        return self._page.fill(
            {
                "who": safe(student.name or student.id),
                "id": safe(student.id),
                "packet": packet,
                "points": "no mark" if settled.points is None else points_text(settled.points),
                "out_of": "" if settled.points is None else f"of {points_text(settled.out_of)} points",
                "overview": "".join(overview),
                "notes": "".join(f'<p class="note">{safe(note)}</p>\n' for note in notes)
                + _sum_words(marked, settled)
                + _decided(settled.told),
                "questions": "".join(questions),
            }
        )


def _spread(task: MarkedTask) -> str:
    """That a question counts for more, where points of what was left out were spread over it."""
    if abs(task.weight - 1) < 1e-9 or not task.out_of:
        return ""
    return (
        f'<p class="note">Points of what was left out are spread over the rest: this question counts'
        f" {points_text(task.out_of)} in place of {points_text(task.entry.points)}.</p>\n"
    )


def _decided(told: Iterable[Told]) -> str:
    """What was decided, with who and why."""
    return "".join(
        f'<div class="decided"><p><b>{safe(decision.title)}.</b> {safe(decision.words)}</p>\n<p'
        f' class="soft">{_WHO.get(decision.kind, "Decided by")}'
        f" <bdi>{safe(decision.by)}</bdi>{f', {safe(decision.when)}' if decision.when else ''}:"
        f" <bdi>{safe(decision.why)}</bdi></p></div>\n"
        for decision in told
    )


def _sum_words(marked: list[MarkedTask], settled: Settled) -> str:
    """How the questions come to the mark in all, where a decision stands between them."""
    reached = sum(task.points for task in marked)
    if not marked or settled.points is None or abs(settled.points - reached) < 0.005:
        return ""
    return f'<p class="note">The questions come to {points_text(reached)} points; see what was decided.</p>\n'


def _tone(task: MarkedTask) -> str:
    """The state of a whole question."""
    if any(told.kind == "set_points" for told in task.told):  # the verdicts do not say what counts
        return "right" if task.points >= task.out_of else "partly" if task.points > 0 else "wrong"
    counting = [verdict for identity, verdict in task.verdicts.items() if identity not in task.left_out]
    states = {state(verdict) for verdict in counting} or {"empty"}
    if len(states) == 1:
        return states.pop()
    return "partly" if task.points > 0 else "wrong"


def _answers(task: MarkedTask, heads: dict[str, str]) -> str:
    """What was typed, read and found, for each answer of a question."""
    scale, question = task.scale, task.entry.question
    of_conditions = not question.judges_fields
    pieces = [_chosen(task)] if of_conditions else []
    sentences = told_once(question, task.verdicts)
    for identity, head in heads.items():
        verdict = task.verdicts[identity]
        left_out = identity in task.left_out
        tone = "empty" if left_out else state(verdict)
        name = (CONDITION_NAMES if of_conditions else NAMES)[verdict.kind]
        if left_out:
            name = "left out"
        elif verdict.right and not task.plain[identity].right:
            name = f"full points by a decision (found: {name})"
        reached = _reached(verdict.points * scale, verdict.open)
        points = f"{reached} of {points_text(verdict.out_of * scale)}"
        title = f'<span class="sign" aria-hidden="true">{SIGNS[tone]}</span> {head}: {name}'
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
            shape, own = "", safe(_typed(task, identity))
            if question.prose:
                shape, own = ' class="prose"', _lines(task.texts.get(identity, ""))
            pieces.append(f"<dl{shape}><dt>you answered</dt><dd><bdi>{own}</bdi></dd>{read}{asked}</dl>\n")
        sentence = sentences[identity]
        if of_conditions:
            sentence = sentence.removeprefix("Met.").strip()
        if sentence and sentence != "Right.":
            pieces.append(f"<p>{safe(sentence)}</p>\n")
        lost = why(verdict, cause_words(task, identity))
        if question.for_people and not left_out:
            lost = _read(verdict, scale)
        if lost and verdict.kind != "not answered" and (question.judges_fields or verdict.points):
            pieces.append(f'<p class="why">{safe(lost[0].upper() + lost[1:])}.</p>\n')
        pieces.append(_decided(task.told_of(identity)))
        pieces.append("</div>\n")
    reason = task.texts.get("reason")
    if reason and reason.strip():
        pieces.append(
            '<div class="answer empty"><h3>your reason</h3><p'
            f' class="reason"><bdi>{safe(reason)}</bdi></p></div>\n'
        )
    return "".join(pieces)


def _read(verdict: Verdict, scale: float) -> str:
    """How what people gave for a text comes to its points here; "" where nobody has read it yet."""
    if verdict.open or verdict.kind == "not answered":
        return ""
    given = f"{points_text(verdict.points)} of {points_text(verdict.out_of)} points by the list below"
    return given if abs(scale - 1) < 1e-9 else f"{given}; in this set each counts {points_text(scale)}"


def _asked(task: MarkedTask, identity: str) -> str:
    """What was asked of an answer, and how far off would have been right."""
    question = task.entry.question
    contract = question.contracts.get(identity)
    if contract is None or not contract.asked:
        return ""
    margin = ""
    if question.numbers:
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


def _reached(points: float, open_: float) -> str:
    """Points as they are told; a question mark where nobody has given or refused them yet."""
    return "?" if open_ and not points else points_text(points)


def _lines(text: str) -> str:
    """A text with its own lines, and nothing in it that a page could obey."""
    return "<br>".join(safe(one_line(line)) for line in text.strip().splitlines())


def _typed(task: MarkedTask, identity: str) -> str:
    """The answer as it was given; for a choice, the words of the options."""
    text = one_line(task.texts.get(identity, ""))
    if len(text) > LONGEST:
        text = text[:LONGEST] + " ..."
    return task.entry.question.in_words(task.draw, text, task.read[identity])


def _spelled(unit: str) -> str:
    """A unit behind "in": what would read "in in" is spelt out."""
    return "inches" if unit == "in" else written(unit)
