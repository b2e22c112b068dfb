"""One record a part, and the block of tooth data: held against formulas of the trade worked out here."""

import math
from pathlib import Path

import pytest

from gearlab import Design
from gearlab.parts.design import read_design
from gearlab.parts.made import BoughtPart, GearPart, parts_of, tooth_data, wanted_backlash

KIT = read_design(Path(__file__).parents[3] / "notebooks" / "vent_drive.toml")
PINION, WHEEL = "pinion_18T_m2p5_bore10_L27", "wheel_45T_m2p5_bore10_L25"


def inv(angle):
    return math.tan(angle) - angle


def span(teeth, over, module, thinning, angle=math.radians(20)):
    """Base tangent length by the formula of the trade (ISO 21771), less what the thinning takes."""
    plain = math.cos(angle) * (math.pi * (over - 0.5) + teeth * inv(angle)) * module
    return plain - thinning * math.cos(angle)


def test_every_piece_of_the_kit_is_a_part():
    parts = parts_of(KIT)
    kinds = ["plate", *["shaft"] * 2, *["gear"] * 2, *["set screw", "washers"] * 2, *["collar"] * 2]
    assert [part.kind for part in parts.parts] == kinds
    assert not parts.left_out and len({part.name for part in parts.parts}) == len(parts.parts)
    pinion = parts.of(PINION)
    assert isinstance(pinion, GearPart) and pinion.overall_length == 27 and pinion.foot == 1.5
    # ISO 286-2: H7 of 10 mm is 0 to 15 um; M5 coarse is tapped from 4.2 mm (common practice)
    assert (pinion.bore.low, pinion.bore.high) == pytest.approx((10, 10.015))
    assert pinion.screw.tap_drill == pytest.approx(4.2) and pinion.screw.place == 6.5
    with pytest.raises(ValueError, match="there is no part 'idler'"):
        parts.of("idler")


def test_bodies_stand_on_each_other():
    pinion = parts_of(KIT).of(PINION)
    assert [(body.what, body.low, body.high, body.radius) for body in pinion.bodies] == [
        ("hub", 0, 13, 14),
        ("face", 13, 27, 25),
    ]


def test_flats_lie_where_the_gears_sit():
    """Behind the plate 8.5, plate 6, washers 1.5: the gear of 27 sits from 16 to 43 mm (by hand)."""
    (flat,) = parts_of(KIT).of("crank").flats
    assert (flat.low, flat.high, flat.depth) == (16, 43, 0.5)


def test_a_keyway_takes_its_width_from_the_standard():
    """DIN 6885-1: a shaft of 10 mm has a key of 3 x 3, 1.8 deep in the shaft."""
    without = dict.fromkeys(("set_screw", "screw_length", "drill_depth", "flat"))
    design = KIT.with_(gear={WHEEL: {"keyway_depth": 1.4, **without}})
    parts = parts_of(design)
    assert parts.of(WHEEL).keyway.width == 3 and parts.of("vent").keyways[0].depth == 1.8
    keys = [part for part in parts.parts if isinstance(part, BoughtPart) and part.kind == "key"]
    assert [part.size for part in keys] == ["3 x 3 x 25 mm"]


def test_the_plate_says_its_spacing_as_such():
    (spacing,) = parts_of(KIT).of("plate_220x160x6").spacings
    assert spacing.distance == 78.75 and 0 < spacing.within <= 0.05


@pytest.mark.parametrize("name, teeth, over", [(PINION, 18, 3), (WHEEL, 45, 6)])
def test_span_and_its_limits(name, teeth, over):
    """Half of what the play may change is taken from each gear: its span changes by cos 20 of it."""
    data = tooth_data(KIT, name)
    least, most = wanted_backlash(KIT, KIT.mesh[0])
    assert (least, most) == (KIT.mesh[0].least_backlash, KIT.mesh[0].most_backlash)
    measure = data.measures[0]
    assert measure.how == data.take == f"span over {over} teeth"
    now = 0.1  # play at the reference distance: the two thinnings of 0.05
    assert measure.nominal == pytest.approx(span(teeth, over, 2.5, 0.05), abs=1e-9)
    assert measure.high == pytest.approx(span(teeth, over, 2.5, 0.05 - (now - least) / 2), abs=1e-9)
    assert measure.low == pytest.approx(span(teeth, over, 2.5, 0.05 + (most - now) / 2), abs=1e-9)
    rows = dict(data.rows)
    assert rows["module"] == "2.5 mm" and rows["root diameter"].startswith(f"{2.5 * (teeth - 2.5):.3f}")


def test_sets_and_pairs_are_parts_or_are_left_out_with_a_reason():
    design = Design(
        design={"name": "set"},
        planetary={"sun": 24, "planet": 18, "ring": 60, "planets": 3, "module": 2},
        bevel=[{"teeth": [20, 30], "module": 2.5}, {"name": "bought corner", "teeth": [20, 20]}],
    )
    parts = parts_of(design)
    assert [(part.name, part.quantity) for part in parts.parts] == [
        ("mitre pair driver", 1),
        ("mitre pair driven", 1),
        ("planetary set sun", 1),
        ("planetary set planet", 3),
        ("planetary set ring", 1),
    ]
    ((name, why),) = parts.left_out
    assert name == "bought corner" and "give module [mm] or diametral_pitch" in why
