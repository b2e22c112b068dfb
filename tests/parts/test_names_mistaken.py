"""Natural slips in names are answered with the right word."""

import copy
import pickle

import pytest

from gearlab import Gear, InternalGear, Mesh, Rack, Train

PINION, WHEEL = Gear(18, module=2.5), Gear(45, module=2.5)


@pytest.mark.parametrize(
    ("make", "word"),
    [
        (lambda: Gear(18, 2.5), "module=2.5"),
        (lambda: Gear(18, modul=2.5), "write module="),
        (lambda: Gear(18, m=2.5), "write module="),
        (lambda: Gear(z=18, module=2.5), "write teeth="),
        (lambda: Gear(N=18, module=2.5), "write teeth="),
        (lambda: Gear(18, P=10), "write diametral_pitch="),
        (lambda: Gear(18, module=2.5, pressure_angel=20), "write pressure_angle="),
        (lambda: Gear(18, module=2.5, colour="red"), "it takes teeth"),
        (lambda: Mesh(PINION, WHEEL, center_distance=80), "write centre_distance="),
        (lambda: Mesh(18, 45, module=2.5), r"Gear\(18, module=2.5\)"),
        (lambda: InternalGear(60, 2.5), "module=2.5"),
        (lambda: Rack(12, 2.5), "module=2.5"),
    ],
)
def test_making_a_part(make, word):
    with pytest.raises(TypeError, match=word):
        make()


@pytest.mark.parametrize(
    ("read", "word"),
    [
        (lambda: PINION.diameter, "say which: .pitch_diameter"),
        (lambda: PINION.radius, "half of a diameter and say which: .pitch_diameter"),
        (lambda: PINION.z, "write .teeth"),
        (lambda: PINION.d_a, "write .outside_diameter"),
        (lambda: PINION.tip_diameter, "write .outside_diameter"),
        (lambda: PINION.centre_distance, "two gears"),
        (lambda: PINION.ratio, "two gears"),
        (lambda: PINION.involute_angle, r"numbers\[.involute_angle.\]"),
        (lambda: Mesh(PINION, WHEEL).center_distance, "write .centre_distance"),
        (lambda: Mesh(PINION, WHEEL).contact_ration, "contact_ratio"),
        (lambda: Train.of(18, 30, 45, module=2.5).rato, "ratio"),
    ],
)
def test_reading_a_number(read, word):
    with pytest.raises(AttributeError, match=word):
        read()


def test_a_name_without_a_neighbour_is_only_refused():
    with pytest.raises(AttributeError, match="'qqqqqq'$"):
        PINION.qqqqqq  # noqa: B018
    assert not hasattr(PINION, "_anything")


def test_parts_are_still_copied_and_pickled():
    part = Gear(18, module=2.5)
    assert copy.deepcopy(part) == part and pickle.loads(pickle.dumps(part)) == part
    assert copy.copy(Mesh(PINION, WHEEL)) == Mesh(PINION, WHEEL)
