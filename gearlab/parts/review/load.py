"""What a drive has to carry: whether its load is stated, its teeth running and at stall.

Stresses are those of the plain beam formula over the face in mesh, estimates for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache, lru_cache

from gearlab.shape.lewis import weakest_section
from gearlab.theory.scope import scope_for
from gearlab.theory.units import convert, usual_unit

from ..design import Design, GearTable, LoadTable
from ..design.drive import turning
from ..gear import Gear
from ..published.strength import STATIC_STRESS, form_factor, static_stress
from ..toothed import Toothed
from ..working import worked_out
from .advice import Way, stepped, together
from .finding import SIZES, Edit, Held, Outcome, said, two_digits, up
from .ledger import Checks
from .rackroom import face_of
from .sentences import finding, unit_of, unmade

#: The highest static stress in the maker's table: what advice asks of a material at most [psi].
_STRONGEST = max(STATIC_STRESS.values())
CHECKS = Checks()


# -- is a load stated ----------------------------------------------------------------------------------
@CHECKS.row("load", "Is it stated what the drive carries?")
def _stated(design: Design) -> Outcome | None:
    if not design.links and not any(rack.pinion is not None for rack in design.rack):
        return None
    unit = unit_of(design, "torque")
    if design.load is None:
        return unmade("no load", design, "the drive", decisive=True, unit=unit)
    torque = said(design.load.torque, unit)
    return Held("the drive", f"its load is stated: {torque} on {design.first_shaft}")


# -- teeth ---------------------------------------------------------------------------------------------
@lru_cache(maxsize=1024)
def form_of(gear: Toothed) -> float:
    """The form factor of a gear's teeth: published where the table holds them, else measured as they are cut.

    Of a ring that of a rack: its teeth are stouter at the foot. ValueError for teeth that cannot be measured.
    """
    published = gear.tooth_system == "full depth" and gear.pressure_angle in (14.5, 20.0)
    if gear.internal:
        return rack_form(gear)
    if published and gear.profile_shift == 0 and gear.teeth >= 12:
        return _published(gear.teeth, gear.pressure_angle)
    plain = replace(gear, tooth_thinning=0.0, tip_shortening=0.0)
    return weakest_section(plain.tooth).form_factor


@lru_cache(maxsize=64)
def rack_form(gear: Toothed) -> float:
    """The form factor of a rack of a gear's teeth: published, else that of a gear of 500 teeth [-]."""
    if gear.tooth_system == "full depth" and gear.pressure_angle in (14.5, 20.0):
        return _published(math.inf, gear.pressure_angle)
    many = Gear(500, module=1.0, pressure_angle=gear.pressure_angle, tooth_system=gear.tooth_system)
    return weakest_section(many.tooth).form_factor


def _published(teeth: float, pressure_angle: float) -> float:
    return form_factor(teeth, pressure_angle, "textbook" if pressure_angle == 20.0 else "maker")


@cache
def _scope(unit: str, system):
    return scope_for("load", unit, (system, system))


def beam_stress(gear: Toothed, torque: float, face: float, form: float | None = None) -> float:
    """Bending stress of a gear's teeth by the plain beam formula [MPa or psi]; an estimate for teaching.

    torque: on the gear [N m or lbf in]. face: that is in mesh [unit]. form: the form factor [-].
    """
    return worked_out(
        _scope(gear.unit, gear.system),
        gear.tooth_size
        | {
            "pressure_angle": gear.pressure_angle,
            "driver_teeth": float(gear.teeth),
            "driver_torque": torque,
            "face_width": face,
            "form_factor": form_of(gear) if form is None else form,
        },
    )["bending_stress"]


