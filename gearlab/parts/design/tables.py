"""The tables of a design file, one class for each: their fields, what each may be, and how they are named.

Lengths are in the file's unit, angles in degrees, torques in N m (or lbf in), forces in N (or lbf),
stresses in MPa (or psi). Every field has a plain meaning; what is left out is not checked, and the review
says so.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator

from gearlab.shape.tooth import MOST_TEETH

from ..gear import Gear

_POSITIVE = Field(gt=0, lt=1e6)
_LENGTH = Field(0.0, ge=0, lt=1e6)
_PLACE = Field(None, ge=-1e6, le=1e6)  # a hole may lie off the plate: the review says so
_MAYBE = Field(None, gt=0, lt=1e6)
_ANGLE = Field(20.0, ge=-1e6, le=1e6)  # the review says which ones can be cut
_NAME = Field(min_length=1, max_length=80)
_EFFICIENCY = Field(1.0, gt=0, le=1)
_COUNT = Annotated[int, Field(ge=4, le=2000)]


class Table(BaseModel):
    """A table of a design file; what it does not know is refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True, allow_inf_nan=False)

    @field_validator("*", mode="before")
    @classmethod
    def _as_meant(cls, value: Any, info: ValidationInfo):
        """Nothing is taken for a number that is not written as one, and names stay on one line."""
        kind = _kind(cls, info.field_name or "")
        if "bool" in kind and value is not None and not isinstance(value, bool):
            raise ValueError("not yes or no")
        if not isinstance(value, (str, bool)):
            return value
        if "str" not in kind and "Literal" not in kind and "bool" not in kind:
            raise ValueError("not a number")
        if isinstance(value, str) and not value.isprintable():
            raise ValueError("not on one line")
        return value


@lru_cache(maxsize=512)
def _kind(table: type[Table], field: str) -> str:
    """The words of a field's type; asked for each value, and slow to write."""
    return str(table.model_fields[field].annotation)


class Head(Table):
    """The head of the file: its name and unit, what is wanted of the drive."""

    name: str = _NAME
    unit: Literal["mm", "in"] = "mm"
    ratio: float | None = Field(None, gt=0, lt=1e6)
    ratio_within: float = Field(0.01, ge=0, le=0.5)
    direction: Literal["same", "opposite"] | None = None
    hunting: bool = False


class PlateTable(Table):
    """The plate."""

    length: float = _POSITIVE
    height: float = _POSITIVE
    thickness: float = _POSITIVE
    material: str = ""


class ShaftTable(Table):
    """A shaft: where it stands on the plate, how thick and long it is, how it is held behind the plate.

    ``x`` and ``y`` are left out for an axis that does not stand on the plate, such as the second one of a
    bevel pair. ``hole`` is the diameter of its hole in the plate. ``allowable_shear`` is what its material
    can withstand.
    """

    name: str = Field(min_length=1, max_length=40)
    x: float | None = _PLACE
    y: float | None = _PLACE
    diameter: float = _POSITIVE
    length: float | None = _MAYBE
    behind: float = _LENGTH
    end: float = _LENGTH
    key_angle: float = Field(0.0, ge=-360, le=360)
    hole: float | None = _MAYBE
    material: str = ""
    allowable_shear: float | None = _MAYBE

    @property
    def placed(self) -> bool:
        """Whether it stands on the plate."""
        return self.x is not None and self.y is not None

    @property
    def place(self) -> tuple[float, float]:
        """Where it stands on the plate [unit of the design]; ValueError for one that does not."""
        if self.x is None or self.y is None:
            raise ValueError(f"shaft {self.name!r} is not on the plate; give it x and y to put it there")
        return self.x, self.y


class _Toothed(Table):
    """The size of teeth: what every toothed member says of them."""

    module: float | None = _MAYBE
    diametral_pitch: float | None = _MAYBE
    pressure_angle: float = _ANGLE

    @property
    def size(self) -> dict[str, float]:
        """The size of the teeth as a part is given it; empty where it is not stated."""
        if self.module is not None:
            return {"module": self.module}
        return {} if self.diametral_pitch is None else {"diametral_pitch": self.diametral_pitch}


