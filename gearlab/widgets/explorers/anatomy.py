"""The parts of a tooth by name."""

from __future__ import annotations

import random

import traitlets

from ...drawing import numerals, views
from ...drawing.views import ANATOMY
from ...parts import Gear
from .undeclared import Explorer, State, cell, choice, group, one_of, remark, row, sizes

UNNAMED = ""
ARROWS = tuple(f"arrow_{i + 1}" for i in range(len(ANATOMY)))
WORDS = tuple(word for word, _ in ANATOMY)


class ToothAnatomy(Explorer):
    """A section of teeth with five numbered arrows, each to be given its name from a list.

    Parameters
    ----------
    teeth : int
        Number of teeth, 6 to 500 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    named : bool
        True shows names and sizes instead of asking for them [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> anatomy = ToothAnatomy(18, module=2.5)
    >>> anatomy.arrow_1 = "addendum"
    >>> anatomy.right_labels
    1
    """

    arrow_1 = traitlets.Unicode(UNNAMED).tag(sync=True)
    arrow_2 = traitlets.Unicode(UNNAMED).tag(sync=True)
    arrow_3 = traitlets.Unicode(UNNAMED).tag(sync=True)
    arrow_4 = traitlets.Unicode(UNNAMED).tag(sync=True)
    arrow_5 = traitlets.Unicode(UNNAMED).tag(sync=True)
    inputs = ARROWS

    def __init__(
        self,
        teeth: int = 18,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        named: bool = False,
    ):
        unit, module, diametral_pitch = sizes(module, diametral_pitch)
        self.gear = (
            Gear(teeth, module=module) if unit == "mm" else Gear(teeth, diametral_pitch=diametral_pitch)
        )
        self.named = named
        super().__init__(playing=False, driver_speed=0.0, wide=True)

    @traitlets.validate(*ARROWS)
    def _checked(self, proposal):
        one_of(proposal.trait.name, proposal.value, (UNNAMED,) + WORDS)
        return proposal.value

    @property
    def right_labels(self) -> int:
        """How many arrows have their right name [-]."""
        return sum(getattr(self, arrow) == word for arrow, word in zip(ARROWS, WORDS))

    def _state(self) -> State:
        scene = views.tooth(self.gear, named=self.named)
        heading = f"A tooth of {self.gear.teeth}, {numerals.pitch_name(self.gear)}"
        if self.named:
            numbers = self.gear.numbers
            rows = [
                row(name, cell(word, numbers[word], numerals.length(numbers[word], self.gear.unit)))
                for word, name in ANATOMY
            ]
            return State(scene, heading, [group("The tooth", rows)])
        names = list(ANATOMY)
        random.Random(5).shuffle(names)  # one order for all arrows, not the order of the numbers
        options = [(UNNAMED, "choose \u2026"), *names]
        given = sum(getattr(self, arrow) != UNNAMED for arrow in ARROWS)
        said = []
        if given == len(ARROWS):
            right = self.right_labels
            said.append(
                remark("good", "all five arrows have their names.")
                if right == len(ARROWS)
                else remark(
                    "note",
                    f"{right} of the five names {'is' if right == 1 else 'are'} right. Follow each arrow from"
                    " circle to circle.",
                )
            )
        return State(
            scene,
            heading,
            [],
            said,
            [choice(arrow, f"Arrow {i + 1}", options) for i, arrow in enumerate(ARROWS)],
        )

    def _derivation(self, word: str):
        return self.gear.explain(word)
