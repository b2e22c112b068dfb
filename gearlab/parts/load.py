"""What a pair has to carry.

Power, torque, tooth forces, and the plain beam formula for the stress at the foot of a tooth.

Every force follows from the torque by statics; every stress is an estimate for teaching.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from gearlab.theory import Derivation
from gearlab.theory.scope import Scope, scope_for
from gearlab.theory.units import usual_unit, written

from .checks import part, takes_parts, within
from .explained import ByTheory, Explained
from .gear import Gear
from .mesh import Mesh
from .published.strength import Bending, form_factor, speed_constant, static_stress
from .train import Train
from .working import worked_out


@dataclass(frozen=True, repr=False)
class Load(Explained):
    """A pair and the torque on its driver.

    mesh: the pair; of pairs in a ring plain ones at their reference distance.
    torque: on the driver, as a size [N*m, or lbf*in for an inch pair], above 0.
    speed: of the driver [rpm]; only its size counts here. 0 for a stall.
    efficiency: of the mesh [-], above 0 to 1.
    ValueError for a value out of range, or a pair in a ring that is not plain.

    >>> load = Load(
    ...     Mesh(Gear(18, module=2.5, face_width=14), Gear(45, module=2.5, face_width=12)),
    ...     torque=1.93,
    ...     speed=15,
    ...     efficiency=0.92,
    ... )
    >>> (
    ...     round(load.tangential_force, 1),
    ...     round(load.separating_force, 1),
    ...     round(load.driven_torque, 2),
    ...     round(load.power, 1),
    ... )
    (85.8, 31.2, 4.44, 3.0)
    >>> print(load.bending("driver", face_width=12, allowable=20))
    bending stress 9.253 MPa (form factor 0.309 from a table); 0.463 of the 20 MPa taken for the material;
    estimate for teaching
    """

    mesh: Mesh
    torque: float
    speed: float | None = None
    efficiency: float = 1.0

    def __post_init__(self):
        part("mesh", self.mesh, "Mesh")
        within("torque", self.torque, 0.0, math.inf, written(self.torque_unit), above=True)
        within("efficiency", self.efficiency, 0.0, 1.0, "", above=True)
        if self.speed is not None:
            within("speed", self.speed, -math.inf, math.inf, "rpm")
        if self.mesh.internal and not self.mesh.plain:
            raise ValueError(
                f"forces in {self.mesh!r} are not told: of pairs in a ring only plain ones at their reference"
                f" distance ({self.mesh.reference_centre_distance:g} {self.mesh.unit}) are; take that"
                " distance, without shift"
            )

    @classmethod
    @takes_parts
    def from_power(cls, mesh: Mesh, power: float, speed: float, efficiency: float = 1.0) -> Load:
        """The load from a power [W, or hp for an inch pair], above 0, and the driver's speed [rpm], other
        than 0.

        >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
        >>> round(Load.from_power(pair, 3.0, 15).torque, 3)  # lesson text: 3 W at 15 rpm is 1.91 N m
        1.91
        """
        unit = mesh.unit
        within("power", power, 0.0, math.inf, usual_unit("power", unit), above=True)
        if within("speed", speed, -math.inf, math.inf, "rpm") == 0:
            raise ValueError(
                "speed = 0 rpm carries no power: give another speed, or the torque in place of the power"
            )
        given = {"power": float(power), "driver_speed": abs(float(speed))}
        torque = worked_out(scope_for("load", unit, (mesh.driver.system, mesh.driven.system)), given)[
            "driver_torque"
        ]
        return cls(mesh, torque, speed, efficiency)

    @property
    def unit(self) -> str:
        """Unit of every length, "mm" or "in"."""
        return self.mesh.unit

    @property
    def torque_unit(self) -> str:
        """Unit of torque, "N*m" or "lbf*in"."""
        return usual_unit("torque", self.unit)

    @property
    def force_unit(self) -> str:
        """Unit of force, "N" or "lbf"."""
        return usual_unit("force", self.unit)

    # -- numbers ---------------------------------------------------------------------------------------
    @cached_property
    def _scope(self) -> Scope:
        return scope_for("load", self.unit, (self.mesh.driver.system, self.mesh.driven.system))

    @property
    def givens(self) -> dict[str, float]:
        """The independent numbers by word [usual units: mm or in, deg, N*m or lbf*in, rpm]."""
        driver, driven = self.mesh.driver, self.mesh.driven
        givens = driver.tooth_size
        givens |= {
            "pressure_angle": driver.pressure_angle,
            "driver_teeth": float(driver.teeth),
            "driven_teeth": float(driven.teeth),
            "driver_torque": float(self.torque),
            "efficiency": self.efficiency,
        }
        return givens | ({"driver_speed": abs(self.speed)} if self.speed else {})

    @cached_property
    def numbers(self) -> Mapping[str, float]:
        """Every number that follows, by word [usual units].

        Forces are those on the operating pitch circles.
        """
        numbers = worked_out(self._scope, self.givens)
        if not self.mesh.plain:
            # The force along the line of action goes with the base circles, which stay: its parts turn with
            # the line of action.
            numbers |= {
                word: self.mesh.explain(word, normal_force=numbers["normal_force"]).result
                for word in ("tangential_force", "separating_force")
            }
            numbers["force_angle"] = self.mesh.operating_pressure_angle
        return MappingProxyType(numbers)

    tangential_force = ByTheory(
        "The part of the tooth force that turns the gears, along the pitch circles [N or lbf]."
    )
    separating_force = ByTheory("The part of the tooth force that pushes the shafts apart [N or lbf].")
    normal_force = ByTheory(
        "The whole tooth force, along the line of action [N or lbf]; it also loads each shaft."
    )
    driven_torque = ByTheory("Torque on the driven gear, less the losses of the mesh [N*m or lbf*in].")

    @property
    def power(self) -> float:
        """Power that goes into the mesh [W or hp]; 0 at a stall.

        ValueError if no speed is given.
        """
        self._moving("power")
        return self.numbers["power"] if self.speed else 0.0

    @property
    def power_out(self) -> float:
        """Power that comes out of the mesh [W or hp]."""
        return self.power * self.efficiency

    @property
    def pitch_line_speed(self) -> float:
        """Speed of the pitch circles, as a size [m/s or ft/min]."""
        self._moving("pitch-line speed")
        return (
            self.mesh.explain("pitch_line_speed", driver_speed=abs(self.speed)).result if self.speed else 0.0
        )

    def _moving(self, wanted: str) -> None:
        if self.speed is None:
            raise ValueError(f"{wanted} needs the driver's speed: give Load(..., speed=...) in rpm")

    # -- strength --------------------------------------------------------------------------------------
    def bending(
        self,
        side: str = "driver",
        *,
        face_width: float | None = None,
        form: str | float = "table",
        allowable: float | str | None = None,
        teeth_made: str | float | None = None,
    ) -> Bending:
        """The stress at the foot of a tooth by the plain beam formula, the load at the tip.

        An estimate for teaching.

        side: "driver" or "driven": whose tooth.
        face_width: above 0 [``unit``]; by default the narrower face of the two gears.
        form: "table" (published form factor), "measured" (inscribed parabola on the cut tooth), or the form
            factor itself [-].
        allowable: what the material is taken to bear [MPa or psi], or a material of
            ``strength.STATIC_STRESS``.
        teeth_made: "cut" or "cast" for the speed factor, or its constant [m/s or ft/min]; by default none is
            put in.
        Returns the stress [MPa or psi] with what it was worked out from.
        ValueError for an unknown side, a face width that is not known, a tooth that the table does not hold,
            a ring, or a missing speed.

        >>> load = Load(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), torque=10)
        >>> stall = load.bending(face_width=12, allowable=20)
        >>> round(stall.stress, 1), round(stall.utilisation, 1)
        (47.9, 2.4)
        """
        gear = self._gear(side)
        factor = self._form(gear, form)
        faces = [
            gear.face_width for gear in (self.mesh.driver, self.mesh.driven) if gear.face_width is not None
        ]
        if face_width is None and not faces:
            raise ValueError(
                f"face_width is not known: give bending(face_width=...) in {self.unit}, or give the gears one"
            )
        width = within(
            "face_width",
            min(faces) if face_width is None else face_width,
            0.0,
            math.inf,
            self.unit,
            above=True,
        )
        # The formula is meant on the reference circle, also where the pair is mounted wider.
        given = self.givens | {"face_width": width, "form_factor": factor}
        if teeth_made is not None:
            self._moving("the speed factor")
            given |= {
                "pitch_speed": self.pitch_line_speed,
                "speed_constant": speed_constant(teeth_made, self.unit),
            }
        numbers, shown = worked_out(self._scope, given), usual_unit("stress", self.unit)
        stress = numbers["bending_stress" if teeth_made is None else "stress_with_speed"]
        if isinstance(allowable, str):
            allowable = static_stress(allowable, shown)
        elif allowable is not None:
            within("allowable", allowable, 0.0, math.inf, shown, above=True)
        return Bending(stress, factor, form == "measured", numbers.get("speed_factor", 1.0), allowable, shown)

    def _gear(self, side: str) -> Gear:
        if side not in ("driver", "driven"):
            raise ValueError(f"side {side!r} is unknown: give 'driver' or 'driven'")
        gear = getattr(self.mesh, side)
        if gear.internal:
            raise ValueError(
                "the plain beam formula is told of teeth that point outward: ask for the pinion,"
                " bending('driver')"
            )
        return gear

    @staticmethod
    def _form(gear: Gear, form: str | float) -> float:
        if isinstance(form, str) and form == "measured":
            from gearlab.shape.lewis import weakest_section

            return weakest_section(gear.tooth).form_factor
        if isinstance(form, str) and form == "table":
            if gear.tooth_system != "full depth":
                raise ValueError(
                    f"the table of form factors holds full-depth teeth, these are {gear.tooth_system}: use"
                    " form='measured'"
                )
            return form_factor(
                gear.teeth, gear.pressure_angle, "textbook" if gear.pressure_angle == 20.0 else "maker"
            )
        if isinstance(form, str):
            raise ValueError(
                f"form {form!r} is unknown: give 'table', 'measured', or the form factor as a number"
            )
        return within("form", form, 0.05, 1.5, "")

    def at_stall(self, torque: float) -> Load:
        """The same pair held still by a jam while the motor pulls with its stall torque [N*m or lbf*in]."""
        return replace(self, torque=torque, speed=0.0)

    def explain(self, word: str, notation: str | None = None, **extra: float) -> Derivation:
        """Show where a number of a plain pair comes from, with further givens by word, such as
        ``form_factor`` or ``face_width`` [``unit``].

        >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
        >>> print(Load(pair, torque=1.9).explain("tangential_force").lines("text")[-1].math)
        F_t = 2·T_1/(z1·m) = 2·1.9 N·m/(18·2.5 mm) = 84.4444 N
        """
        if not self.mesh.plain:
            raise ValueError(
                "steps are told of a plain pair at its reference distance: ask the mesh for its operating"
                " pressure angle, and a plain pair for the force"
            )
        return super().explain(word, notation, **extra)

    def __repr__(self) -> str:
        turning = "" if self.speed is None else f" at {self.speed:g} rpm"
        return (
            f"Load({self.mesh.driver.teeth} : {self.mesh.driven.teeth} teeth, {self.torque:.4g}"
            f" {written(self.torque_unit)}{turning})"
        )


@takes_parts
def through(
    train: Train, torque: float, speed: float | None = None, mesh_efficiency: float = 1.0
) -> tuple[Load, ...]:
    """The load on every mesh of an open train, from the first shaft on.

    Each mesh gains torque by its ratio and loses by its efficiency.

    torque: on the first shaft, as a size [N*m or lbf*in], above 0.
    speed: of the first shaft [rpm].
    mesh_efficiency: of each mesh [-], above 0 to 1.
    Returns one for each mesh.

    >>> loads = through(Train.of(18, (45, 21), 42, module=2.5), torque=2.0, speed=30, mesh_efficiency=0.9)
    >>> [round(load.torque, 3) for load in loads], round(loads[-1].driven_torque, 3), loads[-1].speed
    ([2.0, 4.5], 8.1, -12.0)
    """
    if train.ring:
        raise ValueError("a closed ring has no last shaft to carry a load: give an open train")
    torques = train.torques(within("torque", torque, 0.0, math.inf, "", above=True), mesh_efficiency)
    speeds = (
        train.speeds(within("speed", speed, -math.inf, math.inf, "rpm"))
        if speed is not None
        else [None] * len(torques)
    )
    return tuple(Load(mesh, torques[k], speeds[k], mesh_efficiency) for k, mesh in enumerate(train.meshes))
