"""The review checklist: its task, its live numbers, what it says of the drive's commonest failures.

Numbers of the vent drive, worked by hand: 2.5 (18 + 45) / 2 = 78.75 mm between the holes; from the outside
diameters (50 + 117.5) / 2 = 83.75 mm come out; a hub of 28 on a bore of 10 has a wall of 9 mm, with the flat
of 0.5 a screw of 9.5 mm stays below the surface; the wheel's tips reach 53.75 + 78.75 + 58.75 = 191.25 mm;
along the vent shaft 8.5 + 6 + 2.5 + 25 + 3 = 45 mm.
"""

from pathlib import Path

import pytest
import traitlets

from gearlab import drawing, read_design, review
from gearlab.parts import Gear
from gearlab.widgets import ReviewChecklist


def kinds(widget):
    return [one["kind"] for one in widget.warnings]


def test_it_begins_with_holes_set_from_the_outside_diameters():
    checks = ReviewChecklist()
    assert checks.hole_spacing == (50 + 117.5) / 2 and checks.findings.names == ("tips-do-not-reach",)
    assert kinds(checks) == ["task", "warning"] and "one change" in checks.warnings[0]["text"]
    assert "Set the holes 78.75 mm apart" in checks.warnings[1]["advice"] and "do not reach" in checks.text
    assert checks.value("centre_distance") == 78.75 and checks.value("hole_spacing") == 83.75
    assert checks.heading == "Vent drive, 1 finding"


def test_one_change_repairs_it_and_is_praised():
    checks = ReviewChecklist()
    checks.hole_spacing = 78.75
    assert kinds(checks) == ["task", "good"] and checks.warnings[-1]["text"].startswith(
        "Repaired with one change, the spacing of the holes"
    )
    assert checks.value("backlash") == pytest.approx(0.1)  # both gears are thinned by 0.05 mm
    assert (
        checks.value("screw_room") == 9.5
        and checks.value("edge_margin") == pytest.approx(28.75)
        and checks.value("shaft_length") == 45.0
    )
    assert checks.heading == "Vent drive, 0 findings" and checks.text.endswith("the teeth mesh.")


def test_other_teeth_are_another_repair_of_two_numbers():
    checks = ReviewChecklist()
    checks.driver_teeth = 19
    checks.hole_spacing = 80.0  # 2.5 (19 + 45) / 2; 45/19 is 5.3 % below 2.5
    assert (
        kinds(checks)[-1] == "good"
        and "2 numbers" in checks.warnings[-1]["text"]
        and checks.changed == ("driver_teeth", "hole_spacing")
    )


@pytest.mark.parametrize(
    "name, value, finding",
    [
        ("hole_spacing", 78.5, "shafts-too-near"),
        ("hole_spacing", 80.0, "loose-mesh"),
        ("plate_length", 145.0, "hole-near-edge"),
        ("hub_diameter", 40.0, "hub-fills-spaces"),
        ("hub_diameter", 14.0, "thin-wall"),
        ("screw_length", 10.0, "screw-stands-out"),
        ("screw_length", 4.0, "screw-too-short"),
        ("washers", 3.0, "shaft-too-short"),
        ("washers", 0.0, "faces-partly-miss"),
        ("driver_teeth", 20, "ratio-missed"),
        ("driver_teeth", 16, "undercut"),
    ],
)
def test_each_number_can_spoil_the_sound_design(name, value, finding):
    checks = ReviewChecklist(hole_spacing=78.75)
    assert kinds(checks) == ["task", "good"]
    setattr(checks, name, value)
    assert finding in checks.findings.names
    assert ("good" in kinds(checks)) == checks.findings.passes == (finding == "tips-over-edge")
    alarms = [
        cell["word"]
        for table in checks.readout
        for row in table["rows"]
        for cell in row["cells"]
        if cell["alarm"]
    ]
    assert alarms or finding in ("undercut", "screw-too-short"), "the number that is wrong is marked"


def test_every_corner_of_the_controls_gives_a_picture_and_an_answer():
    checks = ReviewChecklist()
    for name, ends in {
        "driver_teeth": (10, 30),
        "hole_spacing": (66.0, 100.0),
        "plate_length": (140.0, 260.0),
        "hub_diameter": (14.0, 46.0),
        "screw_length": (3.0, 20.0),
        "washers": (0.0, 12.0),
    }.items():
        for end in ends:
            setattr(checks, name, end)
            assert kinds(checks)[0] == "task" and len(kinds(checks)) > 1 and "stop" not in kinds(checks), (
                name,
                end,
            )


