"""A part's numbers from theory: degrees outside, radians inside."""

from __future__ import annotations

import math
from collections.abc import Mapping

from gearlab.theory import quantity
from gearlab.theory.faults import check_number
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
    for word, value in givens.items():
        check_number(quantity(word), value)
    values = [math.radians(v) if quantity(w).dimension == "angle" else v for w, v in givens.items()]
    found = all_numbers(scope, words)(*values)
    return {w: math.degrees(v) if quantity(w).dimension == "angle" else v for w, v in found.items()} | dict(givens)


def pair_givens(driver, driven) -> dict[str, float]:
    """The independent numbers of two gears in mesh, by word [theory units, deg]; of a ring those of a plain one.

    >>> from gearlab import Gear
    >>> pair_givens(Gear(18, module=2.5), Gear(45, module=2.5))
    {'module': 2.5, 'pressure_angle': 20.0, 'driver_teeth': 18.0, 'driven_teeth': 45.0}
    """
    found = {word: number for word, number in driver.givens.items() if word in ("diametral_pitch", "module", "pressure_angle")}
    for side, gear in (("driver", driver), ("driven", driven)):
        found[f"{side}_teeth"] = float(gear.teeth)
        for word in () if driven.internal else sorted(driver.features | driven.features):
            found[f"{side}_{word}"] = float(getattr(gear, word))
    return found
