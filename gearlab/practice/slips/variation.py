"""Every way to go wrong on the way to an answer, as edits of the whole way.

A slip replaces expressions of givens or steps, and everything after follows; or it turns the finished number
(twice of it, upside down). Nothing here is written for one question.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import sympy as sp

from gearlab.practice.answer import Answer, derivation
from gearlab.practice.formulas.formula import Program
from gearlab.practice.verdict import Cause
from gearlab.theory.quantities import QUANTITIES, plain
from gearlab.theory.relation import Relation
from gearlab.theory.scope import KINDS, scope_for, symbol
from gearlab.theory.search import everything_forward
from gearlab.theory.systems import system

if TYPE_CHECKING:
    from gearlab.practice.question import Question

__all__ = ["FINISHED", "USUAL_ANGLE", "Slip", "Step", "Way", "asked_beside", "shown", "slip"]

USUAL_ANGLE = 20.0  # deg; the pressure angle where a question names none
FINISHED = sp.Symbol("finished")  # the finished number in the unit asked, for the turn of a slip
_TEETH = frozenset({"count", "number", "turns"})


def shown(word: str) -> sp.Symbol:
    """The number of a given as it stands in the question, whatever its unit, for the turn of a slip."""
    return sp.Symbol(f"shown {word}")


def asked_beside(answer_id: str) -> sp.Symbol:
    """The right number of another answer of the question, in its own unit, for the turn of a slip."""
    return sp.Symbol(f"answer {answer_id}")


@dataclass(frozen=True)
class Step:
    """One step of a way: a quantity, what it is worked out from, and the relation behind it."""

    word: str
    expression: sp.Expr
    relation: Relation | None = None

    @property
    def words(self) -> set[str]:
        return {part.name for part in self.expression.free_symbols}

    @property
    def says(self) -> str:
        return self.relation.says if self.relation is not None else ""


@dataclass(frozen=True)
class Slip:
    """One wrong way: at these givens or steps something else stood, and everything after follows from it.

    The lower its rank, the likelier. `turn` is what was done to the finished number, over `FINISHED`.
    """

    cause: Cause
    rank: float
    edits: Mapping[str, sp.Expr] = field(default_factory=dict)
    turn: sp.Expr | None = None
    steps: tuple[Step, ...] = ()
    unconverted: bool = False  # worked out with the numbers as they are shown


def slip(
    rank: float,
    name: str,
    title: str,
    sentence: str,
    credit: float,
    edits: Mapping[str, sp.Expr] | None = None,
    *,
    turn: sp.Expr | None = None,
    steps: tuple[Step, ...] = (),
    kind: str = "ordinary slip",
    unconverted: bool = False,
) -> Slip:
    """A slip in one call."""
    cause = Cause(name, title, " ".join(sentence.split()), credit, kind)
    return Slip(cause, rank, edits or {}, turn, steps, unconverted)


@lru_cache(maxsize=1024)  # the answers of a question, and of many another, know the same
def _following(
    tooth_system: str, angle: float, kind: str, length_unit: str, features: frozenset[str], known: tuple
) -> tuple[Step, ...]:
    row = system(tooth_system, angle)
    two = 2 if len(KINDS[kind].sides) == 2 else 1
    scope = scope_for(kind, length_unit, (row,) * two, features)
    with scope.lock:
        links = everything_forward(scope, [symbol(word) for word in known if symbol(word) in scope.symbols])
    return tuple(Step(link.unknown.name, link.expression) for link in links)


class Way:
    """The right way to an answer, and all that could be worked out beside it."""

    def __init__(self, question: Question, answer: Answer, words: Sequence[str]):
        self.question, self.answer, self.table = question, answer, question.table
        self.asked = answer.asked
        self.words = tuple(words)
        self.inputs = tuple(answer.inputs)
        self.numbers = bool(question.shown_names)  # a formula in symbols has none
        self.others = tuple(
            other
            for other in (question.answers if self.numbers else ())
            if other is not answer and other not in answer.used
        )
        self.sides = ("", *(f"{side}_" for side in KINDS[self.table.of].sides))
        self.factors = {
            **{word: question.factor(word) for word in words if word in self.table.givens},
            **answer.inputs,
        }
        self.carried: tuple[str, ...] = ()  # letters that cancel: any size will do
        self.right = self.steps = self._right_steps()
        self.program = Program()
        self.names = self._named()

    def _right_steps(self) -> tuple[Step, ...]:
        way = self.answer.way
        if way.steps and all(step.role in ("direct", "rearranged", "carried") for step in way.steps):
            self.carried = tuple(step.quantity for step in way.steps if step.role == "carried")
            return tuple(
                Step(
                    step.quantity,
                    sp.Integer(1) if step.role == "carried" else step.expression,
                    step.relation,
                )
                for step in way.steps
            )
        relation = next((step.relation for step in reversed(way.steps) if step.relation), None)
        return (Step(self.asked, way.raw, relation),)

    def _named(self) -> dict[str, str]:
        """The variable of every quantity: givens, what follows from them and the usual angle, steps."""
        program = self.program
        names = {
            word: program.line(
                f"v{place}" if self.factors[word] == 1.0 else f"v{place} * {self.factors[word]!r}"
            )
            for place, word in enumerate(self.words)
        }
        known = [*names, *self.carried]
        beside = {**names, **{word: program.line("1.0") for word in self.carried}}
        if "pressure_angle" not in names:
            known.append("pressure_angle")
            beside["pressure_angle"] = program.line(repr(math.radians(USUAL_ANGLE)))
        for step in self.following(known, USUAL_ANGLE):
            try:
                beside[step.word] = program.put(step.expression, beside)
            except (KeyError, ValueError):
                continue
        self.beside = {
            word: name for word, name in beside.items() if word != "pressure_angle" or word in names
        }
        self.given = tuple(names)
        for step in self.right:
            names[step.word] = program.put(step.expression, names)
        return {**self.beside, **names}

    def following(self, known: Iterable[str], angle: float) -> tuple[Step, ...]:
        """What follows from known quantities by one equation after another, in order."""
        table = self.table
        features = frozenset(table.features)
        return _following(table.tooth_system, angle, table.of, table.length_unit, features, tuple(known))

    def straight(self) -> tuple[Step, ...]:
        """The steps from the shown givens, where the answer is meant to come from earlier answers."""
        known = [word for word in self.given if word in self.question.known_names]
        if not (self.answer.table.uses or self.answer.table.carry) or self.asked in known:
            return ()
        try:
            way = derivation(self.table, self.asked, known)
        except ValueError:
            return ()
        if any(step.role not in ("direct", "rearranged") for step in way.steps):
            return ()
        return tuple(Step(step.quantity, step.expression, step.relation) for step in way.steps)

    # -- what comes out --------------------------------------------------------------------------------
    @property
    def key(self) -> str:
        """The variable of the right number, in the unit asked."""
        return self._out(self.names[self.asked])

    def _out(self, variable: str) -> str:
        out = self.answer.out_factor
        return variable if out == 1.0 else self.program.line(f"{variable} * {out!r}")

    def result(self, wrong: Slip) -> str:
        """The variable of the number, in the unit asked, that a slip leads to.

        Raises
        ------
        KeyError, ValueError
            Where it rests on a quantity that nothing gives, or on a function without a float twin.
        """
        steps, names = wrong.steps or self.right, dict(self.names)
        if wrong.unconverted:
            names = {
                word: f"v{place}"
                for place, word in enumerate(self.words)
                if QUANTITIES[word].dimension != "angle"
            } | {word: self.names[word] for word in self.given if QUANTITIES[word].dimension == "angle"}
        reached = {step.word for step in steps}
        names.update(
            [(word, self.program.put(put, names)) for word, put in wrong.edits.items() if word not in reached]
        )
        for step in steps:
            names[step.word] = self.program.put(wrong.edits.get(step.word, step.expression), names)
        number = names[self.asked] if wrong.unconverted else self._out(names[self.asked])
        if wrong.turn is None:
            return number
        names[FINISHED.name] = number
        names.update({shown(word).name: f"v{place}" for place, word in enumerate(self.words)})
        names.update(
            {asked_beside(answer.id).name: f"v{len(self.words) + n}" for n, answer in enumerate(self.others)}
        )
        return self.program.put(wrong.turn, names)

    # -- how to speak of it ----------------------------------------------------------------------------
    def says(self, word: str | None = None) -> str:
        """The sentence of the relation of a step (the last one's by default)."""
        return next(
            (s.says for s in reversed(self.steps) if s.relation is not None and word in (None, s.word)), ""
        )

    def says_using(self, word: str) -> str:
        """The sentence of the first relation that a quantity goes into."""
        return next((s.says for s in self.steps if s.relation is not None and word in s.words), self.says())

    def placed(self, wrong: Slip) -> Cause:
        """The cause of a slip with the step in which it happened and the rule that its sentence ends with.

        A given is misused where it first goes in; what was done to the finished number is no step.
        """
        steps = wrong.steps or self.right
        touched = set(wrong.edits)
        place = next((s.word for s in steps if s.word in touched), "")
        place = place or next((s.word for s in steps if s.words & touched), "")
        says = [s.relation.says for s in (*steps, *self.steps) if s.relation is not None]
        rule = next((text for text in says if wrong.cause.sentence.endswith(f" {text}")), "")
        return replace(wrong.cause, name=plain(wrong.cause.name), step=place, rule=rule)

    def like(self, word: str, other: str) -> bool:
        """Whether two quantities have one dimension, a count and a plain number being alike."""
        dimensions = {QUANTITIES[word].dimension, QUANTITIES[other].dimension}
        return len(dimensions) == 1 or dimensions <= _TEETH
