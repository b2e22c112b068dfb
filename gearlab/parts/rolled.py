"""What a pair's cut teeth tell when they are rolled on each other: what theory leaves out, inside a ring above all."""

from __future__ import annotations

import math
from dataclasses import replace

from gearlab.shape.curves import find_zero
from gearlab.shape.rolling import Rolling
from gearlab.theory.quantities import QUANTITIES, split_side

from .checks import within
from .internal import CHANGED

#: A pair has play, or jams, from here on [modules].
SLACK = 1e-9
_OWN = ("inside_diameter", "ring_root_diameter")  # words that only a ring has
# How a search for a distance begins, grows and ends [modules, -, steps].
_STEP, _GROWTH, _STEPS = 0.02, 1.3, 60


def rolling(driver, driven, distance: float) -> Rolling:
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
        raise ValueError(f"centre_distance = {distance:.6g} {driver.unit}: {error} One module is {driver.scale:g} {driver.unit} here.") from None


def tight_distance(driver, driven, reference: float) -> float:
    """The distance at which a pair just has no play [``unit``], found by rolling from the reference distance [``unit``] on.

    Two external gears jam when they are moved together, a pinion in a ring when it is moved outwards.

    Raises
    ------
    ValueError
        If the teeth jam, or have play, at every distance at which the flanks reach each other.

    Examples
    --------
    >>> from gearlab import Gear
    >>> round(tight_distance(Gear(18, module=2.5, tooth_thinning=0.1), Gear(45, module=2.5), 78.75), 3)
    78.612
    """
    scale, sense = driver.scale, -1.0 if driven.internal else 1.0
    base = driven.tooth.base_radius + sense * driver.tooth.base_radius  # nearer, no line touches both base circles

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
            found = play(new)
        except ValueError:
            break
        if (found < 0.0) != (start < 0.0):
            return find_zero(play, last, new) * scale
        if new == base + SLACK:
            break
        last, step = new, _GROWTH * step
    what, help_ = ("jam", " or thin the teeth") if start < 0.0 else ("have play", "")
    raise ValueError(f"{driver.name} and {driven.name} {what} at every distance at which their flanks reach each other: change the profile shifts{help_}")


def free_window(mesh, driver_angle: float) -> float:
    """Whole angle within which the driven gear is free, the driver held [deg]; see ``Mesh.free_window``.

    Raises
    ------
    ValueError
        If the pair jams.
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


def jam(mesh) -> str:
    """What a pair without room for its teeth does, and at which distance or thinning they would have it [-]."""
    unit, scale = mesh.unit, mesh.driver.scale
    if mesh.internal and mesh.interference:
        return _fouling(mesh)
    words = f"this pair jams: at centre_distance = {mesh.centre_distance:.6g} {unit} its teeth are thicker than the spaces by"
    overlap = -mesh.backlash
    if overlap <= SLACK * scale:
        return (f"this pair jams: at centre_distance = {mesh.centre_distance:.6g} {unit} tips and fillets are in each other's way; move the shafts "
                f"{'together' if mesh.internal else 'apart'}, shorten the tips, or take more teeth")
    # Thinning counts on the pitch circle, backlash on the operating one.
    thin = math.ceil(overlap * mesh.reference_centre_distance / mesh.centre_distance / scale * 1e4) / 1e4 * scale
    try:
        limit = freeing_distance(mesh)
        move = f"give at {'most' if mesh.internal else 'least'} {limit:.6g} {unit}, or thin the teeth by {thin:.6g} {unit}"
    except ValueError:
        move = f"thin the teeth by {thin:.6g} {unit}"
    return f"{words} {overlap:.4g} {unit} along the operating pitch circles; {move}"


def _fouling(mesh) -> str:
    """What tips in a ring do that are in each other's way, and what would clear them."""
    unit, scale, one, two = mesh.unit, mesh.driver.scale, mesh.driver, mesh.driven
    depth = mesh.rolling.interference() * scale
    helps = []
    for share in (0.1, 0.2, 0.3, 0.4, 0.5, 0.6):
        if _runs(one, lambda share=share: replace(two, tip_shortening=two.tip_shortening + share * scale)):
            helps.append(f"shorten the ring's tips by {share * scale:g} {unit} more")
            break
    for more in (1, 2, 4, 8, 12, 16):
        if _runs(one, lambda more=more: replace(two, teeth=two.teeth + more)):
            helps.append(f"give the ring {two.teeth + more} teeth")
            break
    return (f"this pair jams: tips foul, {one.teeth} teeth in a ring of {two.teeth} would have to overlap by {depth:.4g} {unit} as they turn; "
            f"{' or '.join(helps) or 'give the ring more teeth and shorter tips'}")


