"""How the motions of a scene are written for the page: class names and data attributes of a group."""

from __future__ import annotations

import math
from collections.abc import Callable
from xml.sax.saxutils import quoteattr

from .motion import Carry, Press, Round, Slide, Swing, Turn


def attributes(motion: Turn | Round | Slide | Carry | Swing | Press, fmt: Callable[[float], str]) -> str:
    """Class and data attributes of the group that moves; ``fmt`` writes a coordinate."""

    def numbers(*values: float) -> str:
        return (
            '"'
            + " ".join(fmt(value) if math.isfinite(value) else ("-1e9", "1e9")[value > 0] for value in values)
            + '"'
        )

    if isinstance(motion, Slide):
        return 'class="gl-slides" data-slide=' + numbers(
            *motion.direction, motion.per_degree, motion.period, motion.low, motion.high
        )
    if isinstance(motion, Round):
        return 'class="gl-rounds" data-round=' + numbers(
            *motion.about,
            *motion.direction,
            motion.speed,
            motion.angle,
            *(value for corner in motion.corners for value in corner),
        )
    if isinstance(motion, (Carry, Swing, Press)):
        handle = f"data-handle={quoteattr(motion.name)} data-ring={numbers(motion.radius, *motion.centre)}"
        if isinstance(motion, Press):
            return (
                f'class="gl-pressed" data-press={quoteattr(motion.control)} {handle}'
                f' data-values="{" ".join(map(str, motion.values))}"'
            )
        way = (
            (*motion.direction, motion.per)
            if isinstance(motion, Carry)
            else (*motion.about, motion.circle, motion.sense)
        )
        return (
            f'class="gl-carried" data-control={quoteattr(motion.control)} {handle}'
            f" data-{type(motion).__name__.lower()}={numbers(*way)}"
        )
    carried = () if motion.around is None else (*motion.around, motion.orbit)
    named = f" data-name={quoteattr(motion.name)}" if motion.name else ""
    named += "" if motion.plane is None else f' data-plane="{motion.plane}"'
    return (
        'class="gl-turns"'
        f" data-turn={numbers(*motion.about, motion.speed, motion.pitch, motion.radius, *carried)}{named}"
    )
