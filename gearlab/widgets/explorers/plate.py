"""A pair on its plate: where the holes go so that the outline of both gears is centred."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...drawing.views.plate import margins, second_hole
from ...parts.design import Design
from ...parts.working import worked_out
from ...theory.derivation import Derivation
from ...theory.scope import scope_for
from .controls import Length, Measure, Scale, Whole, tooth_size
from .explorer import Explained, Explorer, State
from .part import Part, line_of, mesh_named, pair_taken, places
from .state import Cells, Inputs, caution, good, group, note, row, task

NEAR = {"mm": 0.25, "in": 0.01}  # how near to the right place is near enough
STEPS = {"mm": (0.25, 5.0, 2), "in": (0.01, 0.25, 3)}
TASK = (
    "place the driver's hole so that the margins beyond the tips are equal left and right. Centred holes do"
    " not do it: the gears differ in size."
)


def _across(explorer: PlateLayout, inputs: Inputs) -> Scale:
    """The driver's hole at first where both holes are centred, which is a common mistake."""
    step, page, places = STEPS[explorer.length_unit]
    length = inputs.plate_length
    centred = step * round((length - explorer.mesh.centre_distance) / (2 * step))
    return Scale(round(centred, 4), 0.0, length, step, page, places)


def _up(explorer: PlateLayout, inputs: Inputs) -> Scale:
    height = inputs.plate_height
    return Scale(height / 2, 0.0, height, *STEPS[explorer.length_unit])


class PlateLayout(Explorer):
    """Two gears that are moved along their plate, and turned about the driver's hole.

    Margins beyond the tips are shown.

    Examples
    --------
    >>> layout = PlateLayout()
    >>> layout.hole_x = 53.75
    >>> layout.warnings[-1]["kind"], layout.margins["left"], layout.margins["right"]
    ('good', 28.75, 28.75)
    """

    positional, words = 2, ("margin_*",)
    panelled = ("hole_x", "hole_y", "line_angle", "plate_length", "plate_height")
    driver_teeth = Whole(18, 6, 120, about="Teeth of the driver", fixed=True)
    driven_teeth = Whole(45, 6, 120, about="Teeth of the driven gear", fixed=True)
    module, diametral_pitch = tooth_size()
    plate_length = Length(
        "Length of the plate",
        mm=Scale(220.0, 20.0, 1000.0, 5.0, 20.0, 2),
        inch=Scale(10.0, 0.75, 40.0, 0.25, 1.0, 4),
        when=lambda layout, _: layout.of_a_design,
    )
    plate_height = Length(
        "Height of the plate",
        mm=Scale(160.0, 20.0, 1000.0, 5.0, 20.0, 2),
        inch=Scale(6.5, 0.75, 40.0, 0.25, 1.0, 4),
        when=lambda layout, _: layout.of_a_design,
    )
    hole_diameter = Length(
        about="Diameter of both holes",
        mm=Scale(10.0, 2.0, 40.0),
        inch=Scale(0.375, 0.0625, 1.625),
        fixed=True,
    )
    hole_x = Length(
        "Driver's hole, from the left",
        _across,
        about="The driver's hole at first, from the left edge; left out, both are centred, a mistake",
    )
    hole_y = Length(
        "Driver's hole, from below",
        _up,
    )
    line_angle = Measure(0.0, -180.0, 180.0, "Line of centres", unit="deg", step=1.0, page=15.0, places=1)

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        self.mesh = self.pair_of(self.now())
        systems = (self.mesh.driver.system, self.mesh.driven.system)
        self._scope = scope_for("plate", self.length_unit, systems)
        self._gears = {
            "driver_teeth": float(self.driver_teeth),
            "driven_teeth": float(self.driven_teeth),
            **self.size_of(self.now()),
        }

    @property
    def margins(self) -> dict[str, float]:
        """What the plate has beyond the tips, by side [mm or in]."""
        return self._margins(self.shown.inputs)

    def _margins(self, inputs: Inputs) -> dict[str, float]:
        return margins(self.mesh, (inputs.hole_x, inputs.hole_y), inputs.line_angle, _size(inputs))

    def state(self, inputs: Inputs) -> State:
        hole, angle, unit = (inputs.hole_x, inputs.hole_y), inputs.line_angle, self.length_unit
        givens = self._gears | {"hole_x": hole[0], "hole_y": hole[1], "line_angle": angle}
        scene = views.plate(
            self.mesh, hole, angle, size=_size(inputs), hole_diameter=self.hole_diameter, control="hole_x"
        )
        # the formulas know where the pitch circles touch; further apart, the holes are where they are
        further = abs(self.mesh.centre_distance - self.mesh.reference_centre_distance) > 1e-9
        across, up = second_hole(self.mesh, hole, angle) if further else (None, None)
        distance = self.mesh.centre_distance if further else None
        n, left = Cells(worked_out(self._scope, givens), unit), self._margins(inputs)
        holes = [
            row("centre distance", n.length("centre_distance", distance)),
            row("second hole, from the left", n.length("other_hole_x", across)),
            row("second hole, from below", n.length("other_hole_y", up)),
        ]
        room = [
            row(f"beyond the tips, {side}", n.length(f"margin_{side}", value, alarm=value < 0))
            for side, value in left.items()
        ]
        length, height = (numerals.plain(size) for size in _size(inputs))
        readout = [group("The holes", holes), group("The plate", room)]
        heading = f"Plate of {length} by {height} {unit}"
        return State(
            inputs, scene, heading, readout, [task(TASK), _judged(left, unit)], Explained(self._scope, givens)
        )

    def reason(self, word: str, state: State) -> Derivation:
        if word in ("hole_x", "end_margin"):  # where the hole should be, not where it is
            return Explained(self._scope, self._gears | {"plate_length": state.inputs.plate_length}).explain(
                word
            )
        return state.subject.explain(word)

    def _named(self) -> str:
        length, height = (numerals.plain(size) for size in _size(self.shown.inputs))
        return f"{self.driver_teeth} and {self.driven_teeth} teeth on {length} by {height} {self.length_unit}"


def _size(inputs: Inputs) -> tuple[float, float]:
    return inputs.plate_length, inputs.plate_height


def _taken(design: Design, name: str) -> dict[str, Any]:
    pair, board = mesh_named(design, name), design.on_plate
    driver = design.shaft_of(pair.driver)
    x, y = driver.place
    return {
        **pair_taken(design, name),
        "plate_length": board.length,
        "plate_height": board.height,
        "hole_diameter": driver.hole or driver.diameter,
        "hole_x": x,
        "hole_y": y,
        "line_angle": line_of(design, name),
    }


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The edits of both shafts, at the distance that they have, and of the plate."""
    pair = mesh_named(design, name)
    distance = design.distance(pair.driver, pair.driven)
    return {
        "shaft": places(design, name, (inputs.hole_x, inputs.hole_y), distance, inputs.line_angle),
        "plate": {"length": inputs.plate_length, "height": inputs.plate_height},
    }


def _judged(left: dict[str, float], unit: str) -> dict:
    over = [side for side, value in left.items() if value < 0]
    if over:
        return caution(
            f"the tips project over the edge ({' and '.join(over)}): they meet the bench, a guard or a hand."
        )
    on_left, on_right = numerals.length(left["left"], unit), numerals.length(left["right"], unit)
    if abs(left["left"] - left["right"]) <= 2 * NEAR[unit]:
        return good(f"left and right margins are equal: {on_left} and {on_right}.")
    side = "left" if left["left"] > left["right"] else "right"
    return note(f"the margins differ: {on_left} left, {on_right} right. Move the gears to the {side}.")
