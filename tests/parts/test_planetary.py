"""Planetary sets: published speeds and torques, and the cut shapes put together."""

import pytest
from shapely import Polygon, affinity

from gearlab import Mesh, Planetary

HEAD = Planetary(24, 18, module=2.5)


def bodies(made, sun_angle=0.0):
    """Sun, planets and the hole of the ring where the set says they stand, as polygons [mm]."""
    angles, ring_angle = made.alignment(sun_angle)
    sun = affinity.rotate(Polygon(made.sun.outline(1e-6)), sun_angle, origin=(0, 0))
    planets = [
        affinity.translate(affinity.rotate(Polygon(made.planet.outline(1e-6)), angle, origin=(0, 0)), *place)
        for angle, place in zip(angles, made.planet_places)
    ]
    return sun, planets, affinity.rotate(Polygon(made.ring.outline(1e-6)), ring_angle, origin=(0, 0))


def clash(made, sun_angle=0.0):
    """Largest area in which a planet overlaps the sun, the ring or a neighbour, in square modules."""
    sun, planets, hole = bodies(made, sun_angle)
    found = [planet.intersection(sun).area for planet in planets] + [
        planet.difference(hole).area for planet in planets
    ]
    found += [one.intersection(two).area for k, one in enumerate(planets) for two in planets[:k]]
    return max(found) / made.sun.scale**2


def test_speeds_with_each_member_held():
    # Shigley's and every text's three plain cases; here sun 16, ring 48 of published metric tables (from
    # memory): 1/4, 3/4, -1/3
    size = {"module": 2, "planets": 4}
    assert 1 / Planetary(16, 16, held="ring", **size).ratio("sun", "carrier") == pytest.approx(0.25)
    assert 1 / Planetary(16, 16, held="sun", **size).ratio("ring", "carrier") == pytest.approx(0.75)
    assert 1 / Planetary(16, 16, held="carrier", **size).ratio("sun", "ring") == pytest.approx(-1 / 3)


def test_planet_and_carrier_of_a_published_set():
    # sun 20 at -100 rpm, planets 30, ring 80 held: carrier -20, planet 33.33 rpm (topic 10, R-10.45 and 46)
    found = Planetary(20, 30, module=2, planets=4).speeds(sun=-100)
    assert (
        found["carrier"] == pytest.approx(-20)
        and found["planet"] == pytest.approx(33.33, abs=0.005)
        and found["ring"] == 0
    )


def test_two_inputs_when_no_member_is_held():
    # locked as one piece everything turns alike
    free = Planetary(24, 18, module=2.5, held=None)
    assert free.speeds(sun=12, ring=12) == pytest.approx({"sun": 12, "carrier": 12, "ring": 12, "planet": 12})
    assert free.speeds(sun=35, ring=0)["carrier"] == pytest.approx(10) and free.speeds(carrier=10, ring=0)[
        "sun"
    ] == pytest.approx(35)


def test_torques_balance():
    torques = HEAD.torques(1.5)
    assert (
        torques.unit == "N*m"
        and Planetary(24, 18, diametral_pitch=10).torques(15).unit == "lbf*in"
        and HEAD.speeds(sun=1).unit == "rpm"
    )
    # balance of torques, and of power at the speeds found apart from it
    assert torques["sun"] + torques["ring"] == pytest.approx(torques["carrier"])
    speeds = HEAD.speeds(sun=35)
    assert torques["sun"] * speeds["sun"] == pytest.approx(torques["carrier"] * speeds["carrier"])


@pytest.mark.parametrize(
    "sun, planet, planets", [(24, 18, 3), (24, 18, 4), (16, 16, 4), (21, 30, 3), (30, 12, 6), (19, 20, 2)]
)
def test_outlines_of_an_assembled_set_do_not_overlap(sun, planet, planets):
    made = Planetary(sun, planet, module=2.5, planets=planets)
    assert clash(made) < 1e-4
    assert clash(made, 7.3) < 1e-4


def test_outlines_of_a_set_that_does_not_go_together_overlap():
    # the remainder of the count against the shape, which knows nothing of it
    for sun, planet, planets in [(24, 18, 5), (20, 18, 3), (16, 16, 3), (19, 20, 4)]:
        made = Planetary(sun, planet, module=2.5, planets=planets, must_fit=False)
        assert not made.fits and clash(made) > 0.05


