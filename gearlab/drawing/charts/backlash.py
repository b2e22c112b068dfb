"""Backlash and contact ratio against the centre distance.

Where a pair jams, where it is meant to run, where contact ends.
"""

from __future__ import annotations

import numpy as np

from gearlab.parts import Mesh

from .. import numerals
from .chart import Chart

SAMPLES = 121


def backlash(
    driver,
    driven,
    *,
    wanted: tuple[float, float] | None = None,
    marked: tuple[float, ...] = (),
    theme: str = "light",
) -> Chart:
    """Two panels over one scale of centre distances: backlash above, contact ratio below.

    The side where the teeth would overlap is hatched, the range of the wanted backlash is a band between two
    lines, and a heavy broken line stands where the contact ratio has fallen to 1.

    Parameters
    ----------
    driver, driven : Gear
        The gears, fit to mesh.
    wanted : pair of float, optional
        Least and greatest wanted backlash, above 0; left out, 0.04 to 0.10 modules [unit of the gears, in or
        mm].
    marked : tuple of float
        Further centre distances to mark, such as that of a plate [in or mm].
    theme : str
        "light" or "dark" [-].

    Returns
    -------
    Chart
        A matplotlib figure, its two axes with lengths in the unit of the gears; ``text`` says what it shows.

    Raises
    ------
    ValueError
        If the wanted range is not two rising numbers above 0, or the gears cannot mesh.

    Examples
    --------
    >>> from gearlab.parts import Gear
    >>> chart = backlash(Gear(18, module=2.5), Gear(45, module=2.5), wanted=(0.10, 0.25))
    >>> print(chart.text[:92])
    18 and 45 teeth, module 2.5: no backlash at 78.75 mm, nearer than that the teeth jam; 0.100
    """
    size, unit = driver.scale, driver.unit
    least, most = wanted or (0.04 * size, 0.10 * size)
    if not 0 < least < most:
        raise ValueError(
            f"wanted is {least:g} to {most:g} {unit}: give a least and a greatest backlash, above 0 and"
            " rising"
        )
    pair = Pair(driver, driven)
    jam, near, far, end = (
        pair.jams,
        pair.distance_of("backlash", least),
        pair.distance_of("backlash", most),
        pair.distance_of("contact_ratio", 1.0),
    )
    low, high = jam - 0.16 * size, end + 0.1 * size
    distances = np.linspace(low, high, SAMPLES)
    values = {
        word: np.array([pair.value(word, distance) for distance in distances])
        for word in ("backlash", "contact_ratio")
    }

    def say(value: float) -> str:
        return numerals.length(value, unit)

    text = (
        f"{driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}: no backlash at {say(jam)},"
        f" nearer than that the teeth jam; {say(least)} to {say(most)} of backlash from {say(near)} to"
        f" {say(far)}; contact ratio {numerals.number(pair.value('contact_ratio', jam), 2)} at {say(jam)},"
        f" falling to 1 at {say(end)}, where contact ends."
    )
    chart = Chart(text, size=(760.0, 520.0), theme=theme)
    upper, lower = chart.subplots(2, 1, sharex=True)
    ink, accent, muted = chart.colour("ink"), chart.colour("accent text"), chart.colour("muted")
    for ax, word in ((upper, "backlash"), (lower, "contact_ratio")):
        chart.dress(ax)
        ax.axvspan(
            low, jam, facecolor=chart.colour("paper"), edgecolor=muted, hatch="///", linewidth=0, alpha=0.6
        )
        ax.axvspan(near, far, facecolor=chart.colour("accent ground"), edgecolor=accent, linewidth=1.0)
        ax.axvline(end, color=ink, linewidth=1.6, linestyle=(0, (6, 3)))
        ax.plot(
            distances,
            values[word],
            color=chart.colour("driver text" if word == "backlash" else "driven text"),
            linewidth=2.2,
        )
        for place in marked:
            ax.plot([place], [pair.value(word, place)], "o", color=ink, markersize=6, zorder=5)
    upper.axhline(0.0, color=ink, linewidth=0.9)
    lower.axhline(1.0, color=ink, linewidth=0.9)
    upper.set_ylabel(f"backlash on the operating\npitch circles [{unit}]")
    lower.set_ylabel("contact ratio [\u2013]")
    lower.set_xlabel(f"centre distance [{unit}]")
    upper.set_xlim(low, high)

    top = upper.get_xaxis_transform()
    box = {"facecolor": chart.colour("paper"), "edgecolor": "none", "pad": 1.5}
    upper.text(
        (low + jam) / 2,
        0.95,
        "teeth\njam",
        transform=top,
        ha="center",
        va="top",
        color=ink,
        fontsize=10,
        bbox=box,
    )
    upper.text(
        far + 0.012 * (high - low),
        0.95,
        f"wanted:\n{say(least)} to {say(most)}",
        transform=top,
        ha="left",
        va="top",
        color=accent,
        fontsize=10,
    )
    lower.text(
        end - 0.012 * (high - low),
        0.95,
        f"contact ends\n{say(end)}",
        transform=lower.get_xaxis_transform(),
        ha="right",
        va="top",
        color=ink,
        fontsize=10,
    )
    for place in marked:  # words on the side where there is room
        right = place < (low + high) / 2
        for ax, word, falls in ((upper, "backlash", False), (lower, "contact_ratio", True)):
            value = pair.value(word, place)
            words = numerals.number(value, 2) if falls else f"{say(place)}: {say(value)}"
            above = right == falls
            ax.annotate(
                words,
                (place, value),
                xytext=(8 if right else -8, 4 if above else -4),
                textcoords="offset points",
                ha="left" if right else "right",
                va="bottom" if above else "top",
                color=ink,
                fontsize=10,
                bbox=box,
            )
    return chart


class Pair:
    """Two gears at every centre distance at which they reach each other."""

    def __init__(self, driver, driven):
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
