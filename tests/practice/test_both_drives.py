"""Lessons 10 to 18 on both drives: the lines of each lesson's cell for inches, run on either file.

What comes out is worked out here once more from the numbers of the file as a bench does it (common
practice), with one tooth's share of the pitch diameter: the module, or one over the diametral pitch.
"""

import ast
import json
import math
import re
import tomllib
from types import SimpleNamespace

import pytest

from gearlab.contents import content_folder

NOTEBOOKS = content_folder("notebooks")
LESSONS = sorted(path.stem for path in NOTEBOOKS.glob("1[0-8]_*.ipynb"))
DRIVES = ("vent_drive", "vent_drive_inch")


def cells(lesson):
    read = json.loads((NOTEBOOKS / f"{lesson}.ipynb").read_text(encoding="utf-8"))
    return {cell["id"]: "".join(cell["source"]) for cell in read["cells"] if cell["cell_type"] == "code"}


def run(lesson, drive):
    """The names that the lesson's cell leaves, with that drive in it."""
    number, sources = lesson[:2], cells(lesson)
    imports, lines = sources[f"lesson-{number}-01"], sources[f"lesson-{number}-inch-1"]
    assert lines.count("vent_drive_inch.toml") == 1
    *before, last = ast.parse(lines.replace("vent_drive_inch.toml", f"{drive}.toml")).body
    assert isinstance(last, ast.Expr)
    space = {}
    exec(imports, space)  # noqa: S102 (the project's own lesson)
    exec(compile(ast.Module(before, []), lesson, "exec"), space)  # noqa: S102
    space["shown"] = eval(compile(ast.Expression(last.value), lesson, "eval"), space)  # noqa: S307
    return space


@pytest.fixture(params=DRIVES)
def drive(request):
    """A drive as its file says it: pinion, wheel, their shafts, plate, load, and the size of a tooth."""
    read = tomllib.loads((NOTEBOOKS / f"{request.param}.toml").read_text(encoding="utf-8"))
    pinion, wheel = (SimpleNamespace(**gear) for gear in read["gear"])
    crank, vent = (SimpleNamespace(**shaft) for shaft in read["shaft"])
    inch = read["design"].get("unit") == "in"
    return SimpleNamespace(
        name=request.param,
        inch=inch,
        tooth=1 / read["gear"][0]["diametral_pitch"] if inch else read["gear"][0]["module"],
        pinion=pinion,
        wheel=wheel,
        crank=crank,
        vent=vent,
        plate=SimpleNamespace(**read["plate"]),
        load=SimpleNamespace(**read["load"]),
    )


# The explorer at the end of the cell, as it names itself: metric, inch.
SHOWN = {
    "10_on_the_plate": ("220 by 160 mm", "8 by 6 in"),
    "11_hub_bore_key": ("hub 28 mm, bore 10 mm", "hub 0.875 in, bore 0.375 in"),
    "12_power_and_tooth_load": ("N, 18 teeth", "lbf, 18 teeth"),
    "13_rack_and_pinion": ("module 2.5", "P 12"),
    "15_planetary_sets": ("module 2.5", "P 12"),
    "16_choosing_tooth_counts": ("78.75 mm", "2.625"),
    "17_measuring": ("module 2.5", "P 12"),
}


@pytest.mark.parametrize("lesson", SHOWN)
def test_the_explorer_shows_the_drive(lesson, drive):
    assert SHOWN[lesson][drive.inch] in str(run(lesson, drive.name)["shown"])


def test_each_bench_lesson_has_its_cell_for_inches():
    assert len(LESSONS) == 9
    for lesson in LESSONS:
        assert f"lesson-{lesson[:2]}-inch-1" in cells(lesson), lesson


def test_on_the_plate(drive, capsys):
    space, one, two = run("10_on_the_plate", drive.name), drive.pinion, drive.wheel
    apart = drive.tooth * (one.teeth + two.teeth) / 2
    assert space["other"] == pytest.approx((drive.crank.x + apart, drive.crank.y))
    assert space["room"]["left"] == pytest.approx(drive.crank.x - drive.tooth * (one.teeth + 2) / 2)
    beyond = drive.plate.length - drive.crank.x - apart - drive.tooth * (two.teeth + 2) / 2
    assert space["room"]["right"] == pytest.approx(beyond)
    assert space["heights"] == pytest.approx(
        [gear.gap + gear.hub_projection + gear.face_width / 2 for gear in (one, two)]
    )
    along = drive.vent.behind + drive.plate.thickness + two.gap + two.hub_projection + two.face_width
    assert space["needed"] == pytest.approx(along + drive.vent.end)
    assert space["needed"] <= drive.vent.length
    assert (" in " if drive.inch else " mm ") in capsys.readouterr().out


