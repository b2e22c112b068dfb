"""Marks: a student's typed answers held against their own redrawn numbers."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from gearlab.course.decisions.marks import (
    Judgement,
    Settled,
    Share,
    Told,
    set_points,
    settle,
    shares,
    without_hand_in,
)
from gearlab.course.decisions.reasonmarks import ReasonMarks
from gearlab.course.decisions.tables import NONE, Decision, Decisions, SetPoints
from gearlab.course.gradebook import points_text
from gearlab.course.handout.edition import SheetMaker, shown_givens
from gearlab.course.shelf import Remembered
from gearlab.practice import Draw, Question, Reading, SetEntry, Verdict
from gearlab.practice.answer import Key
from gearlab.practice.contract import reason_of
from gearlab.practice.handin import HandIn
from gearlab.practice.verdict import NAMES, STATES, UNMARKED

Judged = tuple[dict[str, Reading], dict[str, Verdict]]
EXPRESSIONS_KEPT = 500  # verdicts on typed expressions that are remembered
GISTS_KEPT = 300  # of the answers of a question


# By identity: one that is remembered stands for its verdict in what others remember.
@dataclass(eq=False)
class Gist:
    """What a verdict on an answer comes to wherever it is told, but for what was typed and read.

    A class comes to the same few verdicts, and gradebook, evidence, page and counts all tell them: each is
    worked out once for all who have it.

    scale: what its points are multiplied with [-].
    state: as `state` has it.
    causes: every recognised cause in one line, "" if there is none.
    """

    verdict: Verdict
    scale: float
    state: str
    causes: str

    @cached_property
    def found(self) -> tuple[str, str]:
        """The kind of verdict, and the cause or else the kind in words: what a report counts."""
        verdict = self.verdict
        words = self.causes or NAMES[verdict.kind]
        return verdict.kind, "right with an earlier value carried on" if verdict.carried else words

    @cached_property
    def lost(self) -> str:
        """Why it lost points, and what it earned where that is a part of them; "" where there is nothing."""
        verdict = self.verdict
        if verdict.right or verdict.open:
            return ""
        share, reason = verdict.share, reason_of(verdict, self.causes)
        return f"{reason} ({100 * share:.0f} %)" if share else reason


@dataclass(slots=True)
class MarkedTask:
    """One question of one student, marked: texts, what was read of them and verdicts, each by its id.

    points: what counts, whatever the verdicts come to: a person may have set it [-].
    told: what was decided about it.
    plain: verdicts without points that people granted or took, for statistics.
    weight: factor on the points, where those of other answers were spread [-].
    scale: what a verdict's points are multiplied with [-].
    out_of: points that can be reached here [-].
    open: points that nobody has given or refused yet [-].
    """

    entry: SetEntry
    draw: Draw
    texts: dict[str, str]
    read: dict[str, Reading]
    verdicts: dict[str, Verdict]
    points: float = 0.0
    told: tuple[Told, ...] = ()
    plain: dict[str, Verdict] = field(default_factory=dict)
    left_out: frozenset[str] = frozenset()
    weight: float = 1.0
    scale: float = 1.0
    out_of: float = 0.0
    open: float = 0.0
    _keys: dict[str, Key] | None = None
    _gists: dict[str, Gist] | None = None
    _remembered: dict[tuple, Gist] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.plain = self.plain or self.verdicts
        self.reckon()

    def reckon(self) -> None:
        """Add up what the verdicts come to, once they are made or others."""
        out_of = still = points = 0.0
        for verdict in self.verdicts.values():
            points += verdict.points
            out_of += verdict.out_of
            if verdict.kind == UNMARKED:
                still += verdict.open
        self.scale = self.entry.scale * self.weight
        self.points, self.out_of = points * self.scale, round(out_of * self.scale, 9)
        self.open = still * self.scale
        self._gists = None

    @property
    def gists(self) -> dict[str, Gist]:
        """What each verdict comes to."""
        if self._gists is None:
            self._gists = {identity: self._gist(identity, it) for identity, it in self.verdicts.items()}
        return self._gists

    @property
    def plain_gists(self) -> dict[str, Gist]:
        """The same of the verdicts without what people granted or took."""
        if self.plain is self.verdicts:
            return self.gists
        return {identity: self._gist(identity, it) for identity, it in self.plain.items()}

    def _gist(self, identity: str, verdict: Verdict) -> Gist:
        # all of the verdict but what was read, which is everybody's own, and its sentence, which follows
        same = (
            *(identity, verdict.kind, verdict.right, verdict.points, verdict.out_of, self.scale),
            *(verdict.causes, verdict.carried, verdict.note),
        )
        gist = self._remembered.get(same)
        if gist is None:
            causes = _cause_words(self.entry.question, identity, verdict)
            gist = Gist(verdict, self.scale, state(verdict), causes)
            self._remembered[same] = gist
        return gist

    @property
    def keys(self) -> dict[str, Key]:
        """The right answers, worked out when they are first asked for."""
        if self._keys is None:
            self._keys = self.entry.question.keys(self.draw)
        return self._keys

    def told_of(self, identity: str = "") -> list[Told]:
        """What was decided about one answer, or about the question as a whole."""
        return [told for told in self.told if told.answer == identity] if self.told else []


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
    decisions: what people decided about the marks.
    reasons: the points that people gave for texts.
    """

    def __init__(self, maker: SheetMaker, decisions: Decisions = NONE, reasons: ReasonMarks | None = None):
        self._maker = maker
        self._decisions = decisions
        self._reasons = reasons
        self._expressions: Remembered[Judged] = Remembered(EXPRESSIONS_KEPT)
        self._gists: dict[str, Remembered[Gist]] = {
            entry.question.id: Remembered(GISTS_KEPT) for entry in maker.set.entries
        }

    def mark(self, student: str, hand_in: HandIn, sheet: str = "") -> list[MarkedTask]:
        """Mark a hand-in. Only the typed texts count; the numbers are drawn again.

        They come in the order of the set, with every decision about their questions in them.
        sheet: id of the student with whose numbers it is marked, where that is another one.
        """
        return self.mark_all([(student, hand_in, sheet)])[0]

    def mark_all(self, came: Sequence[tuple[str, HandIn, str]]) -> list[list[MarkedTask]]:
        """Mark the hand-ins of several students, each with its sheet as `mark` does.

        Question by question, not student by student: what a question needs lies ready in the processor for
        everybody, which makes it a third quicker.
        """
        students = [student for student, _, _ in came]
        sheets = [sheet or student for student, _, sheet in came]
        marked: list[list[MarkedTask]] = [[] for _ in came]
        for entry in self._maker.set.entries:
            question = entry.question
            judge = self._of_all if question.same_for_all else self._of_one
            drawn, gists = self._maker.draws(entry, sheets), self._gists[question.id]
            for (student, hand_in, _), draw, tasks in zip(came, drawn, marked):
                typed = hand_in.answers.get(question.id, {})
                texts = question.as_typed({identity: text or "" for identity, text in typed.items()})
                read, verdicts = judge(question, draw, texts)
                if question.for_people and self._reasons is not None:
                    verdicts = self._reasons.judged(student, question, texts, verdicts)
                tasks.append(MarkedTask(entry, draw, texts, read, verdicts, _remembered=gists))
        if self._decisions:
            for student, tasks in zip(students, marked):
                self._decide_for(student, tasks)
        return marked

    def _decide_for(self, student: str, tasks: list[MarkedTask]) -> None:
        """Bring what was decided about a student's questions into their marks."""
        decisions = [d for d in self._decisions.of(student) if d.question]
        if not decisions:
            return
        parts = shares(self._maker.set, self._decisions, student)
        for task in tasks:
            question = task.entry.question.id
            mine = [d for d in decisions if d.question == question]
            _decide(task, mine, parts.get(question, Share()))

    def settle(self, student: str, marked: list[MarkedTask] | None) -> Settled:
        """The mark in all; `marked` is None where nothing came that could be marked."""
        homework, decisions = self._maker.set, self._decisions
        if marked is not None:
            reached = round(sum(task.points for task in marked), 6)
            if not decisions:
                return Settled(reached, homework.points)
            return settle(decisions, student, reached, round(sum(task.out_of for task in marked), 6))
        if not decisions:
            return Settled(None, homework.points)
        return without_hand_in(decisions, student, homework)

    @staticmethod
    def _of_one(question: Question, draw: Draw, texts: dict[str, str]) -> Judged:
        """What is read of one student's texts, and the verdicts on it."""
        read = question.readings(texts)
        return read, question.judge(draw, texts, read=read)

    def _of_all(self, question: Question, draw: Draw, texts: dict[str, str]) -> Judged:
        """The same of expressions. They hang on no student's numbers, and a class types the same few."""
        same = (question.id, *(texts.get(answer.id, "") for answer in question.answers))
        if same not in self._expressions:
            self._expressions[same] = self._of_one(question, draw, texts)
        return self._expressions[same]

    @staticmethod
    def changed_givens(hand_in: HandIn, marked: list[MarkedTask]) -> list[str]:
        """Which givens, and versions of questions, in a file differ from those of the student's sheet.

        Each as question and given; empty if the file is as it was handed out.
        """
        changed = []
        versions = hand_in.versions if isinstance(hand_in.versions, dict) else {}
        for task in marked:
            question = task.entry.question
            if versions.get(question.id, question.table.version) != question.table.version:
                changed.append(f"{question.id}: version")
            shown = hand_in.givens.get(question.id)
            if shown is None:
                continue
            expected = shown_givens(task)
            if shown != expected:
                names = sorted(
                    name for name in shown.keys() | expected.keys() if shown.get(name) != expected.get(name)
                )
                changed += [f"{question.id}: {name}" for name in names]
        return changed


