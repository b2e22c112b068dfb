"""Ranges: each holds somewhere and fails somewhere, says so with number and limit, and every sentence without
a condition has its reason.
"""

import math

import pytest

from gearlab import derive
from gearlab.theory import ranges
from gearlab.theory.functions import flank_start_number
from gearlab.theory.ranges import Range
from gearlab.theory.relations import ALL

# Sentences that need no condition: what ``needs`` and ``unless`` see to, conventions of what a word means,
# and cautions about an estimate.
FEATURES_SEE_TO_IT = {
    "for two gears of one tooth system without profile shift",
    "with a mate of the same tooth system",
    "without profile shift",
    "for full teeth without profile shift",
    "for teeth without thinning",
    "for a train whose last shaft lies on the axis of the first",
    "for two meshes",
}
CONVENTIONS = {
    "in one length unit; inches and millimetres are converted apart",
    "for a marked tooth on each gear, angles from the same direction",
    "for a level line of centres, both gears drawn with a tooth towards the same side",
    "for drivers of 18 to 30 and driven gears of up to 72 teeth",
    "at the reference centre distance",
    "for a level line of centres, the outline centred",
    "for a hub on one side",
    "with both hubs towards the plate",
    "for a gear without hub",
    "for gears of one module without profile shift",
    "for a planet whose pin lies along the common axis",
    "for parallel axes",
    "for a square key",
    "for the inch standard; DIN 6885 puts a little more of it into the shaft",
}
CAUTIONS = {
    "for a solid shaft without keyway",
    "roughly: holding forces scatter widely",
    "with no stress concentration, wear, heat or creep counted",
    "without losses",
    "for teaching: wind loads come from the local code and a licensed engineer",
    "roughly: for a flat key",
    "roughly: a calculated length comes first",
    (
        "roughly: the standards go by steps, and metric shafts get from a quarter up to some four tenths of"
        " their diameter"
    ),
}

PAIR = {"module": 2, "driver_teeth": 20, "driven_teeth": 40, "pressure_angle": 20}
GEAR = {"module": 2, "teeth": 20, "pressure_angle": 20}
# Range: (asked, givens for which it holds, what is put in for which it does not, what is then said, features)
CASES = [
    (
        ranges.APPROACH,
        "contact_ratio",
        PAIR,
        {"driver_teeth": 9},
        "tips of the driven gear reach past the flank of the driver",
    ),
    (
        ranges.RECESS,
        "contact_ratio",
        PAIR,
        {"driver_teeth": 40, "driven_teeth": 9},
        "tips of the driver reach past the flank of the driven gear",
    ),
    (
        ranges.PLAY,
        "backlash",
        PAIR | {"centre_distance": 60.5},
        {"centre_distance": 61.9},
        "one pair of teeth lets go before the next takes over",
    ),
    (
        ranges.TWO_PAIRS,
        "two_pair_share",
        {"contact_ratio": 1.6},
        {"contact_ratio": 2.2},
        "two pairs always touch",
    ),
    (ranges.NO_UNDERCUT, "form_radius", GEAR, {"teeth": 12}, "the gear is undercut.*at least 17.09"),
    (
        ranges.POINT_ON_FLANK,
        "point_thickness",
        GEAR | {"point_radius": 20.5},
        {"point_radius": 23.0},
        "the point lies outside the tip",
    ),
    (
        ranges.OUTSIDE_BASE,
        "point_pressure_angle",
        GEAR | {"point_radius": 20.5},
        {"point_radius": 17.0},
        "inside the base circle there is no involute",
    ),
    (
        ranges.NOT_POINTED,
        "tip_thickness",
        GEAR | {"profile_shift": 0.5},
        {"profile_shift": 1.9, "teeth": 8},
        "pointed below its tip circle",
    ),
    (
        ranges.JAWS_ON_FLANK,
        "span",
        GEAR | {"span_teeth": 3},
        {"span_teeth": 7},
        "off the flanks, beyond the tips",
    ),
    (
        ranges.PIN_ON_FLANK,
        "over_pins",
        GEAR | {"pin_diameter": 3.456},
        {"pin_diameter": 9.0},
        "off the flanks, on the tips",
    ),
    (
        ranges.PIN_ON_FLANK,
        "over_pins",
        GEAR | {"pin_diameter": 3.456},
        {"pin_diameter": 2.9},
        "off the flanks|project beyond the tips|bottom of the space",
    ),
    (ranges.ODD, "across_tips", GEAR | {"teeth": 21}, {"teeth": 20}, "a tip is opposite a tip"),
    (
        ranges.FULL_20,
        "practical_least_shift",
        GEAR | {"teeth": 12},
        {"pressure_angle": 25},
        "another pressure angle: the pressure angle is 25 deg, and would have to be exactly 20 deg",
    ),
    (ranges.RACK_CONTACT, "rack_contact_ratio", GEAR, {"teeth": 10}, "the rack's tips reach past the flank"),
    (
        ranges.RATIO_FROM_1,
        "least_teeth_for_ratio",
        {"ratio": 3, "pressure_angle": 20},
        {"ratio": 0.4},
        "the driver is the larger gear.*at least 1",
    ),
    (
        ranges.MATE_LIMITED,
        "largest_mate_teeth",
        {"driver_teeth": 15, "pressure_angle": 20},
        {"driver_teeth": 25},
        "every mate and even a rack will do",
    ),
    (
        ranges.APART,
        "operating_pressure_angle",
        PAIR | {"centre_distance": 60.5},
        {"centre_distance": 56.0},
        "base circles overlap",
    ),
    (
        ranges.IN_RING,
        "contact_ratio",
        {"module": 2, "driver_teeth": 45, "driven_teeth": 120, "pressure_angle": 25},
        {"driver_teeth": 18, "driven_teeth": 60},
        "the ring's tips reach past the flank of the pinion",
    ),
    (
        ranges.IN_LINE,
        "idler_tangential_push",
        {
            "mesh_tangential_force": 20,
            "module": 2,
            "first_teeth": 20,
            "second_teeth": 30,
            "third_teeth": 20,
            "shaft_spacing": 100,
        },
        {"shaft_spacing": 90},
        "are not in line",
    ),
    (
        ranges.NOT_HOLLOW,
        "cone_distance",
        {"module": 2, "driver_teeth": 20, "driven_teeth": 40, "shaft_angle": 80},
        {"shaft_angle": 130},
        "cone would be hollow",
    ),
]
KIND = {
    ranges.IN_RING: {"kind": "internal pair"},
    ranges.PLAY: {"features": ["set distance"]},
    ranges.APART: {"features": ["set distance"]},
    ranges.NOT_POINTED: {"features": ["profile_shift"]},
    ranges.NOT_HOLLOW: {"kind": "bevel pair", "features": ["shaft angle"]},
    ranges.IN_LINE: {"kind": "idler train", "length_unit": "mm"},
    ranges.TWO_PAIRS: {"kind": "pair"},
    ranges.MATE_LIMITED: {"kind": "pair"},
}


