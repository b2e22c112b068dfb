"""The numbers of a design beside those of another: what moved since it began, or all of both."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

from ...drawing import numerals
from ...parts import Mesh
from ...parts.design import Design
from ...parts.review import Ledger, Moved, review
from ...parts.review.changes import told
from ...theory.boundary import unit_of
from ...theory.derivation import Derivation
from ...theory.quantities import QUANTITIES
from .history import Beginning, changed
from .numbers import CALLED, Number, members, numbers, parted, shown
from .state import cell, group, row

#: The numbers that are shown of a part unless every one is asked for.
MAIN = (
    "ratio",
    "teeth",
    "module",
    "diametral_pitch",
    "pitch_diameter",
    "outside_diameter",
    "root_diameter",
    "centre_distance",
    "hole_spacing",
    "backlash",
    "contact_ratio",
    "tangential_force",
    "separating_force",
    "turns",
    "speed",
    "torque",
    "overall_length",
    "face_height",
    "hub_wall",
    "screw_room",
    "least_drill_depth",
    "greatest_drill_depth",
    "shaft_length",
    "travel_per_turn",
    "mounting_height",
    "largest_travel",
    "cone_distance",
    "driver_cone_angle",
    "driven_cone_angle",
)


#: The size of teeth that is not the one of the unit.
OTHER_SIZE = {"mm": "diametral_pitch", "in": "module"}


@dataclass(frozen=True, eq=False)
class Known:
    """A design, what the review says of it, and its numbers (none where a gear cannot be cut)."""

    design: Design
    ledger: Ledger
    numbers: Mapping[str, float]

    @cached_property
    def fields(self) -> dict[str, dict[str, Number]]:
        """The numbers of its file, by member and key."""
        return {member: numbers(self.design, member) for member in members(self.design)}


@lru_cache(maxsize=256)
def known(began: Beginning, changes: tuple[str, ...]) -> Known:
    """What is known of a design after these changes, worked out once."""
    design = changed(began, changes)
    ledger = review(design)
    return Known(design, ledger, {} if "gear-cannot-be" in ledger.names else told(design))


def earlier_names(before: Design, after: Design) -> dict[str, str]:
    """What gears and meshes of a design were called in another one, where an edit gave them other names."""
    if len(before.gear) != len(after.gear) or len(before.mesh) != len(after.mesh):
        return {}
    known = {table.name for table in before.gear} | {pair.name for pair in before.mesh}
    gears = {new.name: old.name for old, new in zip(before.gear, after.gear)}
    meshes = {new.name: old.name for old, new in zip(before.mesh, after.mesh)}
    return {new: old for new, old in (gears | meshes).items() if new not in known}


@lru_cache(maxsize=256)
def moved_between(before: Known, after: Known) -> Moved:
    """What ``parts.review.moved`` says of two designs, from what is known of them (half the time); of gears
    that have other names now, too."""
    called = earlier_names(before.design, after.design)
    apart = {}
    for name, value in after.numbers.items():
        part, _, word = name.rpartition(": ")
        first = before.numbers.get(f"{called.get(part, part)}: {word}")
        if first is not None and differ(first, value):
            apart[name] = first, value
    old = {(each.name, each.where) for each in before.ledger}
    new = {(each.name, called.get(each.where, each.where)) for each in after.ledger}
    return Moved(
        apart,
        tuple(each for each in after.ledger if (each.name, called.get(each.where, each.where)) not in old),
        tuple(each for each in before.ledger if (each.name, each.where) not in new),
    )


def differ(first: float, second: float) -> bool:
    """Whether two numbers are not the same but for rounding."""
    return abs(second - first) > 1e-9 * max(1.0, abs(first))


def whole(now: Known, beside: Known | None) -> dict:
    """The drive as a whole: its ratio, its last shaft, the counts of the ledger."""
    rows = [
        row(label, *(_own(side, word, each(known)) for side, known in _columns(now, beside)))
        for label, word, each in (
            ("ratio of first to last shaft", "the drive: ratio", _ratio),
            ("speed of the last shaft", "the drive: last_speed", _last_speed),
            ("findings that will not do", "the drive: fails", lambda known: str(len(known.ledger.fails))),
            ("checks that hold", "the drive: holds", lambda known: str(len(known.ledger.holds))),
            ("checks not made", "the drive: unmade", lambda known: str(len(known.ledger.unmade))),
        )
    ]
    columns = () if beside is None else _titles(beside, now)
    return group("The drive", rows, columns, sides=False)


def _columns(now: Known, beside: Known | None) -> list[tuple[str, Known]]:
    return [("now", now)] if beside is None else [("first", beside), ("now", now)]


def _titles(beside: Known, now: Known) -> tuple[str, str]:
    """What two columns are called: by the designs' names where these differ and are short."""
    names = beside.design.name, now.design.name
    return names if names[0] != names[1] and max(map(len, names)) <= 22 else ("at first", "now")


