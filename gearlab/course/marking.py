"""Marking a class: what came in, held against what was handed out, one student after the other."""

import csv
import os
import re
import shutil
import tempfile
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path

from gearlab.course.changes import CHANGES, EDITED, Before, Change, Edited, to_look_at
from gearlab.course.coursekey import CourseKey
from gearlab.course.decidedchecks import decisions_of
from gearlab.course.decidedmarks import out_of, shares
from gearlab.course.decidedtotals import Settled
from gearlab.course.decisions import Decisions
from gearlab.course.edition import Edition, edition_of, frozen_edition
from gearlab.course.evidence import Evidence
from gearlab.course.feedback import FeedbackPages
from gearlab.course.files import file_name, one_line, write_new
from gearlab.course.gradebook import Gradebook, harmless, points_text
from gearlab.course.handin import HandIn
from gearlab.course.intake import KINDS, Intake, Problem
from gearlab.course.marks import MarkedTask, Marker, cause_words, state
from gearlab.course.pairs import Traces, pairs_page
from gearlab.course.practised import PracticeTable
from gearlab.course.reasons import ReasonList, for_people, reasons_path
from gearlab.course.report import SECTIONS, Occasion, write_reports
from gearlab.course.roster import Roster, Student
from gearlab.course.sheet import SheetMaker
from gearlab.course.taking import Taking
from gearlab.course.tally import SectionTallies, sections_of
from gearlab.practice.verdict import NAMES, STATES
from gearlab.writing import put_in_place

WRITTEN = ("gradebook.csv", "problems.csv", "evidence.json", "report.html", "pairs.html", "feedback")
PRACTICE = "practice.csv"  # written for a set that keeps attempts
SOMETIMES = (PRACTICE, SECTIONS, CHANGES, EDITED)  # written where there is something to write


@dataclass(frozen=True)
class Marking:
    """What came of marking a class.

    folder: where the results are.
    students: students in the class list [-].
    marked: hand-ins that were marked [-].
    points: points of those who handed in, together [-].
    out_of: points one student can reach [-].
    notes: remarks about the whole marking.
    changes: points that are others than in the results before; None where there were none.
    edited: marks that somebody typed into the results before.
    decisions: how many decisions were applied [-].
    texts: the list of texts that people mark, for a set that asks for some.
    """

    folder: Path
    title: str
    students: int
    marked: int
    points: float
    out_of: float
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]
    changes: tuple[Change, ...] | None = None
    edited: tuple[Edited, ...] = ()
    decisions: int = 0
    texts: Path | None = None


