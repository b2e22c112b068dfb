"""A lab made from its run sheet: prints, the instructor's private part, and a place for each bench."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any

from gearlab.care import block
from gearlab.course.cells import code, markdown, notebook_of, plain, sheet_cell
from gearlab.course.coursekey import HAND_OUT_MARK, make_key, read_key
from gearlab.course.handout.edition import Edition, frozen_edition
from gearlab.course.lab.folder import EDITION, LAB
from gearlab.course.lab.numbers import Bench, Numbers, frozen_set, prediction_id
from gearlab.course.lab.paper import answer_book, bench_sides, kit_counts, plan, sides_page
from gearlab.course.lab.paperparts import cut_files, paper_gears, plate_sheets
from gearlab.course.lab.readings import reading_id
from gearlab.course.lab.runsheet import load_run_sheet
from gearlab.drawing import sheets
from gearlab.writing import write_whole


@dataclass(frozen=True)
class MadeLab:
    """What was made, and where: how many benches and make-up sheets, for how many minutes."""

    folder: Path
    benches: int
    make_ups: int
    minutes: int
    kept: int  # notebooks that were there before and stay as they are


def make_lab(
    run_sheet: str | Path,
    folder: str | Path,
    benches: int,
    *,
    minutes: int | None = None,
    make_ups: int = 4,
    cut_width: float = 0.0,
    parts: bool = True,
    tell: Callable[[str], Any] = lambda what: None,
) -> MadeLab:
    """Make a lab: ``print`` to hand out, ``private`` for the instructor, ``benches`` for the benches.

    Made again in the same folder it keeps its key, its numbers and every bench's notebook and answers; more
    benches get places of their own.

    benches, make_ups: how many [-]; minutes: a length that the run sheet has, by default its longest [min].
    cut_width: what a beam takes away [mm]; parts: whether true-size sheets and cut files are wanted.
    ValueError for a run sheet that does not hold together, or a folder that holds another lab; nothing is
    written then.
    """
    folder, sheet = Path(folder), load_run_sheet(run_sheet)
    length = sheet.minutes(minutes)
    private, shared = folder / "private", folder / "benches"
    place, key_file = private / "lab.json", private / "lab.key"
    if place.exists():
        if (private / "run_sheet.toml").read_text(encoding="utf-8") != sheet.text:
            raise ValueError(
                f"folder {folder}: holds a lab made from another run sheet; choose an empty folder with"
                f" --to, or give the lab's own copy, {private / 'run_sheet.toml'}, to make it again"
            )
        before = json.loads(place.read_text(encoding="utf-8"))
        benches, make_ups = max(benches, before["benches"]), max(make_ups, before["make_ups"])
    elif shared.exists() and any(shared.iterdir()):
        raise ValueError(f"folder {shared}: holds files of something else; choose an empty folder with --to")
    new_key = not key_file.exists()
    key = make_key(key_file) if new_key else read_key(key_file)
    try:
        edition = frozen_edition(key, sheet.lab.name) or frozen_set(sheet, version("gearlab"))
        numbers = Numbers(sheet, key, edition, benches, make_ups)
        files = _pages(numbers, length, tell)
        files |= _for_marking(numbers, edition)
        if parts:
            files |= _parts(numbers, cut_width, tell)
        notebooks = {
            f"benches/{bench.short}/{sheet.lab.name}_{bench.id}.ipynb": _notebook(numbers, bench, length)
            for bench in (*numbers.benches, *numbers.make_ups)
        }
    except (ValueError, OSError):
        if new_key:
            key_file.unlink()  # nothing was drawn from it
        raise
    if not key.frozen_path(sheet.lab.name).is_file():
        edition.write(key.frozen_path(sheet.lab.name))
    write_whole(private / "run_sheet.toml", sheet.text, rights=0o600)  # it says what is bad in a kit
    for name, content in files.items():
        write_whole(folder / name, content, rights=0o600 if name.startswith("private/") else 0o644)
    mark = {"gearlab": "hand-out folder", "set": sheet.lab.name, "edition": edition.digest}
    write_whole(shared / HAND_OUT_MARK, json.dumps(mark, indent=1) + "\n")
    kept = 0
    for name, content in notebooks.items():
        if (folder / name).exists():
            kept += 1  # a bench may have worked in it
        else:
            write_whole(folder / name, content)
    told = {"gearlab": LAB, "edition": EDITION, "minutes": length, "benches": benches, "make_ups": make_ups}
    write_whole(place, json.dumps(told, indent=1) + "\n", rights=0o600)
    return MadeLab(folder, benches, make_ups, length, kept)


def _pages(numbers: Numbers, minutes: int, tell: Callable[[str], Any]) -> dict[str, str | bytes]:
    title = numbers.sheet.lab.title
    files: dict[str, str | bytes] = {}
    tell("cards, worksheets, exit tickets")
    for name, sides in bench_sides(numbers, minutes).items():
        if sides:
            files[f"print/{name}.html"] = sides_page(f"{title}: {name.replace('_', ' ')}", title, sides)
    tell("the instructor's pages")
    for name, sides in plan(numbers, minutes).items():
        # what to prepare says which plates are bad
        files[f"private/{name}.html"] = sides_page(f"{title}: {name.replace('_', ' ')}", title, sides)
    files["private/answer_book.html"] = sides_page(
        f"{title}: answer book", title, answer_book(numbers, minutes)
    )
    return files


def _for_marking(numbers: Numbers, edition: Edition) -> dict[str, str]:
    """What `gearlab mark` takes: the set with its banks as it was frozen, and the benches as a roster."""
    rows = [f"{bench.id},{bench.title}" for bench in (*numbers.benches, *numbers.make_ups)]
    files = {f"private/set/{name}": text for name, text in edition.files.items()}
    return files | {"private/roster.csv": "\n".join(["id,name", *rows]) + "\n"}


def _parts(numbers: Numbers, cut_width: float, tell: Callable[[str], Any]) -> dict[str, str | bytes]:
    """True-size sheets and cut files; the plates' sheets say their spacing and are private."""
    sheet = numbers.sheet
    files: dict[str, str | bytes] = {}
    for paper in sheets.PAPERS:
        tell(f"true-size sheets for {paper}")
        files[f"print/paper_gears_{paper}.pdf"] = sheets.bound(paper_gears(sheet, paper, kit_counts(numbers)))
        files[f"private/workshop/plates_{paper}.pdf"] = sheets.bound(plate_sheets(sheet, paper))
    tell("cut files")
    files |= {f"private/workshop/{name}": text for name, text in cut_files(sheet, cut_width).items()}
    return files


