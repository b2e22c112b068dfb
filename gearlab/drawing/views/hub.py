"""A gear on its shaft: the hub from its end, and from the side what is stacked along the shaft."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from .. import numerals, style
from ..motion import Carry
from ..scene import Scene
from ..shapes import Circle, Dimension, Dot, Label, Line, Outline, Shape, rectangle
from ..svg import TYPE_WIDTH


def hub(
    hub_diameter: float,
    bore_diameter: float,
    drill_depth: float,
    screw_length: float,
    *,
    screw_diameter: float = 5.0,
    flat_depth: float = 0.0,
    window: tuple[float, float] | None = None,
    unit: str = "mm",
    control: str = "",
    width: float = 600.0,
) -> Scene:
    """A hub from its end, cut through the set screw; beside it the depths that are right.

    hub_diameter, bore_diameter: hub and bore [unit].
    drill_depth: depth of the hole from the hub's surface, full diameter [unit].
    screw_length: length of the set screw; it is drawn resting on the shaft, or on the bottom of a hole that
        does not reach it [unit].
    screw_diameter: thread diameter [unit].
    flat_depth: depth of the flat on the shaft [unit].
    window: least and greatest depth that are right, shown as a band [unit].
    unit: "mm" or "in".
    control: name of the number that dragging the bottom of the hole changes; none if empty.
    width: of the picture [points].
    In true proportions [unit].

    >>> print(hub(28.0, 10.0, 14.0, 8.0, flat_depth=0.5).text)
    A hub of 28 mm with a bore of 10 mm, seen from its end: the hole is 14 mm deep and opens into
    the bore; a set screw of 8 mm ends 1.5 mm below the surface.
    """
    places = 2 if unit == "mm" else 4
    outer, inner, half = hub_diameter / 2, bore_diameter / 2, screw_diameter / 2
    scale = (width - 270) / (hub_diameter * 1.05)
    bottom = outer - drill_depth
    # the screw rests on the shaft, or on the bottom of a hole that does not reach it
    rest = inner - flat_depth if drill_depth >= outer - inner else max(bottom, inner)
    top = rest + screw_length
    carry = Carry(control, (0.0, -1.0), "Bottom of the hole", (0.0, bottom), half) if control else None

    def say(length: float) -> str:
        return f"{numerals.plain(length, places)} {unit}"

    shapes = _section(outer, inner, half, bottom, flat_depth, carry)
    screw = np.array([[-half, rest], [half, rest], [half, top], [-half, top]]) * [0.86, 1.0]
    shapes += [
        Outline(screw, "driven"),
        Dot((0.0, 0.0), "centre"),
        Label((0.0, -0.45 * inner), "shaft", role="letter", size="small", of="driver", room=1.5 * inner),
    ]
    beside, below = -(outer - half + 30 / scale), -(outer + 26 / scale)
    shapes += [
        Dimension((-half, outer), (-half, bottom), f"depth {say(drill_depth)}", beside),
        Dimension((-outer, 0.0), (outer, 0.0), f"hub {say(hub_diameter)}", below),
    ]
    right = outer + 34 / scale
    shapes.append(Line((right, outer), (right, -outer), "construction"))
    if window:
        shapes += _band(window, right, outer, 7 / scale, places)
    shapes.append(Line((half, bottom), (right, bottom), "construction"))
    text = (
        f"A hub of {say(hub_diameter)} with a bore of {say(bore_diameter)}, seen from its end: the hole is"
        f" {say(drill_depth)} deep and {_opens(drill_depth, outer, inner, say)}; a set screw of"
        f" {say(screw_length)} {_ends(outer - top, say)}."
    )
    return Scene(
        tuple(shapes),
        text,
        unit,
        title="hub",
        margin=(12.0, 46.0 if unit == "mm" else 60.0, 44.0, 166.0),
        width=width,
        bounds=(-outer, -outer, right, max(outer, top) + 6 / scale),
    )


def _section(
    outer: float, inner: float, half: float, bottom: float, flat_depth: float, carry: Carry | None
) -> list[Shape]:
    """The hub, the hole for the screw, the bore and the shaft in it."""
    turns = np.radians(np.linspace(0, 360, 181))
    ring = outer * np.column_stack([np.cos(turns), np.sin(turns)])
    open_end = outer + 1.2 * half
    drilled = np.array([[-half, open_end], [-half, bottom], [half, bottom], [half, open_end]])
    # the hole first, the bore over it: what the drill took away of the air in the bore is not seen
    return [
        Outline(ring[:-1], "gear", "gear"),
        Outline(drilled, "hole", motion=carry),
        Circle((0.0, 0.0), inner, "hole"),
        Outline(_shaft(inner, flat_depth), "driver"),
    ]


def _band(window: tuple[float, float], right: float, outer: float, half: float, places: int) -> list[Shape]:
    """The depths that are right, as a band beside the hub with both its ends."""
    high, low = outer - window[0], outer - window[1]
    box = [[right - half, high], [right + half, high], [right + half, low], [right - half, low]]
    return [
        Outline(np.array(box), "shade"),
        *(
            Label((right, outer - depth), numerals.plain(depth, places), (14, 0), align="start", size="small")
            for depth in window
        ),
    ]


def _opens(drill_depth: float, outer: float, inner: float, say: Callable[[float], str]) -> str:
    """Where a hole from the surface ends."""
    if drill_depth > outer + inner:
        return f"bites {say(drill_depth - outer - inner)} into the far wall"
    if drill_depth >= outer - inner:
        return "opens into the bore"
    return f"ends {say(outer - inner - drill_depth)} short of the bore"


def _ends(below: float, say: Callable[[float], str]) -> str:
    """Where the screw ends, from how far below the surface."""
    if below > 1e-9:
        return f"ends {say(below)} below the surface"
    return "ends flush with the surface" if below > -1e-9 else f"projects {say(-below)} from the hub"


def _shaft(radius: float, flat: float) -> np.ndarray:
    """The shaft's section with its flat on top."""
    angle = np.arccos(min(1.0, max(-1.0, (radius - flat) / radius)))
    turns = np.linspace(np.pi / 2 + angle, np.pi / 2 - angle + 2 * np.pi, 121)
    return radius * np.column_stack([np.cos(turns), np.sin(turns)])


