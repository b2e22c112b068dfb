"""String, line of action, strip of contact and rack cutter without a browser.

Tasks, numbers, remarks, reasons, limits.
"""

import math

import pytest
import traitlets

from gearlab.widgets import ContactStrip, LineOfAction, RackCutter, StringUnwinding

ALL = {"string": StringUnwinding, "line": LineOfAction, "strip": ContactStrip, "cutter": RackCutter}


def kinds(explorer):
    return [one["kind"] for one in explorer.warnings]


def said(explorer):
    return " ".join(one["text"] for one in explorer.warnings)


@pytest.mark.parametrize("make", ALL.values(), ids=ALL.keys())
def test_the_task_stands_first_and_every_number_says_why(make):
    explorer = make()
    assert kinds(explorer)[0] == "task" and explorer.text and repr(explorer).startswith(make.__name__ + "(")
    for group in explorer.readout:
        for row in group["rows"]:
            for cell in row["cells"]:
                if cell["explained"]:
                    explorer.asked = cell["word"]
                    assert (
                        explorer.explanation["word"] == cell["word"]
                        and "<math" in explorer.explanation["html"]
                    ), cell["word"]


def test_the_string_stops_at_the_pitch_circle():
    # at 20 degrees the string unwinds by tan 20 = 0.36397 rad = 20.85 degrees to the pitch circle
    # (Buckingham, chapter 4)
    for roll, kind in ((20.9, "good"), (20.5, "good"), (20.0, "note"), (21.5, "note"), (0.0, "note")):
        assert kinds(StringUnwinding(18, module=2.5, roll_angle=roll))[-1] == kind, roll
    explorer = StringUnwinding(18, module=2.5, roll_angle=math.degrees(math.tan(math.radians(20))))
    assert explorer.radius == pytest.approx(22.5) and explorer.value("free_string") == pytest.approx(
        22.5 * math.sin(math.radians(20))
    )
    assert explorer.value("point_pressure_angle") == pytest.approx(20.0)


def test_the_string_at_another_pressure_angle_and_in_inches():
    explorer = StringUnwinding(18, diametral_pitch=10, roll_angle=14.8)
    assert kinds(explorer)[-1] == "note"
    explorer.pressure_angle = 14.5
    assert (
        kinds(explorer)[-1] == "good"
        and explorer.value("pitch_radius") == pytest.approx(0.9)
        and "in of it are free" in said(explorer)
    )
    assert explorer.picture.count("r-flank") and "14.5" in explorer.heading


@pytest.mark.parametrize(
    "tilt, right",
    [
        (20.0, True),
        (20.5, True),
        (19.5, True),
        (21.0, False),
        (70.0 - 10, False),
        (0.0, False),
        (-20.0, True),
    ],
)
def test_the_line_is_right_at_the_pressure_angle(tilt, right):
    explorer = LineOfAction(18, 45, module=2.5, tilt=tilt)
    assert (kinds(explorer)[-1] == "good") is right
    assert ("r-contact-point" in explorer.picture) is right
    if right:
        # spacing times sin 20 (Mott, sec. 8-4), 90 less 20 degrees
        assert explorer.value("tangent_point_distance") == pytest.approx(78.75 * math.sin(math.radians(20)))
        assert explorer.value("action_angle_to_centres") == pytest.approx(70.0)
    else:
        with pytest.raises(ValueError, match="no quantity"):
            explorer.value("tangent_point_distance")


def test_shafts_further_apart_need_a_line_that_leans_more():
    explorer = LineOfAction(18, 45, module=2.5, opening=0.5, tilt=20.0)
    # acos(78.75 cos 20 / 80) = 22.33 degrees (ISO 21771, operating pressure angle)
    assert kinds(explorer)[-1] == "note"
    assert explorer.value("centre_distance") == 80.0
    explorer.tilt = 22.3
    assert kinds(explorer)[-1] == "good" and explorer.value("operating_pressure_angle") == pytest.approx(
        22.33, abs=0.005
    )


