"""A part's numbers from theory: degrees outside, radians inside."""

from __future__ import annotations

import math
from collections.abc import Mapping

from gearlab.theory import quantity
from gearlab.theory.numbers import all_numbers
from gearlab.theory.scope import Scope


def worked_out(scope: Scope, givens: Mapping[str, float]) -> dict[str, float]:
    """Every number that follows from a part's givens, by word.

    Parameters
    ----------
    scope : Scope
        The relations that hold for the part.
    givens : mapping of str to float
        Its independent numbers by word [theory units, deg].

    Returns
    -------
    dict of str to float
        [theory units, deg]

    Examples
    --------
    >>> from gearlab.theory import system
    >>> from gearlab.theory.scope import scope_for
    >>> worked_out(scope_for("gear", "mm", (system(),)), {"teeth": 18.0, "module": 2.5})["root_diameter"]
    38.75
    """
    words = tuple(givens)
    values = [math.radians(v) if quantity(w).dimension == "angle" else v for w, v in givens.items()]
    found = all_numbers(scope, words)(*values)
    return {w: math.degrees(v) if quantity(w).dimension == "angle" else v for w, v in found.items()} | dict(givens)
