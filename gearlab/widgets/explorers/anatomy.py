"""The parts of a tooth by name."""

from __future__ import annotations

import random

from ...drawing import numerals, views
from ...drawing.views import ANATOMY
from ...parts import Gear
from .controls import Choice, Given, Switch, tooth_size
from .explorer import Explorer, State
from .part import Part, nothing, spur
from .state import Cells, Inputs, good, group, note, row

UNNAMED = ""
WORDS = tuple(word for word, _ in ANATOMY)


def _options() -> dict[str, str]:
    names = list(ANATOMY)
    random.Random(5).shuffle(names)  # one order for all arrows, not the order of the numbers
    return {UNNAMED: "choose \u2026", **dict(names)}


def _arrow(number: int) -> Choice:
    return Choice(
        UNNAMED, _options(), f"Arrow {number}", argument=False, when=lambda anatomy, _: not anatomy.named
    )


class ToothAnatomy(Explorer):
    """A section of teeth with five numbered arrows, each to be given its name from a list.

    Examples
    --------
    >>> anatomy = ToothAnatomy(18, module=2.5)
    >>> anatomy.arrow_1 = "addendum"
    >>> anatomy.right_labels
    1
    """

    positional, broad = 1, True
    teeth = Given(18, "Number of teeth, 6 to 500", "int")
    module, diametral_pitch = tooth_size()
    named = Switch(False, about="True shows names and sizes instead of asking for them", fixed=True)
    arrow_1, arrow_2, arrow_3, arrow_4, arrow_5 = (_arrow(number) for number in range(1, 6))

    part_of_design = Part("gear", spur, nothing)  # its arrows ask for names, and set no number

    def prepare(self):
        self.gear = Gear(self.teeth, **self.size_of(self.now()), **self._cut_as.get("teeth", {}))

    @property
    def right_labels(self) -> int:
        """How many arrows have their right name."""
        return _right(self.shown.inputs)

    def state(self, inputs: Inputs) -> State:
        gear = self.gear
        scene = views.tooth(gear, named=self.named)
        heading = f"A tooth of {gear.teeth}, {numerals.pitch_name(gear)}"
        if self.named:
            n = Cells(gear.numbers, gear.unit)
            rows = [row(name, n.length(word)) for word, name in ANATOMY]
            return State(inputs, scene, heading, [group("The tooth", rows)], subject=gear)
        if UNNAMED in _given(inputs):
            return State(inputs, scene, heading)
        right = _right(inputs)
        told = note(
            f"{right} of the five names {'is' if right == 1 else 'are'} right. Follow each arrow from circle"
            " to circle."
        )
        if right == len(WORDS):
            told = good("all five arrows have their names.")
        return State(inputs, scene, heading, remarks=[told])


def _given(inputs: Inputs) -> tuple[str, ...]:
    return inputs.arrow_1, inputs.arrow_2, inputs.arrow_3, inputs.arrow_4, inputs.arrow_5


def _right(inputs: Inputs) -> int:
    return sum(given == word for given, word in zip(_given(inputs), WORDS))
