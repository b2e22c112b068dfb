"""The paths that cut gears, rings and sectors: teeth, bore with its keyway, marks."""

from __future__ import annotations

import math

import numpy as np

from gearlab.parts import Gear
from gearlab.parts.internal import InternalGear
from gearlab.parts.made import Keyway

from .cutfile import CutFile, Path, Round
from .lettering import Words, width_of
from .offsets import check_moves, circle, laid, moved, note, points_within

#: A rim this many times as thick as the teeth are high bends no more than a solid one: where a design says
#: none (AGMA 2101-D04, rim thickness factor; from memory).
RIM = 1.2


def gear_cut(
    gear: Gear,
    *,
    bore: float | None = None,
    keyway: Keyway | None = None,
    cut_width: float = 0.0,
    clearance: float = 0.0,
    tolerance: float | None = None,
    name: str | None = None,
) -> CutFile:
    """The paths that cut a gear with its bore; tooth 0 carries a mark.

    bore: diameter of the bore, above 0 and below the root diameter; left out, a centre cross is marked
        instead [gear.unit, in or mm].
    keyway: cut with the bore as one closed path; under tooth 0, or the space beside it, as it says.
    cut_width: width that the beam takes away, from 0 up to half a tooth thickness [gear.unit].
    clearance: what each surface is set back for a printed part, from 0 up to a quarter of a tooth thickness
        [gear.unit].
    tolerance: largest distance of the path from the exact curve [gear.unit]; left out, 0.005 mm or 0.0002 in
        (for teeth under a quarter of a millimetre, a fiftieth of a module).
    name: what is marked on the part and stands in the file; left out, the gear's own name.
    ValueError for a value outside its limits; the message names them.

    >>> cut = gear_cut(__import__("gearlab").Gear(18, module=2.5), bore=10.0, cut_width=0.18)
    >>> round(cut.rounds[0].radius, 6), cut.note
    (4.91, 'lengths in mm; cut width 0.18 mm taken into account; points within 0.005 mm of the exact curve')
    """
    check_moves(gear.tooth_thickness, gear.unit, cut_width, clearance)
    check_bore(gear, bore, keyway, cut_width)
    within = points_within(tolerance, gear)
    move = clearance - cut_width / 2
    scale, tip = gear.scale, gear.outside_diameter / 2
    paths = [
        Path(np.array([[tip - 1.9 * scale, 0.0], [tip - 0.6 * scale, 0.0]]), "mark", closed=False),
        Path(laid(gear, -move, within), "outline"),
    ]
    holes, rounds = _bore(bore, keyway, gear.teeth, move, within, gear.root_diameter / 2)
    name = gear.name if name is None else name
    inner = bore / 2 if bore is not None else 0.0
    return CutFile(
        name,
        gear.unit,
        (*holes, *paths),
        rounds,
        _name_on(name, gear.root_diameter / 2, inner),
        note(gear.unit, cut_width, clearance, within, _where(keyway)),
        within,
    )


def ring_cut(
    ring: InternalGear,
    *,
    rim_diameter: float | None = None,
    cut_width: float = 0.0,
    clearance: float = 0.0,
    tolerance: float | None = None,
    name: str | None = None,
) -> CutFile:
    """The paths that cut a ring: its teeth as a hole, then its rim; tooth 0 carries a mark.

    rim_diameter: above the root diameter [ring.unit]; left out, 1.2 times the whole depth stand around the
        teeth, and the file says so.
    The others as for a gear. ValueError for a value outside its limits.

    >>> cut = ring_cut(__import__("gearlab").InternalGear(72, module=2.5), rim_diameter=210.0, cut_width=0.2)
    >>> [round(x, 3) for x in cut.bounds]
    [-105.1, -105.1, 105.1, 105.1]
    """
    unit, root = ring.unit, ring.root_diameter
    check_moves(ring.tooth_thickness, unit, cut_width, clearance)
    rim = rim_of(ring) if rim_diameter is None else rim_diameter
    if rim <= root:
        raise ValueError(
            f"rim_diameter {rim:g} {unit} is out of range: give more than the root diameter {root:.4g}"
            f" {unit}; {rim_of(ring):.4g} {unit} is usual"
        )
    within = points_within(tolerance, ring)
    move = clearance - cut_width / 2
    middle = (root + rim) / 4
    mark = np.array([[root / 2 + 0.2 * (rim - root) / 2, 0.0], [root / 2 + 0.8 * (rim - root) / 2, 0.0]])
    chosen = (
        "" if rim_diameter is not None else f"rim of {rim:.4g} {unit} chosen here: no rim_diameter is given"
    )
    name = ring.name if name is None else name
    height = min(0.5 * (rim - root) / 2, 1.2 * middle / max(1.0, width_of(name)), 3 * ring.scale)
    # the band is bent: the corners of the words lie further out than their middle
    while math.hypot(middle + height, width_of(name) * height / 2) > 0.99 * rim / 2 and height > 0:
        height *= 0.9
    return CutFile(
        name,
        unit,
        (Path(mark, "mark", closed=False), Path(laid(ring, move, within), "hole")),
        (Round((0.0, 0.0), rim / 2 - move, "outline"),),
        (Words((0.0, -middle), name, height),) if middle - height > root / 2 else (),
        note(unit, cut_width, clearance, within, chosen),
        within,
    )


