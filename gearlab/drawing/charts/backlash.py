"""Backlash and contact ratio against the centre distance.

Where a pair jams, where it is meant to run, where contact ends.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from matplotlib.axes import Axes

from gearlab.parts import Gear, Mesh

from .. import numerals
from .chart import Chart

SAMPLES = 121


def backlash(
    driver: Gear,
    driven: Gear,
    *,
    wanted: tuple[float, float] | None = None,
    marked: tuple[float, ...] = (),
    theme: str = "light",
) -> Chart:
    """Two panels over one scale of centre distances: backlash above, contact ratio below.

    The side where the teeth would overlap is hatched, the range of the wanted backlash is a band between two
    lines, and a heavy broken line stands where the contact ratio has fallen to 1.

    driver, driven: the gears, fit to mesh.
    wanted: least and greatest wanted backlash, above 0; left out, 0.04 to 0.10 modules [unit of the gears,
        in or mm].
    marked: further centre distances to mark, such as that of a plate [in or mm].
    theme: "light" or "dark".
    Returns a matplotlib figure, its two axes with lengths in the unit of the gears; ``text`` says what it
        shows.
    ValueError if the wanted range is not two rising numbers above 0, or the gears cannot mesh.

    >>> from gearlab.parts import Gear
    >>> chart = backlash(Gear(18, module=2.5), Gear(45, module=2.5), wanted=(0.10, 0.25))
    >>> print(chart.text[:92])
    18 and 45 teeth, module 2.5: no backlash at 78.75 mm, nearer than that the teeth jam; 0.100
    """
    size, unit = driver.scale, driver.unit
    least, most = wanted or (0.04 * size, 0.10 * size)
    if not 0 < least < most:
        raise ValueError(
            f"wanted is {least:g} to {most:g} {unit}: give a minimum and a maximum backlash, above 0 and"
            " rising"
        )
    pair = Pair(driver, driven)
    places = Places(
        pair.jams,
        pair.distance_of("backlash", least),
        pair.distance_of("backlash", most),
        pair.distance_of("contact_ratio", 1.0),
    )

    def say(value: float) -> str:
        return numerals.length(value, unit)

    at_jam = numerals.number(pair.value("contact_ratio", places.jam), 2)
    text = (
        f"{driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}: no backlash at"
        f" {say(places.jam)}, nearer than that the teeth jam; {say(least)} to {say(most)} of backlash from"
        f" {say(places.near)} to {say(places.far)}; contact ratio {at_jam} at {say(places.jam)}, falling to 1"
        f" at {say(places.end)}, where contact ends."
    )
    chart = Chart(text, size=(760.0, 520.0), theme=theme)
    upper, lower = chart.subplots(2, 1, sharex=True)
    low, high = places.jam - 0.16 * size, places.end + 0.1 * size
    for ax, word, colour in ((upper, "backlash", "driver text"), (lower, "contact_ratio", "driven text")):
        _curve(chart, ax, pair, word, colour, np.linspace(low, high, SAMPLES), places)
        for place in marked:
            value = pair.value(word, place)
            ax.plot([place], [value], "o", color=chart.colour("ink"), markersize=6, zorder=5)
    upper.axhline(0.0, color=chart.colour("ink"), linewidth=0.9)
    lower.axhline(1.0, color=chart.colour("ink"), linewidth=0.9)
    upper.set_ylabel(f"backlash on the operating\npitch circles [{unit}]")
    lower.set_ylabel("contact ratio [\u2013]")
    lower.set_xlabel(f"centre distance [{unit}]")
    upper.set_xlim(low, high)
    gap = 0.012 * (high - low)
    _say_at(chart, upper, (low + places.jam) / 2, "teeth\njam", "center", boxed=True)
    _say_at(chart, upper, places.far + gap, f"wanted:\n{say(least)} to {say(most)}", "left", "accent text")
    _say_at(chart, lower, places.end - gap, f"contact ends\n{say(places.end)}", "right")
    for place in marked:
        right = place < (low + high) / 2  # words on the side where there is room
        play, ratio = pair.value("backlash", place), pair.value("contact_ratio", place)
        _note(chart, upper, (place, play), f"{say(place)}: {say(play)}", right, above=not right)
        _note(chart, lower, (place, ratio), numerals.number(ratio, 2), right, above=right)
    return chart


class Places(NamedTuple):
    """Centre distances where a pair jams, has the least and the greatest wanted backlash, loses contact."""

    jam: float
    near: float
    far: float
    end: float


def _curve(
    chart: Chart, ax: Axes, pair: Pair, word: str, colour: str, distances: np.ndarray, places: Places
) -> None:
    """One number against the distance, over the side that jams, the wanted range and the end of contact."""
    chart.dress(ax)
    ax.axvspan(
        distances[0],
        places.jam,
        facecolor=chart.colour("paper"),
        edgecolor=chart.colour("faint"),
        hatch="///",
        linewidth=0,
    )
    ground, edge = chart.colour("accent ground"), chart.colour("accent text")
    ax.axvspan(places.near, places.far, facecolor=ground, edgecolor=edge, linewidth=1.0)
    ax.axvline(places.end, color=chart.colour("ink"), linewidth=1.6, linestyle=(0, (6, 3)))
    values = [pair.value(word, distance) for distance in distances]
    ax.plot(distances, values, color=chart.colour(colour), linewidth=2.2)


def _say_at(
    chart: Chart, ax: Axes, at: float, words: str, align: str, colour: str = "ink", boxed: bool = False
) -> None:
    """Words at the top of a panel, at a centre distance."""
    ax.text(
        at,
        0.95,
        words,
        transform=ax.get_xaxis_transform(),
        ha=align,
        va="top",
        color=chart.colour(colour),
        fontsize=10,
        bbox=chart.box() if boxed else None,
    )


def _note(chart: Chart, ax: Axes, at: tuple[float, float], words: str, right: bool, above: bool) -> None:
    """Words beside a marked point."""
    ax.annotate(
        words,
        at,
        xytext=(8 if right else -8, 4 if above else -4),
        textcoords="offset points",
        ha="left" if right else "right",
        va="bottom" if above else "top",
        color=chart.colour("ink"),
        fontsize=10,
        bbox=chart.box(),
    )


class Pair:
    """Two gears at every centre distance at which they reach each other."""

    def __init__(self, driver: Gear, driven: Gear):
        self.driver, self.driven = driver, driven
        mesh = Mesh(driver, driven)
        # room on both sides: beyond the tips and nearer than the base circles nothing can be worked out
        self.least = (
            max(
                (driver.base_diameter + driven.base_diameter) / 2,
                (driver.root_diameter + driven.outside_diameter) / 2,
                (driver.outside_diameter + driven.root_diameter) / 2,
            )
            + 1e-6 * driver.scale
        )
        self.most = (driver.outside_diameter + driven.outside_diameter) / 2 - 1e-6 * driver.scale
        self.jams = mesh.centre_distance if mesh.backlash == 0 else self.distance_of("backlash", 0.0)

    def value(self, word: str, distance: float) -> float:
        """A number of the pair by its word, at a centre distance [unit of the gears]."""
        mesh = Mesh(self.driver, self.driven, distance)
        return mesh.backlash if word == "backlash" else mesh.numbers[word]

    def distance_of(self, word: str, wanted: float) -> float:
        """The centre distance at which a number that rises or falls all the way has a value [unit of the
        gears].
        """
        low, high = self.least, self.most
        rising = self.value(word, high) > self.value(word, low)
        ends = sorted((self.value(word, low), self.value(word, high)))
        if not ends[0] <= wanted <= ends[1]:
            raise ValueError(
                f"{word} = {wanted:g} is never reached by these gears: it goes from {ends[0]:g} to"
                f" {ends[1]:g}"
            )
        for _ in range(60):
            middle = (low + high) / 2
            if (self.value(word, middle) < wanted) == rising:
                low = middle
            else:
                high = middle
        return (low + high) / 2
