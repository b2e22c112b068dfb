"""Marking a class: what came in, held against what was handed out, one block of students after the other."""

import pickle
import tempfile
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from functools import partial
from importlib.metadata import version
from pathlib import Path

from gearlab.course.coursekey import CodesMet, CourseKey
from gearlab.course.decisions.checks import decisions_of
from gearlab.course.gradebook import csv_line, harmless
from gearlab.course.handout.edition import SET_NAME, Edition, SheetMaker, edition_of, frozen_edition
from gearlab.course.intake.came import KINDS, PROBLEMS, Intake, Problem
from gearlab.course.intake.taking import NOT_MARKED, FileGiven, Refused, Taking, give_files
from gearlab.course.marking import ready
from gearlab.course.marking.begun import PAGES, Begun
from gearlab.course.marking.blocks import (
    BLOCK,
    Block,
    Came,
    Recipe,
    Row,
    Workshop,
    mark_block,
    page_name,
    serve,
    unpacked,
)
from gearlab.course.marking.books import Books
from gearlab.course.marking.changes import Before, Changes, Edited, to_look_at
from gearlab.course.marking.reasons import ReasonList, reasons_path
from gearlab.course.marking.spread import in_order, processes, workers
from gearlab.course.report.pages import Occasion, write_reports
from gearlab.course.report.pairs import Traces, pairs_page
from gearlab.course.report.tally import sections_of
from gearlab.course.results import Renewal, Results
from gearlab.course.roster import Roster, Student
from gearlab.course.shelf import Shelf
from gearlab.quoting import one_line
from gearlab.toml import tables_of

ENOUGH = 50  # files of which no sheet code fits: it is no use to read on
MOST_DECIDED = 12  # decisions for everybody that the report tells
LARGE = 400  # students from which on blocks are kept for the case of a kill, and all cores are worth it


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
    changes: Changes | None = None
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
    add: Callable[[Path, str], None] | None = None,
    section: str | None = None,
    anyway: bool = False,
    *,
    decisions: Path | None = None,
    reasons: Path | None = None,
    only_show: bool = False,
    cores: int = 1,
    cluster: str | None = None,
) -> Marking:
    """Mark what a class handed in and write gradebook, feedback, report, evidence and problems.

    The set is marked as it was handed out, from the frozen copy beside the key. The same hand-ins give
    the same files, byte for byte, however many processes mark them. The new results are switched with those
    of before as one, when they are complete; those of before are kept (`Results`). A large class whose
    marking was killed is marked on from there.

    place: folder or zip of what was handed in.
    set_path: the set's file; only its name counts.
    key: the key it was handed out with.
    results: folder for the results, made if missing.
    each: told each student and their points (None: nothing to mark), in the order of the class list.
    add: writes what else belongs to the results; told their fresh folder and the title of the set.
    section: mark this section of the class only.
    anyway: mark also where no sheet code fits the key.
    decisions: file of decisions about the set; by default the one beside the key, if there is one.
    reasons: list of the texts that people mark, read and brought up to date for a set that asks for some; by
        default as `reasons_path` says.
    only_show: whether nothing is to be written: the changes are told and the results stay as they are.
    cores: processes of this machine; 0 for one a core, where the class is large [-].
    cluster: address of a dask scheduler whose workers mark instead.
    ValueError if the set was never handed out with this key, no sheet code fits, a folder does not fit, a
        cell of that list, or a cluster that does not answer.
    """
    place, results = Path(place), Path(results)
    if place.is_dir() and results.resolve().is_relative_to(place.resolve()):
        raise ValueError(
            f"results folder {results}: is in the folder of the hand-ins; choose another with --to"
        )
    Results(results).refuse_around([place, key.path])
    edition, notes = handed_out(set_path, key)
    maker = SheetMaker(edition, key)
    texts = None
    if any(entry.question.for_people for entry in maker.set):
        texts = ReasonList(reasons or reasons_path(key, maker.set.name), maker.set, key)
    if cluster is None and (cores > 1 or (not cores and len(roster) >= LARGE)):
        # they get ready while this one looks at what came
        processes(ready.__name__, {ready.FROZEN: str(key.frozen_path(maker.set.name).resolve())})
    intake = Intake(place, maker.set.name, roster, maker.packet)
    roster = intake.as_handed_out()
    chosen = roster.section(section) if section else roster
    if section:
        notes += (f"Section {one_line(section)} only: {len(chosen)} of {len(roster)} students.",)
    decided = decisions_of(key, maker.set, roster, decisions)
    decided, given, odd = give_files(intake, decided, maker)
    intake.problems += odd
    recipe = Recipe(
        edition, key, decided, texts.marks if texts is not None else None, tuple(sections_of(chosen))
    )
    class_ = _Class(recipe, intake, roster, chosen, texts, not anyway, given)
    class_.before = Before(results, maker.set.name, roster, decided)
    if not cores and len(chosen) < LARGE:
        cores = 1
    with ExitStack() as stack:
        renewal = stack.enter_context(_fresh(results, only_show))
        renewal.digests = class_.digests
        begun = None
        if len(chosen) >= LARGE and not only_show:
            begun = Begun(results.resolve().parent / f".{results.name}.begun", recipe.digest, key.secret)
        executor, count = stack.enter_context(workers(cores, cluster, ready.__name__))
        marking = class_.mark(renewal.fresh, results, notes, each, begun, (executor, count, cluster is None))
        if add and not only_show:
            add(renewal.fresh, maker.set.title)
        if texts is not None and not only_show:
            marking = replace(marking, notes=(*marking.notes, *texts.write()), texts=texts.path)
    return replace(marking, notes=(*marking.notes, *renewal.told))


