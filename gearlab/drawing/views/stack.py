"""What is stacked along a shaft, seen from the side: collar, plate, gap, gear with its hub, and the shaft's end."""

from __future__ import annotations

import numpy as np

from .. import numerals
from ..scene import Dimension, Label, Line, Outline, Scene


def stack(pieces, shaft_length: float, *, shaft_diameter: float = 10.0, unit: str = "mm", width: float = 720.0) -> Scene:
    """Pieces along a shaft from left to right, the shaft drawn to its own length.

    Parameters
    ----------
    pieces : sequence of (name, length, height, role)
        In order along the shaft; ``height`` is the diameter, of which no more is drawn than has room; ``role`` is how it looks: "collar", "plate",
        "washer", "hub", "face" or "end" (bare shaft) [unit].
    shaft_length : float
        Length of the shaft; it begins where the first piece begins [unit].
    shaft_diameter : float
        [unit].
    unit : str
        "mm" or "in" [-].
    width : float
        Width the picture is made for [points of the picture, 96 to the inch; -].

    Returns
    -------
    Scene
        In true proportions along the shaft [unit].

    Examples
    --------
    >>> stack([("collar", 8.5, 18, "collar"), ("plate", 6, 60, "plate"), ("washer", 1.5, 16, "washer"), ("hub", 13, 28, "hub"), ("face", 12, 50, "face"),
    ...        ("end", 3, 10, "end")], 45.0).text
    'Along the shaft: collar 8.5 mm, plate 6 mm, washer 1.5 mm, hub 13 mm, face 12 mm, end 3 mm: 44 mm in all; the shaft is 45 mm long.'
    """
    pieces, places = list(pieces), 2 if unit == "mm" else 4
    total = sum(length for _, length, _, _ in pieces)
    room = 0.62 * max(total, shaft_length)      # wide pieces are cut off there, or the picture would be all wheel
    pieces = [(name, length, min(height, room), role) for name, length, height, role in pieces]
    tallest = max(height for _, _, height, _ in pieces)
    scale = (width - 48) / max(total, shaft_length)
    half = shaft_diameter / 2
    shapes = [Outline(np.array([[0, -half], [shaft_length, -half], [shaft_length, half], [0, half]]), "driver")]
    place, top = 0.0, tallest / 2
    for name, length, height, role in pieces:
        if length <= 0:
            continue
        if role != "end":
            for side in (1, -1):     # cut open: the shaft is seen through the bore
                box = np.array([[place, side * half], [place + length, side * half], [place + length, side * height / 2], [place, side * height / 2]])
                shapes.append(Outline(box, "driven" if role in ("hub", "face") else "gear", "gear" if role not in ("hub", "face") else ""))
        shapes.append(Label((place + length / 2, top), f"{name}\n{numerals.plain(length, places)}", (0, 22), size="small", role="note", room=length + 12 / scale))
        place += length
    shapes.append(Line((total, -top), (total, top), "construction"))
    shapes.append(Dimension((0.0, -top), (total, -top), f"needed {numerals.plain(total, max(3, places))} {unit}", -30 / scale))
    shapes.append(Dimension((0.0, -top), (shaft_length, -top), f"shaft {numerals.plain(shaft_length, max(3, places))} {unit}", -72 / scale, of="driver"))
    said = ", ".join(f"{name} {numerals.plain(length, places)} {unit}" for name, length, _, _ in pieces if length > 0)
    text = f"Along the shaft: {said}: {numerals.plain(total, max(3, places))} {unit} in all; the shaft is {numerals.plain(shaft_length, max(3, places))} {unit} long."
    return Scene(tuple(shapes), text, unit, title="stack along the shaft", margin=(48.0, 24.0, 20.0, 24.0), width=width,
                 bounds=(0.0, -top - 74 / scale, max(total, shaft_length), top))