def rim_of(ring: InternalGear) -> float:
    """The outside diameter of a rim that carries the teeth of a ring [ring.unit].

    >>> rim_of(InternalGear(72, module=2.5))
    199.75
    """
    return ring.root_diameter + 2 * RIM * (ring.root_diameter - ring.inside_diameter) / 2


def sector_cut(
    gear: Gear,
    start: float,
    end: float,
    *,
    bore: float | None = None,
    keyway: Keyway | None = None,
    hub_diameter: float | None = None,
    cut_width: float = 0.0,
    clearance: float = 0.0,
    tolerance: float | None = None,
    name: str | None = None,
) -> CutFile:
    """The paths that cut a part of a gear: the whole teeth between two angles, on a wedge with its hub.

    start, end: angles between which it stands, counter-clockwise from tooth 0, less than a full turn [deg].
        A tooth of which only a part lies between them is left out.
    hub_diameter: of the round about the bore, below the root diameter [gear.unit]; left out, twice the bore
        or midway between bore and root, whichever is less.
    The others as for a gear. ValueError for a value outside its limits, or angles without a whole tooth.

    >>> gear = __import__("gearlab").Gear(45, module=2.5)
    >>> sector_cut(gear, -44, 44, bore=10).note.split("; ")[2]
    '11 whole teeth between -44 and 44 deg'
    """
    check_moves(gear.tooth_thickness, gear.unit, cut_width, clearance)
    check_bore(gear, bore, keyway, cut_width)
    within = points_within(tolerance, gear)
    share = within if cut_width / 2 == clearance else within / 2
    line, teeth = sector_outline(gear, (start, end), bore, hub_diameter, share)
    move = clearance - cut_width / 2
    holes, rounds = _bore(bore, keyway, gear.teeth, move, within, gear.root_diameter / 2)
    name = f"{gear.name}_{teeth}_teeth" if name is None else name
    middle = math.radians((start + end) / 2)
    root, inner = gear.root_diameter / 2, bore / 2 if bore is not None else 0.0
    at = (root + inner) / 2
    half = at * math.sin(min(math.pi / 2, math.radians(end - start) / 2))
    height = min(root / 8, (root - inner) / 4, 2 * half / (1.3 * max(1.0, width_of(name))))
    return CutFile(
        name,
        gear.unit,
        (*holes, Path(moved(line, -move, within / 2), "outline")),
        rounds,
        (Words((at * math.cos(middle), at * math.sin(middle)), name, height),),
        note(
            gear.unit,
            cut_width,
            clearance,
            within,
            f"{teeth} whole teeth between {start:g} and {end:g} deg",
            _where(keyway),
        ),
        within,
    )


def sector_outline(
    gear: Gear, angles: tuple[float, float], bore: float | None, hub: float | None, tolerance: float
) -> tuple[np.ndarray, int]:
    """The outline of a sector, its first point not again, and how many teeth it has.

    hub: its diameter, as for sector_cut; ValueError for angles without a whole tooth.
    """
    from shapely import Polygon, unary_union

    start, end = angles
    unit, root, inner = gear.unit, gear.root_diameter, bore or 0.0
    if not (math.isfinite(start) and math.isfinite(end) and 0 < end - start < 360):
        raise ValueError(
            f"a sector from {start:g} to {end:g} deg is out of range: give two angles, the second above the"
            " first by less than 360 deg"
        )
    hub = min(2 * inner, (inner + root) / 2) if hub is None else hub
    if hub and not inner < hub < root:
        raise ValueError(
            f"hub_diameter {hub:g} {unit} is out of range: give more than the bore {inner:g} {unit} and less"
            f" than the root diameter {root:.4g} {unit}"
        )
    pitch = 360 / gear.teeth
    half = math.degrees(gear.tooth.root_range[0])  # a tooth with its fillets reaches so far to either side
    kept = [
        k for k in range(-gear.teeth, 2 * gear.teeth) if start <= k * pitch - half and k * pitch + half <= end
    ]
    if not kept:
        raise ValueError(
            f"between {start:g} and {end:g} deg there is no whole tooth: one comes every {pitch:.4g} deg;"
            f" give angles at least {2 * half:.4g} deg apart with the middle of a tooth between them"
        )
    whole = Polygon(gear.outline(tolerance / gear.scale))
    reach = gear.outside_diameter
    wide = np.radians(np.linspace(start, end, 2 + int((end - start) / 30)))
    wedge = Polygon(np.vstack([[(0.0, 0.0)], reach * np.column_stack([np.cos(wide), np.sin(wide)])]))
    bands = []
    for k in kept:
        about = np.radians(np.array([k * pitch - pitch / 2, k * pitch, k * pitch + pitch / 2]))
        bands.append(
            Polygon(np.vstack([[(0.0, 0.0)], reach * np.column_stack([np.cos(about), np.sin(about)])]))
        )
    base = Polygon(circle(root / 2, tolerance)).intersection(wedge)
    parts = [base, whole.intersection(unary_union(bands)).intersection(wedge)]
    if hub:
        parts.append(Polygon(circle(hub / 2, tolerance)))
    line = (
        unary_union(parts).buffer(tolerance / 100).buffer(-tolerance / 100)
    )  # no slit where two pieces meet
    return np.asarray(line.exterior.coords)[-2::-1], len(kept)