@contextmanager
def _fresh(results: Path, only_show: bool) -> Iterator[Renewal]:
    """A fresh folder for the results, and what is told when they are in place."""
    if only_show:
        with tempfile.TemporaryDirectory(prefix="gearlab-marking-") as folder:
            yield Renewal(Path(folder))
    else:
        with Results(results).renewed() as renewal:
            yield renewal


def handed_out(set_path: Path, key: CourseKey) -> tuple[Edition, tuple[str, ...]]:
    """The frozen edition, and a remark where the files or the library are others by now."""
    if not Path(set_path).is_file() and SET_NAME.fullmatch(str(set_path)):
        edition = frozen_edition(key, str(set_path))  # by its name, whatever became of its file
        if edition is not None:
            return edition, ("The set's file is gone; everybody was marked with what was handed out.",)
    try:
        name = tables_of(Path(set_path).read_text(encoding="utf-8"))["set"]["name"]
    except OSError as error:
        raise ValueError(f"set {set_path}: cannot be read ({error.strerror}); check the file name") from None
    except (ValueError, KeyError, TypeError):
        raise ValueError(
            f"set {set_path}: does not say its name; give the file of the set that was handed out"
        ) from None
    if not isinstance(name, str) or not SET_NAME.fullmatch(name):
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

    before: Before

    def __init__(
        self,
        recipe: Recipe,
        intake: Intake,
        roster: Roster,
        chosen: Roster,
        texts: ReasonList | None,
        must_fit: bool,
        given: dict[str, FileGiven],
    ):
        self._recipe = recipe
        self._workshop = Workshop(recipe)
        self._maker = self._workshop.maker
        self._taking = Taking(self._maker, intake, roster, recipe.decisions, self._workshop.worth, given)
        self._whole, self._roster = roster, chosen
        self._texts = texts
        self._must_fit = must_fit
        self._codes = CodesMet()
        self._intake = intake
        self._met = list(intake.problems)
        self._tallies = self._workshop.counts()
        self.digests = Shelf()  # of the pages, by their paths

    def mark(
        self,
        fresh: Path,
        results: Path,
        notes: tuple[str, ...],
        each: Callable[[Student, float | None], None] | None,
        begun: Begun | None,
        spread: tuple,
    ) -> Marking:
        """Write everything into a fresh folder.

        spread: the executor, how many workers it has, and whether they write on this machine's disk.
        """
        pages = begun.pages if begun else fresh / PAGES
        pages.mkdir(exist_ok=True)
        traces = Traces(self._maker.set, fresh / ".typed")
        total = reached = 0.0
        sections = self._whole.sections if self._roster is self._whole else ()
        with Books(fresh, self._maker.set, self._maker.digest, sections) as books:
            for came, row in self._rows(pages, traces, begun, spread):
                student = came.student
                self._look_at(came, row)
                total += row.points or 0.0
                reached += (row.points or 0.0) if row.marked else 0.0
                if row.page is not None:
                    (pages / page_name(student.id)).write_bytes(row.page)
                if self._texts is not None:
                    self._texts.take(row.texts)
                books.add(student.section, row.line, row.evidence, row.practised)
                if each:
                    each(student, row.points)
            self._refuse_wrong_key()
            books.close(self._tallies.marked, total)
        if begun:
            begun.hand_over(fresh / PAGES, self.digests)
        if self._texts is not None:
            notes = (*notes, *self._texts.notes())
        notes += tuple(filter(None, (self._codes.remark(),)))
        order = list(KINDS)
        problems = sorted(
            [*self._met, *self._taking.problems, *self.before.problems, *to_look_at(self._recipe.decisions)],
            key=lambda problem: (order.index(problem.kind), problem),
        )
        self._write_lists(fresh, problems, notes, traces)
        changed = self.before.write(fresh)
        return Marking(
            results,
            self._maker.set.title,
            len(self._roster),
            self._tallies.marked,
            reached,
            self._workshop.out_of,
            tuple(problems),
            notes,
            changed,
            self.before.edited,
            len(self._recipe.decisions),
        )

    def _rows(
        self, pages: Path, traces: Traces, begun: Begun | None, spread: tuple
    ) -> Iterator[tuple[Came, Row]]:
        """Each student with what came of them, in the order of the class list."""
        executor, count, here = spread
        told = pickle.dumps(replace(self._recipe, pages=str(pages.resolve()) if here else ""))
        if executor is None:
            serve(told, self._workshop)
        for block, packed in in_order(
            partial(mark_block, told),
            self._blocks(),
            executor,
            count,
            begun.get if begun else None,
            begun.put if begun else None,
        ):
            done = unpacked(packed)
            if not self._tallies.takes(done.tallies):
                # kept by a run that was killed, and what came for others has changed since
                block.limits = []
                done = unpacked(mark_block(told, block))
            self._tallies.merge(done.tallies)
            traces.merge(done.traces)
            self.digests.put_all(
                (f"{PAGES}/{page_name(came.student.id)}", row.digest)
                for came, row in zip(block, done.rows)
                if row.paged
            )
            yield from zip(block, done.rows, strict=True)

    def _blocks(self) -> Iterator[Block]:
        block = Block()
        for number, student in enumerate(self._roster):
            block.append(self._came(number, student))
            if len(block) == BLOCK:
                block.limits = self._tallies.limits
                yield block
                block = Block()
        if block:
            yield block

    def _came(self, number: int, student: Student) -> Came:
        """What came of a student: the one file as it is, or the one of several that counts."""
        item = self._taking.only(student)
        if item is None:
            given, sheet = self._taking.given(student.id)
            content, remarks = self._taking.take(student, self._maker.packet(sheet or student.id))
            return Came(number, student, content, tuple(remarks), given, sheet)
        try:
            return Came(number, student, self._intake.read(item), ())
        except ValueError as reason:
            self._taking.refuse(student, item, Refused("unreadable", str(reason)))
            return Came(number, student, None, (NOT_MARKED,))

    def _look_at(self, came: Came, row: Row) -> None:
        """Note how a file was saved, and whether it is of this hand-out: by its code or by its numbers."""
        student = came.student
        if row.refused is not None:
            self._taking.refuse(student, self._intake.items(student.id)[0], row.refused)
        if not row.marked:
            return
        if (row.changed or not row.own_code) and not came.sheet:
            self._taking.compare(student, row.code, row.own_code, row.changed)
        if row.met:
            items = self._intake.items(student.id)
            file = items[0].shown if len(items) == 1 else ""
            reason = f"{row.met}; it was read and marked"
            self._met.append(Problem("saved anew", student.id, file, reason))
        if row.code:
            own = row.own_code or (row.has_givens and not row.changed)
            if own or not came.sheet:
                self._codes.add(row.code, own)
        if self._codes.others == ENOUGH:
            self._refuse_wrong_key()

    def _refuse_wrong_key(self) -> None:
        """Refuse where no code fits: a class is not accused because of a wrong key."""
        if self._must_fit and not self._codes.fitting and self._codes.others:
            codes = (self._maker.packet(student.id) for student in self._whole)
            self._codes.refuse_wrong_key(self._recipe.key.path, codes)

    def _write_lists(
        self, fresh: Path, problems: list[Problem], notes: tuple[str, ...], traces: Traces
    ) -> None:
        concerned = {problem.student for problem in problems}
        names = {student.id: one_line(student.name) for student in self._roster if student.id in concerned}
        with open(fresh / PROBLEMS, "w", encoding="utf-8", newline="") as file:
            file.write(csv_line(("kind", "id", "name", "file", "reason")))
            for problem in problems:
                kind, student, *rest = problem
                file.write(csv_line(map(harmless, (kind, student, names.get(student, ""), *rest))))
        pairs, count = traces.pairs()
        page = pairs_page(self._maker.set, self._roster, pairs, count)
        (fresh / "pairs.html").write_text(page, encoding="utf-8", newline="\n")
        told = [*notes, *self._decided_for_all()]
        occasion = Occasion(self._maker.set, self._maker.digest, problems, names, told, count)
        write_reports(fresh, self._tallies, self._roster, occasion)

    def _decided_for_all(self) -> list[str]:
        """What was decided for everybody, for the report, which counts what was found."""
        told = [decision for decision in self._recipe.decisions.all if decision.who is None]
        lines = [
            f"Decided: {decision.kind.replace('_', ' ')}{decision.words.removeprefix(decision.kind)}"
            for decision in told[:MOST_DECIDED]
        ]
        if len(told) > MOST_DECIDED:
            lines.append(f"Decided as well: {len(told) - MOST_DECIDED} more; see the file of decisions.")
        return [*lines, "Counts of answers below are as found, before these decisions."] if lines else []
