"""Lining up the teeth.

Overlap and free window measured on the cut teeth, against the worked answers' closed form.
"""

import math

import pytest

from gearlab.drawing import views
from gearlab.drawing.motion import Swing
from gearlab.drawing.shapes import Outline, Teeth
from gearlab.drawing.views.aligned import free_window
from gearlab.parts import Gear, Mesh


def pair(driver, driven, backlash=0.6, **size):
    size = size or {"module": 2.5}
    return Mesh(*(Gear(teeth, tooth_thinning=backlash / 2, **size) for teeth in (driver, driven)))


def closed_form(n1, n2, theta1, beta):
    # worked answers of the project, 09.5: closed form evaluated apart from this code
    return (beta * (1 + n1 / n2) + 180 + 180 / n2 - theta1 * n1 / n2) % (360 / n2)


@pytest.mark.parametrize(
    "n1, n2, theta1, beta",
    [
        (18, 45, 0, 0),
        (18, 46, 0, 0),
        (18, 45, 4, 0),
        (18, 45, 4, 30),
        (19, 46, 7.5, 75),
        (23, 31, -40, -120),
        (60, 17, 3, 179),
    ],
)
def test_the_middle_of_the_free_window_is_the_closed_form(n1, n2, theta1, beta):
    middle, width = free_window(pair(n1, n2), theta1, beta)
    assert math.remainder(middle - closed_form(n1, n2, theta1, beta), 360 / n2) == pytest.approx(
        0.0, abs=1e-9
    )
    # the backlash as an angle: arc over pitch radius
    assert width == pytest.approx(math.degrees(0.6 / (1.25 * n2)), rel=1e-6)


@pytest.mark.parametrize("n1, n2, theta1, beta", [(18, 46, 0, 0), (18, 45, 4, 30), (25, 32, -7, 200)])
def test_nothing_overlaps_in_the_window_and_something_just_outside(n1, n2, theta1, beta):
    mesh = pair(n1, n2)
    middle, width = free_window(mesh, theta1, beta)
    for share, free in ((-0.95, True), (0.0, True), (0.95, True), (-1.2, False), (1.2, False), (4.0, False)):
        area = mesh.overlap_area(theta1, middle + share * width / 2, beta)
        assert (area == 0.0) is free, share


def test_the_overlap_is_that_of_the_whole_outlines():
    from shapely import Polygon, affinity

    mesh = pair(18, 46)
    for theta1, theta2, beta in ((0, 0, 0), (4, 30, 30), (-11, 2, 140)):
        one = affinity.rotate(Polygon(mesh.driver.outline()), theta1, origin=(0, 0))
        two = affinity.rotate(Polygon(mesh.driven.outline()), theta2, origin=(0, 0))
        x, y = (
            mesh.centre_distance * part
            for part in (math.cos(math.radians(beta)), math.sin(math.radians(beta)))
        )
        whole = one.intersection(affinity.translate(two, x, y)).area
        scene = views.aligned(mesh, theta1, theta2, line_angle=beta)
        drawn = sum(Polygon(piece.points).area for piece in scene.having("overlap", Outline))
        assert drawn == pytest.approx(whole, abs=2e-3 * max(1, whole))
        assert f"{mesh.overlap_area(theta1, theta2, beta):.3f} mm" in scene.text


def test_the_drawn_teeth_stand_at_the_angles_given_and_are_turned_by_hand():
    scene = views.aligned(
        pair(18, 46), 4.0, 30.0, line_angle=30.0, window=(5.0, 0.6), controls=("driver_angle", "driven_angle")
    )
    for role, angle in (("driver", 4.0), ("driven", 30.0)):
        shape = scene.having(role, Teeth)[0]
        assert (
            shape.angle == angle
            and isinstance(shape.motion, Swing)
            and shape.motion.control == f"{role}_angle"
            and shape.motion.about == shape.centre
        )
    x, y = scene.having("driven", Teeth)[0].centre
    # (18 + 46) * 2.5 / 2
    assert math.degrees(math.atan2(y, x)) == pytest.approx(30.0) and math.hypot(x, y) == pytest.approx(80.0)


@pytest.mark.parametrize("teeth", [(6, 160), (160, 6), (6, 6), (17, 17)])
def test_any_counts_can_be_drawn(teeth):
    mesh = pair(*teeth, backlash=0.0, module=1)
    for beta in (0, 90, -135):
        scene = views.aligned(mesh, 1.0, 2.0, line_angle=beta, window=free_window(mesh, 1.0, beta))
        assert all(math.isfinite(edge) for edge in scene.bounds)


def test_the_sentence_says_the_overlap():
    assert "overlap by 26.8" in views.aligned(pair(18, 46), 0, 0).text
    assert views.aligned(pair(18, 46), 0, 180 / 46).text.endswith(
        "the teeth overlap nowhere, 0.000 mm\u00b2."
    )
    assert "at 30\u00b0" in views.aligned(pair(18, 46), 0, 0, line_angle=30).text