def _notebook(numbers: Numbers, bench: Bench, minutes: int) -> str:
    """The notebook of a bench: the steps that ask something, each with the care that comes before it."""
    sheet = numbers.hand_out(bench, minutes)
    questions = {question["id"]: question for question in sheet["questions"]}
    head = (
        f"# {plain(sheet['title'])}\n\nSheet `{sheet['packet']}`. Choose *Run → Run All Cells*, then type"
        " each result with its unit; a box says how it was read and saves it at once, as"
        f" `{sheet['file']}` beside this notebook. The letters are the checkpoints of your card. Predictions"
        " are never judged. Nothing is marked here."
    )
    # in this folder whatever GEARLAB_ANSWERS says: the board looks here
    cells = [markdown("title", head), sheet_cell(sheet, more=', "."')]
    asking = [step for _, _, step in numbers.sheet.steps(minutes) if step.asks]
    for place, step in enumerate(asking, 1):
        cells.append(markdown(f"step-{place}", f"## {plain(f'{step.checkpoint}. {step.title}')}"))
        if step.care:
            cells.append(markdown(f"care-{place}", block(*step.care)))
        names = [prediction_id(asked) for asked in step.prediction]
        names += [asked.id for asked in step.question]
        names += [reading_id(table) for table in step.reading]
        for name in names:
            text = f"### {plain(questions[name]['title'])}\n\n{plain(questions[name]['prompt'])}"
            cells.append(markdown(f"ask-{name}"[:64], text))
            cells.append(code(f"box-{name}"[:64], f"hand_in_box(sheet, {name!r})"))
    return notebook_of([*cells, markdown("end", "## What is still empty"), code("status", "sheet.status()")])
