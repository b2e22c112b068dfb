"""Lining up the teeth: turn the driven gear by hand until its spaces stand where the driver's teeth are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any, NamedTuple

from ...drawing import numerals, views
from ...drawing.views.aligned import area_words, free_window
from ...parts import Mesh
from ...parts.design import Design, GearTable
from .controls import Length, Measure, Scale, Whole, tooth_size
from .explorer import Explorer, State
from .pair import TEETH
from .part import (
    Part,
    at_distance,
    counts_given,
    line_of,
    mesh_named,
    opening_of,
    pair_taken,
    touching_for,
)
from .state import Cells, Inputs, good, group, note, row, task, warning

NEAR = 0.3  # how far from the middle of the free window still counts as there [deg]
MOST = 0.4  # backlash [modules]
STEPS = {"mm": (0.05, 0.2, 2), "in": (0.002, 0.008, 3)}


class Standing(NamedTuple):
    """How the teeth of two gears stand: area that lies in both, and the driven gear in its free window."""

    mesh: Mesh
    overlap: float  # [mm2 or in2]
    middle: float  # [deg]
    width: float  # [deg]
    off: float  # from the middle, counter-clockwise positive [deg]


def _play(nudge: AlignmentNudge, inputs: Inputs) -> Scale:
    most = MOST * nudge.scale_of(inputs)
    return Scale(0.6 * most, 0.0, most, *STEPS[nudge.length_unit])


class AlignmentNudge(Explorer):
    """Two gears whose marked teeth stand at given angles; the driven one is turned until no teeth overlap.

    Angles count from +x, counter-clockwise; the driven gear lies at ``line_angle`` from the driver. The
    free window is measured on the cut teeth. ``mesh`` is the pair, ``overlap`` the area that lies in both
    gears.

    Examples
    --------
    >>> nudge = AlignmentNudge(18, 46)
    >>> nudge.overlap > 20
    True
    >>> nudge.driven_angle = 3.9
    >>> nudge.overlap, nudge.warnings[1]["kind"]
    (0.0, 'good')
    """

    secrets = ("driven_mark_angle", "free_from", "off")
    positional, words = 2, ("overlap", "off", "free_from", "within_one_pitch")
    panelled = ("driven_angle", "driver_angle", "line_angle", "driver_teeth", "driven_teeth", "backlash")
    driver_teeth = Whole(18, *TEETH, "Teeth of the driver", of="driver")
    driven_teeth = Whole(46, *TEETH, "Teeth of the driven gear", of="driven")
    module, diametral_pitch = tooth_size()
    driver_angle = Measure(
        0.0,
        -180.0,
        180.0,
        "Marked tooth of A",
        unit="deg",
        step=0.5,
        page=5.0,
        places=2,
        home=0.0,
        of="driver",
        about="Where the marked tooth of the driver is",
    )
    driven_angle = Measure(
        0.0,
        -180.0,
        180.0,
        "Marked tooth of B",
        unit="deg",
        step=0.1,
        page=lambda inputs: 180.0 / inputs.driven_teeth,
        places=2,
        home="first",
        of="driven",
        about="Where the marked tooth of the driven gear is",
    )
    line_angle = Measure(
        0.0,
        -180.0,
        180.0,
        "Line of centres, from A to B",
        unit="deg",
        step=1.0,
        page=15.0,
        places=2,
        home=0.0,
        about="Direction from driver to driven gear",
    )
    backlash = Length(
        "Backlash",
        _play,
        about="Backlash on the pitch circles, 0 to 0.4 modules, half of it from each gear's teeth; left out,"
        " 0.24 modules",
    )

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    @property
    def mesh(self) -> Mesh:
        """The pair as it stands."""
        return self.shown.subject.mesh

    @property
    def overlap(self) -> float:
        """Area that lies in both gears [mm2] or [in2]."""
        return self.shown.subject.overlap

    @property
    def off(self) -> float:
        """How far the driven gear stands from the middle of the nearest free window, counter-clockwise
        positive [deg].
        """
        return self.shown.subject.off

    def state(self, inputs: Inputs) -> State:
        mesh = self.pair_of(inputs, tooth_thinning=inputs.backlash / 2)
        middle, width = free_window(mesh, inputs.driver_angle, inputs.line_angle)
        off = math.remainder(inputs.driven_angle - middle, 360.0 / inputs.driven_teeth)
        area = mesh.overlap_area(inputs.driver_angle, inputs.driven_angle, inputs.line_angle)
        stands = Standing(mesh, area, middle, width, 0.0 if abs(off) < 1e-9 else off)
        scene = views.aligned(
            mesh,
            inputs.driver_angle,
            inputs.driven_angle,
            line_angle=inputs.line_angle,
            window=(middle, width),
            banded=_in_the_middle(stands) or self.may_tell(inputs, "driven_mark_angle"),
            controls=("driver_angle", "driven_angle"),
        )
        pitch = numerals.pitch_name(mesh.driver)
        heading = f"{inputs.driver_teeth} and {inputs.driven_teeth} teeth, {pitch}"
        told = list(_remarks(stands, inputs.backlash, mesh.unit, self.may_tell(inputs, "off")))
        return State(inputs, scene, heading, _readout(inputs, stands), told, stands)

    def reason(self, word: str, state: State):
        inputs = state.inputs
        extra: dict[str, Any] = {"line_angle": inputs.line_angle, "driver_mark_angle": inputs.driver_angle}
        return state.subject.mesh.explain(word, **(extra if word == "driven_mark_angle" else {}))


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A mesh; where its keyways say so, the marked tooth is the one at the keyway."""
    pair = mesh_named(design, name)
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    marks = {}
    for side, table in (("driver_angle", driver), ("driven_angle", driven)):
        if table.keyway_on is not None:
            key_angle = design.shaft_of(table.name).key_angle
            marks[side] = round(math.remainder(key_angle + _beside_keyway(table, table.teeth), 360.0), 9)
    return {
        **pair_taken(design, name),
        **marks,
        "line_angle": line_of(design, name),
        "backlash": round(driver.tooth_thinning + driven.tooth_thinning, 9),
    }


