"""A hub in section: how deep the hole for the set screw goes, and which screw stays below the surface."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts.working import worked_out
from ...theory import system
from ...theory.derivation import explain
from ...theory.quantities import NOTATION
from ...theory.scope import scope_for
from .explorer import Explorer, State, cell, choice, group, limited, one_of, or_usual, remark, row, within

# lengths in which set screws are commonly sold
SCREWS = {
    "mm": (4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0),
    "in": (0.125, 0.1875, 0.25, 0.3125, 0.375, 0.5, 0.625),
}
SCREW_DIAMETER = {"mm": 5.0, "in": 0.19}  # M5; no. 10
# Limits of the controls, with the step, page and places of each.
LIMITS = {
    "mm": {
        "hub_diameter": (16.0, 48.0, 1.0, 4.0, 1),
        "bore_diameter": (5.0, 20.0, 1.0, 2.0, 1),
        "drill_depth": (1.0, 40.0, 0.5, 2.0, 1),
    },
    "in": {
        "hub_diameter": (0.625, 2.0, 0.0625, 0.25, 4),
        "bore_diameter": (0.1875, 0.75, 0.0625, 0.125, 4),
        "drill_depth": (0.03, 1.6, 0.02, 0.1, 4),
    },
}
USUAL = {
    "mm": {
        "hub_diameter": 28.0,
        "bore_diameter": 10.0,
        "drill_depth": 7.0,
        "screw_length": 12.0,
        "flat_depth": 0.5,
    },
    "in": {
        "hub_diameter": 1.125,
        "bore_diameter": 0.375,
        "drill_depth": 0.28,
        "screw_length": 0.5,
        "flat_depth": 0.02,
    },
}
FLATS = {"mm": 1.5, "in": 0.06}  # deepest flat
WALLS = {"mm": 4.0, "in": 0.16}  # how much wider than the bore the hub must be
SAFE = {"mm": 2.0, "in": 0.08}  # what the hole should stop short of the far wall
OPEN = {"mm": 1.0, "in": 0.04}  # how far it should open into the bore


class HubSection(Explorer):
    """A hub with the hole for its set screw, whose depth and screw the reader chooses.

    Parameters
    ----------
    hub_diameter, bore_diameter : float, optional
        16 to 48 and 5 to 20 mm, the bore at least 4 mm smaller than the hub; or 0.625 to 2 and 0.1875 to 0.75
        in, at least 0.16 in smaller. 28 and 10 mm or 1.125 and 0.375 in if left out [unit].
    unit : str
        "mm" or "in" [-].
    drill_depth : float, optional
        Depth of the hole at first, 1 to 40 mm or 0.03 to 1.6 in [unit].
    screw_length : float, optional
        Length of the screw at first, from the list 4, 5, 6, 8, 10, 12, 16 mm, or 1/8, 3/16, 1/4, 5/16, 3/8,
        1/2, 5/8 in [unit].
    flat_depth : float, optional
        Depth of the flat on the shaft, 0 to 1.5 mm or 0 to 0.06 in [unit].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> hub = HubSection(28, 10)
    >>> hub.drill_depth, hub.screw_length = 14.0, 8.0
    >>> hub.warnings[-1]["kind"], hub.value("least_drill_depth"), hub.value("greatest_drill_depth")
    ('good', 9.0, 19.0)
    """

    hub_diameter = traitlets.Float(28.0).tag(sync=True)
    bore_diameter = traitlets.Float(10.0).tag(sync=True)
    drill_depth = traitlets.Float(7.0).tag(sync=True)
    screw_length = traitlets.Float(12.0).tag(sync=True)
    inputs = ("hub_diameter", "bore_diameter", "drill_depth", "screw_length")

    def __init__(
        self,
        hub_diameter: float | None = None,
        bore_diameter: float | None = None,
        *,
        unit: str = "mm",
        drill_depth: float | None = None,
        screw_length: float | None = None,
        flat_depth: float | None = None,
    ):
        one_of("unit", unit, USUAL)
        one = or_usual(
            USUAL[unit],
            hub_diameter=hub_diameter,
            bore_diameter=bore_diameter,
            drill_depth=drill_depth,
            screw_length=screw_length,
            flat_depth=flat_depth,
        )
        for name, limits in LIMITS[unit].items():
            within(name, one[name], *limits[:2], unit)
        flat = one.pop("flat_depth")
        within("flat_depth", flat, 0.0, FLATS[unit], unit)
        one_of("screw_length", one["screw_length"], SCREWS[unit])
        self.unit, self.flat_depth = unit, float(flat)
        self._scope = scope_for("hub", unit, (system(),))
        super().__init__(
            playing=False, driver_speed=0.0, **{name: float(value) for name, value in one.items()}
        )

    @traitlets.validate("hub_diameter", "bore_diameter", "drill_depth")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, *LIMITS[self.unit][proposal.trait.name][:2], self.unit)
        return proposal.value

    @traitlets.validate("screw_length")
    def _listed(self, proposal):
        one_of("screw_length", proposal.value, SCREWS[self.unit])
        return proposal.value

    def _givens(self) -> dict[str, float]:
        return {
            "hub_diameter": self.hub_diameter,
            "bore_diameter": self.bore_diameter,
            "flat_depth": self.flat_depth,
        }

    def _derivation(self, word: str):
        return explain(self._scope, self._givens(), word, NOTATION[self.unit])

    def _length(self, value: float) -> str:
        return numerals.length(value, self.unit)

    def _state(self) -> State:
        unit = self.unit
        if self.hub_diameter - self.bore_diameter < WALLS[unit] - 1e-9:
            raise ValueError(
                f"a bore of {numerals.plain(self.bore_diameter)} {unit} leaves a hub of"
                f" {numerals.plain(self.hub_diameter)} {unit} no wall for a thread: make the hub at least"
                f" {numerals.plain(WALLS[unit])} {unit} wider than the bore"
            )
        found = worked_out(self._scope, self._givens())
        wall, least, most, room = (
            found[word] for word in ("hub_wall", "least_drill_depth", "greatest_drill_depth", "screw_room")
        )
        depth, screw = self.drill_depth, self.screw_length
        scene = views.hub(
            self.hub_diameter,
            self.bore_diameter,
            depth,
            screw,
            screw_diameter=SCREW_DIAMETER[unit],
            flat_depth=self.flat_depth,
            window=(least, most),
            unit=unit,
            control="drill_depth",
        )
        length = self._length
        rows = [
            row("wall", cell("hub_wall", wall, length(wall))),
            row(
                "hub over bore", cell("hub_ratio", found["hub_ratio"], numerals.number(found["hub_ratio"], 2))
            ),
            row("least depth", cell("least_drill_depth", least, length(least), alarm=depth < least)),
            row("greatest depth", cell("greatest_drill_depth", most, length(most), alarm=depth > most)),
            row(
                "longest screw below the surface", cell("screw_room", room, length(room), alarm=screw > room)
            ),
        ]
        limits = LIMITS[unit]
        controls = [
            limited("drill_depth", "Depth of the hole", limits["drill_depth"], unit),
            choice(
                "screw_length",
                "Set screw",
                [(one, f"{numerals.plain(one)} {unit} long") for one in SCREWS[unit]],
            ),
            limited("hub_diameter", "Hub", limits["hub_diameter"], unit),
            limited("bore_diameter", "Bore", limits["bore_diameter"], unit),
        ]
        task = (
            f"set a depth that opens at least {numerals.plain(OPEN[unit])} {unit} into the bore and stops at"
            f" least {numerals.plain(SAFE[unit])} {unit} short of the far wall, and choose a screw that does"
            " not stand out of the hub."
        )
        return State(
            scene,
            f"Set screw in a hub of {numerals.plain(self.hub_diameter)} {unit}",
            [group("Worked out", rows)],
            [remark("task", task), *self._remarks(found)],
            controls,
        )

    def _remarks(self, found: dict[str, float]) -> list[dict]:
        least, most, room = found["least_drill_depth"], found["greatest_drill_depth"], found["screw_room"]
        depth, screw, said, length = self.drill_depth, self.screw_length, [], self._length
        if depth < least:
            said.append(
                remark(
                    "warning",
                    f"the hole ends {length(least - depth)} short of the bore: the screw never touches the"
                    " shaft.",
                )
            )
        elif depth < least + OPEN[self.unit] - 1e-9:
            said.append(
                remark(
                    "note",
                    f"the hole opens only {length(depth - least)} into the bore: the drill's point leaves a"
                    " ring.",
                )
            )
        if depth > most:
            said.append(remark("warning", f"the drill bites {length(depth - most)} into the far wall."))
        elif depth > most - SAFE[self.unit] + 1e-9:
            said.append(
                remark(
                    "note",
                    f"only {length(most - depth)} are left to the far wall: a slip of the hand marks it.",
                )
            )
        # it rests on the shaft, or on the bottom of a hole that does not reach it
        seat = room if depth >= least else min(room, depth)
        if screw > seat:
            said.append(
                remark(
                    "warning",
                    f"the screw stands {length(screw - seat)} out of the hub: on a turning shaft it catches"
                    " sleeves and fingers.",
                )
            )
        if not said:
            below = found["hub_wall"] + self.flat_depth - screw
            said.append(
                remark(
                    "good",
                    f"the hole opens {length(depth - least)} into the bore and the screw ends {length(below)}"
                    " below the surface.",
                )
            )
        return said

    def _named(self) -> str:
        return (
            f"hub {numerals.plain(self.hub_diameter)} {self.unit}, bore {numerals.plain(self.bore_diameter)}"
            f" {self.unit}"
        )
