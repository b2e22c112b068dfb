"""The block of tooth data of a part's drawing: what the workshop cuts to, and what the bench measures.

A play that is wanted becomes limits of what is measured: the play at the operating pitch circles is taken
back to the reference circles, what the spacing gives of it is taken off, and the two gears share the rest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any

from gearlab.digits import placed_text
from gearlab.shape.pins import pin_range

from ..design import Design, MeshTable, PlanetaryTable
from ..explained import Sized
from ..gauging import USUAL_PIN
from ..gear import Gear
from ..internal import USUAL_PIN as USUAL_PIN_INSIDE
from ..internal import InternalGear
from ..mesh import Mesh
from ..published.recommended import recommended_backlash
from .parts_of import set_parts

#: Of a module: how much more play than the least one is allowed where a design does not say [modules].
MORE_PLAY = 0.04
LEAST_PLAY = 0.04  # least play where no table holds the pair [modules]
#: A caliper's jaws go into the spaces from this size of tooth on, and find their way on so wide a face.
LEAST_MODULE = {"mm": 1.0, "in": 1 / 25}  # common practice [unit]
LEAST_FACE = {"mm": 3.0, "in": 1 / 8}  # common practice [unit]

Toothed = Gear | InternalGear
#: By how much teeth may be thinner at most and at least than they are drawn [unit].
Change = tuple[float, float]


@dataclass(frozen=True)
class Measure:
    """A size that is measured over teeth, with its limits for the wanted backlash [unit].

    how: such as "span over 3 teeth"; low and high are None for a gear without a mate.
    """

    how: str
    nominal: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class ToothData:
    """The rows of the block, its measures, which of them to take at the bench, and why."""

    rows: tuple[tuple[str, str], ...]
    measures: tuple[Measure, ...]
    take: str
    why: str = ""


def size_row(toothed: Sized) -> tuple[str, str]:
    """The row that says the size of the teeth."""
    if toothed.unit == "mm":
        return "module", f"{toothed.scale:g} mm"
    return "diametral pitch", f"{placed_text(1 / toothed.scale, 6)} to the inch"


def wanted_backlash(design: Design, pair: MeshTable) -> tuple[float, float]:
    """Least and most backlash that is wanted of a mesh: the file's, else a published least one [unit].

    Where no table holds the pair, 0.04 modules; what the holes as they are drawn leave, where that is less;
    0.04 modules more are allowed.
    """
    driver, driven = design.toothed[pair.driver], design.toothed[pair.driven]
    scale, least = driver.scale, pair.least_backlash
    if least is None:
        least = _published(driver, driven)
        drawn = _drawn(design, pair)
        least = min(least, max(0.0, drawn[0] if drawn else 0.0) or least)
    most = pair.most_backlash if pair.most_backlash is not None else least + MORE_PLAY * scale
    return least, max(most, least)


def _published(driver: Toothed, driven: Toothed) -> float:
    """Least play of two gears by a published table, else 0.04 modules [unit]."""
    try:
        return recommended_backlash(_mesh(driver, driven))
    except ValueError:
        return LEAST_PLAY * driver.scale


def _mesh(first: Any, second: Any, distance: float | None = None) -> Mesh:
    # a ring that drives is the second one all the same
    driver, driven = (second, first) if first.internal else (first, second)
    if isinstance(driver, InternalGear):
        raise ValueError("two rings do not mesh")
    return Mesh(driver, driven) if distance is None else Mesh(driver, driven, centre_distance=distance)


def tooth_data(design: Design, name: str) -> ToothData:
    """The tooth data of a gear of a design, with limits for the backlash that its meshes want.

    name: of a gear or ring of the design, or of a planetary set as ``parts_of`` names it.
    ValueError for a gear that cannot be, or that is not in the design.
    """
    if name not in design.toothed:
        return _of_a_set(design, name)
    gear = design.toothed[name]
    rows: list[tuple[str, str]] = []
    changes: list[Change | None] = []
    for pair in design.meshes_of(name):
        least, most = wanted_backlash(design, pair)
        rows += [("mate", pair.mate_of(name)), ("backlash wanted", _from_to(least, most, gear.unit))]
        if design.reading(pair.name, "hole_spacing") is not None:
            rows.append(("spacing of its holes", f"{_spacing(design, pair):g} {gear.unit}, as measured"))
        changes.append(_change(design, pair, name))
    if not changes:
        return data_of(gear)
    change = _both(changes)
    if change is None:
        rows.append(("limits", "none: no thickness gives this play at this spacing; see the review"))
    return data_of(gear, rows, change)


def _from_to(least: float, most: float, unit: str) -> str:
    places = 3 if unit == "mm" else 4
    return f"{least:.{places}f} to {most:.{places}f} {unit}"


def _both(changes: Iterable[Change | None]) -> Change | None:
    """What suits every mesh of a gear; None where nothing does."""
    known = [change for change in changes if change is not None]
    if not known or len(known) < len(list(changes)):
        return None
    most, least = min(change[0] for change in known), max(change[1] for change in known)
    return None if most < least - 1e-12 else (most, least)


def _spacing(design: Design, pair: MeshTable) -> float:
    """Distance of the shafts of a mesh [unit]: as measured, where it was, else as drawn."""
    reading = design.reading(pair.name, "hole_spacing")
    return reading.value if reading is not None else design.distance(*pair.gears)


def _drawn(design: Design, pair: MeshTable) -> tuple[float, float] | None:
    """Backlash at the spacing of the holes [unit], and how far that is from the reference spacing [-].

    None for a pair that cannot be: the review says why.
    """
    driver, driven = design.toothed[pair.driver], design.toothed[pair.driven]
    try:
        distance = _spacing(design, pair)
        mesh = _mesh(driver, driven, distance)
        way = -1 if mesh.internal else 1
        reference = (mesh.driven.pitch_diameter + way * mesh.driver.pitch_diameter) / 2
        return mesh.backlash, distance / reference
    except (ValueError, KeyError):
        return None


def _change(design: Design, pair: MeshTable, name: str) -> Change | None:
    """By how much a gear may be thinner, at most and at least, than it is drawn [unit], for one mesh.

    The operating pitch circles are larger than the reference circles as the spacing is, and so is the play on
    them: cos(phi) / cos(phi_w) = a_w / a.
    """
    drawn = _drawn(design, pair)
    if drawn is None:
        return None
    now, share = drawn
    least, most = wanted_backlash(design, pair)
    own, other = (design.toothed[gear].tooth_thinning for gear in (name, pair.mate_of(name)))
    changes = [_shared((wanted - now) / share, own, other) for wanted in (most, least)]
    if changes[0] is None:
        return None
    return changes[0], changes[1] if changes[1] is not None else -own


def _shared(total: float, own: float, other: float) -> float | None:
    """What one of two gears takes of a change of both: half, but no tooth gets thicker than unthinned [unit].

    total: by how much both together are to be thinner; own, other: their thinnings as drawn. None where both
    cannot take it.
    """
    if total < -(own + other) - 1e-12:
        return None
    half = total / 2
    return max(half, -own) + min(0.0, half + other)


def _of_a_set(design: Design, name: str) -> ToothData:
    """The tooth data of a gear of a planetary set: its place in the set, and limits for a usual play."""
    for table in design.planetary:
        try:
            members = {
                part.name.removeprefix(f"{table.name} "): part.toothed for part in set_parts(design, table)
            }
        except ValueError:
            continue
        word = name.removeprefix(f"{table.name} ")
        if name != word and word in members:
            gear = members[word]
            second = "second planet" if table.second_planet is not None else "planet"
            pairs = [pair for pair in (("sun", "planet"), (second, "ring")) if word in pair]
            least = max(_published(members[a], members[b]) for a, b in pairs)
            most = least + MORE_PLAY * gear.scale
            rows = [
                ("mate" if len(pairs) == 1 else "mates", ", ".join(w for p in pairs for w in p if w != word)),
                ("backlash wanted", _from_to(least, most, gear.unit)),
                *_assembly(table),
            ]
            return data_of(gear, rows, (most / 2, least / 2))
    raise ValueError(f"there is no gear {name!r} in the design {design.name!r}: look at parts_of(design)")


def _assembly(table: PlanetaryTable) -> list[tuple[str, str]]:
    """How the gears of a set come together, in a line."""
    evenly = f"{table.planets} planets, {360 / table.planets:.5g} deg apart"
    if table.planets == 1:
        evenly = "one planet"
    if table.second_planet is not None:
        return [("in its set", f"{evenly}; both gears of a planet fixed to each other, marked teeth in line")]
    teeth = table.sun + table.ring
    sum_ = f"({table.sun} + {table.ring}) / {table.planets} = {teeth / table.planets:.5g}"
    fits = "they go in evenly" if teeth % table.planets == 0 else "not whole: they do not go in evenly"
    return [("in its set", f"{evenly}; {sum_}, {fits}" if table.planets > 1 else evenly)]


def data_of(gear: Toothed, more: Iterable[tuple[str, str]] = (), change: Change | None = None) -> ToothData:
    """The tooth data of a gear by itself; more rows, and by how much its teeth may be thinner: most, least.

    >>> rows = dict(data_of(Gear(18, module=2.5)).rows)
    >>> rows["base diameter"], rows["chordal thickness"]
    ('42.286 mm', '3.922 mm, at 2.586 mm below the tips')
    """
    measures = tuple(_measures(gear, change))
    places = 3 if gear.unit == "mm" else 4

    def said(size: float) -> str:
        return f"{size:.{places}f} {gear.unit}"

    if isinstance(gear, InternalGear):
        word, diameter = "inside diameter", gear.inside_diameter
    else:
        word, diameter = "outside diameter", gear.outside_diameter
    rows = [
        ("teeth", f"{gear.teeth}{', internal' if gear.internal else ''}"),
        size_row(gear),
        ("pressure angle", f"{gear.pressure_angle:g} deg"),
        ("tooth system", gear.tooth_system),
        ("profile shift", f"{placed_text(gear.profile_shift, 4)} modules"),
        ("pitch diameter", said(gear.pitch_diameter)),
        ("base diameter", said(gear.base_diameter)),
        (word, said(diameter)),
        ("root diameter", said(gear.root_diameter)),
        ("whole depth", said(gear.whole_depth)),
        ("tooth thickness", f"{said(gear.tooth_thickness)} on the pitch circle"),
    ]
    if "chordal_thickness" in gear.numbers:
        height = said(gear.numbers["chordal_addendum"])
        rows.append(
            ("chordal thickness", f"{said(gear.numbers['chordal_thickness'])}, at {height} below the tips")
        )
    rows += more
    if change is not None and measures and measures[0].low is None:
        rows.append(("limits", "none: its teeth come to a point before they are so thin"))
    take, why = _taken(gear, measures)
    return ToothData(tuple(rows), measures, take, why)


def _taken(gear: Toothed, measures: tuple[Measure, ...]) -> tuple[str, str]:
    """Which measure to take at the bench, and why."""
    if not measures:
        word = "inside" if gear.internal else "outside"
        return f"its {word} diameter", "no span or pins reach its flanks"
    if isinstance(gear, InternalGear):
        return measures[0].how, f"jaws find no flanks to span inside a ring{_odd(gear)}"
    span = next((measure.how for measure in measures if measure.how.startswith("span")), None)
    pins = next((measure.how for measure in measures if "pins" in measure.how), None)
    if span is None:
        return pins or measures[0].how, f"no span touches its flanks with both jaws{_odd(gear)}"
    if pins is not None and gear.scale < LEAST_MODULE[gear.unit] - 1e-9:
        return pins, f"teeth too small for jaws to go between them{_odd(gear)}"
    if pins is not None and gear.face_width is not None and gear.face_width < LEAST_FACE[gear.unit]:
        return pins, f"face too narrow to lead the jaws{_odd(gear)}"
    return span, "the jaws reach it from one side, and need no pins"


def _odd(gear: Toothed) -> str:
    return "; odd teeth: the second pin half a pitch off opposite" if gear.teeth % 2 else ""


def _measures(gear: Toothed, change: Change | None) -> list[Measure]:
    """Span over teeth where jaws touch, size over pins: nominal, and for the changes of thickness allowed."""
    cuts = [gear]
    with suppress(ValueError):  # teeth that are pointed before they are so thin have no limits
        cuts += [_thinner(gear, by) for by in change or ()]
    sizes: list[tuple[str, Callable[[Any], float]]] = []
    if isinstance(gear, Gear):
        k = gear.span_teeth
        sizes.append((f"span over {k} teeth", lambda cut: cut.span(k)))
    pin = _pin(cuts)
    if pin is not None:
        word = f"{pin:.{2 if gear.unit == 'mm' else 4}f} {gear.unit}"
        if isinstance(gear, Gear):
            sizes.append((f"over pins of {word}", lambda cut: cut.over_pins(pin)))
        else:
            sizes.append((f"between pins of {word}", lambda cut: cut.between_pins(pin)))
    measures = []
    for how, size in sizes:
        try:
            nominal, *limits = map(size, cuts)
        except ValueError:
            continue  # jaws or pins do not reach these flanks
        measures.append(Measure(how, nominal, *sorted(limits)))
    return measures


def _thinner(gear: Toothed, by: float) -> Toothed:
    """The gear with teeth thinner by so much (below 0: thicker, down to no thinning at all)."""
    return replace(gear, tooth_thinning=max(0.0, gear.tooth_thinning + by))


def _pin(cuts: list[Toothed]) -> float | None:
    """The usual pin, or another that measures a gear at all its limits, as large as it is written [unit]."""
    gear, places = cuts[0], 2 if cuts[0].unit == "mm" else 4
    usual = round((USUAL_PIN if isinstance(gear, Gear) else USUAL_PIN_INSIDE) * gear.scale, places)
    try:
        ranges = [pin_range(cut.tooth) for cut in cuts]
    except ValueError:
        return None
    least, most = max(low for low, _ in ranges) * gear.scale, min(high for _, high in ranges) * gear.scale
    if least <= usual <= most:
        return usual
    # little more than the least: a pin that lies low touches where the teeth work
    other = round(least + 0.1 * (most - least), places)
    return other if least <= other <= most else None