def test_the_shape_agrees_with_the_remainder_over_many_counts():
    for sun in range(18, 25):
        for planets in (2, 3, 4):
            made = Planetary(sun, 17, module=1, planets=planets, must_fit=False)
            assert made.fits == (clash(made) < 1e-4), (sun, planets)


def test_rolling_on_keeps_the_shapes_clear():
    # turn the members at their speeds: seen after a while the outlines must still be clear
    angles, ring_angle = HEAD.alignment(0.0)
    speeds = HEAD.speeds(sun=1.0)
    sun, planet, hole = (Polygon(gear.outline(1e-6)) for gear in (HEAD.sun, HEAD.planet, HEAD.ring))
    hole = affinity.rotate(hole, ring_angle, origin=(0, 0))
    for turned in (11.0, 100.0, 1234.5):
        place = affinity.rotate(
            affinity.translate(
                affinity.rotate(
                    planet, angles[0] + turned * (speeds["planet"] - speeds["carrier"]), origin=(0, 0)
                ),
                HEAD.carrier_radius,
                0,
            ),
            turned * speeds["carrier"],
            origin=(0, 0),
        )
        assert place.intersection(affinity.rotate(sun, turned, origin=(0, 0))).area < 1e-3
        assert place.difference(hole).area < 1e-3


@pytest.mark.parametrize(
    "sun, planet", [(24, 18), (16, 16), (30, 12), (12, 12), (12, 30), (20, 40), (60, 12), (18, 30)]
)
def test_the_ring_does_not_dig_into_its_planets(sun, planet):
    made = Planetary(sun, planet, module=1, planets=1)
    pair = Mesh(made.planet, made.ring)
    assert not pair.interference and pair.contact_ratio > 1.2


def test_room_between_planets():
    # by hand: chord of the carrier circle less a planet's outside diameter
    assert HEAD.planet_gap == pytest.approx(2 * 52.5 * 3**0.5 / 2 - 50)
    _, planets, _ = bodies(HEAD)
    # between tips; a space may face a tip
    assert HEAD.planet_gap - 0.01 < planets[0].distance(planets[1]) < HEAD.planet_gap + 2.5 * 2.25


@pytest.mark.parametrize(
    "make, says",
    [
        (
            lambda: Planetary(24, 18, module=2.5, planets=5),
            "meets tooth on tooth.*leave 4 over.*take a sun of 22 teeth",
        ),
        (lambda: Planetary(18, 30, module=2.5, planets=6), "collide.*room for 4; give 4 planets"),
        (lambda: Planetary(24, 18, module=2.5, held="planet"), "hold the"),
        (lambda: HEAD.speeds(ring=3), "the ring is held, so give that of one of sun, carrier"),
        (lambda: HEAD.speeds(), "speeds of nothing"),
        (lambda: HEAD.ratio("sun", "ring"), "not fixed with the ring held"),
        (lambda: Planetary(5, 18, module=1), "sun_teeth = 5"),
        (lambda: Planetary(24, 18), "exactly one"),
        (lambda: HEAD.torques(0), "above 0"),
        (lambda: HEAD.torques(True), "True is not a number"),
        (lambda: HEAD.torques(float("nan")), "nan N"),
        (lambda: HEAD.speeds(sun=float("nan")), "speed of the sun = nan rpm is out of range"),
        (lambda: HEAD.speeds(sun="35"), "'35' is not a number"),
        (lambda: HEAD.ratio(["sun"], "carrier"), "not fixed"),
        (lambda: HEAD.alignment(True), "sun_angle = True is not a number"),
    ],
)
def test_errors_say_what_would_work(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def test_values_named_in_the_errors_work():
    assert Planetary(22, 18, module=2.5, planets=5).fits
    assert Planetary(18, 30, module=2.5, planets=4).planet_gap > 0


def test_explains_with_its_own_numbers():
    assert HEAD.explain("carrier_speed", sun_speed=35.0).result == pytest.approx(10)
    assert HEAD.explain("planet_speed", carrier_speed=10.0).result == pytest.approx(
        HEAD.speeds(sun=35)["planet"]
    )
    assert repr(HEAD) == "Planetary(24, 18, module=2.5, planets=3, held='ring')"
