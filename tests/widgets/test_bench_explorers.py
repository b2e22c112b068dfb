"""Plate, stack, hub and tooth force.

Tasks, limits, numbers held against the vent drive's own (worked by hand).
"""

import math

import pytest
import traitlets
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab.widgets import HubSection, PlateLayout, ShaftStack, ToothForces


def kinds(widget):
    return [one["kind"] for one in widget.warnings]


# The vent drive's plate of 220 x 160 mm with 18 and 45 teeth, module 2.5: holes (53.75, 80) and (132.5, 80),
# 28.75 mm at both ends (worked by hand).
def test_the_outline_of_the_pair_is_centred():
    layout = PlateLayout()
    assert kinds(layout)[-1] != "good", "centred holes are the mistake that the task begins with"
    layout.hole_x = 53.75
    assert kinds(layout)[-1] == "good"
    assert layout.margins == pytest.approx({"left": 28.75, "right": 28.75, "bottom": 21.25, "top": 21.25})
    assert (
        layout.value("other_hole_x") == pytest.approx(132.5) and "(53.75, 80) and (132.5, 80)" in layout.text
    )


@settings(max_examples=20, deadline=None)
@given(st.floats(20, 120), st.floats(-90, 90))
def test_the_second_hole_stands_one_centre_distance_away(x, angle):
    layout = PlateLayout(hole_x=x)
    layout.line_angle = angle
    there = layout.value("other_hole_x") - x, layout.value("other_hole_y") - layout.hole_y
    assert math.hypot(*there) == pytest.approx(78.75, abs=1e-9)
    assert math.degrees(math.atan2(there[1], there[0])) == pytest.approx(angle, abs=1e-6)


def test_tips_over_the_edge_are_a_warning():
    layout = PlateLayout(hole_x=20.0)
    assert kinds(layout)[-1] == "warning" and "left" in layout.warnings[-1]["text"]


# Wheel's shaft: 8.5 + 6 + 1.5 + 25 + 3 = 44 mm, stock 45 (worked by hand).
def test_a_shaft_that_is_too_short_and_one_that_will_do():
    stack = ShaftStack()
    assert kinds(stack)[-1] == "warning" and "is too short" in stack.warnings[-1]["text"]
    stack.asked_for = "shaft_length"
    assert kinds(stack)[-1] == "warning" and "4.000 mm too short" in stack.warnings[-1]["text"]
    stack.shaft_length = 45.0
    assert kinds(stack)[-1] == "good" and stack.value("stock_length") == 45.0
    stack.shaft_length = 60.0
    assert kinds(stack)[-1] == "warning" and stack.warnings[-1]["lead"] == "Caution"  # a bare end does harm


def test_the_hub_turned_round_brings_the_face_to_the_plate():
    stack = ShaftStack()
    assert stack.value("face_height") == pytest.approx(1.5 + 25 - 6)  # 20.5 mm, worked by hand
    stack.hub_points = "outwards"
    assert stack.value("outward_face_height") == pytest.approx(1.5 + 6)
    assert stack.text.index("face") < stack.text.index("hub")


# Hub 28, bore 10: wall 9, window 9 to 19; M5 x 8 on a 0.5 flat (worked by hand).
def test_depth_and_screw_of_the_vent_drive():
    hub = HubSection()
    assert kinds(hub).count("warning") == 2  # short of the bore, and the screw stands out
    hub.drill_depth, hub.screw_length = 14.0, 8.0
    assert kinds(hub)[-1] == "good" and hub.value("screw_room") == 9.5
    hub.drill_depth = 20.0
    assert "bites 1.000 mm into the far wall" in hub.warnings[-1]["text"]
    hub.drill_depth = 18.0
    assert kinds(hub)[-1] == "note"


def test_a_hub_without_a_wall_keeps_the_last_picture_and_says_why():
    hub = HubSection(18, 10)
    before = hub.picture
    hub.bore_diameter = 15.0
    assert (
        kinds(hub) == ["stop"] and "no wall for a thread" in hub.warnings[0]["text"] and hub.picture == before
    )


# 91.5 N normal at 20 deg: 86.0 N along, 31.3 N apart (worked by hand: cos 20 = 0.9397, sin 20 = 0.3420).
def test_two_parts_make_up_the_force():
    forces = ToothForces(91.5)
    assert kinds(forces)[-1] == "note" and "do not make it up" in forces.text
    forces.along, forces.apart = 86.0, 31.3
    assert kinds(forces)[-1] == "good"
    assert forces.value("tangential_force") == pytest.approx(91.5 * 0.9397, abs=0.01) and forces.value(
        "separating_force"
    ) == pytest.approx(91.5 * 0.3420, abs=0.01)
    forces.angle_of_pressure = 25.0
    assert kinds(forces)[-1] == "note"


