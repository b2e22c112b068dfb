"""Slips of the trade: wrong ways that many go with gears, trains and roundings, whatever the question."""

from __future__ import annotations

import itertools

import sympy as sp

from gearlab.practice.formula import source
from gearlab.theory import derive
from gearlab.theory.quantities import QUANTITIES, SIDES, split_side
from gearlab.theory.systems import system

__all__ = ["habits"]

_OLDER_ANGLE = 14.5  # deg; the older full-depth system, with other proportions


def habits(maker) -> None:
    """Put every such variation of a derivation; `maker` is the one of `gearlab.practice.variation`."""
    for slip in (
        _gears_exchanged,
        _tips,
        _speeds,
        _middle_gears,
        _counted_ends,
        _one_too_many,
        _rounded_the_other_way,
        _older_teeth,
        _half_converted,
        _pi_as_three,
    ):
        slip(maker)


def _gears_exchanged(maker) -> None:
    for first, second in itertools.combinations([word for word in maker.teeth if word in maker.given], 2):
        one, two = (SIDES[split_side(word)[0]][1] for word in (first, second))
        maker.vary(
            1.5,
            "gears exchanged",
            f"exchanged {one[4:]} and {two[4:]}",
            f"You exchanged {one} and {two}. {maker.says()}",
            0.5,
            {one: f"t_{other}" for one, other in ((first, second), (second, first)) if one in maker.inputs},
        )


def _tips(maker) -> None:
    overrides = {word: f"(t_{word} + 2.0)" for word in maker.inputs if word in maker.teeth}
    if overrides:
        s = "s" if len(overrides) > 1 else ""
        maker.vary(
            2.0,
            "tips",
            f"used the outside diameter{s}",
            f"You used the outside diameter{s}, two teeth's worth too wide; tips do not roll on each other, "
            f"pitch circles do. {maker.says()}",
            0.25,
            overrides,
        )
    if maker.answer.dimension != "length":
        return
    for word, text in overrides.items() if len(overrides) > 1 else ():
        of = SIDES[split_side(word)[0]][1]
        maker.vary(
            2.4,
            "tips of one",
            f"used the outside diameter of {of}",
            f"You used the outside diameter of {of}, two teeth's worth too wide. {maker.says()}",
            0.25,
            {word: text},
        )


def _speeds(maker) -> None:
    if maker.answer.dimension == "speed" and {"driver_speed", "driver_teeth", "driven_teeth"} <= set(
        maker.inputs
    ):
        maker.put(
            3.2,
            "difference",
            "subtracted the tooth difference",
            f"Speeds do not differ by the difference of the teeth. {maker.says()}",
            0.0,
            result="(t_driver_speed - (t_driven_teeth - t_driver_teeth))",
        )
    if maker.chain.get("ratio", "").startswith("c_"):
        maker.vary(
            2.1,
            "ratio twice",
            "applied the ratio twice",
            "You applied the ratio twice; one mesh applies it once.",
            0.0,
            {"ratio": "(c_ratio * c_ratio)"},
        )


def _middle_gears(maker) -> None:
    """Two gears on one shaft treated as if they were one: only the first and the last count then."""
    if maker.table.of == "compound train" and {"second_teeth", "third_teeth"} <= set(maker.inputs):
        maker.vary(
            1.55,
            "middle gears",
            "took the two gears on one shaft for one",
            "You counted the two gears on the middle shaft as one: they have different counts, and do not"
            f" cancel. {maker.says()}",
            0.25,
            {"third_teeth": "t_second_teeth"},
        )


def _counted_ends(maker) -> None:
    """A count of spaces or pitches that is one off: the ends counted, or one of them forgotten."""
    for word in maker.inputs:
        if QUANTITIES[word].whole and word not in maker.teeth:
            what = QUANTITIES[word].meaning
            for change, title in (("+", "one too many"), ("-", "one too few")):
                maker.vary(
                    2.2,
                    f"{word} {change} 1",
                    f"{what}: {title}",
                    f"You took the {what} as {title}: between so many marks lies one step less."
                    f" {maker.says()}",
                    0.25,
                    {word: f"(t_{word} {change} 1.0)"},
                )


