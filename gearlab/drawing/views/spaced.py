"""Two gears at a spacing that may be wrong: what moving the shafts does to their pitch circles."""

from __future__ import annotations

from .. import numerals
from ..scene import Carry, Circle, Dimension, Label, Line, Scene, Teeth
from .body import body, middle, tooth_outline


def spaced(
    driver,
    driven,
    centre_distance: float,
    *,
    reach: tuple[float, float] | None = None,
    control: str = "centre_distance",
    width: float = 720.0,
) -> Scene:
    """Two gears with their reference pitch circles, their shafts some distance apart, right or wrong.

    Parameters
    ----------
    driver, driven : Gear
        The gears, of one unit.
    centre_distance : float
        Distance of the shafts, above 0 [unit of the gears, in or mm].
    reach : pair of float, optional
        Least and greatest distance the picture has room for [in or mm]; then its scale stays the same.
    control : str
        Name of the number that carrying the driven gear changes [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gears [in or mm].

    Raises
    ------
    ValueError
        If the units differ or the distance is not above 0.

    Examples
    --------
    >>> from gearlab.parts import Gear
    >>> spaced(Gear(18, module=2.5), Gear(45, module=2.5), 78.7).text[-38:]
    'the pitch circles overlap by 0.050 mm.'
    """
    if driver.unit != driven.unit:
        raise ValueError(
            f"the gears have different units, {driver.unit} and {driven.unit}: give both a module or both a"
            " diametral pitch"
        )
    if not centre_distance > 0:
        raise ValueError(
            f"centre_distance is {centre_distance:g} {driver.unit}; it must be above 0 {driver.unit}"
        )
    unit = driver.unit
    low, high = reach or (centre_distance, centre_distance)
    first, second = driver.outside_diameter / 2, driven.outside_diameter / 2
    scale = (width - 24) / (first + high + second)
    place = (centre_distance, 0.0)
    # a space of the driven gear faces the driver's tooth
    start = 180.0 - 180.0 / driven.teeth
    carry = Carry(
        control, (1.0, 0.0), f"Driven B, {driven.teeth} teeth: place along the line of centres", place, second
    )
    shapes = body(driver, "driver", (0.0, 0.0), 0.0, None, scale, None)
    shapes += body(driven, "driven", place, start, carry, scale, None)
    # the driver's outline once more, above the wheel: where the teeth overlap, both are seen
    shapes.append(Teeth(tooth_outline(driver), driver.teeth, (0.0, 0.0), 0.0, "outline", "driver"))
    shapes.append(Line((-first, 0.0), (high + second, 0.0), "line of centres"))
    shapes += [
        Circle((0.0, 0.0), driver.pitch_diameter / 2, "pitch circle", "driver"),
        Circle(place, driven.pitch_diameter / 2, "pitch circle", "driven"),
    ]
    below = max(first, second)
    shapes.append(
        Dimension(
            (0.0, 0.0),
            place,
            f"centre distance {numerals.length(centre_distance, unit)}",
            -below - 34 / scale,
        )
    )
    shapes += middle(driver, "driver", (0.0, 0.0), scale, 0.0) + middle(driven, "driven", place, scale, 0.0)
    gap = centre_distance - (driver.pitch_diameter + driven.pitch_diameter) / 2
    inner, outer = driver.pitch_diameter / 2, centre_distance - driven.pitch_diameter / 2
    said = meeting(gap, unit)
    if abs(gap) * scale > 1.5:
        words = f"{numerals.length(abs(gap), unit)} {'overlap' if gap < 0 else 'apart'}"
        shapes.append(
            Dimension((min(inner, outer), 0.0), (max(inner, outer), 0.0), words, below + 20 / scale)
        )
    else:
        shapes.append(
            Label((inner, below), "pitch circles " + said, (0, 31), size="normal", role="dimension")
        )
    text = (
        f"Driver A with {driver.teeth} teeth and driven B with {driven.teeth} teeth,"
        f" {numerals.pitch_name(driver)}, centres {numerals.length(centre_distance, unit)} apart: the pitch"
        f" circles {said}."
    )
    margin = (46.0, 12.0, 14.0, 12.0)
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=f"{driver.teeth} and {driven.teeth} teeth, {numerals.length(centre_distance, unit)}",
        margin=margin,
        focus=(inner, 0.0, 10 * driver.scale),
        width=width,
        bounds=(-first, -below - 34 / scale, high + second, below),
    )


def meeting(gap: float, unit: str) -> str:
    """How two pitch circles stand, in words, from the gap between them [unit].

    Half a hundredth of a millimetre counts as touching.

    >>> meeting(0.0, "mm"), meeting(-0.05, "mm"), meeting(4.25, "mm")
    ('touch', 'overlap by 0.050 mm', 'are 4.250 mm apart')
    """
    near = 0.005 if unit == "mm" else 0.0002
    if abs(gap) < near:
        return "touch"
    return (
        f"overlap by {numerals.length(-gap, unit)}" if gap < 0 else f"are {numerals.length(gap, unit)} apart"
    )
