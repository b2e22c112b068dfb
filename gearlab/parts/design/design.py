"""One design that travels: its members, the shafts they stand on, and every part that follows from it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from functools import cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pydantic import Field, PrivateAttr, ValidationError, field_validator

from gearlab.writing import write_whole

from ..bevel import BevelPair
from ..epicyclic import EpicyclicTrain
from ..gear import Gear
from ..hub import Hub
from ..internal import InternalGear
from ..load import Load
from ..mesh import Mesh
from ..plate import Hole, Plate
from ..rack import Rack
from ..rackdrive import RackDrive
from ..shaft import Shaft, face_height
from . import drive
from .agreeing import agree
from .faults import faults, missing
from .tables import (
    BevelTable,
    GearTable,
    GuardTable,
    Head,
    LoadTable,
    MeasuredTable,
    MeshTable,
    PlanetaryTable,
    PlateTable,
    RackTable,
    ShaftTable,
    Table,
)
from .written import changed, changed_text, toml_of

if TYPE_CHECKING:
    from .drive import Link

MEMBERS = ("gear", "rack", "bevel", "mitre", "planetary")  # tables of which a design has at least one


_NONE = object()  # no value at all


@lru_cache(maxsize=256)  # of a changed design the gears that did not change keep their numbers and teeth
def _cut(table: GearTable) -> Gear | InternalGear:
    kind: type[Gear] | type[InternalGear] = InternalGear if table.internal else Gear
    return kind(
        table.teeth,
        **table.size,
        pressure_angle=table.pressure_angle,
        profile_shift=table.profile_shift,
        tooth_system=table.tooth_system,
        tooth_thinning=table.tooth_thinning,
        face_width=table.face_width,
    )


class Design(Table):
    """A design: the drive from its first shaft to its last member. It never changes; ``with_`` makes another.

    Built from its tables by name, as a TOML file holds them, or read from one (``read_design``). ValueError
    for tables that do not fit; each fault is named with its field and what is expected.

    >>> design = Design(
    ...     design={"name": "one gear"},
    ...     plate={"length": 100, "height": 80, "thickness": 6},
    ...     shaft=[{"name": "A", "x": 50, "y": 40, "diameter": 10}],
    ...     gear=[{"name": "wheel", "shaft": "A", "teeth": 24, "module": 2.5, "face_width": 12, "bore": 10}],
    ... )
    >>> design.gears["wheel"].pitch_diameter, design.board.name
    (60.0, 'plate_100x80x6')
    >>> design.with_(gear={"wheel": {"teeth": 30}}).gears["wheel"].pitch_diameter
    75.0
    """

    design: Head
    plate: PlateTable | None = None
    shaft: tuple[ShaftTable, ...] = ()
    gear: tuple[GearTable, ...] = ()
    mesh: tuple[MeshTable, ...] = ()
    load: LoadTable | None = None
    guard: GuardTable | None = None
    rack: tuple[RackTable, ...] = ()
    bevel: tuple[BevelTable, ...] = ()
    mitre: BevelTable | None = None
    planetary: tuple[PlanetaryTable, ...] = ()
    measured: tuple[MeasuredTable, ...] = Field(())
    _text: str | None = PrivateAttr(None)

    def __init__(self, **tables: Any) -> None:
        wrong: Iterable[Any] = ()
        try:
            super().__init__(**tables)
        except ValidationError as error:
            wrong = error.errors()
        problems = faults(Design, tables, [*wrong, *missing(tables, _needed(tables))])
        if problems:
            raise ValueError("the design does not fit:\n  " + "\n  ".join(problems)) from None

    @field_validator("rack", "planetary", mode="before")
    @classmethod
    def _one_or_several(cls, value: Any) -> Any:
        return (value,) if isinstance(value, Mapping) else value

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Design) and self.model_dump() == other.model_dump()

    def __hash__(self) -> int:
        return hash((self.design, self.shaft, self.gear, self.mesh))

    def model_post_init(self, _context: Any) -> None:
        agree(self)

    # -- another design --------------------------------------------------------------------------------
    @cached_property
    def tables(self) -> dict[str, Any]:
        """Its tables as plain data: what was given, and nothing that was left out."""
        return self.model_dump(exclude_unset=True, mode="json")

    def with_(self, **edits: Any) -> Design:
        """Another design, with some numbers changed.

        **edits: by table, then by name of the member, then by field: ``plate={"length": 240}``,
            ``gear={"wheel": {"teeth": 30}}``, ``mesh={"pinion with wheel": {"efficiency": 0.97}}``. A field
            that is None is taken out, a member that is None as well, and a name that does not exist yet is a
            new member. A new ``name`` is followed by everything that refers to it.
        ValueError for an unknown table, or for a design that does not fit any more.
        """
        edits = {kind: self._news(kind, edit) for kind, edit in edits.items()}
        after = Design(**changed(self.tables, edits))
        if self._text is not None:
            after._text = changed_text(self._text, edits)
        return after

    def _news(self, kind: str, edit: Any) -> Any:
        """An edit without the fields that have these values already: a file gets no idle lines."""
        present = getattr(self, kind, None)
        if isinstance(present, Table) and isinstance(edit, Mapping):
            return {word: value for word, value in edit.items() if getattr(present, word, _NONE) != value}
        if isinstance(present, tuple) and isinstance(edit, Mapping):
            members = {table.name: table for table in present}
            return {
                name: {
                    word: value
                    for word, value in fields.items()
                    if getattr(members.get(name), word, _NONE) != value
                }
                if isinstance(fields, Mapping)
                else fields
                for name, fields in edit.items()
            }
        return edit

    @property
    def toml(self) -> str:
        """The text of its file: comments and order are those of the file that it was read from."""
        return self._text if self._text is not None else toml_of(self.tables)

    def write(self, path: str | Path) -> Path:
        """Write its file, whole or not at all; ValueError where that cannot be."""
        try:
            write_whole(Path(path), self.toml)
        except OSError as error:
            raise ValueError(
                f"{path} cannot be written: {error.strerror or error}; give a place that you may write to"
            ) from None
        return Path(path)

    # -- parts -----------------------------------------------------------------------------------------
    @property
    def name(self) -> str:
        """What it is called."""
        return self.design.name

    @property
    def unit(self) -> str:
        """Unit of every length, "mm" or "in"."""
        return self.design.unit

    @property
    def bevels(self) -> tuple[BevelTable, ...]:
        """The tables of its bevel pairs, a ``[mitre]`` among them."""
        return self.bevel if self.mitre is None else (*self.bevel, self.mitre)

    @cached_property
    def board(self) -> Plate:
        """The plate, without its holes: those may be wrong, which ``review`` says. ValueError without one."""
        return Plate(
            self.on_plate.length,
            self.on_plate.height,
            self.on_plate.thickness,
            self.unit,
            self.on_plate.material,
        )

    @property
    def on_plate(self) -> PlateTable:
        """The table of the plate; ValueError for a design that has none."""
        if self.plate is None:
            raise ValueError(
                f"the design {self.name!r} has no plate; add [plate] with length, height and thickness"
            )
        return self.plate

    @property
    def standing(self) -> tuple[ShaftTable, ...]:
        """The shafts that stand on the plate."""
        return tuple(shaft for shaft in self.shaft if shaft.placed)

    @cached_property
    def holes(self) -> tuple[Hole, ...]:
        """The holes of the shafts, as large as the file says, or as their shafts."""
        return tuple(Hole(shaft.name, *shaft.place, shaft.hole or shaft.diameter) for shaft in self.standing)

    @cached_property
    def gears(self) -> dict[str, Gear]:
        """The spur gears, by name; raises ValueError for one that cannot be. Rings are in ``rings``."""
        return {
            table.name: gear
            for table in self.gear
            if not table.internal and isinstance(gear := self._named(table), Gear)
        }

    @cached_property
    def rings(self) -> dict[str, InternalGear]:
        """The rings, by name; raises ValueError for one that cannot be."""
        return {
            table.name: ring
            for table in self.gear
            if table.internal and isinstance(ring := self._named(table), InternalGear)
        }

    @cached_property
    def toothed(self) -> dict[str, Any]:
        """Gears and rings, by name, in the file's order."""
        return {
            table.name: self.rings[table.name] if table.internal else self.gears[table.name]
            for table in self.gear
        }

    def _named(self, table: GearTable) -> Gear | InternalGear:
        try:
            return self.cut(table)
        except ValueError as error:
            raise ValueError(f"gear {table.name!r}: {error}") from None

    @staticmethod
    def cut(table: GearTable) -> Gear | InternalGear:
        """The gear of a table; raises ValueError where it cannot be."""
        return _cut(table)

    @cached_property
    def hubs(self) -> dict[str, Hub]:
        """The hubs, by the gear's name; a gear without one has the bore in its body."""
        return {
            table.name: Hub(
                table.hub_diameter,
                table.bore,
                table.hub_projection,
                table.face_width,
                table.keyway_depth,
                table.flat,
                self.unit,
            )
            for table in self.gear
            if table.hub_diameter is not None and table.hub_diameter > table.bore
        }

    @cached_property
    def rods(self) -> dict[str, Shaft]:
        """The shafts as parts, by name, of which the length is stated."""
        return {
            shaft.name: Shaft(shaft.diameter, shaft.length, self.unit)
            for shaft in self.shaft
            if shaft.length is not None
        }

    def mesh_of(self, pair: MeshTable) -> Mesh:
        """Two gears in mesh at the spacing of their holes; ValueError for gears that cannot mesh there."""
        return Mesh(
            self.toothed[pair.driver],
            self.toothed[pair.driven],
            centre_distance=self.distance(pair.driver, pair.driven),
        )

    def load_of(self, pair: MeshTable) -> Load:
        """The load of a mesh at the spacing that its teeth call for; ValueError without one."""
        torque = self.torques.get(self.of(pair.driver).shaft)
        if torque is None:
            raise ValueError(
                f"the load of {pair.name} is not stated; add [load] with torque, that on the first shaft"
            )
        return Load(
            Mesh(self.toothed[pair.driver], self.toothed[pair.driven]), torque, efficiency=pair.efficiency
        )

    def rack_of(self, table: RackTable) -> Rack:
        """A rack as a part, of its own teeth or those of its pinion; ValueError where it cannot be."""
        gear = self.of(table.pinion) if table.pinion is not None else None
        size = table.size or (gear.size if gear else {})
        if not size:
            raise ValueError(
                f"rack {table.name!r}: the size of its teeth is missing; give module [mm] or diametral_pitch"
                " [1/in], or name its pinion"
            )
        return Rack(
            table.teeth,
            **size,
            pressure_angle=table.pressure_angle if table.size or gear is None else gear.pressure_angle,
            pitch_height=table.pitch_height,
            tooth_system=gear.tooth_system if gear else "full depth",
        )

    def rack_drive_of(self, table: RackTable) -> RackDrive:
        """A rack with its pinion; ValueError for one that stands alone, or that its pinion does not fit."""
        pinion = self.gears.get(table.pinion or "")
        if pinion is None:
            raise ValueError(
                f'rack {table.name!r} has no pinion; name the gear that moves it, pinion = "..."'
            )
        return RackDrive(pinion, self.rack_of(table))

    def bevel_of(self, table: BevelTable) -> BevelPair:
        """A bevel pair as a part; ValueError where it cannot be, or the size of its teeth is not stated."""
        if not table.size:
            raise ValueError(
                f"bevel {table.name!r}: the size of its teeth is missing; give module [mm] or diametral_pitch"
                " [1/in]"
            )
        return BevelPair(
            *table.teeth,
            module=table.module,
            diametral_pitch=table.diametral_pitch,
            shaft_angle=table.shaft_angle,
            pressure_angle=table.pressure_angle,
            face_width=table.face_width,
        )

    def set_of(self, table: PlanetaryTable) -> EpicyclicTrain:
        """A planetary set as a part, whether its planets find room or not; ValueError if it cannot turn."""
        second = table.second_planet or table.planet
        meshes: Any = [
            ("sun", table.sun, "planet", table.planet),
            ("ring", table.ring, "planet", second, "internal"),
        ]
        return EpicyclicTrain(
            meshes,
            {"planet": "carrier"},
            held=table.held,
            planets=table.planets,
            must_fit=False,
            module=table.module,
            diametral_pitch=table.diametral_pitch,
            length_unit=None if table.size else self.unit,
        )

    # -- the drive -------------------------------------------------------------------------------------
    @cached_property
    def links(self) -> tuple[Link, ...]:
        """What joins one shaft to another: meshes, bevel pairs, planetary sets, in the order of the file."""
        return drive.links(self)

    @cached_property
    def turns(self) -> dict[str, float]:
        """Signed turns of every shaft for one turn of the first [-]; counter-clockwise from the gear side."""
        return drive.turns(self)

    @cached_property
    def torques(self) -> dict[str, float]:
        """Size of the torque on every shaft, after losses [N m, or lbf in]; empty without a load."""
        return drive.torques(self)

    @property
    def speeds(self) -> dict[str, float]:
        """Signed speed of every shaft [rpm]; empty where no speed is stated."""
        speed = self.load.speed if self.load is not None else None
        return {} if speed is None else {shaft: speed * turn for shaft, turn in self.turns.items()}

    @property
    def first_shaft(self) -> str | None:
        """The shaft that drives, that of the load or of the first driver; None without a drive."""
        return drive.first_shaft(self)

    @property
    def last_shaft(self) -> str | None:
        """The shaft that is driven last; None for a design without a drive."""
        return drive.last_shaft(self)

    @property
    def ratio(self) -> float | None:
        """Turns of the first shaft for one of the last, always positive; None where they are not joined."""
        turn = self.turns.get(self.last_shaft or "")
        return abs(1 / turn) if turn else None

    # -- places ----------------------------------------------------------------------------------------
    def shaft_of(self, gear: str) -> ShaftTable:
        """The shaft that a gear sits on."""
        wanted = self.of(gear).shaft
        return next(shaft for shaft in self.shaft if shaft.name == wanted)

    def of(self, gear: str) -> GearTable:
        """The table of a gear."""
        return next(table for table in self.gear if table.name == gear)

    def on(self, shaft: str) -> list[GearTable]:
        """The tables of the gears on a shaft, from the plate up."""
        return [table for table in self.gear if table.shaft == shaft]

    def meshes_of(self, gear: str) -> list[MeshTable]:
        """The meshes of a gear, in the order of the file."""
        return [pair for pair in self.mesh if gear in pair.gears]

    def overall_length(self, gear: str) -> float:
        """Face and hub of a gear [unit]."""
        table = self.of(gear)
        return table.face_width + table.hub_projection

    def foot(self, gear: str) -> float:
        """Height of a gear's lower end above the plate [unit].

        Its gap, and what stands below it on its shaft, in the file's order.
        """
        return self._feet[gear]

    @cached_property
    def _feet(self) -> dict[str, float]:
        feet: dict[str, float] = {}
        tops: dict[str, float] = {}
        for table in self.gear:
            feet[table.name] = tops.get(table.shaft, 0.0) + table.gap
            tops[table.shaft] = feet[table.name] + table.face_width + table.hub_projection
        return feet

    @cached_property
    def _middles(self) -> dict[str, float]:
        return {
            table.name: face_height(
                self.foot(table.name),
                self.overall_length(table.name),
                table.face_width,
                table.hub_side,
                self.unit,
            )
            for table in self.gear
        }

    def face_height(self, gear: str) -> float:
        """Height of the middle of a gear's face above the plate [unit]."""
        return self._middles[gear]

    def face_ends(self, gear: str) -> tuple[float, float]:
        """Heights of the lower and the upper end of a gear's face above the plate [unit]."""
        middle, half = self.face_height(gear), self.of(gear).face_width / 2
        return middle - half, middle + half

    def hub_ends(self, gear: str) -> tuple[float, float]:
        """Heights of the lower and the upper end of a gear's hub beyond its face [unit]."""
        (low, high), table = self.face_ends(gear), self.of(gear)
        if table.hub_side == "plate":
            return low - table.hub_projection, low
        return high, high + table.hub_projection

    def distance(self, gear: str, other: str) -> float:
        """Distance of the shafts of two gears [unit]."""
        return math.dist(self.shaft_of(gear).place, self.shaft_of(other).place)

    def line_angle(self, gear: str, other: str) -> float:
        """Direction from the shaft of a gear to that of another [deg]."""
        (x, y), (across, up) = self.shaft_of(gear).place, self.shaft_of(other).place
        return math.degrees(math.atan2(up - y, across - x))

    def reading(self, part: str, *quantities: str) -> MeasuredTable | None:
        """What was measured of a part, the first of some quantities that was; None where none was."""
        return next(
            (
                reading
                for quantity in quantities
                for reading in self.measured
                if reading.part == part and reading.quantity == quantity
            ),
            None,
        )


def _needed(data: Mapping[str, Any]) -> list[str]:
    """Tables that a design must have: a member, and for gears their shafts and the plate."""
    if not any(data.get(name) for name in MEMBERS):
        return ["plate", "shaft", "gear"]
    return ["plate", "shaft"] if data.get("gear") else []
