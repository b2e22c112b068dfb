"""Published tolerances of holes and shafts, and steps between gear qualities, through gearlab."""

from methods import given

from gearlab.parts.published.fits import fit
from gearlab.parts.published.quality import composite_tolerance


def it_grade(row):
    """Tolerance of an H7 hole (16 tolerance units) or an h6 shaft (10 units) in the middle of a range of
    sizes [um].
    """
    low, high, units = (given(row)[name] for name in ("lo", "hi", "mult"))
    found = fit("H7/h6", (low + high) / 2)
    published = 1000 * (found.hole_upper if units == 16 else -found.shaft_lower)
    # the standard's own formula for the unit, which the tables round: i = 0.45 D^(1/3) + 0.001 D, D the
    # geometric mean of the range
    middle = (low * high) ** 0.5
    assert abs(units * (0.45 * middle ** (1 / 3) + 0.001 * middle) - published) < 0.8
    return published


def composite_step(row):
    """How much larger the total composite tolerance of AGMA quality 5 is than that of quality 6, at a size
    where both are printed [-].
    """
    step = composite_tolerance(5, 30, 1.5)[1] / composite_tolerance(6, 30, 1.5)[1]
    assert abs(given(row)["a"] / given(row)["b"] - step) < 0.06
    return step


METHODS = {"it_grade": it_grade, "composite_step": composite_step}
