"""A plate with the holes of its shafts, measured from its lower left corner."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from html import escape
from itertools import combinations

from gearlab.theory import system
from gearlab.theory.scope import scope_for

from . import naming
from .checks import takes_parts, within
from .mesh import Mesh
from .train import Train
from .working import worked_out

#: A centre and a radius [their unit].
Circle = tuple[tuple[float, float], float]


@dataclass(frozen=True)
class Hole:
    """A hole of a plate.

    Its name, its centre from the lower left corner, its diameter [unit of the plate].
    """

    name: str
    x: float
    y: float
    diameter: float


@dataclass(frozen=True)
class Plate:
    """A plate.

    length, height, thickness: above 0 [unit].
    unit: "mm" or "in".
    material: its name; "" if unknown.
    holes: each within the plate [unit].
    ValueError for a size that is none, a hole that breaks through an edge or into another one, or a name that
        stands twice.

    >>> from gearlab import Gear
    >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    >>> plate = Plate(220, 160, 6).with_pair(pair, hole_diameter=10)
    >>> [(hole.x, hole.y) for hole in plate.holes]
    [(53.75, 80.0), (132.5, 80.0)]
    >>> plate.margins(pair)
    {'left': 28.75, 'right': 28.75, 'bottom': 21.25, 'top': 21.25}
    """

    length: float
    height: float
    thickness: float
    unit: str = "mm"
    material: str = ""
    holes: tuple[Hole, ...] = ()

    def __post_init__(self):
        if self.unit not in ("mm", "in"):
            raise ValueError(f"unit {self.unit!r} is unknown: give 'mm' or 'in'")
        object.__setattr__(self, "holes", tuple(self.holes))
        for name in ("length", "height", "thickness"):
            within(name, getattr(self, name), 0.0, math.inf, self.unit, above=True)
        for hole in self.holes:
            within(f"diameter of hole {hole.name!r}", hole.diameter, 0.0, math.inf, self.unit, above=True)
            for word in ("x", "y"):
                within(f"{word} of hole {hole.name!r}", getattr(hole, word), -math.inf, math.inf, self.unit)
            if min(self._to_edges(hole)) <= hole.diameter / 2:
                raise ValueError(
                    f"hole {hole.name!r} of {hole.diameter:g} {self.unit} at ({hole.x:g}, {hole.y:g})"
                    f" {self.unit} breaks through the edge of a plate of {self.length:g} x {self.height:g}"
                    f" {self.unit}: keep its centre more than {hole.diameter / 2:g} {self.unit} inside"
                )
        for hole, other in combinations(self.holes, 2):
            if hole.name == other.name:
                raise ValueError(f"two holes are called {hole.name!r}: give each a name of its own")
            if self.spacing(hole, other) <= (hole.diameter + other.diameter) / 2:
                raise ValueError(
                    f"holes {hole.name!r} and {other.name!r} break into each other: their centres are"
                    f" {self.spacing(hole, other):.4g} {self.unit} apart, and they need more than"
                    f" {(hole.diameter + other.diameter) / 2:.4g} {self.unit}"
                )

    @property
    def name(self) -> str:
        """A name that tells its size, such as ``plate_220x160x6``; an inch plate ends in ``in``."""
        sizes = "x".join(map(naming.digits, (self.length, self.height, self.thickness)))
        return f"plate_{sizes}{'in' if self.unit == 'in' else ''}"

    @classmethod
    def from_name(cls, name: str) -> Plate:
        """The plate of a :attr:`name`, without holes.

        A name that does not follow the pattern raises ValueError with the pattern.

        >>> Plate.from_name("plate_8p75x6p25x0p3125in")
        Plate(length=8.75, height=6.25, thickness=0.3125, unit='in', material='', holes=())
        """
        numbers = "x".join([naming.NUMBER] * 3)
        like = "plate_220x160x6, or plate_8p75x6p25x0p3125in for inches"
        match = naming.matched(f"plate_{numbers}(in)?", name, like)
        length, height, thickness = (naming.number(match[place]) for place in (1, 2, 3))
        return cls(length, height, thickness, match[4] or "mm")

    def _to_edges(self, hole: Hole) -> tuple[float, float, float, float]:
        return hole.x, self.length - hole.x, hole.y, self.height - hole.y

    def edge_distance(self, hole: Hole) -> float:
        """From a hole's centre to the nearest edge [unit]."""
        return min(self._to_edges(hole))

    def material_left(self, hole: Hole) -> float:
        """Material between a hole and the nearest edge [unit].

        It should be about one hole diameter (common practice).
        """
        return worked_out(
            scope_for("plate", self.unit, (system(), system())),
            {"edge_distance": self.edge_distance(hole), "hole_diameter": hole.diameter},
        )["material_left"]

    def spacing(self, first: Hole, second: Hole) -> float:
        """Distance between the centres of two holes [unit]."""
        return math.hypot(second.x - first.x, second.y - first.y)

    def with_holes(self, *holes: Hole) -> Plate:
        """The plate with further holes, each [unit]; those that leave it or run into others are refused."""
        return replace(self, holes=self.holes + holes)

    @takes_parts
    def with_pair(
        self,
        mesh: Mesh,
        *,
        hole_diameter: float,
        line_angle: float = 0.0,
        names: tuple[str, str] = ("driver", "driven"),
    ) -> Plate:
        """The plate with the holes of a pair whose outline, tip to tip, is centred on it.

        mesh: the pair, in the plate's unit.
        hole_diameter: above 0 [unit].
        line_angle: direction from the first hole to the second; 90 is upright [deg].
        names: of the holes.
        ValueError if the pair is measured in another unit, or stands over the plate; the size that would do
            is given.
        """
        return self._with_circles(
            "pair", mesh.driver.unit, _pair_circles(mesh), line_angle, hole_diameter, names
        )

    @classmethod
    @takes_parts
    def around(
        cls,
        what: Mesh | Train,
        margin: float,
        thickness: float,
        *,
        hole_diameter: float,
        line_angle: float = 0.0,
        material: str = "",
    ) -> Plate:
        """The plate that leaves one margin beyond the tips of a pair or train on all four sides, with its
        holes.

        margin: 0 or more, and enough to keep the holes off the edges [unit of the pair].
        thickness, hole_diameter: above 0 [unit of the pair].
        line_angle: as for :meth:`with_pair` or :meth:`with_train` [deg].
        material: its name.

        >>> from gearlab import Gear
        >>> Plate.around(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)), 28.75, 6, hole_diameter=10).length
        220.0
        """
        circles, unit = (
            (train_circles(what), what.unit)
            if isinstance(what, Train)
            else (_pair_circles(what), what.driver.unit)
        )
        low, high = extent(_turned(circles, line_angle))
        within("margin", margin, 0.0, math.inf, unit)
        blank = cls(high[0] - low[0] + 2 * margin, high[1] - low[1] + 2 * margin, thickness, unit, material)
        if isinstance(what, Train):
            return blank.with_train(what, hole_diameter=hole_diameter, line_angle=line_angle)
        return blank.with_pair(what, hole_diameter=hole_diameter, line_angle=line_angle)

    @takes_parts
    def with_train(
        self,
        train: Train,
        *,
        hole_diameter: float,
        line_angle: float = 0.0,
        names: Sequence[str] | None = None,
    ) -> Plate:
        """The plate with the holes of a train whose outline, tip to tip, is centred on it.

        train: in the plate's unit; its own line angles give it its shape.
        hole_diameter: above 0 [unit].
        line_angle: how far the whole train is turned, counter-clockwise; 90 puts a row in line upright [deg].
        names: of the holes, one for each shaft; by default "shaft 1" and so on. Shafts on one axis share a
            hole under the first one's name.
        ValueError if the train is measured in another unit, or stands over the plate; the size that would do
            is given.

        >>> row = Train.of(18, 24, 45, module=2.5)
        >>> print(Plate(300, 160, 6).with_train(row, hole_diameter=10))
        plate_300x160x6; holes from the lower left corner [mm]
        shaft 1      x     63.75  y        80  diameter 10
        shaft 2      x     116.2  y        80  diameter 10
        shaft 3      x     202.5  y        80  diameter 10
        """
        names = tuple(f"shaft {k + 1}" for k in range(len(train.shafts))) if names is None else tuple(names)
        if len(names) != len(train.shafts):
            raise ValueError(
                f"names holds {len(names)} names, the train has {len(train.shafts)} shafts: give one for each"
            )
        return self._with_circles("train", train.unit, train_circles(train), line_angle, hole_diameter, names)

    def _with_circles(
        self,
        what: str,
        unit: str,
        circles: list[Circle],
        line_angle: float,
        hole_diameter: float,
        names: Sequence[str],
    ) -> Plate:
        """The plate with a hole in the middle of each tip circle, all together turned and centred on it."""
        self._check_unit(what, unit)
        within("hole_diameter", hole_diameter, 0.0, math.inf, unit, above=True)
        turned = _turned(circles, line_angle)
        low, high = extent(turned)
        needed, size = (high[0] - low[0], high[1] - low[1]), (self.length, self.height)
        if any(need > have * (1 + 1e-12) for need, have in zip(needed, size)):
            raise ValueError(
                f"the {what} projects beyond the plate: tip to tip it takes {needed[0]:.4g} x {needed[1]:.4g}"
                f" {self.unit}, the plate has {self.length:g} x {self.height:g} {self.unit}; take a larger"
                " plate, smaller teeth or another line_angle"
            )
        corner = [(have - need) / 2 - least for have, need, least in zip(size, needed, low)]
        holes: dict[tuple[float, float], Hole] = {}
        for name, ((x, y), _) in zip(names, turned):
            place = round(x, 9), round(y, 9)
            holes.setdefault(place, Hole(name, corner[0] + x, corner[1] + y, hole_diameter))
        return self.with_holes(*holes.values())

    def margins(self, what: Mesh | Train, names: Sequence[str] = ()) -> dict[str, float]:
        """What the plate has beyond the tips of a pair or train on its holes, by side [unit].

        Below 0 they stand over.

        names: names of the holes, one for each shaft; by default "driver" and "driven", or "shaft 1" and so
            on.
        """
        if isinstance(what, Mesh):
            self._check_unit("pair", what.driver.unit)
            tips = [what.driver.outside_diameter / 2, what.driven.outside_diameter / 2]
            usual: tuple[str, ...] = ("driver", "driven")
        else:
            self._check_unit("train", what.unit)
            tips = [tip for _, tip in train_circles(what)]
            usual = tuple(f"shaft {k + 1}" for k in range(len(what.shafts)))
        holes = {hole.name: hole for hole in self.holes}
        if not names and isinstance(what, Train):  # shafts on one axis share a hole
            first: dict[tuple[float, float], str] = {}
            usual = tuple(
                first.setdefault((round(x, 9), round(y, 9)), name)
                for name, ((x, y), _) in zip(usual, train_circles(what))
            )
        for name in names or usual:
            if name not in holes:
                raise ValueError(
                    f"hole {name!r} is not in the plate: it has {', '.join(holes) or 'none'}; name the holes"
                    " of the gears, in order"
                )
        low, high = extent([((holes[name].x, holes[name].y), tip) for name, tip in zip(names or usual, tips)])
        return {
            "left": low[0],
            "right": self.length - high[0],
            "bottom": low[1],
            "top": self.height - high[1],
        }

    @takes_parts
    def length_for(self, mesh: Mesh, margin: float) -> float:
        """Length of plate that a level pair, at its own centre distance, needs with a margin at each end, 0
        or more [unit].
        """
        self._check_unit("pair", mesh.driver.unit)
        givens = {
            "centre_distance": mesh.centre_distance,
            "end_margin": within("margin", margin, 0.0, math.inf, self.unit),
        }
        givens |= {
            "driver_outside_radius": mesh.driver.outside_diameter / 2,
            "driven_outside_radius": mesh.driven.outside_diameter / 2,
        }
        return worked_out(scope_for("plate", self.unit, (mesh.driver.system, mesh.driven.system)), givens)[
            "plate_length"
        ]

    def _check_unit(self, what: str, unit: str) -> None:
        if unit != self.unit:
            raise ValueError(
                f"the {what} is measured in {unit}, the plate in {self.unit}: give both in one unit"
            )

    def table(self) -> list[tuple[str, float, float, float]]:
        """The hole table: name, x, y from the lower left corner, diameter [unit]."""
        return [(hole.name, hole.x, hole.y, hole.diameter) for hole in self.holes]

    def __str__(self) -> str:
        lines = [
            f"{self.name}{', ' + self.material if self.material else ''}; holes from the lower left corner"
            f" [{self.unit}]"
        ]
        return "\n".join(
            lines
            + [
                f"{name:12} x {x:9.4g}  y {y:9.4g}  diameter {diameter:g}"
                for name, x, y, diameter in self.table()
            ]
        )

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><th scope=row>{escape(name)}</th><td>{x:.6g}</td><td>{y:.6g}</td><td>{diameter:g}</td></tr>"
            for name, x, y, diameter in self.table()
        )
        return (
            f"<table><caption>{escape(self.name)}, from the lower left corner,"
            f" {self.unit}</caption><thead><tr><th scope=col>hole</th><th scope=col>x</th><th"
            f" scope=col>y</th><th scope=col>diameter</th></tr></thead><tbody>{rows}</tbody></table>"
        )


