"""What moves in a design when one number of it is changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain

from ..design import Design, GearTable, MeshTable
from ..load import Load
from ..mesh import Mesh
from .finding import Finding
from .reviewing import review


@dataclass(frozen=True, repr=False, eq=False)
class Moved(Mapping):
    """What one change of a design moved: numbers before and after, findings that came and went.

    As a mapping: "part: word of its quantity" to (before, after) [unit of the quantity].
    """

    numbers: Mapping[str, tuple[float, float]]
    came: tuple[Finding, ...] = ()
    went: tuple[Finding, ...] = ()

    def __getitem__(self, name: str) -> tuple[float, float]:
        return self.numbers[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.numbers)

    def __len__(self) -> int:
        return len(self.numbers)

    def __repr__(self) -> str:
        return str(self)

    def __str__(self) -> str:
        if not (self.numbers or self.came or self.went):
            return "Nothing moves."
        lines = [
            f"{name.replace('_', ' ')}: {_said(before)} to {_said(after)}"
            for name, (before, after) in self.numbers.items()
        ]
        lines += [f"came: [{finding.grade}] {finding.where}: {finding.what}" for finding in self.came]
        lines += [f"went: [{finding.grade}] {finding.where}: {finding.what}" for finding in self.went]
        return "\n".join(lines)


def _said(value: float) -> str:
    return f"{value:.6g}"


def told(design: Design) -> dict[str, float]:
    """Every number that follows from a design, by "part: word of its quantity".

    Returns theory's words and units [mm or in, deg, rpm, N or lbf]; numbers that cannot be (of gears that do
        not mesh, say) are left out.
    """
    numbers: dict[str, float] = {}
    for name, value in chain(
        *(_of_gear(design, table) for table in design.gear),
        _of_shafts(design),
        *(_of_mesh(design, pair) for pair in design.mesh),
        _of_others(design),
    ):
        numbers[name] = value
    return numbers


def _of_gear(design: Design, table: GearTable) -> Iterator[tuple[str, float]]:
    name, gear = table.name, design.toothed[table.name]
    for word, value in gear.numbers.items():
        yield f"{name}: {word}", value
    yield f"{name}: overall_length", design.overall_length(name)
    yield f"{name}: face_height", design.face_height(name)
    if name in design.hubs:
        for word, value in design.hubs[name].numbers.items():
            yield f"{name}: {word}", value


def _of_shafts(design: Design) -> Iterator[tuple[str, float]]:
    for shaft in design.shaft:
        where, rod, gears = f"shaft {shaft.name}", design.rods.get(shaft.name), design.on(shaft.name)
        if rod is not None and gears and design.plate is not None:
            reach = max(design.foot(gear.name) + design.overall_length(gear.name) for gear in gears)
            yield (
                f"{where}: shaft_length",
                rod.needed(
                    behind=shaft.behind, plate=design.plate.thickness, gap=0.0, gear=reach, end=shaft.end
                ),
            )
        for word, numbers in (
            ("turns", design.turns),
            ("speed", design.speeds),
            ("torque", design.torques),
        ):
            if shaft.name in numbers:
                yield f"{where}: {word}", numbers[shaft.name]
    if design.ratio is not None:
        yield "the drive: ratio", design.ratio


def _of_mesh(design: Design, pair: MeshTable) -> Iterator[tuple[str, float]]:
    key, driver, driven = pair.name, design.toothed[pair.driver], design.toothed[pair.driven]
    spacing = design.distance(*pair.gears)
    yield f"{key}: hole_spacing", spacing
    try:
        wanted = Mesh(driver, driven)
        for word in ("ratio", "centre_distance"):
            yield f"{key}: {word}", wanted.numbers[word]
        drawn = Mesh(driver, driven, centre_distance=spacing)
        for word in ("contact_ratio", "backlash"):
            yield f"{key}: {word}", drawn.numbers[word]
        torque = design.torques.get(design.of(pair.driver).shaft)
        if torque is not None:
            load = Load(wanted, torque)
            for word in ("tangential_force", "separating_force"):
                yield f"{key}: {word}", load.numbers[word]
    except (ValueError, KeyError):
        return  # a pair that cannot be; ``review`` says why


def _of_others(design: Design) -> Iterator[tuple[str, float]]:
    """Numbers of racks, bevel pairs and planetary sets."""
    for rack in design.rack:
        try:
            drive = design.rack_drive_of(rack)
        except ValueError:
            continue
        yield f"{rack.name}: travel_per_turn", drive.travel_per_turn
        yield f"{rack.name}: mounting_height", drive.mounting_height
        yield f"{rack.name}: largest_travel", drive.largest_travel
    for table in design.bevels:
        try:
            pair = design.bevel_of(table)
        except ValueError:
            continue
        yield f"{table.name}: ratio", pair.ratio
        yield f"{table.name}: cone_distance", pair.cone_distance
        for side, angle in zip(("driver", "driven"), pair.cone_angles):
            yield f"{table.name}: {side}_cone_angle", angle


def moved(before: Design, after: Design) -> Moved:
    """What moves when a design is changed: numbers before and after [unit of the quantity], and findings.

    A pair's ``centre_distance`` is what its teeth call for, its ``hole_spacing`` what the holes have: when
    only the first one moves, the holes still stand where they were.

    before, after: of the same parts by name.

    >>> from gearlab.parts.design import read_design
    >>> text = (
    ...     "[design]\\nname='x'\\n[plate]\\nlength=200\\nheight=100\\nthickness=6\\n"
    ...     "[[shaft]]\\nname='A'\\nx=50\\ny=50\\ndiameter=10\\n"
    ...     "[[gear]]\\nname='g'\\nshaft='A'\\nteeth=20\\nmodule=2.5\\nface_width=10\\nbore=10\\n"
    ... )
    >>> moved(read_design(text), read_design(text.replace("teeth=20", "teeth=24")))["g: pitch_diameter"]
    (50.0, 60.0)
    """
    earlier, later = told(before), told(after)
    then, now = review(before), review(after)
    return Moved(
        {
            name: (value, later[name])
            for name, value in earlier.items()
            if name in later and abs(later[name] - value) > 1e-9 * max(1.0, abs(value))
        },
        came=_beside(now, then),
        went=_beside(then, now),
    )


def _beside(findings: tuple[Finding, ...], others: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Findings of which the others have none of the same name and part."""
    known = {(finding.name, finding.where) for finding in others}
    return tuple(finding for finding in findings if (finding.name, finding.where) not in known)