def test_hub_and_screw(drive):
    space = run("11_hub_bore_key", drive.name)
    for gear in (drive.pinion, drive.wheel):
        hub, wall = space["twin"].hubs[gear.name], (gear.hub_diameter - gear.bore) / 2
        assert hub.drill_window == pytest.approx((wall, wall + gear.bore))
        assert hub.longest_screw == pytest.approx(wall + gear.flat) and hub.longest_screw >= gear.screw_length
    # an estimate, as the lesson says: a cup point M5 holds about 1200 N, a #10 half of the 540 lbf of the
    # tables (both from memory), less or more by three tenths
    force = 270 if drive.inch else 1200
    for shaft, torque in (("crank", drive.load.torque), ("vent", 2.5 * drive.load.torque)):
        held = force * drive.pinion.bore / 2 / (1 if drive.inch else 1000)
        assert space["held"][shaft] == pytest.approx((0.7 * held / torque, 1.3 * held / torque), rel=0.005)


def test_tooth_load(drive):
    space = run("12_power_and_tooth_load", drive.name)
    face, form = min(drive.pinion.face_width, drive.wheel.face_width), 0.309  # 18 teeth: Shigley, table 14-2
    for state, torque in (("running", drive.load.torque), ("stalled", drive.load.stall_torque)):
        push = 2 * torque * (1 if drive.inch else 1000) / (drive.tooth * 18)
        assert space["bent"][state] == pytest.approx(push / (face * drive.tooth * form), rel=1e-3)


def test_rack(drive):
    space = run("13_rack_and_pinion", drive.name)
    bar, way = space["bar"], 16 if drive.inch else 400
    pitch = math.pi * drive.tooth
    assert bar.travel_per_turn == pytest.approx(20 * pitch)
    assert bar.turns_for(way) == pytest.approx(way / (20 * pitch))
    assert bar.rack.toothed_length == pytest.approx(bar.rack.teeth * pitch)
    assert bar.rack.teeth >= way / pitch + 2


def test_mitre_pair(drive):
    space = run("14_mitre_and_bevel", drive.name)
    corner, cones = space["corner"], space["shown"]
    assert cones.diametral_pitch == 12 if drive.inch else cones.module == 2.5
    assert corner.cone_angles == pytest.approx((45, 45))
    assert corner.outside_diameters[0] == pytest.approx((20 + math.sqrt(2)) * drive.tooth)
    assert corner.cone_distance == pytest.approx(20 * drive.tooth / math.sqrt(2))
    assert corner.largest_face == pytest.approx(20 * drive.tooth / math.sqrt(2) / 3)


def test_planetary_set(drive):
    fist = run("15_planetary_sets", drive.name)["fist"]
    assert fist.ring_teeth == 24 + 2 * 18 and fist.ratio("sun", "carrier") == 1 + 60 / 24
    assert fist.carrier_radius == pytest.approx(21 * drive.tooth)
    assert fist.planet_gap == pytest.approx((42 * math.sin(math.pi / 3) - 20) * drive.tooth)


def test_tooth_counts(drive):
    space = run("16_choosing_tooth_counts", drive.name)
    assert space["apart"] == pytest.approx(63 * drive.tooth / 2) and space["tooth"] == pytest.approx(
        drive.tooth
    )
    hunting = {
        (n, 63 - n) for n in range(18, 46) if math.gcd(n, 63) == 1 and abs((63 - n) / n / 2.5 - 1) <= 0.2
    }
    assert {(pair.driver_teeth, pair.driven_teeth) for pair in space["hunting"]} == hunting
    assert (space["offers"][0].driver_teeth, space["offers"][0].driven_teeth) == (18, 45)


def test_measuring(drive):
    space = run("17_measuring", drive.name)
    slope, thin = math.radians(20), drive.pinion.tooth_thinning
    involute = math.tan(slope) - slope
    span = drive.tooth * math.cos(slope) * (2.5 * math.pi + 18 * involute) - thin * math.cos(slope)
    assert space["small"].span(3) == pytest.approx(span)
    assert space["pin"] == pytest.approx(1.728 * drive.tooth)
    base = 18 * drive.tooth * math.cos(slope)
    wanted = involute + space["pin"] / base - math.pi / 36 - thin / (18 * drive.tooth)
    low, high = 0.0, 1.0
    for _ in range(60):
        angle = (low + high) / 2
        low, high = (angle, high) if math.tan(angle) - angle < wanted else (low, angle)
    assert space["small"].over_pins(space["pin"]) == pytest.approx(base / math.cos(low) + space["pin"])


def test_review(drive, capsys):
    space = run("18_design_review", drive.name)
    assert re.search(
        r"the review of the twin: sound, with 19 teeth: .*shafts-too-near", capsys.readouterr().out
    )
    before, after = space["steps"][f"{drive.pinion.name}: teeth"]
    assert (before, after) == (18, 19) and len(space["steps"]) > 20
    outside = space["steps"][f"{drive.pinion.name}: outside_diameter"]
    assert outside == pytest.approx((20 * drive.tooth, 21 * drive.tooth))
