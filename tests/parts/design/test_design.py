"""A design travels: built, read, changed, written again; its drive runs from the first shaft to the last."""

import tomllib
from pathlib import Path

import pytest

from gearlab import Design
from gearlab.parts.design import read_design
from gearlab.parts.review import moved, review

FOLDER = Path(__file__).parents[3] / "notebooks"
KIT = (FOLDER / "vent_drive.toml").read_text(encoding="utf-8")
WHEEL = "wheel_45T_m2p5_bore10_L25"


def pair(**more):
    """Two gears of 24 to the inch, 30 and 60 teeth, on a plate; their shafts 1.875 in apart."""
    size = {"diametral_pitch": 24, "face_width": 0.25, "bore": 0.25}
    return Design(
        **{
            "design": {"name": "small drive", "unit": "in"},
            "plate": {"length": 6, "height": 4, "thickness": 0.25},
            "shaft": [
                {"name": "A", "x": 2, "y": 2, "diameter": 0.25},
                {"name": "B", "x": 3.875, "y": 2, "diameter": 0.25},
            ],
            "gear": [
                {"name": "pinion", "shaft": "A", "teeth": 30, **size},
                {"name": "wheel", "shaft": "B", "teeth": 60, **size},
            ],
            "mesh": [{"driver": "pinion", "driven": "wheel"}],
            "load": {"torque": 2, "speed": 100},
        }
        | more
    )


def test_one_unit_and_everything_reached_from_it():
    """24 to the inch with 30 and 60 teeth stands 1.875 in apart (common practice)."""
    design = pair()
    assert design.unit == "in" and design.distance("pinion", "wheel") == 1.875
    assert design.mesh_of(design.mesh[0]).reference_centre_distance == pytest.approx(1.875, abs=1e-12)
    assert design.ratio == 2 and design.turns == {"A": 1.0, "B": -0.5}
    assert design.speeds == {"A": 100, "B": -50} and design.torques == {"A": 2, "B": 4}
    assert design.load_of(design.mesh[0]).tangential_force == pytest.approx(2 / 0.625)  # torque over radius


def test_losses_take_their_share_of_the_torque():
    design = pair().with_(mesh={"pinion with wheel": {"efficiency": 0.96}})
    assert design.torques["B"] == pytest.approx(2 * 2 * 0.96)


def test_it_never_changes():
    design = pair()
    with pytest.raises(ValueError, match="frozen"):
        design.gear[0].teeth = 31
    with pytest.raises(ValueError, match="frozen"):
        design.plate = None
    assert design.with_(gear={"pinion": {"teeth": 31}}) != design == pair()


def test_comments_and_order_of_the_reader_s_file_are_kept():
    after = read_design(KIT).with_(gear={WHEEL: {"teeth": 48}}, plate={"length": 240}, load={"brake": None})
    before, now = KIT.splitlines(), after.toml.splitlines()
    left, new = [line for line in before if line not in now], [line for line in now if line not in before]
    assert left == ["length = 220", "teeth = 45", "brake = true"] and new == ["length = 240", "teeth = 48"]
    assert read_design(after.toml) == after


@pytest.mark.parametrize("name", ["vent_drive.toml", "vent_drive_inch.toml"])
def test_written_and_read_again_it_is_the_same(name, tmp_path):
    design = read_design(FOLDER / name)
    again = read_design(design.write(tmp_path / name))
    assert again == design and again.toml == design.toml
    assert read_design(Design(**tomllib.loads(design.toml)).toml) == design  # without a file of its own


def test_members_are_added_and_taken_out():
    design = pair().with_(
        shaft={"cross": {"diameter": 0.25}},
        bevel={"corner": {"teeth": [20, 20], "diametral_pitch": 16, "driver": "B", "driven": "cross"}},
        rack={
            "bar": {"pinion": "wheel", "teeth": 80, "travel": 4, "pitch_height": 0.25, "mounting_height": 1.5}
        },
    )
    assert design.turns["cross"] == 0.5 and design.last_shaft == "cross"
    assert [rack.name for rack in design.rack] == ["bar"]
    assert design.rack_drive_of(design.rack[0]).travel_per_turn == pytest.approx(2.5 * 3.141592653589793)
    assert design.with_(shaft={"cross": None}, bevel={"corner": None}, rack={"bar": None}) == pair()
    with pytest.raises(ValueError, match="'idler' is not there"):
        design.with_(gear={"idler": None})


def test_a_new_name_is_followed():
    design = pair(
        measured=[{"part": "pinion with wheel", "quantity": "hole_spacing", "value": 1.9, "reads_to": 0.001}]
    )
    after = design.with_(gear={"pinion": {"name": "crank_pinion"}}, shaft={"A": {"name": "crank"}})
    assert after.mesh[0].driver == "crank_pinion" and after.of("crank_pinion").shaft == "crank"
    assert after.measured[0].part == "crank_pinion with wheel"


@pytest.mark.parametrize(
    "held, driver, driven, ratio",
    # worked by hand from the formula of the trade: with sun S and ring R, ring held 1 + R/S; carrier held R/S
    [("ring", "sun", "carrier", 1 + 60 / 24), ("carrier", "sun", "ring", 60 / 24)],
)
def test_motion_runs_through_a_planetary_set(held, driver, driven, ratio):
    design = Design(
        design={"name": "reducer"},
        shaft=[{"name": "in", "diameter": 8}, {"name": "out", "diameter": 8}],
        planetary={
            "sun": 24,
            "planet": 18,
            "ring": 60,
            "planets": 3,
            "module": 1.5,
            "held": held,
            f"{driver}_shaft": "in",
            f"{driven}_shaft": "out",
        },
        load={"torque": 1.5, "shaft": "in"},
    )
    assert design.ratio == pytest.approx(ratio) and design.torques["out"] == pytest.approx(1.5 * ratio)
    assert (design.turns["out"] > 0) == (held == "ring")


