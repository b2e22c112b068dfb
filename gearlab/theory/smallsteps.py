"""Small steps: what leads to a formula, each a sentence and an equation short enough to write down.

A relation may carry a way (``Relation.way``). Its equations are written over words of theory, as relations
are, and over letters of their own that stand only here: a piece of the line of action, a piece of string.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import sympy as sp

#: Letters that small steps introduce: word | meaning | dimension | symbol (the same in both notations).
_LETTER_ROWS = """
driver_piece    | part of the line of action, driver's tangent point to outside circle | length | e_1
driven_piece    | part of the line of action, driven gear's tangent point to outside circle | length | e_2
driver_line     | part of the line of action, driver's tangent point to pitch point | length | f_1
driven_line     | part of the line of action, driven gear's tangent point to pitch point | length | f_2
tangent_line    | part of the line of action, pitch point to tangent point | length | f_0
pinion_radius   | pitch radius of the smallest pinion | length | r_p
tangent_depth   | depth of the tangent point below the pitch circle | length | h_T
both_base_radii | both base radii together | length | B_r
both_thicknesses | both tooth thicknesses on the operating pitch circles together | length | T_w
flank_retreat   | how far each flank moves back | length | u
driver_past     | angle of the driver's marked tooth past the line of centres | angle | nu_1
driven_home     | angle of the driven gear's marked tooth while the driver's is on the line | angle | nu_2
sun_seen        | speed of the sun as seen from the carrier | speed | n_S
ring_seen       | speed of the ring as seen from the carrier | speed | n_R
beam_height     | height at which the force acts above the weakest section | length | h_F
beam_thickness  | thickness of the tooth at its weakest section | length | w_F
base_thickness  | tooth thickness on the base circle | length | s_b
inv_difference  | gain of the involute function out to the operating circles | angle | Delta psi
"""


@dataclass(frozen=True)
class Letter:
    """A letter that stands only in small steps.

    word, meaning, dimension: as those of a quantity.
    symbol: the same in both notations, such as ``e_1``.
    """

    word: str
    meaning: str
    dimension: str
    symbol: str


LETTERS = {
    letter.word: letter
    for letter in (
        Letter(*(cell.strip() for cell in row.split("|"))) for row in _LETTER_ROWS.strip().splitlines()
    )
}
_SIGNED = {"driver_past", "driven_home", "sun_seen", "ring_seen", "inv_difference"}


@cache
def letter(word: str) -> sp.Symbol:
    """The sympy symbol of a letter of small steps.

    >>> letter("driver_piece").is_positive
    True
    """
    return sp.Symbol(word, real=True) if word in _SIGNED else sp.Symbol(word, positive=True)


@dataclass(frozen=True)
class Small:
    """One small step.

    says: why, as a sentence or two.
    left, right: take a namespace ``q`` by word, like a relation; an equation between them.
    asks: what a teacher would ask before it; empty for "what would you write next?".
    """

    says: str
    left: Callable
    right: Callable
    asks: str = ""


@dataclass(frozen=True)
class Way:
    """The small steps that lead to a relation.

    steps: in order; the last one is, or is solved for, the relation.
    takes: words that stand in the steps and fall out again: any number will do for them.
    replaces: words whose own steps need not be shown before these: the small steps say it another way.
    """

    steps: tuple[Small, ...]
    takes: tuple[str, ...] = ()
    replaces: tuple[str, ...] = ()
