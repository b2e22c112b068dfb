"""Pictures of trains: what stands where, what turns how, what covers what."""

import math

import numpy as np
import pytest

from gearlab import Gear, Mesh, Train, drawing
from gearlab.drawing import views
from gearlab.drawing.motion import Press, Turn
from gearlab.drawing.shapes import Arc, Circle, Dimension, Label, Outline, Teeth
from gearlab.drawing.views.shafts import row_of, triangle_of

ROW = Train.of(18, 24, 45, module=2.5)
FOLDED = Train.of(18, (45, 21), 42, module=2.5, line_angles=(90, 270))


def test_roles_and_turning_of_a_row():
    scene = drawing.train(ROW)
    gears = [shape for shape in scene.shapes if isinstance(shape, Teeth)]
    assert [(one.role, one.count) for one in gears] == [("driver", 18), ("gear", 24), ("driven", 45)]
    # by hand: 18/24 and 18/45 of the first gear's turn, at 0, 52.5 and 138.75 mm
    assert [one.motion.speed for one in gears] == pytest.approx([1, -0.75, 0.4])
    assert [one.centre[0] for one in gears] == [0, 52.5, 138.75]
    ends = {arc.of: math.copysign(1, arc.end - arc.start) for arc in scene.having("turning arrow", Arc)}
    assert ends == {"driver": 1, "gear": -1, "driven": 1}
    assert {
        arc.of: math.copysign(1, arc.end - arc.start)
        for arc in drawing.train(ROW, first_speed=-15).having("turning arrow", Arc)
    } == {"driver": -1, "gear": 1, "driven": -1}


def test_lengths_of_a_row():
    texts = [shape.text for shape in drawing.train(ROW).shapes if isinstance(shape, Dimension)]
    assert texts == ["52.50 mm", "86.25 mm", "first to last shaft 138.75 mm"]


def test_speeds_are_written_with_their_direction():
    words = [shape.text for shape in drawing.train(ROW, first_speed=15).shapes if isinstance(shape, Label)]
    assert {"15 rpm \u21ba", "11.25 rpm \u21bb", "6 rpm \u21ba"} <= set(words)


def test_numbers_and_planes_tell_gears_apart_without_colour():
    scene = views.shafts(FOLDED)
    numbers = [shape.text for shape in scene.shapes if isinstance(shape, Label) and shape.role == "letter"]
    assert sorted(numbers) == sorted("12341234"), "once along the shafts, once from the side"
    # gear 1 lies behind gear 4, and gear 2's lower edge too: dashed above them
    assert [(one.of, one.count) for one in scene.having("hidden outline", Teeth)] == [
        ("driver", 18),
        ("gear", 45),
    ]
    solid = [one.count for one in scene.shapes if isinstance(one, Teeth) and one.role != "hidden outline"]
    assert solid == [18, 45, 21, 42], "the farther plane first"


def test_side_view_is_in_true_size():
    scene = views.shafts(FOLDED)
    blocks = [
        shape
        for shape in scene.shapes
        if getattr(shape, "of", "") in ("driver", "gear", "driven")
        and shape.role == shape.of
        and hasattr(shape, "points")
        and not isinstance(shape, Teeth)
    ]
    heights = sorted(float(block.points[:, 1].max() - block.points[:, 1].min()) for block in blocks)
    assert heights == pytest.approx([50, 57.5, 110, 117.5])  # 2.5 (z + 2), by hand
    apart = views.shafts(Train.of(18, (45, 18), 36, module=2.5, line_angles=(90, 270)))
    spans = [math.dist(shape.start, shape.end) for shape in apart.shapes if isinstance(shape, Dimension)]
    assert spans == pytest.approx([78.75, 67.5])
    assert {"78.75 mm", "67.50 mm"} <= {
        shape.text for shape in apart.shapes if isinstance(shape, (Dimension, Label))
    }
    with pytest.raises(ValueError, match="folded back"):
        views.shafts(Train.of(18, (45, 21), 42, module=2.5))


def test_one_handle_for_a_shaft():
    turns = {shape.motion.name for shape in views.shafts(FOLDED).shapes if isinstance(shape.motion, Turn)}
    assert turns - {""} == {"Gear 1, 18 teeth", "Gears 2 and 3, 45 and 21 teeth", "Gear 4, 42 teeth"}


