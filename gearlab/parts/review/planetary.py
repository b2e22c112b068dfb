"""What can be wrong with a planetary set: counts, spacing, room, what is held, load."""

from __future__ import annotations

from collections.abc import Iterator

from gearlab.theory import derive

from ..design import Design, PlanetaryTable
from .finding import Finding, said
from .ledger import Check


def findings(design: Design) -> Iterator[Finding]:
    """Findings about every planetary set."""
    for table in design.planetary:
        yield from _planetary(table)


def _planetary(table: PlanetaryTable) -> Iterator[Finding]:
    where = "the planetary set"
    ring = derive("ring_teeth", {"sun_teeth": table.sun, "planet_teeth": table.planet}).result
    if table.ring != round(ring):
        yield Finding(
            "ring-does-not-fit",
            "will not work",
            where,
            f"the ring has {table.ring} teeth.",
            f"Sun and two planets across need {round(ring)}.",
            "The planets do not fit between sun and ring.",
            f"Use a ring of {round(ring)} teeth.",
            "Mott, section 8-12",
        )
        return
    left = derive(
        "assembly_remainder", {"sun_teeth": table.sun, "ring_teeth": table.ring, "planets": table.planets}
    ).result
    if left:
        yield Finding(
            "planets-uneven",
            "will not work",
            where,
            f"sun and ring have {table.sun + table.ring} teeth together, {round(left)} too many for"
            f" {table.planets} planets.",
            "The sum must divide by the number of planets.",
            "The last planet cannot be pushed in at an equal spacing.",
            "Change a count, or the number of planets.",
            "Mott, section 8-12",
        )
    yield from _neighbouring_planets(table)
    if not table.ring_bolted:
        yield Finding(
            "ring-creeps",
            "will not work",
            where,
            "nothing holds the ring.",
            "The ring must take the difference of the torques.",
            "The ring turns backwards and nothing is driven.",
            "Bolt the ring.",
            "balance of torques",
        )


def _neighbouring_planets(table: PlanetaryTable) -> Iterator[Finding]:
    if table.planets < 2:
        return
    gap = derive(
        "planet_gap",
        {"planets": table.planets, "sun_teeth": table.sun, "planet_teeth": table.planet, "module": 1.0},
        kind="planetary set",
    ).result
    if gap <= 0:
        yield Finding(
            "planets-collide",
            "will not work",
            "the planetary set",
            f"neighbouring planets overlap by {said(-gap)} modules.",
            "Their tips must clear.",
            "They strike each other.",
            "Use fewer or smaller planets.",
            "geometry",
        )


CHECKS = (
    Check(
        "planetary set",
        "Does the planetary set go together and turn?",
        ("ring-does-not-fit", "planets-uneven", "planets-collide", "ring-creeps"),
        findings,
    ),
)
