"""Trains: a row of shafts with gears on them, in line, bent, or closed to a ring."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from gearlab.theory import Derivation
from gearlab.theory.scope import Scope, scope_for

from . import idler as idler_shaft
from . import layout
from .checks import several, within
from .explained import Explained
from .gear import Gear
from .mesh import Mesh

#: Theory of trains speaks of three shafts: what their gears are called there, in order.
_SIDES = ("first", "second", "third", "fourth")


class Placed(NamedTuple):
    """A gear in its train.

    Its number (from 1, along the train), its shaft (from 0) and its plane (from 0) [-].
    """

    number: int
    gear: Gear
    shaft: int
    plane: int


@dataclass(frozen=True, repr=False)
class Train(Explained):
    """Shafts in a row, each meshing with the next: a pair, idlers, a compound or a reverted train.

    shafts: what each shaft carries, from the first driver on: one gear, or two that turn together (the one
        that is driven, then the one that drives). An idler is a shaft with one gear between others.
    line_angles: direction from each shaft to the next, counter-clockwise from the +x axis [deg]; one for each
        mesh. By default all 0: the shafts stand in line. 180 after 0 folds back. In a ring: one for each mesh
        but the last two, which follow because the ring closes.
    ring: true if the last shaft also meshes with the first.
    ValueError if gears that should mesh cannot (both base pitches are given), if two gears in one plane would
        overlap, or if a ring locks or its teeth do not fit.

    >>> row = Train.of(18, 24, 45, module=2.5)
    >>> row.ratio, row.direction, row.speeds(15)
    (2.5, 1, (15.0, -11.25, 6.0))
    >>> reverted = Train.of(18, (45, 21), 42, module=2.5, line_angles=(0, 180))
    >>> reverted.ratio, reverted.centre_distances, reverted.reverted
    (5.0, (78.75, 78.75), True)
    >>> Train.of(20, 20, 20, module=2.5, ring=True)
    Traceback (most recent call last):
    ValueError: three external gears in a ring lock: each mesh reverses the direction, so after three the
    first gear would have to turn against itself; open the ring, or use an even number of gears
    """

    shafts: tuple
    # None, in line or closing the ring, is put in as numbers when it is made
    line_angles: tuple[float, ...] = None  # type: ignore[assignment]
    ring: bool = False

    def __post_init__(self):
        put = object.__setattr__
        several("shafts", self.shafts, "one gear or two for each shaft, as Train([pinion, wheel])")
        shafts = tuple(tuple(shaft) if isinstance(shaft, list) else shaft for shaft in self.shafts)
        put(self, "shafts", shafts)
        layout.check_shafts(self)
        if self.ring:
            layout.check_motion(self)
        put(self, "line_angles", layout.line_angles(self))
        layout.check_room(self)
        if self.ring:
            layout.check_fit(self, self._aligned(0.0))

    @classmethod
    def of(
        cls,
        *teeth: int | tuple[int, int],
        line_angles: Sequence[float] | None = None,
        ring: bool = False,
        **size,
    ) -> Train:
        """A train of equal-toothed gears from its tooth counts.

        *teeth: number of teeth on each shaft [-]; two for two gears on one shaft.
        line_angles, ring: as for the class [deg, -].
        **size: ``module`` [mm] or ``diametral_pitch`` [1/in], and what else a ``Gear`` takes.

        >>> Train.of(18, (45, 21), 42, module=2.5)
        Train(18 : 45 + 21 : 42 teeth)
        """
        shafts = tuple(
            tuple(Gear(count, **size) for count in shaft)
            if isinstance(shaft, (tuple, list))
            else Gear(shaft, **size)
            for shaft in teeth
        )
        return cls(shafts, line_angles, ring)  # type: ignore[arg-type] # None is put in

    def bent(self, shaft_spacing: float, above: bool = True) -> Train:
        """The same idler train with its outer shafts so far apart [``unit``] and the idler above (or below)
        their line; see ``idler.bent``.

        >>> [round(angle, 2) for angle in Train.of(18, 24, 45, module=2.5).bent(110).line_angles]
        [50.05, -27.81]
        """
        return idler_shaft.bent(self, shaft_spacing, above)

    def __repr__(self) -> str:
        bent = (
            ""
            if self.ring or not any(self.line_angles)
            else ", line_angles=(" + ", ".join(f"{angle:g}" for angle in self.line_angles) + ")"
        )
        return f"Train({self.teeth_in_words} teeth{bent}{', ring' if self.ring else ''})"

    # -- what stands where -----------------------------------------------------------------------------
    @property
    def teeth_in_words(self) -> str:
        """The tooth counts, shaft by shaft: a colon for a mesh, a plus for one shaft."""
        return " : ".join(
            str(shaft.teeth) if isinstance(shaft, Gear) else " + ".join(str(gear.teeth) for gear in shaft)
            for shaft in self.shafts
        )

    @property
    def unit(self) -> str:
        """Unit of every length, "in" or "mm"."""
        return self._driven(0).unit

    def _driven(self, shaft: int) -> Gear:
        carried = self.shafts[shaft]
        return carried if isinstance(carried, Gear) else carried[0]

    def _driving(self, shaft: int) -> Gear:
        carried = self.shafts[shaft]
        return carried if isinstance(carried, Gear) else carried[-1]

    @cached_property
    def meshes(self) -> tuple[Mesh, ...]:
        """The meshes in order, each a pair of its own; in a ring the last one closes it."""
        meshes: list[Mesh] = []
        count = len(self.shafts)
        for k in range(count if self.ring else count - 1):
            after = (k + 1) % count
            try:
                meshes.append(Mesh(self._driving(k), self._driven(after)))
            except ValueError as error:
                raise ValueError(f"shaft {k + 1} cannot drive shaft {after + 1}: {error}") from None
        return tuple(meshes)

    @cached_property
    def gears(self) -> tuple[Placed, ...]:
        """Every gear with its number, shaft and plane.

        Two gears on one shaft stand in neighbouring planes.
        """
        placed: list[Placed] = []
        plane = 0
        for shaft, carried in enumerate(self.shafts):
            for place, gear in enumerate((carried,) if isinstance(carried, Gear) else carried):
                plane += place
                placed.append(Placed(len(placed) + 1, gear, shaft, plane))
        return tuple(placed)

    @property
    def centre_distances(self) -> tuple[float, ...]:
        """Centre distance of each mesh [``unit``]."""
        return tuple(mesh.centre_distance for mesh in self.meshes)

    @cached_property
    def positions(self) -> tuple[tuple[float, float], ...]:
        """Where each shaft stands, the first at the origin, (x, y) [``unit``]."""
        return layout.walk(self.centre_distances[: len(self.shafts) - 1], self.line_angles)

    @property
    def reverted(self) -> bool:
        """True if the last shaft stands on the axis of the first."""
        return (
            not self.ring
            and math.dist(self.positions[0], self.positions[-1]) < 1e-9 * self.centre_distances[0]
        )

    @property
    def idlers(self) -> tuple[int, ...]:
        """Numbers of the shafts (from 0) with a single gear between others [-]."""
        return tuple(
            k
            for k in range(len(self.shafts))
            if isinstance(self.shafts[k], Gear) and (self.ring or 0 < k < len(self.shafts) - 1)
        )

    # -- motion ----------------------------------------------------------------------------------------
    @cached_property
    def _turns(self) -> tuple[Fraction, ...]:
        """Turns of each shaft for one turn of the first, exactly (and in a ring of the first again)."""
        turns = [Fraction(1)]
        for mesh in self.meshes:
            turns.append(turns[-1] * mesh.turns)
        return tuple(turns)

    @property
    def ratio(self) -> float:
        """Turns of the first shaft per turn of the last [-]; its size, the way it turns is ``direction``."""
        return math.prod(mesh.ratio for mesh in self.meshes[: len(self.shafts) - 1])

    @property
    def stage_ratios(self) -> tuple[float, ...]:
        """Driver turns per driven turn of each mesh [-]."""
        return tuple(mesh.ratio for mesh in self.meshes)

    @property
    def directions(self) -> tuple[int, ...]:
        """Which way each shaft turns: +1 with the first, -1 against it [-]."""
        return tuple(1 if turns > 0 else -1 for turns in self._turns[: len(self.shafts)])

    @property
    def direction(self) -> int:
        """Which way the last shaft turns: +1 with the first, -1 against it [-]."""
        return self.directions[-1]

    def speeds(self, first_speed: float) -> tuple[float, ...]:
        """Signed speed of every shaft [rpm] from that of the first [rpm]; counter-clockwise is positive.

        >>> Train.of(20, (70, 18), 54, module=2).speeds(1750)[-1]  # Mott, example 8-2: 166.7 rpm
        166.66666666666666
        """
        speeds = [within("first_speed", first_speed, -math.inf, math.inf, "rpm")]
        for mesh in self.meshes[: len(self.shafts) - 1]:
            speeds.append(mesh.speed(speeds[-1]))
        return tuple(speeds)

    def turns(self, first_turns: float) -> tuple[float, ...]:
        """Signed turns [-] of every shaft from those of the first [-]."""
        first_turns = within("first_turns", first_turns, -math.inf, math.inf, "turns")
        return tuple(float(first_turns * turns) for turns in self._turns[: len(self.shafts)])

    @property
    def turns_to_line_up(self) -> int:
        """Turns of the first shaft until every shaft stands as at the start, for the first time [-].

        >>> Train.of(18, (45, 21), 42, module=2.5).turns_to_line_up
        5
        """
        return math.lcm(*(turns.denominator for turns in self._turns))

    def alignment(self, first_angle: float = 0.0) -> tuple[float, ...]:
        """Angle of every shaft that puts teeth into the middle of spaces all along the train.

        first_angle: angle of the first shaft, counter-clockwise [deg]; any value.
        Returns one for each shaft [deg]; tooth 0 of each of its gears stands at that angle.

        >>> [round(angle, 3) for angle in Train.of(18, 24, 45, module=2.5).alignment()]
        [0.0, 7.5, 4.0]
        """
        return self._aligned(first_angle)[: len(self.shafts)]

    def _aligned(self, first_angle: float) -> tuple[float, ...]:
        angles = [within("first_angle", first_angle, -math.inf, math.inf, "deg")]
        for mesh, line in zip(self.meshes, self.line_angles):
            angles.append(float(mesh.alignment(angles[-1], line)))
        return tuple(angles)

    # -- forces ----------------------------------------------------------------------------------------
    def torques(self, first_torque: float, mesh_efficiency: float = 1.0) -> tuple[float, ...]:
        """Torque on every shaft from that on the first.

        Each mesh gains by its ratio and loses by its efficiency.

        first_torque: its size [N*m or lbf*in], 0 and up.
        mesh_efficiency: of each mesh [-], above 0 to 1.

        >>> # Wentzell, Machine Design, example 11.1: 1800 lbf in
        >>> Train.of(20, (60, 20), 60, module=2).torques(200)[-1]
        1800.0
        """
        torques, efficiency = (
            [within("first_torque", first_torque, 0.0, math.inf, "")],
            within("mesh_efficiency", mesh_efficiency, 0.0, 1.0, "", above=True),
        )
        for mesh in self.meshes[: len(self.shafts) - 1]:
            torques.append(torques[-1] * mesh.ratio * efficiency)
        return tuple(torques)

    def idler_load(
        self, tangential_force: float, idler: int = 1, first_direction: int = 1
    ) -> tuple[float, float]:
        """What both meshes push on the shaft (numbered from 0) of an idler, (x, y) [N or lbf].

        See ``idler.load``.

        >>> [round(part, 9) + 0.0 for part in Train.of(18, 24, 45, module=2.5).idler_load(86)]
        [0.0, 172.0]
        """
        return idler_shaft.load(self, tangential_force, idler, first_direction)

    # -- numbers ---------------------------------------------------------------------------------------
    @cached_property
    def _scope(self) -> Scope:
        if len(self.shafts) != 3 or self.ring:
            raise ValueError(
                "theory of trains tells of three shafts in an open row, this train has"
                f" {len(self.shafts)}{' in a ring' if self.ring else ''}: ask each of its .meshes, or a"
                " shorter train"
            )
        if any(placed.gear.features or placed.gear.system != self._driven(0).system for placed in self.gears):
            raise ValueError(
                "theory of trains tells of plain gears of one tooth system: ask each of the train's .meshes"
                " for shifted or thinned teeth"
            )
        kind = "idler train" if len(self.gears) == 3 else "compound train"
        two = not math.isclose(self.meshes[0].driver.scale, self.meshes[1].driver.scale, rel_tol=1e-9)
        return scope_for(
            kind, self.unit, (self._driven(0).system,), frozenset({"two modules"} if two else ())
        )

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers of three shafts, by word [``unit``, 1/in, deg].

        All others follow from them.
        """
        scope, first = self._scope, self.gears[0].gear
        givens = {f"{side}_teeth": float(placed.gear.teeth) for side, placed in zip(_SIDES, self.gears)}
        if "two modules" in scope.features:
            givens |= {"first_stage_module": first.scale, "second_stage_module": self.meshes[1].driver.scale}
        else:
            givens |= first.tooth_size
        if scope.kind == "idler train":
            givens["pressure_angle"] = first.pressure_angle
            if self.line_angles[0] != self.line_angles[1]:
                givens["shaft_spacing"] = math.dist(self.positions[0], self.positions[2])
        return givens

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number comes from, as every part does; for two shafts the words are those of a pair.

        >>> print(
        ...     Train.of(18, 24, 45, module=2.5).explain("third_speed", first_speed=15).lines("text")[-1].math
        ... )
        n3 = n1·z1/z3 = 15 rpm·18/45 = 6 rpm
        """
        return (
            self.meshes[0].explain(word, notation, **extra)
            if len(self.shafts) == 2
            else super().explain(word, notation, **extra)
        )
