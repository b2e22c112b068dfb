"""What students type: right and wrong answers of every kind, for make.py."""

import json
from functools import cache

from gearlab.practice import number_text
from gearlab.practice.formulas.expression import parse, spellings
from gearlab.practice.formulas.formula import as_text
from gearlab.theory.units import UNITS

HOSTILE = [
    "__import__('os').system('touch pwned')",
    "9**9**9",
    "<script>alert(1)</script>",
    "{{ 7*7 }}",
    "m.__class__",
    "(" * 3000,
    "=cmd|' /C calc'!A0",
    "\u202e12",
]


def texts_for_bank(question, draw, number: int) -> dict[str, str]:
    """The texts of student `number` (0 to 7), 0 right, 1 right in another spelling, the others wrong in one
    way or another.
    """
    if question.kind == "choice":
        return {"choice": _choice(question, draw, number)}
    if question.kind == "design":
        return _design(question, draw, number)
    if question.kind == "expression":
        return {answer.id: _expression(question, answer, number) for answer in question.answers}
    return {
        answer.id: _number(question, draw, place, number) for place, answer in enumerate(question.answers)
    }


def _plain(value: float, unit: str = "", digits: int = 7) -> str:
    return f"{number_text(value, digits)} {unit}".strip()


def wrong_numbers(question, draw, place: int) -> list[float]:
    """The bank's own slips first, then those the library works out."""
    answer = question.answers[place]
    slips, found = question.slips_of(answer), []
    for _, formula, conditions in slips.listed:
        try:
            if all(condition(*draw.shown) for condition in conditions):
                found.append(formula(*draw.shown))
        except (ArithmeticError, ValueError):
            continue
    try:
        values = slips.values(*slips._arguments(draw))
    except (ArithmeticError, ValueError):
        values = ()
    sign = -1.0 if draw.keys[place] < 0 else 1.0
    return found, [sign * abs(one) for one in values[1:]]


def _number(question, draw, place: int, number: int) -> str:
    answer, key = question.answers[place], draw.keys[place]
    unit = answer.unit
    turn = sum(map(ord, question.id)) + place
    listed, own = wrong_numbers(question, draw, place)
    if number == 0:
        return _plain(key, unit, 9)
    if number == 1:
        return _other_spelling(answer, key, turn)
    if number == 2:
        return _plain([*listed, *own, 1.234567 * key][0], unit)
    if number == 3:
        return _plain([*listed[1:], *own[turn % 3 :], 0.7654321 * key][0], unit)
    if number == 4:
        return _plain([*own[-1 - turn % 5 :], *listed[-1:], 1.7654321 * key][0], unit if turn % 2 else "")
    if number == 5:  # wrong first, then carried on
        if place == 0:
            return _plain(
                -key if len(question.answers) == 1 else answer.rounded(1.3 * key + (key == 0)), unit
            )
        earlier = [question.answers[0].rounded(1.3 * draw.keys[0] + (draw.keys[0] == 0)), *draw.keys[1:place]]
        for before in range(1, place):
            earlier[before] = _carried(question.answers[before], draw, earlier[:before])
        return _plain(_carried(answer, draw, earlier), unit, 9)
    if number == 6:
        return [
            _plain(1000 * key, unit),
            _plain(key / 25.4, unit),
            _plain(key, _stranger(answer), 9),
            _plain(25.4 * key, unit),
            _plain(key * 180 / 3.14159265, unit),
        ][turn % 5]
    tolerance = answer.tolerance(key)
    return [
        "",
        "about the same",
        _plain(key + 2 * tolerance, unit, 9),
        _plain(1.1234567 * key + 0.1, unit),
        _plain(answer.unrounded(draw.shown, draw.keys), unit, 9),
        _plain(draw.shown[0] if draw.shown else 1.0, unit),
        "1,234",
        "0",
        "1e400",
        "-",
        f"{key:.1e}",
    ][turn % 11]


def _carried(answer, draw, earlier) -> float:
    try:
        return answer.carried(draw.shown, list(earlier))
    except (ArithmeticError, ValueError):
        return draw.keys[len(earlier)]


def _other_spelling(answer, key: float, turn: int) -> str:
    """The right number in another unit, with a comma, as a fraction of ten, with a true minus."""
    dimension = UNITS[answer.shown_unit].dimension
    others = [
        name
        for name, unit in UNITS.items()
        if unit.dimension == dimension
        and name != answer.shown_unit
        and unit.size != UNITS[answer.shown_unit].size
    ]
    if others and turn % 2 and not answer.whole:
        other = others[turn % len(others)]
        return f"{key * UNITS[answer.shown_unit].size / UNITS[other].size:.12g} {other}"
    text = number_text(key, 9)
    return (text.replace(".", ",") if turn % 3 else f"{text}{answer.unit}").replace("-", "\u2212")


def _stranger(answer) -> str:
    """A unit of something else."""
    dimension = UNITS[answer.shown_unit].dimension
    return "N" if dimension != "force" else "mm"


@cache
def _formulas(question, answer) -> tuple[str, ...]:
    symbols = {word: symbol for symbol, word, _ in answer.symbols}
    words = spellings({name: name for name in (*question.names, *symbols)})
    found = [str(answer.way.formula)]
    for slip in answer.table.slips:
        try:
            found.append(as_text(parse(slip.formula, words, bank=True).tree, symbols))
        except (ValueError, KeyError):
            continue
    return tuple(found)


