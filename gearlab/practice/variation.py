"""Variations of a derivation.

What comes out when one step of it is done wrongly, or another quantity is taken.

A variation is a few lines of source over the variables of the right derivation: t_word is a given and c_word
a step of the way to the answer, in theory's units; w_word is any other quantity the givens determine.
"""

from __future__ import annotations

import math
import re

import sympy as sp

from gearlab.practice.answer import derivation
from gearlab.practice.cause import Cause
from gearlab.practice.formula import source
from gearlab.practice.habit import habits
from gearlab.practice.mistake import Variation, varied_result, varied_steps
from gearlab.practice.neighbours import SIBLINGS, alike, met_early
from gearlab.theory.quantities import QUANTITIES, SIDES, split_side
from gearlab.theory.scope import KINDS, scope_for, symbol
from gearlab.theory.search import everything_forward
from gearlab.theory.systems import system

__all__ = ["variations"]

_USUAL_ANGLE = 20.0  # deg; the pressure angle where a question names none

# steps up to which a quantity from the first lessons is likely to be given in place of what is asked
_SHORT = 3

_OWN = re.compile(r"(y_\w+)@")


def variations(question, answer, words: tuple[str, ...]):
    """The variables of the right derivation, in order, and every variation of it.

    Returns
    -------
    list of (name, (source, names it needs)), list of Variation
        Numbers in them are in theory's units [theory].
    """
    return _Maker(question, answer, words).made()


