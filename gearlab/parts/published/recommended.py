"""How much backlash published recommendations ask for, by size of tooth and centre distance."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from ..checks import within

if TYPE_CHECKING:
    from ..mesh import Mesh


@dataclass(frozen=True)
class Recommendation:
    """A published table of least backlash, in the form its rows follow.

    The printed rows are ``fixed + by_distance * centre distance + by_size * module``, rounded to ``step``.
    """

    name: str
    unit: str
    fixed: float
    by_distance: float
    by_size: float
    step: float
    rounding: str
    modules: tuple[float, float]
    distances: tuple[float, float]
    measured: str
    source: str

    def backlash(self, module: float, centre_distance: float) -> float:
        """Least backlash of the table for a pair.

        module: within ``modules`` [unit]; in inches 1 / diametral pitch.
        centre_distance: within ``distances`` [unit].
        Returns as printed, rounded to ``step`` [unit].
        ValueError if the pair lies outside the table; the message names its limits.

        >>> RECOMMENDED_BACKLASH["ISO/TR 10064-2"].backlash(2.5, 78.75)
        0.12
        """
        module = within("module", module, *self.modules, self.unit)
        centre_distance = within("centre_distance", centre_distance, *self.distances, self.unit)
        exact = (self.fixed + self.by_distance * centre_distance + self.by_size * module) / self.step
        exact = round(exact, 9)  # a half that floating point has missed by its last bits is a half
        rules: dict[str, Callable[[float], int]] = {
            "up": math.ceil,
            "half up": lambda number: math.floor(number + 0.5),
            "half to even": round,
        }
        steps = rules[self.rounding](exact)
        return round(steps * self.step, 6)


_AGMA = (
    "ANSI/AGMA 2002-B88, minimum backlash, as printed in R. L. Mott, Machine Elements in Mechanical Design,"
    " Table 8-5 (from memory)"
)

#: The recommendations by name. All are for gears and housings of iron or steel, made to usual tolerances and
#: not running fast; a plastic or a laser-cut pair needs more.
RECOMMENDED_BACKLASH: Mapping[str, Recommendation] = MappingProxyType(
    {
        table.name: table
        for table in (
            Recommendation(
                "ISO/TR 10064-2",
                "mm",
                0.04,
                0.001 / 3,
                0.02,
                0.01,
                "up",
                (1.5, 8.0),
                (50.0, 800.0),
                "along the line of action",
                "ISO/TR 10064-2:1996, recommended minimum backlash: 2/3 (0.06 + 0.0005 a + 0.03 m), rounded"
                " up to 0.01 mm (from memory)",
            ),
            Recommendation(
                "AGMA 2002, metric",
                "mm",
                0.06,
                0.0005,
                0.03,
                0.01,
                "half to even",
                (1.5, 8.0),
                (50.0, 800.0),
                "along the pitch circles",
                _AGMA,
            ),
            Recommendation(
                "AGMA 2002, inch",
                "in",
                0.002,
                0.0005,
                0.03,
                0.001,
                "half up",
                (1 / 18, 1 / 1.25),
                (2.0, 32.0),
                "along the pitch circles",
                _AGMA,
            ),
        )
    }
)


def recommended_backlash(pair: Mesh, by: str | None = None) -> float:
    """Least backlash that a published table recommends for a pair at its centre distance [mm or in].

    pair: the pair, of a size that the table covers.
    by: a name of ``RECOMMENDED_BACKLASH`` of the pair's own unit; left out, "ISO/TR 10064-2" for a module and
        "AGMA 2002, inch" for a diametral pitch.
    ValueError if there is no such table, it has another unit, or the pair lies outside it.

    >>> from gearlab.parts import Gear, Mesh
    >>> recommended_backlash(Mesh(Gear(18, module=2.5), Gear(45, module=2.5)))
    0.12
    >>> recommended_backlash(Mesh(Gear(18, diametral_pitch=10), Gear(45, diametral_pitch=10)))
    0.007
    """
    name = by or ("ISO/TR 10064-2" if pair.unit == "mm" else "AGMA 2002, inch")
    if name not in RECOMMENDED_BACKLASH:
        raise ValueError(
            f"by is {name!r}, which is no table of recommended backlash; there are:"
            f" {', '.join(RECOMMENDED_BACKLASH)}"
        )
    table = RECOMMENDED_BACKLASH[name]
    if table.unit != pair.unit:
        raise ValueError(
            f"the table {name!r} is in {table.unit} and the pair in {pair.unit}: choose one of "
            f"{', '.join(table.name for table in RECOMMENDED_BACKLASH.values() if table.unit == pair.unit)}"
        )
    return table.backlash(pair.driver.scale, pair.centre_distance)
