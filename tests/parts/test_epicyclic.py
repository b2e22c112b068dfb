"""Epicyclic trains: worked examples, the tabular method done here, random trains against an independent solve, torques and powers."""

import math
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import EpicyclicTrain, Gear, InternalGear, Mesh, Planetary

CRANK = EpicyclicTrain.stepped(("sun", 20), (40, 16), ("ring", 76), inside=(False, True), held="ring", planets=3, module=1.5)


# -- worked examples --------------------------------------------------------------------------------
# Bevan, The Theory of Machines, ch. 11: B 75 fixed, planets 18 and 17, E 71: 1.17 rpm at 500 of the arm (also among the reference rows)
def test_two_suns_and_stepped_planets():
    train = EpicyclicTrain.stepped(("B", 75), (18, 17), ("E", 71), held="B")
    assert train.speeds(carrier=500)["E"] == pytest.approx(1.174, abs=5e-4)


# J. Ferguson, 1764, "mechanical paradox": a fixed wheel of 20 teeth, a thick idler of 20, three wheels of 20, 19 and 21 side by side:
# the arm turns, the first of them keeps its direction, the second turns forwards, the third backwards (from memory)
@pytest.mark.parametrize("teeth, per_turn", [(100, 0.0), (99, -1 / 99), (101, 1 / 101)])
def test_fergusons_paradox(teeth, per_turn):
    train = EpicyclicTrain([("fixed", 100, "idler", 20), ("idler", 20, "wheel", teeth)], {"idler": "arm", "wheel": "arm"}, held="fixed")
    assert train.speeds(arm=1)["wheel"] == pytest.approx(per_turn, abs=1e-15)


# the reducer of two suns of 99 and 101 over 100 and 100: 10000 turns of the arm for one (common textbook puzzle; 1 - 9999/10000; from memory)
def test_ten_thousand_to_one():
    train = EpicyclicTrain.stepped(("fixed", 99), (100, 101), ("out", 100), held="fixed")
    assert train.ratio("carrier", "out") == pytest.approx(10_000, rel=1e-13)


# Humpage's gear, general form: ratio of input to output 1 + B/A over 1 - B D/(E F)... here by the tabular method done by hand below
def test_humpages_gear_by_the_table():
    a, b, planet, other, output = 12, 60, 40, 20, 35      # input, fixed, planets' large and small gear, output
    # carrier held, A turned once: planet -a/planet (seen on its pin, A on the left); B on the right: -a/planet * planet/b; output on the right: -a/planet * other/output
    held = {"A": 1.0, "B": -a / b, "out": -a / planet * other / output, "arm": 0.0}
    # add what brings B to rest
    table = {name: turn - held["B"] for name, turn in held.items()}
    train = EpicyclicTrain([("A", a, "planet", planet, "bevel left"), ("B", b, "planet", planet, "bevel right"), ("out", output, "planet", other, "bevel right")],
                           {"planet": "arm"}, held="B")
    found = train.speeds(A=table["A"])
    assert {name: found[name] for name in table} == pytest.approx(table, abs=1e-12)


# every text: a differential's cage turns with the mean of its sides; a wheel held, the other turns twice as fast (common practice)
def test_differential():
    car = EpicyclicTrain([("left", 16, "planet", 10, "bevel left"), ("right", 16, "planet", 10, "bevel right"), ("cage", 44, "pinion", 11, "bevel left")],
                         {"planet": "cage", "pinion": "frame"}, planets={"planet": 2}, length_unit="mm")
    assert car.speeds(left=40, right=20)["cage"] == 30
    assert abs(car.speeds(pinion=400, right=0)["left"]) == 200 and abs(car.speeds(pinion=400, right=0)["cage"]) == 100
    torques = car.torques(pinion=25, cage=0)        # 25 N m times 44/11 is shared equally, whatever the speeds
    assert abs(torques["left"]) == abs(torques["right"]) == pytest.approx(50)


