"""A run sheet: one TOML file that says how a lab goes, minute by minute, and what each bench works with.

It names questions of banks and predictions of lessons; readings, kits and things to prepare are its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from itertools import product
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from gearlab.care import refused
from gearlab.contents import lesson_bank
from gearlab.course.lab.readings import ReadingTable, reading_id
from gearlab.practice.bank import Bank, load_bank, read_toml
from gearlab.practice.draw import Grid
from gearlab.practice.formulas.expression import ExpressionError, compile_formula
from gearlab.practice.tables import BankError, Kebab, Name, Text
from gearlab.practice.workbook.predictions import Prediction, prediction_of
from gearlab.schema import near, spot, told
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import UNITS

PLACES = re.compile(r"\{([a-z][a-z0-9_]*)\}")
_Minutes = Annotated[int, Field(ge=0, le=240)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Lab(_Table):
    """What the lab is called, how long it may take, and what happens to those who are late or absent."""

    name: Kebab
    title: Text
    lessons: Annotated[tuple[str, ...], Field(min_length=1)]
    minutes: Annotated[tuple[Annotated[int, Field(ge=10, le=240)], ...], Field(min_length=1)]
    about: Text
    late: Annotated[tuple[Text, ...], Field(min_length=1)]
    absent: Annotated[tuple[Text, ...], Field(min_length=1)]


class Kit(_Table):
    """A pair of gears as it lies on a bench; its numbers are quantity words [mm, deg]."""

    name: Annotated[str, Field(pattern=r"^[A-Z]$")]
    driver_teeth: Annotated[int, Field(ge=12, le=120)]
    driven_teeth: Annotated[int, Field(ge=12, le=150)]
    module: Annotated[float, Field(ge=1, le=10)]

    @property
    def numbers(self) -> dict[str, float]:
        """Its numbers by word [teeth, mm]."""
        return {
            "driver_teeth": float(self.driver_teeth),
            "driven_teeth": float(self.driven_teeth),
            "module": self.module,
        }

    @property
    def centre_distance(self) -> float:
        """The hole spacing that fits it [mm]."""
        from gearlab.theory import derive

        return float(derive("centre_distance", self.numbers).result)


class Own(_Table):
    """A number that each bench gets for itself."""

    unit: str = "1"
    label: Text
    one_of: Annotated[tuple[Decimal, ...], Field(min_length=1)]

    @property
    def grid(self) -> Grid:
        return Grid(self.one_of)


class Bad(_Table):
    """What is wrong on purpose with the bad kit: the wrong holes of a plate, or a gear of another pitch.

    by: how far the holes are moved apart [mm]; module: of the gear that does not belong.
    """

    name: Kebab
    what: Literal["plate", "driver", "driven"]
    by: Annotated[float, Field(ge=-5, le=5)] = 0.0
    module: Annotated[float, Field(ge=1, le=10)] | None = None
    diametral_pitch: Annotated[float, Field(ge=3, le=24)] | None = None
    symptom: Text
    cause: Text


class Plate(_Table):
    """The plate of a kit: its size and its holes [mm]."""

    length: Annotated[float, Field(ge=40, le=400)] = 200.0
    height: Annotated[float, Field(ge=40, le=400)] = 140.0
    thickness: Annotated[float, Field(ge=1, le=20)] = 6.0
    hole: Annotated[float, Field(ge=2, le=30)] = 10.0
    bore: Annotated[float, Field(ge=2, le=30)] = 10.0
    material: str = "plywood or acrylic"


class Prepare(_Table):
    """Something that lies ready: so many for each of so many benches, and some spare ones."""

    what: Text
    count: Annotated[int, Field(ge=1, le=1000)] = 1
    benches: Annotated[int, Field(ge=0, le=100)] = 1  # 0: for the room
    spare: Annotated[int, Field(ge=0, le=100)] = 0
    note: str = ""

    def quantity(self, benches: int) -> int:
        """How many for a room of so many benches [-].

        >>> Prepare(what="caliper", count=1, benches=2, spare=1).quantity(13)
        8
        """
        rooms = -(-benches // self.benches) if self.benches else 1
        return self.count * rooms + self.spare


class AskedQuestion(_Table):
    """A question of a lesson's bank."""

    lesson: Text
    id: Kebab
    points: Annotated[float, Field(gt=0, le=20)] = 1.0


class AskedPrediction(_Table):
    """A prediction of a lesson."""

    lesson: Text
    id: Kebab


class Step(_Table):
    """Some minutes of the lab; what it asks belongs to its checkpoint.

    minutes: by length of the lab; 0 where that lab leaves the step for homework.
    """

    id: Kebab
    title: Text
    minutes: dict[str, _Minutes]
    does: Text
    project: str = ""
    checkpoint: Annotated[str, Field(pattern=r"^[A-Z]?$")] = ""
    exit: bool = False
    care: tuple[str, ...] = ()
    question: tuple[AskedQuestion, ...] = ()
    prediction: tuple[AskedPrediction, ...] = ()
    reading: tuple[ReadingTable, ...] = ()

    @property
    def asks(self) -> int:
        """How many things it asks [-]."""
        return len(self.question) + len(self.prediction) + len(self.reading)


