"""Why a flank has the shape it has: a string unwinds from the base circle."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...drawing.views.generation import standing
from ...parts import Gear
from .controls import Choice, Measure, Switch, Whole, angles, tooth_size
from .explorer import Explorer, State
from .state import Cells, Inputs, good, group, note, row, task

MOST = 50.0
NEAR = 0.6  # of the roll angle of the pitch circle, that counts as on it [deg]


class StringUnwinding(Explorer):
    """A taut string that unwinds from a gear's base circle; its end draws the flank of a tooth.

    Examples
    --------
    >>> string = StringUnwinding(18, module=2.5, roll_angle=20.9)
    >>> round(string.radius, 2), string.warnings[-1]["kind"]
    (22.51, 'good')
    """

    positional, panelled = 1, ("roll_angle", "pressure_angle", "tooth")
    teeth = Whole(18, 8, 80, about="Number of teeth", fixed=True)
    module, diametral_pitch = tooth_size()
    pressure_angle = Choice(20.0, angles(14.5, 20.0, 25.0), "Pressure angle")
    roll_angle = Measure(
        8.0,
        0.0,
        MOST,
        "Roll angle",
        unit="deg",
        step=0.5,
        page=5.0,
        places=1,
        home=0.0,
        about="Angle by which the string has unwound",
    )
    tooth = Switch(False, "Show the teeth as they are cut", about="Whether the tooth is shown as it is cut")

    @property
    def gear(self) -> Gear:
        """The gear as it stands."""
        return self.shown.subject

    @property
    def radius(self) -> float:
        """Distance of the string's end from the gear's centre [mm] or [in]."""
        return self.value("point_radius")

    def state(self, inputs: Inputs) -> State:
        gear = Gear(self.teeth, pressure_angle=inputs.pressure_angle, **self.size_of(inputs))
        n = Cells(gear.numbers_with(roll_angle=inputs.roll_angle), gear.unit)
        rows = [
            row("roll angle", n.angle("roll_angle", inputs.roll_angle, 1)),
            row("free string", n.length("free_string")),
            row("end of the string from the centre", n.length("point_radius")),
            row("base radius", n.length("base_radius")),
            row("pitch radius", n.length("pitch_radius")),
            row("pressure angle at the end", n.angle("point_pressure_angle")),
        ]
        told = note(f"the end is {standing(n['point_radius'] - n['pitch_radius'], gear.unit)}.")
        if abs(inputs.roll_angle - n["pitch_roll_angle"]) <= NEAR:
            told = good(
                "the end is on the pitch circle. The string has unwound by"
                f" {numerals.number(inputs.roll_angle, 1)}\u00b0, and"
                f" {numerals.length(n['free_string'], gear.unit)} of it are free."
            )
        heading = (
            f"A string on the base circle: {gear.teeth} teeth, {numerals.pitch_name(gear)},"
            f" {numerals.plain(gear.pressure_angle)}\u00b0"
        )
        scene = views.unwinding(gear, inputs.roll_angle, tooth=inputs.tooth, most=MOST)
        wanted = task("unwind the string until its end is on the pitch circle.")
        return State(inputs, scene, heading, [group("The end of the string", rows)], [wanted, told], gear)

    def extra(self, word: str, state: State) -> dict[str, Any]:
        return {"roll_angle": state.inputs.roll_angle}
