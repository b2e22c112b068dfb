"""What a drive carries: load, teeth running and at stall, motor and clutch, speeds, heat, brake.

Forces and stresses are worked by hand: F = T / r, stress = F / (b m Y), Y of Shigley, table 14-2.
"""

import math

import pytest

from gearlab.parts.review import review

from .drives import KIT, MESH, PINION, WHEEL, finding, holds, mended, outcomes, unmade, with_rack

Y18, Y45 = 0.309, 0.4008  # 18 teeth; 45 between 43 (0.397) and 50 (0.409), in proportion to 1/teeth


def held(row, design, where):
    return next(one for one in outcomes(row, design) if one.where == where)


def test_a_load_must_be_stated_where_something_runs():
    assert holds("load", KIT)
    assert unmade("load", KIT.with_(load=None)).decisive
    assert not review(KIT.with_(load=None)).passes
    alone_on_its_shaft = KIT.with_(mesh={MESH: None}, load=None)
    assert outcomes("load", alone_on_its_shaft) == []
    assert unmade("load", with_rack().with_(mesh={MESH: None}, load=None)).decisive


def test_a_missing_load_hides_nothing():
    """Whatever else is found with a load is found without one, the load's own findings apart."""
    wrong = KIT.with_(design={"ratio": 3}, gear={WHEEL: {"bore": 9}}, shaft={"vent": {"length": 30}})
    assert set(review(wrong).names) <= set(review(wrong.with_(load=None)).names)


def test_the_teeth_bear_the_load_over_the_face_in_mesh():
    """1.93 N m on 18 teeth: 85.8 N over 12 mm of face, module 2.5."""
    force = 1.93 / 0.0225
    assert held("teeth under load", KIT, PINION).number == pytest.approx(force / (12 * 2.5 * Y18), rel=1e-3)
    assert held("teeth under load", KIT, WHEEL).number == pytest.approx(force / (12 * 2.5 * Y45), rel=1e-3)
    # raised by 4 mm (and all of it still on the shaft), the wheel has 14/2 + 12/2 - 4 = 9 mm in common
    heights = KIT.with_(gear={WHEEL: {"gap": 6.5}}, shaft={"vent": {"length": 50}})
    assert KIT.face_height(PINION) == pytest.approx(KIT.face_height(WHEEL))
    assert held("teeth under load", heights, PINION).number == pytest.approx(
        force / (9 * 2.5 * Y18), rel=1e-3
    )
    missed = KIT.with_(gear={WHEEL: {"gap": 30}})
    assert "miss" in unmade("teeth under load", missed).why


def test_teeth_that_are_overloaded():
    heavy = KIT.with_(load={"torque": 6, "slip_torque": 7})
    told = finding("teeth under load", heavy, "teeth-overloaded", PINION)
    assert f"{6 / 0.0225 / (12 * 2.5 * Y18):.2f} MPa" in told.what
    assert len(told.edits) == 2
    mended(heavy, "teeth-overloaded", PINION)
    hopeless = KIT.with_(load={"torque": 600, "stall_torque": None, "slip_torque": None})
    (edit,) = finding("teeth under load", hopeless, "teeth-overloaded", PINION).edits
    assert edit["load"]["torque"] == pytest.approx(20 * 12 * 2.5 * Y18 * 0.0225, rel=0.05)


def test_the_torque_grows_along_the_train_and_loses_on_its_way():
    """2.5 times 1.93 N m less a tenth come to the wheel; a mesh is loaded by what goes into it."""
    lossy = KIT.with_(mesh={MESH: {"efficiency": 0.9}})
    assert lossy.torques["vent"] == pytest.approx(2.5 * 1.93 * 0.9)
    assert held("teeth under load", lossy, WHEEL).number == pytest.approx(
        held("teeth under load", KIT, WHEEL).number
    )


@pytest.mark.parametrize("material", ["", "oak"])
def test_a_stress_that_is_not_stated_decides(material):
    unknown = KIT.with_(gear={PINION: {"allowable_stress": None, "material": material}})
    assert unmade("teeth under load", unknown).decisive and not review(unknown).passes


def test_a_material_of_the_makers_table_says_its_stress():
    """10,000 psi of bronze are 68.95 MPa."""
    bronze = KIT.with_(gear={PINION: {"allowable_stress": None, "material": "bronze"}})
    assert held("teeth under load", bronze, PINION).limit == pytest.approx(68.948, abs=1e-3)


def test_a_rack_loads_its_pinion_without_any_mesh():
    """500 N m on 22.5 mm are 22,222 N over the pinion's 14 mm."""
    drawn = with_rack().with_(
        mesh={MESH: None}, gear={WHEEL: None}, load={"torque": 500}, design={"ratio": None, "direction": None}
    )
    told = finding("teeth under load", drawn, "teeth-overloaded", PINION)
    stress = 500 / 0.0225 / (14 * 2.5 * Y18)
    assert float(told.what.split("about ")[1].split(" MPa")[0].replace(",", "")) == pytest.approx(
        stress, rel=5e-3
    )
    assert unmade("teeth under load", drawn.with_(gear={PINION: {"allowable_stress": None}})).decisive


