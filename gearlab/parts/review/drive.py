"""What can be wrong with the drive as a whole: what is joined, ratio, direction, load, warmth, names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain
from typing import Any

from gearlab.theory.functions import common_factor_number

from ..design import Design, GearTable, MeshTable
from ..design.drive import turning
from ..naming import digits, read_mounted, write_mounted
from ..tolerances import EXPANSION, warmed
from . import joined, load, running
from .advice import Way
from .finding import Held, Outcome, both, said
from .ledger import Checks
from .recount import counts, hunting
from .sentences import finding, unmade

#: The name of a toothed part tells its count; further tokens are read where it does.
_COUNT = re.compile(r"(?<![A-Za-z0-9])(\d{1,3})(?:[Tt]|[ _-]?(?:teeth|tooth))(?![A-Za-z0-9])", re.ASCII)
#: What else stands in the name of a gear whose count does: "m2", "m2p5", "24DP", "P24", "bore 10".
_LIMIT, _SIZE = r"(?<![A-Za-z0-9])", r"(\d+(?:[.p]\d+)?)"
_ELSE = {
    "module": re.compile(rf"{_LIMIT}(?:m|mod|module)[ _-]?{_SIZE}(?![A-Za-z0-9])", re.ASCII),
    "diametral_pitch": re.compile(
        rf"{_LIMIT}(?:(?:P|DP)[ _-]?{_SIZE}|{_SIZE}[ _-]?DP)(?![A-Za-z0-9])", re.ASCII
    ),
    "bore": re.compile(rf"{_LIMIT}bore[ _-]?{_SIZE}(?![A-Za-z0-9])", re.ASCII),
}
CHECKS = Checks(joined.CHECKS)


# -- ratio and direction -------------------------------------------------------------------------------
@CHECKS.row("ratio", "Is the ratio the wanted one?", "ratio-missed")
def _ratio(design: Design) -> Outcome | None:
    wanted, ratio, within = design.design.ratio, design.ratio, design.design.ratio_within
    if not design.links:
        decisive = not design.rack
        return None if wanted is None else unmade("no mesh", design, "the train", decisive=decisive)
    if wanted is None:
        return unmade("ratio", design, "the train")
    if ratio is None:
        return unmade("ratio, not joined", design, "the train", decisive=True)
    if abs(ratio / wanted - 1) <= within + 1e-9:
        return Held("the train", f"its ratio is {both(ratio, wanted)[0]}, {said(wanted)} is wanted")

    def ways() -> Iterator[Iterator[Way] | list[Way]]:
        yield chain.from_iterable(
            counts(design, pair, wanted / ratio, within)
            for pair in reversed(design.mesh)
            if turning(design, design.of(pair.driver)) in design.turns
        )
        says = f"If that ratio will do as well, ask for {said(ratio)} within {said(100 * within)} %"
        yield [Way(says, {"design": {"ratio": float(f"{ratio:.6g}")}})]

    upside = abs(1 / ratio / wanted - 1) <= within
    return finding(
        "ratio-missed, upside down" if upside else "ratio-missed",
        design,
        "the train",
        ways,
        compared=(ratio, wanted),
        unit="",
        within=said(100 * within),
    )


@CHECKS.row("direction", "Does the last shaft turn the wanted way?", "wrong-direction")
def _direction(design: Design) -> Outcome | None:
    last, wanted = design.turns.get(design.last_shaft or ""), design.design.direction
    if not design.links or last is None:
        return None
    if wanted is None:
        return unmade("direction", design, "the train")
    if any(link.kind == "bevel" for link in design.links):
        return unmade("direction, round a corner", design, "the train")
    turns, there = ("with", "same") if last > 0 else ("against", "opposite")
    if there == wanted:
        return Held("the train", f"the last shaft turns {turns} the first")
    edits = ({"design": {"direction": there}},)
    return finding(
        "wrong-direction", design, "the train", edits=edits, turns=turns, wanted=wanted, there=there
    )


def _hunted(design: Design) -> tuple[MeshTable, ...]:
    return design.mesh if design.design.hunting else ()


@CHECKS.row("hunting", "Do the same two teeth seldom meet?", "common-factor", of=_hunted)
def _hunting(design: Design, pair: MeshTable) -> Outcome:
    driver, driven = (design.of(name).teeth for name in pair.gears)
    factor = round(common_factor_number(driver, driven))
    if factor == 1:
        return Held(pair.name, f"{driver} and {driven} teeth share no factor")
    without = Way("If wear need not be even, do without a hunting pair", {"design": {"hunting": False}})
    return finding(
        "common-factor",
        design,
        pair.name,
        lambda: [hunting(design, pair, min(0.02, design.design.ratio_within)), [without]],
        driver=driver,
        driven=driven,
        factor=factor,
        after="every turn" if driven == factor else f"{driven // factor} turns",
    )


CHECKS += (*load.CHECKS, *running.CHECKS)


# -- warmth --------------------------------------------------------------------------------------------
@CHECKS.row("warmth", "Is there play when the house is hot or cold?", "plate-jams-the-mesh", of="mesh")
def _warmth(design: Design, pair: MeshTable) -> Outcome | None:
    """What the play of a mesh becomes when the house is warmer or colder than when it was made."""
    warming = design.load.warming if design.load is not None else None
    material = design.plate.material if design.plate is not None else ""
    if warming is None:
        return unmade("warmth", design, pair.name)
    if material not in EXPANSION:
        stated = repr(material) if material else "not stated"
        return unmade("warmth, material", design, pair.name, stated=stated, known=", ".join(EXPANSION))
    try:
        cold = design.mesh_of(pair)
        play = warmed(cold, warming, plate=material, gears=_gears_of(design, pair)).backlash
    except ValueError:
        return None  # a pair that cannot be: its own check says why
    reading = design.reading(pair.name, "backlash")
    measured = 0.0 if reading is None else reading.value - cold.backlash
    play, slack = play + measured, 1e-9 * cold.driver.scale
    which = "" if reading is None else ", from the measured one"
    if cold.backlash + measured < -slack:
        return unmade("warmth, no play", design, pair.name)
    if play >= -slack:
        return Held(pair.name, f"the play at {said(warming)} K{which} is", play, 0.0, design.unit)
    scale = design.toothed[pair.driver].scale

    def ways() -> Iterator[Iterator[Way]]:
        yield (
            _thinner(design, pair.gears, (-play + share * scale) / 2) for share in (0.04, 0.02, 0.01, 0.002)
        )
        yield (
            Way(f"Make the plate of {other}", {"plate": {"material": other}})
            for other in ("aluminium", "steel")
            if other in EXPANSION
        )

    return finding(
        "plate-jams-the-mesh",
        design,
        pair.name,
        ways,
        warming=said(warming),
        which=which,
        play=play,
        house="cold" if warming < 0 else "hot",
        more=-play + 0.04 * scale,
    )


def _gears_of(design: Design, pair: MeshTable) -> float | str:
    """The material of both gears where it is known how it grows; else they are taken not to."""
    materials = {design.of(name).material for name in pair.gears}
    return materials.pop() if len(materials) == 1 and materials <= EXPANSION.keys() else 0.0


def _thinner(design: Design, names: tuple[str, str], by: float) -> Way:
    """Thin the teeth of both gears so much more [unit], as a shop would write it."""
    digits = {"mm": 3, "in": 4}[design.unit]
    step = 10.0**-digits
    thin = {
        name: round(
            (int((design.of(name).tooth_thinning + by) / step - 1e-6) + 1) * step,
            digits,
        )
        for name in names
    }
    sizes = " and ".join(f"those of {name} by {said(size, design.unit)}" for name, size in thin.items())
    return Way(
        f"Thin the teeth more: {sizes} in all",
        {"gear": {name: {"tooth_thinning": size} for name, size in thin.items()}},
    )


# -- names ---------------------------------------------------------------------------------------------
@CHECKS.row("names", "Does each name tell its own part?", "name-tells-another-part", of="gear")
def _name(design: Design, gear: GearTable) -> Outcome | None:
    told_numbers = _told(gear.name)
    if not told_numbers:
        return None
    true: dict[str, Any] = {
        "teeth": gear.teeth,
        "module": gear.module,
        "diametral_pitch": gear.diametral_pitch,
        "bore": gear.bore,
        "length": design.overall_length(gear.name),
    }
    wrong = [
        (word, value, true[word])
        for word, value in told_numbers.items()
        if true[word] is None or abs(true[word] - value) > 1e-6
    ]
    if not wrong:
        return Held(gear.name, "its name tells its own numbers")
    word, value, number = wrong[0]
    right = _renamed(gear.name, told_numbers, true)
    right = right if right not in design.toothed else right.replace("_", "2_", 1)
    return finding(
        "name-tells-another-part",
        design,
        gear.name,
        word=word.replace("_", " "),
        value=said(value),
        number=both(number, value)[0] if number is not None else "none",
        right=right,
        edits=({"gear": {gear.name: {"name": right}}},),
    )


def _told(name: str) -> dict[str, float]:
    """What a name tells of its gear: by our own pattern, else the numbers that stand in it by their words."""
    try:
        return read_mounted(name)
    except ValueError:
        count = _COUNT.search(name)
    if count is None:
        return {}
    numbers = {"teeth": float(count[1])}
    for word, pattern in _ELSE.items():
        size = pattern.search(name)
        if size is not None:
            text = next(group for group in size.groups() if group is not None)
            numbers[word] = float(text.replace("p", "."))
    return numbers


def _renamed(name: str, told_numbers: dict[str, float], true: dict[str, Any]) -> str:
    try:
        read_mounted(name)
    except ValueError:
        return _with_its_numbers(name, true)
    size = {word: true[word] for word in ("module", "diametral_pitch") if true[word] is not None}
    rest = {word: true[word] for word in ("bore", "length") if word in told_numbers}
    return write_mounted(name.split("_")[0], true["teeth"], **size, **rest)


def _with_its_numbers(name: str, true: dict[str, Any]) -> str:
    """A name in its own words, with the right numbers; without those that its gear does not have."""
    right = _COUNT.sub(lambda count: count[0].replace(count[1], str(true["teeth"])), name)
    for word, pattern in _ELSE.items():
        told = pattern.search(right)
        if told is None:
            continue
        text = next(group for group in told.groups() if group is not None)
        instead = "" if true[word] is None else told[0].replace(text, digits(true[word]))
        right = (right[: told.start()] + instead + right[told.end() :]).strip(" _-")
    return right
