"""Trains on a plate; distances worked by hand."""

import math

import pytest

from gearlab import Gear, Mesh, Train
from gearlab.parts.plate import Plate
from gearlab.parts.shaft import Shaft

ROW = Train.of(18, 24, 45, module=2.5)  # tips 50, 65, 117.5 mm; centres 52.5 and 86.25 mm apart


def test_a_level_row():
    """Tip to tip 25 + 52.5 + 86.25 + 58.75 = 222.5 mm: on 300 mm are left 38.75 at each end."""
    plate = Plate(300, 160, 6).with_train(ROW, hole_diameter=10)
    assert [(hole.name, hole.x, hole.y) for hole in plate.holes] == [
        ("shaft 1", 63.75, 80.0),
        ("shaft 2", 116.25, 80.0),
        ("shaft 3", 202.5, 80.0),
    ]
    assert plate.margins(ROW) == pytest.approx({"left": 38.75, "right": 38.75, "bottom": 21.25, "top": 21.25})


def test_upright_and_bent():
    plate = Plate(140, 260, 6).with_train(ROW, hole_diameter=10, line_angle=90)
    assert {hole.x for hole in plate.holes} == {70.0} and plate.margins(ROW)["top"] == pytest.approx(
        (260 - 222.5) / 2
    ) == pytest.approx(plate.margins(ROW)["bottom"])
    bent = ROW.bent(110)
    plate = Plate(240, 240, 6).with_train(bent, hole_diameter=10, line_angle=15)
    one, two, three = plate.holes
    assert [plate.spacing(one, two), plate.spacing(two, three), plate.spacing(one, three)] == pytest.approx(
        [52.5, 86.25, 110.0]
    )
    # a bent row stands level by itself
    assert math.degrees(math.atan2(three.y - one.y, three.x - one.x)) == pytest.approx(15.0)


def test_shafts_on_one_axis_share_a_hole():
    folded = Train.of(18, (45, 21), 42, module=2.5, line_angles=(0, 180))
    plate = Plate(260, 160, 6).with_train(folded, hole_diameter=10)
    assert [hole.name for hole in plate.holes] == ["shaft 1", "shaft 2"]
    assert plate.spacing(*plate.holes) == pytest.approx(78.75)
    # the third shaft's wheel of 110 mm over tips is the wider on that axis
    margins = plate.margins(folded)
    assert margins["left"] == pytest.approx(plate.holes[0].x - 55.0) == pytest.approx(margins["right"])


@pytest.mark.parametrize("angle", [0.0, 90.0, 37.0, -120.0])
@pytest.mark.parametrize(
    "what",
    [Mesh(Gear(18, diametral_pitch=10), Gear(45, diametral_pitch=10)), ROW, ROW.bent(110)],
    ids=["inch pair", "row", "bent"],
)
def test_equal_margins_all_round(what, angle):
    plate = Plate.around(what, 15.0, 6.0, hole_diameter=0.5, line_angle=angle)
    assert list(plate.margins(what).values()) == pytest.approx([15.0] * 4)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (
            lambda: Plate(200, 160, 6).with_train(ROW, hole_diameter=10),
            "the train projects beyond the plate: tip to tip it takes 222.5 x 117.5 mm",
        ),
        (
            lambda: Plate(20, 16, 1, "in").with_train(ROW, hole_diameter=0.5),
            "the train is measured in mm, the plate in in",
        ),
        (
            lambda: Plate(300, 160, 6).with_train(ROW, hole_diameter=10, names=("a", "b")),
            "names holds 2 names, the train has 3 shafts",
        ),
        (lambda: Plate(300, 160, 6).margins(ROW), "hole 'shaft 1' is not in the plate"),
    ],
)
def test_errors_say_what_to_do(wrong, says):
    with pytest.raises(ValueError, match=says):
        wrong()


@pytest.mark.parametrize(
    "part",
    [
        Plate(220, 160, 6),
        Plate(220.125, 160.0625, 3),
        Plate(8.75, 6.25, 0.3125, "in"),
        Shaft(10, 50),
        Shaft(9.525, 44.4503),
        Shaft(0.375, 1.75, "in"),
    ],
)
def test_names_are_read_back(part):
    assert type(part).from_name(part.name) == part


@pytest.mark.parametrize(
    "read",
    [
        lambda: Plate.from_name("plate 220"),
        lambda: Shaft.from_name("shaft_10_50"),
        lambda: Plate.from_name("shaft_d10_L50"),
    ],
)
def test_other_names_are_refused_with_the_pattern(read):
    with pytest.raises(ValueError, match="cannot be read: write it like"):
        read()
