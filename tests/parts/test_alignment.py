"""Lining up teeth in any position, held against the cut outlines (no contact theory.

Areas of polygons, curves rolled on each other).
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import Gear, Mesh, Train, derive
from gearlab.shape.rolling import Rolling

teeth = st.integers(9, 90)
angles = st.floats(-400, 400)


def pair(n1, n2, opening=0.0):
    gears = Gear(n1, module=2.5), Gear(n2, module=2.5)
    return Mesh(*gears, centre_distance=1.25 * (n1 + n2) + opening)


# The rule of the drawing board (common practice): on a level line, both gears with a tooth towards +x, an odd
# wheel fits, an even one turns half a pitch.
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
    way = derive(
        "driven_mark_angle", given=["driver_teeth", "driven_teeth", "line_angle", "driver_mark_angle"]
    )
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
    with pytest.raises(
        ValueError,
        match=(
            "jams: at centre_distance = 78.5 mm its teeth are thicker than the spaces by .*; give at least"
            " 78.75 mm, or thin the teeth by"
        ),
    ):
        Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=78.5).free_window()


def test_an_array_of_angles():
    mesh = pair(18, 45)
    assert mesh.alignment([0.0, 4.0], 30.0).tolist() == [mesh.alignment(0.0, 30.0), mesh.alignment(4.0, 30.0)]


# Two overlapping areas worked out apart: shapely's intersection of the full outlines (reference library), at
# 1e-4 of a tooth's area.
@pytest.mark.parametrize(
    ("driver", "driven", "line"), [(0.0, 1.0, 0.0), (3.0, 0.0, 70.0), (10.0, 3.0, -130.0)]
)
def test_overlap_area_against_the_full_outlines(driver, driven, line):
    from shapely import Polygon
    from shapely.affinity import rotate, translate

    mesh = pair(18, 46)
    place = (
        mesh.centre_distance * math.cos(math.radians(line)),
        mesh.centre_distance * math.sin(math.radians(line)),
    )
    one = rotate(Polygon(mesh.driver.outline(1e-5)), driver, origin=(0, 0))
    two = translate(rotate(Polygon(mesh.driven.outline(1e-5)), driven, origin=(0, 0)), *place)
    assert mesh.overlap_area(driver, driven, line) == pytest.approx(
        one.intersection(two).area, abs=1e-3 * mesh.driver.scale**2
    )


# -- rows ----------------------------------------------------------------------------------------------


def test_two_gears_on_a_shaft_turn_together():
    # By hand: an odd wheel on a level line stands at 0 for a driver at 0; the 21 on its shaft then drives a
    # 42 at half a pitch.
    train = Train.of(18, (45, 21), 42, module=2.5)
    assert train.alignment() == pytest.approx((0.0, 0.0, 180 / 42))
    assert train.alignment(4.0) == pytest.approx((4.0, 8.0 - 1.6, (180 / 42 - 6.4 / 2) % (360 / 42)))


# -- where it jams, and where the flanks do not reach --------------------------------------------------
def test_the_distance_named_frees_a_jammed_pair_and_so_does_the_thinning():
    for thinning in (0.0, 0.1):
        with pytest.raises(ValueError, match="jams") as caught:
            Mesh(
                Gear(18, module=2.5, tooth_thinning=thinning), Gear(45, module=2.5), centre_distance=78.5
            ).free_window()
        distance, thin = (
            float(str(caught.value).split(words)[1].split()[0])
            for words in ("give at least ", "thin the teeth by ")
        )
        assert (
            Mesh(
                Gear(18, module=2.5, tooth_thinning=thinning),
                Gear(45, module=2.5),
                centre_distance=distance + 1e-3,
            ).free_window()
            > 0
        )
        assert (
            Mesh(
                Gear(18, module=2.5, tooth_thinning=thinning + thin),
                Gear(45, module=2.5),
                centre_distance=78.5,
            ).free_window()
            > 0
        )


def test_an_undercut_pair_is_measured_on_its_curves():
    mesh = Mesh(Gear(9, module=2.5, tooth_thinning=0.1), Gear(45, module=2.5))
    width = mesh.free_window(5.0)
    assert mesh.undercut and 0 < width == pytest.approx(
        math.degrees(mesh.rolling.free_window(math.radians(5.0))[1])
    )


def test_shifts_that_nowhere_run_without_backlash_need_a_distance():
    """Closed form (ISO 21771).

    Inv(angle) = inv(phi) + 2 tan(phi) (x1 + x2) / (z1 + z2) must be above 0: here x1 + x2 above -22 inv 20 /
    2 tan 20 = -0.4505.
    """

    def gears(one, two):
        return Gear(10, module=2, profile_shift=one), Gear(12, module=2, profile_shift=two)

    with pytest.raises(ValueError, match=r"no centre distance is usual .* less than -0.45 modules together"):
        Mesh(*gears(-0.23, -0.23))
    pair = Mesh(*gears(-0.22, -0.22))
    # by the formula there is no play; so far undercut, the cut teeth are in each other's way elsewhere
    assert (
        pair.told.beyond["backlash"] == pytest.approx(0.0, abs=1e-9)
        and "backlash" in pair.measured
        and pair.backlash < 0
    )
    assert Mesh(*gears(-0.23, -0.23), 21.0).backlash > 0


@pytest.mark.parametrize("angles_", [("one", 0.0, 0.0), (0.0, math.nan, 0.0), (0.0, 0.0, math.inf)])
def test_angles_that_are_none(angles_):
    with pytest.raises(ValueError, match="_angle = .* give"):
        pair(18, 45).overlap_area(*angles_)
