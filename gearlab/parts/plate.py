"""A plate with the holes of its shafts, measured from its lower left corner."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from html import escape
from itertools import combinations

from gearlab.theory import system
from gearlab.theory.scope import scope_for

from .checks import within
from .mesh import Mesh
from .working import worked_out


@dataclass(frozen=True)
class Hole:
    """A hole of a plate: its name, its centre from the lower left corner, its diameter [unit of the plate]."""

    name: str
    x: float
    y: float
    diameter: float


@dataclass(frozen=True)
class Plate:
    """A plate.

    Parameters
    ----------
    length, height, thickness : float
        Above 0 [unit].
    unit : str
        "mm" or "in" [-].
    material : str
        Its name; "" if unknown [-].
    holes : tuple of Hole
        Each within the plate [unit].

    Raises
    ------
    ValueError
        For a size that is none, a hole that breaks through an edge or into another one, or a name that stands twice.

    Examples
    --------
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
                raise ValueError(f"hole {hole.name!r} of {hole.diameter:g} {self.unit} at ({hole.x:g}, {hole.y:g}) {self.unit} breaks through the edge of a plate of "
                                 f"{self.length:g} x {self.height:g} {self.unit}: keep its centre more than {hole.diameter / 2:g} {self.unit} inside")
        for one, two in combinations(self.holes, 2):
            if one.name == two.name:
                raise ValueError(f"two holes are called {one.name!r}: give each a name of its own")
            if self.spacing(one, two) <= (one.diameter + two.diameter) / 2:
                raise ValueError(f"holes {one.name!r} and {two.name!r} break into each other: their centres are {self.spacing(one, two):.4g} {self.unit} apart, "
                                 f"and they need more than {(one.diameter + two.diameter) / 2:.4g} {self.unit}")

    @property
    def name(self) -> str:
        """A name that tells its size [-], such as ``plate_220x160x6``; an inch plate ends in ``in``."""
        return "plate_" + "x".join(f"{size:g}".replace(".", "p") for size in (self.length, self.height, self.thickness)) + ("in" if self.unit == "in" else "")

    def _to_edges(self, hole: Hole) -> tuple[float, float, float, float]:
        return hole.x, self.length - hole.x, hole.y, self.height - hole.y

    def edge_distance(self, hole: Hole) -> float:
        """From a hole's centre to the nearest edge [unit]."""
        return min(self._to_edges(hole))

    def material_left(self, hole: Hole) -> float:
        """Material between a hole and the nearest edge [unit]; it should be about one hole diameter (common practice)."""
        return worked_out(scope_for("plate", self.unit, (system(), system())), {"edge_distance": self.edge_distance(hole), "hole_diameter": hole.diameter})["material_left"]

    def spacing(self, one: Hole, two: Hole) -> float:
        """Distance between the centres of two holes [unit]."""
        return math.hypot(two.x - one.x, two.y - one.y)

    def with_holes(self, *holes: Hole) -> Plate:
        """The plate with further holes."""
        return replace(self, holes=self.holes + holes)

    def with_pair(self, mesh: Mesh, *, hole_diameter: float, line_angle: float = 0.0, names: tuple[str, str] = ("driver", "driven")) -> Plate:
        """The plate with the holes of a pair whose outline, tip to tip, is centred on it.

        Parameters
        ----------
        mesh : Mesh
            The pair, in the plate's unit [-].
        hole_diameter : float
            Above 0 [unit].
        line_angle : float
            Direction from the first hole to the second; 90 is upright [deg].
        names : (str, str)
            Of the holes [-].

        Raises
        ------
        ValueError
            If the pair is measured in another unit, or stands over the plate; the size that would do is given.
        """
        self._check_unit(mesh)
        turn = math.radians(within("line_angle", line_angle, -math.inf, math.inf, "deg"))
        step = mesh.centre_distance * round(math.cos(turn), 15), mesh.centre_distance * round(math.sin(turn), 15)
        tips = mesh.driver.outside_diameter / 2, mesh.driven.outside_diameter / 2
        place, needed = [], []
        for axis, size in enumerate((self.length, self.height)):
            low, high = min(-tips[0], step[axis] - tips[1]), max(tips[0], step[axis] + tips[1])
            place.append((size - (high - low)) / 2 - low)
            needed.append(high - low)
        if needed[0] > self.length * (1 + 1e-12) or needed[1] > self.height * (1 + 1e-12):
            raise ValueError(f"the pair stands over the plate: tip to tip it takes {needed[0]:.4g} x {needed[1]:.4g} {self.unit}, the plate has {self.length:g} x {self.height:g} "
                             f"{self.unit}; take a larger plate, smaller teeth or another line_angle")
        return self.with_holes(Hole(names[0], place[0], place[1], hole_diameter), Hole(names[1], place[0] + step[0], place[1] + step[1], hole_diameter))

    def margins(self, mesh: Mesh, names: tuple[str, str] = ("driver", "driven")) -> dict[str, float]:
        """What the plate has beyond the tips of a pair on two of its holes, by side [unit]; below 0 they stand over."""
        self._check_unit(mesh)
        found = {hole.name: hole for hole in self.holes}
        for name in names:
            if name not in found:
                raise ValueError(f"hole {name!r} is not in the plate: it has {', '.join(found) or 'none'}; name the holes of driver and driven gear")
        ends = [(found[name], gear.outside_diameter / 2) for name, gear in zip(names, (mesh.driver, mesh.driven))]
        return {"left": min(hole.x - tip for hole, tip in ends), "right": self.length - max(hole.x + tip for hole, tip in ends),
                "bottom": min(hole.y - tip for hole, tip in ends), "top": self.height - max(hole.y + tip for hole, tip in ends)}

    def length_for(self, mesh: Mesh, margin: float) -> float:
        """Length of plate that a level pair, at its own centre distance, needs with a margin at each end, 0 or more [unit]."""
        self._check_unit(mesh)
        givens = {"centre_distance": mesh.centre_distance, "end_margin": within("margin", margin, 0.0, math.inf, self.unit)}
        givens |= {"driver_outside_radius": mesh.driver.outside_diameter / 2, "driven_outside_radius": mesh.driven.outside_diameter / 2}
        return worked_out(scope_for("plate", self.unit, (mesh.driver.system, mesh.driven.system)), givens)["plate_length"]

    def _check_unit(self, mesh: Mesh) -> None:
        if mesh.driver.unit != self.unit:
            raise ValueError(f"the pair is measured in {mesh.driver.unit}, the plate in {self.unit}: give both in one unit")

    def table(self) -> list[tuple[str, float, float, float]]:
        """The hole table: name, x, y from the lower left corner, diameter [unit]."""
        return [(hole.name, hole.x, hole.y, hole.diameter) for hole in self.holes]

    def __str__(self) -> str:
        lines = [f"{self.name}{', ' + self.material if self.material else ''}; holes from the lower left corner [{self.unit}]"]
        return "\n".join(lines + [f"{name:12} x {x:9.4g}  y {y:9.4g}  diameter {diameter:g}" for name, x, y, diameter in self.table()])

    def _repr_html_(self) -> str:
        rows = "".join(f"<tr><th scope=row>{escape(name)}</th><td>{x:.6g}</td><td>{y:.6g}</td><td>{diameter:g}</td></tr>" for name, x, y, diameter in self.table())
        return (f"<table><caption>{escape(self.name)}, from the lower left corner, {self.unit}</caption><thead><tr><th scope=col>hole</th><th scope=col>x</th>"
                f"<th scope=col>y</th><th scope=col>diameter</th></tr></thead><tbody>{rows}</tbody></table>")
