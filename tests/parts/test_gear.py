"""A gear's numbers, worked out by theory, against the tooth that the rack cuts.

Two routes that share no formula.
"""

import math
import re

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from gearlab import Gear, Mesh
from gearlab.shape import measuring
from gearlab.theory import QUANTITIES

EXACT = 1e-9  # modules


@st.composite
def gears(draw):
    angle = draw(st.sampled_from([14.5, 20.0, 20.0, 25.0]))
    size = draw(
        st.sampled_from([{"module": 2.5}, {"module": 1.0}, {"diametral_pitch": 10}, {"diametral_pitch": 24}])
    )
    name = draw(st.sampled_from(["full depth", "stub", "fine pitch"])) if angle == 20.0 else "full depth"
    module = size["module"] if "module" in size else 1 / size["diametral_pitch"]
    options = {
        "profile_shift": draw(st.sampled_from([0.0, 0.0, -0.15, 0.1, 0.35])),
        "tooth_thinning": draw(st.sampled_from([0.0, 0.02])) * module,
        "tip_shortening": draw(st.sampled_from([0.0, 0.1])) * module,
    }
    return Gear(draw(st.integers(10, 130)), pressure_angle=angle, tooth_system=name, **size, **options)


# -- theory against shape ------------------------------------------------------------------------------
@settings(max_examples=40, deadline=None)
@given(gears())
def test_tip_and_root_circles_are_those_of_the_cut_outline(gear):
    radii = np.hypot(*gear.outline().T)
    assert radii.max() == pytest.approx(gear.outside_diameter / 2, abs=EXACT * gear.scale)
    # chords lie within tolerance of the arc
    assert radii.min() == pytest.approx(gear.root_diameter / 2, abs=2e-4 * gear.scale)
    assert gear.tooth.root_radius * gear.scale == pytest.approx(
        gear.root_diameter / 2, abs=EXACT * gear.scale
    )


@settings(max_examples=40, deadline=None)
@given(gears())
def test_tooth_thickness_is_what_a_circle_measures(gear):
    assume(gear.tooth.form_radius < gear.teeth / 2 < gear.tooth.tip_radius)
    measured = measuring.thickness(gear.tooth, gear.teeth / 2) * gear.scale
    assert gear.tooth_thickness == pytest.approx(measured, abs=EXACT * gear.scale)
    left, right = (measuring.flank_point(gear.tooth, gear.teeth / 2, side) * gear.scale for side in (1, -1))
    assert gear.chordal_thickness == pytest.approx(math.dist(left, right), abs=EXACT * gear.scale)
    # tooth 0 points along x
    assert gear.chordal_addendum == pytest.approx(gear.outside_diameter / 2 - left[0], abs=EXACT * gear.scale)


@settings(max_examples=30, deadline=None)
@given(gears())
def test_span_is_what_parallel_plates_measure(gear):
    for over in {gear.span_teeth, gear.span_teeth + 1, max(2, gear.span_teeth - 1)}:
        try:
            measured = measuring.span(gear.tooth, over) * gear.scale
        except ValueError:
            with pytest.raises(ValueError, match="off the flanks"):
                gear.span(over)
        else:
            assert gear.span(over) == pytest.approx(measured, abs=EXACT * gear.scale)


@settings(max_examples=30, deadline=None)
@given(gears())
def test_base_pitch_is_the_distance_of_neighbouring_flanks(gear):
    try:
        measured = measuring.base_pitch(gear.tooth)
    except ValueError:
        assume(False)
    assert gear.base_pitch == pytest.approx(measured * gear.scale, abs=EXACT * gear.scale)


@settings(max_examples=60, deadline=None)
@given(gears())
def test_undercut_is_said_where_the_cut_tooth_has_lost_its_flank(gear):
    margin = abs(gear.teeth - gear.numbers["least_teeth"])
    assume(margin > 1e-6)
    assert gear.undercut == gear.tooth.undercut


