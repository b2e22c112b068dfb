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
from .advice import Advised, Way
from .finding import Finding, Held, Outcome, Unmade, both, said, two_digits
from .ledger import Check
from .load import allowed, beam_stress, most_torque, unit_of

_MOTT = "Mott, section 8-12"
_ADDENDUM = 1.0  # of full-depth teeth [modules]
LEAST_CONTACT, WANTED_CONTACT = 1.0, 1.2  # Mott, section 8-4 (from memory)
#: Flank that undercut may take away [modules]: 17 teeth at 20 degrees lack 0.006, 12 lack 0.3.
_WHOLE, _THIN = 0.02, 0.31
_FEWEST, _MOST = 12, 200  # counts that are advised
_LOOKS = 41  # driver angles at which a planet is rolled in its ring


def _where(table: PlanetaryTable) -> str:
    return f"the {table.name}"


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
    return Way(f"Take {listed}", {"planetary": {table.name: fields}})


# -- counts and room -----------------------------------------------------------------------------------
def _counts(design: Design) -> Iterator[Outcome]:
    for table in design.planetary:
        ring = _ring(table)
        if table.ring == ring:
            yield Held(_where(table), f"its ring of {ring} teeth spans sun and planets")
            continue
        yield Advised(
            "ring-does-not-fit",
            "will not work",
            _where(table),
            f"the ring has {table.ring} teeth.",
            f"Sun and two planets across need {ring}."
            if table.second_planet is None
            else f"Sun, planet and second planet need {ring}.",
            "The planets do not fit between sun and ring.",
            _MOTT,
            design=design,
            ways=partial(_ringed, design, table, ring),
            otherwise=f"Use a ring of {ring} teeth.",
        )


def _ringed(design: Design, table: PlanetaryTable, ring: int) -> Iterator[Iterable[Way]]:
    yield [Way(f"Use a ring of {ring} teeth", {"planetary": {table.name: {"ring": ring}}})]
    yield from islice(_changes(design, table), 1, None)


def _assembly(design: Design) -> Iterator[Outcome]:
    for table in design.planetary:
        left = _remainder(table)
        if table.ring != _ring(table):
            yield Unmade(
                _where(table), "whether its planets go in", "its ring does not fit", "mend the ring first"
            )
        elif left == 0:
            yield Held(_where(table), f"{table.planets} planets go in at an equal spacing")
        else:
            what = (
                f"sun and ring have {table.sun + table.ring} teeth together, {round(left)} too many for"
                f" {table.planets} planets."
                if table.second_planet is None
                else f"the two gears of {table.planets} planets stand in {table.planets} different phases."
            )
            yield Advised(
                "planets-uneven",
                "will not work",
                _where(table),
                what,
                "The sum must divide by the number of planets."
                if table.second_planet is None
                else "Sun times second planet and ring times planet, over the common factor of a planet's two"
                " gears, must divide by the number of planets.",
                "The last planet cannot be pushed in at an equal spacing.",
                _MOTT,
                design=design,
                ways=partial(_changes, design, table),
                otherwise="Change a count, or the number of planets.",
            )


def _neighbours(design: Design) -> Iterator[Outcome]:
    for table in design.planetary:
        if table.planets < 2:
            continue
        gap = _gap(table)
        if gap > 1e-9:
            yield Held(_where(table), "the tips of neighbouring planets clear by, in modules,", gap, 0.0)
            continue
        yield Advised(
            "planets-collide",
            "will not work",
            _where(table),
            f"neighbouring planets overlap by {said(-gap)} modules.",
            "Their tips must clear.",
            "They strike each other.",
            "geometry",
            design=design,
            ways=partial(_changes, design, table),
            otherwise="Use fewer or smaller planets.",
        )


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


