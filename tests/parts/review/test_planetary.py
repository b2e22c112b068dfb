"""Planetary sets under review: counts, spacing, room, tiny teeth, what is held, load. Worked by hand."""

import math

import pytest

from gearlab.parts.planetary import Planetary
from gearlab.parts.review import review

from .drives import HEAD, KIT, alone, finding, holds, mended, outcomes, unmade

LOAD = {"torque": 2, "speed": 30}
ROWS = (
    "planetary counts",
    "planetary assembly",
    "planetary room",
    "planetary teeth",
    "planetary rolling",
    "planetary held",
    "planetary load",
)


def beside(sun, planet, ring, planets=3, **more):
    """The kit with a set as present files have it: counts alone."""
    return KIT.with_(planetary=[{"sun": sun, "planet": planet, "ring": ring, "planets": planets, **more}])


@pytest.mark.parametrize(
    ("sun", "planet", "planets"),
    [(24, 18, 3), (24, 18, 4), (30, 18, 4), (36, 18, 6), (20, 20, 4), (18, 36, 3)],
)
def test_sound_sets_pass(sun, planet, planets):
    assert review(beside(sun, planet, sun + 2 * planet, planets)).passes


def test_a_sound_set_holds_throughout():
    assert all(holds(row, alone("planetary", HEAD, LOAD)) for row in ROWS)


def test_the_ring_spans_sun_and_planets():
    odd = beside(24, 18, 62)
    assert (
        finding("planetary counts", odd, "ring-does-not-fit").edits[0]["planetary"]["planetary set"]["ring"]
        == 60
    )
    mended(odd, "ring-does-not-fit", "the planetary set")
    assert unmade("planetary assembly", odd) and unmade("planetary rolling", odd)


def test_stepped_sets():
    """Sun 20, planets of 30 and 15 side by side: 20/2 + 30/2 + 15/2 = 65/2. Of 3 planets the second stands by
    20 x 15 + 65 x 30 over 15, 150 pitches, which 3 divides; 4 do not.
    """
    stepped = {"sun": 20, "planet": 30, "second_planet": 15, "ring": 65}
    assert holds("planetary counts", alone("planetary", HEAD, **stepped))
    assert holds("planetary assembly", alone("planetary", HEAD, **stepped))
    four = alone("planetary", HEAD, **stepped, planets=4)
    assert finding("planetary assembly", four, "planets-uneven")
    assert finding(
        "planetary counts", alone("planetary", HEAD, **{**stepped, "ring": 80}), "ring-does-not-fit"
    )


@pytest.mark.parametrize("planets", range(1, 8))
def test_stepped_sets_go_together_where_the_train_says_so(planets):
    """Held against the way in which an epicyclic train finds it, by the phases of its meshes."""
    for sun, planet, second in ((20, 30, 15), (24, 20, 16), (21, 27, 18), (19, 23, 17)):
        table = alone(
            "planetary", HEAD, sun=sun, planet=planet, second_planet=second, ring=sun + planet + second
        )
        train = table.set_of(table.planetary[0])
        goes = train.room.spacing_number("planet") % planets == 0
        asked = table.with_(planetary={"head": {"planets": planets}})
        assert holds("planetary assembly", asked) == goes


def test_planets_that_do_not_go_in():
    """25 + 61 = 86 leave 2 over 3."""
    uneven = beside(25, 18, 61)
    assert "2 too many" in finding("planetary assembly", uneven, "planets-uneven").what
    mended(uneven, "planets-uneven", "the planetary set")


def test_planets_that_collide():
    """54 sin 30 - 36 - 2 = -11 modules; 4 planets have 54 sin 45 - 38 = 0.18."""
    tight = beside(18, 36, 90, 6)
    assert "11 modules" in finding("planetary room", tight, "planets-collide").what
    mended(tight, "planets-collide", "the planetary set")
    assert outcomes("planetary room", beside(24, 18, 60, 1)) == []


def test_the_room_of_a_stepped_set_is_that_of_its_larger_gear():
    """(20 + 20) sin 45 = 28.3: 20 teeth clear, beside a second gear of 30 they do not."""
    one = alone("planetary", HEAD, sun=20, planet=20, ring=60, planets=4)
    two = alone("planetary", HEAD, sun=20, planet=20, second_planet=30, ring=70, planets=4)
    assert holds("planetary room", one)
    assert finding("planetary room", two, "planets-collide")


def test_tiny_teeth():
    """6 teeth lack 1 - 3 sin2 20 = 0.65 modules; a ring of 18 has its tips inside its base circle."""
    tiny = beside(6, 6, 18)
    assert "0.65" in finding("planetary teeth", tiny, "undercut", "the sun").what
    assert finding("planetary rolling", tiny, "planet-fouls-ring").grade == "will not work"
    assert finding("planetary rolling", tiny, "little-contact", "sun with planet").grade == "will not work"
    for name, where in (
        ("undercut", "the sun"),
        ("planet-fouls-ring", "ring"),
        ("little-contact", "sun with"),
    ):
        mended(tiny, name, where)
    # 17 teeth of which a hundredth of a module is undercut are no trouble
    assert holds("planetary teeth", beside(17, 17, 51))
    assert review(beside(20, 14, 48, 4)).passes


