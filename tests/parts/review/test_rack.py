"""Racks under review: teeth, height, travel, stops, guide, force, strength. Heights and forces by hand."""

import math

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import review

from .drives import KIT, MESH, PINION, RACK, finding, holds, mended, outcomes, unmade, with_rack


def test_a_sound_rack_holds_throughout():
    rows = ("rack teeth", "rack height", "rack travel", "rack stops", "rack guide", "rack load")
    assert all(holds(row, with_rack()) for row in rows)
    assert review(with_rack()).passes


# -- height --------------------------------------------------------------------------------------------
def test_the_height_at_which_the_teeth_jam():
    """Thinned by 0.05 mm, the pinion has room down to 0.05 / (2 tan 20 deg) = 0.0687 mm below 22.5 + 12.5."""
    least = 35 - 0.05 / (2 * math.tan(math.radians(20)))
    assert holds("rack height", with_rack(mounting_height=least + 0.001))
    near = with_rack(mounting_height=least - 0.002)
    assert f"{least:.3f}" in finding("rack height", near, "rack-too-high").limit
    # within a tenth of a module of its height, and jammed all the same
    assert finding("rack height", with_rack(mounting_height=34.85), "rack-too-high")


@pytest.mark.parametrize("height", [35.0, 34.9996, 35.2])
def test_heights_that_a_drawing_rounds_hold(height):
    sharp = with_rack(mounting_height=height).with_(gear={PINION: {"tooth_thinning": 0}})
    assert holds("rack height", sharp)


def test_a_rack_without_play_jams_as_soon_as_it_is_nearer():
    sharp = with_rack(mounting_height=34.99).with_(gear={PINION: {"tooth_thinning": 0}})
    assert finding("rack height", sharp, "rack-too-high")


@pytest.mark.parametrize(
    ("height", "grade"), [(35.4, "will trouble"), (36.5, "will trouble"), (38.0, "will not work")]
)
def test_a_rack_too_far_off(height, grade):
    """Mounted by the outside radius, 2.5 mm too far, hardly half a pair of teeth touches."""
    far = with_rack(mounting_height=height)
    assert finding("rack height", far, "rack-too-low").grade == grade
    assert all(ledger.passes for ledger in mended(far, "rack-too-low", "the rack"))


def test_a_shifted_pinion_stands_further_off():
    """0.3 modules of shift are 0.75 mm."""
    shifted = {PINION: {"profile_shift": 0.3}}
    assert holds("rack height", with_rack(mounting_height=35.75).with_(gear=shifted))
    assert finding("rack height", with_rack().with_(gear=shifted), "rack-too-high")


def test_the_contact_ratio_of_a_rack():
    """20 teeth, full depth, 20 deg: approach 1 / sin a modules, recess up to the tip of 11 modules.

    The rounding of the cutter's tip, 0.38, begins 0.99997 modules below the pitch line.
    """
    from gearlab import Gear
    from gearlab.parts.rack import Rack
    from gearlab.parts.rackdrive import RackDrive
    from gearlab.parts.review.rack import contact_at

    drive = RackDrive(Gear(20, module=1), Rack(54, module=1))
    angle = math.radians(20)
    base = 10 * math.cos(angle)
    recess = math.sqrt(11**2 - base**2) - 10 * math.sin(angle)
    pitch = math.pi * math.cos(angle)
    ratio = (1 / math.sin(angle) + recess) / pitch
    assert contact_at(drive, drive.mounting_height) == pytest.approx(ratio, rel=1e-4)
    # half a module further off the rack's tip takes hold half a module later
    less = (0.5 / math.sin(angle) + recess) / pitch
    assert contact_at(drive, drive.mounting_height + 0.5) == pytest.approx(less, rel=1e-4)


# -- teeth and travel ----------------------------------------------------------------------------------
def test_rack_and_pinion_have_one_size_of_tooth():
    other = with_rack(module=3)
    assert "module 3" in finding("rack teeth", other, "teeth-do-not-match").what
    mended(other, "teeth-do-not-match", "the rack")
    assert holds("rack teeth", with_rack(module=2.5))
    assert finding("rack teeth", with_rack(module=2.5, pressure_angle=14.5), "teeth-do-not-match")


def test_a_rack_whose_spaces_cut_through_its_back():
    """Full depth goes 1.25 x 2.5 = 3.125 mm below the pitch line."""
    thin = with_rack(pitch_height=3, mounting_height=25.5)
    assert finding("rack teeth", thin, "rack-cannot-be")
    mended(thin, "rack-cannot-be", "the rack")


def test_the_travel():
    """400 mm over 7.854 mm are 50.9: 51 teeth and three in mesh."""
    assert holds("rack travel", with_rack())
    short = with_rack(teeth=53)
    assert finding("rack travel", short, "rack-too-short").edits == ({"rack": {"rack": {"teeth": 54}}},)
    mended(short, "rack-too-short", "the rack")


