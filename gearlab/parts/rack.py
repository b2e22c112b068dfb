"""A rack: a straight row of teeth, its length and its outline."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from gearlab.shape.form import chord_tolerance
from gearlab.shape.rack import rack_tooth
from gearlab.theory import derive

from .checks import whole, within
from .explained import OfASystem


@dataclass(frozen=True, repr=False)
class Rack(OfASystem):
    """A straight rack of the standard form.

    teeth: number of teeth [-], 2 to 2000.
    diametral_pitch: of the pinion that fits [1/in], above 0; then every length is in inches. Exactly one of
        diametral pitch and module is given.
    module: of the pinion that fits [mm], above 0; then every length is in millimetres.
    pressure_angle: [deg], 10 to 32; usual are 14.5, 20 and 25.
    pitch_height: height of the pitch line above the back [in or mm], more than the dedendum; 5 modules if
        left out.
    tooth_system: "full depth", "stub" or "fine pitch".
    ValueError if a value is outside its range; the message says what would work.

    >>> rack = Rack(54, module=2.5)
    >>> rack.pitch_height, round(rack.circular_pitch, 4), round(rack.toothed_length, 2)
    (12.5, 7.854, 424.12)
    >>> Rack.for_travel(400, module=2.5).teeth
    54
    """

    teeth: int
    diametral_pitch: float | None = field(default=None, kw_only=True)
    module: float | None = field(default=None, kw_only=True)
    pressure_angle: float = field(default=20.0, kw_only=True)
    # None, five modules, is put in as a number when it is made
    pitch_height: float = field(default=None, kw_only=True)  # type: ignore[assignment]
    tooth_system: str = field(default="full depth", kw_only=True)

    def __post_init__(self):
        put = object.__setattr__
        put(self, "teeth", whole("teeth", self.teeth, 2, 2000))
        self._check_size()
        self._check_angle()
        height = (
            5 * self.scale
            if self.pitch_height is None
            else within("pitch_height", self.pitch_height, 0.0, math.inf, self.unit)
        )
        least = self.basic.dedendum * self.scale
        if height <= least:
            raise ValueError(
                f"pitch_height = {height:g} {self.unit} is out of range: the spaces are {least:g} {self.unit}"
                f" deep below the pitch line and would cut through the back; give more than {least:g}"
                f" {self.unit}, {5 * self.scale:g} {self.unit} for instance"
            )
        put(self, "pitch_height", height)

    @classmethod
    def for_travel(cls, travel: float, *, spare_teeth: int = 3, **size) -> Rack:
        """The shortest rack for a travel.

        travel: from stop to stop [in or mm], above 0.
        spare_teeth: further teeth that stay in mesh, half at either end [-], 1 to 20.
        **size: ``module`` [mm] or ``diametral_pitch`` [1/in], and what else a ``Rack`` takes.
        """
        two_teeth = cls(2, **size)
        givens = two_teeth.tooth_size | {
            "travel": within("travel", travel, 0.0, math.inf, two_teeth.unit, above=True),
            "spare_teeth": float(whole("spare_teeth", spare_teeth, 1, 20)),
        }
        return cls(round(derive("rack_teeth", givens, kind="rack and pinion").result), **size)

    def __repr__(self) -> str:
        angle = "" if self.pressure_angle == 20 else f", pressure_angle={self.pressure_angle:g}"
        return f"Rack({self.teeth}, {self._named_size()}{angle})"

    @property
    def circular_pitch(self) -> float:
        """From tooth to tooth along the pitch line [``unit``]."""
        return derive("circular_pitch", self.tooth_size).result

    @property
    def toothed_length(self) -> float:
        """Length of the toothed part [``unit``]."""
        return derive(
            "toothed_length", self.tooth_size | {"rack_teeth": float(self.teeth)}, kind="rack and pinion"
        ).result

    def outline(self, tolerance: float = 1e-4) -> np.ndarray:
        """The whole rack as a closed line, (n, 2) [``unit``].

        Teeth along +y, pitch line on y = 0, the middle of its first tooth at x = 0.

        ``tolerance`` is how far chords may leave the rounds at the roots [modules].

        >>> Rack(4, module=2.5).outline()[0].round(3).tolist()
        [-3.927, -3.125]
        """
        tooth, step = (
            rack_tooth(self.basic, 0.0, chord_tolerance(tolerance)) * self.scale,
            math.pi * self.scale,
        )
        edge = np.vstack(
            [tooth[:-1] + (k * step, 0.0) for k in range(self.teeth)]
            + [tooth[-1:] + ((self.teeth - 1) * step, 0.0)]
        )
        return np.vstack(
            [edge, [(edge[-1, 0], -self.pitch_height), (edge[0, 0], -self.pitch_height)], edge[:1]]
        )
