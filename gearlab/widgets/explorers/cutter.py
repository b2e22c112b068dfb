"""Why a pinion must not have too few teeth: the rack cutter cuts into its own flank."""

from __future__ import annotations

from ...drawing import numerals, views
from ...drawing.views.generation import overreach
from ...parts import Gear
from .controls import Choice, Measure, Switch, Whole, angles, tooth_size
from .explorer import Explorer, State
from .state import Cells, Inputs, good, group, note, row, task

JUST = 0.01  # past what is needed, within which a shift just clears [modules]
SLIGHT = 0.02  # past the tangent point, that many workshops accept [modules]


class RackCutter(Explorer):
    """A pinion under the rack cutter that makes it: with few teeth the cutter undercuts the flank.

    Examples
    --------
    >>> rack = RackCutter(18)
    >>> round(rack.past, 3), rack.warnings[-1]["kind"]
    (-0.053, 'good')
    """

    speed, positional, words = 2.0, 1, ("past",)
    secrets = ("least_teeth", "least_shift")
    teeth = Whole(12, 7, 40, "Number of teeth", page=5)
    module, diametral_pitch = tooth_size()
    pressure_angle = Choice(20.0, angles(14.5, 20.0, 25.0), "Pressure angle")
    profile_shift = Measure(
        0.0,
        -0.6,
        0.9,
        "Cutter further out by",
        unit="modules",
        step=0.05,
        page=0.2,
        places=2,
        home=0.0,
        about="How much further out the cutter is",
    )
    traces = Switch(
        True,
        "Show where the cutter has passed",
        about="Whether places are drawn that the cutter has passed through, seen from the pinion",
    )

    @property
    def gear(self) -> Gear:
        """The pinion as it stands."""
        return self.shown.subject

    @property
    def past(self) -> float:
        """How far the end of the cutter's straight flank reaches past the tangent point, negative short of it
        [modules].
        """
        return overreach(self.gear)

    def task_done(self, state: State, word: str) -> bool:
        """The count is told where the task is done, the shift also where the cutter just clears."""
        gear: Gear = state.subject
        past = overreach(gear)
        counted = gear.profile_shift == 0 and past <= 0 < past + _per_tooth(gear)
        return counted or (word == "least_shift" and _just_clears(gear, past))

    def state(self, inputs: Inputs) -> State:
        gear = Gear(
            inputs.teeth,
            pressure_angle=inputs.pressure_angle,
            profile_shift=inputs.profile_shift,
            **self.size_of(inputs),
        )
        n, past = Cells(gear.numbers, gear.unit), overreach(gear)
        rows = [
            row("cutter past the tangent point", n.number("past", past, unit="modules", alarm=past > 0)),
            row("teeth without undercut, from", n.number("least_teeth", places=2)),
            row("shift that just clears", n.number("least_shift", unit="modules")),
            row("root diameter", n.length("root_diameter")),
            row("outside diameter", n.length("outside_diameter")),
        ]
        angle = f"{numerals.plain(gear.pressure_angle)}\u00b0"
        wanted = task(
            f"find the smallest number of teeth at {angle} without undercut, the cutter not moved out."
        )
        heading = f"Rack cutter: {gear.teeth} teeth, {numerals.pitch_name(gear)}, {angle}"
        scene = views.generation(gear, traces=inputs.traces)
        return State(inputs, scene, heading, [group("The cut", rows)], [wanted, _judged(gear, past)], gear)


def _judged(gear: Gear, past: float) -> dict:
    # one tooth fewer, under the same cutter: would it be whole as well?
    fewer = past + _per_tooth(gear)
    if gear.profile_shift == 0 and past <= 0 < fewer:
        words = f"{gear.teeth} teeth are left whole, {gear.teeth - 1} are not."
        if fewer < SLIGHT:
            words += (
                f" By a hair: for {gear.teeth - 1} the cutter passes the tangent point by"
                f" {numerals.number(fewer, 3)} modules. Many workshops accept that."
            )
        return good(words)
    if past > 0:
        return note(
            f"undercut: the cutter's straight part passes the tangent point by {numerals.number(past, 2)}"
            " modules and takes away flank that it has just made."
        )
    if _just_clears(gear, past):
        return good(
            f"a shift of {numerals.number(gear.profile_shift, 3)} modules just clears the tangent point:"
            f" {gear.teeth} teeth are left whole."
        )
    return note(
        f"no undercut: the straight part of the cutter stays {numerals.number(-past, 2)} modules short of the"
        " tangent point."
    )


def _just_clears(gear: Gear, past: float) -> bool:
    return gear.profile_shift > 0 and 0 >= past >= -JUST


def _per_tooth(gear: Gear) -> float:
    """How much further the tangent point lies from the pitch point for each tooth more [modules]."""
    pitch, base = gear.pitch_diameter, gear.base_diameter
    return (pitch**2 - base**2) / pitch / (2 * gear.teeth * gear.scale)
