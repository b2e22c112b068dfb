"""What is asked of teeth: whole, wide at the tip, alike, with room below the tips."""

import math

import pytest

from gearlab.parts.review import review

from .meshes import PAIR, finding, held, sound


def inv(angle):
    return math.tan(angle) - angle


def spaced(teeth, shift=0.0, **more):
    """The pair with another pinion, at half of module times the teeth, and the shift's distance beside."""
    a = teeth + 40.0
    if shift:  # ISO 21771:2007: inv a_w = inv a + 2 x tan a/(z1 + z2), a_w from its own inverse
        phi = math.radians(20)
        wanted, low, high = inv(phi) + 2 * shift * math.tan(phi) / (teeth + 40), phi, math.radians(40)
        for _ in range(80):
            low, high = (
                ((low + high) / 2, high) if inv((low + high) / 2) < wanted else (low, (low + high) / 2)
            )
        a *= math.cos(phi) / math.cos(low)
    pinion = {"teeth": teeth, "profile_shift": shift} | more
    return sound(gear={"pinion": pinion}, shaft={"b": {"x": 50.0 + a}})


@pytest.mark.parametrize(
    ("teeth", "grade"),
    [
        (18, None),
        # 2/sin^2 20 = 17.097 (Shigley, sec. 13-7): the cutter goes 0.006 modules too deep, no contact is lost
        (17, "worth knowing"),
        (14, "will trouble"),
        (12, "will trouble"),
    ],
)
def test_undercut_is_judged_by_the_cut_tooth(teeth, grade):
    found = review(spaced(teeth))
    assert next((one.grade for one in found if one.name == "undercut"), None) == grade
    assert found.passes == (grade in (None, "worth knowing"))


def test_a_shift_takes_the_undercut_away():
    """x = (17.097 - 14)/17.097 = 0.181 modules and more (ISO 21771:2007)."""
    change = finding(spaced(14), "undercut").edits[0]
    assert change["gear"]["pinion"]["profile_shift"] == pytest.approx(0.2)


@pytest.mark.parametrize(("shift", "pointed"), [(0.5, False), (0.7, False), (0.95, True), (1.05, True)])
def test_the_width_of_a_tip(shift, pointed):
    """s_a = d_a (s/d + inv a - inv a_a), with s = m (pi/2 + 2 x tan a) - thinning (ISO 21771:2007)."""
    phi, d = math.radians(20), 40.0
    s = 2.0 * (math.pi / 2 + 2 * shift * math.tan(phi)) - 0.04
    d_a = d + 2 * 2.0 * (1 + shift)
    width = d_a * (s / d + inv(phi) - inv(math.acos(d * math.cos(phi) / d_a)))
    assert (width < 0.2 * 2.0) == pointed
    made = spaced(20, shift)
    if pointed:
        assert f"{width:.3f}".rstrip("0") in finding(made, "teeth-nearly-pointed").what
    else:
        told = next(one for one in held(made, "tips") if one.where == "pinion")
        assert told.number == pytest.approx(width, abs=1e-9) and told.limit == pytest.approx(0.4)


def test_two_modules_and_two_pressure_angles():
    """p_b = pi m cos a (ISO 21771:2007)."""
    pitches = [math.pi * module * math.cos(math.radians(20)) for module in (2.25, 2.0)]
    found = finding(sound(gear={"pinion": {"module": 2.25}}), "teeth-do-not-match")
    assert all(f"{pitch:.3f} mm" in found.what for pitch in pitches)
    assert f"{pitches[0] - pitches[1]:.3f} mm out of step" in found.why
    # module 2 at 20 degrees and another module at 25 may have one base pitch: they still do not fit
    module = 2.0 * math.cos(math.radians(20)) / math.cos(math.radians(25))
    other = sound(gear={"pinion": {"module": module, "pressure_angle": 25.0}})
    assert "pressure angles are 25 deg and 20 deg" in finding(other, "teeth-do-not-match").what


@pytest.mark.parametrize(
    ("one", "two", "left"),
    [
        # addendum of the one and dedendum of the other, ISO 53:1998 (1, 1.25) and ANSI B6.1-1932 (0.8, 1)
        ("full depth", "full depth", 0.25),
        ("stub", "stub", 0.2),
        ("stub", "full depth", 0.0),
        ("full depth", "stub", 0.0),
    ],
)
def test_room_below_the_tips(one, two, left):
    made = sound(gear={"pinion": {"tooth_system": one}, "wheel": {"tooth_system": two}})
    if left:
        (told,) = held(made, "room below the tips")
        assert told.number == pytest.approx(left * 2.0, abs=1e-9) and told.limit == pytest.approx(0.2)
    else:
        found = finding(made, "no-bottom-clearance")
        assert found.grade == "will not work" and "0 mm" in found.what and "0.2 mm" in found.limit
        assert "shafts-too-near" not in review(made).names
        assert all(review(made.with_(**edit)).passes for edit in found.edits) and len(found.edits) == 2


def test_a_blank_that_was_turned_too_large_is_seen():
    """A tip 0.4 mm further out than drawn leaves 0.5 - 0.4 = 0.1 mm below it."""
    made = sound(
        measured={
            "pinion outside_diameter": {
                "part": "pinion",
                "quantity": "outside_diameter",
                "value": 44.8,
                "reads_to": 0.02,
            }
        }
    )
    assert "0.1 mm" in finding(made, "no-bottom-clearance").what


def test_where_nothing_is_wrong_every_gear_and_mesh_is_told():
    made = sound()
    assert [one.where for one in held(made, "whole teeth")] == ["pinion", "wheel"]
    assert [one.where for one in held(made, "same teeth")] == [PAIR]
