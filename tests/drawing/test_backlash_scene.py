"""The enlarged mesh: what is drawn as the gap is the gap."""

import numpy as np
import pytest

from gearlab.drawing import svg, views
from gearlab.drawing.shapes import Dimension, Dot, Outline, Teeth
from gearlab.drawing.views.backlash import nice
from gearlab.parts import Gear, Mesh
from gearlab.shape.rolling import Rolling


def pair(distance, driver=18, driven=45, **size):
    size = size or {"module": 2.5}
    return Mesh(Gear(driver, **size), Gear(driven, **size), distance)


@pytest.mark.parametrize("distance", [78.85, 78.89, 79.25, 80.0])
def test_the_marked_gap_is_the_play_measured_by_turning_the_cut_teeth(distance):
    mesh = pair(distance)
    mark = views.backlash(mesh).having("dimension", Dimension)[0]
    rolling = Rolling(mesh.driver.tooth, mesh.driven.tooth, distance / 2.5)
    # independent route: turned until the curves touch
    arc = rolling.backlash(distance / 2.5 * 45 / 63) * 2.5
    chord = np.hypot(*np.subtract(mark.start, mark.end))
    assert chord == pytest.approx(arc, rel=1e-4)
    assert f"{arc:.3f} mm" in mark.text


@pytest.mark.parametrize("distance", [78.89, 80.0])
def test_the_driving_flanks_touch_and_the_teeth_do_not_overlap(distance):
    from shapely import Polygon

    scene = views.backlash(pair(distance))
    driver, driven = (
        Polygon(shape.points()) for shape in scene.having("driver", Teeth) + scene.having("driven", Teeth)
    )
    # what the chords of the drawn flanks cut into each other, in mm2
    assert driver.intersection(driven).area < 2e-3
    # the drawn chords stand a thousandth of a millimetre inside the curves
    assert driver.distance(driven) < 2e-3
    point = scene.having("contact point", Dot)[0].at
    from shapely import Point

    assert driver.exterior.distance(Point(point)) < 2e-3 and driven.exterior.distance(Point(point)) < 2e-3


def test_the_shaded_gap_lies_between_the_teeth_and_the_shaded_overlap_in_both():
    from shapely import Polygon

    for distance, inside in ((79.0, False), (78.5, True)):
        scene = views.backlash(pair(distance))
        shade = Polygon(scene.having("shade", Outline)[0].points)
        driver, driven = (
            Polygon(shape.points()) for shape in scene.having("driver", Teeth) + scene.having("driven", Teeth)
        )
        for gear in (driver, driven):
            share = shade.intersection(gear).area / shade.area
            assert share > 0.97 if inside else share < 0.03


def test_no_gap_is_said_in_words():
    scene = views.backlash(pair(None))
    assert not scene.having("dimension", Dimension) and not scene.having("shade")
    assert "no backlash" in scene.text and "no gap" in svg(scene)
    assert "overlapping by 0.108 mm" in views.backlash(pair(78.6)).text


def test_inches_other_counts_and_a_carried_wheel():
    mesh = Mesh(Gear(18, diametral_pitch=10), Gear(45, diametral_pitch=10), 3.16)
    scene = views.backlash(mesh, control="centre_distance")
    assert scene.unit == "in" and "3.1600 in" in scene.text
    assert all(shape.motion.control == "centre_distance" for shape in scene.having("driven", Teeth))
    for driver, driven in ((6, 160), (160, 6), (60, 60)):
        mesh = Mesh(Gear(driver, module=1), Gear(driven, module=1), (driver + driven) / 2 + 0.3)
        assert views.backlash(mesh).having("shade")


def test_scale_bars():
    assert [nice(x) for x in (1.0, 1.99, 2.0, 4.9, 5.0)] == [1.0, 1.0, 2.0, 2.0, 5.0]