def _expression(question, answer, number: int) -> str:
    right, *slips = _formulas(question, answer)
    symbol = answer.symbols[0][0]
    return [
        right,
        f"1*({right})",
        [*slips, f"2*({right})"][0],
        [*slips[1:], f"({right})/2"][0],
        f"-({right})",
        [*slips[2:], f"({right})*pi"][0],
        f"{symbol}+",
        ["", symbol, f"({right})+{symbol}", "x*y", "3.7"][len(question.id) % 5],
    ][number].replace("**", "^")


def _choice(question, draw, number: int) -> str:
    options = question.table.options
    right = [str(place) for place, one in enumerate(draw.order, start=1) if options[one].right]
    wrong = [str(place) for place, one in enumerate(draw.order, start=1) if not options[one].right]
    letters = [chr(96 + int(one)) for one in right]
    return [
        ", ".join(right),
        ", ".join(letters),
        wrong[0],
        wrong[-1],
        wrong[1 % len(wrong)],
        ", ".join(sorted([right[0], wrong[0]])),
        ["", "9", "yes", right[0]][len(question.id) % 4],
        ", ".join(str(place) for place in range(1, len(options) + 1)),
    ][number]


def _design(question, draw, number: int) -> dict[str, str]:
    design, values = question.design, tuple(draw.values.values())
    conditions = [one.id for one in design.conditions]

    def texts(which: str) -> dict[str, str]:
        return {
            field.id: _plain(value, field.unit)
            for field, value in zip(design.fields, design.example(values, which))
        }

    first = design.fields[0]
    if number in (0, 1):
        return {name: text.replace(".", ",") if number else text for name, text in texts("example").items()}
    if number == 2:
        return texts("bad_example")
    if number in (3, 4, 5) or (number == 7 and len(conditions) > 3):
        which = conditions[{3: 0, 4: -1, 5: len(conditions) // 2, 7: 1}[number]]
        return (
            texts(which)
            if next(one for one in design.conditions if one.id == which).table.fails_for
            else texts("example") | {first.id: _plain(first.high, first.unit)}
        )
    if number == 6:
        return texts("example") | {first.id: "many"}
    return texts("example") | {design.fields[-1].id: ""}


# -- the homework of thirty ----------------------------------------------------------------------------
def homework_answers(tasks, number: int) -> dict:
    """What student `number` of the homework types.

    The last ones type as the first, and their files are odd.
    """
    if number < 16:
        return {
            task.entry.question.id: texts_for_bank(
                task.entry.question, task.draw, (number + place * (number > 7)) % 8
            )
            for place, task in enumerate(tasks)
        }
    right = {task.entry.question.id: texts_for_bank(task.entry.question, task.draw, 0) for task in tasks}
    if number == 16:
        return {}
    if number == 17:
        return {question: dict.fromkeys(texts, "   ") for question, texts in right.items()}
    if number == 18:
        return dict(list(right.items())[:5])
    if number == 19:
        slots = [(question, answer) for question, texts in right.items() for answer in texts]
        for place, (question, answer) in enumerate(slots):
            right[question][answer] = HOSTILE[place % len(HOSTILE)]
        return right
    if number == 20:  # a reason beside a choice, an answer nobody asked for, a null
        return {
            question: texts | {"reason": "both rims move the same way"} for question, texts in right.items()
        } | {"no-such-question": {"x": "1"}, list(right)[0]: {list(right[list(right)[0]])[0]: None}}
    return right


def _json(content: dict) -> str:
    return json.dumps(content, ensure_ascii=False)


def _altered(content, sheet, sheets):
    givens = {question: dict.fromkeys(values, "18") for question, values in content["givens"].items()}
    return [(sheet["file"], _json(content | {"givens": givens}))]


def _twice(content, sheet, sheets):
    early = content | {"saved": 2, "answers": dict(list(content["answers"].items())[:3])}
    return [
        (f"late/{sheet['file']}", _json(content)),
        (sheet["file"].replace(".json", " (1).json"), _json(early)),
    ]


def _small(content, sheet, sheets):
    kept = ("gearlab", "edition", "set", "student", "answers")
    return [(sheet["file"], b"\xef\xbb\xbf" + _json({name: content[name] for name in kept}).encode())]


ODD_HAND_INS = (
    _altered,
    lambda content, sheet, sheets: [(sheet["file"], _json(content | {"packet": sheets["0001"]["packet"]}))],
    lambda content, sheet, sheets: [(sheet["file"], _json(content | {"student": "0001"}))],
    lambda content, sheet, sheets: [(sheet["file"], _json(content)[:-150])],
    lambda content, sheet, sheets: [],
    lambda content, sheet, sheets: [(f"{sheet['set']}_{sheet['student']}.ipynb", '{"cells": []}')],
    _twice,
    _small,
    lambda content, sheet, sheets: [
        (
            sheet["file"],
            _json(content | {"score": 99, "verdicts": {"signed-speed": "right"}, "time": "yesterday"}),
        )
    ],
)