def test_stops_and_guide():
    bare = with_rack(stops=False, guided=False)
    assert finding("rack stops", bare, "rack-without-stops")
    assert finding("rack guide", bare, "rack-without-guide")
    mended(bare, "rack-without-stops", "the rack")
    mended(bare, "rack-without-guide", "the rack")
    unsaid = KIT.with_(rack=[{key: value for key, value in RACK.items() if key != "guided"}])
    assert not unmade("rack guide", unsaid).decisive and review(unsaid).passes


def test_a_rack_alone():
    tables = {"design": {"name": "alone"}, "rack": [{**RACK, "pinion": None, "module": 2.5}]}
    tables["rack"][0].pop("pinion")
    rack = Design(**tables)
    assert holds("rack teeth", rack) and holds("rack travel", rack)
    assert outcomes("rack height", rack) == [] and outcomes("load", rack) == []
    unsized = Design(**tables | {"rack": [{**tables["rack"][0], "module": None}]})
    assert "size" in unmade("rack teeth", unsized).why


# -- load ----------------------------------------------------------------------------------------------
def test_the_rack_pushes_hard_enough():
    """1.93 N m on 22.5 mm are 85.8 N; nine tenths of it are 77.2 N."""
    (held,) = outcomes("rack force", with_rack(force=80))
    assert held.number == pytest.approx(1.93 / 0.0225)
    weak = with_rack(force=80, efficiency=0.9)
    assert "77.2 N" in finding("rack force", weak, "rack-pushes-too-weakly").what
    mended(weak, "rack-pushes-too-weakly", "the rack")
    assert unmade("rack force", with_rack())
    assert unmade("rack force", with_rack(force=80).with_(load=None))


def test_the_teeth_of_the_rack():
    """A rack's form factor is 0.485 (Shigley, table 14-2); the clutch lets 4 N m through."""
    (held,) = outcomes("rack load", with_rack())
    assert held.number == pytest.approx(4 / 0.0225 / (14 * 2.5 * 0.485), rel=1e-6)
    (narrow,) = outcomes("rack load", with_rack(face_width=10))
    assert narrow.number == pytest.approx(4 / 0.0225 / (10 * 2.5 * 0.485), rel=1e-6)
    weak = with_rack(allowable_stress=2)
    assert finding("rack load", weak, "teeth-overloaded")
    mended(weak, "teeth-overloaded", "the rack")
    assert finding("rack load", with_rack(allowable_stress=6), "teeth-break-at-stall")
    unsaid = with_rack(allowable_stress=None)
    assert not unmade(
        "rack load", KIT.with_(rack=[{k: v for k, v in RACK.items() if k != "allowable_stress"}])
    ).decisive
    assert unsaid.rack[0].allowable_stress is None


def test_500_newton_metres_without_a_mesh_break_rack_and_pinion():
    drawn = with_rack().with_(mesh={MESH: None}, load={"torque": 500}, design={"ratio": None})
    assert finding("rack load", drawn, "teeth-overloaded")
    assert finding("teeth under load", drawn, "teeth-overloaded", PINION)


# -- where it lies -------------------------------------------------------------------------------------
def test_the_rack_lies_along_its_pinion():
    """The pinion's 14 mm begin 1.5 + 13 mm above the plate, on its hub."""
    assert holds("rack face", with_rack(foot=14.5, face_width=14, angle=180))
    (higher,) = outcomes("rack face", with_rack(foot=15.5, face_width=14, angle=180))
    assert higher.number == pytest.approx(13)
    half = with_rack(foot=21.5, face_width=14, angle=180, allowable_stress=30)
    assert "7 mm" in finding("rack face", half, "faces-partly-miss").what
    (held,) = outcomes("rack load", half)
    assert held.number == pytest.approx(4 / 0.0225 / (7 * 2.5 * 0.485), rel=1e-6)
    mended(half, "faces-partly-miss", "the rack")
    off = with_rack(foot=40, face_width=14, angle=180)
    assert finding("rack face", off, "faces-miss") and unmade("rack load", off)
    assert unmade("rack face", with_rack())


def test_the_rack_clears_the_other_gears():
    """Below the pinion its tips lie 20 mm under the axis, and the wheel's reach 58.75 mm down; on the far
    side nothing is in its way.
    """
    below = with_rack(foot=14.5, face_width=14)
    assert "wheel" in finding("rack's way", below, "rack-strikes").what
    assert holds("rack's way", below.with_(rack={"rack": {"angle": 180}}))
    after = mended(below, "rack-strikes", "the rack")
    assert after and all("rack-strikes" not in ledger.names for ledger in after)
    above = with_rack(foot=30, face_width=4)
    assert holds("rack's way", above.with_(shaft={"vent": {"length": 44}}))
