"""What a drive has to carry: whether its load is stated, its teeth running and at stall.

Stresses are those of the plain beam formula over the face in mesh, estimates for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache, lru_cache

from gearlab.shape.lewis import weakest_section
from gearlab.theory.scope import scope_for
from gearlab.theory.units import convert, usual_unit, written

from ..design import Design, GearTable, LoadTable
from ..design.drive import turning
from ..gear import Gear
from ..published.strength import STATIC_STRESS, form_factor, static_stress
from ..toothed import Toothed
from ..working import worked_out
from .advice import Advised, Way, stepped, together
from .finding import SIZES, Finding, Held, Outcome, Unmade, both, said, two_digits, up
from .ledger import Check
from .rackroom import face_of

_BEAM = "W. Lewis, 1893; an estimate for teaching"
#: The highest static stress in the maker's table: what advice asks of a material at most [psi].
_STRONGEST = max(STATIC_STRESS.values())


def unit_of(design: Design, dimension: str) -> str:
    """The usual unit of a dimension in a design's file, as it is written."""
    return written(usual_unit(dimension, design.unit))


# -- is a load stated ----------------------------------------------------------------------------------
def _stated(design: Design) -> Iterator[Outcome]:
    moved = [rack for rack in design.rack if rack.pinion is not None]
    if not design.links and not moved:
        return
    if design.load is None:
        yield Unmade(
            "the drive",
            "what it has to carry",
            "the file states no load",
            f"add [load] with torque, in {unit_of(design, 'torque')}, that on the first shaft",
            decisive=True,
        )
    else:
        yield Held(
            "the drive",
            f"its load is stated: {said(design.load.torque, unit_of(design, 'torque'))} on"
            f" {design.first_shaft}",
        )


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


def face_in_mesh(design: Design, gear: str, mate: str) -> float:
    """The face that two gears have in common along their shafts [unit]; 0 where they miss."""
    ends = [
        (design.face_height(name) - width / 2, design.face_height(name) + width / 2)
        for name in (gear, mate)
        for width in (design.of(name).face_width,)
    ]
    return max(0.0, min(end[1] for end in ends) - max(end[0] for end in ends))


def _meetings(design: Design, table: GearTable) -> Iterator[tuple[str, float, float]]:
    """With what a gear is in loaded mesh: name, torque that the mesh puts on it, face in mesh [unit]."""
    for pair in design.mesh:
        if table.name not in (pair.driver, pair.driven):
            continue
        mate = design.of(pair.driven if pair.driver == table.name else pair.driver)
        loads = [
            torque * table.teeth / gear.teeth
            for gear in (table, mate)
            if (torque := design.torques.get(turning(design, gear))) is not None
        ]
        if loads:
            yield mate.name, max(loads), face_in_mesh(design, table.name, mate.name)
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


def _running(design: Design) -> Iterator[Outcome]:
    """The teeth of every gear in the loaded path while it runs."""
    for table in design.gear:
        yield from _teeth(design, table, 1.0, "")


def _at_stall(design: Design) -> Iterator[Outcome]:
    """The same teeth when the drive is jammed and pulls with all it has."""
    load = design.load
    if load is None or not (design.links or design.rack):
        return
    most = most_torque(load)
    if most is None:
        yield Unmade(
            "the drive",
            "its teeth at stall",
            "the file does not say what the motor pulls with when it is held",
            f"give stall_torque, or slip_torque of a clutch, in {unit_of(design, 'torque')} under [load]",
        )
        return
    for table in design.gear:
        yield from _teeth(design, table, most / load.torque, " at stall")


