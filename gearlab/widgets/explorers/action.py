"""Where the teeth push: a line through the pitch point, tilted until it touches both base circles."""

from __future__ import annotations

from typing import Any, NamedTuple

from ...drawing import numerals, views
from ...drawing.views.action import MOST_TILT, beside, clearances
from ...parts import Mesh
from ...parts.design import Design
from ...theory.derivation import Derivation
from .controls import Given, Measure, Whole, shafts_apart, tooth_size
from .explorer import Explorer, State
from .pair import TEETH
from .part import Part, at_distance, mesh_named, opening_of, pair_taken, scale_of, touching
from .state import Cells, Inputs, good, group, note, row, task

NEAR = 0.5  # of the pressure angle, that counts as touching [deg]


class Line(NamedTuple):
    """A line through the pitch point of a pair, and how far it passes outside the base circles [mm or in]."""

    mesh: Mesh
    gaps: tuple[float, float]


class LineOfAction(Explorer):
    """A pair and a line through its pitch point.

    Tilt it until it touches both base circles, then turn the driver.

    Examples
    --------
    >>> line = LineOfAction(18, 45, module=2.5, tilt=20)
    >>> round(line.value("tangent_point_distance"), 2), line.warnings[-1]["kind"]
    (26.93, 'good')
    """

    speed, positional, words = 3.0, 2, ("driver_distance", "driven_distance")
    driver_teeth = Whole(18, *TEETH, about="Teeth of the driver", fixed=True)
    driven_teeth = Whole(45, *TEETH, about="Teeth of the driven gear", fixed=True)
    module, diametral_pitch = tooth_size()
    pressure_angle = Given(20.0, "14.5, 20 or 25 [deg]", "float")
    tilt = Measure(
        0.0,
        -MOST_TILT,
        MOST_TILT,
        "Tilt of the line",
        unit="deg",
        step=0.5,
        page=5.0,
        places=1,
        home=0.0,
        about="Tilt of the line from the common tangent of the pitch circles, clockwise positive",
    )
    opening = shafts_apart(0.05)

    secrets = ("operating_pressure_angle", "action_angle_to_centres")
    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        self._proper = self.pair_of(self.now(), 0.0, pressure_angle=self.pressure_angle)

    @property
    def mesh(self) -> Mesh:
        """The pair as it stands."""
        return self.shown.subject.mesh

    @property
    def gaps(self) -> tuple[float, float]:
        """How far the line passes outside the base circles of driver and driven, negative where it cuts them
        [mm] or [in].
        """
        return self.shown.subject.gaps

    def state(self, inputs: Inputs) -> State:
        mesh, tilt = self._proper, inputs.tilt
        if inputs.opening:
            opened = mesh.reference_centre_distance + inputs.opening * mesh.driver.scale
            mesh = Mesh(mesh.driver, mesh.driven, opened)
        line, n = Line(mesh, clearances(mesh, tilt)), Cells(mesh.numbers, mesh.unit)
        touching = abs(abs(tilt) - mesh.operating_pressure_angle) <= NEAR
        apart = row("centre distance", n.length("centre_distance", explained=not inputs.opening))
        readout = [_against_the_circles(line, n), group("The shafts", [apart])]
        readout.append(_line_of_action(n, touching))
        told = [task("tilt the line through the pitch point until it touches both base circles.")]
        told.append(_touches(tilt) if touching else _passes(line))
        heading = (
            f"A line through the pitch point: {mesh.driver.teeth} and {mesh.driven.teeth} teeth,"
            f" {numerals.pitch_name(mesh.driver)}"
        )
        return State(inputs, views.tilted(mesh, tilt, contact=touching), heading, readout, told, line)

    def reason(self, word: str, state: State) -> Derivation:
        return state.subject.mesh.explain(word)


def _taken(design: Design, name: str) -> dict[str, Any]:
    driver = design.of(mesh_named(design, name).driver)
    opening = round(opening_of(design, name) / scale_of(driver.size), 5)
    shown = {"pressure_angle": driver.pressure_angle, "opening": opening}
    return {**pair_taken(design, name, shifted=False), **shown}


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    scale = scale_of(design.of(mesh_named(design, name).driver).size)
    return {"shaft": at_distance(design, name, touching(design, name) + inputs.opening * scale)}


def _against_the_circles(line: Line, n: Cells) -> dict:
    sides = list(zip(("driver", "driven"), line.gaps))
    radii = {side: n[f"{side}_base_radius"] for side, _ in sides}
    rows = [
        row(
            "line from the centre",
            *(n.length(f"{side}_distance", gap + radii[side]) for side, gap in sides),
        ),
        row("base radius", *(n.length(f"{side}_base_radius") for side, _ in sides)),
    ]
    return group("The line and the base circles", rows, ("A driver", "B driven"))


def _line_of_action(n: Cells, touching: bool) -> dict:
    rows = [
        row("operating pressure angle", n.angle("operating_pressure_angle", plain=True)),
        row("angle to the line of centres", n.angle("action_angle_to_centres", plain=True)),
    ]
    if touching:
        rows.append(row("between the tangent points", n.length("tangent_point_distance")))
    return group("The line of action", rows)


def _touches(tilt: float) -> dict:
    turning = "counter-clockwise" if tilt > 0 else "clockwise"
    return good(
        f"at {numerals.plain(abs(tilt), 2)}\u00b0 the line touches both base circles. It is the line of"
        f" action of a driver that turns {turning}. Turn it: every point of contact runs along your line."
    )


def _passes(line: Line) -> dict:
    unit = line.mesh.unit
    return note(f"the line {beside(line.gaps[0], 'A', unit)} and {beside(line.gaps[1], 'B', unit)}.")
