"""How a derivation shows itself in a notebook: small steps, a legend, each step hidden if that is asked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from html import escape
from itertools import repeat
from math import pi
from typing import TYPE_CHECKING

import sympy as sp

from .boundary import inward, outward
from .quantities import QUANTITIES
from .rendering import Rendering
from .scope import FULL_TURN, symbol
from .smallsteps import LETTERS
from .solving import evaluate
from .units import usual_unit, written

if TYPE_CHECKING:
    from .way import Step

NEXT = "What would you write next?"
#: Letters that fit beside one another in a notebook beside its file list (about 560 points of formula).
ROOM = 58
_STYLE = (
    "<style>.gearlab-derivation{max-width:100%}.gearlab-derivation .eq{overflow-x:auto;padding:.15em 0}"
    ".gearlab-derivation math{font-size:1.12em}.gearlab-derivation p{margin:.3em 0}"
    ".gearlab-derivation ol.small{list-style:lower-alpha;margin:.2em 0}"
    ".gearlab-derivation li{margin:.35em 0}.gearlab-derivation mtd{padding:.12em 0}"
    ".gearlab-derivation ul.letters{list-style:none;display:flex;flex-wrap:wrap;gap:.1em 1.6em;"
    "margin:0;padding:0}"
    ".gearlab-derivation ul.letters li{margin:0}.gearlab-derivation .of{font-weight:600}"
    ".gearlab-derivation summary{cursor:pointer;font-weight:600;padding:.3em 0}</style>"
)


@dataclass(frozen=True)
class Part:
    """One thing to write down: a step, a small step, or the closed form.

    head: what it finds; empty for a small step.
    says: why.
    rows: the equation in the form asked for: its parts, to be joined by signs of equality.
    spoken: the equation in words.
    asks: the question before it.
    texts: the parts as plain text, by which the room they need is told.
    """

    head: str
    says: str
    rows: tuple[str, ...]
    spoken: str
    asks: str
    texts: tuple[str, ...]


class Showing(Rendering):
    """What a derivation shows in a notebook."""

    if TYPE_CHECKING:

        @property
        def one_by_one(self) -> bool: ...
        @property
        def used(self) -> tuple[str, ...]: ...

    def legend(self, form: str = "text") -> list[tuple[str, str, str]]:
        """Every letter of the steps: its symbol, what it is, its unit ("" for a number).

        form: "text", "mathml" or "latex".

        >>> from gearlab.theory import derive
        >>> for row in derive("addendum", ["module"], notation="iso").legend(): print(*row, sep=" | ")
        h_a | addendum | mm
        m | module | mm
        """
        # a part gives all its numbers: of these only the letters that are used
        words = dict.fromkeys([self.asked, *(self.given if self.one_by_one else self.used)])
        for step in self._told_steps:
            words |= dict.fromkeys([step.quantity, *self._letters_of(step)])
        words |= dict.fromkeys(sorted(letter.name for letter in self.told.free_symbols - {FULL_TURN}))
        return [(self._name(word, form), self._meaning(word), self._unit_told(word)) for word in words]

    def _letters_of(self, step: Step) -> list[str]:
        small = self.scope.small_steps(step.equation) if step.equation else []
        letters: dict[str, None] = {}
        for _, left, right in small:
            letters |= dict.fromkeys(
                sorted(str(s) for s in (left.free_symbols | right.free_symbols) - {FULL_TURN})
            )
        if not self._said_in_small(step):
            letters |= dict.fromkeys(step.inputs)
        return list(letters)

    def _meaning(self, word: str) -> str:
        return LETTERS[word].meaning if word in LETTERS else QUANTITIES[word].meaning

    def _unit_told(self, word: str) -> str:
        name = self._unit_of(word)
        return "°" if name == "deg" else written(name)

    def _unit_of(self, word: str) -> str:
        if word not in LETTERS:
            return super()._unit_of(word)
        return usual_unit(LETTERS[word].dimension, self.scope.length_unit)

    # -- parts -----------------------------------------------------------------------------------------
    @cached_property
    def _told_steps(self) -> tuple[Step, ...]:
        """The steps without those that the small steps of a later one say in another way."""
        replaced = {
            word
            for step in self.steps
            if step.role == "direct" and step.relation and step.relation.way
            for word in step.relation.way.replaces
        }
        needed = {
            word
            for step in self.steps
            if not (step.relation and step.relation.way and replaced & set(step.relation.way.replaces))
            for word in step.inputs
        }
        return tuple(s for s in self.steps if s.quantity not in replaced - needed - {self.asked})

    def _said_in_small(self, step: Step) -> bool:
        """True where the last small step is the step itself, or says it in other letters."""
        if step.role != "direct" or not step.equation:
            return False
        small = self.scope.small_steps(step.equation)
        return bool(small) and small[-1][1] == symbol(step.quantity)

    def parts(self, form: str = "mathml") -> list[Part]:
        """Everything to write down, in order.

        form: of the equations: "mathml" or "text".

        >>> from gearlab.theory import derive
        >>> for part in derive("quick_backlash", ["distance_opening", "pressure_angle"]).parts("text"):
        ...     print(part.asks or "-", " = ".join(part.rows))
        By how much does one flank move back? u = Δ_C·tan(φ)
        What would you write next? j_q = 2·u
        In one formula? j_q = 2·Δ_C·tan(φ)
        """
        return list(self._parts(form))

    def _parts(self, form: str) -> Iterator[Part]:
        lines = self.lines("text")
        steps = {step.quantity + step.role: line for step, line in zip(self.steps, lines, strict=False)}
        lettered = self._letters()
        for step in self._told_steps:
            says = steps[step.quantity + step.role].sentence
            meaning = QUANTITIES[step.quantity].meaning
            head = meaning[0].upper() + meaning[1:]
            if step.relation is None:
                letter = symbol(step.quantity)
                yield self._part(head, says, letter, letter, form, {}, "Which letter would help?")
                continue
            lettered -= {step.quantity} if step.role == "closed" else set()
            numbers = {} if lettered else self._written
            small = self.scope.small_steps(step.equation) if step.equation else []
            before = {*self.given, *(s.quantity for s in self._told_steps[: self._told_steps.index(step)])}
            known = self._known(step, before) if numbers and step.role != "closed" else repeat({})
            for number, ((each, left, right), numbered) in enumerate(zip(small, known, strict=False)):
                yield self._part(
                    head if not number else "", each.says, left, right, form, numbered, each.asks or NEXT
                )
            if self._said_in_small(step):
                continue
            if step.role == "rearranged" and step.equation and not self._plain(step):
                direct = f"{step.relation.says} {step.relation.where}".rstrip()
                yield self._part(
                    "" if small else head, direct, step.equation.left, step.equation.right, form, {}, NEXT
                )
                says, head = f"Solved for the {meaning}:", ""
            yield self._part(
                "" if small else head, says, symbol(step.quantity), step.expression, form, numbers, NEXT
            )
        if len(lines) > len(self.steps) or self._small_end_differs():
            yield self._part(
                "In one formula", "", symbol(self.asked), self.told, form, self._written, "In one formula?"
            )

    def _small_end_differs(self) -> bool:
        """True where one step is all, and its small steps end in letters of their own."""
        step = self._told_steps[0] if len(self._told_steps) == 1 else None
        if step is None or step.equation is None or not self._said_in_small(step):
            return False
        return self.told != self.scope.small_steps(step.equation)[-1][2]

    @staticmethod
    def _plain(step: Step) -> bool:
        """A rearranged step that reads as its relation does, or merely the other way round."""
        assert step.equation is not None
        return step.equation.right.is_Symbol

    @property
    def _written(self) -> dict[str, str]:
        return self._numbers_written(self.numbers)

    def _known(self, step: Step, before: set[str]) -> Iterator[dict[str, str]]:
        """The numbers at each small step, written out: what is known before it, and what it finds."""
        unit = self.scope.length_unit
        told = {word: self.numbers[word] for word in before if word in self.numbers}
        values: dict[sp.Symbol, float] = {symbol(w): float(inward(w, n, unit)) for w, n in told.items()}
        values[FULL_TURN] = 2 * pi
        for _, left, right in self.scope.small_steps(step.equation) if step.equation else ():
            if self.numbers and left.is_Symbol and left not in values and right.free_symbols <= values.keys():
                values[left] = evaluate(right, values)
                told[left.name] = self._outward(left.name, values[left])
            yield self._numbers_written(told) if self.numbers else {}

    def _outward(self, word: str, number: float) -> float:
        unit = self.scope.length_unit
        if word not in LETTERS:
            return float(outward(word, number, unit))
        like = next(w for w, q in QUANTITIES.items() if q.dimension == LETTERS[word].dimension)
        return float(outward(like, number, unit))

    def _part(
        self,
        head: str,
        says: str,
        left: sp.Expr,
        right: sp.Expr,
        form: str,
        numbers: Mapping[str, str],
        asks: str,
    ) -> Part:
        rows, texts, spoken = (self._sides(left, right, f, numbers) for f in (form, "text", "spoken"))
        if left == right:  # a letter that is only named
            rows, texts, spoken = rows[:1], texts[:1], spoken[:1]
        return Part(head, says, tuple(rows), " equals ".join(spoken), asks, tuple(texts))

    # -- a page ----------------------------------------------------------------------------------------
    def html(self) -> str:
        """The derivation as a notebook shows it: HTML with MathML, nothing wider than its cell."""
        parts = self.parts()
        facts = "".join(f"<p>In one unit: {escape(fact)}.</p>" for fact in self._converted(None))
        if not parts:
            facts += f"<p>The {escape(QUANTITIES[self.asked].meaning)} is given.</p>"
        after = "".join(f"<p>Units: {escape(fact)}.</p>" for fact in self._facts(None))
        after += "".join(f"<p>Note: {escape(note)}.</p>" for note in self.notes)
        after += self._legend_html(self.legend("mathml"))
        after += f"<p><small>{escape(self.sources)}</small></p>" if self.sources else ""
        if self.one_by_one:
            own = {self._name(word, "mathml") for word in (self.asked, *self.given)}
            start = self._legend_html(
                [row for row in self.legend("mathml") if row[0] in own], "To find, and given"
            )
            body = start + self._hidden(parts, after)
        else:
            body = self._open(parts) + after
        return f'<div class="gearlab-derivation">{_STYLE}{facts}{body}</div>'

    def _open(self, parts: list[Part]) -> str:
        items: list[list[str]] = []
        for part in parts:
            heading = f"<p>{_headed(part)}</p>" if part.head or part.says else ""
            if part.head or not items:
                items.append([])
            items[-1].append(heading + _equation(part))
        return (
            "<ol>"
            + "".join(
                f"<li>{group[0]}</li>"
                if len(group) == 1
                else f'<li><ol class="small">{"".join(f"<li>{each}</li>" for each in group)}</ol></li>'
                for group in items
            )
            + "</ol>"
        )

    def _hidden(self, parts: list[Part], after: str) -> str:
        body = after
        for part in reversed(parts):
            heading = f"<p>{_headed(part)}</p>" if part.head or part.says else ""
            body = (
                f"<details><summary>{escape(part.asks)}</summary>{heading}{_equation(part)}{body}</details>"
            )
        return body

    def _legend_html(self, rows: list[tuple[str, str, str]], name: str = "Letters") -> str:
        items = "".join(
            f"<li><math>{letter}</math>\u2002{escape(meaning)}{f' ({escape(unit)})' if unit else ''}</li>"
            for letter, meaning, unit in rows
        )
        return f'<p class="of">{name}</p><ul class="letters" aria-label="{name}">{items}</ul>'

    def _repr_html_(self) -> str:
        return self.html()

    def _repr_pretty_(self, printer, cycle: bool) -> None:
        rows = [
            f"{part.head + ': ' if part.head else '  '}{' = '.join(part.rows)}" for part in self.parts("text")
        ]
        rows += [
            f"  {letter}: {meaning}{f' ({unit})' if unit else ''}" for letter, meaning, unit in self.legend()
        ]
        printer.text("\n".join([*rows, self.sources]).rstrip())


def _headed(part: Part) -> str:
    head = f"<strong>{escape(part.head)}.</strong> " if part.head else ""
    return (head + escape(part.says)).strip()


def _equation(part: Part) -> str:
    """An equation as MathML: on one line where it fits, else a row a part; what still is too wide scrolls."""
    label = escape(part.spoken, quote=True)
    first, *rest = part.rows
    if sum(map(len, part.texts)) + 3 * len(rest) <= ROOM or len(rest) < 2:
        inside = f"<mrow>{'<mo>=</mo>'.join(part.rows)}</mrow>"
        wide = sum(map(len, part.texts)) + 3 * len(rest) > ROOM
    else:
        cells = "".join(
            f'<mtr><mtd style="text-align:right"><mrow>{name}</mrow></mtd>'
            f'<mtd style="text-align:left"><mrow><mo>=</mo>{side}</mrow></mtd></mtr>'
            for name, side in zip([first, *[""] * (len(rest) - 1)], rest, strict=True)
        )
        inside = f'<mtable displaystyle="true">{cells}</mtable>'
        wide = max(len(part.texts[0]) + len(text) for text in part.texts[1:]) > ROOM
    stop = ' tabindex="0" role="group" aria-label="Formula, wider than the page"' if wide else ""
    return f'<div class="eq"{stop}><math display="block" aria-label="{label}">{inside}</math></div>'
