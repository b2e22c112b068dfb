"""What drilling costs in backlash: the error of the holes against the play that was designed in."""

from __future__ import annotations

import math

import traitlets

from ...drawing import numerals, views
from ...parts import Gear, Mesh
from ...theory import derive
from ...theory.quantities import NOTATION
from .pair import TEETH
from .undeclared import Explorer, State, cell, group, limited, or_usual, remark, row, tooth_size, within

# Limits of the controls, with the step, page and places of each.
LIMITS = {
    "mm": {"design_backlash": (0.0, 0.4, 0.01, 0.05, 3), "hole_error": (0.01, 0.2, 0.01, 0.05, 2)},
    "in": {
        "design_backlash": (0.0, 0.016, 0.0005, 0.002, 4),
        "hole_error": (0.0005, 0.008, 0.0005, 0.002, 4),
    },
}
USUAL = {
    "mm": {"design_backlash": 0.146, "hole_error": 0.12},
    "in": {"design_backlash": 0.006, "hole_error": 0.005},
}


class ToleranceSliders(Explorer):
    """The least and the greatest backlash that two holes drilled a little off may leave.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth of the pair, 6 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    design_backlash : float, optional
        Backlash with both holes where they should be, 0 to 0.4 mm or 0.016 in; 0.146 mm or 0.006 in if left
        out [mm or in].
    hole_error : float, optional
        How far each hole may be off along the line of centres, to either side, 0.01 to 0.2 mm or 0.0005 to
        0.008 in; 0.12 mm or 0.005 in if left out [mm or in].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> sliders = ToleranceSliders(design_backlash=0.146, hole_error=0.12)
    >>> round(sliders.value("least_backlash"), 3), sliders.warnings[-1]["kind"]
    (-0.029, 'stop')
    >>> sliders.hole_error = 0.08
    >>> round(sliders.value("least_backlash"), 3), sliders.warnings[-1]["kind"]
    (0.03, 'good')
    """

    design_backlash = traitlets.Float(0.146).tag(sync=True)
    hole_error = traitlets.Float(0.12).tag(sync=True)
    inputs = ("design_backlash", "hole_error")

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        design_backlash: float | None = None,
        hole_error: float | None = None,
    ):
        unit, size = tooth_size(module, diametral_pitch)
        for name, teeth in (("driver_teeth", driver_teeth), ("driven_teeth", driven_teeth)):
            within(name, teeth, *TEETH, "teeth")
        self.mesh = Mesh(Gear(driver_teeth, **size), Gear(driven_teeth, **size))
        self._first = or_usual(USUAL[unit], design_backlash=design_backlash, hole_error=hole_error)
        super().__init__(playing=False, driver_speed=0.0, wide=True, **self._first)

    @traitlets.validate("design_backlash", "hole_error")
    def _checked(self, proposal):
        within(
            proposal.trait.name,
            proposal.value,
            *LIMITS[self.mesh.unit][proposal.trait.name][:2],
            self.mesh.unit,
        )
        return proposal.value

    def _givens(self) -> dict[str, float]:
        angle = self.mesh.driver.pressure_angle
        nominal = self.mesh.reference_centre_distance + self.design_backlash / (
            2 * math.tan(math.radians(angle))
        )
        return {
            "design_backlash": self.design_backlash,
            "hole_error": self.hole_error,
            "profile_angle": angle,
            "nominal_distance": nominal,
        }

    def _worked_out(self, word: str):
        return derive(
            word,
            self._givens(),
            kind="workshop",
            notation=NOTATION[self.mesh.unit],
            length_unit=self.mesh.unit,
        )

    def _state(self) -> State:
        unit = self.mesh.unit
        scene = views.limits(
            self.design_backlash, self.hole_error, pressure_angle=self.mesh.driver.pressure_angle, unit=unit
        )
        givens = self._givens()
        found = {
            word: self._worked_out(word).result
            for word in (
                "largest_centre_distance",
                "least_centre_distance",
                "distance_variation",
                "least_backlash",
                "greatest_backlash",
            )
        }

        def length(word: str, value: float, **options) -> dict:
            return cell(word, value, numerals.length(value, unit), **options)

        likely = math.sqrt(2) * 2 * self.hole_error * math.tan(math.radians(givens["profile_angle"]))
        spacing = [
            row(
                "pitch circles touch at",
                length("reference_centre_distance", self.mesh.reference_centre_distance, explained=False),
            ),
            row("holes drawn at", length("nominal_distance", givens["nominal_distance"], explained=False)),
            row("distance may be off by", length("distance_variation", found["distance_variation"])),
            row("largest distance", length("largest_centre_distance", found["largest_centre_distance"])),
            row("least distance", length("least_centre_distance", found["least_centre_distance"])),
        ]
        play = [
            row(
                "least, at worst",
                length("least_backlash", found["least_backlash"], alarm=found["least_backlash"] <= 0),
            ),
            row("greatest, at worst", length("greatest_backlash", found["greatest_backlash"])),
            row(
                "likely within",
                cell("likely_variation", likely, f"\u00b1 {numerals.length(likely, unit)}", explained=False),
            ),
        ]
        controls = [
            limited(name, label, LIMITS[unit][name], unit, home=self._first[name])
            for name, label in (
                ("hole_error", "Error of each hole, to either side"),
                ("design_backlash", "Design backlash"),
            )
        ]
        heading = (
            f"{self.mesh.driver.teeth} and {self.mesh.driven.teeth} teeth,"
            f" {numerals.pitch_name(self.mesh.driver)}: what the holes do to the play"
        )
        return State(
            scene,
            heading,
            [group("The spacing", spacing), group("The backlash", play)],
            self._remarks(found),
            controls,
        )

    def _remarks(self, found: dict[str, float]) -> list[dict]:
        least, greatest = (
            numerals.length(found[word], self.mesh.unit) for word in ("least_backlash", "greatest_backlash")
        )
        said = [
            remark("task", "keep the least backlash above zero by choosing how far the holes may be off.")
        ]
        if found["least_backlash"] <= 0:
            said.append(
                remark(
                    "stop",
                    f"both holes off towards each other leave {least} of backlash: such a plate jams. Drill"
                    " more exactly, or design more play in.",
                )
            )
        else:
            said.append(
                remark(
                    "good",
                    f"hole error {numerals.length(self.hole_error, self.mesh.unit)}: least backlash {least},"
                    f" greatest {greatest}. No plate within this tolerance jams.",
                )
            )
        return said

    def _derivation(self, word: str):
        return self._worked_out(word)

    def _named(self) -> str:
        return (
            f"{self.mesh.driver.teeth} and {self.mesh.driven.teeth} teeth,"
            f" {numerals.pitch_name(self.mesh.driver)}"
        )
