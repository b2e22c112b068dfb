"""Pictures of rack, cones and planetary set, measured.

What moves how far, against geometry and kinematics worked out here.
"""

import math

import numpy as np
import pytest
from shapely import Polygon, affinity

from gearlab import Gear, Planetary, Rack, RackDrive
from gearlab.drawing import axes, views
from gearlab.drawing.motion import Round, Slide, Turn
from gearlab.drawing.shapes import Arc, Label, Outline, Teeth
from gearlab.drawing.svg import living_svg, svg
from gearlab.drawing.views.planetary import misfits


# -- rack ----------------------------------------------------------------------------------------------
def rack_and_pinion(scene, angle):
    """Both bodies where the picture shows them at an angle of the pinion [deg]."""
    pinion = scene.having("driver", Teeth)[0]
    rack = scene.having("driven", Outline)[0]
    slide = rack.motion
    assert isinstance(slide, Slide) and isinstance(pinion.motion, Turn)
    return affinity.rotate(Polygon(pinion.points()), angle, origin=(0, 0)), affinity.translate(
        Polygon(rack.points), slide.per_degree * angle * slide.direction[0]
    )


@pytest.mark.parametrize("side", ["above", "below"])
@pytest.mark.parametrize("teeth, long", [(20, 20), (21, 23), (33, 30)])
def test_the_picture_stays_in_mesh_from_stop_to_stop(side, teeth, long):
    scene = views.rack(RackDrive(Gear(teeth, module=2.5), Rack(long, module=2.5), side=side))
    low, high = scene.limits
    for angle in (low, 0.37 * low, 0.0, 17.3, high):
        pinion, rack = rack_and_pinion(scene, angle)
        assert pinion.intersection(rack).area < 0.02, "touching, to the fineness of a picture"
        assert pinion.distance(rack) < 0.02


@pytest.mark.parametrize("spare", [2, 3, 6])
def test_a_stop_meets_the_guide_at_both_ends_of_the_travel(spare):
    drive = RackDrive(Gear(20, module=2.5), Rack(20, module=2.5), spare_teeth=spare)
    scene = views.rack(drive)
    guide = Polygon(scene.having("gear", Outline)[0].points)
    stops = [
        Polygon(shape.points)
        for shape in scene.having("marked tooth", Outline)
        if shape.of == "driven" and len(shape.points) == 4
    ]
    slide = scene.having("driven", Outline)[0].motion
    for limit, stop in zip(scene.limits, (stops[1], stops[0])):
        assert affinity.translate(stop, slide.per_degree * limit).distance(guide) == pytest.approx(
            0, abs=1e-9
        )
        assert affinity.translate(stop, 0.9 * slide.per_degree * limit).distance(guide) > 1
    # by hand: pi m (20 - spare) of travel, half to either side
    assert slide.per_degree * scene.limits[1] == pytest.approx(math.pi * 2.5 * (20 - spare) / 2)


def test_sentence_of_the_rack():
    text = views.rack(RackDrive(Gear(20, module=2.5), Rack(20, module=2.5), side="below"), angle=-68.8).text
    assert (
        "is below a rack with 20 teeth" in text
        and "pinion at 68.8 degrees clockwise, the rack 30.02 mm to the right" in text
    )


# -- cones ---------------------------------------------------------------------------------------------
def ends(scene, of):
    """The large ends of a gear's teeth in a picture from the side."""
    return [shape.motion for shape in scene.having("tooth end", Outline) if shape.of == of]


def test_teeth_of_both_cones_meet_on_the_common_line():
    # a tooth of one meets a space of the other, at every angle: on the common line one of the two is there,
    # never both
    scene = views.cones(20, 30, 2.5, 33.690068, 56.309932)
    teeth = {of: ends(scene, of) for of in ("driver", "driven")}
    assert len(teeth["driver"]) == 20 and len(teeth["driven"]) == 30
    # the corner on the pitch cone's large circle: 25 and 37.5 mm from the axis
    half = {
        of: next(turn for _, off, turn in teeth[of][0].corners if abs(off - radius) < 1e-6)
        for of, radius in (("driver", 25.0), ("driven", 37.5))
    }
    assert half == pytest.approx({"driver": 360 / 20 / 4, "driven": 360 / 30 / 4})

    def covered(of, line, driver_angle):
        return any(
            abs((tooth.angle + tooth.speed * driver_angle - line + 180) % 360 - 180) < half[of]
            for tooth in teeth[of]
        )

    for angle in np.linspace(0.1, 40, 57):
        assert covered("driver", 0.0, angle) != covered("driven", 180.0, angle)


