"""The parts table of a design: what is needed to make or to order each piece, as CSV."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from gearlab.course.gradebook import csv_line, harmless
from gearlab.digits import placed_text
from gearlab.parts import BevelPair, Gear, InternalGear, Rack
from gearlab.parts.made import (
    BevelPart,
    BoughtPart,
    GearPart,
    Limits,
    Part,
    PartsList,
    PlatePart,
    RackPart,
    ShaftPart,
)

#: The columns of the parts table.
COLUMNS = ("part", "kind", "count", "unit", "size", "fits and limits", "material", "where")


def parts_table(parts: PartsList) -> str:
    """The parts of a design as CSV: everything that is needed to make or to order each piece, with units.

    What is made comes first, in the order of the design; then what is bought, pieces that are alike in one
    row with how many there are; then what could not be made a part of, with the reason.
    """
    rows: list[tuple] = [COLUMNS]
    workshop_parts = [part for part in parts.parts if not isinstance(part, BoughtPart)]
    for part in (*workshop_parts, *_merged(part for part in parts.parts if isinstance(part, BoughtPart))):
        size, limits, where = _told(part)
        rows.append((part.name, part.kind, part.quantity, part.unit, size, limits, part.material, where))
    rows += [(name, "not made", "0", "", "", "", "", why) for name, why in parts.left_out]
    # names come from a file that somebody wrote
    return "".join(csv_line([harmless(str(cell)) for cell in row]) for row in rows)


def _merged(pieces: Iterable[BoughtPart]) -> list[BoughtPart]:
    """Pieces that are bought, alike ones together, by kind and size."""
    alike: dict[tuple[str, ...], list[BoughtPart]] = {}
    for piece in pieces:
        alike.setdefault((piece.kind, piece.size, piece.material, piece.unit), []).append(piece)
    merged = []
    for _, group in sorted(alike.items()):
        first = group[0]
        name = first.name if len(group) == 1 else first.kind
        where = "; ".join(piece.where for piece in group)
        merged.append(replace(first, name=name, where=where, quantity=sum(each.quantity for each in group)))
    return merged


def _told(part: Part) -> tuple[str, str, str]:
    """Size of a part, its fits and limits, and where it goes, in words with units."""
    if isinstance(part, BoughtPart):
        return part.size, "", part.where
    if isinstance(part, PlatePart):
        return _told_plate(part)
    if isinstance(part, ShaftPart):
        return _told_shaft(part)
    if isinstance(part, RackPart):
        return _told_rack(part)
    where = f"on {part.shaft}" if part.shaft else ""
    if isinstance(part, BevelPart):
        return _told_bevel(part), f"made as a pair with {part.mate}", where
    return _told_gear(part), _limits_of(part), where


def _told_plate(part: PlatePart) -> tuple[str, str, str]:
    unit = part.unit
    holes = [
        f"{hole.name} diameter {hole.diameter:g} {unit}{'' if hole.stated else ' (as its shaft)'}"
        f" at ({hole.x:g}, {hole.y:g}) {unit}"
        for hole in part.holes
    ]
    spacings = [
        f"{' to '.join(spacing.holes)} {spacing.distance:.6g} \u00b1 {spacing.within:g} {unit}"
        for spacing in part.spacings
    ]
    size = f"{part.length:g} x {part.height:g} x {part.thickness:g} {unit}"
    return f"{size}; holes: {', '.join(holes) or 'none'}", "; ".join(spacings), ""


def _told_rack(part: RackPart) -> tuple[str, str, str]:
    rack, unit = part.rack, part.unit
    words = [
        f"{rack.teeth} teeth, {_teeth(rack)}",
        f"{rack.toothed_length:.6g} {unit} long",
        f"pitch line {rack.pitch_height:g} {unit} above the back",
        _face(part.face_width, unit),
    ]
    return "; ".join(words), "", f"with {part.pinion}" if part.pinion else ""


def _told_bevel(part: BevelPart) -> str:
    pair, side, unit = part.pair, part.side, part.unit
    words = [
        f"{part.teeth} teeth, {_teeth(pair)}",
        f"outside diameter {pair.outside_diameters[side]:.6g} {unit}",
        f"cone angle {pair.cone_angles[side]:.5g} deg",
        f"mounting distance {pair.apex_distances[side]:.6g} {unit}",
        _face(part.face_width, unit),
        f"bore {part.bore:g} {unit} as its shaft" if part.bore is not None else "bore not stated",
    ]
    return "; ".join(words)


def _face(width: float | None, unit: str) -> str:
    return f"face {width:g} {unit}" if width is not None else "face not stated"


def _teeth(part: Gear | InternalGear | Rack | BevelPair) -> str:
    size = f"module {part.scale:.6g} mm" if part.unit == "mm" else f"{1 / part.scale:.6g} to the inch"
    return f"{size}, {part.pressure_angle:g} deg"


def _between(size: Limits, unit: str) -> str:
    if size.low is None or size.high is None:
        return ""
    places = 3 if unit == "mm" else 4
    return f"{placed_text(size.low, places)} to {placed_text(size.high, places)} {unit}"


def _told_shaft(part: ShaftPart) -> tuple[str, str, str]:
    unit = part.unit
    words = [f"diameter {part.diameter.nominal:g} {unit}"]
    if part.length is not None:
        words.append(f"length {part.length:g} {unit}")
    else:
        words.append("length not stated" + (f", at least {part.needed:g} {unit}" if part.needed else ""))
    words += [f"flat {f.depth:g} {unit} deep from {f.low:g} to {f.high:g} {unit}" for f in part.flats]
    for key in part.keyways:
        at = f" from {key.low:g} {unit}" if key.low is not None else ""
        words.append(f"keyway {key.width:g} x {key.depth:g} {unit}, {key.length:g} {unit} long{at}")
    limits = [f"{name} fit: {_between(size, unit)}" for name, size in part.fits if size.low is not None]
    place = part.place
    where = f"at ({place[0]:g}, {place[1]:g}) {unit}" if place is not None else "not on the plate"
    return "; ".join(words), "; ".join(limits), where


def _told_gear(part: GearPart) -> str:
    gear, unit = part.toothed, part.unit
    words = [f"{gear.teeth} teeth{', internal' if gear.internal else ''}, {_teeth(gear)}", gear.tooth_system]
    if gear.profile_shift:
        words.append(f"shift {gear.profile_shift:g} modules")
    if gear.tooth_thinning:
        words.append(f"teeth thinned by {gear.tooth_thinning:g} {unit}")
    if not isinstance(gear, Gear):
        rim = f"{part.rim_diameter:g} {unit}" if part.rim_diameter is not None else "not stated"
        words.append(f"inside diameter {gear.inside_diameter:.6g} {unit}, rim diameter {rim}")
    else:
        words.append(f"outside diameter {gear.outside_diameter:.6g} {unit}")
        words.append(f"bore {part.bore.nominal:g} {unit}" if part.bore is not None else "bore not stated")
    words.append(_face(part.face_width, unit))
    if part.hub_diameter is not None:
        words.append(f"hub {part.hub_diameter:g} x {part.hub_projection:g} {unit}")
        words.append(f"{part.overall_length:g} {unit} overall")
    if part.keyway is not None:
        words.append(f"keyway {part.keyway.width:g} x {part.keyway.depth:g} {unit}")
    if part.screw is not None:
        screw = part.screw
        count = f"{screw.count} holes" if screw.count > 1 else "hole"
        words.append(f"{count} for {screw.size}, drill {screw.tap_drill:.3g}, {screw.depth:g} {unit} deep")
    return "; ".join(words)


def _limits_of(part: GearPart) -> str:
    if part.bore is None or part.bore.low is None:
        return ""
    return f"bore {_between(part.bore, part.unit)} ({part.fit} fit)"
