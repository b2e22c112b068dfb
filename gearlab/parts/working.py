"""A part's numbers from theory: usual units outside, theory's inside."""

from __future__ import annotations

from collections.abc import Mapping

from gearlab.theory.boundary import inward, outward_all
from gearlab.theory.numbers import all_numbers
from gearlab.theory.scope import Scope


def worked_out(scope: Scope, givens: Mapping[str, float]) -> dict[str, float]:
    """Every number that follows from a part's givens, by word.

    Parameters
    ----------
    scope : Scope
        The relations that hold for the part.
    givens : mapping of str to float
        Its independent numbers by word [usual units].

    Returns
    -------
    dict of str to float
        [usual units]

    Examples
    --------
    >>> from gearlab.theory import system
    >>> from gearlab.theory.scope import scope_for
    >>> worked_out(scope_for("gear", "mm", (system(),)), {"teeth": 18.0, "module": 2.5})["root_diameter"]
    38.75
    """
    unit = scope.length_unit
    found = all_numbers(scope, tuple(givens))(*(inward(word, number, unit) for word, number in givens.items()))
    return outward_all(found, unit) | dict(givens)


def pair_givens(driver, driven) -> dict[str, float]:
    """The independent numbers of two gears in mesh, by word [usual units]; of a ring those of a plain one.

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
