"""Two pitches that are nearly the same, side by side."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts import Gear
from ...theory.units import MM_PER_INCH
from .undeclared import SIZES, Explorer, State, cell, group, remark, row, whole, within

COUNT = 20


class PitchStrips(Explorer):
    """Rows of teeth of a module and of a diametral pitch, laid out straight from a common start.

    Parameters
    ----------
    module : float
        Of the upper row, 0.5 to 10 [mm].
    diametral_pitch : float
        Of the lower row, 2 to 64 [1/in, teeth in an inch of pitch diameter; -].
    pitch_number : int
        The tooth that is looked at, 0 to 20 [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> round(PitchStrips(2.5, 10, pitch_number=16).offset, 3)
    2.011
    """

    pitch_number = traitlets.Int(0).tag(sync=True)
    inputs = ("pitch_number",)

    def __init__(self, module: float = 2.5, diametral_pitch: float = 10.0, *, pitch_number: int = 0):
        within("module", module, *SIZES["module"])
        within("diametral_pitch", diametral_pitch, *SIZES["diametral_pitch"])
        self._gears = Gear(20, module=module), Gear(20, diametral_pitch=diametral_pitch)
        super().__init__(playing=False, driver_speed=0.0, pitch_number=pitch_number, wide=True)

    @traitlets.validate("pitch_number")
    def _checked(self, proposal):
        within("pitch_number", proposal.value, 0, COUNT)
        return proposal.value

    @property
    def offset(self) -> float:
        """Drift at the tooth looked at [mm]."""
        first, second = self._pitches()
        return self.pitch_number * (second - first)

    def _pitches(self) -> tuple[float, float]:
        metric, inch = self._gears
        return metric.circular_pitch, inch.circular_pitch * MM_PER_INCH

    def _state(self) -> State:
        metric, inch = self._gears
        first, second = self._pitches()
        names = numerals.pitch_name(metric), numerals.pitch_name(inch)
        scene = views.strips(first, second, names=names, pitch_number=self.pitch_number, count=COUNT)
        share = abs(self.offset) / (first / 2)
        rows = [
            row(
                f"circular pitch, {names[0]}",
                cell("metric_circular_pitch", first, numerals.length(first, "mm")),
            ),
            row(
                f"circular pitch, {names[1]}",
                cell("inch_circular_pitch", second, numerals.length(second, "mm")),
            ),
            row(
                "apart after one pitch",
                cell("step", second - first, numerals.length(abs(second - first), "mm"), explained=False),
            ),
            row(
                f"apart at tooth {self.pitch_number}",
                cell("offset", self.offset, numerals.length(abs(self.offset), "mm"), explained=False),
            ),
            row("in tooth thicknesses", cell("share", share, numerals.number(share, 3), explained=False)),
        ]
        said = []
        if share >= 0.5:
            said.append(
                remark(
                    "warning",
                    f"at tooth {self.pitch_number} the rows disagree by half a tooth or more: these teeth"
                    " cannot run together.",
                )
            )
        return State(
            scene,
            f"{names[0]} beside {names[1]}",
            [group("The drift", rows)],
            said,
            [whole("pitch_number", "Tooth", 0, COUNT, page=5)],
        )

    def _derivation(self, word: str):
        gear = self._gears[0 if word.startswith("metric") else 1]
        return gear.explain("circular_pitch")
