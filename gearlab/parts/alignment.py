"""Lining up teeth.

The angles at which teeth stand in the middle of spaces, for a pair and for a row of gears.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.tooth import MOST_TEETH

from .checks import finite, whole

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
