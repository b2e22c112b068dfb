"""A planetary set: a sun in the middle, planets around it on a carrier, a ring around them."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from gearlab.theory.scope import Scope, scope_for
from gearlab.theory.units import shown_unit

from .alignment import aligned
from .amounts import FASTEST, STRONGEST, Amounts, real
from .checks import whole, within
from .explained import ByTheory, Explained, Sized
from .gear import Gear
from .internal import InternalGear
from .mesh import Mesh
from .working import worked_out

MEMBERS = ("sun", "carrier", "ring")
MOST_PLANETS = 12
# A ring of full depth digs into small planets; teeth shorter by so much do not [modules]. tests/parts tries
# the counts.
SHORTENING = 0.3


@dataclass(frozen=True, repr=False)
class Planetary(Sized, Explained):
    """A sun, equal planets equally spaced on a carrier, and a ring, of one module, without profile shift.

    sun_teeth, planet_teeth: numbers of teeth [-], 6 to 200; the ring's count follows.
    diametral_pitch: teeth per inch of pitch diameter [1/in], above 0; then every length is in inches. Exactly
        one of diametral pitch and module is given.
    module: [mm], above 0; then every length is in millimetres.
    planets: how many [-], 1 to 12, as many as find room.
    held: the member that stands still, "sun", "carrier" or "ring"; None if all three turn.
    pressure_angle: [deg], 10 to 32; usual are 14.5, 20 and 25.
    must_fit: false to allow a set whose planets do not all find their teeth, for a picture of it.
    ValueError if a count is outside its range, planets would collide, or the last of them finds no teeth to
        go into; the message says what would work.

    >>> head = Planetary(24, 18, module=2.5)
    >>> head.ring_teeth, head.ratio("sun", "carrier"), head.speeds(sun=35)
    (60, 3.5, {'sun': 35.0, 'carrier': 10.0, 'ring': 0.0, 'planet': -23.333333333333336})
    >>> Planetary(24, 18, module=2.5, planets=5)
    Traceback (most recent call last):
    ValueError: planets = 5 cannot be assembled: with four planets in, the last meets tooth on tooth,
    because 24 + 60 = 84 teeth of sun and ring leave 4 over when shared among 5. Equally spaced, 1, 2, 3, 4 or
    6 planets fit; for 5 planets take a sun of 22 teeth
    """

    sun_teeth: int
    planet_teeth: int
    diametral_pitch: float | None = field(default=None, kw_only=True)
    module: float | None = field(default=None, kw_only=True)
    planets: int = field(default=3, kw_only=True)
    held: str | None = field(default="ring", kw_only=True)
    pressure_angle: float = field(default=20.0, kw_only=True)
    must_fit: bool = field(default=True, kw_only=True)

    def __post_init__(self):
        put = object.__setattr__
        for name in ("sun_teeth", "planet_teeth"):
            put(self, name, whole(name, getattr(self, name), 6, 200))
        put(self, "planets", whole("planets", self.planets, 1, MOST_PLANETS))
        if self.held not in (None, *MEMBERS):
            raise ValueError(
                f'held = {self.held!r} is not a member: hold the "sun", the "carrier" or the "ring", or None'
                " of them"
            )
        self.sun  # noqa: B018 (a bad size of tooth is refused here)
        self.ring  # noqa: B018
        if self.planets > 1 and self.planet_gap <= 0:
            most = next((count for count in range(self.planets - 1, 1, -1) if self._room(count) > 0), 1)
            raise ValueError(
                f"planets = {self.planets} of {self.planet_teeth} teeth collide: neighbouring tips would"
                f" overlap by {-self.planet_gap:.4g} {self.unit}. Around a sun of {self.sun_teeth} teeth"
                f" there is room for {most}; give {most} planets, or smaller ones with a larger sun"
            )
        if self.must_fit and not self.fits:
            raise ValueError(self.misfit())

    def misfit(self) -> str:
        """Why the planets do not all find their teeth, and what would work.

        Only for a set that does not fit.
        """
        words = (
            "no",
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
        )
        total, left = self.sun_teeth + self.ring_teeth, round(self.assembly_remainder)
        fitting = [
            count
            for count in range(1, MOST_PLANETS + 1)
            if total % count == 0 and (count == 1 or self._room(count) > 0)
        ]
        listed = ", ".join(map(str, fitting[:-1])) + (" or " if fitting[:-1] else "") + str(fitting[-1])
        other = next(
            sun
            for step in range(1, 40)
            for sun in (self.sun_teeth - step, self.sun_teeth + step)
            if sun >= 6 and (2 * sun + 2 * self.planet_teeth) % self.planets == 0
        )
        return (
            f"planets = {self.planets} cannot be assembled: with {words[self.planets - 1]}"
            f" planet{'s' if self.planets > 2 else ''} in, the last meets tooth on tooth, because"
            f" {self.sun_teeth} + {self.ring_teeth} = {total} teeth of sun and ring leave {left} over when"
            f" shared among {self.planets}. Equally spaced, {listed} planets fit; for {self.planets} planets"
            f" take a sun of {other} teeth"
        )

    def __repr__(self) -> str:
        size = (
            f"module={self.module:g}"
            if self.module is not None
            else f"diametral_pitch={self.diametral_pitch:g}"
        )
        return (
            f"Planetary({self.sun_teeth}, {self.planet_teeth}, {size}, planets={self.planets},"
            f" held={self.held!r})"
        )

    # -- its gears -------------------------------------------------------------------------------------
    @property
    def _size(self) -> dict[str, Any]:
        return {
            "diametral_pitch": self.diametral_pitch,
            "module": self.module,
            "pressure_angle": self.pressure_angle,
        }

    @cached_property
    def sun(self) -> Gear:
        """The gear in the middle."""
        return Gear(self.sun_teeth, **self._size)

    @cached_property
    def planet(self) -> Gear:
        """One of the planets."""
        return Gear(self.planet_teeth, **self._size)

    @cached_property
    def ring(self) -> InternalGear:
        """The ring; its teeth are 0.3 modules shorter than those of full depth, which would dig into the
        planets.
        """
        return InternalGear(
            self.ring_teeth, tip_shortening=round(SHORTENING * self.sun.scale, 9), **self._size
        )

    @property
    def ring_teeth(self) -> int:
        """Number of teeth of the ring [-]."""
        return round(
            worked_out(
                scope_for("planetary set", self.sun.unit, (self.sun.system,)),
                {"sun_teeth": float(self.sun_teeth), "planet_teeth": float(self.planet_teeth)},
            )["ring_teeth"]
        )

    # -- numbers ---------------------------------------------------------------------------------------
    @cached_property
    def _scope(self) -> Scope:
        return scope_for(
            "planetary set",
            self.unit,
            (self.sun.system,),
            frozenset({f"{self.held} held"} if self.held else ()),
        )

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers, by word [``unit``, 1/in]; all others follow from them."""
        return {
            "sun_teeth": float(self.sun_teeth),
            "planet_teeth": float(self.planet_teeth),
            "planets": float(self.planets),
        } | self.tooth_size

    def _room(self, planets: int) -> float:
        return worked_out(self._scope, self.givens | {"planets": float(planets)})["planet_gap"]

    @property
    def assembly_remainder(self) -> float:
        """What sun and ring teeth together leave over when shared among the planets.

        0 if the set can be assembled [-].
        """
        return self.numbers["assembly_remainder"]

    @property
    def fits(self) -> bool:
        """True if equally spaced planets all find their teeth."""
        return self.assembly_remainder == 0

    planet_spacing = ByTheory("From planet to neighbouring planet, pin to pin [``unit``].")
    planet_gap = ByTheory("Room between the tips of neighbouring planets [``unit``].")

    @cached_property
    def carrier_radius(self) -> float:
        """From the middle to the pin of a planet [``unit``]."""
        return Mesh(self.sun, self.planet).centre_distance

    # -- motion ----------------------------------------------------------------------------------------
    def speeds(self, **given: float) -> dict[str, float]:
        """Signed speed of every member and of the planets, seen from the bench.

        **given: speed of one turning member, ``sun``, ``carrier`` or ``ring``; of two, if no member is held
            [rpm, counter-clockwise positive].
        Returns by "sun", "carrier", "ring" and "planet" [rpm].
        ValueError if too few or too many speeds are given, one of the held member, or a value that is no
            finite number.

        >>> Planetary(16, 16, module=2, planets=4, held="sun").speeds(ring=3)["carrier"]
        2.25
        """
        free = [member for member in MEMBERS if member != self.held]
        unknown = [member for member in given if member not in free]
        if unknown or len(given) != len(free) - 1:
            still = f"the {self.held} is held" if self.held else "no member is held"
            raise ValueError(
                f"speeds of {', '.join(given) or 'nothing'} were given: {still}, so give"
                f" {'that of one' if self.held else 'those of two'} of {', '.join(free)}"
            )
        known = {
            member: real(f"speed of the {member}", speed, "rpm", FASTEST) for member, speed in given.items()
        } | ({self.held: 0.0} if self.held else {})
        words = {f"{member}_speed": speed for member, speed in known.items() if member != self.held}
        numbers = worked_out(self._scope, self.givens | words)
        return Amounts(
            {
                member: known.get(member, numbers.get(f"{member}_speed", 0.0)) + 0.0
                for member in (*MEMBERS, "planet")
            },
            "rpm",
        )

    def ratio(self, driver: str, driven: str) -> float:
        """Turns of one member for each turn of another; negative if they turn opposite ways [-].

        driver, driven: two members that are not held, of "sun", "carrier" and "ring".

        >>> Planetary(24, 18, module=2.5, held="carrier").ratio("sun", "ring")
        -2.5
        """
        if (
            self.held is None
            or driver not in MEMBERS
            or driven not in MEMBERS
            or {driver, driven, self.held} != set(MEMBERS)
        ):
            raise ValueError(
                f"the ratio of {driver} to {driven} is not fixed with"
                f" {'no member' if self.held is None else 'the ' + self.held} held: hold one member, and name"
                " the two others"
            )
        return 1.0 / self.speeds(**{driver: 1.0})[driven]

    def torques(self, sun_torque: float) -> dict[str, float]:
        """What the members feel, by sizes: sun and ring together hold the balance with the carrier.

        sun_torque: torque on the sun [N*m for a module, lbf*in for a diametral pitch], above 0.
        Returns by "sun", "carrier" and "ring"; without losses [N*m or lbf*in, told by ``.unit``]. The held
            member feels its torque as well: its bolts must hold it.

        >>> torques = Planetary(24, 18, module=2.5).torques(1.5)
        >>> torques, torques.unit
        ({'sun': 1.5, 'carrier': 5.25, 'ring': 3.75}, 'N*m')
        """
        unit = shown_unit("torque", self.unit)
        torque = within(
            "sun_torque", real("sun_torque", sun_torque, unit, STRONGEST), 0.0, math.inf, unit, above=True
        )
        numbers = worked_out(self._scope, self.givens | {"sun_torque": torque})
        return Amounts({member: numbers[f"{member}_torque"] for member in MEMBERS}, unit)

    # -- where everything stands -----------------------------------------------------------------------
    @property
    def planet_places(self) -> tuple[tuple[float, float], ...]:
        """Centres of the planets around the middle, the first to the right [``unit``]."""
        turns = [2 * math.pi * k / self.planets for k in range(self.planets)]
        return tuple(
            (self.carrier_radius * math.cos(turn), self.carrier_radius * math.sin(turn)) for turn in turns
        )

    def alignment(self, sun_angle: float = 0.0) -> tuple[tuple[float, ...], float]:
        """Angles of the planets and of the ring that put teeth into the middle of spaces, the first planet to
        the right.

        The planets are set to the sun, the ring to the first planet; the others fit the ring only if the set
        can be assembled.

        sun_angle: where tooth 0 of the sun stands, counter-clockwise from +x [deg].
        Returns angle of tooth 0 of each planet, and of the ring [deg].
        """
        sun_angle = real("sun_angle", sun_angle, "deg", 1e9)
        angles = tuple(
            aligned(self.sun_teeth, self.planet_teeth, sun_angle, 360.0 * k / self.planets)
            for k in range(self.planets)
        )
        return angles, aligned(self.planet_teeth, self.ring_teeth, angles[0], 180.0, internal=True)