def test_numbers_explain_themselves():
    checks = ReviewChecklist()
    for word, said in (
        ("centre_distance", "78.75"),
        ("ratio", "2.5"),
        ("screw_room", "9.5"),
        ("root_diameter", "38.75"),
    ):
        checks.asked = word
        assert said in checks.explanation["html"], word


@pytest.mark.parametrize(
    "name, value, said",
    [
        ("hole_spacing", 20.0, "66 to 100 mm"),
        ("driver_teeth", 40, "10 to 30 teeth"),
        ("washers", -1.0, "0 to 12 mm"),
    ],
)
def test_limits(name, value, said):
    with pytest.raises(ValueError, match=said):
        ReviewChecklist(**{name: value})
    with pytest.raises((ValueError, traitlets.TraitError), match=said):
        setattr(ReviewChecklist(), name, value)


def test_the_view_turns_the_gears_only_where_they_can():
    turning = {}
    for distance, said in (
        (78.75, "the teeth mesh"),
        (78.7, "the teeth mesh"),
        (76.0, "the teeth overlap"),
        (60.0, "the teeth overlap"),
        (84.0, "do not reach"),
    ):
        gears = Gear(18, module=2.5, tooth_thinning=0.05), Gear(45, module=2.5, tooth_thinning=0.05)
        scene = drawing.views.mounted(*gears, ((53.75, 80.0), (53.75 + distance, 80.0)), size=(220.0, 160.0))
        assert said in scene.text
        turning[distance] = sorted(
            {shape.motion.speed for shape in scene.shapes if getattr(shape, "motion", None)}
        )
    assert turning == {78.75: [-0.4, 1.0], 78.7: [-0.4, 1.0], 76.0: [], 60.0: [], 84.0: [0.0, 1.0]}
    with pytest.raises(ValueError, match="different units"):
        drawing.views.mounted(
            Gear(18, module=2.5),
            Gear(45, diametral_pitch=10),
            ((50.0, 50.0), (120.0, 50.0)),
            size=(200.0, 100.0),
        )


FOLDER = Path(__file__).parents[2] / "notebooks"


@pytest.mark.parametrize(
    "kit, apart", [("vent_drive", 78.75), ("vent_drive_inch", 2.625)]
)  # 63 / 2 of 2.5 mm, or of 1/12 in
def test_it_takes_any_design_with_a_mesh(kit, apart):
    design = read_design(FOLDER / f"{kit}.toml")
    checks = ReviewChecklist(design=design)
    assert checks.hole_spacing == pytest.approx(apart) and checks.design == design
    assert checks.findings.names == review(design).names and checks.designed
    assert {spec["unit"] for spec in checks.controls if spec["name"] != "driver_teeth"} == {design.unit}
    checks.hole_spacing = apart * 1.03
    assert checks.design.distance(design.mesh[0].driver, design.mesh[0].driven) == pytest.approx(apart * 1.03)
    assert checks.findings.names == review(checks.design).names and checks.findings
    assert checks.changed == ("hole_spacing",)
    checks._hear(checks, {"kind": "use"}, [])
    assert "hole spacing" in checks.used
    assert checks.design.toml.count("#") == design.toml.count("#")  # the comments of the file stay


def test_a_pinion_without_a_hub_has_no_control_of_one():
    kit = read_design(FOLDER / "vent_drive.toml")
    bare = dict.fromkeys(
        ("hub_diameter", "hub_projection", "set_screw", "screw_length", "drill_depth", "flat")
    )
    checks = ReviewChecklist(design=kit.with_(gear={kit.gear[0].name: bare}))
    names = [spec["name"] for spec in checks.controls]
    assert "hub_diameter" not in names and "screw_length" not in names and "hole_spacing" in names
    checks.driver_teeth = 19
    assert checks.design.of(kit.gear[0].name).hub_diameter is None
    with pytest.raises(ValueError, match="has no mesh to show"):
        ReviewChecklist(design=kit.with_(mesh=None))


def test_advice_is_told_of_one_finding_at_a_time():
    checks = ReviewChecklist()
    checks.screw_length = 12.0
    findings = [remark for remark in checks.warnings if remark["kind"] in ("warning", "note")]
    assert len(findings) >= 2 and "advice" in findings[0] and "advice" not in findings[1]
    assert findings[1]["does"][0] == {
        "text": "What to do",
        "name": "advised",
        "value": 1,
        "title": f"What to do: {checks.findings[1].where}",
    }
    checks.advised = 1
    told = [remark for remark in checks.warnings if remark["kind"] in ("warning", "note")]
    assert "advice" not in told[0] and told[1]["advice"] == checks.findings[1].change
    checks.screw_length = 11.0  # another design: of the worst again
    assert checks.advised == 0
