"""What an epicyclic train is made of: meshes, and which member carries which planet; as equations."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import Any, NamedTuple

from ..amounts import real
from ..checks import whole

#: How two gears mesh, and whether they turn the same way (1) or opposite ways (-1) seen from the carrier.
SIGNS = {"external": -1, "internal": 1, "bevel left": -1, "bevel right": 1}
FRAME = "frame"
MOST_TEETH, MOST_PLANETS = 6000, 24
_HOW = (
    'a mesh is (name, teeth, name, teeth), with "internal", "bevel left" or "bevel right" behind it if '
    "it is no external one, "
    'as in ("ring", 60, "planet", 18, "internal")'
)


class GearMesh(NamedTuple):
    """Two gears in mesh: shaft and teeth of each, kind of mesh, tooth size if it has its own."""

    gear: str
    gear_teeth: int
    mate: str
    mate_teeth: int
    kind: str = "external"
    size: float | None = None

    @property
    def sign(self) -> int:
        """1 if both turn the same way seen from the carrier, else -1 [-]."""
        return SIGNS[self.kind]

    @property
    def bevel(self) -> bool:
        """True for bevel gears."""
        return self.kind.startswith("bevel")

    @property
    def turned(self) -> GearMesh:
        """The same mesh, its gears named the other way round."""
        return GearMesh(self.mate, self.mate_teeth, self.gear, self.gear_teeth, self.kind, self.size)

    def __str__(self) -> str:
        kind = "" if self.kind == "external" else f" ({self.kind})"
        return f"{self.gear} {self.gear_teeth} : {self.mate} {self.mate_teeth}{kind}"


def _name(value: Any) -> str:
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f'{value!r} is no name of a shaft: give text, such as "sun"; {_HOW}')
    return value


def several(word: str, values: Any, count: int) -> tuple:
    """So many values as a tuple, or ValueError that names what was given."""
    if not isinstance(values, (tuple, list)) or len(values) != count:
        raise ValueError(f"{word} = {values!r} will not do: give {count} of them, as in a tuple")
    return tuple(values)


def read_held(held: Any, outside: Sequence[str]) -> tuple[str, ...]:
    """Names of the members that stand still, checked; ``outside`` are those that can be held."""
    if isinstance(held, str):
        held = (held,)
    elif held is None:
        held = ()
    elif not isinstance(held, (tuple, list)):
        raise ValueError(f"held = {held!r} names no member: give one name, or several in a tuple")
    for name in held:
        if name not in outside:
            listed = ", ".join(outside)
            raise ValueError(f"held = {name!r} is no member that could be held: hold one of {listed}")
    if len(set(held)) < len(held):
        raise ValueError(f"held = {tuple(held)!r} names a member twice: name each once")
    return tuple(held)


def _size(mesh: tuple, unit: str | None) -> float | None:
    if len(mesh) < 6 or mesh[5] is None:
        return None
    if unit is None:
        raise ValueError(
            f"the mesh of {mesh[0]} and {mesh[2]} has a tooth size of its own, {mesh[5]!r}, but the train "
            "has none: give its module or diametral_pitch too, which tells the unit"
        )
    number = real(f"tooth size of the mesh of {mesh[0]} and {mesh[2]}", mesh[5], unit, 1e6)
    if number <= 0:
        raise ValueError(
            f"tooth size of the mesh of {mesh[0]} and {mesh[2]} = {number:g} {unit} is out of range: give "
            f"a number above 0 {unit}"
        )
    return number


def read_meshes(meshes: Any, unit: str | None) -> tuple[GearMesh, ...]:
    """Meshes as declared, checked one by one; ``unit`` is that of the tooth size, None without one."""
    if isinstance(meshes, (str, bytes, Mapping)) or not hasattr(meshes, "__iter__"):
        raise ValueError(f"meshes = {meshes!r} is no list of meshes: {_HOW}")
    read = []
    for mesh in meshes:
        if isinstance(mesh, str) or not hasattr(mesh, "__len__") or not 4 <= len(mesh) <= 6:
            raise ValueError(f"{mesh!r} is no mesh: {_HOW}")
        first, second = _name(mesh[0]), _name(mesh[2])
        teeth = [
            whole(f"teeth of the {name}", count, 4, MOST_TEETH)
            for name, count in ((first, mesh[1]), (second, mesh[3]))
        ]
        kind = mesh[4] if len(mesh) > 4 else "external"
        if not isinstance(kind, str) or kind not in SIGNS:
            raise ValueError(
                f"the mesh of {first} and {second} is of the kind {kind!r}: use one of {', '.join(SIGNS)}"
            )
        if first == second:
            raise ValueError(f"{first} cannot mesh with itself: name the two shafts apart")
        if FRAME in (first, second):
            raise ValueError(
                f"the mesh of {first} and {second}: the frame has no teeth; name the fixed gear and put its "
                "name into held"
            )
        if kind == "internal" and teeth[0] == teeth[1]:
            raise ValueError(
                f"{first} and {second} have {teeth[0]} teeth both: a ring has more teeth than the gear"
                " inside it"
            )
        read.append(GearMesh(first, teeth[0], second, teeth[1], kind, _size(mesh, unit)))
    if not read:
        raise ValueError(f"an epicyclic train needs a mesh: {_HOW}")
    return tuple(read)


def length_unit(module: float | None, diametral_pitch: float | None, stated: str | None) -> str | None:
    """Unit of the lengths of a train by its tooth size, or as stated; "mm", "in" or None."""
    if module is not None and diametral_pitch is not None:
        raise ValueError("give the module or the diametral pitch, not both")
    for word, number, size_unit in (("module", module, "mm"), ("diametral_pitch", diametral_pitch, "1/in")):
        if number is not None and real(word, number, size_unit, 1e6) <= 0:
            raise ValueError(
                f"{word} = {number:g} {size_unit} is out of range: give a number above 0 {size_unit}"
            )
    unit = "mm" if module is not None else "in" if diametral_pitch is not None else None
    if stated not in (None, "mm", "in"):
        raise ValueError(f"length_unit = {stated!r} is unknown: use 'mm' or 'in'")
    if unit and stated not in (None, unit):
        size = "module" if unit == "mm" else "diametral pitch"
        raise ValueError(
            f"length_unit = {stated!r} contradicts the tooth size: a {size} means {unit}; leave it out"
        )
    return unit or stated


class Members:
    """The shafts of a train, who carries whom, and the equations of its meshes.

    Every mesh belongs to a carrier, which keeps the two axes at their distance; seen from it the two gears
    are an ordinary pair:
    (n_one - n_carrier) z_one = sign (n_two - n_carrier) z_two. An axle on the frame is a planet of a carrier
    that stands still.

    meshes: as read.
    carried: which member carries each planet shaft; "frame" for an axle on the bench.
    """

    def __init__(self, meshes: tuple[GearMesh, ...], carried: Mapping[str, str]):
        if not isinstance(carried, Mapping):
            raise ValueError(
                f"carried = {carried!r} is no table of planets and carriers: give one as "
                f'{{"planet": "carrier"}}'
            )
        self.meshes, self.carried = (
            meshes,
            {_name(planet): _name(carrier) for planet, carrier in carried.items()},
        )
        named = dict.fromkeys(name for mesh in meshes for name in (mesh.gear, mesh.mate))
        for planet, carrier in self.carried.items():
            if planet == FRAME:
                raise ValueError("the frame is carried by nothing: leave it out of carried")
            if planet not in named and planet not in self.carried.values():
                raise ValueError(
                    f"{planet} is carried by {carrier} but meshes with nothing: give its mesh, or leave "
                    "it out of carried"
                )
        self.planets = tuple(self.carried)
        self.members = tuple(
            name
            for name in dict.fromkeys([*named, *self.carried.values()])
            if name not in self.carried and name != FRAME
        )
        self.bodies = self.members + self.planets
        for planet in self.planets:
            self.depth(planet)
        self.carriers = tuple(self._carrier_of(mesh) for mesh in meshes)
        for planet in self.planets:
            if self.carried[planet] in self.inclined:
                raise ValueError(
                    f"{planet} is carried by {self.carried[planet]}, whose pin is across the common "
                    "axis: such a train is not dealt with here; carry it on a member or a parallel planet"
                )

    def depth(self, name: str) -> int:
        """How many carriers stand between a shaft and the common axis [-]."""
        seen = [name]
        while name in self.carried:
            name = self.carried[name]
            if name in seen:
                raise ValueError(
                    f"{' is carried by '.join([*seen[seen.index(name) :], name])}: one of them must turn "
                    "about the common axis; "
                    "leave that one out of carried"
                )
            seen.append(name)
        return len(seen) - 1

    def _carrier_of(self, mesh: GearMesh) -> str:
        depths = self.depth(mesh.gear), self.depth(mesh.mate)
        outer = mesh.gear if depths[0] > depths[1] else mesh.mate
        if depths == (0, 0):
            raise ValueError(
                f"{mesh.gear} and {mesh.mate} both turn about the common axis, so they cannot mesh: name "
                f'the carrier of the planet, as in carried={{{mesh.mate!r}: "carrier"}}'
            )
        if (
            depths[0] == depths[1]
            and self.carried[mesh.gear] != self.carried[mesh.mate]
            or abs(depths[0] - depths[1]) > 1
        ):
            raise ValueError(
                f"{mesh.gear} (carried by {self.carried.get(mesh.gear, 'nothing')}) and {mesh.mate} (carried "
                f"by {self.carried.get(mesh.mate, 'nothing')}) cannot stay in mesh: "
                "nothing keeps their axes at one distance; let one member carry both, or let one of them "
                "turn about the common axis"
            )
        carrier = self.carried[outer]
        inner = mesh.mate if outer == mesh.gear else mesh.gear
        if (
            depths[0] != depths[1]
            and carrier in self.carried
            and self.carried.get(inner) != self.carried[carrier]
        ):
            raise ValueError(
                f"{inner} does not turn about the axis of {carrier}, which carries {outer}: they cannot "
                "stay in mesh"
            )
        return carrier

    @cached_property
    def inclined(self) -> frozenset[str]:
        """Planets whose pins stand across the common axis: with bevel teeth, or parallel to such."""
        tilted = {
            name
            for mesh in self.meshes
            if mesh.bevel
            for name in (mesh.gear, mesh.mate)
            if name in self.carried
        }
        while (
            more := {
                name
                for mesh in self.meshes
                if mesh.gear in self.carried and mesh.mate in self.carried and {mesh.gear, mesh.mate} & tilted
                for name in (mesh.gear, mesh.mate)
            }
            - tilted
        ):
            tilted |= more
        for mesh in self.meshes:
            if not mesh.bevel and (mesh.gear in tilted) != (mesh.mate in tilted):
                planet, other = (mesh.gear, mesh.mate) if mesh.gear in tilted else (mesh.mate, mesh.gear)
                raise ValueError(
                    f"{planet} has bevel teeth, so its pin is across the common axis: its mesh with "
                    f'{other} must be "bevel left" or "bevel right", not {mesh.kind}'
                )
        return frozenset(tilted)

    # -- equations -------------------------------------------------------------------------------------
    # The unknowns: the speed of each member, and of each planet that on its pin, seen from its carrier.
    def place(self, name: str) -> int:
        """Column of a shaft's unknown in the equations [-]."""
        return self.bodies.index(name)

    def speed_row(self, name: str) -> list[int]:
        """Speed of a shaft seen from the bench, in the unknowns; of a bevel planet that on its pin [-]."""
        row = [0] * len(self.bodies)
        while name != FRAME:
            row[self.place(name)] += 1
            name = FRAME if name in self.inclined else self.carried.get(name, FRAME)
        return row

    def relative_row(self, name: str, carrier: str) -> list[int]:
        """The speed of a shaft, seen from a carrier, in the unknowns [-]."""
        if self.carried.get(name) == carrier:
            row = [0] * len(self.bodies)
            row[self.place(name)] = 1
            return row
        return [
            own - carried for own, carried in zip(self.speed_row(name), self.speed_row(carrier), strict=True)
        ]

    @cached_property
    def rows(self) -> tuple[tuple[int, ...], ...]:
        """One equation for each mesh [-]."""
        return self.rows_with([1] * len(self.meshes))

    def rows_with(self, shares: Sequence[int | Fraction]) -> tuple[tuple, ...]:
        """The equations where the second gear of each mesh feels so many times the force of the first."""
        equations = []
        for mesh, carrier, share in zip(self.meshes, self.carriers, shares, strict=True):
            first, second = (self.relative_row(name, carrier) for name in (mesh.gear, mesh.mate))
            teeth = mesh.gear_teeth, mesh.sign * mesh.mate_teeth * share
            equations.append(tuple(teeth[0] * a - teeth[1] * b for a, b in zip(first, second, strict=True)))
        return tuple(equations)


def counts(makeup: Members, planets: Any) -> dict[str, int]:
    """How many there are of each planet; one number is that of every planet that is carried round [-]."""
    if not isinstance(planets, Mapping):
        number = whole("planets", planets, 1, MOST_PLANETS)
        return {name: 1 if makeup.carried[name] == FRAME else number for name in makeup.planets}
    for name in planets:
        if name not in makeup.planets:
            known = ", ".join(makeup.planets)
            raise ValueError(f"planets of {name!r} are counted, but it is no planet: the planets are {known}")
    return {
        name: whole(f"planets of {name}", planets.get(name, 1), 1, MOST_PLANETS) for name in makeup.planets
    }
