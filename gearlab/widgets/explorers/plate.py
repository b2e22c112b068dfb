"""A pair on its plate: where the holes go so that the outline of both gears is centred."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.plate import margins
from ...parts import Gear, Mesh
from ...parts.working import worked_out
from ...theory.derivation import explain
from ...theory.quantities import NOTATION
from ...theory.scope import scope_for
from ..box import SPOKEN
from .explorer import Explorer, State, cell, group, measure, or_usual, remark, row, tooth_size, within

ANGLES = (-90.0, 90.0)
NEAR = {"mm": 0.25, "in": 0.01}  # how near to the right place is near enough
LIMITS = {
    "mm": {"plate": (20.0, 1000.0), "hole_diameter": (2.0, 40.0)},
    "in": {"plate": (0.75, 40.0), "hole_diameter": (0.0625, 1.625)},
}
USUAL = {
    "mm": {"plate_length": 220.0, "plate_height": 160.0, "hole_diameter": 10.0},
    "in": {"plate_length": 10.0, "plate_height": 6.5, "hole_diameter": 0.375},
}
STEPS = {"mm": {"step": 0.25, "page": 5.0, "places": 2}, "in": {"step": 0.01, "page": 0.25, "places": 3}}


class PlateLayout(Explorer):
    """Two gears that are moved along their plate, and turned about the driver's hole.

    Margins beyond the tips are shown.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 6 to 120 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    plate_length, plate_height : float, optional
        20 to 1000 mm or 0.75 to 40 in; 220 by 160 mm or 10 by 6.5 in if left out [mm or in].
    hole_diameter : float, optional
        2 to 40 mm or 0.0625 to 1.625 in; 10 mm or 0.375 in if left out [mm or in].
    hole_x : float, optional
        Where the driver's hole is at first, from the left edge; left out, both holes are centred, which is a
        common mistake [mm or in].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> layout = PlateLayout()
    >>> layout.hole_x = 53.75
    >>> layout.warnings[-1]["kind"], layout.margins["left"], layout.margins["right"]
    ('good', 28.75, 28.75)
    """

    hole_x = traitlets.Float(70.5).tag(sync=True)
    hole_y = traitlets.Float(80.0).tag(sync=True)
    line_angle = traitlets.Float(0.0).tag(sync=True)
    inputs = ("hole_x", "hole_y", "line_angle")

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        plate_length: float | None = None,
        plate_height: float | None = None,
        hole_diameter: float | None = None,
        hole_x: float | None = None,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        length, height, hole = or_usual(
            USUAL[unit], plate_length=plate_length, plate_height=plate_height, hole_diameter=hole_diameter
        ).values()
        for name, teeth in (("driver_teeth", driver_teeth), ("driven_teeth", driven_teeth)):
            within(name, teeth, 6, 120, "teeth")
        within("plate_length", length, *LIMITS[unit]["plate"], unit)
        within("plate_height", height, *LIMITS[unit]["plate"], unit)
        within("hole_diameter", hole, *LIMITS[unit]["hole_diameter"], unit)
        self.mesh = Mesh(Gear(driver_teeth, **self._size), Gear(driven_teeth, **self._size))
        self.size, self.hole_diameter = (float(length), float(height)), float(hole)
        self._scope = scope_for("plate", unit, (self.mesh.driver.system, self.mesh.driven.system))
        step = STEPS[unit]["step"]
        centred = step * round((length - self.mesh.centre_distance) / (2 * step))
        super().__init__(
            playing=False,
            driver_speed=0.0,
            hole_x=round(centred, 4) if hole_x is None else float(hole_x),
            hole_y=float(height) / 2,
        )

    @traitlets.validate("hole_x", "hole_y", "line_angle")
    def _checked(self, proposal):
        limits = {
            "hole_x": (0.0, self.size[0], self.mesh.unit),
            "hole_y": (0.0, self.size[1], self.mesh.unit),
            "line_angle": (*ANGLES, "deg"),
        }[proposal.trait.name]
        within(proposal.trait.name, proposal.value, *limits)
        return proposal.value

    @property
    def margins(self) -> dict[str, float]:
        """What the plate has beyond the tips, by side [mm or in]."""
        return margins(self.mesh, (self.hole_x, self.hole_y), self.line_angle, self.size)

    def _givens(self) -> dict[str, float]:
        return {
            "driver_teeth": float(self.mesh.driver.teeth),
            "driven_teeth": float(self.mesh.driven.teeth),
            **self._size,
        }

    def _derivation(self, word: str):
        own = (
            {"plate_length": self.size[0]}
            if word in ("hole_x", "end_margin")
            else {"hole_x": self.hole_x, "hole_y": self.hole_y, "line_angle": self.line_angle}
        )
        return explain(self._scope, self._givens() | own, word, NOTATION[self.mesh.unit])

    def _state(self) -> State:
        unit = self.mesh.unit
        place = worked_out(
            self._scope,
            self._givens() | {"hole_x": self.hole_x, "hole_y": self.hole_y, "line_angle": self.line_angle},
        )
        scene = views.plate(
            self.mesh,
            (self.hole_x, self.hole_y),
            self.line_angle,
            size=self.size,
            hole_diameter=self.hole_diameter,
            control="hole_x",
        )
        left = self.margins
        length = lambda value: numerals.length(value, unit)  # noqa: E731
        holes = [
            row(
                "centre distance",
                cell("centre_distance", place["centre_distance"], length(place["centre_distance"])),
            ),
            row(
                "second hole, from the left",
                cell("other_hole_x", place["other_hole_x"], length(place["other_hole_x"])),
            ),
            row(
                "second hole, from below",
                cell("other_hole_y", place["other_hole_y"], length(place["other_hole_y"])),
            ),
        ]
        room = [
            row(
                f"beyond the tips, {name}",
                cell(f"margin_{name}", value, length(value), explained=False, alarm=value < 0),
            )
            for name, value in left.items()
        ]
        over = [name for name, value in left.items() if value < 0]
        if over:
            said = remark(
                "warning",
                f"the tips stand over the edge ({' and '.join(over)}): they meet the bench, the guard or a"
                " hand.",
            )
        elif abs(left["left"] - left["right"]) <= 2 * NEAR[unit]:
            said = remark(
                "good",
                f"left and right margins are equal: {length(left['left'])} and {length(left['right'])}.",
            )
        else:
            side = "left" if left["left"] > left["right"] else "right"
            said = remark(
                "note",
                f"the margins differ: {length(left['left'])} left, {length(left['right'])} right. Move the"
                f" gears to the {side}.",
            )
        task = remark(
            "task",
            "place the driver's hole so that the margins beyond the tips are equal left and right. Centred"
            " holes do not do it: the gears differ in size.",
        )
        steps = STEPS[unit] | {"unit": unit, "spoken": SPOKEN[unit]}
        controls = [
            measure("hole_x", "Driver's hole, from the left", 0.0, self.size[0], **steps),
            measure("hole_y", "Driver's hole, from below", 0.0, self.size[1], **steps),
            measure(
                "line_angle",
                "Line of centres",
                *ANGLES,
                1.0,
                page=15.0,
                places=1,
                unit="\u00b0",
                spoken="degrees",
            ),
        ]
        return State(
            scene,
            f"Plate of {numerals.plain(self.size[0])} by {numerals.plain(self.size[1])} {unit}",
            [group("The holes", holes), group("The plate", room)],
            [task, said],
            controls,
        )

    def _named(self) -> str:
        return (
            f"{self.mesh.driver.teeth} and {self.mesh.driven.teeth} teeth on {numerals.plain(self.size[0])}"
            f" by {numerals.plain(self.size[1])} {self.mesh.unit}"
        )
