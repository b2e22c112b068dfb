"""Small steps: each true, each short, and together they fix what they lead to."""

import math
import random
import re
from functools import lru_cache
from html import escape
from xml.etree import ElementTree

import pytest
import sympy as sp

from gearlab import Gear, derive
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.relations import ALL
from gearlab.theory.scope import FULL_TURN, KINDS, scope_for, symbol
from gearlab.theory.smallsteps import LETTERS, letter
from gearlab.theory.solving import evaluate
from gearlab.theory.systems import system

WITH_A_WAY = [relation for relation in ALL if relation.way]


@lru_cache
def _scopes(relation):
    """Every scope in which a relation stands in other words, with its equation there."""
    row, found = system("full depth", 20.0), {}
    for kind, about in KINDS.items():
        if relation.of not in about.holds:
            continue
        shifted = frozenset({"profile_shift"}) & about.features
        for features, unit in (
            (frozenset(), "mm"),
            (frozenset(), "in"),
            (frozenset(relation.needs), "mm"),
            (shifted, "mm"),
        ):
            if features <= about.features:
                rows = (row, row) if len(about.sides) == 2 else (row,)
                scope = scope_for(kind, unit, rows, features)
                for equation in scope.equations:
                    if equation.relation is relation:
                        found.setdefault(equation.key, (scope, equation))
    return list(found.values())


def _follow(scope, equation, numbers):
    """How far the steps are from true, with the letters of their own found on the way."""
    known, misses = dict(numbers), []
    waiting = [(left, right) for _, left, right in scope.small_steps(equation)]
    while waiting:
        unknown = [
            [s for s in (left.free_symbols | right.free_symbols) if s not in known] for left, right in waiting
        ]
        place = next((n for n, letters in enumerate(unknown) if len(letters) <= 1), None)
        assert place is not None, f"nothing fixes {unknown}"
        left, right = waiting.pop(place)
        if unknown[place]:
            values = [evaluate(root, known) for root in _roots(left, right, unknown[place][0])]
            positive = unknown[place][0].is_positive
            known[unknown[place][0]] = next(value for value in values if value > 0 or positive is None)
        else:
            ends = evaluate(left, known), evaluate(right, known)
            misses.append(abs(ends[0] - ends[1]) / max(1e-12, abs(ends[0]), abs(ends[1])))
    return misses


@lru_cache
def _roots(left, right, unknown):
    return sp.solve(sp.Eq(left, right), unknown)


def _numbers(scope, equation, chance):
    world = scope.worlds[0]
    if equation.relation.way.replaces:  # steps over other words: numbers of a real pair, which fit together
        return dict(world)
    for _ in range(50):
        numbers = {FULL_TURN: 2 * math.pi}
        for s in sorted(equation.right.free_symbols - {FULL_TURN}, key=str):
            numbers[s] = world[s] * chance.uniform(0.95, 1.1)
            if QUANTITIES[s.name].whole:
                numbers[s] = float(round(numbers[s]))
        try:
            numbers[equation.left] = evaluate(equation.right, numbers)
        except (ValueError, OverflowError):
            continue
        if isinstance(numbers[equation.left], float) and math.isfinite(numbers[equation.left]):
            return numbers
    raise AssertionError(f"no numbers for {equation.key}")


@pytest.mark.parametrize("relation", WITH_A_WAY, ids=lambda r: f"{r.left} {r.of}")
def test_small_steps_lead_to_their_relation_and_to_no_other(relation):
    chance = random.Random(relation.left)
    assert _scopes(relation), f"no scope holds {relation.left}"
    for scope, equation in _scopes(relation):
        numbers = _numbers(scope, equation, chance)
        for word in relation.way.takes:
            term = scope.term(word, equation.side) if word not in LETTERS else letter(word)
            for s in sp.sympify(term).free_symbols - numbers.keys():
                numbers[s] = scope.worlds[0].get(s, 2.0) * chance.uniform(0.9, 1.2)
        misses = _follow(scope, equation, numbers)
        assert max(misses, default=0.0) < 1e-9, equation.key
        wrong = numbers | {equation.left: numbers[equation.left] * 1.01 + 1e-3}
        assert max(_follow(scope, equation, wrong), default=0.0) > 1e-6, f"any {equation.left} fits"


def test_every_step_is_short_enough_to_write_down():
    for relation in WITH_A_WAY:
        for scope, equation in _scopes(relation):
            for small, left, right in scope.small_steps(equation):
                assert sp.count_ops(left) + sp.count_ops(right) <= 22, (relation.left, left, right)
                assert small.says.endswith((".", ":")) and not small.asks or small.asks.endswith("?")


def test_a_letter_of_small_steps_is_no_symbol_of_another_thing():
    taken = {entry.symbol(notation) for entry in QUANTITIES.values() for notation in ("inch", "iso")}
    assert not taken & {entry.symbol for entry in LETTERS.values()}
    assert not QUANTITIES.keys() & LETTERS.keys()


def test_what_is_replaced_is_a_word_of_theory():
    for relation in WITH_A_WAY:
        assert all(symbol(word) for word in relation.way.replaces)
    assert derive("length_of_action", ["driver_teeth", "driven_teeth", "module", "pressure_angle"])


def _told(way):
    return [" = ".join(part.rows) for part in way.parts("text")]


