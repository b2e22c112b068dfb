"""Gears on their centres: where they stand, and what is drawn about them, by plain geometry."""

import math

import numpy as np
import pytest

from gearlab.drawing.views import centres
from gearlab.parts import Gear, Mesh

PINION, WHEEL = Gear(18, module=2.5), Gear(45, module=2.5)


@pytest.mark.parametrize("angle", [0.0, 37.0, 145.0, 270.0])
@pytest.mark.parametrize("distance", [78.75, 80.0])
def test_the_pitch_point_divides_the_centre_distance_as_the_counts(angle, distance):
    # common practice: r1 : r2 = z1 : z2 at any centre distance
    second = (distance * math.cos(math.radians(angle)), distance * math.sin(math.radians(angle)))
    at = centres.pitch_point(Mesh(PINION, WHEEL, distance), second=second)
    to_first, to_second = math.hypot(*at), math.dist(at, second)
    assert to_first / to_second == pytest.approx(18 / 45)
    assert to_first + to_second == pytest.approx(distance)


@pytest.mark.parametrize("turning", [1.0, -1.0])
def test_backlash_lies_behind_the_driving_flanks(turning):
    driver, driven = centres.in_mesh(Mesh(PINION, WHEEL, 79.5), turning)
    middle = centres.in_mesh(Mesh(PINION, WHEEL, 79.5), -turning)[1].angle + driven.angle
    # both ways of driving are equally far from the middle of the space, half the backlash on the circle
    assert middle / 2 == pytest.approx(Mesh(PINION, WHEEL, 79.5).alignment(0.0))
    mesh = Mesh(PINION, WHEEL, 79.5)
    share = math.radians(driven.angle - mesh.alignment(0.0)) * 79.5 * 45 / 63
    assert share == pytest.approx(turning * mesh.backlash / 2)
    assert driver.angle == 0.0 and driven.speed == pytest.approx(-18 / 45)


def test_gears_of_a_picture_fill_its_width():
    gears = centres.at_distance(PINION, WHEEL, 100.0)
    low, high = centres.extent(gears)
    # outside diameters 50 and 117.5 mm (ISO 53)
    assert (low, high) == pytest.approx((-25.0, 158.75))
    assert centres.fitted(gears, 720.0) * (high - low) == pytest.approx(720.0 - centres.SIDES)
    assert centres.extent(gears, axis=1) == pytest.approx((-58.75, 58.75))


def test_a_space_faces_the_drivers_tooth_at_any_distance():
    driver, driven = centres.at_distance(PINION, WHEEL, 90.0)
    points = driven.teeth().points()
    facing = points[np.argmin(np.abs(points[:, 1]) + 1e3 * (points[:, 0] > 90.0))]
    # on the line of centres the driven gear has its root, 56.25 - 1.25 * 2.5 = 53.125 mm from its shaft
    assert 90.0 - facing[0] == pytest.approx(53.125, abs=0.02)
    assert driver.teeth().points()[:, 0].max() == pytest.approx(25.0, abs=1e-3)


def test_gears_of_different_units_are_refused():
    with pytest.raises(ValueError, match="different units, mm and in"):
        centres.at_distance(PINION, Gear(45, diametral_pitch=10), 80.0)
