"""Single gears, tooth anatomy, rows of teeth, spacing: what is drawn has the sizes of the standard."""

import math

import numpy as np
import pytest
from shapely.geometry import Point, Polygon

from gearlab import drawing
from gearlab.drawing.motion import Carry
from gearlab.drawing.scene import Scene
from gearlab.drawing.shapes import Arc, Circle, Dimension, Label, Line, Outline, Teeth, turned
from gearlab.drawing.views.pair import meeting
from gearlab.parts import Gear

PINION = Gear(18, module=2.5)


def dimensions(scene):
    return {
        shape.text: math.dist(shape.start, shape.end)
        for shape in scene.shapes
        if isinstance(shape, Dimension)
    }


def test_gear_dimensions_are_as_long_as_they_say():
    # 46 teeth, module 2.5: d = 115, outside d + 2 m = 120 (ISO 53, addendum 1 module)
    assert dimensions(drawing.gear(Gear(46, module=2.5))) == pytest.approx(
        {"pitch diameter 115.00 mm": 115.0, "outside diameter 120.00 mm": 120.0}
    )


def test_gear_outline_reaches_from_root_to_outside():
    teeth = next(shape for shape in drawing.gear(PINION).shapes if isinstance(shape, Teeth))
    radii = np.hypot(*teeth.points().T)
    # ISO 53 profile A: tip 22.5 + 2.5, root 22.5 - 3.125; a chord may lie 4e-4 modules inside
    assert radii.max() == pytest.approx(25.0, abs=2e-3)
    assert radii.min() == pytest.approx(19.375, abs=2e-3)
    assert Polygon(teeth.points()).is_valid


def test_anatomy_measures_what_its_words_say():
    scene = drawing.tooth(PINION)
    # ISO 53 profile A at module 2.5: addendum 1, dedendum 1.25, clearance 0.25, depth 2.25 modules; thickness
    # pi m / 2
    expected = {
        "addendum\n2.500 mm": 2.5,
        "dedendum\n3.125 mm": 3.125,
        "whole depth\n5.625 mm": 5.625,
        "clearance\n0.625 mm": 0.625,
    }
    assert dimensions(scene) == pytest.approx(expected)
    assert any("3.927 mm" in shape.text for shape in scene.shapes if isinstance(shape, Label))
    arcs = [shape for shape in scene.shapes if isinstance(shape, Arc) and shape.role == "dimension"]
    thickness = sum(abs(math.radians(arc.end - arc.start)) * arc.radius for arc in arcs)
    assert thickness == pytest.approx(math.pi * 2.5 / 2)


def test_anatomy_circles_have_their_radii():
    arcs = {shape.role: shape.radius for shape in drawing.tooth(PINION).shapes if isinstance(shape, Arc)}
    # 18 teeth, module 2.5, 20 degrees: base radius 22.5 cos 20
    assert arcs["outside circle"] == pytest.approx(25.0) and arcs["pitch circle"] == pytest.approx(22.5)
    assert arcs["root circle"] == pytest.approx(19.375) and arcs["base circle"] == pytest.approx(
        22.5 * math.cos(math.radians(20))
    )


@pytest.mark.parametrize("teeth", [12, 18, 40, 41, 42, 45, 120])
def test_names_of_circles_never_lie_on_each_other(teeth):
    scene = drawing.tooth(Gear(teeth, module=2.5))
    heights = sorted(
        shape.at[1] for shape in scene.shapes if isinstance(shape, Label) and shape.role.endswith("circle")
    )
    assert len(heights) == 4
    # type of 13 points needs 15.6 from line to line
    assert min(np.diff(heights)) * scene.points_per_unit >= 15.5


def test_a_gear_too_small_for_the_section_is_refused():
    # 10 teeth of module 2.5: root diameter 25 - 2.5 * 2.5 = 18.75 mm (ISO 53); the section is cut
    # 1.22 pitches left of the middle
    with pytest.raises(ValueError, match="root diameter is 18.75 mm.*more teeth"):
        drawing.tooth(Gear(10, module=2.5))
    assert drawing.tooth(Gear(11, module=2.5)).text


