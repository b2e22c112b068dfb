"""Whether an epicyclic train turns, and what follows from what: exact shares of what is given."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from ..amounts import FASTEST, STRONGEST, Amounts, real
from .rational import free_motions, reduced

if TYPE_CHECKING:
    from .train import EpicyclicTrain


def listed(names: Sequence[str], word: str = "and") -> str:
    """Names in a row: a, b and c."""
    names = list(names)
    return "" if not names else names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {word} {names[-1]}"


def along(row: Sequence[int], free: Sequence[Fraction]) -> Fraction:
    """The speed that a row stands for, in one of the free motions [-]."""
    return sum((part * speed for part, speed in zip(row, free) if part), Fraction(0))


def _still(train: EpicyclicTrain, held: Sequence[str]) -> list[list[int]]:
    """Equations of the meshes, and of members that stand still."""
    return [list(row) for row in train.makeup.rows] + [train.makeup.speed_row(name) for name in held]


def free(train: EpicyclicTrain) -> list[list[Fraction]]:
    """Independent motions that are left with the held members standing still [-]."""
    return free_motions(_still(train, train.held), len(train.makeup.bodies))


def check(train: EpicyclicTrain) -> None:
    """Raise ValueError for a train that locks, and for a member that is held for nothing; it names which."""
    makeup, size = train.makeup, len(train.makeup.bodies)
    motions = free_motions(makeup.rows, size)
    for planet in makeup.planets:
        if not any(motion[makeup.place(planet)] for motion in motions):
            around = ", ".join(str(mesh) for mesh in makeup.meshes if planet in (mesh.gear, mesh.mate))
            raise ValueError(
                f"the train locks: with these teeth {planet} cannot turn on {makeup.carried[planet]} "
                f"({around}); "
                "leave out one of the meshes that hold it, or give it another planet"
            )
    for number, name in enumerate(train.held):
        before = free_motions(_still(train, train.held[:number]), size)
        if not any(along(makeup.speed_row(name), motion) for motion in before):
            others = f"with {listed(train.held[:number])} held" if number else "by the meshes alone"
            raise ValueError(
                f"held = {name!r} adds nothing: it already stands still {others}; leave it out of held"
            )
        if len(before) == 1:
            which = (
                f"hold one member less: {listed(train.held[:number])} alone will do"
                if number
                else "leave held out"
            )
            raise ValueError(
                f"with {listed(train.held[: number + 1])} held nothing can turn: the train is locked; {which}"
            )


def ratio(train: EpicyclicTrain, driver: str, driven: str) -> float:
    """Turns of one shaft for each turn of another [-], or ValueError where that is not fixed."""
    for name in (driver, driven):
        if name not in train.makeup.bodies:
            raise ValueError(f"{name!r} is no shaft of this train: it has {listed(train.makeup.bodies)}")
    motions = free(train)
    if len(motions) != 1:
        others = [name for name in train.outside if name not in (driver, driven, *train.held)]
        raise ValueError(
            f"the ratio of {driver} to {driven} is not fixed: this train has {len(motions)} free motions; "
            f"hold {len(motions) - 1} more of {listed(others)}"
        )
    driver_speed, driven_speed = (
        along(train.makeup.speed_row(name), motions[0]) for name in (driver, driven)
    )
    if driver_speed == 0 or driven_speed == 0:
        held = f" with {listed(train.held)} held" if train.held else ""
        raise ValueError(
            f"{driven if driven_speed == 0 else driver} stands still{held}: name two shafts that turn"
        )
    return float(driver_speed / driven_speed)


def shares_of_speeds(train: EpicyclicTrain, given: tuple[str, ...]) -> list[list[Fraction]]:
    """The speed of every shaft as shares of the given ones [-].

    Raises ValueError if one of them cannot be chosen, or if they leave shafts open; it names which.
    """
    makeup, size = train.makeup, len(train.makeup.bodies)
    rows = [row + [0] * len(given) for row in _still(train, train.held)]
    rows += [makeup.speed_row(name) + [int(name == other) for other in given] for name in given]
    done, leads = reduced(rows, size)
    if contradicting := [row[size:] for row in done[len(leads) :]]:
        last = max(k for k, share in enumerate(contradicting[0]) if share)
        others = [given[k] for k, share in enumerate(contradicting[0][:last]) if share]
        because = f"it follows from that of {listed(others)}" if others else "it stands still"
        held = f" with {listed(train.held)} held" if train.held else ""
        raise ValueError(f"the speed of {given[last]} cannot be chosen: {because}{held}; leave it out")
    if len(leads) < size:
        left = free_motions([row[:size] for row in done], size)
        open_ = [
            name for name in makeup.bodies if any(along(makeup.speed_row(name), motion) for motion in left)
        ]
        number = len(free(train))
        many = "s" if number > 1 else ""
        add = f"add that of {listed(open_, 'or')}" if given else f"those of {listed(open_, 'or')} will do"
        hold = ", or hold one of them" if number > 1 else ""
        raise ValueError(
            f"speeds of {listed(given) or 'nothing'} leave {listed(open_)} open: this train has {number} "
            f"free motion{many}, "
            f"so give {number} speed{many}; {add}{hold}"
        )
    unknowns = [[Fraction(0)] * len(given) for _ in range(size)]
    for row, lead in zip(done, leads):
        unknowns[lead] = row[size:]
    return [
        [along(makeup.speed_row(name), [unknown[k] for unknown in unknowns]) for k in range(len(given))]
        for name in makeup.bodies
    ]


def shares_of_torques(train: EpicyclicTrain, given: tuple[str, ...], rows=None) -> list[list[Fraction]]:
    """The torque from outside on every member as shares of the given ones [-].

    In no motion that the meshes allow is power won or lost.

    Raises ValueError if one of them cannot be chosen, or if they leave others open; it names which.
    """
    makeup, outside = train.makeup, train.outside
    size = len(outside)
    rows = [
        [along(makeup.speed_row(name), motion) for name in outside] + [0] * len(given)
        for motion in free_motions(makeup.rows if rows is None else rows, len(makeup.bodies))
    ]
    rows += [
        [int(name == other) for other in outside] + [int(name == other) for other in given] for name in given
    ]
    done, leads = reduced(rows, size)
    if contradicting := [row[size:] for row in done[len(leads) :]]:
        last = max(k for k, share in enumerate(contradicting[0]) if share)
        others = [given[k] for k, share in enumerate(contradicting[0][:last]) if share]
        because = (
            f"it follows from that on {listed(others)}"
            if others
            else "it is 0, for nothing in the train can hold against it"
        )
        raise ValueError(f"the torque on {given[last]} cannot be chosen: {because}; leave it out")
    if len(leads) < size:
        left = free_motions([row[:size] for row in done], size)
        open_ = [name for k, name in enumerate(outside) if any(share[k] for share in left)]
        raise ValueError(
            f"torques on {listed(given) or 'nothing'} leave those on {listed(open_)} open: give that on "
            f"{len(left)} more of them, "
            "0 for a member on which nothing acts from outside"
        )
    return [row[size:] for row in done]


def _sum(shares: Sequence[Fraction], values: Sequence[float]) -> float:
    return math.fsum(float(share) * value for share, value in zip(shares, values)) + 0.0


def speeds(train: EpicyclicTrain, given: Mapping[str, float]) -> Amounts:
    """Speed of every shaft [rpm] from those that are given [rpm]."""
    if not isinstance(given, Mapping):
        raise ValueError(f"speeds = {given!r} is no table of speeds by name: give one as {{'sun': 30}}")
    bodies = train.makeup.bodies
    for name in given:
        if name in train.held:
            raise ValueError(f"{name} is held: its speed is 0 and cannot be given; leave it out")
        if name not in bodies:
            raise ValueError(f"{name!r} is no shaft of this train: it has {listed(bodies)}")
    values = [real(f"speed of {name}", number, "rpm", FASTEST) for name, number in given.items()]
    shares = shares_of_speeds(train, tuple(given))
    return Amounts({name: _sum(row, values) for name, row in zip(bodies, shares)}, "rpm")


def torques(train: EpicyclicTrain, given: Mapping[str, float], rows=None) -> Amounts:
    """Torque from outside on every member [``train.torque_unit``] from those that are given.

    ``rows`` are the equations of the forces, where losses make them differ from those of the motion.
    """
    if not isinstance(given, Mapping):
        raise ValueError(f"torques = {given!r} is no table of torques by name: give one as {{'sun': 1.5}}")
    unit, outside = train.torque_unit, train.outside
    for name in given:
        if name not in outside:
            raise ValueError(
                f"no torque acts from outside on {name!r}: give that of one of {listed(outside)}"
            )
    values = [real(f"torque on {name}", number, unit, STRONGEST) for name, number in given.items()]
    shares = shares_of_torques(train, tuple(given), rows)
    return Amounts({name: _sum(row, values) for name, row in zip(outside, shares)}, unit)
