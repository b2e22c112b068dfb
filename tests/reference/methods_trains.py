"""How the published values of gear trains are worked out: by ``Train`` and by the theory of trains."""

import itertools

from methods import given

from gearlab import Gear, Train, derive
from gearlab.parts import working
from gearlab.theory import system
from gearlab.theory.scope import scope_for


def built(drivers, driven):
    """The train of a source's drivers and driven gears; a gear that is driven and drives on is an idler."""
    middle = [one if one == two else (one, two) for one, two in zip(driven, drivers[1:], strict=False)]
    return Train.of(drivers[0], *middle, driven[-1], module=2.0)


def by_theory(plain, output):
    """The same number from the theory of trains, which is told of two stages; None for other trains."""
    drivers, driven = plain["drivers"], plain["driven"]
    if len(drivers) != 2 or output == "T_out" and "T_in" not in plain:
        return None
    kind, teeth = (
        ("idler train", (*drivers, driven[1]))
        if driven[0] == drivers[1]
        else ("compound train", (drivers[0], driven[0], drivers[1], driven[1]))
    )
    sides = ("first", "second", "third", "fourth")[: len(teeth)]
    known = {f"{side}_teeth": float(count) for side, count in zip(sides, teeth, strict=True)} | {
        "mesh_efficiency": 1.0
    }
    known |= {
        word: float(plain[name])
        for word, name in (("first_speed", "n_in"), ("first_torque", "T_in"))
        if name in plain
    }
    return working.worked_out(scope_for(kind, "in", (system(),)), known)[
        {"ratio": "train_ratio", "T_out": "last_torque", "n_out": f"{sides[-1]}_speed"}[output]
    ]


def train(row):
    """By the part, and by theory where it tells of such a train.

    Of both, the number that is further from the printed one.
    """
    value, theory = part(row), by_theory(given(row), row["output"])
    signed = "sign" in given(row) or row["output"] != "n_out"
    found = [value] if theory is None else [value, theory if signed else abs(theory)]
    return max(found, key=lambda number: abs(number - row["expected"]["value"]))


def part(row):
    plain = given(row)
    made = built(plain["drivers"], plain["driven"])
    if row["output"] == "ratio":
        return made.ratio
    if row["output"] == "T_out":
        return made.torques(plain["T_in"])[-1]
    speed = made.speeds(plain["n_in"])[-1]
    return speed if "sign" in plain else abs(speed)  # a source that gives no sign gives the size


def _pinion(tooth_sum, ratio):
    """Pinion of a pair with so many teeth in all: at module 1 they stand half their sum apart."""
    return derive("driver_teeth", {"centre_distance": tooth_sum / 2, "module": 1.0, "ratio": ratio}).result


def reverted(row):
    """Two equal stages on one centre distance; each stage's module sets its sum of teeth."""
    sums, total = given(row, "sum1", "sum2"), given(row, "total_ratio")[0]
    ratio = derive("equal_stage_ratio", {"train_ratio": float(total)}).result
    a, c = (_pinion(tooth_sum, ratio) for tooth_sum in sums)
    return {"a": a, "b": sums[0] - a, "c": c, "d": sums[1] - c}[row["output"]]


def reverted_exact(row):
    """The first pinion, counting up, whose stage has the centre distance of a second stage in whole teeth."""
    one, two, least = given(row, "i1", "i2", "min_pinion")
    for first in itertools.count(least):
        gear1 = one * first
        second = _pinion(first + gear1, two)
        if abs(second - round(second)) < 1e-9 and second >= least:
            second = round(second)
            break
    made = Train(
        (
            Gear(first, module=1),
            (Gear(gear1, module=1), Gear(second, module=1)),
            Gear(two * second, module=1),
        ),
        (0.0, 180.0),
    )
    assert made.reverted and made.ratio == one * two
    return {"pinion1": first, "gear1": gear1, "pinion2": second, "gear2": two * second}[row["output"]]


def geometric_stages(row):
    total, pinion = given(row, "ratio", "pinion")
    ratio = derive("equal_stage_ratio", {"train_ratio": float(total)}).result
    gear = derive("driven_teeth", {"driver_teeth": float(pinion), "ratio": ratio}).result
    if row["output"] == "achieved":
        return Train.of(pinion, (round(gear), pinion), round(gear), module=1).ratio
    return {"stage": ratio, "gear": gear}[row["output"]]


def spacing(row):
    """Centre distances whose rows give an expression only.

    The teeth and pitch stand in the row's quantity.
    """
    size, teeth = {
        "R-10.88": ({"diametral_pitch": 4.4}, (234, 819)),
        "R-10.89": ({"circular_pitch": "30 mm"}, (96, 32)),
        "R-10.90": ({"circular_pitch": "25 mm"}, (38, 114)),
    }[row["id"]]
    return derive("centre_distance", size | {"driver_teeth": teeth[0], "driven_teeth": teeth[1]}).result


METHODS = {
    "train": train,
    "change_gears": train,
    "reverted": reverted,
    "reverted_exact": reverted_exact,
    "geometric_stages": geometric_stages,
    "train_spacing": spacing,
}