def given(beside: Known, now: Known) -> list[dict]:
    """The numbers of the file that differ, of every member that both designs have."""
    rows, called = [], earlier_names(beside.design, now.design)
    for key, later in now.fields.items():
        kind, name = parted(key)
        earlier = beside.fields.get(f"{kind} {called.get(name, name)}".rstrip())
        if earlier is None:
            continue
        for word in dict.fromkeys([*later, *earlier]):
            before, after = earlier.get(word), later.get(word)
            number = after or before
            assert number is not None
            values = before.value if before else None, after.value if after else None
            if values[0] != values[1]:
                label = f"{number.words} of {number.member or CALLED[number.table]}"
                texts = [number.said(value) for value in values]
                name = f"{key}: {word}, given"
                rows.append(
                    row(label, *(_own(side, name, text) for side, text in zip(("first", "now"), texts)))
                )
    return [group("Changed", rows, _titles(beside, now), sides=False)] if rows else []


def _own(side: str, word: str, text: str) -> dict:
    return cell(f"{side} {word}", 0.0, text, explained=False)


def _ratio(known: Known) -> str:
    ratio = known.design.ratio
    if not ratio:
        return "not joined"
    turns = known.design.turns[known.design.last_shaft or ""]
    return f"{numerals.plain(ratio, 4)}, {'same way' if turns > 0 else 'other way'}"


def _last_speed(known: Known) -> str:
    speed = known.design.speeds.get(known.design.last_shaft or "")
    return "not given" if speed is None else f"{numerals.plain(abs(speed), 3)} rpm"


def _listed(names: Iterable[str], every: bool, unit: str) -> Iterator[tuple[str, list[str]]]:
    """The numbers of each part, in the order of a reader; those of the drive stand above already."""
    parts: dict[str, list[str]] = {}
    for name in names:
        part, _, word = name.rpartition(": ")
        if part != "the drive" and (every or (word in MAIN and word != OTHER_SIZE[unit])):
            parts.setdefault(part, []).append(word)
    order = {word: place for place, word in enumerate(MAIN)}
    for part, words in parts.items():
        yield part, sorted(words, key=lambda word: order.get(word, len(MAIN)))


def news(change: Moved, now: Known, every: bool) -> list[dict]:
    """What has moved since the start, a table a part."""
    return [
        group(
            f"Moved: {part}",
            [
                row(
                    word.replace("_", " "),
                    *(
                        _number(side, f"{part}: {word}", value, now.design)
                        for side, value in zip(("first", "now"), change.numbers[f"{part}: {word}"])
                    ),
                )
                for word in words
            ],
            ("at first", "now"),
            sides=False,
        )
        for part, words in _listed(change.numbers, every, now.design.unit)
    ]


def side_by_side(beside: Known, now: Known, every: bool) -> list[dict]:
    """The numbers of two designs side by side, a table a part."""
    called = earlier_names(beside.design, now.design)
    earlier = {
        f"{part}: {word}": beside.numbers.get(f"{called.get(part, part)}: {word}")
        for part, _, word in (name.rpartition(": ") for name in now.numbers)
    }
    gone = [name for name in beside.numbers if name.rpartition(": ")[0] not in called.values()]
    names = dict.fromkeys([*now.numbers, *gone])
    groups = []
    for part, words in _listed(names, every, now.design.unit):
        rows = []
        for word in words:
            name = f"{part}: {word}"
            before, after = earlier.get(name, beside.numbers.get(name)), now.numbers.get(name)
            differs = before is None or after is None or differ(before, after)
            rows.append(
                row(
                    f"{word.replace('_', ' ')}{', differs' if differs else ''}",
                    _number("first", name, before, beside.design),
                    _number("now", name, after, now.design),
                )
            )
        groups.append(group(part[:1].upper() + part[1:], rows, _titles(beside, now), sides=False))
    return groups


def _number(side: str, name: str, value: float | None, design: Design) -> dict:
    """A number of a part in a column, with its unit."""
    if value is None:
        return cell(f"{side} {name}", 0.0, "\u2013", explained=False, spoken="not there")
    part, _, word = name.rpartition(": ")
    unit = unit_of(word, design.unit) if word in QUANTITIES else ""
    if word == "torque":
        unit = "N*m" if design.unit == "mm" else "lbf*in"
    if unit in ("mm", "in"):
        text = numerals.length(value, unit)
    else:
        text = f"{numerals.plain(value, 3)} {shown(unit)}".rstrip()
    known = part in design.toothed or part in {pair.name for pair in design.mesh}
    return cell(f"{side} {name}", value, text, explained=side == "now" and known)


def _things(design: Design, part: str) -> Iterator[Any]:
    """The parts of a design that can explain a number."""
    if part in design.toothed:
        yield design.toothed[part]
    if part in design.hubs:
        yield design.hubs[part]
    for pair in design.mesh:
        if pair.name == part:
            yield Mesh(design.toothed[pair.driver], design.toothed[pair.driven])
            with suppress(ValueError):
                yield design.mesh_of(pair)
            with suppress(ValueError):
                yield design.load_of(pair)


def reason(design: Design, word: str) -> Derivation:
    """How the number of a cell is worked out; ValueError for one that is not."""
    part, _, quantity = word.partition(" ")[2].partition(": ")
    for explained in _things(design, part):
        with suppress(ValueError, LookupError):
            if quantity in explained.numbers:
                return explained.explain(quantity)
    raise ValueError(f"{quantity.replace('_', ' ')} of {part} is not explained here")
