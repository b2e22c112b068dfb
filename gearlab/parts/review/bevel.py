"""What can be wrong with a bevel or mitre pair: counts, cones, teeth, face, mounting, thrust, load."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache, partial

from gearlab.shape.lewis import weakest_section
from gearlab.theory import system
from gearlab.theory.functions import common_factor_number

from ..bevel import BevelPair
from ..design import BevelTable, Design
from ..gear import Gear
from ..published.strength import form_factor
from .advice import Advised, Way
from .finding import PLACES, Finding, Held, Outcome, Unmade, both, down, said, two_digits, up
from .ledger import Check
from .load import allowed, most_torque, unit_of

_MOTT = "Mott, section 8-9"
#: How far below the least count the virtual teeth may lie: 12 teeth of a mitre pair, 16.97 of 17.1, lack a
#: hundredth of a module of flank.
_SHORT_OF_LEAST = 0.5
#: Virtual teeth, as a share of the least count, below which hardly any flank is left.
_HARDLY = 0.6
#: How far a bevel gear may stand nearer the apex, or further from it, than its cone says [modules].
_NEARER, _FURTHER = 0.02, 0.1


def _where(table: BevelTable) -> str:
    return f"the {table.name}"


def _edit(design: Design, table: BevelTable, **fields) -> dict:
    return {"mitre": fields} if table is design.mitre else {"bevel": {table.name: fields}}


# -- counts and cones ----------------------------------------------------------------------------------
def _counts(design: Design) -> Iterator[Outcome]:
    """Both gears of a mitre pair have one count, and their shafts stand square."""
    if design.mitre is None:
        return
    table, (first, second) = design.mitre, design.mitre.teeth
    if first == second:
        yield Held(_where(table), f"both gears have {first} teeth")
        return
    most = max(first, second)
    yield Finding(
        "mitre-unequal",
        "will not work",
        _where(table),
        f"it has {first} and {second} teeth.",
        "Both of a mitre pair have the same count.",
        "The cones do not share an apex: the teeth grind.",
        f"Buy and mount them as a pair, of {most} teeth each; or of {min(first, second)}.",
        _MOTT,
        ({"mitre": {"teeth": [most, most]}}, {"mitre": {"teeth": [min(first, second)] * 2}}),
    )


def _cone_angles(table: BevelTable) -> tuple[float, float]:
    """Cone angles of driver and driven [deg]; above 90 for a hollow one."""
    driver, driven = table.teeth
    angle = math.radians(table.shaft_angle)
    first = math.atan2(math.sin(angle), driven / driver + math.cos(angle))
    return math.degrees(first), table.shaft_angle - math.degrees(first)


def _cones(design: Design) -> Iterator[Outcome]:
    """Whether both cones are full ones, and the shafts cross as they must."""
    for table in design.bevels:
        widest = max(_cone_angles(table))
        if widest >= 90 - 1e-9:
            yield Finding(
                "cone-is-hollow",
                "will not work",
                _where(table),
                f"at a shaft angle of {said(table.shaft_angle)} deg the larger cone has {said(widest)} deg.",
                "A cone of 90 deg is flat, and a hollow one cannot be cut as a bevel gear.",
                "There is no such gear.",
                "Let the shafts stand at 90 deg.",
                "geometry of the cones",
                (_edit(design, table, shaft_angle=90.0),),
            )
            continue
        yield Held(_where(table), "the larger cone angle is", widest, 90.0, "deg", least=False)
        yield from _crossing(design, table)


def _crossing(design: Design, table: BevelTable) -> Iterator[Outcome]:
    """Shafts that both stand on the plate are parallel: no bevel pair can join them."""
    ends = [shaft for shaft in design.shaft if shaft.name in (table.driver, table.driven)]
    if len(ends) < 2:
        return
    if not all(shaft.placed for shaft in ends):
        yield Held(_where(table), f"its shafts are two axes that can cross at {said(table.shaft_angle)} deg")
        return
    free = [shaft.name for shaft in reversed(ends) if not design.on(shaft.name)]
    yield Finding(
        "bevel-shafts-are-parallel",
        "will not work",
        _where(table),
        f"shafts {ends[0].name} and {ends[1].name} both stand square on the plate.",
        f"The axes of the pair cross at {said(table.shaft_angle)} deg.",
        "The cones never meet.",
        f"Take shaft {free[0]} off the plate: leave its x and y out."
        if free
        else "Give the second gear an axis of its own, that does not stand on the plate.",
        _MOTT,
        tuple({"shaft": {name: {"x": None, "y": None}}} for name in free),
        "" if free else "Which of the two shafts leaves the plate, and where the gears on it go.",
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


def _undercut(design: Design) -> Iterator[Outcome]:
    for table in design.bevels:
        where, what = _where(table), "its virtual teeth"
        if max(_cone_angles(table)) >= 90 - 1e-9:
            continue  # a hollow cone is told
        try:
            least = _least(table.pressure_angle)
        except ValueError as error:
            yield Unmade(where, what, str(error), "give a usual pressure angle, such as 20 deg")
            continue
        fewest = min(_virtual(table))
        if fewest >= least - _SHORT_OF_LEAST:
            yield Held(
                where,
                f"{what}, teeth over the cosine of the cone angle, are",
                fewest,
                least - _SHORT_OF_LEAST,
            )
            continue
        numbers = both(fewest, least)
        yield Advised(
            "bevel-undercut",
            "will not work" if fewest < _HARDLY * least else "will trouble",
            where,
            f"{table.teeth[0]} and {table.teeth[1]} teeth are cut like {numbers[0]} of a spur gear.",
            f"From {numbers[1]} on they are whole at {said(table.pressure_angle)} deg.",
            "Undercut teeth are thin at the foot and lack flank: the pair turns in jerks, and they break.",
            "virtual teeth (Tredgold); Mott, sections 8-6 and 8-9",
            design=design,
            ways=partial(_more_teeth, design, table, least),
            otherwise="Use more teeth.",
        )


def _more_teeth(design: Design, table: BevelTable, least: float) -> Iterator[Iterable[Way]]:
    first, second = table.teeth
    common = int(common_factor_number(first, second))
    pairs = []
    for times in range(1, 400):
        teeth = (first // common * times, second // common * times)
        if min(_virtual(table.model_copy(update={"teeth": teeth}))) >= least:
            pairs.append(teeth)
        if len(pairs) == 4:
            break
    yield [
        Way(
            f"Take a pair of {first} and {second} teeth"
            if first != second
            else f"Take a pair of {first} teeth each",
            _edit(design, table, teeth=[first, second], mounting=None),
        )
        for first, second in pairs
    ]


# -- sizes ---------------------------------------------------------------------------------------------
def _sized(design: Design, table: BevelTable) -> BevelPair | None:
    """The pair without its face, which may be wrong; None where there is no such pair."""
    try:
        pair = design.bevel_of(table.model_copy(update={"face_width": None}))
    except ValueError:
        return None
    return pair


def _unsized(table: BevelTable, what: str, decisive: bool = False) -> Unmade:
    return Unmade(
        _where(table),
        what,
        "the file does not give the size of its teeth" if not table.size else "such a pair cannot be cut",
        "give module [mm] or diametral_pitch [1/in]" if not table.size else "mend what is found first",
        decisive,
    )


def _face(design: Design) -> Iterator[Outcome]:
    """The face is a third of the cone distance at most, and ten modules."""
    for table in design.bevels:
        pair = _sized(design, table)
        if pair is None:
            yield _unsized(table, "its face width")
        elif table.face_width is None:
            yield Unmade(
                _where(table),
                "its face width",
                "the file does not give it",
                f"give face_width in {design.unit}",
            )
        elif table.face_width > pair.largest_face * (1 + 1e-6):
            numbers = both(table.face_width, pair.largest_face, design.unit)
            narrow = down(pair.largest_face, design.unit) or pair.largest_face
            yield Finding(
                "bevel-face-too-wide",
                "will trouble",
                _where(table),
                f"its face is {numbers[0]} wide.",
                f"A third of the cone distance, and ten modules, is {numbers[1]}.",
                "Towards the apex the teeth grow too small to be cut or to carry.",
                f"Make it {said(narrow, design.unit)} wide.",
                _MOTT,
                (_edit(design, table, face_width=narrow),),
            )
        else:
            yield Held(
                _where(table), "its face is", table.face_width, pair.largest_face, design.unit, least=False
            )


def _mounting(design: Design) -> Iterator[Outcome]:
    """Whether both gears stand so far from the point where the axes cross that their cones share it."""
    for table in design.bevels:
        pair, where = _sized(design, table), _where(table)
        if pair is None:
            yield _unsized(table, "its mounting distances")
            continue
        if table.mounting is None:
            first, second = (said(size, design.unit) for size in pair.apex_distances)
            yield Unmade(
                where,
                "its mounting distances",
                "the file does not give them",
                f"give mounting, from where the axes cross to the large pitch circles: {first} and {second}",
            )
            continue
        module = pair.scale
        off = [given - right for given, right in zip(table.mounting, pair.apex_distances)]
        wrong = [size for size in off if not -_NEARER * module - 1e-9 <= size <= _FURTHER * module + 1e-9]
        if not wrong:
            worst = max(abs(size) for size in off)
            yield Held(
                where,
                "a cone's apex stands off the crossing by",
                worst,
                _FURTHER * module,
                design.unit,
                least=False,
            )
        else:
            yield _off_apex(design, table, pair, wrong[0], module)


def _off_apex(design: Design, table: BevelTable, pair: BevelPair, off: float, module: float) -> Finding:
    unit = design.unit
    right = [up(size, unit, PLACES) for size in pair.apex_distances]
    near = off < 0
    return Finding(
        "bevel-off-its-apex",
        "will not work" if near or off > 0.5 * module else "will trouble",
        _where(table),
        f"a gear stands {said(abs(off), unit)} {'nearer to' if near else 'further from'} the crossing of the"
        " axes than its cone.",
        f"Up to {said((_NEARER if near else _FURTHER) * module, unit)} are taken up by play.",
        "The teeth bind at one end." if near else "The teeth touch at one end only, and rattle.",
        f"Mount them at {said(right[0], unit)} and {said(right[1], unit)}.",
        _MOTT,
        (_edit(design, table, mounting=right),),
    )


# -- load ----------------------------------------------------------------------------------------------
def _thrust(design: Design) -> Iterator[Outcome]:
    for table in design.bevels:
        if table.thrust_collars:
            yield Held(_where(table), "collars take the thrust")
            continue
        yield Finding(
            "mitre-pushed-off",
            "will trouble",
            _where(table),
            "no collars take the thrust.",
            "Bevel gears push each other along their shafts.",
            "The gears walk out of mesh.",
            "Put a collar behind each.",
            "Mott, section 9-14 (from memory)",
            (_edit(design, table, thrust_collars=True),),
        )


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


def _strength(design: Design) -> Iterator[Outcome]:
    for table in design.bevels:
        torque = design.torques.get(table.driver or "")
        joined, what, unit = torque is not None, "the stress in its teeth", unit_of(design, "stress")
        pair, bears = _sized(design, table), allowed(table, design.unit)
        if torque is None:
            yield Unmade(
                _where(table),
                what,
                "the file does not say which torque comes to it",
                "give driver and driven, its shafts, and [load] with torque",
            )
        elif pair is None:
            yield _unsized(table, what, decisive=joined)
        elif table.face_width is None or bears is None:
            missing = "face_width" if table.face_width is None else "allowable_stress"
            yield Unmade(
                _where(table), what, f"the file gives no {missing}", f"give {missing}", decisive=True
            )
        else:
            face = min(table.face_width, pair.largest_face)
            stress = stress_at(pair, face, torque)
            most = most_torque(design.load) if design.load else None
            factor = most / design.load.torque if most and design.load else 1.0
            for name, grade, number, when in (
                ("teeth-overloaded", "will not work", stress, ""),
                ("teeth-break-at-stall", "will trouble", stress * factor, " at stall"),
            ):
                if number > bears[0] * (1 + 1e-9):
                    needed = two_digits(max(stress, stress * factor), True)
                    yield _overloaded(design, table, (name, grade), (number, bears[0], needed), when)
                    break
            else:
                yield Held(
                    _where(table),
                    f"by the plain beam formula for virtual teeth, {bears[1]}, {what} is",
                    max(stress, stress * factor),
                    bears[0],
                    unit,
                    least=False,
                )


def _overloaded(
    design: Design, table: BevelTable, named: tuple[str, str], stress: tuple[float, float, float], when: str
) -> Finding:
    unit = unit_of(design, "stress")
    numbers = both(stress[0], stress[1], unit)
    return Finding(
        *named,
        _where(table),
        f"the bending stress is about {numbers[0]}{when}.",
        f"The material can withstand {numbers[1]}.",
        "Teeth break.",
        f"Make it of a material that can withstand {said(stress[2], unit)}, or use larger teeth.",
        "W. Lewis, 1893, with virtual teeth at the middle of the face (from memory); estimate for teaching",
        (_edit(design, table, allowable_stress=stress[2]),),
    )


CHECKS = (
    Check("mitre counts", "Have both gears of the mitre pair one count?", ("mitre-unequal",), _counts),
    Check(
        "bevel cones",
        "Are both cones full, and do the axes cross?",
        ("cone-is-hollow", "bevel-shafts-are-parallel"),
        _cones,
    ),
    Check("bevel teeth", "Are the virtual teeth whole?", ("bevel-undercut",), _undercut),
    Check("bevel face", "Is the face narrow enough?", ("bevel-face-too-wide",), _face),
    Check("bevel mounting", "Do both cones end where the axes cross?", ("bevel-off-its-apex",), _mounting),
    Check("bevel thrust", "Is the thrust taken?", ("mitre-pushed-off",), _thrust),
    Check(
        "bevel load",
        "Do the bevel teeth bear the load?",
        ("teeth-overloaded", "teeth-break-at-stall"),
        _strength,
    ),
)
