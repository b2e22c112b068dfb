"""Racks and their pinions: published and hand-worked numbers, and the cut shapes rolled on each other."""

import math

import numpy as np
import pytest
from shapely import Polygon, affinity

from gearlab import Gear, Rack, RackDrive, derive

DRIVE = RackDrive(Gear(20, module=2.5), Rack(54, module=2.5))


def standing(drive, angle):
    """Pinion at the origin with tooth 0 at an angle [deg], and the part of the rack that is near, as polygons
    [unit].
    """
    pinion = affinity.rotate(Polygon(drive.pinion.outline(1e-6)), angle, origin=(0, 0))
    near = Rack(12, **drive.rack.tooth_size, pressure_angle=drive.rack.pressure_angle).outline(1e-6)
    near = near + (drive.alignment(angle) - 6 * drive.rack.circular_pitch, 0.0)
    height = drive.mounting_height - drive.rack.pitch_height
    return pinion, Polygon(near + (0.0, -height) if drive.side == "above" else near * (1, -1) + (0.0, height))


def test_numbers_of_the_vent_rack():
    # the drive of the roof vent by hand: pi m N a turn; travel over pitch, up to the next tooth, and three
    # more
    assert DRIVE.travel_per_turn == pytest.approx(math.pi * 50)
    assert Rack.for_travel(400, module=2.5).teeth == math.ceil(400 / (math.pi * 2.5)) + 3 == 54
    assert DRIVE.rack.toothed_length == pytest.approx(54 * math.pi * 2.5)
    assert DRIVE.largest_travel == pytest.approx(51 * math.pi * 2.5)
    assert DRIVE.mounting_height == 25 + 12.5
    assert DRIVE.forces(3.75) == pytest.approx((150, 150 * math.tan(math.radians(20))))
    assert DRIVE.forces(0) == (0, 0) and DRIVE.driven_back(0) == 0
    assert DRIVE.driven_back(150) == pytest.approx(3.75) and "brake" in DRIVE.back_driving
    assert DRIVE.rack_speed(6) == pytest.approx(math.pi * 50 * 6 / 60e3)
    first, last = DRIVE.stops
    assert last - first == pytest.approx(DRIVE.largest_travel) and first == pytest.approx(
        DRIVE.rack.toothed_length - last
    )


def test_travel_of_a_24_tooth_pinion_of_12_pitch():
    # rule of thumb of a pocket guide: 3.1416/P times N [in]
    drive = RackDrive(Gear(24, diametral_pitch=12), Rack(40, diametral_pitch=12))
    assert drive.travel(360) == pytest.approx(6.2832, abs=5e-5)


def test_direction_by_the_side_of_the_pinion():
    # kinematics: the lowest point of a wheel turning counter-clockwise moves to the right, its highest to the
    # left
    below = RackDrive(DRIVE.pinion, DRIVE.rack, side="below")
    assert DRIVE.travel(90) == -below.travel(90) > 0
    assert DRIVE.turns_for(30) == pytest.approx(30 / (math.pi * 50)) and below.turns_for(
        30
    ) == -DRIVE.turns_for(30)
    assert DRIVE.travel(np.array([0.0, 360.0])).tolist() == pytest.approx([0, DRIVE.travel_per_turn])


@pytest.mark.parametrize("side", ["above", "below"])
@pytest.mark.parametrize(
    "teeth, size",
    [(20, {"module": 2.5}), (33, {"diametral_pitch": 10}), (18, {"module": 4, "pressure_angle": 25})],
)
def test_pinion_rolls_on_the_rack_without_overlap(side, teeth, size):
    drive = RackDrive(Gear(teeth, **size), Rack(30, **size), side=side)
    unit = drive.rack.scale**2
    for angle in (0.0, 13.7, -90.0, 171.3, 301.0):
        pinion, rack = standing(drive, angle)
        assert pinion.intersection(rack).area < 2e-5 * unit
        # a tenth of a pitch aside the teeth stand in each other's way
        assert (
            pinion.intersection(affinity.translate(rack, 0.1 * drive.rack.circular_pitch)).area > 0.02 * unit
        )


def test_the_cut_shapes_say_how_far_the_rack_goes():
    # independent of theory: turn the cut pinion, and find the place at which the rack neither overlaps left
    # nor right
    def place(angle, guess):
        pinion = affinity.rotate(Polygon(DRIVE.pinion.outline(1e-6)), angle, origin=(0, 0))
        near = Rack(16, module=2.5).outline(1e-6) + (-8 * math.pi * 2.5, -25.0)

        def lean(x):
            both = pinion.intersection(affinity.translate(Polygon(near), x))
            return both.area

        steps = guess + np.linspace(-0.5, 0.5, 201)
        return steps[int(np.argmin([lean(x) for x in steps]))]

    start = place(-90.0, math.pi * 2.5 / 2)
    for turn in (11.0, 17.5):
        moved = place(-90.0 + turn, start + 50 * math.pi * turn / 360) - start
        assert moved == pytest.approx(math.pi * 50 * turn / 360, abs=0.006)


