"""Everything about a pair of gears, and why."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from ...drawing import numerals, views
from ...parts import Mesh
from ...parts.design import Design
from ...theory.units import MM_PER_INCH, SPOKEN
from .controls import Choice, Length, Open, Scale, Switch, Whole, angles, tooth_size
from .explorer import Explorer, State
from .part import Part, counts_given, mesh_named, opening_of, pair_taken, touching_for
from .state import Cells, Inputs, group, note, row, speed_cell, stop, warning

TEETH = (6, 160)
ANGLES = {"full depth": (14.5, 20.0, 25.0), "stub": (20.0,), "fine pitch": (20.0,)}
ERROR = {"mm": Scale(0.0, -2.0, 2.0, 0.05, 0.5, 2), "in": Scale(0.0, -0.08, 0.08, 0.002, 0.02, 3)}
FINE_FROM = 20.0  # DP from which ANSI B6.7 calls a pitch fine
LEAST_CONTACT = 1.2  # contact ratio that shop practice asks for (common practice)
OF_A_TOOTH = (
    "circular_pitch",
    "base_pitch",
    "tooth_thickness",
    "addendum",
    "dedendum",
    "whole_depth",
    "working_depth",
    "clearance",
)


class PairExplorer(Explorer):
    """A pair of spur gears: choose teeth, pitch, tooth system and spacing; see it turn and read every number.

    Every number of the readout opens its reason. ``mesh`` is the pair as it stands.

    Examples
    --------
    >>> explorer = PairExplorer(18, 45, module=2.5)
    >>> explorer.value("centre_distance"), explorer.value("driven_speed")
    (78.75, -6.0)
    >>> explorer.driver_teeth = 19
    >>> explorer
    PairExplorer(19 and 45 teeth, module 2.5)
    """

    speed, plays, positional = 15.0, True, 2
    driver_teeth = Whole(18, *TEETH, "Teeth of the driver", of="driver")
    driven_teeth = Whole(45, *TEETH, "Teeth of the driven gear", of="driven")
    centre_distance_error = Length(
        "Centre distance, off by",
        mm=ERROR["mm"],
        inch=ERROR["in"],
        about="How much further apart the shafts are than they should be",
    )
    module, diametral_pitch = tooth_size(control=True)
    size_by = Choice(
        "mm",
        {"mm": "module, in millimetres", "in": "diametral pitch, in inches"},
        "Size of the teeth by",
        first=lambda explorer, _: explorer.length_unit,
        argument=False,
    )
    tooth_system = Choice(
        "full depth", tuple(ANGLES), "Tooth system", about="Tooth system; never guessed from the pitch"
    )
    pressure_angle = Open(
        20.0,
        lambda _, inputs: angles(*sorted({*ANGLES[inputs.tooth_system], inputs.pressure_angle})),
        "Pressure angle",
        about="Pressure angle; 14.5, 20 and 25 are offered for full depth, 20 for the others [deg]",
    )
    contact = Switch(False, "Show where the teeth touch", argument=False)

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        self.size_by = self.length_unit

    def unit_of(self, inputs: Inputs) -> str:
        return inputs.size_by

    @property
    def mesh(self) -> Mesh:
        """The pair as it stands."""
        return self.shown.subject

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        if before is None:
            return inputs
        if abs(inputs.centre_distance_error) > ERROR[inputs.size_by].high:
            inputs = inputs.but(centre_distance_error=0.0)  # millimetres left over after a change to inches
        offered = ANGLES[inputs.tooth_system]
        if inputs.tooth_system != "full depth" and inputs.pressure_angle not in offered:
            inputs = inputs.but(pressure_angle=offered[0])
        return inputs

    def state(self, inputs: Inputs) -> State:
        mesh = self.pair_of(
            inputs,
            inputs.centre_distance_error,
            pressure_angle=inputs.pressure_angle,
            tooth_system=inputs.tooth_system,
        )
        driver, driven = mesh.driver, mesh.driven
        show = ("pitch circles", "base circles", "line of action") if inputs.contact else ("pitch circles",)
        scene = views.pair(mesh, driver_speed=inputs.driver_speed, show=show)
        heading = f"{driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}"
        readout = [_pair(mesh), _gears(mesh, inputs.driver_speed), _teeth(mesh)]
        return State(inputs, scene, heading, readout, remarks(mesh), mesh)

    def extra(self, word: str, state: State) -> dict[str, Any]:
        return {"driver_speed": state.inputs.driver_speed} if word == "driven_speed" else {}

    def _named(self) -> str:
        return f"{self.driver_teeth} and {self.driven_teeth} teeth, {numerals.pitch_name(self.mesh.driver)}"


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A mesh of a design as the arguments of the explorer."""
    driver = design.of(mesh_named(design, name).driver)
    return {
        **pair_taken(design, name),
        "pressure_angle": driver.pressure_angle,
        "tooth_system": driver.tooth_system,
        "centre_distance_error": opening_of(design, name),
    }


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The edits that bring a mesh to the numbers shown: both gears, and the driven shaft at its distance."""
    if inputs.size_by != design.unit:
        raise ValueError(
            f"its lengths are in {SPOKEN[design.unit]}, teeth here in {SPOKEN[inputs.size_by]}; choose the"
            f" size of the teeth by {'module' if design.unit == 'mm' else 'diametral pitch'}"
        )
    size = (
        {"module": inputs.module} if inputs.size_by == "mm" else {"diametral_pitch": inputs.diametral_pitch}
    )
    touch = touching_for(inputs.driver_teeth, inputs.driven_teeth, size)
    return counts_given(
        inputs,
        design,
        name,
        size=size,
        distance=touch + inputs.centre_distance_error,
        pressure_angle=inputs.pressure_angle,
        tooth_system=inputs.tooth_system,
    )


def _pair(mesh: Mesh) -> dict:
    n = Cells(mesh.numbers, mesh.unit)
    rows = [row("centre distance", n.length("centre_distance"))]
    if mesh.centre_distance != mesh.reference_centre_distance:
        rows.append(row("pitch circles touch at", n.length("reference_centre_distance")))
    rows += [
        row("driver turns per driven turn", n.plain("ratio")),
        row("contact ratio", n.number("contact_ratio", alarm=n["contact_ratio"] < LEAST_CONTACT)),
        row("operating pressure angle", n.angle("operating_pressure_angle")),
        row("backlash", n.length("backlash", mesh.backlash, explained=True, alarm=mesh.backlash < 0)),
    ]
    return group("The pair", rows)


def _gears(mesh: Mesh, driver_speed: float) -> dict:
    n = Cells(mesh.numbers, mesh.unit)
    speeds = (
        speed_cell("driver_speed", driver_speed, explained=False),
        speed_cell("driven_speed", mesh.speed(driver_speed)),
    )
    diameters = [
        row(f"{kind} diameter", n.length(f"driver_{kind}_diameter"), n.length(f"driven_{kind}_diameter"))
        for kind in ("outside", "pitch", "base", "root")
    ]
    # of teeth that were cut differently each gear has its own
    own = [
        row(word.replace("_", " "), n.length(f"driver_{word}"), n.length(f"driven_{word}"))
        for word in OF_A_TOOTH
        if word not in n.numbers
    ]
    return group("The gears", [row("speed", *speeds), *diameters, *own], ("A driver", "B driven"))


def _teeth(mesh: Mesh) -> dict:
    n = Cells(mesh.numbers, mesh.unit)
    rows = [row(word.replace("_", " "), n.length(word)) for word in OF_A_TOOTH if word in n.numbers]
    return group("The teeth", rows)


def remarks(mesh: Mesh) -> list[dict]:
    """What a careful person would say about a pair, most urgent first."""
    return [*_about_the_spacing(mesh), *_about_the_teeth(mesh), _about_the_counts(mesh)]


def _about_the_spacing(mesh: Mesh) -> Iterator[dict]:
    unit = mesh.unit
    if mesh.backlash < -1e-9 * mesh.driver.scale:
        less = mesh.reference_centre_distance - mesh.numbers["centre_distance"]
        yield stop(
            f"the shafts are {numerals.length(less, unit)} too close: the teeth would overlap by "
            f"{numerals.length(-mesh.backlash, unit)} and jam. Move the shafts apart."
        )
    contact = numerals.number(mesh.contact_ratio, 2)
    if mesh.contact_ratio < 1:
        yield stop(f"contact ratio {contact}, below 1: one pair of teeth lets go before the next takes over.")
    elif mesh.contact_ratio < LEAST_CONTACT:
        yield warning(
            f"contact ratio {contact}, below {LEAST_CONTACT}: the hand-over from pair to pair has little to"
            " spare, so small errors give knocks."
        )


def _about_the_teeth(mesh: Mesh) -> Iterator[dict]:
    driver = mesh.driver
    for name, gear in (("driver A", driver), ("driven gear B", mesh.driven)):
        if gear.undercut:
            yield warning(
                f"{name} with {gear.teeth} teeth is undercut: its cutter takes away part of the flank near"
                f" the root. At {numerals.plain(gear.pressure_angle)}\u00b0 {gear.tooth_system} it takes"
                f" {math.ceil(gear.numbers['least_teeth'])} teeth to be free of it."
            )
    if mesh.interference:
        yield warning(
            "a tip reaches past the end of the line of action: on gears that were not cut by a matching rack"
            " it would dig into the flank."
        )
    if "contact_ratio" in mesh.measured:
        yield note(
            "the contact ratio is measured on the cut teeth: the formula would count flank that is not there."
        )
    pitch = 1 / driver.scale if mesh.unit == "in" else MM_PER_INCH / driver.scale
    if pitch >= FINE_FROM and driver.tooth_system == "full depth":
        small = (
            f"P {numerals.plain(pitch)}"
            if mesh.unit == "in"
            else f"module {numerals.plain(driver.scale)}, which is P {numerals.plain(pitch, 2)},"
        )
        yield warning(
            f"{small} is a fine pitch (P 20 and up), and you chose full depth. Fine-pitch gears usually have"
            " the fine-pitch tooth with a deeper root; choose \u201cfine pitch\u201d if the gears are made"
            " so."
        )


def _about_the_counts(mesh: Mesh) -> dict:
    driver, driven = mesh.driver.teeth, mesh.driven.teeth
    common, turns = (int(mesh.numbers[word]) for word in ("common_factor", "driver_turns_to_repeat"))
    if common > 1:
        return note(
            f"{driver} and {driven} have the common factor {common}: the same two teeth meet again after"
            f" {turns} turn{'s' if turns > 1 else ''} of the driver."
        )
    return note(
        f"{driver} and {driven} have no common factor: a hunting pair, every tooth meets every space before"
        f" the same two meet again after {turns} turns of the driver."
    )
