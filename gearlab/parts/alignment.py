"""Lining up teeth.

The angles at which teeth stand in the middle of spaces, for a pair and for a row of gears.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.tooth import MOST_TEETH

from .checks import finite, whole, within

if TYPE_CHECKING:
    from gearlab.theory.boundary import Number

# An answer this near to a whole pitch is the next tooth's [pitches].
_ROUNDING = 1e-12


def aligned(
    driver_teeth: int,
    driven_teeth: int,
    driver_angle: Number = 0.0,
    line_angle: Number = 0.0,
    internal: bool = False,
):
    """Angle of the driven gear that puts its teeth in the middle of the driver's spaces, wherever the shafts
    stand.

    Turn the driver's tooth to the line of centres, carry that over by the ratio, and give the driven gear
    a space, not a tooth, where the driver has its tooth.

    driver_teeth, driven_teeth: numbers of teeth [-], 1 to 500.
    driver_angle: where tooth 0 of the driver stands, counter-clockwise from +x [deg]; any value.
    line_angle: direction from the driver's shaft to the driven one's, counter-clockwise from +x [deg]; any
        value.
    internal: true if the driven gear is a ring around the driver.
    Returns where tooth 0 of the driven gear stands, counter-clockwise from +x [deg], from 0 to one tooth
        pitch of the driven gear; every whole pitch more does as well.

    >>> aligned(18, 45), round(aligned(18, 46), 3), aligned(18, 45, line_angle=90)
    (0.0, 3.913, 6.0)
    >>> aligned(18, 72, internal=True)
    2.5
    """
    n1, n2 = (
        whole("driver teeth", driver_teeth, 1, MOST_TEETH),
        whole("driven teeth", driven_teeth, 1, MOST_TEETH),
    )
    driver, line = finite("driver_angle", driver_angle, "deg"), finite("line_angle", line_angle, "deg")
    pitch, line = 360.0 / n2, np.mod(line, 360.0)
    # Teeth mesh where the line of centres leaves the driver; in a ring on the other side, seen from both
    # shafts alike.
    meet, back, sense = (line + 180.0, 0.0, 1.0) if internal else (line, 180.0, -1.0)
    turned = np.mod(driver - meet, 360.0 / n1)  # whole teeth of the driver change nothing
    angle = np.mod(meet + back + pitch / 2 + sense * turned * n1 / n2, pitch)
    angle = np.where(pitch - angle < _ROUNDING * 360.0, 0.0, angle)
    angle = np.where(angle < _ROUNDING * 360.0, 0.0, angle)
    return angle if np.ndim(driver_angle) or np.ndim(line_angle) else float(angle)


def align_row(
    teeth: Sequence[int | tuple[int, int]],
    line_angles: Sequence[float] | None = None,
    first_angle: float = 0.0,
) -> tuple[float, ...]:
    """Angles of all shafts of a row of external gears, each meshing with the next, teeth in the middle of
    spaces.

    teeth: number of teeth on each shaft [-], 1 to 500, at least two shafts; two counts for two gears that
        turn together with a tooth of each at the same angle: the one that is driven, then the one that drives
        on.
    line_angles: direction from each shaft to the next, counter-clockwise from +x [deg]; by default all 0, in
        line.
    first_angle: where tooth 0 of the first gear stands [deg]; any value.
    Returns where tooth 0 of each shaft's gears stands [deg], from 0 to one pitch of the gear that is driven
        there.
    ValueError if there are fewer than two shafts or not one angle for each mesh.

    >>> [round(angle, 3) for angle in align_row((18, 24, 45))]
    [0.0, 7.5, 4.0]
    >>> [round(angle, 3) for angle in align_row((18, 24, 45), (0.0, 60.0))]
    [0.0, 7.5, 0.0]
    """
    if len(teeth) < 2:
        raise ValueError(
            f"a row of {len(teeth)} shafts has no mesh to line up: give the teeth of two shafts or more"
        )
    angles = [0.0] * (len(teeth) - 1) if line_angles is None else list(line_angles)
    if len(angles) != len(teeth) - 1:
        raise ValueError(
            f"line_angles has {len(angles)} angles; a row of {len(teeth)} shafts needs {len(teeth) - 1}: one"
            " for each mesh [deg]"
        )
    found = [within("first_angle", first_angle, -math.inf, math.inf, "deg")]
    for (before, after), line in zip(pairwise(teeth), angles):
        driving = before[-1] if isinstance(before, (tuple, list)) else before
        driven = after[0] if isinstance(after, (tuple, list)) else after
        found.append(
            aligned(driving, driven, found[-1], within("line_angles", line, -math.inf, math.inf, "deg"))
        )
    return tuple(found)
