"""String, line of action, path of contact, rack cutter.

What is drawn is what the geometry of the textbooks says.
"""

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon

from gearlab.drawing import svg, views
from gearlab.drawing.axes import png
from gearlab.drawing.motion import Carry, Slide, Swing
from gearlab.drawing.shapes import Circle, Dot, Line, Outline, Strokes, Teeth
from gearlab.drawing.views.action import action, clearances
from gearlab.drawing.views.generation import cutter, involute, overreach
from gearlab.parts import Gear, Mesh

DRIVE = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
BASE = 22.5 * math.cos(math.radians(20))


def one(scene, role, kind=object):
    found = scene.having(role, kind)
    assert len(found) == 1, (role, found)
    return found[0]


@pytest.mark.parametrize("roll", [1.0, 12.0, 20.9, 43.0])
def test_the_string_is_taut_and_as_long_as_the_arc_it_left(roll):
    scene = views.unwinding(Gear(18, module=2.5), roll)
    free = next(shape for shape in scene.shapes if isinstance(shape, Line) and shape.role == "string")
    leaves, end = np.array(free.start), np.array(free.end)
    # Buckingham, chapter 4: free string = base radius * roll angle, square to the radius where it leaves
    assert math.dist(leaves, end) == pytest.approx(BASE * math.radians(roll))
    assert float(leaves @ (end - leaves)) == pytest.approx(0.0, abs=1e-9)
    assert np.hypot(*leaves) == pytest.approx(BASE)
    swing = free.motion
    assert isinstance(swing, Swing) and swing.circle == pytest.approx(BASE) and swing.control == "roll_angle"


def test_the_string_draws_the_flank_that_the_rack_cuts():
    gear = Gear(18, module=2.5)
    drawn = one(views.unwinding(gear, 36.0, tooth=True), "flank", Outline).points
    teeth = one(views.unwinding(gear, 36.0, tooth=True), "gear", Teeth)
    outline = LineString(teeth.points())
    # from the form circle (by the cut shape) to the tip, the drawn curve lies on the cut outline
    radius = np.hypot(*drawn.T)
    on_flank = drawn[(radius > gear.tooth.form_radius * 2.5 + 1e-3) & (radius < 24.99)]
    assert len(on_flank) > 15
    # the outline's own chord tolerance
    assert max(outline.distance(Point(point)) for point in on_flank) < 2e-3


def test_unwinding_by_nothing_starts_on_the_base_circle_and_too_far_is_refused():
    assert np.hypot(*involute(21.0, 0.3, 0.0)) == pytest.approx(21.0)
    with pytest.raises(ValueError, match="0 to 50 deg"):
        views.unwinding(Gear(18, module=2.5), 51.0)


def test_a_line_at_the_pressure_angle_touches_both_base_circles_and_no_other_does():
    assert clearances(DRIVE, 20.0) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert all(gap > 0.05 for gap in clearances(DRIVE, 19.0)) and all(
        gap < -0.05 for gap in clearances(DRIVE, 21.0)
    )
    assert clearances(DRIVE, -20.0) == pytest.approx((0.0, 0.0), abs=1e-12)


@pytest.mark.parametrize("tilt", [-37.5, 0.0, 20.0, 60.0])
def test_the_feet_of_the_tilted_line_lie_square_below_the_centres(tilt):
    scene = views.tilted(DRIVE, tilt)
    line = one(scene, "line of action", Line)
    along = np.subtract(line.end, line.start)
    assert math.degrees(math.atan2(along[0], along[1])) == pytest.approx(tilt)
    for arm in scene.having("construction", Line):
        assert float(np.subtract(arm.end, arm.start) @ along) == pytest.approx(0.0, abs=1e-9)
    # the pitch point lies on it: 22.5 mm from the driver's centre (18 teeth of module 2.5)
    assert Point(22.5, 0.0).distance(LineString([line.start, line.end])) == pytest.approx(0.0, abs=1e-9)
    assert isinstance(line.motion, Swing) and line.motion.about == (22.5, 0.0)


def test_contact_points_are_shown_only_when_asked():
    assert not views.tilted(DRIVE, 20.0).having("contact point")
    assert len(views.tilted(DRIVE, 20.0, contact=True).having("contact point")) == 3


def test_the_line_of_action_has_the_published_lengths():
    line = action(DRIVE)
    # Mott, 4th ed., sec. 8-4: tangent to both base circles, so C sin phi long; vent-drive data: path 12.05
    # mm, base pitch 7.380 mm
    assert line.to_first + line.to_second == pytest.approx(78.75 * math.sin(math.radians(20)))
    assert line.high - line.low == pytest.approx(12.05, abs=0.005) and line.period == pytest.approx(
        7.380, abs=5e-4
    )
    for s, centre, radius in ((line.low, (78.75, 0.0), 58.75), (line.high, (0.0, 0.0), 25.0)):
        # contact begins and ends on the tip circles
        assert math.dist(line.at(s), centre) == pytest.approx(radius)


