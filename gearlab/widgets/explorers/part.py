"""An explorer that shows a part of a design: what it takes from it, and what it gives back."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ...parts.design import Design, MeshTable
from ...parts.review import moved
from ...theory import derive
from .state import Inputs, near_word

#: How many changed numbers are told beside the button; the rest are counted.
TOLD = 3
_NONE = object()  # no value at all


@dataclass(frozen=True)
class Part:
    """Which members of a design an explorer can show.

    kind: "mesh", "gear", "shaft", "rack", "bevel", "planetary", or "drive" for all of it.
    take: from a design and the name of a member, the arguments of the explorer; ValueError for one it cannot
        show.
    give: from the inputs, the design and the name, the edits that bring the design to them. Only what differs
        from the edits of the inputs at which the design stands is changed in it.
    """

    kind: str
    take: Callable[[Design, str], Mapping[str, Any]]
    give: Callable[[Inputs, Design, str], Mapping[str, Any]]

    def taken(self, design: Design, name: str | None) -> tuple[str, dict[str, Any]]:
        """The member to show, the one that is named or else the first that can be, and the arguments for it.

        ValueError where there is none, or it cannot be shown.
        """
        known = members(design, self.kind)
        if name is not None:
            if name not in known:
                raise ValueError(
                    f"part = {name!r} is no {self.kind} of the design{near_word(name, known)}; there are"
                    f" {', '.join(known) or 'none'}"
                )
            return name, dict(self.take(design, name))
        if not known:
            raise ValueError(
                f"the design {design.name!r} has no {self.kind} to show; give one that has, or add"
                f" [[{self.kind}]]"
            )
        first: ValueError | None = None
        for member in known:
            try:
                return member, dict(self.take(design, member))
            except ValueError as error:
                first = first or error
        assert first is not None
        raise first

    def edits(self, inputs: Inputs, stood: Inputs, design: Design, name: str) -> dict[str, Any]:
        """What brings a design to these inputs, where it stands at others."""
        if inputs == stood:
            return {}
        wanted = self.give(inputs, design, name)
        try:
            there = self.give(stood, design, name)
        except ValueError:  # such as jaws that did not touch
            there = {}
        news = {kind: _news(edit, there.get(kind, {}), _named(design, kind)) for kind, edit in wanted.items()}
        return {kind: edit for kind, edit in news.items() if edit}


def _news(edit: Any, before: Any, known: Collection[str]) -> Any:
    """The fields of an edit that were not so before; of a member that is not there yet all of them."""
    if not isinstance(edit, Mapping) or not isinstance(before, Mapping):
        return edit
    if all(isinstance(value, Mapping) for value in edit.values()):
        news = {
            member: {
                word: value for word, value in fields.items() if value != before[member].get(word, _NONE)
            }
            if member in known and member in before
            else fields
            for member, fields in edit.items()
            if fields != before.get(member)
        }
        return {member: fields for member, fields in news.items() if fields}
    return {word: value for word, value in edit.items() if value != before.get(word, _NONE)}


def _named(design: Design, kind: str) -> list[str]:
    tables = getattr(design, kind, None)
    return [table.name for table in tables] if isinstance(tables, tuple) else []


def members(design: Design, kind: str) -> list[str]:
    """Names of a design's members of a kind."""
    if kind == "drive":
        return [design.name]
    tables: Any = design.bevels if kind == "bevel" else getattr(design, kind)
    return [table.name for table in tables]


def nothing(_inputs: Inputs, _design: Design, _name: str) -> dict[str, Any]:
    """The edits of an explorer that asks something of a part and sets none of its numbers."""
    return {}


def in_its_unit(design: Design, table: Any) -> dict[str, float]:
    """The size of a member's teeth; ValueError where it is not stated, or not in the design's unit."""
    word = "module" if design.unit == "mm" else "diametral_pitch"
    if word not in table.size:
        raise ValueError(
            f"{table.name!r} has no {word}, and lengths of the design are in {design.unit}; give it {word}"
        )
    return table.size


def spur(design: Design, name: str) -> dict[str, Any]:
    """What an explorer of one gear takes: its teeth and their size; ValueError for a ring."""
    table = design.of(name)
    if table.internal:
        raise ValueError(f"{name!r} is a ring, and here a spur gear is shown; name one: part = ...")
    return {"teeth": table.teeth, **in_its_unit(design, table)}


def as_cut(design: Design, name: str) -> dict[str, Any]:
    """What the teeth of a gear are beside count and size, as arguments of a ``Gear``."""
    table = design.of(name)
    return {
        word: getattr(table, word)
        for word in ("pressure_angle", "tooth_system", "profile_shift", "tooth_thinning")
    }