def test_the_shade_is_right_within_three_per_cent():
    # contact ratio 1.63 of the vent drive: two pairs on 63 % (vent-drive data)
    assert [kinds(ContactStrip(18, 45, module=2.5, shade=shade))[-1] for shade in (60, 61, 66, 67, 36)] == [
        "note",
        "good",
        "good",
        "note",
        "note",
    ]
    explorer = ContactStrip(18, 45, module=2.5, shade=63)
    assert explorer.value("two_pair_share") == pytest.approx(63.3, abs=0.05) and "63 %" in said(explorer)
    explorer.opening = 0.2
    assert (
        kinds(explorer)[-1] == "note"
        and explorer.value("centre_distance") == 79.25
        and explorer.value("contact_ratio") == pytest.approx(1.44, abs=0.005)
    )


def test_contact_that_cannot_be_shown_is_said_in_words():
    explorer = ContactStrip(60, 60, module=2.5, pressure_angle=20.0)
    assert "stop" not in kinds(explorer)
    assert "tips reach past the flank" in said(ContactStrip(12, 45, module=2.5))
    before = explorer.picture
    explorer.pressure_angle, explorer.driver_teeth, explorer.driven_teeth, explorer.opening = (
        25.0,
        12,
        12,
        0.5,
    )
    assert (
        kinds(explorer)[0] == "stop" and "contact ratio is" in said(explorer) and explorer.picture != before
    )


@pytest.mark.parametrize("angle, least", [(14.5, 32), (20.0, 18), (25.0, 13)])
def test_the_smallest_count_without_undercut(angle, least):
    # 2 / sin^2: 31.9, 17.1 and 11.2 -> textbook counts 32 and 18 (Mott, table 8-7: 32 and 18); our 25 degree
    # rack, with tip radius 0.30 (from memory), is straight to 1.077 modules: 12.06 -> 13
    for teeth in range(8, 40):
        good = kinds(RackCutter(teeth, pressure_angle=angle))[-1] == "good"
        assert good is (teeth == least), teeth
    assert ("Many workshops accept that" in said(RackCutter(18))) and "Many workshops" not in said(
        RackCutter(32, pressure_angle=14.5)
    )


def test_the_shift_that_just_clears():
    explorer = RackCutter(13, module=2.5)
    # 1 - 13 sin^2(20) / 2 = 0.2396 (handbook form)
    assert explorer.value("least_shift") == pytest.approx(
        0.2396, abs=1e-4
    ) and explorer.past == pytest.approx(0.2396, abs=1e-4)
    explorer.profile_shift = 0.2
    assert kinds(explorer)[-1] == "note" and "undercut" in said(explorer)
    explorer.profile_shift = 0.24
    assert kinds(explorer)[-1] == "good" and "just clears" in said(explorer)
    explorer.profile_shift = 0.5
    assert kinds(explorer)[-1] == "note" and "no undercut" in said(explorer)


def test_a_cut_that_leaves_no_tooth_keeps_the_last_picture():
    explorer = RackCutter(8, profile_shift=0.5)
    before = explorer.picture
    explorer.profile_shift = 0.9
    assert kinds(explorer) == ["stop"] and explorer.picture == before


@pytest.mark.parametrize(
    "make, values",
    [
        (StringUnwinding, {"roll_angle": 51.0}),
        (StringUnwinding, {"pressure_angle": 22.0}),
        (LineOfAction, {"tilt": 61.0}),
        (LineOfAction, {"opening": 0.6}),
        (ContactStrip, {"shade": 101.0}),
        (ContactStrip, {"opening": 0.6}),
        (RackCutter, {"teeth": 6}),
        (RackCutter, {"profile_shift": 1.0}),
    ],
)
def test_values_out_of_range_are_refused(make, values):
    explorer = make()
    with pytest.raises((ValueError, traitlets.TraitError), match="out of range|not known"):
        for name, value in values.items():
            setattr(explorer, name, value)
    with pytest.raises((ValueError, traitlets.TraitError), match="out of range|not known"):
        make(**values)
