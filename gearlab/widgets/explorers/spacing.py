"""How far apart two shafts stand: carry the wheel until the pitch circles touch."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.spaced import meeting
from ...parts import Gear, Mesh
from ..box import SPOKEN
from .pair import TEETH
from .undeclared import Explorer, State, cell, group, measure, remark, row, tooth_size, within


class SpacingExplorer(Explorer):
    """Two gears whose shafts can be moved together and apart, until the pitch circles touch.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 6 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    centre_distance : float, optional
        Where the shafts stand at first, from 2.5 modules too near to 4 modules too far; left out, 1.7 modules
        too far [mm or in].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> SpacingExplorer(18, 45, module=2.5, centre_distance=83.0).gap
    4.25
    """

    centre_distance = traitlets.Float(83.0).tag(sync=True)
    inputs = ("centre_distance",)

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        centre_distance: float | None = None,
    ):
        unit, size = tooth_size(module, diametral_pitch)
        for name, teeth in (("driver_teeth", driver_teeth), ("driven_teeth", driven_teeth)):
            within(name, teeth, *TEETH, "teeth")
        self.mesh = Mesh(Gear(driver_teeth, **size), Gear(driven_teeth, **size))
        right, scale = self.mesh.centre_distance, self.mesh.driver.scale
        tidy = 1 if unit == "mm" else 2
        self._reach = round(right - 2.5 * scale, tidy), round(right + 4.0 * scale, tidy)
        self._start = round(right + 1.7 * scale, tidy) if centre_distance is None else centre_distance
        super().__init__(playing=False, driver_speed=0.0, centre_distance=self._start)

    @traitlets.validate("centre_distance")
    def _checked(self, proposal):
        within("centre_distance", proposal.value, *self._reach, self.mesh.unit)
        return proposal.value

    @property
    def gap(self) -> float:
        """Distance between the pitch circles [mm] or [in]."""
        return self.centre_distance - self.mesh.reference_centre_distance

    def _state(self) -> State:
        mesh, unit = self.mesh, self.mesh.unit
        scene = views.spaced(mesh.driver, mesh.driven, self.centre_distance, reach=self._reach)
        rows = [
            row(
                "centre distance",
                cell(
                    "centre_distance",
                    self.centre_distance,
                    numerals.length(self.centre_distance, unit),
                    explained=False,
                ),
            ),
            row(
                "gap between the pitch circles",
                cell("gap", self.gap, numerals.length(self.gap, unit), explained=False),
            ),
        ]
        said = meeting(self.gap, unit)
        near = 0.04 * mesh.driver.scale
        kind = "good" if abs(self.gap) <= near else "note"
        words = f"the pitch circles {said}."
        if kind == "note":
            words += (
                " The teeth would jam: move the shafts apart."
                if self.gap < 0
                else " The teeth have play, or miss each other: move the shafts together."
            )
        step, page, places = (0.1, 1.0, 2) if unit == "mm" else (0.005, 0.05, 3)
        control = measure(
            "centre_distance",
            "Centre distance",
            *self._reach,
            step,
            page=page,
            places=places,
            unit=unit,
            spoken=SPOKEN[unit],
            home=self._start,
        )
        return State(
            scene,
            f"{mesh.driver.teeth} and {mesh.driven.teeth} teeth, {numerals.pitch_name(mesh.driver)}",
            [group("The spacing", rows)],
            [remark(kind, words)],
            [control],
        )
