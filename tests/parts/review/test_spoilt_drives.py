"""Sound drives spoilt one number at a time: advice takes its finding away and brings none that is as bad.

The spoilt numbers are drawn, with a seed; what is judged are the findings about the drive, its load, racks,
bevel pairs and planetary sets.
"""

import random

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import GRADES, bevel, drive, planetary, rack, review

from .drives import KIT, PINION, RACK, WHEEL
from .test_drive import _toothed, layout

NAMES = {
    name for subject in (drive, rack, bevel, planetary) for check in subject.CHECKS for name in check.finds
}
#: Names that the checks of two gears share: here they count for racks and planetary sets alone.
SHARED = {"undercut", "teeth-do-not-match", "little-contact", "faces-miss", "faces-partly-miss"}


def train() -> Design:
    """Two stages, 18 : 45 and 30 : 60 of module 2, 63.08 and 90.08 mm apart, the second above the first."""
    gears = [
        _toothed(name, shaft, teeth, gap)
        for name, shaft, teeth, gap in (
            ("p", "a", 18, 1.5),
            ("w", "b", 45, 1.5),
            ("v", "b", 30, 1.5),
            ("u", "c", 60, 25),
        )
    ]
    places = [(35, 77), (98.08, 77), (188.16, 77)]
    made = layout(places, gears, [("p", "w"), ("v", "u")], ratio=5.0, direction="same")
    return made.with_(
        plate={"length": 266, "height": 154, "material": "acrylic"},
        shaft={
            name: {"length": length, "behind": 8, "end": 3}
            for name, length in (("a", 45), ("b", 65), ("c", 65))
        },
        load={"stall_torque": 1.0},
    )


def spoilt(base: Design, dice: random.Random):
    """Edits that each spoil one number of a design."""
    assert base.load is not None and base.ratio is not None
    torque, gear, mesh = base.load.torque, dice.choice(base.gear), dice.choice(base.mesh)
    yield {"design": {"ratio": base.ratio * dice.choice([0.5, 0.8, 0.9, 1.1, 1.3, 2, 3])}}
    yield {"design": {"direction": "opposite" if base.turns[base.last_shaft or ""] > 0 else "same"}}
    yield {"design": {"hunting": True}}
    yield {"load": {"torque": torque * dice.choice([5, 10, 50, 1000])}}
    yield {"load": {"stall_torque": torque * dice.choice([0.3, 0.9, 20, 100]), "slip_torque": None}}
    yield {"load": {"slip_torque": torque * dice.choice([0.3, 0.9, 1.0])}}
    yield {"load": {"speed": dice.choice([5000.0, 20000.0, 100000.0])}}
    yield {"load": {"lifts": True, "brake": False}}
    yield {"load": {"warming": dice.choice([-60.0, -50.0, -40.0])}}
    yield {
        "gear": {gear.name: {"allowable_stress": (gear.allowable_stress or 1.0) * dice.choice([0.2, 0.02])}}
    }
    yield {"gear": {gear.name: {"teeth": gear.teeth + dice.choice([-3, -2, 2, 5])}}}
    yield {"gear": {gear.name: {"loose": True}}}
    yield {"mesh": {mesh.name: {"efficiency": dice.choice([0.5, 0.9])}}, "load": {"speed": 4000.0}}


def spoilt_members(dice: random.Random):
    """Edits that put one spoilt member beside the kit's gears."""
    height = 35 + 2.5 * dice.choice([-0.3, -0.1, 0.2, 0.5, 1.5])
    for fields in (
        {"mounting_height": height},
        {"teeth": dice.choice([5, 20, 53])},
        {"stops": False},
        {"guided": False},
        {"pitch_height": 2.5, "mounting_height": 25.0},
        {"module": 3},
        {"force": 10_000},
        {"allowable_stress": 0.5},
        {"foot": dice.choice([18, 25, 60]), "face_width": 14, "angle": 180},
        {"foot": 14.5, "face_width": 14},
    ):
        yield {"rack": [{**RACK, **fields}]}
    teeth = dice.choice([[20, 21], [4, 4], [8, 8], [16, 40]])
    yield {"mitre": {"teeth": teeth, "thrust_collars": True}}
    yield {"mitre": {"teeth": [20, 20]}}
    for sun, planet, more in ((6, 6, 0), (12, 18, 2), (18, 36, 0), (25, 18, 0), (9, 30, -1)):
        counts = {"sun": sun, "planet": planet, "ring": sun + 2 * planet + more}
        yield {"planetary": [{**counts, "planets": dice.choice([3, 4, 6])}]}
    yield {"planetary": [{"sun": 24, "planet": 18, "ring": 60, "planets": 3, "ring_bolted": False}]}


def _designs():
    for seed in range(2):
        dice = random.Random(seed)
        for name, base in (("kit", KIT), ("train", train())):
            for number, edit in enumerate(spoilt(base, dice)):
                yield pytest.param(base, edit, id=f"{name}-{seed}-{number}")
        for number, edit in enumerate(spoilt_members(dice)):
            yield pytest.param(KIT, edit, id=f"member-{seed}-{number}")


def test_the_sound_ones_are_sound():
    assert not review(KIT).fails and not review(train()).fails
    assert {PINION, WHEEL} == set(KIT.toothed)


@pytest.mark.parametrize(("base", "edit"), list(_designs()))
def test_advice_mends_what_it_is_given_for(base, edit):
    design = base.with_(**edit)
    before = review(design)
    known = {(one.name, one.where) for one in before}
    for told in before:
        if told.name not in NAMES or (
            told.name in SHARED and not told.where.startswith(("the ", "sun ", "planet "))
        ):
            continue
        assert told.edits or told.decision, f"{told.name} says neither an edit nor what is to be decided"
        for advice in told.edits:
            after = {(one.name, one.where): GRADES.index(one.grade) for one in review(design.with_(**advice))}
            assert (told.name, told.where) not in after, f"{told.name} is still there after {advice}"
            worse = [
                place
                for place, grade in after.items()
                if place not in known and grade <= GRADES.index(told.grade)
            ]
            renames = any("name" in fields for fields in advice.get("gear", {}).values() if fields)
            assert renames or not worse, f"{worse} come with {advice}"
