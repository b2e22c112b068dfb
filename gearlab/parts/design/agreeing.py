"""Whether the tables of a design agree with one another: names, shafts, sizes that are given once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .tables import MEASURED, GearTable, MeasuredTable

if TYPE_CHECKING:
    from .design import Design


def agree(design: Design) -> None:
    """What a table says must agree with the others; ValueError for the first that does not."""
    for kind, names in _names(design).items():
        if kind == "mesh":
            continue  # the same two gears twice say nothing new
        twice = {name for name in names if names.count(name) > 1}
        if twice:
            name = sorted(twice)[0]
            if kind == "measured":
                raise ValueError(f"{kind}: {name!r} stands twice; take one of the two out")
            raise ValueError(f"{kind}: the name {name!r} stands twice; give each {kind} a name of its own")
    for gear in design.gear:
        _check_gear(design, gear)
    meshed: set[tuple[str, str]] = set()
    for pair in design.mesh:
        if (pair.driven, pair.driver) in meshed:
            raise ValueError(
                f"mesh: {pair.driver!r} drives {pair.driven!r} in one table and is driven by it in another;"
                " leave one of the two tables out"
            )
        meshed.add(pair.gears)
        _known(design, "mesh", "gear", pair.driver, pair.driven)
        if design.of(pair.driver).shaft == design.of(pair.driven).shaft:
            shared = f"on one shaft, {design.of(pair.driver).shaft!r}"
            raise ValueError(
                f"mesh: driver {pair.driver!r} and driven {pair.driven!r} are"
                f" {'one gear' if pair.driver == pair.driven else shared};"
                " name two gears on two shafts"
            )
    for rack in design.rack:
        _known(design, "rack", "gear", *([rack.pinion] if rack.pinion is not None else []), as_="pinion")
    for bevel in design.bevels:
        _known(design, f"bevel {bevel.name!r}", "shaft", *filter(None, (bevel.driver, bevel.driven)))
    for planetary in design.planetary:
        _known(design, f"planetary {planetary.name!r}", "shaft", *planetary.shafts.values())
    if design.load is not None and design.load.shaft is not None:
        _known(design, "load", "shaft", design.load.shaft)
    for reading in design.measured:
        _check_reading(design, reading)


def _names(design: Design) -> dict[str, list[str]]:
    return {
        "shaft": [table.name for table in design.shaft],
        "gear": [table.name for table in design.gear],
        "rack": [table.name for table in design.rack],
        "bevel": [table.name for table in design.bevels],
        "planetary": [table.name for table in design.planetary],
        "mesh": [table.name for table in design.mesh],
        "measured": [table.name for table in design.measured],
    }


def _known(design: Design, where: str, kind: str, *names: str, as_: str = "") -> None:
    known = _names(design)[kind]
    for name in names:
        if name not in known:
            raise ValueError(
                f"{where}: {as_ or kind} {name!r} is not in the file; there are {', '.join(known) or 'none'}"
            )


def _check_gear(design: Design, gear: GearTable) -> None:
    _known(design, f"gear {gear.name!r}", "shaft", gear.shaft)
    where, shaft = f"gear {gear.name!r}", design.shaft_of(gear.name)
    if not shaft.placed:
        raise ValueError(
            f"shaft {shaft.name!r}: {'x' if shaft.x is None else 'y'} is missing: give a number in"
            f" {design.unit}, because it carries {where}"
        )
    if not gear.size:
        raise ValueError(
            f"{where}: the size of its teeth is missing; give module [mm] or diametral_pitch [1/in]"
        )
    if gear.module is not None and gear.diametral_pitch is not None:
        raise ValueError(
            f"{where}: module = {gear.module:g} mm and diametral_pitch = {gear.diametral_pitch:g} 1/in"
            " are both given; leave out one of them"
        )
    if gear.hub_diameter is None and gear.hub_projection:
        raise ValueError(
            f"{where}: hub_projection = {gear.hub_projection:g} {design.unit} without hub_diameter; give"
            " both, or neither"
        )
    if gear.screw_length is not None and gear.set_screw is None:
        raise ValueError(f'{where}: screw_length without set_screw; name the screw, such as set_screw = "M5"')


def _check_reading(design: Design, reading: MeasuredTable) -> None:
    kind = MEASURED[reading.quantity]
    known = ["plate"] if kind == "plate" else _names(design)[kind]
    if reading.part not in known:
        raise ValueError(
            f"measured: {reading.quantity} is that of a {kind}, and {reading.part!r} is none of the file;"
            f" there are {', '.join(known) or 'none'}"
        )
