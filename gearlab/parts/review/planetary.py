"""What can be wrong with a planetary set: counts, spacing, room, tiny teeth, the ring, what is held, load."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import islice
from typing import Any

from gearlab.theory import derive
from gearlab.theory.functions import common_factor_number

from ..design import Design, PlanetaryTable
from ..gear import Gear
from ..internal import InternalGear
from ..mesh import Mesh
from ..planetary import SHORTENING
from .advice import Way
from .finding import Edit, Held, Outcome, both, said
from .ledger import Checks
from .load import allowed, beam_stress, borne
from .sentences import finding, unit_of, unmade

_ADDENDUM = 1.0  # of full-depth teeth [modules]
LEAST_CONTACT, WANTED_CONTACT = 1.0, 1.2  # Mott, section 8-4 (from memory)
#: Flank that undercut may take away [modules]: 17 teeth at 20 degrees lack 0.006, 12 lack 0.3.
_WHOLE, _THIN = 0.02, 0.31
_FEWEST, _MOST = 12, 200  # counts that are advised
_LOOKS = 41  # driver angles at which a planet is rolled in its ring
CHECKS = Checks()


def _edit(table: PlanetaryTable, **fields: float | bool | None) -> Edit:
    return {"planetary": {table.name: fields}}


def _second(table: PlanetaryTable) -> int:
    """Teeth of the gear of a planet that meshes with the ring."""
    return table.second_planet or table.planet


def _ring(table: PlanetaryTable) -> int:
    """Teeth that the ring must have: a sun, and a planet on either side or both gears of it on one."""
    if table.second_planet is None:
        return round(derive("ring_teeth", {"sun_teeth": table.sun, "planet_teeth": table.planet}).result)
    return table.sun + table.planet + table.second_planet


def _remainder(table: PlanetaryTable) -> float:
    """Teeth left over when the planets are spaced equally: of sun and ring together in a plain set [-]."""
    if table.second_planet is None:
        given = {"sun_teeth": table.sun, "ring_teeth": table.ring, "planets": table.planets}
        return derive("assembly_remainder", given).result
    # of a stepped one the sun's turns come over through both gears of the planet
    total = table.sun * table.second_planet + table.ring * table.planet
    return total // int(common_factor_number(table.planet, table.second_planet)) % table.planets


def _fits(table: PlanetaryTable) -> bool:
    """Whether the counts of a set go together and its planets have room."""
    return (
        table.ring == _ring(table)
        and _remainder(table) == 0
        and (table.planets == 1 or _gap(table) > 0)
        and max(_lacking(table).values()) <= _THIN
    )


def _gap(table: PlanetaryTable) -> float:
    """Room between the tips of neighbouring planets [modules]."""
    largest = max(table.planet, _second(table))
    apart = (table.sun + table.planet) * math.sin(math.pi / table.planets)
    return apart - largest - 2 * _ADDENDUM


def _lacking(table: PlanetaryTable) -> dict[str, float]:
    """Flank that undercut takes from sun and planets, by name [modules]."""
    share = math.sin(math.radians(table.pressure_angle)) ** 2 / 2
    counts = {"sun": table.sun, "planet": table.planet} | (
        {"second planet": table.second_planet} if table.second_planet else {}
    )
    return {name: max(0.0, _ADDENDUM - teeth * share) for name, teeth in counts.items()}


def _whole_from(pressure_angle: float) -> int:
    """The least count that a rack cuts whole [-]."""
    return math.ceil(2 * _ADDENDUM / max(1e-6, math.sin(math.radians(pressure_angle)) ** 2) - 1e-9)


def _changes(design: Design, table: PlanetaryTable) -> Iterator[Iterable[Way]]:
    """Sets nearby that go together: other planets, another sun, all larger, or other planets and sun."""

    def tried(**fields: int | None) -> PlanetaryTable:
        changed = table.model_copy(update=fields)
        return changed.model_copy(update={"ring": _ring(changed)})

    near = sorted(range(1, 7), key=lambda count: abs(count - table.planets))
    yield [_way(table, other) for count in near if _fits(other := tried(planets=count))]
    around = sorted(range(_FEWEST, _MOST), key=lambda teeth: abs(teeth - table.sun))
    yield [_way(table, other) for teeth in around[:40] if _fits(other := tried(sun=teeth))]
    grown = (
        tried(
            sun=table.sun * times,
            planet=table.planet * times,
            second_planet=table.second_planet and table.second_planet * times,
        )
        for times in (2, 3, 4)
    )
    yield [_way(table, other) for other in grown if _fits(other) and max(other.sun, other.planet) <= _MOST]
    if table.second_planet is None:
        yield [
            _way(table, other)
            for teeth in around[:24]
            for planet in (18, 20, 24, 15)
            if _fits(other := tried(sun=teeth, planet=planet))
        ][:6]


def _way(table: PlanetaryTable, other: PlanetaryTable) -> Way:
    words = {
        "planets": "planets",
        "sun": "teeth of the sun",
        "planet": "teeth of each planet",
        "second_planet": "teeth of its second gear",
        "ring": "teeth of the ring",
    }
    fields = {word: getattr(other, word) for word in words if getattr(other, word) != getattr(table, word)}
    listed = ", ".join(f"{fields[word]} {words[word]}" for word in fields)
    return Way(f"Take {listed}", _edit(table, **fields))


# -- counts and room -----------------------------------------------------------------------------------
@CHECKS.row("planetary counts", "Does the ring span sun and planets?", "ring-does-not-fit", of="planetary")
def _counts(design: Design, table: PlanetaryTable) -> Outcome:
    ring, where = _ring(table), f"the {table.name}"
    if table.ring == ring:
        return Held(where, f"its ring of {ring} teeth spans sun and planets")

    def ways() -> Iterator[Iterable[Way]]:
        yield [Way(f"Use a ring of {ring} teeth", _edit(table, ring=ring))]
        yield from islice(_changes(design, table), 1, None)

    stepped = "" if table.second_planet is None else ", stepped planets"
    return finding(f"ring-does-not-fit{stepped}", design, where, ways, ring=table.ring, needed=ring)


@CHECKS.row("planetary assembly", "Do all planets find their teeth?", "planets-uneven", of="planetary")
def _assembly(design: Design, table: PlanetaryTable) -> Outcome:
    left, where = _remainder(table), f"the {table.name}"
    if table.ring != _ring(table):
        return unmade("assembly", design, where)
    if left == 0:
        return Held(where, f"{table.planets} planets go in at an equal spacing")
    return finding(
        "planets-uneven" if table.second_planet is None else "planets-uneven, stepped planets",
        design,
        where,
        lambda: _changes(design, table),
        teeth=table.sun + table.ring,
        left=round(left),
        planets=table.planets,
    )


@CHECKS.row("planetary room", "Do neighbouring planets clear each other?", "planets-collide", of="planetary")
def _neighbours(design: Design, table: PlanetaryTable) -> Outcome | None:
    if table.planets < 2:
        return None
    gap, where = _gap(table), f"the {table.name}"
    if gap > 1e-9:
        return Held(where, "the tips of neighbouring planets clear by, in modules,", gap, 0.0)
    return finding("planets-collide", design, where, lambda: _changes(design, table), by=said(-gap))


# -- teeth ---------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class _Rolled:
    """Two members whose teeth are rolled: contact ratio [-], overlap [modules], why they cannot be."""

    contact: float = 0.0
    overlap: float = 0.0
    fault: str = ""


@lru_cache(maxsize=1024)
def _outside(sun: int, planet: int, pressure_angle: float) -> _Rolled:
    try:
        sun_gear, planet_gear = (
            Gear(teeth, module=1.0, pressure_angle=pressure_angle) for teeth in (sun, planet)
        )
        pair = Mesh(sun_gear, planet_gear)
        return _Rolled(pair.contact_ratio)
    except ValueError as error:
        return _Rolled(fault=str(error))


@lru_cache(maxsize=1024)
def _inside(planet: int, ring: int, pressure_angle: float) -> _Rolled:
    """A planet in a ring whose teeth are as much shorter as sets of this kind have them."""
    try:
        around: Any = InternalGear(ring, module=1.0, pressure_angle=pressure_angle, tip_shortening=SHORTENING)
        pair = Mesh(Gear(planet, module=1.0, pressure_angle=pressure_angle), around)
        return _Rolled(pair.contact_ratio, pair.rolling.interference(_LOOKS))
    except ValueError as error:
        return _Rolled(fault=str(error))


def _cut(design: Design) -> Iterator[tuple[PlanetaryTable, str, float]]:
    """Sun and planets, with the flank that they lack [modules]."""
    for table in design.planetary:
        for name, lacking in _lacking(table).items():
            yield table, name, lacking


@CHECKS.row("planetary teeth", "Have sun and planets teeth enough?", "undercut", of=_cut)
def _tiny(design: Design, table: PlanetaryTable, name: str, lacking: float) -> Outcome:
    where, teeth = f"the {name} of the {table.name}", getattr(table, name.replace(" ", "_"))
    if lacking <= _WHOLE:
        return Held(where, f"{teeth} teeth are whole")
    return finding(
        "undercut, of a set" if lacking > _THIN else "undercut, of a set, a little",
        design,
        where,
        lambda: _changes(design, table),
        teeth=teeth,
        angle=said(table.pressure_angle),
        lacking=said(lacking),
        whole=_whole_from(table.pressure_angle),
    )


def _meetings(design: Design) -> Iterator[Outcome | tuple[PlanetaryTable, str, _Rolled]]:
    for table in design.planetary:
        if table.ring != _ring(table):
            yield unmade("rolling", design, f"the {table.name}")
            continue
        yield table, "sun with planet", _outside(table.sun, table.planet, table.pressure_angle)
        yield table, "planet with ring", _inside(_second(table), table.ring, table.pressure_angle)


@CHECKS.row(
    "planetary rolling",
    "Do sun, planets and ring roll?",
    "planet-fouls-ring",
    "little-contact",
    of=_meetings,
)
def _rolling(design: Design, table: PlanetaryTable, pair: str, rolled: _Rolled) -> Outcome:
    """Contact enough, and no tip in another's way."""
    where = f"{pair} of the {table.name}"
    overlap = f"tips would overlap by {said(rolled.overlap)} modules as they turn"
    if rolled.fault or rolled.overlap > 0:
        row = "planet-fouls-ring"
    elif rolled.contact < WANTED_CONTACT:
        row = "little-contact, of a set"
        row += ", none in reserve" if rolled.contact < LEAST_CONTACT else ""
    else:
        return Held(where, "the contact ratio is", rolled.contact, WANTED_CONTACT)
    return finding(
        row,
        design,
        where,
        lambda: _changes(design, table),
        why=rolled.fault.rstrip(".") or overlap,
        shorter=said(SHORTENING),
        contact=both(rolled.contact, WANTED_CONTACT)[0],
        wanted=said(WANTED_CONTACT),
    )


