"""The force on a tooth taken apart: along the pitch circle, and towards the gear's own centre."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts import Gear
from ...parts.working import worked_out
from ...theory.derivation import explain
from ...theory.quantities import NOTATION
from ...theory.scope import Scope, scope_for
from ..box import SPOKEN
from .undeclared import Explorer, State, cell, choice, group, measure, remark, row, tooth_size, within

FORCES = {"N": (1.0, 1000.0), "lbf": (0.2, 250.0)}
USUAL = {"N": 91.5, "lbf": 20.5}
STEPS = {"N": {"step": 0.5, "page": 10.0, "places": 1}, "lbf": {"step": 0.1, "page": 2.0, "places": 2}}
NEAR = 0.02  # of the force: how near is near enough
ANGLES = (14.5, 20.0, 25.0)


class ToothForces(Explorer):
    """The force along the line of action, and two parts that the reader sets until they make it up.

    Parameters
    ----------
    normal : float, optional
        The force along the line of action, 1 to 1000 N, or 0.2 to 250 lbf for inches; 91.5 N or 20.5 lbf if
        left out [N or lbf].
    pressure_angle : float
        14.5, 20 or 25 [deg].
    teeth : int
        Teeth of the gear drawn, 8 to 60 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then forces are pounds [1/in, teeth in an inch of pitch diameter; -].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> forces = ToothForces(91.5)
    >>> forces.along, forces.apart = 86.0, 31.3
    >>> forces.warnings[-1]["kind"]
    'good'
    """

    along = traitlets.Float(91.5).tag(sync=True)
    apart = traitlets.Float(0.0).tag(sync=True)
    angle_of_pressure = traitlets.Float(20.0).tag(sync=True)
    inputs = ("along", "apart", "angle_of_pressure")

    def __init__(
        self,
        normal: float | None = None,
        *,
        pressure_angle: float = 20.0,
        teeth: int = 18,
        module: float | None = None,
        diametral_pitch: float | None = None,
    ):
        self._length_unit, self._size = tooth_size(module, diametral_pitch)
        self.unit = "N" if self._length_unit == "mm" else "lbf"
        normal = USUAL[self.unit] if normal is None else normal
        within("normal", normal, *FORCES[self.unit], self.unit)
        within("teeth", teeth, 8, 60, "teeth")
        self.normal, self._teeth = float(normal), teeth
        super().__init__(
            playing=False,
            driver_speed=0.0,
            along=float(normal),
            apart=0.0,
            angle_of_pressure=float(pressure_angle),
        )

    @traitlets.validate("along", "apart")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, 0.0, 1.2 * self.normal, self.unit)
        return proposal.value

    @traitlets.validate("angle_of_pressure")
    def _listed(self, proposal):
        if proposal.value not in ANGLES:
            raise ValueError(
                f"pressure_angle = {proposal.value!r} is not known: choose from"
                f" {', '.join(map(numerals.plain, ANGLES))} deg"
            )
        return proposal.value

    def _gear(self) -> Gear:
        return Gear(self._teeth, **self._size, pressure_angle=self.angle_of_pressure)

    def _givens(self) -> dict[str, float]:
        return {"pressure_angle": self.angle_of_pressure, "normal_force": self.normal}

    def _derivation(self, word: str):
        return explain(_scope(self._gear()), self._givens(), word, NOTATION[self._length_unit])

    def _state(self) -> State:
        gear = self._gear()
        found = worked_out(_scope(gear), self._givens())
        scene = views.forces(gear, self.normal, self.along, self.apart, unit=self.unit)
        write = lambda value: f"{numerals.number(value, STEPS[self.unit]['places'])} {self.unit}"  # noqa: E731
        rows = [
            row(
                "force along the line of action",
                cell("normal_force", self.normal, write(self.normal), explained=False),
            ),
            row(
                "your part along the pitch circle",
                cell("along", self.along, write(self.along), explained=False),
            ),
            row(
                "your part towards the centre", cell("apart", self.apart, write(self.apart), explained=False)
            ),
        ]
        misses = self.along - found["tangential_force"], self.apart - found["separating_force"]
        if max(map(abs, misses)) <= NEAR * self.normal:
            rows += [
                row(
                    "along, worked out",
                    cell("tangential_force", found["tangential_force"], write(found["tangential_force"])),
                ),
                row(
                    "apart, worked out",
                    cell("separating_force", found["separating_force"], write(found["separating_force"])),
                ),
            ]
            said = remark(
                "good",
                f"{write(self.along)} along and {write(self.apart)} apart make up {write(self.normal)}. Only"
                " the part along turns the gear; the other loads the shafts.",
            )
        else:
            words = [
                f"{'less' if miss > 0 else 'more'} {name}"
                for miss, name in zip(misses, ("along", "apart"))
                if abs(miss) > NEAR * self.normal
            ]
            said = remark(
                "note",
                f"the two arrows, end to end, do not reach the tip of the force: {' and '.join(words)}.",
            )
        task = remark("task", "set both parts so that, end to end, they lead to the tip of the force.")
        steps = STEPS[self.unit] | {"unit": self.unit, "spoken": SPOKEN[self.unit]}
        controls = [
            measure("along", "Along the pitch circle", 0.0, 1.2 * self.normal, **steps),
            measure("apart", "Towards the centre", 0.0, 1.2 * self.normal, **steps),
            choice(
                "angle_of_pressure",
                "Pressure angle",
                [(angle, f"{numerals.plain(angle)}\u00b0") for angle in ANGLES],
            ),
        ]
        return State(
            scene, f"{write(self.normal)} on a tooth", [group("Forces", rows)], [task, said], controls
        )

    def _named(self) -> str:
        return f"{numerals.plain(self.normal)} {self.unit}, {self._teeth} teeth"


def _scope(gear: Gear) -> Scope:
    return scope_for("gear", gear.unit, (gear.system,))
