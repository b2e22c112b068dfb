"""Glossary and formula sheet, made from theory's tables: what is seen in a notebook, and the pages to keep.

Two pages each, of one content: Markdown, which JupyterLab shows with its formulas and in which a link from a
lesson (``glossary.md#backlash``) jumps to the term; and HTML for printing (JupyterLab shows it as well, but a
link there leads to its top only).
"""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from html import escape
from pathlib import Path

import sympy as sp

from gearlab.theory.boundary import unit_of
from gearlab.theory.everyday import everyday, terms
from gearlab.theory.printing import fill_quantities, symbol_text, template
from gearlab.theory.quantities import NOTATIONS, QUANTITIES, split_side
from gearlab.theory.relation import Relation
from gearlab.theory.relations import ALL
from gearlab.theory.scope import FULL_TURN, KINDS, scope_for, symbol
from gearlab.theory.sources import how_sure
from gearlab.theory.systems import system
from gearlab.theory.units import written

from .lessons import first_uses, lesson

GLOSSARY, FORMULAS = "glossary", "formulas"
# What a relation is of -> the subject under which it stands on the sheet.
SUBJECTS = {
    "gear": "A gear",
    "toothed outside": "A gear",
    "single": "A gear by itself: flank and measuring",
    "driver": "A gear by itself: flank and measuring",
    "ring": "A ring, and a pinion in it",
    "internal": "A ring, and a pinion in it",
    "meshing": "Two gears in mesh",
    "side by side": "Two gears in mesh",
    "pair": "Two gears in mesh",
    "external": "Two gears in mesh",
    "train": "Trains",
    "idler train": "Trains",
    "compound train": "Trains",
    "workshop": "Cutting, fits and tolerances",
    "plate": "On the plate",
    "stack": "Along the shaft",
    "hub": "Hub and bore",
    "key": "Keys",
    "load": "Power and tooth load",
    "rack": "Rack and pinion",
    "bevel": "Bevel pairs",
    "planetary": "Planetary sets",
    "epicyclic": "Epicyclic trains",
    "drive": "The whole drive",
}
_FEATURES = {
    "set distance": "a centre distance that is set",
    "reverted": "the last shaft on the axis of the first",
    "two modules": "a module of its own for each stage",
    "shaft angle": "shafts that are not square to each other",
    "addendum_factor": "an addendum factor of its own",
    "long addendum": "a long addendum",
    "double planets": "pairs of planets",
    "coaxial": "the last gear on the axis of the first",
}


class _Symbols:
    """What a relation is written over: the symbol of each word."""

    def __getattr__(self, word: str) -> sp.Expr:
        return FULL_TURN if word == "full_turn" else symbol(word)


@dataclass(frozen=True)
class Formula:
    """One relation as it is read: typeset in either notation, where it holds, and what it rests on."""

    relation: Relation

    @property
    def subject(self) -> str:
        """Heading under which it stands."""
        return SUBJECTS[self.relation.of]

    def typeset(self, form: str, notation: str) -> str:
        """The equation, "latex", "mathml" or "text"; the inch notation writes 1/P for the module."""
        left, right = self.relation.left, _right(self.relation)
        if notation == "inch" and left not in ("module", "diametral_pitch"):
            right = right.subs(symbol("module"), 1 / symbol("diametral_pitch"))

        def put(word: str, _bracket: bool) -> str:
            return symbol_text(word, form, notation)

        sides = symbol_text(left, form, notation), fill_quantities(template(right, form, False), put, form)
        if form != "mathml":
            return " = ".join(sides)
        return f'<math displaystyle="true"><mrow>{"<mo>=</mo>".join(sides)}</mrow></math>'

    @property
    def where(self) -> str:
        """Where it holds, in words."""
        needs, unless = (
            ", ".join(_FEATURES.get(name, name.replace("_", " ")) for name in names)
            for names in (self.relation.needs, self.relation.unless)
        )
        parts = [self.relation.range, needs and f"with {needs}", unless and f"without {unless}"]
        return "; ".join(part for part in parts if part) or "always"

    @property
    def source(self) -> str:
        """What it rests on, with how sure that is where the source does not say so itself."""
        sure = how_sure(self.relation.source)
        return self.relation.source if sure != "in print" else f"{self.relation.source} (in print)"


@cache
def _right(relation: Relation) -> sp.Expr:
    return sp.sympify(relation.right(_Symbols()))


@cache
def formulas() -> tuple[Formula, ...]:
    """Every formula of the subject, ordered by ``SUBJECTS``."""
    order = list(dict.fromkeys(SUBJECTS.values()))
    return tuple(sorted(map(Formula, ALL), key=lambda formula: order.index(formula.subject)))


