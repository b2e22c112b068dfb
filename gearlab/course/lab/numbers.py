"""Each bench's own numbers: its kit, what it gets for itself, what its readings should come to, its sheet."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from gearlab.course.coursekey import CourseKey
from gearlab.course.handout.edition import Edition, SheetMaker, Task
from gearlab.course.lab.readings import ReadingTable, reading_id
from gearlab.course.lab.runsheet import PLACES, AskedPrediction, Kit, RunSheet, Step
from gearlab.course.pages import behind
from gearlab.course.roster import Student, file_name
from gearlab.digits import number_text
from gearlab.practice.draw import Stream, message
from gearlab.practice.kinds.measured import deviation
from gearlab.practice.typed.reading import in_unit, read_number
from gearlab.practice.verdict import Verdict
from gearlab.quoting import one_line

MOST_BENCHES = 200


def bench_id(number: int, make_up: bool = False) -> str:
    """How a bench, or a make-up sheet, is named in files.

    >>> bench_id(7), bench_id(2, make_up=True)
    ('bench-07', 'make-up-02')
    """
    return f"{'make-up' if make_up else 'bench'}-{number:02d}"


@dataclass(frozen=True)
class Reading:
    """A reading of one bench: what is asked, with its numbers, and what it should come to [unit]."""

    table: ReadingTable
    prompt: str
    computed: float = field(repr=False)

    @property
    def places(self) -> int:
        """How many decimals the instrument shows [-]."""
        text = f"{self.table.resolution:.6f}".rstrip("0")
        return len(text.partition(".")[2])

    @property
    def shown(self) -> str:
        """What it should come to, for the answer book."""
        return f"{self.computed:.{max(self.places, 2)}f}{self.unit}"

    @property
    def unit(self) -> str:
        """Its unit with a space before it, "" for none."""
        return behind(self.table.unit)

    @property
    def instrument(self) -> str:
        """What it is read from, and what that can see, in words."""
        step = f"to {self.table.resolution:g}{self.unit}"
        return f"{self.table.instrument}, {step}" if self.table.instrument else f"read {step}"

    @property
    def expected(self) -> str:
        """What it should come to, how near, and what is plausible, for the answer book."""
        words = f"should come to {self.shown}, within {self.table.within:g}{self.unit}"
        if self.table.question is None:
            return words
        low, high = self.table.question.answers[0].limits(self.computed)
        return f"{words}; plausible from {number_text(low, 3)} to {number_text(high, 3)}{self.unit}"

    def value(self, text: str) -> float | None:
        """What was typed, as a number [unit]; None where nothing readable is in."""
        unit = "" if self.table.unit == "1" else self.table.unit
        question, text = self.table.question, text[:200]
        read = read_number(text, unit) if question is None else question.read("reading", text)
        return in_unit(read, unit)

    def told(self, text: str) -> str:
        """What is to be said of a reading as it was typed, "" where the run sheet names no instrument."""
        verdict = self.verdict(text)
        if verdict is None or verdict.kind != "outside the bands":
            return "" if verdict is None else verdict.sentence
        assert self.table.question is not None
        words = deviation(self.table.question.answers[0], self.value(text) or 0.0, self.computed)
        return (
            f"{words[0].upper()}{words[1:]}; within {self.table.within:g}{self.unit} it needs no second look."
        )

    def verdict(self, text: str) -> Verdict | None:
        """What is to be said of a reading as it was typed; None where the run sheet names no instrument."""
        question = self.table.question
        if question is None:
            return None
        return question.judge(self.table.draw(self.computed), {"reading": text[:200]})["reading"]


@dataclass(frozen=True)
class Bench:
    """A bench: its kit and its own numbers by word [mm, deg, teeth]."""

    id: str
    title: str
    kit: Kit
    own: dict[str, float]
    bad_opening: float = 0.0  # how far apart the holes of its bad plate are moved [mm]

    @property
    def short(self) -> str:
        """Its name in a table: "07", "M2".

        >>> from gearlab.course.lab.runsheet import Kit
        >>> kit = Kit(name="A", driver_teeth=18, driven_teeth=45, module=2.5)
        >>> Bench("bench-07", "Bench 7", kit, {}).short, Bench("make-up-02", "Make-up 2", kit, {}).short
        ('07', 'M2')
        """
        kind, _, number = self.id.rpartition("-")
        return number if kind == "bench" else f"M{int(number)}"

    @property
    def numbers(self) -> dict[str, float]:
        return self.kit.numbers | self.own | {"bad_opening": self.bad_opening}


class Numbers:
    """The benches of a lab with everything that is asked of them.

    ValueError where a reading cannot be worked out for a bench.
    """

    def __init__(self, sheet: RunSheet, key: CourseKey, edition: Edition, benches: int, make_ups: int = 0):
        if not 1 <= benches <= MOST_BENCHES:
            raise ValueError(f"benches = {benches}: a room has 1 to {MOST_BENCHES} benches")
        if not 0 <= make_ups <= MOST_BENCHES:
            raise ValueError(f"make-ups = {make_ups}: there are 0 to {MOST_BENCHES} make-up sheets")
        self.sheet, self.key = sheet, key
        self.maker = SheetMaker(edition, key)
        self.benches = [self._bench(number, False) for number in range(1, benches + 1)]
        self.make_ups = [self._bench(number, True) for number in range(1, make_ups + 1)]
        self._tasks: dict[str, dict[str, Task]] = {}
        self._readings: dict[tuple[str, str], Reading] = {}

    @cached_property
    def by_id(self) -> dict[str, Bench]:
        """All of them, by the id in their files."""
        return {bench.id: bench for bench in (*self.benches, *self.make_ups)}

    def _bench(self, number: int, make_up: bool) -> Bench:
        """Kits are dealt in turn, so that neighbours differ; own numbers change from round to round."""
        table = self.sheet.table
        kit = table.kit[(number - 1 + make_up) % len(table.kit)]
        own, turn = {}, (number - 1) // len(table.kit)
        for word, row in table.own.items():
            grid = row.grid
            stream = Stream(
                self.key.secret, message("lab", self.sheet.lab.name, word, kit.name, str(make_up))
            )
            order = stream.shuffled(len(grid))
            own[word] = grid.values[order[turn % len(grid)]]
        title = f"{'Make-up' if make_up else 'Bench'} {number}"
        opening = sum(bad.by for bad in self.sheet.table.bad if bad.what == "plate")
        return Bench(bench_id(number, make_up), title, kit, own, opening)

    def tasks(self, bench: Bench) -> dict[str, Task]:
        """The bench's questions with its numbers, by id."""
        if bench.id not in self._tasks:
            self._tasks[bench.id] = {task.entry.question.id: task for task in self.maker.tasks(bench.id)}
        return self._tasks[bench.id]

    def reading(self, bench: Bench, table: ReadingTable) -> Reading:
        """A reading of a bench."""
        place = bench.id, table.id
        if place not in self._readings:
            self._readings[place] = self._reading(bench, table)
        return self._readings[place]

    def _reading(self, bench: Bench, table: ReadingTable) -> Reading:
        numbers = bench.numbers
        value = table.worked_out(numbers)
        if not -1e6 < value < 1e6:
            raise ValueError(
                f"reading {table.id!r}, {bench.title}: comes to {value:g} {table.unit}, which nobody can"
                " read; mend its formula in the run sheet"
            )
        prompt = PLACES.sub(lambda place: number_text(numbers[place[1]], 6), table.prompt)
        return Reading(table, prompt, value)

    def packet(self, bench: Bench) -> str:
        """The code of its sheet."""
        return self.maker.packet(bench.id)

    def asked(self, bench: Bench, step: Step) -> Iterator[AskedPrediction | Task | Reading]:
        """What a step asks of a bench."""
        yield from step.prediction
        yield from (self.tasks(bench)[question.id] for question in step.question)
        yield from (self.reading(bench, table) for table in step.reading)

    def hand_out(self, bench: Bench, minutes: int) -> dict:
        """The sheet of a bench's notebook: the questions of its set, predictions and readings; no key.

        The hand-in it makes is the ordinary one.
        """
        steps = [step for _, _, step in self.sheet.steps(minutes)]
        tasks = self.tasks(bench)
        chosen = [tasks[asked.id] for step in steps for asked in step.question]
        data = self.maker.sheet(Student(bench.id, bench.title), chosen)
        ready = {question["id"]: question for question in data["questions"]}
        questions = []
        for step in steps:
            questions += [self._prediction(asked) for asked in step.prediction]
            questions += [ready[asked.id] for asked in step.question]
            questions += [_on_sheet(self.reading(bench, table)) for table in step.reading]
        data["questions"] = questions
        data["title"] = f"{self.sheet.lab.title}: {bench.title}"
        data.pop("attempts", None)
        data["shared"] = True  # the board reads the hand-in from the instructor's account
        return data

    def _prediction(self, asked: AskedPrediction) -> dict:
        prediction = self.sheet.prediction(asked)
        return {
            "id": prediction_id(asked),
            "version": 1,
            "kind": "choice",
            "title": "Predict",
            "prompt": prediction.question,
            "givens": {},
            "options": list(prediction.choices),
            "several": False,
            "answers": [{"id": "choice", "label": "prediction", "unit": "", "asked": "", "symbols": []}],
        }


