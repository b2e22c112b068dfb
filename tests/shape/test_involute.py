"""inv, its inverse and the unwound string, against printed tables, mpmath and the construction itself."""

import math

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlab.shape.involute import arcinv, inv, unwind

# (angle [deg], printed involute, half a unit of the last printed digit)
# Source: involute function tables of gear handbooks (Machinery's Handbook, Buckingham), from memory.
TABLE = [
    (10, 0.0017941, 5e-8),
    (12, 0.0031171, 5e-8),
    (14.5, 0.0055448, 5e-8),
    (15, 0.0061498, 5e-8),
    (16, 0.0074927, 5e-8),
    (18, 0.0107604, 5e-8),
    (20, 0.0149044, 5e-8),
    (22.5, 0.0215145, 5e-8),
    (24, 0.0263497, 5e-8),
    (25, 0.0299753, 5e-8),
    (27, 0.0382866, 5e-8),
    (30, 0.0537515, 5e-8),
    (35, 0.0893423, 5e-8),
    (40, 0.1409679, 1e-7),
    (45, 0.2146018, 5e-8),
    # Source: profile-shift calculation sheet following ISO 21771:2007, eqs. 62 and 63.
    (23.8707609654, 0.0259052382, 2e-10),
    (21.2990642859, 0.0181260949, 2e-10),
]
# (involute, printed angle [deg], tolerance). Source: Elements of Metric Gear Technology, profile-shift
# and over-pin tables (from memory); the last row from the ISO 21771 sheet above.
INVERSE_TABLE = [(0.0343163, 26.0886, 1e-4), (0.0268197, 24.1350, 1e-4), (0.0259052382, 23.8707609654, 5e-8)]

LAST = math.radians(89)


def exact_inv(alpha):
    """tan x - x in 60 digits. Reference library: mpmath."""
    with mpmath.workdps(60):
        return mpmath.tan(mpmath.mpf(alpha)) - mpmath.mpf(alpha)


def relative_error(value, exact):
    with mpmath.workdps(60):
        return float(abs((mpmath.mpf(value) - exact) / exact))


@pytest.mark.parametrize("degrees, printed, half_unit", TABLE)
def test_inv_agrees_with_printed_tables(degrees, printed, half_unit):
    assert inv(math.radians(degrees)) == pytest.approx(printed, abs=1.2 * half_unit, rel=0)


@pytest.mark.parametrize("printed, degrees, tolerance", INVERSE_TABLE)
def test_arcinv_agrees_with_printed_tables(printed, degrees, tolerance):
    assert math.degrees(arcinv(printed)) == pytest.approx(degrees, abs=tolerance, rel=0)


def test_inv_keeps_14_digits_from_0_to_89_degrees():
    angles = np.concatenate((np.geomspace(1e-8, 0.1, 300), np.linspace(0.1, LAST, 700)))
    for alpha, value in zip(angles, inv(angles), strict=True):
        assert relative_error(value, exact_inv(alpha)) < 1e-14
        assert relative_error(inv(float(alpha)), exact_inv(alpha)) < 1e-14


@given(st.floats(1e-9, LAST))
def test_inv_keeps_14_digits_anywhere(alpha):
    assert relative_error(inv(alpha), exact_inv(alpha)) < 1e-14


@given(st.floats(1e-9, LAST))
def test_arcinv_keeps_14_digits(start):
    value = inv(start)
    with mpmath.workdps(60):
        alpha = mpmath.findroot(lambda x: mpmath.tan(x) - x - mpmath.mpf(value), mpmath.mpf(start))
    assert relative_error(arcinv(value), alpha) < 1e-14


def test_scalar_gives_float_and_array_keeps_its_shape():
    angles = np.linspace(0.0, 1.5, 24).reshape(2, 3, 4)
    assert isinstance(inv(0.3), float) and isinstance(arcinv(0.3), float)
    assert isinstance(inv(np.float64(0.3)), float) and isinstance(inv(1), float)
    assert inv(1) == inv(1.0)
    values = inv(angles)
    assert values.shape == angles.shape and arcinv(values).shape == angles.shape
    assert np.allclose(arcinv(values), angles, rtol=1e-13, atol=0)
    assert values[1, 2, 3] == pytest.approx(inv(float(angles[1, 2, 3])), rel=1e-15)
    assert arcinv(np.empty((0, 2))).shape == (0, 2)
    assert inv(0.0) == 0.0 and arcinv(0.0) == 0.0


@pytest.mark.parametrize("angle", [-0.01, math.pi / 2, math.nan, [0.1, -0.2]])
def test_inv_refuses_angles_outside_a_quarter_turn(angle):
    with pytest.raises(ValueError, match="from 0 rad to below pi/2"):
        inv(angle)


def test_inv_hints_at_degrees():
    with pytest.raises(ValueError, match="looks like degrees"):
        inv(20)


@pytest.mark.parametrize("value", [-1e-9, math.inf, math.nan, [0.1, -0.2]])
def test_arcinv_refuses_what_no_angle_has(value):
    with pytest.raises(ValueError, match="between 0 rad"):
        arcinv(value)


def test_unwound_string_is_as_long_as_the_arc_it_left():
    """Independent route: the string construction, and arc length by adding up a fine polygon."""
    base, start = 3.0, 0.2
    rolls = np.linspace(0.0, 1.4, 57)
    points, normals = unwind(base, rolls, start)
    touching = base * np.stack((np.cos(start - rolls), np.sin(start - rolls)), axis=-1)
    string = points - touching
    assert np.allclose(np.hypot(*string.T), base * rolls, rtol=0, atol=1e-14)  # length left the circle
    assert np.allclose((string * touching).sum(axis=1), 0.0, atol=1e-13)  # tangent to the circle
    # the curve is square to the string
    assert np.allclose(string, base * rolls[:, None] * normals, atol=1e-14)
    polygon = np.hypot(*np.diff(unwind(base, np.linspace(0.0, 1.4, 100_001))[0].T)).sum()
    # Source: Huygens, arc length of the involute
    assert polygon == pytest.approx(base * 1.4**2 / 2, rel=1e-8)


@given(st.floats(1.0, 250.0), st.floats(0.0, 3.0), st.floats(-3.0, 3.0))
def test_unwound_points_follow_the_polar_form(base, roll, start):
    """Independent route: radius base / cos(alpha), polar angle start - inv(alpha), in mpmath."""
    with mpmath.workdps(40):
        alpha = mpmath.atan(mpmath.mpf(roll))
        radius = mpmath.mpf(base) / mpmath.cos(alpha)
        angle = mpmath.mpf(start) - (mpmath.tan(alpha) - alpha)
        expected = [float(radius * mpmath.cos(angle)), float(radius * mpmath.sin(angle))]
    assert np.allclose(unwind(base, roll, start)[0], expected, rtol=0, atol=1e-12)
