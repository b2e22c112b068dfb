"""What can be wrong with a bevel or mitre pair: counts, cones, teeth, face, mounting, thrust, load."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache, partial

from gearlab.shape.lewis import weakest_section
from gearlab.theory import system
from gearlab.theory.functions import common_factor_number

from ..bevel import BevelPair
from ..design import BevelTable, Design
from ..gear import Gear
from ..published.strength import form_factor
from .advice import Way
from .finding import PLACES, Edit, Held, Outcome, Unmade, down, said, up
from .ledger import Checks
from .load import allowed, borne
from .sentences import finding, unmade

#: How far below the least count the virtual teeth may lie: 12 teeth of a mitre pair, 16.97 of 17.1, lack a
#: hundredth of a module of flank.
_SHORT_OF_LEAST = 0.5
#: Virtual teeth, as a share of the least count, below which hardly any flank is left.
_HARDLY = 0.6
#: How far a bevel gear may stand nearer the apex, or further from it, than its cone says [modules].
_NEARER, _FURTHER = 0.02, 0.1
CHECKS = Checks()


def _edit(design: Design, table: BevelTable, **fields) -> Edit:
    return {"mitre": fields} if table is design.mitre else {"bevel": {table.name: fields}}


# -- counts and cones ----------------------------------------------------------------------------------
@CHECKS.row("mitre counts", "Have both gears of the mitre pair one count?", "mitre-unequal")
def _counts(design: Design) -> Outcome | None:
    if design.mitre is None:
        return None
    where, teeth = f"the {design.mitre.name}", design.mitre.teeth
    least, most = sorted(teeth)
    if least == most:
        return Held(where, f"both gears have {most} teeth")
    edits = tuple({"mitre": {"teeth": [count, count]}} for count in (most, least))
    return finding(
        "mitre-unequal",
        design,
        where,
        edits=edits,
        first=teeth[0],
        second=teeth[1],
        least=least,
        most=most,
    )


def _cone_angles(table: BevelTable) -> tuple[float, float]:
    """Cone angles of driver and driven [deg]; above 90 for a hollow one."""
    driver, driven = table.teeth
    angle = math.radians(table.shaft_angle)
    first = math.atan2(math.sin(angle), driven / driver + math.cos(angle))
    return math.degrees(first), table.shaft_angle - math.degrees(first)


@CHECKS.row(
    "bevel cones",
    "Are both cones full, and do the axes cross?",
    "cone-is-hollow",
    "bevel-shafts-are-parallel",
    of="bevels",
)
def _cones(design: Design, table: BevelTable) -> Iterator[Outcome]:
    where, widest = f"the {table.name}", max(_cone_angles(table))
    if widest >= 90 - 1e-9:
        yield finding(
            "cone-is-hollow",
            design,
            where,
            angle=said(table.shaft_angle),
            widest=said(widest),
            edits=(_edit(design, table, shaft_angle=90.0),),
        )
        return
    yield Held(where, "the larger cone angle is", widest, 90.0, "deg", least=False)
    ends = [shaft for shaft in design.shaft if shaft.name in (table.driver, table.driven)]
    if len(ends) < 2:
        return
    if not all(shaft.placed for shaft in ends):
        yield Held(where, f"its shafts are two axes that can cross at {said(table.shaft_angle)} deg")
        return
    # shafts that both stand on the plate are parallel: no bevel pair can join them
    free = [shaft.name for shaft in reversed(ends) if not design.on(shaft.name)]
    yield finding(
        "bevel-shafts-are-parallel" if free else "bevel-shafts-are-parallel, both with gears",
        design,
        where,
        edits=tuple({"shaft": {name: {"x": None, "y": None}}} for name in free),
        first=ends[0].name,
        second=ends[1].name,
        angle=said(table.shaft_angle),
        free=free[0] if free else "",
    )


# -- teeth ---------------------------------------------------------------------------------------------
def _virtual(table: BevelTable) -> tuple[float, float]:
    """Teeth of the spur gears that they look like: N / cos(cone angle) [-]."""
    first, second = (
        teeth / math.cos(math.radians(angle)) for teeth, angle in zip(table.teeth, _cone_angles(table))
    )
    return first, second


@lru_cache(maxsize=64)
def _least(pressure_angle: float) -> float:
    """The least count that a rack cuts whole, full depth: 2 k / sin2(pressure angle) [-]."""
    return 2 * system("full depth", pressure_angle).addendum / math.sin(math.radians(pressure_angle)) ** 2


def _full(design: Design) -> Iterator[BevelTable]:
    """The pairs but those with a hollow cone, which is told."""
    return (table for table in design.bevels if max(_cone_angles(table)) < 90 - 1e-9)


@CHECKS.row("bevel teeth", "Are the virtual teeth whole?", "bevel-undercut", of=_full)
def _undercut(design: Design, table: BevelTable) -> Outcome:
    where = f"the {table.name}"
    try:
        least = _least(table.pressure_angle)
    except ValueError as error:
        return unmade("virtual teeth", design, where, why=error)
    fewest = min(_virtual(table))
    if fewest >= least - _SHORT_OF_LEAST:
        what = "its virtual teeth, teeth over the cosine of the cone angle, are"
        return Held(where, what, fewest, least - _SHORT_OF_LEAST)
    return finding(
        "bevel-undercut, hardly any flank" if fewest < _HARDLY * least else "bevel-undercut",
        design,
        where,
        lambda: [_more_teeth(design, table, least)],
        compared=(fewest, least),
        unit="",
        first=table.teeth[0],
        second=table.teeth[1],
        angle=said(table.pressure_angle),
    )


def _more_teeth(design: Design, table: BevelTable, least: float) -> Iterator[Way]:
    first, second = table.teeth
    common, told = int(common_factor_number(first, second)), 0
    for times in range(1, 400):
        teeth = (first // common * times, second // common * times)
        if min(_virtual(table.model_copy(update={"teeth": teeth}))) >= least:
            counts = f"{teeth[0]} and {teeth[1]} teeth" if first != second else f"{teeth[0]} teeth each"
            yield Way(f"Take a pair of {counts}", _edit(design, table, teeth=list(teeth), mounting=None))
            told += 1
        if told == 4:
            break


# -- sizes ---------------------------------------------------------------------------------------------
def _sized(design: Design, table: BevelTable) -> BevelPair | None:
    """The pair without its face, which may be wrong; None where there is no such pair."""
    try:
        return design.bevel_of(table.model_copy(update={"face_width": None}))
    except ValueError:
        return None


def _unsized(design: Design, table: BevelTable, what: str, decisive: bool = False) -> Unmade:
    row = "bevel pair that cannot be" if table.size else "size of bevel teeth"
    return unmade(row, design, f"the {table.name}", decisive=decisive, what=what)


@CHECKS.row("bevel face", "Is the face narrow enough?", "bevel-face-too-wide", of="bevels")
def _face(design: Design, table: BevelTable) -> Outcome:
    """A third of the cone distance at most, and ten modules."""
    where, unit, pair = f"the {table.name}", design.unit, _sized(design, table)
    if pair is None:
        return _unsized(design, table, "its face width")
    if table.face_width is None:
        return unmade("face_width", design, where, unit=unit)
    if table.face_width <= pair.largest_face * (1 + 1e-6):
        return Held(where, "its face is", table.face_width, pair.largest_face, unit, least=False)
    narrow = down(pair.largest_face, unit) or pair.largest_face
    return finding(
        "bevel-face-too-wide",
        design,
        where,
        compared=(table.face_width, pair.largest_face),
        narrow=narrow,
        edits=(_edit(design, table, face_width=narrow),),
    )


@CHECKS.row("bevel mounting", "Do both cones end where the axes cross?", "bevel-off-its-apex", of="bevels")
def _mounting(design: Design, table: BevelTable) -> Outcome:
    pair, where, unit = _sized(design, table), f"the {table.name}", design.unit
    if pair is None:
        return _unsized(design, table, "its mounting distances")
    if table.mounting is None:
        first, second = pair.apex_distances
        return unmade("mounting", design, where, first=first, second=second)
    nearer, further = _NEARER * pair.scale, _FURTHER * pair.scale
    off = [given - right for given, right in zip(table.mounting, pair.apex_distances)]
    wrong = [size for size in off if not -nearer - 1e-9 <= size <= further + 1e-9]
    if not wrong:
        worst = max(abs(size) for size in off)
        return Held(where, "a cone's apex is off the crossing by", worst, further, unit, least=False)
    if wrong[0] < 0:
        row, most = "bevel-off-its-apex, too near", nearer
    else:
        row, most = "bevel-off-its-apex", further
        row += ", by far" if wrong[0] > 0.5 * pair.scale else ""
    right = [up(size, unit, PLACES) for size in pair.apex_distances]
    return finding(
        row,
        design,
        where,
        off=abs(wrong[0]),
        most=most,
        first=right[0],
        second=right[1],
        edits=(_edit(design, table, mounting=right),),
    )


# -- load ----------------------------------------------------------------------------------------------
@CHECKS.row("bevel thrust", "Is the thrust taken?", "mitre-pushed-off", of="bevels")
def _thrust(design: Design, table: BevelTable) -> Outcome:
    if table.thrust_collars:
        return Held(f"the {table.name}", "collars take the thrust")
    collars = _edit(design, table, thrust_collars=True)
    return finding("mitre-pushed-off", design, f"the {table.name}", edits=(collars,))


@lru_cache(maxsize=256)
def _form(virtual: float, pressure_angle: float) -> float:
    """The form factor of the virtual spur tooth [-]."""
    if virtual >= 12 and pressure_angle in (14.5, 20.0):
        return form_factor(virtual, pressure_angle, "textbook" if pressure_angle == 20.0 else "maker")
    tooth = Gear(max(6, math.floor(virtual)), module=1.0, pressure_angle=pressure_angle).tooth
    return weakest_section(tooth).form_factor


def stress_at(pair: BevelPair, face: float, torque: float) -> float:
    """Stress in the weaker gear's teeth by the plain beam formula at the middle of the face [MPa or psi].

    Mean force over face, module at the middle of the face, and the form factor of the virtual teeth.

    face: [``unit``]. torque: on the driver [N m or lbf in].
    """
    wide = replace(pair, face_width=face)
    force = wide.explain("mean_force", driver_torque=torque).result
    middle = pair.scale * (pair.cone_distance - face / 2) / pair.cone_distance
    weakest = min(_form(teeth, pair.pressure_angle) for teeth in pair.virtual_teeth)
    return force / (face * middle * weakest)


@CHECKS.row(
    "bevel load",
    "Do the bevel teeth withstand the load?",
    "teeth-overloaded",
    "teeth-break-at-stall",
    of="bevels",
)
def _strength(design: Design, table: BevelTable) -> Outcome:
    where, torque, what = (
        f"the {table.name}",
        design.torques.get(table.driver or ""),
        "the stress in its teeth",
    )
    pair, bears = _sized(design, table), allowed(table, design.unit)
    if torque is None:
        return unmade("torque of a bevel pair", design, where)
    if pair is None:
        return _unsized(design, table, what, decisive=True)
    if table.face_width is None or bears is None:
        missing = "face_width" if table.face_width is None else "allowable_stress"
        return unmade("stress of a bevel pair", design, where, decisive=True, missing=missing)
    stress = stress_at(pair, min(table.face_width, pair.largest_face), torque)
    told = f"by the plain beam formula for virtual teeth, {bears[1]}, {what} is"
    return borne(design, where, told, stress, bears[0], "of a bevel pair", partial(_edit, design, table))
