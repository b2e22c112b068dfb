"""What can be wrong with the drive as a whole: what is joined, ratio, direction, load, warmth, names."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain
from typing import Any

from gearlab.theory.functions import common_factor_number

from ..design import Design, MeshTable
from ..design.drive import turning
from ..naming import digits, read_mounted, write_mounted
from ..tolerances import EXPANSION, warmed
from . import joined, load, running
from .advice import Advised, Way
from .finding import Finding, Held, Outcome, Unmade, both, said
from .ledger import Check
from .recount import counts, hunting

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


# -- ratio and direction -------------------------------------------------------------------------------
def _ratio(design: Design) -> Iterator[Outcome]:
    head, ratio = design.design, design.ratio
    if not design.links:
        if head.ratio is not None:
            yield Unmade(
                "the train",
                "the wanted ratio",
                "nothing joins one shaft to another",
                "give the meshes, [[mesh]] with driver and driven",
                decisive=not design.rack,
            )
        return
    if head.ratio is None or ratio is None:
        yield Unmade(
            "the train",
            "the ratio",
            "the file does not say which one is wanted"
            if head.ratio is None
            else "the last shaft is not joined to the first",
            "give ratio = ... under [design]" if head.ratio is None else "give the mesh that joins them",
            decisive=head.ratio is not None,
        )
    elif abs(ratio / head.ratio - 1) > head.ratio_within + 1e-9:
        yield _ratio_missed(design, ratio, head.ratio)
    else:
        yield Held("the train", f"its ratio is {both(ratio, head.ratio)[0]}, {said(head.ratio)} is wanted")


def _ratio_missed(design: Design, ratio: float, wanted: float) -> Finding:
    within = design.design.ratio_within
    upside = abs(1 / ratio / wanted - 1) <= within
    numbers = both(ratio, wanted)

    def ways() -> Iterator[Iterator[Way]]:
        yield chain.from_iterable(
            counts(design, pair, wanted / ratio, within)
            for pair in reversed(design.mesh)
            if turning(design, design.of(pair.driver)) in design.turns
        )
        yield iter(
            [
                Way(
                    f"If that ratio will do as well, ask for {said(ratio)} within {said(100 * within)} %",
                    {"design": {"ratio": float(f"{ratio:.6g}")}},
                )
            ]
        )

    return Advised(
        "ratio-missed",
        "will not work",
        "the train",
        f"its ratio, driver turns per last turn, comes out as {numbers[0]}.",
        f"Wanted: {numbers[1]} within {said(100 * within)} %.",
        "The output runs too fast or too slow."
        + (" Driver and driven gear are exchanged." if upside else ""),
        "Mott, section 8-7",
        design=design,
        ways=ways,
        otherwise="Change a tooth count; the ratio is driven teeth over driver teeth, stage by stage.",
    )


def _direction(design: Design) -> Iterator[Outcome]:
    last, wanted = design.turns.get(design.last_shaft or ""), design.design.direction
    if not design.links or last is None:
        return
    if wanted is None:
        yield Unmade(
            "the train",
            "the direction",
            "the file does not say which one is wanted",
            'give direction = "same" or "opposite" under [design]',
        )
    elif any(link.kind == "bevel" for link in design.links):
        yield Unmade(
            "the train",
            "the direction",
            "a bevel pair turns the axis: same and opposite need a side to look from",
            "look from the outside of each shaft which way it turns",
        )
    elif (last > 0) == (wanted == "same"):
        yield Held("the train", f"the last shaft turns {'with' if last > 0 else 'against'} the first")
    else:
        there = "same" if last > 0 else "opposite"
        yield Finding(
            "wrong-direction",
            "will not work",
            "the train",
            f"the last shaft turns {'with' if last > 0 else 'against'} the first.",
            f"Wanted: the {wanted} direction.",
            "The vent closes when it should open.",
            "Add or take away one mesh, such as an idler; or, where the crank may be turned the other way,"
            f' ask for direction = "{there}".',
            "Mott, section 8-7",
            ({"design": {"direction": there}},),
        )


def _hunting(design: Design) -> Iterator[Outcome]:
    """Pairs of which the same two teeth seldom meet, where that is wanted."""
    if not design.design.hunting:
        return
    for pair in design.mesh:
        driver, driven = design.of(pair.driver).teeth, design.of(pair.driven).teeth
        factor = round(common_factor_number(driver, driven))
        if factor == 1:
            yield Held(pair.name, f"{driver} and {driven} teeth share no factor")
            continue

        after = "every turn" if driven == factor else f"{driven // factor} turns"

        def ways(pair=pair) -> Iterator[Iterator[Way]]:
            yield hunting(design, pair, min(0.02, design.design.ratio_within))
            yield iter(
                [Way("If wear need not be even, do without a hunting pair", {"design": {"hunting": False}})]
            )

        yield Advised(
            "common-factor",
            "will trouble",
            pair.name,
            f"{driver} and {driven} teeth share the factor {factor}.",
            "A hunting pair shares none.",
            f"The same two teeth meet again after {after}, and wear each other.",
            "arithmetic of the counts",
            design=design,
            ways=ways,
            otherwise="Give one gear a tooth more or less.",
        )


# -- warmth --------------------------------------------------------------------------------------------
def _warmth(design: Design) -> Iterator[Outcome]:
    """What the play of each mesh becomes when the house is warmer or colder than when it was made."""
    warming = design.load.warming if design.load is not None else None
    material = design.plate.material if design.plate is not None else ""
    for pair in design.mesh:
        if warming is None or material not in EXPANSION:
            yield Unmade(
                pair.name,
                "the play in a warm or cold house",
                "the file does not say by how much it warms"
                if warming is None
                else f"the plate's material is {repr(material) if material else 'not stated'}",
                "give warming = ... in K under [load]"
                if warming is None
                else f"give one of {', '.join(EXPANSION)} under [plate]",
            )
            continue
        try:
            cold = design.mesh_of(pair)
            play = warmed(cold, warming, plate=material, gears=_gears_of(design, pair)).backlash
        except ValueError:
            continue  # a pair that cannot be: its own check says why
        reading = design.reading(pair.name, "backlash")
        measured = 0.0 if reading is None else reading.value - cold.backlash
        play, slack = play + measured, 1e-9 * cold.driver.scale
        which = "" if reading is None else ", from the measured one"
        if cold.backlash + measured < -slack:
            yield Unmade(
                pair.name,
                "the play in a warm or cold house",
                "it has none as it is",
                "give it play first",
            )
        elif play < -slack:
            yield _jams(design, pair, play, warming, which)
        else:
            word = f"the play at {said(warming)} K{which} is"
            yield Held(pair.name, word, play, 0.0, design.unit)


def _gears_of(design: Design, pair: MeshTable) -> float | str:
    """The material of both gears where it is known how it grows; else they are taken not to."""
    materials = {design.of(name).material for name in (pair.driver, pair.driven)}
    return materials.pop() if len(materials) == 1 and materials <= EXPANSION.keys() else 0.0


def _jams(design: Design, pair: MeshTable, play: float, warming: float, which: str) -> Finding:
    scale = design.toothed[pair.driver].scale
    names = (pair.driver, pair.driven)

    def ways() -> Iterator[Iterator[Way]]:
        for margin in ((0.04, 0.02, 0.01, 0.002),):
            yield (_thinner(design, names, (-play + share * scale) / 2) for share in margin)
        yield (
            Way(f"Make the plate of {material}", {"plate": {"material": material}})
            for material in ("aluminium", "steel")
            if material in EXPANSION
        )

    return Advised(
        "plate-jams-the-mesh",
        "will trouble",
        pair.name,
        f"at {said(warming)} K the plate changes the play{which} to {said(play, design.unit)}.",
        "It must stay above 0.",
        f"The gears jam when the house is {'cold' if warming < 0 else 'hot'}.",
        "thermal expansion from memory of handbook tables",
        design=design,
        ways=ways,
        otherwise=f"Give {said(-play + 0.04 * scale, design.unit)} more play.",
    )


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
def _names(design: Design) -> Iterator[Outcome]:
    """Names that tell numbers of their gears."""
    for gear in design.gear:
        told_numbers = _told(gear.name)
        if not told_numbers:
            continue
        true: dict[str, Any] = {
            "teeth": gear.teeth,
            "module": gear.module,
            "diametral_pitch": gear.diametral_pitch,
            "bore": gear.bore,
            "length": design.overall_length(gear.name),
        }
        wrong = [
            (word, value)
            for word, value in told_numbers.items()
            if true[word] is None or abs(true[word] - value) > 1e-6
        ]
        if not wrong:
            yield Held(gear.name, "its name tells its own numbers")
            continue
        (word, value), *_ = wrong
        number = true[word]
        right = _renamed(gear.name, told_numbers, true)
        right = right if right not in design.toothed else right.replace("_", "2_", 1)
        yield Finding(
            "name-tells-another-part",
            "will trouble",
            gear.name,
            f"its name tells {word.replace('_', ' ')} {said(value)}, the design"
            f" {both(number, value)[0] if number is not None else 'none'}.",
            "A name and its part must agree.",
            "The wrong part is cut, or not found.",
            f"Call it {right}, or put right the number that was typed over.",
            "common practice",
            ({"gear": {gear.name: {"name": right}}},),
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


CHECKS = (
    *joined.CHECKS,
    Check("ratio", "Is the ratio the wanted one?", ("ratio-missed",), _ratio),
    Check("direction", "Does the last shaft turn the wanted way?", ("wrong-direction",), _direction),
    Check("hunting", "Do the same two teeth seldom meet?", ("common-factor",), _hunting),
    *load.CHECKS,
    *running.CHECKS,
    Check("warmth", "Is there play when the house is hot or cold?", ("plate-jams-the-mesh",), _warmth),
    Check("names", "Does each name tell its own part?", ("name-tells-another-part",), _names),
)
