"""How many turns, how fast and which way."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...parts import Mesh
from ...parts.design import Design
from .controls import Measure, Whole, tooth_size
from .explorer import Explorer, State
from .pair import TEETH
from .part import Part, counts_given, mesh_named, pair_taken
from .state import Cells, Inputs, good, group, row, speed_cell

MOST_SPEED = 30.0  # that an explorer turns its driver with [rpm]
NEAR = 0.25  # of the driver, within which the marks are seen to touch [deg]


class TurnCounter(Explorer):
    """A pair with a marked tooth on each gear; its turns are counted while it runs.

    Examples
    --------
    >>> counter = TurnCounter(18, 45)
    >>> counter.angle = 1800.0
    >>> counter.driver_turns, counter.driven_turns
    (5.0, -2.0)
    """

    speed, positional, counting = 15.0, 2, True
    driver_teeth = Whole(18, *TEETH, "Teeth of the driver", of="driver")
    driven_teeth = Whole(45, *TEETH, "Teeth of the driven gear", of="driven")
    module, diametral_pitch = tooth_size()
    angle = Measure(0.0, 0.0, 0.0, unit="deg", free=True, argument=False, shown=False)

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    @property
    def mesh(self) -> Mesh:
        """The pair as it stands."""
        return self.shown.subject

    @property
    def driver_turns(self) -> float:
        """Turns of the driver [turns]."""
        return self.angle / 360.0

    @property
    def driven_turns(self) -> float:
        """Turns of the driven gear [turns]; the other way round, so of the other sign."""
        return self.mesh.speed(self.driver_turns)

    def state(self, inputs: Inputs) -> State:
        mesh, speed = self.pair_of(inputs), inputs.driver_speed
        driver, driven = mesh.driver, mesh.driven
        n = Cells(mesh.numbers, mesh.unit)
        rows = [
            row(
                "teeth",
                n.plain("driver_teeth", driver.teeth, places=0),
                n.plain("driven_teeth", driven.teeth, places=0),
            ),
            row(
                "speed",
                speed_cell("driver_speed", speed, explained=False),
                speed_cell("driven_speed", mesh.speed(speed)),
            ),
        ]
        readout = [
            group("The gears", rows, ("A driver", "B driven")),
            group("The pair", [row("driver turns per driven turn", n.plain("ratio"))]),
        ]
        heading = f"{driver.teeth} teeth drive {driven.teeth}"
        scene = views.pair(mesh, driver_speed=speed)
        return State(inputs, scene, heading, readout, _met(mesh, abs(inputs.angle) / 360.0), mesh)

    def extra(self, word: str, state: State) -> dict[str, Any]:
        return {"driver_speed": state.inputs.driver_speed} if word == "driven_speed" else {}


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A mesh, and the speed of its driver where the design says one that the explorer can show."""
    speed = _speed(design, name)
    shown = {"driver_speed": speed} if speed is not None and abs(speed) <= MOST_SPEED else {}
    return {**pair_taken(design, name), **shown}


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    edits, speed = counts_given(inputs, design, name), _speed(design, name)
    if speed is not None and abs(speed) <= MOST_SPEED:
        turn = design.turns[design.of(mesh_named(design, name).driver).shaft]
        edits["load"] = {"speed": inputs.driver_speed / turn}
    return edits


def _speed(design: Design, name: str) -> float | None:
    return design.speeds.get(design.of(mesh_named(design, name).driver).shaft)


def _met(mesh: Mesh, turns: float) -> list[dict]:
    """A remark when both marked teeth have come together again."""
    again = mesh.numbers["driver_turns_to_repeat"]
    passed = turns / again
    if turns > 0.5 and abs(passed - round(passed)) * again * 360 < NEAR:
        return [
            good(
                f"both marked teeth meet again: driver {numerals.plain(turns, 2)} turns,"
                f" driven {numerals.plain(abs(mesh.speed(turns)), 2)} turns."
            )
        ]
    return []
