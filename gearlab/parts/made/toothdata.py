"""The block of tooth data of a part's drawing: what the workshop cuts to, and what the bench measures."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..design import Design, MeshTable
from ..gear import Gear
from ..internal import InternalGear
from ..mesh import Mesh
from ..recommended import recommended_backlash

#: Of a module: how much more play than the least one is allowed where a design does not say [modules].
MORE_PLAY = 0.04
LEAST_PLAY = 0.04  # least play where no table holds the pair [modules]


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
    """The rows of the block, its measures, and which of them to take at the bench."""

    rows: tuple[tuple[str, str], ...]
    measures: tuple[Measure, ...]
    take: str


def wanted_backlash(design: Design, pair: MeshTable) -> tuple[float, float]:
    """Least and most backlash that is wanted of a mesh: the file's, else a published least one [unit].

    Where no table holds the pair, 0.04 modules; what the holes as they are drawn leave, where that is less;
    0.04 modules more are allowed.
    """
    scale = design.toothed[pair.driver].scale
    least = pair.least_backlash
    if least is None:
        try:
            least = recommended_backlash(Mesh(design.toothed[pair.driver], design.toothed[pair.driven]))
        except ValueError:
            least = LEAST_PLAY * scale
        least = min(least, max(0.0, _drawn_backlash(design, pair) or 0.0) or least)
    most = pair.most_backlash if pair.most_backlash is not None else least + MORE_PLAY * scale
    return least, max(most, least)


def tooth_data(design: Design, name: str) -> ToothData:
    """The tooth data of a gear of a design, with limits for the backlash that its first mesh wants.

    What the spacing of the holes gives of the play is taken off, and the rest is shared with the mate.

    name: of a gear or ring of the design.
    ValueError for a gear that cannot be.
    """
    gear = design.toothed[name]
    pair = next((pair for pair in design.mesh if name in (pair.driver, pair.driven)), None)
    if pair is None:
        return data_of(gear)
    least, most = wanted_backlash(design, pair)
    places = 3 if gear.unit == "mm" else 4
    rows = (
        ("backlash wanted", f"{least:.{places}f} to {most:.{places}f} {gear.unit}"),
        ("mate", pair.driven if name == pair.driver else pair.driver),
    )
    return data_of(gear, rows, _thickness_change(design, pair))


def data_of(
    gear: Gear | InternalGear,
    more: tuple[tuple[str, str], ...] = (),
    change: tuple[float, float] | None = None,
) -> ToothData:
    """The tooth data of a gear by itself; more rows, and by how much its teeth may be thinner and thicker."""
    measures = tuple(_measures(gear, change))
    unit = gear.unit
    if gear.module is not None:
        size = ("module", f"{gear.module:g} mm")
    else:
        size = ("diametral pitch", f"{gear.diametral_pitch:g} to the inch")
    places = 3 if unit == "mm" else 4
    if isinstance(gear, InternalGear):
        word, diameter = "inside diameter", gear.inside_diameter
    else:
        word, diameter = "outside diameter", gear.outside_diameter
    rows = (
        ("teeth", f"{gear.teeth}{', internal' if gear.internal else ''}"),
        size,
        ("pressure angle", f"{gear.pressure_angle:g} deg"),
        ("tooth system", gear.tooth_system),
        ("profile shift", f"{gear.profile_shift:g} modules"),
        ("pitch diameter", f"{gear.pitch_diameter:.{places}f} {unit}"),
        (word, f"{diameter:.{places}f} {unit}"),
        ("root diameter", f"{gear.root_diameter:.{places}f} {unit}"),
        ("whole depth", f"{gear.whole_depth:.{places}f} {unit}"),
        ("tooth thickness", f"{gear.tooth_thickness:.{places}f} {unit} on the pitch circle"),
        *more,
    )
    take = measures[0].how if measures else "its diameter: no span or pins reach its flanks"
    return ToothData(rows, measures, take)


def _drawn_backlash(design: Design, pair: MeshTable) -> float | None:
    """Backlash at the spacing of the holes [unit]; None for a pair that cannot be: the review says why."""
    try:
        return design.mesh_of(pair).backlash
    except (ValueError, KeyError):
        return None


def _thickness_change(design: Design, pair: MeshTable) -> tuple[float, float] | None:
    """By how much each of two gears may be thinner, and thicker, than it is drawn [unit]."""
    now = _drawn_backlash(design, pair)
    if now is None:
        return None
    least, most = wanted_backlash(design, pair)
    return (most - now) / 2, (least - now) / 2


def _measures(gear: Gear | InternalGear, change: tuple[float, float] | None) -> list[Measure]:
    """Span over teeth where jaws reach, size over pins: the one to take first."""
    sizes = []
    if isinstance(gear, Gear):
        k = gear.span_teeth
        sizes.append((f"span over {k} teeth", lambda cut: cut.span(k)))
        sizes.append((f"over pins of {_pin(gear)}", lambda cut: cut.over_pins()))
    else:
        sizes.append((f"between pins of {_pin(gear)}", lambda cut: cut.between_pins()))
    measures = []
    for how, size in sizes:
        try:
            nominal = size(gear)
            limits = sorted(size(_thinner(gear, by)) for by in change) if change is not None else ()
        except ValueError:
            continue  # jaws or pins do not reach these flanks
        measures.append(Measure(how, nominal, *limits))
    return measures


def _thinner(gear: Gear | InternalGear, by: float) -> Gear | InternalGear:
    """The gear with teeth thinner by so much (below 0: thicker, down to no thinning at all)."""
    return replace(gear, tooth_thinning=max(0.0, gear.tooth_thinning + by))


def _pin(gear: Gear | InternalGear) -> str:
    from ..gauging import USUAL_PIN

    return f"{USUAL_PIN * gear.scale:.{2 if gear.unit == 'mm' else 4}f} {gear.unit}"
