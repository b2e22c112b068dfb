"""One gear: how its pitch circle grows with its teeth."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...parts import Gear
from ...parts.design import Design
from .controls import Whole, tooth_size
from .explorer import Explorer, State, cut
from .part import Part, spur
from .state import Cells, Inputs, group, row

SHOWN = ("pitch_diameter", "outside_diameter", "root_diameter", "circular_pitch", "pitch_circumference")


class ToothDial(Explorer):
    """A gear whose number of teeth is dialled: its pitch circle grows by one module with every tooth.

    ``gear`` is the gear as it stands.

    Examples
    --------
    >>> ToothDial(46, module=2.5).value("pitch_diameter")
    115.0
    """

    speed, positional = 3.0, 1
    teeth = Whole(20, 6, 120, "Number of teeth")
    module, diametral_pitch = tooth_size(control=True)

    part_of_design = Part("gear", spur, lambda *given: _given(*given))

    @property
    def gear(self) -> Gear:
        """The gear as it stands."""
        return self.shown.subject

    def state(self, inputs: Inputs) -> State:
        gear = cut(inputs.teeth, **self.size_of(inputs), **self._cut_as.get("teeth", {}))
        n = Cells(gear.numbers, gear.unit)
        rows = [row(word.replace("_", " "), n.length(word)) for word in SHOWN]
        heading = f"{gear.teeth} teeth, {numerals.pitch_name(gear)}"
        scene = views.gear(gear, frame=frame(gear))
        return State(inputs, scene, heading, [group("The gear", rows)], subject=gear)


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    word = "module" if design.unit == "mm" else "diametral_pitch"
    return {"gear": {name: {"teeth": inputs.teeth, word: getattr(inputs, word)}}}


def frame(gear: Gear) -> float:
    """Width of the picture's frame [gear.unit].

    It grows in a few steps, so that a growing gear is seen to grow.
    """
    size = 26.0 * gear.scale
    while size < gear.outside_diameter:
        size *= 1.5
    return size
