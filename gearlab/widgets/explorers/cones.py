"""Two cones that should roll on each other: set their angles, then see which side reverses the output."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.cones import gap, rolling
from ...parts import BevelPair
from .readout import speed_cell
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

TEETH, CONE, SHAFTS = (12, 48), (10.0, 80.0), (60.0, 120.0)


class TwoCones(Explorer):
    """Two bevel gears as cones.

    With the right angles they touch all along, share their apex and roll on each other.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 12 to 48 [-].
    module : float, optional
        At the large end, 0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    driver_cone_angle, driven_cone_angle : float
        Where the cones' angles stand at first, 10 to 80 [deg].
    shaft_angle : float
        Between the axes, 60 to 120 [deg].
    side : str
        Where the driven gear stands at first, "above" or "below" the driver's axis [-].
    driver_speed : float
        Signed speed of the driver, seen from its wide end, counter-clockwise positive, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> cones = TwoCones(20, 30)
    >>> cones.driver_cone_angle, cones.driven_cone_angle = 33.7, 56.3
    >>> cones.done, cones.warnings[-1]["kind"], cones.value("output_speed")
    (True, 'good', -4.0)
    """

    driver_teeth = traitlets.Int(20).tag(sync=True)
    driven_teeth = traitlets.Int(30).tag(sync=True)
    driver_cone_angle = traitlets.Float(45.0).tag(sync=True)
    driven_cone_angle = traitlets.Float(45.0).tag(sync=True)
    shaft_angle = traitlets.Float(90.0).tag(sync=True)
    side = traitlets.Unicode("above").tag(sync=True)
    inputs = (
        "driver_teeth",
        "driven_teeth",
        "driver_cone_angle",
        "driven_cone_angle",
        "shaft_angle",
        "side",
        "driver_speed",
    )

    def __init__(
        self,
        driver_teeth: int = 20,
        driven_teeth: int = 30,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        driver_cone_angle: float = 45.0,
        driven_cone_angle: float = 45.0,
        shaft_angle: float = 90.0,
        side: str = "above",
        driver_speed: float = 6.0,
        playing: bool = False,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            driver_teeth=driver_teeth,
            driven_teeth=driven_teeth,
            driver_cone_angle=float(driver_cone_angle),
            driven_cone_angle=float(driven_cone_angle),
            shaft_angle=float(shaft_angle),
            side=side,
        )

    @traitlets.validate(
        "driver_teeth", "driven_teeth", "driver_cone_angle", "driven_cone_angle", "shaft_angle"
    )
    def _checked(self, proposal):
        limits = {
            "driver_teeth": (*TEETH, "teeth"),
            "driven_teeth": (*TEETH, "teeth"),
            "shaft_angle": (*SHAFTS, "degrees"),
        }.get(proposal.trait.name, (*CONE, "degrees"))
        within(proposal.trait.name, proposal.value, *limits)
        return proposal.value

    @traitlets.validate("side")
    def _listed(self, proposal):
        one_of("side", proposal.value, ("above", "below"))
        return proposal.value

    @property
    def done(self) -> bool:
        """True if the cones touch all along and their large circles meet, to 0.3 degrees [-]."""
        return rolling(
            self.driver_teeth,
            self.driven_teeth,
            self.driver_cone_angle,
            self.driven_cone_angle,
            self.shaft_angle,
        )

    @property
    def _side(self) -> int:
        return 1 if self.side == "above" else -1

    def _state(self) -> State:
        self.pair = pair = BevelPair(
            self.driver_teeth, self.driven_teeth, shaft_angle=self.shaft_angle, **self._size
        )
        scene = views.cones(
            self.driver_teeth,
            self.driven_teeth,
            pair.scale,
            self.driver_cone_angle,
            self.driven_cone_angle,
            shaft_angle=self.shaft_angle,
            side=self._side,
            unit=pair.unit,
            turning=self.driver_speed or 1.0,
        )
        angles = {"step": 1.0, "page": 5.0, "places": 1, "unit": "\u00b0", "spoken": "degrees"}
        controls = [
            measure("driver_cone_angle", "Cone angle of the driver", *CONE, of="driver", **angles),
            measure("driven_cone_angle", "Cone angle of the driven gear", *CONE, of="driven", **angles),
            whole("driver_teeth", "Teeth of the driver", *TEETH, page=5, of="driver", spoken="teeth"),
            whole("driven_teeth", "Teeth of the driven gear", *TEETH, page=5, of="driven", spoken="teeth"),
            measure("shaft_angle", "Angle of the shafts", *SHAFTS, home=90.0, **angles),
            choice(
                "side",
                "The driven gear stands",
                [("above", "above the driver\u2019s axis"), ("below", "below the driver\u2019s axis")],
            ),
        ]
        return State(
            scene,
            f"Cones for {self.driver_teeth} and {self.driven_teeth} teeth",
            self._readout(),
            self._remarks(),
            controls,
        )

    def _readout(self) -> list[dict]:
        apart = gap(self.driver_cone_angle, self.driven_cone_angle, self.shaft_angle)
        set_rows = [
            row(
                "both cone angles together",
                cell(
                    "cone_sum",
                    self.shaft_angle - apart,
                    f"{numerals.number(self.shaft_angle - apart, 1)}\u00b0",
                    explained=False,
                ),
            ),
            row(
                "gap between the cones",
                cell("gap", apart, f"{numerals.number(apart, 1)}\u00b0", explained=False, alarm=apart < -0.3),
            ),
        ]
        groups = [group("As they are set", set_rows)]
        if self.done:
            n, unit = self.pair.numbers, self.pair.unit
            rows = [
                row(
                    "cone angle",
                    *(
                        cell(
                            f"{one}_cone_angle",
                            n[f"{one}_cone_angle"],
                            f"{numerals.number(n[f'{one}_cone_angle'], 2)}\u00b0",
                        )
                        for one in ("driver", "driven")
                    ),
                ),
                row(
                    "outside diameter",
                    *(
                        cell(
                            f"{one}_cone_outside_diameter",
                            n[f"{one}_cone_outside_diameter"],
                            numerals.length(n[f"{one}_cone_outside_diameter"], unit),
                        )
                        for one in ("driver", "driven")
                    ),
                ),
                row(
                    "apex to large circle, along the axis",
                    *(
                        cell(
                            f"{one}_apex_distance",
                            n[f"{one}_apex_distance"],
                            numerals.length(n[f"{one}_apex_distance"], unit),
                        )
                        for one in ("driver", "driven")
                    ),
                ),
            ]
            out = self.pair.speed(float(self.driver_speed), self._side)
            pair = [
                row(
                    "cone distance",
                    cell("cone_distance", n["cone_distance"], numerals.length(n["cone_distance"], unit)),
                ),
                row(
                    "largest usual face",
                    cell("largest_face", n["largest_face"], numerals.length(n["largest_face"], unit)),
                ),
                row("output shaft, seen from above", speed_cell("output_speed", out, explained=bool(out))),
            ]
            groups += [group("The gears", rows, ("A driver", "B driven")), group("The pair", pair)]
        return groups

    def _remarks(self) -> list[dict]:
        said = [
            remark(
                "task",
                "set both cone angles so that the cones touch all along, with their large circles meeting."
                " Then move the driven gear to the other side.",
            )
        ]
        apart = gap(self.driver_cone_angle, self.driven_cone_angle, self.shaft_angle)
        if self.done:
            turned = self.pair.speed(float(self.driver_speed), self._side)
            one, two = (
                f"{numerals.number(angle, 1)}\u00b0"
                for angle in (self.driver_cone_angle, self.driven_cone_angle)
            )
            words = f"pinion cone {one}, wheel cone {two}, apexes together: they roll."
            if turned:
                said.append(
                    remark(
                        "note",
                        f"with the driven gear {self.side} the axis, its shaft seen from above turns"
                        f" {'counter-clockwise' if turned > 0 else 'clockwise'}. Two gears on one driver,"
                        " above and below, would turn that shaft opposite ways.",
                    )
                )
            said.append(remark("good", words))
        elif apart > 0.3:
            said.append(
                remark(
                    "note",
                    f"a gap of {numerals.number(apart, 1)}\u00b0 is left between the cones: together their"
                    f" angles must be {numerals.plain(self.shaft_angle, 1)}\u00b0.",
                )
            )
        elif apart < -0.3:
            said.append(
                remark(
                    "note",
                    f"the cones overlap by {numerals.number(-apart, 1)}\u00b0: together their angles must be"
                    f" {numerals.plain(self.shaft_angle, 1)}\u00b0.",
                )
            )
        else:
            one = self.pair.cone_angles[0]
            said.append(
                remark(
                    "note",
                    "they touch, but their large circles do not meet: where they touch, their radii have not"
                    " the ratio of the teeth. Make the driver\u2019s cone"
                    f" {'slimmer' if self.driver_cone_angle > one else 'wider'}, the other one as much the"
                    " other way.",
                )
            )
        return said

    def _derivation(self, word: str):
        return self.pair.explain(
            word, **({"driver_speed": abs(float(self.driver_speed))} if word == "output_speed" else {})
        )