def _meetings(design: Design, table: GearTable) -> Iterator[tuple[str, float, float]]:
    """With what a gear is in loaded mesh: name, torque that the mesh puts on it, face in mesh [unit]."""
    for pair in design.meshes_of(table.name):
        mate = design.of(pair.mate_of(table.name))
        loads = [
            torque * table.teeth / gear.teeth
            for gear in (table, mate)
            if (torque := design.torques.get(turning(design, gear))) is not None
        ]
        if loads:
            ends = design.face_ends(table.name), design.face_ends(mate.name)
            common = min(high for _, high in ends) - max(low for low, _ in ends)
            yield mate.name, max(loads), max(0.0, common)
    for rack in design.rack:
        torque = design.torques.get(turning(design, table))
        if rack.pinion == table.name and torque is not None:
            yield f"the {rack.name}", torque, face_of(design, rack)


def allowed(table, unit: str) -> tuple[float, str] | None:
    """The stress that the teeth can withstand [MPa or psi], and where it is from; None if unknown."""
    if table.allowable_stress is not None:
        return table.allowable_stress, "as the file says"
    if table.material in STATIC_STRESS:
        return static_stress(
            table.material, usual_unit("stress", unit)
        ), f"a maker's table for {table.material}"
    return None


def most_torque(load: LoadTable) -> float | None:
    """The largest torque that can come: that of the stall or of the clutch, whichever is less [torque]."""
    limits = [torque for torque in (load.stall_torque, load.slip_torque) if torque is not None]
    return min(limits) if limits else None


def borne(
    design: Design,
    where: str,
    what: str,
    stress: float,
    limit: float,
    kind: str,
    edit: Callable[..., Edit],
    **words: str,
) -> Outcome:
    """Whether the teeth of a rack, a bevel pair or a planetary set bear their stress, and that of a stall.

    what: the sentence where they do. kind: whose row of the findings it is. edit: of fields of its table.
    """
    unit, load = unit_of(design, "stress"), design.load
    most = most_torque(load) if load is not None else None
    at_stall = stress * max(1.0, most / load.torque if most and load else 1.0)
    if at_stall <= limit * (1 + 1e-9):
        return Held(where, what, at_stall, limit, unit, least=False)
    running, needed = stress > limit * (1 + 1e-9), two_digits(at_stall, True)
    material, stronger = said(needed, unit), edit(allowable_stress=needed)
    says = f"Make it of a material that can withstand {material}"
    return finding(
        f"teeth-{'overloaded' if running else 'break-at-stall'}, {kind}",
        design,
        where,
        (lambda: [[Way(says, stronger)]]) if kind == "of a rack" else None,
        compared=(stress if running else at_stall, limit),
        unit=unit,
        edits=(stronger,),
        needed=material,
        **words,
    )


@CHECKS.row("teeth under load", "Do the teeth withstand the load?", "teeth-overloaded", of="gear")
def _running(design: Design, table: GearTable) -> Outcome | None:
    return _teeth(design, table, 1.0, "")


def _jammed(design: Design) -> Iterator[Outcome | tuple[GearTable, float, str]]:
    """The gears, with how much more than the running torque comes when the drive pulls with all it has."""
    load = design.load
    if load is None or not (design.links or design.rack):
        return
    most = most_torque(load)
    if most is None:
        yield unmade("stall_torque", design, "the drive", unit=unit_of(design, "torque"))
        return
    for table in design.gear:
        yield table, most / load.torque, " at stall"


@CHECKS.row("teeth at stall", "Do the teeth withstand a jam?", "teeth-break-at-stall", of=_jammed)
def _teeth(design: Design, table: GearTable, factor: float, when: str) -> Outcome | None:
    unit, meetings = unit_of(design, "stress"), list(_meetings(design, table))
    if not meetings:
        return None
    what, bears = f"the stress in its teeth{when}", allowed(table, design.unit)
    if bears is None:
        return None if when else unmade("allowable_stress", design, table.name, decisive=True, unit=unit)
    if design.toothed[table.name].unit != design.unit:
        return unmade("stress in another unit", design, table.name, what=what)
    if any(face <= 0 for _, _, face in meetings):
        return unmade("stress of faces that miss", design, table.name, what=what)
    try:
        running, mate = max(
            (beam_stress(design.toothed[table.name], torque, face), mate) for mate, torque, face in meetings
        )
    except ValueError as error:
        return unmade("stress that cannot be measured", design, table.name, what=what, why=error)
    limit = bears[0]
    if when and running > limit * (1 + 1e-9):
        return None  # they do not even bear the running torque, which is told
    if running * factor <= limit * (1 + 1e-9):
        told = f"by the plain beam formula, in mesh with {mate}, {bears[1]}, {what} is"
        return Held(table.name, told, running * factor, limit, unit, least=False)
    return finding(
        "teeth-break-at-stall" if when else "teeth-overloaded",
        design,
        table.name,
        lambda: _stronger(design, table, mate, running, limit),
        compared=(running * factor, limit),
        unit=unit,
        mate=mate,
    )


