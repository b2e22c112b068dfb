"""Measured beside drawn: which of the two is used, and what an instrument can see."""

import math

import pytest

from gearlab.parts.review import review

from .meshes import PAIR, finding, held, sound, unmade

TAN, COS = math.tan(math.radians(20)), math.cos(math.radians(20))


def read(part, quantity, value, reads_to=0.02, **more):
    return {
        f"{part} {quantity}": {"part": part, "quantity": quantity, "value": value, "reads_to": reads_to}
        | more
    }


def with_readings(*readings, **edits):
    return sound(measured={name: row for reading in readings for name, row in reading.items()}, **edits)


@pytest.mark.parametrize(
    ("part", "quantity", "drawn", "more"),
    [
        (PAIR, "hole_spacing", 60.0, {}),
        (PAIR, "spacing_over_pins", 68.0, {"pin_diameter": 8.0}),
        (PAIR, "spacing_over_pins", 68.0, {}),  # the shafts stood in the holes
        (PAIR, "backlash", 0.08, {}),
        ("pinion", "bore", 8.0, {}),
        ("pinion", "outside_diameter", 44.0, {}),
        # W = m cos a (pi (k - 1/2) + z inv a), and cos a times the thinning less (Machinery's Handbook)
        (
            "pinion",
            "span",
            2 * COS * (2.5 * math.pi + 20 * (TAN - math.radians(20))) - 0.04 * COS,
            {"over": 3},
        ),
        ("pinion", "face_width", 10.0, {}),
        ("pinion", "overall_length", 22.0, {}),
        ("pinion", "hub_diameter", 18.0, {}),
        ("a", "diameter", 8.0, {}),
        ("a", "length", 45.0, {}),
        ("plate", "thickness", 6.0, {}),
    ],
)
def test_each_reading_is_held_against_the_drawing(part, quantity, drawn, more):
    near = with_readings(read(part, quantity, drawn + 0.019, **more))
    (told,) = held(near, "readings")
    assert told.number == pytest.approx(0.019, abs=1e-3) and told.limit == 0.02
    far = finding(with_readings(read(part, quantity, drawn + 0.03, **more)), "measured-differs")
    assert far.grade == "worth knowing" and "reads to 0.02 mm" in far.limit and "0.03 mm" in far.limit


def test_what_is_not_drawn_cannot_be_held_against_it():
    assert "gives no hole" in unmade(with_readings(read("a", "hole", 8.1)), "readings")[0].why
    assert not unmade(with_readings(read("a", "hole", 8.1), shaft={"a": {"hole": 8.1}}), "readings")


def play(design):
    (told,) = held(design, "play")
    return told


def test_the_play_is_that_of_the_measured_spacing():
    """0.1 mm further apart: 2 x 0.1 x tan 20 = 0.073 mm more play than the 0.08 of the thinning."""
    told = play(with_readings(read(PAIR, "hole_spacing", 60.1)))
    assert told.number == pytest.approx(0.08 + 0.2 * TAN, abs=2e-3) and "measured" in told.what
    assert "as drawn" in play(sound()).what


def test_the_play_is_that_of_the_measured_teeth():
    """A span 0.05 mm less: the tooth is 0.05/cos 20 = 0.053 mm thinner (Machinery's Handbook)."""
    span = 2 * COS * (2.5 * math.pi + 20 * (TAN - math.radians(20))) - 0.04 * COS - 0.05
    told = play(with_readings(read("pinion", "span", span, over=3)))
    assert told.number == pytest.approx(0.08 + 0.05 / COS, abs=1e-4)
    found = finding(with_readings(read("pinion", "span", span, over=3)), "measured-differs")
    assert found.edits[0]["gear"]["pinion"]["tooth_thinning"] == pytest.approx(0.04 + 0.05 / COS, abs=1e-5)


def test_a_measured_play_goes_before_all():
    made = with_readings(read(PAIR, "backlash", 0.2), read(PAIR, "hole_spacing", 60.1))
    assert play(made).number == pytest.approx(0.2)


def test_holes_that_were_drilled_too_near():
    """Drawn they are right; measured they stand 0.5 mm too near, and are made and measured again."""
    made = with_readings(read(PAIR, "hole_spacing", 59.5))
    found = finding(made, "shafts-too-near")
    assert "measured" in found.what and not review(made.with_(**found.edits[0]))


def test_holes_that_were_drilled_right_although_drawn_wrong():
    made = with_readings(read(PAIR, "hole_spacing", 60.0), shaft={"b": {"x": 109.0}})
    found = review(made)
    assert found.names == ("measured-differs",) and found.passes
    assert made.with_(**found[0].edits[0]).distance("pinion", "wheel") == pytest.approx(60.0)


def test_what_the_instrument_cannot_see_is_not_decided():
    """At 59.88 mm 0.007 mm of play are missing; a rule that reads to 0.05 leaves 0.1 tan 20 = 0.036 open."""
    coarse = with_readings(read(PAIR, "hole_spacing", 59.88, 0.05))
    (told,) = unmade(coarse, "room for the teeth")
    assert "0.036 mm" in told.why and "shafts-too-near" not in review(coarse).names
    fine = with_readings(read(PAIR, "hole_spacing", 59.88, 0.002))
    assert "shafts-too-near" in review(fine).names