def _one_too_many(maker) -> None:
    """A given of the same dimension that does not come in, added or taken off."""
    used, variable = (
        {one.name for _, expression, _ in maker.steps for one in expression.free_symbols},
        f"c_{maker.asked}",
    )
    for word in maker.given:
        if (
            word in used
            or word == maker.asked
            or QUANTITIES[word].dimension != maker.answer.dimension
            or maker.answer.dimension != "length"
        ):
            continue
        what = QUANTITIES[word].meaning
        for sign, done in (("+", "added"), ("-", "taken off")):
            maker.put(
                2.3,
                f"{done} {word}",
                f"{what} {done}",
                f"You have {done} the {what}, which does not come in here. {maker.says()}",
                0.25,
                result=f"({variable} {sign} t_{word})",
                needs={variable},
            )


def _rounded_the_other_way(maker) -> None:
    whole = maker.answer.table.whole
    if whole in ("up", "down"):
        sign = "-" if whole == "up" else "+"
        maker.put(
            1.15,
            "rounded the other way",
            "rounded the other way",
            "Rounded the other way: ask whether the number below or the one above still does what is wanted."
            f" {maker.says()}",
            0.5,
            result=f"(c_{maker.asked} * {maker.answer.out_factor!r} {sign} 1.0)",
            needs={f"c_{maker.asked}"},
            scaled=False,
        )


def _older_teeth(maker) -> None:
    """Proportions of the older 14.5 degree full-depth tooth."""
    if maker.table.tooth_system != "full depth" or maker.answer.dimension not in ("length", "pitch"):
        return
    shown = (
        {word: name for word, name in maker.given.items() if word in maker.question.known_names}
        if maker.question.kind == "number"
        else maker.given
    )
    followed = maker.followed(shown, _OLDER_ANGLE)
    if followed is None:  # not by one equation after another: theory finds the way
        try:
            way = derive(
                maker.asked,
                list(shown),
                maker.table.notation,
                system("full depth", _OLDER_ANGLE),
                maker.table.of,
                maker.table.length_unit,
                maker.table.features,
            )
            followed = [], source(way.raw, shown)
        except (KeyError, ValueError):
            return
    lines, text = followed
    maker.put(
        2.2,
        "older tooth system",
        "used an older tooth system",
        "These are the proportions of the older 14.5 degree tooth; here the 20 degree full-depth tooth is"
        f" used. {maker.says()}",
        0.5,
        result=text,
        lines=lines,
    )


def _half_converted(maker) -> None:
    """Only one of two terms converted between inches and millimetres."""
    lengths = {"mm": "in", "in": "mm"}
    if (
        maker.answer.dimension != "length"
        or maker.answer.shown_unit == maker.table.length_unit
        or maker.answer.shown_unit not in lengths
    ):
        return
    _, expression, _ = maker.steps[-1]
    if not expression.is_Add:
        return
    out = maker.answer.out_factor
    for term in expression.args:
        rest = expression - term
        try:
            text = f"({source(term, maker.chain)} + {source(rest, maker.chain)} / {out!r})"
        except (KeyError, ValueError):
            continue
        maker.put(
            2.3,
            "half converted",
            "converted only one part",
            "You converted only one part: both must be in the same unit before they are added.",
            0.25,
            result=text,
            needs={v for v in maker.chain.values() if v.startswith("c_")},
        )


def _pi_as_three(maker) -> None:
    overrides = {}
    for word, expression, _ in maker.steps:
        if expression.has(sp.pi):
            try:
                overrides[word] = source(expression.xreplace({sp.pi: sp.Integer(3)}), maker.chain)
            except (KeyError, ValueError):
                return
    if overrides:
        maker.vary(
            2.1, "pi as 3", "took pi as 3", "You took pi as 3: use the calculator's pi.", 0.5, overrides
        )