Piece = tuple[str, float, float, str]  # name, length and diameter [unit], how it looks

_ABOVE = 22.0  # from the tallest piece to the middle of its words [points of the picture]
_LEADER = 16.0  # room for lines from pieces to words that stand beside them [points of the picture]
_SPACE = 26.0  # between neighbouring words, which are larger on a narrow screen [points of the picture]


def stack(
    pieces: Sequence[Piece],
    shaft_length: float,
    *,
    shaft_diameter: float = 10.0,
    unit: str = "mm",
    width: float = 720.0,
    room: float | None = None,
) -> Scene:
    """Pieces along a shaft from left to right, the shaft drawn to its own length.

    pieces: in order along the shaft; ``height`` is the diameter, of which no more is drawn than has room,
        with a break line; ``role`` is how it looks: "collar", "plate", "washer", "hub", "face" or "end"
        (bare shaft) [unit].
    shaft_length: length of the shaft; it begins where the first piece begins [unit].
    shaft_diameter: [unit].
    unit: "mm" or "in".
    width: of the picture [points].
    room: largest diameter that is drawn; left out, 0.62 of the length [unit].
    In true proportions along the shaft [unit].

    >>> pieces = [("collar", 8.5, 18, "collar"), ("plate", 6, 60, "plate"), ("washer", 1.5, 16, "washer")]
    >>> pieces += [("hub", 13, 28, "hub"), ("face", 12, 50, "face"), ("end", 3, 10, "end")]
    >>> print(stack(pieces, 45.0).text)
    Along the shaft: collar 8.5 mm, plate 6 mm, washer 1.5 mm, hub 13 mm, face 12 mm, end 3 mm: 44
    mm in all; the shaft is 45 mm long.
    """
    pieces = [piece for piece in pieces if piece[1] > 0]
    total = sum(length for _, length, _, _ in pieces)
    longest = max(total, shaft_length)
    # wide pieces are broken off there, or the picture would be all wheel
    room = 0.62 * longest if room is None else room
    top = min(room, max(height for _, _, height, _ in pieces)) / 2
    scale = (width - 48) / longest
    half = shaft_diameter / 2
    shapes: list[Shape] = [Outline(rectangle(0, -half, shaft_length, half), "driver")]
    words = [f"{name}\n{numerals.size(length, unit)}" for name, length, _, _ in pieces]
    ends = np.cumsum([length for _, length, _, _ in pieces])
    middles = [float(end - length / 2) for end, (_, length, _, _) in zip(ends, pieces)]
    widths = [max(map(len, text.split("\n"))) * style.TYPE["small"] * TYPE_WIDTH / scale for text in words]
    stands = _side_by_side(middles, [wide + _SPACE / scale for wide in widths])
    moved = any(abs(at - middle) * scale > 1 for at, middle in zip(stands, middles))
    for piece, middle, at, text in zip(pieces, middles, stands, words):
        shapes += _piece(piece, middle, half, room, scale)
        if moved:
            tip = half if piece[3] == "end" else min(piece[2], room) / 2
            knee = (middle, top + 2 / scale)
            shapes += [
                Line((middle, tip), knee, "construction"),
                Line(knee, (at, top + _LEADER / 2 / scale), "construction"),
            ]
        above = _ABOVE + (_LEADER / 2 if moved else 0)
        shapes.append(Label((at, top), text, (0, above), size="small", role="note"))
    shapes.append(Line((total, -top), (total, top), "construction"))
    left = min(0.0, stands[0] - widths[0] / 2 + 16 / scale)
    right = max(longest, stands[-1] + widths[-1] / 2 - 16 / scale)
    for length, what, down, of in ((total, "needed", 30, ""), (shaft_length, "shaft", 72, "driver")):
        size = f"{what} {numerals.size(length, unit)} {unit}"
        wide = (len(size) * style.TYPE["normal"] * TYPE_WIDTH + 12) / scale
        beside = wide > length  # words wider than their line stand beside it
        ends_at = (0.0, -top), (length, -top)
        shapes.append(Dimension(*ends_at, size, -down / scale, of=of, text_at=int(beside)))
        right = max(right, length + wide - 12 / scale) if beside else right
    # words may stand out beyond a short shaft; the scale stays, the picture gets wider
    return Scene(
        tuple(shapes),
        _sentence(pieces, total, shaft_length, unit),
        unit,
        title="stack along the shaft",
        margin=(48.0 + (_LEADER / 2 if moved else 0), 24.0, 20.0, 24.0),
        width=width + (right - left - longest) * scale,
        bounds=(left, -top - 74 / scale, right, top),
    )


