"""What joins a drive: members, rings, ratio, direction, hunting, warmth, names. Ratios are worked by hand."""

import math

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import review

from .drives import (
    CORNER,
    HEAD,
    KIT,
    MESH,
    PINION,
    ROWS,
    WHEEL,
    alone,
    finding,
    holds,
    mended,
    outcomes,
    unmade,
)


def _toothed(name: str, shaft: str, teeth: int, gap: float = 2.0, **more) -> dict:
    return {
        "name": name,
        "shaft": shaft,
        "teeth": teeth,
        "module": 2,
        "face_width": 10,
        "gap": gap,
        "bore": 8,
        "fit": "sliding",
        "allowable_stress": 20,
        "hub_diameter": 16,
        "hub_projection": 12,
        "set_screw": "M4",
        "drill_depth": 8,
        "flat": 0.5,
        **more,
    }


def layout(
    places: list[tuple[float, float]], gears: list[dict], meshes: list[tuple[str, str]], **head
) -> Design:
    """A design of shafts a, b, c ... at places, with gears and meshes."""
    return Design(
        design={"name": "layout", **head},
        plate={"length": 400, "height": 300, "thickness": 6},
        shaft=[
            {"name": "abcdef"[k], "x": x, "y": y, "diameter": 8, "length": 50, "behind": 8, "end": 3}
            for k, (x, y) in enumerate(places)
        ],
        gear=gears,
        mesh=[{"driver": one, "driven": two} for one, two in meshes],
        load={"torque": 0.5, "speed": 10},
    )


def two_ways(second: tuple[int, int] = (24, 36)) -> Design:
    """Two meshes between the same two shafts, both 60.2 mm wide apart: 20 : 40 below, the second above it."""
    gears = [_toothed("p", "a", 20), _toothed("w", "b", 40)]
    gears += [_toothed("p2", "a", second[0]), _toothed("w2", "b", second[1])]
    return layout([(100, 100), (160.2, 100)], gears, [("p", "w"), ("p2", "w2")])


def three(last: int = 20) -> Design:
    """Three gears in a triangle, each in mesh with both others: 40.2 mm apart of 20 teeth, module 2."""
    side = 40.2
    places = [(100, 100), (100 + side, 100), (100 + side / 2, 100 + side * math.sqrt(3) / 2)]
    gears = [_toothed("g", "a", 20), _toothed("h", "b", 20), _toothed("i", "c", last)]
    return layout(places, gears, [("g", "h"), ("h", "i"), ("i", "g")])


def four() -> Design:
    """Four gears in a square: an even ring."""
    places = [(100, 100), (140.2, 100), (140.2, 140.2), (100, 140.2)]
    gears = [_toothed(name, shaft, 20) for name, shaft in zip("ghij", "abcd")]
    return layout(places, gears, [("g", "h"), ("h", "i"), ("i", "j"), ("j", "g")])


# -- members and rings ---------------------------------------------------------------------------------
def test_every_member_is_joined():
    assert holds("joined members", KIT)
    apart = layout(
        [(100, 100), (160.2, 100), (260, 100)],
        [_toothed("p", "a", 20), _toothed("w", "b", 40), _toothed("far", "c", 20)],
        [("p", "w")],
    )
    assert finding("joined members", apart, "not-joined").where == "far"
    mended(apart, "not-joined", "far")


def test_a_gear_that_stands_in_mesh_is_advised_to_mesh():
    """20 and 40 teeth of module 2 stand 60 mm apart: the mesh only was forgotten."""
    places = [(100, 100), (160.2, 100), (220.4, 100)]
    gears = [_toothed("p", "a", 20), _toothed("w", "b", 40), _toothed("far", "c", 20)]
    told = finding("joined members", layout(places, gears, [("p", "w")]), "not-joined")
    assert told.edits[0] == {"mesh": {"w with far": {"driver": "w", "driven": "far"}}}


def test_a_loose_gear_with_one_mesh_moves_nothing():
    places = [(100, 100), (160.2, 100)]
    gears = [_toothed("p", "a", 20), _toothed("w", "b", 40, loose=True)]
    loose = layout(places, gears, [("p", "w")])
    assert finding("joined members", loose, "not-joined").edits == ({"gear": {"w": {"loose": False}}},)


