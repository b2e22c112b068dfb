"""Why a flank has the shape it has: a string unwinds from the base circle."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.unwinding import standing
from ...parts import Gear
from .undeclared import (
    Explorer,
    State,
    cell,
    choice,
    group,
    measure,
    one_of,
    remark,
    row,
    switch,
    tooth_size,
    within,
)

TEETH = (8, 80)
ANGLES = (14.5, 20.0, 25.0)
MOST = 50.0
NEAR = 0.6  # of the roll angle of the pitch circle, that counts as on it [deg]


class StringUnwinding(Explorer):
    """A taut string that unwinds from a gear's base circle; its end draws the flank of a tooth.

    Parameters
    ----------
    teeth : int
        Number of teeth, 8 to 80 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    pressure_angle : float
        14.5, 20 or 25 [deg].
    roll_angle : float
        Angle by which the string has unwound, 0 to 50 [deg].
    tooth : bool
        Whether the tooth is shown as it is cut [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> string = StringUnwinding(18, module=2.5, roll_angle=20.9)
    >>> round(string.radius, 2), string.warnings[-1]["kind"]
    (22.51, 'good')
    """

    roll_angle = traitlets.Float(8.0).tag(sync=True)
    pressure_angle = traitlets.Float(20.0).tag(sync=True)
    tooth = traitlets.Bool(False).tag(sync=True)
    inputs = ("roll_angle", "pressure_angle", "tooth")

    def __init__(
        self,
        teeth: int = 18,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        pressure_angle: float = 20.0,
        roll_angle: float = 8.0,
        tooth: bool = False,
    ):
        within("teeth", teeth, *TEETH, "teeth")
        unit, self._size = tooth_size(module, diametral_pitch)
        self._teeth = teeth
        super().__init__(
            playing=False, driver_speed=0.0, roll_angle=roll_angle, pressure_angle=pressure_angle, tooth=tooth
        )

    @traitlets.validate("roll_angle")
    def _checked(self, proposal):
        within("roll_angle", proposal.value, 0.0, MOST, "deg")
        return proposal.value

    @traitlets.validate("pressure_angle")
    def _listed(self, proposal):
        one_of("pressure_angle", proposal.value, ANGLES)
        return proposal.value

    @property
    def radius(self) -> float:
        """Distance of the string's end from the gear's centre [mm] or [in]."""
        return self.value("point_radius")

    def _state(self) -> State:
        self.gear = gear = Gear(self._teeth, pressure_angle=self.pressure_angle, **self._size)
        unit = gear.unit
        numbers = gear.numbers_with(roll_angle=self.roll_angle)
        lengths = (
            ("free string", "free_string"),
            ("end of the string from the centre", "point_radius"),
            ("base radius", "base_radius"),
            ("pitch radius", "pitch_radius"),
        )
        rows = [
            row(
                "roll angle",
                cell(
                    "roll_angle",
                    self.roll_angle,
                    f"{numerals.number(self.roll_angle, 1)}\u00b0",
                    explained=False,
                ),
            )
        ]
        rows += [
            row(label, cell(word, numbers[word], numerals.length(numbers[word], unit)))
            for label, word in lengths
        ]
        rows.append(
            row(
                "pressure angle at the end",
                cell(
                    "point_pressure_angle",
                    numbers["point_pressure_angle"],
                    f"{numerals.number(numbers['point_pressure_angle'], 2)}\u00b0",
                ),
            )
        )
        past = numbers["point_radius"] - numbers["pitch_radius"]
        said = [remark("task", "unwind the string until its end stands on the pitch circle.")]
        if abs(self.roll_angle - numbers["pitch_roll_angle"]) <= NEAR:
            said.append(
                remark(
                    "good",
                    "the end stands on the pitch circle. The string has unwound by"
                    f" {numerals.number(self.roll_angle, 1)}\u00b0, and"
                    f" {numerals.length(numbers['free_string'], unit)} of it are free.",
                )
            )
        else:
            said.append(remark("note", f"the end is {standing(past, unit)}."))
        controls = [
            measure(
                "roll_angle",
                "Roll angle",
                0.0,
                MOST,
                0.5,
                page=5.0,
                places=1,
                unit="\u00b0",
                spoken="degrees",
                home=0.0,
            ),
            choice(
                "pressure_angle",
                "Pressure angle",
                [(angle, f"{numerals.plain(angle)}\u00b0") for angle in ANGLES],
            ),
            switch("tooth", "Show the teeth as they are cut"),
        ]
        return State(
            views.unwinding(gear, self.roll_angle, tooth=self.tooth, most=MOST),
            f"A string on the base circle: {gear.teeth} teeth, {numerals.pitch_name(gear)},"
            f" {numerals.plain(gear.pressure_angle)}\u00b0",
            [group("The end of the string", rows)],
            said,
            controls,
        )

    def _derivation(self, word: str):
        return self.gear.explain(word, roll_angle=self.roll_angle)
