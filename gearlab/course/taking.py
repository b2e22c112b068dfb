"""Which of the files that came from a student is marked, and what there is to say about it."""

from gearlab.course.files import one_line
from gearlab.course.handin import HandIn, read_hand_in
from gearlab.course.intake import Intake, Item, Problem
from gearlab.course.marks import MarkedTask, Marker
from gearlab.course.roster import Roster, Student, same_id
from gearlab.course.sheet import SheetMaker


class Taking:
    """Takes what counts out of an intake, one student after the other.

    problems: what was noted on the way, beside those of the intake itself.
    """

    def __init__(self, maker: SheetMaker, intake: Intake, roster: Roster):
        self._maker = maker
        self._intake = intake
        self._roster = roster
        self._owners: dict[str, str] | None = None
        self.problems: list[Problem] = []

    def _problem(self, kind: str, student: Student, item: Item | None, reason: str) -> None:
        self.problems.append(Problem(kind, student.id, item.shown if item else "", reason))

    def take(self, student: Student, packet: str) -> tuple[HandIn | None, list[str]]:
        """The hand-in that counts for a student, with remarks for their page; None if there is none."""
        items = self._intake.items(student.id)
        best, found = None, []
        for item in items:
            try:
                content = self._intake.read(item)
                hand_in = read_hand_in(content)
            except ValueError as reason:
                self._problem("unreadable", student, item, str(reason))
                continue
            if hand_in.set != self._maker.set.name:
                self._problem(
                    "other set",
                    student,
                    item,
                    f"holds answers to {one_line(hand_in.set)!r}; it was not marked",
                )
            elif not same_id(hand_in.student, student.id):
                self._problem(
                    "foreign",
                    student,
                    item,
                    f"the id in it is {self._who(hand_in.student)}; it was marked for nobody. Ask both, then"
                    " give the file or its folder the name of whose it is",
                )
            else:
                # Of several the one with the student's own sheet code counts, which nobody else knows, and of
                # those the one saved last: "saved" is counted by the notebook and only ever chooses between
                # one student's files.
                rank = hand_in.packet == packet, hand_in.saved, hand_in.answered(), item.steps
                found.append((rank, hash(content)))
                if best is None or rank > best[0]:
                    best = rank, hand_in
        if best is not None:
            return best[1], self._duplicates(student, found) if len(found) > 1 else []
        if items:
            return None, ["a file came that could not be marked: see the list of problems"]
        notebook = self._intake.notebook(student.id)
        if notebook is not None:
            self._problem(
                "notebook only",
                student,
                notebook,
                "answers are read from the HAND-IN file beside the notebook: ask for it",
            )
            return None, ["a notebook came without its answers file"]
        self._problem("missing", student, None, "")
        return None, []

    def _duplicates(self, student: Student, found: list[tuple]) -> list[str]:
        """Note which of several files was taken, and why."""
        *others, (taken, content) = sorted(found)
        (own, saved, answered, steps), ranks = taken, [rank for rank, _ in others]
        if all(other == content for _, other in others):
            why = "all are alike"
        elif own and not any(rank[0] for rank in ranks):
            why = "it alone has the code of the student's sheet"
        elif all(rank[:2] < taken[:2] for rank in ranks):
            why = f"it was saved last (save number {saved})"
        else:
            why = f"of those saved equally often it has the most answers ({answered}) or the last name"
        names = ", ".join(Item(rank[3]).shown for rank in ranks[:10]) + (
            f" and {len(ranks) - 10} more" if len(ranks) > 10 else ""
        )
        self._problem("duplicate", student, Item(steps), f"was taken: {why}; not taken: {names}")
        return [] if why == "all are alike" else [f"Several files came from you; this one was marked: {why}."]

    def compare(self, student: Student, packet: str, hand_in: HandIn, marked: list[MarkedTask]) -> list[str]:
        """Whether a file is as it was handed out; the marks never depend on it."""
        found = []
        if hand_in.packet != packet:
            found.append(f"its sheet code {one_line(hand_in.packet)!r} {self._owner(hand_in.packet)}")
        changed = Marker.changed_givens(hand_in, marked)
        if changed:
            found.append(
                "givens differ from the sheet ("
                + one_line(", ".join(changed[:4]))
                + (", ..." if len(changed) > 4 else "")
                + ")"
            )
        if not found:
            return []
        items = self._intake.items(student.id)
        item = items[0] if len(items) == 1 else None
        self._problem(
            "altered", student, item, "; ".join(found) + "; it was marked with the student's own numbers"
        )
        return [
            "The file was changed outside the workbook. It was marked with the numbers of your own sheet."
        ]

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
