"""Bevel teeth in pictures, against what they must be by geometry and against spur gears cut from the rack.

Tredgold (standard texts on bevel gears): on the back cone, developed, a bevel tooth is that of a spur gear
with z / cos(cone angle) teeth; it shrinks straight to the apex.
"""

import math
import re

import numpy as np
import pytest

from gearlab.drawing import views
from gearlab.drawing.motion import Turn
from gearlab.drawing.shapes import Outline
from gearlab.drawing.views.cones import BevelTeeth
from gearlab.parts import BevelPair, Gear
from gearlab.parts.made import BevelPart
from gearlab.parts.made.otherdata import cone_of

PAIRS = [(20, 30, 90.0), (16, 48, 90.0), (20, 20, 90.0), (18, 27, 75.0), (15, 20, 105.0)]


def teeth_of(driver, driven, shafts, side):
    pair = BevelPair(driver, driven, module=2.5, shaft_angle=shafts)
    cone = cone_of(BevelPart("gear", pair, side))
    count, angle = (driver, driven)[side], pair.cone_angles[side]
    return BevelTeeth(count, 2.5, angle, cone.addendum, cone.dedendum, 20.0, 0.3)


@pytest.mark.parametrize("virtual, cosine, teeth", [(30, 0.8, 24), (25, 0.8, 20), (50, 0.6, 30)])
def test_the_developed_tooth_is_that_of_a_spur_gear_cut_from_the_rack(virtual, cosine, teeth):
    """3 : 4 : 5 makes the formative count whole; the spur gear's outline comes from the cutting rack."""
    cut = BevelTeeth(teeth, 2.5, math.degrees(math.acos(cosine)), 2.5, 3.125, 20.0, 0.3)
    assert cut.virtual_teeth == pytest.approx(virtual)
    spur = Gear(virtual, module=2.5).outline()
    radii, turns = np.hypot(*spur.T), np.abs((np.degrees(np.arctan2(*spur.T[::-1])) + 180) % 360 - 180)
    flank = (turns < 180 / virtual) & (radii > virtual * 1.25 - 2.0)
    order = np.argsort(radii[flank])
    back = 2.5 * virtual / 2
    sine = math.sqrt(1 - cosine**2)
    for along, off, turn in cut.half:
        ray = math.hypot(off, along - cut.distance / cosine)  # from the back cone's apex
        assert off == pytest.approx(ray * cosine) and ray * sine == pytest.approx(
            cut.distance / cosine - along
        )
        if back - 1.6 < ray < back + 2.4:
            expected = np.interp(ray, radii[flank][order], turns[flank][order])
            assert math.radians(turn * cosine - expected) * ray == pytest.approx(0, abs=0.01), ray


@pytest.mark.parametrize("driver, driven, shafts", PAIRS)
@pytest.mark.parametrize("side", [0, 1])
def test_tips_and_roots_stand_on_face_and_root_cone_at_both_ends(driver, driven, shafts, side):
    """Addendum and dedendum angles: atan(a / Re), atan(b / Re); at the small end all is (Re - F) / Re."""
    cut = teeth_of(driver, driven, shafts, side)
    reach = 2.5 * (driver, driven)[side] / 2 / math.sin(math.radians(cut.angle))
    for small in (False, True):
        corners = [cut.small(corner) for corner in cut.half] if small else cut.half
        (a0, r0, _), (a1, r1, _) = corners[0], corners[-1]
        share = 0.7 if small else 1.0
        assert math.degrees(math.atan2(r1, a1)) == pytest.approx(
            cut.angle + math.degrees(math.atan(2.5 / reach))
        )
        assert math.degrees(math.atan2(r0, a0)) == pytest.approx(
            cut.angle - math.degrees(math.atan(3.125 / reach))
        )
        assert math.dist((a0, r0), (a1, r1)) == pytest.approx(5.625 * share) == cut.height(small)
        # square to the pitch cone's line, as far out as its end
        cos, sin = math.cos(math.radians(cut.angle)), math.sin(math.radians(cut.angle))
        assert {round(a * cos + r * sin, 9) for a, r, _ in corners} == {round(share * reach, 9)}


@pytest.mark.parametrize("driver, driven, shafts", PAIRS)
def test_the_outside_diameter_is_that_of_theory(driver, driven, shafts):
    pair = BevelPair(driver, driven, module=2.5, shaft_angle=shafts)
    for side in (0, 1):
        cut = teeth_of(driver, driven, shafts, side)
        assert 2 * cut.half[-1][1] == pytest.approx(pair.outside_diameters[side])
        assert cut.half[-1][0] == pytest.approx(pair.crown_distances[side])


def test_teeth_taper_and_never_cross_their_middle():
    for driver, driven, shafts in PAIRS:
        for side in (0, 1):
            turns = [turn for _, _, turn in teeth_of(driver, driven, shafts, side).half]
            assert turns == sorted(turns, reverse=True) and turns[-1] > 0
    pointed = BevelTeeth(12, 2.5, 5.0, 4.0, 3.0, 32.0, 0.3)
    assert min(turn for _, _, turn in pointed.half) == 0


def test_faces_show_every_tooth_and_turn_against_the_view_from_behind():
    scene = views.cones(20, 30, 2.5, 33.690068, 56.309932, seen="faces")
    for of, count, speed in (("driver", 20, -1.0), ("driven", 30, 2 / 3)):
        lands = [
            s for s in scene.shapes if s.of == of and s.role in ("land", "mark") and isinstance(s, Outline)
        ]
        assert len(lands) == count and {s.motion for s in lands} == {lands[0].motion}
        assert isinstance(lands[0].motion, Turn) and lands[0].motion.speed == pytest.approx(speed)
        (ring,) = [s for s in scene.having("tooth side", Outline) if s.of == of]
        off = ring.points - np.asarray(lands[0].motion.about)
        radii = np.hypot(*off.T)
        tips = np.diff((radii > radii.max() - 1e-9).astype(int)) == 1
        assert tips.sum() + (radii[0] > radii.max() - 1e-9) == count
        land = np.hypot(*(lands[0].points - np.asarray(lands[0].motion.about)).T)
        assert land.min() / land.max() == pytest.approx(0.7), "to the small end, straight to the apex"
    assert "5.625 mm high at the large end" in scene.text and "3.94" in re.sub("3.93[78]", "3.94", scene.text)


def test_a_design_shows_its_own_depths():
    long = BevelPair(16, 48, module=2.5, long_addendum=True)
    depths = [(c.addendum, c.dedendum) for c in (cone_of(BevelPart("g", long, side)) for side in (0, 1))]
    scene = views.cones(16, 48, 2.5, *long.cone_angles, depths=tuple(depths))
    tips = [
        max(
            off
            for shape in scene.having("tooth end", Outline)
            if shape.of == of
            for _, off, _ in shape.motion.corners
        )
        for of in ("driver", "driven")
    ]
    assert [2 * tip for tip in tips] == pytest.approx(list(long.outside_diameters))