def test_differential_shares_its_torque_equally():
    torques = EpicyclicTrain.differential(16, 10, length_unit="in").torques(cage=100)
    assert torques == pytest.approx({"left": -50, "right": -50, "cage": 100}) and torques.unit == "lbf*in"


# Ravigneaux's set (two suns, long and short planets, one ring): with the large sun held, ratio small sun to carrier is 1 + ... by the table done here
def test_double_planets_by_the_table():
    small, large, short, long, ring = 24, 30, 20, 23, 76
    train = EpicyclicTrain([("small", small, "short", short), ("short", short, "long", long), ("large", large, "long", long), ("ring", ring, "long", long, "internal")],
                           {"short": "carrier", "long": "carrier"}, module=1, planets=2)
    one = {"small": 1.0, "short": -small / short, "long": small / long, "large": -small / large, "ring": small / ring, "carrier": 0.0}
    for held in ("large", "ring", "carrier"):
        table = {name: turn - one[held] for name, turn in one.items()}
        assert train.speeds(**{held: 0, "small": table["small"]}) == pytest.approx(table, abs=1e-12)
    assert train.room.faults == ()


def test_coupled_sets():
    # two plain sets of 24, 18 and 60 in a row, the carrier of the first drives the sun of the second: 3.5 times 3.5
    row = EpicyclicTrain([("sun", 24, "p", 18), ("ring", 60, "p", 18, "internal"), ("between", 24, "q", 18), ("ring", 60, "q", 18, "internal")],
                         {"p": "between", "q": "out"}, held="ring", planets=3, module=2.5)
    assert row.ratio("sun", "out") == 12.25
    assert row.torques(sun=1.0, between=0.0)["out"] == pytest.approx(-12.25)
    assert not row.power_flow({"sun": 10}, {"sun": 1.0, "between": 0.0}).circles


def test_train_on_an_axis_of_its_own():
    # a plain set whose carrier is an axle beside the common axis, driven by a pair: 30 to 60, then 3.5 the other way about
    train = EpicyclicTrain([("crank", 30, "carrier", 60), ("sun", 24, "p", 18), ("ring", 60, "p", 18, "internal")],
                           {"carrier": "frame", "sun": "frame", "ring": "frame", "p": "carrier"}, held="ring")
    assert train.speeds(crank=10)["sun"] == pytest.approx(-10 / 2 * 3.5)


def test_planets_that_carry_planets():
    # an orbit on an orbit: by adding turns by hand, each set seen from its own carrier
    sun, planet, inner, moon = 40, 20, 30, 15
    train = EpicyclicTrain([("sun", sun, "planet", planet), ("hub", inner, "moon", moon), ("sun", 50, "hub", 10)],
                           {"planet": "arm", "hub": "arm", "moon": "planet"}, held="sun")
    arm = 12.0
    planets, hub = arm + arm * sun / planet, arm + arm * 50 / 10
    moons = planets - (hub - planets) * inner / moon
    found = train.speeds(arm=arm)
    assert (found["planet"], found["hub"], found["moon"]) == pytest.approx((planets, hub, moons))


def test_equals_a_plain_set():
    plain = Planetary(24, 18, module=2.5)
    same = EpicyclicTrain([("sun", 24, "planet", 18), ("ring", 60, "planet", 18, "internal")], {"planet": "carrier"}, held="ring", planets=3, module=2.5)
    assert dict(same.speeds(sun=35)) == pytest.approx(dict(plain.speeds(sun=35)))
    assert {name: abs(one) for name, one in same.torques(sun=1.5).items()} == pytest.approx(plain.torques(1.5))
    assert same.room.carrier_radius("planet") == plain.carrier_radius and same.room.planet_gap("planet") == pytest.approx(plain.planet_gap)
    assert same.room.spacing_number("planet") == 84


