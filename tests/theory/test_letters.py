"""Letters that mean different quantities in different kinds: what the other names say decides.

Expected numbers: T = 9549 P[kW] / n (Shigley, section 13-14), F = 2 T / d, P = F v by hand; cone angles of a
bevel pair from tan(gamma) = N1 / N2 (Mott, section 8-9).
"""

import math

import pytest

from gearlab.theory import derive


@pytest.mark.parametrize(
    ("asked", "given", "expected", "notation", "unit"),
    [
        ("T_1", {"P_w": "2 kW", "n1": "1450 rpm"}, 9549.3 * 2 / 1450, "iso", "mm"),
        ("P_w", {"T_1": "20 N m", "n1": "1450 rpm"}, 1000 * 20 * 1450 / 9549.3, "iso", "mm"),
        ("T_1", {"P_w": "2 hp", "n1": "1725 rpm"}, 63025.4 * 2 / 1725, "inch", "in"),
        ("T_2", {"T_1": "20 N m", "N1": 20, "N2": 60, "eta": 0.97}, 20 * 3 * 0.97, "inch", "mm"),
        ("F_t", {"T_1": "20 N m", "z1": 20, "m": 3}, 20 / 0.030, "iso", None),
        ("W_t", {"T_1": "274 lbf in", "N1": 20, "P": 8}, 274 / 1.25, "inch", None),
        ("F_t", {"T": "20 N m", "d": "60 mm"}, 20 / 0.030, "iso", None),
        ("P_w", {"F_t": "400 N", "v": "4.5 m/s"}, 1800, "iso", "mm"),
        ("gamma_1", {"N1": 20, "N2": 40}, math.degrees(math.atan(0.5)), "inch", None),
        # what has one meaning, or is settled by another name, stays what it was
        ("gamma_1", {"N1": 20, "N2": 40, "P": 8, "j": "0 in"}, 0, "inch", None),
        ("T_2", {"N1": 20, "N2": 60, "N3": 20, "N4": 60, "T_1": "2 N m", "eta": 0.9}, 14.58, "inch", "mm"),
    ],
)
def test_a_letter_is_read_in_the_kind_that_the_other_names_speak_of(asked, given, expected, notation, unit):
    way = derive(asked, given, notation=notation, length_unit=unit)
    assert way.result == pytest.approx(expected, rel=1e-4)


def test_what_stands_in_the_way_is_said_of_the_kind_that_knows_every_letter():
    with pytest.raises(ValueError, match="contradict each other: power is given as 2000 W"):
        derive("F_t", {"P_w": "2 kW", "n1": "1450 rpm", "T_1": "50 N m", "z1": 20, "m": 3}, notation="iso")
    with pytest.raises(ValueError, match="of an idler train"):
        derive("power", ["first_torque", "third_teeth", "driver_speed"], kind="idler train")
