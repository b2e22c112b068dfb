"""One gear on its own."""

from __future__ import annotations

from .. import numerals
from ..scene import Circle, Dimension, Label, Scene, Turn
from .body import body


def gear(
    gear,
    *,
    circles=("pitch circle",),
    dimensions=("pitch diameter", "outside diameter"),
    frame: float | None = None,
    width: float = 520.0,
) -> Scene:
    """A gear with its pitch circle and its diameters; tooth 0 is marked and stands on the right.

    Parameters
    ----------
    gear : Gear
        The gear.
    circles : sequence of str
        Which of "pitch circle", "base circle", "outside circle", "root circle" to draw [-].
    dimensions : sequence of str
        Which of "pitch diameter", "base diameter", "outside diameter", "root diameter" to write [-].
    frame : float, optional
        Width that the picture has room for [gear.unit, in or mm]; left out, the gear fills it.
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        Lengths in the unit of the gear [in or mm]; the gear turns with the driver's angle.

    Raises
    ------
    ValueError
        If a circle or diameter is not known.

    Examples
    --------
    >>> from gearlab.parts import Gear
    >>> gear(Gear(46, module=2.5)).text
    'A spur gear with 46 teeth, module 2.5: pitch diameter 115.00 mm, outside diameter 120.00 mm, root diameter 108.75 mm.'
    """  # noqa: E501
    kinds = ("pitch", "base", "outside", "root")
    for given, ending in ((circles, "circle"), (dimensions, "diameter")):
        for name in given:
            if name not in [f"{kind} {ending}" for kind in kinds]:
                raise ValueError(
                    f"{name!r} is not known; choose from: {', '.join(f'{kind} {ending}' for kind in kinds)}"
                )
    outside = gear.outside_diameter / 2
    scale = (width - 28) / max(frame or 0.0, gear.outside_diameter)
    motion = Turn((0.0, 0.0), 1.0, f"Gear with {gear.teeth} teeth", 360 / gear.teeth, outside)
    shapes = body(gear, "gear", (0.0, 0.0), 0.0, motion, scale)
    shapes += [
        Circle((0.0, 0.0), getattr(gear, name.replace(" circle", "_diameter")) / 2, name, "driver")
        for name in circles
    ]
    shapes += [
        Label((0.0, 0.0), f"{gear.teeth} teeth", (0, 13), size="large", role="letter", of="gear"),
        Label(
            (0.0, 0.0),
            numerals.pitch_name(gear),
            (0, -11),
            size="normal",
            role="speed",
            of="gear",
            room=0.62 * gear.root_diameter,
        ),
    ]
    for i, name in enumerate(sorted(dimensions, key=lambda name: getattr(gear, name.replace(" ", "_")))):
        radius = getattr(gear, name.replace(" ", "_")) / 2
        of = "driver" if name == "pitch diameter" else ""
        shapes.append(
            Dimension(
                (-radius, 0.0),
                (radius, 0.0),
                f"{name} {numerals.length(2 * radius, gear.unit)}",
                -outside - (34 + 46 * i) / scale,
                of=of,
            )
        )
    text = (
        f"A spur gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}: pitch diameter"
        f" {numerals.length(gear.pitch_diameter, gear.unit)}, outside diameter"
        f" {numerals.length(gear.outside_diameter, gear.unit)}, root diameter"
        f" {numerals.length(gear.root_diameter, gear.unit)}."
    )
    half = max(frame or 0.0, gear.outside_diameter) / 2
    bounds = (
        -half,
        -outside - (34 + 46 * (len(dimensions) - 1)) / scale if dimensions else -outside,
        half,
        half,
    )
    return Scene(
        tuple(shapes),
        text,
        gear.unit,
        title=f"{gear.teeth} teeth",
        margin=(14.0, 14.0, 14.0, 14.0),
        width=width,
        bounds=bounds,
    )
