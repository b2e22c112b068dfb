"""A hub in section: how deep the hole for the set screw goes, and which screw stays below the surface."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts.working import worked_out
from ...theory import system
from ...theory.derivation import explain
from ...theory.scope import scope_for
from .explorer import Explorer, State, cell, choice, group, measure, one_of, remark, row, within

SCREWS = (4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0)     # lengths in which set screws of this size are commonly sold [mm]
HUBS, BORES, DEPTHS = (16.0, 48.0), (5.0, 20.0), (1.0, 40.0)
SAFE = 2.0      # what the hole should stop short of the far wall [mm]
OPEN = 1.0      # how far it should open into the bore [mm]
TASK = "set a depth that opens at least 1 mm into the bore and stops at least 2 mm short of the far wall, and choose a screw that does not stand out of the hub."


class HubSection(Explorer):
    """A hub with the hole for its set screw, whose depth and screw the reader chooses.

    Parameters
    ----------
    hub_diameter, bore_diameter : float
        16 to 48 and 5 to 20, the bore at least 4 smaller than the hub [mm].
    drill_depth : float
        Depth of the hole at first, 1 to 40 [mm].
    screw_length : float
        Length of the screw at first, from the list 4, 5, 6, 8, 10, 12, 16 [mm].
    flat_depth : float
        Depth of the flat on the shaft, 0 to 1.5 [mm].

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

    def __init__(self, hub_diameter: float = 28.0, bore_diameter: float = 10.0, *, drill_depth: float = 7.0, screw_length: float = 12.0, flat_depth: float = 0.5):
        within("hub_diameter", hub_diameter, *HUBS, "mm")
        within("bore_diameter", bore_diameter, *BORES, "mm")
        within("drill_depth", drill_depth, *DEPTHS, "mm")
        within("flat_depth", flat_depth, 0.0, 1.5, "mm")
        one_of("screw_length", screw_length, SCREWS)
        self.flat_depth = float(flat_depth)
        self._scope = scope_for("hub", "mm", (system(),))
        super().__init__(playing=False, driver_speed=0.0, hub_diameter=float(hub_diameter), bore_diameter=float(bore_diameter), drill_depth=float(drill_depth),
                         screw_length=float(screw_length))

    @traitlets.validate("hub_diameter", "bore_diameter", "drill_depth")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, *{"hub_diameter": HUBS, "bore_diameter": BORES, "drill_depth": DEPTHS}[proposal.trait.name], "mm")
        return proposal.value

    @traitlets.validate("screw_length")
    def _listed(self, proposal):
        one_of("screw_length", proposal.value, SCREWS)
        return proposal.value

    def _givens(self) -> dict[str, float]:
        return {"hub_diameter": self.hub_diameter, "bore_diameter": self.bore_diameter, "flat_depth": self.flat_depth}

    def _derivation(self, word: str):
        return explain(self._scope, self._givens(), word, "iso")

    def _state(self) -> State:
        if self.hub_diameter - self.bore_diameter < 4:
            raise ValueError(f"a bore of {numerals.plain(self.bore_diameter)} mm leaves a hub of {numerals.plain(self.hub_diameter)} mm no wall for a thread: "
                             "make the hub at least 4 mm wider than the bore")
        found = worked_out(self._scope, self._givens())
        wall, least, most, room = (found[word] for word in ("hub_wall", "least_drill_depth", "greatest_drill_depth", "screw_room"))
        depth, screw = self.drill_depth, self.screw_length
        scene = views.hub(self.hub_diameter, self.bore_diameter, depth, screw, flat_depth=self.flat_depth, window=(least, most), control="drill_depth")
        length = lambda value: numerals.length(value, "mm")      # noqa: E731
        rows = [row("wall", cell("hub_wall", wall, length(wall))), row("hub over bore", cell("hub_ratio", found["hub_ratio"], numerals.number(found["hub_ratio"], 2))),
                row("least depth", cell("least_drill_depth", least, length(least), alarm=depth < least)),
                row("greatest depth", cell("greatest_drill_depth", most, length(most), alarm=depth > most)),
                row("longest screw below the surface", cell("screw_room", room, length(room), alarm=screw > room))]
        controls = [measure("drill_depth", "Depth of the hole", *DEPTHS, 0.5, page=2.0, places=1, unit="mm", spoken="millimetres"),
                    choice("screw_length", "Set screw", [(one, f"{numerals.plain(one)} mm long") for one in SCREWS]),
                    measure("hub_diameter", "Hub", *HUBS, 1.0, page=4.0, places=1, unit="mm", spoken="millimetres"),
                    measure("bore_diameter", "Bore", *BORES, 1.0, page=2.0, places=1, unit="mm", spoken="millimetres")]
        return State(scene, f"Set screw in a hub of {numerals.plain(self.hub_diameter)} mm", [group("Worked out", rows)], [remark("task", TASK), *self._remarks(found)], controls)

    def _remarks(self, found: dict[str, float]) -> list[dict]:
        least, most, room = found["least_drill_depth"], found["greatest_drill_depth"], found["screw_room"]
        depth, screw, said = self.drill_depth, self.screw_length, []
        if depth < least:
            said.append(remark("warning", f"the hole ends {numerals.length(least - depth, 'mm')} short of the bore: the screw never touches the shaft."))
        elif depth < least + OPEN:
            said.append(remark("note", f"the hole opens only {numerals.length(depth - least, 'mm')} into the bore: the drill's point leaves a ring."))
        if depth > most:
            said.append(remark("warning", f"the drill bites {numerals.length(depth - most, 'mm')} into the far wall."))
        elif depth > most - SAFE:
            said.append(remark("note", f"only {numerals.length(most - depth, 'mm')} are left to the far wall: a slip of the hand marks it."))
        seat = room if depth >= least else min(room, depth)      # it rests on the shaft, or on the bottom of a hole that does not reach it
        if screw > seat:
            said.append(remark("warning", f"the screw stands {numerals.length(screw - seat, 'mm')} out of the hub: on a turning shaft it catches sleeves and fingers."))
        if not said:
            below = found["hub_wall"] + self.flat_depth - screw
            said.append(remark("good", f"the hole opens {numerals.length(depth - least, 'mm')} into the bore and the screw ends {numerals.length(below, 'mm')} below the surface."))
        return said

    def _named(self) -> str:
        return f"hub {numerals.plain(self.hub_diameter)} mm, bore {numerals.plain(self.bore_diameter)} mm"