def _teeth(design: Design, table: GearTable, factor: float, when: str) -> Iterator[Outcome]:
    gear, unit = design.toothed[table.name], unit_of(design, "stress")
    meetings = list(_meetings(design, table))
    if not meetings:
        return
    what = f"the stress in its teeth{when}"
    bears = allowed(table, design.unit)
    if bears is None:
        if not when:
            yield Unmade(
                table.name,
                what,
                "the file does not say what its teeth can withstand",
                f"give allowable_stress in {unit}",
                decisive=True,
            )
        return
    if gear.unit != design.unit:
        yield Unmade(
            table.name, what, "its size is given in another unit", "give it in the file's unit first"
        )
        return
    if any(face <= 0 for _, _, face in meetings):
        yield Unmade(table.name, what, "the faces miss each other", "bring the faces to one height first")
        return
    try:
        stress, mate = max((beam_stress(gear, torque, face), mate) for mate, torque, face in meetings)
    except ValueError as error:
        yield Unmade(table.name, what, f"its teeth cannot be measured: {error}", "take plain teeth")
        return
    limit = bears[0]
    if when and stress > limit * (1 + 1e-9):
        return  # they do not even bear the running torque, which is told
    if stress * factor > limit * (1 + 1e-9):
        yield _overloaded(design, table, mate, (stress, factor), limit, when)
    else:
        yield Held(
            table.name,
            f"by the plain beam formula, in mesh with {mate}, {bears[1]}, {what} is",
            stress * factor,
            limit,
            unit,
            least=False,
        )


def _overloaded(
    design: Design, table: GearTable, mate: str, stress: tuple[float, float], limit: float, when: str
) -> Finding:
    unit, (running, factor) = unit_of(design, "stress"), stress
    numbers = both(running * factor, limit, unit)
    return Advised(
        "teeth-break-at-stall" if when else "teeth-overloaded",
        "will trouble" if when else "will not work",
        table.name,
        f"the bending stress is about {numbers[0]}{when}, in mesh with {mate}.",
        f"The material can withstand {numbers[1]}.",
        "Teeth break" + (" when the vent jams at its stop." if when else "."),
        _BEAM,
        design=design,
        ways=lambda: _stronger(design, table, mate, running, limit),
        otherwise="Use larger teeth, a wider face or a stronger material"
        + (", or let something slip first." if when else "."),
    )


def _stronger(
    design: Design, table: GearTable, mate: str, running: float, limit: float
) -> Iterator[Iterable[Way]]:
    """Ways to carry a load: a clutch that slips, a stronger material, wider faces, less of it."""
    load, unit, torques = design.load, unit_of(design, "stress"), unit_of(design, "torque")
    assert load is not None
    most = max(most_torque(load) or 0.0, load.torque)
    if running <= limit:
        slips = [two_digits(load.torque * limit / running * share, False) for share in (1.0, 0.8, 0.6, 0.4)]
        yield (
            Way(
                f"Let a clutch slip at {said(slip, torques)}",
                {"load": {"slip_torque": slip}},
            )
            for slip in slips
            if slip > load.torque
        )
    needed = two_digits(running * most / load.torque, True)
    if convert(needed, usual_unit("stress", design.unit), "psi") <= _STRONGEST:
        yield [
            Way(
                f"Make it of a material that can withstand {said(needed, unit)}",
                {"gear": {table.name: {"allowable_stress": needed}}},
            )
        ]
    wide = up(table.face_width * max(running, running * most / load.torque) / limit, design.unit)
    yield (
        Way(
            f"Make {_faces_below(design, (table.name, mate), face)} {said(face, design.unit)} wide",
            _wider(design, table.name, mate, face),
        )
        for face in stepped(wide, SIZES[design.unit], 4)
        if wide <= 4 * table.face_width and mate in design.toothed
    )
    yield (
        Way(
            f"Carry no more than {said(torque, torques)}{_also(_shrunk(load, torque), torques)}",
            {"load": _shrunk(load, torque)},
        )
        for torque in (
            two_digits(load.torque * limit / running * share, False) for share in (1.0, 0.5, 0.2, 0.1)
        )
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


CHECKS = (
    Check("load", "Is it stated what the drive carries?", (), _stated),
    Check("teeth under load", "Do the teeth bear the load?", ("teeth-overloaded",), _running),
    Check("teeth at stall", "Do the teeth bear a jam?", ("teeth-break-at-stall",), _at_stall),
)
