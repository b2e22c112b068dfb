"""Choosing tooth counts: pairs and two-stage trains for a ratio, best first.

Counts are whole, so a wanted ratio is seldom met exactly. Few pairs are left to try, and every one of them is
tried. Which fractions come as near as their size allows is told by ``convergents``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from html import escape
from typing import Any

import numpy as np

from gearlab.theory.functions import common_factor_number

from .checks import whole
from .checks import within as checked

_LAST_BIT = 1e-13  # an error that is exactly at the limit is within it


@dataclass(frozen=True)
class PairChoice:
    """A pair of counts for a ratio.

    driver_teeth, driven_teeth: the counts [-].
    error: how far the ratio is off, as a share of the wanted one, signed [-].
    """

    driver_teeth: int
    driven_teeth: int
    error: float

    @property
    def ratio(self) -> float:
        """Driver turns per driven turn [-]."""
        return self.driven_teeth / self.driver_teeth

    @property
    def common_factor(self) -> int:
        """Greatest common factor of the counts [-].

        1 for a hunting pair, in which every tooth meets every space.
        """
        return round(common_factor_number(self.driver_teeth, self.driven_teeth))

    @property
    def hunting(self) -> bool:
        """Whether every tooth meets every space."""
        return self.common_factor == 1

    @property
    def driver_turns_to_repeat(self) -> int:
        """Driver turns until the same two teeth meet again [-]."""
        return self.driven_teeth // self.common_factor

    @property
    def size(self) -> int:
        """Teeth of both gears together: twice the centre distance in modules [-]."""
        return self.driver_teeth + self.driven_teeth

    def row(self) -> dict[str, str]:
        """What a table shows of it."""
        return {
            "driver": str(self.driver_teeth),
            "driven": str(self.driven_teeth),
            "ratio": f"{self.ratio:.5g}",
            "error": percent(self.error),
            "sum of teeth": str(self.size),
            "common factor": str(self.common_factor),
            "driver turns to repeat": str(self.driver_turns_to_repeat),
        }


@dataclass(frozen=True)
class TrainChoice:
    """Four counts of a two-stage train for a ratio.

    First drives second, third (on the second's shaft) drives fourth.

    first_teeth, second_teeth, third_teeth, fourth_teeth: the counts [-].
    error: how far the ratio is off, as a share of the wanted one, signed [-].
    """

    first_teeth: int
    second_teeth: int
    third_teeth: int
    fourth_teeth: int
    error: float

    @property
    def ratio(self) -> float:
        """First-shaft turns per last-shaft turn [-]."""
        return self.second_teeth * self.fourth_teeth / (self.first_teeth * self.third_teeth)

    @property
    def common_factors(self) -> tuple[int, int]:
        """Greatest common factor of each stage's counts [-]."""
        stages = (self.first_teeth, self.second_teeth), (self.third_teeth, self.fourth_teeth)
        first, second = (round(common_factor_number(*stage)) for stage in stages)
        return first, second

    @property
    def reverted(self) -> bool:
        """Whether, with one module, the last shaft lies on the axis of the first."""
        return self.first_teeth + self.second_teeth == self.third_teeth + self.fourth_teeth

    @property
    def size(self) -> int:
        """Teeth of all gears together [-]."""
        return self.first_teeth + self.second_teeth + self.third_teeth + self.fourth_teeth

    def row(self) -> dict[str, str]:
        """What a table shows of it."""
        return {
            "stage 1": f"{self.first_teeth}/{self.second_teeth}",
            "stage 2": f"{self.third_teeth}/{self.fourth_teeth}",
            "ratio": f"{self.ratio:.6g}",
            "error": percent(self.error),
            "teeth in all": str(self.size),
            "common factors": "{} and {}".format(*self.common_factors),
            "back on the first axis": "yes" if self.reverted else "no",
        }


class Choices(tuple):
    """Choices, best first, that print and show as a table."""

    def _table(self) -> tuple[list[str], list[list[str]]]:
        rows = [choice.row() for choice in self]
        return list(rows[0]) if rows else [], [list(row.values()) for row in rows]

    def __str__(self) -> str:
        head, rows = self._table()
        widths = [max(map(len, column)) for column in zip(head, *rows)]
        return (
            "\n".join(
                "  ".join(cell.rjust(width) for cell, width in zip(line, widths)) for line in [head, *rows]
            )
            or "no choice within the limits"
        )

    def _repr_html_(self) -> str:
        head, rows = self._table()
        if not rows:
            return "<p>No choice within the limits.</p>"
        cells = "".join(
            "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows
        )
        heads = "".join(f"<th scope=col>{escape(cell)}</th>" for cell in head)
        return f"<table><thead><tr>{heads}</tr></thead><tbody>{cells}</tbody></table>"


def percent(share: float) -> str:
    """A share in per cent with its sign.

    >>> percent(0.0078387), percent(0.0)
    ('+0.784 %', '0 %')
    """
    share = checked("share", share, -math.inf, math.inf, "")
    return "0 %" if share == 0 else f"{100 * share:+.3g} %"


def pairs(
    ratio: float,
    *,
    low: int = 18,
    high: int = 72,
    within: float = 0.05,
    centre_distance: float | None = None,
    module: float | None = None,
    diametral_pitch: float | None = None,
    distance_within: float | None = None,
    hunting: bool | None = None,
    count: int = 10,
) -> Choices:
    """Pairs of counts for a ratio, best first: by error, then fewest teeth, then smallest common factor.

    ratio: wanted driver turns per driven turn, above 0 [-].
    low, high: fewest and most teeth of either gear, 4 to 2000 [-].
    within: largest error of the ratio, as a share of it [-].
    centre_distance: wanted centre distance; then the size of the teeth, too [mm, or in].
    module, diametral_pitch: size of the teeth for a wanted centre distance, one of them [mm, 1/in].
    distance_within: how far the pitch circles may miss the centre distance; a thousandth of the module, or of
        one over the diametral pitch, if left out [mm, or in].
    hunting: true for pairs without a common factor only.
    count: how many at most [-].
    ValueError for limits that hold nothing.

    >>> [
    ...     (pair.driver_teeth, pair.driven_teeth)
    ...     for pair in pairs(2.4, centre_distance=80.0, module=2.5, hunting=True)
    ... ]
    [(19, 45)]
    >>> str(pairs(2.0, centre_distance=1.875, diametral_pitch=24)[0])
    'PairChoice(driver_teeth=30, driven_teeth=60, error=0.0)'
    """
    _check(ratio, low, high, within, count)
    if module is not None and diametral_pitch is not None:
        raise ValueError(
            f"module = {module!r} [mm] and diametral_pitch = {diametral_pitch!r} [1/in] are both given: give"
            " one of them"
        )
    if (centre_distance is None) == (module is not None or diametral_pitch is not None):
        raise ValueError(
            "centre_distance and the size of the teeth, module or diametral_pitch, go together: give both, or"
            " neither"
        )
    drivers, unit = np.arange(low, high + 1), "mm" if diametral_pitch is None else "in"
    if diametral_pitch is not None:
        module = 1 / checked("diametral_pitch", diametral_pitch, 1e-6, 1e6, "1/in")
    if centre_distance is None or module is None:
        driver, driven = (grid.ravel() for grid in np.meshgrid(drivers, drivers, indexing="ij"))
    else:
        module, centre_distance = (
            checked("module", module, 1e-6, math.inf, unit),
            checked("centre_distance", centre_distance, 0.0, 4000 * module, unit, above=True),
        )
        room = (
            1e-3 * module
            if distance_within is None
            else checked("distance_within", distance_within, 0.0, 4000 * module, unit)
        )
        sums = np.arange(
            math.ceil(2 * (centre_distance - room) / module - 1e-9),
            math.floor(2 * (centre_distance + room) / module + 1e-9) + 1,
        )
        driver, driven = (grid.ravel() for grid in np.meshgrid(drivers, sums, indexing="ij"))
        driven = driven - driver
    error = driven / driver / ratio - 1
    keep = (np.abs(error) <= within + _LAST_BIT) & (driven >= low) & (driven <= high)
    choices = [
        PairChoice(int(a), int(b), float(e)) for a, b, e in zip(driver[keep], driven[keep], error[keep])
    ]
    return _best(
        (choice for choice in choices if hunting is None or choice.hunting == hunting),
        count,
        lambda choice: (choice.size, choice.common_factor),
    )


def two_stages(
    ratio: float,
    *,
    low: int = 12,
    high: int = 120,
    within: float = 0.001,
    reverted: bool = False,
    count: int = 20,
) -> Choices:
    """Two-stage trains for a ratio, best first: by error, then fewest teeth, then smallest common factors.

    Every combination is looked at: the ratios of all stages are sorted once, and for each first stage the
    second ones that lie in reach are found by halving. Trains that differ only in the order of their stages,
    or in which pinion goes with which wheel, are given once, with the stages most alike.

    ratio: wanted first-shaft turns per last-shaft turn, above 0 [-].
    low, high: fewest and most teeth of any gear, 4 to 2000 [-].
    within: largest error of the ratio, as a share of it, 0 to 0.1 [-].
    reverted: true for trains whose last shaft lies on the axis of the first, with one module.
    count: how many at most [-].
    ValueError for limits that hold nothing.

    >>> best = two_stages(5.0, low=18, high=60, reverted=True, count=1)[0]
    >>> best.ratio, best.reverted, best.size
    (5.0, True, 126)
    """
    _check(ratio, low, high, within, count)
    if within > 0.1:
        raise ValueError(
            f"within = {within:g} is out of range: give a share from 0 to 0.1 (a tenth); coarser wishes need"
            " no search"
        )
    counts = np.arange(low, high + 1)
    driver, driven = (grid.ravel() for grid in np.meshgrid(counts, counts, indexing="ij"))
    if reverted:
        return _reverted(ratio, driver, driven, within, count)
    # only stages in lowest terms are tried; their multiples within the limits are the same stage, larger
    factor = np.gcd(driver, driven)
    # the multiple that is just large enough
    least = np.maximum(1, -(-low // np.minimum(driver // factor, driven // factor)))
    smallest = factor == least
    driver, driven = driver[smallest], driven[smallest]
    size = driver + driven
    order = np.argsort(driven / driver, kind="stable")
    driver, driven, size, stage = driver[order], driven[order], size[order], (driven / driver)[order]
    # stages above the root of the ratio with those below it: each product once
    above = np.flatnonzero(stage >= math.sqrt(ratio) * (1 - within))
    start = np.searchsorted(stage, ratio * (1 - within) / stage[above] * (1 - 1e-12))
    stop = np.searchsorted(stage, ratio * (1 + within) / stage[above] * (1 + 1e-12), side="right")
    hits = np.maximum(stop - start, 0)
    first = np.repeat(above, hits)
    second = np.arange(hits.sum()) - np.repeat(np.cumsum(hits) - hits, hits) + np.repeat(start, hits)
    error = driven[first] * driven[second] / (driver[first] * driver[second]) / ratio - 1
    return _ranked(driver[first], driven[first], driver[second], driven[second], error, within, count)


def _reverted(ratio: float, driver: np.ndarray, driven: np.ndarray, within: float, count: int) -> Choices:
    """Trains both of whose stages have one sum of teeth."""
    trains = []
    sums = driver + driven
    for total in np.unique(sums):
        here = sums == total
        a, b = driver[here], driven[here]
        stage = b / a
        error = stage[:, None] * stage[None, :] / ratio - 1
        first, second = np.nonzero(np.abs(error) <= within + _LAST_BIT)
        keep = first <= second
        first, second = first[keep], second[keep]
        trains.append((a[first], b[first], a[second], b[second], error[first, second]))
    first, second, third, fourth, error = (np.concatenate(parts) for parts in zip(*trains))
    return _ranked(first, second, third, fourth, error, within, count)


def _ranked(
    first: np.ndarray,
    second: np.ndarray,
    third: np.ndarray,
    fourth: np.ndarray,
    error: np.ndarray,
    within: float,
    count: int,
) -> Choices:
    keep = np.abs(error) <= within + _LAST_BIT
    first, second, third, fourth, error = (part[keep] for part in (first, second, third, fourth, error))
    size = first + second + third + fourth
    # far more are found than asked for: the nearest of them, with room for those that are the same train
    near = np.lexsort((size, np.round(np.abs(error), 12)))[: 60 * count]
    trains: dict[tuple, TrainChoice] = {}
    for place in near.tolist():
        numbers = (int(first[place]), int(second[place]), int(third[place]), int(fourth[place]))
        pinions, wheels = sorted((numbers[0], numbers[2])), sorted((numbers[1], numbers[3]))
        key = (*pinions, *wheels)
        best = trains.get(key)
        choice = TrainChoice(*numbers, float(error[place]))
        if best is None or _unlike(choice) < _unlike(best):
            trains[key] = choice
    return _best(trains.values(), count, lambda choice: (choice.size, sum(choice.common_factors)))


def _unlike(choice: TrainChoice) -> float:
    stages = choice.second_teeth / choice.first_teeth, choice.fourth_teeth / choice.third_teeth
    return max(stages) / min(stages)


def _best(choices: Iterable, count: int, then: Callable[[Any], tuple]) -> Choices:
    return Choices(sorted(choices, key=lambda choice: (round(abs(choice.error), 12), *then(choice)))[:count])


def _check(ratio: float, low: int, high: int, within: float, count: int) -> None:
    checked("ratio", ratio, 0.0, math.inf, "", above=True)
    if whole("low", low, 4, 2000) > whole("high", high, 4, 2000):
        raise ValueError(
            f"low = {low!r} and high = {high!r} hold no tooth counts: give whole numbers with 4 <= low <="
            " high <= 2000"
        )
    checked("within", within, 0.0, math.inf, "")
    whole("count", count, 1, 10**9)
