"""derive finds the way, forwards and backwards, and says what is wrong when there is none."""

import math
import random
import re
from xml.etree import ElementTree

import numpy as np
import pytest
import sympy as sp
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import Gear, Mesh, derive
from gearlab.theory import QUANTITIES, reach, search
from gearlab.theory.derivation import Derivation, Step
from gearlab.theory.relations import ALL
from gearlab.theory.scope import FULL_TURN, Scope, scope_for, symbol
from gearlab.theory.solving import evaluate
from gearlab.theory.systems import system

teeth = st.integers(12, 120)
pitches = st.sampled_from([3, 5, 8, 10, 12, 24])
angles = st.sampled_from([14.5, 20.0, 25.0])


# -- forwards and back ---------------------------------------------------------------------------------
BACK_OF_A_GEAR = [
    (
        "teeth",
        ("diametral_pitch",),
        ("pitch_diameter", "outside_diameter", "root_diameter", "pitch_circumference"),
    ),
    (
        "diametral_pitch",
        ("teeth",),
        (
            "pitch_diameter",
            "outside_diameter",
            "root_diameter",
            "whole_depth",
            "circular_pitch",
            "clearance",
            "working_depth",
        ),
    ),
    ("pressure_angle", ("teeth", "diametral_pitch"), ("base_diameter", "base_pitch")),
    ("teeth", ("diametral_pitch", "pressure_angle"), ("base_diameter", "base_radius")),
    ("span_teeth", ("diametral_pitch", "pressure_angle", "teeth"), ("span",)),
]


@pytest.mark.parametrize(("asked", "with_these", "from_these"), BACK_OF_A_GEAR)
@settings(max_examples=12, deadline=None)
@given(n=teeth, p=pitches, angle=angles)
def test_one_gear_forwards_and_back(asked, with_these, from_these, n, p, angle):
    gear = Gear(n, diametral_pitch=p, pressure_angle=angle)
    numbers = {**gear.numbers, "span_teeth": float(gear.span_teeth), "span": gear.span()}
    for word in from_these:
        way = derive(
            asked,
            {word: numbers[word], **{one: numbers[one] for one in with_these}},
            tooth_system=system("full depth", angle),
        )
        assert way.result == pytest.approx(numbers[asked], rel=1e-9)


BACK_OF_A_PAIR = [
    ("driver_teeth", ("centre_distance", "diametral_pitch", "ratio")),
    ("driven_teeth", ("centre_distance", "diametral_pitch", "ratio")),
    ("driven_teeth", ("centre_distance", "diametral_pitch", "driver_teeth")),
    ("diametral_pitch", ("centre_distance", "driver_teeth", "driven_teeth")),
    ("driver_pitch_diameter", ("centre_distance", "driven_pitch_diameter")),
    ("driver_pitch_diameter", ("centre_distance", "ratio")),
    ("driven_outside_diameter", ("driver_outside_diameter", "diametral_pitch", "ratio")),
    ("centre_distance", ("driver_outside_diameter", "driver_teeth", "ratio")),
    ("ratio", ("driver_pitch_diameter", "driven_pitch_diameter")),
    ("pressure_angle", ("driver_base_diameter", "driver_teeth", "diametral_pitch")),
    ("length_of_action", ("contact_ratio", "base_pitch")),
]


