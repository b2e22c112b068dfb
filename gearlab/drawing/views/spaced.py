"""Two gears at a spacing that may be wrong: what moving the shafts does to their pitch circles."""

from __future__ import annotations

from ...parts import Gear
from .. import numerals
from ..scene import Scene
from ..shapes import Dimension, Label, Line, Shape
from .centres import BELOW, SIDES, at_distance, both, check_units, counts, extent, lowest_tip
from .centres import centre_distance as dimension


def spaced(
    driver: Gear,
    driven: Gear,
    centre_distance: float,
    *,
    reach: tuple[float, float] | None = None,
    control: str = "centre_distance",
    width: float = 720.0,
) -> Scene:
    """Two gears with their reference pitch circles, their shafts some distance apart, right or wrong.

    driver, driven: the gears, of one unit.
    centre_distance: distance of the shafts, above 0 [unit of the gears, in or mm].
    reach: least and greatest distance the picture has room for [in or mm]; then its scale stays the same.
    control: name of the number that carrying the driven gear changes.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm].
    ValueError if the units differ or the distance is not above 0.

    >>> from gearlab.parts import Gear
    >>> spaced(Gear(18, module=2.5), Gear(45, module=2.5), 78.7).text[-38:]
    'the pitch circles overlap by 0.050 mm.'
    """
    check_units(driver, driven)
    if not centre_distance > 0:
        raise ValueError(
            f"centre_distance is {centre_distance:g} {driver.unit}; it must be above 0 {driver.unit}"
        )
    unit, gears = driver.unit, at_distance(driver, driven, centre_distance)
    # room for the greatest distance
    left, right = extent(at_distance(driver, driven, reach[1] if reach else centre_distance))
    scale, below = (width - SIDES) / (right - left), lowest_tip(gears)
    first, second = gears
    shapes = first.body(scale, marked=None) + second.body(scale, second.carry(control), marked=None)
    # the driver's outline once more, above the wheel: where the teeth overlap, both are seen
    shapes += [first.teeth("outline"), Line((left, 0.0), (right, 0.0), "line of centres")]
    shapes += [seen.circle() for seen in gears]
    shapes.append(dimension(gears, scale))
    shapes += first.middle(scale) + second.middle(scale)
    inner, outer = driver.pitch_diameter / 2, centre_distance - driven.pitch_diameter / 2
    gap = outer - inner
    shapes.append(_gap(inner, outer, below, scale, unit))
    distance = numerals.length(centre_distance, unit)
    return Scene(
        tuple(shapes),
        f"{both(driver, driven)}, centres {distance} apart: the pitch circles {meeting(gap, unit)}.",
        unit,
        title=f"{counts(driver, driven)}, {distance}",
        margin=(46.0, 12.0, 14.0, 12.0),
        focus=(inner, 0.0, 10 * driver.scale),
        width=width,
        bounds=(left, -below - BELOW / scale, right, below),
    )


def _gap(inner: float, outer: float, above: float, scale: float, unit: str) -> Shape:
    """How far the two pitch circles reach past each other or stay apart, as a dimension or in words."""
    gap = outer - inner
    if abs(gap) * scale <= 1.5:
        words = "pitch circles " + meeting(gap, unit)
        return Label((inner, above), words, (0, 31), size="normal", role="dimension")
    words = f"{numerals.length(abs(gap), unit)} {'overlap' if gap < 0 else 'apart'}"
    return Dimension((min(inner, outer), 0.0), (max(inner, outer), 0.0), words, above + 20 / scale)


def meeting(gap: float, unit: str) -> str:
    """How two pitch circles stand, in words, from the gap between them [unit].

    Half a hundredth of a millimetre counts as touching.

    >>> meeting(0.0, "mm"), meeting(-0.05, "mm"), meeting(4.25, "mm")
    ('touch', 'overlap by 0.050 mm', 'are 4.250 mm apart')
    """
    if numerals.vanishes(gap, unit):
        return "touch"
    return (
        f"overlap by {numerals.length(-gap, unit)}" if gap < 0 else f"are {numerals.length(gap, unit)} apart"
    )