def mark(
    place: Path,
    set_path: Path,
    roster: Roster,
    key: CourseKey,
    results: Path,
    each: Callable[[Student, float | None], None] | None = None,
    decisions: Path | None = None,
    reasons: Path | None = None,
    only_show: bool = False,
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
    decisions: file of decisions about the set; by default the one beside the key, if there is one.
    reasons: list of the texts that people mark, read and brought up to date for a set that asks for some; by
        default as `reasons_path` says.
    only_show: whether nothing is to be written: the changes are told and the results stay as they are.
    ValueError if the set was never handed out with this key, a folder does not fit, or a cell of that list.
    """
    place, results = Path(place), Path(results)
    if place.is_dir() and results.resolve().is_relative_to(place.resolve()):
        raise ValueError(
            f"results folder {results}: lies in the folder of the hand-ins; choose another with --to"
        )
    edition, notes = handed_out(set_path, key)
    maker = SheetMaker(edition, key)
    texts = None
    if for_people(maker.set):
        texts = ReasonList(reasons or reasons_path(key, maker.set.name), maker.set, key)
    intake = Intake(place, maker.set.name, roster)
    decided = decisions_of(key, maker.set, roster, decisions)
    if only_show:
        fresh = Path(tempfile.mkdtemp(prefix="gearlab-marking-"))
    else:
        results.parent.mkdir(parents=True, exist_ok=True)
        fresh = Path(tempfile.mkdtemp(prefix=".marking-", dir=results.parent))
    try:
        marking = _Class(maker, intake, roster, decided, texts, results).mark(fresh, results, notes, each)
        if not only_show:
            _put_in_place(fresh, results)
            if texts is not None:
                marking = replace(marking, notes=(*marking.notes, *texts.write()), texts=texts.path)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return marking


def handed_out(set_path: Path, key: CourseKey) -> tuple[Edition, tuple[str, ...]]:
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

    def __init__(
        self,
        maker: SheetMaker,
        intake: Intake,
        roster: Roster,
        decisions: Decisions,
        texts: ReasonList | None,
        results: Path,
    ):
        self._maker = maker
        self._decisions = decisions
        self._marker = Marker(maker, decisions, texts.marks if texts is not None else None)
        self._taking = Taking(maker, intake, roster, decisions, self._worth)
        self._roster = roster
        self._texts = texts
        self._before = Before(results, maker.set.name, roster, decisions)
        self._pages = FeedbackPages(maker.set)
        self._out_of = out_of(maker.set, shares(maker.set, decisions, ""))
        self._tally = SectionTallies(maker.set, sections_of(roster), self._out_of)
        self._met = intake.problems

    def _worth(self, student: str, hand_in: HandIn) -> float:
        """Points that a hand-in would get."""
        return sum(task.points for task in self._marker.mark(student, hand_in))

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
        total, reached, traces = 0.0, 0.0, Traces(self._maker.set, fresh / ".typed")
        kept = self._maker.set.attempts
        practice = fresh / PRACTICE if kept else Path(os.devnull)
        with (
            open(practice, "w", encoding="utf-8", newline="") as told,
            open(fresh / "gradebook.csv", "w", encoding="utf-8", newline="") as book,
            open(fresh / "evidence.json", "wb") as records,
        ):
            gradebook, evidence = Gradebook(book), Evidence(records, head)
            practised = PracticeTable(told, tuple(entry.question.id for entry in self._maker.set))
            for number, student in enumerate(self._roster):
                count = self._tally.marked
                settled = self._one(
                    number, student, fresh, gradebook, evidence, traces, practised if kept else None
                )
                total += settled.points or 0.0
                reached += (settled.points or 0.0) if self._tally.marked > count else 0.0
                if each:
                    each(student, settled.points)
            evidence.close(self._tally.marked, total)
        if self._texts is not None:
            notes = (*notes, *self._texts.notes())
        order = list(KINDS)
        problems = sorted(
            [*self._met, *self._taking.problems, *self._before.problems, *to_look_at(self._decisions)],
            key=lambda problem: (order.index(problem.kind), problem.student, problem.file, problem.reason),
        )
        self._write_lists(fresh, problems, notes, traces)
        changed = self._before.write(fresh)
        return Marking(
            results,
            self._maker.set.title,
            len(self._roster),
            self._tally.marked,
            reached,
            self._out_of,
            tuple(problems),
            notes,
            changed,
            self._before.edited,
            len(self._decisions),
        )

    def _one(
        self,
        number: int,
        student: Student,
        fresh: Path,
        gradebook: Gradebook,
        evidence: Evidence,
        traces: Traces,
        practised: PracticeTable | None,
    ) -> Settled:
        """Mark one student and write what there is to write about them."""
        packet = self._maker.packet(student.id)
        taken, remarks = self._taking.take(student, packet)
        marked = None
        if taken is not None:
            marked = self._marker.mark(student.id, taken)
            remarks += self._taking.compare(student, packet, taken, marked)
        settled = self._marker.settle(student.id, marked)
        if marked is None or taken is None:
            comment = remarks[0] if remarks else "nothing handed in"
            if settled.points is not None or not settled.told:
                remarks = remarks or ["Nothing was handed in."]
        else:
            comment = _comment(marked)
            self._tally.add(student, marked, settled.points or 0.0, taken.practice if practised else None)
            traces.add(number, marked)
            evidence.add(student.id, marked)
            if self._texts is not None:
                self._texts.add(student.id, marked)
        if practised is not None and taken is not None:
            practised.add(student.id, taken)
        evidence.settled(student.id, settled, marked is not None)
        if marked is not None or settled.told:
            content = self._pages.page(student, packet, marked or [], remarks, settled)
            write_new(f"{fresh}/feedback/{file_name(student.id)}.html", content.encode("utf-8"))
        comment = "; ".join(filter(None, (settled.comment, comment)))
        gradebook.add(student.id, student.name, settled.points, settled.out_of, comment)
        return settled

    def _write_lists(
        self, fresh: Path, problems: list[Problem], notes: tuple[str, ...], traces: Traces
    ) -> None:
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
        pairs, count = traces.pairs()
        told = pairs_page(self._maker.set, self._roster, pairs, count)
        (fresh / "pairs.html").write_text(told, encoding="utf-8", newline="\n")
        occasion = Occasion(self._maker.set, self._maker.digest, problems, names, list(notes), count)
        write_reports(fresh, self._tally, self._roster, occasion)


def _comment(marked: list[MarkedTask]) -> str:
    """A mark in one line for the gradebook."""
    counts, open_ = dict.fromkeys(STATES, 0), sum(task.open for task in marked)
    lost = []
    for number, task in enumerate(marked, start=1):
        decided = dict.fromkeys(told.title.lower() for told in task.told)
        for identity, verdict in task.verdicts.items():
            if identity not in task.left_out:
                counts[state(verdict)] += 1
        missing = task.out_of - task.points - task.open
        if missing > 0.005:
            causes = [
                cause_words(task, identity) or NAMES[verdict.kind]
                for identity, verdict in task.verdicts.items()
                if not (verdict.right or verdict.open) and identity not in task.left_out
            ]
            lost.append(f"{number}: -{points_text(missing)} {', '.join(dict.fromkeys([*decided, *causes]))}")
        elif decided:
            lost.append(f"{number}: {', '.join(decided)}")
    summary = ", ".join(f"{count} {STATES[state]}" for state, count in counts.items() if count)
    summary += f" ({points_text(open_)} point{'' if open_ == 1 else 's'} open)" if open_ else ""
    return summary + ("; " + "; ".join(lost) if lost else "")


def _put_in_place(fresh: Path, results: Path) -> None:
    """Move the new results in, over those of an earlier marking; other files there stay."""
    results.mkdir(parents=True, exist_ok=True)
    new = [name for name in SOMETIMES if (fresh / name).exists()]
    for name in (*WRITTEN, *new):
        target = results / name
        if target.is_dir():
            put_in_place(target, fresh / f"old-{name}")
        put_in_place(fresh / name, target)
    for name in {CHANGES, EDITED} - set(new):  # of an earlier marking, and true no longer
        (results / name).unlink(missing_ok=True)
