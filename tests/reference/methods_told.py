"""Published values that a formula of theory tells by itself.

The row names kind, words and features, in usual units.
"""

import math

from methods import given

from gearlab.parts import working
from gearlab.theory import quantity, system
from gearlab.theory.scope import KINDS, scope_for
from gearlab.theory.units import convert, usual_unit


def told(row):
    """What follows from the row's words.

    Lengths in the row's unit, angles in degrees, whatever is consistent for forces and torques.
    """
    plain = {word: float(number) for word, number in given(row).items()}
    tooth = system(row.get("system", "full depth"), plain.get("pressure_angle", 20.0))
    kind = row["kind"]
    scope = scope_for(
        kind,
        row.get("length_unit", "mm"),
        (tooth, tooth) if len(KINDS[kind].sides) == 2 else (tooth,),
        frozenset(row.get("features", ())),
    )
    number = working.worked_out(scope, plain)[row["output"]]
    # the others are stated in the usual unit, or as shares of one another
    if quantity(row["output"]).dimension == "frequency":
        return convert(number, usual_unit("frequency", "mm"), row["expected"]["unit"])
    return (
        math.radians(number)
        if quantity(row["output"]).dimension == "angle" and row["expected"]["unit"] == "rad"
        else number
    )


METHODS = {"told": told}
