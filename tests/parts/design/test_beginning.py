"""A first design from what is wanted: sound by its own review, its places by hand."""

import math

import pytest

from gearlab import review
from gearlab.parts.design import begin, read_design

METRIC = {"module": 2.5, "shaft_diameter": 10, "torque": 1.5, "allowable_stress": 25}
INCH = {"diametral_pitch": 12, "shaft_diameter": 0.375, "torque": 12, "allowable_stress": 3500}


@pytest.mark.parametrize(
    "stages, size",
    [
        ([(18, 45)], METRIC),
        ([(20, 50)], METRIC | {"module": 2, "shaft_diameter": 8, "torque": 1}),
        ([(24, 60)], METRIC | {"module": 1, "shaft_diameter": 5, "torque": 0.15}),
        ([(18, 18)], METRIC | {"module": 4, "shaft_diameter": 16, "torque": 8}),
        ([(18, 36), (18, 54)], METRIC | {"module": 2, "torque": 0.8}),
        ([(18, 45)], INCH),
        ([(30, 60)], INCH | {"diametral_pitch": 24, "shaft_diameter": 0.25, "torque": 3}),
        ([(20, 40)], INCH | {"diametral_pitch": 8, "shaft_diameter": 0.5, "torque": 40}),
        ([(20, 30), (20, 40)], INCH | {"torque": 5}),
    ],
)
def test_it_is_sound_as_it_comes(stages, size):
    design = begin("first", stages, **size, speed=20)
    ledger = review(design)
    assert ledger.passes, str(ledger)
    # the ratio is that of the counts; every pair stands half its sum of teeth apart, times the module
    assert design.ratio == pytest.approx(math.prod(b / a for a, b in stages))
    scale = size["module"] if "module" in size else 1 / size["diametral_pitch"]
    for pair, (driver, driven) in zip(design.mesh, stages):
        assert design.distance(pair.driver, pair.driven) == pytest.approx(
            (driver + driven) / 2 * scale, abs=1e-3
        )
        assert design.face_height(pair.driver) == pytest.approx(design.face_height(pair.driven))
    assert read_design(design.toml) == design


@pytest.mark.parametrize(
    "change, says",
    [
        ({"stages": []}, "stages is empty: give the teeth of driver and driven gear"),
        ({"stages": [(18, 45)] * 9}, "9 of them are too many"),
        ({"shaft_diameter": 25}, "take more teeth, larger ones, or a thinner shaft"),
        ({"module": None}, "exactly one of diametral_pitch"),
        ({"stages": [(2, 45)]}, "teeth = 2"),
    ],
)
def test_what_cannot_begin_is_refused(change, says):
    with pytest.raises(ValueError, match=says):
        begin("first", **({"stages": [(18, 45)]} | METRIC | change))
