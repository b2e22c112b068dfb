"""Room and equal spacing of epicyclic trains: brute force, published rules, the lengths of pairs."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlab import EpicyclicTrain, Gear, InternalGear, Mesh, derive

CRANK = EpicyclicTrain.stepped(
    ("sun", 20), (40, 16), ("ring", 76), inside=(False, True), held="ring", planets=3, module=1.5
)


def phases_fit(meshes, carried, count):
    """Brute force: carry a planet to the next place and try every tooth; do all meshes stand in phase?"""
    (planet,) = carried
    ends = []
    for _one, z1, _two, z2, *kind in meshes:
        ends.append((z1, z2, -1 if kind and kind[0] in ("internal", "bevel right") else 1))
    central, teeth, sign = ends[0]
    for step in range(teeth):
        turn = (
            sign * central / count + step
        ) / teeth  # of the planet on its pin, seen from the carrier, in turns
        if all(
            abs((other_teeth * turn - other_sign * other / count + 0.5) % 1 - 0.5) < 1e-7
            for other, other_teeth, other_sign in ends[1:]
        ):
            return True
    return False


@settings(max_examples=200, deadline=None)
@given(
    st.integers(12, 60),
    st.integers(8, 40),
    st.integers(8, 40),
    st.integers(20, 90),
    st.integers(2, 7),
    st.booleans(),
)
def test_equal_spacing_of_stepped_planets(first, large, small, last, count, ring):
    kind = ("internal",) if ring and last != small else ()
    meshes = [("A", first, "p", large), ("B", last, "p", small, *kind)]
    train = EpicyclicTrain(meshes, {"p": "arm"}, must_fit=False)
    assert (train.room.spacing_number("p") % count == 0) == phases_fit(meshes, {"p": "arm"}, count)


def test_equal_spacing_of_a_plain_set_is_the_published_rule():
    # SDP/SI, Elements of Metric Gear Technology, section 13: (sun + ring) / planets whole
    for sun, planet in [(16, 16), (24, 18), (21, 30), (20, 31)]:
        train = EpicyclicTrain(
            [("s", sun, "p", planet), ("r", sun + 2 * planet, "p", planet, "internal")], {"p": "c"}
        )
        assert train.room.spacing_number("p") == 2 * sun + 2 * planet


def test_equal_spacing_of_bevel_and_of_double_planets():
    # side gears: the sum of their teeth over the number of planets whole; double planets: ring less sun
    # instead of their sum
    # (common rules of epicyclic assembly, from memory)
    assert EpicyclicTrain.differential(16, 10).room.spacing_number("planet") == 32
    for sun, inner, outer, ring in [(24, 20, 23, 76), (30, 17, 19, 81), (18, 25, 25, 72)]:
        train = EpicyclicTrain(
            [("s", sun, "p", inner), ("p", inner, "q", outer), ("r", ring, "q", outer, "internal")],
            {"p": "c", "q": "c"},
        )
        assert train.room.spacing_number("p") == train.room.spacing_number("q") == ring - sun


def test_equal_spacing_by_theory():
    words = {
        "first_central_teeth": 20,
        "first_planet_teeth": 40,
        "last_planet_teeth": 16,
        "last_central_teeth": 76,
        "first_mesh_sign": -1,
        "last_mesh_sign": 1,
    }
    assert derive("equal_spacing_number", words).result == CRANK.room.spacing_number("planet")
    assert (
        derive("equal_spacing_remainder", words | {"planets": 8}).result
        == CRANK.room.spacing_number("planet") % 8
        != 0
    )


def test_lengths_are_those_of_the_pairs():
    size = {"module": 1.5}
    sun, ring = (
        Mesh(Gear(20, **size), Gear(40, **size)),
        Mesh(Gear(16, **size), InternalGear(76, tip_shortening=0.5, **size)),
    )
    assert (
        CRANK.room.carrier_radius("planet")
        == pytest.approx(sun.centre_distance)
        == pytest.approx(ring.centre_distance)
    )
    # chord of the circle of pins less the larger gear's outside diameter, by hand
    assert CRANK.room.planet_gap("planet") == pytest.approx(45 * 3**0.5 - 1.5 * 42)
