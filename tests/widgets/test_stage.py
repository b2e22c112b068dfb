"""What a lesson puts on the stage of an explorer, and the numbers that answer its task, without a browser.

Expected numbers are worked out here from the standard's formulas (ISO 21771 for contact ratio and centre
distance), or stand in the tests of each explorer with their source.
"""

import json
import math
import re

import pytest

from gearlab.widgets import explorers
from gearlab.widgets.ahead import first_steps
from gearlab.widgets.explorers import (
    AlignmentNudge,
    ContactStrip,
    HubSection,
    PairExplorer,
    RackCutter,
    RatioFinder,
    ShaftStack,
    ToothForces,
    TwoCones,
)
from gearlab.widgets.explorers.stage import without

ALL = [getattr(explorers, name) for name in explorers.__all__]
KEEPING = [cls for cls in ALL if cls.secrets]


def cells(explorer, more=None):
    tables = [table for table in explorer.readout if more is None or bool(table.get("more")) is more]
    return {cell["word"]: cell for table in tables for row in table["rows"] for cell in row["cells"]}


def on_the_page(explorer):
    """All words and numbers that the page is sent of it, as one text."""
    sent = {name: getattr(explorer, name) for name in ("text", "heading", "readout", "warnings")}
    words = re.findall(r">([^<]+)<|(?:aria-label|data-name|data-handle)=\"([^\"]*)", explorer.picture)
    return json.dumps([sent, words], ensure_ascii=False)


# the stage
def test_controls_and_numbers_stand_in_the_order_given_and_the_others_behind():
    pair = PairExplorer(controls=["driven_teeth", "driver_teeth"], readout=["ratio", "centre_distance"])
    assert [spec["name"] for spec in pair.controls if not spec.get("more")] == [
        "driven_teeth",
        "driver_teeth",
    ]
    assert all(spec["more"] for spec in PairExplorer(controls=[]).controls), "none on the stage"
    assert not cells(PairExplorer(readout=[]), more=False)
    assert list(cells(pair, more=False)) == ["ratio", "centre_distance"]
    assert "contact_ratio" in cells(pair, more=True) and "ratio" not in cells(pair, more=True)
    # those behind are known to Python all the same: (18 + 45) * 2.5 / 2 and (18 + 2) * 2.5
    assert pair.value("centre_distance") == 78.75 and pair.value("driver_outside_diameter") == 50.0
    assert pair.inputs == PairExplorer().inputs
    pair.module = 5.0
    assert pair.value("centre_distance") == 157.5 and list(cells(pair, more=False)) == [
        "ratio",
        "centre_distance",
    ]


@pytest.mark.parametrize("cls", ALL)
def test_every_explorer_takes_a_stage_and_shows_the_rest_elsewhere(cls):
    whole = cls()
    names = [spec["name"] for spec in whole.controls]
    words = list(cells(whole))
    staged = cls(controls=names[-1:], readout=words[-1:])
    assert [spec["name"] for spec in staged.controls if not spec.get("more")] == names[-1:]
    assert sorted(spec["name"] for spec in staged.controls) == sorted(names)
    assert set(words[-1:]) <= set(cells(staged, more=False))
    assert sorted(cells(staged)) == sorted(words)


@pytest.mark.parametrize(
    ("argument", "wrong", "near"),
    [
        ("controls", "driven_teth", "driven_teeth"),
        ("readout", "contact_rato", "contact_ratio"),
        ("hidden", "base_pich", "base_pitch"),
    ],
)
def test_a_name_that_does_not_exist_is_refused_with_the_near_word_and_the_list(argument, wrong, near):
    with pytest.raises(ValueError, match=f"{argument} .*'{wrong}'; did you mean {near}.*it has: .*{near}"):
        PairExplorer(**{argument: [wrong]})
    with pytest.raises(ValueError, match="no list of names"):
        PairExplorer(**{argument: near})


def test_a_number_that_shows_only_at_other_settings_can_be_named():
    """PairExplorer tells where the pitch circles would touch only where they do not."""
    pair = PairExplorer(readout=["reference_centre_distance"])
    assert "reference_centre_distance" not in cells(pair)
    pair.centre_distance_error = 0.5
    assert list(cells(pair, more=False)) == ["reference_centre_distance"]


def test_a_class_may_have_a_stage_of_its_own_and_a_lesson_another():
    class Small(PairExplorer):
        """A pair with one control."""

        stage_controls, stage_readout = ("driver_teeth",), ("ratio",)

    assert [spec["name"] for spec in Small().controls if not spec.get("more")] == ["driver_teeth"]
    assert list(cells(Small(), more=False)) == ["ratio"]
    other = Small(controls=["module"], readout=["base_pitch"])
    assert [spec["name"] for spec in other.controls if not spec.get("more")] == ["module"]
    assert list(cells(other, more=False)) == ["base_pitch"]


