"""How far apart two shafts stand: carry the wheel until the pitch circles touch."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...drawing.views.pair import meeting
from ...parts.design import Design
from .controls import Length, Scale, Whole, tooth_size
from .explorer import Explorer, State
from .pair import TEETH
from .part import Part, at_distance, distance_of, pair_taken
from .state import Cells, Inputs, good, group, note, row

STEPS = {"mm": (0.1, 1.0, 2), "in": (0.005, 0.05, 3)}


def _reach(explorer: SpacingExplorer) -> tuple[float, float, float]:
    """Where the shafts are at first, and how near and how far they can be moved."""
    right, scale = explorer.mesh.reference_centre_distance, explorer.mesh.driver.scale
    places = 1 if explorer.length_unit == "mm" else 2
    usual, low, high = (round(right + modules * scale, places) for modules in (1.7, -2.5, 4.0))
    return usual, low, high


class SpacingExplorer(Explorer):
    """Two gears whose shafts can be moved together and apart, until the pitch circles touch.

    Examples
    --------
    >>> SpacingExplorer(18, 45, module=2.5, centre_distance=83.0).gap
    4.25
    """

    positional, words = 2, ("gap",)
    driver_teeth = Whole(18, *TEETH, about="Teeth of the driver", fixed=True)
    driven_teeth = Whole(45, *TEETH, about="Teeth of the driven gear", fixed=True)
    module, diametral_pitch = tooth_size()
    centre_distance = Length(
        "Centre distance",
        lambda explorer, _: Scale(*_reach(explorer), *STEPS[explorer.length_unit]),
        about="Where the shafts are at first, from 2.5 modules too near to 4 modules too far; left out, 1.7"
        " modules too far",
        home="first",
    )

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        self.mesh = self.pair_of(self.now(), 0.0)

    @property
    def gap(self) -> float:
        """Distance between the pitch circles [mm] or [in]."""
        return self.value("gap")

    def state(self, inputs: Inputs) -> State:
        mesh, distance = self.mesh, inputs.centre_distance
        gap, n = distance - mesh.reference_centre_distance, Cells(mesh.numbers, mesh.unit)
        scene = views.spaced(mesh.driver, mesh.driven, distance, reach=_reach(self)[1:])
        rows = [
            row("centre distance", n.length("centre_distance", distance)),
            row("gap between the pitch circles", n.length("gap", gap)),
        ]
        heading = f"{mesh.driver.teeth} and {mesh.driven.teeth} teeth, {numerals.pitch_name(mesh.driver)}"
        words = f"the pitch circles {meeting(gap, mesh.unit)}."
        if abs(gap) <= 0.04 * mesh.driver.scale:
            told = good(words)
        elif gap < 0:
            told = note(f"{words} The teeth would jam: move the shafts apart.")
        else:
            told = note(f"{words} The teeth have backlash, or miss each other: move the shafts together.")
        return State(inputs, scene, heading, [group("The spacing", rows)], [told], mesh)


def _taken(design: Design, name: str) -> dict[str, Any]:
    return {**pair_taken(design, name, shifted=False), "centre_distance": distance_of(design, name)}


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    return {"shaft": at_distance(design, name, inputs.centre_distance)}