@settings(max_examples=25, deadline=None)
@given(gears(), st.floats(1.6, 1.9))
def test_size_over_pins_is_what_round_pins_measure(gear, pin):
    """A pin pushed into a space until it touches both flanks, found by halving.

    No involute function is used.
    """
    assume(not gear.undercut and gear.tooth.form_radius < gear.teeth / 2 < gear.tooth.tip_radius)
    try:
        size = gear.over_pins(pin * gear.scale)
    except ValueError:
        assume(False)
    form = gear.tooth
    # right flank of tooth 0, the space below it
    flank = form.flank(np.linspace(*form.flank_range, 4000), -1)[0]
    middle = np.array((math.cos(-math.pi / gear.teeth), math.sin(-math.pi / gear.teeth)))
    low, high = form.root_radius, form.tip_radius + pin
    for _ in range(60):
        radius = (low + high) / 2
        low, high = (
            (radius, high) if np.hypot(*(flank - radius * middle).T).min() < pin / 2 else (low, radius)
        )
    chord = 2 * radius if gear.teeth % 2 == 0 else 2 * radius * math.cos(math.pi / (2 * gear.teeth))
    assert size == pytest.approx((chord + pin) * gear.scale, abs=1e-4 * gear.scale)


@settings(max_examples=40, deadline=None)
@given(gears())
def test_the_ideal_pin_touches_on_the_pitch_circle(gear):
    assume(gear.profile_shift == 0 and gear.tooth_thinning == 0 and gear.tooth.form_radius < gear.teeth / 2)
    form, pin = gear.tooth, gear.numbers["ideal_pin"] / gear.scale
    u = np.linspace(*form.flank_range, 20001)
    points, normals = form.flank(u, -1)
    touch = int(np.argmin(np.abs(np.hypot(*points.T) - gear.teeth / 2)))
    centre = points[touch] + pin / 2 * normals[touch] * (1 if normals[touch][1] < 0 else -1)
    # the centre lies in the middle of the space
    assert math.atan2(centre[1], centre[0]) == pytest.approx(-math.pi / gear.teeth, abs=1e-3)


# -- outline -------------------------------------------------------------------------------------------
@settings(max_examples=20, deadline=None)
@given(gears())
def test_the_outline_is_closed_and_counter_clockwise(gear):
    outline = gear.outline()
    assert outline.ndim == 2 and outline.shape[1] == 2 and (outline[0] == outline[-1]).all()
    x, y = outline.T
    area = 0.5 * np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])
    assert math.pi * gear.root_diameter**2 / 4 < area < math.pi * gear.outside_diameter**2 / 4
    tooth_angles = np.angle((x + 1j * y)[np.hypot(x, y) > gear.outside_diameter / 2 - 1e-9 * gear.scale])
    assert np.abs(tooth_angles).min() < math.pi / gear.teeth / 2  # tooth 0 stands on the +x axis


def test_a_finer_tolerance_has_more_points():
    gear = Gear(18, module=2.5)
    assert len(gear.outline(1e-5)) > len(gear.outline(1e-3))


# -- numbers and words ---------------------------------------------------------------------------------
PROPERTIES = [
    "pitch_diameter",
    "base_diameter",
    "outside_diameter",
    "root_diameter",
    "circular_pitch",
    "base_pitch",
    "addendum",
    "dedendum",
    "whole_depth",
    "working_depth",
    "clearance",
    "tooth_thickness",
    "chordal_thickness",
    "chordal_addendum",
]


@settings(max_examples=15, deadline=None)
@given(gears())
def test_every_property_explains_itself(gear):
    for word in PROPERTIES:
        way = gear.explain(word)
        assert way.result == pytest.approx(getattr(gear, word), rel=1e-12, abs=1e-12)
        assert way.steps and all(step.relation.source for step in way.steps if step.relation)
        assert QUANTITIES[word].meaning in way.text()


def test_the_greenhouse_pinion_by_hand():
    gear = Gear(18, module=2.5)  # by hand, ISO 53 proportions: d = 45, da = 50, df = 38.75, h = 5.625
    assert (gear.pitch_diameter, gear.outside_diameter, gear.root_diameter, gear.whole_depth, gear.unit) == (
        45.0,
        50.0,
        38.75,
        5.625,
        "mm",
    )


@settings(max_examples=20, deadline=None)
@given(st.integers(12, 100), st.sampled_from([4, 8, 10, 24]))
def test_inch_and_metric_twins(n, p):
    inch, metric = Gear(n, diametral_pitch=p), Gear(n, module=25.4 / p)  # 25.4 mm to the inch, by definition
    for word in PROPERTIES:
        assert getattr(metric, word) == pytest.approx(25.4 * getattr(inch, word), rel=1e-12)


