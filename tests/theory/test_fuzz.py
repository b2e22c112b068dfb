"""Random questions to theory, and the ones that once took longest."""

import json
import math
import os
import subprocess
import sys
import time

import pytest
from fuzzing import fuzz

from gearlab.theory import derive, reach, system
from gearlab.theory.scope import KINDS, scope_for, symbol
from gearlab.theory.search import GaveUp, find
from gearlab.theory.solving import STEPS, Effort

# s of processor: a search takes up to 2 on the machine of DEVELOPERS.md; a slower one has ten times that
# before a test fails.
LIMIT = 20.0

# Found by random search over kinds, features, asked and givens; with searches unbounded each took from 2 s to
# several minutes.
SLOW = [
    (
        "pair",
        "in",
        ("set distance",),
        "driver_contact_angle",
        (
            "length_of_approach",
            "driven_teeth",
            "contact_ratio",
            "driver_space_half_angle",
            "driver_base_radius",
            "driver_outside_radius",
            "driver_span_teeth",
        ),
    ),
    ("gear", "mm", (), "least_shift_for_rack", ("pitch_line_speed", "base_radius", "least_shift")),
    (
        "gear",
        "mm",
        ("addendum_factor",),
        "pitch_circumference",
        (
            "form_radius",
            "normal_force",
            "tooth_thickness",
            "ideal_pin",
            "tip_roll_angle",
            "bore_offset",
            "whole_depth",
        ),
    ),
    (
        "internal pair",
        "in",
        (),
        "driven_base_radius",
        (
            "pressure_angle",
            "contact_ratio",
            "driver_span_teeth",
            "hole_spacing",
            "driver_base_radius",
            "driver_least_teeth",
            "driver_span",
        ),
    ),
    (
        "gear",
        "mm",
        (),
        "chordal_addendum",
        (
            "span_teeth",
            "rack_contact_ratio",
            "span",
            "next_span",
            "fitting_teeth",
            "least_shift",
            "pitch_diameter",
        ),
    ),
    (
        "gear",
        "in",
        (),
        "pitch_curvature_radius",
        ("base_pitch", "ideal_pin", "rack_contact_ratio", "least_shift", "form_radius"),
    ),
    (
        "gear",
        "in",
        ("tooth_thinning",),
        "root_radius",
        (
            "tip_thickness",
            "separating_force",
            "tip_pressure_angle",
            "mate_diametral_pitch",
            "mate_module",
            "least_shift",
            "mesh_frequency",
        ),
    ),
    (
        "bevel pair",
        "in",
        ("long addendum",),
        "driven_axial_face",
        (
            "output_speed",
            "driven_pitch_radius",
            "driver_crown_distance",
            "driver_dedendum_angle",
            "driven_cone_outside_diameter",
            "driven_teeth",
            "driver_axial_face",
        ),
    ),
    (
        "bevel pair",
        "in",
        (),
        "dedendum_angle",
        (
            "driver_inner_diameter",
            "driver_mean_diameter",
            "driven_inner_diameter",
            "driven_crown_distance",
            "face_width",
            "driver_speed",
        ),
    ),
    (
        "pair",
        "mm",
        ("tooth_thinning",),
        "driven_least_shift_for_rack",
        (
            "pitch_line_speed",
            "least_teeth_for_ratio",
            "wanted_ratio",
            "ideal_driven_teeth",
            "backlash",
            "driver_chordal_addendum",
            "driven_base_diameter",
        ),
    ),
    (
        "pair",
        "in",
        ("set distance",),
        "driven_tip_margin",
        (
            "driven_outside_diameter",
            "driver_outside_radius",
            "backlash",
            "driven_operating_pitch_diameter",
            "driver_operating_pitch_diameter",
            "driver_pitch_diameter",
        ),
    ),
    (
        "internal pair",
        "mm",
        (),
        "driver_outside_radius",
        (
            "driver_pin_diameter",
            "driver_base_diameter",
            "driver_ideal_pin",
            "driver_ideal_span_teeth",
            "driven_pitch_diameter",
            "inside_diameter",
        ),
    ),
]


def rows_of(kind):
    return (system(),) * (2 if len(KINDS[kind].sides) == 2 else 1)


def test_random_questions_are_answered_truly_or_refused():
    tally = fuzz(seed=20261129, seconds=math.inf, most=250)  # the same in every run; tests/bench asks on
    assert not tally.faults, "\n".join(tally.faults)
    assert tally.asked == 250 and tally.compared >= 400, tally
    assert tally.slowest[0] < LIMIT, tally.slowest


@pytest.mark.parametrize("question", SLOW, ids=[f"{kind}-{asked}" for kind, _, _, asked, _ in SLOW])
def test_what_took_longest_is_answered_or_given_up_soon(question):
    kind, unit, features, asked, given = question
    start = time.process_time()
    try:
        way = derive(asked, given, kind=kind, length_unit=unit, features=features)
    except ValueError as error:
        assert "gave up" in str(error) and "budget" in str(error)
        assert "given as well" in str(error) or "give what the teeth are made from" in str(error)
    else:
        assert set(way.used) <= set(given)
    assert time.process_time() - start < LIMIT


def test_what_helps_does_help():
    _, unit, features, asked, given = SLOW[1]
    with pytest.raises(ValueError, match="gave up") as caught:
        derive(asked, given, kind="gear", length_unit=unit, features=features)
    helpful = str(caught.value).split("with one of ")[1].split(" given as well")[0].split(", ")
    for word in helpful:
        assert derive(asked, (*given, word), kind="gear", length_unit=unit, features=features).steps


_STEPS = """
import json, sys
from gearlab.theory import system
from gearlab.theory.scope import scope_for, symbol
from gearlab.theory.search import GaveUp, find
from gearlab.theory.solving import Effort
left = []
for kind, unit, features, asked, given in json.load(sys.stdin):
    effort = Effort()
    try:
        find(scope_for(kind, unit, (system(),) * (1 if kind == "gear" else 2), frozenset(features)), [symbol(word) for word in given], symbol(asked), effort)
    except GaveUp:
        pass
    left.append(effort.left)
print(json.dumps(left))
"""  # noqa: E501


def test_the_budget_is_counted_alike_everywhere():
    """Steps do not hang on the time, on what was asked before, nor on the order in which Python happens to
    keep its sets.
    """
    some = [SLOW[place] for place in (5, 8)]
    found = [
        json.loads(
            subprocess.run(
                [sys.executable, "-c", _STEPS],
                input=json.dumps(questions),
                capture_output=True,
                text=True,
                check=True,
                env=os.environ | {"PYTHONHASHSEED": seed},
            ).stdout
        )
        for seed, questions in (("1", some), ("2", some[::-1]))
    ]
    assert found[0] == found[1][::-1]
    assert all(left < STEPS for left in found[0])


def test_a_search_out_of_steps_gives_up():
    kind, unit, features, asked, given = SLOW[1]
    scope = scope_for(kind, unit, rows_of(kind), frozenset(features))
    with pytest.raises(GaveUp):
        find(scope, [symbol(word) for word in given], symbol(asked), Effort(200))
    pair = scope_for("pair", "in", rows_of("pair"))
    # the taught ways need few
    assert find(
        pair,
        [symbol(word) for word in ("centre_distance", "diametral_pitch", "ratio")],
        symbol("driver_teeth"),
        Effort(1000),
    )


def test_reach_passes_over_what_it_cannot_find_soon():
    start = time.process_time()
    ways = reach(("base_radius", "form_radius", "least_shift", "rack_contact_ratio"), "gear")
    assert "base_diameter" in ways
    assert time.process_time() - start < 4 * LIMIT
