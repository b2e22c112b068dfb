"""Lining up teeth in any position, held against the cut outlines (no contact theory: areas of polygons, curves rolled on each other)."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import Gear, Mesh, derive
from gearlab.shape.rolling import Rolling

teeth = st.integers(9, 90)
angles = st.floats(-400, 400)


def pair(n1, n2, opening=0.0):
    gears = Gear(n1, module=2.5), Gear(n2, module=2.5)
    return Mesh(*gears, centre_distance=1.25 * (n1 + n2) + opening)


# The rule of the drawing board (common practice): on a level line, both gears with a tooth towards +x, an odd wheel fits, an even one turns half a pitch.
@pytest.mark.parametrize(("n2", "turn"), [(45, 0.0), (46, 180 / 46), (32, 180 / 32), (71, 0.0)])
def test_level_line(n2, turn):
    assert pair(18, n2).alignment() == pytest.approx(turn, abs=1e-12)


@settings(max_examples=40)
@given(teeth, teeth, angles, angles)
def test_lined_up_teeth_do_not_overlap_and_half_a_pitch_off_they_do(n1, n2, driver, line):
    mesh = pair(n1, n2, 0.1)
    angle = mesh.alignment(driver, line)
    assert 0 <= angle < 360 / n2
    assert mesh.overlap_area(driver, angle, line) == 0.0
    assert mesh.overlap_area(driver, angle + 180 / n2, line) > mesh.driver.scale**2


@settings(max_examples=25)
@given(teeth, teeth, angles, angles)
def test_alignment_agrees_with_theory(n1, n2, driver, line):
    way = derive("driven_mark_angle", given=["driver_teeth", "driven_teeth", "line_angle", "driver_mark_angle"])
    found = way.value(driver_teeth=n1, driven_teeth=n2, line_angle=line, driver_mark_angle=driver)
    difference = (pair(n1, n2).alignment(driver, line) - found) % (360 / n2)
    assert min(difference, 360 / n2 - difference) < 1e-8


# Turned until the exact curves touch, on either side: the middle is the alignment, the width the free window.
@settings(max_examples=15, deadline=None)
@given(st.integers(17, 60), st.integers(17, 60), st.floats(0.02, 0.6), st.floats(-20, 20))
def test_the_free_window_is_what_the_curves_leave(n1, n2, opening, driver):
    mesh = pair(n1, n2, opening)
    rolling = Rolling(mesh.driver.tooth, mesh.driven.tooth, mesh.centre_distance / mesh.driver.scale)
    centre, width = rolling.free_window(math.radians(driver))
    assert math.degrees(width) == pytest.approx(mesh.free_window(), abs=1e-7)
    difference = (math.degrees(centre) - mesh.alignment(driver)) % (360 / n2)
    assert min(difference, 360 / n2 - difference) < 1e-5


def test_a_jammed_pair_has_no_window():
    with pytest.raises(ValueError, match="jams: at centre_distance = 78.5 mm its teeth are thicker than the spaces by .*; give at least 78.75 mm, or thin the teeth by"):
        Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=78.5).free_window()


def test_an_array_of_angles():
    mesh = pair(18, 45)
    assert mesh.alignment([0.0, 4.0], 30.0).tolist() == [mesh.alignment(0.0, 30.0), mesh.alignment(4.0, 30.0)]


# Two overlapping areas worked out apart: shapely's intersection of the full outlines (reference library), at 1e-4 of a tooth's area.
@pytest.mark.parametrize(("driver", "driven", "line"), [(0.0, 1.0, 0.0), (3.0, 0.0, 70.0), (10.0, 3.0, -130.0)])
def test_overlap_area_against_the_full_outlines(driver, driven, line):
    from shapely import Polygon
    from shapely.affinity import rotate, translate
    mesh = pair(18, 46)
    place = mesh.centre_distance * math.cos(math.radians(line)), mesh.centre_distance * math.sin(math.radians(line))
    one = rotate(Polygon(mesh.driver.outline(1e-5)), driver, origin=(0, 0))
    two = translate(rotate(Polygon(mesh.driven.outline(1e-5)), driven, origin=(0, 0)), *place)
    assert mesh.overlap_area(driver, driven, line) == pytest.approx(one.intersection(two).area, abs=1e-3 * mesh.driver.scale**2)
