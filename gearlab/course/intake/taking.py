"""Which of the files that came from a student is marked, and what there is to say about it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from gearlab.course.decisions.tables import NONE, Attempt, Decisions, FileOf
from gearlab.course.gradebook import points_text
from gearlab.course.handout.edition import SheetMaker
from gearlab.course.intake.came import Intake, Item, Problem
from gearlab.course.roster import Roster, Student, same_id
from gearlab.practice.handin import HandIn, read_hand_in
from gearlab.quoting import one_line
from gearlab.schema import near

_OTHER = "The file was made from another sheet than yours; it was marked with the numbers of"
OTHER_SHEET, OWN_SHEET = f"{_OTHER} that sheet.", f"{_OTHER} your own, as decided."
MOST_NAMES = 2000  # names among which a near one is looked for

# What a hand-in is chosen by: own sheet code, save number, answers typed, path.
Rank = tuple[bool, int, int, tuple[str, ...]]


NOT_MARKED = "a file came that could not be marked: see the list of problems"


@dataclass(frozen=True, slots=True)
class FileGiven:
    """A file that counts for a student because a person decided so.

    before: id of the student whose it was so far, "" where it was set aside.
    sheet: id of the student with whose numbers it is marked, as the decision says and the sheet code proves;
        "" where the code proves nothing.
    """

    item: Item
    before: str
    sheet: str


def give_files(
    intake: Intake, decisions: Decisions, maker: SheetMaker
) -> tuple[Decisions, dict[str, FileGiven], list[Problem]]:
    """Give each file that people decided about to its student.

    Returns the decisions that hold (a file that did not come counts for nobody), the files by student, and
    what does not fit.
    """
    wanted = [(decision, decision.table) for decision in decisions.all if isinstance(decision.table, FileOf)]
    if not wanted:
        return decisions, {}, []
    calls = {table.file for _, table in wanted}
    came: dict[str, list[tuple[Item, str]]] = {}
    names: list[str] = []
    for item, student in intake.everything():
        names += item.names[: MOST_NAMES - len(names)]
        for name in calls.intersection(item.names):
            came.setdefault(name, []).append((item, student))
    given: dict[str, FileGiven] = {}
    problems, odd = [], []
    for decision, table in wanted:
        (student,) = decision.who or ("",)
        try:
            item, before = _only(table.file, came, names)
            others = [other for other in wanted if other[0] is not decision]
            if any(item in [it for it, _ in came.get(other.file, [])] for _, other in others):
                raise ValueError("it counts for somebody else by another decision")
            given[student] = FileGiven(item, before, _sheet_of(intake, item, student, maker, table))
        except ValueError as reason:
            text = f"the file {one_line(table.file)!r} is to count, but: {reason}. It was not given to them"
            problems.append(Problem("decision", student, "", text))
            odd.append(decision)
    for student, file in given.items():
        intake.give(file.item, file.before, student)
    return Decisions(tuple(d for d in decisions.all if d not in odd)), given, problems


def _only(file: str, came: dict[str, list[tuple[Item, str]]], names: list[str]) -> tuple[Item, str]:
    """The one file that is meant, and whose it was so far."""
    meant = came.get(file, [])
    if not meant:
        raise ValueError(f"it did not come{near(file, names)}")
    if len(meant) > 1:
        paths = ", ".join(item.shown for item, _ in meant[:5])
        raise ValueError(f"{len(meant)} files have that name ({paths}); write the whole path of one")
    return meant[0]


def _sheet_of(intake: Intake, item: Item, student: str, maker: SheetMaker, table: FileOf) -> str:
    """The id with whose numbers a file is marked; "" where its sheet code is none of this hand-out."""
    hand_in = read_hand_in(intake.read(item))
    if hand_in.set != maker.set.name:
        raise ValueError(f"it holds answers to {one_line(hand_in.set)!r}")
    if table.numbers == "own" or hand_in.packet == maker.packet(student):
        return student
    return hand_in.student if hand_in.packet == maker.packet(hand_in.student) else ""


@dataclass(frozen=True, slots=True)
class Refused:
    """A file that is not marked for whom it came, and why.

    whose: the id that stands in it, where that is the reason; `reason` has a place for who that is.
    """

    kind: str
    reason: str
    whose: str | None = None


def opened(content: bytes, set_name: str, student: str, given: bool = False) -> HandIn | Refused:
    """The hand-in in a file that came from a student, if it is one of theirs to this set.

    given: whether a person decided that it is theirs, whatever id stands in it.
    """
    try:
        hand_in = read_hand_in(content)
    except ValueError as reason:
        return Refused("unreadable", str(reason))
    if hand_in.set != set_name:
        return Refused("other set", f"holds answers to {one_line(hand_in.set)!r}; it was not marked")
    if not given and not same_id(hand_in.student, student):
        return Refused(
            "foreign",
            "the id in it is {}; it was marked for nobody. Ask both, then give the file or its folder the"
            " name of whose it is, or decide it with [[file_of]]",
            hand_in.student,
        )
    return hand_in


class Taking:
    """Takes what counts out of an intake, one student after the other.

    decisions: which of several counts, where a person decided so, and who is excused or absent.
    value: points that a student's hand-in would get, asked for where the best of several counts.
    given: files that count for a student by a decision, already put to them in the intake.
    problems: what was noted on the way, beside those of the intake itself.
    """

    def __init__(
        self,
        maker: SheetMaker,
        intake: Intake,
        roster: Roster,
        decisions: Decisions = NONE,
        value: Callable[[str, HandIn], float] | None = None,
        given: Mapping[str, FileGiven] = MappingProxyType({}),
    ):
        self._maker = maker
        self._intake = intake
        self._roster = roster
        self._decisions = decisions
        self._value = value
        self._given = given
        self._lost = {file.before: student for student, file in given.items() if file.before != student}
        self._owners: dict[str, str] | None = None
        self.problems: list[Problem] = []

    def _problem(self, kind: str, student: Student, item: Item | None, reason: str) -> None:
        self.problems.append(Problem(kind, student.id, item.shown if item else "", reason))

    def given(self, student: str) -> tuple[bool, str]:
        """Whether a decision gives a file to a student, and the id with whose numbers it is marked, or ""."""
        return student in self._given, self._given[student].sheet if student in self._given else ""

    def refuse(self, student: Student, item: Item, refused: Refused) -> None:
        """Note a file that is not marked."""
        reason = refused.reason
        if refused.whose is not None:
            reason = reason.replace("{}", self._who(refused.whose))
        self._problem(refused.kind, student, item, reason)

    def only(self, student: Student) -> Item | None:
        """The one file of a student, where nothing is to be chosen: whatever process marks it opens it."""
        items = self._intake.items(student.id)
        decided = self._decisions.of(student.id, "excused", "absent", Attempt.kind) if self._decisions else []
        return items[0] if len(items) == 1 and not decided and student.id not in self._given else None

    def take(self, student: Student, packet: str) -> tuple[bytes | None, list[str]]:
        """The content of the hand-in that counts, None if there is none; remarks for the page."""
        items = self._intake.items(student.id)
        if away := self._decisions.of(student.id, "excused", "absent"):
            if items:
                self._problem("decision", student, items[0], f"is {away[0].kind}; what came was not marked")
            return None, []
        given, rule = self._given.get(student.id), self._rule(student.id)
        best: tuple[tuple, Rank, bytes] | None = None
        ranked: list[tuple[Rank, int]] = []
        for item in items:
            theirs = given is not None and item == given.item
            try:
                content = self._intake.read(item)
                hand_in = opened(content, self._maker.set.name, student.id, theirs)
            except ValueError as reason:
                hand_in = Refused("unreadable", str(reason))
            if isinstance(hand_in, Refused):
                self.refuse(student, item, hand_in)
            else:
                # Of several the one with the student's own sheet code counts, which nobody else knows, and of
                # those the one saved last: "saved" is counted by the notebook and only ever chooses between
                # one student's files.
                rank = hand_in.packet == packet, hand_in.saved, hand_in.answered(), item.steps
                ranked.append((rank, hash(content)))
                key: tuple = self._key(rule, student, rank, hand_in)
                if given is not None:
                    key = theirs, rank
                if best is None or key > best[0]:
                    best = key, rank, content
        if best is not None:
            told = self._told(student, rule, best[0], best[1], ranked)
            if given is not None and given.sheet not in ("", student.id):
                told.append(OTHER_SHEET)
            elif given is not None and given.sheet and not best[1][0]:
                told.append(OWN_SHEET)
            return best[2], told
        return None, self._nothing(student, bool(items))

    def _nothing(self, student: Student, came: bool) -> list[str]:
        """Note that there is nothing to mark, and what came instead; a remark on it."""
        if came:
            return [NOT_MARKED]
        notebook = self._intake.notebook(student.id)
        if notebook is not None:
            words = "answers are read from the HAND-IN file beside the notebook: ask for it"
            self._problem("notebook only", student, notebook, words)
            return ["a notebook came without its answers file"]
        if student.id in self._lost:
            self._problem("missing", student, None, f"the file that came counts for {self._lost[student.id]}")
            return ["the file that came counts for somebody else by a decision"]
        self._problem("missing", student, None, "")
        if self._decisions.of(student.id, "late"):
            self._problem("decision", student, None, "is late by a decision, but nothing came")
        return []

    def _key(self, rule: Attempt | None, student: Student, rank: Rank, hand_in: HandIn) -> tuple:
        """What the hand-in that counts has most of: as a person decided, else it is the one saved last."""
        if rule is None or rule.counts == "last":
            return rank
        if rule.file is not None:
            return _named(rule.file, rank), rank
        if rule.counts == "best" and self._value is not None:
            return self._value(student.id, hand_in), rank
        return rank[0], -rank[1], rank[2], rank[3]

    def _told(
        self,
        student: Student,
        rule: Attempt | None,
        key: tuple,
        taken: Rank,
        ranked: list[tuple[Rank, int]],
    ) -> list[str]:
        """Remarks on a choice among several, and on a file that was decided on and did not come."""
        why = ""
        if student.id in self._given:
            why = "it is the one that was decided on"
        elif rule is not None and rule.file is not None:
            if _named(rule.file, taken):
                why = "it is the one that was decided on"
            else:
                like = near(rule.file, [rank[3][-1].rpartition("/")[2] for rank, _ in ranked])
                what = f"the file {one_line(rule.file)!r} that is to count did not come{like}"
                self._problem("decision", student, None, f"{what}; the one saved last was marked")
        elif rule is not None and rule.counts == "first":
            why = f"the first counts (save number {taken[1]})"
        elif rule is not None and rule.counts == "best":
            why = f"the best counts ({points_text(key[0])} points)"
        return self._duplicates(student, taken, ranked, why) if len(ranked) > 1 else []

    def _rule(self, student: str) -> Attempt | None:
        """Which hand-in counts by a decision: one about the student goes before one about everybody."""
        rules = [d for d in self._decisions.of(student, Attempt.kind) if isinstance(d.table, Attempt)]
        rules.sort(key=lambda decision: decision.who is None)
        return next((d.table for d in rules if isinstance(d.table, Attempt)), None)

    def _duplicates(
        self, student: Student, taken: Rank, ranked: list[tuple[Rank, int]], decided: str
    ) -> list[str]:
        """Note which of several files was taken, and why."""
        own, saved, answered, steps = taken
        others = sorted(rank for rank, _ in ranked if rank != taken)
        if len({content for _, content in ranked}) == 1:
            why = "all are alike"
        elif decided:
            why = decided
        elif own and not any(rank[0] for rank in others):
            why = "it alone has the code of the student's sheet"
        elif all(rank[:2] < (own, saved) for rank in others):
            why = f"it was saved last (save number {saved})"
        else:
            why = f"of those saved equally often it has the most answers ({answered}) or the last name"
        names = ", ".join(Item(rank[3]).shown for rank in others[:10]) + (
            f" and {len(others) - 10} more" if len(others) > 10 else ""
        )
        self._problem("duplicate", student, Item(steps), f"was taken: {why}; not taken: {names}")
        return [] if why == "all are alike" else [f"Several files came from you; this one was marked: {why}."]

    def compare(self, student: Student, code: str, own: bool, changed: list[str]) -> None:
        """Note a file that is not as it was handed out; the marks never depend on it.

        code: the sheet code in it, and whether it is the student's own.
        changed: givens in it, and versions of questions, that are not those of the sheet.
        """
        differences = []
        if not own:
            differences.append(f"its sheet code {one_line(code)!r} {self._owner(code)}")
        if changed:
            which = one_line(", ".join(changed[:4])) + (", ..." if len(changed) > 4 else "")
            differences.append(f"{_what_differs(changed)} from the sheet ({which})")
        if differences:
            items = self._intake.items(student.id)
            item = items[0] if len(items) == 1 else None
            words = "; ".join([*differences, "it was marked with the student's own numbers"])
            self._problem("altered", student, item, words)

    def _owner(self, packet: str) -> str:
        """Whose sheet a code belongs to."""
        if self._owners is None:
            self._owners = {self._maker.packet(student.id): student.id for student in self._roster}
        owner = self._owners.get(packet)
        return f"is that of {self._who(owner)}" if owner else "is none of this hand-out"

    def _who(self, identity: str) -> str:
        if identity in self._roster:
            name = self._roster.find(identity).name
            return f"{one_line(identity)} ({one_line(name)})" if name else one_line(identity)
        return f"{one_line(identity)!r}, which is not in the roster"


def _named(file: str, rank: Rank) -> bool:
    """Whether a decision means this file, by its name or by its whole path."""
    return file in (rank[3][-1].rpartition("/")[2], Item(rank[3]).shown)


def _what_differs(changed: list[str]) -> str:
    """What the list of differences is of, with its verb."""
    versions = [name.endswith(": version") for name in changed]
    return (
        "versions differ"
        if all(versions)
        else "givens and versions differ"
        if any(versions)
        else "givens differ"
    )
