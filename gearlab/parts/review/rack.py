"""What can be wrong with a rack and the pinion that moves it: teeth, height, travel, stops, guides, load."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ..design import Design, RackTable
from ..rack import Rack
from ..rackdrive import RackDrive
from . import rackroom
from .advice import Way
from .finding import PLACES, Edit, Held, Outcome, down, said, two_digits, up
from .ledger import Checks
from .load import allowed, beam_stress, borne, rack_form
from .rackroom import face_of
from .sentences import finding, unit_of, unmade

SPARE = 3  # teeth that stay in mesh beyond the travel, common practice
#: How much further off than its teeth call for a rack may stand [modules], and the contact it must keep [-].
MOST_OPENING, LEAST_CONTACT, WANTED_CONTACT = 0.1, 1.0, 1.2
#: What rounding of a drawing leaves: half of its last place.
_ROUNDING = {"mm": 0.0006, "in": 0.00006}
CHECKS = Checks(rackroom.CHECKS)


def _edit(table: RackTable, **fields: float | bool | None) -> Edit:
    return {"rack": {table.name: fields}}


def _part(design: Design, table: RackTable) -> Rack | None:
    try:
        return design.rack_of(table)
    except ValueError:
        return None


def _own_unit(design: Design) -> Iterator[RackTable]:
    """The racks but those whose pinion is in another unit than the file, which has a finding of its own."""
    for table in design.rack:
        gear = design.toothed.get(table.pinion or "")
        if gear is None or gear.unit == design.unit:
            yield table


def _pairs(design: Design) -> Iterator[tuple[RackTable, RackDrive]]:
    """The racks with their pinions; none of a rack that stands alone, or does not belong to its pinion."""
    for table in _own_unit(design):
        try:
            if table.pinion is not None:
                yield table, design.rack_drive_of(table)
        except ValueError:
            continue


# -- teeth ---------------------------------------------------------------------------------------------
@CHECKS.row(
    "rack teeth",
    "Do rack and pinion have the same teeth?",
    "rack-cannot-be",
    "teeth-do-not-match",
    of=_own_unit,
)
def _teeth(design: Design, table: RackTable) -> Outcome:
    where = f"the {table.name}"
    try:
        part = design.rack_of(table)
    except ValueError as error:
        return _impossible(design, table, str(error))
    if table.pinion is None:
        return Held(where, f"there is such a rack, {said(part.toothed_length, part.unit)} long")
    try:
        design.rack_drive_of(table)
    except ValueError as error:
        own = _edit(table, module=None, diametral_pitch=None, pressure_angle=None)
        says = f"Give it the teeth of {table.pinion}"
        return finding(
            "teeth-do-not-match, of a rack", design, where, lambda: [[Way(says, own)]], why=str(error)
        )
    return Held(where, f"its teeth are those of {table.pinion}")


def _impossible(design: Design, table: RackTable, why: str) -> Outcome:
    size = table.size or (design.of(table.pinion).size if table.pinion else {})
    if not size:
        return unmade("teeth of a rack", design, f"the {table.name}")
    scale = size["module"] if "module" in size else 1 / size["diametral_pitch"]
    height = up(2.5 * scale, design.unit)
    mounted = round(table.mounting_height - table.pitch_height + height, 6)
    edit = _edit(table, pitch_height=height, mounting_height=mounted)
    says = f"Let its pitch line be {said(height, design.unit)} above its back"
    return finding(
        "rack-cannot-be",
        design,
        f"the {table.name}",
        lambda: [[Way(says, edit)], _pitch_height_left(design, table)],
        why=why,
    )


def _pitch_height_left(design: Design, table: RackTable) -> Iterator[Way]:
    """The pitch line where its pinion rolls, the pinion left where it is."""
    if table.pinion is not None:
        height = table.mounting_height - design.gears[table.pinion].pitch_diameter / 2
        height = down(height, design.unit) or height
        says = f"Let its pitch line be {said(height, design.unit)} above its back, and nothing else move"
        yield Way(says, _edit(table, pitch_height=height))


# -- height --------------------------------------------------------------------------------------------
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


@CHECKS.row(
    "rack height", "Have the teeth of the rack room and hold?", "rack-too-high", "rack-too-low", of=_pairs
)
def _height(design: Design, table: RackTable, pair: RackDrive) -> Outcome:
    unit, given, usual = design.unit, table.mounting_height, pair.mounting_height
    play, contact = room(pair, given), contact_at(pair, given)
    least = usual - pair.pinion.tooth_thinning / 2 / math.tan(math.radians(pair.pinion.pressure_angle))
    if play < -_ROUNDING[unit]:
        row, limit = "rack-too-high", max(least, given - play)
    elif given - usual > MOST_OPENING * pair.pinion.scale + _ROUNDING[unit] or contact < WANTED_CONTACT:
        row = "rack-too-low, out of mesh" if contact < LEAST_CONTACT else "rack-too-low"
        limit = usual
    else:
        what = "its teeth have room; it is mounted at"
        return Held(f"the {table.name}", what, given, min(given, least), unit)
    right = up(usual, unit, PLACES)
    mount = Way(f"Mount it at {said(right, unit)}", _edit(table, mounting_height=right))
    return finding(
        row,
        design,
        f"the {table.name}",
        lambda: [[mount]],
        compared=(given, limit),
        usual=usual,
        contact=said(contact),
    )


# -- travel --------------------------------------------------------------------------------------------
@CHECKS.row("rack travel", "Does the rack reach as far as it should?", "rack-too-short", of=_own_unit)
def _travel(design: Design, table: RackTable) -> Outcome | None:
    """At both ends of the travel teeth must be left in mesh."""
    part = _part(design, table)
    if part is None:
        return None
    reach = (table.teeth - SPARE) * part.circular_pitch
    if reach >= table.travel * (1 - 1e-9):
        what = f"with {SPARE} teeth left in mesh it travels"
        return Held(f"the {table.name}", what, reach, table.travel, design.unit)
    needed = math.ceil(table.travel / part.circular_pitch - 1e-9) + SPARE
    return finding(
        "rack-too-short",
        design,
        f"the {table.name}",
        compared=(max(reach, 0.0), table.travel),
        teeth=table.teeth,
        needed=needed,
        edits=(_edit(table, teeth=needed),),
    )


@CHECKS.row("rack stops", "Is it stopped at both ends?", "rack-without-stops", of="rack")
def _stops(design: Design, table: RackTable) -> Outcome:
    if table.stops:
        return Held(f"the {table.name}", "it has end stops")
    return finding("rack-without-stops", design, f"the {table.name}", edits=(_edit(table, stops=True),))


@CHECKS.row("rack guide", "Is it held to its pinion?", "rack-without-guide", of="rack")
def _guide(design: Design, table: RackTable) -> Outcome:
    if table.guided is None:
        return unmade("guided", design, f"the {table.name}")
    if table.guided:
        return Held(f"the {table.name}", "a guide holds it to its pinion")
    return finding("rack-without-guide", design, f"the {table.name}", edits=(_edit(table, guided=True),))


# -- load ----------------------------------------------------------------------------------------------
def _torque(design: Design, table: RackTable) -> float | None:
    return design.torques.get(design.of(table.pinion).shaft) if table.pinion is not None else None


@CHECKS.row("rack force", "Does it push hard enough?", "rack-pushes-too-weakly", of=_pairs)
def _force(design: Design, table: RackTable, pair: RackDrive) -> Outcome:
    where, unit = f"the {table.name}", unit_of(design, "force")
    torque = _torque(design, table)
    if table.force is None:
        return unmade("force", design, where, unit=unit)
    if torque is None or design.load is None:
        return unmade("force, no torque", design, where)
    force = pair.forces(torque)[0] * table.efficiency  # along the rack, after losses
    if force >= table.force * (1 - 1e-9):
        return Held(where, "it pushes with", force, table.force, unit)
    more = two_digits(design.load.torque * table.force / force, True)
    less = two_digits(force, False)
    harder = Way(
        f"Turn the first shaft with {said(more, unit_of(design, 'torque'))}", {"load": {"torque": more}}
    )
    softer = Way(f"Let it push no more than {said(less, unit)}", _edit(table, force=less))
    return finding(
        "rack-pushes-too-weakly",
        design,
        where,
        lambda: [[harder], [softer]],
        compared=(force, table.force),
        unit=unit,
    )


@CHECKS.row(
    "rack load", "Do its teeth withstand the load?", "teeth-overloaded", "teeth-break-at-stall", of=_pairs
)
def _strength(design: Design, table: RackTable, pair: RackDrive) -> Outcome | None:
    """The teeth of the rack itself; those of its pinion are looked at with the gears."""
    where, torque = f"the {table.name}", _torque(design, table)
    if torque is None:
        return None
    bears, face = allowed(table, design.unit), face_of(design, table)
    if bears is None:
        return unmade("allowable_stress", design, where, unit=unit_of(design, "stress"))
    if face <= 0:
        return unmade("teeth that miss", design, where)
    stress = beam_stress(pair.pinion, torque, face, rack_form(pair.pinion))
    what = f"by the plain beam formula, {bears[1]}, the stress in its teeth is"
    return borne(design, where, what, stress, bears[0], "of a rack", partial(_edit, table))
