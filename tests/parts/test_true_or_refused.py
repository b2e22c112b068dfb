"""A number is true, or it is refused with the reason.

Pairs and gears against their cut teeth, by up to three routes.
"""

import math
import random

import numpy as np
import pytest
from rolled_pairs import faults, random_pair

from gearlab import Gear, InternalGear, Mesh, derive
from gearlab.shape.rolling import Rolling


def test_every_number_that_rolling_can_measure_agrees_or_is_named():
    chance, looked_at, measured = random.Random(9), 0, 0
    while looked_at < 200:
        pair = random_pair(chance)
        if pair is None:
            continue
        assert not faults(pair)
        looked_at, measured = looked_at + 1, measured + ("contact_ratio" in pair.measured)
    assert 20 < measured < 180  # both kinds of pair were there


@pytest.mark.parametrize(
    ("driver", "driven", "angle", "true"),
    [
        # Rolled on the cut teeth, by whoever asked for this check (common practice: undercut shortens the path of  # noqa: E501
        # contact).
        (12, 60, 20.0, 1.275),
        (8, 40, 20.0, 0.913),
        (10, 10, 20.0, 0.816),
        (12, 60, 14.5, 0.994),
    ],
)
def test_undercut_pinions_have_the_contact_that_their_flanks_have(driver, driven, angle, true):
    pair = Mesh(
        Gear(driver, module=2.5, pressure_angle=angle), Gear(driven, module=2.5, pressure_angle=angle)
    )
    assert pair.contact_ratio == pytest.approx(true, abs=6e-4)
    assert "contact_ratio" in pair.measured and "fillet or undercut" in pair.refused["contact_ratio"].reason(
        "mm"
    )
    with pytest.raises(ValueError, match="measured on the cut teeth.*would have to be at least"):
        pair.explain("contact_ratio")
    with pytest.raises(ValueError, match="this formula holds while.*Ask Mesh"):
        derive(
            "contact_ratio",
            {"module": 2.5, "driver_teeth": driver, "driven_teeth": driven, "pressure_angle": angle},
        )


def test_a_pinion_in_a_small_ring():
    pair = Mesh(Gear(20, module=2.5), InternalGear(40, module=2.5))
    # likewise
    assert pair.contact_ratio == pytest.approx(1.769, abs=6e-4) and "contact_ratio" in pair.measured
    roomy = Mesh(Gear(45, module=2.5, pressure_angle=25), InternalGear(120, module=2.5, pressure_angle=25))
    assert (
        roomy.contact_ratio == pytest.approx(roomy.rolling.contact_ratio(), abs=1e-9)
        and "contact_ratio" not in roomy.measured
    )
    assert roomy.explain("contact_ratio").result == pytest.approx(roomy.contact_ratio)


# -- a third route: the outlines as polygons, turned in small steps ------------------------------------
def side_of_polygon(gear, towards):
    """Angle of the tooth's side by radius, from the drawn outline alone.

    Tooth 0, the side towards +1 or -1 [modules, rad].
    """
    points = gear.tooth.tooth_points(1e-9)
    radius, angle = np.hypot(*points.T), np.arctan2(points[:, 1], points[:, 0]) * towards
    order = np.argsort(radius[angle >= 0])
    return radius[angle >= 0][order], angle[angle >= 0][order]


