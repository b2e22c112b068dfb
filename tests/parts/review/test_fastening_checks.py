"""Keys, screws, flats, hubs and fits in the review, against worked examples and tables."""

import math

import pytest

from gearlab.parts.design import Design
from gearlab.parts.published.fastening import key, set_screw
from gearlab.parts.review import fastening, fits, hub, keys, review, screws, shafts
from gearlab.parts.review.fastening import flat_width, holds
from gearlab.parts.review.keys import key_stresses
from gearlab.parts.review.making import converted, screw_of

from .bench_kits import KITS, inch, keyed, small, vent
from .test_bench_spoiled import SPOILED

ROWS = [check for subject in (shafts, fits, hub, screws, fastening, keys) for check in subject.CHECKS]


def one_gear(unit, diameter, **fields):
    size = {"module": 5} if unit == "mm" else {"diametral_pitch": 5}
    wide = 200 if unit == "mm" else 3
    return Design(
        design={"name": "key", "unit": unit},
        plate={"length": 1000, "height": 1000, "thickness": 5},
        shaft=[{"name": "A", "x": 300, "y": 300, "diameter": diameter}],
        gear=[{"name": "g", "shaft": "A", "teeth": 60, "face_width": wide, "bore": diameter} | size | fields],
    )


# Khurmi & Gupta, example 13.1 (from memory): a rectangular key of 16 x 10 mm for a shaft of 50 mm that bears
# 42 MPa in shear, 70 MPa in crushing: 61.31 mm long by shear, 117.7 mm by crushing.
@pytest.mark.parametrize(("length", "kind", "stress"), [(61.31, 0, 42.0), (117.7, 1, 70.0)])
def test_a_key_of_a_textbook(length, kind, stress):
    torque = math.pi / 16 * 42 * 50**3 / 1000
    design = one_gear("mm", 50, keyway_width=16, keyway_depth=5, key_length=length)
    assert key_stresses(design, design.gear[0], torque)[kind] == pytest.approx(stress, rel=1e-3)


# Shigley, example 7-6 (from memory): 4200 lbf in on 1 7/16 in, a square key of 3/8 in, safety 2.8 against
# 37.5 kpsi in shear and 65 kpsi in crushing: 1.16 in and 1.34 in long.
@pytest.mark.parametrize(("length", "kind", "strength"), [(1.16, 0, 37_500), (1.34, 1, 65_000)])
def test_a_key_of_another(length, kind, strength):
    assert key(1.4375, "in").width == 0.375
    design = one_gear("in", 1.4375, keyway_depth=0.1875, key_length=length)
    assert key_stresses(design, design.gear[0], 4200.0)[kind] == pytest.approx(strength / 2.8, rel=0.005)


def test_a_key_without_length_is_as_long_as_its_gear():
    design = keyed().with_(gear={"wheel": {"key_length": None}})
    short = keyed().with_(gear={"wheel": {"key_length": 12.5}})
    whole, half = (key_stresses(one, one.of("wheel"), 5.0)[0] for one in (design, short))
    assert half == pytest.approx(2 * whole)  # the gear is 25 mm long over all


# M5 on a flat of 0.5 mm on 10 mm: it bears 8230 N (proof load of class 8.8, ISO 898-1, from memory) on the
# rim of its point, 0.65 x 5 / 2 = 1.625 mm off the middle; and grips with 841 N (table 7-4, halved, less
# 30 %) at 4.5 mm.
def test_what_a_screw_holds_on_a_flat():
    design = vent()
    torque = holds(design, design.of("wheel"), set_screw("M5"))
    assert torque == pytest.approx((8230 * 1.625 + 841 * 4.5) / 1000, rel=0.005)
    filed = design.with_(gear={"wheel": {"flat": 0.001}})
    round_ = design.with_(gear={"wheel": {"flat": None}})
    assert (
        holds(filed, filed.of("wheel"), set_screw("M5"))
        < 1.2 * holds(round_, round_.of("wheel"), set_screw("M5")) + 8230 * flat_width(10, 0.001) / 2 / 1000
    )


def test_the_width_of_a_flat():
    assert flat_width(10.0, 1.0) == 6.0  # 3, 4, 5
    assert flat_width(0.25, 0.0005) == pytest.approx(2 * math.sqrt(0.125**2 - 0.1245**2))


def test_threads_of_the_other_unit_are_the_same_screws():
    """5 mm are 0.19685 in: a metric screw in an inch file is no 5 in wide; #10 is 4.826 mm."""
    assert converted(set_screw("M5"), "in").diameter == pytest.approx(5 / 25.4)
    assert converted(set_screw("M5"), "in").pitch == pytest.approx(0.8 / 25.4)
    assert converted(set_screw("#10"), "mm").diameter == pytest.approx(0.19 * 25.4)
    metric = inch().with_(gear={"wheel": {"set_screw": "M5"}})
    ledger = review(metric)
    assert not ledger, str(ledger)
    assert any("M5 (5 mm, that is 0.1969 in)" in held.what for held in ledger.holds)
    assert not review(vent().with_(gear={"wheel": {"set_screw": "#10"}}))
    unknown = review(inch().with_(gear={"wheel": {"set_screw": "5"}}))
    assert unknown.names[0] == "screw-unknown"
    assert '"M5"' in unknown[0].limit and '"#10"' in unknown[0].limit and '"1/4"' in unknown[0].limit