def _tiny(design: Design) -> Iterator[Outcome]:
    """Whether sun and planets have whole teeth, or flank enough."""
    for table in design.planetary:
        for name, lacking in _lacking(table).items():
            where, teeth = f"the {name} of {_where(table)}", getattr(table, name.replace(" ", "_"))
            if lacking <= _WHOLE:
                yield Held(where, f"{teeth} teeth are whole")
                continue
            yield Advised(
                "undercut",
                "will trouble" if lacking > _THIN else "worth knowing",
                where,
                f"{teeth} teeth at {said(table.pressure_angle)} deg are undercut by {said(lacking)} modules.",
                f"From {_whole_from(table.pressure_angle)} teeth on they are whole.",
                "An undercut tooth is thin at its foot and lacks part of its flank.",
                "rack generation; Mott, section 8-6",
                design=design,
                ways=partial(_changes, design, table),
                otherwise="Use more teeth.",
            )


def _rolling(design: Design) -> Iterator[Outcome]:
    """Sun, planet and ring rolled on each other: contact enough, and no tip in another's way."""
    for table in design.planetary:
        if table.ring != _ring(table):
            yield Unmade(_where(table), "how its teeth roll", "its ring does not fit", "mend the ring first")
            continue
        sun = _outside(table.sun, table.planet, table.pressure_angle)
        ring = _inside(_second(table), table.ring, table.pressure_angle)
        for where, rolled in (
            (f"sun with planet of {_where(table)}", sun),
            (f"planet with ring of {_where(table)}", ring),
        ):
            yield _rolls(design, table, where, rolled)


def _rolls(design: Design, table: PlanetaryTable, where: str, rolled: _Rolled) -> Outcome:
    source = "the cut teeth rolled on each other; Mott, sections 8-4 and 8-6"
    if rolled.fault or rolled.overlap > 0:
        name, grade = "planet-fouls-ring", "will not work"
        what = (
            rolled.fault.rstrip(".") or f"tips would overlap by {said(rolled.overlap)} modules as they turn"
        )
        limit = f"Tips must clear, the ring's shorter by {said(SHORTENING)} modules as is usual."
        why = "The teeth cannot pass each other."
    elif rolled.contact < WANTED_CONTACT:
        name, grade = "little-contact", "will not work" if rolled.contact < LEAST_CONTACT else "will trouble"
        what = f"the contact ratio is {both(rolled.contact, WANTED_CONTACT)[0]}"
        limit = f"It should be at least {said(WANTED_CONTACT)}."
        why = "One pair of teeth lets go when the next has hardly taken hold."
    else:
        return Held(where, "the contact ratio is", rolled.contact, WANTED_CONTACT)
    return Advised(
        name,
        grade,
        where,
        f"{what}.",
        limit,
        why,
        source,
        design=design,
        ways=lambda: _changes(design, table),
        otherwise="Use more teeth.",
    )