class GearTable(_Toothed):
    """A gear on a shaft, with its hub and how it is fastened.

    ``gap`` is what lies under it, down to the plate or the gear before it on the shaft. A ring is
    ``internal``, with ``rim_diameter`` around it. ``key_length`` is that of its key, ``allowable_shear`` and
    ``allowable_bearing`` what the key can withstand; ``allowable_stress`` is that of its teeth. ``loose``: it
    runs on its shaft and hands nothing to it.
    """

    name: str = _NAME
    shaft: str
    teeth: int = Field(ge=Gear.fewest_teeth, le=MOST_TEETH)
    internal: bool = False
    profile_shift: float = Field(0.0, ge=-1e6, le=1e6)
    tooth_thinning: float = _LENGTH
    tooth_system: str = "full depth"
    face_width: float = _POSITIVE
    gap: float = _LENGTH
    bore: float = _POSITIVE
    rim_diameter: float | None = _MAYBE
    material: str = ""
    fit: str | None = None
    loose: bool = False
    bore_offset: float = _LENGTH
    hub_diameter: float | None = _MAYBE
    hub_projection: float = _LENGTH
    hub_side: Literal["plate", "away"] = "plate"
    set_screw: str | None = None
    screws: int = Field(1, ge=1, le=4)
    screw_length: float | None = _MAYBE
    drill_depth: float | None = _MAYBE
    drill_reach: float | None = _MAYBE
    thread_length: float | None = _MAYBE
    flat: float = _LENGTH
    keyway_depth: float = _LENGTH
    keyway_width: float | None = _MAYBE
    keyway_on: Literal["tooth", "space"] | None = None
    key_length: float | None = _MAYBE
    allowable_shear: float | None = _MAYBE
    allowable_bearing: float | None = _MAYBE
    allowable_stress: float | None = _MAYBE


class MeshTable(Table):
    """Two gears that are to mesh, the play that is wanted, and the share of the power that gets through."""

    driver: str
    driven: str
    least_backlash: float | None = Field(None, ge=0, lt=1e6)
    most_backlash: float | None = _MAYBE
    efficiency: float = _EFFICIENCY

    @property
    def name(self) -> str:
        """What it is called: "driver with driven"."""
        return f"{self.driver} with {self.driven}"

    @property
    def gears(self) -> tuple[str, str]:
        """Its two gears, the driver first."""
        return self.driver, self.driven

    def mate_of(self, gear: str) -> str:
        """The other one of its two gears."""
        return self.driven if gear == self.driver else self.driver


class LoadTable(Table):
    """What the drive has to carry: the torque on ``shaft``, the first driver's unless one is named."""

    torque: float = _POSITIVE
    shaft: str | None = None
    speed: float | None = Field(None, ge=-1e6, le=1e6)
    stall_torque: float | None = _MAYBE
    slip_torque: float | None = _MAYBE
    lifts: bool = False
    brake: bool = False
    warming: float | None = Field(None, ge=-200, le=200)


class GuardTable(Table):
    """What keeps hands out of the teeth and off turning shafts while the drive runs by power.

    ``kind``: "fixed" (it stays where it is), "interlocked" (opening it stops the drive) or "none".
    ``opens`` is what opens it. ``opening`` is the width of its widest opening, 0 for a closed one,
    ``distance`` how far the nearest teeth are behind it.
    """

    kind: Literal["fixed", "interlocked", "none"]
    opens: Literal["tool", "hand"] | None = None
    opening: float | None = Field(None, ge=0, lt=1e6)
    distance: float | None = Field(None, ge=0, lt=1e6)


