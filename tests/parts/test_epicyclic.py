"""Epicyclic trains: worked examples, the tabular method done here, random trains solved apart."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import EpicyclicTrain, Planetary

CRANK = EpicyclicTrain.stepped(
    ("sun", 20), (40, 16), ("ring", 76), inside=(False, True), held="ring", planets=3, module=1.5
)


# -- worked examples -----------------------------------------------------------------------------------
# Bevan, The Theory of Machines, ch. 11: B 75 fixed, planets 18 and 17, E 71: 1.17 rpm at 500 of the arm
# (also among the reference rows)
def test_two_suns_and_stepped_planets():
    train = EpicyclicTrain.stepped(("B", 75), (18, 17), ("E", 71), held="B")
    assert train.speeds(carrier=500)["E"] == pytest.approx(1.174, abs=5e-4)


# Ferguson's paradox as in R. L. Norton, Design of Machinery, chapter 9 (from memory): fixed sun of 100 over
# one
# idler of 20 into wheels of 99 and 101; the arm turns with 100 rpm, the wheels with -1.01 and 0.99 rpm
@pytest.mark.parametrize("teeth, speed", [(100, 0.0), (99, -1.01), (101, 0.99)])
def test_wheels_of_nearly_equal_teeth_turn_opposite_ways(teeth, speed):
    meshes = [("fixed", 100, "idler", 20), ("idler", 20, "wheel", teeth)]
    train = EpicyclicTrain(meshes, {"idler": "arm", "wheel": "arm"}, held="fixed")
    assert train.speeds(arm=100)["wheel"] == pytest.approx(speed, abs=0.005)


# the reducer of two suns of 99 and 101 over 100 and 100: 10000 turns of the arm for one (common textbook
# puzzle; 1 - 9999/10000; from memory)
def test_ten_thousand_to_one():
    train = EpicyclicTrain.stepped(("fixed", 99), (100, 101), ("out", 100), held="fixed")
    assert train.ratio("carrier", "out") == pytest.approx(10_000, rel=1e-13)


# three bevel gears on one axis over stepped planets, by the tabular method done by hand
def test_bevel_gears_and_stepped_planets_by_the_table():
    a, b, planet, other, output = 12, 60, 40, 20, 35  # input, fixed, planets' large and small gear, output
    # carrier held, A turned once: planet -a/planet (seen on its pin, A on the left); B on the right:
    # -a/planet * planet/b; output on the right: -a/planet * other/output
    held = {"A": 1.0, "B": -a / b, "out": -a / planet * other / output, "arm": 0.0}
    # add what brings B to rest
    table = {name: turn - held["B"] for name, turn in held.items()}
    train = EpicyclicTrain(
        [
            ("A", a, "planet", planet, "bevel left"),
            ("B", b, "planet", planet, "bevel right"),
            ("out", output, "planet", other, "bevel right"),
        ],
        {"planet": "arm"},
        held="B",
    )
    found = train.speeds(A=table["A"])
    assert {name: found[name] for name in table} == pytest.approx(table, abs=1e-12)


# every text: a differential's cage turns with the mean of its sides; a wheel held, the other turns twice as
# fast (common practice)
def test_differential():
    car = EpicyclicTrain(
        [
            ("left", 16, "planet", 10, "bevel left"),
            ("right", 16, "planet", 10, "bevel right"),
            ("cage", 44, "pinion", 11, "bevel left"),
        ],
        {"planet": "cage", "pinion": "frame"},
        planets={"planet": 2},
        length_unit="mm",
    )
    assert car.speeds(left=40, right=20)["cage"] == 30
    assert (
        abs(car.speeds(pinion=400, right=0)["left"]) == 200
        and abs(car.speeds(pinion=400, right=0)["cage"]) == 100
    )
    torques = car.torques(pinion=25, cage=0)  # 25 N m times 44/11 is shared equally, whatever the speeds
    assert abs(torques["left"]) == abs(torques["right"]) == pytest.approx(50)


def test_differential_shares_its_torque_equally():
    torques = EpicyclicTrain.differential(16, 10, length_unit="in").torques(cage=100)
    assert torques == pytest.approx({"left": -50, "right": -50, "cage": 100}) and torques.unit == "lbf*in"


# two suns, short and long planets, one ring (the set of many automatic gearboxes), by the tabular method
# done by hand
def test_double_planets_by_the_table():
    small, large, short, long, ring = 24, 30, 20, 23, 76
    train = EpicyclicTrain(
        [
            ("small", small, "short", short),
            ("short", short, "long", long),
            ("large", large, "long", long),
            ("ring", ring, "long", long, "internal"),
        ],
        {"short": "carrier", "long": "carrier"},
        module=1,
        planets=2,
    )
    one = {
        "small": 1.0,
        "short": -small / short,
        "long": small / long,
        "large": -small / large,
        "ring": small / ring,
        "carrier": 0.0,
    }
    for held in ("large", "ring", "carrier"):
        table = {name: turn - one[held] for name, turn in one.items()}
        assert train.speeds(**{held: 0, "small": table["small"]}) == pytest.approx(table, abs=1e-12)
    assert train.room.faults == ()


def test_coupled_sets():
    # two plain sets of 24, 18 and 60 in a row, the carrier of the first drives the sun of the second: 3.5
    # times 3.5
    row = EpicyclicTrain(
        [
            ("sun", 24, "p", 18),
            ("ring", 60, "p", 18, "internal"),
            ("between", 24, "q", 18),
            ("ring", 60, "q", 18, "internal"),
        ],
        {"p": "between", "q": "out"},
        held="ring",
        planets=3,
        module=2.5,
    )
    assert row.ratio("sun", "out") == 12.25
    assert row.torques(sun=1.0, between=0.0)["out"] == pytest.approx(-12.25)
    assert not row.power_flow({"sun": 10}, {"sun": 1.0, "between": 0.0}).circles


def test_train_on_an_axis_of_its_own():
    # a plain set whose carrier is an axle beside the common axis, driven by a pair: 30 to 60, then 3.5 the
    # other way about
    train = EpicyclicTrain(
        [("crank", 30, "carrier", 60), ("sun", 24, "p", 18), ("ring", 60, "p", 18, "internal")],
        {"carrier": "frame", "sun": "frame", "ring": "frame", "p": "carrier"},
        held="ring",
    )
    assert train.speeds(crank=10)["sun"] == pytest.approx(-10 / 2 * 3.5)


def test_planets_that_carry_planets():
    # an orbit on an orbit: by adding turns by hand, each set seen from its own carrier
    sun, planet, inner, moon = 40, 20, 30, 15
    train = EpicyclicTrain(
        [("sun", sun, "planet", planet), ("hub", inner, "moon", moon), ("sun", 50, "hub", 10)],
        {"planet": "arm", "hub": "arm", "moon": "planet"},
        held="sun",
    )
    arm = 12.0
    planets, hub = arm + arm * sun / planet, arm + arm * 50 / 10
    moons = planets - (hub - planets) * inner / moon
    found = train.speeds(arm=arm)
    assert (found["planet"], found["hub"], found["moon"]) == pytest.approx((planets, hub, moons))


def test_equals_a_plain_set():
    plain = Planetary(24, 18, module=2.5)
    same = EpicyclicTrain(
        [("sun", 24, "planet", 18), ("ring", 60, "planet", 18, "internal")],
        {"planet": "carrier"},
        held="ring",
        planets=3,
        module=2.5,
    )
    assert dict(same.speeds(sun=35)) == pytest.approx(dict(plain.speeds(sun=35)))
    assert {name: abs(one) for name, one in same.torques(sun=1.5).items()} == pytest.approx(
        plain.torques(1.5)
    )
    assert same.room.carrier_radius("planet") == plain.carrier_radius and same.room.planet_gap(
        "planet"
    ) == pytest.approx(plain.planet_gap)
    assert same.room.spacing_number("planet") == 84


# -- random trains against an independent solve --------------------------------------------------------
def random_train(seed):
    """A train of one to three sets that share members, and its equations, written here."""
    dice = random.Random(seed)
    names, meshes, carried, equations = ["a", "b", "c", "d", "e"], [], {}, []
    for number in range(dice.randint(1, 3)):
        carrier = dice.choice(names)
        ends = dice.sample([name for name in names if name != carrier], 2)
        chain = [f"p{number}", *([f"q{number}"] if dice.random() < 0.4 else [])]
        carried |= dict.fromkeys(chain, carrier)
        for one, two in zip([ends[0], *chain], [*chain, ends[1]]):
            teeth = dice.randint(12, 60), dice.randint(61, 120)
            kind = dice.choice(["external", "internal"])
            if one in chain and two in chain:
                kind = "external"
            pair = teeth if dice.random() < 0.5 else teeth[::-1]
            meshes.append((one, pair[0], two, pair[1], kind))
            equations.append((one, pair[0], two, pair[1], 1 if kind == "internal" else -1, carrier))
    return meshes, carried, equations


def solve(bodies, equations, fixed):
    """Least squares over all bodies; None where one is left open, False if they clash."""
    rows, right = [], []
    for one, z1, two, z2, sign, carrier in equations:
        row = np.zeros(len(bodies))
        row[bodies.index(one)] += z1
        row[bodies.index(two)] -= sign * z2
        row[bodies.index(carrier)] += sign * z2 - z1
        rows.append(row / max(z1, z2))
        right.append(0.0)
    for name, speed in fixed.items():
        rows.append(np.eye(len(bodies))[bodies.index(name)])
        right.append(speed)
    matrix = np.array(rows)
    if np.linalg.matrix_rank(matrix, tol=1e-9) < len(bodies):
        return None
    found, *_ = np.linalg.lstsq(matrix, np.array(right), rcond=None)
    return found if np.linalg.norm(matrix @ found - right) < 1e-9 * max(map(abs, right)) else False


@settings(max_examples=120, deadline=None)
@given(st.integers(0, 10**6))
def test_random_trains_against_least_squares(seed):
    meshes, carried, equations = random_train(seed)
    bodies = sorted({name for one, _, two, _, _, carrier in equations for name in (one, two, carrier)})
    rows = np.array(
        [
            [
                z1 * (name == one) - sign * z2 * (name == two) + (sign * z2 - z1) * (name == carrier)
                for name in bodies
            ]
            for one, z1, two, z2, sign, carrier in equations
        ],
        dtype=float,
    )
    values, motions = np.linalg.svd(rows)[1:]
    motions = motions[np.sum(values > 1e-9 * values[0]) :]
    locked = {
        planet
        for planet, carrier in carried.items()
        if np.abs(motions @ ((np.array(bodies) == planet) * 1.0 - (np.array(bodies) == carrier))).max() < 1e-9
    }
    if locked:
        with pytest.raises(ValueError, match=f"locks: with these teeth ({'|'.join(locked)}) cannot turn"):
            EpicyclicTrain(meshes, carried, length_unit="mm")
        return
    train = EpicyclicTrain(meshes, carried, length_unit="mm")
    assert train.degrees_of_freedom == len(motions)
    bodies, dice = list(train.makeup.bodies), random.Random(seed)
    chosen = (
        dice.sample(list(train.members), train.degrees_of_freedom)
        if train.degrees_of_freedom <= len(train.members)
        else []
    )
    speeds = {name: round(dice.uniform(-50, 50), 2) for name in chosen}
    expected = solve(bodies, equations, speeds)
    if expected is None or expected is False:
        with pytest.raises(ValueError, match="open|cannot be chosen"):
            train.speeds(**speeds)
        return
    found = train.speeds(**speeds)
    assert list(found.values()) == pytest.approx(
        list(expected), abs=1e-6 * max(1.0, np.abs(expected).max()), rel=1e-6
    )
    # torques: as many are free as members are more than motions; in no motion of the independent solve is
    # power won
    names = sorted({name for one, _, two, _, _, carrier in equations for name in (one, two, carrier)})
    loads: dict[str, float] = {}
    for name in train.outside:
        more = loads | {name: round(dice.uniform(1, 5), 2)}
        try:
            torques = train.torques(**more)
        except ValueError as error:
            loads = more if "open" in str(error) else loads
            continue
        for one in motions:
            powers = [torque * one[names.index(name)] for name, torque in torques.items()]
            assert abs(sum(powers)) < 1e-6 * max(1.0, *map(abs, powers))
        assert all(torques[name] == pytest.approx(load) for name, load in more.items())
        return
    raise AssertionError("no choice of torques settles the others")


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6))
def test_the_way_shown_ends_at_the_speed(seed):
    meshes, carried, equations = random_train(seed)
    try:
        train = EpicyclicTrain(meshes, carried)
        dice = random.Random(seed)
        speeds = {
            name: round(dice.uniform(5, 50), 2)
            for name in dice.sample(list(train.members), min(train.degrees_of_freedom, len(train.members)))
        }
        found = train.speeds(**speeds)
    except ValueError:
        return
    asked = next(name for name in reversed(train.makeup.bodies) if name not in speeds)
    way = train.explain(asked, **speeds)
    assert way.result == found[asked] and way.text()
    for part in way.parts:
        assert part.derivation.result == pytest.approx(
            found[part.shaft], abs=1e-6 * max(1, max(map(abs, found.values()))), rel=1e-6
        )
    if way.parts:
        assert way.parts[-1].shaft == asked
    else:
        assert "solved together" in way.text()