@cache
def _giving() -> dict[str, tuple[Formula, ...]]:
    """The formulas that give a quantity, by its word without its side."""
    by_word: dict[str, list[Formula]] = {}
    for formula in formulas():
        by_word.setdefault(split_side(formula.relation.left)[1], []).append(formula)
    return {word: tuple(several) for word, several in by_word.items()}


@dataclass(frozen=True)
class Entry:
    """One term of the glossary; as the last value of a cell it shows itself.

    >>> entry = glossary("backlash")
    >>> entry.symbols, entry.units, entry.anchor
    (('j', 'j'), ('mm', 'in'), 'backlash')
    """

    word: str

    @property
    def heading(self) -> str:
        """The term as it is read: its word with spaces."""
        return self.word.replace("_", " ")

    @property
    def anchor(self) -> str:
        """What a link to it ends with, behind the #."""
        return self.word.replace("_", "-")

    @property
    def meaning(self) -> str:
        """What it is, as a noun phrase."""
        return QUANTITIES[self.word].meaning

    @property
    def sentence(self) -> str:
        """What it is, in an everyday sentence."""
        return everyday(self.word)

    @property
    def symbols(self) -> tuple[str, str]:
        """Its symbol in the inch notation and in ISO's, as plain text."""
        inch, iso = (symbol_text(self.word, "text", notation) for notation in NOTATIONS)
        return inch, iso

    @property
    def units(self) -> tuple[str, str]:
        """Its unit in a metric and in an inch design, "" where it has none."""
        return written(unit_of(self.word, "mm")), written(unit_of(self.word, "in"))

    @property
    def first_lesson(self) -> str:
        """Name of the first lesson that uses it, "" if none does."""
        return first_uses().get(self.word, "")

    @property
    def formulas(self) -> tuple[Formula, ...]:
        """The formulas that give it."""
        return _giving().get(self.word, ())

    def lines(self, form: str, link: Callable[[str, str], str]) -> list[str]:
        """What is told of it, a line each; ``link`` makes a link of words and a target."""
        esc = escape if form == "mathml" else str
        inch, iso = (_set(symbol_text(self.word, form, notation), form) for notation in NOTATIONS)
        metric, english = self.units
        units = metric if metric == english else f"{metric} (metric), {english} (inch)"
        sentence = esc(self.sentence)
        if self.meaning != self.heading:
            sentence = f"{esc(self.meaning[0].upper() + self.meaning[1:])}. {sentence}"
        name = f"Symbol {inch}" if inch == iso else f"Symbol {inch} (inch), {iso} (ISO)"
        rows = [sentence, f"{name}. {'Unit ' + esc(units) if units else 'A number without a unit'}."]
        if self.first_lesson:
            first = lesson(self.first_lesson)
            rows.append(f"First used in {link(f'lesson {first.number}, {esc(first.title)}', first.file)}")
        return rows

    def _repr_markdown_(self) -> str:
        rows = [
            f"**{self.heading}** · " + self.lines("latex", _md_link)[0],
            *self.lines("latex", _md_link)[1:],
        ]
        rows += [_markdown_formula(formula) for formula in self.formulas]
        return "\n\n".join([*rows, f"[All terms]({GLOSSARY}.md#{self.anchor})"])

    def __str__(self) -> str:
        rows = [self.heading, *self.lines("text", lambda words, _: words)]
        told = [f"{formula.typeset('text', 'inch')} ({formula.where})" for formula in self.formulas]
        return "\n".join(rows + list(dict.fromkeys(told)))

    def __repr__(self) -> str:
        return f"<glossary: {self.heading}>"


def _set(symbol_: str, form: str) -> str:
    return {"latex": f"${symbol_}$", "mathml": f"<math>{symbol_}</math>"}.get(form, symbol_)


def _md_link(words: str, target: str) -> str:
    return f"[{words}]({target})"


def _html_link(words: str, target: str) -> str:
    return f'<a href="{escape(target, quote=True)}">{words}</a>'


def _markdown_formula(formula: Formula) -> str:
    inch, iso = (formula.typeset("latex", notation) for notation in NOTATIONS)
    shown = f"$${inch}$$" if inch == iso else f"$${inch} \\qquad\\text{{ISO: }}\\; {iso}$$"
    holds = "" if formula.where == "always" else f" It holds {formula.where}."
    return f"{shown}\n\n{formula.relation.says}{holds} *{formula.source}*"


@cache
def entries() -> tuple[Entry, ...]:
    """Every term, in alphabetical order."""
    return tuple(Entry(word) for word in sorted(terms()))