def prediction_id(asked: AskedPrediction) -> str:
    """Under which name a prediction stands in a hand-in."""
    return f"predict-{asked.lesson[:2]}-{asked.id}"


def _on_sheet(reading: Reading) -> dict:
    return {
        "id": reading_id(reading.table),
        "version": 1,
        "title": reading.table.title,
        "prompt": f"{reading.prompt} ({reading.instrument})",
        "givens": {},
        **reading.table.sheet,
    }


def frozen_set(sheet: RunSheet, library: str) -> Edition:
    """The questions of a run sheet as an edition of a set: what a board reads however the banks change."""
    name = sheet.lab.name
    rows = [f'[set]\nname = "{name}"\ntitle = {_quoted(sheet.lab.title)}\nuse = "marked"\n']
    files = {}
    for step in sheet.table.step:
        for asked in step.question:
            bank = sheet.banks[asked.lesson]
            files[f"{bank.name}/bank.toml"] = bank.path.read_text(encoding="utf-8")
            where = f'bank = "../{bank.name}/bank.toml"'
            rows.append(f'[[question]]\n{where}\nid = "{asked.id}"\npoints = {asked.points:g}\n')
    place = f"sets/{file_name(name)}.toml"
    return Edition(name, place, {place: "\n".join(rows), **files}, library)


def _quoted(text: str) -> str:
    return json.dumps(one_line(text), ensure_ascii=False)  # TOML knows no pairs of surrogates
