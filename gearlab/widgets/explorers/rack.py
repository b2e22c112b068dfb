"""A pinion that moves a rack: how far, which way, and where the stops stand."""

from __future__ import annotations

import math

import traitlets

from ...drawing import numerals, views
from ...parts import Gear, Rack, RackDrive
from ...theory.units import convert, usual_unit
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
    tooth_size,
    whole,
    within,
)

TEETH, LONG, SPARE = (12, 40), (12, 40), (2, 6)
NEAR = 0.5  # how near the pinion's angle must come to the task's [deg]


class RackAndPinion(Explorer):
    """A pinion on a rack with stops; the pinion turns and the rack slides, to the stops and back.

    Parameters
    ----------
    teeth : int
        Number of teeth of the pinion, 12 to 40 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    rack_teeth : int
        Number of teeth of the rack, 12 to 40 [-].
    spare_teeth : int
        Further teeth that stay in mesh, half at either end, 2 to 6 [-].
    side : str
        Where the pinion stands at first, "above" or "below" the rack [-].
    wanted_travel : float, optional
        How far to the right the task asks the rack to go [mm or in]; 30 mm or 1.25 in if left out.
    driver_speed : float
        Signed speed of the pinion, counter-clockwise positive, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> drive = RackAndPinion(20)
    >>> drive.angle = 68.8
    >>> round(drive.travel, 2), drive.done, drive.warnings[-1]["kind"]
    (30.02, True, 'good')
    """

    teeth = traitlets.Int(20).tag(sync=True)
    rack_teeth = traitlets.Int(20).tag(sync=True)
    spare_teeth = traitlets.Int(3).tag(sync=True)
    side = traitlets.Unicode("above").tag(sync=True)
    inputs = ("teeth", "rack_teeth", "spare_teeth", "side", "angle", "driver_speed")

    def __init__(
        self,
        teeth: int = 20,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        rack_teeth: int = 20,
        spare_teeth: int = 3,
        side: str = "above",
        wanted_travel: float | None = None,
        driver_speed: float = 6.0,
        playing: bool = False,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        self._wanted = (30.0 if unit == "mm" else 1.25) if wanted_travel is None else float(wanted_travel)
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            teeth=teeth,
            rack_teeth=rack_teeth,
            spare_teeth=spare_teeth,
            side=side,
            wide=True,
        )

    @traitlets.validate("teeth", "rack_teeth", "spare_teeth")
    def _checked(self, proposal):
        within(
            proposal.trait.name,
            proposal.value,
            *{"teeth": TEETH, "rack_teeth": LONG, "spare_teeth": SPARE}[proposal.trait.name],
            "teeth",
        )
        return proposal.value

    @traitlets.validate("side")
    def _listed(self, proposal):
        one_of("side", proposal.value, ("above", "below"))
        return proposal.value

    @property
    def travel(self) -> float:
        """Travel of the rack from the middle, to the right positive [mm] or [in]."""
        return self.drive.travel(self.angle)

    @property
    def done(self) -> bool:
        """True if the rack stands where the task wants it, to half a degree of the pinion [-]."""
        return (
            abs(self.angle - 360 * self.drive.direction * self._wanted / self.drive.travel_per_turn) <= NEAR
        )

    def _built(self) -> RackDrive:
        return RackDrive(
            Gear(self.teeth, **self._size),
            Rack(self.rack_teeth, **self._size),
            side=self.side,
            spare_teeth=self.spare_teeth,
        )

    @staticmethod
    def _most(drive: RackDrive) -> float:
        """Angle of the pinion at which the rack meets its stop [deg]."""
        return 180 * drive.largest_travel / drive.travel_per_turn

    def _tidy(self) -> None:
        most = self._most(self._built())
        if abs(self.angle) > most:  # past the stop, or a rack that has become shorter: it stands at the stop
            self.angle = max(-most, min(most, self.angle))

    def _state(self) -> State:
        self.drive = drive = self._built()
        most = self._most(drive)
        scene = views.rack(drive, angle=self.angle, turning=self.driver_speed or 1.0)
        controls = [
            measure(
                "angle",
                "Pinion turned by",
                -math.floor(10 * most) / 10,
                math.floor(10 * most) / 10,
                1.0,
                page=360 / self.teeth,
                places=1,
                unit="\u00b0",
                spoken="degrees",
                home=0.0,
                of="driver",
            ),
            whole("teeth", "Teeth of the pinion", *TEETH, page=5, of="driver", spoken="teeth"),
            whole("rack_teeth", "Teeth of the rack", *LONG, page=5, of="driven", spoken="teeth"),
            whole("spare_teeth", "Further teeth that stay in mesh", *SPARE, page=1, spoken="teeth"),
            choice("side", "The pinion stands", [("above", "above the rack"), ("below", "below the rack")]),
        ]
        return State(
            scene,
            f"{self.teeth} teeth move a rack of {self.rack_teeth}",
            self._readout(),
            self._remarks(most),
            controls,
        )

    def _readout(self) -> list[dict]:
        drive, unit, n = self.drive, self.drive.unit, self.drive.numbers

        def length(word: str, value: float | None = None) -> dict:
            value = n[word] if value is None else value
            return cell(word, value, numerals.length(value, unit))

        speed = (
            convert(drive.rack_speed(self.driver_speed), usual_unit("linear speed", unit), f"{unit}/s")
            if self.driver_speed
            else 0.0
        )
        way = {1: "to the right", -1: "to the left", 0: "at rest"}
        sign = (self.travel > 1e-9) - (self.travel < -1e-9)
        motion = [
            row(
                "rack travel from the middle",
                cell(
                    "travel",
                    self.travel,
                    f"{numerals.length(self.travel, unit)}",
                    explained=bool(sign),
                    spoken=(
                        f"{numerals.length(abs(self.travel), unit)} {way[sign] if sign else 'in the middle'}"
                    ),
                ),
            ),
            row("travel in one turn", length("travel_per_turn")),
            row(
                "rack speed",
                cell(
                    "rack_speed",
                    speed,
                    f"{numerals.number(speed, 2)} {unit}/s",
                    explained=bool(speed),
                    spoken=(
                        f"{numerals.number(abs(speed), 2)} {unit} a second {way[(speed > 0) - (speed < 0)]}"
                    ),
                ),
            ),
        ]
        sizes = [
            row(
                (
                    "pinion\u2019s centre above the rack\u2019s back"
                    if self.side == "above"
                    else "pinion\u2019s centre below the rack\u2019s back"
                ),
                length("mounting_height"),
            ),
            row("toothed length of the rack", length("toothed_length")),
            row("largest travel between the stops", length("largest_travel")),
        ]
        return [group("It moves", motion), group("It is built", sizes)]

    def _remarks(self, most: float) -> list[dict]:
        drive, unit = self.drive, self.drive.unit
        wanted = numerals.length(self._wanted, unit)
        said = [
            remark(
                "task",
                f"move the rack {wanted} to the right of the middle. How far must the pinion turn, and which"
                " way?",
            )
        ]
        if self.done:
            turned = (
                f"{numerals.number(abs(self.angle), 1)} degrees"
                f" {'counter-clockwise' if self.angle > 0 else 'clockwise'}"
            )
            said.append(
                remark(
                    "good",
                    f"pinion {turned}, rack {numerals.number(self.travel, 1 if unit == 'mm' else 3)} {unit}"
                    f" to the right: {wanted} of the {numerals.length(drive.travel_per_turn, unit)} that make"
                    " a turn of 360 degrees.",
                )
            )
        elif self._wanted > drive.largest_travel / 2:
            said.append(
                remark(
                    "note",
                    f"this rack goes only {numerals.length(drive.largest_travel / 2, unit)} to either side:"
                    " give it more teeth.",
                )
            )
        elif self.travel < 0:
            said.append(
                remark(
                    "note",
                    f"the rack stands to the left. A pinion {self.side} the rack moves it to the right when"
                    f" it turns {'counter-clockwise' if drive.direction > 0 else 'clockwise'}.",
                )
            )
        if abs(self.angle) > most - 0.05:
            said.append(
                remark(
                    "note",
                    f"the rack is at its stop. {drive.spare_teeth} teeth beside the travel stay in mesh;"
                    " without a stop it would run out of the pinion.",
                )
            )
        return said

    def _derivation(self, word: str):
        extra = {
            "travel": {"angle": abs(self.angle)},
            "rack_speed": {"speed": abs(float(self.driver_speed))},
        }.get(word, {})
        return self.drive.explain(word, **extra)
