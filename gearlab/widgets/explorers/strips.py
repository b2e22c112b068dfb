"""Two pitches that are nearly the same, side by side."""

from __future__ import annotations

from ...drawing import numerals, views
from ...parts import Gear
from ...theory.derivation import Derivation
from ...theory.units import MM_PER_INCH
from .controls import DIAMETRAL_PITCH, MODULE, Measure, Whole
from .explorer import Explorer, State
from .state import Cells, Inputs, group, row, warning

COUNT = 20


class PitchStrips(Explorer):
    """Rows of teeth of a module and of a diametral pitch, laid out straight from a common start.

    Examples
    --------
    >>> round(PitchStrips(2.5, 10, pitch_number=16).offset, 3)
    2.011
    """

    positional, broad = 2, True
    words = ("metric_circular_pitch", "inch_circular_pitch", "step", "offset", "share")
    module = Measure(*MODULE[:3], unit="mm", about="Module of the upper row", fixed=True)
    diametral_pitch = Measure(
        *DIAMETRAL_PITCH[:3], unit="1/in", about="Diametral pitch of the lower row", fixed=True
    )
    pitch_number = Whole(0, 0, COUNT, "Tooth", unit="", page=5, about="The tooth that is looked at")

    def prepare(self):
        self._gears = Gear(20, module=self.module), Gear(20, diametral_pitch=self.diametral_pitch)
        metric, inch = self._gears
        self._pitches = metric.circular_pitch, inch.circular_pitch * MM_PER_INCH

    @property
    def offset(self) -> float:
        """Drift at the tooth looked at [mm]."""
        return self.shown.subject

    def state(self, inputs: Inputs) -> State:
        first, second = self._pitches
        number, offset = inputs.pitch_number, inputs.pitch_number * (second - first)
        first_gear, second_gear = self._gears
        upper, lower = names = numerals.pitch_name(first_gear), numerals.pitch_name(second_gear)
        scene = views.strips(first, second, names=names, pitch_number=number, count=COUNT)
        n, share = Cells({}, "mm"), abs(offset) / (first / 2)
        rows = [
            row(f"circular pitch, {upper}", n.length("metric_circular_pitch", first, explained=True)),
            row(f"circular pitch, {lower}", n.length("inch_circular_pitch", second, explained=True)),
            row("apart after one pitch", n.distance("step", second - first)),
            row(f"apart at tooth {number}", n.distance("offset", offset)),
            row("in tooth thicknesses", n.number("share", share)),
        ]
        told = warning(
            f"at tooth {number} the rows disagree by half a tooth or more: these teeth cannot run together."
        )
        heading, readout = f"{upper} beside {lower}", [group("The drift", rows)]
        return State(inputs, scene, heading, readout, [told] if share >= 0.5 else [], offset)

    def reason(self, word: str, state: State) -> Derivation:
        return self._gears[0 if word.startswith("metric") else 1].explain("circular_pitch")
