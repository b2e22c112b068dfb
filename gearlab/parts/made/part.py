"""One record a part: what drawing, cut file, parts table, stack and collision all follow from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..bevel import BevelPair
from ..gear import Gear
from ..internal import InternalGear
from ..rack import Rack


@dataclass(frozen=True)
class Limits:
    """A size with its limits [unit]; the limits are None where no fit or tolerance names them."""

    nominal: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class Keyway:
    """A keyway: its width, its depth from the bore (or the shaft's surface), its length [unit].

    on: "tooth" or "space", whichever it stands under; None where that is left open. low: where it begins
    above the lower end of its shaft; None in a hub.
    """

    width: float
    depth: float
    length: float
    on: str | None = None
    low: float | None = None


@dataclass(frozen=True)
class ScrewHole:
    """A threaded hole through the wall of a hub: size, tap drill, place along the axis, depth [unit].

    place: from the lower end of the part; length: of the screw, None where it is left open.
    """

    size: str
    diameter: float
    tap_drill: float
    place: float
    depth: float
    count: int = 1
    length: float | None = None


@dataclass(frozen=True)
class Flat:
    """A flat on a shaft: from where to where above its lower end, how deep [unit]."""

    low: float
    high: float
    depth: float


@dataclass(frozen=True)
class Body:
    """What a piece takes up around an axis: what it is, from where to where, out to which radius [unit]."""

    what: str
    low: float
    high: float
    radius: float


@dataclass(frozen=True)
class GearPart:
    """A gear or a ring, as it is made: teeth, bore, keyway, hub, screw hole, material.

    foot: height of its lower end above the plate, None for one that stands on no plate; hub_side: "plate" or
    "away". All lengths [unit].
    """

    name: str
    toothed: Gear | InternalGear
    face_width: float | None
    bore: Limits | None = None
    fit: str | None = None
    hub_diameter: float | None = None
    hub_projection: float = 0.0
    hub_side: str = "plate"
    rim_diameter: float | None = None
    keyway: Keyway | None = None
    screw: ScrewHole | None = None
    flat_depth: float = 0.0
    material: str = ""
    quantity: int = 1
    shaft: str | None = None
    foot: float | None = None

    kind = "gear"

    @property
    def unit(self) -> str:
        """Unit of its lengths."""
        return self.toothed.unit

    @property
    def overall_length(self) -> float:
        """Face and hub together [unit]."""
        return (self.face_width or 0.0) + self.hub_projection

    @property
    def bodies(self) -> tuple[Body, ...]:
        """Face and hub along its axis, from its lower end up [unit]."""
        face, hub = self.face_width or 0.0, self.hub_projection
        toothed = self.toothed
        largest = toothed.root_diameter if isinstance(toothed, InternalGear) else toothed.outside_diameter
        radius = (self.rim_diameter or largest) / 2
        if not hub or self.hub_diameter is None:
            return (Body("face", 0.0, face, radius),)
        if self.hub_side == "plate":
            return Body("hub", 0.0, hub, self.hub_diameter / 2), Body("face", hub, hub + face, radius)
        return Body("face", 0.0, face, radius), Body("hub", face, face + hub, self.hub_diameter / 2)


@dataclass(frozen=True)
class RackPart:
    """A rack, as it is made; its ends lie in the middle of a space.

    mounting_height: from its back to the axis of its pinion; travel: from stop to stop [unit].
    """

    name: str
    rack: Rack
    face_width: float | None = None
    material: str = ""
    quantity: int = 1
    pinion: str | None = None
    mounting_height: float | None = None
    travel: float | None = None
    stops: bool = False
    guided: bool | None = None

    kind = "rack"

    @property
    def unit(self) -> str:
        """Unit of its lengths."""
        return self.rack.unit


@dataclass(frozen=True)
class BevelPart:
    """One gear of a bevel pair: side 0 is the driver, 1 the driven one.

    mounting: from where the axes cross to its large pitch circle, as the file wants it; bore: of its shaft,
    None where that is not known [unit].
    """

    name: str
    pair: BevelPair
    side: int
    face_width: float | None = None
    material: str = ""
    quantity: int = 1
    shaft: str | None = None
    mounting: float | None = None
    bore: float | None = None
    mate: str = ""

    kind = "bevel gear"

    @property
    def teeth(self) -> int:
        """Its number of teeth [-]."""
        return (self.pair.driver_teeth, self.pair.driven_teeth)[self.side]

    @property
    def unit(self) -> str:
        """Unit of its lengths."""
        return self.pair.unit


@dataclass(frozen=True)
class ShaftPart:
    """A shaft, as it is made: diameter with its limits, length, flats, keyways [unit].

    behind: how much of it lies behind the plate; plate: how much in it; end: bare beyond the last gear;
    needed: what stands along it takes;
    place: of its hole, None for one off the plate; fits: those of its gears, with the shaft's limits.
    """

    name: str
    diameter: Limits
    length: float | None
    unit: str
    behind: float = 0.0
    flats: tuple[Flat, ...] = ()
    keyways: tuple[Keyway, ...] = ()
    material: str = ""
    quantity: int = 1
    place: tuple[float, float] | None = None
    plate: float = 0.0
    end: float = 0.0
    needed: float = 0.0
    fits: tuple[tuple[str, Limits], ...] = ()

    kind = "shaft"


@dataclass(frozen=True)
class PlateHole:
    """A hole of the plate: whose shaft runs in it, where, how wide; stated is false where the file does not
    say.

    edge: distance of its centre from the nearest edge [unit].
    """

    name: str
    x: float
    y: float
    diameter: float
    stated: bool
    edge: float


@dataclass(frozen=True)
class Spacing:
    """How far two holes stand apart, and how far that may be off [unit]."""

    holes: tuple[str, str]
    distance: float
    within: float
    mesh: str


@dataclass(frozen=True)
class PlatePart:
    """The plate, as it is made: size, holes, spacings [unit]."""

    name: str
    length: float
    height: float
    thickness: float
    unit: str
    holes: tuple[PlateHole, ...] = ()
    spacings: tuple[Spacing, ...] = ()
    material: str = ""
    quantity: int = 1

    kind = "plate"


@dataclass(frozen=True)
class BoughtPart:
    """A piece that is bought or cut off: key, set screw, collar, washers [unit].

    kind: which of them; size: as it is ordered; where: what it belongs to; quantity: pieces, of washers the
    stacks.
    """

    name: str
    kind: str
    size: str
    where: str
    unit: str
    quantity: int = 1
    material: str = ""


Part = GearPart | RackPart | BevelPart | ShaftPart | PlatePart | BoughtPart


@dataclass(frozen=True)
class PartsList:
    """Every part of a design, and what could not be made a part of, with the reason."""

    parts: tuple[Part, ...]
    left_out: tuple[tuple[str, str], ...] = ()

    @cached_property
    def gears(self) -> tuple[GearPart, ...]:
        """The gears and rings."""
        return tuple(part for part in self.parts if isinstance(part, GearPart))

    def of(self, name: str) -> Part:
        """A part by its name; ValueError where there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise ValueError(
            f"there is no part {name!r}; there are {', '.join(part.name for part in self.parts)}"
        )
