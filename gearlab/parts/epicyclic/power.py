"""Where the power of an epicyclic train goes: in, out, through its meshes, and round in a circle."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import TYPE_CHECKING

import numpy as np

from gearlab.theory.units import convert, shown_unit, theory_unit

from ..amounts import Amounts
from .motion import torques as torques_on
from .rational import reduced

if TYPE_CHECKING:
    from .train import EpicyclicTrain

#: Smaller shares of the largest power are rounding.
_NOTHING = 1e-9
# Which gear of a mesh drives settles at once, or never.
_TRIES = 12


@dataclass(frozen=True)
class PowerFlow:
    """Powers of an epicyclic train, without losses or with the same loss in each mesh.

    torques: what acts on each member from outside, by name [N*m for a module, lbf*in for a diametral pitch].
    members: what goes in at each member from outside, by name; negative where it comes out [``unit``].
    meshes: what each mesh carries seen from its carrier, from the first named gear to the second; negative
        the other way round. It is this power that rubs on the teeth, and it may be many times what goes
        through the train [``unit``].
    couplings: what each set of planets ("planets p"), or mesh of fixed axles, gives to each shaft that takes
        part in it, by (set, shaft); negative where the set takes it [``unit``].
    circles: where power goes round in a circle: the shafts and planets on the way, and how much [``unit``].
    unit: "W", or "hp" for a diametral pitch.
    """

    torques: Amounts
    members: Amounts
    meshes: Amounts
    couplings: Amounts
    circles: tuple[tuple[tuple[str, ...], float], ...]
    unit: str

    @property
    def through(self) -> float:
        """Power that goes through the train, in at some members and out at others [``unit``]."""
        return sum(power for power in self.members.values() if power > 0)

    @property
    def lost(self) -> float:
        """What does not come out again [``unit``]; 0 for a mesh efficiency of 1."""
        return sum(self.members.values())

    @property
    def efficiency(self) -> float:
        """Power that comes out over power that goes in [-]."""
        if not self.through:
            raise ValueError(
                "no power goes through: there is no efficiency; give speeds and torques that are not 0"
            )
        return 1.0 - self.lost / self.through

    @property
    def says(self) -> str:
        """The flow in a sentence."""
        ins = [name for name, power in self.members.items() if power > _NOTHING * self.through]
        outs = [name for name, power in self.members.items() if power < -_NOTHING * self.through]
        if not ins:
            return "no power goes through"
        if not outs:
            start = f"friction takes all that goes in at {' and '.join(ins)}"
            return f"{start}: driven from one end alone this train locks"
        start = f"power goes in at {' and '.join(ins)} and comes out at {' and '.join(outs)}"
        for names, power in self.circles:
            times = f"{power / self.through:.2f} times what goes through"
            way = " to ".join([*names, names[0]])
            start += f"; {power:.4g} {self.unit}, {times}, goes round in a circle: {way}"
        if not self.circles:
            start += "; none goes round in a circle"
        busiest = max(self.meshes, key=lambda name: abs(self.meshes[name]))
        if (times := abs(self.meshes[busiest]) / self.through) > 1 + 1e-9:
            start += (
                f"; seen from the carrier the teeth of {busiest} carry {times:.2f} times what goes through"
            )
        return start


def flow(
    train: EpicyclicTrain, speeds: Amounts, given: Mapping[str, float], mesh_efficiency: float
) -> PowerFlow:
    """The powers for speeds of all shafts [rpm] and the torques that are given [``train.torque_unit``]."""
    makeup, unit = train.makeup, shown_unit("power", train.length_unit or "mm")
    torques, forces, rows, carried = _in_balance(train, speeds, given, mesh_efficiency)
    theory = theory_unit("torque", train.length_unit or "mm")
    scale = 2 * pi * convert(1.0, train.torque_unit, theory) * convert(1.0, f"{theory}/min", unit)
    members = {name: torque * speeds[name] * scale + 0.0 for name, torque in torques.items()}
    meshes = {str(mesh): power * scale + 0.0 for mesh, power in zip(makeup.meshes, carried, strict=True)}
    spins = _unknowns(train, speeds)
    couplings = {}
    for name, numbers in _sets(train).items():
        pushed = forces[numbers] @ rows[numbers]
        for shaft in train.outside:
            place = makeup.place(shaft)
            if any(makeup.rows[k][place] for k in numbers):
                couplings[name, shaft] = float(pushed[place] * spins[place] * scale) + 0.0
    in_unit = (Amounts(members, unit), Amounts(meshes, unit), Amounts(couplings, unit))
    return PowerFlow(torques, *in_unit, _circles(couplings), unit)


def _unknowns(train: EpicyclicTrain, speeds: Amounts) -> np.ndarray:
    """Speeds of the members, and of the planets on their pins, seen from their carriers [rpm]."""
    makeup = train.makeup
    rows = np.array([makeup.speed_row(name) for name in makeup.bodies], dtype=float)
    return np.linalg.solve(rows, np.array([speeds[name] for name in makeup.bodies]))


def _in_balance(train: EpicyclicTrain, speeds: Amounts, given: Mapping[str, float], efficiency: float):
    """Torques from outside, torque per tooth of each mesh, its rows, what it carries seen from the carrier.

    Seen from its carrier each mesh passes on its share of the power: the force on the driven gear is smaller
    than on the driving one, as if that gear had other teeth. Which of the two drives is known once the forces
    are; they are worked out again until it stays.
    """
    makeup = train.makeup
    if len(reduced(makeup.rows, len(makeup.bodies))[1]) < len(makeup.rows):
        raise ValueError(
            "two meshes of this train do the same work (one could be left out and nothing else would move): "
            "how they share the load is not told by the teeth; leave one of them out"
        )
    spins = _unknowns(train, speeds)
    seen = [
        np.dot(makeup.relative_row(mesh.gear, carrier), spins)
        for mesh, carrier in zip(makeup.meshes, makeup.carriers)
    ]
    nothing = _NOTHING * max((abs(speed) for speed in speeds.values()), default=0.0)
    turns = [0.0 if abs(speed) <= nothing else float(speed) for speed in seen]
    shares = [Fraction(1)] * len(makeup.meshes)
    for _ in range(_TRIES):
        rows = makeup.rows_with(shares)
        torques = torques_on(train, given, rows)
        outer = sum(
            torque * np.array(makeup.speed_row(name), dtype=float) for name, torque in torques.items()
        )
        matrix = np.array(rows, dtype=float)
        forces = np.linalg.lstsq(matrix.T, -outer, rcond=None)[0]
        carried = [-force * mesh.gear_teeth * turn for mesh, force, turn in zip(makeup.meshes, forces, turns)]
        loss = Fraction(efficiency)
        after = [loss if power > 0 else 1 / loss if power < 0 else Fraction(1) for power in carried]
        if after == shares or efficiency == 1.0:
            return torques, forces, matrix, carried
        shares = after
    raise ValueError(
        f"with a mesh efficiency of {efficiency:g} no torques keep this train turning this way: its friction "
        "locks it; drive it from its other end, or take a higher mesh_efficiency"
    )


def _sets(train: EpicyclicTrain) -> dict[str, list[int]]:
    """Numbers of the meshes that belong together: planets in mesh with each other, or one carried by another.

    A mesh whose axles both stand still is a set of its own.
    """
    makeup = train.makeup
    moving = [planet for planet in makeup.planets if planet not in train.outside]
    groups = [{planet} for planet in moving]
    pairs = [(mesh.gear, mesh.mate) for mesh in makeup.meshes] + list(makeup.carried.items())
    for shaft, other in pairs:
        if shaft in moving and other in moving:
            first, second = (next(group for group in groups if name in group) for name in (shaft, other))
            if first is not second:
                first |= second
                groups.remove(second)
    sets = {}
    for group in groups:
        name = "planets " + " and ".join(planet for planet in moving if planet in group)
        sets[name] = [k for k, mesh in enumerate(makeup.meshes) if {mesh.gear, mesh.mate} & group]
    return sets | {
        str(mesh): [k] for k, mesh in enumerate(makeup.meshes) if not {mesh.gear, mesh.mate} & set(moving)
    }


def _circles(couplings: dict[tuple[str, str], float]) -> tuple[tuple[tuple[str, ...], float], ...]:
    """Ways that lead back to where they began, with the least power on each.

    What went round is taken away before the next is sought.
    """
    least = _NOTHING * max((abs(power) for power in couplings.values()), default=0.0)
    edges: dict[str, dict[str, float]] = {}
    for (group, shaft), power in couplings.items():
        start, end = (group, shaft) if power > 0 else (shaft, group)
        if abs(power) > least:
            edges.setdefault(start, {})[end] = abs(power)
    circles = []
    while circle := next((way for start in edges if (way := _back_to(edges, start, start, ()))), None):
        steps = list(zip(circle, (*circle[1:], circle[0]), strict=True))
        power = min(edges[here][after] for here, after in steps)
        for here, after in steps:
            edges[here][after] -= power
            if edges[here][after] <= least:
                del edges[here][after]
        circles.append((circle, power))
    return tuple(circles)


def _back_to(edges, start: str, here: str, way: tuple[str, ...]) -> tuple[str, ...] | None:
    for after in edges.get(here, {}):
        if after == start:
            return (*way, here)
        if after not in (*way, here) and (circle := _back_to(edges, start, after, (*way, here))):
            return circle
    return None
