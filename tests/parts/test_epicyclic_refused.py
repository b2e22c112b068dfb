"""What an epicyclic train refuses by name: no numbers, trains that lock, trains that cannot be built."""

import numpy as np
import pytest

from gearlab import EpicyclicTrain, Planetary

CRANK = EpicyclicTrain.stepped(
    ("sun", 20), (40, 16), ("ring", 76), inside=(False, True), held="ring", planets=3, module=1.5
)


PLAIN = [("sun", 24, "planet", 18), ("ring", 60, "planet", 18, "internal")]


@pytest.mark.parametrize(
    "value, says",
    [
        (float("nan"), "nan rpm"),
        (float("inf"), "inf rpm"),
        (True, "True is not a number"),
        ("35", "'35' is not a number"),
        (1e300, "1e[+]300 rpm is out of range"),
        (10**400, "out of range"),
        (None, "None is not a number"),
        ([1.0], "not a number"),
        (np.array([1.0, 2.0]), "not a number"),
        (1j, "not a number"),
    ],
)
def test_no_speed_that_is_no_number(value, says):
    train = EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring", length_unit="mm")
    with pytest.raises(ValueError, match=says):
        train.speeds(sun=value)
    with pytest.raises(ValueError, match=says.replace("rpm", r"N\*m")):
        train.torques(sun=value)
    with pytest.raises(ValueError, match=says):
        Planetary(24, 18, module=2.5).speeds(sun=value)


