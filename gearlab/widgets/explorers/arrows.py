"""Which way does each gear turn? A row of gears whose arrows the reader sets."""

from __future__ import annotations

import itertools
import math
from typing import Any

from ...drawing import views
from ...drawing.views.shafts import folded, row_of, triangle_of
from ...drawing.views.train import count_word
from ...parts import Gear, Mesh, Train
from ...parts.design import Design
from ...theory import derive
from ...theory.derivation import Derivation
from .controls import Choice, Given, tooth_size
from .explorer import Explorer, State
from .part import ALIKE, Part, nothing, pair_taken
from .state import Cells, Inputs, good, group, note, row, stop, task, within

MOST = 7
ARROWS = tuple(f"arrow_{k}" for k in range(1, MOST + 1))
TRIANGLE = 21  # teeth with which three equal gears stand in mesh all round
Pairs = tuple[tuple[int, int], ...]


class TrainArrows(Explorer):
    """A row of gears, each to be given its arrow; or three gears in a triangle, which no arrows suit.

    An arrow is 1 counter-clockwise, -1 clockwise, 0 none yet.

    Examples
    --------
    >>> row = TrainArrows((18, 24, 45))
    >>> row.arrow_1, row.arrow_2, row.arrow_3 = 1, -1, -1
    >>> row.wrong, row.warnings[-1]["text"][:38]
    (((2, 3),), 'gears 2 and 3 are both told to turn cl')
    """

    speed, positional, broad = 4.0, 1, True
    teeth = Given(
        (18, 24, 20, 30, 22),
        "Numbers of teeth along the row, 3 to 7 gears of 12 to 60 teeth",
        "sequence of int",
    )
    module, diametral_pitch = tooth_size()
    arrow_1, arrow_2, arrow_3, arrow_4, arrow_5, arrow_6, arrow_7 = (
        Choice(0, (0, 1, -1), argument=False, shown=False) for _ in ARROWS
    )
    arrangement = Choice(
        "row",
        ("row", "triangle"),
        "Gears",
        words=lambda arrows, _: {
            "row": f"{count_word(len(arrows.teeth))} in a row",
            "triangle": "three in a triangle",
        },
        about="How they are arranged at first",
    )

    part_of_design = Part("drive", lambda *given: _taken(*given), nothing)  # its arrows set no number

    def prepare(self):
        least = 2 if self.of_a_design else 3  # a row of two asks little, but a drive may have no more
        if not least <= len(self.teeth) <= MOST:
            raise ValueError(f"teeth has {len(self.teeth)} gears: give {least} to {MOST}")
        for count in self.teeth:
            within("teeth", count, 12, 60, "teeth")
        size = self.size_of(self.now())
        self._stands = {
            "row": row_of(Train.of(*self.teeth, line_angles=folded(self.teeth), **size)),
            "triangle": triangle_of(Mesh(Gear(TRIANGLE, **size), Gear(TRIANGLE, **size))),
        }

    def _arrows(self, inputs: Inputs) -> tuple[int, ...]:
        settings = inputs.settings()
        return tuple(settings[name] for name in ARROWS[: len(self._stands[inputs.arrangement])])

    def _wrong(self, inputs: Inputs) -> Pairs:
        given = self._arrows(inputs)
        return tuple((a, b) for a, b in self._touching(inputs) if given[a - 1] * given[b - 1] > 0)

    def _done(self, inputs: Inputs) -> bool:
        return all(self._arrows(inputs)) and not self._wrong(inputs)

    def _touching(self, inputs: Inputs) -> Pairs:
        pairs = itertools.pairwise(range(1, len(self._stands[inputs.arrangement]) + 1))
        return tuple(pairs) if inputs.arrangement == "row" else (*pairs, (1, 3))

    @property
    def arrows(self) -> tuple[int, ...]:
        """The arrow of each gear: 1 counter-clockwise, -1 clockwise, 0 none yet."""
        return self._arrows(self.shown.inputs)

    @property
    def wrong(self) -> Pairs:
        """Meshes whose two arrows contradict each other, by the numbers of their gears."""
        return self._wrong(self.shown.inputs)

    @property
    def done(self) -> bool:
        """True if every gear has its arrow and no mesh contradicts."""
        return self._done(self.shown.inputs)

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        if before and before.arrangement != inputs.arrangement:
            return inputs.but(**dict.fromkeys(ARROWS, 0))
        if before and self._done(inputs) and inputs.arrow_1 * inputs.driver_speed < 0:
            if before.driver_speed * inputs.driver_speed < 0:  # the other way: all arrows with it
                return inputs.but(**{name: -inputs.settings()[name] for name in ARROWS})
            return inputs.but(driver_speed=math.copysign(inputs.driver_speed, inputs.arrow_1))
        return inputs

    def state(self, inputs: Inputs) -> State:
        gears, given, done = self._stands[inputs.arrangement], self._arrows(inputs), self._done(inputs)
        wrong = self._wrong(inputs)
        scene = views.arrows(
            gears, list(self._touching(inputs)), given, still=not done, wrong=wrong, width=560.0
        )
        readout = [_the_row(len(gears))] if done else []
        heading = f"Which way round? {scene.title.capitalize()}"
        return State(inputs, scene, heading, readout, self._remarks(inputs), len(gears))

    def reason(self, word: str, state: State) -> Derivation:
        return derive(word, {"gears_in_row": state.subject})

    def _remarks(self, inputs: Inputs) -> list[dict]:
        given, wrong = self._arrows(inputs), self._wrong(inputs)
        told = [
            task(
                f"give every gear of the {inputs.arrangement} its direction. Press a gear\u2019s middle, or"
                " reach it with Tab and press Space, until the arrow is right."
            )
        ]
        if self._done(inputs):
            way = "with" if given[0] == given[-1] else "against"
            told.append(
                good(
                    f"every mesh reverses the direction. {count_word(len(given)).capitalize()} gears have"
                    f" {count_word(len(given) - 1)} mesh{'es' if len(given) > 2 else ''}, so the last gear"
                    f" turns {way} the first. Press Play to see it."
                )
            )
        elif inputs.arrangement == "triangle" and all(given):
            try:
                Train(tuple(placed.gear for placed in self._stands["triangle"]), ring=True)
            except ValueError as locked:
                told.append(stop(f"{_both(wrong[0], given)} And no other choice does better: {locked}."))
        elif wrong:
            told.append(stop(_both(wrong[0], given) if len(wrong) == 1 else _several(wrong)))
        elif any(given):
            told.append(note(f"{sum(map(bool, given))} of {len(given)} arrows set, and no mesh contradicts."))
        return told