def test_anatomy_as_a_question_gives_no_name_away():
    scene = drawing.tooth(PINION, named=False)
    words = " ".join(shape.text for shape in scene.shapes if isinstance(shape, (Label, Dimension)))
    assert not any(name in words + scene.text for _, name in drawing.ANATOMY)
    assert sorted(set(words) & set("12345")) == list("12345")


def test_strips_drift_apart_by_the_difference_of_pitches():
    metric, inch = math.pi * 2.5, math.pi * 25.4 / 10
    scene = drawing.strips(metric, inch, names=("module 2.5", "P 10"), pitch_number=16)
    upper, lower = (shape for shape in scene.shapes if isinstance(shape, Line) and shape.role == "mark")
    # 16 pi (2.54 - 2.5) = 2.011 mm, half of a 3.93 mm tooth and a little more (vent-drive data, worked out by
    # hand apart from this code: lesson 2: after 16 pitches)
    assert lower.start[0] - upper.start[0] == pytest.approx(16 * math.pi * 0.04)
    assert "2.011 mm apart" in scene.text
    rows = [
        shape for shape in scene.shapes if isinstance(shape, Outline) and shape.role in ("driver", "driven")
    ]
    assert all(Polygon(row.points).is_valid for row in rows)


def test_numbers_of_strips_stand_in_their_own_row():
    scene = drawing.strips(7.854, 7.980, names=("upper", "lower"), pitch_number=3)
    rows = {shape.role: Polygon(shape.points) for shape in scene.shapes if isinstance(shape, Outline)}
    numbers = [shape for shape in scene.shapes if isinstance(shape, Label) and shape.text.isdigit()]
    assert [label.text for label in numbers if label.of == "driver"] == ["0", "5", "10", "15", "20"]
    for label in numbers:
        other = "driven" if label.of == "driver" else "driver"
        assert rows[label.of].contains(Point(label.at)) and not rows[other].contains(Point(label.at))


def test_strips_refuse_a_tooth_they_do_not_have():
    with pytest.raises(ValueError, match="0 to 20"):
        drawing.strips(7.854, 7.980, pitch_number=21)


@pytest.mark.parametrize(
    ("distance", "words"), [(78.75, "touch"), (78.7, "overlap by 0.050 mm"), (83.0, "are 4.250 mm apart")]
)
def test_spaced_says_how_the_pitch_circles_stand(distance, words):
    scene = drawing.spaced(PINION, Gear(45, module=2.5), distance)
    first, second = scene.having("pitch circle", Circle)
    gap = second.centre[0] - first.centre[0] - first.radius - second.radius
    assert gap == pytest.approx(distance - 78.75)  # (18 + 45) * 2.5 / 2
    assert meeting(gap, "mm") == words and words in scene.text
    assert any(isinstance(shape.motion, Carry) for shape in scene.shapes)


def test_spaced_keeps_its_scale_while_the_wheel_is_carried():
    wheel = Gear(45, module=2.5)
    scales = {
        drawing.spaced(PINION, wheel, distance, reach=(72.5, 88.75)).points_per_unit
        for distance in (74.0, 78.75, 85.0)
    }
    assert len(scales) == 1


@pytest.mark.parametrize("angle", [0, 37, 200])
def test_turned_keeps_the_distance(angle):
    point = turned((3.0, 1.0), (1.0, 1.0), angle)
    assert Point(point).distance(Point(1.0, 1.0)) == pytest.approx(2.0)


def test_a_scene_needs_words_shapes_and_known_roles():
    circle = Circle((0, 0), 1.0, "hole")
    with pytest.raises(ValueError, match="alternative text"):
        Scene((circle,), " ")
    with pytest.raises(ValueError, match="at least one"):
        Scene((), "Nothing.")
    with pytest.raises(ValueError, match="wheelbarrow.*roles are"):
        Scene((Circle((0, 0), 1.0, "wheelbarrow"),), "A wheelbarrow.")
    with pytest.raises(ValueError, match="not finite"):
        Scene((Circle((0, 0), math.nan, "hole"),), "A hole.")


def test_further_shapes_widen_the_bounds():
    scene = Scene((Circle((0, 0), 1.0, "hole"),), "A hole.")
    assert scene.bounds == (-1.0, -1.0, 1.0, 1.0)
    assert scene.with_shapes(Circle((5, 0), 1.0, "hole")).bounds == (-1.0, -1.0, 6.0, 1.0)
