"""Contact ratio against tooth count and pressure angle; sliding along the path of contact."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes

from gearlab.parts import Gear, Mesh

from .. import numerals
from ..shapes import LETTERS
from ..views.action import action
from .chart import Chart

LINES = ("-", "--", ":")  # told apart without colour
LEAST, MOST = 10, 160
SAMPLES = 161


def contact_ratio(
    driven_teeth: int | None = 45,
    *,
    pressure_angles: Sequence[float] = (14.5, 20.0, 25.0),
    driver_teeth: tuple[int, int] = (12, 60),
    theme: str = "light",
) -> Chart:
    """Contact ratio against the driver's tooth count, one line for each pressure angle.

    Full-depth teeth at the distance at which their pitch circles touch. Where a tip reaches past the flank of
    its mate, into a fillet or undercut, the formula would promise more than the teeth give: there the ratio
    is measured on the cut teeth and the line is thin.

    driven_teeth: tooth count of the driven gear, 10 to 160; None for two equal gears [-].
    pressure_angles: one to three pressure angles of full-depth teeth [deg].
    driver_teeth: least and greatest tooth count of the driver, 10 to 160 [-].
    theme: "light" or "dark".
    Returns a matplotlib figure with one pair of axes; ``text`` says what it shows.
    ValueError if a count is out of range or there are more than three pressure angles.

    >>> chart = contact_ratio(45)
    >>> chart.text[-62:]
    'at 18 teeth: 1.38 at 14.5 deg, 1.63 at 20 deg, 1.46 at 25 deg.'
    """
    low, high = driver_teeth
    counts = [low, high] + ([] if driven_teeth is None else [driven_teeth])
    if not all(LEAST <= count <= MOST for count in counts) or low >= high:
        raise ValueError(
            f"tooth counts {counts} are out of range: give counts from {LEAST} to {MOST}, the driver's rising"
        )
    if not 1 <= len(pressure_angles) <= len(LINES):
        raise ValueError(
            f"{len(pressure_angles)} pressure angles were given: give one to {len(LINES)}, so that the lines"
            " can be told apart"
        )
    teeth = np.arange(low, high + 1)
    at = min(max(18, low), high)
    mate = "an equal gear" if driven_teeth is None else f"a gear of {driven_teeth} teeth"
    ratios = {angle: pair_of(at, driven_teeth or at, angle).contact_ratio for angle in pressure_angles}
    values = ", ".join(
        f"{numerals.number(ratio, 2)} at {numerals.plain(angle)} deg" for angle, ratio in ratios.items()
    )
    chart = Chart(
        f"Contact ratio of {low} to {high} full-depth teeth with {mate}: it grows with the count and falls"
        f" with the pressure angle; at {at} teeth: {values}.",
        size=(760.0, 430.0),
        theme=theme,
    )
    ax = chart.subplots()
    chart.dress(ax)
    ink = chart.colour("ink")
    for angle, dash, colour in zip(pressure_angles, LINES, ("driver text", "accent text", "driven text")):
        pairs = [pair_of(int(count), driven_teeth or int(count), angle) for count in teeth]
        _curve(ax, teeth, pairs, angle, dash, chart.colour(colour))
    ax.axhline(1.2, color=ink, linewidth=1.0, linestyle=(0, (6, 3)))
    words = "minimum contact ratio that most designers accept: 1.2"
    ax.text(high, 1.215, words, ha="right", va="bottom", color=ink, fontsize=10)
    words, left = "thin: measured on the cut teeth, which lack part of the flank", low + 0.01 * (high - low)
    top = ax.get_xaxis_transform()
    ax.text(left, 0.98, words, transform=top, ha="left", va="top", color=ink, fontsize=10)
    ax.set_xlim(low, high)
    ax.set_ylim(min(1.1, ax.get_ylim()[0]), ax.get_ylim()[1] + 0.08)
    ax.set_xlabel("teeth of the driver [\u2013]" if driven_teeth else "teeth of each gear [\u2013]")
    ax.set_ylabel("contact ratio [\u2013]")
    return chart


def _curve(ax: Axes, teeth: np.ndarray, pairs: Sequence[Mesh], angle: float, dash: str, colour: str) -> None:
    """The line of one pressure angle, thin where the ratio had to be measured, with its angle at the end."""
    ratio = np.array([pair.contact_ratio for pair in pairs])
    clean = np.array(["contact_ratio" not in pair.refused for pair in pairs])
    # the first clean count belongs to both parts, so that they meet
    thin = ~clean | np.roll(~clean, 1) & (np.arange(len(clean)) > 0)
    for part, width in ((clean, 2.4), (thin, 0.9)):
        ax.plot(teeth, np.where(part, ratio, np.nan), color=colour, linewidth=width, linestyle=dash)
    ax.annotate(
        f"{numerals.plain(angle)}\u00b0",
        (teeth[-1], ratio[-1]),
        xytext=(6, 0),
        textcoords="offset points",
        va="center",
        color=colour,
        fontsize=11,
        fontweight="bold",
        annotation_clip=False,
    )


def pair_of(driver_teeth: int, driven_teeth: int, pressure_angle: float) -> Mesh:
    """Two full-depth gears of module 1: the contact ratio does not depend on the size of the teeth."""
    driver, driven = (
        Gear(teeth, module=1.0, pressure_angle=pressure_angle) for teeth in (driver_teeth, driven_teeth)
    )
    return Mesh(driver, driven)


def specific_sliding(mesh: Mesh, theme: str = "light") -> Chart:
    """Specific sliding of both flanks along the path of contact.

    How fast they slide, as a share of their own rolling speed.

    Below 0 the flank is the slower of the two and is dragged along; there it wears most. At the pitch point
    nothing slides. The ground is shaded where two pairs of teeth touch.

    mesh: the pair, without interference.
    theme: "light" or "dark".
    Returns a matplotlib figure with one pair of axes, the place in the unit of the gears; ``text`` says what
        it shows.
    ValueError if a tip reaches past the tangent point on its mate's base circle: there the sliding grows
        without limit.

    >>> chart = specific_sliding(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)))
    >>> chart.text[:62]
    'Specific sliding along 12.05 mm of contact: driver from −6.95 '
    """
    if mesh.interference:
        raise ValueError(
            "a tip reaches past the tangent point on its mate's base circle, where the sliding grows without"
            " limit: give gears without interference"
        )
    line, unit = action(mesh), mesh.unit
    places = np.linspace(line.low, line.high, SAMPLES)
    driver, driven = sliding_at(mesh, places)
    say = numerals.number
    chart = Chart(
        f"Specific sliding along {numerals.length(line.high - line.low, unit)} of contact: driver from"
        f" {say(driver[0], 2)} where contact begins to {say(driver[-1], 2)} where it ends, driven from"
        f" {say(driven[0], 2)} to {say(driven[-1], 2)}; none at the pitch point.",
        size=(760.0, 430.0),
        theme=theme,
    )
    ax = chart.subplots()
    chart.dress(ax)
    ink = chart.colour("ink")
    inner = line.high - line.period, line.low + line.period
    # two pairs touch while another contact is one base pitch ahead or behind
    ground, edge = chart.colour("accent ground"), chart.colour("accent text")
    for ends in ((line.low, inner[0]), (inner[1], line.high)):
        ax.axvspan(*ends, facecolor=ground, edgecolor=edge, linewidth=0.8)
    ax.plot(places, driver, color=chart.colour("driver text"), linewidth=2.4)
    ax.plot(places, driven, color=chart.colour("driven text"), linewidth=2.4, linestyle=LINES[1])
    ax.axhline(0.0, color=ink, linewidth=0.9)
    ax.axvline(0.0, color=ink, linewidth=0.9)
    low, high = min(driver[0], driven[-1]), max(driver[-1], driven[0])
    ax.set_ylim(low - 0.14 * (high - low), high + 0.2 * (high - low))
    _end(chart, ax, "driver", (places[0], driver[0]), (10, 0), ("left", "center"))
    _end(chart, ax, "driven", (places[-1], driven[-1]), (-8, -9), ("right", "top"))
    for at, height, words, va, bbox in (
        ((line.low + inner[0]) / 2, 0.97, "two pairs", "top", None),
        ((inner[1] + line.high) / 2, 0.97, "two pairs", "top", None),
        ((line.low + line.high) / 2, 0.97, "one pair", "top", chart.box(1.2)),
        (0.0, 0.02, "pitch point", "bottom", chart.box(1.2)),
    ):
        top = ax.get_xaxis_transform()
        ax.text(at, height, words, transform=top, ha="center", va=va, color=ink, fontsize=10, bbox=bbox)
    ax.set_xlim(line.low, line.high)
    ax.set_xlabel(f"place along the path of contact, from the pitch point [{unit}]")
    ax.set_ylabel("specific sliding [\u2013]")
    return chart


def _end(
    chart: Chart,
    ax: Axes,
    role: str,
    at: tuple[float, float],
    offset: tuple[float, float],
    align: tuple[str, str],
) -> None:
    """The largest sliding of one flank, as a point with its number."""
    colour = chart.colour(f"{role} text")
    ax.plot(*at, "o", color=colour, markersize=6, zorder=5)
    ax.annotate(
        f"{role} {LETTERS[role]} {numerals.number(at[1], 2)}",
        at,
        xytext=offset,
        textcoords="offset points",
        ha=align[0],
        va=align[1],
        color=colour,
        fontsize=11,
        fontweight="bold",
        bbox=chart.box(1.2),
    )


def sliding_at(mesh: Mesh, places) -> tuple[np.ndarray, np.ndarray]:
    """Specific sliding of driver and driven at places along the path of contact.

    places: distance from the pitch point along the line of action, in the direction of contact [unit of the
        gears].
    Returns for driver and driven: sliding speed over the flank's own rolling speed; negative where the flank
        is the slower one [-].

    >>> driver, driven = sliding_at(Mesh(Gear(20, module=2), Gear(20, module=2)), 0.0)
    >>> float(driver), float(driven)
    (0.0, 0.0)

    Source: ISO 21771:2007, specific sliding (rolling speed: radius of curvature times angular speed).
    """
    line = action(mesh)
    first, second = (
        line.to_first + np.asarray(places, dtype=float),
        line.to_second - np.asarray(places, dtype=float),
    )
    return 1 - second / (mesh.ratio * first), 1 - mesh.ratio * first / second
