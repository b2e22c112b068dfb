"""The words that a question may ask for, kind by kind of theory, as `gearlab check --words` lists them."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from gearlab.schema import near
from gearlab.theory.derivation import words_of
from gearlab.theory.quantities import QUANTITIES, split_side
from gearlab.theory.scope import KINDS
from gearlab.theory.units import shown_unit

__all__ = ["Word", "kinds_in_words", "kinds_named", "words_in_words", "words_to_ask"]

WIDTH = 80  # columns of a terminal
_SYMBOLS = 7  # columns of a symbol


@dataclass(frozen=True)
class Word:
    """A quantity that a question may ask for: its symbols, its units in a metric and in an inch question."""

    word: str
    meaning: str
    inch: str
    iso: str
    metric_unit: str
    inch_unit: str


def words_to_ask(kind: str) -> list[Word]:
    """What a question with `of = kind` may ask for or give, in the order of teaching."""
    words = []
    for word in words_of(kind):
        entry = QUANTITIES[word]
        units = (shown_unit(entry.dimension, lengths) for lengths in ("mm", "in"))
        metric, inch = ("" if unit == "1" else unit for unit in units)
        words.append(Word(word, entry.meaning, entry.symbol("inch"), entry.symbol("iso"), metric, inch))
    return words


def kinds_named(names: Sequence[str]) -> list[str]:
    """The kinds that were named: one of several words ("rack and pinion"), or several.

    ValueError with the near ones, and with the kinds that have a quantity of that name.
    """
    whole = " ".join(" ".join(names).split())
    if whole in KINDS:
        return [whole]
    unknown = [name for name in names if name not in KINDS]
    if not unknown:
        return list(names)
    named = unknown[0] if len(names) > 1 and len(unknown) < len(names) else whole
    if named in QUANTITIES:
        owners = [kind for kind in KINDS if named in words_of(kind)]
        raise ValueError(
            f"{named!r} is a quantity, not a kind of theory; it can be asked with of ="
            f" {' or '.join(repr(owner) for owner in owners)}"
        )
    inside = ", ".join(kind for kind in KINDS if named in kind.split())
    like, quantities = f"; near: {inside}" if inside else near(named, KINDS), near(named, QUANTITIES)
    raise ValueError(
        f"{named!r} is not a kind of theory{like}; the kinds are {', '.join(KINDS)}"
        + (f"; among the quantities{quantities.replace('; near', ' near')}" if quantities else "")
    )


def kinds_in_words() -> list[str]:
    """The kinds with what each has beyond its plain case, at most 80 columns."""
    lines = ['Kinds of theory (of = "..."), and the features that may go beyond the plain case:', ""]
    for kind, about in KINDS.items():
        features = ", ".join(sorted(about.features)) or "-"
        lines += textwrap.wrap(
            features,
            WIDTH,
            initial_indent=f"  {kind:<17} ",
            subsequent_indent=" " * 20,
            break_long_words=False,
        )
    return [*lines, "", "gearlab check --words KIND lists what one may ask for with a kind."]


def words_in_words(kind: str) -> list[str]:
    """What one may ask for with a kind, at most 80 columns: a line each, two where a word is long."""
    rows = words_to_ask(kind)
    features = ", ".join(sorted(KINDS[kind].features))
    lines = textwrap.wrap(
        f'of = "{kind}": {len(rows)} words to ask for or give; symbols in notation = "inch" and "iso"; unit'
        ' in length_unit = "mm" and "in", where a question states none.'
        + (f" With features = [...]: {features}." if features else ""),
        WIDTH,
    )
    lines += ["", f"{'inch':<{_SYMBOLS}} {'iso':<{_SYMBOLS}} {'mm':<9} {'in':<9} word: meaning"]
    indent = " " * (2 * _SYMBOLS + 22)
    for row in rows:
        head = f"{row.inch:<{_SYMBOLS}} {row.iso:<{_SYMBOLS}} {row.metric_unit:<9} {row.inch_unit:<9} "
        text = f"{row.word}: {QUANTITIES[split_side(row.word)[1]].meaning}"  # whose it is stands in the word
        lines += textwrap.wrap(
            text, WIDTH, initial_indent=head, subsequent_indent=indent + "  ", break_long_words=False
        )
    return lines
