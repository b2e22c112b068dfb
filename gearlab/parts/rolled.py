"""What a pair's cut teeth tell when they are rolled on each other.

What theory leaves out, inside a ring above all.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np

from gearlab.shape.curves import find_zero
from gearlab.shape.rolling import Rolling, path_of_contact
from gearlab.theory.quantities import QUANTITIES, split_side

from .checks import within
from .internal import CHANGED
from .working import Numbers, followed

if TYPE_CHECKING:
    from .gear import Gear
    from .mesh import Mesh
    from .toothed import Toothed

#: A pair has play, or jams, from here on [modules].
SLACK = 1e-9
# What rolls of two external gears: the way of the contact point, and the play.
_CONTACT = frozenset(
    [
        "length_of_approach",
        "length_of_recess",
        "length_of_action",
        "contact_ratio",
        "arc_of_contact",
        "driver_contact_angle",
        "driven_contact_angle",
        "driver_start_radius",
        "driven_start_radius",
        "driver_specific_sliding",
        "driven_specific_sliding",
        "two_pair_share",
    ]
)
_PLAY = frozenset(
    [
        "backlash",
        "backlash_along_action",
        "pitch_circle_backlash",
        "driver_play_angle",
        "driven_play_angle",
        "quick_backlash_shortfall",
    ]
)
# The same of a pinion in a ring.
_RING_PLAY = frozenset({"backlash", "driven_play_angle", "driver_play_angle"})
_CENTRED = frozenset(
    {"operating_pressure_angle", "driver_operating_pitch_diameter", "driven_operating_pitch_diameter"}
)
_RING_CONTACT = _CENTRED | {"contact_ratio", "length_of_action"}
_NO_PLAY = 1e-12  # what rounding leaves is no play [rad]
_OWN = ("inside_diameter", "ring_root_diameter")  # words that only a ring has
# How a search for a distance begins, grows and ends [modules, -, steps].
_STEP, _GROWTH, _STEPS = 0.02, 1.3, 60


def rolling(driver: Gear, driven: Toothed, distance: float) -> Rolling:
    """A pair on its exact curves, in modules; ValueError if it cannot stand at this distance [``unit``].

    >>> from gearlab import Gear
    >>> round(rolling(Gear(20, module=2), Gear(50, module=2), 70.0).contact_ratio(), 4)
    1.6558
    """
    try:
        return Rolling(driver.tooth, driven.tooth, distance / driver.scale)
    except ValueError as error:
        if driver.scale == 1.0:
            raise
        raise ValueError(
            f"centre_distance = {distance:.6g} {driver.unit}: {error} One module is {driver.scale:g}"
            f" {driver.unit} here."
        ) from None


def tight_distance(driver: Gear, driven: Toothed, reference: float) -> float:
    """The distance at which a pair just has no play [``unit``], found by rolling from the reference distance
    [``unit``] on.

    Two external gears jam when they are moved together, a pinion in a ring when it is moved outwards.

    ValueError if the teeth jam, or have play, at every distance at which the flanks reach each other.

    >>> from gearlab import Gear
    >>> round(tight_distance(Gear(18, module=2.5, tooth_thinning=0.1), Gear(45, module=2.5), 78.75), 3)
    78.612
    """
    scale, sense = driver.scale, -1.0 if driven.internal else 1.0
    # nearer, no line touches both base circles
    base = driven.tooth.base_radius + sense * driver.tooth.base_radius

    def play(distance: float) -> float:
        return Rolling(driver.tooth, driven.tooth, distance).play()

    last = reference / scale
    start = play(last)
    if abs(start) <= 1e-13:
        return reference
    step = math.copysign(_STEP, -sense * start)  # play opens with the distance, and closes inside a ring
    for _ in range(_STEPS):
        new = max(last + step, base + SLACK)
        try:
            play_there = play(new)
        except ValueError:
            break
        if (play_there < 0.0) != (start < 0.0):
            return find_zero(play, last, new) * scale
        if new == base + SLACK:
            break
        last, step = new, _GROWTH * step
    what, help_ = ("jam", " or thin the teeth") if start < 0.0 else ("have play", "")
    raise ValueError(
        f"{driver.name} and {driven.name} {what} at every distance at which their flanks reach each other:"
        f" change the profile shifts{help_}"
    )


def free_window(mesh: Mesh, driver_angle: float) -> float:
    """Whole angle within which the driven gear is free, the driver held [deg]; see ``Mesh.free_window``.

    ValueError if the pair jams.
    """
    driver_angle = within("driver_angle", driver_angle, -math.inf, math.inf, "deg")
    if mesh.backlash < -SLACK * mesh.driver.scale:
        raise ValueError(jam(mesh))
    if mesh.backlash <= SLACK * mesh.driver.scale:
        return 0.0
    if not mesh.interference and not mesh.undercut and mesh.contact_ratio >= 1.0:
        return mesh.numbers["driven_play_angle"]
    width = mesh.rolling.free_window(math.radians(driver_angle))[1]
    if width < -SLACK:
        raise ValueError(jam(mesh))
    return math.degrees(max(width, 0.0))


def jam(mesh: Mesh) -> str:
    """What a pair without room for its teeth does, and where they would have it."""
    unit, scale = mesh.unit, mesh.driver.scale
    if mesh.internal and mesh.interference:
        return _fouling(mesh)
    words = (
        f"this pair jams: at centre_distance = {mesh.centre_distance:.6g} {unit} its teeth are thicker than"
        " the spaces by"
    )
    overlap = -mesh.backlash
    if overlap <= SLACK * scale:
        return (
            f"this pair jams: at centre_distance = {mesh.centre_distance:.6g} {unit} tips and fillets are in"
            f" each other's way; move the shafts {'together' if mesh.internal else 'apart'}, shorten the"
            " tips, or take more teeth"
        )
    # Thinning counts on the pitch circle, backlash on the operating one.
    thin = (
        math.ceil(overlap * mesh.reference_centre_distance / mesh.centre_distance / scale * 1e4) / 1e4 * scale
    )
    try:
        limit = freeing_distance(mesh)
        move = (
            f"give at {'most' if mesh.internal else 'least'} {limit:.6g} {unit}, or thin the teeth by"
            f" {thin:.6g} {unit}"
        )
    except ValueError:
        move = f"thin the teeth by {thin:.6g} {unit}"
    return f"{words} {overlap:.4g} {unit} along the operating pitch circles; {move}"


def _fouling(mesh: Mesh) -> str:
    """What tips in a ring do that are in each other's way, and what would clear them."""
    unit, scale, pinion, ring = mesh.unit, mesh.driver.scale, mesh.driver, mesh.driven
    depth = mesh.rolling.interference() * scale
    helps = []
    for share in (0.1, 0.2, 0.3, 0.4, 0.5, 0.6):
        if _runs(pinion, ring, tip_shortening=ring.tip_shortening + share * scale):
            helps.append(f"shorten the ring's tips by {share * scale:g} {unit} more")
            break
    for more in (1, 2, 4, 8, 12, 16):
        if _runs(pinion, ring, teeth=ring.teeth + more):
            helps.append(f"give the ring {ring.teeth + more} teeth")
            break
    return (
        f"this pair jams: tips foul, {pinion.teeth} teeth in a ring of {ring.teeth} would have to overlap by"
        f" {depth:.4g} {unit} as they turn;"
        f" {' or '.join(helps) or 'give the ring more teeth and shorter tips'}"
    )