class _Maker:
    def __init__(self, question, answer, words):
        self.question, self.answer = question, answer
        self.table = question.table
        self.sides = ("", *(f"{side}_" for side in KINDS[self.table.of].sides))
        self.asked = answer.asked
        self.given = {word: f"t_{word}" for word in words}
        way = answer.way
        plain = bool(way.steps) and all(
            step.role in ("direct", "rearranged", "carried") for step in way.steps
        )
        if plain:  # a letter that cancels may have any size: who works it out takes 1
            self.steps = [
                (step.quantity, sp.Integer(1) if step.role == "carried" else step.expression, step.relation)
                for step in way.steps
            ]
        else:
            relation = next((step.relation for step in reversed(way.steps) if step.relation), None)
            self.steps = [(self.asked, way.raw, relation)]
        self.teeth = tuple(f"{side}teeth" for side in self.sides)
        self.carried = (
            {step.quantity: f"c_{step.quantity}" for step in way.steps if step.role == "carried"}
            if plain
            else {}
        )
        self.inputs = tuple(answer.inputs)
        self.chain = {
            **{word: f"t_{word}" for word in self.inputs},
            **{word: f"c_{word}" for word, _, _ in self.steps},
        }
        self.world: list[tuple[str, tuple[str, frozenset]]] = []
        for word, expression, _ in self.steps:
            self._add(f"c_{word}", expression, self.chain)
        self.others = self._reach()
        self.found: list[Variation] = []

    def _add(self, name: str, expression: sp.Expr, names) -> None:
        needs = frozenset(
            names[s.name] for s in expression.free_symbols if names.get(s.name, "-")[1:2] == "_"
        )
        self.world.append((name, (source(expression, names), needs)))

    def _reach(self) -> dict[str, str]:
        """Variables of every quantity that follows from the shown givens and the usual pressure angle."""
        names = self.given | self.carried
        if "pressure_angle" not in names:
            names["pressure_angle"] = repr(math.radians(_USUAL_ANGLE))
        for word, expression in self._everything(names, _USUAL_ANGLE):
            try:
                self._add(f"w_{word}", expression, names)
            except (KeyError, ValueError):
                continue
            names[word] = f"w_{word}"
        if "pressure_angle" not in self.given:
            del names["pressure_angle"]
        return names

    def _everything(self, known, angle: float) -> list[tuple[str, sp.Expr]]:
        """What follows from known quantities by one equation after another, in order."""
        row = system(self.table.tooth_system, angle)
        scope = scope_for(
            self.table.of,
            self.table.length_unit,
            (row,) * (2 if len(KINDS[self.table.of].sides) == 2 else 1),
            frozenset(self.table.features),
        )
        with scope.lock:
            links = everything_forward(
                scope, [symbol(word) for word in known if symbol(word) in scope.symbols]
            )
        return [(link.unknown.name, link.expression) for link in links]

    # -- what is made --------------------------------------------------------------------------------------------------------------  # noqa: E501
    def made(self):
        self.other_quantities()
        self.whole_result()
        self.siblings()
        self.misread_givens()
        self.steps_varied()
        habits(self)
        self.straight_from_givens()
        return self.world, self.found

    def put(
        self,
        rank: float,
        name: str,
        title: str,
        sentence: str,
        credit: float,
        *,
        result: str = "",
        needs=(),
        lines=(),
        scaled=True,
        kind="ordinary slip",
    ):
        self.found.append(
            Variation(
                Cause(name, title, " ".join(sentence.split()), credit, kind),
                rank,
                tuple(lines),
                result,
                frozenset(needs),
                scaled,
            )
        )

    def says(self, word: str | None = None) -> str:
        """The sentence of the relation that a step rests on (the last step's by default)."""
        for step_word, _, relation in reversed(self.steps):
            if (word is None or step_word == word) and relation is not None:
                return relation.says
        return ""

    def other_quantities(self) -> None:
        mine = QUANTITIES[self.asked]
        counting = {"count", "number", "turns"}
        steps = {word for word, _, _ in self.steps}
        for word, variable in self.others.items():
            quantity = QUANTITIES[word]
            if word == self.asked or word in self.carried:
                continue
            same = quantity.dimension == mine.dimension or {quantity.dimension, mine.dimension} <= counting
            given = word in self.given
            if not given and not (same and (word in steps or met_early(word) or alike(word, self.asked))):
                continue
            what = f"the {quantity.meaning}"
            if given:
                sentence = f"That is {what}, which was given. {self.says()}"
            else:
                sentence = f"That is {what}; the question asks for the {mine.meaning}. {self.says()}"
            rank = (
                1.0
                if given and same
                else (1.02 if word in steps else 1.05 if len(steps) <= _SHORT else 1.72) + self.answer.modular
            )
            if not same:  # the number of a given copied, whatever its unit
                unit_factor = self.question.factor(word) if word in self.table.givens else 1.0
                self.put(
                    4.5,
                    word,
                    f"gave {what}",
                    sentence,
                    0.0,
                    result=f"({variable} / {unit_factor!r})",
                    needs={variable},
                    scaled=False,
                    kind="another quantity",
                )
                continue
            self.put(
                rank,
                word,
                f"gave {what}",
                sentence,
                0.25 if not given else 0.0,
                result=variable,
                needs={variable} if variable[0] != "t" else (),
                kind="another quantity",
            )

    def whole_result(self) -> None:
        if self.answer.modular:
            return  # twice an angle or half of it means nothing where whole turns do not count
        key = f"c_{self.asked}"
        teeth = [word for word in self.teeth if word in self.given and word != self.asked]
        for rank, name, title, sentence, credit, result, scaled in varied_result(
            QUANTITIES[self.asked], key, self.answer.out_factor, self.says(), teeth
        ):
            self.put(rank, name, title, sentence, credit, result=result, needs={key}, scaled=scaled)

    def downstream(
        self, overrides: dict[str, str], needs: set[str] = frozenset()
    ) -> tuple[list, str, set] | None:
        """Lines that follow when some variables of the way are replaced by other sources.

        None if nothing follows.
        """
        names = dict(self.chain)
        changed: set[str] = set()
        lines: list[tuple[str, str]] = []
        for word, text in overrides.items():
            if word in self.inputs and not any(word == step for step, _, _ in self.steps):
                lines.append((f"x_{word}", text))
                names[word] = f"x_{word}@"
                changed.add(word)
        for word, expression, _ in self.steps:
            if word in overrides:
                lines.append((f"x_{word}", overrides[word]))
            elif any(s.name in changed for s in expression.free_symbols):
                lines.append((f"x_{word}", source(expression, names)))
            else:
                continue
            names[word] = f"x_{word}@"
            changed.add(word)
        if self.asked not in changed:
            return None
        rests = {variable for variable in self.chain.values() if variable[:2] != "t_"} | set(needs)
        return lines, names[self.asked], rests

    def vary(self, rank, name, title, sentence, credit, overrides, needs=frozenset()) -> None:
        followed = self.downstream(overrides, needs)
        if followed is not None:
            lines, result, rests = followed
            self.put(rank, name, title, sentence, credit, result=result, needs=rests, lines=lines)

    # -- quantities taken for one another --------------------------------------------------------------------------------------------  # noqa: E501
    def siblings(self) -> None:
        for group in SIBLINGS:
            for base in group:
                for other in group:
                    if other == base:
                        continue
                    overrides, needs, single = {}, set(), 0
                    for side in self.sides:
                        word, twin = side + base, side + other
                        stands = any(
                            word in {s.name for s in expression.free_symbols}
                            for _, expression, _ in self.steps
                        )
                        if (
                            stands
                            and word not in self.answer.given
                            and word in self.chain
                            and twin in self.others
                            and word != self.asked
                        ):
                            overrides[word] = self.others[twin]
                            needs |= {self.others[twin]}
                            single += 1
                    if not overrides:
                        continue
                    many = single > 1
                    one, two = QUANTITIES[other].meaning, QUANTITIES[base].meaning
                    first = next(iter(overrides))
                    self.vary(
                        1.6 if other[:7] == "outside" or not self.answer.whole else 2.3,
                        f"{other} for {base}",
                        f"used the {one}{'s' if many else ''}",
                        f"You used the {one}{'s' if many else ''} where the"
                        f" {two}{'s belong' if many else ' belongs'}. {self._says_using(first)}",
                        0.25,
                        overrides,
                        {n for n in needs if not n.startswith("t_")},
                    )

    def _says_using(self, word: str) -> str:
        for _, expression, relation in self.steps:
            if relation is not None and word in {s.name for s in expression.free_symbols}:
                return relation.says
        return self.says()

    def misread_givens(self) -> None:
        """A given taken for a sibling: the depth of the whole tooth for the working depth, say."""
        for group in SIBLINGS[:6]:
            for base in group:
                mine = [side + base for side in self.sides if side + base in self.answer.inputs]
                if not mine:
                    continue
                for other in group:
                    twins = {word: word.replace(base, other) for word in mine}
                    if other == base or any(
                        twin in self.given or twin == self.asked or twin not in QUANTITIES
                        for twin in twins.values()
                    ):
                        continue
                    names = {twins.get(word, word): f"t_{word}" for word in self.answer.inputs}
                    followed = self.followed(names, _USUAL_ANGLE)
                    if followed is None:
                        continue
                    lines, text = followed
                    s = "s" if len(mine) > 1 else ""
                    self.put(
                        1.8,
                        f"{base} as {other}",
                        f"took the {QUANTITIES[base].meaning}{s} for the {QUANTITIES[other].meaning}{s}",
                        f"You treated the {QUANTITIES[base].meaning}{s} as if"
                        f" {'they were' if s else 'it were'} the {QUANTITIES[other].meaning}{s}."
                        f" {self.says()}",
                        0.25,
                        result=text,
                        lines=lines,
                    )

    def straight_from_givens(self) -> None:
        """Slips on the way from the shown givens, where the answer is meant to come from earlier answers."""
        known = [word for word in self.given if word in self.question.known_names]
        if not self.answer.carries or self.asked in known:
            return
        try:
            way = derivation(self.table, self.asked, known)
        except ValueError:
            return
        if any(step.role not in ("direct", "rearranged") for step in way.steps):
            return
        self.steps = [(step.quantity, step.expression, step.relation) for step in way.steps]
        self.inputs = tuple(known)
        self.chain = {
            **{word: f"t_{word}" for word in known},
            **{word: f"a_{word}" for word, _, _ in self.steps},
        }
        for word, expression, _ in self.steps:
            self._add(f"a_{word}", expression, self.chain)
        self.siblings()
        self.steps_varied()
        habits(self)

    def followed(self, names: dict[str, str], angle: float):
        """Lines and result when the answer is worked out afresh from some variables.

        None where it does not follow.
        """
        names, lines = dict(names), []
        for word, expression in self._everything(names, angle):
            try:
                lines.append((f"y_{word}", source(expression, names)))
            except (KeyError, ValueError):
                continue
            names[word] = f"y_{word}@"
        if not names.get(self.asked, "").startswith("y_"):
            return None
        wanted, kept = {f"y_{self.asked}"}, []
        for name, text in reversed(lines):  # only what the answer rests on
            if name in wanted:
                kept.append((name, text))
                wanted |= set(_OWN.findall(text))
        return kept[::-1], names[self.asked]

    # -- single steps done wrongly -------------------------------------------------------------------------------------------------------  # noqa: E501
    def steps_varied(self) -> None:
        together: dict[tuple, list] = {}
        for word, expression, relation in self.steps:
            base = split_side(word)[1]
            together.setdefault((base, id(relation)), []).append((word, expression, relation))
        for (base, _), steps in together.items():
            says = steps[0][2].says if steps[0][2] is not None else ""
            place = (
                "when working out the"
                f" {QUANTITIES[base if len(steps) > 1 else steps[0][0]].meaning}{'s' if len(steps) > 1 else ''}"  # noqa: E501
            )
            varied = [list(varied_steps(expression, place)) for _, expression, _ in steps]
            for number, (rank, name, title, sentence, credit, first) in enumerate(varied[0]):
                overrides = {}
                try:
                    overrides[steps[0][0]] = source(first, self.chain)
                    # the same slip with the other gear
                    for (word, _, _), others in zip(steps[1:], varied[1:]):
                        if len(others) == len(varied[0]):
                            overrides[word] = source(others[number][5], self.chain)
                except (KeyError, ValueError):
                    continue
                if len(steps) > 1:
                    sentence, title = _of_both(sentence), _of_both(title)
                last = (
                    len(self.steps) > 1
                    and steps[0][0] == self.asked
                    and name in ("dropped", "counted twice", "added the sides")
                )
                self.vary(
                    rank - 0.55 * last, f"{name} ({base})", title, f"{sentence} {says}", credit, overrides
                )


def _of_both(text: str) -> str:
    for _, of in SIDES.values():
        text = text.replace(f" of {of}", "")
    return text
