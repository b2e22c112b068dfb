"""A train of two stages: four tooth counts, one ratio, and where the output comes out."""

from __future__ import annotations

from typing import Any

from ...drawing import numerals, views
from ...parts import Train
from ...parts.design import Design, MeshTable
from .controls import Measure, Whole, tooth_size
from .explorer import Explorer, State
from .part import ALIKE, Part, counts_given, pair_taken
from .state import Cells, Inputs, good, group, note, row, speed_cell, task

NEAR = 0.01  # how near the wanted ratio counts as reached, of that ratio


class TrainBuilder(Explorer):
    """Two stages folded back, seen along the shafts and from the side.

    The task is a ratio with out in line with in. Gear 1 drives 2; 3, on the shaft of 2, drives 4.

    Examples
    --------
    >>> builder = TrainBuilder(18, 45, 21, 42)
    >>> builder.value("train_ratio"), builder.done
    (5.0, True)
    """

    speed, positional, broad, words = 15.0, 4, True, ("axis_offset",)
    first_teeth = Whole(18, 18, 60, "Teeth of gear 1")
    second_teeth = Whole(36, 18, 60, "Teeth of gear 2")
    third_teeth = Whole(24, 18, 60, "Teeth of gear 3")
    fourth_teeth = Whole(48, 18, 60, "Teeth of gear 4")
    module, diametral_pitch = tooth_size()
    wanted_ratio = Measure(
        5.0, 1.0, 10.0, unit="", about="Turns in per turn out that the task asks for", fixed=True
    )

    part_of_design = Part("drive", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        if self._design is not None:
            driver = self._design.of(_two_stages(self._design)[0].driver)
            self._cut_as = {"all": {word: getattr(driver, word) for word in ALIKE[2:]}}

    @property
    def train(self) -> Train:
        """The train as it stands."""
        return self.shown.subject

    @property
    def done(self) -> bool:
        """True if the ratio is within 1 % of the wanted one and the output is on the input's axis."""
        return self._near(self.train) and self.train.reverted

    def _near(self, train: Train) -> bool:
        return abs(train.ratio - self.wanted_ratio) <= NEAR * self.wanted_ratio * (1 + 1e-12)

    def state(self, inputs: Inputs) -> State:
        first, second, third, fourth = (
            inputs.first_teeth,
            inputs.second_teeth,
            inputs.third_teeth,
            inputs.fourth_teeth,
        )
        train = Train.of(
            first,
            (second, third),
            fourth,
            line_angles=(90, 270),
            **self.size_of(inputs),
            **self._cut_as.get("all", {}),
        )
        scene = views.shafts(train, first_speed=inputs.driver_speed)
        heading = f"{first} drives {second}, {third} drives {fourth}"
        readout = [_stages(train), _whole_train(train, inputs.driver_speed)]
        return State(inputs, scene, heading, readout, self._remarks(train), train)

    def _remarks(self, train: Train) -> list[dict]:
        wanted, ratio = numerals.plain(self.wanted_ratio), numerals.plain(train.ratio, 4)
        first, second = (numerals.length(distance, train.unit) for distance in train.centre_distances)
        told = [task(f"reach {wanted} : 1 within 1 % with the output back on the axis of the input.")]
        if self._near(train) and train.reverted:
            told.append(
                good(
                    f"{ratio} turns in for each turn out, and both centre distances are {first}: out is in"
                    " line with in."
                )
            )
        if not self._near(train):
            stages = " \u00d7 ".join(numerals.plain(stage, 4) for stage in train.stage_ratios)
            told.append(note(f"the ratio is {ratio}, not {wanted}: {stages}."))
        if not train.reverted:
            told.append(
                note(
                    f"the output is not on the input\u2019s axis: the centre distances are {first} and"
                    f" {second}."
                )
            )
        return told

    def extra(self, word: str, state: State) -> dict[str, Any]:
        return {"first_speed": float(state.inputs.driver_speed)} if word.endswith("_speed") else {}


def _two_stages(design: Design) -> tuple[MeshTable, MeshTable]:
    """The two meshes of a design, the first first; ValueError for another drive."""
    for first, second in (design.mesh, design.mesh[::-1]) if len(design.mesh) == 2 else ():
        on_one_shaft = design.of(first.driven).shaft == design.of(second.driver).shaft
        if on_one_shaft and first.driven != second.driver:
            return first, second
    count = len(design.mesh)
    raise ValueError(
        f"the design {design.name!r} has {count} mesh{'es' if count != 1 else ''}, and here there are two:"
        " gear 1 drives 2, and 3, on the shaft of 2, drives 4; look at each mesh in a PairExplorer"
    )


def _taken(design: Design, _name: str) -> dict[str, Any]:
    """The four counts of a train of two stages; the task is the ratio that is wanted of the design."""
    first, second = _two_stages(design)
    first_stage, second_stage = (pair_taken(design, pair.name, shifted=False) for pair in (first, second))
    for word in ALIKE:
        near, far = getattr(design.of(first.driver), word), getattr(design.of(second.driver), word)
        if near != far:
            raise ValueError(
                f"{word.replace('_', ' ')} of the first stage is {near}, of the second {far}, and here"
                " both have teeth of one kind; look at each in a PairExplorer"
            )
    size = {word: value for word, value in first_stage.items() if not word.endswith("_teeth")}
    return {
        **size,
        "first_teeth": first_stage["driver_teeth"],
        "second_teeth": first_stage["driven_teeth"],
        "third_teeth": second_stage["driver_teeth"],
        "fourth_teeth": second_stage["driven_teeth"],
        "wanted_ratio": design.design.ratio or design.ratio,
    }


def _given(inputs: Inputs, design: Design, _name: str) -> dict[str, Any]:
    """The edits of four gears and of the shafts, as far beyond the touching of their circles as before."""
    after, (first, second) = design, _two_stages(design)
    counts = {
        first.name: Inputs(driver_teeth=inputs.first_teeth, driven_teeth=inputs.second_teeth),
        second.name: Inputs(driver_teeth=inputs.third_teeth, driven_teeth=inputs.fourth_teeth),
    }
    for name, stage in counts.items():
        after = after.with_(**counts_given(stage, after, name))
    gears = (first.driver, first.driven, second.driver, second.driven)
    return {
        "gear": {name: {"teeth": after.of(name).teeth} for name in gears},
        "shaft": {shaft.name: {"x": shaft.x, "y": shaft.y} for shaft in after.standing},
    }


def _stages(train: Train) -> dict:
    n = Cells(train.numbers, train.unit)
    rows = [
        row("ratio", n.plain("first_stage_ratio"), n.plain("second_stage_ratio")),
        row("centre distance", n.length("first_centre_distance"), n.length("second_centre_distance")),
    ]
    return group("The stages", rows, ("1 drives 2", "3 drives 4"))


def _whole_train(train: Train, first_speed: float) -> dict:
    n = Cells(train.numbers, train.unit)
    speeds, off = train.speeds(first_speed), abs(train.positions[2][1])
    rows = [
        row("turns in per turn out", n.plain("train_ratio")),
        row("speed in", speed_cell("first_speed", speeds[0], explained=False)),
        row("middle shaft", speed_cell("second_speed", speeds[1])),
        row("speed out", speed_cell("fourth_speed", speeds[2])),
        row(
            "out beside the axis of in",
            n.length("axis_offset", off) if off else n.said("axis_offset", off, "0, in line"),
        ),
        row("turns in until all line up again", n.plain("turns_to_line_up", places=0)),
    ]
    return group("The train", rows)
