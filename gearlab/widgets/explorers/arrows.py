"""Which way does each gear turn? A row of gears whose arrows the reader sets."""

from __future__ import annotations

import math

import traitlets

from ...drawing import views
from ...drawing.views.arrows import row_of, triangle_of
from ...drawing.views.train import count_word
from ...parts import Gear, Mesh, Train
from ...theory import derive
from .undeclared import Explorer, State, cell, choice, group, one_of, remark, row, tooth_size, within

MOST = 7
ARROWS = tuple(f"arrow_{k}" for k in range(1, MOST + 1))
TRIANGLE = 21  # teeth with which three equal gears stand in mesh all round


class TrainArrows(Explorer):
    """A row of gears, each to be given its arrow; or three gears in a triangle, which no arrows suit.

    Parameters
    ----------
    teeth : sequence of int
        Numbers of teeth along the row, 3 to 7 gears of 12 to 60 teeth [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    arrangement : str
        "row" or "triangle" at first [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> row = TrainArrows((18, 24, 45))
    >>> row.arrow_1, row.arrow_2, row.arrow_3 = 1, -1, -1
    >>> row.wrong, row.warnings[-1]["text"][:38]
    (((2, 3),), 'gears 2 and 3 are both told to turn cl')
    """

    arrow_1 = traitlets.Int(0).tag(sync=True)
    arrow_2 = traitlets.Int(0).tag(sync=True)
    arrow_3 = traitlets.Int(0).tag(sync=True)
    arrow_4 = traitlets.Int(0).tag(sync=True)
    arrow_5 = traitlets.Int(0).tag(sync=True)
    arrow_6 = traitlets.Int(0).tag(sync=True)
    arrow_7 = traitlets.Int(0).tag(sync=True)
    arrangement = traitlets.Unicode("row").tag(sync=True)
    inputs = (*ARROWS, "arrangement", "driver_speed")

    def __init__(
        self,
        teeth=(18, 24, 20, 30, 22),
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        arrangement: str = "row",
    ):
        unit, size = tooth_size(module, diametral_pitch)
        if not 3 <= len(teeth) <= MOST:
            raise ValueError(f"teeth has {len(teeth)} gears: give 3 to {MOST}")
        for count in teeth:
            within("teeth", count, 12, 60, "teeth")
        self._row = row_of(Train.of(*teeth, **size))
        self._triangle = triangle_of(Mesh(Gear(TRIANGLE, **size), Gear(TRIANGLE, **size)))
        super().__init__(playing=False, driver_speed=4.0, arrangement=arrangement, wide=True)

    @traitlets.validate("arrangement", *ARROWS)
    def _checked(self, proposal):
        one_of(
            proposal.trait.name,
            proposal.value,
            ("row", "triangle") if proposal.trait.name == "arrangement" else (0, 1, -1),
        )
        return proposal.value

    @property
    def arrows(self) -> tuple[int, ...]:
        """The arrow of each gear: 1 counter-clockwise, -1 clockwise, 0 none yet [-]."""
        return tuple(getattr(self, name) for name in ARROWS[: len(self._gears)])

    @property
    def _gears(self):
        return self._row if self.arrangement == "row" else self._triangle

    @property
    def _touching(self) -> list[tuple[int, int]]:
        pairs = [(k, k + 1) for k in range(1, len(self._gears))]
        return pairs if self.arrangement == "row" else [*pairs, (1, 3)]

    @property
    def wrong(self) -> tuple[tuple[int, int], ...]:
        """Meshes whose two arrows contradict each other, by the numbers of their gears [-]."""
        given = self.arrows
        return tuple((one, two) for one, two in self._touching if given[one - 1] * given[two - 1] > 0)

    @property
    def done(self) -> bool:
        """True if every gear has its arrow and no mesh contradicts [-]."""
        return all(self.arrows) and not self.wrong

    def _tidy(self):
        before = dict(zip(self.inputs, self._inputs_shown or self._now()))
        if before["arrangement"] != self.arrangement:
            with self.hold_trait_notifications():
                for name in ARROWS:
                    setattr(self, name, 0)
        elif self.done and self.arrow_1 * self.driver_speed < 0:
            if before["driver_speed"] * self.driver_speed < 0:  # the other way: all arrows with it
                with self.hold_trait_notifications():
                    for name, way in zip(ARROWS, self.arrows):
                        setattr(self, name, -way)
            else:
                self.driver_speed = math.copysign(self.driver_speed, self.arrow_1)

    def _state(self) -> State:
        gears, given, done = self._gears, self.arrows, self.done
        scene = views.arrows(gears, self._touching, given, still=not done, wrong=self.wrong)
        numbers = []
        if done:
            factor = derive("direction_factor", {"gears_in_row": len(gears)}).result
            words = "+1, with the first" if factor > 0 else "\u22121, against the first"
            numbers = [
                group(
                    "The row",
                    [
                        row("gears", cell("gears_in_row", len(gears), str(len(gears)), explained=False)),
                        row("direction of the last gear", cell("direction_factor", factor, words)),
                    ],
                )
            ]
        controls = [
            choice(
                "arrangement",
                "Gears",
                [("row", f"{count_word(len(self._row))} in a row"), ("triangle", "three in a triangle")],
            )
        ]
        return State(
            scene, f"Which way round? {scene.title.capitalize()}", numbers, self._remarks(done), controls
        )

    def _remarks(self, done: bool) -> list[dict]:
        given, count = self.arrows, len(self._gears)
        where = "of the row" if self.arrangement == "row" else "of the triangle"
        said = [
            remark(
                "task",
                f"give every gear {where} its direction. Press a gear\u2019s middle, or reach it with Tab and"
                " press Space, until the arrow is right.",
            )
        ]
        if done:
            said.append(
                remark(
                    "good",
                    f"every mesh turns the direction round. {count_word(count).capitalize()} gears have"
                    f" {count_word(count - 1)} meshes, so the last gear turns"
                    f" {'with' if given[0] == given[-1] else 'against'} the first. Press Play to see it.",
                )
            )
        elif self.arrangement == "triangle" and all(given):
            try:
                Train(tuple(one.gear for one in self._gears), ring=True)
            except ValueError as locked:
                said.append(
                    remark(
                        "stop", f"{_both(self.wrong[0], given)} And no other choice does better: {locked}."
                    )
                )
        else:
            said += [remark("stop", _both(pair, given)) for pair in self.wrong]
            if not self.wrong and any(given):
                said.append(
                    remark("note", f"{sum(map(bool, given))} of {count} arrows set, and no mesh contradicts.")
                )
        return said

    def _derivation(self, word: str):
        return derive(word, {"gears_in_row": len(self._gears)})


def _both(pair: tuple[int, int], given) -> str:
    way = "counter-clockwise" if given[pair[0] - 1] > 0 else "clockwise"
    return (
        f"gears {pair[0]} and {pair[1]} are both told to turn {way}: where they mesh, their teeth would run"
        " against each other."
    )
