"""A question: its text, its numbers for a student, its answers judged, its worked solution."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from gearlab.practice import solution
from gearlab.practice.answer import Answer, Key, derivation
from gearlab.practice.contract import Contract
from gearlab.practice.draw import (
    MOST_TRIES,
    PRACTICE_KEY,
    Draw,
    Given,
    Grid,
    Stream,
    beginning,
    message,
    rounded,
    set_by_hand,
)
from gearlab.practice.formulas.expression import compile_formula
from gearlab.practice.formulas.formula import compile_outputs
from gearlab.practice.slips.beforehand import Slips
from gearlab.practice.solution import Worked
from gearlab.practice.tables import BankError, QuestionTable, split_at_braces
from gearlab.practice.typed.reading import Reading, cut
from gearlab.practice.verdict import Award, Verdict
from gearlab.theory.printing import plain_symbol
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import factor, shown_unit, theory_unit

if TYPE_CHECKING:
    from gearlab.practice.designs.design import Derived

__all__ = ["Question"]

TEST_POINTS = 10  # at which an expression is compared with the key
_SLIP_SAMPLES = 12  # at which the slips of an answer are compared
_HINTS = 3
_MANY_TRIES = 200  # draws needed on average; more makes handing out slow


class Question:
    """A question of a bank, made by `load_bank`; each kind of question is a class of its own.

    A kind says (see `gearlab.practice.kinds`) what does not fit in its tables (`faults`), what is judged and
    what is typed (`_answers`, `_fields`), which draws are fair (`fair`), how what was read is judged
    (`judge_read`), the right answers (`keys`), the worked `solution` and `method`, what `gearlab check`
    proves (`check_draws`), and its form on a page (`form`, `sheet`, `sheet_form`, `read_on_sheet`).

    answers: what gets a verdict; a choice has one answer, "choice", a design its conditions.
    fields: what is typed: the answers themselves, but for a design.
    points: of all answers together [-].
    """

    kind: ClassVar[str]  # its word in a bank
    Table: ClassVar[type[QuestionTable]] = QuestionTable  # its fields in a bank
    own_fields: ClassVar[tuple[str, ...]] = ()  # fields in a bank that only this kind has
    has_own: ClassVar[str] = ""  # which these are, in words
    tries: ClassVar[int] = 3  # in a practice box, before the solution is offered
    guessable: ClassVar[bool] = False  # the last try closes the question: more would be guessing
    shows_numbers: ClassVar[bool] = True  # givens are numbers, not symbols
    numbers: ClassVar[bool] = False  # its answers are numbers, the keys of a draw
    judges_fields: ClassVar[bool] = True  # a verdict belongs to what was typed in one field
    echoes: ClassVar[bool] = True  # what was read is shown beside what was typed
    same_for_all: ClassVar[bool] = False  # verdicts hang on no student's numbers
    for_people: ClassVar[bool] = False  # people give the points, for what `to_mark` hands them
    prose: ClassVar[bool] = False  # sentences are typed, shown whole and with their lines

    def __init__(self, table: QuestionTable, path: Path):
        self.table = table
        self.path = path
        self.id, self.version, self.title = table.id, table.version, table.title
        self.level, self.minutes, self.hints = table.level, table.minutes, tuple(table.hints)
        self.notation, self.length_unit, self.worked_row = table.notation, table.length_unit, table.worked
        self.names = tuple(table.givens)
        self.shown_names = (
            tuple(n for n, g in table.givens.items() if not g.hidden) if self.shows_numbers else ()
        )
        self.known_names = tuple(n for n in self.shown_names if not table.givens[n].local)
        self.answers = self._answers()
        self.fields = self._fields()
        self._by_id = {answer.id: answer for answer in (*self.fields, *self.answers)}
        self.points = sum(answer.points for answer in self.answers)

    def _answers(self) -> tuple:
        raise NotImplementedError

    def _fields(self) -> tuple:
        return self.answers

    @classmethod
    def faults(cls, table: QuestionTable, shown: list[str]) -> list[str]:
        """What does not fit together in the tables of such a question: "field: what is expected"."""
        raise NotImplementedError

    def __repr__(self) -> str:
        return f"Question({self.id!r})"

    def answer(self, answer_id: str) -> Answer:
        """The answer of that id."""
        if answer_id not in self._by_id:
            known = ", ".join(self._by_id)
            raise KeyError(f"question {self.id!r} has no answer {answer_id!r}: it has {known}")
        return self._by_id[answer_id]

    # -- units --
    def unit(self, name: str) -> str:
        """The unit a given is shown in, "1" for none."""
        table = self.table.givens[name]
        if table.unit or table.local:
            return table.unit or "1"
        return shown_unit(QUANTITIES[name].dimension, self.length_unit)

    def factor(self, name: str) -> float:
        """Factor from the unit a given is shown in to theory's unit [-]."""
        dimension = QUANTITIES[name].dimension
        return factor(self.unit(name), theory_unit(dimension, self.length_unit))

    # -- drawing --
    @cached_property
    def grids(self) -> dict[str, Grid]:
        """The values each given may take."""
        grids = {}
        for name, table in self.table.givens.items():
            if table.one_of is not None:
                grids[name] = Grid(table.one_of)
            elif not table.derived:
                assert table.start is not None and table.stop is not None and table.step is not None
                grids[name] = Grid.steps(table.start, table.stop, table.step)
        return grids

    @cached_property
    def _derived(self) -> list[tuple]:
        """Of each derived given: name, what goes in, function to the unit shown, places, what is added."""
        derived = []
        for name, table in self.table.givens.items():
            if not table.derived:
                continue
            before = [n for n in self.names[: self.names.index(name)] if not self.table.givens[n].local]
            drawn = [n for n in before if n in self.grids]
            try:
                try:
                    way, names = derivation(self.table, name, drawn), drawn
                except ValueError:
                    way, names = derivation(self.table, name, before), before
            except ValueError as error:
                raise BankError([f"{self.path}: question {self.id!r}: givens.{name}: {error}"]) from None
            compiled = compile_outputs({name: way.raw}, {n: self.factor(n) for n in names})
            out = 1.0 / self.factor(name)
            derived.append((name, tuple(names), compiled, out, table.places, table.plus))
        return derived

    @cached_property
    def _conditions(self) -> list:
        return [compile_formula(text, self.names) for text in self.table.where]

    def draw(
        self,
        seed: str | None = None,
        number: int = 0,
        *,
        key: bytes | None = None,
        set: str = "",
        student: str = "",
    ) -> Draw:
        """Draw numbers; another number gives new ones.

        Without a key anybody draws the same numbers for practice from a seed, any text. For a hand-out the
        course key, the name of the set and the student's id go in.

        ValueError if none of 6000 draws meets the conditions with every listed wrong answer three tolerances
        off the right one, and no given of the same unit equal to it.
        """
        if key is None:
            key, about = (
                PRACTICE_KEY,
                message("practice", self.id, self.version, str(seed or ""), int(number)),
            )
        else:
            if len(key) < 8:
                raise ValueError(f"the course key has {len(key)} bytes: at least 8 are needed")
            about = beginning("hand-out", str(set), self.id, self.version) + beginning(
                str(student), int(number)
            )
        for attempt in range(MOST_TRIES):
            drawn = self.attempt(Stream(key, about + b"%d" % attempt), number, attempt + 1)
            if drawn is not None:
                return drawn
        raise BankError(
            [
                f"{self.path}: question {self.id!r}: none of {MOST_TRIES} draws is fair: the conditions"
                " (where) cannot be met, a listed slip always gives the right answer, or the example never"
                " does; widen the ranges, give the slip a where, or mend the example"
            ]
        )

    def draw_with(self, givens: dict[str, str], seed: str | None = None) -> Draw:
        """Numbers of which some are set by hand, off the grid too; the others are drawn for practice.

        `givens` are texts in the units shown, by name. ValueError if there is no such given to set, its value
        is not a number within the quantity's range, or the numbers break the question's conditions.
        """
        fixed = {name: set_by_hand(self, name, text) for name, text in givens.items()}
        about = message("practice", self.id, self.version, str(seed or ""), 0)
        for attempt in range(MOST_TRIES if len(fixed) < len(self.grids) else 1):
            drawn = self.attempt(Stream(PRACTICE_KEY, about + b"%d" % attempt), 0, attempt + 1, fixed)
            if drawn is not None:
                return drawn
        shown = ", ".join(f"{name}={text}" for name, (text, _) in fixed.items())
        raise ValueError(
            f"question {self.id!r} with {shown}: these numbers break its conditions"
            f" ({'; '.join(self.table.where) or 'none is written'}), have no answer, or make a listed slip"
            " right; choose others"
        )

    def attempt(
        self, stream: Stream, number: int, tries: int, fixed: dict | None = None, proven: bool = True
    ) -> Draw | None:
        """One draw, or None where its numbers are not fair.

        `proven` asks that the example of a design meets its conditions.
        """
        texts: dict[str, str] = {}
        values: dict[str, float] = {}
        for name, grid in self.grids.items():
            place = stream.below(len(grid.texts))
            texts[name], values[name] = grid.texts[place], grid.values[place]
        for name, (text, value) in (fixed or {}).items():
            texts[name], values[name] = text, value
        order = self.order(stream)
        try:
            for name, names, function, out, places, plus in self._derived:
                exact = function(*[values[n] for n in names])[0] * out
                texts[name] = rounded(exact + (values[plus] if plus else 0.0), places)
                values[name] = float(texts[name])
            if len(texts) > 1 and self._derived:  # back into the order of the bank
                texts, values = {n: texts[n] for n in self.names}, {n: values[n] for n in self.names}
            for condition in self._conditions:
                if not condition(*values.values()):
                    return None
            shown = tuple([values[n] for n in self.shown_names])
            keys = self.fair(values, shown, proven)
        except BankError:
            raise
        except (ArithmeticError, ValueError):
            return None  # these numbers have no answer
        return None if keys is None else Draw(self, number, tries, texts, values, keys, order, shown)

    def order(self, stream: Stream) -> tuple[int, ...]:
        """The order of what is chosen from, drawn after the givens."""
        return ()

    def fair(
        self, values: dict[str, float], shown: tuple[float, ...], proven: bool
    ) -> tuple[float, ...] | None:
        """The right numbers for a draw, () where there are none to tell; None for an unfair draw."""
        return ()

    @cached_property
    def points_of_comparison(self) -> list[dict[str, float]]:
        """Numbers at which expressions are compared: ten draws of the givens, never shown."""
        return [self.draw("points of comparison", number).values for number in range(TEST_POINTS)]

    @cached_property
    def draws_of_slips(self) -> tuple[Draw, ...]:
        """The draws at which the slips of every answer are compared."""
        return tuple(self.draw("slips", number) for number in range(_SLIP_SAMPLES))

    @cached_property
    def _causes(self) -> dict:
        return {}

    def slips_of(self, answer: Answer):
        """The wrong answers of an answer that can be recognised, worked out when first needed."""
        if answer.id not in self._causes:
            self._causes[answer.id] = Slips(self, answer)
        return self._causes[answer.id]

    def given_label(self, name: str) -> str:
        """What a given is called on a sheet."""
        quantity = QUANTITIES.get(name)
        meaning = quantity.meaning if quantity else name.replace("_", " ")
        table = self.table.givens[name]
        label = table.label or meaning
        # the letter that stands for it in the printed solution
        return f"{label}, {plain_symbol(table.symbol)}" if table.symbol else label

    def shown_givens(self, draw: Draw) -> tuple[Given, ...]:
        """The givens of a draw as the student sees them."""
        givens = []
        for name in self.shown_names:
            unit = self.unit(name)
            quantity = QUANTITIES.get(name)
            givens.append(
                Given(
                    name,
                    self.given_label(name),
                    quantity.symbol(self.notation) if quantity else "",
                    draw.texts[name],
                    "" if unit == "1" else unit,
                    draw.values[name],
                )
            )
        return tuple(givens)

    def filled(self, text: str, draw: Draw) -> str:
        """A text of the bank with this draw's numbers put in."""
        if "{" not in text:
            return text
        pieces = list(split_at_braces(text))
        pieces[1::2] = [draw.texts[name] for name in pieces[1::2]]
        return "".join(pieces)

    # -- judging --
    def read(self, answer_id: str, text: str) -> Reading:
        """What is understood of a typed answer, without judging it."""
        return self.answer(answer_id).read(cut(text))

    def readings(self, texts: Mapping[str, str | None]) -> dict[str, Reading]:
        """What is understood of every field, by its id; missing texts count as empty ones."""
        return {field.id: field.read(cut(texts.get(field.id))) for field in self.fields}

    def judge(
        self,
        draw: Draw,
        texts: Mapping[str, str | None],
        listed_slips: bool = True,
        readings: dict[str, int] | None = None,
        read: dict[str, Reading] | None = None,
    ) -> dict[str, Verdict]:
        """A verdict on every answer of the question, by its id, for typed texts by field.

        Missing texts count as not answered, others are ignored. Where the texts were read before (`readings`)
        they are not read again: `read` has what was understood. `listed_slips` says whether the bank's own
        wrong answers are recognised too; `readings` which reading of an ambiguous comma was meant, 0 decimal
        (the default) or 1 thousands.
        """
        return self.judge_read(
            draw, self.readings(texts) if read is None else read, listed_slips, readings or {}
        )

    def judge_read(
        self, draw: Draw, read: dict[str, Reading], listed: bool, chosen: dict[str, int]
    ) -> dict[str, Verdict]:
        """Judge what was read in every field; see `judge`."""
        raise NotImplementedError

    def to_mark(self, texts: Mapping[str, str]) -> dict[str, str]:
        """What people are to read and give points for, by answer; for kinds that are `for_people`."""
        return {}

    def judged_by(self, verdicts: dict[str, Verdict], given: Mapping[str, Award]) -> dict[str, Verdict]:
        """The verdicts with the points that people gave, by answer."""
        return verdicts

    def keys(self, draw: Draw) -> dict[str, Key]:
        """The right answers, for the instructor's eyes."""
        raise NotImplementedError

    def as_typed(self, texts: dict[str, str]) -> dict[str, str]:
        """The texts of a hand-in file as a student would type them."""
        return texts

    def typed(self, texts: Mapping[str, str | None], answer_id: str) -> str:
        """What was typed for an answer, in one line."""
        return texts.get(answer_id) or ""

    def in_words(self, draw: Draw, text: str, reading: Reading) -> str:
        """A typed text, and what was read of it, as it is told to the student."""
        return text

    def times_key(self, draw: Draw, answer_id: str, reading: Reading) -> float | None:
        """How many times the right number a number read is; None where that says nothing."""
        return None

    # -- on a page --
    @cached_property
    def contracts(self) -> dict[str, Contract]:
        """What is asked of each answer and how it earns its points, by its id; "" for the whole question."""
        return {}

    def form(self, draw: Draw) -> list[dict]:
        """The fields of a practice box."""
        raise NotImplementedError

    def sheet(self, draw: Draw) -> dict:
        """What a hand-out sheet says about the fields: "answers", and what only this kind has."""
        return {
            "answers": [
                {
                    "id": field.id,
                    "label": field.label,
                    "unit": field.unit,
                    "asked": field.asked,
                    "symbols": [symbol for symbol, *_ in field.symbols],
                }
                for field in self.fields
            ]
        }

    @classmethod
    def sheet_form(cls, sheet: dict) -> list[dict]:
        """The fields of a hand-in box, from the question as it stands on a sheet."""
        raise NotImplementedError

    @classmethod
    def read_on_sheet(cls, answer: dict, text: str) -> Reading | None:
        """What is understood of a text, from the answer as it stands on a sheet; None: nothing to tell.

        With the answer goes the "prompt" of its question.
        """
        raise NotImplementedError

    @property
    def ruled(self) -> int:
        """Lines to write on, on a printed sheet, in place of room for working [-]."""
        return 0

    @classmethod
    def label_on_sheet(cls, sheet: dict, answer: dict) -> str:
        """What an answer of a sheet is called among the others."""
        return f"{sheet['title']}, {answer.get('label') or answer['id']}"

    @classmethod
    def fault_on_sheet(cls, sheet: dict) -> str:
        """What a question on a sheet lacks, "" if nothing."""
        return ""

    # -- in a practice box --
    def tells_at_once(self, answer_id: str) -> bool:
        """Whether the verdict itself is what helps, at the first wrong try too."""
        return False

    def remark(self, verdict: Verdict) -> str:
        """What a right answer is told besides that it is right, or one that nobody marks; in lines."""
        return ""

    # -- checking --
    def check(self, draws: int) -> list[str]:
        """What `gearlab check` finds wrong with the question, as lines."""
        drawn = [self.draw("check", number) for number in range(draws)]
        tries = sum(draw.tries for draw in drawn) / draws
        problems = []
        if len(self.hints) != _HINTS:
            problems.append(
                f"hints: there are {len(self.hints)}; write {_HINTS} that rise, from a question to the way"
            )
        if tries > _MANY_TRIES:
            problems.append(
                f"where: on average {tries:.0f} draws are needed for fair numbers; make the ranges fit the"
                " conditions"
            )
        for form in solution.FORMS:
            self.solution(drawn[0], form)
        return problems + self.check_draws(drawn)

    def check_draws(self, drawn: list[Draw]) -> list[str]:
        """What is wrong with some draw."""
        return []

    # -- explaining --
    def solution(self, draw: Draw, form: str = "markdown") -> str:
        """The worked solution with this draw's numbers; form "markdown", "html" (with MathML) or "text"."""
        if form not in solution.FORMS:
            raise ValueError(f"form {form!r} is unknown: use one of {', '.join(solution.FORMS)}")
        return self._solution(draw, form)

    def _solution(self, draw: Draw, form: str) -> str:
        raise NotImplementedError

    def worked(self, answers: Sequence[Answer | Derived], form: str) -> list[Worked]:
        """The solution templates of answers that are told one after the other, typeset when first needed."""
        place = (form, *(answer.id for answer in answers))
        if place not in self._templates:
            self._templates[place] = solution.templates(answers, form)
        return self._templates[place]

    @cached_property
    def _templates(self) -> dict:
        return {}

    def way_in_words(self, answer: Answer) -> str:
        """The method of one answer as sentences, without numbers."""
        if answer.id not in self._sentences:
            self._sentences[answer.id] = solution.way_in_words(answer)
        return self._sentences[answer.id]

    @cached_property
    def _sentences(self) -> dict:
        return {}

    def method(self, form: str = "text") -> str:
        """The method without numbers, as sentences."""
        return solution.method(self.answers, form)