def _runs(driver: Gear, ring: Toothed, **change: Any) -> bool:
    try:
        changed = replace(ring, **change)
        distance = (changed.teeth - driver.teeth) / 2
        return Rolling(driver.tooth, changed.tooth, distance).interference() == 0.0
    except ValueError:
        return False


def freeing_distance(mesh: Mesh) -> float:
    """The distance from which on a pair has room, wherever it stands [``unit``].

    By theory, inside a ring by rolling.

    Thinned teeth go nearer than their usual distance, but no nearer than their base circles let them.

    >>> from gearlab import Gear, Mesh
    >>> round(
    ...     freeing_distance(
    ...         Mesh(Gear(18, module=2.5, tooth_thinning=0.05), Gear(45, module=2.5, tooth_thinning=0.05))
    ...     ),
    ...     3,
    ... )
    78.612
    """
    if mesh.internal:
        return tight_distance(mesh.driver, mesh.driven, mesh.reference_centre_distance)
    return _freeing(type(mesh)(mesh.driver, mesh.driven))


@lru_cache(maxsize=256)
def _freeing(free: Mesh) -> float:
    driver, driven = free.driver, free.driven
    if free.backlash <= SLACK * driver.scale:
        return free.centre_distance
    nearest = (driver.base_diameter + driven.base_diameter) / 2 * (1 + SLACK)

    def play(distance: float) -> float:
        told = type(free)(driver, driven, distance).told
        return told.get("backlash", told.beyond.get("backlash", math.nan))

    return find_zero(play, nearest, free.centre_distance) if play(nearest) < 0 else nearest