def _decide(task: MarkedTask, decisions: list[Decision], part: Share) -> None:
    """Bring what was decided about a question into its marks."""
    task.weight, task.left_out = part.weight, part.left_out
    if decisions:
        judgement = Judgement(task.entry.question, task.draw, task.read, task.verdicts, decisions)
        task.verdicts, task.plain, task.told = judgement.verdicts, judgement.plain, tuple(judgement.told)
    task.reckon()
    for decision in decisions:
        if isinstance(decision.table, SetPoints):
            told = set_points(decision, task.points, task.out_of)
            task.told, task.points = (*task.told, told), decision.table.points


def cause_words(task: MarkedTask, identity: str) -> str:
    """Every recognised cause of an answer in one line, "" if there is none.

    Several findings of a design hold all at once.
    """
    return _cause_words(task.entry.question, identity, task.verdicts[identity])


def _cause_words(question: Question, identity: str, verdict: Verdict) -> str:
    causes = verdict.causes
    if not causes:
        return ""
    if question.kind == "choice":  # an option's text alone does not say what is the matter with it
        titles = [f"“{c.title}” was chosen" if c.name.startswith("option ") else c.title for c in causes]
    else:
        titles = [cause.title for cause in causes]
    if not question.judges_fields and len(titles) > 1:
        head = f"{question.answer(identity).label}: "
        return " and ".join([titles[0], *(title.removeprefix(head) for title in titles[1:])])
    return " or ".join(titles)


def comment(marked: list[MarkedTask]) -> str:
    """A mark in one line for the gradebook."""
    counts, open_ = dict.fromkeys(STATES, 0), sum(task.open for task in marked)
    lost = []
    for number, task in enumerate(marked, start=1):
        decided = [told.title.lower() for told in task.told]
        gists = [gist for identity, gist in task.gists.items() if identity not in task.left_out]
        for gist in gists:
            counts[gist.state] += 1
        missing = task.out_of - task.points - task.open
        if missing > 0.005:
            why = dict.fromkeys([*decided, *[gist.lost for gist in gists if gist.lost]])
            lost.append(f"{number}: -{points_text(missing)} {', '.join(why)}")
        elif decided:
            lost.append(f"{number}: {', '.join(dict.fromkeys(decided))}")
    summary = ", ".join(f"{count} {STATES[state]}" for state, count in counts.items() if count)
    summary += f" ({points_text(open_)} point{'' if open_ == 1 else 's'} open)" if open_ else ""
    return summary + ("; " + "; ".join(lost) if lost else "")