# -- random trains against an independent solve -----------------------------------------------------
def random_train(seed):
    """A train of one to three sets, each over one or two planets, whose members are partly shared; and its equations, written here."""
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
    """Least squares over all bodies: the meshes seen from their carriers, and the given speeds; None where they leave something open."""
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


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 10**6))
def test_random_trains_against_least_squares(seed):
    meshes, carried, equations = random_train(seed)
    bodies = sorted({name for one, _, two, _, _, carrier in equations for name in (one, two, carrier)})
    rows = np.array([[z1 * (name == one) - sign * z2 * (name == two) + (sign * z2 - z1) * (name == carrier) for name in bodies]
                     for one, z1, two, z2, sign, carrier in equations], dtype=float)
    values, motions = np.linalg.svd(rows)[1:]
    motions = motions[np.sum(values > 1e-9 * values[0]):]
    locked = {planet for planet, carrier in carried.items() if np.abs(motions @ ((np.array(bodies) == planet) * 1.0 - (np.array(bodies) == carrier))).max() < 1e-9}
    if locked:
        with pytest.raises(ValueError, match=f"locks: with these teeth ({'|'.join(locked)}) cannot turn"):
            EpicyclicTrain(meshes, carried, length_unit="mm")
        return
    train = EpicyclicTrain(meshes, carried, length_unit="mm")
    assert train.degrees_of_freedom == len(motions)
    bodies, dice = list(train.makeup.bodies), random.Random(seed)
    chosen = dice.sample(list(train.members), train.degrees_of_freedom) if train.degrees_of_freedom <= len(train.members) else []
    speeds = {name: round(dice.uniform(-50, 50), 2) for name in chosen}
    expected = solve(bodies, equations, speeds)
    if expected is None or expected is False:
        with pytest.raises(ValueError, match="open|cannot be chosen"):
            train.speeds(**speeds)
        return
    found = train.speeds(**speeds)
    assert list(found.values()) == pytest.approx(list(expected), abs=1e-6 * max(1.0, np.abs(expected).max()), rel=1e-6)
    # power: no set of torques that the train allows wins or loses any
    open_ = list(train.outside)
    torques = {}
    for name in open_:
        try:
            result = train.torques(**torques)
            break
        except ValueError as error:
            assert "open" in str(error)
            trial = torques | {name: round(dice.uniform(-5, 5), 2)}
            try:
                train.torques(**trial)
                torques = trial
                result = train.torques(**torques)
                break
            except ValueError as second:
                if "open" in str(second):
                    torques = trial
    else:
        return
    balance = sum(torque * found[name] for name, torque in result.items())
    assert abs(balance) < 1e-6 * (1 + max(abs(torque * found[name]) for name, torque in result.items()))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6))
def test_the_way_shown_ends_at_the_speed(seed):
    meshes, carried, equations = random_train(seed)
    try:
        train = EpicyclicTrain(meshes, carried)
        dice = random.Random(seed)
        speeds = {name: round(dice.uniform(5, 50), 2) for name in dice.sample(list(train.members), min(train.degrees_of_freedom, len(train.members)))}
        found = train.speeds(**speeds)
    except ValueError:
        return
    asked = next(name for name in reversed(train.makeup.bodies) if name not in speeds)
    way = train.explain(asked, **speeds)
    assert way.result == found[asked] and way.text()
    for part in way.parts:
        assert part.derivation.result == pytest.approx(found[part.shaft], abs=1e-6 * max(1, max(map(abs, found.values()))), rel=1e-6)
    if way.parts:
        assert way.parts[-1].shaft == asked
    else:
        assert "solved together" in way.text()


# -- equal spacing ----------------------------------------------------------------------------------
def phases_fit(meshes, carried, count):
    """Brute force: turn one planet to the next place, step its gears through every tooth, and see whether all meshes stand in phase."""
    (planet,) = carried
    ends = []
    for one, z1, two, z2, *kind in meshes:
        ends.append((z1, z2, -1 if kind and kind[0] in ("internal", "bevel right") else 1))
    central, teeth, sign = ends[0]
    for step in range(teeth):
        turn = (sign * central / count + step) / teeth          # of the planet on its pin, seen from the carrier, in turns
        if all(abs((other_teeth * turn - other_sign * other / count + 0.5) % 1 - 0.5) < 1e-7 for other, other_teeth, other_sign in ends[1:]):
            return True
    return False


