"""Every row of the checks of meshes, teeth, plate and room is made to hold, to fail, and to be unmade."""

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import contact, faces, pair, plate, review, room, teeth
from gearlab.parts.review import measured as readings

from .meshes import PAIR, finding, gear, held, shaft, sound, unmade

SUBJECTS = (teeth, pair, contact, faces, plate, room, readings)
ROWS = [check for subject in SUBJECTS for check in subject.CHECKS]


def train(**edits):
    """20, 30 and 40 teeth in a row, the middle one an idler: 50 and 70 mm apart."""
    made = Design(
        design={"name": "train", "unit": "mm"},
        plate={"length": 300.0, "height": 120.0, "thickness": 6.0},
        shaft=[shaft("a", 50.0, 60.0), shaft("b", 100.0, 60.0), shaft("c", 170.0, 60.0)],
        gear=[gear("first", "a", 20), gear("idler", "b", 30), gear("last", "c", 40)],
        mesh=[{"driver": "first", "driven": "idler"}, {"driver": "idler", "driven": "last"}],
        load={"torque": 0.5},
    )
    return made.with_(**edits) if edits else made


def measured(part, quantity, value, reads_to=0.02, **more):
    return {
        "measured": {
            f"{part} {quantity}": {
                "part": part,
                "quantity": quantity,
                "value": value,
                "reads_to": reads_to,
            }
            | more
        }
    }


#: Designs in which each check holds, where it is not the sound pair.
HOLDS = {
    "room between gears": train,
    "idlers": lambda: train(shaft={"c": {"x": 100.0, "y": 130.0}}, plate={"height": 240.0}),
    "phase of keys": lambda: sound(gear={"pinion": {"keyway_on": "tooth"}}),
    "readings": lambda: sound(**measured("pinion", "bore", 8.01)),
}
#: Each finding, and a design of it.
FAILS = {
    "undercut": lambda: sound(gear={"pinion": {"teeth": 12}}, shaft={"b": {"x": 102.0}}),
    "teeth-nearly-pointed": lambda: sound(gear={"pinion": {"profile_shift": 1.0}}, shaft={"b": {"x": 111.8}}),
    "teeth-do-not-match": lambda: sound(gear={"pinion": {"module": 2.25}}),
    "no-bottom-clearance": lambda: sound(gear={"wheel": {"tooth_system": "stub"}}),
    "tips-do-not-reach": lambda: sound(shaft={"b": {"x": 114.5}}),
    "shafts-too-near": lambda: sound(shaft={"b": {"x": 109.5}}),
    "pinion-into-ring": lambda: ring(0.6),
    "face-too-wide": lambda: sound(  # 34 mm are 17 modules: above the 16 of a textbook
        gear={"pinion": {"face_width": 34.0}, "wheel": {"face_width": 34.0}},
        shaft={"a": {"length": 70.0}, "b": {"length": 70.0}},
    ),
    "loose-mesh": lambda: sound(shaft={"b": {"x": 110.4}}),
    "too-little-play": lambda: sound(mesh={PAIR: {"least_backlash": 0.12}}),
    "no-play": lambda: sound(gear={"pinion": {"tooth_thinning": 0.0}, "wheel": {"tooth_thinning": 0.0}}),
    "tight-spot": lambda: sound(gear={"wheel": {"bore_offset": 0.2}}),
    "little-contact": lambda: sound(shaft={"b": {"x": 111.2}}),
    "interference": lambda: sound(gear={"pinion": {"teeth": 12}}, shaft={"b": {"x": 102.0}}),
    "keys-do-not-line-up": lambda: sound(
        gear={"pinion": {"keyway_on": "tooth"}, "wheel": {"keyway_on": "tooth"}}
    ),
    "faces-miss": lambda: sound(gear={"wheel": {"hub_side": "away"}}),
    "faces-partly-miss": lambda: sound(gear={"wheel": {"gap": 4.0}}),
    "idler-takes-both-meshes": train,
    "units-look-mixed": lambda: sound(plate={"length": 7.87, "height": 4.72}),
    "hole-breaks-edge": lambda: sound(shaft={"a": {"y": 3.0}, "b": {"y": 3.0}}),
    "hole-near-edge": lambda: sound(shaft={"a": {"y": 10.0}, "b": {"y": 10.0}}),
    "plate-too-thin": lambda: sound(plate={"thickness": 1.5}),  # a fifth of 8 mm is 1.6 mm
    "holes-meet": lambda: train(shaft={"b": {"x": 57.0}}),
    "holes-near": lambda: sound(shaft={"a": {"hole": 55.0}, "b": {"hole": 55.0}}),
    "tips-over-edge": lambda: sound(plate={"length": 140.0}),
    "gears-collide": lambda: train(shaft={"c": {"x": 65.0, "y": 120.6}}, plate={"height": 240.0}),
    "hubs-collide": lambda: sound(gear={"pinion": {"hub_diameter": 52.0}, "wheel": {"hub_diameter": 72.0}}),
    "gear-strikes-shaft": lambda: sound(
        shaft={"c": {"x": 110.0, "y": 20.0, "diameter": 8.0, "length": 40.0}}
    ),
    "shafts-in-one-place": lambda: sound(shaft={"c": {"x": 110.0, "y": 60.0, "diameter": 8.0}}),
    "gear-rubs-on-plate": lambda: sound(gear={"pinion": {"gap": 0.0}, "wheel": {"gap": 0.0}}),
    "measured-differs": lambda: sound(**measured("pinion", "span", 15.0)),
}
#: Designs in which a check cannot be made; those that need nothing but the part itself always can.
ALIEN = {"pinion": {"module": None, "diametral_pitch": 12.7}}
UNMADE = {
    "tips": lambda: sound(gear=ALIEN),
    "room below the tips": lambda: sound(gear=ALIEN),
    "reach": lambda: sound(gear=ALIEN),
    "room for the teeth": lambda: sound(**measured(PAIR, "hole_spacing", 59.88, 0.05)),
    "play": lambda: sound(**measured(PAIR, "hole_spacing", 60.24, 0.05)),
    "tight spots": lambda: sound(shaft={"b": {"x": 109.5}}),
    "contact": lambda: sound(shaft={"b": {"x": 109.5}}),
    "interference": lambda: sound(shaft={"b": {"x": 109.5}}),
    "width of the faces": lambda: sound(gear=ALIEN),
    "phase of keys": lambda: sound(gear={"pinion": {"keyway_depth": 1.0}, "wheel": {"keyway_on": "tooth"}}),
    "idlers": lambda: train(load=None),
    "margins": lambda: sound(gear=ALIEN),
    "room between gears": lambda: train(gear={"last": {"module": None, "diametral_pitch": 12.7}}),
    "room between hubs": lambda: sound(gear=ALIEN),
    "room for shafts": lambda: sound(gear=ALIEN),
    "places of shafts": lambda: sound(shaft={"c": {"x": 110.0, "y": 60.0, "diameter": 6.0}}),
    "readings": lambda: sound(**measured("a", "hole", 8.1)),
}
ALWAYS = {
    "whole teeth",
    "same teeth",
    "faces in mesh",
    "units",
    "bearing in the plate",
    "edges",
    "material between holes",
    "clear of the plate",
}


