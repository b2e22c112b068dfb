"""What a lab has on paper: cards, worksheets, exit tickets, make-up sheets, and the instructor's pages.

Pages are laid out side by side of paper: each bench's part of a print has an even number of sides, so that
printed on both sides nobody has another bench's numbers on the back.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from markupsafe import Markup

from gearlab.care import line, page_text
from gearlab.course.handout.edition import Task
from gearlab.course.lab.numbers import Bench, Numbers, Reading
from gearlab.course.lab.paperparts import which_is_bad
from gearlab.course.lab.runsheet import RunSheet, Step
from gearlab.course.pages import amount, page, part
from gearlab.digits import number_text

ROOM = 212.0  # height of a side for blocks, on A4 and Letter, with some to spare [mm]
NAMES = 8.0  # of a head with a line for names [mm]
LETTERS_A_LINE = 88  # of running text, with some to spare
TABLE_HEAD, TABLE_LEAST = 20.0, 45.0  # of a table: title and head; room below which none begins [mm]
TABLE_LETTERS, PADDING = 116, 2.6  # of a line of all columns; of each column for its edges
NOTES_LEAST = 30.0  # room that is worth a box for notes [mm]
LINE, TALL = 5.3, 6.2  # height of a line of text and of an option [mm]


@dataclass
class Side:
    """One side of paper: what stands in its head, and its blocks."""

    heading: str
    bench: str
    under: str = ""
    code: str = ""
    place: str = ""  # which side it is of how many
    names: bool = False
    blocks: list[dict[str, Any]] = field(default_factory=list)


def sides_page(title: str, lab: str, sides: Iterable[Side]) -> str:
    """A page to print."""
    return page("lab_sides.html", title=title, lab=lab, sides=list(sides), css=Markup(part("lab.css")))


# -- blocks and their heights ------------------------------------------------------------------------------
def _text(title: str, lines: Iterable[str]) -> dict[str, Any]:
    return {"kind": "text", "title": title, "lines": list(lines)}


def _table(title: str, head: str, rows: Iterable[tuple]) -> dict[str, Any]:
    """A table; what stands above its columns, with commas between."""
    return {"kind": "table", "title": title, "head": head.split(","), "rows": list(rows)}


def _care(steps: Iterable[Step], *acts: str) -> list[dict[str, Any]]:
    """What to take care of in some steps, and in more acts before them; nothing where there is nothing."""
    acts = tuple(dict.fromkeys([*acts, *(act for step in steps for act in step.care)]))
    return [{"kind": "care", "text": page_text(*acts)}] if acts else []


def _lines(text: str, width: int = LETTERS_A_LINE) -> int:
    return sum(max(1, -(-len(row) // width)) for row in text.split("\n"))


def height(block: dict[str, Any]) -> float:
    """About how tall a block will be on paper, rather too tall than too small [mm]."""
    kind = block["kind"]
    if kind == "kit":
        letters = sum(len(word) + len(text) + 8 for word, text in block["rows"])
        return 7.0 + LINE * -(-letters // LETTERS_A_LINE)
    if kind == "care":
        return 8.0 + 4.4 * _lines(block["text"], 112)
    if kind == "text":
        return (9.0 if block["title"] else 4.0) + sum(1.5 + LINE * _lines(text) for text in block["lines"])
    if kind == "prediction":
        options = sum(1.0 + LINE * _lines(text, LETTERS_A_LINE - 6) for text in block["prediction"].choices)
        return 14.0 + LINE * _lines(block["prediction"].question) + options
    if kind == "reading":
        return 14.0 + LINE * _lines(block["reading"].prompt) + 2 * 8.5
    if kind == "question":
        task: Task = block["task"]
        text = 14.0 + LINE * _lines(task.draw.prompt)
        if task.draw.options:
            words = [words for _, words in task.draw.options]
            return text + 26.0 + sum(1.0 + LINE * _lines(option, LETTERS_A_LINE - 8) for option in words)
        symbols = 0.0 if task.entry.question.shows_numbers else TALL * 2
        return text + symbols + 17.0 + 8.5 * len(task.entry.question.fields)
    if kind == "table":
        return TABLE_HEAD + sum(_row_heights(block))
    return float(block.get("height", 20.0))


def _row_heights(block: dict[str, Any]) -> list[float]:
    """About how tall the rows of a table will be, by the widths its columns get [mm]."""
    rows = [[str(cell) for cell in row] for row in block["rows"]]
    columns = list(zip(block["head"], *rows, strict=True))
    least = [max(max(map(len, cell.split()), default=0) for cell in column) for column in columns]
    least[0] = max(map(len, columns[0]))  # does not break
    most = [max(map(len, column)) for column in columns]
    free = TABLE_LETTERS - PADDING * len(columns)
    # as a browser does: what a column needs at least, and of the rest a part by what it could use
    spare, wish = free - sum(least), sum(most) - sum(least)
    share = 1.0 if wish <= spare else max(0.0, spare / wish)
    widths = [low + share * (high - low) for low, high in zip(least, most, strict=True)]
    return [
        2.4
        + 4.8 * max(1, *(-(-len(cell) // max(1, int(wide))) for cell, wide in zip(row, widths, strict=True)))
        for row in rows
    ]


def _parts(block: dict[str, Any], left: float, room: float) -> Iterator[dict[str, Any]]:
    """A table in parts, the first of which fits into the room left [mm]; other blocks as they are.

    room: of a whole side [mm].
    """
    if block["kind"] != "table":
        yield block
        return
    rows: list[Any] = []
    used = TABLE_HEAD
    title = block["title"]
    for row, tall in zip(block["rows"], _row_heights(block), strict=True):
        if rows and used + tall > left:
            yield {**block, "title": title, "rows": rows}
            rows, used, left, title = [], TABLE_HEAD, room, f"{block['title']} (continued)"
        rows.append(row)
        used += tall
    yield {**block, "title": title, "rows": rows}


def laid_out(
    heading: str, head: dict[str, Any], blocks: Iterable[dict[str, Any]], even: bool = True
) -> list[Side]:
    """Blocks on as many sides as they take; an odd number gets a side for notes at its end."""
    sides: list[Side] = []
    room = ROOM if head.get("names") else ROOM + NAMES
    used = room
    for whole in blocks:
        begins = room - used > TABLE_LEAST or height(whole) <= room - used
        for block in _parts(whole, room - used if begins else room, room):
            tall = height(block)
            if not sides or used + tall > room:
                sides.append(Side(heading if not sides else f"{heading} (continued)", **head))
                used = 0.0
            sides[-1].blocks.append(block)
            used += tall
    odd = len(sides) % 2 == 1
    if even and room - used > (room / 2 if odd else NOTES_LEAST):
        sides[-1].blocks.append({"kind": "notes"})
    if even and odd:
        rest = {"kind": "ruled", "title": "Notes and sketches", "lines": 22}
        sides.append(Side(f"{heading}: notes", **{**head, "names": False}, blocks=[rest]))
    for number, side in enumerate(sides, start=1):
        side.place = f"side {number} of {len(sides)}" if len(sides) > 1 else ""
    return sides


# -- a bench ----------------------------------------------------------------------------------------------
def bench_sides(numbers: Numbers, minutes: int) -> dict[str, list[Side]]:
    """The prints that every bench gets: "cards", "worksheets", "exit_tickets"; and "make_up"."""
    prints: dict[str, list[Side]] = {"cards": [], "worksheets": [], "exit_tickets": [], "make_up": []}
    steps = [step for _, _, step in numbers.sheet.steps(minutes)]
    tickets = [step for step in steps if step.exit]
    for bench in numbers.benches:
        head, named = _head(numbers, bench), _head(numbers, bench, names=True)
        prints["cards"] += laid_out("Card", head, _card(numbers, bench, steps))
        prints["worksheets"] += laid_out("Worksheet", named, _worksheet(numbers, bench, steps))
        prints["exit_tickets"] += laid_out("Exit ticket", named, _asked(numbers, bench, tickets))
    for bench in numbers.make_ups:
        named = _head(numbers, bench, names=True)
        prints["make_up"] += laid_out("Make-up sheet", named, _make_up(numbers, bench, steps))
    return prints


def _head(numbers: Numbers, bench: Bench, names: bool = False) -> dict[str, Any]:
    return {
        "bench": bench.title,
        "under": f"kit {bench.kit.name}",
        "code": numbers.packet(bench),
        "names": names,
    }


def _kit(numbers: Numbers, bench: Bench) -> dict[str, Any]:
    kit, own = bench.kit, numbers.sheet.table.own
    rows = [
        ("your pinion", f"{kit.driver_teeth} teeth"),
        ("your wheel", f"{kit.driven_teeth} teeth"),
        ("module", f"{number_text(kit.module, 4)} mm"),
    ]
    rows += [(own[word].label, amount(value, own[word].unit)) for word, value in bench.own.items()]
    return {"kind": "kit", "rows": rows}


def _asked(numbers: Numbers, bench: Bench, steps: Iterable[Step]) -> Iterator[dict[str, Any]]:
    """A block for each thing that some steps ask of a bench."""
    for step in steps:
        for asked in numbers.asked(bench, step):
            if isinstance(asked, Task):
                yield {"kind": "question", "stop": step.checkpoint, "task": asked}
            elif isinstance(asked, Reading):
                yield {"kind": "reading", "stop": step.checkpoint, "reading": asked}
            else:
                prediction = numbers.sheet.prediction(asked)
                yield {"kind": "prediction", "stop": step.checkpoint, "prediction": prediction}


def _card(numbers: Numbers, bench: Bench, steps: list[Step]) -> Iterator[dict[str, Any]]:
    yield _kit(numbers, bench)
    yield from _care(steps)
    work = _asked(numbers, bench, [step for step in steps if not step.exit])
    yield from (block for block in work if block["kind"] == "question")


def _worksheet(numbers: Numbers, bench: Bench, steps: list[Step]) -> Iterator[dict[str, Any]]:
    yield _kit(numbers, bench)
    work = _asked(numbers, bench, [step for step in steps if not step.exit])
    yield from (block for block in work if block["kind"] != "question")


def _make_up(numbers: Numbers, bench: Bench, steps: list[Step]) -> Iterator[dict[str, Any]]:
    lab = numbers.sheet.lab
    yield _text("If you are late", lab.late)
    yield _text("If you were absent", lab.absent)
    yield _kit(numbers, bench)
    yield from _care(steps, "cutting")
    yield from _asked(numbers, bench, steps)


# -- the instructor ---------------------------------------------------------------------------------------
def answer_book(numbers: Numbers, minutes: int) -> list[Side]:
    """The keys of every bench, and which plate of its kit is the bad one. Private."""
    sides: list[Side] = []
    for bench in (*numbers.benches, *numbers.make_ups):
        words = "Private: keys. Never hand this out, never leave it on a bench."
        blocks = [
            {"kind": "private", "text": words, "height": 14.0},
            _kit(numbers, bench),
            _table("Answers", ",asked,answer", _keys(numbers, bench, minutes)),
        ]
        if numbers.sheet.table.bad:
            bad = _bad(numbers.sheet, bench)
            blocks.append(_table("Made badly on purpose", "what,what one sees,why", bad))
        sides += laid_out("Answer book", _head(numbers, bench), blocks, even=False)
    return sides


def _keys(numbers: Numbers, bench: Bench, minutes: int) -> Iterator[tuple[str, str, str]]:
    for _, _, step in numbers.sheet.steps(minutes):
        for what in numbers.asked(bench, step):
            if isinstance(what, Task):
                question, draw = what.entry.question, what.draw
                for field_, key in zip(question.fields, question.keys(draw).values(), strict=True):
                    text = key.text
                    if draw.options:
                        options = dict(draw.options)
                        letters = [letter for letter in key.text.split(", ") if letter in options]
                        text = "; ".join(f"{letter}) {options[letter]}" for letter in letters)
                    elif key.value is not None:
                        text = f"{amount(key.value, key.unit)} (± {number_text(key.tolerance, 2)})"
                    label = question.title if draw.options else f"{question.title}: {field_.label}"
                    yield step.checkpoint, label, text
            elif isinstance(what, Reading):
                yield step.checkpoint, f"{what.table.title} (read)", what.expected


def _bad(sheet: RunSheet, bench: Bench) -> list[tuple[str, str, str]]:
    kit = bench.kit
    plate, gear = f"plate {kit.name}{which_is_bad(sheet, kit)}", f"gear {kit.name}z"
    return [(plate if bad.what == "plate" else gear, bad.symptom, bad.cause) for bad in sheet.table.bad]


def kit_counts(numbers: Numbers) -> dict[str, int]:
    """How many benches have each kit."""
    dealt = Counter(bench.kit.name for bench in numbers.benches)
    return {kit.name: dealt[kit.name] for kit in numbers.sheet.table.kit}


def to_prepare(numbers: Numbers, minutes: int) -> list[tuple[str, str, str]]:
    """Everything that lies ready, and how many of it: gears and plates first, then the rest."""
    sheet, counts = numbers.sheet, kit_counts(numbers)
    gears: Counter[tuple[int, float]] = Counter()
    for kit in sheet.table.kit:
        gears[kit.driver_teeth, kit.module] += counts[kit.name]
        gears[kit.driven_teeth, kit.module] += counts[kit.name]
    plate = sheet.table.plate
    rows = [
        (str(number), f"gear, {teeth} teeth, module {module:g} mm, bore {plate.bore:g} mm", "good")
        for (teeth, module), number in sorted(gears.items())
        if number
    ]
    for kit in sheet.table.kit:
        if not counts[kit.name]:
            continue
        bad_plate = any(bad.what == "plate" for bad in sheet.table.bad)
        letters = "xy" if bad_plate else ("",)
        for letter in letters:
            wrong = bad_plate and letter == which_is_bad(sheet, kit)
            spacing = kit.centre_distance + sum(bad.by for bad in sheet.table.bad) * wrong
            state = "bad on purpose: keep it back" if wrong else "good"
            words = f"plate {kit.name}{letter}, holes {spacing:.2f} mm apart"
            rows.append((str(counts[kit.name]), words, state))
        for bad in sheet.table.bad:
            if bad.what != "plate":
                teeth = kit.driver_teeth if bad.what == "driver" else kit.driven_teeth
                pitch = f"P = {bad.diametral_pitch:g}" if bad.diametral_pitch else f"module {bad.module:g} mm"
                words = f"gear {kit.name}z, {teeth} teeth, {pitch}, bore {plate.bore:g} mm"
                rows.append((str(counts[kit.name]), words, "bad on purpose: keep it back"))
    benches = len(numbers.benches)
    rows += [
        (str(item.quantity(benches)), item.what, item.note or ("for the room" if not item.benches else ""))
        for item in sheet.table.prepare
    ]
    papers = (
        ("card", benches, ""),
        ("worksheet", benches, ""),
        ("exit ticket", benches, "one a bench: copy it for each person there"),
        ("make-up sheet", len(numbers.make_ups), ""),
    )
    return rows + [(str(number), f"{name}, printed on both sides", note) for name, number, note in papers]


def plan(numbers: Numbers, minutes: int) -> dict[str, list[Side]]:
    """The instructor's pages: "run_sheet", "prepare" and "room_plan"."""
    sheet, benches = numbers.sheet, len(numbers.benches)
    head: dict[str, Any] = {"bench": f"{minutes} min", "under": f"{benches} benches"}
    rows = [
        (f"{start} to {end}", step.checkpoint or "", step.title, step.does, step.project)
        for start, end, step in sheet.steps(minutes)
    ]
    left = [f"{step.title}: {step.does}" for step in sheet.left_out(minutes)]
    blocks = [
        _text("", [sheet.lab.about]),
        _table("Minute by minute", "min,stop,step,what happens,on the wall", rows),
        *([_text("Left for homework", left)] if left else []),
        _text("Late", sheet.lab.late),
        _text("Absent", sheet.lab.absent),
        *_care(sheet.table.step),
    ]
    plate = sheet.table.plate
    size = f"{plate.length:g} x {plate.height:g} x {plate.thickness:g} mm, {plate.material}"
    prepare = [
        _table("What to prepare", "how many,what,remark", to_prepare(numbers, minutes)),
        _text("", [f"Plates: {size}. Bad parts stay hidden until their step."]),
        {"kind": "care", "text": line("cutting", "drilling", "handling")},
    ]
    room = [(bench.short, f"kit {bench.kit.name}") for bench in numbers.benches]
    places: list[dict[str, Any]] = [
        {"kind": "room", "rows": room[at : at + 20], "height": 200.0} for at in range(0, len(room), 20)
    ]
    return {
        "run_sheet": laid_out("Run sheet", head, blocks, even=False),
        "prepare": laid_out("To prepare", head, prepare, even=False),
        "room_plan": laid_out("Room plan: who sits where", head, places, even=False),
    }
