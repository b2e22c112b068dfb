"""A pinion and the rack that it moves: travel and stops, height, speed, force, direction."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from gearlab.shape.rack import rack_contact
from gearlab.theory.scope import Scope, scope_for
from gearlab.theory.units import N

from .checks import finite, part, whole, within
from .explained import ByTheory, Explained
from .gear import Gear
from .rack import Rack
from .working import worked_out

if TYPE_CHECKING:
    pass

#: Direction of the rack for a pinion that turns counter-clockwise, by the side of the rack on which it
#: stands.
SIDES = {"above": 1, "below": -1}
BACK_DRIVING = (
    "A pull on the rack turns the pinion back, and the whole train behind it: nothing in a rack and pinion"
    " holds the load. A brake, a pawl or a self-locking stage must hold it, and a prop while somebody works"
    " under it."
)


@dataclass(frozen=True, repr=False)
class RackDrive(Explained):
    """A pinion that turns in its place, and the rack that it moves along.

    pinion: the pinion.
    rack: of the same tooth size, pressure angle and tooth system.
    side: where the pinion stands, the rack lying level: "above" or "below" it.
    spare_teeth: further teeth of the rack that stay in mesh, half at either end [-], 1 up to one fewer than
        the rack has.
    ValueError if pinion and rack do not fit each other, or the rack is too short to travel at all.

    >>> drive = RackDrive(Gear(20, module=2.5), Rack(54, module=2.5))
    >>> round(drive.travel_per_turn, 3), drive.mounting_height, round(drive.largest_travel, 2)
    (157.08, 37.5, 400.55)
    >>> round(drive.travel(90), 2), round(RackDrive(drive.pinion, drive.rack, side="below").travel(90), 2)
    (39.27, -39.27)
    >>> drive.turns_for(500)
    Traceback (most recent call last):
    ValueError: travel = 500 mm is out of range: the rack would run out of the pinion. 54 teeth, of which 3
    stay in mesh, travel up to 400.553 mm; for 500 mm take a rack of 67 teeth
    """

    pinion: Gear
    rack: Rack
    side: str = "above"
    spare_teeth: int = 3

    def __post_init__(self):
        pinion, rack = self.pinion, self.rack
        part("pinion", pinion, "Gear")
        part("rack", rack, "Rack")
        cut, basic = pinion.tooth.rack, rack.basic
        if (
            pinion.unit != rack.unit
            or not math.isclose(pinion.scale, rack.scale, rel_tol=1e-9)
            or not math.isclose(cut.pressure_angle, basic.pressure_angle, rel_tol=1e-9)
        ):

            def size(part: Gear | Rack) -> str:
                number = (
                    f"module {part.scale:g}" if part.unit == "mm" else f"diametral pitch {1 / part.scale:g}"
                )
                return f"{number}, {part.pressure_angle:g} deg"

            raise ValueError(
                "pinion and rack do not mesh: their teeth would not step alike. The pinion has"
                f" {size(pinion)}, the rack {size(rack)}; give both the same"
            )
        if self.side not in SIDES:
            raise ValueError(f'side = {self.side!r} is not known: the pinion is "above" or "below" the rack')
        object.__setattr__(self, "spare_teeth", whole("spare_teeth", self.spare_teeth, 1, rack.teeth - 1))

    def __repr__(self) -> str:
        return (
            f"RackDrive({self.pinion!r},"
            f" {self.rack!r}{'' if self.side == 'above' else ', side=' + repr(self.side)})"
        )

    # -- numbers ---------------------------------------------------------------------------------------
    @property
    def unit(self) -> str:
        """Unit of every length, "in" or "mm"."""
        return self.pinion.unit

    @cached_property
    def _scope(self) -> Scope:
        return scope_for("rack and pinion", self.unit, (self.pinion.system,), self.pinion.features)

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers, by word [``unit``, 1/in, deg]; all others follow from them."""
        return self.pinion.givens | {
            "rack_pitch_height": self.rack.pitch_height,
            "rack_teeth": float(self.rack.teeth),
            "spare_teeth": float(self.spare_teeth),
        }

    def _with(self, asked: str, **extra: float) -> float:
        return worked_out(self._scope, self.givens | extra)[asked]

    @property
    def direction(self) -> int:
        """Which way the rack goes while the pinion turns counter-clockwise.

        +1 to the right, -1 to the left [-].
        """
        return SIDES[self.side]

    travel_per_turn = ByTheory("Rack travel in one turn of the pinion, as a size [``unit``].")
    mounting_height = ByTheory("From the rack's back to the pinion's centre [``unit``].")
    largest_travel = ByTheory("From stop to stop, so that the spare teeth stay in mesh [``unit``].")

    @property
    def stops(self) -> tuple[float, float]:
        """Where the pinion stands at both stops, from the end of the toothed part [``unit``].

        >>> [round(place, 2) for place in RackDrive(Gear(20, module=2.5), Rack(54, module=2.5)).stops]
        [11.78, 412.33]
        """
        first = (self.rack.toothed_length - self.largest_travel) / 2
        return first, first + self.largest_travel

    @property
    def contact_ratio(self) -> float:
        """Pairs of teeth in contact, on average [-].

        Measured on the cut tooth where theory does not tell it (teeth of two systems, undercut).
        """
        pinion = self.pinion
        if pinion.system == self.rack.system:
            return pinion.numbers["rack_contact_ratio"]
        return max(0.0, rack_contact(pinion.tooth, self.rack.basic)) * pinion.scale / pinion.base_pitch

    # -- motion ----------------------------------------------------------------------------------------
    def travel(self, pinion_angle: N) -> N:
        """Travel of the rack, to the right positive [``unit``].

        pinion_angle: through which the pinion turns, counter-clockwise positive [deg].
        """
        angles = finite("pinion_angle", pinion_angle, "deg")
        angle: Any = angles if np.ndim(pinion_angle) else float(angles)
        return self.direction * self.travel_per_turn * angle / 360.0

    def turns_for(self, travel: float) -> float:
        """Turns of the pinion for a travel of the rack, both signed [-].

        travel: to the right positive [``unit``]; in size not above ``largest_travel``.
        ValueError if the rack would run out of the pinion; the message names the rack that is long enough.
        """
        way = within("travel", travel, -math.inf, math.inf, self.unit)
        if abs(way) > self.largest_travel * (1 + 1e-9):
            longer = Rack.for_travel(abs(way), spare_teeth=self.spare_teeth, **self.rack.tooth_size).teeth
            raise ValueError(
                f"travel = {way:g} {self.unit} is out of range: the rack would run out of the pinion."
                f" {self.rack.teeth} teeth, of which {self.spare_teeth} stay in mesh, travel up to"
                f" {self.largest_travel:g} {self.unit}; for {abs(way):g} {self.unit} take a rack of {longer}"
                " teeth"
            )
        return self.direction * way / self.travel_per_turn

    def rack_speed(self, pinion_speed: float) -> float:
        """Speed of the rack, to the right positive [m/s or ft/min], from that of the pinion,
        counter-clockwise positive [rpm].

        >>> round(RackDrive(Gear(20, module=2.5), Rack(54, module=2.5)).rack_speed(6), 6)
        0.015708
        """
        return self.direction * self._with(
            "rack_speed", speed=within("pinion_speed", pinion_speed, -math.inf, math.inf, "rpm")
        )

    def alignment(self, pinion_angle: float = 0.0) -> float:
        """Where the middle of a rack tooth stands so that the pinion's teeth meet the middles of spaces.

        pinion_angle: where tooth 0 of the pinion points, counter-clockwise from +x, to the right [deg].
        Returns along the rack from below (or above) the pinion's centre, to the right, 0 to one pitch
            [``unit``].

        >>> drive = RackDrive(Gear(20, module=2.5), Rack(54, module=2.5))
        >>> (
        ...     round(drive.alignment(-90) / drive.rack.circular_pitch, 6),
        ...     round(drive.alignment(-81) / drive.rack.circular_pitch, 6),
        ... )
        (0.5, 0.0)
        """
        pinion_angle = within("pinion_angle", pinion_angle, -math.inf, math.inf, "deg")
        meeting = -90.0 if self.side == "above" else 90.0
        pitch = self.rack.circular_pitch
        place = math.fmod(pitch / 2 + self.travel(math.fmod(pinion_angle - meeting, 360.0)), pitch)
        place += pitch if place < 0 else 0.0
        return 0.0 if pitch - place < 1e-9 * pitch else place

    # -- forces ----------------------------------------------------------------------------------------
    def forces(self, pinion_torque: float) -> tuple[float, float]:
        """Force along the rack, and the force that pushes pinion and rack apart.

        pinion_torque: torque on the pinion [N*m or lbf*in], 0 and up.
        Returns an estimate for teaching, without losses [N, lbf].

        >>> [round(force, 2) for force in RackDrive(Gear(20, module=2.5), Rack(54, module=2.5)).forces(3.75)]
        [150.0, 54.6]
        """
        torque = within("pinion_torque", pinion_torque, 0.0, math.inf, "")
        if torque == 0:
            return 0.0, 0.0
        numbers = worked_out(self._scope, self.givens | {"pinion_torque": torque})
        return numbers["rack_force"], numbers["rack_separating_force"]

    def driven_back(self, load: float) -> float:
        """Torque with which a load on the rack turns the pinion back, if nothing holds it (see
        ``back_driving``).

        load: pull along the rack [N, lbf], 0 and up.
        Returns it without losses [N*m or lbf*in].

        >>> RackDrive(Gear(20, module=2.5), Rack(54, module=2.5)).driven_back(150)
        3.75
        """
        pull = within("load", load, 0.0, math.inf, "")
        return self._with("pinion_torque", rack_force=pull) if pull else 0.0

    @property
    def back_driving(self) -> str:
        """What happens when the crank is let go, and what has to be done about it."""
        return BACK_DRIVING
