"""Bevel and mitre pairs under review. Cones, virtual teeth and stresses are worked by hand."""

import math

import pytest

from gearlab.parts.review import review

from .drives import CORNER, KIT, alone, finding, holds, mended, outcomes, unmade

LOAD = {"torque": 2, "speed": 30}
ROWS = ("bevel cones", "bevel teeth", "bevel face", "bevel mounting", "bevel thrust", "bevel load")


def legacy(**fields):
    """The kit with a [mitre] as present files have it: counts and collars."""
    return KIT.with_(mitre={"teeth": [20, 20], "thrust_collars": True, **fields})


def test_a_sound_pair_holds_throughout():
    pair = alone("bevel", CORNER, LOAD)
    assert all(holds(row, pair) for row in ROWS)
    assert review(legacy()).passes


def test_the_counts_of_a_mitre_pair():
    assert holds("mitre counts", legacy())
    unequal = legacy(teeth=[20, 21])
    assert finding("mitre counts", unequal, "mitre-unequal")
    mended(unequal, "mitre-unequal", "the mitre pair")
    assert outcomes("mitre counts", alone("bevel", CORNER, teeth=[20, 30])) == []


@pytest.mark.parametrize(
    ("teeth", "grade"),
    [
        ([20, 20], ""),
        ([12, 12], ""),
        ([11, 11], "will trouble"),
        ([4, 4], "will not work"),
        ([8, 40], "will not work"),
    ],
)
def test_virtual_teeth(teeth, grade):
    """12 / cos 45 = 16.97, a hundredth of a module short of 17.1; 11 are like 15.6, 4 like 5.66, and 8 of a
    cone of 11.3 deg like 8.16.
    """
    design = legacy() if teeth[0] != teeth[1] else legacy(teeth=teeth)
    if teeth[0] != teeth[1]:
        design = alone("bevel", CORNER, teeth=teeth, face_width=None, mounting=None)
    assert holds("bevel teeth", design) == (not grade)
    if grade:
        told = finding("bevel teeth", design, "bevel-undercut")
        assert told.grade == grade
        like = teeth[0] / math.cos(math.atan2(teeth[0], teeth[1]))
        assert f"{like:.2f}" in told.what
    if teeth == [4, 4]:
        (edit,) = told.edits
        assert edit["mitre"]["teeth"] == [13, 13]  # 13 / cos 45 = 18.4
        assert all(ledger.passes for ledger in mended(design, "bevel-undercut", "the mitre pair"))


def test_an_angle_that_no_system_has_is_not_checked():
    assert unmade("bevel teeth", legacy(pressure_angle=0.5))


def test_the_cones():
    """20 and 20 teeth at 120 deg have cones of 60; 20 and 60 at 120 have 19.1 and 100.9, a hollow one."""
    assert holds("bevel cones", alone("bevel", CORNER, shaft_angle=120.0))
    hollow = alone("bevel", CORNER, teeth=[20, 60], shaft_angle=120.0)
    assert "100.89" in finding("bevel cones", hollow, "cone-is-hollow").what
    (edit,) = finding("bevel cones", hollow, "cone-is-hollow").edits
    assert holds("bevel cones", hollow.with_(**edit))


def test_shafts_that_stand_side_by_side_do_not_cross():
    plate = {"length": 100, "height": 100, "thickness": 6}
    side = alone("bevel", CORNER, LOAD).with_(
        plate=plate, shaft={"A": {"x": 30, "y": 50}, "B": {"x": 70, "y": 50}}
    )
    for edit in finding("bevel cones", side, "bevel-shafts-are-parallel").edits:
        assert holds("bevel cones", side.with_(**edit))
    both = side.with_(
        gear=[
            {"name": n, "shaft": s, "teeth": 20, "module": 1, "face_width": 8, "bore": 8}
            for n, s in (("g", "A"), ("h", "B"))
        ]
    )
    assert finding("bevel cones", both, "bevel-shafts-are-parallel").decision


