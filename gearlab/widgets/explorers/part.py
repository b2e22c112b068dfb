"""An explorer that shows a part of a design: what it takes from it, and what it gives back."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from ...parts.design import Design, MeshTable
from ...parts.review import moved
from .inputs import Inputs, near_word

#: How many moved numbers are told beside the button; the rest are counted.
TOLD = 4


@dataclass(frozen=True)
class Part:
    """Which members of a design an explorer can show.

    kind: "mesh", "gear", "shaft", "rack", "bevel", "planetary" or "plate".
    take: from a design and the name of a member, the arguments of the explorer; ValueError for one it cannot
        show.
    give: from the inputs, the design and the name, the edits that bring the design to them.
    """

    kind: str
    take: Callable[[Design, str], Mapping[str, Any]]
    give: Callable[[Inputs, Design, str], Mapping[str, Any]]

    def named(self, design: Design, name: str | None) -> str:
        """The member to show: the one that is named, else the first; ValueError where there is none."""
        known = members(design, self.kind)
        if name is None:
            if not known:
                raise ValueError(f"the design {design.name!r} has no {self.kind} to show")
            return known[0]
        if name not in known:
            raise ValueError(
                f"part = {name!r} is no {self.kind} of the design{near_word(name, known)}; there are"
                f" {', '.join(known) or 'none'}"
            )
        return name


def members(design: Design, kind: str) -> list[str]:
    """Names of a design's members of a kind."""
    if kind == "plate":
        return ["plate"] if design.plate is not None else []
    tables: Any = design.bevels if kind == "bevel" else getattr(design, kind)
    return [table.name for table in tables]


def mesh_named(design: Design, name: str) -> MeshTable:
    """A mesh of a design by its name, "driver with driven"."""
    return next(pair for pair in design.mesh if pair.name == name)


def at_distance(design: Design, name: str, distance: float) -> dict[str, dict[str, float]]:
    """The edit of the driven shaft that sets a mesh at a distance along its line of centres [unit]."""
    pair = mesh_named(design, name)
    (x, y), shaft = design.shaft_of(pair.driver).place, design.shaft_of(pair.driven)
    angle = math.radians(design.line_angle(pair.driver, pair.driven))
    place = x + distance * math.cos(angle), y + distance * math.sin(angle)
    return {shaft.name: {word: round(value, 6) for word, value in zip("xy", place)}}


def used(before: Design, after: Design) -> str:
    """What was changed in a design, in a sentence for the page."""
    change = moved(before, after)
    if not (change.numbers or change.came or change.went):
        return "Nothing has moved: your design has these numbers already."
    told = [
        f"{name.replace('_', ' ')} {earlier:.5g} to {later:.5g}"
        for name, (earlier, later) in list(change.numbers.items())[:TOLD]
    ]
    more = len(change.numbers) - len(told)
    text = "In your design: " + ("; ".join(told) or "no number has moved")
    text += f"; {more} more numbers moved." if more > 0 else "."
    for word, findings in (("came", change.came), ("went", change.went)):
        if findings:
            text += f" {len(findings)} finding{'s' if len(findings) > 1 else ''} {word}: "
            text += "; ".join(f"{finding.where}: {finding.what}" for finding in findings[:2])
    return text
