"""What drilling costs in backlash: the error of the holes against the play that was designed in."""

from __future__ import annotations

import math
from typing import Any

from ...drawing import numerals, views
from ...parts.design import Design
from ...theory import derive
from ...theory.derivation import Derivation
from ...theory.quantities import NOTATION
from .controls import Length, Scale, Whole, tooth_size
from .explorer import Explorer, State
from .pair import TEETH
from .part import TAKEN, Part, at_distance, mesh_named, opening_of, pair_taken, touching
from .state import Cells, Inputs, good, group, row, stop, task

FOUND = (
    "largest_centre_distance",
    "least_centre_distance",
    "distance_variation",
    "least_backlash",
    "greatest_backlash",
)


class ToleranceSliders(Explorer):
    """The least and the greatest backlash that two holes drilled a little off may leave.

    Examples
    --------
    >>> sliders = ToleranceSliders(design_backlash=0.146, hole_error=0.12)
    >>> round(sliders.value("least_backlash"), 3), sliders.warnings[-1]["kind"]
    (-0.029, 'stop')
    >>> sliders.hole_error = 0.08
    >>> round(sliders.value("least_backlash"), 3), sliders.warnings[-1]["kind"]
    (0.03, 'good')
    """

    positional, broad, words = 2, True, ("likely_variation",)
    panelled = ("hole_error", "design_backlash")
    driver_teeth = Whole(18, *TEETH, about="Teeth of the driver", fixed=True)
    driven_teeth = Whole(45, *TEETH, about="Teeth of the driven gear", fixed=True)
    module, diametral_pitch = tooth_size()
    design_backlash = Length(
        "Design backlash",
        mm=Scale(0.146, 0.0, 0.4, 0.01, 0.05, 3),
        inch=Scale(0.006, 0.0, 0.016, 0.0005, 0.002, 4),
        home="first",
        about="Backlash with both holes where they should be",
    )
    hole_error = Length(
        "Error of each hole, to either side",
        mm=Scale(0.12, 0.01, 0.2, 0.01, 0.05, 2),
        inch=Scale(0.005, 0.0005, 0.008, 0.0005, 0.002, 4),
        home="first",
        about="How far each hole may be off along the line of centres, to either side",
    )

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        self.mesh = self.pair_of(self.now(), 0.0)
        self._thinner = self.mesh.driver.tooth_thinning + self.mesh.driven.tooth_thinning

    def _givens(self, inputs: Inputs) -> dict[str, float]:
        angle = self.mesh.driver.pressure_angle
        opened = (inputs.design_backlash - self._thinner) / (2 * math.tan(math.radians(angle)))
        return {
            "design_backlash": inputs.design_backlash,
            "hole_error": inputs.hole_error,
            "profile_angle": angle,
            "nominal_distance": self.mesh.reference_centre_distance + opened,
        }

    def _worked_out(self, word: str, inputs: Inputs) -> Derivation:
        unit = self.length_unit
        notation: Any = NOTATION[unit]
        return derive(word, self._givens(inputs), kind="workshop", notation=notation, length_unit=unit)

    def state(self, inputs: Inputs) -> State:
        mesh, unit, givens = self.mesh, self.length_unit, self._givens(inputs)
        angle = mesh.driver.pressure_angle
        scene = views.limits(inputs.design_backlash, inputs.hole_error, pressure_angle=angle, unit=unit)
        numbers = {word: self._worked_out(word, inputs).result for word in FOUND}
        n = Cells(numbers, unit)
        spacing = [
            row(
                "pitch circles touch at",
                n.length("reference_centre_distance", mesh.reference_centre_distance),
            ),
            row("holes drawn at", n.length("nominal_distance", givens["nominal_distance"])),
            row("distance may be off by", n.length("distance_variation")),
            row("maximum distance", n.length("largest_centre_distance")),
            row("minimum distance", n.length("least_centre_distance")),
        ]
        likely = math.sqrt(2) * 2 * inputs.hole_error * math.tan(math.radians(angle))
        play = [
            row("minimum, at worst", n.length("least_backlash", alarm=numbers["least_backlash"] <= 0)),
            row("maximum, at worst", n.length("greatest_backlash")),
            row(
                "likely within", n.said("likely_variation", likely, f"\u00b1 {numerals.length(likely, unit)}")
            ),
        ]
        readout = [group("The spacing", spacing), group("The backlash", play)]
        return State(
            inputs, scene, f"{self._named()}: what the holes do to the backlash", readout, _told(inputs, n)
        )

    def reason(self, word: str, state: State) -> Derivation:
        return self._worked_out(word, state.inputs)

    def _named(self) -> str:
        driver, driven = self.mesh.driver, self.mesh.driven
        return f"{driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}"


def _thinning_and_slope(design: Design, name: str) -> tuple[float, float]:
    """Backlash of a mesh where its pitch circles touch [unit], and what an opening adds to it [-]."""
    tables = [design.of(gear) for gear in (mesh_named(design, name).driver, mesh_named(design, name).driven)]
    slope = 2 * math.tan(math.radians(tables[0].pressure_angle))
    return sum(table.tooth_thinning for table in tables), slope


def _taken(design: Design, name: str) -> dict[str, Any]:
    thinning, slope = _thinning_and_slope(design, name)
    backlash = round(thinning + slope * opening_of(design, name), TAKEN)
    if backlash <= 0:
        raise ValueError(
            f"backlash of {name} is {numerals.length(backlash, design.unit)}, and holes have nothing to take"
            " from it; thin the teeth (tooth_thinning) or move the shafts apart"
        )
    return {**pair_taken(design, name, shifted=False), "design_backlash": backlash}


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The distance at which the holes are drawn for the backlash that is shown."""
    thinning, slope = _thinning_and_slope(design, name)
    opening = (inputs.design_backlash - thinning) / slope
    return {"shaft": at_distance(design, name, touching(design, name) + opening)}


def _told(inputs: Inputs, n: Cells) -> list[dict]:
    least, greatest = (numerals.length(n[word], n.unit) for word in ("least_backlash", "greatest_backlash"))
    wanted = task("keep the minimum backlash above zero by choosing how far the holes may be off.")
    if n["least_backlash"] <= 0:
        return [
            wanted,
            stop(
                f"both holes off towards each other leave {least} of backlash: such a plate jams. Drill more"
                " exactly, or design in more backlash."
            ),
        ]
    return [
        wanted,
        good(
            f"hole error {numerals.length(inputs.hole_error, n.unit)}: minimum backlash {least}, maximum"
            f" {greatest}. No plate within this tolerance jams."
        ),
    ]
