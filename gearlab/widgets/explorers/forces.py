"""The force on a tooth taken apart: along the pitch circle, and towards the gear's own centre."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...parts.design import Design
from ...parts.working import worked_out
from ...theory.scope import scope_for
from .controls import Choice, Length, Scale, Whole, angles, tooth_size
from .explorer import Explained, Explorer, State, cut
from .part import Part, mesh_named, pair_taken
from .state import Cells, Inputs, good, group, note, row, task

UNITS = {"mm": "N", "in": "lbf"}
STEPS = {"mm": (0.5, 10.0, 1), "in": (0.1, 2.0, 2)}
NEAR = 0.02  # of the force: how near is near enough


def _part(label: str, usual: float) -> Length:
    """A part of the force, at first none or all of it."""
    return Length(
        label,
        lambda forces, _: Scale(usual * forces.normal, 0.0, 1.2 * forces.normal, *STEPS[forces.length_unit]),
        unit="force",
        argument=False,
    )


class ToothForces(Explorer):
    """The force along the line of action, and two parts that the reader sets until they make it up.

    Examples
    --------
    >>> forces = ToothForces(91.5)
    >>> forces.along, forces.apart = 86.0, 31.3
    >>> forces.warnings[-1]["kind"]
    'good'
    """

    positional = 1
    normal = Length(
        about="The force along the line of action",
        mm=Scale(91.5, 1.0, 1000.0),
        inch=Scale(20.5, 0.2, 250.0),
        unit="force",
        fixed=True,
    )
    teeth = Whole(18, 8, 60, about="Teeth of the gear drawn", fixed=True)
    module, diametral_pitch = tooth_size()
    along = _part("Along the pitch circle", 1.0)
    apart = _part("Towards the centre", 0.0)
    angle_of_pressure = Choice(
        20.0,
        lambda forces, _: angles(
            *sorted({14.5, 20.0, 25.0, forces._of_design.get("angle_of_pressure", 20.0)})
        ),
        "Pressure angle",
        unit="deg",
        argument="pressure_angle",
        called="pressure_angle",
        about="Pressure angle, 14.5, 20 or 25, or that of a design [deg]",
    )

    secrets = ("tangential_force", "separating_force")
    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    @property
    def unit(self) -> str:
        """Unit of forces."""
        return UNITS[self.length_unit]

    def state(self, inputs: Inputs) -> State:
        shape = {**self._cut_as.get("driver_teeth", {}), "pressure_angle": inputs.angle_of_pressure}
        gear = cut(self.teeth, **self.size_of(inputs), **shape)
        givens = {"pressure_angle": inputs.angle_of_pressure, "normal_force": self.normal}
        reasons = Explained(scope_for("gear", gear.unit, (gear.system,)), givens)
        n = Cells(worked_out(reasons.scope, givens), self.unit)
        scene = views.forces(gear, self.normal, inputs.along, inputs.apart, unit=self.unit)

        def force(word: str, value: float | None = None) -> dict:
            return n.number(word, value, STEPS[self.length_unit][2], self.unit)

        rows = [
            row("force along the line of action", force("normal_force", self.normal)),
            row("your part along the pitch circle", force("along", inputs.along)),
            row("your part towards the centre", force("apart", inputs.apart)),
        ]
        misses = {
            "along": inputs.along - n["tangential_force"],
            "apart": inputs.apart - n["separating_force"],
        }
        rows += [
            row("along, worked out", force("tangential_force")),
            row("apart, worked out", force("separating_force")),
        ]
        met = max(map(abs, misses.values())) <= NEAR * self.normal
        told = self._met(inputs) if met else self._missed(misses)
        wanted = task("set both parts so that, end to end, they lead to the tip of the force.")
        heading = f"{self._write(self.normal)} on a tooth"
        return State(inputs, scene, heading, [group("Forces", rows)], [wanted, told], reasons)

    def _write(self, value: float) -> str:
        return f"{numerals.number(value, STEPS[self.length_unit][2])} {self.unit}"

    def _met(self, inputs: Inputs) -> dict:
        along, apart, normal = map(self._write, (inputs.along, inputs.apart, self.normal))
        return good(
            f"{along} along and {apart} apart make up {normal}. Only the part along turns the gear; the other"
            " loads the shafts."
        )

    def _missed(self, misses: dict[str, float]) -> dict:
        words = [
            f"{'less' if miss > 0 else 'more'} {name}"
            for name, miss in misses.items()
            if abs(miss) > NEAR * self.normal
        ]
        return note(f"the two arrows, end to end, do not reach the tip of the force: {' and '.join(words)}.")

    def _named(self) -> str:
        return f"{numerals.plain(self.normal)} {self.unit}, {self.teeth} teeth"


def _taken(design: Design, name: str) -> dict[str, Any]:
    """The driver of a mesh, and the force on its teeth under the load of the design."""
    pair = mesh_named(design, name)
    taken, driver = pair_taken(design, name), design.of(pair.driver)
    size = {word: value for word, value in taken.items() if not word.endswith("_teeth")}
    return {
        **size,
        "teeth": driver.teeth,
        "pressure_angle": driver.pressure_angle,
        "normal": design.load_of(pair).normal_force,
    }


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    pair = mesh_named(design, name)
    return {
        "gear": {gear: {"pressure_angle": inputs.angle_of_pressure} for gear in (pair.driver, pair.driven)}
    }
