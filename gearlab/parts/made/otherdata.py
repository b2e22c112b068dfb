"""Tooth data of what is no spur gear: racks and bevel gears."""

from __future__ import annotations

import math

from ..gauging import USUAL_PIN
from .part import BevelPart, RackPart
from .toothdata import Measure, ToothData, size_row

SPANNED = 10  # pitches of a rack that are measured together, where it has so many


def rack_data(part: RackPart) -> ToothData:
    """The tooth data of a rack: its ends, its heights, and the height over a pin laid in a space.

    >>> from gearlab.parts import Rack
    >>> data = rack_data(RackPart("rack", Rack(30, module=2.5)))
    >>> dict(data.rows)["circular pitch"], data.take, round(data.measures[0].nominal, 3)
    ('7.854 mm', 'height over a pin of 4.32 mm', 15.581)

    Source: geometry of a pin between two straight flanks.
    """
    rack, unit = part.rack, part.unit
    places = 3 if unit == "mm" else 4

    def said(size: float) -> str:
        return f"{size:.{places}f} {unit}"

    scale, basic = rack.scale, rack.basic
    addendum, dedendum = basic.addendum * scale, basic.dedendum * scale
    rows = [
        ("teeth", f"{rack.teeth}"),
        size_row(rack),
        ("pressure angle", f"{rack.pressure_angle:g} deg"),
        ("tooth system", rack.tooth_system),
        ("circular pitch", said(rack.circular_pitch)),
        ("length, toothed all along", said(rack.toothed_length)),
        ("ends", "each in the middle of a space"),
        ("back to pitch line", said(rack.pitch_height)),
        ("back to tips", said(rack.pitch_height + addendum)),
        ("whole depth", said(addendum + dedendum)),
        ("tooth thickness", f"{said(rack.circular_pitch / 2)} on the pitch line"),
    ]
    count = min(SPANNED, rack.teeth - 1)
    if count > 1:
        rows.append((f"over {count} pitches", f"{said(count * rack.circular_pitch)}, between like flanks"))
    if part.pinion is not None:
        rows.append(("pinion", part.pinion))
    if part.mounting_height is not None:
        rows.append(("back to the pinion's axis", said(part.mounting_height)))
    if part.travel is not None:
        rows.append(("travel", said(part.travel) + (", between stops" if part.stops else ", no stops")))
    if part.guided is not None:
        rows.append(("guide", "holds it to its pinion" if part.guided else "none in the file"))
    pin, angle = USUAL_PIN * scale, math.radians(rack.pressure_angle)
    centre = pin / 2 / math.sin(angle) - rack.circular_pitch / 4 / math.tan(angle)
    how = f"height over a pin of {pin:.{2 if unit == 'mm' else 4}f} {unit}"
    measure = Measure(how, rack.pitch_height + centre + pin / 2)
    return ToothData(
        tuple(rows), (measure,), how, "a depth gauge reads it from the back; jaws slip off flanks"
    )


def bevel_data(part: BevelPart) -> ToothData:
    """The tooth data of a bevel gear: its cones, its diameters at the large end, where it is mounted.

    >>> from gearlab.parts import BevelPair
    >>> rows = dict(bevel_data(BevelPart("driver", BevelPair(20, 20, module=2.5), 0)).rows)
    >>> rows["pitch cone angle"], rows["outside diameter"], rows["crossing of the axes to tips"]
    ('45.000 deg', '53.536 mm', '23.232 mm')
    """
    pair, side, unit = part.pair, part.side, part.unit
    places = 3 if unit == "mm" else 4

    def said(size: float) -> str:
        return f"{size:.{places}f} {unit}"

    cone = cone_of(part)
    angle = pair.cone_angles[side]
    rows = [
        ("teeth", f"{part.teeth}"),
        size_row(pair),
        ("pressure angle", f"{pair.pressure_angle:g} deg"),
        ("shaft angle", f"{pair.shaft_angle:g} deg"),
        ("pitch cone angle", f"{angle:.3f} deg"),
        ("face cone angle", f"{cone.tip_angle:.3f} deg"),
        ("root cone angle", f"{cone.root_angle:.3f} deg"),
        ("cone distance", said(pair.cone_distance)),
        ("face width", said(part.face_width) if part.face_width else "not stated"),
        ("pitch diameter", f"{said(pair.pitch_diameters[side])}, at the large end"),
        ("outside diameter", said(pair.outside_diameters[side])),
        ("addendum and dedendum", f"{said(cone.addendum)}, {said(cone.dedendum)}"),
        ("tooth thickness", f"{said(math.pi * pair.scale / 2)} on the pitch circle, without play"),
        ("virtual teeth", f"{pair.virtual_teeth[side]:.2f}"),
        ("back cone", f"{said(cone.back_radius)}; developed {360 * math.cos(cone.angle):.2f} deg of it"),
        ("crossing of the axes to tips", said(pair.crown_distances[side])),
        ("mounting distance", f"{said(pair.apex_distances[side])}, crossing to large pitch circle"),
    ]
    if part.mounting is not None and abs(part.mounting - pair.apex_distances[side]) > 0.5 * 10**-places:
        rows.append(("the file mounts it at", said(part.mounting)))
    if part.mate:
        rows.append(("mate", f"{part.mate}; they are made as a pair"))
    return ToothData(tuple(rows), (), "outside diameter and crossing to tips")


class Cone:
    """The cones of a bevel gear, from the apex, at the large end [unit, deg].

    Its teeth shrink towards the apex, which tips and roots share with the pitch cone.

    Source: Tredgold's construction; geometry of the cones.
    """

    def __init__(self, part: BevelPart):
        pair, side = part.pair, part.side
        angle = math.radians(pair.cone_angles[side])
        self.angle = angle
        self.distance = pair.cone_distance
        self.radius = pair.pitch_diameters[side] / 2
        self.addendum = (pair.outside_diameters[side] / 2 - self.radius) / math.cos(angle)
        row = pair.system
        whole = (row.addendum + row.dedendum) * pair.scale + row.extra(pair.unit)
        self.dedendum = whole - self.addendum
        self.tip_angle = math.degrees(angle + math.atan(self.addendum / self.distance))
        self.root_angle = math.degrees(angle - math.atan(self.dedendum / self.distance))
        self.back_radius = self.radius / math.cos(angle)
        self.small = 1 - (part.face_width or pair.largest_face) / self.distance

    def at(self, height: float, share: float = 1.0) -> tuple[float, float]:
        """A point of the back cone, so high above the pitch cone [unit]: along the axis, and off it.

        share: of the way from the apex, 1 at the large end.
        """
        cos, sin = math.cos(self.angle), math.sin(self.angle)
        return share * (self.distance * cos - height * sin), share * (self.radius + height * cos)


def cone_of(part: BevelPart) -> Cone:
    """The cones of a bevel gear."""
    return Cone(part)
