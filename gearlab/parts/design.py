"""A design of a drive on a plate, read from a small TOML file: plate, shafts, gears, meshes, load.

Lengths are in the file's unit, angles in degrees, torques in N m (or lbf in), stresses in MPa (or psi). Every
field has a plain meaning; what is left out is not reviewed.
"""

from __future__ import annotations

import math
import tomllib
from functools import cached_property
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, ValidationInfo, field_validator

from gearlab.shape.tooth import MOST_TEETH

from .designfaults import faults, line_of, text_of
from .gear import Gear
from .hub import Hub
from .plate import Hole, Plate
from .shaft import Shaft, face_height

_POSITIVE = Field(gt=0, lt=1e6)
_LENGTH = Field(0.0, ge=0, lt=1e6)
_PLACE = Field(ge=-1e6, le=1e6)  # a hole may lie off the plate: the review says so
_MAYBE = Field(None, gt=0, lt=1e6)


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True, allow_inf_nan=False)

    @field_validator("*", mode="before")
    @classmethod
    def _as_meant(cls, value: Any, info: ValidationInfo):
        """Nothing is taken for a number that is not written as one, and names stay on one line."""
        kind = str(cls.model_fields[info.field_name or ""].annotation)
        if (
            isinstance(value, (str, bool))
            and "str" not in kind
            and "Literal" not in kind
            and "bool" not in kind
        ):
            raise ValueError("not a number")
        if isinstance(value, str) and not value.isprintable():
            raise ValueError("not on one line")
        return value


class Head(_Table):
    """The head of the file: its name and unit, what is wanted of the drive."""

    name: str = Field(min_length=1, max_length=80)
    unit: Literal["mm", "in"] = "mm"
    ratio: float | None = Field(None, gt=0, lt=1e6)
    ratio_within: float = Field(0.01, ge=0, le=0.5)
    direction: Literal["same", "opposite"] | None = None
    hunting: bool = False


class PlateTable(_Table):
    """The plate."""

    length: float = _POSITIVE
    height: float = _POSITIVE
    thickness: float = _POSITIVE
    material: str = ""


class ShaftTable(_Table):
    """A shaft: where it stands on the plate, how thick and long it is, how it is held behind the plate."""

    name: str = Field(min_length=1, max_length=40)
    x: float = _PLACE
    y: float = _PLACE
    diameter: float = _POSITIVE
    length: float | None = _MAYBE
    behind: float = _LENGTH
    end: float = _LENGTH
    key_angle: float = Field(0.0, ge=-360, le=360)


class GearTable(_Table):
    """A gear on a shaft, with its hub and how it is fastened.

    ``gap`` is what lies under it, down to the plate or the gear before it on the shaft.
    """

    name: str = Field(min_length=1, max_length=80)
    shaft: str
    teeth: int = Field(ge=Gear.fewest_teeth, le=MOST_TEETH)
    module: float | None = _MAYBE
    diametral_pitch: float | None = _MAYBE
    pressure_angle: float = Field(20.0, ge=-1e6, le=1e6)  # the review says which ones can be cut
    profile_shift: float = Field(0.0, ge=-1e6, le=1e6)
    tooth_thinning: float = _LENGTH
    tooth_system: str = "full depth"
    face_width: float = _POSITIVE
    gap: float = _LENGTH
    bore: float = _POSITIVE
    fit: str | None = None
    bore_offset: float = _LENGTH
    hub_diameter: float | None = _MAYBE
    hub_projection: float = _LENGTH
    hub_side: Literal["plate", "away"] = "plate"
    set_screw: str | None = None
    screw_length: float | None = _MAYBE
    drill_depth: float | None = _MAYBE
    drill_reach: float | None = _MAYBE
    thread_length: float | None = _MAYBE
    flat: float = _LENGTH
    keyway_depth: float = _LENGTH
    keyway_on: Literal["tooth", "space"] | None = None
    allowable_stress: float | None = _MAYBE


class MeshTable(_Table):
    """Two gears that are to mesh."""

    driver: str
    driven: str


class LoadTable(_Table):
    """What the first gear of the first mesh has to carry."""

    torque: float = _POSITIVE
    speed: float | None = Field(None, ge=-1e6, le=1e6)
    stall_torque: float | None = _MAYBE
    slip_torque: float | None = _MAYBE
    lifts: bool = False
    brake: bool = False
    warming: float | None = Field(None, ge=-200, le=200)


class RackTable(_Table):
    """A rack moved by one of the gears."""

    pinion: str
    teeth: int = Field(ge=2, le=10_000)
    travel: float = _POSITIVE
    pitch_height: float = _POSITIVE
    mounting_height: float = _POSITIVE
    stops: bool = False


