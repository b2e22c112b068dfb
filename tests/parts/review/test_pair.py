"""What is asked of two gears in mesh: spacing, play, contact, tight spots; and what is advised."""

import math

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import review

from .meshes import PAIR, finding, gear, held, shaft, sound, unmade


def inv(angle):
    return math.tan(angle) - angle


def play_at(distance, thinnings, teeth=60, module=2.0):
    """j = 2 a/(z1 + z2) (thinnings/m + (z1 + z2)(inv a_w - inv a)), on the working circles (ISO 21771)."""
    phi = math.radians(20)
    working = math.acos(module * teeth / 2 * math.cos(phi) / distance)
    return 2 * distance / teeth * (thinnings / module + teeth * (inv(working) - inv(phi)))


def free_at(thinnings):
    """The spacing without play, by halving."""
    low, high = 58.0, 60.0
    for _ in range(60):
        low, high = (
            ((low + high) / 2, high) if play_at((low + high) / 2, thinnings) < 0 else (low, (low + high) / 2)
        )
    return low


def thinned(each, distance, **mesh):
    made = sound(
        gear={"pinion": {"tooth_thinning": each}, "wheel": {"tooth_thinning": each}},
        shaft={"b": {"x": 50.0 + distance}},
    )
    return made.with_(mesh={PAIR: mesh}) if mesh else made


def advised(found, design):
    """The spacing that the first edit makes [unit]."""
    return design.with_(**found.edits[0]).distance("pinion", "wheel")


@pytest.mark.parametrize("each", [0.0, 0.02, 0.04])
def test_too_near_by_a_hair_is_said_with_numbers_that_differ(each):
    """A hundredth is what coordinates are rounded to: as drawn, so much is no play and no more than that."""
    rounded = thinned(each, free_at(2 * each) - 0.0095)
    assert finding(rounded, "no-play").grade == "worth knowing" and not review(rounded).fails
    assert "0.007 mm are lacking" in finding(rounded, "no-play").what  # 2 tan 20 of a hundredth
    made = thinned(each, free_at(2 * each) - 0.0105)
    found = finding(made, "shafts-too-near")
    is_, needed = (text.split(" mm")[0].split()[-1] for text in (found.what, found.limit))
    assert is_ != needed and float(needed) == pytest.approx(free_at(2 * each), abs=6e-4)
    assert "shafts-too-near" not in review(thinned(each, free_at(2 * each) + 2e-5)).names


@pytest.mark.parametrize("each", [0.0, 0.04, 0.1, 0.4])
@pytest.mark.parametrize("distance", [56.0, 59.5, 60.9, 65.0])
def test_the_advised_spacing_has_the_wanted_play(each, distance):
    """About 0.04 modules are wanted, 0.12 at most: by hand 0.08 and 0.24 mm here."""
    made = thinned(each, distance)
    found = next(
        one for one in review(made) if one.name in ("shafts-too-near", "loose-mesh", "tips-do-not-reach")
    )
    after = made.with_(**found.edits[0])
    spacing = after.distance("pinion", "wheel")
    thinnings = sum(table.tooth_thinning for table in after.gear)
    assert 0.06 < play_at(spacing, thinnings) < 0.24 and review(after).passes
    assert spacing == round(spacing, 2), "to be set out to a hundredth of a millimetre"
    assert f"{spacing:g} mm" in found.change


@pytest.mark.parametrize(
    ("least", "most"), [(0.12, None), (0.15, 0.2), (None, 0.06), (0.01, 0.03), (0.3, 0.5)]
)
def test_the_play_that_the_file_asks_for_is_the_one_that_counts(least, most):
    made = thinned(
        0.04,
        60.0,
        **{word: value for word, value in (("least_backlash", least), ("most_backlash", most)) if value},
    )
    name = "too-little-play" if least and least > 0.08 else "loose-mesh"
    found = finding(made, name)
    assert "0.08 mm" in found.what and f"{least if name == 'too-little-play' else most:g} mm" in found.limit
    for edit in found.edits:
        after = made.with_(**edit)
        play = play_at(after.distance("pinion", "wheel"), sum(table.tooth_thinning for table in after.gear))
        assert (least or 0.0) <= play <= (most or math.inf), f"{edit}: {play}"


