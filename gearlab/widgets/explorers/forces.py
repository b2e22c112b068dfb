"""The force on a tooth taken apart: along the pitch circle, and towards the gear's own centre."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts import Gear
from ...parts.working import worked_out
from ...theory.derivation import explain
from ...theory.scope import Scope, scope_for
from .explorer import Explorer, State, cell, choice, group, measure, remark, row, within

FORCES = (1.0, 1000.0)
NEAR = 0.02     # of the force: how near is near enough
ANGLES = (14.5, 20.0, 25.0)


class ToothForces(Explorer):
    """The force along the line of action, and two parts that the reader sets until they make it up.

    Parameters
    ----------
    normal : float
        The force along the line of action, 1 to 1000 [N].
    pressure_angle : float
        14.5, 20 or 25 [deg].
    teeth : int
        Teeth of the gear drawn, 8 to 60 [-].
    module : float
        0.5 to 10 [mm].

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

    def __init__(self, normal: float = 91.5, *, pressure_angle: float = 20.0, teeth: int = 18, module: float = 2.5):
        within("normal", normal, *FORCES, "N")
        within("teeth", teeth, 8, 60, "teeth")
        within("module", module, 0.5, 10.0, "mm")
        self.normal, self._teeth, self._module = float(normal), teeth, module
        super().__init__(playing=False, driver_speed=0.0, along=float(normal), apart=0.0, angle_of_pressure=float(pressure_angle))

    @traitlets.validate("along", "apart")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, 0.0, 1.2 * self.normal, "N")
        return proposal.value

    @traitlets.validate("angle_of_pressure")
    def _listed(self, proposal):
        if proposal.value not in ANGLES:
            raise ValueError(f"pressure_angle = {proposal.value!r} is not known: choose from {', '.join(map(numerals.plain, ANGLES))} deg")
        return proposal.value

    def _gear(self) -> Gear:
        return Gear(self._teeth, module=self._module, pressure_angle=self.angle_of_pressure)

    def _givens(self) -> dict[str, float]:
        return {"pressure_angle": self.angle_of_pressure, "normal_force": self.normal}

    def _derivation(self, word: str):
        return explain(_scope(self._gear()), self._givens(), word, "iso")

    def _state(self) -> State:
        gear = self._gear()
        found = worked_out(_scope(gear), self._givens())
        scene = views.forces(gear, self.normal, self.along, self.apart)
        write = lambda value: f"{numerals.number(value, 1)} N"      # noqa: E731
        rows = [row("force along the line of action", cell("normal_force", self.normal, write(self.normal), explained=False)),
                row("your part along the pitch circle", cell("along", self.along, write(self.along), explained=False)),
                row("your part towards the centre", cell("apart", self.apart, write(self.apart), explained=False))]
        misses = self.along - found["tangential_force"], self.apart - found["separating_force"]
        if max(map(abs, misses)) <= NEAR * self.normal:
            rows += [row("along, worked out", cell("tangential_force", found["tangential_force"], write(found["tangential_force"]))),
                     row("apart, worked out", cell("separating_force", found["separating_force"], write(found["separating_force"])))]
            said = remark("good", f"{write(self.along)} along and {write(self.apart)} apart make up {write(self.normal)}. Only the part along turns the gear; "
                          "the other loads the shafts.")
        else:
            words = [f"{'less' if miss > 0 else 'more'} {name}" for miss, name in zip(misses, ("along", "apart")) if abs(miss) > NEAR * self.normal]
            said = remark("note", f"the two arrows, end to end, do not reach the tip of the force: {' and '.join(words)}.")
        task = remark("task", "set both parts so that, end to end, they lead to the tip of the force.")
        controls = [measure("along", "Along the pitch circle", 0.0, 1.2 * self.normal, 0.5, page=10.0, places=1, unit="N", spoken="newtons"),
                    measure("apart", "Towards the centre", 0.0, 1.2 * self.normal, 0.5, page=10.0, places=1, unit="N", spoken="newtons"),
                    choice("angle_of_pressure", "Pressure angle", [(angle, f"{numerals.plain(angle)}\u00b0") for angle in ANGLES])]
        return State(scene, f"{write(self.normal)} on a tooth", [group("Forces", rows)], [task, said], controls)

    def _named(self) -> str:
        return f"{numerals.plain(self.normal)} N, {self._teeth} teeth"


def _scope(gear: Gear) -> Scope:
    return scope_for("gear", "mm", (gear.system,))
