"""Measuring a gear without its drawing: caliper jaws over several teeth, over the tips, over two pins."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.jaws import NEAR, rest, said, span_limits
from ...parts import Gear
from ..box import SPOKEN
from .undeclared import (
    Explorer,
    State,
    cell,
    choice,
    group,
    measure,
    one_of,
    remark,
    row,
    tooth_size,
    whole,
    within,
)

WAYS = {"span": "over several teeth", "tips": "over the tips", "pins": "over two pins"}
COUNTS = (8, 80)
OPEN = 0.55  # how far from rest the jaws stand at first [modules]
REACH = 1.2  # how far from rest they can be moved [modules]


class Jaws(Explorer):
    """A gear between the jaws of a caliper, which are opened and closed by hundredths of a millimetre.

    Only when the jaws touch does the readout say what they measure; ``opening`` is what the caliper reads.

    Parameters
    ----------
    teeth : int
        Number of teeth, 8 to 80 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    way : str
        What is measured at first: "span" (over several teeth), "tips" or "pins" [-].
    span_teeth : int, optional
        Teeth between the jaws of a span, which is also the task; the usual number if left out [-].
    opening : float, optional
        How far the jaws are open at first; left out, half a module too far [mm or in].
    pin_diameter : float, optional
        Of the pins; 1.728 modules if left out [mm or in].
    tooth_thinning : float
        How much thinner than standard the teeth are cut on the pitch circle, 0 to 0.3 modules [mm or in].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> jaws = Jaws(19, module=2.5)
    >>> jaws.opening = 19.12
    >>> jaws.warnings[-1]["kind"], jaws.touching
    ('good', True)
    """

    way = traitlets.Unicode("span").tag(sync=True)
    span_teeth = traitlets.Int(3).tag(sync=True)
    opening = traitlets.Float(20.5).tag(sync=True)
    inputs = ("way", "span_teeth", "opening")

    def __init__(
        self,
        teeth: int = 19,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        way: str = "span",
        span_teeth: int | None = None,
        opening: float | None = None,
        pin_diameter: float | None = None,
        tooth_thinning: float = 0.0,
    ):
        unit, size = tooth_size(module, diametral_pitch)
        within("teeth", teeth, *COUNTS, "teeth")
        one_of("way", way, WAYS)
        within("tooth_thinning", tooth_thinning, 0.0, 0.3 * Gear(teeth, **size).scale, unit)
        self.gear = Gear(teeth, **size, tooth_thinning=tooth_thinning)
        self.pin_diameter = 1.728 * self.gear.scale if pin_diameter is None else pin_diameter
        self._limits = span_limits(self.gear)
        self._wanted_teeth = self.gear.span_teeth if span_teeth is None else span_teeth
        self._steady = None  # what the opening was set for
        self.way, self.span_teeth = way, self._wanted_teeth
        self._task_way = way
        rest(self.gear, "pins", pin_diameter=self.pin_diameter)  # refuses a pin that does not measure
        super().__init__(
            playing=False, driver_speed=0.0, opening=self._start() if opening is None else opening
        )
        self._steady = self.way, self.span_teeth

    @traitlets.validate("way", "span_teeth")
    def _checked(self, proposal):
        if proposal.trait.name == "way":
            one_of("way", proposal.value, WAYS)
        else:
            within("span_teeth", proposal.value, *self._limits, "teeth")
        return proposal.value

    @traitlets.validate("opening")
    def _checked_opening(self, proposal):
        within("opening", proposal.value, *self._reach(), self.gear.unit)
        return proposal.value

    @property
    def found(self):
        """Where the jaws come to rest."""
        return rest(self.gear, self.way, teeth=self.span_teeth, pin_diameter=self.pin_diameter)

    @property
    def touching(self) -> bool:
        """Whether the jaws touch, within 0.012 modules (0.03 mm at module 2.5) [-]."""
        return abs(self.opening - self.found.opening) <= NEAR * self.gear.scale

    def _places(self) -> int:
        return 2 if self.gear.unit == "mm" else 3

    def _start(self) -> float:
        return round(self.found.opening + OPEN * self.gear.scale, 1 if self.gear.unit == "mm" else 2)

    def _reach(self) -> tuple[float, float]:
        about, size, places = self.found.opening, self.gear.scale, self._places()
        return round(about - REACH * size, places), round(about + REACH * size, places)

    def _tidy(self):
        if self._steady != (self.way, self.span_teeth):
            self._steady = self.way, self.span_teeth
            self.opening = self._start()

    def _state(self) -> State:
        gear, unit, found = self.gear, self.gear.unit, self.found
        scene = views.jaws(
            gear,
            self.opening,
            way=self.way,
            teeth=self.span_teeth,
            pin_diameter=self.pin_diameter,
            room=self._reach()[1],
        )
        step, page = (0.01, 0.1) if unit == "mm" else (0.001, 0.01)
        controls = [choice("way", "Measure", list(WAYS.items()))]
        if self.way == "span":
            controls.append(
                whole("span_teeth", "Teeth between the jaws", *self._limits, page=1, spoken="teeth")
            )
        controls.append(
            measure(
                "opening",
                "Opening of the caliper",
                *self._reach(),
                step,
                page=page,
                places=self._places(),
                unit=unit,
                spoken=SPOKEN[unit],
                of="",
                home=self._start(),
            )
        )
        return State(
            scene,
            f"{gear.teeth} teeth, {numerals.pitch_name(gear)}, {WAYS[self.way]}",
            self._readout(found),
            self._remarks(found),
            controls,
        )

    def _readout(self, found) -> list[dict]:
        unit, n = self.gear.unit, self.gear.numbers

        def length(word: str, value: float | None = None, **options) -> dict:
            value = n[word] if value is None else value
            return cell(word, value, numerals.length(value, unit), **options)

        caliper = [row("reads", length("opening", self.opening, explained=False))]
        if self.way == "pins":
            caliper.append(
                row("diameter of the pins", length("pin_diameter", self.pin_diameter, explained=False))
            )
        circles = [
            row("pitch radius", length("pitch_radius")),
            row("base radius", length("base_radius")),
            row("outside radius", length("outside_radius")),
        ]
        tables = [group("The caliper", caliper), group("The gear", circles)]
        if self.touching:
            tables.append(group("What the jaws measure", self._measured(found, length)))
        return tables

    def _measured(self, found, length) -> list[dict]:
        gear, exact = self.gear, self.gear.numbers_with(**self._extra())
        rows = []
        if self.way == "span" and found.on == "flanks":
            rows = [
                row(f"span over {self.span_teeth} teeth", length("span", exact["span"])),
                row("touching at radius", length("touching_radius", found.radius, explained=False)),
                row("one tooth more adds a base pitch", length("base_pitch")),
            ]
        elif self.way == "span":
            rows = [
                row("tip corner to tip corner", length("touching_radius", found.opening, explained=False))
            ]
        elif self.way == "tips":
            rows = [
                row(
                    "flat jaws over the tips",
                    length("across_tips", found.opening, explained=gear.teeth % 2 == 1),
                )
            ]
            if gear.teeth % 2:
                rows += [
                    row(
                        "to the line of two tip middles",
                        length("across_tip_middles", exact["across_tip_middles"]),
                    ),
                    row("outside diameter", length("outside_diameter")),
                ]
        else:
            rows = [
                row("size over the pins", length("over_pins", exact["over_pins"])),
                row("touching at radius", length("touching_radius", found.radius, explained=False)),
            ]
        return rows

    def _remarks(self, found) -> list[dict]:
        gear = self.gear
        task = {
            "span": (
                f"set the span over {self._wanted_teeth} teeth: close the jaws until they just touch the"
                " flanks."
            ),
            "tips": "close the jaws until they just touch the tips, and compare with the outside diameter.",
            "pins": "close the jaws until they just touch both pins.",
        }[self._task_way]
        told = [remark("task", task)]
        words = said(gear, found, self.opening, self.way)
        off = self.opening - found.opening
        if not self.touching:
            told.append(
                remark(
                    "note" if off > 0 else "stop", words + (": close them." if off > 0 else ": open them.")
                )
            )
        elif self.way == "span" and found.on != "flanks":
            told.append(
                remark("warning", f"{words}: on corners, which tell nothing of the flanks. Take fewer teeth.")
            )
        elif self.way == self._task_way and (self.way != "span" or self.span_teeth == self._wanted_teeth):
            told.append(
                remark("good", f"{words}; the caliper reads {numerals.length(self.opening, gear.unit)}.")
            )
        else:
            told.append(remark("note", f"{words}."))
        if self.touching and self.way == "tips" and gear.teeth % 2:
            short = numerals.length(gear.outside_diameter - found.opening, gear.unit)
            told.append(
                remark(
                    "note",
                    f"no tooth stands opposite a tooth, so the reading is {short} less than the outside"
                    " diameter.",
                )
            )
        return told

    def _extra(self) -> dict[str, float]:
        return {
            "span": {"span_teeth": float(self.span_teeth)},
            "tips": {},
            "pins": {"pin_diameter": float(self.pin_diameter)},
        }[self.way]

    def _derivation(self, word: str):
        return self.gear.explain(word, **(self._extra() if word in ("span", "over_pins") else {}))

    def __repr__(self) -> str:
        return f"Jaws({self.gear.teeth} teeth, {numerals.pitch_name(self.gear)})"
