"""RackAndPinion, TwoCones and SunPlanetsRing without a browser: tasks, remarks, readout, refusals."""

import math

import pytest

from gearlab.widgets import RackAndPinion, SunPlanetsRing, TwoCones


def kinds(explorer):
    return [one["kind"] for one in explorer.warnings]


# -- RackAndPinion -------------------------------------------------------------------------------------
# Accept rule of the task: the angle is 360 s/(pi m N) to half a degree; example 68.8 degrees for 30 mm, bad example 34.4.  # noqa: E501
@pytest.mark.parametrize(
    "angle, right", [(68.8, True), (69.2, True), (34.4, False), (-68.8, False), (69.4, False)]
)
def test_the_rack_at_30_mm(angle, right):
    drive = RackAndPinion(20)
    drive.angle = angle
    assert drive.done == right == ("good" in kinds(drive)) and kinds(drive)[0] == "task"
    assert drive.travel == pytest.approx(math.pi * 50 * angle / 360)


def test_a_pinion_below_turns_the_other_way():
    drive = RackAndPinion(20, side="below")
    drive.angle = 68.8
    assert not drive.done and "turns clockwise" in drive.warnings[-1]["text"]
    drive.angle = -68.8
    assert drive.done and "68.8 degrees clockwise" in drive.warnings[-1]["text"]


def test_the_stop_holds_the_rack():
    drive = RackAndPinion(20, rack_teeth=20, spare_teeth=3)
    drive.angle = 400.0
    # by hand: 17 of 20 pitches of travel; half of them is 17/40 of a turn of 20 teeth
    assert drive.angle == pytest.approx(360 * 17 / 2 / 20) and "at its stop" in drive.warnings[-1]["text"]
    drive.rack_teeth = 12
    assert drive.angle == pytest.approx(360 * 9 / 2 / 20)
    assert any(
        "give it more teeth" in one["text"]
        for one in RackAndPinion(20, rack_teeth=12, spare_teeth=6).warnings
    )


def test_readout_of_the_rack_explains_itself():
    drive = RackAndPinion(20)
    assert (
        drive.value("travel_per_turn") == pytest.approx(math.pi * 50)
        and drive.value("mounting_height") == 37.5
    )
    assert drive.value("rack_speed") == pytest.approx(math.pi * 50 * 6 / 60)
    for word in ("travel_per_turn", "rack_speed", "mounting_height", "toothed_length", "largest_travel"):
        drive.asked = word
        assert "<math" in drive.explanation["html"], word
    drive.angle = 20.0
    drive.asked = "travel"
    assert "<math" in drive.explanation["html"]


# -- TwoCones ------------------------------------------------------------------------------------------
# Accept rule: each angle to 0.3 degrees; example 33.7 and 56.3 for 20 and 30 teeth, bad example 45 and 45.
@pytest.mark.parametrize(
    "one, two, right",
    [(33.7, 56.3, True), (45, 45, False), (34.0, 56.2, False), (33.9, 56.1, True), (33.7, 56.7, False)],
)
def test_the_angles_of_two_cones(one, two, right):
    cones = TwoCones(20, 30, driver_cone_angle=one, driven_cone_angle=two)
    assert cones.done == right == ("good" in kinds(cones))


def test_remarks_lead_to_the_angles():
    cones = TwoCones(20, 30)
    assert "slimmer" in cones.warnings[-1]["text"]
    cones.driver_cone_angle = 33.7
    assert "a gap of 11.3" in cones.warnings[-1]["text"]
    cones.driven_cone_angle = 60.0
    assert "overlap by 3.7" in cones.warnings[-1]["text"]


def test_the_side_reverses_the_output():
    cones = TwoCones(20, 20, driver_speed=6.0)
    assert cones.value("output_speed") == -6 and kinds(cones)[-1] == "good"
    cones.side = "below"
    assert cones.value("output_speed") == 6
    cones.driver_speed = -6.0
    assert cones.value("output_speed") == -6
    for word in (
        "output_speed",
        "driver_cone_angle",
        "cone_distance",
        "largest_face",
        "driven_apex_distance",
    ):
        cones.asked = word
        assert "<math" in cones.explanation["html"], word


def test_another_shaft_angle():
    # tan(driver's cone) = sin 60/(1 + cos 60) for equal counts: 30 degrees each, by symmetry
    assert TwoCones(24, 24, shaft_angle=60, driver_cone_angle=30, driven_cone_angle=30).done


# -- SunPlanetsRing ------------------------------------------------------------------------------------
# Accept rule: the remainder for three planets is 0, the reduction 3.5; example 24, 18, 60, bad example 20, 15, 50.  # noqa: E501
@pytest.mark.parametrize(
    "sun, planet, right",
    [(24, 18, True), (20, 15, False), (12, 9 + 3, False), (36, 27, True), (24, 20, False)],
)
def test_the_counts_of_a_set(sun, planet, right):
    head = SunPlanetsRing(sun, planet)
    assert head.done == right == ("good" in kinds(head))


def test_a_set_that_does_not_go_together_says_so_and_stands_still():
    head = SunPlanetsRing(20, 15)
    assert (
        kinds(head) == ["task", "stop"]
        and "take a sun of 21 teeth" in head.warnings[-1]["more"][0]
        and "21" not in head.warnings[-1]["text"]
        and "data-name" not in head.picture
    )
    head.sun_teeth, head.planet_teeth = 24, 18
    assert head.done and head.picture.count("data-name") > 0


def test_the_same_ratio_with_more_planets():
    head = SunPlanetsRing(24, 18, planets=4)
    assert (
        head.value("reduction") == 3.5
        and not head.done
        and "do not change the ratio" in head.warnings[-1]["text"]
    )


@pytest.mark.parametrize(
    "held, member, speed", [("ring", "carrier", 10), ("carrier", "ring", -14), ("sun", "carrier", 25)]
)
def test_speeds_by_what_is_held(held, member, speed):
    # by hand, 35 rpm in: 35 24/84; -35 24/60; ring in 35 60/84
    head = SunPlanetsRing(24, 18, held=held, driver_speed=28.0)
    assert head.value(f"{member}_speed") == pytest.approx(speed * 28 / 35)
    head.asked = f"{member}_speed"
    assert "<math" in head.explanation["html"]
    head.asked = "planet_speed"
    assert "<math" in head.explanation["html"]


def test_colliding_planets_leave_the_last_picture():
    head = SunPlanetsRing(24, 18, planets=6)
    before = head.picture
    head.planet_teeth = 30
    assert kinds(head) == ["stop"] and "collide" in head.warnings[0]["text"] and head.picture == before


@pytest.mark.parametrize(
    "make",
    [
        lambda: RackAndPinion(11),
        lambda: RackAndPinion(20, side="left"),
        lambda: RackAndPinion(20, spare_teeth=7),
        lambda: TwoCones(20, 30, driver_cone_angle=85),
        lambda: TwoCones(20, 50),
        lambda: TwoCones(20, 30, side="left"),
        lambda: SunPlanetsRing(11, 18),
        lambda: SunPlanetsRing(24, 18, held="planet"),
        lambda: SunPlanetsRing(24, 18, wanted_reduction=1),
    ],
)
def test_values_outside_their_limits_are_refused(make):
    with pytest.raises(ValueError, match="from|choose"):
        make()
