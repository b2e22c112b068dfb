"""Powers of epicyclic trains by hand: what goes in and out, what goes round, what the teeth lose."""

import math

import pytest

from gearlab import EpicyclicTrain

PLAIN = [("sun", 24, "planet", 18), ("ring", 60, "planet", 18, "internal")]


def test_power_that_splits_does_not_go_round():
    # two plain sets, both suns on one shaft, carrier of the first is ring of the second: by hand, from the
    # balance of each set.
    # ratios R1 = 60/24, R2 = 72/24; ring 1 held; input at the suns; output carrier 2
    train = EpicyclicTrain(
        [
            ("suns", 24, "p", 18),
            ("ring", 60, "p", 18, "internal"),
            ("suns", 24, "q", 24),
            ("middle", 72, "q", 24, "internal"),
        ],
        {"p": "middle", "q": "out"},
        held="ring",
        planets={"p": 3, "q": 3},
        module=2,
    )
    torques = train.torques(suns=1.0, middle=0.0)
    flow = train.power_flow({"suns": 60}, {"suns": 1.0, "middle": 0.0})
    middle = 60 / 3.5
    out = (24 * 60 + 72 * middle) / 96
    assert train.speeds(suns=60)["middle"] == pytest.approx(middle) and train.speeds(suns=60)[
        "out"
    ] == pytest.approx(out)
    assert torques["out"] * out == pytest.approx(-60 * 1.0)  # no losses
    # torque on the sun of the second set is a fourth of what leaves at carrier 2; on its ring three
    # fourths, which comes over carrier 1
    sun2 = -torques["out"] / 4
    assert flow.couplings["planets q", "suns"] == pytest.approx(-sun2 * 60 * 2 * math.pi / 60)
    assert flow.couplings["planets q", "middle"] == pytest.approx(-3 * sun2 * middle * 2 * math.pi / 60)
    assert flow.circles == () and "none goes round" in flow.says


def test_a_circle_is_named_with_its_size():
    # a differential whose two inputs are tied by a pair of gears the wrong way: the pair feeds back what
    # the set gives it.
    # ring 60 and sun 24 on one carrier; sun and ring tied over a counter shaft of 40/41 and 40/39
    train = EpicyclicTrain(
        [
            ("sun", 24, "p", 18),
            ("ring", 60, "p", 18, "internal"),
            ("sun", 40, "lay", 40),
            ("ring", 39, "lay", 41),
        ],
        {"p": "out", "lay": "frame"},
        length_unit="mm",
    )
    speeds = train.speeds(lay=-39)
    assert speeds["sun"] == pytest.approx(39) and speeds["ring"] == pytest.approx(41)
    flow = train.power_flow({"lay": -39}, {"out": -10.0, "sun": 0.0, "ring": 0.0})
    # both sun and ring drive: power is split, none circulates; by hand sun 24/84 and ring 60/84 of the torque
    given = {name: flow.couplings["planets p", name] for name in ("sun", "ring")}
    assert given["sun"] == pytest.approx(-10 * 24 / 84 * 39 * 2 * math.pi / 60) and not flow.circles
    # with an idler in one branch sun and ring turn opposite ways and nearly cancel: 24 * 60 against 60 * 23
    tied = EpicyclicTrain(
        [
            ("sun", 24, "p", 18),
            ("ring", 60, "p", 18, "internal"),
            ("sun", 20, "lay", 20),
            ("ring", 46, "idler", 20),
            ("idler", 20, "lay", 20),
        ],
        {"p": "out", "lay": "frame", "idler": "frame"},
        length_unit="mm",
    )
    still = tied.speeds(lay=-46)
    assert still["sun"] == pytest.approx(46) and still["ring"] == pytest.approx(-20)
    out = (24 * 46 - 60 * 20) / 84
    assert still["out"] == pytest.approx(out)
    flow = tied.power_flow({"lay": -46}, {"out": -10.0, "sun": 0.0, "ring": 0.0, "idler": 0.0})
    watts = 2 * math.pi / 60
    sun, ring = (
        10 * 24 / 84 * 46 * watts,
        -10 * 60 / 84 * 20 * watts,
    )  # what the branches carry into the set, by hand
    assert flow.couplings["planets p", "sun"] == pytest.approx(-sun) and flow.couplings[
        "planets p", "ring"
    ] == pytest.approx(-ring)
    through = abs(10 * out * watts)
    assert flow.through == pytest.approx(through)
    ((names, power),) = flow.circles
    assert power == pytest.approx(min(abs(sun), abs(ring))) and power > 5 * through
    assert {"sun", "ring", "planets p"} <= set(names) and "goes round in a circle" in flow.says