def test_the_face():
    """A third of 25 sqrt 2 mm is 11.785 mm."""
    wide = alone("bevel", CORNER, face_width=12.0)
    told = finding("bevel face", wide, "bevel-face-too-wide")
    assert "11.785 mm" in told.limit and told.edits == ({"bevel": {"corner": {"face_width": 11.5}}},)
    assert holds("bevel face", alone("bevel", CORNER, face_width=11.785))
    assert unmade("bevel face", alone("bevel", CORNER, face_width=None))
    assert "size" in unmade("bevel face", legacy()).why


@pytest.mark.parametrize(
    ("mounting", "grade"),
    [
        ([25, 25], ""),
        ([25.2, 24.97], ""),
        ([25, 24.5], "will not work"),
        ([25.6, 25], "will trouble"),
        ([27, 25], "will not work"),
    ],
)
def test_the_mounting(mounting, grade):
    """Both large pitch circles stand a pitch radius, 25 mm, from where the axes cross."""
    pair = alone("bevel", CORNER, mounting=mounting)
    assert holds("bevel mounting", pair) == (not grade)
    if grade:
        told = finding("bevel mounting", pair, "bevel-off-its-apex")
        assert told.grade == grade and told.edits == ({"bevel": {"corner": {"mounting": [25.0, 25.0]}}},)
    unsaid = unmade("bevel mounting", alone("bevel", CORNER, mounting=None))
    assert not unsaid.decisive and "25 mm and 25 mm" in unsaid.give


def test_mounting_in_inches_of_unequal_counts():
    """16 : 48 at 8 to the inch: pitch radii 1 and 3 in, each the mounting distance of the other gear."""
    inch = {**CORNER, "teeth": [16, 48], "module": None, "diametral_pitch": 8, "face_width": 1}
    pair = alone("bevel", inch, mounting=[3, 1]).with_(design={"unit": "in"})
    assert holds("bevel mounting", pair)
    assert finding("bevel mounting", pair.with_(bevel={"corner": {"mounting": [1, 3]}}), "bevel-off-its-apex")


def test_the_thrust():
    assert holds("bevel thrust", legacy())
    pushed = legacy(thrust_collars=False)
    assert finding("bevel thrust", pushed, "mitre-pushed-off")
    mended(pushed, "mitre-pushed-off", "the mitre pair")


def test_the_stress_at_the_middle_of_the_face():
    """2 N m on a mean diameter of 50 - 10 sin 45 = 42.93 mm are 93.2 N. The module there is 2.5 (1 - 5/35.36)
    = 2.146 mm, and 28.28 virtual teeth have Y 0.3539 (Shigley, table 14-2, between 28 and 30).
    """
    (held,) = outcomes("bevel load", alone("bevel", CORNER, LOAD))
    share = (1 / 28 - 1 / (20 * math.sqrt(2))) / (1 / 28 - 1 / 30)
    form = 0.353 + share * (0.359 - 0.353)
    force = 2 * 2000 / (50 - 10 * math.sin(math.radians(45)))
    middle = 2.5 * (1 - 5 / (25 * math.sqrt(2)))
    assert held.number == pytest.approx(force / (10 * middle * form), rel=1e-6)
    weak = alone("bevel", CORNER, LOAD, allowable_stress=10)
    (edit,) = finding("bevel load", weak, "teeth-overloaded").edits
    assert holds("bevel load", weak.with_(**edit))
    jam = weak.with_(load={"stall_torque": 6}, bevel={"corner": {"allowable_stress": 20}})
    assert finding("bevel load", jam, "teeth-break-at-stall")


def test_what_is_missing_for_the_stress():
    assert not unmade("bevel load", legacy()).decisive
    for word in ("allowable_stress", "face_width"):
        lacking = alone("bevel", {**CORNER, word: None}, LOAD)
        assert unmade("bevel load", lacking).decisive
    unsized = alone("bevel", {**CORNER, "module": None}, LOAD)
    assert unmade("bevel load", unsized).decisive
