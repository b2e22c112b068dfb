"""Where the shafts of a train stand, whether its gears have room, and whether a ring of them can turn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from .checks import several, within
from .gear import Gear

if TYPE_CHECKING:
    from .train import Train

_COUNTS = {3: "three", 5: "five", 7: "seven", 9: "nine"}
_OPEN = "open the ring, or use an even number of gears"


def walk(distances: Sequence[float], angles: Sequence[float]) -> tuple[tuple[float, float], ...]:
    """Places from the origin on, each at a distance [mm or in] and angle [deg] from the one before, (x, y)
    [mm or in].

    >>> walk((3.0, 4.0), (0.0, 90.0))
    ((0.0, 0.0), (3.0, 0.0), (3.0, 4.0))
    """
    places = [(0.0, 0.0)]
    for distance, angle in zip(distances, angles):
        distance, angle = (
            within("distances", distance, -math.inf, math.inf, ""),
            within("angles", angle, -math.inf, math.inf, "deg"),
        )
        # a right angle is meant exactly: its cosine is not 6e-17
        along, across = (round(f(math.radians(angle)), 15) for f in (math.cos, math.sin))
        places.append((places[-1][0] + distance * along, places[-1][1] + distance * across))
    return tuple(places)


def line_angles(train: Train) -> tuple[float, ...]:
    """Direction of every mesh of a train [deg].

    As given, in line by default, and in a ring closed by the last two.
    """
    distances, given, ring = train.centre_distances, train.line_angles, train.ring
    free = len(distances) - 2 if ring else len(distances)
    if given is None:  # not yet put in
        given = tuple(360.0 * k / len(distances) for k in range(free)) if ring else (0.0,) * free
    several("line_angles", given, "one angle for each mesh [deg]")
    if ring and len(given) == len(distances):
        given = given[:free]  # the closing ones are worked out again
    if len(given) != free:
        raise ValueError(
            f"line_angles has {len(given)} angles; this train needs {free}: one for each"
            f" mesh{' but the last two, which close the ring' if ring else ''} [deg]"
        )
    angles = tuple(within("line_angles", angle, -math.inf, math.inf, "deg") for angle in given)
    return angles + _closing(distances, angles, train.unit) if ring else angles


def _closing(distances: Sequence[float], angles: tuple[float, ...], unit: str) -> tuple[float, float]:
    """Angles of the last two meshes of a ring.

    The last shaft stands where both its distances are right, away from the second shaft.
    """
    places = walk(distances, angles)
    (x, y), (first, last) = places[-1], distances[-2:]
    gap = math.hypot(x, y)
    if not abs(first - last) < gap < first + last:
        raise ValueError(
            f"the ring does not close: its last shaft needs {first:.6g} {unit} from the one before and"
            f" {last:.6g} {unit} from the first, which are {gap:.6g} {unit} apart; change line_angles so"
            f" that they are between {abs(first - last):.6g} and {first + last:.6g} {unit}"
        )
    bend = math.degrees(math.acos((gap**2 + first**2 - last**2) / (2 * gap * first)))
    back = math.degrees(math.atan2(-y, -x))
    side = x * places[1][1] - y * places[1][0]
    angle = back + bend if side > 0 else back - bend
    x, y = x + first * math.cos(math.radians(angle)), y + first * math.sin(math.radians(angle))
    return angle, math.degrees(math.atan2(-y, -x))


def check_shafts(train: Train) -> None:
    """Refuse a row with too few shafts, or a shaft that carries anything but one gear or two."""
    shafts = train.shafts
    for number, shaft in enumerate(shafts, 1):
        gears = shaft if isinstance(shaft, tuple) else (shaft,)
        if not all(isinstance(gear, Gear) for gear in gears) or (
            isinstance(shaft, tuple) and len(shaft) != 2
        ):
            raise ValueError(f"shaft {number} carries {shaft!r}: give one Gear, or two as (driven, driving)")
        if len(gears) == 2 and not train.ring and number in (1, len(shafts)):
            raise ValueError(
                f"shaft {number} is at an end of the train and carries two gears: give one, the other has"
                " nothing to mesh with"
            )
    if len(shafts) < (least := 3 if train.ring else 2):
        raise ValueError(
            f"a {'ring' if train.ring else 'train'} of {len(shafts)} shafts is out of range: give {least} or"
            " more"
        )


def check_motion(train: Train) -> None:
    """Refuse a ring in which the first shaft would have to turn in two ways at once."""
    count, again = len(train.shafts), Fraction(1)
    for mesh in train.meshes:
        again *= mesh.turns
    if count % 2:
        words = _COUNTS.get(count, str(count))
        raise ValueError(
            f"{words} external gears in a ring lock: each mesh reverses the direction, so after {words}"
            f" the first gear would have to turn against itself; {_OPEN}"
        )
    if again != 1:
        raise ValueError(
            f"the ring locks: once round it, the first shaft would have to turn {float(again):.6g} times as"
            " fast as itself; choose tooth counts whose ratios multiply to 1 round the ring"
        )


def check_room(train: Train) -> None:
    """Refuse gears in one plane that would overlap without being a mesh of the train."""
    shafts, places, unit = len(train.shafts), train.positions, train.unit
    for placed in train.gears:
        for other in train.gears[placed.number :]:
            apart = other.shaft - placed.shaft
            if placed.plane != other.plane or apart <= 1 or (train.ring and apart == shafts - 1):
                continue
            gap, need = (
                math.dist(places[placed.shaft], places[other.shaft]),
                (placed.gear.outside_diameter + other.gear.outside_diameter) / 2,
            )
            if gap < need:
                raise ValueError(
                    f"gears {placed.number} and {other.number} are in one plane and would overlap: their"
                    f" shafts are {gap:.6g} {unit} apart, their outside circles need more than {need:.6g}"
                    f" {unit}; change line_angles or the teeth between them"
                )


def check_fit(train: Train, aligned: Sequence[float]) -> None:
    """Refuse a ring whose last teeth miss the first gear's spaces by more than its play."""
    mesh = train.meshes[-1]
    pitch = 360.0 / mesh.driven.teeth
    off = (aligned[-1] - aligned[0] + pitch / 2) % pitch - pitch / 2
    arc = abs(math.radians(off)) * mesh.operating_pitch_diameters[1] / 2
    play = sum(max(mesh.backlash, 0.0) for mesh in train.meshes) / 2
    if arc > play + 1e-6 * mesh.driven.scale:
        raise ValueError(
            "the teeth of this ring do not fit: with all other meshes in place, the last tooth misses the"
            f" first gear's space by {arc:.4g} {train.unit} along the pitch circle ({abs(off) / pitch:.3g} of"
            f" a tooth pitch), and the meshes have {play:.4g} {train.unit} of play; change line_angles or the"
            " tooth counts"
        )
