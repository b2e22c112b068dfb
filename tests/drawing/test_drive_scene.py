"""The picture of a whole design: gears with teeth in spaces, racks in mesh, what stands without gears.

By hand: a pinion of 20 teeth, module 2.5, rolls 2.5 * 20 * pi / 360 mm along its rack for each degree; behind
20:60 and 18:54 it turns by 1/9 of the crank.
"""

import math

import numpy as np
import pytest

from gearlab.drawing import views
from gearlab.drawing.motion import Slide
from gearlab.drawing.shapes import Circle, Label, Outline, Teeth
from gearlab.parts.design import Design

TRAIN = {
    "design": {"name": "a train with a rack"},
    "plate": {"length": 260, "height": 180, "thickness": 6},
    "shaft": [
        {"name": "crank", "x": 40, "y": 110, "diameter": 8},
        {"name": "middle", "x": 100, "y": 110, "diameter": 10},
        {"name": "out", "x": 172, "y": 110, "diameter": 10},
    ],
    "gear": [
        {"name": "a", "shaft": "crank", "teeth": 20, "module": 1.5, "face_width": 10, "bore": 8},
        {"name": "b", "shaft": "middle", "teeth": 60, "module": 1.5, "face_width": 10, "bore": 10},
        {"name": "c", "shaft": "middle", "teeth": 18, "module": 2, "face_width": 14, "bore": 10},
        {"name": "d", "shaft": "out", "teeth": 54, "module": 2, "face_width": 12, "bore": 10, "gap": 11},
        {"name": "e", "shaft": "out", "teeth": 20, "module": 2.5, "face_width": 14, "bore": 10},
    ],
    "mesh": [{"driver": "a", "driven": "b"}, {"driver": "c", "driven": "d"}],
}
RACK = {
    "name": "window rack",
    "pinion": "e",
    "teeth": 40,
    "travel": 200,
    "pitch_height": 12,
    "mounting_height": 37,
}


def the_rack(angle):
    scene = views.drive(Design(**TRAIN, rack=[{**RACK, "angle": angle}]))
    return scene, next(
        shape for shape in scene.shapes if isinstance(shape, Outline) and isinstance(shape.motion, Slide)
    )


@pytest.mark.parametrize("angle", [-90, 0, 90, 37])
def test_a_rack_slides_as_far_as_its_pinion_rolls(angle):
    scene, bar = the_rack(angle)
    per_degree = 2.5 * 20 * math.pi / 360 / 9
    assert abs(bar.motion.per_degree) == pytest.approx(per_degree)
    across = np.array([math.cos(math.radians(angle)), math.sin(math.radians(angle))])
    assert np.dot(bar.motion.direction, across) == pytest.approx(0, abs=1e-12)
    # its back lies at the mounting height, its tips reach a module above the pitch line
    depth = (np.asarray(bar.points) - (172, 110)) @ across
    assert depth.max() == pytest.approx(37) and depth.min() == pytest.approx(37 - 12 - 2.5)
    # on the far side of a pinion that turns counter-clockwise the rack moves that way round
    way = np.array(bar.motion.direction) * bar.motion.per_degree
    assert across[0] * way[1] - across[1] * way[0] > 0
    limit = min(200, 40 * 2.5 * math.pi) / 2 / per_degree
    assert scene.limits[1] <= limit + 1e-9 and scene.limits[0] == -scene.limits[1]


@pytest.mark.parametrize("angle", [-90, 20])
def test_the_teeth_of_a_rack_stand_in_the_spaces_of_its_pinion(angle):
    """No point of the rack's teeth lies inside the pinion's teeth (its outline as a polygon), at any turn."""
    from shapely import Point, Polygon

    scene, bar = the_rack(angle)
    teeth = next(
        shape for shape in scene.shapes if isinstance(shape, Teeth) and shape.motion.name.startswith("E,")
    )
    steps = [teeth.angle + 360 * number / teeth.count for number in range(teeth.count)]
    points = []
    for turn in map(math.radians, steps):
        spin = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
        points.append(np.asarray(teeth.tooth) @ spin)
    pinion = Polygon(np.concatenate(points[::1]) + np.asarray(teeth.centre)).buffer(0)
    rack = Polygon(np.asarray(bar.points))
    assert pinion.is_valid and rack.buffer(0).intersection(pinion).area < 0.02 * 2.5**2
    assert pinion.contains(Point(teeth.centre))


def test_gears_of_one_shaft_have_letters_apart():
    labels = {
        shape.text: shape
        for shape in views.drive(Design(**TRAIN)).shapes
        if isinstance(shape, Label) and shape.role == "letter"
    }
    assert set(labels) == set("ABCDE")
    for one, two in ("BC", "DE"):
        assert labels[one].at == labels[two].at
        assert abs(labels[one].offset[0] - labels[two].offset[0]) >= 20


def test_bevel_pairs_and_planetary_sets_are_told():
    design = Design(
        **{**TRAIN, "shaft": [*TRAIN["shaft"], {"name": "spindle", "diameter": 8}]},
        bevel=[{"name": "mitre", "teeth": (20, 20), "module": 2, "driver": "out", "driven": "spindle"}],
        planetary=[{"name": "head", "sun": 24, "planet": 18, "ring": 60, "planets": 3, "module": 1}],
    )
    scene = views.drive(design)
    assert "mitre: 20 and 20 teeth, out drives spindle" in scene.text
    assert "head: sun 24, 3 planets of 18, ring 60 teeth, ring held" in scene.text
    circles = [shape for shape in scene.shapes if isinstance(shape, Circle) and shape.role == "pitch circle"]
    assert any(circle.centre == (172, 110) and circle.radius == 20 for circle in circles)  # 20 * 2 / 2


@pytest.mark.parametrize(
    "tables, says",
    [
        ({"mitre": {"teeth": (20, 30), "module": 2}}, "20 and 30 teeth"),
        ({"mitre": {"teeth": (20, 30)}}, "cannot be drawn"),
        (
            {"rack": [{"teeth": 20, "module": 2, "travel": 50, "pitch_height": 10, "mounting_height": 30}]},
            "rack of 20 teeth, travel 50 mm",
        ),
        (
            {"planetary": [{"sun": 24, "planet": 18, "ring": 60, "planets": 3, "module": 2}]},
            "3 planets of 18",
        ),
        (
            {"planetary": [{"sun": 6, "planet": 6, "ring": 18, "planets": 9, "second_planet": 8}]},
            "9 planets of 6 and 8",
        ),
    ],
)
def test_a_design_without_gears_is_shown_by_itself(tables, says):
    scene = views.drive(Design(design={"name": "alone"}, **tables))
    assert says in scene.text and scene.title == "alone" and scene.shapes


def test_the_picture_of_the_plate_alone_has_no_shafts_from_the_side():
    words = [
        shape.text for shape in views.drive(Design(**TRAIN), sides=False).shapes if isinstance(shape, Label)
    ]
    assert not any("face of" in text for text in words)
    assert any(
        "face of" in shape.text for shape in views.drive(Design(**TRAIN)).shapes if isinstance(shape, Label)
    )
