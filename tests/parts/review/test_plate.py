"""What is asked of the plate: units, edges, holes, margins; it grows rather than that holes move."""

import math

import pytest

from gearlab.parts.review import review

from .meshes import finding, held, sound


@pytest.mark.parametrize("edge", ["left", "right", "lower", "upper"])
@pytest.mark.parametrize("left", [-2.0, 0.5, 6.0])
def test_the_plate_grows_and_no_spacing_changes(edge, left):
    """A diameter of 8 mm is wanted around each hole (common practice)."""
    place = 4.0 + left
    if edge in ("left", "right"):
        first = place if edge == "left" else 200 - place - 60
        made = sound(shaft={"a": {"x": first}, "b": {"x": first + 60}})
    else:
        y = place if edge == "lower" else 120 - place
        made = sound(shaft={"a": {"y": y}, "b": {"y": y}})
    found = finding(made, "hole-breaks-edge" if left <= 0 else "hole-near-edge")
    assert f"{abs(left):g} mm" in found.what
    (edit,) = found.edits
    after = made.with_(**edit)
    assert after.distance("pinion", "wheel") == pytest.approx(60.0)
    assert after.plate.length + after.plate.height == pytest.approx(320 + 8 - left, abs=0.5)
    assert ("shaft" in edit) == (edge in ("left", "lower"))  # measured from the lower left corner
    assert min(after.board.edge_distance(hole) for hole in after.holes) >= 12 - 1e-9
    assert not review(after).fails


def test_tips_over_an_edge_are_worth_knowing_and_no_more():
    """The wheel's tips reach to 110 + 42 = 152 mm."""
    made = sound(plate={"length": 140.0})
    found = finding(made, "tips-over-edge")
    assert (
        found.grade == "worth knowing" and "12 mm beyond the right edge" in found.what and review(made).passes
    )
    assert made.with_(**found.edits[0]).plate.length == 152.0


@pytest.mark.parametrize("factor", [1 / 25.4, 25.4])
def test_a_plate_in_another_unit(factor):
    made = sound(plate={"length": 200.0 * factor, "height": 120.0 * factor})
    found = finding(made, "units-look-mixed")
    after = made.with_(**found.edits[0])
    assert (after.plate.length, after.plate.height) == pytest.approx((200.0, 120.0), abs=0.1)


@pytest.mark.parametrize("size", [1.1, 1.5, 3.0, 5.0])
def test_a_plate_larger_than_needed_is_none(size):
    made = sound(plate={"length": 200.0 * size, "height": 120.0 * size})
    assert not review(made), str(review(made))


def test_a_pitch_in_a_metric_file():
    found = finding(sound(gear={"wheel": {"module": None, "diametral_pitch": 12.7}}), "units-look-mixed")
    assert found.where == "wheel" and found.edits[0]["gear"]["wheel"] == {
        "module": 2.0,
        "diametral_pitch": None,
    }


def test_material_between_two_holes():
    """Holes of 8 and 44 mm, 60 mm apart: 60 - 26 = 34 mm are left, half of 8 wanted."""
    (told,) = held(sound(shaft={"b": {"hole": 44.0}}), "material between holes")
    assert told.number == pytest.approx(34.0) and told.limit == pytest.approx(4.0)
    found = finding(sound(shaft={"a": {"hole": 56.0}, "b": {"hole": 58.0}}), "holes-near")
    assert "3 mm" in found.what
    assert math.isclose(sound().distance("pinion", "wheel"), 60.0)
