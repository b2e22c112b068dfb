"""Working back from measurements: how thick the teeth are, how far they are shifted, and which gear it is.

A caliper gives the count, the outside diameter and the span over two numbers of teeth. The difference of two
spans is the base pitch, whatever the shift; with it the sizes and pressure angles of the trade are few. Each
candidate gets the shift that its span asks for, and is then judged by what is left over.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gearlab.shape.tooth import MOST_TEETH
from gearlab.theory import derive, system
from gearlab.theory.sizes import COARSE_PITCHES, FINE_PITCHES, MODULES, MODULES_SECOND_CHOICE, STOCK_PITCHES
from gearlab.theory.systems import HIGHEST_ANGLE, LOWEST_ANGLE
from gearlab.theory.units import convert

from .checks import several, takes_parts, whole, within
from .choosing import Choices
from .gear import Gear

#: Pressure angles that are met with [deg]: the standard one, the older one, and a steep one.
PRESSURE_ANGLES = (20.0, 14.5, 25.0)
_SIZES = tuple(
    [("module", size) for size in sorted(MODULES + MODULES_SECOND_CHOICE) if size <= 25.0]
    + [("diametral_pitch", size) for size in sorted(COARSE_PITCHES + STOCK_PITCHES + FINE_PITCHES)]
)


@dataclass(frozen=True)
class Candidate:
    """A gear that the measurements may belong to.

    gear: the gear, with the profile shift that its span asks for.
    misfit: root mean square of what each measurement misses, in its uncertainties [-]; about 1 for a good
        fit.
    shift_from: where its profile shift comes from: "span", "outside diameter" or "taken as none".
    """

    gear: Gear
    misfit: float
    shift_from: str

    def row(self) -> dict[str, str]:
        """What a table shows of it."""
        gear = self.gear
        size = (
            f"module {gear.module:g} mm"
            if gear.module is not None
            else f"diametral pitch {gear.diametral_pitch:g}"
        )
        return {
            "size": size,
            "pressure angle": f"{gear.pressure_angle:g}°",
            "profile shift": f"{gear.profile_shift:+.3f}",
            "from": self.shift_from,
            "misfit": f"{self.misfit:.2g}",
        }


def which_gear(
    teeth: int,
    unit: str,
    *,
    outside_diameter: float | None = None,
    spans: Mapping[int, float] | None = None,
    uncertainty: float | None = None,
    pressure_angles: tuple[float, ...] = PRESSURE_ANGLES,
    tooth_system: str = "full depth",
    worst: float = 6.0,
    count: int = 8,
) -> Choices:
    """Which standard gears may the measurements belong to? Best first.

    teeth: number of teeth counted, 6 or more [-].
    unit: "mm" or "in": the unit of the measurements.
    outside_diameter: over the tips; for an odd count the true one, not a caliper's reading [unit].
    spans: span by the number of teeth spanned [unit]; two of them tell the base pitch.
    uncertainty: how far a measurement may be off; 0.03 mm or 0.0012 in if left out [unit].
    pressure_angles: pressure angles to try, 10 to 32 [deg].
    tooth_system: "full depth", "stub" or "fine pitch".
    worst: largest misfit that is still listed [-].
    count: how many at most [-].
    Returns nothing where nothing fits: the gear is then worn, thinned, of another tooth system, or misread.
    ValueError if there is too little to go by, or a measurement cannot be one.

    >>> best = which_gear(19, "mm", outside_diameter=52.5, spans={3: 19.12, 4: 26.50})[0]
    >>> best.gear.module, best.gear.pressure_angle
    (2.5, 20.0)
    """
    if spans is not None and not isinstance(spans, Mapping):
        raise ValueError(
            f"spans = {spans!r} is no mapping: give each span by its count of teeth [{unit}], as {{3: 19.12}}"
        )
    several("pressure_angles", pressure_angles, "the pressure angles to try [deg], as (20.0, 14.5)")
    spans = dict(spans or {})
    uncertainty = convert(0.03, "mm", unit) if uncertainty is None else uncertainty
    _check(teeth, outside_diameter, spans, uncertainty, unit)
    teeth, count = whole("teeth", teeth, 6, MOST_TEETH), whole("count", count, 1, 10**9)
    worst = within("worst", worst, 0.0, math.inf, "")
    pressure_angles = tuple(
        within("pressure_angles", angle, LOWEST_ANGLE, HIGHEST_ANGLE, "deg") for angle in pressure_angles
    )
    candidates = []
    for name, size in _SIZES:
        module = size if name == "module" else convert(1 / size, "in", "mm")
        if (
            outside_diameter is not None
            and not 0.75 < convert(outside_diameter, unit, "mm") / (module * (teeth + 2)) < 1.35
        ):
            continue  # no shift makes up for that
        for angle in pressure_angles:
            candidates += _candidate(
                teeth, name, size, angle, unit, outside_diameter, spans, uncertainty, tooth_system
            )
    return Choices(
        sorted(
            (candidate for candidate in candidates if candidate.misfit <= worst),
            key=lambda candidate: (round(candidate.misfit, 3), abs(candidate.gear.profile_shift)),
        )[:count]
    )


def _candidate(
    teeth: int,
    name: str,
    size: float,
    angle: float,
    unit: str,
    outside: float | None,
    spans: dict[int, float],
    uncertainty: float,
    tooth_system: str,
) -> list[Candidate]:
    own = "mm" if name == "module" else "in"
    off = convert(uncertainty, unit, own)
    read = {k: convert(span, unit, own) for k, span in spans.items()}
    over = None if outside is None else convert(outside, unit, own)
    try:
        plain = Gear(teeth, **{name: size}, pressure_angle=angle, tooth_system=tooth_system)
        base_pitch = plain.base_pitch
        counts = sorted(read)
        if len(counts) > 1:  # the base pitch first: it tells most, and costs nothing
            steps = counts[-1] - counts[0]
            if abs((read[counts[-1]] - read[counts[0]]) / steps - base_pitch) > 8 * off / steps:
                return []
        if read:
            middle = counts[len(counts) // 2]
            shift, source = (
                _shift(
                    {
                        "teeth": teeth,
                        name: size,
                        "pressure_angle": angle,
                        "span": read[middle],
                        "span_teeth": middle,
                    },
                    tooth_system,
                    own,
                ),
                "span",
            )
        elif over is not None and abs(over - plain.outside_diameter) > 3 * off:
            shift, source = (over - plain.outside_diameter) / 2 / plain.scale, "outside diameter"
        else:
            shift, source = 0.0, "taken as none"
        if not -0.8 <= shift <= 1.2:
            return []
        gear = Gear(
            teeth,
            **{name: size},
            pressure_angle=angle,
            tooth_system=tooth_system,
            profile_shift=round(shift, 4) + 0.0,
        )
        misses = [(read[k] - gear.span(k)) / off for k in counts]
        if over is not None:
            misses.append((over - gear.outside_diameter) / off)
    except ValueError:
        return []  # such a gear cannot be: pointed, or no row of the tooth system
    free = max(1, len(misses) - (source != "taken as none"))
    return [Candidate(gear, math.sqrt(math.fsum(miss * miss for miss in misses) / free), source)]


def _shift(givens: dict[str, float], tooth_system: str, unit: str) -> float:
    way = derive(
        "profile_shift",
        list(givens),
        tooth_system=system(tooth_system, givens["pressure_angle"]),
        kind="gear",
        length_unit=unit,
        features=("profile_shift",),
    )
    return float(way.value(**givens))


def _check(teeth: int, outside: float | None, spans: dict[int, float], uncertainty: float, unit: str) -> None:
    if unit not in ("mm", "in"):
        raise ValueError(f"unit {unit!r} is unknown: give 'mm' or 'in'")
    teeth = whole("teeth", teeth, 6, MOST_TEETH)
    if outside is None and not spans:
        raise ValueError(
            "there is nothing to go by: measure the outside diameter, or better the span over two numbers of"
            " teeth"
        )
    within("uncertainty", uncertainty, 0.0, math.inf, unit, above=True)
    for name, value in [
        *([("outside_diameter", outside)] if outside is not None else []),
        *((f"spans, over {k} teeth", span) for k, span in spans.items()),
    ]:
        within(name, value, 0.0, math.inf, unit, above=True)
    for k in spans:
        if not (isinstance(k, (int, np.integer)) and not isinstance(k, bool) and 2 <= k <= teeth // 2):
            raise ValueError(f"span over {k!r} teeth: jaws span from 2 up to {teeth // 2} of {teeth} teeth")
    ordered = [spans[k] for k in sorted(spans)]
    if any(more <= less for less, more in zip(ordered, ordered[1:])):
        raise ValueError(
            f"the spans {spans} do not grow with the number of teeth spanned: one of them is misread, or they"
            " are exchanged"
        )


@takes_parts
def thickness_from_span(gear: Gear, span: float, teeth: int) -> float:
    """Tooth thickness on the pitch circle of a gear whose span was measured [gear.unit].

    gear: what the gear should be; its own thinning and shift do not matter.
    span: measured span [gear.unit, in or mm].
    teeth: number of teeth spanned, 2 up to half of them [-].

    >>> gear = Gear(19, module=2.5)
    >>> round(thickness_from_span(gear, gear.span(3) - 0.18, 3) - gear.tooth_thickness, 4)
    -0.1916
    """
    return _back(
        gear,
        "tooth_thickness",
        "tooth_thinning",
        span=span,
        span_teeth=float(whole("teeth", teeth, 1, gear.teeth)),
    )


@takes_parts
def shift_from_span(gear: Gear, span: float, teeth: int) -> float:
    """Profile shift [modules] that a measured span calls for, without thinning.

    Parameters as for :func:`thickness_from_span`.

    >>> round(shift_from_span(Gear(19, module=2.5), Gear(19, module=2.5, profile_shift=0.3).span(3), 3), 9)
    0.3
    """
    return _back(
        gear,
        "profile_shift",
        "profile_shift",
        span=span,
        span_teeth=float(whole("teeth", teeth, 1, gear.teeth)),
    )


@takes_parts
def thickness_from_pins(gear: Gear, over_pins: float, pin_diameter: float) -> float:
    """Tooth thickness on the pitch circle of a gear measured over two pins [gear.unit].

    gear: what the gear should be.
    over_pins: measured size over two pins in opposite spaces [gear.unit, in or mm].
    pin_diameter: diameter of each pin [gear.unit].

    >>> gear = Gear(18, module=2.5)
    >>> round(thickness_from_pins(gear, gear.over_pins(4.5) - 0.1, 4.5) - gear.tooth_thickness, 3)
    -0.046
    """
    return _back(gear, "tooth_thickness", "tooth_thinning", over_pins=over_pins, pin_diameter=pin_diameter)


@takes_parts
def shift_from_pins(gear: Gear, over_pins: float, pin_diameter: float) -> float:
    """Profile shift [modules] that a size over pins calls for, without thinning.

    Parameters as for :func:`thickness_from_pins`.

    >>> round(
    ...     shift_from_pins(
    ...         Gear(18, module=2.5), Gear(18, module=2.5, profile_shift=0.2).over_pins(4.5), 4.5
    ...     ),
    ...     9,
    ... )
    0.2
    """
    return _back(gear, "profile_shift", "profile_shift", over_pins=over_pins, pin_diameter=pin_diameter)


def _back(gear: Gear, asked: str, feature: str, **measured: float) -> float:
    size = "module" if gear.module is not None else "diametral_pitch"
    givens = {
        "teeth": float(gear.teeth),
        size: getattr(gear, size),
        "pressure_angle": gear.pressure_angle,
    } | measured
    for word, value in measured.items():
        if word != "span_teeth":
            within(word, value, 0.0, math.inf, gear.unit, above=True)
    way = derive(
        asked, list(givens), tooth_system=gear.system, kind="gear", length_unit=gear.unit, features=(feature,)
    )
    length = float(way.value(**givens))
    if not math.isfinite(length):
        raise ValueError(
            f"no tooth of {gear.name} gives"
            f" {', '.join(f'{word} = {value:g}' for word, value in measured.items())}: check what was"
            " measured"
        )
    return length
