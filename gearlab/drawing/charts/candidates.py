"""Ratio error of candidate pairs or trains against their size: what more teeth buy."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from matplotlib.axes import Axes

from gearlab.parts.choosing import PairChoice, TrainChoice

from .. import numerals
from .chart import Chart

Choice = PairChoice | TrainChoice
NAMED = 6  # how many of the best bargains are named


def candidates(choices: Iterable[Choice], *, wanted_ratio: float, theme: str = "light") -> Chart:
    """Candidates as points: size to the right, error of the ratio upwards; the bargains are joined and named.

    A bargain is a candidate that no other one beats in both size and error. Full discs are hunting pairs, or
    trains both of whose stages are; hollow squares have a common factor.

    choices: the candidates, all for one wanted ratio; at least one.
    wanted_ratio: the ratio they are candidates for, above 0 [-].
    theme: "light" or "dark".
    Returns a matplotlib figure, axes in teeth and per cent; ``text`` says what it shows.
    ValueError if there is no candidate, or one whose error does not belong to the wanted ratio.

    >>> from gearlab.parts.choosing import pairs
    >>> candidates(pairs(2.4), wanted_ratio=2.4).text[:72]
    '10 candidates for a ratio of 2.4, 61 to 102 teeth in all: nearest is 20:'
    """
    choices = list(choices)
    if not choices:
        raise ValueError("there is no candidate to draw: widen the limits of the search")
    for choice in choices:
        if not math.isclose(choice.error, choice.ratio / wanted_ratio - 1, abs_tol=1e-9):
            raise ValueError(
                f"{name(choice)} has an error of {100 * choice.error:g} %, which is not that for"
                f" wanted_ratio = {wanted_ratio:g}: give the ratio that was searched for"
            )
    best = bargains(choices)
    nearest = min(choices, key=lambda choice: (abs(choice.error), choice.size))
    sizes = [choice.size for choice in choices]
    text = (
        f"{len(choices)} candidates for a ratio of {numerals.plain(wanted_ratio)}, {min(sizes)} to"
        f" {max(sizes)} teeth in all: nearest is {name(nearest)}, off by {_percent(nearest.error)}; smallest"
        f" is {name(best[0])} with {best[0].size} teeth, off by {_percent(best[0].error)}."
    )
    chart = Chart(text, size=(760.0, 460.0), theme=theme)
    ax = chart.subplots()
    chart.dress(ax)
    ink = chart.colour("ink")
    ax.axhline(0.0, color=ink, linewidth=1.0)
    _points(chart, ax, choices, best)
    span = max(abs(100 * choice.error) for choice in choices) or 0.01
    ax.set_ylim(-1.25 * span, 1.25 * span)
    ax.margins(x=0.12)
    _names(chart, ax, best[:NAMED])
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


def _points(chart: Chart, ax: Axes, choices: Sequence[Choice], best: Sequence[Choice]) -> None:
    """Every candidate as a point, full where it hunts; the bargains joined by a line."""
    colour = chart.colour("driver text")
    for hunting, marker, fill, label in (
        (True, "o", colour, "no common factor"),
        (False, "s", chart.colour("paper"), "with a common factor"),
    ):
        group = [choice for choice in choices if _hunting(choice) is hunting]
        ax.plot(
            [choice.size for choice in group],
            [100 * choice.error for choice in group],
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
        [choice.size for choice in best],
        [100 * choice.error for choice in best],
        color=chart.colour("accent text"),
        linewidth=1.2,
        linestyle=(0, (4, 3)),
        label="best for their size",
        zorder=2,
    )


def _names(chart: Chart, ax: Axes, best: Sequence[Choice]) -> None:
    """The counts of the bargains, away from the line of no error."""
    for place, choice in enumerate(best):
        up = choice.error >= 0 if choice.error else place % 2 == 0
        ax.annotate(
            name(choice),
            (choice.size, 100 * choice.error),
            xytext=(0, 9 if up else -9),
            textcoords="offset points",
            ha="center",
            va="bottom" if up else "top",
            color=chart.colour("ink"),
            fontsize=9.5,
            bbox=chart.box(1.0),
            zorder=4,
        )


def bargains(choices: Iterable[Choice]) -> list[Choice]:
    """The candidates that no other choice beats in both size and error, smallest first."""
    kept, error = [], math.inf
    for choice in sorted(choices, key=lambda choice: (choice.size, abs(choice.error))):
        if abs(choice.error) < error - 1e-12:
            kept.append(choice)
            error = abs(choice.error)
    return kept


def name(choice: Choice) -> str:
    """The counts of a candidate, as in 18:45 or 18:36, 20:50.

    >>> from gearlab.parts.choosing import PairChoice, TrainChoice
    >>> name(PairChoice(18, 45, 0.0)), name(TrainChoice(18, 36, 20, 50, 0.0))
    ('18:45', '18:36, 20:50')
    """
    if isinstance(choice, PairChoice):
        return f"{choice.driver_teeth}:{choice.driven_teeth}"
    return f"{choice.first_teeth}:{choice.second_teeth}, {choice.third_teeth}:{choice.fourth_teeth}"


def _hunting(choice: Choice) -> bool:
    return choice.hunting if isinstance(choice, PairChoice) else choice.common_factors == (1, 1)


def _percent(error: float) -> str:
    return "nothing" if error == 0 else f"{numerals.MINUS if error < 0 else '+'}{abs(100 * error):.2g} %"
