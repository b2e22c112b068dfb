"""What is stacked along a shaft, seen from the side.

Collar, plate, gap, gear with its hub, and the shaft's end.
"""

from __future__ import annotations

import numpy as np

from .. import numerals, style
from ..scene import Scene
from ..shapes import Dimension, Label, Line, Outline, Shape
from ..svg import TYPE_WIDTH

_ABOVE = 22.0  # from the tallest piece to the middle of its words [points of the picture]
_LEADER = 16.0  # room for lines from pieces to words that stand beside them [points of the picture]
_SPACE = 26.0  # between neighbouring words, which are larger on a narrow screen [points of the picture]


def stack(
    pieces,
    shaft_length: float,
    *,
    shaft_diameter: float = 10.0,
    unit: str = "mm",
    width: float = 720.0,
    room: float | None = None,
) -> Scene:
    """Pieces along a shaft from left to right, the shaft drawn to its own length.

    Parameters
    ----------
    pieces : sequence of (name, length, height, role)
        In order along the shaft; ``height`` is the diameter, of which no more is drawn than has room, with a
        break line; ``role`` is how it looks: "collar", "plate", "washer", "hub", "face" or "end" (bare shaft)
        [unit].
    shaft_length : float
        Length of the shaft; it begins where the first piece begins [unit].
    shaft_diameter : float
        [unit].
    unit : str
        "mm" or "in" [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].
    room : float, optional
        Largest diameter that is drawn; left out, 0.62 of the length [unit].

    Returns
    -------
    Scene
        In true proportions along the shaft [unit].

    Examples
    --------
    >>> stack([("collar", 8.5, 18, "collar"), ("plate", 6, 60, "plate"), ("washer", 1.5, 16, "washer"), ("hub", 13, 28, "hub"), ("face", 12, 50, "face"),
    ...        ("end", 3, 10, "end")], 45.0).text
    'Along the shaft: collar 8.5 mm, plate 6 mm, washer 1.5 mm, hub 13 mm, face 12 mm, end 3 mm: 44 mm in all; the shaft is 45 mm long.'
    """  # noqa: E501
    pieces = [one for one in pieces if one[1] > 0]
    places = 3 if unit == "mm" else 4
    total = sum(length for _, length, _, _ in pieces)
    longest = max(total, shaft_length)
    # wide pieces are broken off there, or the picture would be all wheel
    room = 0.62 * longest if room is None else room
    tallest = min(room, max(height for _, _, height, _ in pieces))
    scale = (width - 48) / longest
    half, top = shaft_diameter / 2, tallest / 2
    shapes: list[Shape] = [
        Outline(np.array([[0, -half], [shaft_length, -half], [shaft_length, half], [0, half]]), "driver")
    ]
    words = [f"{name}\n{numerals.plain(length, places)}" for name, length, _, _ in pieces]
    ends = np.cumsum([length for _, length, _, _ in pieces])
    middles = [end - length / 2 for end, (_, length, _, _) in zip(ends, pieces)]
    widths = [max(map(len, text.split("\n"))) * style.TYPE["small"] * TYPE_WIDTH / scale for text in words]
    stands = _side_by_side(middles, [one + _SPACE / scale for one in widths])
    moved = any(abs(at - middle) * scale > 1 for at, middle in zip(stands, middles))
    for (_, length, height, role), middle, at, text in zip(pieces, middles, stands, words):
        place, tip = middle - length / 2, min(height, room) / 2
        if role != "end":
            for side in (1, -1):  # cut open: the shaft is seen through the bore
                edge = (
                    _broken(place + length, place, tip, 3 / scale)
                    if height > room
                    else [[place + length, tip], [place, tip]]
                )
                box = np.array([[place, half], [place + length, half], *edge]) * (1, side)
                shapes.append(
                    Outline(
                        box,
                        "driven" if role in ("hub", "face") else "gear",
                        "gear" if role not in ("hub", "face") else "",
                    )
                )
        if moved:
            shapes += [
                Line((middle, half if role == "end" else tip), (middle, top + 2 / scale), "construction"),
                Line((middle, top + 2 / scale), (at, top + _LEADER / 2 / scale), "construction"),
            ]
        shapes.append(
            Label((at, top), text, (0, _ABOVE + (_LEADER / 2 if moved else 0)), size="small", role="note")
        )
    shapes.append(Line((total, -top), (total, top), "construction"))
    left, right = (
        min(0.0, stands[0] - widths[0] / 2 + 16 / scale),
        max(longest, stands[-1] + widths[-1] / 2 - 16 / scale),
    )
    for length, what, down, of in ((total, "needed", 30, ""), (shaft_length, "shaft", 72, "driver")):
        said = f"{what} {numerals.plain(length, places)} {unit}"
        wide = (len(said) * style.TYPE["normal"] * TYPE_WIDTH + 12) / scale
        # words wider than their line stand beside it
        shapes.append(
            Dimension((0.0, -top), (length, -top), said, -down / scale, of=of, text_at=int(wide > length))
        )
        right = max(right, length + wide - 12 / scale) if wide > length else right
    said = ", ".join(f"{name} {numerals.plain(length, places)} {unit}" for name, length, _, _ in pieces)
    text = (
        f"Along the shaft: {said}: {numerals.plain(total, places)} {unit} in all; the shaft is"
        f" {numerals.plain(shaft_length, places)} {unit} long."
    )
    # words may stand out beyond a short shaft; the scale stays, the picture gets wider
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="stack along the shaft",
        margin=(48.0 + (_LEADER / 2 if moved else 0), 24.0, 20.0, 24.0),
        width=width + (right - left - longest) * scale,
        bounds=(left, -top - 74 / scale, right, top),
    )


def _side_by_side(wanted: list[float], widths: list[float]) -> list[float]:
    """Where words of these widths stand, in order and without overlap, as near as can be to where they are
    wanted.

    >>> _side_by_side([0.0, 1.0, 9.0], [4.0, 4.0, 4.0])
    [-1.5, 2.5, 9.0]
    """
    before = np.concatenate([[0.0], np.cumsum([(one + two) / 2 for one, two in zip(widths, widths[1:])])])
    groups: list[tuple[float, int]] = []  # of words that touch: sum of their shifts, and how many they are
    for want, offset in zip(wanted, before):
        groups.append((want - offset, 1))
        while len(groups) > 1 and groups[-2][0] / groups[-2][1] > groups[-1][0] / groups[-1][1]:
            (shift, count), (more, others) = groups[-2:]
            groups[-2:] = [(shift + more, count + others)]
    shifts = [shift / count for shift, count in groups for _ in range(count)]
    return [float(shift + offset) for shift, offset in zip(shifts, before)]


def _broken(start: float, end: float, height: float, depth: float) -> list[list[float]]:
    """A break line from one x to another: the piece goes on beyond it."""
    steps = 2 * max(1, round(abs(end - start) / (4 * depth)))
    return [[start + (end - start) * k / steps, height - depth * (k % 2)] for k in range(steps + 1)]
