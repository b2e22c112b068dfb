"""Single failures of sound designs that a workshop would notice, and their advice (common practice)."""

from pathlib import Path

import pytest

from gearlab import read_design, review

KIT = (Path(__file__).parents[3] / "notebooks" / "vent_drive.toml").read_text(encoding="utf-8")
PINION, WHEEL = "pinion_18T_m2p5_bore10_L27", "wheel_45T_m2p5_bore10_L25"


def findings_of(design, name):
    return [finding for finding in review(design) if finding.name == name]


def mended(design, name):
    """Every edit of a finding takes it away and leaves a design that passes."""
    (finding,) = findings_of(design, name)
    assert finding.edits
    return all(review(design.with_(**edit)).passes for edit in finding.edits)


def test_a_thin_plate_does_not_hold_a_shaft_upright():
    """A plate of 1.5 mm for shafts of 10 mm; 2 mm is a fifth of them, 6 mm holds."""
    thin = read_design(KIT).with_(plate={"thickness": 1.5})
    (finding,) = findings_of(thin, "plate-too-thin")
    assert "1.5 mm thick" in finding.what and "2 mm" in finding.limit and finding.grade == "will trouble"
    assert "make the plate" not in finding.change and mended(thin, "plate-too-thin")
    assert not findings_of(thin.with_(plate={"thickness": 2}), "plate-too-thin")


@pytest.mark.parametrize(
    ("fit", "wide"),
    [("H11/c11", 0.26), ("H9/d9", 0.112)],  # ISO 286-2 at 10 mm: 90 + 170, 36 + 76 um
)
def test_a_fit_may_be_too_loose_for_a_gear_that_is_screwed_on(fit, wide):
    loose = read_design(KIT).with_(gear={PINION: {"fit": fit}})
    (finding,) = findings_of(loose, "bore-looser-than-shaft")
    assert f"{wide:g} mm larger" in finding.what and fit in finding.what
    assert mended(loose, "bore-looser-than-shaft")


@pytest.mark.parametrize("fit", ["H8/f7", "F8/h7", "H7/js6", "H7/n6"])
def test_a_usual_fit_holds(fit):
    assert review(read_design(KIT).with_(gear={PINION: {"fit": fit}})).passes


def keyed(**fields):
    """The pinion on a key of 4 mm by DIN 6885 in place of its set screw."""
    none = dict.fromkeys(("set_screw", "screw_length", "drill_depth"))
    return read_design(KIT).with_(
        gear={PINION: none | {"flat": 0, "keyway_depth": 1.4, "keyway_width": 3} | fields}
    )


def test_a_key_is_no_longer_than_its_gear():
    """The pinion is 27 mm long, 1.5 mm stands below it and 3 mm of the shaft beyond."""
    assert not findings_of(keyed(key_length=27), "key-longer-than-gear")
    (little,) = findings_of(keyed(key_length=30), "key-longer-than-gear")
    assert little.grade == "worth knowing" and "30 mm" in little.what and "27 mm" in little.limit
    (long,) = findings_of(keyed(key_length=60), "key-longer-than-gear")
    assert long.grade == "will trouble" and "31.5 mm" in long.limit
    assert mended(keyed(key_length=60), "key-longer-than-gear")


@pytest.mark.parametrize(
    ("part", "quantity", "value", "short"),
    [("plate", "thickness", 8, {"crank", "vent"}), (PINION, "overall_length", 29, {"crank"})],
)
def test_what_was_measured_along_a_shaft_tells_how_long_it_must_be(part, quantity, value, short):
    """2 mm more of plate or gear leave a shaft that was just long enough 2 mm short."""
    kit = read_design(KIT).with_(shaft={"crank": {"length": 46}, "vent": {"length": 45}})
    needed = {"crank": 8.5 + 6 + 1.5 + 27 + 3, "vent": 8.5 + 6 + 2.5 + 25 + 3}
    assert needed == {"crank": 46, "vent": 45} and not findings_of(kit, "shaft-too-short")
    reading = {"part": part, "quantity": quantity, "value": value, "reads_to": 0.1}
    measured = kit.with_(measured=[reading])
    short_shafts = findings_of(measured, "shaft-too-short")
    assert {finding.where for finding in short_shafts} == {f"shaft {name}" for name in short}
    assert all("2 mm short" in finding.what for finding in short_shafts)


def test_a_guard_without_a_motor_is_not_judged_in_silence():
    by_hand = read_design(KIT.replace("stall_torque = 10\n", "").replace("slip_torque = 4", "# none"))
    told = [str(outcome) for outcome in review(by_hand).unmade if outcome.where == "the guard"]
    assert len(told) == 1 and "stall_torque" in told[0] and review(by_hand).passes


def test_holes_drawn_right_and_drilled_wrong_are_drilled_again():
    """Every sentence of advice names a place: none says to put a shaft nowhere."""
    reading = {"part": f"{PINION} with {WHEEL}", "quantity": "hole_spacing", "value": 78.2, "reads_to": 0.02}
    (finding,) = findings_of(read_design(KIT).with_(measured=[reading]), "shafts-too-near")
    assert "78.75 mm" in finding.change and "shaft ," not in finding.change


def test_a_gear_drives_its_mate_or_is_driven():
    twice = KIT.replace("[load]", f'[[mesh]]\ndriver = "{WHEEL}"\ndriven = "{PINION}"\n\n[load]')
    with pytest.raises(ValueError, match="is driven by it in another; leave one of the two tables out"):
        read_design(twice)


@pytest.mark.parametrize("written", ['"yes"', "1"])
def test_yes_and_no_are_written_true_and_false(written):
    with pytest.raises(ValueError, match="lifts = .*give true or false, without quotes"):
        read_design(KIT.replace("lifts = true", f"lifts = {written}"))


def test_what_stands_twice_in_the_file_is_named():
    with pytest.raises(
        ValueError, match="headed \\[\\[name\\]\\], with two brackets; that line reads '\\[\\[shaft"
    ):
        read_design(KIT.replace("[[shaft]]", "[shaft]", 1))
    with pytest.raises(ValueError, match="stands twice in its table: leave one of them out; .*'teeth = 19'"):
        read_design(KIT.replace("teeth = 18", "teeth = 18\nteeth = 19"))
