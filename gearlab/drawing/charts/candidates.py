"""Ratio error of candidate pairs or trains against their size: what more teeth buy."""

from __future__ import annotations

import math

from .. import numerals
from .chart import Chart

NAMED = 6  # how many of the best bargains are named


def candidates(choices, *, wanted_ratio: float, theme: str = "light") -> Chart:
    """Candidates as points: size to the right, error of the ratio upwards; the bargains are joined and named.

    A bargain is a candidate that no other one beats in both size and error. Full discs are hunting pairs, or
    trains both of whose stages are; hollow squares have a common factor.

    Parameters
    ----------
    choices : sequence of PairChoice or TrainChoice
        The candidates, all for one wanted ratio; at least one.
    wanted_ratio : float
        The ratio they are candidates for, above 0 [-].
    theme : str
        "light" or "dark" [-].

    Returns
    -------
    Chart
        A matplotlib figure, axes in teeth and per cent; ``text`` says what it shows.

    Raises
    ------
    ValueError
        If there is no candidate, or one whose error does not belong to the wanted ratio.

    Examples
    --------
    >>> from gearlab.parts.choosing import pairs
    >>> candidates(pairs(2.4), wanted_ratio=2.4).text[:72]
    '10 candidates for a ratio of 2.4, 61 to 102 teeth in all: nearest is 20:'
    """
    choices = list(choices)
    if not choices:
        raise ValueError("there is no candidate to draw: widen the limits of the search")
    for one in choices:
        if not math.isclose(one.error, one.ratio / wanted_ratio - 1, abs_tol=1e-9):
            raise ValueError(
                f"{name(one)} has an error of {100 * one.error:g} %, which is not that for wanted_ratio ="
                f" {wanted_ratio:g}: give the ratio that was searched for"
            )
    best = bargains(choices)
    nearest = min(choices, key=lambda one: (abs(one.error), one.size))
    sizes = [one.size for one in choices]
    text = (
        f"{len(choices)} candidates for a ratio of {numerals.plain(wanted_ratio)}, {min(sizes)} to"
        f" {max(sizes)} teeth in all: nearest is {name(nearest)}, off by {_percent(nearest.error)}; smallest"
        f" is {name(best[0])} with {best[0].size} teeth, off by {_percent(best[0].error)}."
    )
    chart = Chart(text, size=(760.0, 460.0), theme=theme)
    ax = chart.subplots()
    chart.dress(ax)
    ink, accent, colour = chart.colour("ink"), chart.colour("accent text"), chart.colour("driver text")
    ax.axhline(0.0, color=ink, linewidth=1.0)
    for hunting, marker, fill, label in (
        (True, "o", colour, "no common factor"),
        (False, "s", chart.colour("paper"), "with a common factor"),
    ):
        those = [one for one in choices if _hunting(one) is hunting]
        ax.plot(
            [one.size for one in those],
            [100 * one.error for one in those],
            marker,
            markersize=6,
            markerfacecolor=fill,
            markeredgecolor=colour,
            markeredgewidth=1.3,
            linestyle="none",
            label=label,
            zorder=3,
        )
    ax.plot(
        [one.size for one in best],
        [100 * one.error for one in best],
        color=accent,
        linewidth=1.2,
        linestyle=(0, (4, 3)),
        label="bargains",
        zorder=2,
    )
    span = max(abs(100 * one.error) for one in choices) or 0.01
    ax.set_ylim(-1.25 * span, 1.25 * span)
    ax.margins(x=0.12)
    for place, one in enumerate(best[:NAMED]):
        up = one.error >= 0 if one.error else place % 2 == 0
        ax.annotate(
            name(one),
            (one.size, 100 * one.error),
            xytext=(0, 9 if up else -9),
            textcoords="offset points",
            ha="center",
            va="bottom" if up else "top",
            color=ink,
            fontsize=9.5,
            bbox={"facecolor": chart.colour("paper"), "edgecolor": "none", "pad": 1.0},
            zorder=4,
        )
    ax.set_xlabel("teeth of all gears together [teeth]")
    ax.set_ylabel(f"error of the ratio {numerals.plain(wanted_ratio)} [%]")
    chart.legend(
        loc="outside upper center",
        ncols=3,
        fontsize=9.5,
        facecolor=chart.colour("paper"),
        edgecolor="none",
        labelcolor=ink,
    )
    return chart


def bargains(choices) -> list:
    """The candidates that no other one beats in both size and error, smallest first."""
    kept, error = [], math.inf
    for one in sorted(choices, key=lambda one: (one.size, abs(one.error))):
        if abs(one.error) < error - 1e-12:
            kept.append(one)
            error = abs(one.error)
    return kept


def name(one) -> str:
    """The counts of a candidate, as in 18:45 or 18:36, 20:50.

    >>> from gearlab.parts.choosing import PairChoice, TrainChoice
    >>> name(PairChoice(18, 45, 0.0)), name(TrainChoice(18, 36, 20, 50, 0.0))
    ('18:45', '18:36, 20:50')
    """
    if hasattr(one, "driver_teeth"):
        return f"{one.driver_teeth}:{one.driven_teeth}"
    return f"{one.first_teeth}:{one.second_teeth}, {one.third_teeth}:{one.fourth_teeth}"


def _hunting(one) -> bool:
    return one.hunting if hasattr(one, "hunting") else one.common_factors == (1, 1)


def _percent(error: float) -> str:
    return "nothing" if error == 0 else f"{numerals.MINUS if error < 0 else '+'}{abs(100 * error):.2g} %"
