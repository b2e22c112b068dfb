"""A course is a folder: class list, key, own sets, what came in, decisions, results, each in its place."""

import os
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from gearlab.contents import content_folder, set_file
from gearlab.course.coursekey import COURSE_FILE, HANDED_OUT, read_key, unfinished
from gearlab.course.handout.edition import SET_NAME, frozen_edition
from gearlab.course.handout.making import respelt_sheets
from gearlab.course.intake.came import TO_DO, Intake, problem_rows
from gearlab.course.marking.reasons import reasons_path, still_open
from gearlab.course.pages import part
from gearlab.course.results import Results
from gearlab.course.roster import SECTION, Roster, file_name, read_roster
from gearlab.course.termrules import TERM, course_tables
from gearlab.quoting import one_line
from gearlab.schema import spot, told
from gearlab.toml import tables_of
from gearlab.writing import write_whole

FILE = COURSE_FILE
_WHILE_MARKING = 5.0  # seconds
FOLDERS = ("sets", "hand-ins", "decisions")


class _Course(BaseModel):
    model_config = ConfigDict(extra="forbid")

    title: str = Field(default="", max_length=200)
    roster: str = Field(default="roster.csv", min_length=1, max_length=500)
    key: str = Field(default="course.key", min_length=1, max_length=500)
    section: str = Field(default=SECTION, min_length=1, max_length=200)


@dataclass(frozen=True)
class Course:
    """A course folder.

    roster_path, key_path: files of the class list and of the key; the key is there from the first hand-out.
    section: name of the roster's column that tells the section.
    """

    folder: Path
    title: str
    roster_path: Path
    key_path: Path
    section: str = SECTION

    def roster(self) -> Roster:
        """The class list as it stands now.

        ValueError if it cannot be read.
        """
        return read_roster(self.roster_path, self.section)

    def set_file(self, name: str) -> Path:
        """The file of a set: one of the course's own by its name, a path, or one that comes with gearlab.

        ValueError if there is none; the message lists those there are.
        """
        own = [path for path in self._own_sets() if name in (path.stem, path.name) or _name_in(path) == name]
        if len(own) > 1:
            names = ", ".join(path.name for path in own)
            raise ValueError(f"set {name}: several files of {self.folder / 'sets'} fit ({names}); name one")
        if own or Path(name).is_file():
            return own[0] if own else Path(name)
        return set_file(name)

    def set_name(self, name: str) -> str:
        """The name that a set gives itself; of one whose file is gone, the name it was handed out under.

        ValueError if there is no such set.
        """
        plain = name.removesuffix(".toml").replace("_", "-")
        if plain in self.handed_out():
            return plain
        path = self.set_file(name)
        own_name = _name_in(path)
        if not own_name:
            raise ValueError(f"set {path}: does not say its name in small letters, digits and hyphens")
        return own_name

    def handed_out(self) -> list[str]:
        """The sets that are frozen beside the key, by name."""
        head, tail = f"{self.key_path.name}.", ".frozen.json"
        names = [
            path.name.removeprefix(head).removesuffix(tail)
            for path in self.key_path.parent.glob("*.frozen.json")
            if path.name.startswith(head)
        ]
        return sorted(name for name in names if SET_NAME.fullmatch(name))

    def hand_out_folder(self, name: str) -> Path:
        """Where the notebooks and sheets of a set go."""
        return self.folder / HANDED_OUT / name

    def hand_ins(self, name: str) -> Path:
        """What came in for a set: its folder, or a zip of that name.

        ValueError if nothing is there.
        """
        place = self.folder / "hand-ins" / name
        zipped = place.with_name(f"{name}.zip")
        if place.is_dir() and any(place.iterdir()):
            if zipped.is_file():
                raise ValueError(
                    f"hand-ins of {name}: there are both {place} and {zipped}; put the zip into the folder"
                )
            return place
        if zipped.is_file():
            return zipped
        raise ValueError(
            f"hand-ins of {name}: nothing is in {place}; put what came in there (files, folders or a zip, as"
            " they are)"
        )

    def decisions(self, name: str) -> Path:
        """The file of what was decided about the marks of a set, there or not."""
        return self.folder / "decisions" / f"{name}.toml"

    def results(self, name: str, section: str | None = None) -> Path:
        """The folder of the present results of a set, or of one section."""
        return self.folder / "results" / (f"{name}_{file_name(section)}" if section else name)

    def _own_sets(self) -> list[Path]:
        return [path for path in sorted((self.folder / "sets").rglob("*.toml")) if _name_in(path)]

    def own_set_names(self) -> list[str]:
        """The names of the course's own sets."""
        return sorted({_name_in(path) for path in self._own_sets()})

    def set_names(self) -> list[str]:
        """The names of all sets there are: handed out, the course's own, and those that come with gearlab."""
        return [*dict.fromkeys([*self.handed_out(), *self.own_set_names(), *_with_gearlab()])]