def test_states_are_worked_out_ahead_for_the_controls_on_the_stage_first():
    pair = PairExplorer(controls=["driver_teeth", "pressure_angle"])
    ahead = list(first_steps(pair.now(), "driver_teeth", pair.controls))
    assert [wish.pressure_angle for wish in ahead] == [25.0] and ahead[0].driver_teeth == 18
    assert not list(first_steps(PairExplorer().now(), "driver_teeth", PairExplorer().controls))


# the secrets
def contact_ratio(driver=18, driven=45, module=2.5, angle=20.0):
    """Path of contact over base pitch (ISO 21771), by the circles."""
    alpha = math.radians(angle)
    reach = sum(
        math.sqrt((z * module / 2 + module) ** 2 - (z * module / 2 * math.cos(alpha)) ** 2)
        for z in (driver, driven)
    )
    between = (driver + driven) * module / 2 * math.sin(alpha)
    return (reach - between) / (math.pi * module * math.cos(alpha))


def test_the_contact_ratio_is_not_told_while_the_student_shades():
    strip = ContactStrip(18, 45, module=2.5)
    ratio = contact_ratio()
    written = [f"{ratio:.{places}f}" for places in (2, 3, 4)]
    assert not any(text in on_the_page(strip) for text in written), strip.text
    assert cells(strip)["contact_ratio"]["secret"] and "contact ratio ?" in strip.text
    assert strip.value("contact_ratio") == pytest.approx(ratio)  # Python may ask
    strip.shade = round(100 * (ratio - 1))
    assert written[1] in on_the_page(strip) and "secret" not in cells(strip)["contact_ratio"]
    strip.asked = "contact_ratio"
    assert "<math" in strip.explanation["html"]
    assert not any(text in on_the_page(ContactStrip(18, 45, module=2.5, shade=20.0)) for text in written)


def test_what_the_done_task_has_told_stays_told():
    strip = ContactStrip(18, 45, module=2.5)
    before, told = strip.now(), f"{contact_ratio():.3f}"
    strip.shade = round(100 * (contact_ratio() - 1))
    assert set(strip.asked_for.split("; ")) == {"contact_ratio", "two_pair_share"}
    strip.shade = 20.0
    assert cells(strip)["contact_ratio"]["text"] == told and not strip.kept_back(strip.shown)
    assert strip.warnings[-1]["kind"] != "good", "the task is not done any more"
    again = strip.state(before)  # pure: what was not told then is not told by the same inputs now
    assert strip.kept_back(again) == {"contact_ratio", "two_pair_share"}


def test_a_state_held_by_the_page_remembers_what_it_tells():
    strip = ContactStrip(18, 45, module=2.5)
    messages = []
    strip.send = lambda content, buffers=None: messages.append(content)
    done = float(round(100 * (contact_ratio() - 1)))
    strip.ahead._send(strip.now(), strip.now().but(shade=done))
    strip.ahead._send(strip.now(), strip.now().but(shade=20.0))
    sent = [dict(zip(strip.inputs, content["inputs"])) for content in messages]
    assert [each["asked_for"] for each in sent] == ["contact_ratio; two_pair_share", ""]
    strip.turn = {"n": 1, "name": "shade", "held": messages[0]["number"]}
    strip.shade = done
    assert strip.asked_for == "contact_ratio; two_pair_share" and strip.answer["told"] == 0, "as it was held"
    strip.shade = 20.0
    assert not strip.kept_back(strip.shown)


def test_a_number_that_is_asked_for_is_told_and_that_is_an_input():
    strip = ContactStrip(18, 45, module=2.5)
    before = strip.now()
    strip.asked_for = "contact_ratio"
    assert cells(strip)["contact_ratio"]["text"] == f"{contact_ratio():.3f}"
    assert cells(strip)["two_pair_share"]["secret"], "the other one was not asked for"
    assert strip.shown.inputs == before.but(asked_for="contact_ratio")
    with pytest.raises(ValueError, match="keeps back; did you mean contact_ratio"):
        strip.asked_for = "contact_rato"


def test_a_lesson_may_keep_back_numbers_of_its_own():
    pair = PairExplorer(18, 45, module=2.5, hidden=["centre_distance"])
    assert "78.75" not in on_the_page(pair) and pair.value("centre_distance") == 78.75
    assert "centre distance ? mm" in pair.text and "? mm<" in pair.picture
    assert "asked_for" in pair.inputs and "asked_for" not in PairExplorer().inputs
    pair.asked_for = "centre_distance"
    assert "78.75" in pair.text and "78.75 mm<" in pair.picture


