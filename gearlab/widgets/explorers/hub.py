"""A hub in section: how deep the hole for the set screw goes, and which screw stays below the surface."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from gearlab.care import hazard

from ...drawing import numerals, views
from ...parts.design import Design
from ...parts.published.fastening import set_screw
from ...parts.working import worked_out
from ...theory import system
from ...theory.scope import scope_for
from ...theory.units import MM_PER_INCH
from .controls import Choice, Length, Scale
from .explorer import Explained, Explorer, State
from .part import Part
from .state import Cells, Inputs, caution, good, group, note, row, task, warning

# lengths in which set screws are commonly sold
SCREWS = {
    "mm": (4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0),
    "in": (0.125, 0.1875, 0.25, 0.3125, 0.375, 0.5, 0.625),
}
SCREW_DIAMETER = {"mm": 5.0, "in": 0.19}  # M5; no. 10
USUAL_SCREW = {"mm": 12.0, "in": 0.5}
WALLS = {"mm": 4.0, "in": 0.16}  # how much wider than the bore the hub must be
SAFE = {"mm": 2.0, "in": 0.08}  # what the hole should stop short of the far wall
OPEN = {"mm": 1.0, "in": 0.04}  # how far it should open into the bore


class HubSection(Explorer):
    """A hub with the hole for its set screw, whose depth and screw the reader chooses.

    Examples
    --------
    >>> hub = HubSection(28, 10)
    >>> hub.drill_depth, hub.screw_length = 14.0, 8.0
    >>> hub.warnings[-1]["kind"], hub.value("least_drill_depth"), hub.value("greatest_drill_depth")
    ('good', 9.0, 19.0)
    """

    positional = 2
    hub_diameter = Length(
        "Hub",
        mm=Scale(28.0, 8.0, 48.0, 1.0, 4.0, 1),
        inch=Scale(1.125, 0.3125, 2.0, 0.0625, 0.25, 4),
        about="Diameter of the hub",
    )
    bore_diameter = Length(
        "Bore",
        mm=Scale(10.0, 3.0, 20.0, 1.0, 2.0, 1),
        inch=Scale(0.375, 0.125, 0.75, 0.0625, 0.125, 4),
        about="Diameter of the bore, at least 4 mm or 0.16 in smaller than the hub",
    )
    unit = Choice("mm", ("mm", "in"), about="Unit of lengths", fixed=True)
    drill_depth = Length(
        "Depth of the hole",
        mm=Scale(7.0, 1.0, 40.0, 0.5, 2.0, 1),
        inch=Scale(0.28, 0.03, 1.6, 0.02, 0.1, 4),
        about="Depth of the hole at first",
    )
    screw_length = Choice(
        None,
        lambda hub, _: {screw: f"{numerals.plain(screw)} {hub.unit} long" for screw in hub.screws},
        "Set screw",
        first=lambda hub, _: USUAL_SCREW[hub.unit],
        about="Length of the screw at first: 4, 5, 6, 8, 10, 12 or 16 mm, or 1/8, 3/16, 1/4, 5/16, 3/8, 1/2"
        " or 5/8 in [mm or in]",
        kind="float",
    )
    flat_depth = Length(
        "Flat on the shaft",
        mm=Scale(0.5, 0.0, 1.5, 0.1, 0.5, 2),
        inch=Scale(0.02, 0.0, 0.06, 0.005, 0.02, 4),
        about="Depth of the flat on the shaft",
        when=lambda hub, _: hub.of_a_design,
    )
    screw_diameter = Length(
        about="Diameter of the set screw; M5 or no. 10 if left out",
        mm=Scale(SCREW_DIAMETER["mm"], 1.0, 20.0),
        inch=Scale(SCREW_DIAMETER["in"], 0.04, 0.8),
        fixed=True,
    )
    panelled = ("drill_depth", "screw_length", "flat_depth", "hub_diameter", "bore_diameter")

    secrets = ("least_drill_depth", "greatest_drill_depth", "screw_room")
    part_of_design = Part("gear", lambda *given: _taken(*given), lambda *given: _given(*given))

    @property
    def screws(self) -> list[float]:
        """Lengths of set screws to choose from, that of a design among them [in or mm]."""
        own = self._of_design.get("screw_length", USUAL_SCREW[self.unit])
        return sorted({*SCREWS[self.unit], own})

    def unit_of(self, inputs: Inputs) -> str:
        return self.unit

    def prepare(self):
        self._scope = scope_for("hub", self.unit, (system(),))

    def state(self, inputs: Inputs) -> State:
        unit, hub, bore, depth = self.unit, inputs.hub_diameter, inputs.bore_diameter, inputs.drill_depth
        if hub - bore < WALLS[unit] - 1e-9:
            raise ValueError(
                f"a bore of {numerals.plain(bore)} {unit} leaves a hub of {numerals.plain(hub)} {unit} no"
                f" wall for a thread: make the hub at least {numerals.plain(WALLS[unit])} {unit} larger than"
                " the bore"
            )
        givens = {"hub_diameter": hub, "bore_diameter": bore, "flat_depth": inputs.flat_depth}
        n = Cells(worked_out(self._scope, givens), unit)
        least, most, screw = n["least_drill_depth"], n["greatest_drill_depth"], inputs.screw_length
        told = list(self._remarks(n.numbers, depth, screw)) or [self._done(n.numbers, inputs)]
        telling = self.may_tell(inputs, "least_drill_depth", "greatest_drill_depth")
        scene = views.hub(
            hub,
            bore,
            depth,
            screw,
            screw_diameter=self.screw_diameter,
            flat_depth=inputs.flat_depth,
            window=(least, most) if told[0]["kind"] == "good" or telling else None,
            unit=unit,
            control="drill_depth",
        )
        rows = [
            row("wall of the hub", n.length("hub_wall")),
            row("hub over bore", n.number("hub_ratio", places=2)),
            row("minimum depth of the hole", n.length("least_drill_depth", alarm=depth < least)),
            row("maximum depth of the hole", n.length("greatest_drill_depth", alarm=depth > most)),
            row("longest screw below the surface", n.length("screw_room", alarm=screw > n["screw_room"])),
        ]
        wanted = task(
            f"set a depth that opens at least {numerals.plain(OPEN[unit])} {unit} into the bore and stops at"
            f" least {numerals.plain(SAFE[unit])} {unit} short of the far wall, and choose a screw that does"
            " not project from the hub."
        )
        heading = f"Set screw in a hub of {numerals.plain(hub)} {unit}"
        return State(
            inputs,
            scene,
            heading,
            [group("Worked out", rows)],
            [wanted, *told],
            Explained(self._scope, givens),
        )

    def _length(self, value: float) -> str:
        return numerals.length(value, self.unit)

    def _remarks(self, n: Mapping[str, float], depth: float, screw: float) -> Iterator[dict]:
        least, most, room, length = (
            n["least_drill_depth"],
            n["greatest_drill_depth"],
            n["screw_room"],
            self._length,
        )
        if depth < least:
            yield warning(
                f"the hole ends {length(least - depth)} short of the bore: the screw never touches the shaft."
            )
        elif depth < least + OPEN[self.unit] - 1e-9:
            yield note(
                f"the hole opens only {length(depth - least)} into the bore: the drill's point leaves a ring."
            )
        if depth > most:
            yield warning(f"the drill bites {length(depth - most)} into the far wall.")
        elif depth > most - SAFE[self.unit] + 1e-9:
            yield note(f"only {length(most - depth)} are left to the far wall: a slip of the hand marks it.")
        # it rests on the shaft, or on the bottom of a hole that does not reach it
        seat = room if depth >= least else min(room, depth)
        if screw > seat:
            yield caution(f"the screw projects {length(screw - seat)} from the hub: {hazard('shafts')}.")

    def _done(self, n: Mapping[str, float], inputs: Inputs) -> dict:
        below = self._length(n["hub_wall"] + inputs.flat_depth - inputs.screw_length)
        opens = self._length(inputs.drill_depth - n["least_drill_depth"])
        return good(f"the hole opens {opens} into the bore and the screw ends {below} below the surface.")

    def _named(self) -> str:
        hub, bore = numerals.plain(self.hub_diameter), numerals.plain(self.bore_diameter)
        return f"hub {hub} {self.unit}, bore {bore} {self.unit}"


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A gear's hub; what the design does not say of hole and screw stands as it usually does."""
    table = design.of(name)
    if table.hub_diameter is None:
        raise ValueError(
            f"{name!r} has no hub; give it hub_diameter and hub_projection in {design.unit}, or name another"
            " gear: part = ..."
        )
    return {
        "unit": design.unit,
        "hub_diameter": table.hub_diameter,
        "bore_diameter": table.bore,
        "drill_depth": table.drill_depth,
        "screw_length": table.screw_length,
        "flat_depth": table.flat,
        "screw_diameter": _thread(design, table.set_screw),
    }


def _thread(design: Design, screw: str | None) -> float | None:
    """Diameter of a screw of a design, in its unit."""
    if screw is None:
        return None
    thread = set_screw(screw)
    if thread.unit == design.unit:
        return thread.diameter
    return thread.diameter / MM_PER_INCH if design.unit == "in" else thread.diameter * MM_PER_INCH


def _given(inputs: Inputs, _design: Design, name: str) -> dict[str, Any]:
    return {
        "gear": {
            name: {
                "hub_diameter": inputs.hub_diameter,
                "bore": inputs.bore_diameter,
                "drill_depth": inputs.drill_depth,
                "screw_length": inputs.screw_length,
                "flat": inputs.flat_depth,
            }
        }
    }