def _name_in(path: Path) -> str:
    """The name that a set's file gives; "" if it is none."""
    return _head_of(path)[0]


def _head_of(path: Path) -> tuple[str, str]:
    """Name and title that a set's file gives; "" for the name if it is none."""
    try:
        head = tables_of(path.read_text(encoding="utf-8"))["set"]
        name, title = head["name"], head.get("title", "")
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return "", ""
    return (name if isinstance(name, str) and SET_NAME.fullmatch(name) else ""), str(title)


def read_course(folder: Path) -> Course:
    """Read a course folder.

    ValueError if it is none, or its file is not in order; the message says what to do.
    """
    folder = Path(folder)
    path = folder / FILE
    if not path.exists():
        raise ValueError(f"course {folder}: has no {FILE}; `gearlab course {folder}` writes a beginning")
    try:
        course = _Course.model_validate(course_tables(path).get("course", {}))
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False, include_context=False)[0]
        raise ValueError(
            f"course {path}: [course] {spot(first['loc'], ' > ')}: {told(first, _Course)}"
        ) from None
    folder = folder.resolve()
    title = one_line(course.title) or folder.name
    return Course(folder, title, folder / course.roster, folder / course.key, course.section)


def find_course(start: Path | None = None) -> Course | None:
    """The course that a folder, by default the working folder, is or lies in.

    ValueError if its file is not in order.
    """
    start = (Path(start) if start else Path.cwd()).resolve()
    for folder in (start, *start.parents):
        if (folder / FILE).is_file():
            return read_course(folder)
    return None


def begin_course(folder: Path) -> list[Path]:
    """Write the beginning of a course: its file, an empty class list, its folders; nothing is overwritten.

    Returns what is new.
    ValueError if the folder cannot be written, or lies in another course.
    """
    folder = Path(folder)
    outer = find_course(folder.resolve().parent)
    if outer is not None:
        raise ValueError(f"course {folder}: is in the course {outer.folder}; choose a folder beside it")
    title = '"' + one_line(folder.resolve().name).replace("\\", "\\\\").replace('"', '\\"') + '"'
    new = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        files = {FILE: part("course.toml").replace("{title}", title), "roster.csv": "id,name,section,email\n"}
        for name, content in files.items():
            if not (folder / name).exists():
                write_whole(folder / name, content)
                new.append(folder / name)
        for name in FOLDERS:
            if not (folder / name).is_dir():
                (folder / name).mkdir()
                new.append(folder / name)
    except OSError as error:
        raise ValueError(f"course {folder}: cannot be written ({error.strerror})") from None
    return new


@dataclass
class SetState:
    """How one set of a course stands.

    without: students of the class list without a sheet.
    unserved: sections to which it was not handed out yet; their students are not among those without a sheet.
    respelt: students whose sheet has their id in another spelling, and that spelling.
    left: sheets of ids that are not in the class list.
    came: students from whom a hand-in came, and what the intake met.
    newer: whether hand-ins, decisions or the class list are newer than the results.
    waiting: rows of the list of problems after which somebody has something to do.
    texts: texts that wait for somebody to mark them.
    """

    name: str
    without: list[str] = field(default_factory=list)
    unserved: list[str] = field(default_factory=list)
    respelt: list[tuple[str, str]] = field(default_factory=list)
    left: int = 0
    came: int | None = None
    trouble: str = ""
    marked: datetime | None = None
    earlier: int = 0
    sections: list[str] = field(default_factory=list)
    newer: bool = False
    waiting: int = 0
    texts: int = 0
    decisions: bool = False
    edited: list[str] = field(default_factory=list)