def used(before: Design, after: Design, edits: Mapping[str, Any], other: bool) -> str:
    """What was changed in a design, in a sentence for the page.

    edits: what was put into it.
    other: whether what is shown is other than what the design had.
    """
    fields = _fields(before, edits)
    if not fields:
        return (
            "Nothing has moved: what you changed is no number of your design."
            if other
            else "Nothing has moved: your design has these numbers already."
        )
    change = moved(before, after)
    text = "In your design: " + "; ".join(fields[:TOLD])
    text += f"; {len(fields) - TOLD} more." if len(fields) > TOLD else "."
    if change.numbers:
        # one of the whole drive says more than the first of a gear's many
        name = next(
            (name for name in change.numbers if name.startswith("the drive")), next(iter(change.numbers))
        )
        was, now = change.numbers[name]
        text += (
            f" Numbers moved: {len(change.numbers)}, such as {_spaced(name)} {_plain(was)} to {_plain(now)}."
        )
    for word, findings in (("came", change.came), ("went", change.went)):
        if findings:
            text += f" Findings {word}: {len(findings)}; {findings[0].where}: {findings[0].what.rstrip('.')}."
    return text


def _fields(before: Design, edits: Mapping[str, Any]) -> list[str]:
    """The fields that were set, each with what it was and what it is."""
    told = []
    for kind, edit in edits.items():
        tables = getattr(before, kind)
        by_name = {table.name: table for table in tables} if isinstance(tables, tuple) else {"": tables}
        members = edit if isinstance(tables, tuple) else {"": edit}
        for name, fields in members.items():
            there = by_name.get(name)
            if there is None:
                told.append(f"new: {_spaced(name)}")
                continue
            for word, value in fields.items():
                was = getattr(there, word)
                if was != value:
                    of = name or kind
                    told.append(f"{_spaced(word)} of {_spaced(of)} {_plain(was)} to {_plain(value)}")
    return told


def _spaced(name: str) -> str:
    return name.replace("_", " ")


def _plain(value: Any) -> str:
    if isinstance(value, tuple):
        return " and ".join(map(_plain, value))
    return f"{value:.5g}" if isinstance(value, float) else "none" if value is None else str(value)


ALIKE = ("module", "diametral_pitch", "pressure_angle", "tooth_system")  # what both gears of a mesh share

#: Places of what is shown of a design, and of where a shaft is put so that it is shown again [unit].
TAKEN, PLACES = 7, 9


def mesh_named(design: Design, name: str) -> MeshTable:
    """A mesh of a design by its name, "driver with driven"."""
    return next(pair for pair in design.mesh if pair.name == name)


def pair_taken(design: Design, name: str, *, shifted: bool = True) -> dict[str, Any]:
    """Counts and size of a mesh as the arguments of an explorer.

    shifted: whether the explorer can show gears with a profile shift.
    ValueError for a ring, for teeth that are not of one kind, or of another unit than the design.
    """
    pair = mesh_named(design, name)
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    for table in (driver, driven):
        if table.internal:
            raise ValueError(
                f"{table.name!r} is a ring, and here two spur gears are shown; name another: part = ..."
            )
        if table.profile_shift and not shifted:
            raise ValueError(
                f"profile_shift of {table.name!r} is {table.profile_shift:g}, and here teeth without a shift"
                " are shown; look at this mesh in a PairExplorer"
            )
    for word in ALIKE:
        own, other = getattr(driver, word), getattr(driven, word)
        if own != other:
            raise ValueError(
                f"{word.replace('_', ' ')} of {driver.name!r} is {own}, of {driven.name!r} {other}: they do"
                " not mesh; give both the same"
            )
    size = in_its_unit(design, driver)
    return {"driver_teeth": driver.teeth, "driven_teeth": driven.teeth, **size}


def scale_of(size: dict[str, float]) -> float:
    """The module, or one over the diametral pitch [mm or in]."""
    ((word, value),) = size.items()
    return value if word == "module" else 1 / value


def touching_for(driver_teeth: int, driven_teeth: int, size: dict[str, float]) -> float:
    """Distance at which the pitch circles of two counts touch, as theory tells it [mm or in].

    >>> touching_for(18, 45, {"module": 2.5})
    78.75
    """
    counts = {"driver_teeth": driver_teeth, "driven_teeth": driven_teeth}
    return derive("centre_distance", counts | size).result


def touching(design: Design, name: str) -> float:
    """Distance at which the pitch circles of a mesh touch [unit]."""
    pair = mesh_named(design, name)
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    return touching_for(driver.teeth, driven.teeth, driver.size)


