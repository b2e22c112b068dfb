"""Choosing tooth counts.

A ratio, a spacing and a tooth size are wanted, and only whole teeth are possible.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Any

from ...drawing import numerals, views
from ...parts import Mesh
from ...parts.choosing import PairChoice, pairs
from ...parts.design import Design
from .controls import Choice, Length, Measure, Scale, Whole, tooth_size
from .explorer import Explorer, State
from .part import Part, counts_given, distance_of, pair_taken
from .state import Cells, Inputs, good, group, note, row, task

LISTED = (18, 72)  # counts the list is made of [teeth]
NEAR = 0.1  # how near the wanted ratio is near enough
CLOSE = {"mm": 0.01, "in": 0.0005}  # how near the wanted spacing is near enough
STEPS = {"mm": (0.25, 2.5, 2), "in": (0.01, 0.1, 3)}
OWN = "own"


@lru_cache(maxsize=64)
def _listed(ratio: float, distance: float, scale: float, word: str, size: float) -> tuple[PairChoice, ...]:
    low, high = LISTED
    sized: dict[str, Any] = {word: size}
    candidates = pairs(
        ratio,
        low=low,
        high=high,
        within=0.08,
        centre_distance=distance,
        **sized,
        distance_within=scale,
        count=9,
    )
    return tuple(candidates)


def _percent(share: float) -> str:
    """A share in per cent, with its sign."""
    words = numerals.number(100 * share, 2)
    return f"{'+' if share > 0 and words != '0.00' else ''}{words} %"


def _key(driver: int, driven: int) -> str:
    return f"{driver} {driven}"


class RatioFinder(Explorer):
    """A list of tooth counts for a wanted ratio and spacing, and the pair that was chosen, turning.

    Choose a pair from the list or set the counts; ``mesh`` is the pair shown.

    Examples
    --------
    >>> finder = RatioFinder(ratio=2.4, centre_distance=80.0, module=2.5)
    >>> finder.picked = "19 45"
    >>> finder.driver_teeth, finder.warnings[-1]["kind"]
    (19, 'good')
    """

    speed, plays, positional, broad = 6.0, True, 2, True
    words = ("spacing of *", "error of *", "factor of *")
    wanted_ratio = Measure(
        2.4,
        1.0,
        5.0,
        "Wanted ratio",
        unit="turns per turn",
        step=0.05,
        page=0.5,
        places=2,
        home="first",
        argument="ratio",
        about="Wanted driver turns per driven turn",
    )
    wanted_distance = Length(
        "Wanted centre distance",
        lambda finder, inputs: Scale(
            round(32 * finder.scale_of(inputs), 2) if finder.length_unit == "in" else 80.0,
            18 * finder.scale_of(inputs),
            120 * finder.scale_of(inputs),
            *STEPS[finder.length_unit],
        ),
        home="first",
        argument="centre_distance",
        called="centre_distance",
        about="Wanted spacing of the shafts, 18 to 120 modules; 80 mm, or 32 modules in inches, if left out",
    )
    module, diametral_pitch = tooth_size(control=True)
    picked = Choice(
        OWN,
        lambda finder, inputs: {OWN: "not on the list", **finder.listed(inputs)},
        "Pair from the list",
        words=lambda finder, inputs: finder.offered(inputs),
        argument=False,
    )
    driver_teeth = Whole(
        18, 12, 120, "Teeth of the driver", of="driver", about="Teeth of the driver at first"
    )
    driven_teeth = Whole(
        45, 12, 120, "Teeth of the driven gear", of="driven", about="Teeth of the driven gear at first"
    )

    secrets = ("factor of *",)
    part_of_design = Part("mesh", lambda *given: _taken(*given), lambda *given: _given(*given))

    def prepare(self):
        self.unit = self.length_unit

    def _candidates(self, inputs: Inputs) -> Sequence[PairChoice]:
        ((word, size),) = self.size_of(inputs).items()
        return _listed(inputs.wanted_ratio, inputs.wanted_distance, self.scale_of(inputs), word, size)

    def listed(self, inputs: Inputs) -> dict[str, str]:
        """The pairs of the list, as options of a choice."""
        return {
            _key(pair.driver_teeth, pair.driven_teeth): f"{pair.driver_teeth} and {pair.driven_teeth} teeth"
            for pair in self._candidates(inputs)
        }

    def offered(self, inputs: Inputs) -> dict[str, str]:
        """What the list offers, with the pair shown where that is another."""
        listed, driver, driven = self.listed(inputs), inputs.driver_teeth, inputs.driven_teeth
        return (
            listed
            if _key(driver, driven) in listed
            else {OWN: f"not on the list: {driver} and {driven}"} | listed
        )

    @property
    def mesh(self) -> Mesh:
        """The pair shown."""
        return self.shown.subject

    @property
    def scale(self) -> float:
        """Size of the teeth: the module, or one over the diametral pitch [mm or in]."""
        return self.scale_of(self.shown.inputs)

    @property
    def candidates(self) -> Sequence[PairChoice]:
        """Pairs near the wanted ratio and within one module of the wanted spacing, nearest ratio first."""
        return self._candidates(self.shown.inputs)

    @property
    def done(self) -> bool:
        """Whether spacing and ratio are met by a hunting pair."""
        return all(self._met(self.mesh, self.shown.inputs).values())

    def _met(self, mesh: Mesh, inputs: Inputs) -> dict[str, bool]:
        off = abs(mesh.numbers["centre_distance"] - inputs.wanted_distance)
        return {
            "spacing": off <= CLOSE[self.unit] + 1e-9,
            "ratio": abs(mesh.ratio - inputs.wanted_ratio) <= NEAR + 1e-9,
            "hunting": mesh.numbers["common_factor"] == 1,
        }

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        """The list and the two counts say the same; whichever was changed leads."""
        if before and inputs.picked not in (OWN, before.picked):
            driver, driven = map(int, inputs.picked.split())
            return inputs.but(driver_teeth=driver, driven_teeth=driven)
        shown = _key(inputs.driver_teeth, inputs.driven_teeth)
        return inputs.but(picked=shown if shown in self.listed(inputs) else OWN)

    def state(self, inputs: Inputs) -> State:
        mesh, way = self.pair_of(inputs, 0.0), 1.0 if inputs.driver_speed >= 0 else -1.0
        scene = views.wished(mesh, inputs.wanted_distance, turning=way)
        heading = f"{inputs.driver_teeth} and {inputs.driven_teeth} teeth, {numerals.pitch_name(mesh.driver)}"
        readout = [_the_pair(mesh, inputs.wanted_ratio), *self._the_list(inputs)]
        return State(inputs, scene, heading, readout, list(self._remarks(mesh, inputs)), mesh)

    def extra(self, word: str, state: State) -> dict[str, Any]:
        return {"wanted_ratio": state.inputs.wanted_ratio} if word == "ratio_error" else {}

    def _the_list(self, inputs: Inputs) -> list[dict]:
        n, rows, half = Cells({}, self.unit), [], self.scale_of(inputs) / 2
        for pair in self._candidates(inputs):
            name = f"{pair.driver_teeth} and {pair.driven_teeth}"
            cells = (
                n.length(f"spacing of {name}", pair.size * half),
                n.said(f"error of {name}", 100 * pair.error, _percent(pair.error)),
                n.plain(f"factor of {name}", pair.common_factor),
            )
            rows.append(row(name, *cells))
        columns = ("centre distance", "ratio off by", "common factor")
        return [group("The list, nearest ratio first", rows, columns)] if rows else []

    def _remarks(self, mesh: Mesh, inputs: Inputs) -> Iterator[dict]:
        driver, driven, n = mesh.driver.teeth, mesh.driven.teeth, mesh.numbers
        wanted, ratio = (
            numerals.length(inputs.wanted_distance, self.unit),
            numerals.plain(inputs.wanted_ratio),
        )
        spacing, reached = numerals.length(n["centre_distance"], self.unit), numerals.plain(mesh.ratio, 3)
        yield task(
            f"find a hunting pair for {wanted} with {numerals.pitch_name(mesh.driver)} and a ratio near"
            f" {ratio} (within {NEAR})."
        )
        met, scale = self._met(mesh, inputs), self.scale_of(inputs)
        if all(met.values()):
            yield good(f"{driver} and {driven}: {spacing}, {reached}, no common factor.")
            return
        if not met["spacing"]:
            yield note(
                f"the centre distance is {spacing}, not {wanted}: the counts add up to {driver + driven}."
            )
        if not met["ratio"]:
            yield note(f"the ratio is {reached}, which is not near {ratio}.")
        if not met["hunting"]:
            yield note(
                f"both counts can be divided by {numerals.plain(n['common_factor'])}: each driver tooth meets"
                f" only {numerals.plain(n['spaces_met'])} of the {driven} spaces, again and again."
            )
        spacings = [pair.size * scale / 2 for pair in self._candidates(inputs)]
        if not any(abs(spacing - inputs.wanted_distance) <= 0.002 * scale for spacing in spacings):
            yield note(
                f"no pair on the list has exactly {wanted}: centre distances go in steps of half a module,"
                f" {numerals.length(scale / 2, self.unit)}."
            )

    def _named(self) -> str:
        ratio, distance = self.first.wanted_ratio, self.first.wanted_distance
        return f"ratio {numerals.plain(ratio)}, {numerals.length(distance, self.unit)}"


def _taken(design: Design, name: str) -> dict[str, Any]:
    """A mesh; the wanted ratio is that of the design, where this mesh is all of the drive."""
    taken = pair_taken(design, name, shifted=False)
    ratio = taken["driven_teeth"] / taken["driver_teeth"]
    if len(design.links) == 1 and design.design.ratio is not None:
        ratio = design.design.ratio
    return {**taken, "ratio": ratio, "centre_distance": distance_of(design, name)}


def _given(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    """The edits of both gears and their shafts, and of the ratio that is wanted of a drive of one mesh."""
    word = "module" if design.unit == "mm" else "diametral_pitch"
    edits = counts_given(inputs, design, name, size={word: getattr(inputs, word)})
    if len(design.links) == 1:
        edits["design"] = {"ratio": inputs.wanted_ratio}
    return edits


def _the_pair(mesh: Mesh, wanted_ratio: float) -> dict:
    n, error = Cells(mesh.numbers, mesh.unit), mesh.ratio / wanted_ratio - 1
    met = f"{numerals.plain(n['spaces_met'])} of {mesh.driven.teeth}"
    rows = [
        row("centre distance", n.length("centre_distance")),
        row("driver turns per driven turn", n.plain("ratio")),
        row("off the wanted ratio by", n.said("ratio_error", 100 * error, _percent(error), explained=True)),
        row("common factor", n.plain("common_factor")),
        row("different spaces a tooth meets", n.said("spaces_met", n["spaces_met"], met, explained=True)),
        row("driver turns until the same two teeth meet", n.plain("driver_turns_to_repeat")),
    ]
    return group("The pair shown", rows)
