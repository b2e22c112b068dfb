"""Whether the planets of an epicyclic train go in: axes that meet, equal spacing, room between neighbours."""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING

from gearlab.theory.scope import scope_for
from gearlab.theory.systems import system

from ..working import worked_out
from .members import FRAME, GearMesh, counts
from .rational import common_divisor, whole_annihilators

if TYPE_CHECKING:
    from .train import EpicyclicTrain

#: Axes nearer to one another than this share of their distance are one.
_SAME = 1e-9


class Room:
    """Lengths of an epicyclic train of plain full-depth gears at reference distance, and what is in the way.

    >>> from gearlab import EpicyclicTrain
    >>> size = {"inside": (False, True), "planets": 3, "module": 1.5}
    >>> room = EpicyclicTrain.stepped(("sun", 20), (40, 16), ("ring", 76), **size).room
    >>> room.carrier_radius("planet"), round(room.planet_gap("planet"), 3), room.spacing_number("planet")
    (45.0, 14.942, 420)
    >>> room = EpicyclicTrain.stepped(("sun", 20), (40, 16), ("ring", 75), must_fit=False, **size).room
    >>> print(room.faults[-1].split(": ")[1])
    the axes do not meet; with 76 teeth ring would do, or with teeth of another size
    """

    def __init__(self, train: EpicyclicTrain):
        self.train, self.makeup = train, train.makeup
        self.counts = counts(train.makeup, train.planets)

    # -- lengths ---------------------------------------------------------------------------------------
    def _sized(self) -> float:
        """Length of one module [``length_unit``]."""
        if self.train.scale is None:
            raise ValueError(
                "this train has no tooth size, so it has no lengths: give its module or diametral_pitch"
            )
        return self.train.scale

    def _scale(self, mesh: GearMesh) -> float:
        usual = self._sized()
        if mesh.size is None:
            return usual
        return mesh.size if self.train.module is not None else 1.0 / mesh.size

    def _numbers(self, mesh: GearMesh, **more: float) -> dict[str, float]:
        """Theory's numbers of one mesh, the gear on the common axis first."""
        scope = scope_for("epicyclic train", self.train.length_unit, (system(),))
        return worked_out(
            scope,
            {
                "first_central_teeth": float(mesh.gear_teeth),
                "first_planet_teeth": float(mesh.mate_teeth),
                "first_mesh_sign": float(mesh.sign),
                "first_mesh_module": self._scale(mesh),
            }
            | more,
        )

    def _toward_axis(self, planet: str) -> list[GearMesh]:
        """Parallel meshes of a planet with gears nearer to the common axis, those named first."""
        turned = [
            mesh if mesh.mate == planet else mesh.turned
            for mesh in self.makeup.meshes
            if planet in (mesh.gear, mesh.mate) and not mesh.bevel
        ]
        return [mesh for mesh in turned if self.makeup.depth(mesh.gear) < self.makeup.depth(planet)]

    def _reach(self, mesh: GearMesh) -> float:
        """Distance of the two axes of a mesh [length_unit]; a carried ring counts as the middle."""
        if mesh.kind == "internal" and mesh.mate_teeth > mesh.gear_teeth:
            mesh = mesh.turned
        return self._numbers(mesh)["carrier_radius"]

    def carrier_radius(self, planet: str) -> float:
        """From the axis of the carrier to the pin of a planet [``length_unit``].

        ValueError: Without a tooth size, for an unknown planet, one with bevel teeth, or one that meshes with
            other planets alone.
        """
        self._sized()
        if planet not in self.makeup.planets:
            raise ValueError(
                f"{planet!r} is no planet of this train: it has {', '.join(self.makeup.planets)}"
            )
        if planet in self.makeup.inclined:
            raise ValueError(
                f"the pin of {planet} is across the common axis: it has no radius; ask a BevelPair of "
                "its teeth for the cone distance"
            )
        if not (meshes := self._toward_axis(planet)):
            raise ValueError(
                f"{planet} meshes with planets alone: how far it is from the axis is left open by the teeth"
            )
        return self._reach(meshes[0])

    def _tips(self, planet: str, gears: set[tuple[int, float]] | None = None) -> float:
        """Outside diameter of the largest gear of a planet, or of those named [length_unit]."""
        if gears is None:
            turned = [
                mesh if mesh.mate == planet else mesh.turned
                for mesh in self.makeup.meshes
                if planet in (mesh.gear, mesh.mate)
            ]
            gears = {(mesh.mate_teeth, self._scale(mesh)) for mesh in turned}
        scope = scope_for("gear", self.train.length_unit, (system(),))
        word, of = (
            ("module", lambda scale: scale)
            if self.train.length_unit == "mm"
            else ("diametral_pitch", lambda scale: 1.0 / scale)
        )
        return max(
            worked_out(scope, {"teeth": float(teeth), word: of(scale)})["outside_diameter"]
            for teeth, scale in gears
        )

    def planet_spacing(self, planet: str) -> float:
        """From pin to pin of neighbouring planets of one name [``length_unit``]."""
        return self._neighbours(planet)["planet_spacing"]

    def planet_gap(self, planet: str) -> float:
        """Room between the tips of neighbouring planets, by their largest gear [``length_unit``]."""
        return self._neighbours(planet)["planet_gap"]

    def _neighbours(self, planet: str) -> dict[str, float]:
        radius, count = self.carrier_radius(planet), self.counts[planet]
        if count == 1:
            raise ValueError(f"there is one {planet}: it has no neighbour; give planets, 2 or more")
        return self._beside(planet, radius, count)

    def _beside(self, planet: str, radius: float, count: int) -> dict[str, float]:
        scope = scope_for("epicyclic train", self.train.length_unit, (system(),))
        return worked_out(
            scope,
            {
                "carrier_radius": radius,
                "planets": float(count),
                "largest_planet_diameter": self._tips(planet),
            },
        )

    # -- equal spacing ---------------------------------------------------------------------------------
    def _set_of(self, planet: str) -> list[str]:
        """The planets on one carrier that are in mesh with each other, the given one among them."""
        planets = [planet]
        for name in planets:
            for mesh in self.makeup.meshes:
                if name in (mesh.gear, mesh.mate):
                    other = mesh.mate if mesh.gear == name else mesh.gear
                    if self.makeup.carried.get(other) == self.makeup.carried[planet] and other not in planets:
                        planets.append(other)
        return planets

    def spacing_number(self, planet: str) -> int:
        """The number that the count of equal, equally spaced planets must divide; 0 if any count goes in [-].

        From one planet to the next each mesh must stand in the same phase. Of a plain set it is the sum of
        sun and ring teeth.
        """
        if planet not in self.makeup.planets:
            raise ValueError(
                f"{planet!r} is no planet of this train: it has {', '.join(self.makeup.planets)}"
            )
        group = self._set_of(planet)
        turns, teeth = [], []
        for mesh in self.makeup.meshes:
            ends = [(mesh.gear, mesh.gear_teeth, 1), (mesh.mate, mesh.mate_teeth, -mesh.sign)]
            if any(name in group for name, _, _ in ends):
                turns.append(
                    [sum(count * way for name, count, way in ends if name == member) for member in group]
                )
                teeth.append(sum(count * way for name, count, way in ends if name not in group))
        return common_divisor(
            [
                sum(times * count for times, count in zip(row, teeth, strict=True))
                for row in whole_annihilators(turns)
            ]
        )

    def fitting_counts(self, planet: str) -> tuple[int, ...]:
        """Counts up to 12 of equally spaced planets that go in and, with a tooth size, have room [-]."""
        number = self.spacing_number(planet)
        counts = [count for count in range(1, 13) if number % count == 0]
        if self.train.scale is None or planet in self.makeup.inclined or not self._toward_axis(planet):
            return tuple(counts)
        return tuple(count for count in counts if count == 1 or self._room_for(planet, count) > 0)

    def _room_for(self, planet: str, count: int) -> float:
        return self._beside(planet, self.carrier_radius(planet), count)["planet_gap"]

    # -- faults ----------------------------------------------------------------------------------------
    @cached_property
    def faults(self) -> tuple[str, ...]:
        """What is in the way, with what would work; empty for a train that goes together."""
        faults = []
        for planet in self.makeup.planets:
            number, count = self.spacing_number(planet), self.counts[planet]
            if number % count:
                fits = ", ".join(map(str, self.fitting_counts(planet)))
                faults.append(
                    f"{count} equal planets {planet} equally spaced do not all find their teeth: {count} "
                    f"does not divide {number}; {fits} would fit, "
                    "or planets whose two gears are set apart one by one"
                )
            other = next((mate for mate in self._set_of(planet) if self.counts[mate] != count), None)
            if other:
                faults.append(
                    f"there are {count} planets {planet} but {self.counts[other]} of {other}, "
                    "which mesh with each other: give both the same count"
                )
        if self.train.scale is not None:
            for planet in self.makeup.planets:
                faults += (
                    self._bevel_faults(planet)
                    if planet in self.makeup.inclined
                    else self._parallel_faults(planet)
                )
        return tuple(faults)

    def _bevel_faults(self, planet: str) -> list[str]:
        turned = [
            mesh if mesh.mate == planet else mesh.turned
            for mesh in self.makeup.meshes
            if planet in (mesh.gear, mesh.mate) and mesh.bevel
        ]
        for left in (mesh for mesh in turned if mesh.kind == "bevel left"):
            for right in (mesh for mesh in turned if mesh.kind == "bevel right"):
                if (
                    left.mate_teeth == right.mate_teeth
                    and abs(left.gear_teeth - right.gear_teeth) >= 2 * left.mate_teeth
                ):
                    return [
                        f"no pin of {planet} lets its {left.mate_teeth} teeth reach both {left.gear} "
                        f"{left.gear_teeth} and {right.gear} {right.gear_teeth}: their counts must be "
                        f"less than {2 * left.mate_teeth} apart"
                    ]
        return []

    def _parallel_faults(self, planet: str) -> list[str]:
        meshes, unit = self._toward_axis(planet), self.train.length_unit
        if not meshes:
            return []
        faults, radius = [], self._reach(meshes[0])
        for mesh in meshes[1:]:
            other = self._reach(mesh)
            if abs(other - radius) > _SAME * radius:
                faults.append(
                    f"{planet} is {radius:.6g} {unit} from the axis for {meshes[0].gear} "
                    f"{meshes[0].gear_teeth}, but {other:.6g} {unit} for {mesh.gear} {mesh.gear_teeth}: "
                    f"the axes do not meet; {self._coaxial(mesh, radius)}"
                )
        if not faults and self.counts[planet] > 1 and (gap := self.planet_gap(planet)) <= 0:
            most = max(
                count
                for count in range(1, self.counts[planet])
                if count == 1 or self._room_for(planet, count) > 0
            )
            faults.append(
                f"{self.counts[planet]} planets {planet} collide: neighbouring tips would overlap "
                f"by {-gap:.4g} {unit}; there is room for {most}"
            )
        return faults + self._between(planet)

    def _coaxial(self, mesh: GearMesh, radius: float) -> str:
        need = 2 * radius / self._scale(mesh) + mesh.sign * mesh.mate_teeth
        teeth = round(need)
        if abs(need - teeth) < 1e-6 and teeth >= 4:
            return f"with {teeth} teeth {mesh.gear} would do, or with teeth of another size"
        return (
            f"no whole number of teeth of {mesh.gear} would do ({need:.4g}); change their size or the planet"
        )

    def _between(self, planet: str) -> list[str]:
        """Two planets in mesh with each other: they must reach, and not touch the next pair."""
        faults = []
        for mesh in self.makeup.meshes:
            if (
                mesh.gear != planet
                or mesh.mate not in self._set_of(planet)
                or self.makeup.carried[planet] == FRAME
                or not self._toward_axis(mesh.mate)
            ):
                continue
            radius, other, apart = (
                self.carrier_radius(mesh.gear),
                self.carrier_radius(mesh.mate),
                self._reach(mesh),
            )
            unit, count = self.train.length_unit, self.counts[planet]
            if not abs(radius - other) < apart < radius + other:
                faults.append(
                    f"{mesh.gear} ({radius:.6g} {unit} from the axis) and {mesh.mate} ({other:.6g} {unit}) "
                    f"would have to be {apart:.6g} {unit} apart: that cannot be; "
                    f"it must be between {abs(radius - other):.6g} and {radius + other:.6g} {unit}"
                )
                continue
            if count > 1 and mesh.kind == "external":
                turn = math.acos((radius**2 + other**2 - apart**2) / (2 * radius * other))
                tips = (
                    self._tips(mesh.gear, {(mesh.gear_teeth, self._scale(mesh))})
                    + self._tips(mesh.mate, {(mesh.mate_teeth, self._scale(mesh))})
                ) / 2
                near = min(
                    math.sqrt(
                        radius**2
                        + other**2
                        - 2 * radius * other * math.cos(2 * math.pi * step / count - turn)
                    )
                    for step in range(1, count)
                )
                if near <= tips:
                    faults.append(
                        f"{mesh.mate} would strike the next {mesh.gear}: their axes are {near:.4g} {unit} "
                        f"apart, their tips reach {tips:.4g} {unit}; take fewer planets"
                    )
        return faults
