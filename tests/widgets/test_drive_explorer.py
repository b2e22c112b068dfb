"""The drive explorer: any number of any member edited, undone, compared, and advice taken.

Numbers of the vent drive by hand: along the vent shaft 8.5 + 6 + 2.5 + 25 + 3 = 45 mm; in the inch drive
0.3125 + 0.25 + 0.09375 + 0.9375 + 0.125 = 1.71875 in; 2.5 * 18 = 45 mm and 2.5 * 19 = 47.5 mm of pitch
diameter; 45/18 = 2.5 and 45/19 = 2.3684.
"""

from pathlib import Path

import pytest

from gearlab import read_design, review
from gearlab.parts.design import Design
from gearlab.parts.review import Finding, moved
from gearlab.widgets import DriveExplorer
from gearlab.widgets.explorers.findings import edit_words, finding_told
from gearlab.widgets.explorers.history import BEGIN, history
from gearlab.widgets.explorers.numbers import members, numbers

FOLDER = Path(__file__).parents[2] / "notebooks"
KITS = {name: read_design(FOLDER / f"{name}.toml") for name in ("vent_drive", "vent_drive_inch")}
VENT = KITS["vent_drive"]
PINION, WHEEL = (table.name for table in VENT.gear)

TRAIN = Design(
    design={"name": "a train with a rack", "unit": "mm", "ratio": 9},
    plate={"length": 260, "height": 180, "thickness": 6},
    shaft=[
        {"name": "crank", "x": 40, "y": 110, "diameter": 8, "length": 45},
        {"name": "middle", "x": 100, "y": 110, "diameter": 10, "length": 60},
        {"name": "out", "x": 172, "y": 110, "diameter": 10, "length": 70},
    ],
    gear=[
        {"name": "a", "shaft": "crank", "teeth": 20, "module": 1.5, "face_width": 10, "bore": 8},
        {"name": "b", "shaft": "middle", "teeth": 60, "module": 1.5, "face_width": 10, "bore": 10},
        {"name": "c", "shaft": "middle", "teeth": 18, "module": 2, "face_width": 14, "bore": 10},
        {"name": "d", "shaft": "out", "teeth": 54, "module": 2, "face_width": 12, "bore": 10, "gap": 11},
        {"name": "e", "shaft": "out", "teeth": 20, "module": 2.5, "face_width": 14, "bore": 10},
    ],
    mesh=[{"driver": "a", "driven": "b"}, {"driver": "c", "driven": "d"}],
    load={"torque": 1.2, "speed": 18},
    rack=[
        {
            "name": "window rack",
            "pinion": "e",
            "teeth": 40,
            "travel": 200,
            "pitch_height": 12,
            "mounting_height": 37,
        }
    ],
)


def leads(explorer):
    return [remark.get("lead") for remark in explorer.warnings]


def button(explorer, text):
    (row,) = [spec for spec in explorer.controls if spec["kind"] == "buttons"]
    (wanted,) = [each for each in row["buttons"] if each["text"] == text]
    return wanted["value"]


@pytest.mark.parametrize("kit, least", [("vent_drive", 45.0), ("vent_drive_inch", 1.71875)])
def test_a_number_is_changed_judged_and_undone(kit, least):
    explorer = DriveExplorer(KITS[kit])
    before = explorer.findings.names
    explorer.member = "shaft vent"
    explorer.number = "length"
    assert explorer.amount == KITS[kit].shaft[1].length
    explorer.amount = least * 0.9
    assert explorer.design.shaft[1].length == pytest.approx(least * 0.9)
    assert "shaft-too-short" in explorer.findings.names and "Will not work" in leads(explorer)
    assert explorer.moved.came[0].name == "shaft-too-short"
    explorer.undo()
    assert explorer.amount == KITS[kit].shaft[1].length and explorer.design == KITS[kit]
    assert explorer.findings.names == before and not explorer.moved.came
    explorer.redo()
    assert explorer.amount == pytest.approx(least * 0.9)
    explorer.restart()
    assert explorer.design == KITS[kit]