def test_what_a_metric_screw_holds_is_what_it_holds_in_the_other_unit():
    one = vent().of("wheel")
    metric = holds(vent(), one, screw_of(vent(), one))
    other = inch().with_(
        shaft={"B": {"diameter": 10 / 25.4}},
        gear={"wheel": {"set_screw": "M5", "bore": 10 / 25.4, "flat": 0.5 / 25.4}},
    )
    assert holds(other, other.of("wheel"), screw_of(other, other.of("wheel"))) == pytest.approx(
        metric * 8.8507, rel=1e-4
    )  # 1 N m = 8.8507 lbf in


@pytest.mark.parametrize("bore", [6, 8, 9, 10, 12, 12.5, 17.5, 22.5, 30])
def test_a_hub_of_the_rule_is_refused_by_no_other_rule(bore):
    """1.8 bores, with the standard's key, or a screw about half as thick as the bore."""
    width = 1.8 * bore
    size = {"teeth": 60, "module": 5}
    plain = {"shaft": "A", "bore": bore, "fit": "sliding", "face_width": 20, "hub_diameter": width}
    screw = next(s for s in ("M10", "M8", "M6", "M5", "M4", "M3") if int(s[1:]) <= 0.52 * bore)
    for fields in (
        {"keyway_depth": key(bore).hub_depth},
        {"set_screw": screw, "flat": 0.05 * bore, "drill_depth": 0.5 * bore},
    ):
        design = Design(
            design={"name": "hub"},
            plate={"length": 500, "height": 500, "thickness": 6},
            shaft=[{"name": "A", "x": 250, "y": 250, "diameter": bore, "length": 50}],
            gear=[{"name": "g", "hub_projection": 20, "gap": 1} | plain | size | fields],
        )
        ledger = review(design)
        assert not ledger.fails, str(ledger)
        if "set_screw" in fields:  # and there is a length that neither stands out nor is too short
            held = [s for s in (2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16) if s <= 0.45 * bore][-1]
            assert not review(design.with_(gear={"g": {"screw_length": held}})).fails


def test_a_hub_too_thin_for_its_screw_is_told_once():
    """Neither "longer" nor "shorter" mends an M8 in a wall of 2 mm: it holds 1.6 of its turns of 1.25 mm."""
    ledger = review(
        small().with_(gear={"wheel": {"set_screw": "M8", "screw_length": 4, "hub_projection": 13}})
    )
    names = [finding.name for finding in ledger if finding.where == "wheel"]
    assert "hub-too-thin-for-screw" in names
    for finding in ledger:
        if finding.name in ("screw-stands-out", "screw-too-short"):
            assert "hub" in finding.change or "screw" not in finding.change


# A hub of 40 mm on 18 teeth of module 2.5 covers the root circle (38.75 mm). The wheel's face begins 1 mm
# above it (15.5 and 14.5 mm above the plate); with a thinner washer it begins below the hub's end.
@pytest.mark.parametrize(
    ("edit", "grade"),
    [
        ({}, "will trouble"),
        ({"wheel": {"gap": 1.0}}, "will not work"),
        ({"wheel": {"face_width": 8, "gap": 5.5}}, "worth knowing"),
    ],
)
def test_a_hub_over_the_spaces_is_judged_by_what_stands_beside_it(edit, grade):
    design = vent().with_(gear={"pinion": {"hub_diameter": 40, "drill_depth": 20}} | edit)
    found = next(finding for finding in review(design) if finding.name == "hub-fills-spaces")
    assert found.grade == grade, found


def test_a_bore_beyond_the_root_does_not_hide_its_other_findings():
    design = vent().with_(gear={"pinion": {"bore": 40, "hub_diameter": 30, "set_screw": "M7"}})
    names = set(review(design).names)
    assert {"bore-reaches-spaces", "hub-thinner-than-bore", "bore-is-not-the-shaft", "screw-unknown"} <= names


def idler(**fields):
    gear = {"teeth": 20, "module": 2, "face_width": 10, "bore": 8, "gap": 1, "allowable_stress": 50}
    shaft = {"y": 50, "diameter": 8, "length": 35, "behind": 8, "hole": 8.1}
    fixed = {"fit": "press"}
    return Design(
        design={"name": "row"},
        plate={"length": 220, "height": 100, "thickness": 6},
        shaft=[{"name": name, "x": 60 + 40.05 * k} | shaft for k, name in enumerate("ABC")],
        gear=[
            {"name": "a", "shaft": "A"} | gear | fixed,
            {"name": "b", "shaft": "B"} | gear | {"fit": "running"} | fields,
            {"name": "c", "shaft": "C"} | gear | fixed,
        ],
        mesh=[{"driver": "a", "driven": "b"}, {"driver": "b", "driven": "c"}],
        load={"torque": 0.5},
    )


