"""What is stacked on a shaft, and whether the shaft is long enough."""

from __future__ import annotations

from ...drawing import numerals, views
from ...parts.working import worked_out
from ...theory import system
from ...theory.scope import scope_for
from .controls import Choice, Length, Scale
from .explorer import Explained, Explorer, State
from .inputs import Inputs, within
from .readout import Cells, good, group, note, row, task, warning

# diameters
DRAWN = {
    "mm": {"collar": 18.0, "plate": 80.0, "washers": 16.0, "end": 10.0},
    "in": {"collar": 0.75, "plate": 3.25, "washers": 0.625, "end": 0.375},
}
STOCK = {"mm": 5.0, "in": 0.25}  # steps in which shafts are cut
LENGTHS, DIAMETERS = {"mm": (4.0, 60.0), "in": (0.15, 2.5)}, {"mm": (6.0, 300.0), "in": (0.25, 12.0)}
BARE = {"mm": (0.0, 30.0), "in": (0.0, 1.25)}


def _given(about: str, metric: float, inch: float, limits: dict[str, tuple[float, float]]) -> Length:
    return Length(about=about, mm=Scale(metric, *limits["mm"]), inch=Scale(inch, *limits["in"]), fixed=True)


class ShaftStack(Explorer):
    """Collar, plate, washer, gear and end on one shaft.

    The reader chooses the shaft and which way the hub points.

    Examples
    --------
    >>> stack = ShaftStack()
    >>> stack.shaft_length = 45.0
    >>> stack.value("shaft_length"), stack.warnings[-1]["kind"]
    (44.0, 'good')
    """

    panelled = ("shaft_length", "hub_points", "axial_gap", "plate_thickness")
    unit = Choice("mm", ("mm", "in"), about="Unit of lengths", fixed=True)
    overall_length = _given("Length of the gear, hub included", 25.0, 0.875, LENGTHS)
    face_width = _given("Its face, no longer than the gear", 12.0, 0.5, LENGTHS)
    hub_diameter = _given("Diameter of its hub, as drawn", 32.0, 1.25, DIAMETERS)
    outside_diameter = _given("Outside diameter, as drawn", 117.5, 4.7, DIAMETERS)
    behind_plate = _given("Collar behind the plate", 8.5, 0.34, BARE)
    end_length = _given("Bare end beyond the gear", 3.0, 0.125, BARE)
    shaft_length = Length(
        "Shaft",
        mm=Scale(40.0, 20.0, 80.0, STOCK["mm"], 10.0, 0),
        inch=Scale(1.5, 0.75, 3.25, STOCK["in"], 0.5, 2),
        about="Shaft at first, cut in steps of 5 mm or 0.25 in",
    )
    plate_thickness = Length(
        "Plate",
        mm=Scale(6.0, 3.0, 12.0, 1.0, 3.0, 1),
        inch=Scale(0.375, 0.125, 0.5, 0.0625, 0.125, 4),
        argument=False,
    )
    axial_gap = Length(
        "Washers",
        mm=Scale(1.5, 0.0, 6.0, 0.5, 1.0, 2),
        inch=Scale(0.0625, 0.0, 0.25, 0.015625, 0.0625, 4),
        argument=False,
    )
    hub_points = Choice(
        "towards the plate",
        {"towards the plate": "hub towards the plate", "outwards": "hub outwards"},
        "The gear's hub points",
        argument=False,
    )

    def unit_of(self, inputs: Inputs) -> str:
        return self.unit

    def prepare(self):
        within("face_width", self.face_width, LENGTHS[self.unit][0], self.overall_length, self.unit)
        self._scope = scope_for("stack", self.unit, (system(),))
        self._fixed = {
            "behind_plate": self.behind_plate,
            "overall_length": self.overall_length,
            "face_width": self.face_width,
            "end_length": self.end_length,
            "stock_step": STOCK[self.unit],
        }

    def state(self, inputs: Inputs) -> State:
        givens = self._fixed | {"plate_thickness": inputs.plate_thickness, "axial_gap": inputs.axial_gap}
        n, inward = (
            Cells(worked_out(self._scope, givens), self.unit),
            inputs.hub_points == "towards the plate",
        )
        height = "face_height" if inward else "outward_face_height"
        rows = [
            row(
                "needed along the shaft",
                n.length("shaft_length", alarm=inputs.shaft_length < n["shaft_length"]),
            ),
            row("next longer shaft", n.length("stock_length")),
            row("hub projection", n.length("hub_projection")),
            row("middle of the face above the plate", n.length(height)),
        ]
        wanted = task(
            "choose the shortest shaft that is long enough. Then turn the hub round and see what changes."
        )
        told = [wanted, self._judged(inputs.shaft_length - n["shaft_length"])]
        # the hub is seen whole, the face goes on
        scene = views.stack(
            self._pieces(inputs, n["hub_projection"], inward),
            inputs.shaft_length,
            shaft_diameter=DRAWN[self.unit]["end"],
            unit=self.unit,
            room=1.3 * self.hub_diameter,
        )
        readout, reasons = [group("Worked out", rows)], Explained(self._scope, givens)
        return State(inputs, scene, "Along the shaft", readout, told, reasons)

    def _pieces(self, inputs: Inputs, hub: float, inward: bool) -> list[tuple[str, float, float, str]]:
        gear = [
            ("hub", hub, self.hub_diameter, "hub"),
            ("face", self.face_width, self.outside_diameter, "face"),
        ]
        drawn = DRAWN[self.unit]
        return [
            ("collar", self.behind_plate, drawn["collar"], "collar"),
            ("plate", inputs.plate_thickness, drawn["plate"], "plate"),
            ("washers", inputs.axial_gap, drawn["washers"], "washer"),
            *(gear if inward else gear[::-1]),
            ("end", self.end_length, drawn["end"], "end"),
        ]

    def _judged(self, spare: float) -> dict:
        size = numerals.length(abs(spare), self.unit)
        if spare < 0:
            return warning(f"the shaft is {size} too short: the gear has no hold at its end.")
        if spare < STOCK[self.unit]:
            return good(f"the shaft is long enough, with {size} to spare; the next shorter one would not do.")
        return note(
            f"{size} of the shaft stand out: they catch sleeves and bend easily; a shorter shaft would do."
        )

    def _named(self) -> str:
        return f"shaft {numerals.plain(self.shaft_length)} {self.unit}"