def contact_ratio_of_polygons(pair, steps=1000):
    """Share of the pitches over which a single pair of polygon teeth turns evenly [-]."""
    distance, ratio = pair.centre_distance / pair.driver.scale, pair.driven.teeth / pair.driver.teeth
    (r1, a1), (r2, a2) = side_of_polygon(pair.driver, 1), side_of_polygon(pair.driven, 1)
    flank = r1 > pair.driver.tooth.root_radius + 1e-3
    across, up = r1[flank] * np.cos(a1[flank]), r1[flank] * np.sin(a1[flank])
    inner, outer = r2[0] ** 2, r2[-1] ** 2
    turns = np.linspace(-2.2, 2.2, steps) * pair.driver.tooth.pitch_angle
    rests = np.full(steps, np.inf)
    for number, turn in enumerate(turns):
        cosine, sine = math.cos(turn), math.sin(turn)
        x, y = distance - (across * cosine - up * sine), -(across * sine + up * cosine)
        square = x * x + y * y
        near = (square > inner) & (square < outer)
        if near.any():
            reach = np.sqrt(square[near])
            rests[number] = np.min(np.arctan2(y[near], x[near]) - np.interp(reach, r2, a2))
    lag = rests + turns / ratio  # even where flank drives flank
    finite = np.isfinite(lag)
    even = lag[finite].min()
    # chords lie within 1e-9 modules of the curves; off the path the lag grows with the square
    on = np.abs(lag[finite] - even) < 2e-8
    return on.sum() * (turns[1] - turns[0]) / pair.driver.tooth.pitch_angle


@pytest.mark.parametrize(
    ("driver", "driven", "more"),
    [
        (12, 60, {}),
        (14, 33, {}),
        (16, 16, {}),
        (9, 30, {"profile_shift": 0.3}),
        (12, 60, {"pressure_angle": 14.5}),
        (20, 45, {}),
    ],
)
def test_polygons_turned_in_small_steps_confirm_the_contact_ratio(driver, driven, more):
    angle = {word: number for word, number in more.items() if word == "pressure_angle"}
    pair = Mesh(Gear(driver, module=1.0, **more), Gear(driven, module=1.0, **angle))
    assert contact_ratio_of_polygons(pair) == pytest.approx(pair.contact_ratio, abs=0.01)


# -- everything that asks goes through the same door ---------------------------------------------------
def test_a_pair_that_does_not_run_is_told_so_everywhere():
    pair = Mesh(Gear(8, module=2.5), Gear(45, module=2.5))
    assert pair.contact_ratio < 1
    from gearlab.drawing.charts.contact import contact_ratio as chart
    from gearlab.widgets.explorers import PairExplorer

    explorer = PairExplorer(driver_teeth=8, driven_teeth=45)
    assert "below 1" in " ".join(remark["text"] for remark in explorer.warnings)
    told = chart(45, pressure_angles=(20.0,), driver_teeth=(10, 20))
    assert told is not None


def test_thickness_where_the_pitch_circle_misses_the_flank():
    """The arc from side to side, counted on a fine drawing of the tooth."""
    gear = Gear(6, module=1.0, profile_shift=-0.5)
    assert "tooth_thickness" in gear.measured
    points = gear.tooth.tooth_points(1e-8)
    radius, angle = np.hypot(*points.T), np.arctan2(points[:, 1], points[:, 0])
    half = np.interp(3.0, np.sort(radius[angle > 0]), angle[angle > 0][np.argsort(radius[angle > 0])])
    assert gear.tooth_thickness == pytest.approx(6.0 * half, abs=1e-6)
    assert gear.numbers["chordal_thickness"] == pytest.approx(6.0 * math.sin(half), abs=1e-6)


def test_only_what_is_asked_for_is_rolled(monkeypatch):
    pair, asked = Mesh(Gear(12, module=2.5), Gear(60, module=2.5)), []
    monkeypatch.setattr(Rolling, "play", lambda self: asked.append("play") or 0.0)
    assert pair.contact_ratio < 1.3 and pair.numbers["driver_specific_sliding"] and not asked
    assert pair.backlash == 0.0 and asked == ["play"]


def test_a_sound_pair_measures_nothing():
    pair = Mesh(Gear(20, module=2.5), Gear(45, module=2.5))
    assert pair.measured == frozenset() and "rolling" not in vars(pair)
    assert set(pair.refused) <= {"largest_mate_teeth"}


def test_a_gear_of_an_even_count_has_no_reading_over_odd_tips():
    assert "across_tips" not in Gear(18, module=2.5).numbers and "across_tips" in Gear(19, module=2.5).numbers
    with pytest.raises(ValueError, match="a tip is opposite a tip.*caliper reads the outside diameter"):
        derive("across_tips", {"teeth": 18, "module": 2.5, "pressure_angle": 20})
