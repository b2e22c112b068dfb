"""What is stacked on a shaft, and whether the shaft is long enough."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts.working import worked_out
from ...theory import system
from ...theory.derivation import explain
from ...theory.scope import scope_for
from .explorer import Explorer, State, cell, choice, group, measure, one_of, remark, row, within

STEP = 5.0      # shafts are cut to steps of this [mm]
SHAFTS, GAPS, PLATES = (20.0, 80.0), (0.0, 6.0), (3.0, 12.0)
TURNS = {"towards the plate": "hub towards the plate", "outwards": "hub outwards"}


class ShaftStack(Explorer):
    """Collar, plate, washer, gear and end on one shaft; the reader chooses the shaft and which way the hub points.

    Parameters
    ----------
    overall_length, face_width : float
        Of the gear, hub included; the face is the shorter one, 4 to 60 [mm].
    hub_diameter, outside_diameter : float
        What is drawn of the gear, 6 to 300 [mm].
    behind_plate, end_length : float
        Collar behind the plate, bare end beyond the gear, 0 to 30 [mm].
    shaft_length : float
        Shaft at first, 20 to 80 in steps of 5 [mm].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> stack = ShaftStack()
    >>> stack.shaft_length = 45.0
    >>> stack.value("shaft_length"), stack.warnings[-1]["kind"]
    (44.0, 'good')
    """

    shaft_length = traitlets.Float(40.0).tag(sync=True)
    plate_thickness = traitlets.Float(6.0).tag(sync=True)
    axial_gap = traitlets.Float(1.5).tag(sync=True)
    hub_points = traitlets.Unicode("towards the plate").tag(sync=True)
    inputs = ("shaft_length", "plate_thickness", "axial_gap", "hub_points")

    def __init__(self, *, overall_length: float = 25.0, face_width: float = 12.0, hub_diameter: float = 32.0, outside_diameter: float = 117.5,
                 behind_plate: float = 8.5, end_length: float = 3.0, shaft_length: float = 40.0):
        for name, value, low, high in (("overall_length", overall_length, 4.0, 60.0), ("face_width", face_width, 4.0, overall_length), ("hub_diameter", hub_diameter, 6.0, 300.0),
                                       ("outside_diameter", outside_diameter, 6.0, 300.0), ("behind_plate", behind_plate, 0.0, 30.0), ("end_length", end_length, 0.0, 30.0)):
            within(name, value, low, high, "mm")
        self._fixed = {"behind_plate": float(behind_plate), "overall_length": float(overall_length), "face_width": float(face_width), "end_length": float(end_length),
                       "stock_step": STEP}
        self._drawn = float(hub_diameter), float(outside_diameter)
        self._scope = scope_for("stack", "mm", (system(),))
        super().__init__(playing=False, driver_speed=0.0, shaft_length=float(shaft_length))

    @traitlets.validate("shaft_length", "plate_thickness", "axial_gap")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, *{"shaft_length": SHAFTS, "plate_thickness": PLATES, "axial_gap": GAPS}[proposal.trait.name], "mm")
        return proposal.value

    @traitlets.validate("hub_points")
    def _listed(self, proposal):
        one_of("hub_points", proposal.value, TURNS)
        return proposal.value

    def _givens(self) -> dict[str, float]:
        return self._fixed | {"plate_thickness": self.plate_thickness, "axial_gap": self.axial_gap}

    def _derivation(self, word: str):
        return explain(self._scope, self._givens(), word, "iso")

    def _state(self) -> State:
        found = worked_out(self._scope, self._givens())
        face, hub = self._fixed["face_width"], found["hub_projection"]
        gear = [("hub", hub, self._drawn[0], "hub"), ("face", face, self._drawn[1], "face")]
        pieces = [("collar", self._fixed["behind_plate"], 18.0, "collar"), ("plate", self.plate_thickness, 80.0, "plate"), ("washers", self.axial_gap, 16.0, "washer"),
                  *(gear if self.hub_points == "towards the plate" else gear[::-1]), ("end", self._fixed["end_length"], 10.0, "end")]
        scene = views.stack(pieces, self.shaft_length)
        needed, stock = found["shaft_length"], found["stock_length"]
        height = "face_height" if self.hub_points == "towards the plate" else "outward_face_height"
        length = lambda value: numerals.length(value, "mm")      # noqa: E731
        rows = [row("needed along the shaft", cell("shaft_length", needed, length(needed), alarm=self.shaft_length < needed)),
                row("next longer shaft", cell("stock_length", stock, length(stock))), row("hub projection", cell("hub_projection", hub, length(hub))),
                row("middle of the face above the plate", cell(height, found[height], length(found[height])))]
        spare = self.shaft_length - needed
        if spare < 0:
            said = remark("warning", f"the shaft is {length(-spare)} too short: the gear has no hold at its end.")
        elif spare < STEP:
            said = remark("good", f"the shaft is long enough, with {length(spare)} to spare; the next shorter one would not do.")
        else:
            said = remark("note", f"{length(spare)} of the shaft stand out: they catch sleeves and bend easily; a shorter shaft would do.")
        task = remark("task", "choose the shortest shaft that is long enough. Then turn the hub round and see what changes.")
        controls = [measure("shaft_length", "Shaft", *SHAFTS, STEP, page=10.0, places=0, unit="mm", spoken="millimetres"),
                    choice("hub_points", "The gear's hub points", list(TURNS.items())),
                    measure("axial_gap", "Washers", *GAPS, 0.5, page=1.0, places=2, unit="mm", spoken="millimetres"),
                    measure("plate_thickness", "Plate", *PLATES, 1.0, page=3.0, places=1, unit="mm", spoken="millimetres")]
        return State(scene, "Along the shaft", [group("Worked out", rows)], [task, said], controls)

    def _named(self) -> str:
        return f"shaft {numerals.plain(self.shaft_length)} mm"