def ring(out, teeth=20):
    """Teeth in a ring of 68, module 2: (68 - 20) 2/2 = 48 mm for 20, and so much further out [mm]."""
    return Design(
        design={"name": "ring", "unit": "mm"},
        plate={"length": 300.0, "height": 200.0, "thickness": 6.0},
        shaft=[shaft("a", 100.0 + (68 - teeth) + out, 100.0), shaft("b", 100.0, 100.0)],
        gear=[
            gear("pinion", "a", teeth),
            gear(
                "ring",
                "b",
                68,
                internal=True,
                rim_diameter=160.0,
                hub_diameter=None,
                hub_projection=0.0,
                gap=14.0,
                set_screw=None,
            ),
        ],
        mesh=[{"driver": "pinion", "driven": "ring"}],
    )


def test_a_pinion_too_large_for_its_ring_is_not_told_to_stand_elsewhere():
    """64 in 68 at (68 - 64) 2/2 = 4 mm foul: a ring has some ten teeth more (common practice)."""
    found = finding(ring(0.0, 64), "pinion-into-ring")
    assert "shafts are right, 4 mm apart" in found.what and "at most 58 teeth" in found.change


def test_the_pair_is_sound():
    assert not review(sound()), str(review(sound()))


@pytest.mark.parametrize("check", ROWS, ids=[check.name for check in ROWS])
def test_each_check_holds(check):
    made = HOLDS.get(check.name, sound)()
    found = held(made, check.name)
    assert found and not unmade(made, check.name)
    assert all(str(outcome) and outcome.where for outcome in found)


def test_the_tables_are_whole():
    """Each finding has its design, and each check one in which it cannot be made, or needs nothing else."""
    assert set(FAILS) == {name for check in ROWS for name in check.finds}
    assert set(UNMADE) | ALWAYS == {check.name for check in ROWS} and not set(UNMADE) & ALWAYS


@pytest.mark.parametrize("name", FAILS)
def test_each_check_fails_and_its_advice_mends_it(name):
    found = finding(FAILS[name](), name)
    assert found.what and found.limit and found.why and found.change and found.source
    assert found.edits or name in ("idler-takes-both-meshes", "shafts-in-one-place", "holes-near")


@pytest.mark.parametrize("name", UNMADE)
def test_each_check_says_why_it_cannot_be_made(name):
    found = unmade(UNMADE[name](), name)
    assert found and all(outcome.why and outcome.give and not outcome.decisive for outcome in found)
