"""What can be wrong with a rack and the pinion that moves it: teeth, height, travel, stops, guides, load."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from ..design import Design, RackTable
from ..rack import Rack
from ..rackdrive import RackDrive
from . import rackroom
from .advice import Advised, Way
from .finding import PLACES, Finding, Held, Outcome, Unmade, both, down, said, two_digits, up
from .ledger import Check
from .load import allowed, beam_stress, most_torque, rack_form, unit_of
from .rackroom import face_of

_MOTT = "Mott, section 8-11"
SPARE = 3  # teeth that stay in mesh beyond the travel, common practice
#: How much further off than its teeth call for a rack may stand [modules], and the contact it must keep [-].
MOST_OPENING, LEAST_CONTACT, WANTED_CONTACT = 0.1, 1.0, 1.2
#: What rounding of a drawing leaves: half of its last place.
_ROUNDING = {"mm": 0.0006, "in": 0.00006}


def _where(table: RackTable) -> str:
    return f"the {table.name}"


def _part(design: Design, table: RackTable) -> Rack | None:
    try:
        return design.rack_of(table)
    except ValueError:
        return None


def _pair(design: Design, table: RackTable) -> RackDrive | None:
    """The rack with its pinion; None where they do not belong together, or it stands alone."""
    if table.pinion is None or _alien(design, table):
        return None
    try:
        return design.rack_drive_of(table)
    except ValueError:
        return None


def _alien(design: Design, table: RackTable) -> bool:
    """Whether its pinion is in another unit than the file, which has a finding of its own."""
    gear = design.toothed.get(table.pinion or "")
    return gear is not None and gear.unit != design.unit


# -- teeth ---------------------------------------------------------------------------------------------
def _teeth(design: Design) -> Iterator[Outcome]:
    """Whether there is such a rack, and its teeth are those of its pinion."""
    for table in design.rack:
        if _alien(design, table):
            continue
        where, part = _where(table), _part(design, table)
        if part is None:
            yield _impossible(design, table)
        elif table.pinion is None:
            yield Held(where, f"there is such a rack, {said(part.toothed_length, part.unit)} long")
        elif _pair(design, table) is not None:
            yield Held(where, f"its teeth are those of {table.pinion}")
        else:
            yield _strange(design, table)


def _impossible(design: Design, table: RackTable) -> Outcome:
    size = table.size or (design.of(table.pinion).size if table.pinion else {})
    if not size:
        return Unmade(
            _where(table),
            "its teeth",
            "the file does not give their size",
            "give module [mm] or diametral_pitch [1/in], or name its pinion",
        )
    try:
        design.rack_of(table)
    except ValueError as error:
        reason = str(error)
    scale = size["module"] if "module" in size else 1 / size["diametral_pitch"]
    height = up(2.5 * scale, design.unit)
    return Advised(
        "rack-cannot-be",
        "will not work",
        _where(table),
        f"{reason}.",
        "It must be a rack that can be cut.",
        "There is no such rack.",
        "geometry of the basic rack",
        design=design,
        ways=lambda: [
            [
                Way(
                    f"Let its pitch line stand {said(height, design.unit)} above its back",
                    {
                        "rack": {
                            table.name: {
                                "pitch_height": height,
                                "mounting_height": round(
                                    table.mounting_height - table.pitch_height + height, 6
                                ),
                            }
                        }
                    },
                )
            ],
            _pitch_height_left(design, table),
        ],
        otherwise="Change the number that is named.",
    )


def _pitch_height_left(design: Design, table: RackTable) -> Iterator[Way]:
    """The pitch line where its pinion rolls, the pinion left where it is."""
    if table.pinion is not None:
        height = table.mounting_height - design.gears[table.pinion].pitch_diameter / 2
        height = down(height, design.unit) or height
        says = f"Let its pitch line stand {said(height, design.unit)} above its back, and nothing else move"
        yield Way(says, {"rack": {table.name: {"pitch_height": height}}})


def _strange(design: Design, table: RackTable) -> Finding:
    try:
        design.rack_drive_of(table)
        reason = "its pinion does not fit it"
    except ValueError as error:
        reason = str(error)
    own = {"module": None, "diametral_pitch": None, "pressure_angle": None}
    return Advised(
        "teeth-do-not-match",
        "will not work",
        _where(table),
        f"{reason}.",
        "Rack and pinion must have the same size of tooth and the same pressure angle.",
        "The teeth do not go into each other.",
        "law of gearing",
        design=design,
        ways=lambda: [[Way(f"Give it the teeth of {table.pinion}", {"rack": {table.name: own}})]],
        otherwise="Give rack and pinion the same teeth; the pinion is a gear whose teeth point outwards.",
    )


# -- height --------------------------------------------------------------------------------------------
def _heights(design: Design) -> Iterator[Outcome]:
    """Whether pinion and rack stand so far apart that their teeth have room, and still reach."""
    for table in design.rack:
        pair = _pair(design, table)
        if pair is not None:
            yield _height(design, table, pair)


def room(pair: RackDrive, height: float) -> float:
    """Play of a rack and its pinion along the pitch line at a mounting height [unit]; below 0 they jam.

    The flanks of a rack are straight: away from its usual height each opens by the tangent of the pressure
    angle. It is never more than what the tips leave to the roots lets it be.
    """
    pinion, rack = pair.pinion, pair.rack
    further = height - pair.mounting_height
    play = pinion.tooth_thinning + 2 * further * math.tan(math.radians(pinion.pressure_angle))
    centre = height - rack.pitch_height  # of the pinion above the rack's pitch line
    scale, tooth = pinion.scale, pinion.tooth
    roots = centre + rack.basic.dedendum * scale - tooth.tip_radius * scale
    tips = centre - rack.basic.addendum * scale - tooth.root_radius * scale
    return play if min(roots, tips) >= 0 else min(play, roots, tips)


def contact_at(pair: RackDrive, height: float) -> float:
    """Contact ratio of a rack and its pinion at a mounting height [-]: of teeth that stand further apart, the
    part of the line of action that both still reach."""
    pinion, basic = pair.pinion, pair.rack.basic
    tooth, sine = pinion.tooth, math.sin(basic.pressure_angle)
    moved = pinion.profile_shift + (height - pair.mounting_height) / pinion.scale
    point = tooth.reference_radius * sine
    near, far = (tooth.base_radius * roll for roll in tooth.flank_range)
    straight = basic.dedendum - basic.tip_radius * (1 - sine)
    first, last = point - (basic.addendum - moved) / sine, point + (straight + moved) / sine
    length = min(far, last) - max(near, first)
    return max(0.0, length) * pinion.scale / pinion.base_pitch


def _height(design: Design, table: RackTable, pair: RackDrive) -> Outcome:
    unit, scale, given = design.unit, pair.pinion.scale, table.mounting_height
    usual = pair.mounting_height
    play = room(pair, given)
    least = usual - pair.pinion.tooth_thinning / 2 / math.tan(math.radians(pair.pinion.pressure_angle))
    contact = contact_at(pair, given)
    if play < -_ROUNDING[unit]:
        numbers = both(given, max(least, given - play), unit)
        return _wrong_height(
            design,
            table,
            usual,
            "rack-too-high",
            "will not work",
            (numbers[0], f"Its teeth have room from {numbers[1]} on; {said(usual, unit)} is usual."),
            "The teeth jam.",
        )
    if given - usual > MOST_OPENING * scale + _ROUNDING[unit] or contact < WANTED_CONTACT:
        numbers = both(given, usual, unit)
        return _wrong_height(
            design,
            table,
            usual,
            "rack-too-low",
            "will not work" if contact < LEAST_CONTACT else "will trouble",
            (
                numbers[0],
                f"Pitch radius and pitch-line height make {numbers[1]}; {said(contact)} pairs touch.",
            ),
            "The teeth hardly reach each other.",
        )
    return Held(_where(table), "its teeth have room; it is mounted at", given, min(given, least), unit)


def _wrong_height(
    design: Design,
    table: RackTable,
    usual: float,
    name: str,
    grade: str,
    numbers: tuple[str, str],
    why: str,
) -> Finding:
    right = up(usual, design.unit, PLACES)
    return Advised(
        name,
        grade,
        _where(table),
        f"the pinion's centre stands {numbers[0]} above the rack's back.",
        numbers[1],
        why,
        _MOTT,
        design=design,
        ways=lambda: [
            [
                Way(
                    f"Mount it at {said(right, design.unit)}",
                    {"rack": {table.name: {"mounting_height": right}}},
                )
            ]
        ],
        otherwise="Take a pinion of more, or longer, teeth.",
    )


# -- travel --------------------------------------------------------------------------------------------
def _travel(design: Design) -> Iterator[Outcome]:
    """Whether it is long enough: at both ends of the travel teeth must be left in mesh."""
    for table in design.rack:
        part = _part(design, table)
        if part is None or _alien(design, table):
            continue
        unit = design.unit
        reach = (table.teeth - SPARE) * part.circular_pitch
        if reach >= table.travel * (1 - 1e-9):
            yield Held(
                _where(table), f"with {SPARE} teeth left in mesh it travels", reach, table.travel, unit
            )
            continue
        needed = math.ceil(table.travel / part.circular_pitch - 1e-9) + SPARE
        numbers = both(max(reach, 0.0), table.travel, unit)
        yield Finding(
            "rack-too-short",
            "will not work",
            _where(table),
            f"{table.teeth} teeth travel up to {numbers[0]} with three in mesh.",
            f"Wanted: {numbers[1]}.",
            "The rack stops early, or leaves the pinion.",
            f"Use {needed} teeth.",
            _MOTT,
            ({"rack": {table.name: {"teeth": needed}}},),
        )


def _stops(design: Design) -> Iterator[Outcome]:
    for table in design.rack:
        if table.stops:
            yield Held(_where(table), "it has end stops")
            continue
        yield Finding(
            "rack-without-stops",
            "will trouble",
            _where(table),
            "no end stops are stated.",
            "Stops inside the toothed length, at both ends.",
            "The rack runs out of the pinion, and the vent falls.",
            "Add two stops, and state them: stops = true.",
            "common practice; local code",
            ({"rack": {table.name: {"stops": True}}},),
        )


def _guides(design: Design) -> Iterator[Outcome]:
    for table in design.rack:
        if table.guided is None:
            yield Unmade(
                _where(table),
                "whether it is held to its pinion",
                "the file does not say so",
                "give guided = true, or false",
            )
        elif table.guided:
            yield Held(_where(table), "a guide holds it to its pinion")
        else:
            yield Finding(
                "rack-without-guide",
                "will trouble",
                _where(table),
                "nothing holds it to its pinion.",
                "A guide behind the rack, across from the pinion.",
                "The teeth push it away, and skip.",
                "Add a guide, and state it: guided = true.",
                "common practice",
                ({"rack": {table.name: {"guided": True}}},),
            )


# -- load ----------------------------------------------------------------------------------------------
def _pull(design: Design, table: RackTable, pair: RackDrive) -> float | None:
    """Force along the rack, after losses [N or lbf]; None where no torque comes to its pinion."""
    torque = _torque(design, table)
    return None if torque is None else pair.forces(torque)[0] * table.efficiency


def _torque(design: Design, table: RackTable) -> float | None:
    return design.torques.get(design.of(table.pinion).shaft) if table.pinion is not None else None


def _forces(design: Design) -> Iterator[Outcome]:
    """Whether the rack pushes as hard as it has to."""
    unit = unit_of(design, "force")
    for table in design.rack:
        pair = _pair(design, table)
        if pair is None:
            continue
        force = _pull(design, table, pair)
        if table.force is None or force is None:
            yield Unmade(
                _where(table),
                "whether it pushes hard enough",
                "the file does not say what it has to push"
                if table.force is None
                else "no torque comes to it",
                f"give its force in {unit}"
                if table.force is None
                else "give [load] with torque, and the meshes",
            )
        elif force < table.force * (1 - 1e-9):
            assert design.load is not None
            numbers = both(force, table.force, unit)
            torque = two_digits(design.load.torque * table.force / force, True)
            yield _too_weak(design, table, numbers, torque, two_digits(force, False))
        else:
            yield Held(_where(table), "it pushes with", force, table.force, unit)


def _too_weak(
    design: Design, table: RackTable, numbers: tuple[str, str], torque: float, force: float
) -> Finding:
    shown = said(torque, unit_of(design, "torque"))
    return Advised(
        "rack-pushes-too-weakly",
        "will not work",
        _where(table),
        f"it pushes with {numbers[0]}.",
        f"It has to push with {numbers[1]}.",
        "The vent does not move.",
        "balance of forces at the pitch circle",
        design=design,
        ways=lambda: [
            [Way(f"Turn the first shaft with {shown}", {"load": {"torque": torque}})],
            [
                Way(
                    f"Let it push no more than {said(force, unit_of(design, 'force'))}",
                    {"rack": {table.name: {"force": force}}},
                )
            ],
        ],
        otherwise="Take a smaller pinion, or a train that slows down more.",
    )


def _strength(design: Design) -> Iterator[Outcome]:
    """The teeth of the rack itself; those of its pinion are looked at with the gears."""
    what, unit = "the stress in its teeth", unit_of(design, "stress")
    for table in design.rack:
        pair = _pair(design, table)
        torque = _torque(design, table)
        if pair is None or torque is None:
            continue
        bears = allowed(table, design.unit)
        if bears is None:
            yield Unmade(
                _where(table),
                what,
                "the file does not say what its teeth can withstand",
                f"give allowable_stress in {unit}",
            )
            continue
        face = face_of(design, table)
        if face <= 0:
            yield Unmade(_where(table), what, "its face misses its pinion", "bring them to one height first")
            continue
        stress = beam_stress(pair.pinion, torque, face, rack_form(pair.pinion))
        most = most_torque(design.load) if design.load is not None else None
        factor = most / design.load.torque if most and design.load else 1.0
        if stress > bears[0] * (1 + 1e-9):
            yield _overloaded(design, table, stress, bears[0], factor, "")
        elif stress * factor > bears[0] * (1 + 1e-9):
            yield _overloaded(design, table, stress, bears[0], factor, " at stall")
        else:
            yield Held(
                _where(table),
                f"by the plain beam formula, {bears[1]}, {what} is",
                stress * max(factor, 1.0),
                bears[0],
                unit,
                least=False,
            )


def _overloaded(
    design: Design, table: RackTable, stress: float, limit: float, factor: float, when: str
) -> Finding:
    unit = unit_of(design, "stress")
    numbers = both(stress * factor if when else stress, limit, unit)
    needed = two_digits(stress * max(factor, 1.0), True)

    def ways() -> Iterator[Iterable[Way]]:
        yield [
            Way(
                f"Make it of a material that can withstand {said(needed, unit)}",
                {"rack": {table.name: {"allowable_stress": needed}}},
            )
        ]

    return Advised(
        "teeth-break-at-stall" if when else "teeth-overloaded",
        "will trouble" if when else "will not work",
        _where(table),
        f"the bending stress is about {numbers[0]}{when}.",
        f"The material can withstand {numbers[1]}.",
        "Teeth break.",
        "W. Lewis, 1893; an estimate for teaching",
        design=design,
        ways=ways,
        otherwise="Use larger teeth, a wider face or a stronger material.",
    )


CHECKS = (
    *rackroom.CHECKS,
    Check(
        "rack teeth",
        "Do rack and pinion have the same teeth?",
        ("rack-cannot-be", "teeth-do-not-match"),
        _teeth,
    ),
    Check(
        "rack height",
        "Have the teeth of the rack room and hold?",
        ("rack-too-high", "rack-too-low"),
        _heights,
    ),
    Check("rack travel", "Does the rack reach as far as it should?", ("rack-too-short",), _travel),
    Check("rack stops", "Is it stopped at both ends?", ("rack-without-stops",), _stops),
    Check("rack guide", "Is it held to its pinion?", ("rack-without-guide",), _guides),
    Check("rack force", "Does it push hard enough?", ("rack-pushes-too-weakly",), _forces),
    Check(
        "rack load", "Do its teeth bear the load?", ("teeth-overloaded", "teeth-break-at-stall"), _strength
    ),
)