def distance_of(design: Design, name: str) -> float:
    """Distance of the shafts of a mesh, as it is shown [unit]."""
    pair = mesh_named(design, name)
    return round(design.distance(pair.driver, pair.driven), TAKEN)


def line_of(design: Design, name: str) -> float:
    """Direction from the driver of a mesh to its driven gear, as it is shown [deg]."""
    pair = mesh_named(design, name)
    return round(design.line_angle(pair.driver, pair.driven), 5) + 0.0


def opening_of(design: Design, name: str) -> float:
    """How much further apart the shafts of a mesh stand than where its pitch circles touch [unit]."""
    return round(distance_of(design, name) - touching(design, name), TAKEN)


def standing(design: Design, name: str) -> tuple[dict[str, dict[str, Any]], float]:
    """What the gears of a mesh are beside count and size, by argument, and how far apart [unit]."""
    pair = mesh_named(design, name)
    sides = {"driver_teeth": pair.driver, "driven_teeth": pair.driven}
    return {side: as_cut(design, gear) for side, gear in sides.items()}, opening_of(design, name)


def counts_given(
    inputs: Inputs,
    design: Design,
    name: str,
    *,
    size: dict[str, float] | None = None,
    distance: float | None = None,
    **shape: Any,
) -> dict[str, Any]:
    """The edits of a mesh with other counts: both gears, and the shafts with them.

    size: of the teeth, that of the design if left out.
    distance: of the shafts [unit]; left out, as much more than where the pitch circles touch as before.
    shape: what else of both gears is changed, such as ``pressure_angle``.
    """
    pair = mesh_named(design, name)
    size = dict(design.of(pair.driver).size if size is None else size)
    if distance is None:
        apart = touching_for(inputs.driver_teeth, inputs.driven_teeth, size)
        distance = apart + opening_of(design, name)
    teeth = {pair.driver: inputs.driver_teeth, pair.driven: inputs.driven_teeth}
    gears = {gear: {"teeth": count, **size, **shape} for gear, count in teeth.items()}
    return {"gear": gears, "shaft": at_distance(design, name, distance)}


def at_distance(
    design: Design, name: str, distance: float, line_angle: float | None = None
) -> dict[str, dict[str, float]]:
    """The edit of the shafts that sets a mesh at a distance along its line of centres [unit].

    The driven shaft moves, and with it whatever it drives. Another ``line_angle`` turns it about the driver
    [deg].
    """
    pair = mesh_named(design, name)
    return places(design, name, design.shaft_of(pair.driver).place, distance, line_angle)


def places(
    design: Design, name: str, place: tuple[float, float], distance: float, line_angle: float | None = None
) -> dict[str, dict[str, float]]:
    """The edit of the shafts that sets a mesh at a place and a distance [unit].

    Shafts that are joined to the driver or to the driven one, and not through this mesh, move with it.
    """
    pair = mesh_named(design, name)
    driver, driven = design.shaft_of(pair.driver), design.shaft_of(pair.driven)
    line = design.line_angle(pair.driver, pair.driven) if line_angle is None else line_angle
    angle = math.radians(line)
    other = place[0] + distance * math.cos(angle), place[1] + distance * math.sin(angle)
    with_driver, with_driven = (
        joined(design, a.name, b.name) for a, b in ((driver, driven), (driven, driver))
    )
    if with_driver & with_driven:  # a ring of gears: no more than its own two shafts can be moved
        with_driver, with_driven = {driver.name}, {driven.name}
    return _moved(design, with_driver, driver.place, place) | _moved(design, with_driven, driven.place, other)


def joined(design: Design, shaft: str, without: str) -> set[str]:
    """A shaft and all that are joined to it by meshes, however far, but not through another."""
    reached, new = {shaft}, [shaft]
    meshes = [(design.of(pair.driver).shaft, design.of(pair.driven).shaft) for pair in design.mesh]
    while new:
        here = new.pop()
        for ends in meshes:
            if here not in ends or set(ends) == {shaft, without}:
                continue
            there = ends[1] if here == ends[0] else ends[0]
            if there not in reached:
                reached.add(there)
                new.append(there)
    return reached


def _moved(
    design: Design, shafts: Iterable[str], before: tuple[float, float], after: tuple[float, float]
) -> dict[str, dict[str, float]]:
    edits = {}
    for shaft in design.standing:
        if shaft.name in shafts:
            edits[shaft.name] = {
                word: round(at + to - start, PLACES)
                for word, at, start, to in zip("xy", shaft.place, before, after)
            }
    return edits