def _runs(driver, ring) -> bool:
    try:
        return Rolling(driver.tooth, (made := ring()).tooth, (made.teeth - driver.teeth) / 2).interference() == 0.0
    except ValueError:
        return False


def freeing_distance(mesh) -> float:
    """The distance from which on a pair has room, wherever it stands [``unit``]: by theory, inside a ring by rolling.

    Thinned teeth go nearer than their usual distance, but no nearer than their base circles let them.

    >>> from gearlab import Gear, Mesh
    >>> round(freeing_distance(Mesh(Gear(18, module=2.5, tooth_thinning=0.05), Gear(45, module=2.5, tooth_thinning=0.05))), 3)
    78.612
    """
    if mesh.internal:
        return tight_distance(mesh.driver, mesh.driven, mesh.reference_centre_distance)
    free = type(mesh)(mesh.driver, mesh.driven)
    if free.backlash <= SLACK * mesh.driver.scale:
        return free.centre_distance
    nearest = (mesh.driver.base_diameter + mesh.driven.base_diameter) / 2 * (1 + SLACK)

    def play(distance: float) -> float:
        return type(mesh)(mesh.driver, mesh.driven, distance).backlash

    return find_zero(play, nearest, free.centre_distance) if play(nearest) < 0 else nearest


def numbers_inside(mesh, plain: dict[str, float]) -> dict[str, float]:
    """The numbers of a pinion in a ring: theory's where it tells of the pair, measured ones for the rest.

    Parameters
    ----------
    mesh : Mesh
        The pair.
    plain : dict of str to float
        What theory tells of the pair with plain teeth at its reference distance [``unit``, deg].

    Returns
    -------
    dict of str to float
        [``unit``, deg]; ``mesh.measured`` names what was measured.
    """
    pair, scale = mesh.rolling, mesh.driver.scale
    found = plain | {"reference_centre_distance": plain["centre_distance"]}
    if mesh.plain:
        found |= {"operating_pressure_angle": found["pressure_angle"], "driver_operating_pitch_diameter": found["driver_pitch_diameter"],
                  "driven_operating_pitch_diameter": found["driven_pitch_diameter"]}
    else:
        found = {word: number for word, number in found.items() if not split_side(word)[0] and word not in CHANGED}
        for side, gear in (("driver", mesh.driver), ("driven", mesh.driven)):
            own = {word if word in _OWN else f"{side}_{word}": number for word, number in gear.numbers.items() if word not in found}
            found |= {word: number for word, number in own.items() if word in QUANTITIES}
        found |= {word: number for word, number in plain.items() if split_side(word)[1] in ("teeth_lowest", "turns_to_repeat")}
        try:
            path = pair.path()
        except ValueError as error:
            raise ValueError(f"centre_distance = {mesh.centre_distance:.6g} {mesh.unit}: {error} Usual is {found['reference_centre_distance']:.6g} {mesh.unit}.") from None
        (x1, y1), (x2, y2) = path.start.tolist(), path.end.tolist()
        # The line of action cuts the line of centres in the pitch point and leans from its perpendicular by the operating angle.
        lean = (x2 - x1) / (y2 - y1)
        pitch_point = x1 - y1 * lean
        found |= {"centre_distance": mesh.centre_distance, "length_of_action": path.length * scale, "contact_ratio": pair.contact_ratio(),
                  "operating_pressure_angle": math.degrees(abs(math.atan(lean))), "driver_operating_pitch_diameter": 2 * abs(pitch_point) * scale,
                  "driven_operating_pitch_diameter": 2 * abs(pitch_point - pair.centre_distance) * scale}
    play = pair.play()
    play = play if abs(play) > 1e-12 else 0.0  # what rounding leaves is no play
    return found | {"backlash": play * found["driven_operating_pitch_diameter"] / 2, "driven_play_angle": math.degrees(play),
                    "driver_play_angle": math.degrees(play) * found["ratio"]}