@pytest.mark.parametrize(("asked", "from_these"), BACK_OF_A_PAIR)
@settings(max_examples=10, deadline=None)
@given(n1=teeth, n2=teeth, p=pitches)
def test_a_pair_forwards_and_back(asked, from_these, n1, n2, p):
    numbers = Mesh(Gear(n1, diametral_pitch=p), Gear(n2, diametral_pitch=p)).numbers
    assert derive(
        asked, {word: numbers[word] for word in from_these}, length_unit="in"
    ).result == pytest.approx(numbers[asked], rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(n1=teeth, n2=teeth, speed=st.floats(-2000, 2000).filter(lambda n: abs(n) > 1e-3))
def test_speeds_forwards_and_back(n1, n2, speed):
    there = derive("driven_speed", {"driver_teeth": n1, "driven_teeth": n2, "driver_speed": speed}).result
    assert there * speed < 0  # external gears turn opposite ways
    assert derive(
        "driver_speed", {"driver_teeth": n1, "driven_teeth": n2, "driven_speed": there}
    ).result == pytest.approx(speed)
    if abs(there) > 1e-3:
        assert derive("ratio", {"driver_speed": speed, "driven_speed": there}).result == pytest.approx(
            n2 / n1
        )
        assert derive(
            "driven_teeth", {"driver_teeth": n1, "driver_speed": speed, "driven_speed": there}
        ).result == pytest.approx(n2)


# -- the ways that are not straight --------------------------------------------------------------------
def test_centre_distance_pitch_and_ratio_give_both_counts():
    # The greenhouse's inch twin by hand: N1 + N2 = 2 C P = 63 teeth, in the ratio 5 to 2.
    givens = {"centre_distance": 3.15, "diametral_pitch": 10, "ratio": 2.5}
    assert derive("driver_teeth", givens).result == pytest.approx(18)
    assert derive("driven_teeth", givens).result == pytest.approx(45)
    formula = derive("driver_teeth", list(givens)).formula
    c, p, i = sp.symbols("C P i")
    assert sp.simplify(formula - 2 * c * p / (1 + i)) == 0


def test_a_common_factor_may_cancel():
    # By hand: n2 = -n1 d1/d2 with d2 = 2 C - d1; no pitch is needed.
    way = derive(
        "driven_speed", ["driver_pitch_diameter", "centre_distance", "driver_speed"], length_unit="in"
    )
    d1, c, n1 = sp.symbols("d1 C n1")
    assert sp.simplify(way.formula + n1 * d1 / (2 * c - d1)) == 0
    assert way.value(d1=1.8, C=3.15, n1=15) == pytest.approx(-6.0)
    assert {"diametral_pitch", "module"}.isdisjoint(way.used)


def test_a_given_that_cancels_is_not_asked_for():
    way = derive("driven_speed", ["driver_teeth", "driven_teeth", "driver_speed", "diametral_pitch"])
    assert way.used == ("driver_teeth", "driven_teeth", "driver_speed")
    assert way.value(driver_teeth=18, driven_teeth=45, driver_speed=15) == -6


def test_an_angle_from_a_cosine_has_one_root():
    way = derive(
        "pressure_angle",
        {"base_diameter": 2 * math.cos(math.radians(20)), "pitch_diameter": 2},
        length_unit="in",
    )
    assert way.result == pytest.approx(20, abs=1e-9)
    assert derive("pressure_angle", ["base_diameter", "pitch_diameter"]).formula.count(sp.acos) == 1


def test_a_root_outside_the_range_falls_away():
    # Norton, table of largest gears, backwards (from memory): a 13-tooth pinion of 20 degrees runs with 16.45
    # teeth.
    assert derive(
        "driver_teeth", {"largest_mate_teeth": 16.45, "pressure_angle": 20}
    ).result == pytest.approx(13, abs=1e-3)


@pytest.mark.parametrize("kind", ["gear", "pair"])
def test_the_order_of_relations_changes_no_closed_form(kind):
    """The same formula for every quantity, whatever order the relations stand in."""
    starts = {
        "gear": ["teeth", "diametral_pitch", "pressure_angle"],
        "pair": ["diametral_pitch", "driver_teeth", "driven_teeth", "pressure_angle", "driver_speed"],
    }
    more = {
        "gear": ["outside_diameter", "teeth", "pressure_angle"],
        "pair": ["centre_distance", "ratio", "diametral_pitch"],
    }
    rows = (system(),) * (1 if kind == "gear" else 2)
    shuffler = random.Random(7)

    def forms(relations):
        scope = Scope(kind, "in", rows, relations=relations)
        found = {}
        for words in (starts[kind], more[kind]):
            given = [symbol(word) for word in words]
            for link in search.everything_forward(scope, given):
                found[(words[0], link.unknown.name)] = link.expression
        # and ways with a letter carried along
        for asked, words in (
            ("driver_teeth", more["pair"]),
            ("driven_root_diameter", more["pair"]),
            ("driven_speed", ["driver_pitch_diameter", "centre_distance", "driver_speed"]),
        ):
            if kind == "pair":
                links = search.find(scope, [symbol(word) for word in words], symbol(asked))
                way = Derivation(
                    asked,
                    tuple(words),
                    tuple(
                        Step(
                            link.unknown.name,
                            link.equation.relation if link.equation else None,
                            link.expression,
                            link.role,
                        )
                        for link in links
                    ),
                    scope,
                )
                found[("closed", asked)] = way.tidy
        return found

    first = forms(ALL)
    assert len(first) > 30
    for _ in range(3):
        mixed = list(ALL)
        shuffler.shuffle(mixed)
        assert forms(tuple(mixed)) == first


@pytest.mark.parametrize("length_unit", ["in", "mm"])
def test_every_way_of_reach_gives_the_numbers_of_the_part(length_unit):
    """Ways found one by one against the numbers worked out all at once."""
    size = "diametral_pitch" if length_unit == "in" else "module"
    gear = Gear(19, **{size: 8})
    ways = reach(("teeth", size, "pressure_angle"), "gear", length_unit)
    for word, way in ways.items():
        assert way.value(**{w: gear.numbers[w] for w in way.used}) == pytest.approx(
            gear.numbers[word], rel=1e-9, abs=1e-12
        ), word
    assert set(ways) | {"teeth", size, "pressure_angle"} >= set(gear.numbers)


# -- what is wrong is said -----------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("asked", "givens", "said"),
    [
        ("C", ["N1", "N2"], "it also needs one of diametral_pitch"),
        ("base_diameter", ["teeth", "diametral_pitch"], "it also needs one of pressure_angle"),
        ("C", ["N1"], "needs two more quantities"),
        ("driver_diametral_pitch", ["N1"], "did you mean diametral_pitch"),
        ("colour", ["N"], "'colour' is unknown"),
        ("pitch_diametre", ["N"], "near words: pitch_diameter"),
    ],
)
def test_what_is_missing_is_named(asked, givens, said):
    with pytest.raises(ValueError, match=re.escape(said)):
        derive(asked, givens)