def _taken(design: Design, _name: str) -> dict[str, Any]:
    """The counts along a row of gears, each of which drives the next; ValueError for another drive."""
    drives = {pair.driver: pair for pair in design.mesh}
    driven = {pair.driven for pair in design.mesh}
    starts = [name for name in drives if name not in driven]
    row = starts[:1]
    while row and row[-1] in drives:
        row.append(drives[row[-1]].driven)
    if len(row) != len(design.mesh) + 1 or len(starts) != 1:
        raise ValueError(
            f"here each gear of a row drives the next, and the meshes of the design {design.name!r} are"
            " not arranged so; look at each in a PairExplorer"
        )
    for pair in design.mesh:
        taken = pair_taken(design, pair.name)
    size = {word: value for word, value in taken.items() if word in ALIKE}
    return {**size, "teeth": tuple(design.of(name).teeth for name in row)}


def _the_row(count: int) -> dict[str, Any]:
    factor = derive("direction_factor", {"gears_in_row": count}).result
    words, n = "+1, with the first" if factor > 0 else "\u22121, against the first", Cells({}, "")
    rows = [
        row("gears", n.plain("gears_in_row", count)),
        row("direction of the last gear", n.said("direction_factor", factor, words, explained=True)),
    ]
    return group("The row", rows)


def _both(pair: tuple[int, int], given: tuple[int, ...]) -> str:
    way = "counter-clockwise" if given[pair[0] - 1] > 0 else "clockwise"
    return (
        f"gears {pair[0]} and {pair[1]} are both told to turn {way}: where they mesh, their teeth would run"
        " against each other."
    )


def _several(pairs: Pairs) -> str:
    *before, last = (f"{first} with {second}" for first, second in pairs)
    return (
        f"gears that mesh are told to turn the same way, {', '.join(before)} and {last}: there their teeth"
        " would run against each other."
    )
