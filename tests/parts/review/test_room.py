"""Room in three dimensions: along the axis and across it."""

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import review
from gearlab.parts.review.room import Body, across, along

from .meshes import finding, gear, held, shaft, sound


def test_two_bodies():
    """Discs of 30 and 20 mm radius 45 mm apart overlap by 5 mm; one of 20 in a ring of 60 reaches 15 + 20."""
    low, high = Body("face", 0.0, 10.0, 30.0), Body("hub", 10.0, 15.0, 20.0)
    assert along(low, high) == 0.0 and across(low, high, 45.0) == pytest.approx(5.0)
    rim = Body("rim", 0.0, 10.0, 80.0, 60.0)
    assert across(rim, high, 15.0) == pytest.approx(-25.0)
    assert across(rim, high, 45.0) == pytest.approx(5.0)
    assert across(rim, high, 101.0) == pytest.approx(-1.0)


def beside(x, y, **more):
    """The pair, and a gear of 30 teeth that meshes with neither: 32 mm to its tips."""
    return sound(
        shaft={"c": shaft("c", x, y)}, gear={"third": gear("third", "c", 30, **more)}, plate={"height": 260.0}
    )


def test_a_gear_beside_the_drive():
    """The wheel reaches 42 mm: 74 mm apart they just touch."""
    assert not held(beside(110.0, 133.0), "room between gears")[1:]
    found = finding(beside(110.0, 133.0), "gears-collide")
    assert found.where == "wheel and third" and "overlap by 1 mm" in found.what
    told = {one.where: one.number for one in held(beside(110.0, 135.0), "room between gears")}
    assert told["wheel and third"] == pytest.approx(1.0)
    # the third one's face begins where the wheel's ends, at 24 mm: 24 + 12 of hub below it
    assert "gears-collide" not in review(beside(110.0, 133.0, gap=24.5)).names


def test_a_shaft_beside_a_wheel():
    """The wheel's hub reaches 9 mm and its face 42 from its axis, the face from 14 mm up."""
    bare = {"x": 110.0, "y": 100.0, "diameter": 8.0, "behind": 10.0}
    found = finding(sound(shaft={"c": bare | {"length": 40.0}}), "gear-strikes-shaft")
    assert (
        found.where == "wheel and shaft c" and "6 mm" in found.what and "14 mm above the plate" in found.limit
    )
    length = found.edits[0]["shaft"]["c"]["length"]
    assert length - 10 - 6 < 14
    # one that ends below the face is clear
    assert "gear-strikes-shaft" not in review(sound(shaft={"c": bare | {"length": 29.5}})).names


def test_two_rods_in_one_place():
    found = finding(sound(shaft={"c": shaft("c", 110.0, 60.0)}), "shafts-in-one-place")
    assert found.decision and found.grade == "will not work"
    # the members of a planetary set share an axis
    coaxial = Design(
        design={"name": "set", "unit": "mm"},
        shaft=[
            {"name": "sun", "x": 50, "y": 50, "diameter": 8},
            {"name": "carrier", "x": 50, "y": 50, "diameter": 8},
        ],
        planetary=[
            {
                "sun": 24,
                "planet": 18,
                "ring": 60,
                "planets": 3,
                "sun_shaft": "sun",
                "carrier_shaft": "carrier",
            }
        ],
    )
    assert held(coaxial, "places of shafts")


@pytest.mark.parametrize(
    ("gears", "end"),
    [
        ({"pinion": {"gap": 0.0}, "wheel": {"gap": 0.0}}, "hub"),
        ({"pinion": {"gap": 0.0, "hub_side": "away"}, "wheel": {"gap": 0.0, "hub_side": "away"}}, "face"),
    ],
)
def test_a_gear_that_lies_on_the_plate(gears, end):
    made = sound(gear=gears)
    found = finding(made, "gear-rubs-on-plate")
    assert f"its {end} is on the plate" in found.what and found.grade == "will trouble"
    after = made
    while "gear-rubs-on-plate" in review(after).names:
        after = after.with_(**finding(after, "gear-rubs-on-plate").edits[0])
    assert review(after).passes


def test_a_sleeve_is_for_a_person_to_look_at():
    made = sound(shaft={"c": {"x": 110.0, "y": 60.0, "diameter": 6.0}})
    assert "shafts-in-one-place" not in review(made).names