def test_an_idler_on_its_pin_is_not_unfastened():
    assert "no-fastening" not in review(idler()).names
    second = {"name": "d", "shaft": "B", "teeth": 30, "module": 2, "face_width": 10, "bore": 8, "gap": 1}
    two = Design(**(idler().tables | {"gear": [*idler().tables["gear"], second]}))
    assert "no-fastening" in review(two).names  # the shaft hands something on
    ended = idler().with_(mesh={"b with c": None})
    assert "no-fastening" in review(ended).names  # the last of the row turns its shaft
    assert "no-fastening" not in review(ended.with_(gear={"b": {"loose": True}})).names
    pressed = idler().with_(shaft={"B": {"hole": 8}})
    assert "hole-tighter-than-shaft" not in review(pressed).names  # a pin may sit fast


def test_a_missing_load_does_not_hide_a_missing_fastening():
    bare = dict.fromkeys(("set_screw", "screw_length", "drill_depth", "drill_reach", "thread_length", "flat"))
    ledger = review(vent().with_(load=None, gear={"wheel": bare}))
    assert "no-fastening" in ledger.names and len(ledger[0].edits) == 2


def test_bores_and_holes_that_were_measured():
    """H7/h6 at 10 mm: 0 to 0.024 mm of clearance (ISO 286); a caliper that reads to 0.01 mm sees no less."""
    base = vent().with_(measured={"vent diameter": {"value": 10.0, "reads_to": 0.01}})

    def names(bore):
        found = review(base.with_(measured={"wheel bore": {"value": bore, "reads_to": 0.01}})).names
        return tuple(name for name in found if name != "measured-differs")  # which is told besides

    assert names(9.99) == names(10.0) == names(10.04) == ()
    assert names(9.97) == ("bore-tighter-than-shaft",) and names(10.06) == ("bore-looser-than-shaft",)
    holes = {"vent hole": {"value": 10.3, "reads_to": 0.02}}
    loose = review(base.with_(measured=holes))
    assert loose.names == ("hole-looser-than-shaft", "measured-differs") and "as measured" in loose[0].what


UNMADE = [
    ("vent", "running in the plate", {"shaft": {"vent": {"hole": None}}}),
    ("vent", "hole of the set screw", {"gear": {"wheel": {"drill_depth": None}}}),
    ("vent", "reach of the drill", {"gear": {"wheel": {"drill_reach": None}}}),
    ("vent", "run-out of the thread", {"gear": {"wheel": {"thread_length": None}}}),
    ("vent", "length of the set screw", {"gear": {"wheel": {"screw_length": None}}}),
    ("vent", "hold of set screws", {"load": None}),
    ("keyed", "strength of keys", {"load": None}),
    ("vent", "strength of shafts", {"load": None}),
    ("vent", "length of shafts", {"shaft": {"vent": {"length": None}}}),
    ("keyed", "keyways", {"shaft": {"vent": {"diameter": 5, "hole": 5.1}}, "gear": {"wheel": {"bore": 5}}}),
    ("vent", "hub wall", {"gear": {"wheel": {"module": None, "diametral_pitch": 10}}}),
]


@pytest.mark.parametrize(("kit", "name", "edit"), UNMADE)
def test_a_check_that_cannot_be_made_says_what_is_missing(kit, name, edit):
    ledger = review(KITS[kit]().with_(**edit))
    gaps = [unmade for check, unmade in ledger.outcomes if check.name == name and unmade in ledger.unmade]
    assert gaps and all(gap.why and gap.give for gap in gaps), str(ledger)


def test_every_row_holds_and_fails_somewhere():
    held = {
        check.name
        for kit in KITS.values()
        for check, outcome in review(kit()).outcomes
        if outcome in review(kit()).holds
    }
    spoiled = {name for _, name, _, _ in SPOILED}
    for check in ROWS:
        assert check.name in held, check.name
        assert set(check.finds) <= spoiled, (check.name, set(check.finds) - spoiled)


@pytest.mark.parametrize("kit", KITS)
def test_every_gear_and_shaft_is_answered_for(kit):
    """No silent skip: for each gear fit, wall, rim and fastening, for each shaft length and strength."""
    design = KITS[kit]()
    ledger = review(design)
    for check in ("bores", "hub wall", "hub below the teeth", "rim", "fastening"):
        where = [outcome.where for row, outcome in ledger.outcomes if row.name == check]
        assert where == [gear.name for gear in design.gear], check
    for check in ("length of shafts", "strength of shafts"):
        where = [outcome.where for row, outcome in ledger.outcomes if row.name == check]
        assert where == [f"shaft {shaft.name}" for shaft in design.shaft], check