def test_teeth_at_stall():
    """The clutch lets 4 of the motor's 10 N m through."""
    assert holds("teeth at stall", KIT)
    assert held("teeth at stall", KIT, PINION).number == pytest.approx(
        4 / 0.0225 / (12 * 2.5 * Y18), rel=1e-3
    )
    jammed = KIT.with_(load={"slip_torque": None})
    assert finding("teeth at stall", jammed, "teeth-break-at-stall", PINION).grade == "will trouble"
    assert not any(ledger.fails for ledger in mended(jammed, "teeth-break-at-stall", PINION)[:1])
    assert unmade("teeth at stall", KIT.with_(load={"slip_torque": None, "stall_torque": None}))


@pytest.mark.parametrize(
    ("word", "name"), [("stall_torque", "stall-below-running"), ("slip_torque", "clutch-slips")]
)
def test_motor_and_clutch_pull_more_than_the_load(word, name):
    assert holds("motor and clutch", KIT)
    for torque in (1.0, 1.93):
        weak = KIT.with_(load={word: torque})
        assert finding("motor and clutch", weak, name).grade == "will not work"
        assert not review(weak).passes
        mended(weak, name, "the drive")
    assert not unmade("motor and clutch", KIT.with_(load={word: None})).decisive


def test_speeds():
    """18 teeth of module 2.5 at 15 rpm: pi 0.045 m x 0.25 / s = 0.0353 m/s."""
    assert holds("speeds", KIT)
    assert held("speeds", KIT, MESH).number == pytest.approx(math.pi * 0.045 * 0.25)
    fast = KIT.with_(load={"speed": 100_000})
    assert finding("speeds", fast, "runs-too-fast", MESH).grade == "will not work"
    assert "236 m/s" in finding("speeds", fast, "runs-too-fast", MESH).what
    mended(fast, "runs-too-fast", MESH)
    mended(fast, "runs-too-fast", "shaft crank")
    # 2000 ft/min are 10.16 m/s: 4312 rpm of this pinion
    assert finding("speeds", KIT.with_(load={"speed": 4400}), "runs-too-fast").grade == "will trouble"
    assert holds("speeds", KIT.with_(load={"speed": -2000}))
    assert unmade("speeds", KIT.with_(load={"speed": None}))


def test_a_shaft_rubs_in_its_hole():
    """10 mm at 15,000 rpm rub with 7.9 m/s, whatever the small gear does."""
    assert finding("speeds", KIT.with_(load={"speed": 15_000}), "runs-too-fast", "shaft crank")


def test_heat():
    """1.93 N m at 3000 rpm are 606 W: a tenth of it warms 0.0144 + 0.0242 m2 at 10 W/(m2 K)."""
    hot = KIT.with_(load={"speed": 3000}, mesh={MESH: {"efficiency": 0.9}})
    surface = sum(math.pi * d * (d / 2 + b) for d, b in ((0.045, 0.014), (0.1125, 0.012)))
    warming = 0.1 * 1.93 * 3000 * 2 * math.pi / 60 / (10 * surface)
    told = finding("heat", hot, "runs-hot")
    assert float(told.what.split("by ")[-1].split(" K")[0]) == pytest.approx(warming, rel=0.005)
    mended(hot, "runs-hot", MESH)
    assert holds("heat", KIT) and outcomes("heat", KIT.with_(load={"speed": None})) == []


def test_a_lifted_load_is_held():
    assert holds("brake", KIT)
    loose = KIT.with_(load={"brake": False})
    assert finding("brake", loose, "load-falls-back")
    assert all(ledger.passes for ledger in mended(loose, "load-falls-back", "the drive"))
    assert outcomes("brake", KIT.with_(load={"lifts": False, "brake": False})) == []


def test_inches():
    """20 lbf in on 18 teeth of 10 to the inch: 22.2 lbf over 0.5 in: stress = F P / (b Y)."""
    gears = [
        {
            "name": name,
            "shaft": shaft,
            "teeth": teeth,
            "diametral_pitch": 10,
            "face_width": 0.5,
            "gap": 0.1,
            "bore": 0.375,
            "fit": "sliding",
            "allowable_stress": 5000,
        }
        for name, shaft, teeth in (("p", "A", 18), ("w", "B", 45))
    ]
    design = type(KIT)(
        design={"name": "inch", "unit": "in"},
        plate={"length": 8, "height": 6, "thickness": 0.25},
        shaft=[
            {"name": name, "x": x, "y": 3, "diameter": 0.375, "length": 1}
            for name, x in (("A", 2), ("B", 5.155))
        ],
        gear=gears,
        mesh=[{"driver": "p", "driven": "w"}],
        load={"torque": 20, "speed": 60},
    )
    assert held("teeth under load", design, "p").number == pytest.approx(
        20 / 0.9 * 10 / (0.5 * Y18), rel=1e-3
    )
    assert held("speeds", design, "p with w").number == pytest.approx(math.pi * 1.8 / 12 * 60)
