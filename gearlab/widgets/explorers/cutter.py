"""Why a pinion must not have too few teeth: the rack cutter cuts into its own flank."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.generation import overreach
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
    whole,
    within,
)

TEETH = (7, 40)
SHIFTS = (-0.6, 0.9)
ANGLES = (14.5, 20.0, 25.0)
JUST = 0.01  # past what is needed, within which a shift just clears [modules]
SLIGHT = 0.02  # past the tangent point, that many workshops accept [modules]


class RackCutter(Explorer):
    """A pinion under the rack cutter that makes it: with few teeth the cutter undercuts the flank.

    Parameters
    ----------
    teeth : int
        Number of teeth, 7 to 40 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    pressure_angle : float
        14.5, 20 or 25 [deg].
    profile_shift : float
        How far the cutter stands further out, -0.6 to 0.9 [modules].
    traces : bool
        Whether places are drawn that the cutter has passed through, seen from the pinion [-].
    driver_speed : float
        Signed speed of the pinion, counter-clockwise positive, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits or leaves no tooth; the message names them.

    Examples
    --------
    >>> rack = RackCutter(18)
    >>> round(rack.past, 3), rack.warnings[-1]["kind"]
    (-0.053, 'good')
    """

    teeth = traitlets.Int(12).tag(sync=True)
    pressure_angle = traitlets.Float(20.0).tag(sync=True)
    profile_shift = traitlets.Float(0.0).tag(sync=True)
    traces = traitlets.Bool(True).tag(sync=True)
    inputs = ("teeth", "pressure_angle", "profile_shift", "traces")

    def __init__(
        self,
        teeth: int = 12,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        pressure_angle: float = 20.0,
        profile_shift: float = 0.0,
        traces: bool = True,
        driver_speed: float = 2.0,
        playing: bool = False,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            teeth=teeth,
            pressure_angle=pressure_angle,
            profile_shift=float(profile_shift),
            traces=traces,
        )

    @traitlets.validate("teeth", "profile_shift")
    def _checked(self, proposal):
        within(
            proposal.trait.name,
            proposal.value,
            *((*TEETH, "teeth") if proposal.trait.name == "teeth" else (*SHIFTS, "modules")),
        )
        return proposal.value

    @traitlets.validate("pressure_angle")
    def _listed(self, proposal):
        one_of("pressure_angle", proposal.value, ANGLES)
        return proposal.value

    @property
    def past(self) -> float:
        """How far the end of the cutter's straight flank reaches past the tangent point, negative short of it
        [modules].
        """
        return overreach(self.gear)

    def _state(self) -> State:
        gear = Gear(
            self.teeth, pressure_angle=self.pressure_angle, profile_shift=self.profile_shift, **self._size
        )
        scene = views.generation(gear, traces=self.traces)
        self.gear, numbers = gear, gear.numbers
        least, shift, past = numbers["least_teeth"], numbers["least_shift"], self.past
        rows = [
            row(
                "cutter past the tangent point",
                cell("past", past, f"{numerals.number(past, 3)} modules", explained=False, alarm=past > 0),
            ),
            row("teeth without undercut, from", cell("least_teeth", least, numerals.number(least, 2))),
            row("shift that just clears", cell("least_shift", shift, f"{numerals.number(shift, 3)} modules")),
            row(
                "root diameter",
                cell(
                    "root_diameter",
                    numbers["root_diameter"],
                    numerals.length(numbers["root_diameter"], gear.unit),
                ),
            ),
            row(
                "outside diameter",
                cell(
                    "outside_diameter",
                    numbers["outside_diameter"],
                    numerals.length(numbers["outside_diameter"], gear.unit),
                ),
            ),
        ]
        controls = [
            whole("teeth", "Number of teeth", *TEETH, page=5, spoken="teeth"),
            choice(
                "pressure_angle",
                "Pressure angle",
                [(angle, f"{numerals.plain(angle)}\u00b0") for angle in ANGLES],
            ),
            measure(
                "profile_shift",
                "Cutter further out by",
                *SHIFTS,
                0.05,
                page=0.2,
                places=2,
                unit="modules",
                home=0.0,
            ),
            switch("traces", "Show where the cutter has passed"),
        ]
        return State(
            scene,
            f"Under the rack cutter: {gear.teeth} teeth, {numerals.pitch_name(gear)},"
            f" {numerals.plain(gear.pressure_angle)}\u00b0",
            [group("The cut", rows)],
            self._said(gear, past, shift),
            controls,
        )

    def _said(self, gear: Gear, past: float, shift: float) -> list[dict]:
        said = [
            remark(
                "task",
                f"find the smallest number of teeth at {numerals.plain(gear.pressure_angle)}\u00b0 that the"
                " cutter leaves without undercut, the cutter not moved out.",
            )
        ]
        # one tooth fewer, under the same cutter: would it be whole as well?
        fewer = past + self._per_tooth(gear)
        if gear.profile_shift == 0 and past <= 0 < fewer:
            policy = (
                f" By a hair: for {gear.teeth - 1} the cutter passes the tangent point by"
                f" {numerals.number(fewer, 3)} modules. Many workshops accept that."
            )
            said.append(
                remark(
                    "good",
                    f"{gear.teeth} teeth are left whole, {gear.teeth - 1} are"
                    f" not.{policy if fewer < SLIGHT else ''}",
                )
            )
        elif past > 0:
            said.append(
                remark(
                    "note",
                    "undercut: the straight part of the cutter passes the tangent point by"
                    f" {numerals.number(past, 2)} modules and takes away flank that it has just made.",
                )
            )
        elif gear.profile_shift > 0 and past >= -JUST:
            said.append(
                remark(
                    "good",
                    f"a shift of {numerals.number(gear.profile_shift, 3)} modules just clears the tangent"
                    f" point: {gear.teeth} teeth are left whole.",
                )
            )
        else:
            said.append(
                remark(
                    "note",
                    f"no undercut: the straight part of the cutter stays {numerals.number(-past, 2)} modules"
                    " short of the tangent point.",
                )
            )
        return said

    @staticmethod
    def _per_tooth(gear: Gear) -> float:
        """How much further the tangent point lies from the pitch point for each tooth more [modules]."""
        return (
            (gear.pitch_diameter**2 - gear.base_diameter**2)
            / gear.pitch_diameter
            / (2 * gear.teeth * gear.scale)
        )

    def _derivation(self, word: str):
        return self.gear.explain(word)
