"""The plate of the roof vent, its inch twin, and what a plate refuses."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import Gear, Mesh, derive
from gearlab.parts.plate import Hole, Plate

PAIR = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
PLATE = Plate(220, 160, 6)


# The drawing of the roof-vent drive, added up by hand: margin (220 - 25 - 78.75 - 58.75) / 2 = 28.75, first
# hole 28.75 + 25.
def test_the_plate_of_the_roof_vent():
    plate = PLATE.with_pair(PAIR, hole_diameter=10)
    assert plate.table() == [("driver", 53.75, 80.0, 10), ("driven", 132.5, 80.0, 10)]
    assert plate.margins(PAIR) == {"left": 28.75, "right": 28.75, "bottom": 21.25, "top": 21.25}
    assert plate.spacing(*plate.holes) == 78.75
    assert plate.name == "plate_220x160x6"


# The same by hand in inches, P = 10: C = 3.15, tips 2.0 and 4.7, plate 8.75 by 6.25 by 5/16.
def test_its_inch_twin():
    pair = Mesh(Gear(18, diametral_pitch=10), Gear(45, diametral_pitch=10))
    plate = Plate(8.75, 6.25, 0.3125, unit="in").with_pair(pair, hole_diameter=0.375)
    margin = (8.75 - 1.0 - 3.15 - 2.35) / 2
    assert [number for row in plate.table() for number in row[1:3]] == pytest.approx(
        [margin + 1.0, 3.125, margin + 4.15, 3.125]
    )
    assert plate.name == "plate_8p75x6p25x0p3125in"


# Common practice: about one diameter of material between hole and edge; of the vent's plate by hand 160 - 80
# - 5 = 75, and 53.75 - 5 = 48.75 at the driver.
def test_material_left_to_the_edge():
    plate = PLATE.with_pair(PAIR, hole_diameter=10)
    assert plate.edge_distance(plate.holes[0]) == 53.75
    assert plate.material_left(plate.holes[0]) == 48.75


@settings(max_examples=25)
@given(st.integers(17, 40), st.integers(17, 60), st.floats(-180, 180), st.floats(0.0, 0.8))
def test_the_outline_is_centred_and_the_holes_stand_at_the_centre_distance(n1, n2, angle, opening):
    distance = 1.25 * (n1 + n2) + opening
    pair = Mesh(Gear(n1, module=2.5), Gear(n2, module=2.5), centre_distance=distance)
    plate = Plate(600, 600, 6).with_pair(pair, hole_diameter=10, line_angle=angle)
    margins = plate.margins(pair)
    assert margins["left"] == pytest.approx(margins["right"]) and margins["bottom"] == pytest.approx(
        margins["top"]
    )
    one, two = plate.holes
    assert plate.spacing(one, two) == pytest.approx(distance)
    assert math.degrees(math.atan2(two.y - one.y, two.x - one.x)) == pytest.approx(angle, abs=1e-9)


def test_an_upright_pair_stands_exactly_upright():
    one, two = Plate(160, 220, 6).with_pair(PAIR, hole_diameter=10, line_angle=90).holes
    assert one.x == two.x == 80.0 and two.y - one.y == 78.75


# Theory of the plate was tested on its own: hole_x and end_margin of a level pair are the same numbers.
def test_it_places_a_level_pair_as_theory_does():
    numbers = {"plate_length": 220.0, "driver_teeth": 18, "driven_teeth": 45, "module": 2.5}
    assert PLATE.with_pair(PAIR, hole_diameter=10).holes[0].x == pytest.approx(
        derive("hole_x", numbers, kind="plate").result
    )


def test_the_length_for_a_margin():
    """Tip to tip 162.5 by hand; at 80 mm, and with shifted teeth, the pair's own distance and tips count."""
    assert PLATE.length_for(PAIR, 28.75) == pytest.approx(220)
    assert PLATE.length_for(PAIR, 0) == pytest.approx(162.5)
    assert PLATE.length_for(Mesh(PAIR.driver, PAIR.driven, centre_distance=80), 0) == pytest.approx(163.75)
    shifted = Mesh(Gear(18, module=2.5, profile_shift=0.2), Gear(45, module=2.5, profile_shift=-0.2))
    assert shifted.centre_distance == pytest.approx(78.75)
    assert PLATE.length_for(shifted, 0) == pytest.approx(162.5)  # one tip grows by what the other loses
    pair = replace(shifted, driven=Gear(45, module=2.5))
    assert PLATE.length_for(pair, 10) == pytest.approx(
        20 + pair.centre_distance + (pair.driver.outside_diameter + 117.5) / 2
    )


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Plate(220, 0, 6), "height = 0 mm is out of range"),
        (lambda: Plate(220, 160, 6, unit="cm"), "unit 'cm' is unknown: give 'mm' or 'in'"),
        (
            lambda: Plate(220, 160, 6, holes=(Hole("A", 4, 80, 10),)),
            "hole 'A' of 10 mm at .* breaks through the edge .* more than 5 mm inside",
        ),
        (lambda: Plate(220, 160, 6, holes=(Hole("A", 5, 80, 10),)), "breaks through the edge"),
        (
            lambda: Plate(220, 160, 6, holes=(Hole("A", math.nan, 80, 10),)),
            "x of hole 'A' = nan mm is out of range",
        ),
        (
            lambda: Plate(220, 160, 6, holes=(Hole("A", 50, 80, -1),)),
            "diameter of hole 'A' = -1 mm is out of range",
        ),
        (
            lambda: Plate(220, 160, 6, holes=(Hole("A", 50, 80, 10), Hole("B", 58, 80, 10))),
            "holes 'A' and 'B' break into each other: .* 8 mm apart, .* more than 10 mm",
        ),
        (
            lambda: PLATE.with_pair(PAIR, hole_diameter=10).with_pair(PAIR, hole_diameter=10),
            "two holes are called 'driver'",
        ),
        (
            lambda: Plate(160, 160, 6).with_pair(PAIR, hole_diameter=10),
            "it takes 162.5 x 117.5 mm, the plate has 160 x 160 mm",
        ),
        (lambda: PLATE.with_pair(PAIR, hole_diameter=10, line_angle=90), "it takes 117.5 x 162.5 mm"),
        (
            lambda: PLATE.with_pair(
                Mesh(Gear(18, diametral_pitch=10), Gear(45, diametral_pitch=10)), hole_diameter=10
            ),
            "measured in in, the plate in mm",
        ),
        (lambda: PLATE.margins(PAIR), "hole 'driver' is not in the plate: it has none"),
        (lambda: PLATE.length_for(PAIR, -1), "margin = -1 mm is out of range"),
    ],
)
def test_what_a_plate_refuses(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def test_the_hole_table_is_read_by_people_and_by_a_notebook():
    plate = PLATE.with_holes(Hole("<ridge>", 20, 20, 5))
    assert "x        20" in str(plate) and "lower left corner [mm]" in str(plate)
    assert "&lt;ridge&gt;" in plate._repr_html_() and "<ridge>" not in plate._repr_html_()


def test_holes_may_come_as_a_list():
    plate = Plate(220, 160, 6, holes=[Hole("A", 50, 80, 10)]).with_holes(Hole("B", 100, 80, 10))
    assert [hole.name for hole in plate.holes] == ["A", "B"]