def test_24_to_the_inch_with_30_and_60_teeth():
    """They stand 1.875 in apart (common practice); an inch file is advised in thousandths."""
    size = {
        "module": None,
        "diametral_pitch": 24,
        "tooth_thinning": 0.001,
        "face_width": 0.25,
        "gap": 0.06,
        "bore": 0.25,
    }
    hub = {"hub_diameter": 0.5, "hub_projection": 0.4, "set_screw": "#8", "drill_depth": 0.25, "flat": 0.02}
    rod = {"diameter": 0.25, "length": 1.5, "behind": 0.3, "end": 0.1}
    made = Design(
        design={"name": "inches", "unit": "in"},
        plate={"length": 6.0, "height": 4.0, "thickness": 0.25},
        shaft=[shaft("a", 1.5, 2.0, **rod), shaft("b", 3.3, 2.0, **rod)],
        gear=[gear("pinion", "a", 30, **size, **hub), gear("wheel", "b", 60, **size, **hub)],
        mesh=[{"driver": "pinion", "driven": "wheel"}],
    )
    found = finding(made, "shafts-too-near")
    assert found.change == "Set the holes 1.875 in apart." and advised(found, made) == pytest.approx(1.875)


def test_what_hangs_on_the_driven_gear_moves_with_it():
    made = Design(
        design={"name": "train", "unit": "mm"},
        plate={"length": 235.0, "height": 120.0, "thickness": 6.0},
        shaft=[shaft("a", 50.0, 60.0), shaft("b", 97.0, 60.0), shaft("c", 167.0, 60.0)],
        gear=[gear("first", "a", 20), gear("idler", "b", 30), gear("last", "c", 40)],
        mesh=[{"driver": "first", "driven": "idler"}, {"driver": "idler", "driven": "last"}],
        load={"torque": 0.5},
    )
    after = made.with_(**finding(made, "shafts-too-near").edits[0])
    assert after.distance("first", "idler") == pytest.approx(50.0)
    assert after.distance("idler", "last") == pytest.approx(70.0)
    assert review(after).passes


def test_contact_comes_back_with_the_spacing():
    """At 61.3 mm the contact ratio is below 1.2; eps = (ga + gr)/p_b by the tip circles (ISO 21771:2007)."""
    a, phi = 61.3, math.radians(20)
    working = math.acos(60 * math.cos(phi) / a)
    reach = sum(math.sqrt(tip**2 - (z * math.cos(phi)) ** 2) for tip, z in ((22.0, 20), (42.0, 40)))
    ratio = (reach - a * math.sin(working)) / (2 * math.pi * math.cos(phi))
    found = finding(sound(shaft={"b": {"x": 50 + a}}), "little-contact")
    assert ratio < 1.2 and f"{ratio:.2f}" in found.what and found.edits[0] == {"shaft": {"b": {"x": 110.0}}}


def test_a_bore_off_centre():
    """0.2 mm off: the shafts come 0.2 mm nearer, 2 x 0.2 x tan 20 = 0.146 mm of play go; there are 0.08."""
    found = finding(sound(gear={"wheel": {"bore_offset": 0.2}}), "tight-spot")
    assert found.where == "wheel" and "0.146 mm" in found.limit and "0.08 mm" in found.limit
    assert "tight-spot" not in review(sound(gear={"wheel": {"bore_offset": 0.1}})).names


def test_keys_are_lined_up_by_the_other_place_of_the_keyway_or_by_the_shaft():
    """20 and 40 teeth, tooth over each key: tooth 20 of the wheel looks at the pinion's tooth 0."""
    made = sound(gear={"pinion": {"keyway_on": "tooth"}, "wheel": {"keyway_on": "tooth"}})
    found = finding(made, "keys-do-not-line-up")
    assert "4.5 deg" in found.what  # half a pitch of 9 degrees
    assert found.edits[0] == {"gear": {"wheel": {"keyway_on": "space"}}} and len(found.edits) == 2


def test_a_pair_that_does_not_reach_leaves_the_rest_unmade():
    made = sound(shaft={"b": {"x": 114.5}})
    assert "64 mm" in finding(made, "tips-do-not-reach").limit  # (44 + 84)/2
    assert unmade(made, "play") and unmade(made, "contact") and not held(made, "play")