@pytest.mark.parametrize("design", [*KITS.values(), TRAIN], ids=[*KITS, "train"])
def test_every_number_of_every_member_can_be_changed(design):
    """What the file says of a member, each number of it: all of them can be chosen and changed by a step."""
    explorer = DriveExplorer(design)
    first = explorer.now()
    for member in members(design):
        kind, _, name = member.partition(" ")
        table = getattr(design, kind)
        if isinstance(table, tuple):
            table = next(each for each in table if each.name == name)
        fields = table.model_dump(exclude_none=True) if table is not None else {}
        wanted = {word for word, value in fields.items() if type(value) in (int, float)}
        known = numbers(design, member)
        assert wanted <= set(known)
        chosen = explorer.tidied(first.but(member=member), first)
        for word, number in known.items():
            before = explorer.tidied(chosen.but(number=word), chosen)
            assert before.number == word and explorer.design_of(before) == design
            scale = explorer.scale_of_number(before)
            assert scale.low <= before.amount <= scale.high and scale.low >= number.least
            if word not in wanted or number.value == 0:
                continue
            step = scale.step if before.amount + scale.step <= scale.high else -scale.step
            after = explorer.tidied(before.but(amount=round(before.amount + step, 6)), before)
            now = numbers(explorer.design_of(after), member)
            assert now[word].value == pytest.approx(before.amount + step) and after.amount == now[word].at
            assert {key: each.value for key, each in now.items() if key != word} == {
                key: each.value for key, each in known.items() if key != word
            }


def test_steps_the_same_way_are_one_change_and_a_jump_is_another():
    explorer = DriveExplorer(VENT)
    assert (explorer.member, explorer.number, explorer.amount) == (f"gear {PINION}", "teeth", 18)
    for teeth in (19, 20, 21):
        explorer.amount = teeth
    assert len(history(explorer.history).changes) == 1
    explorer.amount = 40  # a jump
    explorer.amount = 39  # the other way
    assert len(history(explorer.history).changes) == 3
    explorer.undo().undo()
    assert explorer.amount == 21
    explorer.undo()
    assert explorer.amount == 18 and explorer.design == VENT


def test_undoing_leads_to_the_number_that_was_changed():
    explorer = DriveExplorer(VENT)
    explorer.amount = 19
    explorer.member = "plate"
    explorer.number = "height"
    explorer.history = button(explorer, "Undo")
    assert (explorer.member, explorer.number, explorer.amount) == (f"gear {PINION}", "teeth", 18)
    assert button(explorer, "Undo") is None and button(explorer, "Redo") is not None


def test_what_is_not_given_is_given_and_left_out_again():
    explorer = DriveExplorer(VENT, member="shaft vent")
    assert explorer.fields(explorer.now())["allowable_shear"].endswith("not given")
    explorer.number = "allowable_shear"
    assert explorer.design.shaft[1].allowable_shear is None  # chosen, not yet given
    explorer.history = button(explorer, "Give it so")
    assert explorer.design.shaft[1].allowable_shear == explorer.amount
    assert (explorer.member, explorer.number) == ("shaft vent", "allowable_shear")
    explorer.history = button(explorer, "Leave it out")
    assert explorer.design.shaft[1].allowable_shear is None
    bare = DriveExplorer(VENT.with_(load=None), member="load")
    assert list(bare.fields(bare.now())) == ["torque"]
    bare.amount = 1.93
    assert bare.design.load.torque == 1.93