class _File(_Table):
    lab: Lab
    plate: Plate = Plate()
    kit: Annotated[tuple[Kit, ...], Field(min_length=1)]
    own: dict[Name, Own] = {}
    bad: tuple[Bad, ...] = ()
    prepare: tuple[Prepare, ...] = ()
    step: Annotated[tuple[Step, ...], Field(min_length=2)]


@dataclass(frozen=True)
class RunSheet:
    """A run sheet that holds together, with the banks and predictions it names.

    text: the file as it was read.
    """

    path: Path
    text: str
    table: _File

    @property
    def lab(self) -> Lab:
        return self.table.lab

    @cached_property
    def banks(self) -> dict[str, Bank]:
        """The banks by lesson, as the file names it."""
        lessons = dict.fromkeys(asked.lesson for step in self.table.step for asked in step.question)
        return {lesson: load_bank(lesson_bank(lesson)) for lesson in lessons}

    def minutes(self, wanted: int | None = None) -> int:
        """A length of the lab that the file has, by default its longest [min]. ValueError for another."""
        lengths = self.lab.minutes
        if wanted is None:
            return max(lengths)
        if wanted not in lengths:
            raise ValueError(
                f"minutes = {wanted}: {self.path.name} is planned for {', '.join(map(str, lengths))} minutes;"
                " choose one of them, or add its minutes to every step of a copy of your own"
            )
        return wanted

    def steps(self, minutes: int) -> list[tuple[int, int, Step]]:
        """The steps of a lab of that length, each with its first and its last minute [min]."""
        clock, rows = 0, []
        for step in self.table.step:
            if span := step.minutes[str(minutes)]:
                rows.append((clock, clock + span, step))
                clock += span
        return rows

    def left_out(self, minutes: int) -> list[Step]:
        """The steps that a lab of that length leaves for homework."""
        return [step for step in self.table.step if not step.minutes[str(minutes)]]

    def prediction(self, asked: AskedPrediction) -> Prediction:
        return prediction_of(f"{lesson_bank(asked.lesson).parent.name}/{asked.id}")


def load_run_sheet(path: str | Path) -> RunSheet:
    """Read a run sheet; BankError lists every problem found: file, step, field, what is expected."""
    path = Path(path)
    data = read_toml(path)
    try:
        table = _File.model_validate(data)
    except ValidationError as error:
        raise BankError([_problem(path, data, fault) for fault in error.errors()]) from None
    sheet = RunSheet(path, path.read_text(encoding="utf-8"), table)
    if problems := [f"{path}: {problem}" for problem in _problems(sheet)]:
        raise BankError(problems)
    return sheet


def _problem(path: Path, data: dict, fault: Any) -> str:
    place, where = tuple(fault["loc"]), str(path)
    if len(place) > 1 and place[0] == "step" and isinstance(place[1], int):
        step = data["step"][place[1]]
        name = step.get("id") if isinstance(step, dict) else None
        where, place = f"{path}: step {name or place[1] + 1!r}", place[2:]
        return f"{where}: {spot(place) or 'table'}: {told({**fault, 'loc': place}, Step)}"
    return f"{where}: {spot(place) or 'file'}: {told(fault, _File)}"


def _problems(sheet: RunSheet) -> Iterator[str]:
    table = sheet.table
    yield from _clock(sheet)
    for name in ("kit", "bad"):
        yield from _twice(f"{name} name", [each.name for each in getattr(table, name)])
    yield from _twice("step id", [step.id for step in table.step])
    yield from _twice("checkpoint", [step.checkpoint for step in table.step if step.checkpoint])
    yield from _twice(
        "question or reading",
        [asked.id for step in table.step for asked in step.question]
        + [reading_id(reading) for step in table.step for reading in step.reading],
    )
    yield from _twice(
        "prediction",
        [f"{asked.lesson}/{asked.id}" for step in table.step for asked in step.prediction],
    )
    if sum(bad.what == "plate" for bad in table.bad) > 1:
        yield "bad: one bad plate is enough; there are more"
    if sum(step.exit for step in table.step) != 1:
        yield "step: exactly one step is the exit ticket (exit = true)"
    for bad in table.bad:
        if (bad.what == "plate") != bool(bad.by) or (bad.what != "plate") == (
            bad.module is None and bad.diametral_pitch is None
        ):
            yield (
                f"bad {bad.name!r}: a plate is wrong `by` so many mm, a gear has another module or"
                " diametral_pitch"
            )
    kits = {kit.name: kit for kit in table.kit}
    for kit in kits.values():
        if (
            kit.centre_distance + (kit.driver_teeth + kit.driven_teeth) * kit.module / 2
            > 2 * table.plate.length
        ):
            yield f"kit {kit.name!r}: its gears are much larger than the plate of {table.plate.length:g} mm"
    for step in table.step:
        for problem in _step(sheet, step):
            yield f"step {step.id!r}: {problem}"