@settings(max_examples=200, deadline=None)
@given(st.integers(12, 60), st.integers(8, 40), st.integers(8, 40), st.integers(20, 90), st.integers(2, 7), st.booleans())
def test_equal_spacing_of_stepped_planets(first, large, small, last, count, ring):
    kind = ("internal",) if ring and last != small else ()
    meshes = [("A", first, "p", large), ("B", last, "p", small, *kind)]
    train = EpicyclicTrain(meshes, {"p": "arm"}, must_fit=False)
    assert (train.room.spacing_number("p") % count == 0) == phases_fit(meshes, {"p": "arm"}, count)


def test_equal_spacing_of_a_plain_set_is_the_published_rule():
    # SDP/SI, Elements of Metric Gear Technology, section 13: (sun + ring) / planets whole
    for sun, planet in [(16, 16), (24, 18), (21, 30), (20, 31)]:
        train = EpicyclicTrain([("s", sun, "p", planet), ("r", sun + 2 * planet, "p", planet, "internal")], {"p": "c"})
        assert train.room.spacing_number("p") == 2 * sun + 2 * planet


def test_equal_spacing_of_bevel_and_of_double_planets():
    # side gears: the sum of their teeth over the number of planets whole; double planets: ring less sun instead of their sum
    # (common rules of epicyclic assembly, from memory)
    assert EpicyclicTrain.differential(16, 10).room.spacing_number("planet") == 32
    for sun, inner, outer, ring in [(24, 20, 23, 76), (30, 17, 19, 81), (18, 25, 25, 72)]:
        train = EpicyclicTrain([("s", sun, "p", inner), ("p", inner, "q", outer), ("r", ring, "q", outer, "internal")], {"p": "c", "q": "c"})
        assert train.room.spacing_number("p") == train.room.spacing_number("q") == ring - sun


def test_equal_spacing_by_theory():
    from gearlab import derive
    words = {"first_central_teeth": 20, "first_planet_teeth": 40, "last_planet_teeth": 16, "last_central_teeth": 76, "first_mesh_sign": -1, "last_mesh_sign": 1}
    assert derive("equal_spacing_number", words).result == CRANK.room.spacing_number("planet")
    assert derive("equal_spacing_remainder", words | {"planets": 8}).result == CRANK.room.spacing_number("planet") % 8 != 0


def test_lengths_are_those_of_the_pairs():
    size = {"module": 1.5}
    sun, ring = Mesh(Gear(20, **size), Gear(40, **size)), Mesh(Gear(16, **size), InternalGear(76, tip_shortening=0.5, **size))
    assert CRANK.room.carrier_radius("planet") == pytest.approx(sun.centre_distance) == pytest.approx(ring.centre_distance)
    # chord of the circle of pins less the larger gear's outside diameter, by hand
    assert CRANK.room.planet_gap("planet") == pytest.approx(45 * 3**0.5 - 1.5 * 42)


# -- power ------------------------------------------------------------------------------------------
def test_power_that_splits_does_not_go_round():
    # two plain sets, both suns on one shaft, carrier of the first is ring of the second: by hand, from the balance of each set.
    # ratios R1 = 60/24, R2 = 72/24; ring 1 held; input at the suns; output carrier 2
    train = EpicyclicTrain([("suns", 24, "p", 18), ("ring", 60, "p", 18, "internal"), ("suns", 24, "q", 24), ("middle", 72, "q", 24, "internal")],
                           {"p": "middle", "q": "out"}, held="ring", planets={"p": 3, "q": 3}, module=2)
    torques = train.torques(suns=1.0, middle=0.0)
    flow = train.power_flow({"suns": 60}, {"suns": 1.0, "middle": 0.0})
    middle = 60 / 3.5
    out = (24 * 60 + 72 * middle) / 96
    assert train.speeds(suns=60)["middle"] == pytest.approx(middle) and train.speeds(suns=60)["out"] == pytest.approx(out)
    assert torques["out"] * out == pytest.approx(-60 * 1.0)      # no losses
    # torque on the sun of the second set is a fourth of what leaves at carrier 2; on its ring three fourths, which comes over carrier 1
    sun2 = -torques["out"] / 4
    assert flow.couplings["planets q", "suns"] == pytest.approx(-sun2 * 60 * 2 * math.pi / 60)
    assert flow.couplings["planets q", "middle"] == pytest.approx(-3 * sun2 * middle * 2 * math.pi / 60)
    assert flow.circles == () and "none goes round" in flow.says