def test_power_of_the_teeth_seen_from_the_carrier():
    # two rings that differ by two: tooth power is force times pitch-line speed, by hand
    train = EpicyclicTrain.stepped(("A", 64), (28, 26), ("B", 62), inside=(True, True), held="A", module=1)
    flow = train.power_flow({"carrier": 100}, {"B": -20.0})
    speeds = train.speeds(carrier=100)
    assert abs(flow.meshes["B 62 : planet 26 (internal)"]) == pytest.approx(
        20 * (100 - speeds["B"]) * 2 * math.pi / 60
    )
    assert flow.members["carrier"] == pytest.approx(20 * speeds["B"] * 2 * math.pi / 60)
    assert flow.members["A"] == 0 and flow.unit == "W"
    # the teeth carry 23 times what goes through, and rub by that much
    times = (100 - speeds["B"]) / speeds["B"]
    assert f"carry {times:.2f} times" in flow.says


# Efficiency of a plain set from that of its meshes, eta_0 with the carrier held and R = ring / sun: sun to
# carrier (1 + eta_0 R) / (1 + R),
# carrier to sun (1 + R) / (1 + R / eta_0); every text on epicyclic losses (from memory), here from the
# balance of the torques
@pytest.mark.parametrize("eta", [1.0, 0.99, 0.95, 0.8])
def test_losses_of_a_plain_set(eta):
    train = EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring", length_unit="mm")
    ratio, both = 60 / 24, eta**2
    assert train.power_flow({"sun": 35}, {"sun": 1.5}, eta).efficiency == pytest.approx(
        (1 + both * ratio) / (1 + ratio)
    )
    assert train.power_flow({"sun": 35}, {"sun": -1.5}, eta).efficiency == pytest.approx(
        (1 + ratio) / (1 + ratio / both)
    )
    assert train.power_flow({"sun": -35}, {"carrier": 1.5}, eta).torques["carrier"] == 1.5
    held = EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="carrier", length_unit="mm")
    assert held.power_flow({"sun": 35}, {"sun": 1.5}, eta).efficiency == pytest.approx(
        both
    )  # an ordinary train


def test_losses_of_a_high_ratio_and_self_locking():
    train = EpicyclicTrain.stepped(("A", 64), (28, 26), ("B", 62), inside=(True, True), held="A", module=1)
    e, eta = 64 * 26 / (28 * 62), 0.99
    flow = train.power_flow({"carrier": 100}, {"B": -20.0}, eta)
    # B turns with 4.1 rpm; seen from the carrier A turns with -100, B with -95.9, and B pushes back with
    # -20: B gives power to A
    first = e * 20 * eta**2
    carrier = 20 - first
    assert flow.torques["A"] == pytest.approx(first) and flow.torques["carrier"] == pytest.approx(carrier)
    assert flow.efficiency == pytest.approx(20 * (1 - e) * 100 / (carrier * 100))
    assert flow.lost == pytest.approx(sum(flow.members.values())) and flow.lost > 0
    # driven from B: what the carrier gets is 20 - e 20 / eta_0, below nothing where eta_0 < e: it must be
    # helped, by itself it stands
    stuck = train.power_flow({"carrier": 100}, {"B": 20.0}, 0.97)
    assert stuck.torques["carrier"] == pytest.approx(-20 + e * 20 / 0.97**2) and stuck.torques["carrier"] > 0
    assert (
        stuck.efficiency == pytest.approx(0)
        and "friction takes all that goes in at B and carrier" in stuck.says
    )
    runs = train.power_flow({"carrier": 100}, {"B": 20.0}, 0.99)
    assert runs.efficiency == pytest.approx((1 - e / 0.99**2) / (1 - e))


def test_horsepower_of_an_inch_design():
    # Mott and others: hp = T n / 63025, T in lbf in
    flow = EpicyclicTrain.differential(16, 10, diametral_pitch=8).power_flow(
        {"left": 100, "right": 50}, {"cage": 630.25}
    )
    assert flow.members["cage"] == pytest.approx(630.25 * 75 / 63025, rel=1e-5) and flow.unit == "hp"
