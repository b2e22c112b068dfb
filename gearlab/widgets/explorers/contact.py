"""How long two pairs of teeth share the load: shade it on one base pitch."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ...drawing import numerals, views
from ...parts import Mesh
from ...parts.design import Design
from .controls import Choice, Measure, Switch, Whole, angles, shafts_apart, tooth_size
from .explorer import Explorer, State
from .part import Part, counts_given, mesh_named, opening_of, pair_taken, scale_of, touching_for
from .state import Cells, Inputs, good, group, note, row, stop, task, warning

NEAR = 3.0  # of the true share, that counts as found [%]


class ContactStrip(Explorer):
    """The teeth where they touch, and one base pitch laid out: shade the part in which two pairs touch.

    Examples
    --------
    >>> strip = ContactStrip(18, 45, module=2.5, shade=64)
    >>> round(strip.two_pair_share, 1), strip.warnings[-1]["kind"]
    (63.3, 'good')
    """

    speed, positional = 1.0, 2
    secrets = ("contact_ratio", "two_pair_share")
    panelled = ("shade", "opening", "driver_teeth", "driven_teeth", "pressure_angle", "lines")
    driver_teeth = Whole(18, 12, 160, "Teeth of the driver", of="driver")
    driven_teeth = Whole(45, 12, 160, "Teeth of the driven gear", of="driven")
    module, diametral_pitch = tooth_size()
    pressure_angle = Choice(
        20.0,
        lambda strip, _: angles(*sorted({20.0, 25.0, strip._of_design.get("pressure_angle", 20.0)})),
        "Pressure angle",
        about="Pressure angle, 20 or 25, or that of a design [deg]",
    )
    opening = shafts_apart(0.02)
    shade = Measure(
        0.0,
        0.0,
        100.0,
        "Shaded from the left",
        unit="%",
        home=0.0,
        about="Share of the base pitch that is shaded, from where a new pair meets",
    )
    lines = Switch(
        False,
        "Show how long each pair touches",
        about="Whether the lines are drawn that tell how long each pair touches",
    )

    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    @property
    def mesh(self) -> Mesh:
        """The pair as it stands."""
        return self.shown.subject

    @property
    def two_pair_share(self) -> float:
        """Share of a base pitch in which two pairs touch [%]; none at a contact ratio below 1."""
        return _two_pair_share(self.mesh)

    def state(self, inputs: Inputs) -> State:
        apart = inputs.opening * self.scale_of(inputs)
        mesh = self.pair_of(inputs, apart, pressure_angle=inputs.pressure_angle)
        driver, driven = mesh.driver, mesh.driven
        n, share = Cells(mesh.numbers, mesh.unit), _two_pair_share(mesh)
        rows = [
            row("centre distance", n.length("centre_distance")),
            row("path of contact", n.length("length_of_action")),
            row("base pitch", n.length("base_pitch")),
            row("contact ratio", n.number("contact_ratio")),
        ]
        rows.append(row("two pairs touch", n.number("two_pair_share", share, 1, "%", explained=True)))
        met = abs(inputs.shade - share) <= NEAR
        heading = f"Contact of {driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}"
        scene = views.contact(mesh, inputs.shade, shown=inputs.lines)
        told = list(_remarks(mesh, inputs.shade, met))
        return State(inputs, scene, heading, [group("The contact", rows)], told, mesh)


def _taken(design: Design, name: str) -> dict[str, Any]:
    driver = design.of(mesh_named(design, name).driver)
    opening = round(opening_of(design, name) / scale_of(driver.size), 5)
    return {
        **pair_taken(design, name),
        "pressure_angle": driver.pressure_angle,
        "opening": opening,
    }


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    size = design.of(mesh_named(design, name).driver).size
    distance = touching_for(inputs.driver_teeth, inputs.driven_teeth, size) + inputs.opening * scale_of(size)
    return counts_given(inputs, design, name, distance=distance, pressure_angle=inputs.pressure_angle)


def _two_pair_share(mesh: Mesh) -> float:
    return 100 * max(0.0, mesh.contact_ratio - 1)


def _remarks(mesh: Mesh, shade: float, met: bool) -> Iterator[dict]:
    yield task("move along one base pitch, and shade the part in which two pairs touch.")
    if met:
        yield good(
            f"two pairs touch on {numerals.number(_two_pair_share(mesh), 0)} % of each base pitch, one pair"
            f" on the rest. That is what contact ratio {numerals.number(mesh.contact_ratio, 2)} says."
        )
    else:
        yield note(
            f"{numerals.plain(shade, 1)} % are shaded. Turn the gears slowly: where does the second point of"
            " contact leave?"
        )
    if "contact_ratio" in mesh.refused:
        yield warning(
            "with this few teeth the tips reach past the flank of the mate, into its fillet or undercut: part"
            " of the path is not there. Path and contact ratio are measured on the cut teeth."
        )
    if mesh.contact_ratio < 1:
        yield stop(
            "the contact ratio is below 1: for a part of each base pitch no pair of teeth touches. These two"
            " do not run together."
        )