def _stronger(
    design: Design, table: GearTable, mate: str, running: float, limit: float
) -> Iterator[Iterable[Way]]:
    """Ways to carry a load: a clutch that slips, a stronger material, wider faces, less of it."""
    load, unit, torques = design.load, unit_of(design, "stress"), unit_of(design, "torque")
    assert load is not None
    bears = load.torque * limit / running
    if running <= limit:
        slips = [two_digits(bears * share, False) for share in (1.0, 0.8, 0.6, 0.4)]
        yield (
            Way(f"Let a clutch slip at {said(slip, torques)}", {"load": {"slip_torque": slip}})
            for slip in slips
            if slip > load.torque
        )
    most = running * max(most_torque(load) or 0.0, load.torque) / load.torque
    needed = two_digits(most, True)
    if convert(needed, usual_unit("stress", design.unit), "psi") <= _STRONGEST:
        edit = {"gear": {table.name: {"allowable_stress": needed}}}
        yield [Way(f"Make it of a material that can withstand {said(needed, unit)}", edit)]
    wide = up(table.face_width * max(running, most) / limit, design.unit)
    yield (
        Way(
            f"Make {_faces_below(design, (table.name, mate), face)} {said(face, design.unit)} wide",
            _wider(design, table.name, mate, face),
        )
        for face in stepped(wide, SIZES[design.unit], 4)
        if wide <= 4 * table.face_width and mate in design.toothed
    )
    loads = [_shrunk(load, two_digits(bears * share, False)) for share in (1.0, 0.5, 0.2, 0.1)]
    yield (
        Way(f"Carry no more than {said(less['torque'], torques)}{_also(less, torques)}", {"load": less})
        for less in loads
    )


def _shrunk(load: LoadTable, torque: float) -> dict[str, float]:
    """A load of another torque, its stall and its clutch in proportion."""
    share = torque / load.torque
    others = {word: getattr(load, word) for word in ("stall_torque", "slip_torque")}
    return {"torque": torque} | {
        word: two_digits(value * share, False)
        for word, value in others.items()
        if value is not None and value >= load.torque  # below the load it is a mistake of its own
    }


def _also(load: dict[str, float], unit: str) -> str:
    words = {"stall_torque": "stall at", "slip_torque": "let the clutch slip at"}
    told = [f"{words[word]} {said(value, unit)}" for word, value in load.items() if word in words]
    return f", {' and '.join(told)}" if told else ""


def _faces_below(design: Design, names: tuple[str, ...], face: float) -> str:
    narrow = [name for name in names if design.of(name).face_width < face]
    return f"the face{'s' if len(narrow) > 1 else ''} of {' and '.join(narrow)}"


def _wider(design: Design, gear: str, mate: str, face: float):
    """Wider faces of two gears, on shafts that are longer by as much."""
    edits = []
    for name in (gear, mate):
        table, shaft = design.of(name), design.shaft_of(name)
        edits.append({"gear": {name: {"face_width": max(face, table.face_width)}}})
        if shaft.length is not None and face > table.face_width:
            longer = up(shaft.length + face - table.face_width, design.unit)
            edits.append({"shaft": {shaft.name: {"length": longer}}})
    return together(*edits)
