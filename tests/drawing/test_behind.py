"""A picture of gears turned over: right stands left, and what turns one way turns the other.

Checked against a mirror in the drawing plane, worked out here point by point (geometry).
"""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from matplotlib.path import Path

from gearlab.drawing import behind, views
from gearlab.drawing.behind import can_turn_over, words_from_behind
from gearlab.drawing.shapes import Arc, Dimension, Label, Line, Teeth
from gearlab.drawing.svg import svg
from gearlab.parts import Gear, Mesh, Train

PAIR = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
SCENES = [
    views.pair(PAIR),
    views.train(Train.of(18, 30, 45, module=2.5)),
    views.gear(Gear(19, module=2.5)),
    views.shafts(Train.of(15, (45, 18), 42, module=2.5, line_angles=(90, 270))),
]


def without_dashes(shapes):
    return [shape for shape in shapes if shape.role != "hidden outline"]


def from_back(shapes):
    """The shapes in the order in which they lie, seen from the other side: gears of nearer planes first."""
    given = without_dashes(shapes)
    planes = [getattr(shape.motion, "plane", None) for shape in given]
    gears = [shape for shape, plane in zip(given, planes) if plane is not None]
    back = iter(sorted(gears, key=lambda shape: -shape.motion.plane))
    return [shape if plane is None else next(back) for shape, plane in zip(given, planes)]


@pytest.mark.parametrize("scene", SCENES)
def test_every_tooth_is_where_a_mirror_has_it(scene):
    for before, after in zip(from_back(scene.shapes), without_dashes(behind(scene).shapes), strict=True):
        if isinstance(before, Teeth):
            wanted = shapely.STRtree(shapely.points(before.points()[:-1] * (-1, 1)))
            seen = shapely.points(after.points()[:-1])
            (which, _), off = wanted.query_nearest(seen, return_distance=True)
            assert set(which) == set(range(len(seen))) and off.max() < 1e-9
        if isinstance(before, Line):
            assert after.start == pytest.approx((-before.start[0], before.start[1]))
        if isinstance(before, Arc):  # its middle, and the way it goes round
            ends = [np.radians((shape.start + shape.end) / 2) for shape in (before, after)]
            assert np.cos(ends[0]) == pytest.approx(-np.cos(ends[1])) and np.sin(ends[0]) == pytest.approx(
                np.sin(ends[1])
            )
            assert (before.end > before.start) == (after.end < after.start)
        if getattr(before.motion, "speed", 0):
            assert after.motion.speed == -before.motion.speed


@pytest.mark.parametrize("scene", SCENES)
def test_twice_is_as_before(scene):
    twice = behind(behind(scene))
    assert twice.text == scene.text and twice.bounds == scene.bounds and twice.margin == scene.margin
    assert len(svg(twice)) == pytest.approx(len(svg(scene)), rel=1e-3)


def test_words_are_not_mirrored_and_stand_on_the_other_side():
    scene = views.pair(PAIR)
    labels = [
        [shape for shape in each.shapes if isinstance(shape, (Label, Dimension))]
        for each in (scene, behind(scene))
    ]
    for before, after in zip(*labels, strict=True):
        assert after.text == words_from_behind(before.text)
        if isinstance(before, Label):
            assert after.at[0] == -before.at[0] and after.offset[0] == -before.offset[0]
            assert (before.align, after.align) in {("start", "end"), ("end", "start"), ("middle", "middle")}


def test_the_sentence_says_from_where_and_the_other_way():
    scene = views.pair(PAIR, driver_speed=15.0)
    assert "driver 15 rpm counter-clockwise, driven 6 rpm clockwise" in scene.text
    text = behind(scene).text
    assert (
        text.startswith("Seen from behind: ")
        and "driver 15 rpm clockwise, driven 6 rpm counter-clockwise" in text
    )


@pytest.mark.parametrize(
    ("front", "back"),
    [
        ("from left to right", "from right to left"),
        ("at (70.5, 80) mm from the lower left corner", "at (70.5, 80) mm from the lower right corner"),
        ("28.75 mm left, 20 mm right", "28.75 mm right, 20 mm left"),
        (
            "17 teeth are left whole; two of the five are right",
            "17 teeth are left whole; two of the five are right",
        ),
        ("at the right distance, on a right-hand thread", "at the right distance, on a right-hand thread"),
        ("15 rpm \u21ba", "15 rpm \u21bb"),
    ],
)
def test_sides_and_turning_change_in_words_and_nothing_else(front, back):
    assert words_from_behind(front) == back and words_from_behind(back) == front


def test_teeth_turned_over_still_mesh():
    first, second = (shape for shape in behind(views.pair(PAIR)).shapes if isinstance(shape, Teeth))
    assert not Path(first.points()).contains_points(second.points(), radius=-0.01).any()
    assert not Path(second.points()).contains_points(first.points(), radius=-0.01).any()
    half_a_pitch_on = replace(second, angle=second.angle + 180 / second.count)
    assert Path(first.points()).contains_points(half_a_pitch_on.points(), radius=-0.01).any()


def test_a_section_has_no_view_from_behind():
    scene = views.hub(28.0, 10.0, 14.0, 8.0)
    assert not can_turn_over(scene)
    with pytest.raises(ValueError, match="shows no teeth from the front.*picture of gears"):
        behind(scene)


def filled(scene):
    """Counts of the gears of a train in drawing order, and of those whose covered outline is dashed."""
    teeth = [shape for shape in scene.shapes if isinstance(shape, Teeth)]
    return [[t.count for t in teeth if (t.role == "hidden outline") is dashed] for dashed in (False, True)]


def test_of_two_gears_on_a_shaft_the_one_that_was_behind_lies_in_front():
    """15 drives 45 behind; on its shaft 18 drives 42 in front. Centre distances 75 mm, reverted (z m / 2)."""
    scene = views.shafts(Train.of(15, (45, 18), 42, module=2.5, line_angles=(90, 270)))
    solid, dashed = filled(scene)
    # seen from the gear side 18 and 42 lie above 15 and 45: 42 covers 15, and with 18 part of 45
    assert solid == [15, 45, 18, 42] and sorted(dashed) == [15, 45]
    solid, dashed = filled(behind(scene))
    # from behind 15 and 45 lie above: 45 covers 18 whole and part of 42, as does 15
    assert solid == [18, 42, 15, 45] and sorted(dashed) == [18, 42]
    assert filled(behind(behind(scene))) == filled(scene)
    spoken = [shape.motion.name for shape in behind(scene).shapes if getattr(shape.motion, "name", "")]
    assert len(set(spoken)) == 3, "a handle for each shaft, as before"