def test_a_loose_gear_beside_others_hands_nothing_to_its_shaft():
    """p drives w, loose on b; x is fast on b and drives y: nothing comes to x and y."""
    places = [(100, 100), (160.2, 100), (220.4, 100)]
    gears = [_toothed("p", "a", 20), _toothed("w", "b", 40, loose=True), _toothed("x", "b", 20)]
    gears += [_toothed("y", "c", 40, gap=14)]
    told = outcomes("joined members", layout(places, gears, [("p", "w"), ("x", "y")]))
    assert [one.where for one in told if getattr(one, "name", "") == "not-joined"] == ["x", "y"]


def test_members_of_which_the_shafts_are_not_stated_stand_beside_the_drive():
    beside = KIT.with_(mitre={"teeth": [20, 20], "thrust_collars": True})
    assert "between which shafts" in unmade("joined members", beside).why
    planetary = KIT.with_(planetary=[{"name": "head", "sun": 24, "planet": 18, "ring": 60, "planets": 3}])
    assert "sun_shaft and carrier_shaft" in unmade("joined members", planetary).give
    assert not unmade("joined members", beside).decisive


@pytest.mark.parametrize(
    ("second", "ratio"),
    [((24, 36), "1.5 to 1"), ((20, 40), ""), ((21, 39), "1.86 to 1"), ((40, 20), "0.5 to 1")],
)
def test_two_ratios_between_the_same_shafts_lock(second, ratio):
    """40/20 = 2 and 36/24 = 1.5 cannot both be; twice the same ratio can."""
    design = two_ways(second)
    assert holds("closed rings", design) == (not ratio)
    if ratio:
        told = finding("closed rings", design, "ratios-lock")
        assert "by 2 to 1" in told.what and f"by {ratio}" in told.what
        mended(design, "ratios-lock", "the meshes")


def test_a_ring_over_three_shafts_with_another_ratio_locks():
    """20 : 40 goes over to a second gear of 30 that drives the third: round the ring 2 x 4/3 against 2."""
    side = 60.2
    places = [(100, 100), (100 + side, 100), (100 + side / 2, 100 + side * math.sqrt(3) / 2)]
    gears = [_toothed("p", "a", 20), _toothed("w", "b", 40), _toothed("v", "b", 30)]
    gears += [_toothed("u", "c", 30, gap=14), _toothed("q", "c", 40), _toothed("o", "a", 20)]
    ring = layout(places, gears, [("p", "w"), ("v", "u"), ("o", "q")])
    assert "ratios-lock" not in [getattr(one, "name", "") for one in outcomes("closed rings", ring)]
    assert finding("closed rings", ring, "odd-ring-locks")
    other = ring.with_(gear={"o": {"teeth": 22}})
    assert finding("closed rings", other, "ratios-lock")


def test_odd_rings_lock_and_even_ones_turn():
    assert finding("closed rings", three(), "odd-ring-locks").grade == "will not work"
    assert finding("closed rings", three(19), "odd-ring-locks")
    mended(three(), "odd-ring-locks", "the meshes")
    assert holds("closed rings", four())
    assert outcomes("closed rings", KIT) == []


def test_a_ring_through_a_bevel_pair_says_no_way_round():
    first = alone("bevel", CORNER, load={"torque": 1})
    both = first.with_(bevel={"second": {**CORNER, "name": "second"}})
    assert not unmade("closed rings", both).decisive
    unequal = first.with_(bevel={"second": {**CORNER, "name": "second", "teeth": [20, 30], "mounting": None}})
    assert finding("closed rings", unequal, "ratios-lock")


# -- ratio, direction, hunting -------------------------------------------------------------------------
def test_the_ratio():
    assert holds("ratio", KIT)
    missed = KIT.with_(design={"ratio": 3})
    assert "2.5" in finding("ratio", missed, "ratio-missed").what
    # 54 = 3 x 18 teeth stand 2.5 (54 - 45) / 2 = 11.25 mm further off
    edit = finding("ratio", missed, "ratio-missed").edits[0]
    assert edit["gear"][WHEEL]["teeth"] == 54 and edit["shaft"]["vent"]["x"] == 143.75
    assert all(ledger.passes for ledger in mended(missed, "ratio-missed", "the train"))
    assert not unmade("ratio", KIT.with_(design={"ratio": None})).decisive
    assert unmade("ratio", KIT.with_(mesh={MESH: None})).decisive