def test_a_contradiction_is_named_with_its_size():
    with pytest.raises(ValueError, match="contradict") as caught:
        derive(
            "centre_distance",
            {"driver_teeth": 18, "driven_teeth": 45, "diametral_pitch": 10, "driver_pitch_diameter": 1.9},
        )
    text = str(caught.value)
    # By hand: 1.9 in at P = 10 are 19 teeth, one more than the 18 given (1/19 is 5.3 %).
    assert "18" in text and "19" in text and "5.3 %" in text and "leave one of them out" in text
    assert "pitch diameter of the driver 1.9" in text


def test_rounded_givens_are_no_contradiction():
    # A pinion of 12 DP and 11 teeth has d = 0.9167 in, printed to four digits (Mott, example 8-1).
    assert derive(
        "outside_diameter", {"teeth": 11, "diametral_pitch": 12, "pitch_diameter": 0.9167}
    ).result == pytest.approx(1.0833, abs=1e-4)


def test_both_pitches_at_once_are_refused():
    with pytest.raises(ValueError, match="not both") as caught:
        derive("pitch_diameter", {"teeth": 20, "module": 2.5, "diametral_pitch": 10})
    assert "2.54" in str(caught.value)


def test_a_count_that_is_not_whole_is_said_with_its_neighbours():
    way = derive("teeth", {"outside_diameter": 2.05, "diametral_pitch": 10})  # by hand: 2.05 * 10 - 2 = 18.5
    assert way.result == pytest.approx(18.5)
    assert len(way.notes) == 1 and "18 and 19" in way.notes[0] and "18.5" in way.notes[0]
    assert not derive("teeth", {"outside_diameter": 2.0, "diametral_pitch": 10}).notes


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ({"teeth": 20, "pressure_angle": 0.349, "diametral_pitch": 10}, "looks like radians"),
        ({"teeth": 20, "pressure_angle": 80, "diametral_pitch": 10}, "between 4.01"),
        ({"teeth": -3, "pressure_angle": 20, "diametral_pitch": 10}, "number of teeth -3 is out of range"),
        ({"teeth": 20, "pressure_angle": 20, "diametral_pitch": 0}, "diametral pitch 0"),
        ({"teeth": 20, "pressure_angle": 20, "diametral_pitch": math.nan}, "diametral pitch"),
    ],
)
def test_values_out_of_range_raise_with_their_limits(numbers, said):
    with pytest.raises(ValueError, match=re.escape(said)) as caught:
        derive("base_diameter", numbers)
    assert "give" in str(caught.value)


