"""How two gears stand in mesh: at the spacing and with the teeth that were measured, or else as drawn.

Every check of a mesh looks at the same standing, and says which of the two it used.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from gearlab.theory.units import convert

from ..design import Design, MeasuredTable, MeshTable
from ..gear import Gear
from ..mesh import Mesh
from ..standing import check_match
from .finding import PLACES

SLACK = 1e-6  # of a module: what rounding of a drawing leaves
ROUNDED = {"mm": 0.01, "in": 0.0005}  # and what rounding of its coordinates takes from a spacing [unit]
MOST_PLAY = 0.12  # backlash that a teaching kit has at most [modules]
#: Small teeth have more of it for their size: holes and bores are not made better for them [unit], up to so
#: many modules (common practice; AGMA fine pitch, class B: 0.002 to 0.008 in, from memory).
MOST_OF_SMALL, SMALL_SHARE = {"mm": 0.16, "in": 0.0065}, 0.25
USUAL_PLAY = 0.04  # and the usual one [modules] (common practice)


class Taken(NamedTuple):
    """A number as a check takes it [unit]: by what, and what its instrument cannot see of it [unit]."""

    value: float
    by: str = "as drawn"
    unseen: float = 0.0


def usual_count(gear: Gear, reading: MeasuredTable) -> int:
    """Over how many teeth a span was taken: as said, or where jaws touch near mid-flank."""
    return reading.over if reading.over is not None else gear.span_teeth


class Standing:
    """Two gears that are to mesh; of a ring and its pinion, the pinion comes first."""

    def __init__(self, design: Design, pair: MeshTable):
        self.design, self.pair, self.where, self.unit = design, pair, pair.name, design.unit
        names = [pair.driver, pair.driven]
        if design.of(pair.driver).internal and not design.of(pair.driven).internal:
            names.reverse()
        self.names = tuple(names)
        self.gears: tuple[Gear, Any] = tuple(design.toothed[name] for name in names)  # type: ignore[assignment]

    @property
    def scale(self) -> float:
        """One module, or 1/P [unit of the gears]."""
        return self.gears[0].scale

    @property
    def internal(self) -> bool:
        """Whether it is a pinion in a ring."""
        return self.gears[1].internal

    def base_pitch(self, side: int) -> float:
        """Base pitch of one of them [unit of the design]."""
        gear = self.gears[side]
        return convert(gear.base_pitch, gear.unit, self.unit)

    @cached_property
    def mismatch(self) -> str:
        """Why their teeth do not fit each other; empty where they do."""
        try:
            check_match(*self.gears)
        except ValueError as error:
            return str(error)
        return ""

    # -- where they stand ------------------------------------------------------------------------------
    @cached_property
    def pins(self) -> float:
        """What pins in both holes add to their spacing, measured over them [unit]."""
        reading = self.design.reading(self.where, "spacing_over_pins")
        if reading is not None and reading.pin_diameter is not None:
            return reading.pin_diameter
        return sum(self.design.shaft_of(name).diameter for name in self.names) / 2

    @cached_property
    def spacing(self) -> Taken:
        """The spacing of their shafts [unit]."""
        reading = self.design.reading(self.where, "hole_spacing", "spacing_over_pins")
        if reading is None:
            return Taken(self.design.distance(*self.names))
        over = self.pins if reading.quantity == "spacing_over_pins" else 0.0
        return Taken(reading.value - over, "measured", reading.reads_to)

    @property
    def tips_meet(self) -> float:
        """The spacing at which the tips just reach each other [unit]."""
        tip, other = (gear.tooth.tip_radius * self.scale for gear in self.gears)
        return other - tip if self.internal else tip + other

    @cached_property
    def natural(self) -> Mesh | None:
        """The pair at the spacing that its teeth call for; None where there is none."""
        try:
            return Mesh(*self.gears) if not self.mismatch else None
        except ValueError:
            return None

    @cached_property
    def mesh(self) -> Mesh | None:
        """The pair where it stands; None where no flanks can meet there."""
        return self.at(self.spacing.value)

    def at(self, distance: float) -> Mesh | None:
        """The pair at some spacing [unit]; None where no flanks can meet there, or the teeth do not turn."""
        try:
            mesh = Mesh(*self.gears, centre_distance=distance) if not self.mismatch else None
            return (
                mesh
                if mesh is not None and "backlash" in mesh.numbers and math.isfinite(mesh.backlash)
                else None
            )
        except ValueError:
            return None

    @cached_property
    def natural_play(self) -> float:
        """The play at the spacing that the teeth call for [unit], also where tips would stand on roots; NaN
        without.
        """
        if self.natural is None:
            return math.nan
        told = self.natural.told
        if "backlash" in self.natural.numbers:
            return self.natural.backlash
        return told.beyond.get("backlash", math.nan)

    @property
    def sense(self) -> int:
        """Which way play grows: +1 with the spacing, -1 against it, in a ring."""
        return -1 if self.internal else 1

    # -- play ------------------------------------------------------------------------------------------
    @cached_property
    def drawn_play(self) -> float | None:
        """The play as drawn [unit]; None where the teeth do not turn."""
        mesh = self.at(self.design.distance(*self.names))
        return None if mesh is None else mesh.backlash

    @cached_property
    def thinner(self) -> Taken:
        """What both teeth together were measured thinner than drawn, on their pitch circles [unit]."""
        total, by, unseen = 0.0, "as drawn", 0.0
        for name, gear in zip(self.names, self.gears):
            reading = self.design.reading(name, "span", "over_pins")
            if reading is None or not isinstance(gear, Gear):
                continue
            try:
                less, seen = _thinner(gear, reading)
            except ValueError:
                continue  # the check of the reading says why
            total, by, unseen = total + less, "measured", unseen + seen
        return Taken(total, by, unseen)

    @cached_property
    def play(self) -> Taken | None:
        """The play on the pitch circles [unit]; None where the teeth do not turn, or where there is none."""
        reading = self.design.reading(self.where, "backlash")
        if reading is not None:
            return Taken(reading.value, "measured", reading.reads_to)
        if self.mesh is None:
            return None
        slope = 2 * math.tan(math.radians(self.mesh.operating_pressure_angle))
        unseen = slope * self.spacing.unseen + self.thinner.unseen
        by = "measured" if "measured" in (self.spacing.by, self.thinner.by) else "as drawn"
        by = "worked out from what was measured" if by == "measured" else by
        return Taken(self.mesh.backlash + self.thinner.value, by, unseen)

    @property
    def rounded(self) -> float:
        """The play that rounded coordinates may take [unit]; what was measured is not rounded."""
        if self.spacing.by == "measured":
            return SLACK * self.scale
        slope = 2 * math.tan(math.radians(self.gears[0].pressure_angle))
        return SLACK * self.scale + slope * ROUNDED[self.unit]

    @property
    def least_play(self) -> float:
        """The least play that is wanted [unit]; 0 where none is named."""
        return self.pair.least_backlash or 0.0

    @property
    def most_play(self) -> float:
        """The most play that is wanted [unit]; what a teaching kit has where none is named."""
        small = min(MOST_OF_SMALL[self.gears[0].unit], SMALL_SHARE * self.scale)
        return self.pair.most_backlash or max(MOST_PLAY * self.scale, small, 2 * self.least_play)

    @property
    def wanted_play(self) -> float:
        """The play to aim at [unit]: usual, or in the middle of what is wanted."""
        usual = USUAL_PLAY * self.scale
        if self.least_play < usual < self.most_play:
            return usual
        return (self.least_play + self.most_play) / 2

    @cached_property
    def wanted_distance(self) -> float | None:
        """The spacing to advise [unit], as a workshop writes it: that which the teeth call for, where they
        are thinned for play, and else the one that gives it; None where none does.
        """
        if self.natural is None:
            return None
        slack = SLACK * self.scale
        play = self.natural_play + self.thinner.value
        if max(self.least_play, slack) <= play + slack and play > slack:
            # too much of it is a matter of the teeth
            return self._written(self.natural.centre_distance, min(play, self.wanted_play))
        distance = self.with_play(self.wanted_play)
        return None if distance is None else self._written(distance, self.wanted_play)

    def with_play(self, play: float) -> float | None:
        """The spacing at which they have some play [unit]; None where there is none."""
        if self.natural is None:
            return None
        distance = self.natural.centre_distance
        slope = self.sense * 2 * math.tan(math.radians(self.gears[0].pressure_angle))
        for _ in range(4 if not self.internal else 2):  # play is all but straight over the spacing
            mesh = self.at(distance)
            if mesh is None:
                return None
            distance += (play - mesh.backlash - self.thinner.value) / slope
        return distance

    def _written(self, distance: float, play: float) -> float:
        """As a workshop writes it [unit]; with more places where rounding would take a quarter of what lies
        between its play [unit] and the limits.
        """
        step, room = PLACES[self.unit], 0.25 * min(play - self.least_play, self.most_play - play)
        while step * math.tan(math.radians(self.gears[0].pressure_angle)) > room > 0:
            step /= 10
        return round(round(distance / step) * step, 8)

    @property
    def teeth_too_thin(self) -> bool:
        """Whether there is more play than wanted even where the teeth call for."""
        return (
            self.natural is not None
            and self.natural_play + self.thinner.value > self.most_play + SLACK * self.scale
        )


def _thinner(gear: Gear, reading: MeasuredTable) -> tuple[float, float]:
    """What a tooth is thinner than drawn, and what of that the instrument cannot see [unit]."""
    step = 0.01 * gear.scale
    thin = replace(gear, tooth_thinning=gear.tooth_thinning + step)

    def size(of: Gear) -> float:
        if reading.quantity == "span":
            return of.span(usual_count(gear, reading))
        return of.over_pins(reading.pin_diameter)

    slope = (size(gear) - size(thin)) / step
    return (size(gear) - reading.value) / slope, reading.reads_to / slope


class _Same:
    """A design as a key, by what it is and not by what it says: to compare all its tables would take long."""

    def __init__(self, design: Design):
        self.design = design

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.design is self.design

    def __hash__(self) -> int:
        return id(self.design)


def standings(design: Design) -> tuple[Standing, ...]:
    """How the gears of each mesh stand, in the order of the file."""
    return _standings(_Same(design))


@lru_cache(maxsize=4)
def _standings(key: _Same) -> tuple[Standing, ...]:
    return tuple(Standing(key.design, pair) for pair in key.design.mesh)
