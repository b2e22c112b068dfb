"""The pressure angles that a question draws choose the row of the tooth system that its key is worked out
with.
"""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from gearlab.practice.answer import derivation


def table(*angles, unit=None):
    drawn = SimpleNamespace(
        one_of=[Decimal(str(angle)) for angle in angles],
        start=None,
        stop=None,
        step=None,
        derived=False,
        unit=unit,
    )
    return SimpleNamespace(
        notation="iso",
        tooth_system="full depth",
        of="gear",
        length_unit="mm",
        features=(),
        givens={"pressure_angle": drawn},
    )


GIVEN = ("teeth", "module", "pressure_angle")


@pytest.mark.parametrize(
    ("angles", "root"),
    [
        ((14.5,), 20 - 2 * 1.157),  # ANSI B6.1-1932 (withdrawn): dedendum 1.157 modules
        # ISO 53:1998, profile A: dedendum 1.25 modules; the rows of 20 and 25 degrees differ in the tip radius  # noqa: E501
        # alone
        ((20,), 17.5),
        ((20, 22.5, 25), 17.5),
    ],
)
def test_one_row_for_all_angles_drawn(angles, root):
    way = derivation(table(*angles), "root_diameter", GIVEN)
    assert way.value(teeth=20, module=1, pressure_angle=float(angles[0])) == pytest.approx(root)
    # what keys are compiled from
    assert float(
        way.raw.subs({one: {"teeth": 20, "module": 1}.get(one.name) for one in way.raw.free_symbols})
    ) == pytest.approx(root)


def test_angles_of_different_rows_are_refused():
    with pytest.raises(ValueError, match="choose different rows") as caught:
        derivation(table(14.5, 20), "root_diameter", GIVEN)
    assert "14.5, 20 deg" in str(caught.value)
    assert derivation(table(14.5, 20), "base_diameter", GIVEN).steps  # no proportion of the tooth is in it
