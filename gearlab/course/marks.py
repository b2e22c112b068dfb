"""Marks: a student's typed answers held against their own redrawn numbers."""

from dataclasses import dataclass

from gearlab.course.handin import HandIn
from gearlab.course.reasonmarks import ReasonMarks
from gearlab.course.sheet import SheetMaker, shown_givens
from gearlab.practice import Draw, Question, Reading, SetEntry, Verdict

Judged = tuple[dict[str, Reading], dict[str, Verdict]]
EXPRESSIONS_KEPT = 2000  # verdicts on typed expressions that are remembered


@dataclass(slots=True)
class MarkedTask:
    """One question of one student, marked: texts, what was read of them and verdicts, each by its id."""

    entry: SetEntry
    draw: Draw
    texts: dict[str, str]
    read: dict[str, Reading]
    verdicts: dict[str, Verdict]
    points: float

    @property
    def open(self) -> float:
        """Points that nobody has given or refused yet [-]."""
        return sum(verdict.open for verdict in self.verdicts.values()) * self.entry.scale


def state(verdict: Verdict) -> str:
    """A verdict as one of the states that pages and charts show.

    Returns ``"right"``, ``"partly"``, ``"wrong"``, ``"empty"`` or ``"open"``.
    """
    if verdict.right:
        return "right"
    if verdict.kind == "not answered":
        return "empty"
    if verdict.open:
        return "open"
    return "partly" if verdict.points > 0 else "wrong"


class Marker:
    """Marks the hand-ins of one edition of a set.

    maker: draws each student's numbers again.
    reasons: the points that people gave for texts.
    """

    def __init__(self, maker: SheetMaker, reasons: ReasonMarks | None = None):
        self._maker = maker
        self._reasons = reasons
        self._expressions: dict[tuple, Judged] = {}

    def mark(self, student: str, hand_in: HandIn) -> list[MarkedTask]:
        """Mark a hand-in. Only the typed texts count; the numbers are drawn again.

        They come in the order of the set.
        """
        marked = []
        for task in self._maker.tasks(student):
            question, draw = task.entry.question, task.draw
            typed = hand_in.answers.get(question.id, {})
            texts = {identity: text or "" for identity, text in typed.items()}
            texts = question.as_typed(texts)
            judge = self._of_all if question.same_for_all else self._of_one
            read, verdicts = judge(question, draw, texts)
            if question.for_people and self._reasons is not None:
                verdicts = self._reasons.judged(student, question, texts, verdicts)
            points = sum(verdict.points for verdict in verdicts.values()) * task.entry.scale
            marked.append(MarkedTask(task.entry, draw, texts, read, verdicts, points))
        return marked

    @staticmethod
    def _of_one(question: Question, draw: Draw, texts: dict[str, str]) -> Judged:
        """What is read of one student's texts, and the verdicts on it."""
        read = question.readings(texts)
        return read, question.judge(draw, texts, read=read)

    def _of_all(self, question: Question, draw: Draw, texts: dict[str, str]) -> Judged:
        """The same of expressions. They hang on no student's numbers, and a class types the same few."""
        same = (question.id, *(texts.get(answer.id, "") for answer in question.answers))
        if same not in self._expressions:
            if len(self._expressions) >= EXPRESSIONS_KEPT:
                self._expressions.clear()
            self._expressions[same] = self._of_one(question, draw, texts)
        return self._expressions[same]

    @staticmethod
    def changed_givens(hand_in: HandIn, marked: list[MarkedTask]) -> list[str]:
        """Which givens in a file differ from those of the student's sheet.

        Each as question and given; empty if the file is as it was handed out.
        """
        changed = []
        for task in marked:
            shown = hand_in.givens.get(task.entry.question.id)
            if shown is None:
                continue
            expected = shown_givens(task)
            if shown != expected:
                names = sorted(
                    name for name in shown.keys() | expected.keys() if shown.get(name) != expected.get(name)
                )
                changed += [f"{task.entry.question.id}: {name}" for name in names]
        return changed


def cause_words(task: MarkedTask, identity: str) -> str:
    """Every recognised cause of an answer in one line, "" if there is none.

    Several findings of a design hold all at once.
    """
    titles = [cause.title for cause in task.verdicts[identity].causes]
    if not task.entry.question.judges_fields and len(titles) > 1:
        head = f"{task.entry.question.answer(identity).label}: "
        return " and ".join([titles[0], *(title.removeprefix(head) for title in titles[1:])])
    return " or ".join(titles)
