"""Published figures of tooth strength.

Form factors, stresses that materials are said to bear, speed constants.

Everything worked out with them is an estimate for teaching: the plain beam formula knows no stress
concentration, load sharing, wear, heat, moisture, creep or layers of a print.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from html import escape

from gearlab.theory.units import convert, usual_unit

from ..checks import within

#: What stands beside every strength number.
ESTIMATE = "estimate for teaching"
#: What the estimate leaves out, in one sentence.
LIMITS = (
    "The plain beam formula leaves out stress concentration, load sharing, wear, misalignment, heat,"
    " moisture, creep and the layers of a print; a real drive is rated by the current standard and a"
    " qualified person."
)

# Teeth, then the form factor [-] at each of the pressure angles in the head.
_TABLES: dict[str, tuple[tuple[float, ...], str, dict[float, tuple[float, ...]]]] = {
    "textbook": (
        (20.0,),
        "Budynas & Nisbett, Shigley's Mechanical Engineering Design, table 14-2 (from memory)",
        {
            12: (0.245,),
            13: (0.261,),
            14: (0.277,),
            15: (0.290,),
            16: (0.296,),
            17: (0.303,),
            18: (0.309,),
            19: (0.314,),
            20: (0.322,),
            21: (0.328,),
            22: (0.331,),
            24: (0.337,),
            26: (0.346,),
            28: (0.353,),
            30: (0.359,),
            34: (0.371,),
            38: (0.384,),
            43: (0.397,),
            50: (0.409,),
            60: (0.422,),
            75: (0.435,),
            100: (0.447,),
            150: (0.460,),
            300: (0.472,),
            400: (0.480,),
            math.inf: (0.485,),
        },
    ),
    "maker": (
        (14.5, 20.0),
        "engineering information of a maker of gears, table of form factors (from memory)",
        {
            10: (0.176, 0.201),
            11: (0.192, 0.226),
            12: (0.210, 0.245),
            13: (0.223, 0.264),
            14: (0.236, 0.276),
            15: (0.245, 0.289),
            16: (0.255, 0.295),
            17: (0.264, 0.302),
            18: (0.270, 0.308),
            19: (0.277, 0.314),
            20: (0.283, 0.320),
            22: (0.292, 0.330),
            24: (0.302, 0.337),
            26: (0.308, 0.344),
            28: (0.314, 0.352),
            30: (0.318, 0.358),
            34: (0.325, 0.370),
            38: (0.332, 0.383),
            45: (0.340, 0.399),
            50: (0.346, 0.408),
            60: (0.355, 0.421),
            75: (0.361, 0.433),
            100: (0.368, 0.446),
            150: (0.375, 0.458),
            300: (0.382, 0.471),
            math.inf: (0.390, 0.484),
        },
    ),
}
#: Static stress that a maker's engineering information calls safe, by material [psi] (seen).
STATIC_STRESS = {
    "plastic": 5000.0,
    "bronze": 10000.0,
    "cast iron": 12000.0,
    "0.20 C untreated": 20000.0,
    "0.20 C case-hardened": 25000.0,
    "0.40 C untreated": 25000.0,
    "0.40 C heat-treated": 30000.0,
    "0.40 C alloy heat-treated": 40000.0,
}
# C. G. Barth's constants, as in Shigley's Mechanical Engineering Design, section 14-2 [ft/min].
_SPEED_CONSTANTS = {"cast": 600.0, "cut": 1200.0}


def form_factor(teeth: float, pressure_angle: float = 20.0, table: str = "textbook") -> float:
    """The form factor of a full-depth tooth with the load at its tip, from a published table.

    Between two rows the factor is taken in proportion to 1/teeth, on which it nearly lies on a line.

    teeth: number of teeth [-], from 12 (in the maker's table 10) up; ``math.inf`` for a rack.
    pressure_angle: 20, or 14.5 in the maker's table [deg].
    table: "textbook" or "maker".
    Returns Y of the plain beam formula [-]; an estimate for teaching.
    ValueError for what the table does not hold.

    >>> form_factor(18), form_factor(18, 14.5, "maker"), round(form_factor(45), 4)
    (0.309, 0.27, 0.4008)
    """
    if table not in _TABLES:
        raise ValueError(f"table {table!r} of form factors is unknown: choose one of {', '.join(_TABLES)}")
    angles, _, rows = _TABLES[table]
    pressure_angle = within("pressure_angle", pressure_angle, -math.inf, math.inf, "deg")
    # infinite: a rack
    teeth = (
        math.inf
        if isinstance(teeth, float) and teeth == math.inf
        else within("teeth", teeth, 0.0, math.inf, "")
    )
    if pressure_angle not in angles:
        raise ValueError(
            f"pressure_angle = {pressure_angle:g} deg is not in the {table} table of form factors: it holds"
            f" {' and '.join(f'{angle:g}' for angle in angles)} deg; take another table, or measure"
            " the cut tooth (form factor 'measured')"
        )
    counts, column = sorted(rows), angles.index(pressure_angle)
    if not counts[0] <= teeth <= counts[-1]:
        raise ValueError(
            f"teeth = {teeth:g} is not in the {table} table of form factors: it holds {counts[0]} teeth and"
            " more; measure the cut tooth (form factor 'measured')"
        )
    below = max(count for count in counts if count <= teeth)
    if below == teeth:
        return rows[below][column]
    above = min(count for count in counts if count > teeth)
    share = (1 / below - 1 / teeth) / (1 / below - 1 / above)
    return rows[below][column] + share * (rows[above][column] - rows[below][column])


def static_stress(material: str, unit: str = "MPa") -> float:
    """The static stress that a maker's table calls safe [MPa or psi]; an estimate for teaching.

    material: one of ``STATIC_STRESS``.
    unit: "MPa" or "psi".
    ValueError for an unknown material; the known ones are listed.

    >>> static_stress("bronze", "psi"), round(static_stress("bronze"), 1)
    (10000.0, 68.9)
    """
    if material not in STATIC_STRESS:
        raise ValueError(
            f"material {material!r} is not in the table of static stresses: it holds"
            f" {', '.join(STATIC_STRESS)}; or give the stress as a number"
        )
    return convert(STATIC_STRESS[material], "psi", unit)


def speed_constant(teeth_made: str | float, length_unit: str) -> float:
    """The constant of the speed factor [m/s or ft/min], by how the teeth were made.

    teeth_made: "cast" (crude teeth) or "cut" [-], or a constant of your own [m/s, or ft/min for inches],
        above 0.
    length_unit: "mm" or "in".

    >>> round(speed_constant("cut", "in"), 9)
    1200.0
    """
    shown = usual_unit("linear speed", length_unit)
    if isinstance(teeth_made, str):
        if teeth_made not in _SPEED_CONSTANTS:
            raise ValueError(
                f"teeth_made = {teeth_made!r} is unknown: choose 'cast' or 'cut', or give a constant in"
                f" {shown}"
            )
        return convert(_SPEED_CONSTANTS[teeth_made], "ft/min", shown)
    return within("teeth_made", teeth_made, 0.0, 1e6, shown, above=True)


@dataclass(frozen=True)
class Bending:
    """The stress at the foot of a tooth by the plain beam formula: an estimate for teaching.

    stress: bending stress [MPa or psi].
    form_factor: the form factor it was worked out with [-].
    measured: true if the form factor was measured on the cut tooth.
    speed_factor: what the stress is raised by for speed [-]; 1 if none was asked for.
    allowable: what the material is taken to bear [MPa or psi].
    unit: "MPa" or "psi".
    """

    stress: float
    form_factor: float
    measured: bool
    speed_factor: float
    allowable: float | None
    unit: str
    label = ESTIMATE
    limits = LIMITS

    @property
    def utilisation(self) -> float | None:
        """Stress over what the material is taken to bear [-].

        Above 1 it is too much; None if that is not given.
        """
        return None if self.allowable is None else self.stress / self.allowable

    def __str__(self) -> str:
        how = "measured on the cut tooth" if self.measured else "from a table"
        speed = f", speed factor {self.speed_factor:.4g}" if self.speed_factor != 1 else ""
        share = (
            ""
            if self.allowable is None
            else f"; {self.utilisation:.3g} of the {self.allowable:g} {self.unit} taken for the material"
        )
        return (
            f"bending stress {self.stress:.4g} {self.unit} (form factor {self.form_factor:.3f}"
            f" {how}{speed}){share}; {self.label}"
        )

    def _repr_html_(self) -> str:
        return f"<p>{escape(str(self))}.</p><p><small>{escape(self.limits)}</small></p>"