@dataclass(frozen=True)
class Pages:
    """A page to be read in a notebook, and to be printed: the glossary, or a formula sheet."""

    title: str
    introduction: str
    entries: tuple[Entry, ...] = ()
    formulas: tuple[Formula, ...] = ()

    def markdown(self) -> str:
        """The page as Markdown with LaTeX, its terms as headings to which a link leads."""
        parts = [f"# {self.title}", self.introduction]
        for entry in self.entries:
            parts += [f"### {entry.heading}", *entry.lines("latex", _md_link)]
        for subject, several in self._by_subject():
            parts += [f"## {subject}", *map(_markdown_formula, several)]
        return "\n\n".join(parts) + "\n"

    def html(self) -> str:
        """The page for printing, with MathML: complete, nothing is fetched from elsewhere."""
        parts = [f"<h1>{escape(self.title)}</h1>", f"<p>{escape(self.introduction)}</p>"]
        if self.entries:
            parts.append('<div class="terms">')
            for entry in self.entries:
                lines = "<br>".join(entry.lines("mathml", _html_link))
                parts.append(
                    f'<section id="{entry.anchor}"><h2>{escape(entry.heading)}</h2><p>{lines}</p></section>'
                )
            parts.append("</div>")
        for subject, several in self._by_subject():
            parts.append(f"<h2>{escape(subject)}</h2><ul>{''.join(map(_html_formula, several))}</ul>")
        return _PAGE.format(title=escape(self.title), style=_STYLE, body="\n".join(parts))

    def _by_subject(self) -> list[tuple[str, list[Formula]]]:
        grouped: dict[str, list[Formula]] = {}
        for formula in self.formulas:
            grouped.setdefault(formula.subject, []).append(formula)
        return list(grouped.items())

    def _repr_markdown_(self) -> str:
        return self.markdown()

    def __repr__(self) -> str:
        many = f"{len(self.entries)} terms" if self.entries else f"{len(self.formulas)} formulas"
        return f"<{self.title}: {many}>"


def _html_formula(formula: Formula) -> str:
    inch, iso = (formula.typeset("mathml", notation) for notation in NOTATIONS)
    shown = inch if inch == iso else f"{inch} <span><small>ISO</small> {iso}</span>"
    holds = "" if formula.where == "always" else f" It holds {escape(formula.where)}."
    return (
        f'<li><div class="maths">{shown}</div><p>{escape(formula.relation.says)}{holds}'
        f" <small>{escape(formula.source)}</small></p></li>"
    )


def glossary(term: str = "") -> Entry | Pages:
    """A term of the glossary: its word, or a symbol in the inch notation; without one, all terms.

    ValueError for an unknown term; near ones are given.

    >>> print(glossary("contact ratio"))
    contact ratio
    How many pairs of teeth touch, on average; below 1 the drive would knock.
    Symbol m_c (inch), ε (ISO). A number without a unit.
    First used in lesson 7, Does one pair let go before the next takes hold?
    m_c = Z/p_b (always)
    """
    if not term:
        return Pages("Glossary", _TERMS, entries())
    word = split_side(term.strip().replace(" ", "_").replace("-", "_"))[1]
    if word not in QUANTITIES:
        signs = [entry.word for entry in entries() if term.strip() == entry.symbols[0]]
        near = difflib.get_close_matches(word.lower(), terms(), n=3, cutoff=0.5)
        if not signs:
            hint = f"; near terms: {', '.join(near)}" if near else "; glossary() lists all terms"
            raise ValueError(f"term {term!r} is not in the glossary{hint}")
        word = signs[0]
    return Entry(word)


def formula_sheet(lesson_name: str = "") -> Pages:
    """The formulas of a lesson, by its name or number; without one, all formulas, subject by subject.

    A lesson's are those of the plain case that give a quantity it uses, for the kinds of thing it asks about.
    ValueError for an unknown lesson; the message lists those there are.

    >>> formula_sheet("7").title
    'Formulas of lesson 7'
    """
    if not lesson_name:
        return Pages("Formula sheet", _SHEET, formulas=formulas())
    taught = lesson(lesson_name)
    plain = (
        scope_for(kind, "mm", (system(),) * max(1, len(KINDS[kind].sides))) for kind in sorted(taught.kinds)
    )
    used = {
        equation.relation
        for scope in plain
        for equation in scope.equations
        if split_side(equation.left.name)[1] in taught.words
    }
    chosen = tuple(formula for formula in formulas() if formula.relation in used)
    return Pages(f"Formulas of lesson {taught.number}", f"{taught.title} {_SHEET}", formulas=chosen)


_TERMS = (
    "Each quantity of this workbook in an everyday sentence, with its symbols and units. A gear's own"
    " quantities are listed here once; in a pair they exist for the driver (1) and the driven gear (2)."
)
_SHEET = (
    "Lengths in one unit; there the module is m = 1/P. Angles without a unit sign are in radians, times in"
    " minutes."
    " Each formula is told with where it holds and what it rests on."
)
_PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,
initial-scale=1">
<title>{title}</title><style>{style}</style></head>
<body><main>
{body}
</main></body></html>
"""
_STYLE = (Path(__file__).parent / "glossary.css").read_text(encoding="utf-8")