class MitreTable(_Table):
    """A mitre pair."""

    teeth: tuple[Annotated[int, Field(ge=4, le=2000)], Annotated[int, Field(ge=4, le=2000)]]
    thrust_collars: bool = False


class PlanetaryTable(_Table):
    """A planetary set."""

    sun: int = Field(ge=4, le=2000)
    planet: int = Field(ge=4, le=2000)
    ring: int = Field(ge=8, le=6000)
    planets: int = Field(ge=1, le=12)
    ring_bolted: bool = True


class Design(_Table):
    """A design.

    >>> design = Design.model_validate(
    ...     {
    ...         "design": {"name": "one gear"},
    ...         "plate": {"length": 100, "height": 80, "thickness": 6},
    ...         "shaft": [{"name": "A", "x": 50, "y": 40, "diameter": 10}],
    ...         "gear": [
    ...             {"name": "wheel", "shaft": "A", "teeth": 24, "module": 2.5, "face_width": 12, "bore": 10}
    ...         ],
    ...     }
    ... )
    >>> design.gears["wheel"].pitch_diameter, design.board.name
    (60.0, 'plate_100x80x6')
    """

    design: Head
    plate: PlateTable
    shaft: list[ShaftTable] = Field(min_length=1)
    gear: list[GearTable] = Field(min_length=1)
    mesh: list[MeshTable] = []
    load: LoadTable | None = None
    rack: RackTable | None = None
    mitre: MitreTable | None = None
    planetary: PlanetaryTable | None = None

    def model_post_init(self, _context: Any) -> None:
        shafts, gears = [one.name for one in self.shaft], [one.name for one in self.gear]
        for kind, names in (("shaft", shafts), ("gear", gears)):
            twice = {name for name in names if names.count(name) > 1}
            if twice:
                raise ValueError(
                    f"{kind}: the name {sorted(twice)[0]!r} stands twice; give each {kind} a name of its own"
                )
        for one in self.gear:
            if one.shaft not in shafts:
                raise ValueError(
                    f"gear {one.name!r}: shaft {one.shaft!r} is not in the file; there are"
                    f" {', '.join(shafts)}"
                )
            if one.module is None and one.diametral_pitch is None:
                raise ValueError(
                    f"gear {one.name!r}: the size of its teeth is missing; give module [mm] or"
                    " diametral_pitch [1/in]"
                )
            if one.module is not None and one.diametral_pitch is not None:
                raise ValueError(
                    f"gear {one.name!r}: module = {one.module:g} mm and diametral_pitch ="
                    f" {one.diametral_pitch:g} 1/in are both given; leave out one of them"
                )
            if one.hub_diameter is None and one.hub_projection:
                raise ValueError(
                    f"gear {one.name!r}: hub_projection = {one.hub_projection:g} {self.unit} without"
                    " hub_diameter; give both, or neither"
                )
            if one.screw_length is not None and one.set_screw is None:
                raise ValueError(
                    f"gear {one.name!r}: screw_length without set_screw; name the screw, such as set_screw ="
                    ' "M5"'
                )
        for pair in self.mesh:
            for name in (pair.driver, pair.driven):
                if name not in gears:
                    raise ValueError(f"mesh: gear {name!r} is not in the file; there are {', '.join(gears)}")
            if self.of(pair.driver).shaft == self.of(pair.driven).shaft:
                shared = f"on one shaft, {self.of(pair.driver).shaft!r}"
                raise ValueError(
                    f"mesh: driver {pair.driver!r} and driven {pair.driven!r} are"
                    f" {'one gear' if pair.driver == pair.driven else shared};"
                    " name two gears on two shafts"
                )
        if self.rack is not None and self.rack.pinion not in gears:
            raise ValueError(
                f"rack: pinion {self.rack.pinion!r} is not in the file; there are {', '.join(gears)}"
            )

    # -- parts -----------------------------------------------------------------------------------------
    @property
    def unit(self) -> str:
        """Unit of every length, "mm" or "in"."""
        return self.design.unit

    @cached_property
    def board(self) -> Plate:
        """The plate, without its holes: those may be wrong, which ``review`` says."""
        return Plate(
            self.plate.length, self.plate.height, self.plate.thickness, self.unit, self.plate.material
        )

    @cached_property
    def holes(self) -> tuple[Hole, ...]:
        """The holes of the shafts."""
        return tuple(Hole(one.name, one.x, one.y, one.diameter) for one in self.shaft)

    @cached_property
    def gears(self) -> dict[str, Gear]:
        """The gears, by name; raises ValueError for one that cannot be."""
        found = {}
        for one in self.gear:
            try:
                found[one.name] = self.cut(one)
            except ValueError as error:
                raise ValueError(f"gear {one.name!r}: {error}") from None
        return found

    @staticmethod
    def cut(one: GearTable) -> Gear:
        """The gear of a table; raises ValueError where it cannot be."""
        size = {"module": one.module} if one.module is not None else {"diametral_pitch": one.diametral_pitch}
        return Gear(
            one.teeth,
            **size,
            pressure_angle=one.pressure_angle,
            profile_shift=one.profile_shift,
            tooth_system=one.tooth_system,
            tooth_thinning=one.tooth_thinning,
            face_width=one.face_width,
        )

    @cached_property
    def hubs(self) -> dict[str, Hub]:
        """The hubs, by the gear's name; a gear without one has the bore in its body."""
        return {
            one.name: Hub(
                one.hub_diameter,
                one.bore,
                one.hub_projection,
                one.face_width,
                one.keyway_depth,
                one.flat,
                self.unit,
            )
            for one in self.gear
            if one.hub_diameter is not None and one.hub_diameter > one.bore
        }

    def shaft_of(self, gear: str) -> ShaftTable:
        """The shaft that a gear sits on."""
        wanted = self.of(gear).shaft
        return next(one for one in self.shaft if one.name == wanted)

    def of(self, gear: str) -> GearTable:
        """The table of a gear."""
        return next(one for one in self.gear if one.name == gear)

    def overall_length(self, gear: str) -> float:
        """Face and hub of a gear [unit]."""
        one = self.of(gear)
        return one.face_width + one.hub_projection

    def foot(self, gear: str) -> float:
        """Height of a gear's lower end above the plate [unit].

        Its gap, and what stands below it on its shaft, in the file's order.
        """
        one, height = self.of(gear), 0.0
        for other in self.gear:
            if other.shaft != one.shaft:
                continue
            height += other.gap
            if other.name == gear:
                break
            height += self.overall_length(other.name)
        return height

    def face_height(self, gear: str) -> float:
        """Height of the middle of a gear's face above the plate [unit]."""
        one = self.of(gear)
        return face_height(
            self.foot(gear), self.overall_length(gear), one.face_width, one.hub_side, self.unit
        )

    def distance(self, one: str, two: str) -> float:
        """Distance of the shafts of two gears [unit]."""
        first, second = self.shaft_of(one), self.shaft_of(two)
        return math.hypot(second.x - first.x, second.y - first.y)

    def line_angle(self, one: str, two: str) -> float:
        """Direction from the shaft of a gear to that of another [deg]."""
        first, second = self.shaft_of(one), self.shaft_of(two)
        return math.degrees(math.atan2(second.y - first.y, second.x - first.x))

    def rod(self, shaft: ShaftTable) -> Shaft | None:
        """The shaft as a part; None where its length is not stated."""
        return None if shaft.length is None else Shaft(shaft.diameter, shaft.length, self.unit)