def _sentence(pieces: Sequence[Piece], total: float, shaft_length: float, unit: str) -> str:
    lengths = ", ".join(f"{name} {numerals.size(length, unit)} {unit}" for name, length, _, _ in pieces)
    return (
        f"Along the shaft: {lengths}: {numerals.size(total, unit)} {unit} in all; the shaft is"
        f" {numerals.size(shaft_length, unit)} {unit} long."
    )


def _piece(piece: Piece, middle: float, half: float, room: float, scale: float) -> list[Shape]:
    """Both halves of a piece, cut open: the shaft is seen through the bore."""
    _, length, height, role = piece
    start, end, tip = middle - length / 2, middle - length / 2 + length, min(height, room) / 2
    if role == "end":
        return []
    edge = [[end, tip], [start, tip]]
    if height > room:
        edge = _broken(end, start, tip, 3 / scale)
    looks = ("driven", "") if role in ("hub", "face") else ("gear", "gear")
    return [Outline(np.array([[start, half], [end, half], *edge]) * (1, side), *looks) for side in (1, -1)]


def _side_by_side(wanted: list[float], widths: list[float]) -> list[float]:
    """Where words of these widths stand, in order and without overlap, as near as can be to where they are
    wanted.

    >>> _side_by_side([0.0, 1.0, 9.0], [4.0, 4.0, 4.0])
    [-1.5, 2.5, 9.0]
    """
    before = np.concatenate(
        [[0.0], np.cumsum([(left + right) / 2 for left, right in zip(widths, widths[1:])])]
    )
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