def test_arrows_are_places_to_press():
    scene = views.arrows(row_of(ROW), [(1, 2), (2, 3)], (1, 0, 1))
    presses = {
        shape.motion.control: shape.motion for shape in scene.shapes if isinstance(shape.motion, Press)
    }
    assert list(presses) == ["arrow_1", "arrow_2", "arrow_3"] and presses["arrow_2"].values == (0, 1, -1)
    assert (
        presses["arrow_1"].name == "Gear 1, 18 teeth: counter-clockwise"
        and presses["arrow_2"].name == "Gear 2, 24 teeth: no arrow yet"
    )
    marked = views.arrows(row_of(ROW), [(1, 2), (2, 3)], (1, 1, -1), wrong=[(1, 2)])
    # where the pitch circles of 1 and 2 touch
    assert [circle.centre for circle in marked.having("clash", Circle)] == [(22.5, 0.0)]


def test_the_triangle_stands_in_mesh_all_round():
    from shapely import affinity
    from shapely.geometry import Polygon

    gears = triangle_of(Mesh(Gear(21, module=2.5), Gear(21, module=2.5)))
    bodies = [
        affinity.translate(
            affinity.rotate(Polygon(one.gear.outline()), one.angle, origin=(0, 0)), *one.centre
        )
        for one in gears
    ]
    for one, two in ((0, 1), (1, 2), (0, 2)):
        assert math.dist(gears[one].centre, gears[two].centre) == pytest.approx(52.5)
        assert bodies[one].intersection(bodies[two]).area < 1e-4 * 2.5**2
    with pytest.raises(ValueError, match="a sixth of the count is a whole number and a half"):
        triangle_of(Mesh(Gear(20, module=2.5), Gear(20, module=2.5)))


def test_text_says_what_is_seen():
    assert (
        "gear 4 with 42" in views.shafts(FOLDED).text
        and "stage 2.5 \u00d7 stage 2 = 5" in views.shafts(FOLDED).text
    )
    # 78.75 - 67.5
    assert (
        "out is 11.25 mm above in"
        in views.shafts(Train.of(18, (45, 18), 36, module=2.5, line_angles=(90, 270))).text
    )
    assert (
        "on the axis of gear 1"
        in drawing.train(Train.of(18, (45, 21), 42, module=2.5, line_angles=(0, 180))).text
    )


def test_forces_on_an_idler_are_drawn_in_proportion():
    """Arrow lengths against the closed form for any bend.

    Two equal tooth forces as sides of a parallelogram (statics).
    """
    for bend in (0, 60, -40):
        train = Train.of(18, 24, 45, module=2.5, line_angles=(0, bend))
        scene = views.idler_push(train, 86)

        def length(arrow):
            # tip from the middle of the tail
            return float(np.hypot(*(arrow.points[3] - (arrow.points[0] + arrow.points[6]) / 2)))

        along = [length(arrow) for arrow in scene.having("marked tooth", Outline)][::2]
        # 0.8 of the pitch radius 24 x 2.5 / 2, for 86 N each
        assert along == pytest.approx([0.8 * 30, 0.8 * 30])
        angle = math.radians(180 - abs(bend))
        total = (
            2
            * 86
            / math.cos(math.radians(20))
            * abs(math.sin(angle / 2 - math.radians(20) * (bend > 0) + math.radians(20) * (bend < 0)))
        )
        if bend == 0:
            total = 2 * 86
        assert length(scene.having("mark", Outline)[0]) == pytest.approx(0.8 * 30 * total / 86)
    assert "its shaft carries 172 N in all" in views.idler_push(ROW, 86).text


def test_a_bent_row_shows_how_far_its_ends_are_apart():
    scene = drawing.train(ROW.bent(110))
    (span,) = [shape for shape in scene.shapes if isinstance(shape, Dimension)]
    assert span.text == "first to last shaft 110.00 mm" and math.dist(span.start, span.end) == pytest.approx(
        110
    )
    under = [shape for shape in scene.shapes if isinstance(shape, Label) and shape.offset[1] < 0]
    assert [shape.text for shape in under] == ["18 teeth"], "gear 2 is in the way above gear 1"
