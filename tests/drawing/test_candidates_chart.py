"""The chart of candidates: every one a point, the bargains named, hunting pairs told apart without colour."""

import pytest

from gearlab.drawing import style
from gearlab.drawing.charts.candidates import bargains, candidates
from gearlab.parts.choosing import PairChoice, pairs, two_stages


@pytest.fixture(scope="module")
def found():
    return pairs(2.4, within=0.02, count=40)


def test_every_candidate_is_a_point_in_teeth_and_per_cent(found):
    ax = candidates(found, wanted_ratio=2.4).axes[0]
    assert ax.get_xlabel().endswith("[teeth]") and ax.get_ylabel() == "error of the ratio 2.4 [%]"
    drawn = {
        (float(x), round(float(y), 9))
        for line in ax.lines
        if line.get_marker() in "os"
        for x, y in zip(*line.get_data())
    }
    assert drawn == {
        (a + b, round(100 * (b / a - 2.4) / 2.4, 9))
        for a in range(18, 73)
        for b in range(18, 73)
        if abs(b / a / 2.4 - 1) <= 0.02
    }


def test_hunting_pairs_have_a_mark_of_their_own(found):
    from math import gcd

    lines = {line.get_label(): line for line in candidates(found, wanted_ratio=2.4).axes[0].lines}
    full, hollow = lines["no common factor"], lines["with a common factor"]
    assert full.get_marker() != hollow.get_marker() and hollow.get_markerfacecolor() == style.colour(
        "paper", "", "light"
    )
    assert len(full.get_xdata()) == sum(gcd(one.driver_teeth, one.driven_teeth) == 1 for one in found)


def test_bargains_are_beaten_by_nobody(found):
    best = bargains(found)
    # 2.3889, and exactly 12/5; between them nothing is nearer
    assert [(one.driver_teeth, one.driven_teeth) for one in best] == [(18, 43), (20, 48)]
    for one in best:
        assert not any(other.size <= one.size and abs(other.error) < abs(one.error) for other in found)


def test_trains_and_dark_paper():
    trains = two_stages(7.3, low=18, high=60, within=0.001, count=20)
    chart = candidates(trains, wanted_ratio=7.3, theme="dark")
    assert chart.get_facecolor()[:3] != candidates(trains, wanted_ratio=7.3).get_facecolor()[:3]
    assert (
        chart.text.startswith(f"{len(trains)} candidates for a ratio of 7.3")
        and chart.png()[:4] == b"\x89PNG"
    )


def test_refuses_nothing_and_another_ratio(found):
    with pytest.raises(ValueError, match="no candidate"):
        candidates([], wanted_ratio=2.4)
    with pytest.raises(ValueError, match="not that for wanted_ratio = 2.5"):
        candidates(found, wanted_ratio=2.5)
    with pytest.raises(ValueError, match="18:45"):
        candidates([PairChoice(18, 45, 0.0)], wanted_ratio=2.4)
