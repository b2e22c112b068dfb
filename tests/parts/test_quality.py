"""Published tolerances: the tables' rows are held in tests/reference; here their use and their limits."""

import pytest

from gearlab.parts.published.quality import composite_tolerance, general_tolerance, tooth_tolerances


def test_a_better_quality_is_tighter():
    assert composite_tolerance(7, 36, 1.5) < composite_tolerance(6, 36, 1.5)
    fifth, seventh = (tooth_tolerances(2.5, 112.5, grade) for grade in (5, 7))
    assert all(fifth[name] < seventh[name] for name in fifth)


# ISO 1328-1:1995: each grade is the square root of 2 times as wide as the one before.
def test_two_grades_double_the_tolerance():
    assert tooth_tolerances(10, 400, 9)["total pitch"] == pytest.approx(
        2 * tooth_tolerances(10, 400, 7)["total pitch"], rel=0.05
    )


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (
            lambda: composite_tolerance(5, 90, 5.0),
            "quality = 5 is not in the table for gears of 4 in and over: it holds 7",
        ),
        (lambda: general_tolerance(0.1), "length"),
        (lambda: tooth_tolerances(0.1, 50.0, 5), "module"),
        (lambda: tooth_tolerances(2.5, 50.0, 2), "grade"),
    ],
)
def test_what_the_tables_do_not_hold_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()