def test_a_circle_is_named_with_its_size():
    # a differential whose two inputs are tied by a pair of gears the wrong way: the pair feeds back what the set gives it.
    # ring 60 and sun 24 on one carrier; sun and ring tied over a counter shaft of 40/41 and 40/39
    train = EpicyclicTrain([("sun", 24, "p", 18), ("ring", 60, "p", 18, "internal"), ("sun", 40, "lay", 40), ("ring", 39, "lay", 41)],
                           {"p": "out", "lay": "frame"}, length_unit="mm")
    speeds = train.speeds(lay=-39)
    assert speeds["sun"] == pytest.approx(39) and speeds["ring"] == pytest.approx(41)
    flow = train.power_flow({"lay": -39}, {"out": -10.0, "sun": 0.0, "ring": 0.0})
    # both sun and ring drive: power is split, none circulates; by hand sun 24/84 and ring 60/84 of the torque
    given = {name: flow.couplings["planets p", name] for name in ("sun", "ring")}
    assert given["sun"] == pytest.approx(-10 * 24 / 84 * 39 * 2 * math.pi / 60) and not flow.circles
    # with an idler in one branch sun and ring turn opposite ways and nearly cancel: 24 * 60 against 60 * 23
    tied = EpicyclicTrain([("sun", 24, "p", 18), ("ring", 60, "p", 18, "internal"), ("sun", 20, "lay", 20), ("ring", 46, "idler", 20), ("idler", 20, "lay", 20)],
                          {"p": "out", "lay": "frame", "idler": "frame"}, length_unit="mm")
    still = tied.speeds(lay=-46)
    assert still["sun"] == pytest.approx(46) and still["ring"] == pytest.approx(-20)
    out = (24 * 46 - 60 * 20) / 84
    assert still["out"] == pytest.approx(out)
    flow = tied.power_flow({"lay": -46}, {"out": -10.0, "sun": 0.0, "ring": 0.0, "idler": 0.0})
    watts = 2 * math.pi / 60
    sun, ring = 10 * 24 / 84 * 46 * watts, -10 * 60 / 84 * 20 * watts       # what the branches carry into the set, by hand
    assert flow.couplings["planets p", "sun"] == pytest.approx(-sun) and flow.couplings["planets p", "ring"] == pytest.approx(-ring)
    through = abs(10 * out * watts)
    assert flow.through == pytest.approx(through)
    (names, power), = flow.circles
    assert power == pytest.approx(min(abs(sun), abs(ring))) and power > 5 * through
    assert {"sun", "ring", "planets p"} <= set(names) and "goes round in a circle" in flow.says


def test_power_of_the_teeth_seen_from_the_carrier():
    # two rings that differ by two: tooth power is force times pitch-line speed, by hand
    train = EpicyclicTrain.stepped(("A", 64), (28, 26), ("B", 62), inside=(True, True), held="A", module=1)
    flow = train.power_flow({"carrier": 100}, {"B": -20.0})
    speeds = train.speeds(carrier=100)
    assert abs(flow.meshes["B 62 : planet 26 (internal)"]) == pytest.approx(20 * (100 - speeds["B"]) * 2 * math.pi / 60)
    assert flow.members["carrier"] == pytest.approx(20 * speeds["B"] * 2 * math.pi / 60)
    assert flow.members["A"] == 0 and flow.unit == "W"
    # the teeth carry 23 times what goes through, and rub by that much
    times = (100 - speeds["B"]) / speeds["B"]
    assert f"carry {times:.2f} times" in flow.says


