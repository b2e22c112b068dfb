"""Sun, planets and ring: choose the counts and the member that is held, and see what turns how fast."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...drawing.views.planetary import input_of, output_of
from ...parts import Planetary
from ...parts.design import Design
from .controls import Choice, Measure, Whole, tooth_size
from .explorer import Explorer, State
from .part import Part, in_its_unit
from .state import Cells, Inputs, good, group, note, remark, row, speed_cell, task

HELD = ("ring", "sun", "carrier")
UNSIZED: dict[str, dict[str, float]] = {"mm": {}, "in": {"diametral_pitch": 10.0}}  # drawn of usual teeth
NEAR = 0.01  # how near the ratio must come to the wanted one
MEMBERS = {"sun": "sun", "planet": "each planet", "carrier": "carrier", "ring": "ring"}


class SunPlanetsRing(Explorer):
    """A planetary set: its counts, what is held, and the speed of every member.

    Examples
    --------
    >>> head = SunPlanetsRing(24, 18)
    >>> head.done, head.value("carrier_speed")
    (True, 2.0)
    >>> SunPlanetsRing(20, 15).warnings[-1]["text"][:31]
    'planets = 3 cannot be assembled'
    """

    speed, positional = 7.0, 2
    sun_teeth = Whole(20, 12, 48, "Teeth of the sun", page=6)
    planet_teeth = Whole(15, 12, 36, "Teeth of a planet", page=6)
    module, diametral_pitch = tooth_size()
    planets = Whole(3, 2, 6, "Planets", page=1, unit="", spoken="planets", about="How many planets")
    held = Choice(
        "ring",
        {member: f"the {member}" for member in HELD},
        "Held still",
        about="The member that stands still",
    )
    wanted_reduction = Measure(
        3.5,
        2.5,
        12.0,
        unit="",
        about="Turns of the sun for each turn of the carrier that the task asks for",
        fixed=True,
    )

    part_of_design = Part("planetary", lambda *given: _taken(*given), lambda *given: _given(*given))

    @property
    def made(self) -> Planetary:
        """The set as it stands."""
        return self.shown.subject

    @property
    def done(self) -> bool:
        """True if three planets fit evenly, and with the ring held the reduction is the wanted one."""
        return self._done(self.made)

    def _reached(self, planetary: Planetary) -> bool:
        return abs(planetary.numbers["reduction"] - self.wanted_reduction) <= NEAR

    def _done(self, planetary: Planetary) -> bool:
        return (
            planetary.fits
            and planetary.planets == 3
            and planetary.held == "ring"
            and self._reached(planetary)
        )

    def state(self, inputs: Inputs) -> State:
        planetary = Planetary(
            inputs.sun_teeth,
            inputs.planet_teeth,
            planets=inputs.planets,
            held=inputs.held,
            must_fit=False,
            **self.size_of(inputs),
        )
        scene = views.planetary(planetary, input_speed=inputs.driver_speed or None)
        readout = [_counts(planetary)]
        if planetary.fits:
            readout.append(_speeds(planetary, float(inputs.driver_speed)))
        heading = f"Sun {planetary.sun_teeth}, planets {planetary.planet_teeth}, ring {planetary.ring_teeth}"
        wanted = task(
            "choose the counts so that three planets fit evenly, and with the ring held the sun turns"
            f" {numerals.plain(self.wanted_reduction, 4)} times for each turn of the carrier."
        )
        return State(inputs, scene, heading, readout, [wanted, self._judged(planetary)], planetary)

    def _judged(self, planetary: Planetary) -> dict:
        reduction = numerals.plain(planetary.numbers["reduction"], 4)
        if self._done(planetary):
            return good(
                f"ring {planetary.ring_teeth}, nothing left over, {reduction} turns of the sun for one of the"
                " carrier."
            )
        if not planetary.fits:
            why, _, fitting = planetary.misfit().partition(". ")
            return remark("stop", f"{why}.", more=[f"{fitting}."])  # which counts would fit is the task
        if not self._reached(planetary):
            return note(
                f"it can be assembled; with the ring held the sun turns {reduction} times, not"
                f" {numerals.plain(self.wanted_reduction, 4)}."
            )
        if planetary.planets != 3:
            return note(
                f"{planetary.planets} planets fit as well, and the ratio is the same: planets share the load,"
                " they do not change the ratio. The task asks for three."
            )
        first, last = input_of(planetary), output_of(planetary)
        way = "with" if planetary.speeds(**{first: 1.0})[last] > 0 else "against"
        return note(
            f"with the {planetary.held} held the {last} turns {way} the {first}. The task asks for the ring"
            " to be held."
        )

    def extra(self, word: str, state: State) -> dict[str, Any]:
        speed = {f"{input_of(state.subject)}_speed": float(state.inputs.driver_speed)}
        return speed if word.endswith("_speed") else {}


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A planetary set; the ratio that the task asks for is its own."""
    table = next(table for table in design.planetary if table.name == name)
    if table.second_planet is not None and table.second_planet != table.planet:
        raise ValueError(
            f"{name!r} is a stepped set, with a second planet of {table.second_planet} teeth, and here"
            " planets have one row of teeth; name another: part = ..."
        )
    if table.ring != table.sun + 2 * table.planet:
        raise ValueError(
            f"ring of {name!r} has {table.ring} teeth, and with a sun of {table.sun} and planets of"
            f" {table.planet} it needs {table.sun + 2 * table.planet} to be shown here; give it those"
        )
    return {
        **(in_its_unit(design, table) if table.size else UNSIZED[design.unit]),
        "sun_teeth": table.sun,
        "planet_teeth": table.planet,
        "planets": table.planets,
        "held": table.held,
        "wanted_reduction": 1 + table.ring / table.sun,
    }


def _given(inputs: Inputs, _design: Design, name: str) -> dict[str, Any]:
    return {
        "planetary": {
            name: {
                "sun": inputs.sun_teeth,
                "planet": inputs.planet_teeth,
                "ring": inputs.sun_teeth + 2 * inputs.planet_teeth,
                "planets": inputs.planets,
                "held": inputs.held,
            }
        }
    }


def _counts(planetary: Planetary) -> dict:
    n, remainder = Cells(planetary.numbers, planetary.unit), planetary.assembly_remainder
    left = n.plain("assembly_remainder", remainder, 0, explained=True, alarm=remainder != 0)
    rows = [
        row("ring teeth", n.plain("ring_teeth", places=0)),
        row("left over when shared among the planets", left),
        row("sun turns per carrier turn, ring held", n.plain("reduction")),
        row("room between planets", n.length("planet_gap")),
    ]
    return group("The set", rows)


def _speeds(planetary: Planetary, input_speed: float) -> dict:
    first, last, held = input_of(planetary), output_of(planetary), planetary.held
    speeds = planetary.speeds(**{first: input_speed})
    role = {first: ", in", last: ", out", held: ", held"}
    rows = [
        row(
            words + role.get(member, ""),
            speed_cell(f"{member}_speed", speeds[member], explained=member not in (first, held)),
        )
        for member, words in MEMBERS.items()
    ]
    return group("Speeds, seen from the bench", rows)