# -- what is held --------------------------------------------------------------------------------------
@CHECKS.row(
    "planetary held", "Does the right member stand still?", "ring-creeps", "set-locks", of="planetary"
)
def _held(design: Design, table: PlanetaryTable) -> Outcome:
    """The member that should, and no other."""
    where, held = f"the {table.name}", table.held
    bolted = "ring_bolted" in table.model_fields_set and table.ring_bolted
    if held == "ring" and not table.ring_bolted:
        return finding("ring-creeps", design, where, edits=(_edit(table, ring_bolted=True),))
    if held != "ring" and bolted:
        return finding("set-locks", design, where, edits=(_edit(table, ring_bolted=False),), held=held)
    if held in table.shafts and table.shafts[held] in design.turns:
        edits = (_edit(table, **{f"{held}_shaft": None}),)
        row, shaft = "set-locks, held and driven", table.shafts[held]
        return finding(row, design, where, edits=edits, held=held, shaft=shaft)
    torque = _member_torques(design, table).get(held)
    against = (
        "" if torque is None else f", and must be held against {said(torque, unit_of(design, 'torque'))}"
    )
    return Held(where, f"the {held} stands still{against}")


def _member_torques(design: Design, table: PlanetaryTable) -> dict[str, float]:
    """Torque on sun, ring and carrier [N m or lbf in], without losses; empty where none comes to the set."""
    known = [
        (member, design.torques[shaft])
        for member, shaft in table.shafts.items()
        if member != table.held and shaft in design.torques
    ]
    ring = table.ring / table.sun * table.planet / _second(table)
    shares = {"sun": 1.0, "ring": ring, "carrier": 1.0 + ring}
    if not known:
        return {}
    sun = max(torque / shares[member] for member, torque in known)
    return {member: sun * share for member, share in shares.items()}