def test_a_ring_turns_with_its_pinion():
    design = pair(
        gear=[
            {"name": "pinion", "shaft": "A", "teeth": 20, "module": 2, "face_width": 8, "bore": 6},
            {
                "name": "ring",
                "shaft": "B",
                "teeth": 60,
                "module": 2,
                "face_width": 8,
                "bore": 6,
                "internal": True,
                "rim_diameter": 140,
            },
        ],
        design={"name": "in a ring"},
        mesh=[{"driver": "pinion", "driven": "ring"}],
        shaft=[
            {"name": "A", "x": 100, "y": 100, "diameter": 6},
            {"name": "B", "x": 140, "y": 100, "diameter": 6},
        ],
    )
    assert design.turns["B"] == pytest.approx(1 / 3) and set(design.rings) == {"ring"}
    assert design.mesh_of(design.mesh[0]).centre_distance == 40  # half the difference of the pitch diameters


def test_a_rack_alone_and_a_mitre_pair_alone_are_designs():
    rack = Design(
        design={"name": "bar"},
        rack={"teeth": 54, "module": 2.5, "travel": 300, "pitch_height": 12.5, "mounting_height": 37.5},
    )
    assert rack.rack_of(rack.rack[0]).teeth == 54 and rack.ratio is None
    corner = Design(design={"name": "corner"}, bevel=[{"teeth": [20, 20], "module": 2.5}])
    assert corner.bevel_of(corner.bevel[0]).mitre
    for ask, says in (
        (lambda: rack.board, "has no plate"),
        (lambda: rack.rack_drive_of(rack.rack[0]), "no pinion"),
    ):
        with pytest.raises(ValueError, match=says):
            ask()


@pytest.mark.parametrize(
    "edits, says",
    [
        ({"gear": {"wheel": {"tooth": 48}}}, "tooth is not known there: did you mean teeth"),
        ({"plate": 240}, "plate = 240 is no edit: give fields and their values"),
        ({"gear": {"wheel": 48}}, "gear 'wheel' = 48 is no edit"),
        ({"gear": {"wheel": {"teeth": 2}}}, "teeth = 2"),
        ({"wheels": {"a": {"teeth": 4}}}, r"\[wheels\] is not a table of a design"),
        ({"mesh": {"pinion": {"efficiency": 0.9}}}, "'pinion' names none; write 'driver with driven'"),
        ({"load": {"shaft": "C"}}, "load: shaft 'C' is not in the file; there are A, B"),
        ({"rack": {"bar": {"pinion": "third", "teeth": 9, "travel": 1, "pitch_height": 1, "mounting_height":
        1}}}, "pinion 'third'"), ({"measured": {"wheel thickness": {"value": 1, "reads_to": 0.1}}},
        "thickness is that of a plate"),
    ],
)  # fmt: skip
def test_an_edit_that_does_not_fit_is_refused(edits, says):
    with pytest.raises(ValueError, match=says):
        pair().with_(**edits)


def test_a_mesh_written_twice_says_nothing_new():
    twice = pair(mesh=[{"driver": "pinion", "driven": "wheel"}] * 2)
    assert twice.turns == pair().turns and twice.torques == pair().torques
    assert review(twice).names == review(pair()).names


def test_what_moved_says_numbers_and_findings():
    """A wheel of 64 teeth where 60 stood: by hand, 2.5 in becomes 64/24; the holes are 2/24 in too near."""
    before = pair()
    change = moved(before, before.with_(gear={"wheel": {"teeth": 64}}))
    assert change["wheel: pitch_diameter"] == pytest.approx((2.5, 64 / 24))
    assert change["the drive: ratio"] == pytest.approx((2, 64 / 30))
    assert "shafts-too-near" in [finding.name for finding in change.came]
    assert [finding.name for finding in change.went] == ["no-play"]  # the play that was none is not one
    assert "came: [will not work]" in str(change) and str(moved(before, before)) == "Nothing moves."
    back = moved(before.with_(gear={"wheel": {"teeth": 64}}), before)
    assert (back.went, back.came) == (change.came, change.went)


def test_a_fault_names_the_unit_of_its_field():
    """An efficiency has no unit, an angle degrees, a force newtons, a shear stress megapascals."""
    pair = {"driver": "a", "driven": "b", "efficiency": 1.2}
    rack = {"teeth": 20, "module": 2, "travel": 60, "pitch_height": 8, "mounting_height": 28}
    for tables, words in (
        ({"mesh": [pair]}, "efficiency = 1.2 cannot be used: give a number above 0 to 1"),
        ({"rack": rack | {"force": -1}}, "force = -1 N cannot be used"),
        ({"rack": rack | {"angle": 400}}, "angle = 400 deg cannot be used"),
        ({"shaft": [{"name": "a", "diameter": 8, "allowable_shear": -1}]}, "-1 MPa cannot be used"),
    ):
        with pytest.raises(ValueError) as refused:
            Design(design={"name": "units"}, **{"rack": rack} | tables)
        assert words in str(refused.value) and "1.2 mm" not in str(refused.value)