def test_a_value_without_a_real_answer_says_what_to_check():
    with pytest.raises(ValueError, match="no real value"):
        derive("pressure_angle", {"base_diameter": 2.1, "pitch_diameter": 2.0}, length_unit="in")


def test_value_asks_for_exactly_what_it_needs():
    way = derive("C", ["P", "N1", "N2"])
    with pytest.raises(ValueError, match="no value for driven_teeth"):
        way.value(P=10, N1=18)
    with pytest.raises(ValueError, match="not one of the givens"):
        way.value(P=10, N1=18, N2=45, phi=20)
    with pytest.raises(ValueError, match="made without values"):
        way.result


# -- numbers -------------------------------------------------------------------------------------------
def test_scalars_arrays_and_whole_numbers_agree():
    way = derive("base_diameter", ["N", "P", "phi"])
    counts = np.arange(12, 40)
    many = way.value(N=counts, P=10, phi=20.0)
    assert many.shape == counts.shape
    for n, d in zip(counts, many, strict=True):
        assert way.value(N=int(n), P=10, phi=20) == pytest.approx(d, rel=1e-14)
        assert way.value(N=int(n), P=10, phi=20) == way.value(N=float(n), P=10.0, phi=20.0)
    grid = way.value(N=counts[:, None], P=np.array([8, 10])[None, :], phi=20)
    assert grid.shape == (len(counts), 2)


def test_arrays_carry_nan_where_there_is_no_real_value():
    way = derive("pressure_angle", ["base_diameter", "pitch_diameter"], length_unit="in")
    assert np.isnan(way.value(base_diameter=[1.9, 2.1], pitch_diameter=2.0)).tolist() == [False, True]


def test_degrees_go_in_and_come_out():
    # a quarter turn over 2.5
    assert derive(
        "driven_angle", {"driver_angle": 90, "driver_teeth": 18, "driven_teeth": 45}
    ).result == pytest.approx(-36)
    assert derive("angle", {"turns": 2}).result == pytest.approx(720)
    assert derive("angle", ["turns"]).formula == 360 * sp.Symbol("k")


def test_formula_takes_degrees():
    way = derive("base_diameter", ["d", "phi"])
    d, phi = sp.symbols("d phi")
    assert float(way.formula.subs({d: 2, phi: 60})) == pytest.approx(1.0)  # cos 60 degrees is a half
    back = derive("phi", ["d_b", "d"])
    assert float(back.formula.subs(dict(zip(sp.symbols("d_b d"), (1, 2), strict=True)))) == pytest.approx(
        60.0
    )


@settings(max_examples=15, deadline=None)
@given(n1=teeth, n2=teeth, p=pitches)
def test_inch_and_metric_worlds_agree(n1, n2, p):
    """25.4 stands nowhere in theory.

    A module of 25.4/P gives 25.4 times every length (inch, by definition).
    """
    inch = derive(
        "driven_outside_diameter", {"driver_teeth": n1, "ratio": n2 / n1, "diametral_pitch": p}
    ).result
    metric = derive(
        "driven_outside_diameter", {"driver_teeth": n1, "ratio": n2 / n1, "module": 25.4 / p}
    ).result
    assert metric == pytest.approx(25.4 * inch)


def test_no_step_uses_what_comes_later():
    for asked, givens in (
        ("contact_ratio", ["P", "N1", "N2", "phi"]),
        ("over_pins", ["N", "P", "phi", "pin_diameter"]),
    ):
        known = {quantity_word(name) for name in givens}
        for step in derive(asked, givens).steps:
            assert set(step.inputs) <= known, step.quantity
            known.add(step.quantity)


def quantity_word(name):
    return next(word for word, entry in QUANTITIES.items() if name in (word, entry.symbol("inch")))


# -- reading -------------------------------------------------------------------------------------------
WAYS = [
    ("centre_distance", {"driver_teeth": 18, "driven_teeth": 45, "module": 2.5}),
    ("driver_teeth", {"centre_distance": 3.15, "diametral_pitch": 10, "ratio": 2.5}),
    ("driven_speed", {"driver_pitch_diameter": "1.8 in", "centre_distance": "3.15 in", "driver_speed": 15}),
    ("contact_ratio", {"driver_teeth": 18, "driven_teeth": 45, "module": 2.5, "pressure_angle": 20}),
    ("over_pins", {"teeth": 19, "module": 2.5, "pressure_angle": 20, "pin_diameter": 4.5}),
    ("driver_turns_to_repeat", {"driver_teeth": 18, "driven_teeth": 45}),
    ("span", {"teeth": 19, "module": 2.5, "pressure_angle": 20, "span_teeth": 3}),
]


