"""Epicyclic trains: suns, rings, stepped and double planets, coupled sets, bevel differentials."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from gearlab.theory.units import shown_unit

from ..amounts import Amounts, real
from ..checks import within
from . import motion
from .members import FRAME, GearMesh, Members, counts, length_unit, read_held, read_meshes, several
from .power import PowerFlow, flow
from .room import Room
from .way import Way, way_to


@dataclass(frozen=True, repr=False)
class EpicyclicTrain:
    """An epicyclic train from its list of meshes: any number of suns, rings, carriers and planets.

    A shaft is named by the caller; one name is one piece, so a ring that carries the planets of a
    second set is named once
    and both sets are coupled by it. Every shaft turns about the common axis but those in ``carried``.

    meshes: each (name, teeth, name, teeth), teeth 4 to 6000; behind them "internal" for a gear in a ring (the
        one with more teeth is the ring), "bevel left" or "bevel right" for a bevel gear on that side of the
        planet's pin (drawn with the common axis across the page), and last the tooth size of that mesh where
        it has one of its own [mm, or 1/in].
    carried: which shaft carries each planet; planets with several gears are one name. "frame" for an axle
        that stands on the bench.
    held: members that stand still.
    planets: how many equal planets are equally spaced, 1 to 24; by name of the planet where they differ [-].
    module, diametral_pitch: tooth size [mm] or [1/in], at most one. Without it speeds, ratios and equal
        spacing are told, but no lengths.
    length_unit: "mm" or "in", for a train without tooth size: its torques are then in N*m or lbf*in.
    must_fit: false to allow a train whose planets would not go in, collide, or do not reach both of their
        mates.
    ValueError for a train that cannot be built or cannot turn; the message names the member and says what
        would work.

    The vent of the greenhouse is closed by a stepped planetary reducer on the crank:

    >>> meshes = [("sun", 20, "planet", 40), ("ring", 76, "planet", 16, "internal")]
    >>> crank = EpicyclicTrain(meshes, {"planet": "carrier"}, held="ring", planets=3, module=1.5)
    >>> crank.ratio("sun", "carrier"), crank.speeds(sun=21)
    (10.5, {'sun': 21.0, 'ring': 0.0, 'carrier': 2.0, 'planet': -7.5})
    >>> crank.torques(sun=1.5), crank.torques(sun=1.5).unit
    ({'sun': 1.5, 'ring': 14.25, 'carrier': -15.75}, 'N*m')

    A bevel differential lets motor and hand crank both work the vent shaft:

    >>> both = EpicyclicTrain.differential(16, 10, names=("motor", "crank", "vent"))
    >>> both.speeds(motor=30, crank=10)["vent"], both.speeds(motor=30, vent=15)["crank"]
    (20.0, 0.0)
    >>> both.speeds(motor=30, crank=10, vent=5)
    Traceback (most recent call last):
    ValueError: the speed of vent cannot be chosen: it follows from that of motor and crank; leave it out
    """

    meshes: tuple[GearMesh, ...]
    carried: Mapping[str, str]
    held: str | tuple[str, ...] = field(default=(), kw_only=True)
    planets: int | Mapping[str, int] = field(default=1, kw_only=True)
    module: float | None = field(default=None, kw_only=True)
    diametral_pitch: float | None = field(default=None, kw_only=True)
    length_unit: str | None = field(default=None, kw_only=True)
    must_fit: bool = field(default=True, kw_only=True)

    def __post_init__(self):
        put = object.__setattr__
        put(self, "length_unit", length_unit(self.module, self.diametral_pitch, self.length_unit))
        put(self, "meshes", read_meshes(self.meshes, self.length_unit if self.scale else None))
        put(self, "carried", dict(self.makeup.carried))
        put(self, "held", read_held(self.held, self.outside))
        put(self, "planets", counts(self.makeup, self.planets))
        motion.check(self)
        if self.must_fit and (faults := self.room.faults):
            raise ValueError(f"{faults[0]} (must_fit=False allows it anyway)")

    @classmethod
    def stepped(
        cls,
        first: tuple[str, int],
        planet: tuple[int, int],
        last: tuple[str, int],
        *,
        inside: tuple[bool, bool] = (False, False),
        **more,
    ) -> EpicyclicTrain:
        """A train of a first gear, planets with two gears, and a last gear.

        first, last: name and teeth of the two gears on the common axis [-].
        planet: teeth of the planet's gear that meshes with the first and of the one that meshes with the last
            [-].
        inside: true where the gear on the common axis is a ring.
        **more: as for the class: held, planets, module or diametral_pitch ...

        >>> rings = EpicyclicTrain.stepped(("A", 64), (28, 26), ("B", 62), inside=(True, True))
        >>> rings.speeds(A=0, carrier=-100)["B"]
        -4.147465437788019
        """
        inside, planet = several("inside", inside, 2), several("planet", planet, 2)
        first, last = several("first", first, 2), several("last", last, 2)
        kinds = ["internal" if is_inside else "external" for is_inside in inside]
        rows: Any = (*first, "planet", planet[0], kinds[0]), (*last, "planet", planet[1], kinds[1])
        return cls(rows, {"planet": "carrier"}, **more)

    @classmethod
    def differential(
        cls,
        side_teeth: int,
        planet_teeth: int,
        *,
        names: tuple[str, str, str] = ("left", "right", "cage"),
        **more,
    ) -> EpicyclicTrain:
        """A bevel differential: two equal side gears, planets between them in a cage.

        side_teeth, planet_teeth: teeth of each side gear and of each planet [-].
        names: names of the two side gears and of the cage.
        **more: as for the class.

        >>> EpicyclicTrain.differential(16, 10).speeds(left=40, right=20)["cage"]
        30.0
        """
        left, right, cage = several("names", names, 3)
        rows: Any = tuple(
            (side, side_teeth, "planet", planet_teeth, f"bevel {hand}")
            for side, hand in ((left, "left"), (right, "right"))
        )
        return cls(rows, {"planet": cage}, **more)

    def __repr__(self) -> str:
        held = f", held: {' and '.join(self.held)}" if self.held else ""
        carried = ", ".join(f"{planet} on {carrier}" for planet, carrier in self.carried.items())
        return f"EpicyclicTrain({', '.join(map(str, self.meshes))}; {carried}{held})"

    # -- what it is made of ----------------------------------------------------------------------------
    @property
    def scale(self) -> float | None:
        """Length of one module [``length_unit``]; None for a train without tooth size."""
        return (
            self.module
            if self.module is not None
            else None
            if self.diametral_pitch is None
            else 1.0 / self.diametral_pitch
        )

    @cached_property
    def makeup(self) -> Members:
        """Its shafts and the equations of its meshes."""
        return Members(self.meshes, self.carried)

    @property
    def members(self) -> tuple[str, ...]:
        """Names of the shafts that turn about the common axis: suns, rings, carriers."""
        return self.makeup.members

    @cached_property
    def outside(self) -> tuple[str, ...]:
        """Names of the shafts that can be driven or held: the members, and axles on the frame."""
        return self.members + tuple(name for name in self.makeup.planets if self.carried[name] == FRAME)

    @cached_property
    def room(self) -> Room:
        """Lengths, and whether the planets go in: carrier radii, equal spacing, gaps."""
        return Room(self)

    # -- motion ----------------------------------------------------------------------------------------
    @property
    def degrees_of_freedom(self) -> int:
        """How many speeds can be chosen, with the held members standing still [-].

        >>> EpicyclicTrain.differential(16, 10).degrees_of_freedom
        2
        """
        return len(motion.free(self))

    def speeds(self, /, **given: float) -> Amounts:
        """Signed speed of every shaft, seen from the bench; of a bevel planet, seen from its carrier.

        **given: speeds of as many shafts as the train has free motions, by name; for names with blanks write
            ``**{"ring 1": 30}`` [rpm, counter-clockwise positive seen from the gear side].
        Returns by name, members first [rpm].
        ValueError for too few speeds (it names which shafts are left open), for one that follows from the
            others, for an unknown name or a value that is no finite number.
        """
        return motion.speeds(self, given)

    def ratio(self, driver: str, driven: str) -> float:
        """Turns of one shaft for each turn of another [-]; negative if they turn opposite ways.

        driver, driven: two shafts that turn.
        ValueError if the ratio is not fixed (another member must be held), or one of the two stands still.
        """
        return motion.ratio(self, driver, driven)

    # -- torque and power ------------------------------------------------------------------------------
    @property
    def torque_unit(self) -> str:
        """Unit of every torque: "N*m" for a module, "lbf*in" for a diametral pitch."""
        if self.length_unit is None:
            raise ValueError(
                "the unit of a torque is open: give the train its module or diametral_pitch, or "
                "length_unit='mm' for N*m, 'in' for lbf*in"
            )
        return shown_unit("torque", self.length_unit)

    def torques(self, /, **given: float) -> Amounts:
        """Torque that acts on each member from outside, without losses: no power is lost at any speed.

        An estimate for teaching. A held member feels its torque as well: its bolts must bear it. For a member
        on which nothing acts give 0.

        **given: torques by name [N*m for a module, lbf*in for a diametral pitch; counter-clockwise positive].
        Returns by name; the unit stands beside it as ``.unit`` [``torque_unit``].
        ValueError if too few torques are given (it names which are open), or one that follows from the
            others.
        """
        return motion.torques(self, given)

    def power_flow(
        self, speeds: Mapping[str, float], torques: Mapping[str, float], mesh_efficiency: float = 1.0
    ) -> PowerFlow:
        """Power at every member and mesh, and where it goes round in a circle [W or hp].

        speeds: as for :meth:`speeds` [rpm].
        torques: as for :meth:`torques` [``torque_unit``].
        mesh_efficiency: of each mesh, seen from its carrier, 0.5 to 1 [-]; the other torques then allow for
            it.

        >>> car = EpicyclicTrain.differential(16, 10, length_unit="mm")
        >>> car.power_flow({"left": 40, "right": 20}, {"left": 1.5}).says
        'power goes in at left and right and comes out at cage; none goes round in a circle'
        """
        efficiency = within(
            "mesh_efficiency", real("mesh_efficiency", mesh_efficiency, "", 1.0), 0.5, 1.0, ""
        )
        return flow(self, motion.speeds(self, speeds), torques, efficiency)

    # -- why -------------------------------------------------------------------------------------------
    def explain(self, asked: str, /, notation: str | None = None, **given: float) -> Way:
        """Show where a speed comes from: subtract the carrier's, see an ordinary train, add it again.

        asked: a shaft.
        notation: "inch" or "iso"; by default ISO, for inches inch notation.
        **given: as for :meth:`speeds` [rpm].

        >>> rings = EpicyclicTrain.stepped(("A", 64), (28, 26), ("B", 62), inside=(True, True))
        >>> for line in rings.explain("B", A=0, carrier=-100).text().splitlines()[4:7]: print(line)
        speed of the first gear, seen from the carrier: n_Fc = n_F - n_c = 0 rpm - (-100 rpm) = 100 rpm
        speed of the last gear, seen from the carrier: n_Lc = n_Fc·e = 100 rpm·0.958525 = 95.8525 rpm
        speed of the last gear: n_L = n_c + n_Lc = (-100 rpm) + 95.8525 rpm = -4.14747 rpm
        """
        return way_to(self, asked, self.speeds(**given), tuple(given), notation)
