"""Marking a class: what came in, held against what was handed out, one student after the other."""

import csv
import os
import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path

from gearlab.course.coursekey import CodesMet, CourseKey
from gearlab.course.edition import Edition, edition_of, frozen_edition
from gearlab.course.evidence import Evidence
from gearlab.course.feedback import FeedbackPages
from gearlab.course.files import file_name, one_line, write_new
from gearlab.course.gradebook import Gradebooks, harmless, points_text
from gearlab.course.handin import HandIn
from gearlab.course.intake import KINDS, Intake, Problem
from gearlab.course.marks import MarkedTask, Marker, cause_words, state
from gearlab.course.practised import PracticeTable
from gearlab.course.report import Tally
from gearlab.course.results import DIGESTS, Results
from gearlab.course.roster import Roster, Student
from gearlab.course.sheet import SheetMaker
from gearlab.course.taking import Taking
from gearlab.practice.verdict import NAMES, STATES

WRITTEN = ("gradebook.csv", "problems.csv", "evidence.json", "report.html", "feedback", DIGESTS)
ENOUGH = 50  # files of which no sheet code fits: it is no use to read on
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
    add: Callable[[Path, str], None] | None = None,
    section: str | None = None,
    anyway: bool = False,
) -> Marking:
    """Mark what a class handed in and write gradebook, feedback, report, evidence and problems.

    The set is marked as it was handed out, from the frozen copy beside the key. The same hand-ins give
    the same files, byte for byte. The new results are switched with those of before as one, when they are
    complete; those of before are kept (`Results`).

    place: folder or zip of what was handed in.
    set_path: the set's file; only its name counts.
    key: the key it was handed out with.
    results: folder for the results, made if missing.
    each: told each student and their points (None: nothing to mark), in the order of the class list.
    section: mark this section of the class only.
    anyway: mark also where no sheet code fits the key.
    add: writes what else belongs to the results; told their fresh folder and the title of the set.
    ValueError if the set was never handed out with this key, no sheet code fits, or a folder does not fit.
    """
    place, results = Path(place), Path(results)
    if place.is_dir() and results.resolve().is_relative_to(place.resolve()):
        raise ValueError(
            f"results folder {results}: lies in the folder of the hand-ins; choose another with --to"
        )
    Results(results).refuse_around([place, key.path])
    edition, notes = _handed_out(set_path, key)
    maker = SheetMaker(edition, key)
    intake = Intake(place, maker.set.name, roster, maker.packet)
    roster = intake.as_handed_out()
    chosen = roster.section(section) if section else roster
    if section:
        notes += (f"Section {one_line(section)} only: {len(chosen)} of {len(roster)} students.",)
    with Results(results).renewed() as renewal:
        class_ = _Class(maker, intake, roster, chosen, None if anyway else key)
        marking = class_.mark(renewal.fresh, results, notes, each)
        if add:
            add(renewal.fresh, maker.set.title)
    return replace(marking, notes=(*marking.notes, *renewal.told))


def _handed_out(set_path: Path, key: CourseKey) -> tuple[Edition, tuple[str, ...]]:
    """The frozen edition, and a remark where the files or the library are others by now."""
    if not Path(set_path).is_file() and re.fullmatch(r"[a-z0-9-]{1,80}", str(set_path)):
        edition = frozen_edition(key, str(set_path))  # by its name, whatever became of its file
        if edition is not None:
            return edition, ("The set's file is gone; everybody was marked with what was handed out.",)
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

    def __init__(
        self, maker: SheetMaker, intake: Intake, roster: Roster, chosen: Roster, key: CourseKey | None
    ):
        self._maker = maker
        self._taking = Taking(maker, intake, roster)
        self._whole = roster
        self._roster = chosen
        self._key = key  # None: whether it fits is not asked
        self._codes = CodesMet()
        self._intake = intake
        self._marker = Marker(maker)
        self._pages = FeedbackPages(maker.set)
        self._tally = Tally(maker.set)
        self._met = list(intake.problems)

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
            Gradebooks(fresh, () if self._roster is not self._whole else self._roster.sections) as gradebook,
            open(fresh / "evidence.json", "wb") as records,
        ):
            evidence = Evidence(records, head)
            practised = PracticeTable(told, tuple(entry.question.id for entry in self._maker.set))
            for student in self._roster:
                packet = self._maker.packet(student.id)
                taken, remarks = self._taking.take(student, packet)
                if taken is None:
                    points, comment = None, remarks[0] if remarks else "nothing handed in"
                else:
                    marked = self._marker.mark(student.id, taken)
                    remarks += self._taking.compare(student, packet, taken, marked)
                    self._look_at(student, packet, taken, marked)
                    points = round(sum(task.points for task in marked), 6)
                    comment = _comment(marked)
                    total += points
                    self._tally.add(marked, points)
                    evidence.add(student.id, marked)
                    if kept:
                        practised.add(student.id, taken)
                    content = self._pages.page(student, packet, marked, remarks)
                    write_new(f"{fresh}/feedback/{file_name(student.id)}.html", content.encode("utf-8"))
                gradebook.add(student, points, self._maker.set.points, comment)
                if each:
                    each(student, points)
            self._refuse_wrong_key()
            evidence.close(self._tally.marked, total)
        order = list(KINDS)
        problems = sorted(
            [*self._met, *self._taking.problems],
            key=lambda problem: (order.index(problem.kind), problem.student, problem.file, problem.reason),
        )
        notes += tuple(filter(None, (self._codes.remark(),)))
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

    def _look_at(self, student: Student, packet: str, hand_in: HandIn, marked: list[MarkedTask]) -> None:
        """Note how a file was saved, and whether it is of this hand-out: by its code or by its numbers."""
        if hand_in.met:
            items = self._intake.items(student.id)
            file = items[0].shown if len(items) == 1 else ""
            reason = f"{hand_in.met}; it was read and marked"
            self._met.append(Problem("saved anew", student.id, file, reason))
        own = hand_in.packet == packet or (
            bool(hand_in.givens) and not Marker.changed_givens(hand_in, marked)
        )
        if hand_in.packet:
            self._codes.add(hand_in.packet, own)
        if self._codes.others == ENOUGH:
            self._refuse_wrong_key()

    def _refuse_wrong_key(self) -> None:
        """Refuse where no code fits: a class is not accused because of a wrong key."""
        if self._key is not None and not self._codes.fitting and self._codes.others:
            codes = (self._maker.packet(student.id) for student in self._whole)
            self._codes.refuse_wrong_key(self._key.path, codes)

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
                cause_words(task, identity) or NAMES[verdict.kind]
                for identity, verdict in task.verdicts.items()
                if not verdict.right
            ]
            lost.append(f"{number}: -{points_text(missing)} {', '.join(dict.fromkeys(causes))}")
    summary = ", ".join(f"{count} {STATES[state]}" for state, count in counts.items() if count)
    return summary + ("; " + "; ".join(lost) if lost else "")
