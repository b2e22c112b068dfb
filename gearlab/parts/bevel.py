"""Two bevel gears: cones that roll on each other at a common apex; mitre pairs are the plain case."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

from gearlab.theory.scope import Scope, scope_for

from .checks import whole, within
from .explained import ByTheory, Explained, OfASystem
from .working import worked_out

LEAST_TEETH, MOST_TEETH = 6, 500
LEAST_SHAFT_ANGLE, MOST_SHAFT_ANGLE = 10.0, 170.0


@dataclass(frozen=True, repr=False)
class BevelPair(OfASystem, Explained):
    """A driver and a driven bevel gear with straight teeth, whose axes cross.

    Sizes are those at the large end. Bevel gears are cut as pairs, for one ratio and one shaft angle.

    driver_teeth, driven_teeth: numbers of teeth [-], 6 to 500; equal for a mitre pair.
    diametral_pitch: at the large end [1/in], above 0; then every length is in inches. Exactly one of
        diametral pitch and module is given.
    module: at the large end [mm], above 0; then every length is in millimetres.
    shaft_angle: between the axes, from one gear to the other [deg], 10 to 170, and so that neither cone is
        hollow.
    pressure_angle: [deg], 10 to 32; usual are 14.5, 20 and 25.
    face_width: along the cone [in or mm], above 0 to the largest usual face.
    tooth_system: "full depth", "stub" or "fine pitch".
    long_addendum: true to share the addenda by the ratio, a long one for the pinion and a short one for the
        wheel, as most straight bevel gears are made; the wheel is the larger one.
    ValueError if a value is outside its range, a cone would be hollow, or the face is too wide.

    >>> corner = BevelPair(20, 20, module=2.5)
    >>> (
    ...     corner.mitre,
    ...     corner.cone_angles,
    ...     round(corner.cone_distance, 2),
    ...     round(corner.outside_diameters[0], 2),
    ... )
    (True, (45.0, 45.0), 35.36, 53.54)
    >>> [round(angle, 2) for angle in BevelPair(16, 48, diametral_pitch=8).cone_angles]
    [18.43, 71.57]
    """

    driver_teeth: int
    driven_teeth: int
    diametral_pitch: float | None = field(default=None, kw_only=True)
    module: float | None = field(default=None, kw_only=True)
    shaft_angle: float = field(default=90.0, kw_only=True)
    pressure_angle: float = field(default=20.0, kw_only=True)
    face_width: float | None = field(default=None, kw_only=True)
    tooth_system: str = field(default="full depth", kw_only=True)
    long_addendum: bool = field(default=False, kw_only=True)

    def __post_init__(self):
        put = object.__setattr__
        for name in ("driver_teeth", "driven_teeth"):
            put(self, name, whole(name, getattr(self, name), LEAST_TEETH, MOST_TEETH))
        self._check_size()
        put(
            self,
            "shaft_angle",
            within("shaft_angle", self.shaft_angle, LEAST_SHAFT_ANGLE, MOST_SHAFT_ANGLE, "deg"),
        )
        self._check_angle()
        self.system  # noqa: B018 (an unknown system or angle is refused here)
        if self.long_addendum and self.driver_teeth > self.driven_teeth:
            raise ValueError(
                "long_addendum shares the addenda between a pinion that drives and a larger wheel; here"
                f" {self.driver_teeth} teeth drive {self.driven_teeth}: give the smaller count first, or"
                " leave long_addendum out"
            )
        self._check_cones()
        if self.face_width is not None and self.face_width > self.largest_face * (1 + 1e-9):
            raise ValueError(
                f"face_width = {self.face_width:g} {self.unit} is out of range: towards the apex the teeth"
                " grow too small to be cut or to carry. A third of the cone distance of"
                f" {self.cone_distance:.4g} {self.unit}, and not above ten modules, is the limit: give up to"
                f" {self.largest_face:.4g} {self.unit}"
            )

    def _check_cones(self) -> None:
        fewer, more = sorted((self.driver_teeth, self.driven_teeth))
        # The larger cone is flat where cos(shaft angle) = -fewer/more, and hollow beyond.
        flat = 180.0 - math.degrees(math.acos(min(1.0, fewer / more)))
        if self.shaft_angle >= flat - 1e-9:
            raise ValueError(
                f"shaft_angle = {self.shaft_angle:g} deg is out of range: with {fewer} and {more} teeth the"
                f" larger cone is flat at {flat:.4g} deg and hollow beyond, and a hollow cone cannot be cut"
                f" as a bevel gear; give less than {flat:.4g} deg, 90 deg for instance"
            )

    def __repr__(self) -> str:
        angle = "" if self.shaft_angle == 90 else f", shaft_angle={self.shaft_angle:g}"
        return f"BevelPair({self.driver_teeth}, {self.driven_teeth}, {self._named_size()}{angle})"

    # -- what it is ------------------------------------------------------------------------------------
    @property
    def mitre(self) -> bool:
        """True for equal tooth counts on shafts at a right angle."""
        return self.driver_teeth == self.driven_teeth and self.shaft_angle == 90.0

    # -- numbers ---------------------------------------------------------------------------------------
    @cached_property
    def _scope(self) -> Scope:
        return scope_for("bevel pair", self.unit, (self.system, self.system), frozenset(self._features))

    @property
    def _features(self) -> list[str]:
        return ["shaft angle"] * (self.shaft_angle != 90.0) + ["long addendum"] * self.long_addendum

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers, by word [``unit``, 1/in, deg]; all others follow from them."""
        givens = {
            "driver_teeth": float(self.driver_teeth),
            "driven_teeth": float(self.driven_teeth),
            "pressure_angle": self.pressure_angle,
        }
        givens |= self.tooth_size
        givens |= {"shaft_angle": self.shaft_angle} if self.shaft_angle != 90.0 else {}
        return givens | ({"face_width": self.face_width} if self.face_width is not None else {})

    def _both(self, word: str) -> tuple[float, float]:
        driver, driven = (round(self.numbers[f"{side}_{word}"], 12) for side in ("driver", "driven"))
        return driver, driven

    ratio = ByTheory("Driver turns per driven turn [-].")

    @property
    def cone_angles(self) -> tuple[float, float]:
        """Between each axis and its pitch cone, driver and driven; together the shaft angle [deg]."""
        return self._both("cone_angle")

    @property
    def pitch_diameters(self) -> tuple[float, float]:
        """At the large end, driver and driven [``unit``]."""
        return self._both("pitch_diameter")

    @property
    def outside_diameters(self) -> tuple[float, float]:
        """Over the tips at the large end, driver and driven [``unit``]."""
        return self._both("cone_outside_diameter")

    cone_distance = ByTheory("From the apex to the large pitch circle, along the cone [``unit``].")
    largest_face = ByTheory(
        "The largest usual face: a third of the cone distance, not above ten modules [``unit``]."
    )

    @property
    def apex_distances(self) -> tuple[float, float]:
        """Along each axis from the crossing point to the large pitch circle, driver and driven.

        Where they are mounted [``unit``].
        """
        return self._both("apex_distance")

    @property
    def crown_distances(self) -> tuple[float, float]:
        """Along each axis from the crossing point to the tips at the large end [``unit``]."""
        return self._both("crown_distance")

    @property
    def virtual_teeth(self) -> tuple[float, float]:
        """Teeth of the spur gears that their teeth look like, driver and driven [-]."""
        return self._both("virtual_teeth")

    # -- motion ----------------------------------------------------------------------------------------
    def speed(self, driver_speed: float, side: int = 1) -> float:
        """Speed of the driven shaft, seen from one and the same end of it [rpm].

        Look along each shaft towards the point where the axes cross. With the driven gear on your side of the
        driver's axis the shafts turn opposite ways. Mounted on the far side, its shaft seen from the same end
        as before, it turns with the driver.

        driver_speed: seen from the driver's free end, counter-clockwise positive [rpm].
        side: 1 if the driven gear stands on your side of the driver's axis, -1 if on the far side [-].

        >>> corner = BevelPair(20, 20, module=2.5)
        >>> corner.speed(6), corner.speed(6, side=-1)
        (-6.0, 6.0)
        """
        driver_speed = within("driver_speed", driver_speed, -math.inf, math.inf, "rpm")
        if whole("side", side, -1, 1) == 0:
            raise ValueError(
                f"side = {side!r} is not known: give 1 or -1, the side of the driver on which the driven gear"
                " is"
            )
        size = (
            worked_out(self._scope, self.givens | {"driver_speed": abs(float(driver_speed))})["output_speed"]
            if driver_speed
            else 0.0
        )
        return -side * math.copysign(size, driver_speed) if size else 0.0

    # -- forces ----------------------------------------------------------------------------------------
    def forces(self, mean_force: float) -> dict[str, tuple[float, float]]:
        """What the teeth press on each shaft, along it ("thrust", away from the apex) and across it
        ("radial").

        mean_force: tangential force at the middle of the face [N, lbf], above 0.
        Returns for driver and driven [N, lbf]; an estimate for teaching, without losses.

        >>> [round(force, 1) for force in BevelPair(20, 30, module=2.5).forces(80)["thrust"]]
        [16.2, 24.2]
        """
        numbers = worked_out(
            self._scope,
            self.givens | {"mean_force": within("mean_force", mean_force, 0.0, math.inf, "", above=True)},
        )
        return {
            "thrust": (numbers["driver_thrust"], numbers["driven_thrust"]),
            "radial": (numbers["driver_cone_radial_force"], numbers["driven_cone_radial_force"]),
        }