@pytest.mark.parametrize(("asked", "givens"), WAYS, ids=[asked for asked, _ in WAYS])
@pytest.mark.parametrize("notation", ["inch", "iso"])
def test_every_form_shows_the_steps_the_numbers_and_the_unit(asked, givens, notation):
    way = derive(asked, givens, notation=notation)
    result = f"{way.result:.6g}"
    for text in (way.text(), way.markdown(), way.mathml()):
        assert result.lstrip("-") in text
        assert all(f"{number:g}" in text for word, number in way.numbers.items() if word in way.used)
        assert not re.search("[\u27e6\u27e7]", text)  # no placeholder is left
    # the last line says what it rests on
    assert way.text().count("\n") + 1 == len(way.lines("text")) + len(way.notes) + len(way.holds) + 1
    assert way.unit in way.text().splitlines()[len(way.lines("text")) - 1]
    assert all(step.relation.says in way.markdown() for step in way.steps if step.relation)
    assert way._repr_markdown_() == way.markdown()


@pytest.mark.parametrize(("asked", "givens"), WAYS, ids=[asked for asked, _ in WAYS])
@pytest.mark.parametrize("with_numbers", [True, False])
def test_mathml_is_well_formed_and_speaks(asked, givens, with_numbers):
    way = derive(asked, givens if with_numbers else list(givens))
    tree = ElementTree.fromstring(f"<div>{way.mathml()}</div>")
    formulas = tree.findall(".//math")
    assert len(formulas) == len(way.lines("mathml"))
    for formula in formulas:
        assert re.search(" equals |carried along", formula.get("aria-label"))
        assert formula.find(".//mo") is not None or formula.find(".//mi") is not None


def test_the_spoken_line_is_in_words():
    way = derive("centre_distance", ["driver_pitch_diameter", "driven_pitch_diameter"])
    assert way.spoken() == [
        "centre distance equals (pitch diameter of the driver plus pitch diameter of the driven gear) over 2"
    ]


def test_notation_is_for_reading_only():
    inch = derive("centre_distance", ["module", "driver_teeth", "driven_teeth"], notation="inch")
    iso = derive("a", ["m", "z1", "z2"], notation="iso")
    assert iso.asked == "centre_distance" and inch.tidy == iso.tidy
    assert {s.name for s in inch.formula.free_symbols} == {"m", "N1", "N2"}
    assert {s.name for s in iso.formula.free_symbols} == {"m", "z1", "z2"}
    assert inch.text().splitlines()[-2].split(": ")[1].startswith("C = ") and iso.text().splitlines()[
        -2
    ].split(": ")[1].startswith("a = ")
    with pytest.raises(ValueError, match="use 'inch'"):
        derive("C", ["P", "N1", "N2"], notation="metric")


def test_a_formula_says_where_it_holds():
    """The beam formula leaves out what breaks most teeth (Mott, section 9-8).

    A plain definition holds always and says nothing.
    """
    way = derive(
        "bending_stress",
        given=["tangential_force", "face_width", "module", "form_factor"],
        kind="load",
        notation="iso",
        length_unit="mm",
    )
    for shown in (way.markdown(), way.mathml()):
        assert (
            "An estimate for teaching. It holds with no stress concentration, wear, heat or creep counted."
            in shown
        )
    assert "It holds" not in derive("pitch_diameter", given=["N", "P"]).markdown()


def test_markdown_names_the_source_of_no_number_twice():
    way = derive("outside_diameter", {"teeth": 20, "diametral_pitch": 10})
    assert way.markdown().count("$$") == 2 * len(way.lines())
    assert way.lines()[0].source.startswith("R. L. Mott")


def test_text_written_out_beforehand_passes_through():
    """Worked solutions are compiled once: numbers may be text already written out, or placeholders."""
    way = derive("pitch_diameter", ["teeth", "diametral_pitch"])
    shown = way.mathml({"teeth": "{n}", "diametral_pitch": "{p}", "pitch_diameter": "{d}"})
    assert "{n}" in shown and "{p}" in shown and "{d}" in shown


