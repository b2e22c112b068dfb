"""Two cones that should roll on each other: set their angles, then see which side reverses the output."""

from __future__ import annotations

from typing import Any, NamedTuple

from ...drawing import numerals, views
from ...drawing.views.cones import gap, rolling
from ...parts import BevelPair
from ...parts.design import BevelTable, Design
from .controls import Choice, Measure, Whole, tooth_size
from .explorer import Explorer, State
from .part import Part, in_its_unit
from .state import Cells, Inputs, good, group, note, row, speed_cell, task

NEAR = 0.3  # between the cones, that counts as touching [deg]
TASK = (
    "set both cone angles so that the cones touch all along, with their large circles meeting. Then move the"
    " driven gear to the other side."
)


class Cones(NamedTuple):
    """Cones as they are set, for a pair of bevel gears."""

    pair: BevelPair
    gap: float  # between them [deg]
    rolling: bool
    output_speed: float  # seen from above [rpm]


def _cone_angle(of: str, label: str) -> Measure:
    return Measure(
        45.0,
        10.0,
        80.0,
        label,
        unit="degrees",
        step=1.0,
        page=5.0,
        places=1,
        of=of,
        about=f"{label} at first",
    )


class TwoCones(Explorer):
    """Two bevel gears as cones.

    With the right angles they touch all along, share their apex and roll on each other. The driver's speed
    is seen from its wide end; the size of the teeth is that at the large end.

    Examples
    --------
    >>> cones = TwoCones(20, 30)
    >>> cones.driver_cone_angle, cones.driven_cone_angle = 33.7, 56.3
    >>> cones.done, cones.warnings[-1]["kind"], cones.value("output_speed")
    (True, 'good', -4.0)
    """

    speed, positional, words = 6.0, 2, ("cone_sum", "gap")
    panelled = (
        "driver_cone_angle",
        "driven_cone_angle",
        "driver_teeth",
        "driven_teeth",
        "shaft_angle",
        "side",
        "view",
    )
    driver_teeth = Whole(20, 12, 48, "Teeth of the driver", page=5, of="driver")
    driven_teeth = Whole(30, 12, 48, "Teeth of the driven gear", page=5, of="driven")
    module, diametral_pitch = tooth_size()
    driver_cone_angle = _cone_angle("driver", "Cone angle of the driver")
    driven_cone_angle = _cone_angle("driven", "Cone angle of the driven gear")
    shaft_angle = Measure(
        90.0,
        60.0,
        120.0,
        "Angle of the shafts",
        unit="degrees",
        step=1.0,
        page=5.0,
        places=1,
        home=90.0,
        about="Angle between the axes",
    )
    side = Choice(
        "above",
        {"above": "above the driver\u2019s axis", "below": "below the driver\u2019s axis"},
        "The driven gear is",
        about="Where the driven gear is at first, from the driver's axis",
    )
    view = Choice(
        "side",
        {"side": "square to both axes", "faces": "each from the apex"},
        "Seen",
        about="From where the gears are seen at first",
    )

    secrets = ("driver_cone_angle", "driven_cone_angle")
    part_of_design = Part("bevel", lambda *given: _taken(*given), lambda *given: _given(*given))

    @property
    def pair(self) -> BevelPair:
        """The bevel gears that the cones should be."""
        return self.shown.subject.pair

    @property
    def done(self) -> bool:
        """True if the cones touch all along and their large circles meet, to 0.3 degrees."""
        return self.shown.subject.rolling

    def state(self, inputs: Inputs) -> State:
        driver, driven, shafts = inputs.driver_teeth, inputs.driven_teeth, inputs.shaft_angle
        angles, side = (
            (inputs.driver_cone_angle, inputs.driven_cone_angle),
            1 if inputs.side == "above" else -1,
        )
        pair = BevelPair(driver, driven, shaft_angle=shafts, **self.size_of(inputs))
        scene = views.cones(
            driver,
            driven,
            pair.scale,
            *angles,
            shaft_angle=shafts,
            side=side,
            unit=pair.unit,
            turning=inputs.driver_speed or 1.0,
            seen=inputs.view,
        )
        rolls = rolling(driver, driven, *angles, shafts)
        cones = Cones(pair, gap(*angles, shafts), rolls, pair.speed(float(inputs.driver_speed), side))
        readout = [_as_set(cones, shafts)]
        readout += _as_gears(cones)
        told = [task(TASK), *(_rolling(cones, inputs) if rolls else [_apart(cones, inputs)])]
        return State(inputs, scene, f"Cones for {driver} and {driven} teeth", readout, told, cones)

    def reason(self, word: str, state: State):
        extra: dict[str, Any] = {}
        if word == "output_speed":
            extra = {"driver_speed": abs(float(state.inputs.driver_speed))}
        return state.subject.pair.explain(word, **extra)