def test_contact_points_lie_on_the_flanks_of_both_cut_gears():
    scene = views.contact(DRIVE)
    first, second = (one(scene, role, Teeth) for role in ("driver", "driven"))
    seen = 0
    for dot in scene.having("contact point", Dot):
        motion = dot.motion
        if motion.direction == (1.0, 0.0) or not motion.low <= 0 <= motion.high:
            continue
        seen += 1
        assert LineString(first.points()).distance(Point(dot.at)) < 2e-3
        assert LineString(second.points()).distance(Point(dot.at)) < 2e-3
    assert seen in (1, 2)


def test_the_cursor_runs_once_along_the_strip_for_each_tooth():
    scene = views.contact(DRIVE, 30.0)
    cursor = next(
        dot.motion for dot in scene.having("contact point", Dot) if dot.motion.direction == (1.0, 0.0)
    )
    assert isinstance(cursor, Slide) and cursor.high - cursor.low == pytest.approx(cursor.period)
    # 18 teeth: one base pitch of contact every 20 degrees
    assert cursor.per_degree * 360 / 18 == pytest.approx(cursor.period)
    edge = next(shape.motion for shape in scene.shapes if isinstance(shape.motion, Carry))
    assert edge.control == "shade" and edge.per * 100 == pytest.approx(cursor.period)


def test_the_lines_of_the_strip_end_where_the_old_pair_leaves():
    scene = views.contact(DRIVE, 30.0, shown=True)
    lines = [shape for shape in scene.having("string", Line) if shape.start[1] == shape.end[1]]
    leaving, new = sorted(shape.end[0] - shape.start[0] for shape in lines)
    # two pairs touch on 63 % of a base pitch (contact ratio 1.63: vent-drive data)
    assert leaving / new == pytest.approx(0.633, abs=0.001)


def test_contact_ratios_the_strip_cannot_show_are_refused():
    with pytest.raises(ValueError, match="contact ratio is 0.9"):
        views.contact(Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=80.5))
    with pytest.raises(ValueError, match="0 to 100 %"):
        views.contact(DRIVE, 101.0)


@pytest.mark.parametrize("teeth, shift", [(10, 0.0), (18, 0.0), (12, 0.3), (30, -0.2)])
def test_the_cutter_never_cuts_into_the_pinion_it_has_made(teeth, shift):
    gear = Gear(teeth, module=2.5, profile_shift=shift)
    scene = views.generation(gear, traces=True)
    body = Polygon(one(scene, "driver", Teeth).points()).buffer(-5e-3)
    traces = scene.having("sweep", Strokes)
    assert len(traces) == teeth
    assert not any(body.intersects(LineString(trace)) for space in traces[:3] for trace in space.points)
    # and it touches it: the edge in its place at the top runs along the root of the space
    rack = one(scene, "cutter", Outline)
    assert Polygon(one(scene, "driver", Teeth).points()).distance(LineString(rack.points)) < 5e-3


def test_the_edge_of_the_cutter_is_the_basic_rack():
    gear = Gear(18, module=2.5)
    edge = cutter(gear)
    # ISO 53 profile A, turned over: 1.25 modules deep, tooth pi/2 modules thick on the pitch line, straight
    # to 1.0 module below it
    assert edge[:, 1].min() == pytest.approx(-1.25 * 2.5)
    assert np.interp(0.0, edge[len(edge) // 2 :, 1], edge[len(edge) // 2 :, 0]) == pytest.approx(
        math.pi * 2.5 / 4
    )
    assert edge[-1, 0] - edge[0, 0] == pytest.approx(math.pi * 2.5)


def test_overreach_agrees_with_the_cut_shape_and_the_handbook_shift():
    for teeth in range(8, 30):
        for shift in (0.0, 0.1, 0.35):
            gear = Gear(teeth, module=1, profile_shift=shift)
            past = overreach(gear)
            assert (past > 0) == gear.undercut
            # shift that just clears at 20 degrees: 1 - N sin^2(20)/2 (handbook form; ISO 53 profile A ends
            # its straight flank at 1.0 module)
            assert past == pytest.approx(1 - teeth * math.sin(math.radians(20)) ** 2 / 2 - shift, abs=5e-5)


@pytest.mark.parametrize(
    "make",
    [
        lambda: views.unwinding(Gear(18, module=2.5), 21.0, tooth=True),
        lambda: views.tilted(DRIVE, 20.0, contact=True),
        lambda: views.contact(DRIVE, 40.0, shown=True),
        lambda: views.generation(Gear(12, diametral_pitch=10), traces=True),
    ],
    ids=["unwinding", "tilted", "contact", "generation"],
)
def test_still_pictures_in_both_outputs(make):
    scene = make()
    for theme in ("light", "dark"):
        assert svg(scene, theme).startswith("<svg") and png(scene, theme, 1.0).startswith(b"\x89PNG")
    assert all(isinstance(shape.radius, float) for shape in scene.having("base circle", Circle))
