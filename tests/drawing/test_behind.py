"""A picture of gears turned over: right stands left, and what turns one way turns the other.

Checked against a mirror in the drawing plane, worked out here point by point (geometry).
"""

from dataclasses import replace

import numpy as np
import pytest
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


@pytest.mark.parametrize("scene", SCENES)
def test_every_tooth_is_where_a_mirror_has_it(scene):
    mirrored = behind(scene)
    for before, after in zip(scene.shapes, mirrored.shapes, strict=True):
        if isinstance(before, Teeth):
            wanted = before.points()[:-1] * (-1, 1)
            near = np.abs(after.points()[:-1][:, None] - wanted[None]).max(axis=2).min(axis=1)
            assert near.max() < 1e-9
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