# -- what is held --------------------------------------------------------------------------------------
def _held(design: Design) -> Iterator[Outcome]:
    """Whether the member that should stand still does, and no other."""
    for table in design.planetary:
        where, bolted = _where(table), "ring_bolted" in table.model_fields_set and table.ring_bolted
        if table.held == "ring" and not table.ring_bolted:
            yield Finding(
                "ring-creeps",
                "will not work",
                where,
                "nothing holds the ring.",
                "The ring must take the difference of the torques.",
                "The ring turns backwards and nothing is driven.",
                "Bolt the ring, and state it: ring_bolted = true.",
                "balance of torques",
                ({"planetary": {table.name: {"ring_bolted": True}}},),
            )
        elif table.held != "ring" and bolted:
            yield Finding(
                "set-locks",
                "will not work",
                where,
                f"both the {table.held} and the ring are held.",
                "One of the three members stands still, and two turn.",
                "Nothing can turn.",
                "Let the ring turn: ring_bolted = false.",
                "F. Willis's equation",
                ({"planetary": {table.name: {"ring_bolted": False}}},),
            )
        elif table.held in table.shafts and table.shafts[table.held] in design.turns:
            shaft = table.shafts[table.held]
            yield Finding(
                "set-locks",
                "will not work",
                where,
                f"the {table.held} is held, and shaft {shaft}, on which it sits, is driven.",
                "What is held cannot turn.",
                "The drive locks.",
                f"Take its shaft out of the set: no {table.held}_shaft.",
                "F. Willis's equation",
                ({"planetary": {table.name: {f"{table.held}_shaft": None}}},),
            )
        else:
            torque = _member_torques(design, table).get(table.held)
            unit = unit_of(design, "torque")
            what = f"the {table.held} stands still"
            yield Held(
                where, what if torque is None else f"{what}, and must be held against {said(torque, unit)}"
            )


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
def _strength(design: Design) -> Iterator[Outcome]:
    """The teeth of sun, planets and ring, the load shared by the planets."""
    for table in design.planetary:
        torques, what = _member_torques(design, table), "the stress in its teeth"
        bears = allowed(table, design.unit)
        missing = next(
            (
                word
                for word, given in (
                    ("the torque that comes to it", torques),
                    ("module or diametral_pitch", table.size),
                    ("face_width", table.face_width),
                    ("allowable_stress", bears),
                )
                if not given
            ),
            None,
        )
        if missing is not None or bears is None or table.face_width is None:
            yield Unmade(
                _where(table),
                what,
                f"the file does not give {missing}",
                f"give {missing}" if torques else "give [load] with torque, and the shafts of its members",
                decisive=bool(torques),
            )
            continue
        try:
            weakest, stress = _weakest(table, torques["sun"])
        except ValueError as error:
            yield Unmade(_where(table), what, str(error), "mend its teeth first")
            continue
        most = most_torque(design.load) if design.load is not None else None
        factor = max(1.0, most / design.load.torque if most and design.load else 1.0)
        yield _borne(design, table, weakest, (stress, factor), bears)


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


def _borne(
    design: Design,
    table: PlanetaryTable,
    weakest: str,
    stress: tuple[float, float],
    bears: tuple[float, str],
) -> Outcome:
    unit, limit, (running, factor) = unit_of(design, "stress"), bears[0], stress
    if running * factor <= limit * (1 + 1e-9):
        what = f"by the plain beam formula, {bears[1]}, the stress in the teeth of its {weakest} is"
        return Held(_where(table), what, running * factor, limit, unit, least=False)
    at_once = running > limit * (1 + 1e-9)
    when = "" if at_once else " at stall"
    numbers = both(running if at_once else running * factor, limit, unit)
    needed = two_digits(running * factor, True)
    return Finding(
        "teeth-overloaded" if at_once else "teeth-break-at-stall",
        "will not work" if at_once else "will trouble",
        _where(table),
        f"the bending stress of its {weakest} is about {numbers[0]}{when}, shared by its planets.",
        f"The material can withstand {numbers[1]}.",
        "Teeth break.",
        f"Make it of a material that can withstand {said(needed, unit)}, or use larger teeth.",
        "W. Lewis, 1893; an estimate for teaching",
        ({"planetary": {table.name: {"allowable_stress": needed}}},),
    )


CHECKS = (
    Check("planetary counts", "Does the ring span sun and planets?", ("ring-does-not-fit",), _counts),
    Check("planetary assembly", "Do all planets find their teeth?", ("planets-uneven",), _assembly),
    Check("planetary room", "Do neighbouring planets clear each other?", ("planets-collide",), _neighbours),
    Check("planetary teeth", "Have sun and planets teeth enough?", ("undercut",), _tiny),
    Check(
        "planetary rolling",
        "Do sun, planets and ring roll?",
        ("planet-fouls-ring", "little-contact"),
        _rolling,
    ),
    Check("planetary held", "Does the right member stand still?", ("ring-creeps", "set-locks"), _held),
    Check(
        "planetary load",
        "Do the teeth of the set bear the load?",
        ("teeth-overloaded", "teeth-break-at-stall"),
        _strength,
    ),
)
