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


@pytest.mark.parametrize(
    ("driver", "driven", "angle"), [(8, 60, 20), (12, 60, 20), (12, 17, 20), (20, 60, 14.5)]
)
def test_a_formula_that_does_not_hold_is_refused_without_a_tooth_size_too(driver, driven, angle):
    """Full-depth pinions that interfere with such wheels: fewer than 13 teeth run with no larger wheel at 20
    degrees, 13 with 16 at most; at 14.5 degrees fewer than 23 with none (Shigley, section 13-7)."""
    counts = {"driver_teeth": driver, "driven_teeth": driven, "pressure_angle": angle}
    with pytest.raises(ValueError, match="this formula holds while") as bare:
        derive("contact_ratio", counts)
    with pytest.raises(ValueError, match="this formula holds while") as sized:
        derive("contact_ratio", counts | {"module": 4})
    shares = [float(str(bare.value).split(" modules")[0].split()[-1]), 0.0]
    shares[1] = float(str(sized.value).split(" mm")[0].split()[-1]) / 4
    assert shares[0] == pytest.approx(shares[1], rel=1e-4)


def test_it_is_told_without_a_tooth_size_where_it_holds():
    """20 and 60 teeth (Shigley's limit at 20 degrees is 16.4 for this ratio): by hand, in modules."""
    cosine, sine = math.cos(math.radians(20)), math.sin(math.radians(20))
    path = sum(math.sqrt((z / 2 + 1) ** 2 - (z / 2 * cosine) ** 2) for z in (20, 60)) - 40 * sine
    told = derive("contact_ratio", {"driver_teeth": 20, "driven_teeth": 60, "pressure_angle": 20}).result
    assert told == pytest.approx(path / (math.pi * cosine))
