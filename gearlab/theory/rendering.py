"""How a derivation shows itself: Markdown with LaTeX, HTML with MathML, plain text, a spoken line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

import sympy as sp

from .printing import fill, number_text, show_number, symbol_text, template
from .quantities import QUANTITIES
from .scope import FULL_TURN, symbol
from .sources import told
from .units import theory_unit, written

_LONGEST = 20  # operations; a longer closed form helps nobody
_UNITLESS = ("count", "number", "turns")


@dataclass(frozen=True)
class Line:
    """One line of a derivation: what it finds, why, and the formula typeset [-]."""

    quantity: str
    sentence: str
    math: str
    source: str = ""


class Rendering:
    """What :class:`Derivation` can show of itself. Numbers may be floats or text already written out."""

    @property
    def unit(self) -> str:
        """Unit of the asked quantity ("" where it has none) [-]."""
        return unit_of(self.asked, self.scope.length_unit)

    def lines(self, form: str = "latex", numbers: Mapping[str, float | str] | None = None) -> list[Line]:
        """The steps as lines.

        Parameters
        ----------
        form : str
            "latex", "mathml" or "text" [-].
        numbers : mapping, optional
            Values by word [theory units, deg], floats or text; by default those of the derivation.

        Returns
        -------
        list of Line
            One for each step, and the closed form where there is more than one step.
        """
        numbers = self.numbers if numbers is None else numbers
        written = {word: number if isinstance(number, str) else show_number(number) for word, number in numbers.items()}
        free = self._letters()
        lines = []
        for step in self.steps:
            meaning = QUANTITIES[step.quantity].meaning
            if step.role == "carried":
                end = "it will cancel" if step.quantity in self.cancelling else "an equation will give it"
                lines.append(Line(step.quantity, f"Carry the {meaning} along as a letter: {end}.", self._typeset(symbol(step.quantity), form, {})))
                continue
            says = f"{step.relation.says} {step.relation.where}".rstrip()
            if step.role == "closed":
                says += f" Everything in it is now written with one letter, the {meaning}, so it can be solved."
                free = free - {step.quantity}
            elif step.role == "rearranged":
                says += f" Solved for the {meaning}:"
            lettered = bool(free & {step.quantity, *step.inputs}) or any(w not in written for w in step.inputs)
            lines.append(Line(step.quantity, says, self._equation(step.quantity, step.expression, form, {} if lettered else written), step.relation.source))
            if step.role != "closed" and free & set(step.inputs):
                free = free | {step.quantity}
        direct = self.steps[-1].expression if self.steps else None
        if len(self.steps) > 1 and self.tidy != direct and (self.cancelling or sp.count_ops(self.tidy) <= _LONGEST):
            lines.append(Line(self.asked, "In one formula:", self._equation(self.asked, self.tidy, form, written)))
        return lines

    @property
    def sources(self) -> str:
        """What the steps rest on and how sure that is, one line: in print, from memory, by definition ... [-].

        >>> from gearlab.theory.derivation import derive
        >>> derive("base_diameter", given=["N", "P", "pressure_angle"]).sources
        'Sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2; ISO 21771:2007, Gears: cylindrical involute gears and gear pairs.'
        """
        return told(step.relation.source for step in self.steps if step.relation is not None)

    def _letters(self) -> frozenset[str]:
        return frozenset(step.quantity for step in self.steps if step.role == "carried")

    def _typeset(self, expression: sp.Expr, form: str, written: Mapping[str, str], dots: bool = False) -> str:
        def put(word: str) -> str:
            if word in written:
                return number_text(written[word], form, QUANTITIES[word].dimension == "angle")
            return symbol_text(word, form, self.notation)

        return fill(template(expression, form, dots), put)

    def _equation(self, word: str, expression: sp.Expr, form: str, written: Mapping[str, str]) -> str:
        parts = [symbol_text(word, form, self.notation), self._typeset(expression, form, {})]
        words = [s.name for s in expression.free_symbols - {FULL_TURN}]
        if written and all(w in written for w in words):
            if words and not expression.is_Symbol:
                parts.append(self._typeset(expression, form, written, dots=True))
            if word in written:
                parts.append(self._result(word, written[word], form))
        if form == "mathml":
            return '<math display="block"><mrow>' + "<mo>=</mo>".join(parts) + "</mrow></math>"
        return " = ".join(parts)

    def _result(self, word: str, text: str, form: str) -> str:
        unit = written(unit_of(word, self.scope.length_unit))
        if unit == "deg":
            return number_text(text, form, True).strip("()") if form == "text" else number_text(text, form, True)
        if form == "latex":
            number = number_text(text, form, False).replace(r"\left(", "").replace(r"\right)", "")
            return number + (rf"\ \text{{{unit}}}" if unit else "")
        if form == "mathml":
            number = f"<mn>{escape(text)}</mn>" if not text.startswith("-") else f"<mo>−</mo><mn>{escape(text[1:])}</mn>"
            return f"<mrow>{number}<mspace width='0.3em'/><mtext>{escape(unit)}</mtext></mrow>" if unit else f"<mrow>{number}</mrow>"
        return f"{text} {unit}".strip()

    def markdown(self, numbers: Mapping[str, float | str] | None = None) -> str:
        """The derivation as Markdown with LaTeX [-].

        >>> from gearlab.theory.derivation import derive
        >>> print(derive("d", given=["N", "P"]).markdown())
        **Pitch diameter.** Every tooth adds one module (or 1/P) to the pitch diameter.
        <BLANKLINE>
        $$d = \\frac{N}{P}$$
        <BLANKLINE>
        *Sources: in print: R. L. Mott, Machine Elements in Mechanical Design, 4th ed., table 8-2.*
        """
        blocks = []
        for line in self.lines("latex", numbers):
            blocks.append(f"**{_head(line.quantity)}.** {line.sentence}\n\n$${line.math}$$")
        blocks += [f"*Note: {note}.*" for note in self.notes]
        if not self.steps:
            blocks.append(f"The {QUANTITIES[self.asked].meaning} is given.")
        blocks += [f"*{self.sources}*"] if self.sources else []
        return "\n\n".join(blocks)

    def mathml(self, numbers: Mapping[str, float | str] | None = None) -> str:
        """The derivation as a fragment of HTML with MathML, each formula with a spoken line [-]."""
        items = []
        for line, spoken in zip(self.lines("mathml", numbers), self.spoken(numbers), strict=True):
            math = line.math if line.math.startswith("<math") else f'<math display="block"><mrow>{line.math}</mrow></math>'
            math = math.replace("<math ", f'<math aria-label="{escape(spoken, quote=True)}" ', 1)
            items.append(f"<li><p><strong>{escape(_head(line.quantity))}.</strong> {escape(line.sentence)}</p>{math}</li>")
        notes = "".join(f"<p class='note'>Note: {escape(note)}.</p>" for note in self.notes)
        sources = f"<p class='source'>{escape(self.sources)}</p>" if self.sources else ""
        return f"<ol class='derivation'>{''.join(items)}</ol>{notes}{sources}"

    def text(self, numbers: Mapping[str, float | str] | None = None) -> str:
        """The derivation as plain text, a line for each step, and what they rest on [-]."""
        rows = []
        for line in self.lines("text", numbers):
            head = "in one formula" if line.sentence == "In one formula:" else QUANTITIES[line.quantity].meaning
            if line.sentence.startswith("Carry the"):
                rows.append(f"{line.sentence[0].lower()}{line.sentence[1:].rstrip('.')} ({line.math})")
            else:
                rows.append(f"{head}: {line.math}")
        return "\n".join([*rows, *(f"note: {note}" for note in self.notes), *([self.sources[0].lower() + self.sources[1:]] if self.sources else [])])

    def spoken(self, numbers: Mapping[str, float | str] | None = None) -> list[str]:
        """Each line in words, for a screen reader: "centre distance equals ..." [-]."""
        found = []
        for line, step in zip(self.lines("text", numbers), [*self.steps, None], strict=False):
            expression = self.tidy if step is None else step.expression
            words = template(expression, "text", False)
            for sign, said in (("/", " over "), ("·", " times "), ("^", " to the power "), (" - ", " minus "), (" + ", " plus "), ("-", "minus ")):
                words = words.replace(sign, said)
            found.append(f"{QUANTITIES[line.quantity].meaning} equals " + fill(words, lambda word: QUANTITIES[word].meaning))
        return found

    def _repr_markdown_(self) -> str:
        return self.markdown()

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return f"<derivation of {self.asked} from {', '.join(self.given)}: {len(self.steps)} steps>"


def unit_of(word: str, length_unit: str) -> str:
    """Unit in which a derivation shows a quantity ("" where it has none): theory's, angles in degrees [-].

    >>> unit_of("pitch_diameter", "mm"), unit_of("pressure_angle", "in"), unit_of("teeth", "in")
    ('mm', 'deg', '')
    """
    dimension = QUANTITIES[word].dimension
    if dimension in _UNITLESS:
        return ""
    return "deg" if dimension == "angle" else theory_unit(dimension, length_unit)


def _head(word: str) -> str:
    meaning = QUANTITIES[word].meaning
    return meaning[0].upper() + meaning[1:]
