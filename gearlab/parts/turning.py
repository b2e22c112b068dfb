"""Turning a pair by its cut teeth, and reading off them what has turned: no ratio goes in."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from gearlab.parts.checks import takes_parts, within
from gearlab.parts.mesh import Mesh

__all__ = ["Turned", "roll"]

_STEPS = 16  # in which the driver is turned through one of its pitches
_MOST = 20.0  # turns of the driver


class Turned(NamedTuple):
    """What has turned, counter-clockwise positive, and how many teeth of each gear have passed the mesh."""

    driver_turns: float
    driven_turns: float
    driver_teeth: int
    driven_teeth: int


@takes_parts
def roll(pair: Mesh, driver_turns: float = 1.0) -> Turned:
    """Turn the driver of a pair, and read off the cut teeth how far the driven gear has turned.

    The driver is turned in steps of a sixteenth of its pitch, and after each step the driven gear until the
    curves of the teeth touch. It is followed from step to step, so that how far it has turned, and which
    way, comes from the teeth alone.

    pair: the gears in mesh, a ring too.
    driver_turns: how far the driver is turned, from -20 to 20, one pitch at least [turns];
        counter-clockwise positive.
    ValueError if it is turned by less than one pitch, or by more than 20 turns.

    >>> from gearlab import Gear
    >>> turned = roll(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 5)
    >>> round(turned.driven_turns, 9), turned.driver_teeth, turned.driven_teeth
    (-2.0, 90, 90)

    Source: the cut outlines, turned until they touch (`gearlab.shape.rolling`).
    """
    driver, driven = pair.driver, pair.driven
    driver_turns = within("driver_turns", driver_turns, -_MOST, _MOST, "turns")
    if abs(driver_turns) * driver.teeth < 1.0:
        raise ValueError(
            f"driver_turns = {driver_turns:g} turns: turn the driver by one tooth at least,"
            f" {1 / driver.teeth:.3g} of a turn, and by {_MOST:g} turns at most"
        )
    steps = math.ceil(abs(driver_turns) * driver.teeth * _STEPS)
    driver_angles = np.linspace(0.0, math.tau * driver_turns, steps + 1)
    pitch = math.tau / driven.teeth
    # One tooth of the driven gear is like the other, so a rest is known up to whole pitches; as a step moves
    # it by a small part of a pitch, the nearest is the one it has come to.
    rests = pair.rolling.driven_angle(driver_angles, 1 if driver_turns > 0 else -1) % pitch
    driven_angles = np.unwrap(rests, period=pitch)
    turned = float(driven_angles[-1] - driven_angles[0])
    return Turned(
        float(driver_turns),
        turned / math.tau,
        math.floor(abs(driver_turns) * driver.teeth + 1e-6),
        math.floor(abs(turned) / pitch + 1e-6),
    )
