"""The path of contact enlarged, and below it one base pitch laid out straight.

Where one pair touches, and where two.
"""

from __future__ import annotations

import numpy as np

from ...parts import Mesh
from .. import numerals
from ..motion import Carry, Slide
from ..scene import Scene
from ..shapes import Dot, Label, Line, Outline, Shape, rectangle
from .action import Action, action
from .centres import SIDES, counts, in_mesh

WIDE, HIGH = 8.2, 3.4  # half width and half height of the window on the teeth [modules]
LONG = 12.0  # length of the strip [modules]


def contact(
    mesh: Mesh,
    shade: float | None = None,
    *,
    shown: bool = False,
    control: str = "shade",
    width: float = 720.0,
) -> Scene:
    """A pair's teeth where they touch, with the path of contact, over a strip that is one base pitch long.

    mesh: the pair; its contact ratio is from 1 to 2.
    shade: share of the strip that is shaded, from its left end, 0 to 100 [%]; left out, there is no shade.
    shown: whether the lines are drawn that tell how long each pair touches.
    control: name of the number that carrying the edge of the shade changes.
    width: of the picture [points].
    Lengths in the unit of the gears [in or mm]; the strip is drawn enlarged.
    ValueError if the contact ratio is outside 1 to 2 or the share outside 0 to 100.

    >>> from gearlab.parts import Gear, Mesh
    >>> contact(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 40.0).text[-69:]
    'contact ratio 1.63. Of one base pitch 40 % are shaded from its start.'
    """
    ratio, unit, module = mesh.contact_ratio, mesh.unit, mesh.driver.scale
    if ratio < 1:
        raise ValueError(
            f"the contact ratio is {ratio:.2f}, below 1: for a part of each base pitch no teeth touch at all,"
            " and the strip has nothing to show; bring the shafts closer together, or take more teeth"
        )
    if ratio > 2:
        raise ValueError(
            f"the contact ratio is {ratio:.2f}, above 2; the strip tells one pair from two: give a larger"
            " pressure angle or fewer teeth"
        )
    if shade is not None and not 0 <= shade <= 100:
        raise ValueError(f"shade is {shade:g} %; give a share from 0 to 100 %")
    line = action(mesh)
    centre = line.pitch_point
    scale = (width - SIDES) / (2 * WIDE * module)
    strip = _Strip(centre - LONG / 2 * module, -(HIGH + 2.9) * module, LONG * module, 1.0 * module, line)
    shapes = _window(mesh, line, scale)
    # the ground of the strip covers the gears below their window
    floor = strip.bottom - 0.95 * module
    shapes.append(
        Outline(
            _box(centre - 40 * WIDE * module, 20 * floor, 80 * WIDE * module, -HIGH * module - 20 * floor),
            "paper",
        )
    )
    shapes += strip.shapes(ratio, shade, shown, control, scale)
    text = (
        f"The teeth of driver A, {mesh.driver.teeth} teeth, and driven B, {mesh.driven.teeth} teeth, where"
        f" they touch: the path of contact is {numerals.length(line.high - line.low, unit)} long, a base"
        f" pitch {numerals.length(line.period, unit)} long: contact ratio {numerals.plain(ratio, 2)}."
    )
    if shade is not None:
        text += f" Of one base pitch {numerals.plain(shade, 1)} % are shaded from its start."
    return Scene(
        tuple(shapes),
        text,
        unit,
        title=f"{counts(mesh.driver, mesh.driven)}, {numerals.pitch_name(mesh.driver)}",
        width=width,
        bounds=(centre - WIDE * module, floor, centre + WIDE * module, HIGH * module),
    )


def _window(mesh: Mesh, line: Action, scale: float) -> list[Shape]:
    """Teeth, circles, line of action, path of contact with its ends, and the running points of contact."""
    module, gears = mesh.driver.scale, in_mesh(mesh)
    shapes: list[Shape] = [seen.teeth(motion=seen.turn()) for seen in gears]
    shapes += [seen.circle("outside circle") for seen in gears]
    ends = line.at(line.low), line.at(line.high)
    shapes += [line.line(), Line(*ends, "string"), *(Dot(end, "hole") for end in ends), *line.contacts()]
    shapes += [
        Label(ends[0], "begins at the tips of B", (-14, -6), "end", "small", "line of action"),
        Label(ends[1], "ends at the tips of A", (14, 6), "start", "small", "line of action"),
        Label((line.pitch_point - WIDE * module, 0.0), "A", (16, 0), "start", "letter", "letter", "driver"),
        Label((line.pitch_point + WIDE * module, 0.0), "B", (-16, 0), "end", "letter", "letter", "driven"),
    ]
    return shapes


class _Strip:
    """One base pitch laid out: from where a new pair meets to where the next one does."""

    def __init__(self, left: float, bottom: float, long: float, high: float, line: Action):
        self.left, self.bottom, self.long, self.high, self.line = left, bottom, long, high, line

    def at(self, share: float, up: float = 0.0) -> tuple[float, float]:
        """The point at a share of the strip (0 to 1), ``up`` heights above its bottom."""
        return self.left + share * self.long, self.bottom + up * self.high

    def shapes(
        self, ratio: float, shade: float | None, shown: bool, control: str, scale: float
    ) -> list[Shape]:
        line = self.line
        shapes: list[Shape] = [Outline(_box(self.left, self.bottom, self.long, self.high), "outline")]
        if shade is not None:
            shapes.append(Outline(_box(self.left, self.bottom, shade / 100 * self.long, self.high), "shade"))
        if shown:
            both = ratio - 1
            shapes += [
                Line(self.at(0, 2.55), self.at(both, 2.55), "string"),
                Line(self.at(0, 1.5), self.at(1, 1.5), "string"),
                Label(self.at(both, 2.55), "the pair that leaves", (8, 0), "start", "small", "string"),
                Label(self.at(0, 1.5), "the new pair", (2, 10), "start", "small", "string"),
            ]
        for share, words in ((0, "a new pair meets"), (1, "the next pair meets")):
            shapes += [
                Line(self.at(share, -0.25), self.at(share, 1.25), "mark"),
                Label(self.at(share, -0.25), words, (0, -12), "middle", "small"),
            ]
        shapes.append(Label(self.at(0.5, -0.25), "one base pitch", (0, -12), "middle", "small"))
        if shade is not None:
            edge = self.at(shade / 100, 0.5)
            carry = Carry(control, (1.0, 0.0), "Edge of the shade", edge, 22 / scale, self.long / 100)
            shapes += [
                Line(self.at(shade / 100, 0), self.at(shade / 100, 1), "mark", motion=carry),
                Dot(edge, "hole", motion=carry),
            ]
        # the cursor stands where the newest contact is, and runs as the gears turn
        phase = ((line.start - line.low) / line.period) % 1.0
        stretch = self.long / line.period
        motion = Slide(
            (1.0, 0.0), line.per_degree * stretch, self.long, -phase * self.long, (1 - phase) * self.long
        )
        shapes += [
            Line(self.at(phase, -0.12), self.at(phase, 1.12), "line of action", motion=motion),
            Dot(self.at(phase, 1.12), "contact point", motion=motion),
        ]
        return shapes


def _box(x: float, y: float, wide: float, high: float) -> np.ndarray:
    return rectangle(x, y, x + wide, y + high)
