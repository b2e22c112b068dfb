"""Where the teeth push: a line through the pitch point, tilted until it touches both base circles."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.tilted import MOST_TILT, beside, clearances
from ...parts import Gear, Mesh
from .pair import TEETH
from .undeclared import Explorer, State, cell, group, measure, remark, row, tooth_size, within

MOST_OPENING = 0.5  # [modules]
NEAR = 0.5  # of the pressure angle, that counts as touching [deg]


class LineOfAction(Explorer):
    """A pair and a line through its pitch point.

    Tilt it until it touches both base circles, then turn the driver.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 6 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    pressure_angle : float
        14.5, 20 or 25 [deg].
    opening : float
        How much further apart the shafts stand than where the pitch circles touch, 0 to 0.5 [modules].
    tilt : float
        Tilt of the line from the common tangent of the pitch circles, clockwise positive, -60 to 60 [deg].
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
    >>> line = LineOfAction(18, 45, module=2.5, tilt=20)
    >>> round(line.value("tangent_point_distance"), 2), line.warnings[-1]["kind"]
    (26.93, 'good')
    """

    tilt = traitlets.Float(0.0).tag(sync=True)
    opening = traitlets.Float(0.0).tag(sync=True)
    inputs = ("tilt", "opening")

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        pressure_angle: float = 20.0,
        opening: float = 0.0,
        tilt: float = 0.0,
        driver_speed: float = 3.0,
        playing: bool = False,
    ):
        unit, size = tooth_size(module, diametral_pitch)
        for name, teeth in (("driver_teeth", driver_teeth), ("driven_teeth", driven_teeth)):
            within(name, teeth, *TEETH, "teeth")
        self._proper = Mesh(
            *(Gear(teeth, pressure_angle=pressure_angle, **size) for teeth in (driver_teeth, driven_teeth))
        )
        super().__init__(playing=playing, driver_speed=driver_speed, tilt=float(tilt), opening=float(opening))

    @traitlets.validate("tilt", "opening")
    def _checked(self, proposal):
        name = proposal.trait.name
        within(
            name,
            proposal.value,
            *((-MOST_TILT, MOST_TILT, "deg") if name == "tilt" else (0.0, MOST_OPENING, "modules")),
        )
        return proposal.value

    @property
    def gaps(self) -> tuple[float, float]:
        """How far the line passes outside the base circles of driver and driven, negative where it cuts them
        [mm] or [in].
        """
        return clearances(self.mesh, self.tilt)

    def _state(self) -> State:
        proper = self._proper
        distance = proper.centre_distance + self.opening * proper.driver.scale
        self.mesh = mesh = Mesh(proper.driver, proper.driven, distance) if self.opening else proper
        unit, gaps = mesh.unit, self.gaps
        right = mesh.operating_pressure_angle
        touching = abs(abs(self.tilt) - right) <= NEAR
        numbers = mesh.numbers
        radii = [
            cell(
                f"{side}_{word}", numbers[f"{side}_{word}"], numerals.length(numbers[f"{side}_{word}"], unit)
            )
            for word in ("base_radius",)
            for side in ("driver", "driven")
        ]
        apart = [
            row(
                "centre distance",
                cell(
                    "centre_distance", distance, numerals.length(distance, unit), explained=not self.opening
                ),
            )
        ]
        rows = [
            row(
                "line from the centre",
                *(
                    cell(
                        f"{side}_distance",
                        gap + one["value"],
                        numerals.length(gap + one["value"], unit),
                        explained=False,
                    )
                    for side, gap, one in zip(("driver", "driven"), gaps, radii)
                ),
            ),
            row("base radius", *radii),
        ]
        groups = [
            group("The line and the base circles", rows, ("A driver", "B driven")),
            group("The shafts", apart),
        ]
        said = [remark("task", "tilt the line through the pitch point until it touches both base circles.")]
        if touching:
            turning = "counter-clockwise" if self.tilt > 0 else "clockwise"
            groups.append(
                group(
                    "The line of action",
                    [
                        row(
                            "pressure angle",
                            cell("operating_pressure_angle", right, f"{numerals.plain(right, 2)}\u00b0"),
                        ),
                        row(
                            "angle to the line of centres",
                            cell(
                                "action_angle_to_centres",
                                numbers["action_angle_to_centres"],
                                f"{numerals.plain(numbers['action_angle_to_centres'], 2)}\u00b0",
                            ),
                        ),
                        row(
                            "between the tangent points",
                            cell(
                                "tangent_point_distance",
                                numbers["tangent_point_distance"],
                                numerals.length(numbers["tangent_point_distance"], unit),
                            ),
                        ),
                    ],
                )
            )
            said.append(
                remark(
                    "good",
                    f"at {numerals.plain(abs(self.tilt), 2)}\u00b0 the line touches both base circles. It is"
                    f" the line of action of a driver that turns {turning}. Turn it: every point of contact"
                    " runs along your line.",
                )
            )
        else:
            said.append(
                remark("note", f"the line {beside(gaps[0], 'A', unit)} and {beside(gaps[1], 'B', unit)}.")
            )
        scene = views.tilted(mesh, self.tilt, contact=touching)
        controls = [
            measure(
                "tilt",
                "Tilt of the line",
                -MOST_TILT,
                MOST_TILT,
                0.5,
                page=5.0,
                places=1,
                unit="\u00b0",
                spoken="degrees",
                home=0.0,
            ),
            measure(
                "opening",
                "Shafts further apart by",
                0.0,
                MOST_OPENING,
                0.05,
                page=0.1,
                places=2,
                unit="modules",
                home=0.0,
            ),
        ]
        return State(
            scene,
            f"A line through the pitch point: {mesh.driver.teeth} and {mesh.driven.teeth} teeth,"
            f" {numerals.pitch_name(mesh.driver)}",
            groups,
            said,
            controls,
        )

    def _derivation(self, word: str):
        return self.mesh.explain(word)