def state_of(course: Course, roster: Roster, name: str) -> SetState:
    """How a set of a course stands: sheets, what came in, results, decisions."""
    state = SetState(name)
    sheets = {
        path.stem.removeprefix(f"{name}_")
        for path in (course.hand_out_folder(name) / "notebooks").glob("*.ipynb")
    }
    ids = {file_name(student.id): student.id for student in roster}
    state.respelt = respelt_sheets(course.hand_out_folder(name), name, roster)
    if sheets:  # handed out elsewhere, with --to, it is not known who has one
        spelt = {new for new, _ in state.respelt}
        none = {identity for file, identity in ids.items() if file not in sheets and identity not in spelt}
        served = {student.section for student in roster if student.id not in none}
        state.unserved = [section for section in roster.sections if section not in served]
        state.without = [
            student.id for student in roster if student.id in none and student.section not in state.unserved
        ]
        state.left = len(sheets - ids.keys()) - len(spelt)
    newest = 0.0
    try:
        place = course.hand_ins(name)
        intake = Intake(place, name, roster, _codes(course, name))
        state.came = sum(bool(intake.items(student.id)) for student in intake.as_handed_out())
        newest = _newest(place)
    except ValueError as error:
        state.trouble = "" if "nothing is in" in str(error) else str(error)
    state.decisions = course.decisions(name).is_file()
    newest = max(newest, _newest(course.decisions(name)), _newest(course.roster_path))
    results = Results(course.results(name))
    state.marked, state.earlier = results.made(), len(results.earlier_states())
    if state.marked is not None:
        texts = reasons_path(read_key(course.key_path), name)
        filled_in = _newest(texts) - _WHILE_MARKING  # marking itself writes it, just after the results
        state.newer = max(newest, filled_in) > state.marked.timestamp()
        state.texts = still_open(texts)
        state.waiting = rows_to_do(course.results(name))
        state.edited = [path for path, what in results.differing() if what == "edited"]
    state.sections = [
        section for section in roster.sections if Results(course.results(name, section)).made() is not None
    ]
    return state


def _codes(course: Course, name: str) -> Callable[[str], str]:
    """The sheet code of an id in a set that was handed out."""
    key = read_key(course.key_path)
    edition = frozen_edition(key, name)
    return lambda identity: key.packet_code(name, edition.digest if edition else "", identity)


def rows_to_do(results: Path) -> int:
    """Problems of some results after which somebody has something to do [-]."""
    return sum(row.get("kind") in TO_DO for row in problem_rows(results))


def _newest(place: Path) -> float:
    """When the newest file of a place was changed [s]; 0 if there is none."""
    try:
        if place.is_file():
            return place.stat().st_mtime
        files = (os.path.join(folder, name) for folder, _, names in os.walk(place) for name in names)
        return max((os.lstat(file).st_mtime for file in files), default=0.0)
    except OSError:
        return 0.0


