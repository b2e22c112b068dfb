"""A hub: its walls, the hole for its set screw, its room below the teeth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from gearlab.theory import system
from gearlab.theory.scope import Scope, scope_for

from .checks import takes_parts, whole, within
from .explained import ByTheory, Explained
from .gear import Gear
from .working import worked_out


@dataclass(frozen=True)
class Hub(Explained):
    """The hub of a gear, on one side.

    diameter, bore, projection: hub and bore, and how far the hub stands out beyond the face; 0 for no hub
        [unit].
    face_width: of the gear, above 0 [unit].
    keyway_depth, flat_depth: depth of the keyway in the hub, of the flat on the shaft; 0 for none [unit].
    unit: "mm" or "in".
    both_sides: true for a hub that stands out on both sides by the projection.
    ValueError if the bore leaves no wall, or (of a gear) if hub and gear are measured in two units.

    >>> hub = Hub(28, 10, 13, 14)
    >>> hub.wall, hub.drill_window, hub.overall_length
    (9.0, (9.0, 19.0), 27)
    >>> hub.room_below(Gear(18, module=2.5))
    5.375
    """

    diameter: float
    bore: float
    projection: float
    face_width: float
    keyway_depth: float = 0.0
    flat_depth: float = 0.0
    unit: str = "mm"
    both_sides: bool = False

    def __post_init__(self):
        if self.unit not in ("mm", "in"):
            raise ValueError(f"unit {self.unit!r} is unknown: give 'mm' or 'in'")
        for name in ("diameter", "bore", "face_width"):
            within(name, getattr(self, name), 0.0, math.inf, self.unit, above=True)
        for name in ("projection", "keyway_depth", "flat_depth"):
            within(name, getattr(self, name), 0.0, math.inf, self.unit)
        if self.bore >= self.diameter:
            raise ValueError(
                f"bore = {self.bore:g} {self.unit} leaves no wall in a hub of {self.diameter:g} {self.unit}:"
                " give a smaller bore or a wider hub"
            )

    @property
    def overall_length(self) -> float:
        """Face and hub together [unit]."""
        return self.face_width + self.projection * (2 if self.both_sides else 1)

    @cached_property
    def _scope(self) -> Scope:
        return scope_for("hub", self.unit, (system(),))

    @property
    def givens(self) -> dict[str, float]:
        """Its independent numbers, by word [unit]."""
        return {
            "hub_diameter": self.diameter,
            "bore_diameter": self.bore,
            "keyway_depth": self.keyway_depth,
            "flat_depth": self.flat_depth,
        }

    wall = ByTheory("Wall between bore and hub surface [unit].", "hub_wall")
    wall_over_keyway = ByTheory("Wall left above the keyway [unit]; below 0 the keyway breaks through.")

    @property
    def drill_window(self) -> tuple[float, float]:
        """Depths from the hub's surface at which a hole opens into the bore, and at which it would touch the
        far wall [unit].
        """
        return self.numbers["least_drill_depth"], self.numbers["greatest_drill_depth"]

    longest_screw = ByTheory("Longest set screw that stays below the hub's surface [unit].", "screw_room")

    def room_below(self, gear: Gear) -> float:
        """Room between the hub and the gear's root circle, all round [unit].

        Below 0 the hub fills the tooth spaces.
        """
        return self._beside(gear, largest_hub=self.diameter)["hub_room"]

    def rim_over_keyway(self, gear: Gear) -> float:
        """Material between keyway (or bore) and root circle, beside the hub [unit]."""
        return self._beside(gear)["rim_over_keyway"]

    def _beside(self, gear: Gear, **extra: float) -> dict[str, float]:
        if gear.unit != self.unit:
            raise ValueError(
                f"the gear is measured in {gear.unit}, the hub in {self.unit}: give both in one unit"
            )
        # its own circles: shifted teeth have others than the plain gear of the same count
        circles = {
            "root_diameter": gear.root_diameter,
            "outside_diameter": gear.outside_diameter,
            "whole_depth": gear.whole_depth,
        }
        return worked_out(scope_for("hub", self.unit, (gear.system,)), self.givens | circles | extra)

    @takes_parts
    def chuck_reach(self, gear: Gear, depth: float) -> float:
        """How far a drill must stand out of its chuck to clear the tips at a depth below the hub's surface
        [unit].
        """
        within("depth", depth, 0.0, math.inf, self.unit)
        return self._beside(gear, drill_depth=depth)["chuck_reach"]

    @takes_parts
    def hole_angle(self, gear: Gear, over: str = "tooth", number: int = 0) -> float:
        """Direction in which a hole in the hub is drilled so that it stands over the middle of a tooth or of
        a space.

        Over a tooth the rim below is thickest; a second hole square to the first falls over a tooth again
        only where four divides the count.

        gear: the gear that carries the hub; its tooth 0 stands at 0.
        over: "tooth", or "space" for the one after that tooth.
        number: which tooth, counter-clockwise from 0 [-].
        Returns counter-clockwise from tooth 0, 0 to below 360 [deg].

        >>> hub, pinion = Hub(28, 10, 13, 14), Gear(18, module=2.5)
        >>> hub.hole_angle(pinion), hub.hole_angle(pinion, "space"), hub.hole_angle(pinion, "tooth", 5)
        (0.0, 10.0, 100.0)
        """
        if over not in ("tooth", "space"):
            raise ValueError(f"over {over!r} is unknown: give 'tooth' or 'space'")
        whole("number", number, 0, gear.teeth - 1)
        return (number + (0.5 if over == "space" else 0.0)) * gear.numbers["pitch_angle"]