def test_whole_numbers_equal_floats():
    assert (
        Gear(20, diametral_pitch=10)
        == Gear(20.0, diametral_pitch=10.0)
        == Gear(np.int64(20), diametral_pitch=10)
    )
    assert dict(Gear(20, module=2).numbers) == dict(Gear(20, module=2.0).numbers)


def test_symbols_are_read_in_the_notation_of_the_unit():
    assert Gear(20, diametral_pitch=10).explain("a").asked == "addendum"
    assert Gear(20, module=2.5).explain("h_a").asked == "addendum"
    assert (
        "m" in Gear(20, module=2.5).explain("d").text()
        and "P" in Gear(20, diametral_pitch=10).explain("d").text()
    )


def test_a_gear_cannot_be_changed():
    gear = Gear(18, module=2.5)
    with pytest.raises(AttributeError):
        gear.teeth = 19
    with pytest.raises(TypeError):
        gear.numbers["teeth"] = 19
    assert len({gear, Gear(18, module=2.5)}) == 1


# -- names ---------------------------------------------------------------------------------------------
@settings(max_examples=60, deadline=None)
@given(gears(), st.sampled_from([None, 14.0, 0.625]))
def test_names_read_back(gear, face):
    gear = Gear(
        gear.teeth,
        diametral_pitch=gear.diametral_pitch,
        module=gear.module,
        pressure_angle=gear.pressure_angle,
        profile_shift=gear.profile_shift,
        face_width=face,
        tooth_system=gear.tooth_system,
        tooth_thinning=round(gear.tooth_thinning, 6),
        tip_shortening=round(gear.tip_shortening, 6),
    )
    assert Gear.from_name(gear.name) == gear
    assert gear.name.replace("_", "").replace("-", "").isalnum()


@pytest.mark.parametrize(
    "name",
    [
        "",
        "gear",
        "gear_18T",
        "gear_18_m2p5",
        "gear_18T_m2.5",
        "gear_18T_m2p5_q3",
        "wheel_18T_m2p5",
        "gear_18T_m2p5 ",
    ],
)
def test_names_that_cannot_be_read_show_the_pattern(name):
    with pytest.raises(ValueError, match="gear_18T_m2p5"):
        Gear.from_name(name)


# -- refusals ------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"teeth": 18}, "neither was given"),
        ({"teeth": 18, "module": 2.5, "diametral_pitch": 10}, "both were given"),
        ({"teeth": 18.5, "module": 2.5}, "teeth = 18.5"),
        ({"teeth": True, "module": 2.5}, "teeth = True"),
        ({"teeth": 5, "module": 2.5}, "whole number from 6 to 500"),
        ({"teeth": 501, "module": 2.5}, "whole number from 6 to 500"),
        ({"teeth": "18", "module": 2.5}, "teeth = '18'"),
        ({"teeth": 18, "module": 0}, "module = 0 mm is out of range"),
        ({"teeth": 18, "module": -1}, "above 0 mm"),
        ({"teeth": 18, "module": math.nan}, "module = nan"),
        ({"teeth": 18, "module": math.inf}, "module = inf"),
        ({"teeth": 18, "diametral_pitch": "ten"}, "not a number"),
        ({"teeth": 18, "module": 2.5, "pressure_angle": 0.349}, "looks like radians"),
        ({"teeth": 18, "module": 2.5, "pressure_angle": 40}, "10 to 32 deg"),
        ({"teeth": 18, "module": 2.5, "profile_shift": 4}, "profile_shift = 4 modules"),
        ({"teeth": 18, "module": 2.5, "tooth_thinning": -0.1}, "tooth_thinning = -0.1 mm"),
        ({"teeth": 18, "module": 2.5, "tip_shortening": -0.1}, "tip_shortening = -0.1 mm"),
        ({"teeth": 18, "module": 2.5, "face_width": 0}, "face_width = 0 mm"),
        ({"teeth": 18, "module": 2.5, "tooth_system": "odd"}, "choose one of"),
        ({"teeth": 18, "module": 2.5, "pressure_angle": 25, "tooth_system": "stub"}, "20 deg only"),
    ],
)
def test_a_bad_value_is_named_with_its_limits(options, said):
    with pytest.raises(ValueError) as caught:
        Gear(**options)
    assert said in str(caught.value)


