"""Where the power of an epicyclic train goes: in, out, through its meshes, and round in a circle."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import TYPE_CHECKING

import numpy as np

from gearlab.theory.units import convert, shown_unit

from .amounts import Amounts
from .rational import reduced

if TYPE_CHECKING:
    from .epicyclic import EpicyclicTrain

#: Smaller shares of the largest power are rounding.
_NOTHING = 1e-9


@dataclass(frozen=True)
class PowerFlow:
    """Powers of an epicyclic train, without losses.

    Parameters
    ----------
    members : dict of str to float
        What goes in at each member from outside, by name; negative where it comes out [``unit``].
    meshes : dict of str to float
        What each mesh carries seen from its carrier, from the first named gear to the second; negative the
        other way round. It is
        this power that rubs on the teeth, and it may be many times what goes through the train [``unit``].
    couplings : dict of (str, str) to float
        What each set of planets ("planets p"), or mesh of fixed axles, gives to each shaft that takes part in
        it, by (set, shaft); negative where the set takes it [``unit``].
    circles : tuple of (tuple of str, float)
        Where power goes round in a circle: the shafts and planets on the way, and how much [``unit``].
    unit : str
        "W", or "hp" for a diametral pitch [-].
    """

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
    def says(self) -> str:
        """The flow in a sentence [-]."""
        ins = [name for name, power in self.members.items() if power > _NOTHING * self.through]
        outs = [name for name, power in self.members.items() if power < -_NOTHING * self.through]
        if not ins:
            return "no power goes through"
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


def flow(train: EpicyclicTrain, speeds: Amounts, torques: Amounts) -> PowerFlow:
    """The powers for speeds of all shafts [rpm] and torques on all members [``train.torque_unit``]."""
    made = train.makeup
    force_unit, power_unit = ("lbf*in/min", "hp") if train.length_unit == "in" else ("N*mm/min", "W")
    scale = (
        2
        * pi
        * convert(convert(1.0, train.torque_unit, force_unit.removesuffix("/min")), force_unit, power_unit)
    )
    assert power_unit == shown_unit("power", train.length_unit)
    forces = _mesh_forces(train, torques)
    spins = np.linalg.lstsq(
        np.array([made.speed_row(name) for name in made.bodies], dtype=float),
        np.array([speeds[name] for name in made.bodies]),
        rcond=None,
    )[0]
    members = Amounts(
        {name: torque * speeds[name] * scale + 0.0 for name, torque in torques.items()}, power_unit
    )
    # what a mesh takes from the one gear, seen from the carrier, it gives to the other
    meshes = {
        str(mesh): -force
        * mesh.one_teeth
        * float(np.dot(made.relative_row(mesh.one, carrier), spins))
        * scale
        + 0.0
        for mesh, carrier, force in zip(made.meshes, made.carriers, forces, strict=True)
    }
    couplings = {}
    for name, numbers in _sets(train).items():
        given = sum(
            (forces[k] * np.array(made.rows[k], dtype=float) for k in numbers), np.zeros(len(made.bodies))
        )
        for shaft in train.outside:
            if any(made.rows[k][made.place(shaft)] for k in numbers):
                place = made.place(shaft)
                couplings[name, shaft] = float(given[place] * spins[place] * scale) + 0.0
    return PowerFlow(
        members, Amounts(meshes, power_unit), Amounts(couplings, power_unit), _circles(couplings), power_unit
    )


def _mesh_forces(train: EpicyclicTrain, torques: Amounts) -> np.ndarray:
    """Torque per tooth that each mesh gives its first gear [``torque_unit``]: every shaft is in balance."""
    made = train.makeup
    if len(reduced(made.rows, len(made.bodies))[1]) < len(made.rows):
        raise ValueError(
            "two meshes of this train do the same work (one could be left out and nothing else would "
            "move): how they share the load is not told by the "
            "teeth alone; leave out one of them, and see it as sharing the load of the other"
        )
    outer = sum(torque * np.array(made.speed_row(name), dtype=float) for name, torque in torques.items())
    return np.linalg.lstsq(np.array(made.rows, dtype=float).T, -outer, rcond=None)[0]


def _sets(train: EpicyclicTrain) -> dict[str, list[int]]:
    """Numbers of the meshes that belong together: planets in mesh with each other, or one carried by another.

    A mesh whose axles both stand still is a set of its own.
    """
    made = train.makeup
    moving = [planet for planet in made.planets if planet not in train.outside]
    groups = [{planet} for planet in moving]
    pairs = [(mesh.one, mesh.two) for mesh in made.meshes] + list(made.carried.items())
    for one, two in pairs:
        if one in moving and two in moving:
            first, second = (next(group for group in groups if name in group) for name in (one, two))
            if first is not second:
                first |= second
                groups.remove(second)
    found = {}
    for group in groups:
        name = "planets " + " and ".join(planet for planet in moving if planet in group)
        found[name] = [k for k, mesh in enumerate(made.meshes) if {mesh.one, mesh.two} & group]
    return found | {
        str(mesh): [k] for k, mesh in enumerate(made.meshes) if not {mesh.one, mesh.two} & set(moving)
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
    found = []
    while circle := next((way for start in edges if (way := _back_to(edges, start, start, ()))), None):
        steps = list(zip(circle, (*circle[1:], circle[0]), strict=True))
        power = min(edges[one][two] for one, two in steps)
        for one, two in steps:
            edges[one][two] -= power
            if edges[one][two] <= least:
                del edges[one][two]
        found.append((circle, power))
    return tuple(found)


def _back_to(edges, start: str, here: str, way: tuple[str, ...]) -> tuple[str, ...] | None:
    for after in edges.get(here, {}):
        if after == start:
            return (*way, here)
        if after not in (*way, here) and (found := _back_to(edges, start, after, (*way, here))):
            return found
    return None