class RackTable(_Toothed):
    """A rack moved by one of the gears; without a ``pinion`` it stands alone, and says its own teeth.

    ``angle`` is the direction from the pinion's centre to the rack, ``force`` what the rack has to push,
    ``guided`` whether something holds it to the pinion.
    """

    name: str = Field("rack", min_length=1, max_length=80)
    pinion: str | None = None
    teeth: int = Field(ge=2, le=10_000)
    travel: float = _POSITIVE
    pitch_height: float = _POSITIVE
    mounting_height: float = _POSITIVE
    stops: bool = False
    guided: bool | None = None
    angle: float = Field(-90.0, ge=-360, le=360)
    face_width: float | None = _MAYBE
    foot: float | None = Field(None, ge=0, lt=1e6)
    force: float | None = _MAYBE
    material: str = ""
    efficiency: float = _EFFICIENCY
    allowable_stress: float | None = _MAYBE


class BevelTable(_Toothed):
    """A bevel pair, a mitre pair where both have as many teeth.

    ``driver`` and ``driven`` are the shafts it stands between; ``mounting`` the distances from the apex at
    which the two gears are mounted.
    """

    name: str = Field("mitre pair", min_length=1, max_length=80)
    teeth: tuple[_COUNT, _COUNT]
    thrust_collars: bool = False
    shaft_angle: float = Field(90.0, gt=0, lt=180)
    face_width: float | None = _MAYBE
    driver: str | None = None
    driven: str | None = None
    mounting: tuple[Annotated[float, _POSITIVE], Annotated[float, _POSITIVE]] | None = None
    material: str = ""
    efficiency: float = _EFFICIENCY
    allowable_stress: float | None = _MAYBE


class PlanetaryTable(_Toothed):
    """A planetary set; with ``second_planet`` a stepped one, whose ring meshes with the second planet.

    ``held`` is the member that stands still; ``sun_shaft``, ``carrier_shaft`` and ``ring_shaft`` name the
    shafts of the others.
    """

    name: str = Field("planetary set", min_length=1, max_length=80)
    sun: _COUNT
    planet: _COUNT
    second_planet: _COUNT | None = None
    ring: int = Field(ge=8, le=6000)
    planets: int = Field(ge=1, le=12)
    ring_bolted: bool = True
    held: Literal["sun", "carrier", "ring"] = "ring"
    sun_shaft: str | None = None
    carrier_shaft: str | None = None
    ring_shaft: str | None = None
    face_width: float | None = _MAYBE
    material: str = ""
    efficiency: float = _EFFICIENCY
    allowable_stress: float | None = _MAYBE

    @property
    def shafts(self) -> dict[str, str]:
        """The shafts of its members, by member, as far as they are named."""
        named = {"sun": self.sun_shaft, "carrier": self.carrier_shaft, "ring": self.ring_shaft}
        return {member: shaft for member, shaft in named.items() if shaft is not None}


#: What a caliper can say of a part, and of which part it is said.
MEASURED = {
    "hole_spacing": "mesh",
    "spacing_over_pins": "mesh",
    "backlash": "mesh",
    "bore": "gear",
    "outside_diameter": "gear",
    "span": "gear",
    "over_pins": "gear",
    "face_width": "gear",
    "overall_length": "gear",
    "hub_diameter": "gear",
    "diameter": "shaft",
    "length": "shaft",
    "hole": "shaft",
    "thickness": "plate",
}


class MeasuredTable(Table):
    """What was measured of a part, and how well the instrument reads.

    ``part`` is the name of a gear or a shaft, "driver with driven" for two gears in mesh, or "plate".
    ``over`` says over how many teeth a span was taken, ``pin_diameter`` the pins that stood in holes or
    spaces.
    """

    part: str
    quantity: Literal[
        "hole_spacing",
        "spacing_over_pins",
        "backlash",
        "bore",
        "outside_diameter",
        "span",
        "over_pins",
        "face_width",
        "overall_length",
        "hub_diameter",
        "diameter",
        "length",
        "hole",
        "thickness",
    ]
    value: float = _POSITIVE
    reads_to: float = Field(gt=0, lt=1e3)
    over: int | None = Field(None, ge=1, le=500)
    pin_diameter: float | None = _MAYBE

    @property
    def name(self) -> str:
        """What it is called: part and quantity."""
        return f"{self.part} {self.quantity}"