# Efficiency of a plain set from that of its meshes, eta_0 with the carrier held and R = ring / sun: sun to carrier (1 + eta_0 R) / (1 + R),
# carrier to sun (1 + R) / (1 + R / eta_0); every text on epicyclic losses (from memory), here from the balance of the torques
@pytest.mark.parametrize("eta", [1.0, 0.99, 0.95, 0.8])
def test_losses_of_a_plain_set(eta):
    train = EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring", length_unit="mm")
    ratio, both = 60 / 24, eta**2
    assert train.power_flow({"sun": 35}, {"sun": 1.5}, eta).efficiency == pytest.approx((1 + both * ratio) / (1 + ratio))
    assert train.power_flow({"sun": 35}, {"sun": -1.5}, eta).efficiency == pytest.approx((1 + ratio) / (1 + ratio / both))
    assert train.power_flow({"sun": -35}, {"carrier": 1.5}, eta).torques["carrier"] == 1.5
    held = EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="carrier", length_unit="mm")
    assert held.power_flow({"sun": 35}, {"sun": 1.5}, eta).efficiency == pytest.approx(both)       # an ordinary train


def test_losses_of_a_high_ratio_and_self_locking():
    train = EpicyclicTrain.stepped(("A", 64), (28, 26), ("B", 62), inside=(True, True), held="A", module=1)
    e, eta = 64 * 26 / (28 * 62), 0.99
    flow = train.power_flow({"carrier": 100}, {"B": -20.0}, eta)
    # B turns with 4.1 rpm; seen from the carrier A turns with -100, B with -95.9, and B pushes back with -20: B gives power to A
    first = e * 20 * eta**2
    carrier = 20 - first
    assert flow.torques["A"] == pytest.approx(first) and flow.torques["carrier"] == pytest.approx(carrier)
    assert flow.efficiency == pytest.approx(20 * (1 - e) * 100 / (carrier * 100))
    assert flow.lost == pytest.approx(sum(flow.members.values())) and flow.lost > 0
    # driven from B: what the carrier gets is 20 - e 20 / eta_0, below nothing where eta_0 < e: it must be helped, by itself it stands
    stuck = train.power_flow({"carrier": 100}, {"B": 20.0}, 0.97)
    assert stuck.torques["carrier"] == pytest.approx(-20 + e * 20 / 0.97**2) and stuck.torques["carrier"] > 0
    assert stuck.efficiency == pytest.approx(0) and "friction takes all that goes in at B and carrier" in stuck.says
    runs = train.power_flow({"carrier": 100}, {"B": 20.0}, 0.99)
    assert runs.efficiency == pytest.approx((1 - e / 0.99**2) / (1 - e))


def test_horsepower_of_an_inch_design():
    # Mott and others: hp = T n / 63025, T in lbf in
    flow = EpicyclicTrain.differential(16, 10, diametral_pitch=8).power_flow({"left": 100, "right": 50}, {"cage": 630.25})
    assert flow.members["cage"] == pytest.approx(630.25 * 75 / 63025, rel=1e-5) and flow.unit == "hp"


# -- what cannot be ---------------------------------------------------------------------------------
PLAIN = [("sun", 24, "planet", 18), ("ring", 60, "planet", 18, "internal")]


@pytest.mark.parametrize("value, says", [(float("nan"), "nan rpm"), (float("inf"), "inf rpm"), (True, "True is not a number"), ("35", "'35' is not a number"),
                                         (1e300, "1e[+]300 rpm is out of range"), (10**400, "out of range"), (None, "None is not a number"), ([1.0], "not a number"),
                                         (np.array([1.0, 2.0]), "not a number"), (1j, "not a number")])
def test_no_speed_that_is_no_number(value, says):
    train = EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring", length_unit="mm")
    with pytest.raises(ValueError, match=says):
        train.speeds(sun=value)
    with pytest.raises(ValueError, match=says.replace("rpm", r"N\*m")):
        train.torques(sun=value)
    with pytest.raises(ValueError, match=says):
        Planetary(24, 18, module=2.5).speeds(sun=value)


