"""Marking a class: what came in, held against what was handed out, one student after the other."""

import csv
import os
import re
import shutil
import tempfile
import tomllib
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from gearlab.course.coursekey import CourseKey
from gearlab.course.edition import Edition, edition_of, frozen_edition
from gearlab.course.evidence import Evidence
from gearlab.course.feedback import FeedbackPages
from gearlab.course.files import file_name, one_line, write_new
from gearlab.course.gradebook import Gradebook, harmless, points_text
from gearlab.course.handin import HandIn, read_hand_in
from gearlab.course.intake import KINDS, Intake, Item, Problem
from gearlab.course.marks import MarkedTask, Marker, cause_words, state
from gearlab.course.practised import PracticeTable
from gearlab.course.report import Tally
from gearlab.course.roster import Roster, Student
from gearlab.course.sheet import SheetMaker
from gearlab.practice.verdict import NAMES, STATES
from gearlab.writing import put_in_place

WRITTEN = ("gradebook.csv", "problems.csv", "evidence.json", "report.html", "feedback")
PRACTICE = "practice.csv"  # written for a set that keeps attempts


@dataclass(frozen=True)
class Marking:
    """What came of marking a class.

    folder: where the results are.
    students: students in the class list [-].
    marked: hand-ins that were marked [-].
    out_of: points one student can reach [-].
    notes: remarks about the whole marking.
    """

    folder: Path
    title: str
    students: int
    marked: int
    points: float
    out_of: float
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]


def mark(
    place: Path,
    set_path: Path,
    roster: Roster,
    key: CourseKey,
    results: Path,
    each: Callable[[Student, float | None], None] | None = None,
) -> Marking:
    """Mark what a class handed in and write gradebook, feedback, report, evidence and problems.

    The set is marked as it was handed out, from the frozen copy beside the key. The same hand-ins give
    the same files, byte for byte. Results of an earlier marking in the same folder are replaced when the
    new ones are complete.

    place: folder or zip of what was handed in.
    set_path: the set's file; only its name counts.
    key: the key it was handed out with.
    results: folder for the results, made if missing.
    each: told each student and their points (None: nothing to mark), in the order of the class list.
    ValueError if the set was never handed out with this key, or a folder does not fit.
    """
    place, results = Path(place), Path(results)
    if place.is_dir() and results.resolve().is_relative_to(place.resolve()):
        raise ValueError(
            f"results folder {results}: lies in the folder of the hand-ins; choose another with --to"
        )
    edition, notes = _handed_out(set_path, key)
    maker = SheetMaker(edition, key)
    intake = Intake(place, maker.set.name, roster)
    results.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(prefix=".marking-", dir=results.parent))
    try:
        marking = _Class(maker, intake, roster, key).mark(fresh, results, notes, each)
        _put_in_place(fresh, results)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return marking


def _handed_out(set_path: Path, key: CourseKey) -> tuple[Edition, tuple[str, ...]]:
    """The frozen edition, and a remark where the files or the library are others by now."""
    try:
        name = tomllib.loads(Path(set_path).read_text(encoding="utf-8"))["set"]["name"]
    except OSError as error:
        raise ValueError(f"set {set_path}: cannot be read ({error.strerror}); check the file name") from None
    except (ValueError, KeyError, TypeError):
        raise ValueError(
            f"set {set_path}: does not say its name; give the file of the set that was handed out"
        ) from None
    if not isinstance(name, str) or not re.fullmatch(r"[a-z0-9-]{1,80}", name):
        raise ValueError(
            f"set {set_path}: its name {name!r} is not in small letters, digits and hyphens; give the file of"
            " the set that was handed out"
        )
    edition = frozen_edition(key, name)
    if edition is None:
        raise ValueError(
            f"set {set_path}: no frozen copy {key.frozen_path(name)}; it was not handed out with this key"
        )
    notes = []
    try:
        edited = edition_of(set_path).digest != edition.digest
    except ValueError:
        edited = True  # no longer in order: no obstacle, the frozen copy is what counts
    if edited:
        notes.append(
            "The set or its banks were edited after the hand-out; everybody was marked with the edition that"
            " was handed out."
        )
    if edition.library != version("gearlab"):
        notes.append(
            f"Handed out with gearlab {edition.library}, marked with gearlab {version('gearlab')}: compare a"
            " few keys by hand."
        )
    return edition, tuple(notes)


