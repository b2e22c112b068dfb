"""Handing out a set: for each student a notebook and a printed sheet with their own numbers."""

import json
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from glob import escape
from pathlib import Path
from typing import Any

from markupsafe import Markup

from gearlab.course.cells import code, markdown, notebook_of, plain, sheet_cell
from gearlab.course.coursekey import HAND_OUT_MARK, CourseKey, refuse_inside
from gearlab.course.gradebook import points_text
from gearlab.course.handout.edition import Edition, SheetMaker, Task, edition_of, frozen_edition
from gearlab.course.handout.leaves import leaves
from gearlab.course.lock import Lock
from gearlab.course.pages import page, part, points_words
from gearlab.course.roster import Roster, file_name, plain_id
from gearlab.practice.contract import rules
from gearlab.practice.handin import REASON
from gearlab.quoting import one_line
from gearlab.writing import put_in_place, write_whole


@dataclass(frozen=True)
class HandOut:
    """What was handed out.

    students: how many students have a notebook and a sheet there [-].
    written: how many of the files are new [-].
    frozen: the frozen copy of the set, beside the key.
    to_print: the sheets of all of them in one page.
    """

    folder: Path
    students: int
    written: int
    frozen: Path
    to_print: Path


def sheets_page(section: str = "") -> str:
    """Name of the page with the sheets of the class, or of a section.

    >>> sheets_page(), sheets_page("B 2")
    ('all_sheets.html', 'all_sheets_B~20~2.html')
    """
    return f"all_sheets_{file_name(section)}.html" if section else "all_sheets.html"


def hand_out(
    set_path: Path, roster: Roster, key: CourseKey, folder: Path, again: bool = False, section: str = ""
) -> HandOut:
    """Write a notebook and a sheet for every student, and freeze the set beside the key.

    The same set, roster and key give the same files, byte for byte; a student who came late gets theirs
    by handing out again with the longer roster.

    roster: the whole class, also where a section only gets the set.
    folder: where the files go: ``notebooks``, ``sheets`` and ``all_sheets.html`` in it.
    again: use the edition that was frozen before, whatever became of the set since.
    section: write the files of this section only, and its sheets into a page to print of its own.
    ValueError if the set cannot be handed out, there is no such section, or other files stand in the way;
        nothing is written then.
    """
    folder = Path(folder)
    chosen = roster.section(section) if section else roster
    printed = sheets_page(chosen.sections[0] if section else "")
    refuse_inside(key.path, folder)
    edition = _edition(set_path, key, again)
    maker = SheetMaker(edition, key)
    if maker.set.use != "marked":
        raise ValueError(f'set {set_path}: is for practice; only a set with use = "marked" is handed out')
    folder.parent.mkdir(parents=True, exist_ok=True)
    respelt = respelt_sheets(folder, edition.set_name, roster)
    if respelt:
        spelt = ", ".join(f"{one_line(new)} ({one_line(old)} on the sheet)" for new, old in respelt[:5])
        raise ValueError(
            f"folder {folder}: {len(respelt)} ids of the roster are spelt differently on the sheets handed"
            f" out before: {spelt}. A spreadsheet drops leading zeros: write them in the roster as on the"
            " sheets. If these are other students, move the sheets of those who left away"
        )
    name = folder.resolve().name
    with Lock(folder.parent / f".{name}.lock", f"hand-out {folder}"):
        for left in folder.parent.glob(f".{escape(name)}.new-*"):
            shutil.rmtree(left, ignore_errors=True)  # of a killed hand-out
        fresh = Path(tempfile.mkdtemp(prefix=f".{name}.new-", dir=folder.parent))
        try:
            for name, content in _files(maker, chosen, printed):
                write_whole(fresh / name, content)
            new = _new_files(fresh, folder, edition, printed)
            # The frozen copy comes first: no sheet is ever out without it.
            frozen = key.frozen_path(edition.set_name)
            if not frozen.is_file():
                edition.write(frozen)
            for name in new:
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                put_in_place(fresh / name, folder / name)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)
    return HandOut(folder, len(chosen), len(new), frozen, folder / printed)


def respelt_sheets(folder: Path, set_name: str, roster: Roster) -> list[tuple[str, str]]:
    """Students without a sheet where one lies whose id differs in capitals or leading zeros only.

    Returns the ids in the roster and those on the sheets.
    """
    head = f"{set_name}_"
    sheets = {path.stem.removeprefix(head) for path in (folder / "notebooks").glob(f"{head}*.ipynb")}
    left = {plain_id(name): name for name in sorted(sheets - {file_name(student.id) for student in roster})}
    return [
        (student.id, left[plain_id(file_name(student.id))])
        for student in roster
        if file_name(student.id) not in sheets and plain_id(file_name(student.id)) in left
    ]


