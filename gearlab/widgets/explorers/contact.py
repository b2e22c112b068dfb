"""How long two pairs of teeth share the load: shade it on one base pitch."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts import Gear, Mesh
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
    switch,
    tooth_size,
    whole,
    within,
)

NEAR = 3.0  # of the true share, that counts as found [%]
TEETH = (12, 160)
ANGLES = (20.0, 25.0)


class ContactStrip(Explorer):
    """The teeth where they touch, and one base pitch laid out: shade the part in which two pairs touch.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 12 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    pressure_angle : float
        20 or 25 [deg].
    opening : float
        How much further apart the shafts stand than where the pitch circles touch, 0 to 0.5 [modules].
    shade : float
        Share of the base pitch that is shaded, from where a new pair meets, 0 to 100 [%].
    lines : bool
        Whether the lines are drawn that tell how long each pair touches [-].
    driver_speed : float
        Signed speed of the driver, counter-clockwise positive, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> strip = ContactStrip(18, 45, module=2.5, shade=64)
    >>> round(strip.two_pair_share, 1), strip.warnings[-1]["kind"]
    (63.3, 'good')
    """

    driver_teeth = traitlets.Int(18).tag(sync=True)
    driven_teeth = traitlets.Int(45).tag(sync=True)
    pressure_angle = traitlets.Float(20.0).tag(sync=True)
    opening = traitlets.Float(0.0).tag(sync=True)
    shade = traitlets.Float(0.0).tag(sync=True)
    lines = traitlets.Bool(False).tag(sync=True)
    inputs = ("driver_teeth", "driven_teeth", "pressure_angle", "opening", "shade", "lines", "driver_speed")

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        pressure_angle: float = 20.0,
        opening: float = 0.0,
        shade: float = 0.0,
        lines: bool = False,
        driver_speed: float = 1.0,
        playing: bool = False,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            driver_teeth=driver_teeth,
            driven_teeth=driven_teeth,
            pressure_angle=pressure_angle,
            opening=float(opening),
            shade=float(shade),
            lines=lines,
        )

    @traitlets.validate("driver_teeth", "driven_teeth", "opening", "shade")
    def _checked(self, proposal):
        name = proposal.trait.name
        limits = {"opening": (0.0, 0.5, "modules"), "shade": (0.0, 100.0, "%")}.get(name, (*TEETH, "teeth"))
        within(name, proposal.value, *limits)
        return proposal.value

    @traitlets.validate("pressure_angle")
    def _listed(self, proposal):
        one_of("pressure_angle", proposal.value, ANGLES)
        return proposal.value

    @property
    def two_pair_share(self) -> float:
        """Share of a base pitch in which two pairs touch [%]; none at a contact ratio below 1."""
        return 100 * max(0.0, self.mesh.contact_ratio - 1)

    def _state(self) -> State:
        driver, driven = (
            Gear(teeth, pressure_angle=self.pressure_angle, **self._size)
            for teeth in (self.driver_teeth, self.driven_teeth)
        )
        natural = Mesh(driver, driven)
        mesh = (
            natural
            if not self.opening
            else Mesh(driver, driven, natural.centre_distance + self.opening * driver.scale)
        )
        scene = views.contact(mesh, self.shade, shown=self.lines)
        self.mesh, unit, numbers = mesh, mesh.unit, mesh.numbers
        rows = [
            row(label, cell(word, numbers[word], numerals.length(numbers[word], unit)))
            for label, word in (
                ("centre distance", "centre_distance"),
                ("path of contact", "length_of_action"),
                ("base pitch", "base_pitch"),
            )
        ]
        rows.append(
            row(
                "contact ratio",
                cell("contact_ratio", numbers["contact_ratio"], numerals.number(numbers["contact_ratio"], 3)),
            )
        )
        said = [remark("task", "move along one base pitch, and shade the part in which two pairs touch.")]
        if abs(self.shade - self.two_pair_share) <= NEAR:
            rows.append(
                row(
                    "two pairs touch",
                    cell(
                        "two_pair_share", self.two_pair_share, f"{numerals.number(self.two_pair_share, 1)} %"
                    ),
                )
            )
            said.append(
                remark(
                    "good",
                    f"two pairs touch on {numerals.number(self.two_pair_share, 0)} % of each base pitch, one"
                    " pair on the rest. That is what contact ratio"
                    f" {numerals.number(numbers['contact_ratio'], 2)} says.",
                )
            )
        else:
            said.append(
                remark(
                    "note",
                    f"{numerals.plain(self.shade, 1)} % are shaded. Turn the gears slowly: where does the"
                    " second point of contact leave?",
                )
            )
        if "contact_ratio" in mesh.refused:
            said.append(
                remark(
                    "warning",
                    "with this few teeth the tips reach past the flank of the mate, into its fillet or"
                    " undercut: part of the path is not there. Path and contact ratio are measured on the cut"
                    " teeth.",
                )
            )
        if numbers["contact_ratio"] < 1:
            said.append(
                remark(
                    "stop",
                    "the contact ratio is below 1: for a part of each base pitch no pair of teeth touches."
                    " These two do not run together.",
                )
            )
        controls = [
            measure(
                "shade",
                "Shaded from the left",
                0.0,
                100.0,
                1.0,
                page=10.0,
                places=0,
                unit="%",
                spoken="per cent",
                home=0.0,
            ),
            measure(
                "opening",
                "Shafts further apart by",
                0.0,
                0.5,
                0.02,
                page=0.1,
                places=2,
                unit="modules",
                home=0.0,
            ),
            whole("driver_teeth", "Teeth of the driver", *TEETH, of="driver", spoken="teeth"),
            whole("driven_teeth", "Teeth of the driven gear", *TEETH, of="driven", spoken="teeth"),
            choice(
                "pressure_angle",
                "Pressure angle",
                [(angle, f"{numerals.plain(angle)}\u00b0") for angle in ANGLES],
            ),
            switch("lines", "Show how long each pair touches"),
        ]
        return State(
            scene,
            f"Contact of {driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}",
            [group("The contact", rows)],
            said,
            controls,
        )

    def _derivation(self, word: str):
        return self.mesh.explain(word)