@pytest.mark.parametrize(("sun", "planet"), [(24, 18), (12, 12), (18, 20), (10, 20)])
def test_contact_is_that_of_the_parts(sun, planet):
    """Held against the sets that the planetary part makes."""
    from gearlab import Mesh

    part = Planetary(sun, planet, module=2, planets=2, must_fit=False)
    wanted = Mesh(part.sun, part.planet).contact_ratio
    design = beside(sun, planet, sun + 2 * planet, 2)
    told = next(one for one in outcomes("planetary rolling", design) if one.where.startswith("sun"))
    if wanted >= 1.2:
        assert told.number == pytest.approx(wanted)
    else:
        assert f"{wanted:.2f}" in told.what


def test_an_angle_that_cannot_be_cut_is_found():
    assert finding("planetary rolling", beside(24, 18, 60, pressure_angle=1.0), "planet-fouls-ring")


def test_the_load_says_which_member_of_a_set_is_turned():
    """Sun held, ring 60 turned, carrier out: (24 + 60)/60 = 1.4 turns of the ring for one (Willis)."""
    given = {"held": "sun", "sun_shaft": None, "ring_shaft": "A"}
    turned = alone("planetary", HEAD, LOAD | {"shaft": "A"}, **given)
    assert turned.ratio == pytest.approx(84 / 60)
    backwards = alone("planetary", HEAD, LOAD | {"shaft": "B"})  # the carrier turned, the sun out
    assert backwards.ratio == pytest.approx(24 / 84)


def test_what_is_held():
    """Sun 2 N m: the ring takes 60/24 of it, 5 N m; held against a carrier of 2 N m the sun 2 x 24/84."""
    (held,) = outcomes("planetary held", alone("planetary", HEAD, LOAD))
    assert "5 N" in held.what
    other = {"held": "sun", "sun_shaft": None, "ring_shaft": "A", "ring_bolted": False}
    (held,) = outcomes("planetary held", alone("planetary", HEAD, LOAD, **other))
    assert f"{2 * 24 / 84:.2f} N" in held.what
    creeps = beside(24, 18, 60, ring_bolted=False)
    assert finding("planetary held", creeps, "ring-creeps")
    mended(creeps, "ring-creeps", "the planetary set")
    locked = alone("planetary", HEAD, LOAD, **{**other, "ring_bolted": True})
    (edit,) = finding("planetary held", locked, "set-locks").edits
    assert holds("planetary held", locked.with_(**edit))


def test_a_held_member_on_a_driven_shaft_locks():
    head = alone("planetary", HEAD, LOAD).with_(
        shaft={"C": {"diameter": 8}},
        planetary={"head": {"ring_shaft": "C"}},
        bevel=[{"name": "corner", "teeth": [20, 20], "driver": "A", "driven": "C"}],
    )
    (edit,) = finding("planetary held", head, "set-locks").edits
    assert holds("planetary held", head.with_(**edit))


def test_the_teeth_of_a_set_share_the_load():
    """2 N m on the sun's 24 mm over three planets: 27.8 N each. The planet's 18 teeth have the least Y,
    0.309 (Shigley, table 14-2).
    """
    (held,) = outcomes("planetary load", alone("planetary", HEAD, LOAD))
    assert held.number == pytest.approx(2 / 0.024 / 3 / (10 * 2 * 0.309), rel=1e-6)
    weak = alone("planetary", HEAD, LOAD, allowable_stress=4)
    (edit,) = finding("planetary load", weak, "teeth-overloaded").edits
    assert holds("planetary load", weak.with_(**edit))
    jam = alone("planetary", HEAD, {**LOAD, "stall_torque": 10})
    assert finding("planetary load", jam, "teeth-break-at-stall")


def test_the_second_planet_is_loaded_by_its_lever():
    """A planet of 30 beside one of 15: twice the force at the ring, on teeth of Y 0.290."""
    stepped = {"sun": 20, "planet": 30, "second_planet": 15, "ring": 65}
    (held,) = outcomes("planetary load", alone("planetary", HEAD, LOAD, **stepped))
    assert held.number == pytest.approx(2 * 2 / 0.020 / 3 / (10 * 2 * 0.290), rel=1e-6)
    assert "second planet" in held.what


def test_what_is_missing_for_the_stress():
    assert not unmade("planetary load", beside(24, 18, 60)).decisive
    for word in ("allowable_stress", "face_width", "module"):
        assert unmade("planetary load", alone("planetary", {**HEAD, word: None}, LOAD)).decisive
    assert math.isclose(alone("planetary", HEAD, LOAD).ratio or 0.0, 3.5)