def _pair_circles(mesh: Mesh) -> list[Circle]:
    return [
        ((0.0, 0.0), mesh.driver.outside_diameter / 2),
        ((mesh.centre_distance, 0.0), mesh.driven.outside_diameter / 2),
    ]


def _turned(circles: Iterable[Circle], line_angle: float) -> list[Circle]:
    turn = math.radians(within("line_angle", line_angle, -math.inf, math.inf, "deg"))
    along, across = round(math.cos(turn), 15), round(math.sin(turn), 15)
    return [((x * along - y * across, x * across + y * along), tip) for (x, y), tip in circles]


def train_circles(train: Train) -> list[Circle]:
    """Where each shaft of a train stands, and the largest tip radius on it [unit of the train]."""
    tips: dict[int, float] = {}
    for placed in train.gears:
        tips[placed.shaft] = max(tips.get(placed.shaft, 0.0), placed.gear.outside_diameter / 2)
    return [(place, tips[shaft]) for shaft, place in enumerate(train.positions)]


def extent(circles: Iterable[Circle]) -> tuple[tuple[float, float], tuple[float, float]]:
    """Lower left and upper right corner of circles, each a centre and a radius [their unit]."""
    checked = [
        (
            (
                within("x of circles", x, -math.inf, math.inf, ""),
                within("y of circles", y, -math.inf, math.inf, ""),
            ),
            within("radius of circles", radius, 0.0, math.inf, ""),
        )
        for (x, y), radius in circles
    ]
    lefts, rights = ([x + side * radius for (x, _), radius in checked] for side in (-1, 1))
    bottoms, tops = ([y + side * radius for (_, y), radius in checked] for side in (-1, 1))
    return (min(lefts), min(bottoms)), (max(rights), max(tops))