def test_the_numbers_that_moved_stand_at_first_and_now():
    explorer = DriveExplorer(VENT)
    assert [table["title"] for table in explorer.readout] == ["The drive"]
    explorer.amount = 19
    assert "Changed" in [table["title"] for table in explorer.readout]
    assert explorer.value(f"first {PINION}: pitch_diameter") == 45.0
    assert explorer.value(f"now {PINION}: pitch_diameter") == 47.5
    assert explorer.moved["the drive: ratio"] == pytest.approx((2.5, 45 / 19))
    explorer.asked = f"now {PINION}: pitch_diameter"
    assert "47.5" in explorer.explanation["html"]
    with pytest.raises(ValueError, match="is not explained here"):
        explorer.explain("now shaft vent: turns")


@pytest.mark.parametrize("kit", KITS.values(), ids=KITS)
def test_what_moved_is_what_the_review_says_of_the_two_designs(kit):
    explorer = DriveExplorer(kit)
    explorer.amount = 20
    wanted = moved(kit, explorer.design)
    assert dict(explorer.moved) == dict(wanted) and wanted
    assert (explorer.moved.came, explorer.moved.went) == (wanted.came, wanted.went)


def test_a_gear_with_another_name_is_the_same_gear():
    renamed = "pinion_19T_m2p5_bore10_L27"
    explorer = DriveExplorer(VENT).edit(gear={PINION: {"teeth": 19, "name": renamed}})
    assert explorer.moved[f"{renamed}: pitch_diameter"] == (45.0, 47.5)
    assert explorer.value(f"first {renamed}: pitch_diameter") == 45.0
    changed = next(table for table in explorer.readout if table["title"] == "Changed")
    assert [line["label"] for line in changed["rows"]] == [f"teeth of {renamed}"]
    explorer.side_by_side = True
    assert explorer.value(f"first {renamed} with {WHEEL}: centre_distance") == 78.75
    assert not any(PINION in table["title"] for table in explorer.readout)
    assert explorer.undo().member == f"gear {PINION}"


def test_two_designs_side_by_side():
    explorer = DriveExplorer(VENT, beside=VENT.with_(gear={PINION: {"teeth": 20}}))
    assert explorer.side_by_side
    assert explorer.value(f"first {PINION}: pitch_diameter") == 50.0
    assert explorer.value(f"now {PINION}: pitch_diameter") == 45.0
    labels = [line["label"] for table in explorer.readout for line in table["rows"]]
    assert "pitch diameter, differs" in labels and "face height" in labels
    explorer.side_by_side = False
    assert [table["title"] for table in explorer.readout] == ["The drive", "Changed"]
    alone = DriveExplorer(VENT)
    alone.side_by_side = True
    assert alone.value(f"first {PINION}: pitch_diameter") == alone.value(f"now {PINION}: pitch_diameter")


def test_advice_is_taken_by_one_button_and_undone():
    explorer = DriveExplorer(VENT)
    finding = Finding(
        "shaft-too-short",
        "will not work",
        "shaft vent",
        "it is 40 mm long.",
        "45 mm.",
        "No hold.",
        "Take 45 mm.",
        edits=({"shaft": {"vent": {"length": 45.5}}}, {"gear": {WHEEL: {"gap": 1.0}}}),
    )
    past = history(explorer.history)
    told = finding_told(finding, lambda edit: past.to(edit).text)
    assert [each["text"] for each in told["does"]] == [
        "Do the first",
        "Do the second",
    ]
    assert told["does"][1]["title"] == f"Do the second: {WHEEL}: gap 1"
    assert told["advice"] == "Take 45 mm." and told["lead"] == "Will not work"
    explorer.history = told["does"][0]["value"]
    assert explorer.design.shaft[1].length == 45.5
    assert (explorer.member, explorer.number, explorer.amount) == ("shaft vent", "length", 45.5)
    assert explorer.undo().design == VENT