def test_what_goes_round_is_seen_on_the_near_side_only():
    def strip(angle):
        corners = ((10.0, 5.0, -5.0), (10.0, 5.0, 5.0), (20.0, 10.0, 5.0), (20.0, 10.0, -5.0))
        return Round((0.0, 0.0), (1.0, 0.0), 1.0, angle, corners)

    assert (
        strip(270).hidden
        and strip(190).hidden
        and not strip(90).hidden
        and not strip(2).hidden
        and not strip(178).hidden
    )
    corners = np.array(strip(90).outline())
    # seen square on: plus and minus r sin(5 degrees), by trigonometry
    assert sorted(abs(corners[:, 1])) == pytest.approx(
        sorted([5 * math.sin(math.radians(5))] * 2 + [10 * math.sin(math.radians(5))] * 2)
    )
    assert max(np.array(strip(2).outline())[:, 1]) == pytest.approx(10), "cut off at the edge of the cone"
    assert len({tuple(corner) for corner in strip(270).outline()}) == 1


def test_hidden_teeth_are_left_out_of_still_pictures():
    scene = views.cones(20, 20, 2.5, 45, 45)
    seen = sum(not tooth.hidden for of in ("driver", "driven") for tooth in ends(scene, of))
    assert 20 < seen < 30
    assert svg(scene).count("<path") < living_svg(scene).count("<path")
    assert axes.png(scene, scale=0.3)[:4] == b"\x89PNG"


@pytest.mark.parametrize(
    "angles, says, turns",
    [
        ((33.7, 56.3), "roll on each other", True),
        ((45, 45), "large circles do not meet", False),
        ((30, 45), "A gap of 15.0 degrees", False),
        ((50, 60), "overlap by 20.0 degrees", False),
    ],
)
def test_cones_turn_only_when_they_fit(angles, says, turns):
    scene = views.cones(20, 30, 2.5, *angles)
    assert says in scene.text
    assert (
        any(isinstance(shape.motion, Turn) for shape in scene.shapes)
        == turns
        == bool(scene.having("turning arrow", Arc))
    )


def test_the_driven_gear_below_turns_its_shaft_the_other_way():
    # the near side of the driven cone goes to the left above the axis, and to the right below it (vectors,
    # tests/parts/test_bevel.py)
    for side, way in ((1, -1), (-1, 1)):
        arrow = next(
            arc
            for arc in views.cones(20, 20, 2.5, 45, 45, side=side).having("turning arrow", Arc)
            if arc.of == "driven"
        )
        assert (
            math.copysign(1, math.cos(math.radians(arrow.end)) - math.cos(math.radians(arrow.start))) == way
        )


# -- planetary set -------------------------------------------------------------------------------------
def shown(scene, angle):
    """Sun, planets and ring hole as the page shows them at an angle of the input [deg]."""
    found = []
    for shape in (
        shape
        for shape in scene.shapes
        if isinstance(shape, Teeth) and shape.role in ("driver", "gear", "paper")
    ):
        body = affinity.rotate(Polygon(shape.points()), shape.motion.speed * angle, origin=shape.motion.about)
        if shape.motion.around is not None:
            body = affinity.rotate(body, shape.motion.orbit * angle, origin=shape.motion.around)
        found.append((shape.role, body))
    return found


@pytest.mark.parametrize("held", ["ring", "sun", "carrier"])
def test_the_picture_of_a_set_stays_in_mesh(held):
    scene = views.planetary(Planetary(24, 18, module=2.5, held=held))
    for angle in (0.0, 33.3, 517.0):
        bodies = shown(scene, angle)
        sun, hole = (next(body for role, body in bodies if role == wanted) for wanted in ("driver", "paper"))
        planets = [body for role, body in bodies if role == "gear"]
        assert len(planets) == 3
        for planet in planets:
            assert planet.intersection(sun).area < 0.05 and planet.difference(hole).area < 0.05


def test_what_is_held_stands_still_and_is_no_handle():
    scene = views.planetary(Planetary(24, 18, module=2.5, held="ring"))
    named = {
        shape.motion.name.split(",")[0]
        for shape in scene.shapes
        if isinstance(shape.motion, Turn) and shape.motion.name
    }
    assert named == {"Sun", "Carrier"}
    assert {shape.motion.speed for shape in scene.having("outline", Teeth)} == {0.0}
    assert "ring 60 (held)" in {shape.text for shape in scene.shapes if isinstance(shape, Label)}
    with pytest.raises(ValueError, match="hold the sun"):
        views.planetary(Planetary(24, 18, module=2.5, held=None))


def test_planets_that_do_not_fit_are_marked():
    for sun, planet, planets in ((20, 15, 3), (24, 18, 5), (21, 16, 4)):
        made = Planetary(sun, planet, module=2.5, planets=planets, must_fit=False)
        scene = views.planetary(made)
        bodies = shown(scene, 0.0)
        hole = next(body for role, body in bodies if role == "paper")
        # by the shape: which planets stick into the ring
        astray = [
            k
            for k, body in enumerate(body for role, body in bodies if role == "gear")
            if body.difference(hole).area > 0.3
        ]
        assert astray == misfits(made) and len(scene.having("clash", Teeth)) == len(astray) > 0
        assert "cannot be assembled" in scene.text