def _twice(what: str, names: list[str]) -> Iterator[str]:
    for name in dict.fromkeys(names):
        if names.count(name) > 1:
            yield f"{what} {name!r} is there {names.count(name)} times; each needs one of its own"


def _clock(sheet: RunSheet) -> Iterator[str]:
    """Minutes are stated for every length of the lab, and add up to it."""
    lengths = [str(length) for length in sheet.lab.minutes]
    complete = True
    for step in sheet.table.step:
        if set(step.minutes) != set(lengths):
            complete = False
            yield (
                f"step {step.id!r}: minutes are stated for {', '.join(step.minutes) or 'nothing'}; the lab"
                f" has {', '.join(lengths)} minutes: state each, 0 for a step that is left for homework"
            )
    for length in lengths if complete else ():
        total = sum(step.minutes[length] for step in sheet.table.step)
        if total != int(length):
            yield (
                f"minutes: the steps of the {length} min lab add up to {total} min; change a step by"
                f" {int(length) - total}"
            )
        for step in sheet.table.step:
            if step.exit and not step.minutes[length]:
                yield f"step {step.id!r}: the exit ticket takes no time in the {length} min lab; give it some"


def _step(sheet: RunSheet, step: Step) -> Iterator[str]:
    if step.asks and not step.checkpoint:
        yield "it asks something: give it a checkpoint, a capital letter"
    if step.exit and not step.question:
        yield "an exit ticket asks at least one question"
    for act in step.care:
        if fault := refused(act):
            yield f"care: {fault}"
    for asked in step.question:
        try:
            bank = sheet.banks[asked.lesson]
        except ValueError as error:
            yield f"question {asked.id!r}: {error}"
            continue
        if asked.id not in bank:
            where = f"not in the bank of lesson {asked.lesson}{near(asked.id, bank.questions)}"
            yield f"question {asked.id!r}: {where}"
        elif bank[asked.id].kind not in ("number", "choice", "expression"):
            yield f"question {asked.id!r}: a {bank[asked.id].kind} question has no room on a card"
    for prediction in step.prediction:
        try:
            asked_for = sheet.prediction(prediction)
        except (ValueError, KeyError) as error:
            yield f"prediction {prediction.id!r}: {error}"
            continue
        if not asked_for.options:
            yield f"prediction {prediction.id!r}: has no options, so that no tally can be made of it"
    known = {"driver_teeth", "driven_teeth", "module", "bad_opening", *sheet.table.own}
    for reading in step.reading:
        problems = list(_reading(reading, known)) or reading.doubts(_benches(sheet, reading))
        for problem in problems:
            yield f"reading {reading.id!r}: {problem}"


def _benches(sheet: RunSheet, reading: ReadingTable) -> Iterator[dict[str, float]]:
    """The numbers that a reading may meet: every kit, with each number of its own that goes in."""
    words = set(reading.given) | set(re.findall(r"[a-z][a-z0-9_]*", reading.formula))
    own = {word: row.grid.values for word, row in sheet.table.own.items() if word in words}
    opening = {"bad_opening": sum(bad.by for bad in sheet.table.bad)}
    for kit in sheet.table.kit:
        for values in product(*own.values()):
            yield {
                word: number
                for word, number in (kit.numbers | dict(zip(own, values, strict=True)) | opening).items()
                if word in words
            }


def _reading(reading: ReadingTable, known: set[str]) -> Iterator[str]:
    if bool(reading.computed) == bool(reading.formula):
        yield "it is either `computed`, a quantity word, or has a `formula`"
    if reading.computed and reading.computed not in QUANTITIES:
        yield f"computed: {reading.computed!r} is no quantity word{near(reading.computed, QUANTITIES)}"
    if reading.unit not in UNITS and reading.unit != "1":
        yield f"unit: {reading.unit!r} is not known{near(reading.unit, UNITS)}"
    for word in (*reading.given, *PLACES.findall(reading.prompt)):
        if word not in known:
            yield f"{word!r} is no number of a bench{near(word, known)}; there are {', '.join(sorted(known))}"
    if reading.formula:
        try:
            compile_formula(reading.formula, sorted(known))
        except ExpressionError as error:
            yield f"formula: {error}"
    yield from reading.faults
    if reading.within < reading.resolution:
        finest = f"{reading.resolution:g} {reading.unit}"
        yield f"within = {reading.within:g} is finer than the instrument's {finest}"
