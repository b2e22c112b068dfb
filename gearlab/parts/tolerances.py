"""How far the backlash of a pair may stray.

Errors of the holes, the teeth and the bores added up, and warmth.

What is stated here is geometry of a perfect pair with stated errors. Materials stray too: measure your own
sheet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from html import escape

from gearlab.theory import derive

from .checks import several, takes_parts, within
from .mesh import Mesh

#: Thermal expansion [1/K], from memory of common handbook tables: real sheets and filaments stray by a fifth
#: and more.
EXPANSION = {
    "acrylic": 70e-6,
    "acetal": 110e-6,
    "nylon": 90e-6,
    "printed polylactide": 68e-6,
    "aluminium": 23e-6,
    "brass": 19e-6,
    "steel": 12e-6,
    "birch plywood": 6e-6,
}


@dataclass(frozen=True)
class BacklashBudget:
    """Backlash of a pair and how far it may stray.

    nominal: backlash without any error [unit].
    contributions: what each error may change it by, to either side [unit].
    unit: "mm" or "in".
    """

    nominal: float
    contributions: tuple[tuple[str, float], ...]
    unit: str

    @property
    def worst_case(self) -> float:
        """All errors the same way [unit]."""
        return math.fsum(size for _, size in self.contributions)

    @property
    def likely(self) -> float:
        """Root sum square: what independent errors seldom exceed [unit]."""
        return math.sqrt(math.fsum(size * size for _, size in self.contributions))

    @property
    def least(self) -> float:
        """Least backlash at worst [unit]; below 0 the pair can jam."""
        return self.nominal - self.worst_case

    @property
    def greatest(self) -> float:
        """Greatest backlash at worst [unit]."""
        return self.nominal + self.worst_case

    @property
    def can_jam(self) -> bool:
        """Whether the worst case leaves no backlash."""
        return self.least < 0

    def _rows(self) -> list[tuple[str, str]]:
        rows = [("backlash without errors", f"{self.nominal:.4g} {self.unit}")]
        rows += [(name, f"± {size:.4g} {self.unit}") for name, size in self.contributions]
        return rows + [
            (
                "worst case",
                (
                    f"{self.least:.4g} to {self.greatest:.4g}"
                    f" {self.unit}{': it can jam' if self.can_jam else ''}"
                ),
            ),
            ("likely", f"{self.nominal - self.likely:.4g} to {self.nominal + self.likely:.4g} {self.unit}"),
        ]

    def __str__(self) -> str:
        width = max(len(name) for name, _ in self._rows())
        return "\n".join(f"{name.ljust(width)}  {value}" for name, value in self._rows())

    def _repr_html_(self) -> str:
        return (
            "<table>"
            + "".join(
                f"<tr><th scope=row>{escape(name)}</th><td>{escape(value)}</td></tr>"
                for name, value in self._rows()
            )
            + "</table>"
        )


@takes_parts
def backlash_budget(
    mesh: Mesh,
    *,
    distance: float = 0.0,
    thickness: tuple[float, float] = (0.0, 0.0),
    bore_offset: tuple[float, float] = (0.0, 0.0),
) -> BacklashBudget:
    """How far the backlash of a pair may stray.

    mesh: the pair at its nominal distance.
    distance: the centre distance may be off by so much, to either side [mesh.unit, in or mm].
    thickness: the tooth thickness of driver and driven gear may be off by so much [mesh.unit].
    bore_offset: each bore may lie so far off its gear's centre [mesh.unit].
    Returns on the operating pitch circles; each contribution is that of a small error.
    ValueError for an error that is negative, or larger than a quarter of the module: no small error then.

    >>> from gearlab import Gear
    >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5), centre_distance=78.95)
    >>> budget = backlash_budget(pair, distance=0.3)
    >>> round(budget.nominal, 3), round(budget.least, 3), budget.can_jam
    (0.147, -0.076, True)
    """
    for name, values in {"thickness": thickness, "bore_offset": bore_offset}.items():
        several(name, values, f"two numbers, of driver and driven gear [{mesh.unit}]")
        if len(values) != 2:
            raise ValueError(f"{name} holds {len(values)} numbers: give two, of driver and driven gear")
    most = mesh.driver.scale / 4
    for name, value in (
        ("distance", distance),
        *(("thickness", value) for value in thickness),
        *(("bore_offset", value) for value in bore_offset),
    ):
        within(name, value, 0.0, most, mesh.unit)
    # Backlash for each bit of distance. The play is an arc of circles that grow with the distance: so a
    # little more than twice the tangent.
    opening = 2 * math.tan(math.radians(mesh.operating_pressure_angle)) + mesh.backlash / mesh.centre_distance
    parts = [
        ("centre distance", opening * distance),
        ("tooth thickness of the driver", thickness[0]),
        ("tooth thickness of the driven gear", thickness[1]),
        ("bore of the driver", opening * bore_offset[0]),
        ("bore of the driven gear", opening * bore_offset[1]),
    ]
    return BacklashBudget(mesh.backlash, tuple((name, size) for name, size in parts if size), mesh.unit)


@takes_parts
def warmed(mesh: Mesh, warming: float, *, plate: float | str, gears: float | str = 0.0) -> Mesh:
    """The pair after warming: plate and gears grow, each by its own expansion.

    Teeth and distance grow alike where plate and gears are of one material: then the pair only gets larger.
    The Mesh given back has gears of their cold size and the distance that gives the same play.

    mesh: the cold pair.
    warming: warming, negative for cooling, -100 to 150 [K].
    plate, gears: thermal expansion, 0 to 300e-6 [1/K], or a material of ``EXPANSION``.

    >>> from gearlab import Gear
    >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    >>> warm = warmed(pair, 30.0, plate="acrylic")
    >>> round(warm.centre_distance - pair.centre_distance, 4), round(warm.backlash, 3)
    (0.1654, 0.122)
    """
    within("warming", warming, -100.0, 150.0, "K")
    growths = [1 + warming * _expansion(name, value) for name, value in (("plate", plate), ("gears", gears))]
    return Mesh(mesh.driver, mesh.driven, centre_distance=mesh.centre_distance * growths[0] / growths[1])


def _expansion(name: str, value: float | str) -> float:
    if isinstance(value, str):
        if value not in EXPANSION:
            raise ValueError(
                f"{name} = {value!r} is no known material: use one of {', '.join(EXPANSION)}, or give its"
                " expansion [1/K]"
            )
        return EXPANSION[value]
    if not 0 <= within(name, value, -math.inf, math.inf, "1/K") <= 300e-6:
        raise ValueError(
            f"{name} = {value!r} 1/K is out of range: give 0 to 300e-6 1/K, such as {EXPANSION['acrylic']:g}"
            " for acrylic"
        )
    return float(value)


@takes_parts
def distance_for_backlash(mesh: Mesh, backlash: float) -> float:
    """The centre distance at which full teeth have a wanted backlash [mesh.unit].

    mesh: the pair; its gears have neither profile shift nor thinning.
    backlash: wanted backlash on the operating pitch circles, 0 up to a module [mesh.unit, in or mm].
    ValueError for gears with shift or thinning (set their distance and look at ``Mesh.backlash``), or a
        backlash out of range.

    >>> from gearlab import Gear
    >>> pair = Mesh(Gear(18, module=2.5), Gear(45, module=2.5))
    >>> distance = distance_for_backlash(pair, 0.1)
    >>> round(distance, 4), round(Mesh(pair.driver, pair.driven, centre_distance=distance).backlash, 9)
    (78.8863, 0.1)
    """
    if mesh.driver.features | mesh.driven.features:
        raise ValueError(
            "the gears have profile shift, thinned or shortened teeth: give Mesh a centre distance and look"
            " at its backlash, or make the teeth thinner by the wanted backlash"
        )
    within("backlash", backlash, 0.0, mesh.driver.scale, mesh.unit)
    size = "module" if mesh.unit == "mm" else "diametral_pitch"
    givens = {
        "driver_teeth": mesh.driver.teeth,
        "driven_teeth": mesh.driven.teeth,
        size: getattr(mesh.driver, size),
        "pressure_angle": mesh.driver.pressure_angle,
        "backlash": backlash,
    }
    return float(
        derive(
            "centre_distance",
            list(givens),
            tooth_system=mesh.driver.system,
            length_unit=mesh.unit,
            features=("set distance",),
        ).value(**givens)
    )
