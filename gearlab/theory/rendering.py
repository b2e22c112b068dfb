"""How a derivation shows itself: Markdown with LaTeX, HTML with MathML, plain text, a spoken line."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cached_property
from html import escape
from typing import TYPE_CHECKING

import sympy as sp

from .boundary import outward, unit_fact, unit_of
from .printing import fill_quantities, quantity_text, show_number, symbol_text, template
from .quantities import QUANTITIES
from .scope import FULL_TURN, Scope, symbol
from .smallsteps import LETTERS
from .solving import evaluate
from .sources import told

if TYPE_CHECKING:
    from .way import Step

_LONGEST = 20  # operations; a longer closed form helps nobody
_WIDEST = 85  # letters as plain text; wider, an equation does not fit into a notebook beside its file list
_SAID = (
    ("/", " over "),
    ("·", " times "),
    ("^", " to the power "),
    (" - ", " minus "),
    (" + ", " plus "),
    ("-", "minus "),
)


@dataclass(frozen=True)
class Line:
    """One line of a derivation: what it finds, why, and the formula typeset [-]."""

    quantity: str
    sentence: str
    math: str
    source: str = ""


def _in_two_rows(parts: list[str], form: str) -> str:
    """An equation too wide for a page.

    The formula, and below it the numbers put in, both from the same sign of equality on [-].
    """
    name, formula, *rest = parts
    if form == "latex":
        return rf"\begin{{aligned}} {name} &= {formula} \\ &= {' = '.join(rest)} \end{{aligned}}"
    rows = ((f"<mrow>{name}</mrow>", formula), ("<mrow></mrow>", "<mo>=</mo>".join(rest)))
    cells = "".join(
        f'<mtr><mtd style="text-align:right">{left}</mtd><mtd'
        f' style="text-align:left"><mrow><mo>=</mo>{right}</mrow></mtd></mtr>'
        for left, right in rows
    )
    return f'<math display="block"><mtable displaystyle="true">{cells}</mtable></math>'


class Rendering:
    """What :class:`Derivation` can show of itself. Numbers may be floats or text already written out."""

    if TYPE_CHECKING:  # what a derivation has

        @property
        def asked(self) -> str: ...

        @property
        def given(self) -> tuple[str, ...]: ...

        @property
        def steps(self) -> tuple[Step, ...]: ...

        @property
        def scope(self) -> Scope: ...

        @property
        def notation(self) -> str: ...

        @property
        def numbers(self) -> Mapping[str, float]: ...

        @property
        def notes(self) -> tuple[str, ...]: ...

        @property
        def converted(self) -> tuple[str, ...]: ...

        @property
        def cancelling(self) -> frozenset[str]: ...

        @property
        def tidy(self) -> sp.Expr: ...

        @property
        def told(self) -> sp.Expr: ...

        @property
        def holds(self) -> tuple[str, ...]: ...

    @property
    def unit(self) -> str:
        """Unit of the asked quantity ("" where it has none)."""
        return self._unit_of(self.asked)

    def lines(
        self,
        form: str = "latex",
        numbers: Mapping[str, float | str] | None = None,
        above: Collection[str] = (),
    ) -> list[Line]:
        """The steps as lines.

        form: "latex", "mathml", "text" or "spoken" (words for a screen reader).
        numbers: values by word [usual units], floats or text; by default those of the derivation.
        above: words of the steps that the reader has seen already; they are left out.
        One for each step, and the closed form where there is more than one step.
        """
        numbers = self.numbers if numbers is None else numbers
        written = self._numbers_written(numbers)
        free = self._letters()
        lines = []
        for step in self.steps:
            meaning = QUANTITIES[step.quantity].meaning
            if step.relation is None:  # a letter for now
                end = "it will cancel" if step.quantity in self.cancelling else "an equation will give it"
                letter = (
                    f"{meaning}, carried along as a letter"
                    if form == "spoken"
                    else self._typeset(symbol(step.quantity), form, {})
                )
                lines.append(Line(step.quantity, f"Carry the {meaning} along as a letter: {end}.", letter))
                continue
            says = f"{step.relation.says} {step.relation.where}".rstrip()
            if step.role == "closed":
                says += (
                    f" Everything in it is now written with one letter, the {meaning}, so it can be solved."
                )
                free = free - {step.quantity}
            elif step.role == "rearranged":
                says += f" Solved for the {meaning}:"
            lettered = bool(free & {step.quantity, *step.inputs}) or any(
                w not in written for w in step.inputs
            )
            lines.append(
                Line(
                    step.quantity,
                    says,
                    self._equation(step.quantity, step.expression, form, {} if lettered else written),
                    step.relation.source,
                )
            )
            if step.role != "closed" and free & set(step.inputs):
                free = free | {step.quantity}
        lines = [line for line in lines if line.quantity not in above]
        direct = self.steps[-1].expression if self.steps else None
        if (
            len(self.steps) > 1
            and (lines or not above)
            and self.told != direct
            and (self.cancelling or sp.count_ops(self.told) <= _LONGEST)
        ):
            lines.append(
                Line(self.asked, "In one formula:", self._equation(self.asked, self.told, form, written))
            )
        return lines

    def _seen(
        self, above: Collection[str], form: str, numbers: Mapping[str, float | str] | None
    ) -> list[str]:
        """What steps left out came to, where the others go on from it: an equation each."""
        written = self._numbers_written(self.numbers if numbers is None else numbers)
        rest = [step for step in self.steps if step.quantity not in above]
        wanted = {word for step in rest for word in step.inputs} if rest else {self.asked}
        sign = {"mathml": "<mo>=</mo>", "spoken": " equals "}.get(form, " = ")
        seen = []
        for step in self.steps:
            word = step.quantity
            if word in above and word in wanted:
                left, right = self._sides(symbol(word), step.expression, form, {})
                if word in written:
                    right = quantity_text(written[word], form, self._unit_of(word), result=True)
                seen.append(f"{left}{sign}{right}")
        return seen

    @property
    def sources(self) -> str:
        """What the steps rest on and how sure that is, one line.

        In print, from memory, by definition ... [-].

        >>> from gearlab.theory.derivation import derive
        >>> derive("base_diameter", given=["N", "P", "pressure_angle"]).sources
        'Sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2; ISO
        21771:2007, Gears: cylindrical involute gears and gear pairs.'
        """
        return self._sources(())

    def _sources(self, above: Collection[str]) -> str:
        steps = [step for step in self.steps if step.quantity not in above]
        return told(step.relation.source for step in steps if step.relation is not None)

    @staticmethod
    def _numbers_written(numbers: Mapping[str, float | str]) -> dict[str, str]:
        return {
            word: number if isinstance(number, str) else show_number(number)
            for word, number in numbers.items()
        }

    def _letters(self) -> frozenset[str]:
        return frozenset(step.quantity for step in self.steps if step.role == "carried")

    def _typeset(self, expression: sp.Expr, form: str, written: Mapping[str, str], dots: bool = False) -> str:
        pattern = template(expression, "text" if form == "spoken" else form, dots)
        if form == "spoken":
            for sign, spoken in _SAID:
                pattern = pattern.replace(sign, spoken)

        def put(word: str, bracket: bool) -> str:
            if word not in written:
                return self._name(word, form)
            return quantity_text(written[word], form, self._unit_of(word), bracket)

        return fill_quantities(pattern, put, form)

    def _unit_of(self, word: str) -> str:
        return unit_of(word, self.scope.length_unit)

    def _name(self, word: str, form: str) -> str:
        if form == "spoken":
            return LETTERS[word].meaning if word in LETTERS else QUANTITIES[word].meaning
        return symbol_text(word, form, self.notation)

    def _sides(self, left: sp.Expr, right: sp.Expr, form: str, written: Mapping[str, str]) -> list[str]:
        """An equation typeset: left side, right side, and with numbers: those put in, and the result."""
        parts = [self._typeset(left, form, {}), self._typeset(right, form, {})]
        words = [letter.name for letter in right.free_symbols - {FULL_TURN}]
        if written and left.is_Symbol and all(word in written for word in words):
            if words and not right.is_Symbol:
                parts.append(self._typeset(right, form, written, dots=True))
            if left.name in written:
                parts.append(quantity_text(written[left.name], form, self._unit_of(left.name), result=True))
        return parts

    def _equation(self, word: str, expression: sp.Expr, form: str, written: Mapping[str, str]) -> str:
        parts = self._sides(symbol(word), expression, form, written)
        if (
            form in ("latex", "mathml")
            and len(parts) > 2
            and len(self._equation(word, expression, "text", written)) > _WIDEST
        ):
            return _in_two_rows(parts, form)
        if form == "mathml":
            return '<math display="block"><mrow>' + "<mo>=</mo>".join(parts) + "</mrow></math>"
        return (" equals " if form == "spoken" else " = ").join(parts)

    def markdown(self, numbers: Mapping[str, float | str] | None = None, above: Collection[str] = ()) -> str:
        """The derivation as Markdown with LaTeX.

        above: words of the steps that the reader has seen already; only what they came to is said.

        >>> from gearlab.theory.derivation import derive
        >>> print(derive("d", given=["N", "P"]).markdown())
        **Pitch diameter.** Every tooth adds one module (or 1/P) to the pitch diameter.
        <BLANKLINE>
        $$d = \\frac{N}{P}$$
        <BLANKLINE>
        *Sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2.*
        """
        blocks = [f"In one unit: {fact}." for fact in self._converted(numbers)]
        if seen := self._seen(above, "latex", numbers):
            blocks.append("As above: " + ", ".join(f"${equation}$" for equation in seen) + ".")
        for line in self.lines("latex", numbers, above):
            blocks.append(f"**{_head(line.quantity)}.** {line.sentence}\n\n$${line.math}$$")
        blocks += [f"*Units: {facts}.*" for facts in self._facts(numbers)]
        blocks += [f"*Note: {note}.*" for note in self.notes]
        if not self.steps:
            blocks.append(f"The {QUANTITIES[self.asked].meaning} is given.")
        sources = self._sources(above)
        blocks += [f"*{sources}*"] if sources else []
        return "\n\n".join(blocks)

    def mathml(self, numbers: Mapping[str, float | str] | None = None, above: Collection[str] = ()) -> str:
        """The derivation as a fragment of HTML with MathML, each formula with a spoken line.

        above: words of the steps that the reader has seen already; only what they came to is said.
        """
        items = []
        spoken_lines = self.spoken(numbers, above)
        for line, spoken in zip(self.lines("mathml", numbers, above), spoken_lines, strict=True):
            math = (
                line.math
                if line.math.startswith("<math")
                else f'<math display="block"><mrow>{line.math}</mrow></math>'
            )
            math = math.replace("<math ", f'<math aria-label="{escape(spoken, quote=True)}" ', 1)
            items.append(
                f"<li><p><strong>{escape(_head(line.quantity))}.</strong>"
                f" {escape(line.sentence)}</p>{math}</li>"
            )
        facts = "".join(f"<p class='note'>Units: {escape(facts)}.</p>" for facts in self._facts(numbers))
        notes = facts + "".join(f"<p class='note'>Note: {escape(note)}.</p>" for note in self.notes)
        first = "".join(f"<p>In one unit: {escape(fact)}.</p>" for fact in self._converted(numbers))
        seen = [
            f'<math aria-label="{escape(spoken, quote=True)}"><mrow>{math}</mrow></math>'
            for math, spoken in zip(
                self._seen(above, "mathml", numbers), self._seen(above, "spoken", numbers), strict=True
            )
        ]
        first += f"<p>As above: {', '.join(seen)}.</p>" if seen else ""
        rows = f"<ol class='derivation'>{''.join(items)}</ol>" if items or not above else ""
        sources = self._sources(above)
        sources = f"<p class='source'>{escape(sources)}</p>" if sources else ""
        return f"{first}{rows}{notes}{sources}"

    def text(self, numbers: Mapping[str, float | str] | None = None, above: Collection[str] = ()) -> str:
        """The derivation as plain text, a line for each step, and what they rest on.

        above: words of the steps that the reader has seen already; only what they came to is said.
        """
        rows = [f"in one unit: {fact}" for fact in self._converted(numbers)]
        if seen := self._seen(above, "text", numbers):
            rows.append(f"as above: {', '.join(seen)}")
        for line in self.lines("text", numbers, above):
            head = (
                "in one formula" if line.sentence == "In one formula:" else QUANTITIES[line.quantity].meaning
            )
            if line.sentence.startswith("Carry the"):
                rows.append(f"{line.sentence[0].lower()}{line.sentence[1:].rstrip('.')} ({line.math})")
            else:
                rows.append(f"{head}: {line.math}")
        rows += [f"units: {facts}" for facts in self._facts(numbers)]
        rows += [*(f"it holds {says}" for says in self.holds), *(f"note: {note}" for note in self.notes)]
        sources = self._sources(above)
        return "\n".join([*rows, sources[0].lower() + sources[1:]] if sources else rows)

    def spoken(
        self, numbers: Mapping[str, float | str] | None = None, above: Collection[str] = ()
    ) -> list[str]:
        """Each line in words, for a screen reader, with the numbers and their units.

        "centre distance equals ..." [-].
        """
        return [line.math for line in self.lines("spoken", numbers, above)]

    @cached_property
    def unit_facts(self) -> tuple[str, ...]:
        """What a reader must know of units to work the numbers of the lines out by hand, such as "1 hp =
        396000 lbf·in/min".

        A line of one set of units needs nothing: torque times ratio is a torque, whatever its unit.
        """
        world, unit = self.scope.worlds[0], self.scope.length_unit
        facts: dict[str, None] = {}
        lines = [(step.quantity, step.expression) for step in self.steps if step.role != "carried"]
        for word, expression in (*lines, (self.asked, self.tidy)):
            words = [letter.name for letter in expression.free_symbols - {FULL_TURN}]
            told = {
                name: outward(name, 1.0, unit)
                for name in (word, *words)
                if QUANTITIES[name].dimension != "angle"
            }
            if all(size == 1.0 for size in told.values()):
                continue
            try:
                plain = {
                    letter: world[letter] * told.get(letter.name, 1.0) for letter in expression.free_symbols
                }
                same = math.isclose(
                    evaluate(expression, plain),
                    evaluate(expression, world) * told.get(word, 1.0),
                    rel_tol=1e-9,
                )
            except (KeyError, ValueError):
                same = False
            if not same:
                facts |= dict.fromkeys(
                    unit_fact(name, unit) for name in (word, *words) if told.get(name, 1.0) != 1.0
                )
        return tuple(facts)

    def _facts(self, numbers: Mapping[str, float | str] | None) -> tuple[str, ...]:
        return (", ".join(self.unit_facts),) if (self.numbers or numbers) and self.unit_facts else ()

    def _converted(self, numbers: Mapping[str, float | str] | None) -> tuple[str, ...]:
        """Givens that were stated in other units; other numbers than the derivation's own bring none."""
        return self.converted if numbers is None else ()

    def _repr_markdown_(self) -> str:
        return self.markdown()

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return f"<derivation of {self.asked} from {', '.join(self.given)}: {len(self.steps)} steps>"


def _head(word: str) -> str:
    meaning = QUANTITIES[word].meaning
    return meaning[0].upper() + meaning[1:]