@pytest.mark.parametrize(
    ("span", "asked", "givens", "wrong", "says"), CASES, ids=[f"{case[1]}: {case[4][:40]}" for case in CASES]
)
def test_each_range_holds_here_and_fails_there(span, asked, givens, wrong, says):
    more = KIND.get(span, {})
    told = derive(asked, givens, **more)
    assert math.isfinite(told.result) and span.says in told.holds and span.says in str(told)
    with pytest.raises(ValueError, match=says) as refused:
        derive(asked, givens | wrong, **more)
    assert "this formula holds" in str(refused.value) and span.instead in str(refused.value)
    # by letters the condition stands in the result, and is checked as soon as numbers stand in
    way = derive(asked, list(givens), **more)
    assert span.says in way.holds and way.value(**givens) == pytest.approx(told.result)
    with pytest.raises(ValueError, match=says):
        way.value(**(givens | wrong))
    several = way.value(**{word: [number, (givens | wrong)[word]] for word, number in givens.items()})
    assert several[0] == pytest.approx(told.result) and math.isnan(several[1])


def test_every_range_has_its_case_and_every_sentence_its_reason():
    seen = {case[0] for case in CASES}
    small = {
        relation.left for relation in ALL if isinstance(relation.holds, Range) and "%" in relation.holds.says
    }
    assert small == {
        "backlash_swing",
        "closing_distance",
        "least_backlash",
        "greatest_backlash",
        "growth_backlash",
    }
    for relation in ALL:
        if isinstance(relation.holds, Range):
            assert relation.holds in seen or relation.holds.alone or relation.left in small, relation.left
        else:
            assert (
                relation.holds == "always" or relation.holds in FEATURES_SEE_TO_IT | CONVENTIONS | CAUTIONS
            ), f"{relation.left}: {relation.holds!r} is no condition"


def test_small_changes_are_small():
    # 1 % of 100 mm is 1 mm: 2 (2 - 1)... the variation of two holes each 0.6 mm off is 1.2 mm.
    way = derive(
        "least_backlash",
        ["design_backlash", "hole_error", "profile_angle", "nominal_distance"],
        kind="workshop",
        length_unit="mm",
    )
    givens = {"design_backlash": 1.5, "profile_angle": 20, "nominal_distance": 100}
    assert way.value(hole_error=0.4, **givens) == pytest.approx(1.5 - 2 * 0.8 * math.tan(math.radians(20)))
    with pytest.raises(
        ValueError,
        match="up to 1 % of the centre distance.*the change is 1.2 mm, and would have to be at most 1 mm",
    ):
        way.value(hole_error=0.6, **givens)


@pytest.mark.parametrize("teeth", [18, 25, 60])
def test_the_start_of_a_whole_flank_is_the_rack_s(teeth):
    """Source: rack generation.

    Without undercut the last point of the straight flank lies (h + rho sin phi)/sin phi along the line of
    action.
    """
    phi = math.radians(20)
    assert flank_start_number(float(teeth), phi, math.pi / 2, 0.87, 0.38, 1.2) == pytest.approx(
        teeth / 2 * math.sin(phi) - 0.87 / math.sin(phi) - 0.38
    )
