"""An idler: where it stands off the line of its neighbours, and what its shaft has to bear."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from .checks import whole, within

if TYPE_CHECKING:
    from .train import Train


def bent(train: Train, shaft_spacing: float, above: bool = True):
    """An idler train whose outer shafts stand nearer than in line: the idler closes the gap from the side.

    train: three shafts with one gear each.
    shaft_spacing: from the first to the last shaft [unit of the train], so that the idler can reach both and
        the outer gears do not touch.
    above: on which side the idler stands: True for above the line that runs from the first shaft along +x.
    ValueError if the train has another form, or for a spacing out of range; the limits are given.

    >>> from gearlab.parts import Train
    >>> bent(Train.of(18, 24, 45, module=2.5), 150)
    Traceback (most recent call last):
    ValueError: shaft_spacing = 150 mm is out of range: give a number from 33.75 to 138.75 mm
    """
    if len(train.gears) != 3 or train.idlers != (1,) or train.ring:
        raise ValueError(f"only three shafts with one gear each can be bent over an idler, not {train!r}")
    first, second = train.centre_distances
    spacing = within("shaft_spacing", shaft_spacing, abs(first - second), first + second, train.unit)
    straight = type(train)(train.shafts)
    x, y = (straight.explain(word, shaft_spacing=spacing).result for word in ("idler_x", "idler_y"))
    side = 1.0 if above else -1.0
    return replace(
        train,
        line_angles=(side * math.degrees(math.atan2(y, x)), -side * math.degrees(math.atan2(y, spacing - x))),
    )


def load(
    train: Train, tangential_force: float, idler: int = 1, first_direction: int = 1
) -> tuple[float, float]:
    """What both meshes together push on an idler's shaft, whatever the bend of the train.

    train: the row of shafts.
    tangential_force: tooth force along the pitch circle, the same in both meshes because nothing turns the
        idler's shaft but they [N or lbf], 0 and up.
    idler: number of the shaft, from 0 [-]; it carries a single gear.
    first_direction: +1 if the first shaft turns counter-clockwise, -1 if clockwise [-].
    Returns (x, y) [N or lbf].
    ValueError if that shaft is no idler, or for a negative force.

    >>> from gearlab.parts import Train
    >>> bent = Train.of(18, 24, 45, module=2.5, line_angles=(0, 60))
    >>> # by hand: 86 (-sin 60, 1 + cos 60) + 86 tan 20 (1 - cos 60, -sin 60)
    >>> [round(part, 2) for part in load(bent, 86)]
    [-58.83, 101.89]
    """
    return tuple(sum(parts) for parts in zip(*pushes(train, tangential_force, idler, first_direction)))


def pushes(
    train: Train, tangential_force: float, idler: int = 1, first_direction: int = 1
) -> tuple[tuple[float, float], ...]:
    """The four parts of what an idler feels.

    Of the driver's tooth along the pitch circle and towards the idler, then of the driven gear's.

    Parameters and errors are those of ``load``; each part is (x, y) [N or lbf].

    >>> from gearlab.parts import Train
    >>> [
    ...     tuple(round(part, 1) + 0.0 for part in push)
    ...     for push in pushes(Train.of(18, 24, 45, module=2.5), 86)
    ... ]
    [(0.0, 86.0), (31.3, 0.0), (0.0, 86.0), (-31.3, 0.0)]
    """
    within("tangential_force", tangential_force, 0.0, math.inf, "")
    turned = within("first_direction", first_direction, -math.inf, math.inf, "")
    if whole("idler", idler, 0, len(train.shafts) - 1) not in train.idlers:
        raise ValueError(
            f"shaft {idler} is no idler: idlers here are {', '.join(map(str, train.idlers)) or 'none'}"
            " (shafts count from 0)"
        )
    turning = train.directions[idler] * (1 if turned > 0 else -1)
    pushes = []
    # first from the driver towards the idler, then from the gear it drives towards the idler
    for number, sense in ((idler - 1, 1.0), (idler, -1.0)):
        separating = (
            train.meshes[number].explain("separating_force", tangential_force=float(tangential_force)).result
        )
        angle = math.radians(train.line_angles[number])
        x, y = sense * math.cos(angle), sense * math.sin(angle)
        # the driver's tooth pushes where the idler is going, the driven gear's holds back against it
        along = sense * turning * tangential_force
        pushes += [(along * y, -along * x), (separating * x, separating * y)]
    return tuple(pushes)
