"""A pinion that moves a rack: how far, which way, and where the stops stand."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from ...drawing import numerals, views
from ...parts import Rack, RackDrive
from ...parts.design import Design, RackTable
from ...theory.units import convert, usual_unit
from .controls import Choice, Given, Length, Scale, Whole, tooth_size
from .explorer import Explorer, State, cut
from .part import Part, as_cut, in_its_unit
from .state import Cells, Inputs, good, group, note, row, task

NEAR = 0.5  # how near the pinion's angle must come to the task's [deg]
WAYS = {1: "to the right", -1: "to the left", 0: "at rest"}


@lru_cache(maxsize=64)
def _built(
    teeth: int,
    rack_teeth: int,
    spare_teeth: int,
    side: str,
    pitch_height: float | None,
    profile_shift: float = 0.0,
    tooth_thinning: float = 0.0,
    **kind: Any,
) -> RackDrive:
    pinion = cut(teeth, profile_shift=profile_shift, tooth_thinning=tooth_thinning, **kind)
    rack = Rack(rack_teeth, pitch_height=pitch_height, **kind)  # type: ignore[arg-type]
    return RackDrive(pinion, rack, side=side, spare_teeth=spare_teeth)


def most_angle(drive: RackDrive) -> float:
    """Angle of the pinion at which the rack meets its stop [deg]."""
    return 180 * drive.largest_travel / drive.travel_per_turn


def _to_the_stops(explorer: RackAndPinion, inputs: Inputs) -> Scale:
    most = math.floor(10 * most_angle(explorer.drive_for(inputs))) / 10
    return Scale(0.0, -most, most, 1.0, 360 / inputs.teeth, 1, 0.0)


class RackAndPinion(Explorer):
    """A pinion on a rack with stops; the pinion turns and the rack slides, to the stops and back.

    Examples
    --------
    >>> drive = RackAndPinion(20)
    >>> drive.angle = 68.8
    >>> round(drive.travel, 2), drive.done, drive.warnings[-1]["kind"]
    (30.02, True, 'good')
    """

    speed, positional, broad = 6.0, 1, True
    panelled = ("angle", "teeth", "rack_teeth", "spare_teeth", "side")
    teeth = Whole(20, 12, 40, "Teeth of the pinion", page=5, of="driver")
    module, diametral_pitch = tooth_size()
    rack_teeth = Whole(20, 12, 40, "Teeth of the rack", page=5, of="driven")
    spare_teeth = Whole(
        3,
        2,
        6,
        "Further teeth that stay in mesh",
        page=1,
        about="Further teeth that stay in mesh, half at either end",
    )
    side = Choice(
        "above",
        {"above": "above the rack", "below": "below the rack"},
        "The pinion is",
        about="Where the pinion is at first, from the rack",
    )
    # past the stop, or with a rack that has become shorter, the pinion stands at the stop
    angle = Length("Pinion turned by", _to_the_stops, unit="deg", of="driver", free=True, argument=False)
    wanted_travel = Length(
        about="How far to the right the task asks the rack to go",
        mm=Scale(30.0, 0.0, 0.0),
        inch=Scale(1.25, 0.0, 0.0),
        free=True,
        fixed=True,
    )

    pitch_height = Given(
        None, "Height of the pitch line above the rack's back; 5 modules if left out", "float"
    )

    part_of_design = Part("rack", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        table = _table(self._design, self.part) if self._design is not None else None
        if self._design is not None and table is not None and table.pinion is not None:
            self._cut_as = {"teeth": as_cut(self._design, table.pinion)}

    def drive_for(self, inputs: Inputs) -> RackDrive:
        """The drive with these counts."""
        return _built(
            inputs.teeth,
            inputs.rack_teeth,
            inputs.spare_teeth,
            inputs.side,
            self.pitch_height,
            **self.size_of(inputs),
            **self._cut_as.get("teeth", {}),
        )

    @property
    def drive(self) -> RackDrive:
        """The drive as it stands."""
        return self.shown.subject

    @property
    def travel(self) -> float:
        """Travel of the rack from the middle, to the right positive [mm] or [in]."""
        return self.drive.travel(self.shown.inputs.angle)

    @property
    def done(self) -> bool:
        """True if the rack stands where the task wants it, to half a degree of the pinion."""
        return self._done(self.drive, self.shown.inputs.angle)

    def _done(self, drive: RackDrive, angle: float) -> bool:
        return abs(angle - 360 * drive.direction * self.wanted_travel / drive.travel_per_turn) <= NEAR

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        most = most_angle(self.drive_for(inputs))
        return inputs.but(angle=max(-most, min(most, inputs.angle))) if abs(inputs.angle) > most else inputs

    def state(self, inputs: Inputs) -> State:
        drive, speed = self.drive_for(inputs), inputs.driver_speed
        scene = views.rack(drive, angle=inputs.angle, turning=speed or 1.0)
        heading = f"{inputs.teeth} teeth move a rack of {inputs.rack_teeth}"
        readout = [_motion(drive, inputs.angle, speed), _built_as(drive, inputs.side)]
        return State(inputs, scene, heading, readout, list(self._remarks(drive, inputs)), drive)

    def _remarks(self, drive: RackDrive, inputs: Inputs) -> Iterator[dict]:
        unit, angle, travel = drive.unit, inputs.angle, drive.travel(inputs.angle)
        wanted = numerals.length(self.wanted_travel, unit)
        yield task(
            f"move the rack {wanted} to the right of the middle. How far must the pinion turn, and which way?"
        )
        if self._done(drive, angle):
            way = "counter-clockwise" if angle > 0 else "clockwise"
            yield good(
                f"pinion {numerals.number(abs(angle), 1)} degrees {way}, rack"
                f" {numerals.number(travel, 1 if unit == 'mm' else 3)} {unit} to the right: {wanted} of the"
                f" {numerals.length(drive.travel_per_turn, unit)} that make a turn of 360 degrees."
            )
        elif self.wanted_travel > drive.largest_travel / 2:
            yield note(
                f"this rack goes only {numerals.length(drive.largest_travel / 2, unit)} to either side: give"
                " it more teeth."
            )
        elif travel < 0:
            way = "counter-clockwise" if drive.direction > 0 else "clockwise"
            yield note(
                f"the rack is to the left of the middle. A pinion {inputs.side} the rack moves it to the"
                f" right when it turns {way}."
            )
        if abs(angle) > most_angle(drive) - 0.05:
            yield note(
                f"the rack is at its stop. {drive.spare_teeth} teeth beside the travel stay in mesh; without"
                " a stop it would run out of the pinion."
            )

    def extra(self, word: str, state: State) -> dict[str, Any]:
        if word == "travel":
            return {"angle": abs(state.inputs.angle)}
        return {"speed": abs(float(state.inputs.driver_speed))} if word == "rack_speed" else {}


def _table(design: Design, name: str) -> RackTable:
    return next(rack for rack in design.rack if rack.name == name)


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A rack and its pinion; the task is half the travel that is wanted of it, from the middle."""
    table = _table(design, name)
    drive = design.rack_drive_of(table)
    sides = {-90.0: "above", 90.0: "below"}
    angle = math.remainder(table.angle, 360.0)
    if angle not in sides:
        raise ValueError(
            f"angle of rack {name!r} is {table.angle:g} deg, and here a rack is level, under its pinion"
            " or over it; give it an angle of -90 or 90 deg"
        )
    return {
        **in_its_unit(design, design.of(str(table.pinion))),
        "teeth": drive.pinion.teeth,
        "rack_teeth": table.teeth,
        "side": sides[angle],
        "wanted_travel": table.travel / 2,
        "pitch_height": table.pitch_height,
    }


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The edits of rack and pinion; where the pinion is another, the rack is mounted for it.

    The travel that is wanted, and how many teeth stay in mesh, are no numbers of what is shown here.
    """
    table = _table(design, name)
    radius = inputs.teeth * design.gears[str(table.pinion)].scale / 2
    before = design.gears[str(table.pinion)].pitch_diameter / 2
    rack = {
        "teeth": inputs.rack_teeth,
        "angle": -90.0 if inputs.side == "above" else 90.0,
        "mounting_height": round(table.mounting_height + radius - before, 9),
    }
    return {"gear": {table.pinion: {"teeth": inputs.teeth}}, "rack": {name: rack}}


def _motion(drive: RackDrive, angle: float, driver_speed: float) -> dict:
    n, unit, travel, speed = Cells(drive.numbers, drive.unit), drive.unit, drive.travel(angle), 0.0
    if driver_speed:
        speed = convert(drive.rack_speed(driver_speed), usual_unit("linear speed", unit), f"{unit}/s")
    sign = (travel > 1e-9) - (travel < -1e-9)
    stands = f"{numerals.length(abs(travel), unit)} {WAYS[sign] if sign else 'in the middle'}"
    runs = f"{numerals.number(abs(speed), 2)} {unit}/s {WAYS[(speed > 0) - (speed < 0)]}"
    rows = [
        row("rack travel from the middle", n.length("travel", travel, explained=bool(sign), spoken=stands)),
        row("travel in one turn", n.length("travel_per_turn")),
        row(
            "rack speed",
            n.number("rack_speed", speed, 2, f"{unit}/s", explained=bool(speed), spoken=runs),
        ),
    ]
    return group("It moves", rows)


def _built_as(drive: RackDrive, side: str) -> dict:
    n = Cells(drive.numbers, drive.unit)
    rows = [
        row(f"pinion\u2019s centre {side} the rack\u2019s back", n.length("mounting_height")),
        row("toothed length of the rack", n.length("toothed_length")),
        row("largest travel between the stops", n.length("largest_travel")),
    ]
    return group("It is built", rows)