# -- load ----------------------------------------------------------------------------------------------
@CHECKS.row(
    "planetary load",
    "Do the teeth of the set withstand the load?",
    "teeth-overloaded",
    "teeth-break-at-stall",
    of="planetary",
)
def _strength(design: Design, table: PlanetaryTable) -> Outcome:
    """The teeth of sun, planets and ring, the load shared by the planets."""
    torques, bears, where = _member_torques(design, table), allowed(table, design.unit), f"the {table.name}"
    needed = {
        "the torque that comes to it": torques,
        "module or diametral_pitch": table.size,
        "face_width": table.face_width,
        "allowable_stress": bears,
    }
    missing = next((word for word, given in needed.items() if not given), None)
    if missing is not None or bears is None:
        give = missing if torques else "[load] with torque, and the shafts of its members"
        return unmade("stress of a set", design, where, decisive=bool(torques), missing=missing, give=give)
    try:
        weakest, stress = _weakest(table, torques["sun"])
    except ValueError as error:
        return unmade("stress of teeth that cannot be", design, where, why=error)
    what = f"by the plain beam formula, {bears[1]}, the stress in the teeth of its {weakest} is"
    edit = partial(_edit, table)
    return borne(design, where, what, stress, bears[0], "of a set", edit, weakest=weakest)


def _weakest(table: PlanetaryTable, sun_torque: float) -> tuple[str, float]:
    """The member with the largest stress, and that stress [MPa or psi]."""
    size: dict[str, Any] = table.size | {"pressure_angle": table.pressure_angle}
    share, face = sun_torque / table.planets, table.face_width or 0.0
    on_planet = share * table.planet / table.sun
    gears = {
        "sun": (Gear(table.sun, **size), share),
        "planet": (Gear(table.planet, **size), on_planet),
        "second planet": (Gear(_second(table), **size), on_planet),
        "ring": (InternalGear(table.ring, **size), on_planet * table.ring / _second(table)),
    }
    return max(
        ((name, beam_stress(gear, torque, face)) for name, (gear, torque) in gears.items()),
        key=lambda each: each[1],
    )
