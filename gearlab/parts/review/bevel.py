"""What can be wrong with a bevel or mitre pair: counts, cones, mounting, thrust, load."""

from __future__ import annotations

from collections.abc import Iterator

from ..design import BevelTable, Design
from .finding import Finding
from .ledger import Check


def findings(design: Design) -> Iterator[Finding]:
    """Findings about every bevel pair."""
    for table in design.bevels:
        yield from _pair(table, table is design.mitre)


def _pair(mitre: BevelTable, named_mitre: bool) -> Iterator[Finding]:
    if named_mitre and mitre.teeth[0] != mitre.teeth[1]:
        yield Finding(
            "mitre-unequal",
            "will not work",
            "the mitre pair",
            f"it has {mitre.teeth[0]} and {mitre.teeth[1]} teeth.",
            "Both of a mitre pair have the same count.",
            "The cones do not share an apex: the teeth grind.",
            "Buy and mount them as a pair.",
            "Mott, section 8-9",
        )
    if not mitre.thrust_collars:
        yield Finding(
            "mitre-pushed-off",
            "will trouble",
            "the mitre pair",
            "no collars take the thrust.",
            "Bevel gears push each other along their shafts.",
            "The gears walk out of mesh.",
            "Put a collar behind each.",
            "Mott, section 9-14 (from memory)",
        )


CHECKS = (
    Check(
        "bevel pair",
        "Do the two bevel gears belong together, and are they held?",
        ("mitre-unequal", "mitre-pushed-off"),
        findings,
    ),
)