def test_the_answer_is_not_shown_before_it_is_found():
    rows = [one for one in ToothForces(91.5).readout[0]["rows"] if "worked out" in one["label"]]
    assert len(rows) == 2 and all(one["cells"][0]["secret"] for one in rows)
    assert all(one["cells"][0]["value"] is None and one["cells"][0]["text"] == "?" for one in rows)


# 18 and 45 teeth of P 10 on a plate 10 in long: 1.0 + 3.15 + 2.35 = 6.5 in from tip to tip, 1.75 in left at
# both ends (worked by hand).
def test_a_plate_in_inches():
    layout = PlateLayout(diametral_pitch=10)
    layout.hole_x = 2.75
    assert (
        kinds(layout)[-1] == "good"
        and layout.margins["left"] == pytest.approx(1.75) == layout.margins["right"]
    )
    assert (
        layout.value("other_hole_x") == pytest.approx(5.9)
        and "10 by 6.5 in" in layout.heading
        and "in left" in layout.text
    )
    layout.asked = "other_hole_x"
    assert "<math" in layout.explanation["html"]


def test_a_stack_in_inches_that_is_half_an_inch_too_long_for_its_shaft():
    """Plate 0.25, gap 0.25, gear 1 in overall on a 1 in shaft flush with the plate's back.

    0.5 in short (common practice).
    """
    stack = ShaftStack(unit="in", overall_length=1.0, behind_plate=0.0, end_length=0.0, shaft_length=1.0)
    stack.plate_thickness = stack.axial_gap = 0.25
    assert kinds(stack)[-1] == "warning" and "0.5" not in stack.warnings[-1]["text"]
    stack.asked_for = "shaft_length"
    assert kinds(stack)[-1] == "warning" and "0.5000 in too short" in stack.warnings[-1]["text"]
    stack.shaft_length = 1.5
    assert kinds(stack)[-1] == "good" and stack.value("stock_length") == 1.5
    with pytest.raises(ValueError, match="3.25 in"):
        stack.shaft_length = 40.0


# Hub 1.125, bore 0.375: wall 0.375, window 0.375 to 0.75 in, room for a screw 0.375 + 0.02 (worked by hand).
def test_depth_and_screw_in_inches():
    hub = HubSection(unit="in")
    assert kinds(hub).count("warning") == 2
    assert (
        hub.value("hub_wall"),
        hub.value("least_drill_depth"),
        hub.value("greatest_drill_depth"),
    ) == pytest.approx((0.375, 0.375, 0.75))
    assert hub.value("screw_room") == pytest.approx(0.395)
    hub.drill_depth, hub.screw_length = 0.54, 0.25
    assert kinds(hub)[-1] == "good" and "mm" not in hub.text + " ".join(one["text"] for one in hub.warnings)
    hub.hub_diameter = 0.625
    hub.bore_diameter = 0.5
    assert kinds(hub) == ["stop"] and "0.16 in larger" in hub.warnings[0]["text"]


# 20.5 lbf at 20 deg: 19.26 along, 7.01 apart (worked by hand: cos 20 = 0.9397, sin 20 = 0.3420).
def test_two_parts_make_up_a_force_in_pounds():
    forces = ToothForces(20.5, diametral_pitch=10)
    forces.along, forces.apart = 19.26, 7.01
    assert kinds(forces)[-1] == "good" and "7.01 lbf" in forces.text
    assert forces.value("tangential_force") == pytest.approx(20.5 * 0.9397, abs=0.01)


@pytest.mark.parametrize(
    "make",
    [
        PlateLayout,
        ShaftStack,
        HubSection,
        ToothForces,
        lambda: PlateLayout(diametral_pitch=10),
        lambda: ShaftStack(unit="in"),
        lambda: HubSection(unit="in"),
        lambda: ToothForces(diametral_pitch=10),
    ],
)
def test_each_states_its_task_and_explains_its_numbers(make):
    one = make()
    assert "task" in kinds(one) and one.text.endswith(".")
    explained = [
        cell["word"]
        for group in one.readout
        for row in group["rows"]
        for cell in row["cells"]
        if cell["explained"]
    ]
    for word in explained:
        one.asked = word
        assert "<math" in one.explanation["html"], word


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: PlateLayout(module=20.0), "module"),
        (lambda: PlateLayout(hole_x=-3.0), "hole_x"),
        (lambda: ShaftStack(face_width=30.0), "face_width"),
        (lambda: ShaftStack(unit="cm"), "choose from mm, in"),
        (lambda: ShaftStack(unit="in", overall_length=25.0), "0.15 to 2.5 in"),
        (lambda: HubSection(60, 10), "hub_diameter"),
        (lambda: HubSection(28, 10, unit="in"), "0.3125 to 2 in"),
        (lambda: HubSection(28, 10, screw_length=7.0), "screw_length"),
        (lambda: ToothForces(0.0), "normal"),
        (lambda: ToothForces(50.0, pressure_angle=22.0), "choose from 14.5, 20, 25"),
    ],
)
def test_limits_are_said(call, says):
    with pytest.raises((ValueError, traitlets.TraitError), match=says):
        call()