def test_the_ratio_goes_through_every_kind_of_member():
    """1 + 60/24 = 3.5 with the ring held; a mitre pair changes nothing."""
    head = alone("planetary", HEAD, load={"torque": 1})
    assert holds("ratio", head.with_(design={"ratio": 3.5}))
    assert finding("ratio", head.with_(design={"ratio": 2.5}), "ratio-missed")
    assert holds("ratio", alone("bevel", CORNER, load={"torque": 1}).with_(design={"ratio": 1}))


def test_the_direction():
    assert holds("direction", KIT)
    wrong = KIT.with_(design={"direction": "same"})
    assert finding("direction", wrong, "wrong-direction")
    mended(wrong, "wrong-direction", "the train")
    assert unmade("direction", KIT.with_(design={"direction": None}))
    assert "axis" in unmade("direction", alone("bevel", CORNER).with_(design={"direction": "same"})).why
    assert holds("direction", alone("planetary", HEAD).with_(design={"direction": "same"}))


def test_a_hunting_pair():
    assert outcomes("hunting", KIT) == []
    wanted = KIT.with_(design={"hunting": True})
    assert "factor 9" in finding("hunting", wanted, "common-factor").what
    mended(wanted, "common-factor", "pinion")
    teeth = [
        edit["gear"][name]["teeth"] if name in edit["gear"] else count
        for edit in finding("hunting", wanted, "common-factor").edits[:1]
        for name, count in ((PINION, 18), (WHEEL, 45))
    ]
    assert math.gcd(*teeth) == 1
    assert holds("hunting", two_ways((19, 41)).with_(design={"hunting": True}, mesh={"p with w": None}))


# -- warmth --------------------------------------------------------------------------------------------
def test_a_plate_that_shrinks_jams_its_mesh():
    """78.75 mm of acrylic, 70e-6 / K: 40 K take 0.2205 mm, of which 2 tan 20 deg is play: 0.16 of 0.1 mm."""
    cold = KIT.with_(load={"warming": -40})
    told = finding("warmth", cold, "plate-jams-the-mesh")
    play = 0.1 - 2 * math.tan(math.radians(20)) * 78.75 * 70e-6 * 40
    assert float(told.what.split("backlash to ")[1].split(" mm")[0]) == pytest.approx(play, abs=0.002)
    for ledger in mended(cold, "plate-jams-the-mesh", PINION):
        assert ledger.passes
    assert holds("warmth", KIT.with_(load={"warming": -10}))
    assert unmade("warmth", KIT)
    assert "not stated" in unmade("warmth", KIT.with_(load={"warming": -40}, plate={"material": None})).why


def test_gears_of_the_plates_own_material_shrink_with_it():
    both = {name: {"material": "acrylic"} for name in (PINION, WHEEL)}
    assert holds("warmth", KIT.with_(load={"warming": -40}, gear=both))


def test_the_measured_play_is_used_where_there_is_one():
    """0.25 mm were measured in place of 0.1: what 40 K take, 0.16, is there."""
    reading = {"part": MESH, "quantity": "backlash", "value": 0.25, "reads_to": 0.02}
    (held,) = outcomes("warmth", KIT.with_(load={"warming": -40}, measured=[reading]))
    assert "measured" in held.what and held.number == pytest.approx(0.25 - 0.16, abs=0.002)
    less = {**reading, "value": 0.05}
    assert finding("warmth", KIT.with_(load={"warming": -20}, measured=[less]), "plate-jams-the-mesh")


# -- names ---------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"teeth": 44}, "teeth"),
        ({"bore": 9}, "bore"),
        ({"face_width": 13}, "length"),
        ({"module": 2.25}, "module"),
    ],
)
def test_a_name_that_tells_another_part(change, word):
    design = KIT.with_(gear={WHEEL: change})
    told = finding("names", design, "name-tells-another-part", WHEEL)
    assert f"its name tells {word}" in told.what
    mended(design, "name-tells-another-part", WHEEL)


def test_a_plain_name_may_tell_a_count_too():
    assert holds("names", KIT)
    plain = KIT.with_(gear={WHEEL: {"name": "vent wheel 48T"}})
    assert finding("names", plain, "name-tells-another-part").edits == (
        {"gear": {"vent wheel 48T": {"name": "vent wheel 45T"}}},
    )
    assert holds("names", KIT.with_(gear={WHEEL: {"name": "vent wheel"}}))


def test_every_row_of_the_drive_has_a_name_of_its_own():
    assert len(ROWS) == len({check.asks for check in ROWS.values()})
    assert review(KIT).passes
