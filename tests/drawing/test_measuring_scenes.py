"""Pictures of measuring and choosing.

Jaws that rest on the cut teeth, bars of backlash, a pair beside the wished spacing.
"""

import math

import numpy as np
import pytest
from shapely import Point, Polygon

from gearlab.drawing import svg, views
from gearlab.drawing.shapes import Circle, Dimension, Dot, Outline, Teeth
from gearlab.drawing.views.jaws import rest, span_limits
from gearlab.parts import Gear, Mesh
from gearlab.shape import measuring, pins


def gear_of(scene):
    return Polygon(scene.having("gear", Teeth)[0].points())


def blades(scene):
    return [
        Polygon(shape.points)
        for shape in scene.having("gauge", Outline)
        if shape.motion or len(shape.points) > 5
    ]


@pytest.mark.parametrize(
    "count, module, teeth", [(19, 2.5, 3), (19, 2.5, 2), (45, 2.5, 6), (60, 1.0, 7), (30, 4.0, 4)]
)
def test_jaws_close_to_what_parallel_plates_measure_on_the_cut_teeth(count, module, teeth):
    gear = Gear(count, module=module)
    found = rest(gear, "span", teeth=teeth)
    # independent route: plates moved against the curves of the shape, no formula of gear theory
    assert found.opening == pytest.approx(measuring.span(gear.tooth, teeth) * module, rel=1e-9)
    scene = views.jaws(gear, found.opening, teeth=teeth)
    cut = gear_of(scene)
    for place in found.places:
        assert cut.exterior.distance(Point(place)) < 1e-3 * module
    for blade in blades(scene):
        assert blade.intersection(cut).area < 2e-3 * module**2, "the blades stand in the spaces"
    assert len(scene.having("contact point", Dot)) == 2 and not scene.having("overlap")


def test_open_jaws_touch_nothing_and_too_tight_ones_cut():
    gear = Gear(19, module=2.5)
    wide, tight = views.jaws(gear, 19.5), views.jaws(gear, 18.9)
    assert "there is air" in wide.text and not wide.having("contact point") and not wide.having("overlap")
    assert "would cut into" in tight.text and len(tight.having("overlap")) == 2
    cut = gear_of(tight)
    for piece in tight.having("overlap", Outline):
        shape = Polygon(piece.points).buffer(0)
        assert 0.05 < shape.area < 1.5 and shape.difference(cut.buffer(2e-3)).area < 1e-6
    pieces = sum(Polygon(piece.points).buffer(0).area for piece in tight.having("overlap", Outline))
    assert sum(blade.intersection(cut).area for blade in blades(tight)) == pytest.approx(pieces, rel=0.05)


def test_one_tooth_too_many_stands_on_corners():
    gear = Gear(19, module=2.5)
    low, high = span_limits(gear)
    assert (
        rest(gear, "span", teeth=high).on == "tip corners"
        and rest(gear, "span", teeth=high - 1).on == "flanks"
    )
    with pytest.raises(ValueError, match=f"give {low} to {high}"):
        rest(gear, "span", teeth=high + 1)


@pytest.mark.parametrize("count", [17, 19, 20, 31])
def test_flat_jaws_over_the_tips(count):
    gear = Gear(count, module=2.5)
    found = rest(gear, "tips")
    # outermost points of the cut outline
    assert found.opening == pytest.approx(pins.across_tips(gear.tooth) * 2.5, rel=1e-9)
    # the same by hand: R (1 + cos(pi/N - half the tip land)) lies 0.13 mm above R (1 + cos(pi/N)) = 52.142
    if count == 19:
        assert found.opening - 52.14198421432146 == pytest.approx(0.13, abs=0.005)
    scene = views.jaws(gear, found.opening, way="tips")
    dims = [shape.text for shape in scene.having("dimension", Dimension)]
    assert any("two tip middles" in text for text in dims) is (count % 2 == 1)
    for blade in blades(scene):
        assert blade.intersection(gear_of(scene)).area < 1e-3


@pytest.mark.parametrize("count", [18, 19, 40])
def test_pins_lie_in_their_spaces(count):
    gear = Gear(count, module=2.5)
    found = rest(gear, "pins", pin_diameter=4.5)
    # pins laid into the cut spaces
    assert found.opening == pytest.approx(pins.over_pins(gear.tooth, 1.8) * 2.5, rel=1e-9)
    scene = views.jaws(gear, found.opening, way="pins", pin_diameter=4.5)
    cut = gear_of(scene)
    laid = scene.having("gauge", Circle)
    assert len(laid) == 2 and laid[0].centre[1] == pytest.approx(laid[1].centre[1])
    for pin in laid:
        assert cut.distance(Point(pin.centre)) == pytest.approx(2.25, abs=2e-3), (
            "it touches, and does not cut"
        )
        nearest = np.asarray(cut.exterior.interpolate(cut.exterior.project(Point(pin.centre))).coords[0])
        assert np.hypot(*nearest) == pytest.approx(found.radius, abs=0.1)


def test_limits_are_drawn_in_true_size():
    scene = views.limits(0.146, 0.10)
    tangent = math.tan(math.radians(20))
    bars = [shape.points for shape in scene.having("shade", Outline)]
    # least 0.0004, greatest 0.2916 (closed form j0 -/+ 4 e tan 20 deg of the worked answers); likely:
    # root sum square of two equal errors
    assert bars[0][:, 0].min() == pytest.approx(0.146 - 0.4 * tangent) and bars[0][
        :, 0
    ].max() == pytest.approx(0.146 + 0.4 * tangent)
    assert np.ptp(bars[1][:, 0]) == pytest.approx(2 * math.sqrt(2) * 0.2 * tangent)
    assert not scene.having("overlap") and views.limits(0.146, 0.12).having("overlap")
    assert "hole A" in svg(scene)
    for wrong in ((0.5, 0.1), (0.1, 0.0), (0.1, 0.3)):
        with pytest.raises(ValueError, match="out of range"):
            views.limits(*wrong)


def test_wished_spacing_beside_the_real_one():
    mesh = Mesh(Gear(19, module=2.5), Gear(45, module=2.5))
    scene = views.wished(mesh, 80.0)
    assert scene.text.endswith("The wanted centre distance is 80.00 mm, which this pair has.")
    lengths = [math.dist(shape.start, shape.end) for shape in scene.having("dimension", Dimension)]
    assert sorted(lengths)[-2:] == pytest.approx([80.0, 80.0])
    assert "further apart" in views.wished(mesh, 79.0).text
    with pytest.raises(ValueError, match="above 0"):
        views.wished(mesh, 0.0)