ISO = derive.using(notation="iso", lengths="mm")


def test_the_path_of_contact_is_told_by_two_overlapping_triangles():
    words = ["driver_outside_radius", "driver_base_radius", "driven_outside_radius", "driven_base_radius"]
    way = ISO("length_of_action", [*words, "pressure_angle"])
    told = _told(way)
    assert told[0].startswith("e_1 = sqrt(r_a1^2") and told[3] == "g_α = e_1 + e_2 - L_t"
    assert not any("g_f" in line for line in told)
    # Khurmi & Gupta, Theory of Machines, Example 12.3: addenda of 10 mm, module 12, 30 and 80 teeth: 52.3 mm
    radii = dict(zip(words, (190, 169.145, 490, 451.052), strict=True))
    numbers = _told(ISO("length_of_action", radii | {"pressure_angle": 20}))
    assert abs(float(numbers[3].split(" = ")[-1].split()[0]) - 52.3) < 0.1


def test_no_small_step_uses_the_number_that_it_is_to_find():
    way = ISO("involute_angle", {"pressure_angle": 20})
    assert _told(way)[3] == "ξ_p = ψ + α" and "20.854" in _told(way)[2]


def test_a_step_worked_backwards_stands_first_as_it_is_known():
    told = _told(ISO("driven_teeth", ["centre_distance", "driver_teeth", "module"]))
    assert told.index("a = (d1 + d2)/2") + 1 == told.index("d2 = 2·a - d1")


@pytest.mark.parametrize("notation", ["iso", "inch"])
def test_the_legend_names_every_letter_of_the_steps_once(notation):
    mine = derive.using(notation=notation, lengths="mm")
    for asked, given in (
        ("driven_mark_angle", ["driver_teeth", "driven_teeth", "line_angle", "driver_mark_angle"]),
        ("backlash", ["centre_distance", "pressure_angle", "operating_pressure_angle"]),
        ("length_of_action", ["driver_teeth", "driven_teeth", "module", "pressure_angle"]),
        ("driver_teeth", ["centre_distance", "module", "ratio"]),
    ):
        way = mine(asked, given)
        named = [row[0] for row in way.legend()]
        assert len(set(named)) == len(named)
        for line in _told(way):
            bare = re.sub(r"sqrt|tan|cos|sin|inv|remainder|360°|π", " ", line)
            for name in re.findall(r"[^\W\d]\w*", bare):
                assert name in named, (asked, name, line)
        rows = {word: unit for _, word, unit in way.legend()}
        assert rows.get("pressure angle", "°") == "°" and rows.get("centre distance", "mm") == "mm"


def test_the_legend_of_a_part_leaves_out_numbers_that_are_not_used():
    way = derive.explain(Gear(18, diametral_pitch=10), "pitch_diameter")
    assert [letter for letter, _, _ in way.legend()] == ["d", "N", "P"]


def test_the_page_is_sound_and_no_wider_than_its_cell():
    way = ISO(
        "length_of_action", {"driver_teeth": 18, "driven_teeth": 45, "module": 2.5, "pressure_angle": 20}
    )
    page = ElementTree.fromstring(way.html())
    formulas = [f for f in page.iter("math") if f.get("display") == "block"]
    assert len(formulas) == len(way.parts()) and all(f.get("aria-label") for f in formulas)
    assert all(escape(meaning) in way.html() for _, meaning, _ in way.legend())
    for box in (each for each in page.iter("div") if each.get("class") == "eq"):
        rows = box.findall(".//mtr")
        assert rows or box.get("tabindex") or len("".join(box.itertext())) < 80


def test_one_by_one_hides_each_step_behind_a_question():
    way = ISO(
        "length_of_action", ["driver_teeth", "driven_teeth", "module", "pressure_angle"], one_by_one=True
    )
    page, depth = ElementTree.fromstring(way.html()), 0
    inner = page
    while (inner := inner.find("details")) is not None:
        depth += 1
        assert inner.find("summary").text.endswith("?")
        assert len([child for child in inner if child.tag == "div"]) == 1
    assert depth == len(way.parts()) and "What do the two triangles share?" in way.html()
    assert way.formula == way.with_changes(one_by_one=False).formula and "<details" not in (
        way.with_changes(one_by_one=False).html()
    )


def test_as_plain_text_everything_is_shown():
    class Printer:
        def text(self, line):
            self.shown = line

    printer = Printer()
    ISO("quick_backlash", ["distance_opening", "pressure_angle"], one_by_one=True)._repr_pretty_(
        printer, False
    )
    assert "u = Δ_a·tan(α)" in printer.shown and "Δ_a: opening of the centre distance" in printer.shown


def test_a_letter_that_is_solved_for_gets_its_number():
    """Carried along, it has none; where the equation closes, 2·80 / (2.5·3.4) = 160/8.5 stands beside it."""
    way = derive(
        "driver_teeth", {"centre_distance": "80 mm", "module": "2.5 mm", "ratio": 2.4}, notation="iso"
    )
    *before, last = way.parts("text")
    assert " = ".join(last.rows) == "z1 = 2·a/(m·(i + 1)) = 2·80 mm/(2.5 mm·(2.4 + 1)) = 18.8235"
    assert not any(" mm" in row for part in before for row in part.rows)