def test_a_tooth_that_comes_to_a_point_is_refused_with_what_to_do():
    with pytest.raises(ValueError) as caught:
        Gear(10, module=2.5, profile_shift=1.2)
    assert any(word in str(caught.value) for word in ("point", "shift", "tip")) and any(
        letter.isdigit() for letter in str(caught.value)
    )


@pytest.mark.parametrize("pin", [0.0, -1.0, 0.5, 14.0])
def test_a_pin_that_measures_nothing_is_refused(pin):
    with pytest.raises(ValueError, match="pin"):
        Gear(18, module=2.5).over_pins(pin)


@pytest.mark.parametrize("over", [0, 19, 2.5, 12])
def test_a_span_that_touches_no_flank_is_refused(over):
    with pytest.raises(ValueError, match="span|teeth"):
        Gear(18, module=2.5).span(over)


def test_an_unknown_word_is_refused():
    with pytest.raises(ValueError, match="unknown"):
        Gear(18, module=2.5).explain("colour")


# -- measuring what cannot be measured -----------------------------------------------------------------
@pytest.mark.parametrize(
    ("gear", "pin"),
    [
        (Gear(18, module=2.5), 1.0),
        (Gear(18, module=2.5), 12.0),
        (Gear(17, diametral_pitch=10), 0.12),
        (Gear(6, module=2.5, profile_shift=-0.3), 4.32),
    ],
)
def test_pins_that_do_not_measure_name_those_that_do(gear, pin):
    for ask in (lambda: gear.over_pins(pin), lambda: gear.explain("over_pins", pin_diameter=pin)):
        with pytest.raises(
            ValueError,
            match=f"pin_diameter {pin:g} {gear.unit} does not measure {gear.name}: .* Give a pin between",
        ) as caught:
            ask()
        least, most, good = map(
            float,
            re.search(r"between ([\d.]+) and ([\d.]+) \w+, such as ([\d.]+)", str(caught.value)).groups(),
        )
        assert least < good < most
        for size in (1.0001 * least, good, 0.9999 * most):
            assert gear.over_pins(size) == pytest.approx(gear.explain("over_pins", pin_diameter=size).result)


def test_a_span_off_the_flanks_is_not_explained_either():
    with pytest.raises(ValueError, match="off the flanks.* radius at which the jaws touch .* use 3 teeth"):
        Gear(18, module=2.5).explain("span", span_teeth=9)
    assert Gear(18, module=2.5).explain("span", span_teeth=3).result == pytest.approx(
        Gear(18, module=2.5).span(3)
    )


def test_lengths_of_a_tooth_that_cannot_be_say_what_a_module_is():
    with pytest.raises(
        ValueError,
        match=(
            r"thinning must lie below 0.61.* \(One module is 2.5 mm here; tooth_thinning and tip_shortening"
            r" are given in mm.\)"
        ),
    ):
        Gear(18, module=2.5, tooth_thinning=3)
    with pytest.raises(ValueError, match=r"One module is 0.1 in here"):
        Gear(18, diametral_pitch=10, tooth_thinning=0.15)


@pytest.mark.parametrize(
    ("driver", "driven", "words"),
    [
        (18, Gear(45, module=2.5), "driver = 18 is no gear: give a Gear, such as"),
        (Gear(18, module=2.5), None, "driven = None is no gear: give a Gear or an InternalGear"),
    ],
)
def test_only_gears_mesh(driver, driven, words):
    with pytest.raises(ValueError, match=words):
        Mesh(driver, driven)


def test_a_tooth_without_a_middle_has_no_usual_span():
    """By hand: with N + 2x below N cos(phi) the circle that the jaws should touch lies inside the base
    circle.
    """
    gear = Gear(6, module=1.0, pressure_angle=14.5, profile_shift=-0.5)
    assert 6 * math.cos(math.radians(14.5)) > 6 - 1.0 and gear.span_teeth == 2
    with pytest.raises(ValueError, match="no count of teeth has its flanks there; measure over pins"):
        gear.span()
