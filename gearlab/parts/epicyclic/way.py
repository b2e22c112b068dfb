"""Where a speed of an epicyclic train comes from: set by set, each seen from its carrier."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gearlab.theory import Derivation, derive
from gearlab.theory.quantities import NOTATION

from .members import FRAME, GearMesh

if TYPE_CHECKING:
    from .train import EpicyclicTrain

_FIRST, _LAST, _CARRIER = "first_central_speed", "last_central_speed", "carrier_speed"


@dataclass(frozen=True)
class Line:
    """Gears in mesh on one carrier: from a first gear over planets to a last one, or to the planet itself."""

    meshes: tuple[GearMesh, ...]
    carrier: str
    spins: bool

    @property
    def speeds(self) -> dict[str, str]:
        """Word of theory of each of the three speeds that belong together, by shaft."""
        first, last = self.meshes[0].gear, self.meshes[-1].mate
        words = {first: _FIRST, self.carrier: _CARRIER}
        return words | (
            {last: "planet_relative_speed" if self.spins else "planet_speed"}
            if len(self.meshes) == 1
            else {last: _LAST}
        )

    @property
    def givens(self) -> dict[str, float]:
        """Teeth and signs of its meshes, by word of theory [-]."""
        first, last = self.meshes[0], self.meshes[-1]
        givens = {
            "first_central_teeth": first.gear_teeth,
            "first_planet_teeth": first.mate_teeth,
            "first_mesh_sign": first.sign,
        }
        if len(self.meshes) > 1:
            givens |= {
                "last_planet_teeth": last.gear_teeth,
                "last_central_teeth": last.mate_teeth,
                "last_mesh_sign": last.sign,
            }
        if len(self.meshes) == 3:
            givens |= {
                "inner_planet_teeth": self.meshes[1].gear_teeth,
                "outer_planet_teeth": self.meshes[1].mate_teeth,
                "planet_mesh_sign": self.meshes[1].sign,
            }
        return {word: float(number) for word, number in givens.items()}

    @property
    def value(self) -> float:
        """Turns of the last gear for each turn of the first, the carrier held [-]."""
        value = 1.0
        for mesh in self.meshes:
            value *= mesh.sign * mesh.gear_teeth / mesh.mate_teeth
        return value

    @property
    def says(self) -> str:
        """Who is who in it."""
        first, last = self.meshes[0].gear, self.meshes[-1].mate
        back = [*self.meshes[:-1], self.meshes[-1].turned] if len(self.meshes) > 1 else self.meshes
        who = f"{last} the last" if len(self.meshes) > 1 else f"{last} the planet"
        seen = "the bench" if self.carrier == FRAME else self.carrier
        return f"seen from {seen}: {first} is the first gear, {who} ({', '.join(map(str, back))})"


@dataclass(frozen=True)
class Part:
    """One step: which shaft is found in which line, and its derivation."""

    shaft: str
    line: Line
    derivation: Derivation


class Way:
    """The way to a speed: a derivation for each line of gears, or equations to be solved together.

    It shows itself in a notebook; ``result`` is the number [rpm].
    """

    unit = "rpm"

    def __init__(self, asked: str, result: float, parts: tuple[Part, ...], together: tuple[str, ...] = ()):
        self.asked, self.result, self.parts, self.together = asked, result, parts, together

    def _show(self, form: str) -> str:
        blank, blocks = ("\n\n", []) if form == "markdown" else ("\n", [])
        for part in self.parts:
            head = part.line.says
            blocks += [
                f"**{head[0].upper()}{head[1:]}.**" if form == "markdown" else head,
                getattr(part.derivation, form)(),
            ]
        if self.together:
            blocks += [
                (
                    "Every set seen from its carrier; solved together:"
                    if form == "markdown"
                    else "every set seen from its carrier, solved together:"
                ),
                *(f"$${line}$$" if form == "markdown" else line for line in self.together),
            ]
        if not blocks:
            blocks = [
                (
                    f"The speed of {self.asked} is given."
                    if form == "markdown"
                    else f"the speed of {self.asked} is given"
                )
            ]
        elif self.together:
            blocks.append(f"speed of {self.asked}: {self.result:.6g} rpm")
        return blank.join(blocks)

    def markdown(self) -> str:
        """As Markdown with LaTeX."""
        return self._show("markdown")

    def text(self) -> str:
        """As plain text."""
        return self._show("text")

    def _repr_markdown_(self) -> str:
        return self.markdown()

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return f"<way to the speed of {self.asked}: {len(self.parts)} lines of gears>"


def lines(train: EpicyclicTrain) -> list[Line]:
    """Every line of one to three meshes on one carrier, the shorter ones last."""
    makeup = train.makeup
    turned = [(mesh, carrier) for mesh, carrier in zip(makeup.meshes, makeup.carriers, strict=True)]
    turned += [(mesh.turned, carrier) for mesh, carrier in turned]

    def planet(name: str, carrier: str) -> bool:
        return makeup.carried.get(name) == carrier

    pairs, triples, singles = [], [], []
    for mesh, carrier in turned:
        if planet(mesh.mate, carrier):
            singles.append(Line((mesh,), carrier, mesh.mate in makeup.inclined))
            for after, other in turned:
                if other != carrier or after.gear != mesh.mate or after.mate == mesh.gear:
                    continue
                if not planet(mesh.gear, carrier) and not planet(after.mate, carrier):
                    pairs.append(Line((mesh, after), carrier, False))
                for final, third in turned:
                    if (
                        third == carrier
                        and planet(after.mate, carrier)
                        and final.gear == after.mate
                        and not planet(mesh.gear, carrier)
                        and not planet(final.mate, carrier)
                        and final.mate != mesh.gear
                    ):
                        triples.append(Line((mesh, after, final), carrier, False))
    return pairs + triples + singles


def _next(known: Mapping[str, float], every: list[Line]) -> tuple[str, Line] | None:
    for line in every:
        open_ = [name for name in line.speeds if name not in known]
        if len(open_) == 1 and not (
            open_[0] == line.carrier and len(line.meshes) > 1 and abs(line.value - 1) < 1e-12
        ):
            return open_[0], line
    return None


def way_to(
    train: EpicyclicTrain,
    asked: str,
    speeds: Mapping[str, float],
    given: tuple[str, ...],
    notation: str | None,
) -> Way:
    """The way to the speed of a shaft, from the speeds of all [rpm] and the names of those given."""
    makeup = train.makeup
    if asked not in makeup.bodies:
        raise ValueError(f"{asked!r} is no shaft of this train: it has {', '.join(makeup.bodies)}")
    known = dict.fromkeys((FRAME, *train.held), 0.0) | {name: speeds[name] for name in given}
    every, steps = lines(train), []
    preferred = [line for line in every if asked in line.speeds] + every
    while asked not in known and (step := _next(known, preferred)):
        known[step[0]] = speeds[step[0]]
        steps.append(step)
    if asked not in known:
        return Way(asked, speeds[asked], (), _together(train, given, every))
    needed = {asked}
    kept: list[tuple[str, Line]] = []
    for shaft, line in reversed(steps):
        if shaft in needed:
            kept.insert(0, (shaft, line))
            needed |= set(line.speeds)
    notation = notation or NOTATION[train.length_unit or "mm"]
    return Way(
        asked,
        speeds[asked],
        tuple(Part(shaft, line, _derived(train, line, shaft, speeds, notation)) for shaft, line in kept),
    )


def _derived(
    train: EpicyclicTrain, line: Line, shaft: str, speeds: Mapping[str, float], notation: str
) -> Derivation:
    words = line.speeds
    put = {
        word: 0.0 if name == FRAME else float(speeds[name]) for name, word in words.items() if name != shaft
    }
    features = ("double planets",) if len(line.meshes) == 3 else ()
    return derive(
        words[shaft],
        line.givens | put,
        notation=notation,
        kind="epicyclic train",
        length_unit=train.length_unit or "mm",
        features=features,
    )


def _together(train: EpicyclicTrain, given: tuple[str, ...], every: list[Line]) -> tuple[str, ...]:
    """The equation of each line of gears from one member to another, once."""
    rows, seen = [], set()
    for line in every:
        first, last = line.meshes[0].gear, line.meshes[-1].mate
        if len(line.meshes) == 1 or (frozenset((first, last)), line.carrier) in seen:
            continue
        seen.add((frozenset((first, last)), line.carrier))
        first, last, carrier = (f"n({name})" for name in (first, last, line.carrier))
        rows.append(f"{last} - {carrier} = {line.value:.6g}·({first} - {carrier})")
    return (*rows, *(f"n({name}) = 0" for name in train.held))