@pytest.mark.parametrize(
    "make, says",
    [
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held=("ring", "sun")),
            "with ring and sun held nothing can turn.*hold one member less: ring alone",
        ),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="planet"),
            "'planet' is no member that could be held: hold one of sun, ring, carrier",
        ),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held=("ring", "ring")), "twice"),
        (lambda: EpicyclicTrain(PLAIN, {}), "both turn about the common axis.*name the carrier"),
        (
            lambda: EpicyclicTrain(
                [("sun", 24, "planet", 18), ("sun", 30, "planet", 18)], {"planet": "carrier"}
            ),
            "locks.*planet cannot turn on carrier",
        ),
        (
            lambda: EpicyclicTrain([("a", 20, "p", 20), ("b", 20, "p", 20)], {"p": "arm"}, held=("a", "b")),
            "'b' adds nothing: it already stands still with a held",
        ),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring").speeds(),
            "speeds of nothing leave.*give 1 speed; those of sun, carrier or planet",
        ),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).speeds(sun=3),
            "leave ring, carrier and planet open: this train has 2 free motions, so give 2",
        ),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).speeds(sun=3, ring=4, carrier=5),
            "speed of carrier cannot be chosen: it follows from that of sun and ring",
        ),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring").speeds(ring=3), "ring is held"),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).speeds(moon=3), "'moon' is no shaft"),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).ratio("sun", "carrier"),
            "not fixed.*hold 1 more of ring",
        ),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held="ring").ratio("sun", "ring"),
            "ring stands still",
        ),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).torques(sun=1), "unit of a torque is open"),
        (lambda: CRANK.torques(), "torques on nothing leave those on sun, ring and carrier open"),
        (
            lambda: CRANK.torques(sun=1, ring=1),
            "torque on ring cannot be chosen: it follows from that on sun",
        ),
        (lambda: CRANK.torques(planet=1), "no torque acts from outside on 'planet'"),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, planets=5),
            "do not all find their teeth: 5 does not divide 84; 1, 2, 3, 4, 6, 7, 12 would fit",
        ),
        (
            lambda: EpicyclicTrain(
                [("s", 18, "p", 30), ("r", 78, "p", 30, "internal")], {"p": "c"}, planets=6, module=2.5
            ),
            "6 planets p collide.*room for 4",
        ),
        (
            lambda: EpicyclicTrain(
                [("s", 24, "p", 18), ("r", 61, "p", 18, "internal")], {"p": "c"}, module=2.5
            ),
            "52.5 mm.*53.75 mm.*60 teeth r would do",
        ),
        (lambda: EpicyclicTrain([("s", "24", "p", 18)], {"p": "c"}), "teeth of the s = '24' is out of range"),
        (lambda: EpicyclicTrain([("s", True, "p", 18)], {"p": "c"}), "teeth of the s = True"),
        (lambda: EpicyclicTrain([("s", float("nan"), "p", 18)], {"p": "c"}), "teeth of the s = nan"),
        (lambda: EpicyclicTrain([("s", 1e300, "p", 18)], {"p": "c"}), "teeth of the s = 1e"),
        (
            lambda: EpicyclicTrain([("s", 24, "p", 18, "inner")], {"p": "c"}),
            "of the kind 'inner': use one of external, internal, bevel left",
        ),
        (lambda: EpicyclicTrain([("s", 24, "p")], {"p": "c"}), "is no mesh: a mesh is"),
        (lambda: EpicyclicTrain("sun 24", {"p": "c"}), "no list of meshes"),
        (lambda: EpicyclicTrain([], {"p": "c"}), "needs a mesh"),
        (lambda: EpicyclicTrain([("s", 24, "s", 18)], {"s": "c"}), "mesh with itself"),
        (lambda: EpicyclicTrain([("frame", 24, "p", 18)], {"p": "c"}), "the frame has no teeth"),
        (lambda: EpicyclicTrain([("s", 24, "p", 24, "internal")], {"p": "c"}), "a ring has more teeth"),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier", "moon": "carrier"}),
            "moon is carried by carrier but meshes with nothing",
        ),
        (
            lambda: EpicyclicTrain([("p", 20, "q", 20)], {"p": "q", "q": "p"}),
            "p is carried by q is carried by p",
        ),
        (
            lambda: EpicyclicTrain(
                [("s", 20, "p", 20), ("p", 20, "q", 30), ("t", 20, "q", 20)], {"p": "c", "q": "d"}
            ),
            "cannot stay in mesh",
        ),
        (
            lambda: EpicyclicTrain([("s", 20, "p", 20, "bevel left"), ("t", 20, "p", 20)], {"p": "c"}),
            "p has bevel teeth.*not external",
        ),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module="2.5"),
            "module = '2.5' is not a number",
        ),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=0), "above 0 mm"),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=float("nan")), "module = nan mm"),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=2, diametral_pitch=10), "not both"),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, module=2, length_unit="in"),
            "contradicts the tooth size",
        ),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, length_unit="cm"), "use 'mm' or 'in'"),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, planets=True), "planets = True"),
        (
            lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, planets={"moon": 3}),
            "'moon' is counted, but it is no planet|planets of 'moon'",
        ),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}).room.carrier_radius("planet"), "no tooth size"),
        (lambda: EpicyclicTrain(PLAIN, ["planet"]), "no table of planets"),
        (
            lambda: EpicyclicTrain([("a", 20, "lay", 40), ("b", 30, "lay", 31)], {"lay": "frame"}, module=2),
            "60 mm from the axis for a 20, but 61 mm for b 30.*29 teeth b would do",
        ),
        (
            lambda: EpicyclicTrain(
                [("s", 20, "p", 20), ("p", 20, "q", 20), ("r", 150, "q", 20, "internal")],
                {"p": "c", "q": "c"},
                module=2,
            ),
            "40 mm apart.*between 90 and 170 mm",
        ),
        # seen from the middle the partner stands 45.6 deg on, the next planet 44.4 deg further: 39 mm
        # between their axes, tips of 44 mm
        (
            lambda: EpicyclicTrain(
                [("s", 20, "p", 20), ("p", 20, "q", 20), ("r", 76, "q", 20, "internal")],
                {"p": "c", "q": "c"},
                module=2,
                planets=4,
            ),
            "q would strike the next p.*39.*tips reach 44 mm",
        ),
        (lambda: EpicyclicTrain(PLAIN, {"planet": "carrier"}, held=3.5), "held = 3.5 names no member"),
        (lambda: EpicyclicTrain.differential(16, 10, names=("left", "right")), "names = .* give 3"),
        (lambda: EpicyclicTrain.stepped(24, (18, 18), ("ring", 60)), "first = 24 will not do: give 2"),
        (lambda: CRANK.power_flow({"sun": 3}, {"sun": 1}, 1.2), "mesh_efficiency = 1.2"),
        (lambda: CRANK.power_flow({"sun": 3}, {"sun": 1}, float("nan")), "mesh_efficiency = nan"),
        (lambda: CRANK.power_flow({"sun": 3}, [1], 0.9), "no table of torques"),
        (lambda: CRANK.power_flow(3, {"sun": 1}), "no table of speeds"),
        (lambda: CRANK.power_flow({"sun": 0}, {"sun": 1}).efficiency, "no power goes through"),
        (
            lambda: EpicyclicTrain(
                [("a", 60, "p", 20, "bevel left"), ("b", 16, "p", 20, "bevel right")], {"p": "c"}, module=2
            ),
            "no pin of p",
        ),
        (
            lambda: EpicyclicTrain([("a", 20, "p", 20), ("b", 30, "p", 20)], {"p": "c"}, module=2),
            "40 mm.*50 mm.*20 teeth b would do",
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def test_what_the_messages_advise_works():
    assert (
        EpicyclicTrain(
            [("s", 24, "p", 18), ("r", 60, "p", 18, "internal")], {"p": "c"}, module=2.5, planets=6
        ).room.planet_gap("p")
        > 0
    )
    assert EpicyclicTrain(
        [("s", 18, "p", 30), ("r", 78, "p", 30, "internal")], {"p": "c"}, planets=4, module=2.5
    ).room.fitting_counts("p") == (1, 2, 3, 4)
    assert (
        EpicyclicTrain(
            [("s", 24, "p", 18, "external", 2.0), ("r", 64, "p", 24, "internal", 2.1)], {"p": "c"}, module=2.0
        ).room.faults
        == ()
    )


def test_repr_says_what_it_is():
    assert (
        repr(CRANK)
        == "EpicyclicTrain(sun 20 : planet 40, ring 76 : planet 16 (internal); planet on carrier, held: ring)"
    )
