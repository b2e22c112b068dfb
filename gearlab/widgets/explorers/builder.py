"""A train of two stages: four tooth counts, one ratio, and where the output comes out."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts import Train
from .explorer import Explorer, State, cell, group, remark, row, tooth_size, whole, within
from .pair import speed_cell

LIMITS = (18, 60)
COUNTS = ("first_teeth", "second_teeth", "third_teeth", "fourth_teeth")
NEAR = 0.01  # how near the wanted ratio counts as reached, of that ratio


class TrainBuilder(Explorer):
    """Two stages folded back, seen along the shafts and from the side.

    The task is a ratio with out in line with in.

    Parameters
    ----------
    first_teeth, second_teeth, third_teeth, fourth_teeth : int
        Numbers of teeth, 18 to 60 [-]: 1 drives 2; 3, on the shaft of 2, drives 4.
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    wanted_ratio : float
        Turns in per turn out that the task asks for, 1 to 10 [-].
    driver_speed : float
        Signed speed of the first shaft, counter-clockwise positive, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> builder = TrainBuilder(18, 45, 21, 42)
    >>> builder.value("train_ratio"), builder.done
    (5.0, True)
    """

    first_teeth = traitlets.Int(18).tag(sync=True)
    second_teeth = traitlets.Int(36).tag(sync=True)
    third_teeth = traitlets.Int(24).tag(sync=True)
    fourth_teeth = traitlets.Int(48).tag(sync=True)
    inputs = (*COUNTS, "driver_speed")

    def __init__(
        self,
        first_teeth: int = 18,
        second_teeth: int = 36,
        third_teeth: int = 24,
        fourth_teeth: int = 48,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        wanted_ratio: float = 5.0,
        driver_speed: float = 15.0,
        playing: bool = False,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        within("wanted_ratio", wanted_ratio, 1, 10)
        self.wanted_ratio = wanted_ratio
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            first_teeth=first_teeth,
            second_teeth=second_teeth,
            third_teeth=third_teeth,
            fourth_teeth=fourth_teeth,
            wide=True,
        )

    @traitlets.validate(*COUNTS)
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, *LIMITS, "teeth")
        return proposal.value

    @property
    def done(self) -> bool:
        """True if the ratio is within 1 % of the wanted one and the output is on the input's axis [-]."""
        return self._near and self.train.reverted

    @property
    def _near(self) -> bool:
        return abs(self.train.ratio - self.wanted_ratio) <= NEAR * self.wanted_ratio * (1 + 1e-12)

    def _state(self) -> State:
        one, two, three, four = (getattr(self, name) for name in COUNTS)
        self.train = train = Train.of(one, (two, three), four, line_angles=(90, 270), **self._size)
        scene = views.shafts(train, first_speed=self.driver_speed)
        controls = [
            whole(name, f"Teeth of gear {k}", *LIMITS, spoken="teeth") for k, name in enumerate(COUNTS, 1)
        ]
        return State(
            scene,
            f"{one} drives {two}, {three} drives {four}",
            self._readout(train),
            self._remarks(train),
            controls,
        )

    def _readout(self, train: Train) -> list[dict]:
        n, unit = train.numbers, train.unit

        def ratio(word: str) -> dict:
            return cell(word, n[word], numerals.plain(n[word], 4))

        def length(word: str) -> dict:
            return cell(word, n[word], numerals.length(n[word], unit))

        stages = [
            row("ratio", ratio("first_stage_ratio"), ratio("second_stage_ratio")),
            row("centre distance", length("first_centre_distance"), length("second_centre_distance")),
        ]
        speeds = train.speeds(self.driver_speed)
        off = train.positions[2][1]
        whole_train = [
            row("turns in per turn out", ratio("train_ratio")),
            row("speed in", speed_cell("first_speed", speeds[0], explained=False)),
            row("middle shaft", speed_cell("second_speed", speeds[1])),
            row("speed out", speed_cell("fourth_speed", speeds[2])),
            row(
                "out beside the axis of in",
                cell(
                    "axis_offset",
                    abs(off),
                    numerals.length(abs(off), unit) if off else "0, in line",
                    explained=False,
                ),
            ),
            row(
                "turns in until all line up again",
                cell("turns_to_line_up", n["turns_to_line_up"], numerals.plain(n["turns_to_line_up"], 0)),
            ),
        ]
        return [group("The stages", stages, ("1 drives 2", "3 drives 4")), group("The train", whole_train)]

    def _remarks(self, train: Train) -> list[dict]:
        wanted = numerals.plain(self.wanted_ratio)
        said = [
            remark("task", f"reach {wanted} : 1 within 1 % with the output back on the axis of the input.")
        ]
        if self.done:
            return [
                *said,
                remark(
                    "good",
                    f"{numerals.plain(train.ratio, 4)} turns in for each turn out, and both centre distances"
                    f" are {numerals.length(train.centre_distances[0], train.unit)}: out is in line with in.",
                ),
            ]
        if not self._near:
            said.append(
                remark(
                    "note",
                    f"the ratio is {numerals.plain(train.ratio, 4)}, not {wanted}:"
                    f" {numerals.plain(train.stage_ratios[0], 4)} \u00d7"
                    f" {numerals.plain(train.stage_ratios[1], 4)}.",
                )
            )
        if not train.reverted:
            one, two = (numerals.length(distance, train.unit) for distance in train.centre_distances)
            said.append(
                remark(
                    "note",
                    f"the output is not on the input\u2019s axis: the centre distances are {one} and {two}.",
                )
            )
        return said

    def _derivation(self, word: str):
        return self.train.explain(
            word, **({"first_speed": float(self.driver_speed)} if word.endswith("_speed") else {})
        )
