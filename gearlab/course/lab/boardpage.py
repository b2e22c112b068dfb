"""The board as one piece of HTML: for the projector, light and dark, nothing in it by colour alone.

No names: benches have numbers, predictions are tallies, dots belong to nobody.
"""

from __future__ import annotations

import math

from markupsafe import Markup

from gearlab.course.lab.readings import ReadingTable
from gearlab.course.lab.runsheet import Step
from gearlab.course.lab.watching import STATES, STUCK, Board, Dot
from gearlab.course.pages import behind, page, part
from gearlab.quoting import safe

WIDE, LOW = 760.0, 40.0  # of a dot plot [points]
COLUMN = 17  # most benches in one table


def board_html(board: Board, *, tallies: bool = True, most: int = 3) -> str:
    """All of the board: benches by checkpoint, causes of the hour, dots, tallies."""
    benches = board.benches
    high = -(-len(benches) // -(-len(benches) // COLUMN))  # tables of about one height
    text = page(
        "board.html",
        css=Markup(part("board.css")),
        board=board,
        title=board.lab.sheet.lab.title,
        columns=[benches[start : start + high] for start in range(0, len(benches), high)],
        stuck=STUCK,
        states=STATES,
        in_words=in_words,
        legend=legend(),
        causes=board.causes(most),
        dot_plot=dot_plot,
        tallies=tallies,
        odd=[*board.unreadable.items(), *board.foreign.items()][:5],
    )
    return text.rstrip("\n")


def legend() -> str:
    """The shapes and letters in words."""
    return ", ".join(" ".join(" ".join(row).split()) for row in STATES.values())


def in_words(board: Board, step: Step) -> str:
    """How many benches stand how at a checkpoint."""
    counts = board.counts(step)
    return ", ".join(f"{counts[state]} {STATES[state][2]}" for state in STATES if counts[state])


def span(dots: list[Dot], table: ReadingTable) -> float:
    """Half the width of a dot plot: what may be off, or more where dots lie further out [unit]."""
    reach = max(
        [2 * table.within, *(abs(dot.difference) for dot in dots if abs(dot.difference) <= 20 * table.within)]
    )
    power = 10.0 ** math.floor(math.log10(reach))
    return next(step * power for step in (1, 2, 2.5, 5, 10) if step * power >= reach - 1e-9)


def stacked(dots: list[Dot], half: float, bins: int) -> tuple[list[list[Dot]], int, int]:
    """Dots in columns over -half to half, and how many lie further left and right [-]."""
    columns: list[list[Dot]] = [[] for _ in range(bins)]
    left = right = 0
    for dot in dots:
        place = round((dot.difference + half) / (2 * half) * (bins - 1))
        if place < 0:
            left += 1
        elif place >= bins:
            right += 1
        else:
            columns[place].append(dot)
    return columns, left, right


def unlikely(dots: list[Dot]) -> str:
    """How many dots are no plausible readings, as the end of a sentence."""
    count = sum(not dot.plausible for dot in dots)
    return f"; not plausible: {count}" if count else ""


def dot_plot(dots: list[Dot], table: ReadingTable) -> str:
    """Measured minus computed as dots over a line: rings within the limits, filled squares beyond them."""
    half = span(dots, table)
    columns, left, right = stacked(dots, half, 61)
    unit = behind(table.unit)
    tallest = max(3, *(len(column) for column in columns))
    step = min(18.0, 160.0 / tallest)
    high = step * tallest + 18
    inner = WIDE - 2 * LOW

    def x(value: float) -> float:
        return LOW + (value + half) / (2 * half) * inner

    shapes = [
        f'<rect class="band" x="{x(-table.within):.1f}" y="4" height="{high - 4:.1f}"'
        f' width="{x(table.within) - x(-table.within):.1f}"/>',
        f'<line class="axis" x1="{LOW - 10}" y1="{high}" x2="{WIDE - LOW + 10}" y2="{high}"/>',
        f'<line class="zero" x1="{x(0):.1f}" y1="2" x2="{x(0):.1f}" y2="{high + 6}"/>',
    ]
    for place, column in enumerate(columns):
        at = LOW + place / 60 * inner
        for level, dot in enumerate(sorted(column, key=lambda dot: dot.far)):
            y, r = high - 2 - step * (level + 0.5), step * 0.36
            shapes.append(
                f'<rect class="far" x="{at - r:.1f}" y="{y - r:.1f}" width="{2 * r:.1f}"'
                f' height="{2 * r:.1f}"/>'
                if dot.far
                else f'<circle class="near" cx="{at:.1f}" cy="{y:.1f}" r="{r:.1f}"/>'
            )
    for value in (-half, -table.within, 0.0, table.within, half):
        anchor = "start" if value == -half else "end" if value == half else "middle"
        shapes.append(
            f'<text x="{x(value):.1f}" y="{high + 24}" text-anchor="{anchor}">'
            f"{f'{value:+g}' if value else '0'}{unit if value == half else ''}</text>"
        )
    far = sum(dot.far for dot in dots)
    beyond = f"; further out: {left} left, {right} right" if left or right else ""
    count = f"{len(dots)} reading{'' if len(dots) == 1 else 's'}"
    words = f"{count}, {far} beyond ±{table.within:g}{unit}{beyond}{unlikely(dots)}"
    label = f"Dot plot of {safe(table.title)}: {safe(words)}"
    return (
        f'<svg role="img" aria-label="{label}" viewBox="0 0 {WIDE:g} {high + 32:.0f}" width="{WIDE:g}">'
        f"{''.join(shapes)}</svg>"
        f'<p class="soft">○ within, ■ beyond: {words}</p>'
    )
