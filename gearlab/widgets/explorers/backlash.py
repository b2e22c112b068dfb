"""How much play there is: carry the wheel along the line of centres and watch the gap at the pitch point."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from ...drawing import numerals, views
from ...parts import Mesh
from ...parts.design import Design
from .controls import Length, Scale, Whole, tooth_size
from .explorer import Explorer, State
from .pair import LEAST_CONTACT, TEETH
from .part import Part, at_distance, distance_of, mesh_named, pair_taken
from .state import Cells, Inputs, good, group, note, row, stop, task, warning

NEAR = 0.12  # how far from the wanted backlash still counts as met, as a share of it
START, CLOSEST, WIDEST = 0.5, -0.12, 0.8  # of the shafts about the touching of the pitch circles [modules]
STEPS = {"mm": (0.01, 0.1, 2), "in": (0.0005, 0.005, 4)}


def _reach(gauge: BacklashGauge, _inputs: Inputs) -> Scale:
    right, scale, steps = gauge.right_distance, gauge.driver.scale, STEPS[gauge.length_unit]
    usual, low, high = (round(right + modules * scale, steps[2]) for modules in (START, CLOSEST, WIDEST))
    return Scale(usual, low, high, *steps)


def _wanted(usual: float) -> Scale:
    return Scale(0.04 * usual, 0.001 * usual, 0.3 * usual)


class BacklashGauge(Explorer):
    """The mesh of two gears, much enlarged.

    The shafts are moved until the gap has the backlash that is wanted.

    ``mesh`` is the pair as it stands.

    Examples
    --------
    >>> gauge = BacklashGauge(18, 45, module=2.5, centre_distance=80.0)
    >>> round(gauge.value("backlash"), 3)
    0.977
    >>> gauge.centre_distance = 78.89
    >>> gauge.warnings[1]["kind"]
    'good'
    """

    positional = 2
    driver_teeth = Whole(18, *TEETH, about="Teeth of the driver", fixed=True)
    driven_teeth = Whole(45, *TEETH, about="Teeth of the driven gear", fixed=True)
    module, diametral_pitch = tooth_size()
    centre_distance = Length(
        "Centre distance",
        _reach,
        home="first",
        about="Where the shafts are at first, from 0.12 modules nearer than the touching of the pitch"
        " circles to 0.8 modules further; left out, half a module further",
    )
    wanted_backlash = Length(
        scale=lambda gauge, inputs: _wanted(gauge.scale_of(inputs)),
        about="Backlash of the task, 0.001 to 0.3 modules; left out, 0.04 modules, which is 0.10 mm at module"
        " 2.5",
        fixed=True,
    )

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        mesh = self.pair_of(self.now(), 0.0)
        self.driver, self.driven = mesh.driver, mesh.driven
        self.right_distance = mesh.reference_centre_distance

    @property
    def mesh(self) -> Mesh:
        """The pair as it stands."""
        return self.shown.subject

    def state(self, inputs: Inputs) -> State:
        mesh, driver = Mesh(self.driver, self.driven, inputs.centre_distance), self.driver
        scene = views.backlash(mesh, control="centre_distance")
        heading = (
            f"{driver.teeth} and {self.driven.teeth} teeth, {numerals.pitch_name(driver)}: the gap, enlarged"
        )
        n = Cells(mesh.numbers, mesh.unit)
        rock = [row("can rock by", _play_angle(n, "driver"), _play_angle(n, "driven"))]
        readout = [
            _spacing(mesh, n),
            _play(mesh, n),
            group("The other gear held still", rock, ("A driver", "B driven")),
        ]
        return State(inputs, scene, heading, readout, list(self._remarks(mesh)), mesh)

    def _remarks(self, mesh: Mesh) -> Iterator[dict]:
        unit, play, wanted = mesh.unit, mesh.backlash, self.wanted_backlash
        near = numerals.length(NEAR * wanted, unit)
        yield task(f"set the centre distance for {numerals.length(wanted, unit)} of backlash, within {near}.")
        lack = wanted - play
        if play < 0:
            yield stop(
                f"the teeth would overlap by {numerals.length(-play, unit)}: this pair jams. Move the shafts"
                " apart."
            )
        elif abs(lack) <= NEAR * wanted:
            distance = numerals.length(mesh.numbers["centre_distance"], unit)
            yield good(
                f"{numerals.length(play, unit)} of backlash at a centre distance of {distance}. The ratio is"
                f" still {numerals.plain(mesh.ratio, 4)}."
            )
        else:
            way = "too little: move the shafts apart." if lack > 0 else "too much: bring the shafts nearer."
            yield note(f"{numerals.length(abs(lack), unit)} {way}")
        contact = numerals.number(mesh.contact_ratio, 2)
        if mesh.contact_ratio < 1:
            yield stop(
                f"contact ratio {contact}, below 1: one pair of teeth lets go before the next takes over."
            )
        elif mesh.contact_ratio < LEAST_CONTACT:
            yield warning(
                f"contact ratio {contact}, below {LEAST_CONTACT}: hardly anything in reserve when one pair of"
                " teeth hands over to the next."
            )


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A mesh with its distance; the play that is wanted is the middle of what the design says."""
    pair = mesh_named(design, name)
    limits = [limit for limit in (pair.least_backlash, pair.most_backlash) if limit is not None]
    wanted = sum(limits) / len(limits) if limits else None
    distance = distance_of(design, name)
    return {**pair_taken(design, name), "centre_distance": distance, "wanted_backlash": wanted}


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    return {"shaft": at_distance(design, name, inputs.centre_distance)}


def _spacing(mesh: Mesh, n: Cells) -> dict:
    opening = n["centre_distance"] - mesh.reference_centre_distance
    rows = [
        row("centre distance", n.length("centre_distance", explained=False)),
        row("pitch circles would touch at", n.length("reference_centre_distance")),
        row("opened by", n.length("distance_opening", opening, explained="distance_opening" in n.numbers)),
        row("operating pressure angle", n.angle("operating_pressure_angle")),
        row("contact ratio", n.number("contact_ratio", alarm=n["contact_ratio"] < LEAST_CONTACT)),
        row("driver turns per driven turn", n.plain("ratio")),
    ]
    return group("The centre distance", rows)


def _play(mesh: Mesh, n: Cells) -> dict:
    opening = n["centre_distance"] - mesh.reference_centre_distance
    quick = 2 * opening * math.tan(math.radians(mesh.driver.pressure_angle))
    known = "quick_backlash" in n.numbers
    rows = [
        row(
            "backlash, on the operating pitch circles",
            n.length("backlash", mesh.backlash, explained=True, alarm=mesh.backlash < 0),
        ),
        row("backlash, on the pitch circles", n.length("pitch_circle_backlash")),
        row("backlash, along the line of action", n.length("backlash_along_action")),
        row("backlash, quick estimate", n.length("quick_backlash", quick, explained=known)),
    ]
    return group("The backlash", rows)


def _play_angle(n: Cells, side: str) -> dict:
    word = f"{side}_play_angle"
    return (
        n.said(word, n[word], "jams", explained=True, alarm=True) if n[word] < 0 else n.angle(word, places=3)
    )