def _beside_keyway(table: GearTable, teeth: int) -> float:
    """From a gear's keyway to the tooth that is marked, the first of a space there [deg]."""
    return 0.0 if table.keyway_on == "tooth" else 180.0 / teeth


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The edits of both gears, of where the driven shaft stands, and of how keyed shafts are turned."""
    pair = mesh_named(design, name)
    driver, driven = design.of(pair.driver), design.of(pair.driven)
    edits = counts_given(inputs, design, name, tooth_thinning=inputs.backlash / 2)
    touch = touching_for(inputs.driver_teeth, inputs.driven_teeth, driver.size)
    edits["shaft"] = at_distance(design, name, touch + opening_of(design, name), inputs.line_angle)
    marks = (
        (driver, inputs.driver_angle, inputs.driver_teeth),
        (driven, inputs.driven_angle, inputs.driven_teeth),
    )
    for table, angle, teeth in marks:
        if table.keyway_on is not None:
            key_angle = math.remainder(angle - _beside_keyway(table, teeth), 360.0)
            edits["shaft"].setdefault(table.shaft, {})["key_angle"] = round(key_angle, 9) + 0.0
    return edits


def _readout(inputs: Inputs, stands: Standing) -> list[dict]:
    n, middle, half = Cells({}, stands.mesh.unit), stands.middle, stands.width / 2
    pitch, angle = 360.0 / inputs.driven_teeth, inputs.driven_angle
    own = [
        row("marked tooth of B at", n.angle("driven_angle", angle)),
        row("one pitch of B", n.angle("driven_pitch_angle", pitch, 3, explained=True)),
        row("B within one pitch", n.angle("within_one_pitch", angle % pitch, 3)),
    ]
    free = [
        row("middle of the free window", n.angle("driven_mark_angle", middle, 3, explained=True)),
        row("width of the free window", n.angle("driven_play_angle", stands.width, 3, explained=True)),
    ]
    if half > 0:
        ends = " to ".join(f"{numerals.number(end, 2)}\u00b0" for end in (middle - half, middle + half))
        free.append(row("free window, from and to", n.said("free_from", middle - half, ends)))
    free.append(row("B is off the middle by", n.angle("off", stands.off, 3)))
    area = n.said("overlap", stands.overlap, area_words(stands.overlap, n.unit), alarm=stands.overlap > 0)
    return [
        group("The driven gear", own),
        group("The free window", free),
        group("Measured on the cut teeth", [row("the teeth overlap by", area)]),
    ]


def _in_the_middle(stands: Standing) -> bool:
    return not stands.overlap and abs(stands.off) <= NEAR


def _remarks(stands: Standing, backlash: float, unit: str, telling: bool) -> Iterator[dict]:
    yield task("turn gear B to the middle of its free window.")
    off = f"B is {numerals.number(abs(stands.off), 2)}\u00b0 from the middle of its window."
    if stands.overlap:
        way = "clockwise" if stands.off > 0 else "counter-clockwise"
        yield note(
            f"the teeth overlap by {area_words(stands.overlap, unit)}: turn B {way}, by no more than half a"
            " pitch."
        )
    elif _in_the_middle(stands):
        yield good(f"no teeth overlap, and {off}")
    elif telling:
        yield note(f"no teeth overlap, but {off}")
    else:
        yield note(
            "no teeth overlap, but B is not in the middle of its window: turn it either way until the"
            " teeth overlap, and back by half of what is between."
        )
    if backlash == 0:
        yield warning("without backlash the window has no width: the teeth fit at one angle only, and bind.")