class _Class:
    """One marking: everything that is shared between the students."""

    def __init__(self, maker: SheetMaker, intake: Intake, roster: Roster, key: CourseKey):
        self._maker = maker
        self._intake = intake
        self._roster = roster
        self._marker = Marker(maker)
        self._pages = FeedbackPages(maker.set)
        self._tally = Tally(maker.set)
        self._problems = intake.problems
        self._owners: dict[str, str] | None = None

    def mark(
        self,
        fresh: Path,
        results: Path,
        notes: tuple[str, ...],
        each: Callable[[Student, float | None], None] | None,
    ) -> Marking:
        """Write everything into a fresh folder."""
        (fresh / "feedback").mkdir()
        head = {"set": self._maker.set.name, "edition": self._maker.digest, "library": version("gearlab")}
        total = 0.0
        kept = self._maker.set.attempts
        practice = fresh / PRACTICE if kept else Path(os.devnull)
        with (
            open(practice, "w", encoding="utf-8", newline="") as told,
            open(fresh / "gradebook.csv", "w", encoding="utf-8", newline="") as book,
            open(fresh / "evidence.json", "wb") as records,
        ):
            gradebook, evidence = Gradebook(book), Evidence(records, head)
            practised = PracticeTable(told, tuple(entry.question.id for entry in self._maker.set))
            for student in self._roster:
                packet = self._maker.packet(student.id)
                taken, remarks = self._take(student, packet)
                if taken is None:
                    points, comment = None, remarks[0] if remarks else "nothing handed in"
                else:
                    marked = self._marker.mark(student.id, taken)
                    remarks += self._compare(student, packet, taken, marked)
                    points = round(sum(task.points for task in marked), 6)
                    comment = _comment(marked)
                    total += points
                    self._tally.add(marked, points)
                    evidence.add(student.id, marked)
                    if kept:
                        practised.add(student.id, taken)
                    content = self._pages.page(student, packet, marked, remarks)
                    write_new(f"{fresh}/feedback/{file_name(student.id)}.html", content.encode("utf-8"))
                gradebook.add(student.id, student.name, points, self._maker.set.points, comment)
                if each:
                    each(student, points)
            evidence.close(self._tally.marked, total)
        order = list(KINDS)
        problems = sorted(
            self._problems,
            key=lambda problem: (order.index(problem.kind), problem.student, problem.file, problem.reason),
        )
        self._write_lists(fresh, problems, notes)
        return Marking(
            results,
            self._maker.set.title,
            len(self._roster),
            self._tally.marked,
            total,
            self._maker.set.points,
            tuple(problems),
            notes,
        )

    def _write_lists(self, fresh: Path, problems: list[Problem], notes: tuple[str, ...]) -> None:
        concerned = {problem.student for problem in problems}
        names = {student.id: one_line(student.name) for student in self._roster if student.id in concerned}
        with open(fresh / "problems.csv", "w", encoding="utf-8", newline="") as file:
            rows = csv.writer(file, lineterminator="\n")
            rows.writerow(("kind", "id", "name", "file", "reason"))
            for problem in problems:
                rows.writerow(
                    [
                        harmless(cell)
                        for cell in (
                            problem.kind,
                            problem.student,
                            names.get(problem.student, ""),
                            problem.file,
                            problem.reason,
                        )
                    ]
                )
        report = self._tally.report(len(self._roster), self._maker.digest, problems, names, list(notes))
        (fresh / "report.html").write_text(report, encoding="utf-8", newline="\n")

    def _problem(self, kind: str, student: Student, item: Item | None, reason: str) -> None:
        self._problems.append(Problem(kind, student.id, item.shown if item else "", reason))

    def _take(self, student: Student, packet: str) -> tuple[HandIn | None, list[str]]:
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
            elif (
                hand_in.student != student.id and unicodedata.normalize("NFC", hand_in.student) != student.id
            ):
                self._problem(
                    "foreign",
                    student,
                    item,
                    f"the id in it is {self._who(hand_in.student)}; it was marked for nobody",
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

    def _compare(self, student: Student, packet: str, hand_in: HandIn, marked: list[MarkedTask]) -> list[str]:
        """Whether a file is as it was handed out; the marks never depend on it."""
        found = []
        if hand_in.packet != packet:
            found.append(f"its sheet code {one_line(hand_in.packet)!r} {self._owner(hand_in.packet)}")
        changed = self._marker.changed_givens(hand_in, marked)
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


def _comment(marked: list[MarkedTask]) -> str:
    """A mark in one line for the gradebook."""
    counts = dict.fromkeys(STATES, 0)
    lost = []
    for number, task in enumerate(marked, start=1):
        for verdict in task.verdicts.values():
            counts[state(verdict)] += 1
        missing = task.entry.points - task.points
        if missing > 0.005:
            causes = [
                _lost(task, identity) for identity, verdict in task.verdicts.items() if not verdict.right
            ]
            lost.append(f"{number}: -{points_text(missing)} {', '.join(dict.fromkeys(causes))}")
    summary = ", ".join(f"{count} {STATES[state]}" for state, count in counts.items() if count)
    return summary + ("; " + "; ".join(lost) if lost else "")


def _lost(task: MarkedTask, identity: str) -> str:
    """Why an answer lost points, and what it earned where that is a part of them."""
    verdict = task.verdicts[identity]
    reason = cause_words(task, identity) or NAMES[verdict.kind]
    share = verdict.points / verdict.out_of if verdict.out_of else 0.0
    if verdict.kind == "not recognised":
        reason = "the sign is right, the number is not" if share else "not right, no known slip"
    return f"{reason} ({100 * share:.0f} %)" if share else reason


def _put_in_place(fresh: Path, results: Path) -> None:
    """Move the new results in, over those of an earlier marking; other files there stay."""
    results.mkdir(parents=True, exist_ok=True)
    for name in (*WRITTEN, *([PRACTICE] if (fresh / PRACTICE).exists() else [])):
        target = results / name
        if target.is_dir():
            put_in_place(target, fresh / f"old-{name}")
        put_in_place(fresh / name, target)