@pytest.mark.parametrize("cls", KEEPING)
def test_each_secret_is_a_question_mark_until_it_is_asked_for(cls):
    explorer = cls()
    back = explorer.kept_back(explorer.shown)
    assert back, "its task is not done at first"
    for word in back:
        cell = cells(explorer)[word]
        assert cell["secret"] and cell["value"] is None and cell["text"] == "?" and not cell["explained"]
    inputs = explorer.now()
    explorer.asked_for = "; ".join(sorted(back))
    assert not explorer.kept_back(explorer.shown)
    assert all("secret" not in cell for cell in cells(explorer).values())
    again = explorer.state(inputs)  # pure: the state of before is as it was
    assert explorer.kept_back(again) == back


def test_the_count_of_the_undercut_is_told_when_the_task_is_done():
    """17.097 teeth at 20 degrees: 2 / sin(20)^2 (handbooks, common practice: 17 or 18)."""
    rack = RackCutter(12)
    assert cells(rack)["least_teeth"]["secret"] and "17.1" not in on_the_page(rack)
    rack.teeth = 18
    assert cells(rack)["least_teeth"]["text"] == "17.10"
    rack = RackCutter(12)
    rack.profile_shift = 0.3  # just clears: the shift is told, not the count
    assert cells(rack)["least_shift"]["text"].startswith("0.298") and cells(rack)["least_teeth"]["secret"]


def test_the_free_window_is_not_drawn_before_it_is_met():
    nudge = AlignmentNudge(18, 46)
    shaded = [len(nudge.scene.having("shade")), nudge.warnings[-1]["text"]]
    assert shaded[0] == 0 and "shaded" not in nudge.picture
    nudge.driven_angle = 2.0 + nudge.off  # still in the teeth or out, but not in the middle
    nudge.driven_angle = 3.9
    assert len(nudge.scene.having("shade")) > 0 and nudge.warnings[1]["kind"] == "good"
    nudge.driven_angle = 0.0
    nudge.asked_for = "driven_mark_angle"
    assert len(nudge.scene.having("shade")) > 0


def test_what_answers_a_task_is_not_in_words_either():
    stack = ShaftStack()
    assert (
        stack.warnings[-1]["kind"] == "warning"
        and "needed ? mm" in stack.picture
        and "? mm in all" in stack.text
    )
    hub = HubSection()
    assert not hub.scene.having("shade")
    forces = ToothForces(91.5)  # 91.5 cos 20, 91.5 sin 20
    assert "86.0" not in on_the_page(forces) and "31.3" not in on_the_page(forces)
    cones = TwoCones()
    assert cells(cones)["driver_cone_angle"]["secret"]
    finder = RatioFinder()
    assert all(cell.get("secret") for word, cell in cells(finder).items() if word.startswith("factor of"))


def test_only_numbers_that_tell_the_value_are_taken_out():
    assert without("ratio 1.633, 1.63 or 1.6; 1.7", [1.6334]) == "ratio ?, ? or ?; 1.7"
    assert without("18 teeth, 18.0 mm, 0.18", [18.0]) == "? teeth, ? mm, 0.18"
    assert without("module 2.5, ratio 2.5", [2.5], free=[2.5]) == "module 2.5, ratio 2.5"
    assert without("17 teeth", [17.1]) == "17 teeth"


def test_a_number_in_sight_is_no_secret_under_another_name():
    """With a cutter that is not moved out, what it reaches too far is also the shift that just clears."""
    rack = RackCutter(12, readout=["past", "least_teeth", "least_shift"])
    assert "passes the tangent point by 0.30 modules" in rack.warnings[-1]["text"]
    hidden = RackCutter(12, readout=["root_diameter", "least_shift"])
    assert "passes the tangent point by ? modules" in hidden.warnings[-1]["text"]


# from behind
def test_an_explorer_can_be_seen_from_behind_and_its_numbers_keep_their_signs():
    pair = PairExplorer(driver_speed=15.0, behind=True)
    assert pair.behind and pair.seen_scene.text.startswith("Seen from behind: ")
    assert (
        "driver 15 rpm clockwise" in pair.seen_scene.text and "driver 15 rpm counter-clockwise" in pair.text
    )
    assert pair.value("driver_speed") == 15.0
    pair.behind = False
    assert pair.seen_scene is pair.scene
    hub = HubSection(behind=True)
    assert hub.seen_scene is hub.scene
