"""One gear on its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ...parts import Gear
from .. import numerals
from ..motion import Turn
from ..scene import Scene
from ..shapes import Dimension, Label
from .centres import OnCentre


def gear(
    gear: Gear,
    *,
    circles: Sequence[str] = ("pitch circle",),
    dimensions: Sequence[str] = ("pitch diameter", "outside diameter"),
    frame: float | None = None,
    width: float = 520.0,
) -> Scene:
    """A gear with its pitch circle and its diameters; tooth 0 is marked and stands on the right.

    circles: which of "pitch circle", "base circle", "outside circle", "root circle" to draw.
    dimensions: which of "pitch diameter", "base diameter", "outside diameter", "root diameter" to write.
    frame: width that the picture has room for [gear.unit, in or mm]; left out, the gear fills it.
    width: of the picture [points].
    Lengths in the unit of the gear [in or mm]; the gear turns with the driver's angle.
    ValueError if a circle or diameter is not known.

    >>> from gearlab.parts import Gear
    >>> print(gear(Gear(46, module=2.5)).text)
    A spur gear with 46 teeth, module 2.5: pitch diameter 115.00 mm, outside diameter 120.00 mm,
    root diameter 108.75 mm.
    """
    for given, ending in ((circles, "circle"), (dimensions, "diameter")):
        known = [f"{kind} {ending}" for kind in ("pitch", "base", "outside", "root")]
        for name in given:
            if name not in known:
                raise ValueError(f"{name!r} is not known; choose from: {', '.join(known)}")
    unit, outside = gear.unit, gear.outside_diameter / 2
    half = max(frame or 0.0, gear.outside_diameter) / 2
    scale = (width - 28) / (2 * half)
    seen = OnCentre(gear, "gear")
    motion = Turn((0.0, 0.0), 1.0, f"Gear with {gear.teeth} teeth", 360 / gear.teeth, outside)
    shapes = seen.body(scale, motion)
    shapes += [replace(seen.circle(name), of="driver") for name in circles]
    shapes += named(gear, 0.62)
    sizes = {name: getattr(gear, name.replace(" ", "_")) for name in dimensions}
    levels = [-outside - (34 + 46 * row) / scale for row in range(len(dimensions))]
    for level, (name, size) in zip(levels, sorted(sizes.items(), key=lambda item: item[1])):
        words = f"{name} {numerals.length(size, unit)}"
        of = "driver" if name == "pitch diameter" else ""
        shapes.append(Dimension((-size / 2, 0.0), (size / 2, 0.0), words, level, of=of))
    text = (
        f"A spur gear with {gear.teeth} teeth, {numerals.pitch_name(gear)}: pitch diameter"
        f" {numerals.length(gear.pitch_diameter, unit)}, outside diameter"
        f" {numerals.length(gear.outside_diameter, unit)}, root diameter"
        f" {numerals.length(gear.root_diameter, unit)}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=f"{gear.teeth} teeth",
        margin=(14.0, 14.0, 14.0, 14.0),
        width=width,
        bounds=(-half, levels[-1] if levels else -outside, half, half),
    )


def named(gear: Gear, room: float) -> list[Label]:
    """Teeth and pitch in the middle of a gear; the pitch has room on a share of the root diameter."""
    words, wide = numerals.pitch_name(gear), room * gear.root_diameter
    return [
        Label((0.0, 0.0), f"{gear.teeth} teeth", (0, 13), size="large", role="letter", of="gear"),
        Label((0.0, 0.0), words, (0, -11), size="normal", role="speed", of="gear", room=wide),
    ]
