"""How the faces stand along their shafts, and that what is advised leaves shafts long enough."""

import pytest

from gearlab.parts.review import review

from .meshes import finding, held, sound


def test_the_face_in_mesh():
    """Faces of 10 mm from 14 to 24 and from 16 to 26 mm: 8 mm meet, 9 of 10 are wanted."""
    found = finding(sound(gear={"wheel": {"gap": 4.0}}), "faces-partly-miss")
    assert "only 8 mm of the 10 mm" in found.what and "9 mm" in found.limit
    assert found.edits[0] == {"gear": {"pinion": {"gap": 4.0}}}
    (told,) = held(sound(gear={"wheel": {"gap": 3.0}}), "faces in mesh")
    assert told.number == pytest.approx(9.0)


def test_a_hub_turned_round_is_turned_back():
    made = sound(gear={"wheel": {"hub_side": "away"}})
    found = finding(made, "faces-miss")
    assert "12 mm apart in height" in found.what and found.edits[0] == {
        "gear": {"wheel": {"hub_side": "plate"}}
    }


@pytest.mark.parametrize("gap", [5.0, 9.0, 20.0, 40.0])
def test_washers_keep_the_shaft_long_enough(gap):
    """10 behind, 6 of plate, gap, 22 of gear, 3 at the end."""
    made = sound(gear={"wheel": {"gap": gap}}, shaft={"b": {"length": 50.0 + gap}})
    name = "faces-miss" if gap > 12 else "faces-partly-miss"
    for edit in finding(made, name).edits:
        after = made.with_(**edit)
        assert "shaft-too-short" not in review(after).names
        for table in after.gear:
            assert after.shaft_of(table.name).length >= 10 + 6 + after.foot(table.name) + 22 + 3


def test_a_face_that_was_measured_counts():
    made = sound(
        measured={
            "wheel face_width": {"part": "wheel", "quantity": "face_width", "value": 6.0, "reads_to": 0.05}
        }
    )
    (told,) = held(made, "faces in mesh")
    assert told.number == pytest.approx(6.0) and "measured" in told.what


def test_a_face_much_wider_than_its_mate_is_worth_knowing():
    """34 mm are 17 modules of 2 mm; 8 to 16 are usual (Mott, chapter 9, from memory); its mate has 10 mm."""
    made = sound(gear={"pinion": {"face_width": 34.0}}, shaft={"a": {"length": 70.0}})
    told = finding(made, "face-too-wide")
    assert told.grade == "worth knowing" and told.where == "pinion" and "17 modules" in told.what
    assert told.edits and "as its mate's" in told.change
    for edit in told.edits:
        assert edit["gear"]["pinion"]["face_width"] == 10.0
        assert "face-too-wide" not in review(made.with_(**edit)).names
    both = sound(
        gear={name: {"face_width": 34.0} for name in ("pinion", "wheel")},
        shaft={name: {"length": 70.0} for name in "ab"},
    )
    assert finding(both, "face-too-wide").grade == "will trouble"