def read_design(source: str | Path) -> Design:
    """A design from a TOML file, or from its text.

    source: a path, or text that holds a line break.
    ValueError for a file that cannot be read or does not fit; each fault is named with its field and what is
        expected.

    >>> read_design(
    ...     "[design]\\nname = 'x'\\n[plate]\\nlength = 100\\nheight = -5\\nthickness = 6\\n"
    ...     "[[shaft]]\\nname = 'A'\\nx = 1\\ny = 1\\ndiameter = 3\\n"
    ... )
    Traceback (most recent call last):
    ValueError: the design does not fit:
      plate: height = -5 mm cannot be used: give a number above 0 and below 1000000 mm
      [[gear]] is missing: give a [[gear]] table for each gear with name, shaft, teeth, face_width, bore
    """
    text = source if isinstance(source, str) and "\n" in source else text_of(source)
    try:
        data = tomllib.loads(text.removeprefix("\ufeff"))  # some editors put a mark there
    except tomllib.TOMLDecodeError as error:
        raise ValueError(f"the design is no TOML: {error}{line_of(text, str(error))}") from None
    return design_of(data)


def design_of(data: dict) -> Design:
    """A design from its tables, as a TOML file holds them.

    data: the tables, by name [unit of the design].
    ValueError for tables that do not fit; each fault is named with its field and what is expected.

    >>> design_of(
    ...     {
    ...         "design": {"name": "x"},
    ...         "plate": {"length": 100, "height": 60, "thickness": 0},
    ...         "shaft": [{"name": "A", "x": 1, "y": 1, "diameter": 3}],
    ...     }
    ... )
    Traceback (most recent call last):
    ValueError: the design does not fit:
      plate: thickness = 0 mm cannot be used: give a number above 0 and below 1000000 mm
      [[gear]] is missing: give a [[gear]] table for each gear with name, shaft, teeth, face_width, bore
    """
    try:
        return Design.model_validate(data)
    except ValidationError as error:
        raise ValueError(
            "the design does not fit:\n  " + "\n  ".join(faults(Design, data, error.errors()))
        ) from None