def test_every_advice_with_an_edit_has_its_button():
    for kit in KITS.values():
        explorer = DriveExplorer(kit).edit(shaft={"vent": {"length": kit.shaft[1].length / 2}})
        assert explorer.findings
        for place, finding in enumerate(explorer.findings):
            explorer.advised = place
            (told,) = [each for each in explorer.warnings if finding.what in each["text"]]
            assert told["advice"] == (finding.decision or finding.change)
            assert [each["title"].partition(": ")[2] for each in told["does"]] == [
                edit_words(edit) for edit in finding.edits
            ]
            others = [each for each in explorer.warnings if each.get("does") and each is not told]
            assert all(each["does"][0]["name"] == "advised" for each in others)
            before = explorer.history
            for each in told["does"]:  # proved: the finding goes
                explorer.history = each["value"]
                assert (finding.name, finding.where) not in {
                    (left.name, left.where) for left in explorer.findings
                }
                explorer.history = before


def test_edits_in_words():
    assert edit_words({"mesh": {"a with b": None}}) == "leave a with b out"
    assert edit_words({"load": {"torque": 2.5}}) == "load: torque 2.5"
    assert edit_words({"gear": {"a": {"loose": True, "fit": "press"}}}) == "a: loose yes, fit press"


def test_the_file_keeps_its_comments(tmp_path):
    explorer = DriveExplorer(FOLDER / "vent_drive.toml", member="shaft vent", number="length")
    explorer.amount = 46.0
    text = explorer.write(tmp_path / "mine.toml").read_text()
    assert "# on the crank" in text and "length = 46\n" in text
    assert read_design(tmp_path / "mine.toml") == explorer.design


def test_what_cannot_be_is_refused_and_leaves_the_design():
    explorer = DriveExplorer(VENT)
    explorer.amount = 18.5
    assert explorer.warnings[0]["kind"] == "stop" and "whole number" in explorer.warnings[0]["text"]
    explorer.amount = 2.0
    assert "teeth" in explorer.warnings[0]["text"] and explorer.design == VENT
    explorer.amount = 20.0
    assert explorer.design.of(PINION).teeth == 20
    with pytest.raises(ValueError, match="no change to undo"):
        DriveExplorer(VENT).undo()
    with pytest.raises(ValueError, match="does not fit"):
        explorer.edit(shaft={"vent": {"diameter": -1}})
    with pytest.raises(ValueError, match="history ="):
        explorer.history = "[]"
    with pytest.raises(ValueError, match="is not known: choose from"):
        explorer.member = "gear sprocket"
    assert history(BEGIN).changes == ()


def test_a_gear_that_cannot_be_cut_is_shown_by_its_circle():
    explorer = DriveExplorer(VENT.with_(gear={WHEEL: {"pressure_angle": 2}}))
    assert explorer.findings.names == ("gear-cannot-be",) and "cannot be drawn" in explorer.text
    explorer.edit(gear={WHEEL: {"pressure_angle": 20}})
    assert explorer.findings.names == review(VENT).names and "cannot be drawn" not in explorer.text


def test_the_verdict_stands_first_and_the_checks_are_counted():
    explorer = DriveExplorer(VENT)
    ledger = review(VENT)
    assert leads(explorer)[0] == "Verdict"
    assert explorer.warnings[0]["text"].lower() == f"{ledger.verdict.lower()}."
    listed = {remark["lead"]: remark["more"] for remark in explorer.warnings if remark.get("more")}
    assert len(listed.get("Holds", [])) == len(ledger.holds)
    assert len(listed.get("Not checked", [])) == len(ledger.unmade) - len(ledger.undecided)
    assert leads(explorer).count("Cannot be judged") == len(ledger.undecided)


def test_a_train_with_a_rack_is_told_whole():
    explorer = DriveExplorer(TRAIN)
    assert "window rack: rack of 40 teeth, moved by E, travel 200 mm" in explorer.text
    assert "turns once for 9 turns of crank, with it" in explorer.text  # 60/20 * 54/18
    explorer.member = "rack window rack"
    explorer.number = "travel"
    explorer.amount = 150.0
    assert explorer.design.rack[0].travel == 150