def measured_words(mesh: Mesh) -> frozenset[str]:
    """Words of a pair's numbers that are measured on the cut teeth; see ``Mesh.measured``."""
    if mesh.internal:
        return (
            _RING_PLAY | _RING_CONTACT
            if not mesh.plain
            else _RING_PLAY | (mesh.told.refused.keys() & _RING_CONTACT)
        )
    own = {
        f"{side}_{word}"
        for side, gear in (("driver", mesh.driver), ("driven", mesh.driven))
        for word in gear.measured
    }
    return frozenset(
        word for word in (mesh.told.refused.keys() & (_CONTACT | _PLAY)) | own if word in mesh.numbers
    )


def numbers_beside(mesh: Mesh) -> Numbers:
    """The numbers of two external gears.

    Theory's where it tells of the pair, measured ones for the rest [``unit``, deg].
    """
    told, late = dict(mesh.told), []
    for side, gear in (("driver", mesh.driver), ("driven", mesh.driven)):
        own = {f"{side}_{word}": word for word in gear.refused}
        told |= {
            name: gear.numbers[word] for name, word in own.items() if name in told and word in gear.numbers
        }
        for name in [name for name, word in own.items() if name in told and word not in gear.numbers]:
            del told[name]
    refused = frozenset(mesh.told.refused)
    if contact := refused & _CONTACT:
        late.append((contact, lambda: _rolled_contact(mesh, contact)))
    if play := refused & _PLAY:
        late.append((play, lambda: _rolled_play(mesh, play)))
    return Numbers(told, late)


def _rolled_contact(mesh: Mesh, words: frozenset[str]) -> dict[str, float]:
    """Where contact begins and ends by rolling, and what theory makes of that."""
    scale, told = mesh.driver.scale, mesh.told
    try:
        path = path_of_contact(mesh.driver.tooth, mesh.driven.tooth, mesh.centre_distance / scale)
    except ValueError:  # no point of either flank meets a point of the other
        return {"contact_ratio": 0.0, "length_of_action": 0.0}
    pitch_point = np.array((told["driver_operating_pitch_diameter"] / 2 / scale, 0.0))
    along = (path.end - path.start) / path.length
    measured = {
        "length_of_approach": float(along @ (pitch_point - path.start)) * scale,
        "length_of_recess": float(along @ (path.end - pitch_point)) * scale,
        "driver_start_radius": math.hypot(*path.start) * scale,
        "driven_start_radius": math.hypot(path.end[0] - mesh.centre_distance / scale, path.end[1]) * scale,
    }
    return _followed(mesh, {word: number for word, number in measured.items() if word in words}, words)


