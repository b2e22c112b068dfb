"""One student's feedback page: what was typed, how it was read, the verdict, and the worked solution."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from gearlab.course.decisions.marks import Settled, Told
from gearlab.course.gradebook import points_text
from gearlab.course.marks import Gist, MarkedTask
from gearlab.course.pages import Frame, part
from gearlab.course.roster import Student
from gearlab.course.shelf import Remembered
from gearlab.practice import Draw, HomeworkSet, Question, SetEntry
from gearlab.practice.answer import Answer
from gearlab.practice.contract import margin_text, rules, why, within
from gearlab.practice.solution import told_once
from gearlab.practice.verdict import CONDITION_NAMES, NAMES, Verdict
from gearlab.quoting import in_css, one_line, safe, safe_utf8
from gearlab.theory.units import written

_WHO = {"look_again": "Noted by"}
LONGEST = 300  # characters of an answer that a page shows
MADE_KEPT = 100  # sections of a question, and verdicts in one, that are remembered: 400 kB of each question
SIGNS = {"right": "✓", "partly": "◐", "wrong": "✗", "empty": "–", "open": "○"}


@dataclass(slots=True)
class Handed:
    """What a page tells of one student.

    marked: empty where nothing was handed in, or nothing is to be marked.
    notes: remarks about the file that was handed in.
    settled: the mark in all, with what was decided about it.
    """

    student: Student
    packet: str
    marked: list[MarkedTask]
    notes: list[str]
    settled: Settled


class FeedbackPages:
    """Writes the feedback pages of a set, in UTF-8: what is the same on many pages is encoded once.

    homework: the set, from the edition that was handed out.
    """

    def __init__(self, homework: HomeworkSet):
        css = Markup(part("page.css") + part("feedback.css"))
        self._page = Frame(
            "feedback.html",
            ("who", "id", "in_css", "packet", "points", "out_of", "overview", "notes", "questions"),
            set=homework,
            css=css,
            rules=" ".join(rules(entry.question for entry in homework.entries)),
        )
        self._sections = [Section(*numbered) for numbered in enumerate(homework.entries, start=1)]

    def pages(self, handed: Sequence[Handed]) -> Iterator[bytes]:
        """The page of each student; made question by question, as `Marker.mark_all` marks."""
        overviews: list[list[bytes]] = [[] for _ in handed]
        sections: list[list[bytes]] = [[] for _ in handed]
        for place, section in enumerate(self._sections):
            for own, overview, pieces in zip(handed, overviews, sections):
                if own.marked:
                    overview.append(section.fill(own.marked[place], pieces))
        for own, overview, pieces in zip(handed, overviews, sections):
            yield self._filled(own, b"".join(overview), b"".join(pieces))

    def _filled(self, own: Handed, overview: bytes, questions: bytes) -> bytes:
        student, marked, settled, notes = own.student, own.marked, own.settled, own.notes
        if open_ := sum([task.open for task in marked]):
            left = points_text(open_)
            many = f"{left} point{' is' if left == '1' else 's are'}"
            notes = [
                *notes,
                f"{many} still open: what you wrote is read by people, and not all of it is yet.",
            ]
        remarks = [f'<p class="note">{safe(note)}</p>\n' for note in notes]
        remarks += _sum_words(marked, settled), _decided(settled.told)
        points, out_of = "no mark", ""
        if settled.points is not None:
            points, out_of = points_text(settled.points), f"of {points_text(settled.out_of)} points"
        return self._page.fill_utf8(
            {
                "who": safe_utf8(student.name or student.id),
                "id": safe_utf8(student.id),
                "in_css": in_css(student.id).encode(),
                "packet": own.packet.encode(),
                "points": points.encode(),
                "out_of": out_of.encode(),
                "overview": overview,
                "notes": "".join(remarks).encode(),
                "questions": questions,
            }
        )


@dataclass(slots=True)
class _Numbers:
    """What is the same on the pages of all who have the same numbers: HTML; `asked` answer by answer."""

    prompt: bytes
    asked: list[bytes]
    solution: bytes


class Section:
    """One question of a set on the pages of a class.

    number: its place in the set, from 1.
    """

    def __init__(self, number: int, entry: SetEntry):
        self._number, self._question = number, entry.question
        self._frame = Frame(
            "feedback_question.html",
            ("points", "out_of", "prompt", "decided", "answers", "open", "solution"),
            number=number,
            question=entry.question,
        )
        self._heads = {
            answer.id: safe(answer.label + (f", in {_spelled(answer.unit)}" if answer.unit else ""))
            for answer in entry.question.answers
        }
        self._asked = [_Asked(entry.question, identity) for identity in self._heads]
        self._numbers: Remembered[_Numbers] = Remembered(MADE_KEPT)
        self._around: Remembered[tuple[bytes, bytes]] = Remembered(MADE_KEPT)
        self._outlines: Remembered[tuple[bytes, list[bytes]]] = Remembered(MADE_KEPT)

    def fill(self, task: MarkedTask, pieces: list[bytes]) -> bytes:
        """Add the section of one student to the pieces of a page; its line in the overview."""
        line, (before, decided, answers, solution, after) = self._outline(task)
        numbers = self._of_numbers(task.draw)
        pieces += before, numbers.prompt, decided
        if task.told or task.weight != 1.0:
            pieces.append(f"{_spread(task)}{_decided(task.told_of())}".encode())
        pieces.append(answers)
        self._add_answers(task, numbers.asked, pieces)
        pieces += solution, numbers.solution, after
        return line

    def _outline(self, task: MarkedTask) -> tuple[bytes, list[bytes]]:
        """The line in the overview, and the section without prompt, decisions, answers and solution."""
        tone = _tone(task)
        same = tone, task.points, task.open, task.out_of, bool(task.told)
        outline = self._outlines.get(same)
        if outline is None:
            reached, out_of = _reached(task.points, task.open), points_text(task.out_of)
            line = (
                f'<li class="{tone}"><a href="#q{self._number}"><span class="sign"'
                f' aria-hidden="true">{SIGNS[tone]}</span> {self._number}: {reached} of'
                f" {out_of}{' (decided)' if task.told else ''}</a></li>"
            )
            shut = b"" if tone == "right" else b" open"
            values = {"points": reached.encode(), "out_of": out_of.encode(), "open": shut}
            outline = self._outlines[same] = line.encode(), self._frame.between(values)
        return outline

    def _of_numbers(self, draw: Draw) -> _Numbers:
        """What hangs on the drawn numbers alone: many questions have few that are different."""
        question = self._question
        # numbers of an expression question are shown nowhere but in a prompt that asks for them
        hidden = question.same_for_all and "{" not in question.table.prompt
        same = (draw.order,) if hidden else (*draw.texts.values(), draw.order)
        numbers = self._numbers.get(same)
        if numbers is None:
            asked = [asked.of(draw) for asked in self._asked]
            solution = question.solution(draw, form="html").encode()
            numbers = self._numbers[same] = _Numbers(safe_utf8(draw.prompt), asked, solution)
        return numbers

    def _add_answers(self, task: MarkedTask, asked: list[bytes], pieces: list[bytes]) -> None:
        """What was typed, read and found, for each answer; `asked` is what was asked of it."""
        question, verdicts, gists = self._question, task.verdicts, task.gists
        if not question.judges_fields:
            pieces.append(_chosen(task).encode())
        sentences = told_once(question, verdicts)
        for identity, wanted in zip(self._heads, asked):
            verdict = verdicts[identity]
            before, after = self._around_answer(task, identity, gists[identity], sentences[identity])
            pieces.append(before)
            if verdict.kind == "not answered" or not question.judges_fields:
                if wanted:
                    pieces.append(b"<dl>%s</dl>\n" % wanted)
            else:
                shape, read = b"", b""
                if question.echoes and verdict.read:
                    read = b"<dt>read as</dt><dd>%s</dd>" % safe_utf8(verdict.read.removeprefix("read as "))
                if question.prose:
                    shape, own = b' class="prose"', _lines(task.texts.get(identity, "")).encode()
                else:
                    own = safe_utf8(_typed(task, identity))
                pieces.append(
                    b"<dl%s><dt>you answered</dt><dd><bdi>%s</bdi></dd>%s%s</dl>\n"
                    % (shape, own, read, wanted)
                )
            pieces.append(after)
            if task.told:
                pieces.append(_decided(task.told_of(identity)).encode())
            pieces.append(b"</div>\n")
        reason = task.texts.get("reason")
        if reason and reason.strip():
            pieces.append(
                b'<div class="answer empty"><h3>your reason</h3><p class="reason"><bdi>%s</bdi></p></div>\n'
                % safe_utf8(reason)
            )

    def _around_answer(
        self, task: MarkedTask, identity: str, gist: Gist, sentence: str
    ) -> tuple[bytes, bytes]:
        """What stands before and after an answer as typed: a class comes to the same few verdicts."""
        full, left_out = task.plain[identity].right, identity in task.left_out
        same = gist, sentence, full, left_out
        around = self._around.get(same)
        if around is None:
            around = self._around[same] = (
                self._head(identity, gist, full, left_out).encode(),
                self._told(gist, sentence, left_out).encode(),
            )
        return around

    def _head(self, identity: str, gist: Gist, full: bool, left_out: bool) -> str:
        """The line of an answer: its name, what was found, its points.

        full: whether it was right before anything was decided.
        """
        verdict, scale = gist.verdict, gist.scale
        tone = "empty" if left_out else gist.state
        name = (NAMES if self._question.judges_fields else CONDITION_NAMES)[verdict.kind]
        if left_out:
            name = "left out"
        elif verdict.right and not full:
            name = f"full points by a decision (found: {name})"
        points = f"{_reached(verdict.points * scale, verdict.open)} of {points_text(verdict.out_of * scale)}"
        title = f'<span class="sign" aria-hidden="true">{SIGNS[tone]}</span> {self._heads[identity]}: {name}'
        return (
            f'<div class="answer {tone}"><h3><span>{title}</span><span class="worth">{points}</span></h3>\n'
        )

    def _told(self, gist: Gist, sentence: str, left_out: bool) -> str:
        """What was found in an answer, and why it lost points."""
        question, verdict, pieces = self._question, gist.verdict, []
        if not question.judges_fields:
            sentence = sentence.removeprefix("Met.").strip()
        if sentence and sentence != "Right.":
            pieces.append(f"<p>{safe(sentence)}</p>\n")
        lost = why(verdict, gist.causes)
        if question.for_people and not left_out:
            lost = _read(verdict, gist.scale)
        if lost and verdict.kind != "not answered" and (question.judges_fields or verdict.points):
            pieces.append(f'<p class="why">{safe(lost[0].upper() + lost[1:])}.</p>\n')
        return "".join(pieces)


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
    # then the verdicts do not say what counts
    if task.told and any(told.kind == "set_points" for told in task.told):
        return "right" if task.points >= task.out_of else "partly" if task.points > 0 else "wrong"
    left_out = task.left_out
    states = {gist.state for identity, gist in task.gists.items() if identity not in left_out} or {"empty"}
    if len(states) == 1:
        return states.pop()
    return "partly" if task.points > 0 else "wrong"


def _read(verdict: Verdict, scale: float) -> str:
    """How what people gave for a text comes to its points here; "" where nobody has read it yet."""
    if verdict.open or verdict.kind == "not answered":
        return ""
    given = f"{points_text(verdict.points)} of {points_text(verdict.out_of)} points by the list below"
    return given if abs(scale - 1) < 1e-9 else f"{given}; in this set each counts {points_text(scale)}"


class _Asked:
    """What was asked of an answer, and how far off would have been right: HTML around that number."""

    def __init__(self, question: Question, identity: str):
        self._answer: Answer | None = None
        contract = question.contracts.get(identity)
        self._before = self._after = b""
        if contract is None or not contract.asked:
            return
        number = margin = ""
        if question.numbers and (limit := within(question.answer(identity), 1.0)):
            self._answer = question.answer(identity)
            number, margin = margin_text(self._answer, 1.0), f"; right {limit}"
        before, _, after = margin.partition(number) if number else ("", "", "")
        self._before = b"<div><dt>asked</dt><dd>" + safe_utf8(contract.asked + before)
        self._after = safe_utf8(after) + b"</dd></div>"

    def of(self, draw: Draw) -> bytes:
        """The same for the numbers of a draw."""
        if self._answer is None:
            return self._before + self._after
        number = margin_text(self._answer, draw.keys[self._answer.place])
        return b"%s%s%s" % (self._before, number.encode(), self._after)


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
