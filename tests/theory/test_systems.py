"""Tooth systems: the rows of the standards, and what is asked for in vain."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlab.theory import system
from gearlab.theory.sizes import COARSE_PITCHES, FINE_PITCHES, MODULES, MODULES_SECOND_CHOICE, PREFERRED
from gearlab.theory.systems import NAMES, ROWS, full_round


# Addendum, dedendum and tip radius of the basic rack, in modules, with their sources: ISO 53:1998, profile A;
# ANSI B6.1-1932 for 14.5 degrees (dedendum 1.157, Mott table 8-3) and stub; tip radii 0.209 and 0.30 from
# memory.
@pytest.mark.parametrize(
    ("name", "angle", "addendum", "dedendum", "radius"),
    [
        ("full depth", 20, 1, 1.25, 0.38),
        ("full depth", 14.5, 1, 1.157, 0.209),
        ("full depth", 25, 1, 1.25, 0.30),
        ("stub", 20, 0.8, 1.0, 0.30),
    ],
)
def test_rows(name, angle, addendum, dedendum, radius):
    row = system(name, angle)
    assert (row.addendum, row.dedendum, row.tip_radius, row.extra_dedendum) == (addendum, dedendum, radius, 0)


def test_fine_pitch_adds_two_thousandths():
    row = system("fine pitch")  # ANSI B6.7: dedendum 1.200/P + 0.002 in
    assert (row.dedendum, row.extra("in")) == (1.2, 0.002)
    assert row.extra("mm") == pytest.approx(0.0508)  # 0.002 in of 25.4 mm


def test_every_row_has_a_source_and_marks_memory():
    assert all(row.source for row in ROWS)
    assert all("from memory" in row.source for row in ROWS if row.tip_radius in (0.209, 0.30, 0.25))


def test_full_round_is_the_circle_in_the_corner():
    """Independent route.

    A circle that touches both flanks and the tip line of the rack tooth, found by its centre.
    """
    for angle, dedendum in ((20, 1.25), (14.5, 1.157), (25, 1.25)):
        phi, radius = math.radians(angle), full_round(angle, dedendum)
        height = -dedendum + radius  # centre on the tooth's middle line
        half_width = math.pi / 4 + height * math.tan(phi)  # half the tooth at that height
        assert half_width * math.cos(phi) == pytest.approx(radius, rel=1e-12)  # distance to the flank


@given(st.floats(10, 32).filter(lambda a: a not in (14.5, 20.0, 25.0)))
def test_any_other_angle_takes_the_smaller_radius(angle):
    row = system("full depth", angle)
    assert row.pressure_angle == angle and row.addendum == 1 and row.dedendum == 1.25
    assert 0 < row.tip_radius <= min(0.38, full_round(angle, 1.25)) + 1e-15


@pytest.mark.parametrize(
    ("name", "angle", "said"),
    [
        ("fulldepth", 20, "choose one of"),
        ("stub", 14.5, "defined at 20 deg only"),
        ("full depth", 0.349, "looks like radians"),
        ("full depth", 9.9, "10 to 32 deg"),
        ("full depth", 33, "10 to 32 deg"),
    ],
)
def test_refusals(name, angle, said):
    with pytest.raises(ValueError, match=said):
        system(name, angle)


def test_the_names_are_the_rows():
    assert set(NAMES) == {"full depth", "stub", "fine pitch"}


def test_preferred_sizes_are_in_order_and_apart():
    for series in (MODULES, MODULES_SECOND_CHOICE, COARSE_PITCHES, FINE_PITCHES, *PREFERRED.values()):
        assert list(series) == sorted(set(series))
    assert not set(MODULES) & set(MODULES_SECOND_CHOICE)
    # ISO 54 follows the series of preferred numbers R10 (ISO 3) from 10 mm up: ten steps to a decade,
    # rounded.
    for one, two in zip(MODULES[10:], MODULES[11:], strict=False):
        assert two / one == pytest.approx(10**0.1, rel=0.07)
