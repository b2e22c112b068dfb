"""What is stacked on the shafts of the roof vent."""

import pytest

from gearlab import derive
from gearlab.parts.shaft import Shaft, face_height


# The shafts of the roof-vent drive, added up by hand: 8.5 + 6 + 1.5 + 27 + 3 = 46 and 8.5 + 6 + 2.5 + 25 + 3
# = 45 mm; stock in steps of 5.
@pytest.mark.parametrize(("gap", "gear", "needed", "stock"), [(1.5, 27, 46, 50), (2.5, 25, 45, 45)])
def test_the_shafts_of_the_roof_vent(gap, gear, needed, stock):
    shaft = Shaft(10, stock)
    pieces = {"behind": 8.5, "plate": 6, "gap": gap, "gear": gear, "end": 3}
    assert shaft.needed(**pieces) == needed and shaft.next_stock(needed) == stock
    assert shaft.spare(**pieces) == stock - needed
    assert Shaft(10, 40).spare(**pieces) == 40 - needed
    assert shaft.name == f"shaft_d10_L{stock}"


# By hand: 1.5 + 27 - 14/2 = 21.5 and 2.5 + 25 - 12/2 = 21.5, level with washers of 1.5 and 2.5 mm.
def test_the_faces_are_level_on_the_stated_washers():
    assert face_height(1.5, 27, 14, "plate") == face_height(2.5, 25, 12, "plate") == 21.5
    assert face_height(1.5, 27, 14, "away") == 8.5
    assert (
        derive(
            "other_gap",
            {
                "axial_gap": 1.5,
                "overall_length": 27,
                "face_width": 14,
                "other_overall_length": 25,
                "other_face_width": 12,
            },
            length_unit="mm",
        ).result
        == 2.5
    )


@pytest.mark.parametrize(
    ("length", "unit", "stock"),
    [
        (44.0, "mm", 45.0),
        (45.0, "mm", 45.0),
        (45.1, "mm", 50.0),
        (1.8, "in", 2.0),
        (1.75, "in", 1.75),
        (0.1, "in", 0.25),
    ],
)
def test_stock_comes_in_steps(length, unit, stock):
    # common practice: steps of 5 mm and of a quarter inch
    assert Shaft(10, 45, unit).next_stock(length) == stock


def test_a_sum_that_misses_a_step_by_rounding_does_not_cost_a_step():
    assert Shaft(10, 45).next_stock(45.00000000000001) == 45.0


# By hand: behind, plate and gap take 16 mm.
@pytest.mark.parametrize(("length", "reach"), [(50, 27), (43, 27), (30, 14), (16, 0), (10, 0)])
def test_how_far_a_shaft_reaches_into_its_gear(length, reach):
    assert Shaft(10, length).reach(behind=8.5, plate=6, gap=1.5, gear=27) == reach


def test_names_of_inch_shafts_say_so():
    assert Shaft(0.375, 2.25, "in").name == "shaft_d0p375_L2p25in"


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Shaft(0, 45), "diameter = 0 mm is out of range: give a finite number above 0 mm"),
        (lambda: Shaft(10, -1), "length = -1 mm"),
        (lambda: Shaft(10, 45, "cm"), "unit 'cm' is unknown"),
        (
            lambda: Shaft(10, 45).needed(behind=8.5, plate=6, gap=-1.5, gear=27),
            "gap = -1.5 mm is out of range: give a finite number from 0 mm up",
        ),
        (lambda: Shaft(10, 45).reach(behind=-8.5, plate=6, gap=1.5, gear=27), "behind = -8.5 mm"),
        (lambda: Shaft(10, 45).next_stock(0), "length = 0 mm"),
        (
            lambda: face_height(1.5, 12, 14, "plate"),
            r"face_width = 14 mm is more than the overall length of the gear \(12 mm\)",
        ),
        (lambda: face_height(-1.5, 27, 14, "plate"), "gap = -1.5 mm"),
        (
            lambda: face_height(1.5, 27, 14, "outside"),
            "hub_side 'outside' is unknown: give 'plate' or 'away'",
        ),
    ],
)
def test_what_a_shaft_refuses(make, says):
    with pytest.raises(ValueError, match=says):
        make()