def check_bore(gear: Gear, bore: float | None, keyway: Keyway | None, cut_width: float) -> None:
    """ValueError for a bore or a keyway that leaves no gear."""
    unit, root = gear.unit, gear.root_diameter
    if bore is None:
        return
    if not cut_width < bore < root:
        raise ValueError(
            f"bore {bore:g} {unit} is out of range: give more than the cut width {cut_width:g}"
            f" {unit} and less than the root diameter {root:.4g} {unit}"
        )
    if keyway is None:
        return
    if not cut_width < keyway.width < bore:
        raise ValueError(
            f"keyway_width {keyway.width:g} {unit} is out of range: give more than the cut width"
            f" {cut_width:g} {unit} and less than the bore {bore:g} {unit}"
        )
    room = root / 2 - bore / 2
    if not 0 < keyway.depth < room:
        raise ValueError(
            f"keyway_depth {keyway.depth:g} {unit} is out of range: from the bore of {bore:g} {unit} to the"
            f" root circle there is {room:.4g} {unit}; give more than 0 and less than that"
        )


def bore_path(bore: float, keyway: Keyway | None, teeth: int, move: float, tolerance: float) -> np.ndarray:
    """A bore, with its keyway, as one closed path, (n, 2), its first point not again [unit].

    move: by how much it is wider at every place; below 0 narrower.
    The keyway stands at the angle of tooth 0, or of the space before it, as the record says; where that is
    left open, under tooth 0.
    """
    radius = bore / 2 + move
    if keyway is None:
        return circle(radius, tolerance)[:-1]
    half, top = keyway.width / 2 + move, bore / 2 + keyway.depth + move
    edge = math.asin(half / radius)
    arc = circle(radius, tolerance, edge, 2 * math.pi - edge)
    line = np.vstack([arc, [[top, -half], [top, half]]])
    turn = math.radians(keyway_turn(keyway, teeth))
    return line @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])


def keyway_turn(keyway: Keyway, teeth: int) -> float:
    """Where the middle of a keyway stands, counter-clockwise from the middle of tooth 0 [deg].

    >>> keyway_turn(Keyway(3, 1.4, 20, "tooth"), 18), keyway_turn(Keyway(3, 1.4, 20, "space"), 18)
    (0.0, -10.0)
    """
    return -180.0 / teeth if keyway.on == "space" else 0.0


def _where(keyway: Keyway | None) -> str:
    """What the note says of a keyway."""
    if keyway is None:
        return ""
    if keyway.on is None:
        return "keyway under the marked tooth: the design leaves that open"
    return (
        "keyway under the marked tooth" if keyway.on == "tooth" else "keyway under the space beside the mark"
    )


def _bore(
    bore: float | None, keyway: Keyway | None, teeth: int, move: float, tolerance: float, root: float
) -> tuple[list[Path], tuple[Round, ...]]:
    """What is cut in the middle: a circle, a bore with its keyway, or a cross that marks the centre."""
    if bore is None:
        reach = 0.2 * root
        ends = ([[-reach, 0.0], [reach, 0.0]], [[0.0, -reach], [0.0, reach]])
        return [Path(np.array(line), "mark", closed=False) for line in ends], ()
    if keyway is None:
        return [], (Round((0.0, 0.0), bore / 2 + move, "hole"),)
    return [Path(bore_path(bore, keyway, teeth, move, tolerance), "hole")], ()


def _name_on(name: str, root: float, inner: float) -> tuple[Words, ...]:
    """A name between bore and teeth, as large as fits.

    Neither the bore nor the root circle cuts through it; none where nothing fits.
    """
    room, reach = root - inner, 0.96 * root
    middle = inner + room / 2
    if middle >= reach or not name.strip():
        return ()
    # the lower corners are nearest to the teeth: (middle + h)^2 + (half a width of h)^2 may be as much as the
    # reach squared
    half = width_of(name) / 2
    height = (math.sqrt(middle**2 + (1 + half**2) * (reach**2 - middle**2)) - middle) / (1 + half**2)
    return (Words((0.0, -middle), name, min(room / 4, root / 7, height)),)
