"""The rack as an outline, against figure 1 of ISO 53:1998 and elementary geometry."""

import math

import numpy as np
import pytest

from gearlab.shape import Rack
from gearlab.shape.rack import rack_tooth

PROFILES = [
    (20, 1.0, 1.25, 0.38),
    (20, 1.0, 1.25, 0.3),
    (25, 1.0, 1.25, 0.2),
    (14.5, 1.0, 1.157, 0.209),
    (20, 0.8, 1.0, 0.0),
]


@pytest.mark.parametrize("angle, addendum, dedendum, round_", PROFILES)
@pytest.mark.parametrize("thinning", [0.0, 0.05])
def test_measures_of_one_tooth(angle, addendum, dedendum, round_, thinning):
    points = rack_tooth(Rack(math.radians(angle), addendum, dedendum, round_), thinning)
    assert points[-1, 0] - points[0, 0] == pytest.approx(math.pi)  # one pitch
    assert np.allclose(points, points[::-1] * (-1, 1))  # the same on both sides
    assert (points[:, 1].max(), points[:, 1].min()) == pytest.approx((addendum, -dedendum))
    right = points[len(points) // 2 :]
    assert (np.diff(right[:, 0]) >= -1e-12).all() and (np.diff(right[:, 1]) <= 1e-12).all()
    # on the datum line the tooth is half a pitch wide, less its thinning, and the flank leans by the pressure
    # angle
    assert np.interp(0.0, right[::-1, 1], right[::-1, 0]) == pytest.approx(math.pi / 4 - thinning / 2)
    flank = right[1] - right[0]
    assert math.degrees(math.atan2(flank[0], -flank[1])) == pytest.approx(angle)


@pytest.mark.parametrize("angle, addendum, dedendum, round_", PROFILES[:4])
def test_the_round_touches_flank_and_root(angle, addendum, dedendum, round_):
    points = rack_tooth(Rack(math.radians(angle), addendum, dedendum, round_), tolerance=1e-7)
    arc = points[len(points) // 2 + 1 : -1]
    # three points of it give its middle and radius (circle through three points)
    (ax, ay), (bx, by), (cx, cy) = arc[0], arc[len(arc) // 2], arc[-1]
    system = 2 * np.array([[bx - ax, by - ay], [cx - ax, cy - ay]])
    middle = np.linalg.solve(system, [bx**2 - ax**2 + by**2 - ay**2, cx**2 - ax**2 + cy**2 - ay**2])
    assert math.dist(middle, arc[0]) == pytest.approx(round_)
    assert middle[1] == pytest.approx(round_ - dedendum)  # tangent to the root line
    along = np.array([math.sin(math.radians(angle)), -math.cos(math.radians(angle))])
    off = middle - (math.pi / 4, 0.0)
    assert abs(along[0] * off[1] - along[1] * off[0]) == pytest.approx(round_)  # and to the flank


@pytest.mark.parametrize("tolerance", [1e-2, 1e-4, 1e-6])
def test_chords_keep_within_the_tolerance(tolerance):
    points = rack_tooth(Rack(math.radians(20), 1.0, 1.25, 0.38), tolerance=tolerance)
    arc = points[len(points) // 2 + 1 : -1]
    chord = np.hypot(*np.diff(arc, axis=0).T).max()
    assert 0.38 - math.sqrt(0.38**2 - chord**2 / 4) <= tolerance * (1 + 1e-6)