def test_outline_is_the_basic_rack():
    outline = Rack(3, module=1).outline()
    area = Polygon(outline).area
    # ISO 53 profile A without its rounds: on the datum line tooth and space are equal; a trapezium above, one
    # missing below
    slope = math.tan(math.radians(20))
    bare = 3 * (math.pi * (5 - 1.25) + math.pi * 1.25 / 2 + slope * 1.25**2 + math.pi / 2 - slope)
    assert bare < area < bare + 3 * 0.1  # the rounds fill a little of each space
    assert Polygon(outline).is_valid and outline[:, 1].max() == 1.0 and outline[:, 1].min() == -5.0


def test_a_shifted_pinion_stands_further_off():
    drive = RackDrive(Gear(12, module=3, profile_shift=0.6), Rack(20, module=3, pitch_height=32))
    # published metric gear tables: rack and shifted pinion, z 12, m 3, x 0.6, H 32 (from memory)
    assert drive.mounting_height == pytest.approx(51.8)
    pinion, rack = standing(drive, 40.0)
    assert pinion.intersection(rack).area < 2e-5 * 9


@pytest.mark.parametrize(
    "make, says",
    [
        (
            lambda: RackDrive(Gear(20, module=2.5), Rack(54, module=3)),
            "would not step alike. The pinion has module 2.5",
        ),
        (
            lambda: RackDrive(Gear(20, module=2.5), Rack(54, module=2.5, pressure_angle=14.5)),
            "give both the same",
        ),
        (lambda: RackDrive(Gear(20, module=2.5), Rack(54, module=2.5), side="left"), "above"),
        (lambda: RackDrive(Gear(20, module=2.5), Rack(3, module=2.5), spare_teeth=3), "from 1 to 2"),
        (lambda: DRIVE.turns_for(500), "run out of the pinion.*rack of 67 teeth"),
        (lambda: Rack(10, module=2.5, pitch_height=3), "cut through the back; give more than 3.125 mm"),
        (lambda: Rack(10), "exactly one"),
        (lambda: Rack(1, module=2), "whole number from 2"),
    ],
)
def test_errors_say_what_would_work(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def test_the_rack_named_in_the_error_is_long_enough():
    assert RackDrive(DRIVE.pinion, Rack(67, module=2.5)).turns_for(500) == pytest.approx(500 / (50 * math.pi))
    with pytest.raises(ValueError):
        RackDrive(DRIVE.pinion, Rack(66, module=2.5)).turns_for(500)


def test_explains_with_its_own_numbers():
    assert DRIVE.explain("rack_force", pinion_torque=3.75).result == pytest.approx(150)
    assert DRIVE.explain("rack_speed", speed=6).result == pytest.approx(50 * math.pi * 6 / 60e3)
    assert derive("travel_per_turn", {"teeth": 20, "module": 2.5}).result == pytest.approx(
        DRIVE.travel_per_turn
    )
    assert repr(DRIVE) == "RackDrive(Gear(20, module=2.5), Rack(54, module=2.5))"


def test_contact_of_shifted_thinned_and_shortened_pinions_on_a_rack():
    """By hand, geometry of the line of action.

    Approach (1 - x) m / sin(phi), recess from the pinion's outside circle.
    """
    for shift, thinning, shortening in ((0.0, 0.0, 0.0), (0.3, 0.0, 0.0), (0.5, 0.1, 0.2)):
        pinion = Gear(24, module=2.0, profile_shift=shift, tooth_thinning=thinning, tip_shortening=shortening)
        drive = RackDrive(pinion, Rack(30, module=2.0))
        sine, base, outside = (
            math.sin(math.radians(20)),
            24 * math.cos(math.radians(20)),
            24 + 2 * (1 + shift) - shortening,
        )
        recess = math.sqrt(outside**2 - base**2) - 24 * sine
        assert drive.contact_ratio == pytest.approx(
            ((1 - shift) * 2 / sine + recess) / (2 * math.pi * math.cos(math.radians(20))), abs=1e-12
        )
        assert drive.travel_per_turn == pytest.approx(48 * math.pi)


def test_an_undercut_pinion_on_a_rack_has_less_contact_than_the_formula_says():
    pinion = Gear(10, module=2.0)
    drive = RackDrive(pinion, Rack(30, module=2.0))
    # Measured by hand on the cut tooth: from its form circle to its outside circle along the line of action.
    base = 10 * math.cos(math.radians(20))
    ends = [math.sqrt(radius**2 - base**2) for radius in (pinion.tooth.form_radius * 2, 12.0)]
    assert drive.contact_ratio == pytest.approx(
        (ends[1] - ends[0]) / (2 * math.pi * math.cos(math.radians(20))), abs=1e-9
    )
    assert "rack_contact_ratio" in pinion.measured and drive.contact_ratio < 1.4
    stub = RackDrive(Gear(24, module=2.0), Rack(30, module=2.0, tooth_system="stub"))
    assert stub.contact_ratio < RackDrive(Gear(24, module=2.0), Rack(30, module=2.0)).contact_ratio
