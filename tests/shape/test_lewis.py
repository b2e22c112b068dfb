"""The inscribed parabola, against the published form factors, against plain algebra and against a search of
the outline.
"""

import math

import numpy as np
import pytest

from gearlab.shape import Rack, ToothForm
from gearlab.shape.internal import InternalToothForm
from gearlab.shape.lewis import weakest_section
from gearlab.theory.systems import ROWS

# Budynas & Nisbett, Shigley's Mechanical Engineering Design, table 14-2 (from memory): 20 degrees full depth.
PUBLISHED = {
    17: 0.303,
    18: 0.309,
    19: 0.314,
    20: 0.322,
    21: 0.328,
    22: 0.331,
    24: 0.337,
    26: 0.346,
    28: 0.353,
    30: 0.359,
    34: 0.371,
    38: 0.384,
    43: 0.397,
    50: 0.409,
    60: 0.422,
    75: 0.435,
    100: 0.447,
    150: 0.460,
    300: 0.472,
    400: 0.480,
}


def rack(row=ROWS[1]):
    return Rack(math.radians(row.pressure_angle), row.addendum, row.dedendum, row.tip_radius)


@pytest.mark.parametrize("teeth", PUBLISHED)
def test_within_six_per_cent_of_the_table(teeth):
    assert weakest_section(ToothForm(teeth, rack())).form_factor == pytest.approx(PUBLISHED[teeth], rel=0.06)


def test_the_difference_is_as_the_docstring_tells():
    misses = {
        teeth: weakest_section(ToothForm(teeth, rack())).form_factor / value - 1
        for teeth, value in PUBLISHED.items()
    }
    assert min(misses.values()) > -0.043 and max(misses.values()) < 0.0045
    sharper = (
        weakest_section(ToothForm(18, Rack(math.radians(20), 1.0, 1.25, 0.30))).form_factor / PUBLISHED[18]
        - 1
    )
    assert misses[18] - sharper == pytest.approx(0.023, abs=0.002)


def test_a_very_large_gear_comes_near_the_rack():
    """On a rack the flank is straight: tip load, vertex and parabola are plain algebra (worked by hand)."""
    phi = math.radians(20)
    half_tip = math.pi / 4 - math.tan(phi)
    limit = 8 / 3 * half_tip * math.tan(phi) / math.cos(phi) ** 2
    misses = [weakest_section(ToothForm(teeth, rack())).form_factor - limit for teeth in (300, 400, 500)]
    assert [abs(miss) for miss in misses] == sorted((abs(miss) for miss in misses), reverse=True)
    assert abs(misses[-1]) < 0.003


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.name} {row.pressure_angle:g}")
@pytest.mark.parametrize("teeth, shift", [(14, 0.3), (18, 0.0), (45, -0.2), (45, 0.6), (200, 0.0)])
def test_no_other_section_is_weaker(row, teeth, shift):
    """The parabola through the weakest section is the narrowest.

    Looked for on 20,000 points of fillet and flank.
    """
    form = ToothForm(teeth, rack(row), profile_shift=shift)
    found = weakest_section(form)
    points = np.vstack(
        [
            form.fillet(np.linspace(*form.fillet_range, 10000))[0],
            form.flank(np.linspace(*form.flank_range, 10000))[0],
        ]
    )
    below = points[points[:, 0] < found.load_height - 1e-9]
    factor = (2 * below[:, 1]) ** 2 / (6 * (found.load_height - below[:, 0]))
    assert found.form_factor == pytest.approx(factor.min(), rel=1e-6)
    assert found.form_factor <= factor.min() + 1e-12


def test_the_tip_is_the_worst_place_for_the_load():
    form = ToothForm(30, rack())
    factors = [weakest_section(form, radius).form_factor for radius in (16.0, 15.7, 15.3, 15.0)]
    assert factors == sorted(factors)
    assert factors[0] == weakest_section(form).form_factor


def test_an_undercut_tooth_is_weaker_than_one_cut_with_a_shift():
    """More shift, thicker root: the reason for shifting a small pinion (common practice)."""
    factors = [
        weakest_section(ToothForm(12, rack(), profile_shift=shift)).form_factor for shift in (0.0, 0.2, 0.4)
    ]
    assert factors == sorted(factors)


def test_what_cannot_be_measured_is_refused():
    form = ToothForm(20, rack())
    with pytest.raises(
        ValueError, match="load_radius = 11.2 modules misses the flank, which runs from .* to 11"
    ):
        weakest_section(form, 11.2)
    with pytest.raises(ValueError, match="not of a ring"):
        weakest_section(InternalToothForm(60, rack()))
