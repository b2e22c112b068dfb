"""What is stacked on a shaft, and whether the shaft is long enough."""

from __future__ import annotations

from typing import Any

from gearlab.care import hazard

from ...drawing import numerals, views
from ...parts.design import Design, GearTable
from ...parts.working import worked_out
from ...theory import system
from ...theory.scope import scope_for
from .controls import Choice, Given, Length, Scale
from .explorer import Explained, Explorer, State
from .part import Part
from .state import Cells, Inputs, caution, good, group, row, task, warning, within

# diameters
DRAWN = {
    "mm": {"collar": 18.0, "plate": 80.0, "washers": 16.0, "end": 10.0},
    "in": {"collar": 0.75, "plate": 3.25, "washers": 0.625, "end": 0.375},
}
STOCK = {"mm": 5.0, "in": 0.25}  # steps in which shafts are cut
LENGTHS, DIAMETERS = {"mm": (4.0, 60.0), "in": (0.15, 2.5)}, {"mm": (6.0, 300.0), "in": (0.25, 12.0)}
BARE = {"mm": (0.0, 30.0), "in": (0.0, 1.25)}


def _of_design(label: str, about: str, metric: float, inch: float) -> Length:
    """A length that the reader sets where a design is shown."""
    return Length(
        label,
        mm=Scale(metric, *BARE["mm"], 0.5, 1.0, 2),
        inch=Scale(inch, *BARE["in"], 0.03125, 0.125, 4),
        about=about,
        when=lambda stack, _: stack.of_a_design,
    )


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

    panelled = ("shaft_length", "hub_points", "axial_gap", "plate_thickness", "behind_plate", "end_length")
    unit = Choice("mm", ("mm", "in"), about="Unit of lengths", fixed=True)
    overall_length = _given("Length of the gear, hub included", 25.0, 0.875, LENGTHS)
    face_width = _given("Its face, no longer than the gear", 12.0, 0.5, LENGTHS)
    hub_diameter = _given("Diameter of its hub, as drawn", 32.0, 1.25, DIAMETERS)
    outside_diameter = _given("Outside diameter, as drawn", 117.5, 4.7, DIAMETERS)
    behind_plate = _of_design("Behind the plate", "Collar behind the plate", 8.5, 0.34)
    end_length = _of_design("Bare end", "Bare end beyond the gear", 3.0, 0.125)
    further = Given((), "What is on the shaft beyond the gear: name, length, diameter and look", "pieces")
    shaft_diameter = _given(
        "Diameter of the shaft, as drawn", 10.0, 0.375, {"mm": (1.0, 60.0), "in": (0.03, 2.5)}
    )
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
        about="Thickness of the plate at first",
    )
    axial_gap = Length(
        "Washers",
        mm=Scale(1.5, 0.0, 6.0, 0.5, 1.0, 2),
        inch=Scale(0.0625, 0.0, 0.25, 0.015625, 0.0625, 4),
        about="Washers between plate and gear at first",
    )
    hub_points = Choice(
        "towards the plate",
        {"towards the plate": "hub towards the plate", "outwards": "hub outwards"},
        "The gear's hub points",
        about="Which way the hub points at first",
    )

    secrets = ("shaft_length", "stock_length")
    part_of_design = Part("shaft", lambda *given: _taken(*given), lambda *given: _given_back(*given))

    def unit_of(self, inputs: Inputs) -> str:
        return self.unit

    def prepare(self):
        least = 0.0 if self.of_a_design else LENGTHS[self.unit][0]
        within("face_width", self.face_width, least, self.overall_length, self.unit)
        self._scope = scope_for("stack", self.unit, (system(),))
        self._fixed = {
            "overall_length": self.overall_length,
            "face_width": self.face_width,
            "stock_step": STOCK[self.unit],
        }

    def state(self, inputs: Inputs) -> State:
        words = ("behind_plate", "plate_thickness", "axial_gap", "end_length")
        givens = self._fixed | {word: getattr(inputs, word) for word in words}
        givens["end_length"] += sum(long for _, long, _, _ in self.further)  # all that is beyond the gear
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
        telling = self.may_tell(inputs, "shaft_length")
        told = [wanted, self._judged(inputs.shaft_length - n["shaft_length"], telling)]
        # the hub is seen whole, the face goes on
        scene = views.stack(
            self._pieces(inputs, n["hub_projection"], inward),
            inputs.shaft_length,
            shaft_diameter=self.shaft_diameter,
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
        thick = self.shaft_diameter / drawn["end"]
        return [
            ("collar", inputs.behind_plate, drawn["collar"] * thick, "collar"),
            ("plate", inputs.plate_thickness, drawn["plate"], "plate"),
            ("washers", inputs.axial_gap, drawn["washers"] * thick, "washer"),
            *(gear if inward else gear[::-1]),
            *self.further,
            ("end", inputs.end_length, self.shaft_diameter, "end"),
        ]

    def _judged(self, spare: float, telling: bool) -> dict:
        size = numerals.length(abs(spare), self.unit)
        if spare < 0:
            short = f"{size} too short" if telling else "too short"
            return warning(f"the shaft is {short}: the gear has no hold at its end.")
        if spare < STOCK[self.unit]:
            return good(f"the shaft is long enough, with {size} to spare; the next shorter one would not do.")
        much = f"{size} of the shaft project" if telling else "the shaft projects"
        return caution(f"{much}: {hazard('shafts')}; a shorter shaft would do.")

    def _named(self) -> str:
        return f"shaft {numerals.plain(self.shaft_length)} {self.unit}"


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A shaft with its first gear, and what stands beyond that."""
    shaft = next(table for table in design.shaft if table.name == name)
    if not (gears := design.on(name)):
        raise ValueError(
            f"shaft {name!r} carries no gear, and here a gear is stacked on it; name another: part = ..."
        )
    if shaft.length is None:
        raise ValueError(f"length of shaft {name!r} is not stated; give it a length in {design.unit}")
    gear = gears[0]
    return {
        "unit": design.unit,
        "overall_length": design.overall_length(gear.name),
        "face_width": gear.face_width,
        "hub_diameter": gear.hub_diameter or 2 * gear.bore,
        "outside_diameter": _across(design, gear),
        "further": _beyond(design, gears[1:], shaft.diameter),
        "behind_plate": shaft.behind,
        "end_length": shaft.end,
        "shaft_diameter": shaft.diameter,
        "shaft_length": shaft.length,
        "plate_thickness": design.on_plate.thickness,
        "axial_gap": gear.gap,
        "hub_points": "towards the plate" if gear.hub_side == "plate" else "outwards",
    }


def _across(design: Design, gear: GearTable) -> float:
    """Diameter of a gear as it is seen from the side, with the rim of a ring [unit]."""
    toothed = design.toothed[gear.name]
    return (gear.rim_diameter or toothed.pitch_diameter) if gear.internal else toothed.outside_diameter


def _beyond(
    design: Design, gears: list[GearTable], shaft: float
) -> tuple[tuple[str, float, float, str], ...]:
    """The gears beyond the first as pieces along the shaft, each with its gap and its hub."""
    pieces: list[tuple[str, float, float, str]] = []
    for gear in gears:
        hub = ("hub", gear.hub_projection, gear.hub_diameter or gear.bore, "hub")
        face = ("face", gear.face_width, _across(design, gear), "face")
        pieces.append(("gap", gear.gap, 1.6 * shaft, "washer"))
        pieces += [hub, face] if gear.hub_side == "plate" else [face, hub]
    return tuple(pieces)


def _given_back(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The edits of the shaft, of the gap under its first gear and the side of its hub, and of the plate."""
    gear = design.on(name)[0]
    side = "plate" if inputs.hub_points == "towards the plate" else "away"
    ends = {"behind": inputs.behind_plate, "end": inputs.end_length}
    return {
        "shaft": {name: {"length": inputs.shaft_length, **ends}},
        "gear": {gear.name: {"gap": inputs.axial_gap, "hub_side": side}},
        "plate": {"thickness": inputs.plate_thickness},
    }