def _edition(set_path: Path, key: CourseKey, again: bool) -> Edition:
    """The edition to hand out: as frozen, or as the files stand if it was never handed out."""
    now = edition_of(set_path)
    frozen = frozen_edition(key, now.set_name)
    if frozen is None or frozen.digest == now.digest:
        return now
    if again:
        return frozen
    changed = sorted(
        name
        for name in now.files.keys() | frozen.files.keys()
        if now.files.get(name) != frozen.files.get(name)
    )
    raise ValueError(
        f"set {now.set_name!r} was handed out before with another edition of {', '.join(changed)}; add"
        " --again to hand out the edition of then (for students who came late), or give the set a new name"
        " to hand out the new edition"
    )


def _files(maker: SheetMaker, roster: Roster, to_print: str) -> Iterator[tuple[str, str]]:
    """Every file of the hand-out, by its path in the folder; `to_print` is the page with all sheets."""
    everybody = []
    fields: dict[str, Any] = {
        "set": maker.set,
        "css": Markup(part("sheet.css")),
        "reason": REASON,
        "points": points_text(maker.set.points),
        "rules": rules(entry.question for entry in maker.set.entries),
        "minutes": round(sum(entry.question.minutes for entry in maker.set.entries)),
    }
    for student in roster:
        tasks = maker.tasks(student.id)
        sheet = maker.sheet(student, tasks)
        printed = {
            "student": student,
            "packet": sheet["packet"],
            "leaves": leaves(student, tasks, " ".join(fields["rules"])),
        }
        everybody.append(printed)
        name = f"{maker.set.name}_{file_name(student.id)}"
        yield f"notebooks/{name}.ipynb", notebook(sheet, tasks, fields["minutes"])
        yield f"sheets/{name}.html", page("sheet.html", sheets=[printed], **fields)
    yield to_print, page("sheet.html", sheets=everybody, **fields)
    mark = {"gearlab": "hand-out folder", "set": maker.set.name, "edition": maker.digest}
    yield HAND_OUT_MARK, json.dumps(mark, indent=1) + "\n"


def _new_files(fresh: Path, folder: Path, edition: Edition, printed: str) -> list[str]:
    """The files that are not in the folder yet; a different file in a student's place is refused."""
    new = []
    for path in sorted(path for path in fresh.rglob("*") if path.is_file()):
        name = path.relative_to(fresh).as_posix()
        there = folder / name
        if not there.exists():
            new.append(name)
        elif there.read_bytes() != path.read_bytes():
            if name == printed and _is_of(folder, edition):
                new.append(name)  # grows with the roster
                continue
            raise ValueError(
                f"folder {folder}: {name} is there already and is different (another set, key or edition,"
                " or it was edited); choose an empty folder with --to, or move the old hand-out away"
            )
    return sorted(new, key=lambda name: (name != HAND_OUT_MARK, name))  # the mark says whose the rest is


def _is_of(folder: Path, edition: Edition) -> bool:
    try:
        return json.loads((folder / HAND_OUT_MARK).read_text(encoding="utf-8"))["edition"] == edition.digest
    except (OSError, ValueError, KeyError, TypeError):
        return False


_KEPT = (
    "\n\nThe file you hand in also tells how you practised these questions in this folder before: how many"
    " draws, tries, hints and solutions, how long to the first right answer, and the slips that"
    " were named. It helps to see what to teach again; no mark is worked out from it."
)


def notebook(sheet: dict, tasks: list[Task], minutes: int) -> str:
    """A student's notebook: the questions with their numbers, and boxes that save what is typed.

    minutes: time the set takes [min].
    Returns the notebook file, JSON without outputs.
    """
    total = points_words(sum(task.entry.points for task in tasks))
    cells = [
        markdown(
            "title",
            f"# {plain(sheet['title'])}\n\nSheet `{sheet['packet']}` for id"
            f" `{sheet['student'].replace('`', '')}` · {total} · about {minutes} minutes\n\n1. Choose *Run →"
            " Run All Cells*.\n2. Type each result with its unit into the box below its question. The box"
            f" says how it was read and saves it at once.\n3. Hand in the one file `{sheet['file']}`, which"
            " lies beside this notebook. The last cell lists what is still empty.\n\nThe numbers are yours"
            " alone. Nothing is marked here: marks and worked solutions come back after the hand-in."
            + (_KEPT if sheet.get("attempts") else ""),
        ),
        sheet_cell(sheet),
    ]
    for number, task in enumerate(tasks, start=1):
        question = task.entry.question
        worth = f"*{points_words(task.entry.points)}, about {points_text(question.minutes)} minutes*"
        asked = f"## {number}. {plain(question.title)}\n\n{worth}\n\n{plain(task.draw.prompt)}"
        cells += [
            markdown(f"question-{number}", asked),
            code(f"box-{number}", f"hand_in_box(sheet, {question.id!r})"),
        ]
    closing = "## Hand in\n\nThe list below says what is still empty and which file to hand in."
    return notebook_of([*cells, markdown("end", closing), code("status", "sheet.status()")])
