"""Plate, stack, hub and tooth force: tasks, limits, numbers held against the vent drive's own (worked by hand)."""

import math

import pytest
import traitlets
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab.widgets import HubSection, PlateLayout, ShaftStack, ToothForces


def kinds(widget):
    return [one["kind"] for one in widget.warnings]


# The vent drive's plate of 220 x 160 mm with 18 and 45 teeth, module 2.5: holes (53.75, 80) and (132.5, 80), 28.75 mm at both ends (worked by hand).
def test_the_outline_of_the_pair_is_centred():
    layout = PlateLayout()
    assert kinds(layout)[-1] != "good", "centred holes are the mistake that the task begins with"
    layout.hole_x = 53.75
    assert kinds(layout)[-1] == "good"
    assert layout.margins == pytest.approx({"left": 28.75, "right": 28.75, "bottom": 21.25, "top": 21.25})
    assert layout.value("other_hole_x") == pytest.approx(132.5) and "(53.75, 80) and (132.5, 80)" in layout.text


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
    assert kinds(stack)[-1] == "warning" and "4.000 mm too short" in stack.warnings[-1]["text"]
    stack.shaft_length = 45.0
    assert kinds(stack)[-1] == "good" and stack.value("stock_length") == 45.0
    stack.shaft_length = 60.0
    assert kinds(stack)[-1] == "note"


def test_the_hub_turned_round_brings_the_face_to_the_plate():
    stack = ShaftStack()
    assert stack.value("face_height") == pytest.approx(1.5 + 25 - 6)    # 20.5 mm, worked by hand
    stack.hub_points = "outwards"
    assert stack.value("outward_face_height") == pytest.approx(1.5 + 6)
    assert stack.text.index("face") < stack.text.index("hub")


# Hub 28, bore 10: wall 9, window 9 to 19; M5 x 8 on a 0.5 flat (worked by hand).
def test_depth_and_screw_of_the_vent_drive():
    hub = HubSection()
    assert kinds(hub).count("warning") == 2     # short of the bore, and the screw stands out
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
    assert kinds(hub) == ["stop"] and "no wall for a thread" in hub.warnings[0]["text"] and hub.picture == before


# 91.5 N normal at 20 deg: 86.0 N along, 31.3 N apart (worked by hand: cos 20 = 0.9397, sin 20 = 0.3420).
def test_two_parts_make_up_the_force():
    forces = ToothForces(91.5)
    assert kinds(forces)[-1] == "note" and "do not make it up" in forces.text
    forces.along, forces.apart = 86.0, 31.3
    assert kinds(forces)[-1] == "good"
    assert forces.value("tangential_force") == pytest.approx(91.5 * 0.9397, abs=0.01) and forces.value("separating_force") == pytest.approx(91.5 * 0.3420, abs=0.01)
    forces.angle_of_pressure = 25.0
    assert kinds(forces)[-1] == "note"


def test_the_answer_is_not_shown_before_it_is_found():
    assert not [one for one in ToothForces(91.5).readout[0]["rows"] if "worked out" in one["label"]]


@pytest.mark.parametrize("widget", [PlateLayout, ShaftStack, HubSection, ToothForces])
def test_each_states_its_task_and_explains_its_numbers(widget):
    one = widget()
    assert "task" in kinds(one) and one.text.endswith(".")
    explained = [cell["word"] for group in one.readout for row in group["rows"] for cell in row["cells"] if cell["explained"]]
    for word in explained:
        one.asked = word
        assert "<math" in one.explanation["html"], word


@pytest.mark.parametrize(("call", "says"), [
    (lambda: PlateLayout(module=20.0), "module"),
    (lambda: PlateLayout(hole_x=-3.0), "hole_x"),
    (lambda: ShaftStack(face_width=30.0), "face_width"),
    (lambda: HubSection(60, 10), "hub_diameter"),
    (lambda: HubSection(28, 10, screw_length=7.0), "screw_length"),
    (lambda: ToothForces(0.0), "normal"),
    (lambda: ToothForces(50.0, pressure_angle=22.0), "choose from 14.5, 20, 25"),
])
def test_limits_are_said(call, says):
    with pytest.raises((ValueError, traitlets.TraitError), match=says):
        call()
