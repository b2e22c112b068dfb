"""Whether two gears can mesh at all, and at which distances they can stand."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from gearlab.theory.functions import inv_number
from gearlab.theory.units import MM_PER_INCH

from .checks import part

if TYPE_CHECKING:
    from .gear import Gear
    from .toothed import Toothed


def check_match(driver: Gear, driven: Toothed) -> None:
    """Refuse a ring that drives, teeth of two sizes, and a pinion as large as its ring."""
    if getattr(driver, "internal", False):
        raise ValueError(
            f"the driver {driver.name} is a ring: give the pinion as driver and the ring as driven; distance,"
            " contact and backlash are the same, and the pinion turns faster by the ratio"
        )
    part("driver", driver, "Gear")
    part("driven", driven, "Toothed")
    if (
        driver.unit != driven.unit
        or not math.isclose(driver.scale, driven.scale, rel_tol=1e-9)
        or driver.pressure_angle != driven.pressure_angle
    ):
        pitches = [
            gear.base_pitch * (MM_PER_INCH if gear.unit == "in" and driver.unit != driven.unit else 1)
            for gear in (driver, driven)
        ]
        unit = driver.unit if driver.unit == driven.unit else "mm"
        if math.isclose(*pitches, rel_tol=1e-9) and driver.pressure_angle == driven.pressure_angle:
            inch = driver if driver.unit == "in" else driven
            raise ValueError(
                "one of these gears is measured in inches, the other in millimetres: their teeth fit, since a"
                f" diametral pitch of {inch.diametral_pitch:g} is a module of {MM_PER_INCH * inch.scale:.6g}"
                " mm; give both the module, or both the diametral pitch"
            )
        raise ValueError(
            f"these gears cannot mesh: the base pitch of the driver is {pitches[0]:.6g} {unit}, that of the"
            f" driven gear {pitches[1]:.6g} {unit}; give both the same module or diametral pitch and the same"
            " pressure angle"
        )
    if driven.internal and driven.teeth <= driver.teeth:
        raise ValueError(
            f"a pinion of {driver.teeth} teeth does not fit into a ring of {driven.teeth}: its pitch circle"
            f" would not lie inside the ring's; give the ring more than {driver.teeth} teeth, and enough more"
            " that the tips do not foul (about 10 at full depth)"
        )


def check_distance(driver: Gear, driven: Toothed, distance: float, natural: float) -> None:
    """Refuse a centre distance [``unit``] at which no flanks can meet.

    The message gives the limits and the usual distance [``unit``].
    """
    unit, scale, first, second = driver.unit, driver.scale, driver.tooth, driven.tooth
    usual = f", usually {natural:.6g} {unit}" if math.isfinite(natural) else ""
    if driven.internal:
        bases, tips = second.base_radius - first.base_radius, second.tip_radius - first.tip_radius
        least, most = (
            max(bases, tips) * scale,
            min(second.root_radius - first.tip_radius, second.tip_radius - first.root_radius) * scale,
        )
        near = (
            "no line touches both base circles, so no line of action exists"
            if bases >= tips
            else "the tips no longer reach each other"
        )
        faults = near, "the tips run into the roots"
    else:
        least, most = (
            (driver.base_diameter + driven.base_diameter) / 2,
            (driver.outside_diameter + driven.numbers["outside_diameter"]) / 2,
        )
        faults = (
            "the base circles overlap, so no line of action exists",
            "the tips no longer reach each other",
        )
    if math.isnan(distance):
        raise ValueError(
            f"no centre distance is usual for profile shifts of {driver.profile_shift:g} and"
            f" {driven.profile_shift:g} modules: with {_why(driver, driven)}; give a centre_distance between"
            f" {least:.6g} and {most:.6g} {unit}, or other shifts"
        )
    if not least < distance < most:
        raise ValueError(
            f"centre_distance = {distance:.6g} {unit} is out of range: {faults[distance > least]}; give a"
            f" distance between {least:.6g} and {most:.6g} {unit}{usual}"
        )


def _why(driver: Gear, driven: Toothed) -> str:
    """Why two shifted gears nowhere run without backlash."""
    if driven.internal:
        return "these the teeth jam, or have play, at every distance at which their flanks reach each other"
    phi = math.radians(driver.pressure_angle)
    least = -(driver.teeth + driven.teeth) * inv_number(phi) / (2 * math.tan(phi))
    return (
        f"less than {math.ceil(least * 1000) / 1000:g} modules together the spaces stay wider than the teeth,"
        " even where the base circles touch"
    )
