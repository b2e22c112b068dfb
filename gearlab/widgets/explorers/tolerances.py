"""What drilling costs in backlash: the error of the holes against the play that was designed in."""

from __future__ import annotations

import math

import traitlets

from ...drawing import numerals, views
from ...parts import Gear, Mesh
from ...theory import derive
from .explorer import Explorer, State, cell, group, measure, remark, row, within
from .pair import TEETH

BACKLASH, ERROR = (0.0, 0.4), (0.01, 0.2)       # limits of the controls [mm]


class ToleranceSliders(Explorer):
    """The least and the greatest backlash that two holes drilled a little off may leave.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth of the pair, 6 to 160 [-].
    module : float
        0.5 to 10 [mm].
    design_backlash : float
        Backlash with both holes where they should be, 0 to 0.4 [mm].
    hole_error : float
        How far each hole may be off along the line of centres, to either side, 0.01 to 0.2 [mm].

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

    def __init__(self, driver_teeth: int = 18, driven_teeth: int = 45, *, module: float = 2.5, design_backlash: float = 0.146, hole_error: float = 0.12):
        for name, teeth in (("driver_teeth", driver_teeth), ("driven_teeth", driven_teeth)):
            within(name, teeth, *TEETH, "teeth")
        within("module", module, 0.5, 10.0, "mm")
        self.mesh = Mesh(Gear(driver_teeth, module=module), Gear(driven_teeth, module=module))
        self._first = design_backlash, hole_error
        super().__init__(playing=False, driver_speed=0.0, wide=True, design_backlash=design_backlash, hole_error=hole_error)

    @traitlets.validate("design_backlash", "hole_error")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, *(BACKLASH if proposal.trait.name == "design_backlash" else ERROR), "mm")
        return proposal.value

    def _givens(self) -> dict[str, float]:
        angle = self.mesh.driver.pressure_angle
        nominal = self.mesh.reference_centre_distance + self.design_backlash / (2 * math.tan(math.radians(angle)))
        return {"design_backlash": self.design_backlash, "hole_error": self.hole_error, "profile_angle": angle, "nominal_distance": nominal}

    def _worked_out(self, word: str):
        return derive(word, self._givens(), kind="workshop", notation="iso", length_unit="mm")

    def _state(self) -> State:
        scene = views.limits(self.design_backlash, self.hole_error, pressure_angle=self.mesh.driver.pressure_angle)
        givens = self._givens()
        found = {word: self._worked_out(word).result for word in ("largest_centre_distance", "least_centre_distance", "distance_variation", "least_backlash",
                                                                  "greatest_backlash")}

        def length(word: str, value: float, **options) -> dict:
            return cell(word, value, numerals.length(value, "mm"), **options)

        likely = math.sqrt(2) * 2 * self.hole_error * math.tan(math.radians(givens["profile_angle"]))
        spacing = [row("pitch circles touch at", length("reference_centre_distance", self.mesh.reference_centre_distance, explained=False)),
                   row("holes drawn at", length("nominal_distance", givens["nominal_distance"], explained=False)),
                   row("distance may be off by", length("distance_variation", found["distance_variation"])),
                   row("largest distance", length("largest_centre_distance", found["largest_centre_distance"])),
                   row("least distance", length("least_centre_distance", found["least_centre_distance"]))]
        play = [row("least, at worst", length("least_backlash", found["least_backlash"], alarm=found["least_backlash"] <= 0)),
                row("greatest, at worst", length("greatest_backlash", found["greatest_backlash"])),
                row("likely within", cell("likely_variation", likely, f"\u00b1 {numerals.length(likely, 'mm')}", explained=False))]
        first_play, first_error = self._first
        controls = [measure("hole_error", "Error of each hole, to either side", *ERROR, 0.01, page=0.05, places=2, unit="mm", spoken="millimetres", home=first_error),
                    measure("design_backlash", "Design backlash", *BACKLASH, 0.01, page=0.05, places=3, unit="mm", spoken="millimetres", home=first_play)]
        heading = f"{self.mesh.driver.teeth} and {self.mesh.driven.teeth} teeth, {numerals.pitch_name(self.mesh.driver)}: what the holes do to the play"
        return State(scene, heading, [group("The spacing", spacing), group("The backlash", play)], self._remarks(found), controls)

    def _remarks(self, found: dict[str, float]) -> list[dict]:
        least, greatest = (numerals.length(found[word], "mm") for word in ("least_backlash", "greatest_backlash"))
        said = [remark("task", "keep the least backlash above zero by choosing how far the holes may be off.")]
        if found["least_backlash"] <= 0:
            said.append(remark("stop", f"both holes off towards each other leave {least} of backlash: such a plate jams. Drill more exactly, or design more play in."))
        else:
            said.append(remark("good", f"hole error {numerals.length(self.hole_error, 'mm')}: least backlash {least}, greatest {greatest}. No plate within this tolerance jams."))
        return said

    def _derivation(self, word: str):
        return self._worked_out(word)

    def _named(self) -> str:
        return f"{self.mesh.driver.teeth} and {self.mesh.driven.teeth} teeth, {numerals.pitch_name(self.mesh.driver)}"
