"""Measuring a gear without its drawing: caliper jaws over several teeth, over the tips, over two pins."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from ...drawing import numerals, views
from ...drawing.views.jaws import NEAR, Rest, in_words, rest, span_limits
from ...parts import Gear
from ...parts.design import Design
from .controls import Choice, Length, Scale, Whole, WholeWithin, tooth_size
from .explorer import Explorer, State
from .part import Part, spur
from .state import Cells, Inputs, good, group, note, row, stop, task, warning

WAYS = {"span": "over several teeth", "tips": "over the tips", "pins": "over two pins"}
OPEN = 0.55  # how far from rest the jaws stand at first [modules]
REACH = 1.2  # how far from rest they can be moved [modules]
QUANTITIES = {"span": "span", "tips": "outside_diameter", "pins": "over_pins"}  # that a caliper reads
TOUCHES = 0.15  # how far from rest a reading of teeth may be [modules]
STEPS = {"mm": (0.01, 0.1, 2), "in": (0.001, 0.01, 3)}
TASKS = {
    "span": "set the span over {teeth} teeth: close the jaws until they just touch the flanks.",
    "tips": "close the jaws until they just touch the tips, and compare with the outside diameter.",
    "pins": "close the jaws until they just touch both pins.",
}

at_rest = lru_cache(maxsize=64)(rest)


def _reach(jaws: Jaws, inputs: Inputs) -> Scale:
    """About where the jaws come to rest; at first, half a module too far open."""
    about, size, steps = jaws.rest(inputs).opening, jaws.gear.scale, STEPS[jaws.length_unit]
    start = round(about + OPEN * size, steps[2] - 1)
    low, high = round(about - REACH * size, steps[2]), round(about + REACH * size, steps[2])
    return Scale(start, low, high, *steps, home=start)


class Jaws(Explorer):
    """A gear between the jaws of a caliper, which are opened and closed by hundredths of a millimetre.

    Only when the jaws touch does the readout say what they measure; ``opening`` is what the caliper reads.

    Examples
    --------
    >>> jaws = Jaws(19, module=2.5)
    >>> jaws.opening = 19.12
    >>> jaws.warnings[-1]["kind"], jaws.touching
    ('good', True)
    """

    positional, words = 1, ("touching_radius",)
    teeth = Whole(19, 8, 80, about="Number of teeth", fixed=True)
    module, diametral_pitch = tooth_size()
    way = Choice("span", WAYS, "Measure", about="What is measured at first")
    span_teeth = WholeWithin(
        lambda jaws, _: Scale(jaws.gear.span_teeth, *span_limits(jaws.gear), 1, 1),
        "Teeth between the jaws",
        when=lambda _, inputs: inputs.way == "span",
        about="Teeth between the jaws of a span, which is also the task; the usual number if left out",
    )
    opening = Length(
        "Opening of the caliper",
        _reach,
        about="How far the jaws are open at first; left out, half a module too far",
    )
    tooth_thinning = Length(
        scale=lambda jaws, inputs: Scale(0.0, 0.0, 0.3 * jaws.scale_of(inputs)),
        about="How much thinner than standard the teeth are cut on the pitch circle, 0 to 0.3 modules",
        fixed=True,
    )
    pin_diameter = Length(
        scale=lambda jaws, inputs: Scale(1.728 * jaws.scale_of(inputs), 0.0, 0.0),
        free=True,
        about="Diameter of the pins; 1.728 modules if left out",
        fixed=True,
    )

    secrets = ("span", "over_pins", "across_tips", "across_tip_middles", "touching_radius")
    part_of_design = Part("gear", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        self.gear = Gear(
            self.teeth,
            **self.size_of(self.now()),
            **{**self._cut_as.get("teeth", {}), "tooth_thinning": self.tooth_thinning},
        )
        at_rest(self.gear, "pins", pin_diameter=self.pin_diameter)  # refuses a pin that does not measure

    def rest(self, inputs: Inputs) -> Rest:
        """Where the jaws come to rest."""
        return at_rest(self.gear, inputs.way, teeth=inputs.span_teeth, pin_diameter=self.pin_diameter)

    @property
    def found(self) -> Rest:
        """Where the jaws come to rest."""
        return self.rest(self.shown.inputs)

    @property
    def touching(self) -> bool:
        """Whether the jaws touch, within 0.012 modules (0.03 mm at module 2.5)."""
        return self._touching(self.shown.inputs)

    def _touching(self, inputs: Inputs) -> bool:
        return abs(inputs.opening - self.rest(inputs).opening) <= NEAR * self.gear.scale

    def task_done(self, state: State, word: str) -> bool:
        """What the jaws measure is told where they touch, on whichever teeth."""
        return self._touching(state.inputs)

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        if before and (before.way, before.span_teeth) != (inputs.way, inputs.span_teeth):
            return inputs.but(opening=_reach(self, inputs).usual)
        return inputs

    def state(self, inputs: Inputs) -> State:
        gear = self.gear
        scene = views.jaws(
            gear,
            inputs.opening,
            way=inputs.way,
            teeth=inputs.span_teeth,
            pin_diameter=self.pin_diameter,
            room=_reach(self, inputs).high,
        )
        heading = f"{gear.teeth} teeth, {numerals.pitch_name(gear)}, {WAYS[inputs.way]}"
        return State(inputs, scene, heading, self._readout(inputs), list(self._remarks(inputs)), gear)

    def _readout(self, inputs: Inputs) -> list[dict]:
        n = Cells(self.gear.numbers, self.gear.unit)
        caliper = [row("reads", n.length("opening", inputs.opening))]
        if inputs.way == "pins":
            caliper.append(row("diameter of the pins", n.length("pin_diameter", self.pin_diameter)))
        circles = [row(f"{kind} radius", n.length(f"{kind}_radius")) for kind in ("pitch", "base", "outside")]
        tables = [group("The caliper", caliper), group("The gear", circles)]
        tables.append(group("What the jaws measure", self._measured(inputs)))
        return tables

    def _measured(self, inputs: Inputs) -> list[dict]:
        resting, odd = self.rest(inputs), self.gear.teeth % 2 == 1
        n = Cells(self.gear.numbers_with(**self._measure(inputs)), self.gear.unit)
        if inputs.way == "pins":
            return [
                row("size over the pins", n.length("over_pins")),
                row("touching at radius", n.length("touching_radius", resting.radius)),
            ]
        if inputs.way == "tips":
            rows = [row("flat jaws over the tips", n.length("across_tips", resting.opening, explained=odd))]
            if odd:
                rows += [
                    row("to the line of two tip middles", n.length("across_tip_middles")),
                    row("outside diameter", n.length("outside_diameter")),
                ]
            return rows
        if resting.on != "flanks":
            return [row("tip corner to tip corner", n.length("touching_radius", resting.opening))]
        return [
            row(f"span over {inputs.span_teeth} teeth", n.length("span")),
            row("touching at radius", n.length("touching_radius", resting.radius)),
            row("one tooth more adds a base pitch", n.length("base_pitch")),
        ]

    def _remarks(self, inputs: Inputs) -> Iterator[dict]:
        gear, resting, first = self.gear, self.rest(inputs), self.first
        touching, tips = self._touching(inputs), inputs.way == "tips"
        yield task(TASKS[first.way].format(teeth=first.span_teeth))
        words = in_words(gear, resting, inputs.opening, inputs.way)
        as_asked = inputs.way == first.way and (inputs.way != "span" or inputs.span_teeth == first.span_teeth)
        if not touching:
            yield (
                note(f"{words}: close them.")
                if inputs.opening > resting.opening
                else stop(f"{words}: open them.")
            )
        elif inputs.way == "span" and resting.on != "flanks":
            yield warning(f"{words}: on corners, which tell nothing of the flanks. Take fewer teeth.")
        elif as_asked:
            yield good(f"{words}; the caliper reads {numerals.length(inputs.opening, gear.unit)}.")
        else:
            yield note(f"{words}.")
        if touching and tips and gear.teeth % 2:
            short = numerals.length(gear.outside_diameter - resting.opening, gear.unit)
            yield note(
                f"no tooth is opposite a tooth, so the reading is {short} less than the outside diameter."
            )

    def _measure(self, inputs: Inputs) -> dict[str, Any]:
        """What is given beside the gear."""
        if inputs.way == "span":
            return {"span_teeth": float(inputs.span_teeth)}
        return {"pin_diameter": self.pin_diameter} if inputs.way == "pins" else {}

    def extra(self, word: str, state: State) -> dict[str, Any]:
        return self._measure(state.inputs) if word in ("span", "over_pins") else {}

    def _named(self) -> str:
        return f"{self.gear.teeth} teeth, {numerals.pitch_name(self.gear)}"


def _pins(design: Design, name: str) -> float:
    """Diameter of the pins: those of the reading over pins, else the usual ones [unit]."""
    reading = design.reading(name, "over_pins")
    if reading is not None and reading.pin_diameter is not None:
        return reading.pin_diameter
    return 1.728 * design.gears[name].scale


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A gear, and what was measured of its teeth already, if anything was."""
    thinning = design.of(name).tooth_thinning
    taken = {**spur(design, name), "tooth_thinning": thinning, "pin_diameter": _pins(design, name)}
    reading = design.reading(name, *QUANTITIES.values())
    if reading is None:
        return taken
    way = next(way for way, quantity in QUANTITIES.items() if quantity == reading.quantity)
    return {**taken, "way": way, "opening": reading.value, "span_teeth": reading.over}


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """What the caliper reads, as measured of the gear; ValueError for jaws that stand open."""
    gear, pins, quantity = design.gears[name], _pins(design, name), QUANTITIES[inputs.way]
    unit, opening = design.unit, inputs.opening
    resting = at_rest(gear, inputs.way, teeth=inputs.span_teeth, pin_diameter=pins)
    if abs(opening - resting.opening) > TOUCHES * gear.scale:
        raise ValueError(
            f"the jaws are at {numerals.length(opening, unit)} and would touch the teeth at"
            f" {numerals.length(resting.opening, unit)}; close them, or set what the caliper reads"
        )
    if inputs.way == "tips" and gear.teeth % 2:
        raise ValueError(
            f"over the tips of {gear.teeth} teeth, an odd number, jaws do not read the outside diameter;"
            " measure over several teeth or over pins"
        )
    before = design.reading(name, quantity)
    reads_to = STEPS[unit][0] if before is None else before.reads_to
    reading: dict[str, Any] = {"part": name, "quantity": quantity, "value": opening, "reads_to": reads_to}
    if inputs.way == "span":
        reading["over"] = inputs.span_teeth
    if inputs.way == "pins":
        reading["pin_diameter"] = pins
    return {"measured": {f"{name} {quantity}": reading}}