@pytest.mark.parametrize("make, says", [
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held=("ring", "sun")), "with ring and sun held nothing can turn.*hold one member less: ring alone"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="planet"), "'planet' is no member that could be held: hold one of sun, ring, carrier"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held=("ring", "ring")), "twice"),
    (lambda: EpicyclicTrain(PLAIN, {}), "both turn about the common axis.*name the carrier"),
    (lambda: EpicyclicTrain([("sun", 24, "planet", 18), ("sun", 30, "planet", 18)], {"planet": "carrier"}), "locks.*planet cannot turn on carrier"),
    (lambda: EpicyclicTrain([("a", 20, "p", 20), ("b", 20, "p", 20)], {"p": "arm"}, held=("a", "b")), "'b' adds nothing: it already stands still with a held"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring").speeds(), "speeds of nothing leave.*give 1 speed; those of sun, carrier or planet"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).speeds(sun=3), "leave ring, carrier and planet open: this train has 2 free motions, so give 2"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).speeds(sun=3, ring=4, carrier=5), "speed of carrier cannot be chosen: it follows from that of sun and ring"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring").speeds(ring=3), "ring is held"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).speeds(moon=3), "'moon' is no shaft"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).ratio("sun", "carrier"), "not fixed.*hold 1 more of ring"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring").ratio("sun", "ring"), "ring stands still"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).torques(sun=1), "unit of a torque is open"),
    (lambda: CRANK.torques(), "torques on nothing leave those on sun, ring and carrier open"),
    (lambda: CRANK.torques(sun=1, ring=1), "torque on ring cannot be chosen: it follows from that on sun"),
    (lambda: CRANK.torques(planet=1), "no torque acts from outside on 'planet'"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, planets=5), "do not all find their teeth: 5 does not divide 84; 1, 2, 3, 4, 6, 7, 12 would fit"),
    (lambda: EpicyclicTrain([("s", 18, "p", 30), ("r", 78, "p", 30, "internal")], {"p": "c"}, planets=6, module=2.5), "6 planets p collide.*room for 4"),
    (lambda: EpicyclicTrain([("s", 24, "p", 18), ("r", 61, "p", 18, "internal")], {"p": "c"}, module=2.5), "52.5 mm.*53.75 mm.*60 teeth r would do"),
    (lambda: EpicyclicTrain([("s", "24", "p", 18)], {"p": "c"}), "teeth of the s = '24' is out of range"),
    (lambda: EpicyclicTrain([("s", True, "p", 18)], {"p": "c"}), "teeth of the s = True"),
    (lambda: EpicyclicTrain([("s", float("nan"), "p", 18)], {"p": "c"}), "teeth of the s = nan"),
    (lambda: EpicyclicTrain([("s", 1e300, "p", 18)], {"p": "c"}), "teeth of the s = 1e"),
    (lambda: EpicyclicTrain([("s", 24, "p", 18, "inner")], {"p": "c"}), "of the kind 'inner': use one of external, internal, bevel left"),
    (lambda: EpicyclicTrain([("s", 24, "p")], {"p": "c"}), "is no mesh: a mesh is"),
    (lambda: EpicyclicTrain("sun 24", {"p": "c"}), "no list of meshes"),
    (lambda: EpicyclicTrain([], {"p": "c"}), "needs a mesh"),
    (lambda: EpicyclicTrain([("s", 24, "s", 18)], {"s": "c"}), "mesh with itself"),
    (lambda: EpicyclicTrain([("frame", 24, "p", 18)], {"p": "c"}), "the frame has no teeth"),
    (lambda: EpicyclicTrain([("s", 24, "p", 24, "internal")], {"p": "c"}), "a ring has more teeth"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier", "moon": "carrier"}), "moon is carried by carrier but meshes with nothing"),
    (lambda: EpicyclicTrain([("p", 20, "q", 20)], {"p": "q", "q": "p"}), "p is carried by q is carried by p"),
    (lambda: EpicyclicTrain([("s", 20, "p", 20), ("p", 20, "q", 30), ("t", 20, "q", 20)], {"p": "c", "q": "d"}), "cannot stay in mesh"),
    (lambda: EpicyclicTrain([("s", 20, "p", 20, "bevel left"), ("t", 20, "p", 20)], {"p": "c"}), "p has bevel teeth.*not external"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module="2.5"), "module = '2.5' is not a number"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=0), "above 0 mm"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=float("nan")), "module = nan mm"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=2, diametral_pitch=10), "not both"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=2, length_unit="in"), "contradicts the tooth size"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, length_unit="cm"), "use 'mm' or 'in'"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, planets=True), "planets = True"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, planets={"moon": 3}), "'moon' is counted, but it is no planet|planets of 'moon'"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).room.carrier_radius("planet"), "no tooth size"),
    (lambda: EpicyclicTrain(PLAIN, ["planet"]), "no table of planets"),
    (lambda: EpicyclicTrain([("a", 20, "lay", 40), ("b", 30, "lay", 31)], {"lay": "frame"}, module=2), "60 mm from the axis for a 20, but 61 mm for b 30.*29 teeth b would do"),
    (lambda: EpicyclicTrain([("s", 20, "p", 20), ("p", 20, "q", 20), ("r", 150, "q", 20, "internal")], {"p": "c", "q": "c"}, module=2), "40 mm apart.*between 90 and 170 mm"),
    # seen from the middle the partner stands 45.6 deg on, the next planet 44.4 deg further: 39 mm between their axes, tips of 44 mm
    (lambda: EpicyclicTrain([("s", 20, "p", 20), ("p", 20, "q", 20), ("r", 76, "q", 20, "internal")], {"p": "c", "q": "c"}, module=2, planets=4), "q would strike the next p.*39.*tips reach 44 mm"),
    (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held=3.5), "held = 3.5 names no member"),
    (lambda: EpicyclicTrain.differential(16, 10, names=("left", "right")), "names = .* give 3"),
    (lambda: EpicyclicTrain.stepped(24, (18, 18), ("ring", 60)), "first = 24 will not do: give 2"),
    (lambda: CRANK.power_flow({"sun": 3}, {"sun": 1}, 1.2), "mesh_efficiency = 1.2"),
    (lambda: CRANK.power_flow({"sun": 3}, {"sun": 1}, float("nan")), "mesh_efficiency = nan"),
    (lambda: CRANK.power_flow({"sun": 3}, [1], 0.9), "no table of torques"),
    (lambda: CRANK.power_flow(3, {"sun": 1}), "no table of speeds"),
    (lambda: CRANK.power_flow({"sun": 0}, {"sun": 1}).efficiency, "no power goes through"),
    (lambda: EpicyclicTrain([("a", 60, "p", 20, "bevel left"), ("b", 16, "p", 20, "bevel right")], {"p": "c"}, module=2), "no pin of p"),
    (lambda: EpicyclicTrain([("a", 20, "p", 20), ("b", 30, "p", 20)], {"p": "c"}, module=2), "40 mm.*50 mm.*20 teeth b would do"),
])
def test_what_cannot_be_is_refused_by_name(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def test_what_the_messages_advise_works():
    assert EpicyclicTrain([("s", 24, "p", 18), ("r", 60, "p", 18, "internal")], {"p": "c"}, module=2.5, planets=6).room.planet_gap("p") > 0
    assert EpicyclicTrain([("s", 18, "p", 30), ("r", 78, "p", 30, "internal")], {"p": "c"}, planets=4, module=2.5).room.fitting_counts("p") == (1, 2, 3, 4)
    assert EpicyclicTrain([("s", 24, "p", 18, "external", 2.0), ("r", 64, "p", 24, "internal", 2.1)], {"p": "c"}, module=2.0).room.faults == ()


def test_repr_says_what_it_is():
    assert repr(CRANK) == "EpicyclicTrain(sun 20 : planet 40, ring 76 : planet 16 (internal); planet on carrier, held: ring)"