def test_worlds_agree_with_a_gear_of_their_own():
    """The consistent numbers behind the search are those of real gears."""
    scope = scope_for("gear", "in", (system(),))
    for world in scope.worlds:
        assert all(math.isfinite(number) for number in world.values())
        gear = Gear(
            int(world[symbol("teeth")]),
            diametral_pitch=world[symbol("diametral_pitch")],
            pressure_angle=math.degrees(world[symbol("pressure_angle")]),
        )
        for word in ("outside_diameter", "base_pitch", "tooth_thickness"):
            assert getattr(gear, word) == pytest.approx(
                evaluate(symbol(word), world | {FULL_TURN: 2 * math.pi})
            )


def test_two_letters_may_cancel():
    """Base circles and pitch circles stand in one ratio.

    Neither pitch nor pressure angle is needed (ISO 21771).
    """
    way = derive("ratio", given=["driver_base_diameter", "driven_base_diameter"], length_unit="in")
    assert way.value(driver_base_diameter=2.0, driven_base_diameter=5.0) == 2.5
    # Two steps on: the pitch diameters from the centre distance and the ratio (the circles divide C as 1 :
    # i).
    assert derive(
        "driver_pitch_diameter", given={"centre_distance": "63 mm", "ratio": 2.5}
    ).result == pytest.approx(36.0, abs=1e-12)


def test_a_letter_that_cancels_from_a_long_form_leaves_a_number():
    """The contact ratio does not depend on the size of the tooth.

    Value: Mott, the formula of section 8-5, worked out by hand.
    """
    from math import cos, pi, radians, sin, sqrt

    def half(n):
        return sqrt((n + 2) ** 2 - (n * cos(radians(20))) ** 2)

    by_hand = (half(18) + half(45) - (18 + 45) * sin(radians(20))) / (2 * pi * cos(radians(20)))
    way = derive("contact_ratio", given={"N1": 18, "N2": 45, "phi": 20})
    assert way.result == pytest.approx(by_hand, abs=1e-12)
    (told,) = [line for line in way.text().splitlines() if line.startswith("in one formula")]
    assert float(told.split(" = ")[-1]) == pytest.approx(by_hand, rel=1e-5)


def test_a_carried_letter_leaves_the_form_that_others_compile():
    # the teeth of the sun are carried and go out only when like terms are gathered
    way = derive(
        "ring_speed",
        given=["carrier_speed", "planet_speed", "sun_speed"],
        kind="planetary set",
        notation="iso",
    )
    assert way.cancelling and {one.name for one in way.raw.free_symbols} == {
        "carrier_speed",
        "planet_speed",
        "sun_speed",
    }
    # ring of 80 held, sun of 20 at 100, arm at 20, planet of 30 at -33.33 rev/min: Budynas & Nisbett,
    # Shigley's, Example 13-6 (from memory)
    numbers = {symbol("carrier_speed"): 20.0, symbol("planet_speed"): -100 / 3, symbol("sun_speed"): 100.0}
    assert abs(evaluate(way.raw, numbers)) < 1e-12


def test_an_equation_too_wide_for_a_page_goes_on_below():
    way = Mesh(Gear(18, module=2.5), Gear(45, module=2.5)).explain("length_of_action")
    approach = next(line for line in way.lines("latex") if line.quantity == "length_of_approach").math
    assert (
        approach.startswith(r"\begin{aligned}") and approach.count(r"\\") == 1 and approach.count("&=") == 2
    )
    written = next(line for line in way.lines("mathml") if line.quantity == "length_of_approach").math
    assert written.count("<mtr>") == 2 and written.count("<math") == 1 and "aria-label" in way.mathml()
    short = next(line for line in way.lines("latex") if line.quantity == "driver_pitch_diameter").math
    assert "aligned" not in short and "<mtable" not in way.lines("mathml")[0].math


@pytest.mark.parametrize("kind", ["par", "Pair", 3])
def test_a_kind_that_is_none_is_refused_by_name(kind):
    for ask in (
        lambda: reach(("module",), kind),
        lambda: derive("module", given=["pitch_diameter", "teeth"], kind=kind),
    ):
        with pytest.raises(ValueError, match=f"kind {kind!r} is unknown.*one of gear, pair"):
            ask()
