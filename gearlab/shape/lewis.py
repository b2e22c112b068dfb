"""The weakest section of a cut tooth, found by the inscribed parabola.

A beam whose outline is a parabola is bent equally hard in every section. Lewis (1893) put the vertex
of such a parabola where the line of the tooth force crosses the middle of the tooth, and let it grow
until it touched the outline from inside: all of the real tooth lies outside of it, so where they
touch the tooth is bent hardest. Height and thickness there give the form factor of the plain beam
formula, ``t^2 / (6 h)`` in modules.

How it compares with the published table (20 degrees full depth; the rack's tip round 0.38): from 17 to 400
teeth the factor measured here is 4.2 % below to 0.4 % above, mostly 2 to 3 % below. Down to 17 teeth the root
decides: the table was read off drawings of teeth 1.157 modules deep below the pitch line, with a drawn
fillet, while here the fillet is what the rolling rack leaves, 1.25 deep. A round of 0.30 in place of 0.38
takes another 2 % off at 18 teeth. Above 250 teeth the parabola touches the straight part of the flank, where
the root no longer counts, and the table stays above: for a rack the construction is plain algebra, ``8/3
(pi/4 - tan a) tan a / cos(a)^2 = 0.463``, where the table has 0.485. Below 17 teeth the undercut comes in
(5.5 % below at 15 teeth). At 14.5 degrees the deeper root weighs more: 17 % below a maker's table at 18
teeth, and 10 % with the old depth of 1.157 and the same round.

The radial part of the force, which presses on the root and relieves the pulled side, is left out,
as in the table. Like everything that comes from the plain beam formula, this is an estimate for
teaching.

Lengths are in modules, angles in radians.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from gearlab.shape.curves import find_zero
from gearlab.shape.given import number

if TYPE_CHECKING:
    from gearlab.shape.form import Form


@dataclass(frozen=True)
class WeakestSection:
    """Where a tooth is bent hardest.

    height: from the section up to where the line of force crosses the middle of the tooth [modules].
    thickness: of the tooth in that section [modules].
    load_height: distance of that crossing from the gear's centre [modules].
    radius: distance of the point where the parabola touches from the gear's centre [modules].
    on_fillet: true if the parabola touches the fillet, False if it touches the flank above it.
    """

    height: float
    thickness: float
    load_height: float
    radius: float
    on_fillet: bool

    @property
    def form_factor(self) -> float:
        """The form factor of the plain beam formula, called Y [-]."""
        return self.thickness**2 / (6.0 * self.height)


def weakest_section(form: Form, load_radius: float | None = None) -> WeakestSection:
    """The section of a tooth in which the tooth force bends it hardest.

    load_radius: radius at which the force acts on the flank [modules], from the form radius to the tip
        radius; by default at the tip, the worst place.
    Returns lengths in modules.
    ValueError for a ring, for a load off the flank, or for one so low that the tooth is not bent below it.

    >>> from gearlab.shape import Rack, ToothForm
    >>> tooth = ToothForm(20, Rack(math.radians(20), 1.0, 1.25, 0.38))
    >>> round(weakest_section(tooth).form_factor, 3)              # the published table says 0.322
    0.314

    Source: W. Lewis, Investigation of the strength of gear teeth, Proceedings of the Engineers' Club
    of Philadelphia, 1893, as in Shigley's Mechanical Engineering Design, section 14-1.
    """
    if form.internal:
        raise ValueError(
            "the inscribed parabola measures outward-pointing teeth: give the tooth of a gear, not of a ring"
        )
    least, most = form.form_radius, form.tip_radius
    place = most if load_radius is None else number("load_radius", load_radius)
    if not least <= place <= most:
        raise ValueError(
            f"load_radius = {place:g} modules misses the flank, which runs from {least:.6f} to {most:.6f}"
            " modules. Give a radius in that range."
        )
    low, high = form.flank_range
    roll = min(high, max(low, math.sqrt(max(0.0, (place / form.base_radius) ** 2 - 1.0))))
    (x, y), (across, along) = form.flank(roll)
    top = float(x - y * across / along)

    def ahead(curve: Callable[[float], tuple[np.ndarray, np.ndarray]]) -> Callable[[float], float]:
        """Below 0 where the outline still closes in on the parabola through it, going up.

        0 where it touches.
        """

        def excess(u: float) -> float:
            (x, y), (nx, ny) = curve(u)
            # the tangent of a parabola meets its axis as far above the vertex as the point lies below
            return float(y * ny - 2.0 * nx * (top - x))

        return excess

    fillet, flank = ahead(form.fillet), ahead(form.flank)
    bottom, end = form.fillet_range
    if fillet(bottom) >= 0.0:
        raise ValueError(
            f"load_radius = {place:g} modules lies so low that the tooth is not bent below it. Give a radius"
            f" nearer to the tip ({most:g} modules)."
        )
    if fillet(end) >= 0.0:
        u, curve, on_fillet = find_zero(fillet, bottom, end), form.fillet, True
    elif flank(roll) > 0.0:
        u, curve, on_fillet = find_zero(flank, low, roll), form.flank, False
    else:
        raise ValueError(
            f"load_radius = {place:g} modules: the tooth narrows all the way up to the load, no parabola"
            f" touches it. Give a radius nearer to the tip ({most:g} modules)."
        )
    (x, y), _ = curve(u)
    return WeakestSection(top - float(x), 2.0 * float(y), top, math.hypot(x, y), on_fillet)
