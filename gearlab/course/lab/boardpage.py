"""The board as one piece of HTML: for the projector, light and dark, nothing in it by colour alone.

No names: benches have numbers, predictions are tallies, dots belong to nobody.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from gearlab.course.files import one_line, safe
from gearlab.course.lab.readings import ReadingTable
from gearlab.course.lab.runsheet import Step
from gearlab.course.lab.watching import STATES, STUCK, Board, Dot
from gearlab.course.pages import part
from gearlab.theory.units import written

WIDE, LOW = 760.0, 40.0  # of a dot plot [points]
COLUMN = 17  # most benches in one table


def board_html(board: Board, *, tallies: bool = True, most: int = 3) -> str:
    """All of the board: benches by checkpoint, causes of the hour, dots, tallies."""
    lab = board.lab.sheet.lab
    parts = [f'<div class="gl-board"><style>{part("board.css")}</style><h2>{safe(lab.title)}</h2>']
    parts += [_grid(board), _causes(board, most)]
    for step in board.steps:
        for table in step.reading:
            dots = board.dots(table)
            if dots:
                parts.append(f"<h3>{step.checkpoint}: {safe(table.title)}, measured minus computed</h3>")
                parts.append(dot_plot(dots, table))
        if tallies:
            parts += list(_tallies(board.tally(step), step.checkpoint))
    for name, reason in [*board.unreadable.items(), *board.foreign.items()][:5]:
        parts.append(f'<p class="soft">⚠ <bdi>{safe(name)}</bdi>: <bdi>{safe(one_line(reason))}</bdi></p>')
    return "".join(parts) + "</div>"


def legend() -> str:
    """The shapes and letters in words."""
    return ", ".join(" ".join(" ".join(row).split()) for row in STATES.values())


def _grid(board: Board) -> str:
    steps = board.steps
    head = "".join(f'<th title="{safe(step.title)}">{step.checkpoint}</th>' for step in steps)
    tables, benches = [], board.benches
    high = -(-len(benches) // -(-len(benches) // COLUMN))  # tables of about one height
    for start in range(0, len(benches), high):
        rows = []
        for bench in benches[start : start + high]:
            quiet = " ~" if board.quiet(bench) >= STUCK else ""
            cells = "".join(
                f'<td class="{cell.state}" title="{STATES[cell.state][2]}: {cell.done} of {cell.asked}">'
                f"{cell.mark}</td>"
                for cell in (board.cell(bench, step) for step in steps)
            )
            rows.append(f'<tr><th class="name" scope="row">{bench.short}{quiet}</th>{cells}</tr>')
        tables.append(f'<table><tr><th class="name">bench</th>{head}</tr>{"".join(rows)}</table>')
    told = "".join(
        f"<p><b>{step.checkpoint} {safe(step.title)}</b><br>{in_words(board, step)}</p>" for step in steps
    )
    return (
        f'<div class="grids">{"".join(tables)}<div class="steps">{told}</div></div>'
        f'<p class="soft">{legend()}; ~ quiet for 6 minutes</p>'
    )


def in_words(board: Board, step: Step) -> str:
    """How many benches stand how at a checkpoint."""
    counts = board.counts(step)
    return ", ".join(f"{counts[state]} {STATES[state][2]}" for state in STATES if counts[state])


def _causes(board: Board, most: int) -> str:
    causes = board.causes(most)
    if not causes:
        return ""
    rows = "".join(
        f"<li><b>{cause.benches} {'bench' if cause.benches == 1 else 'benches'}</b>,"
        f" <bdi>{safe(cause.question)}</bdi>:"
        f" <bdi>{safe(cause.title)}</bdi>. <bdi>{safe(cause.sentence)}</bdi></li>"
        for cause in causes
    )
    return f"<h3>Commonest causes of the hour</h3><ol>{rows}</ol>"


def _tallies(tallies: list, checkpoint: str) -> Iterator[str]:
    for question, options, total in tallies:
        if not total:
            continue
        bars = "".join(
            f'<span>{safe(text)}</span><i class="{"full" if count else "empty"}"'
            f' style="width:{100 * count / total:.0f}%"></i><b>{count}</b>'
            for text, count in options
        )
        yield f'<h3>{checkpoint}: {safe(question)}</h3><div class="bar">{bars}</div>'
        yield f'<p class="soft">{total} predictions</p>'


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
    unit = "" if table.unit == "1" else f" {written(table.unit)}"
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