def course_lines(course: Course) -> Iterator[str]:
    """How a course stands, in lines for the terminal; the last one says what is next."""
    yield f"{course.title} ({course.folder})"
    try:
        roster = course.roster()
    except ValueError as error:
        yield f"  class list: {error}"
        yield f"Next: write one line for each student into {course.roster_path}."
        return
    counts = {section: sum(student.section == section for student in roster) for section in roster.sections}
    outside = len(roster) - sum(counts.values())
    words = [f"{one_line(section)} ({count})" for section, count in counts.items()]
    words += [f"without a section ({outside})"] if counts and outside else []
    yield f"  {len(roster)} students{', sections ' + ', '.join(words) if words else ''}"
    yield from (f"  {remark}" for remark in roster.remarks)
    if not course.key_path.exists() or unfinished(course.key_path):
        yield "  no key yet: the first hand-out makes it"
    names = course.handed_out()
    own = [name for name in course.own_set_names() if name not in names]
    if own:
        yield f"  own sets not handed out yet: {', '.join(own)}"
    following: list[str] = []
    marked: list[datetime] = []
    term = ""
    for name in names:
        state = state_of(course, roster, name)
        yield from _set_lines(state, len(roster))
        following += _next(course, state)
        marked = [*marked, *([state.marked] if state.marked else [])]
    if marked:
        added_up = Results(course.results(TERM)).made()
        older = added_up is not None and added_up < max(marked)
        term = ". `gearlab term` adds them up" if added_up is None else ""
        if added_up is not None:
            before = ", before the last marking" if older else ""
            yield f"  term: added up on {added_up:%Y-%m-%d at %H:%M}{before}"
        if older:
            following.append("`gearlab term`: sets were marked since it was added up")
    if not names:
        ready = _with_gearlab()
        yield "  sets that come with gearlab:"
        yield from (f"    {name:<12}{one_line(title)}" for name, title in ready.items())
        example = own[0] if own else next((name for name in ready if name.startswith("homework")), "SET")
        following.append(f"`gearlab hand-out {example}` writes a notebook and a sheet for each student")
    yield (
        "Next: "
        + ("; ".join(following[:3]) if following else "nothing; every set that came in is marked" + term)
        + "."
    )


def _with_gearlab() -> dict[str, str]:
    """The sets that come with gearlab: name to title."""
    heads = map(_head_of, sorted((content_folder("exercises") / "sets").glob("*.toml")))
    return {name: title for name, title in heads if name}


def _set_lines(state: SetState, students: int) -> Iterator[str]:
    yield f"  {state.name}: handed out" + (
        f"; {len(state.without)} without a sheet: {_some(state.without)}" if state.without else ""
    )
    if state.unserved:
        yield f"    not handed out yet to section {_some(state.unserved)}"
    if state.respelt:
        spelt = _some([f"{new} is {old} on the sheet" for new, old in state.respelt])
        yield f"    ids spelt differently in the class list: {spelt}"
    if state.left:
        yield f"    sheets of ids that are not in the class list (they left): {state.left}"
    if state.trouble:
        yield f"    {state.trouble}"
    elif state.came is None:
        yield "    nothing came in yet"
    else:
        yield f"    came in: from {state.came} of {students} students"
    if state.marked is not None:
        earlier = f"; earlier results kept: {state.earlier}" if state.earlier else ""
        yield f"    marked on {state.marked:%Y-%m-%d at %H:%M}{earlier}"
    if state.waiting:
        yield f"    to look at: {state.waiting} in results/{state.name}/problems.csv"
    if state.sections:
        yield f"    sections marked apart: {', '.join(map(one_line, state.sections))}"
    if state.texts:
        yield f"    texts not marked yet: {state.texts} in reasons/{state.name}.csv"
    if state.decisions:
        yield f"    decisions: decisions/{state.name}.toml"
    if state.edited:
        yield f"    edited by hand since: {_some(state.edited)} (kept when you mark again, under edited/)"


def _some(names: list[str]) -> str:
    return ", ".join(map(one_line, names[:5])) + (f" and {len(names) - 5} more" if len(names) > 5 else "")


def _word(text: str) -> str:
    """A name as one word of a command."""
    text = one_line(text)
    return text if re.fullmatch(r"[\w.-]+", text) else f'"{text}"'


def _next(course: Course, state: SetState) -> Iterator[str]:
    if state.respelt:
        yield f"write the ids in {course.roster_path.name} as on the sheets (leading zeros, capitals)"
    if state.unserved:
        yield f"`gearlab hand-out {state.name} --section {_word(state.unserved[0])}`"
    elif state.without:
        yield f"`gearlab hand-out {state.name} --again` for those without a sheet"
    if state.came is None and not state.trouble:
        yield f"put what comes in into hand-ins/{state.name}/"
    elif state.marked is None and not state.sections:
        yield f"`gearlab mark {state.name}`"
    elif state.newer:
        yield f"`gearlab mark {state.name}`: what it rests on is newer than the marks"
    elif state.texts:
        yield f"mark the texts in reasons/{state.name}.csv, then `gearlab mark {state.name}`"
    elif state.waiting:
        yield f"results/{state.name}/problems.csv says what waits for you"
