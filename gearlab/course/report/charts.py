"""The charts of the class report, as SVG text that needs nothing else."""

from collections.abc import Iterator

from markupsafe import Markup, escape

from gearlab.course.report.halves import Halves
from gearlab.practice.verdict import STATES

# Right is filled, partly and wrong are hatched two ways, not answered is left open, what is not marked yet is
# dotted: told apart in grey too.
HATCHES = Markup(
    '<defs><pattern id="partly" width="7" height="7" patternUnits="userSpaceOnUse"><path class="p-partly"'
    ' d="M-1 8 L8 -1"/></pattern><pattern id="wrong" width="7" height="7" patternUnits="userSpaceOnUse"><path'
    ' class="p-wrong" d="M-1 -1 L8 8 M-1 8 L8 -1"/></pattern><pattern id="open" width="7" height="7"'
    ' patternUnits="userSpaceOnUse"><circle class="p-open" cx="3.5" cy="3.5" r="1"/></pattern></defs>'
)


def _begun(height: int, words: str) -> str:
    return f'<svg viewBox="0 0 900 {height}" width="900" role="img" aria-label="{words}">'


def _short(label: str) -> Markup:
    return escape(label if len(label) <= 42 else label[:41] + "…")


def _box(state: str, x: float, y: float, width: float, height: float, words: str) -> str:
    fill = f'fill="url(#{state})"' if state in ("partly", "wrong", "open") else ""
    inner = (
        f'<rect class="b-{state}" {fill} x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}"/>'
    )
    frame = f'<rect class="frame" x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}"/>'
    return f"<g><title>{escape(words)}</title>{inner}{frame}</g>"


def _quarters(left: float, width: float, top: float, words: float) -> Iterator[str]:
    """The lines at each quarter of a width, and under them, at a height, their share in words."""
    for share in range(0, 101, 25):
        x = left + width * share / 100
        yield (
            f'<path class="grid" d="M{x} {top} V{words - 16}"/><text class="soft" text-anchor="middle"'
            f' x="{x}" y="{words}">{share} %</text>'
        )


def answer_bars(rows: list[tuple[str, dict[str, int]]]) -> Markup:
    """One bar for each answer of the set, parted by how it came out.

    rows: label, and the count for each of ``"right"``, ``"partly"``, ``"wrong"``, ``"empty"``, ``"open"``.
    """
    left, width, step, top = 300, 560, 30, 34
    height = top + step * len(rows) + 26
    pieces = [_begun(height, "share of answers by outcome"), HATCHES]
    seen = {state: words for state, words in STATES.items() if state != "open" or _any_open(rows)}
    x: float = left if len(seen) < 5 else left - 140
    for state, words in seen.items():
        pieces.append(_box(state, x, 6, 16, 14, words) + f'<text x="{x + 22}" y="18">{words}</text>')
        x += 140.0
    pieces += _quarters(left, width, top - 4, height - 6)
    for i, (label, counts) in enumerate(rows):
        y, x, total = top + step * i, float(left), sum(counts.values())
        pieces.append(f'<text text-anchor="end" x="{left - 10}" y="{y + 16}">{_short(label)}</text>')
        for state, words in seen.items():
            part = width * counts.get(state, 0) / total if total else 0
            if part:
                pieces.append(_box(state, x, y, part, 22, f"{label}: {words}, {counts[state]} of {total}"))
            x += part
    pieces.append("</svg>")
    return Markup("".join(map(str, pieces)))


def _any_open(rows: list[tuple[str, dict[str, int]]]) -> bool:
    return any(counts.get("open") for _, counts in rows)


def points_spread(counts: list[int], out_of: float) -> Markup:
    """How many students reached how many points.

    counts: students in each tenth of the points, lowest first; the last one includes the full points.
    """
    left, width, top, high = 40, 800, 20, 150
    step, most = width / len(counts), max(*counts, 1)
    pieces = [_begun(top + high + 40, "students by points reached")]
    for i, count in enumerate(counts):
        x, tall = left + step * i, high * count / most
        words = f"{out_of * i / len(counts):g} to {out_of * (i + 1) / len(counts):g} points: {count}"
        if count:
            pieces.append(_box("right", x + 2, top + high - tall, step - 4, tall, words))
            pieces.append(
                f'<text text-anchor="middle" x="{x + step / 2:.1f}"'
                f' y="{top + high - tall - 5:.1f}">{count}</text>'
            )
    pieces.append(f'<path class="grid" d="M{left} {top + high} H{left + width}"/>')
    for i in range(len(counts) + 1):
        pieces.append(
            f'<text class="soft" text-anchor="middle" x="{left + step * i:.1f}"'
            f' y="{top + high + 20}">{out_of * i / len(counts):.3g}</text>'
        )
    pieces.append(
        f'<text class="soft" x="{left + width / 2:.0f}" y="{top + high + 36}"'
        ' text-anchor="middle">points</text></svg>'
    )
    return Markup("".join(pieces))


def halves_chart(rows: list[tuple[str, Halves]]) -> Markup:
    """The share right in the weak and in the strong half of the class, one line for each answer of the set.

    The weak half is an open square, the strong half a filled circle. Where the weak half did better, the line
    between them is broken and the label says so.
    """
    left, width, step, top = 300, 560, 26, 34
    height = top + step * len(rows) + 30
    pieces = [
        _begun(height, "share right in the weak and the strong half of the class"),
        f'<rect class="mark-weak" x="{left}" y="8" width="11" height="11"/><text x="{left + 20}" y="18">weak'
        f' half</text><circle class="mark-strong" cx="{left + 126}" cy="13" r="6"/><text x="{left + 140}"'
        ' y="18">strong half</text>',
    ]
    pieces += _quarters(left, width, top - 6, height - 8)
    for i, (label, parted) in enumerate(rows):
        y = top + step * i + 8
        weak = left + width * parted.weak_right / parted.weak
        strong = left + width * parted.strong_right / parted.strong
        words = (
            f"{label}: right {parted.weak_right} of {parted.weak} in the weak half, {parted.strong_right} of"
            f" {parted.strong} in the strong half"
        )
        broken = ' stroke-dasharray="5 4"' if parted.turned else ""
        weight = ' font-weight="700"' if parted.turned else ""
        pieces.append(
            f'<g><title>{escape(words)}</title><text text-anchor="end" x="{left - 14}" y="{y + 5}"{weight}>'
            f'{_short(label)}</text><path class="between" d="M{weak:.1f} {y} H{strong:.1f}"{broken}/>'
            f'<circle class="mark-strong" cx="{strong:.1f}" cy="{y}" r="6"/>'
            f'<rect class="mark-weak" x="{weak - 5.5:.1f}" y="{y - 5.5}" width="11" height="11"/></g>'
        )
    pieces.append("</svg>")
    return Markup("".join(map(str, pieces)))