def _rolled_play(mesh: Mesh, words: frozenset[str]) -> dict[str, float]:
    """Backlash by turning the driven gear until the teeth touch on either side, and what theory makes of
    that.
    """
    try:
        play = mesh.rolling.play()
    except ValueError:  # the tips run into the roots: nothing can be turned
        return {}
    play = play if abs(play) > _NO_PLAY else 0.0
    return _followed(mesh, {"backlash": play * mesh.told["driven_operating_pitch_diameter"] / 2}, words)


def _followed(mesh: Mesh, measured: dict[str, float], words: frozenset[str]) -> dict[str, float]:
    return measured | followed(mesh._scope, mesh.told | measured, words - measured.keys())


def numbers_inside(mesh: Mesh) -> Numbers:
    """The numbers of a pinion in a ring.

    Theory's where it tells of the pair, measured ones for the rest [``unit``, deg].
    """
    plain = mesh.told
    numbers = dict(plain) | {"reference_centre_distance": plain["centre_distance"]}
    if mesh.plain:
        numbers |= {
            "operating_pressure_angle": numbers["pressure_angle"],
            "driver_operating_pitch_diameter": numbers["driver_pitch_diameter"],
            "driven_operating_pitch_diameter": numbers["driven_pitch_diameter"],
        }
        contact = mesh.told.refused.keys() & _RING_CONTACT
        late = []
        if contact:
            late.append(
                (
                    frozenset(contact),
                    lambda: {word: number for word, number in _path_in_ring(mesh).items() if word in contact},
                )
            )
    else:
        numbers = {
            word: number
            for word, number in numbers.items()
            if not split_side(word)[0] and word not in CHANGED | _RING_CONTACT
        }
        for side, gear in (("driver", mesh.driver), ("driven", mesh.driven)):
            own = {
                word if word in _OWN else f"{side}_{word}": number
                for word, number in gear.numbers.items()
                if word not in numbers
            }
            numbers |= {word: number for word, number in own.items() if word in QUANTITIES}
        numbers |= {
            word: number
            for word, number in plain.items()
            if split_side(word)[1] in ("teeth_lowest", "turns_to_repeat")
        }
        numbers["centre_distance"] = mesh.centre_distance
        late = [(_RING_CONTACT, lambda: _path_in_ring(mesh))]
    held = Numbers(numbers, late)
    held.add(_RING_PLAY, lambda: _play_in_ring(mesh, held["driven_operating_pitch_diameter"]))
    return held


def _path_in_ring(mesh: Mesh) -> dict[str, float]:
    pair, scale = mesh.rolling, mesh.driver.scale
    try:
        path = pair.path()
    except ValueError as error:
        raise ValueError(
            f"centre_distance = {mesh.centre_distance:.6g} {mesh.unit}: {error} Usual is"
            f" {mesh.told['centre_distance']:.6g} {mesh.unit}."
        ) from None
    (x1, y1), (x2, y2) = path.start.tolist(), path.end.tolist()
    # The line of action cuts the line of centres in the pitch point and leans from its perpendicular by the
    # operating angle.
    lean = (x2 - x1) / (y2 - y1)
    pitch_point = x1 - y1 * lean
    return {
        "length_of_action": path.length * scale,
        "contact_ratio": pair.contact_ratio(),
        "operating_pressure_angle": math.degrees(abs(math.atan(lean))),
        "driver_operating_pitch_diameter": 2 * abs(pitch_point) * scale,
        "driven_operating_pitch_diameter": 2 * abs(pitch_point - pair.centre_distance) * scale,
    }


def _play_in_ring(mesh: Mesh, diameter: float) -> dict[str, float]:
    play = mesh.rolling.play()
    play = play if abs(play) > _NO_PLAY else 0.0
    return {
        "backlash": play * diameter / 2,
        "driven_play_angle": math.degrees(play),
        "driver_play_angle": math.degrees(play) * mesh.ratio,
    }