def _table(design: Design, name: str) -> BevelTable:
    return next(table for table in design.bevels if table.name == name)


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A bevel pair with the cones that its gears have."""
    table = _table(design, name)
    pair = design.bevel_of(table)
    driver, driven = (round(angle, 9) for angle in pair.cone_angles)
    return {
        **in_its_unit(design, table),
        "driver_teeth": table.teeth[0],
        "driven_teeth": table.teeth[1],
        "shaft_angle": table.shaft_angle,
        "driver_cone_angle": driver,
        "driven_cone_angle": driven,
    }


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The edits of counts and shaft angle; the cones of its gears follow from them."""
    fields = {"teeth": (inputs.driver_teeth, inputs.driven_teeth), "shaft_angle": inputs.shaft_angle}
    is_mitre = design.mitre is not None and design.mitre.name == name
    return {"mitre": fields} if is_mitre else {"bevel": {name: fields}}


def _as_set(cones: Cones, shaft_angle: float) -> dict:
    n = Cells({}, cones.pair.unit)
    rows = [
        row("both cone angles together", n.angle("cone_sum", shaft_angle - cones.gap, 1)),
        row("gap between the cones", n.angle("gap", cones.gap, 1, alarm=cones.gap < -NEAR)),
    ]
    return group("As they are set", rows)


def _as_gears(cones: Cones) -> list[dict]:
    n, sides, out = Cells(cones.pair.numbers, cones.pair.unit), ("driver", "driven"), cones.output_speed
    gears = [
        row("cone angle", *(n.angle(f"{side}_cone_angle") for side in sides)),
    ]
    if not cones.rolling:
        return [group("The gears", gears, ("A driver", "B driven"))]
    gears += [
        row("outside diameter", *(n.length(f"{side}_cone_outside_diameter") for side in sides)),
        row("apex to large circle, along the axis", *(n.length(f"{side}_apex_distance") for side in sides)),
    ]
    pair = [
        row("cone distance", n.length("cone_distance")),
        row("largest usual face", n.length("largest_face")),
        row("output shaft, seen from above", speed_cell("output_speed", out, explained=bool(out))),
    ]
    return [group("The gears", gears, ("A driver", "B driven")), group("The pair", pair)]


def _rolling(cones: Cones, inputs: Inputs) -> list[dict]:
    pinion, wheel = (
        f"{numerals.number(angle, 1)}\u00b0" for angle in (inputs.driver_cone_angle, inputs.driven_cone_angle)
    )
    rolls = good(f"pinion cone {pinion}, wheel cone {wheel}, apexes together: they roll.")
    if not cones.output_speed:
        return [rolls]
    way = "counter-clockwise" if cones.output_speed > 0 else "clockwise"
    turns = note(
        f"with the driven gear {inputs.side} the axis, its shaft seen from above turns {way}. Two gears on"
        " one driver, above and below, would turn that shaft opposite ways."
    )
    return [turns, rolls]


def _apart(cones: Cones, inputs: Inputs) -> dict:
    size, wanted = numerals.number(abs(cones.gap), 1), numerals.plain(inputs.shaft_angle, 1)
    if cones.gap > NEAR:
        return note(
            f"a gap of {size}\u00b0 is left between the cones: together their angles must be {wanted}\u00b0."
        )
    if cones.gap < -NEAR:
        return note(f"the cones overlap by {size}\u00b0: together their angles must be {wanted}\u00b0.")
    slim = "slimmer" if inputs.driver_cone_angle > cones.pair.cone_angles[0] else "wider"
    return note(
        "they touch, but their large circles do not meet: where they touch, their radii are not in the"
        f" ratio of the teeth. Make the driver\u2019s cone {slim}, the other one as much the other way."
    )
