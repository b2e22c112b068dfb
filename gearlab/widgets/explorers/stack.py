"""What is stacked on a shaft, and whether the shaft is long enough."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts.working import worked_out
from ...theory import system
from ...theory.derivation import explain
from ...theory.quantities import NOTATION
from ...theory.scope import scope_for
from .undeclared import Explorer, State, cell, choice, group, limited, one_of, or_usual, remark, row, within

# Limits of the controls, with the step, page and places of each; shafts are cut to steps of theirs.
LIMITS = {
    "mm": {
        "shaft_length": (20.0, 80.0, 5.0, 10.0, 0),
        "axial_gap": (0.0, 6.0, 0.5, 1.0, 2),
        "plate_thickness": (3.0, 12.0, 1.0, 3.0, 1),
    },
    "in": {
        "shaft_length": (0.75, 3.25, 0.25, 0.5, 2),
        "axial_gap": (0.0, 0.25, 0.015625, 0.0625, 4),
        "plate_thickness": (0.125, 0.5, 0.0625, 0.125, 4),
    },
}
USUAL = {
    "mm": {
        "overall_length": 25.0,
        "face_width": 12.0,
        "hub_diameter": 32.0,
        "outside_diameter": 117.5,
        "behind_plate": 8.5,
        "end_length": 3.0,
        "shaft_length": 40.0,
    },
    "in": {
        "overall_length": 0.875,
        "face_width": 0.5,
        "hub_diameter": 1.25,
        "outside_diameter": 4.7,
        "behind_plate": 0.34,
        "end_length": 0.125,
        "shaft_length": 1.5,
    },
}
START = {
    "mm": {"plate_thickness": 6.0, "axial_gap": 1.5},
    "in": {"plate_thickness": 0.375, "axial_gap": 0.0625},
}
GIVEN = {
    "mm": {"length": (4.0, 60.0), "diameter": (6.0, 300.0), "bare": (0.0, 30.0)},
    "in": {"length": (0.15, 2.5), "diameter": (0.25, 12.0), "bare": (0.0, 1.25)},
}
# diameters
DRAWN = {
    "mm": {"collar": 18.0, "plate": 80.0, "washers": 16.0, "end": 10.0},
    "in": {"collar": 0.75, "plate": 3.25, "washers": 0.625, "end": 0.375},
}
TURNS = {"towards the plate": "hub towards the plate", "outwards": "hub outwards"}


class ShaftStack(Explorer):
    """Collar, plate, washer, gear and end on one shaft.

    The reader chooses the shaft and which way the hub points.

    Parameters
    ----------
    unit : str
        "mm" or "in" [-].
    overall_length, face_width : float, optional
        Of the gear, hub included; the face is the shorter one, 4 to 60 mm or 0.15 to 2.5 in; 25 and 12 mm or
        0.875 and 0.5 in if left out [unit].
    hub_diameter, outside_diameter : float, optional
        What is drawn of the gear, 6 to 300 mm or 0.25 to 12 in [unit].
    behind_plate, end_length : float, optional
        Collar behind the plate, bare end beyond the gear, 0 to 30 mm or 0 to 1.25 in [unit].
    shaft_length : float, optional
        Shaft at first, 20 to 80 in steps of 5 mm, or 0.75 to 3.25 in steps of 0.25 in [unit].

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

    def __init__(
        self,
        *,
        unit: str = "mm",
        overall_length: float | None = None,
        face_width: float | None = None,
        hub_diameter: float | None = None,
        outside_diameter: float | None = None,
        behind_plate: float | None = None,
        end_length: float | None = None,
        shaft_length: float | None = None,
    ):
        one_of("unit", unit, USUAL)
        one = or_usual(
            USUAL[unit],
            overall_length=overall_length,
            face_width=face_width,
            hub_diameter=hub_diameter,
            outside_diameter=outside_diameter,
            behind_plate=behind_plate,
            end_length=end_length,
            shaft_length=shaft_length,
        )
        limits = GIVEN[unit]
        for name, (low, high) in (
            ("overall_length", limits["length"]),
            ("face_width", (limits["length"][0], one["overall_length"])),
            ("hub_diameter", limits["diameter"]),
            ("outside_diameter", limits["diameter"]),
            ("behind_plate", limits["bare"]),
            ("end_length", limits["bare"]),
        ):
            within(name, one[name], low, high, unit)
        self.unit = unit
        self._fixed = {
            name: float(one[name]) for name in ("behind_plate", "overall_length", "face_width", "end_length")
        } | {"stock_step": LIMITS[unit]["shaft_length"][2]}
        self._drawn = float(one["hub_diameter"]), float(one["outside_diameter"])
        self._scope = scope_for("stack", unit, (system(),))
        super().__init__(
            playing=False, driver_speed=0.0, shaft_length=float(one["shaft_length"]), **START[unit]
        )

    @traitlets.validate("shaft_length", "plate_thickness", "axial_gap")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, *LIMITS[self.unit][proposal.trait.name][:2], self.unit)
        return proposal.value

    @traitlets.validate("hub_points")
    def _listed(self, proposal):
        one_of("hub_points", proposal.value, TURNS)
        return proposal.value

    def _givens(self) -> dict[str, float]:
        return self._fixed | {"plate_thickness": self.plate_thickness, "axial_gap": self.axial_gap}

    def _derivation(self, word: str):
        return explain(self._scope, self._givens(), word, NOTATION[self.unit])

    def _state(self) -> State:
        found = worked_out(self._scope, self._givens())
        face, hub = self._fixed["face_width"], found["hub_projection"]
        gear = [("hub", hub, self._drawn[0], "hub"), ("face", face, self._drawn[1], "face")]
        drawn = DRAWN[self.unit]
        pieces = [
            ("collar", self._fixed["behind_plate"], drawn["collar"], "collar"),
            ("plate", self.plate_thickness, drawn["plate"], "plate"),
            ("washers", self.axial_gap, drawn["washers"], "washer"),
            *(gear if self.hub_points == "towards the plate" else gear[::-1]),
            ("end", self._fixed["end_length"], drawn["end"], "end"),
        ]
        # the hub is seen whole, the face goes on
        scene = views.stack(
            pieces, self.shaft_length, shaft_diameter=drawn["end"], unit=self.unit, room=1.3 * self._drawn[0]
        )
        needed, stock = found["shaft_length"], found["stock_length"]
        height = "face_height" if self.hub_points == "towards the plate" else "outward_face_height"
        length = lambda value: numerals.length(value, self.unit)  # noqa: E731
        rows = [
            row(
                "needed along the shaft",
                cell("shaft_length", needed, length(needed), alarm=self.shaft_length < needed),
            ),
            row("next longer shaft", cell("stock_length", stock, length(stock))),
            row("hub projection", cell("hub_projection", hub, length(hub))),
            row("middle of the face above the plate", cell(height, found[height], length(found[height]))),
        ]
        spare = self.shaft_length - needed
        if spare < 0:
            said = remark(
                "warning", f"the shaft is {length(-spare)} too short: the gear has no hold at its end."
            )
        elif spare < self._fixed["stock_step"]:
            said = remark(
                "good",
                f"the shaft is long enough, with {length(spare)} to spare; the next shorter one would"
                " not do.",
            )
        else:
            said = remark(
                "note",
                f"{length(spare)} of the shaft stand out: they catch sleeves and bend easily; a shorter shaft"
                " would do.",
            )
        task = remark(
            "task",
            "choose the shortest shaft that is long enough. Then turn the hub round and see what changes.",
        )
        limits, unit = LIMITS[self.unit], self.unit
        controls = [
            limited("shaft_length", "Shaft", limits["shaft_length"], unit),
            choice("hub_points", "The gear's hub points", list(TURNS.items())),
            limited("axial_gap", "Washers", limits["axial_gap"], unit),
            limited("plate_thickness", "Plate", limits["plate_thickness"], unit),
        ]
        return State(scene, "Along the shaft", [group("Worked out", rows)], [task, said], controls)

    def _named(self) -> str:
        return f"shaft {numerals.plain(self.shaft_length)} {self.unit}"
