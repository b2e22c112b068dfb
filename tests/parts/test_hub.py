"""The hubs of the roof vent: walls, drills, set screws, and what a hub refuses."""

import pytest

from gearlab import Gear
from gearlab.parts.hub import Hub
from gearlab.parts.published.fastening import LENGTHS, key, set_screw

PINION, WHEEL = Gear(18, module=2.5), Gear(45, module=2.5)
PINION_HUB, WHEEL_HUB = Hub(28, 10, 13, 14, flat_depth=0.5), Hub(32, 10, 13, 12, flat_depth=0.5)


# The roof-vent drive by hand: (28 - 10)/2 = 9, (28 + 10)/2 = 19; (32 - 10)/2 = 11, (32 + 10)/2 = 21; 14 + 13
# = 27, 12 + 13 = 25.
@pytest.mark.parametrize(("hub", "wall", "far", "length"), [(PINION_HUB, 9, 19, 27), (WHEEL_HUB, 11, 21, 25)])
def test_the_hubs_of_the_roof_vent(hub, wall, far, length):
    assert hub.wall == wall and hub.drill_window == (wall, far) and hub.overall_length == length
    assert hub.longest_screw == wall + 0.5


# Set screws of the drawing: M5 x 8 in the pinion, M5 x 10 in the wheel, on a flat of 0.5 mm.
@pytest.mark.parametrize(("hub", "length"), [(PINION_HUB, 8), (WHEEL_HUB, 10)])
def test_the_longest_screw_that_stays_below_the_surface(hub, length):
    assert max(one for one in LENGTHS["mm"] if one <= hub.longest_screw) == length
    assert hub.drill_window[0] < 14 < hub.drill_window[1]  # the stated drill depth
    assert set_screw("M5").tap_drill == pytest.approx(4.2)


# By hand: root circle 45 - 2 x 1.25 x 2.5 = 38.75, room (38.75 - 28)/2; largest hub with 2 mm left 34.75, the
# drawing says 34.
def test_a_hub_stays_below_the_root_circle():
    assert PINION_HUB.room_below(PINION) == pytest.approx(5.375)
    assert Hub(34, 10, 13, 14).room_below(PINION) > 2
    assert Hub(40, 10, 13, 14).room_below(PINION) == pytest.approx(-0.625)
    assert PINION_HUB.explain(
        "largest_hub", root_diameter=PINION.root_diameter, hub_room=2.0
    ).result == pytest.approx(34.75)


# By hand: 117.5/2 - 32/2 + 13 = 55.75 on the wheel.
def test_the_drill_clears_the_tips():
    assert WHEEL_HUB.chuck_reach(WHEEL, 13) == pytest.approx(55.75)
    assert WHEEL_HUB.chuck_reach(WHEEL, 0) == pytest.approx(42.75)


# By hand: (28 - 16)/2 - 2.3 = 3.7 mm above a keyway of a 16 mm bore (DIN 6885: 2.3 deep); (38.75 - 16)/2 -
# 2.3 = 9.075 under a tooth space.
def test_a_keyway_takes_its_depth_from_the_wall():
    hub = Hub(28, 16, 13, 14, keyway_depth=key(16.0).hub_depth)
    assert hub.wall_over_keyway == pytest.approx(3.7)
    assert hub.rim_over_keyway(PINION) == pytest.approx(9.075)
    assert Hub(28, 24, 13, 14, keyway_depth=3.3).wall_over_keyway == pytest.approx(-1.3)


def test_shifted_teeth_have_their_own_root_circle():
    """A shift of 0.4 lifts the root circle's radius by one millimetre (definition: x m)."""
    shifted = Gear(18, module=2.5, profile_shift=0.4)
    assert PINION_HUB.room_below(shifted) == pytest.approx(5.375 + 1.0)
    assert PINION_HUB.rim_over_keyway(shifted) == pytest.approx(PINION_HUB.rim_over_keyway(PINION) + 1.0)
    assert PINION_HUB.chuck_reach(shifted, 14) == pytest.approx(shifted.outside_diameter / 2 - 14 + 14)


# The inch twin by hand: hub 1 1/8 on a bore of 3/8: wall 3/8, far wall at 3/4; face 0.55, over all 1.10.
def test_the_inch_twin():
    hub = Hub(1.125, 0.375, 0.55, 0.55, unit="in")
    assert (
        hub.wall == 0.375 and hub.drill_window == (0.375, 0.75) and hub.overall_length == pytest.approx(1.10)
    )
    assert hub.room_below(Gear(18, diametral_pitch=10)) == pytest.approx((1.55 - 1.125) / 2)


def test_a_hub_on_both_sides_counts_twice():
    assert Hub(28, 10, 6, 14, both_sides=True).overall_length == 26


def test_its_numbers_explain_themselves():
    assert "= 9 mm" in PINION_HUB.explain("hub_wall").text()
    # inch letters for inches
    assert (
        "(D_h - B)/2 = (1.125 in - 0.375 in)/2 = 0.375 in"
        in Hub(1.125, 0.375, 0.5, 0.5, unit="in").explain("hub_wall").text()
    )


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Hub(28, 28, 13, 14), "bore = 28 mm leaves no wall in a hub of 28 mm"),
        (
            lambda: Hub(28, 10, -1, 14),
            "projection = -1 mm is out of range: give a finite number from 0 mm up",
        ),
        (lambda: Hub(28, 10, 13, 0), "face_width = 0 mm is out of range"),
        (lambda: Hub(28, 10, 13, 14, unit="cm"), "unit 'cm' is unknown"),
        (
            lambda: PINION_HUB.room_below(Gear(18, diametral_pitch=10)),
            "the gear is measured in in, the hub in mm",
        ),
        (
            lambda: PINION_HUB.chuck_reach(Gear(18, diametral_pitch=10), 14),
            "the gear is measured in in, the hub in mm",
        ),
        (lambda: PINION_HUB.chuck_reach(PINION, -1), "depth = -1 mm"),
    ],
)
def test_what_a_hub_refuses(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def test_a_hole_over_a_tooth_or_a_space():
    """18 teeth stand 20 degrees apart.

    Square to the first tooth lies the space after the fourth, since 4 does not divide 18.
    """
    hub, pinion = Hub(28, 10, 13, 14), Gear(18, module=2.5)
    assert hub.hole_angle(pinion, "tooth", 9) == pytest.approx(180.0) and hub.hole_angle(
        pinion, "space", 4
    ) == pytest.approx(90.0)
    assert hub.hole_angle(Gear(45, module=2.5), "space", 44) == pytest.approx(356.0)
    for wrong, says in (
        (lambda: hub.hole_angle(pinion, "gap"), "give 'tooth' or 'space'"),
        (lambda: hub.hole_angle(pinion, "tooth", 18), "whole number from 0 to 17"),
    ):
        with pytest.raises(ValueError, match=says):
            wrong()
