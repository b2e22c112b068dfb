"""Sound designs spoiled in one number of shaft, hub or fastening: found by name, mended as advised.

Each limit is one of common practice or of the source named beside its check; which side of it a number lies
on is worked by hand.
"""

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import GRADES, review

from .bench_kits import KITS

BARE = dict.fromkeys(
    ("set_screw", "screw_length", "drill_depth", "drill_reach", "thread_length", "flat"), None
)
# kit, what is found, where, what is spoiled
SPOILED = [
    ("vent", "shaft-too-short", "shaft vent", {"shaft": {"vent": {"length": 40}}}),
    ("vent", "shaft-too-short", "shaft crank", {"plate": {"thickness": 16}}),
    ("vent", "shaft-too-long", "shaft vent", {"shaft": {"vent": {"length": 75}}}),
    ("inch", "shaft-too-short", "shaft B", {"shaft": {"B": {"length": 1.5}}}),
    ("inch", "shaft-too-long", "shaft A", {"shaft": {"A": {"length": 2.5}}}),
    ("small", "shaft-too-short", "shaft A", {"gear": {"pinion": {"gap": 10}}}),
    # 50 lbf in on 0.05 in, and its bore with it: 16 x 50 / (pi 0.05^3) = 2 million psi
    (
        "inch",
        "shaft-overloaded",
        "shaft A",
        {
            "load": {"torque": 50},
            "shaft": {"A": {"diameter": 0.05, "hole": 0.054}},
            "gear": {"pinion": {"bore": 0.05, "flat": None}},
        },
    ),
    ("small", "shaft-overloaded", "shaft B", {"load": {"torque": 2.5}}),
    ("vent", "shaft-overloaded", "shaft vent", {"load": {"slip_torque": 9.9}}),
    ("vent", "shaft-overloaded", "shaft vent", {"shaft": {"vent": {"allowable_shear": 20}}}),
    ("keyed", "shaft-overloaded", "shaft vent", {"load": {"torque": 4, "stall_torque": None}}),
    ("vent", "hole-tighter-than-shaft", "hole vent", {"shaft": {"vent": {"hole": 10}}}),
    ("vent", "hole-tighter-than-shaft", "hole vent", {"shaft": {"vent": {"hole": 9.8}}}),
    ("inch", "hole-looser-than-shaft", "hole A", {"shaft": {"A": {"hole": 0.4}}}),
    ("vent", "fit-unknown", "wheel", {"gear": {"wheel": {"fit": "snug"}}}),
    ("vent", "bore-is-not-the-shaft", "wheel", {"gear": {"wheel": {"bore": 12}}}),
    ("inch", "bore-is-not-the-shaft", "wheel", {"shaft": {"B": {"diameter": 0.25, "hole": 0.254}}}),
    ("vent", "press-fit-with-screw", "wheel", {"gear": {"wheel": {"fit": "press"}}}),
    ("vent", "bore-tighter-than-shaft", "wheel", {"gear": {"wheel": {"fit": None, "bore": 9.9}}}),
    ("inch", "bore-looser-than-shaft", "wheel", {"gear": {"wheel": {"fit": None, "bore": 0.385}}}),
    ("vent", "fit-not-named", "wheel", {"gear": {"wheel": {"fit": None}}}),
    ("vent", "hub-thinner-than-bore", "wheel", {"gear": {"wheel": {"hub_diameter": 9.5}}}),
    (
        "vent",
        "thin-wall",
        "wheel",
        {"gear": {"wheel": {"hub_diameter": 14, "drill_depth": 6, "screw_length": 2.5}}},
    ),
    ("inch", "thin-wall", "pinion", {"gear": {"pinion": {"hub_diameter": 0.53, "screw_length": 0.09375}}}),
    ("vent", "hub-fills-spaces", "pinion", {"gear": {"pinion": {"hub_diameter": 42, "drill_depth": 20}}}),
    ("vent", "hub-near-root", "pinion", {"gear": {"pinion": {"hub_diameter": 38, "drill_depth": 20}}}),
    ("keyed", "keyway-breaks-through", "pinion", {"gear": {"pinion": {"hub_diameter": 12.5}}}),
    ("keyed", "thin-over-keyway", "pinion", {"gear": {"pinion": {"hub_diameter": 15}}}),
    ("keyed", "thin-over-keyway", "wheel", {"gear": {"wheel": {"keyway_depth": 8}}}),
    ("keyed", "keyway-too-deep", "wheel", {"gear": {"wheel": {"keyway_depth": 2.5}}}),
    ("keyed", "keyway-too-shallow", "wheel", {"gear": {"wheel": {"keyway_depth": 0.3}}}),
    ("keyed", "keyway-too-wide", "wheel", {"gear": {"wheel": {"keyway_width": 5}}}),
    ("keyed", "keyway-too-narrow", "wheel", {"gear": {"wheel": {"keyway_width": 1.5}}}),
    ("keyed", "key-longer-than-gear", "wheel", {"gear": {"wheel": {"key_length": 60}}}),
    ("keyed", "key-overloaded", "wheel", {"gear": {"wheel": {"key_length": 3}}}),
    ("keyed", "key-overloaded", "wheel", {"gear": {"wheel": {"allowable_shear": 10}}}),
    (
        "small",
        "thin-rim",
        "pinion",
        {
            "shaft": {"A": {"diameter": 17, "hole": 17.1}},
            "gear": {"pinion": {"bore": 17, "hub_diameter": 26}},
        },
    ),
    ("small", "bore-reaches-spaces", "pinion", {"gear": {"pinion": {"bore": 22}}}),
    ("vent", "screw-unknown", "wheel", {"gear": {"wheel": {"set_screw": "M7"}}}),
    ("inch", "screw-unknown", "wheel", {"gear": {"wheel": {"set_screw": "5"}}}),
    (
        "vent",
        "screw-without-hub",
        "wheel",
        {"gear": {"wheel": {"hub_diameter": None, "hub_projection": None, "gap": 15.5}}},
    ),
    (
        "small",
        "hub-too-short-for-screw",
        "wheel",
        {"gear": {"wheel": {"set_screw": "M6", "drill_depth": 4.5, "screw_length": None}}},
    ),
    ("inch", "hub-too-short-for-screw", "wheel", {"gear": {"wheel": {"hub_projection": 0.2, "gap": 0.3625}}}),
    ("vent", "hole-short-of-shaft", "wheel", {"gear": {"wheel": {"drill_depth": 9}}}),
    ("inch", "hole-into-far-wall", "wheel", {"gear": {"wheel": {"drill_depth": 0.6}}}),
    ("vent", "chuck-hits-teeth", "wheel", {"gear": {"wheel": {"drill_reach": 40}}}),
    ("vent", "no-thread-runout", "pinion", {"gear": {"pinion": {"drill_depth": 10}}}),
    ("vent", "screw-stands-out", "pinion", {"gear": {"pinion": {"screw_length": 12}}}),
    ("inch", "screw-stands-out", "pinion", {"gear": {"pinion": {"screw_length": 0.375}}}),
    ("vent", "screw-too-short", "pinion", {"gear": {"pinion": {"screw_length": 3}}}),
    (
        "small",
        "hub-too-thin-for-screw",
        "wheel",
        {
            "gear": {"wheel": {"set_screw": "M8", "hub_projection": 15, "gap": 1}, "pinion": {"gap": 9}},
            "shaft": {"A": {"length": 40}, "B": {"length": 40}},
        },
    ),
    (
        "vent",
        "no-fastening",
        "wheel",
        {
            "gear": {
                "wheel": dict.fromkeys(
                    ("set_screw", "screw_length", "drill_depth", "drill_reach", "thread_length", "flat")
                )
            }
        },
    ),
    (
        "vent",
        "no-fastening",
        "wheel",
        {
            "load": None,
            "gear": {
                "wheel": dict.fromkeys(
                    ("set_screw", "screw_length", "drill_depth", "drill_reach", "thread_length", "flat")
                )
            },
        },
    ),
    ("vent", "slips-on-shaft", "wheel", {"gear": {"wheel": {"flat": None}}}),
    ("inch", "slips-on-shaft", "wheel", {"gear": {"wheel": {"flat": None}}}),
    ("vent", "slips-on-shaft", "wheel", {"gear": {"wheel": {"set_screw": "M3"}}}),
    ("vent", "flat-too-deep", "wheel", {"gear": {"wheel": {"flat": 5}}}),
    ("vent", "flat-too-deep", "wheel", {"gear": {"wheel": {"flat": 2.5}}}),
    ("inch", "flat-too-shallow", "wheel", {"gear": {"wheel": {"flat": 0.0005}}}),
    (
        "vent",
        "flat-too-shallow",
        "wheel",
        {"gear": {"wheel": {"flat": 0.05, "set_screw": None, "screw_length": None, "drill_depth": None}}},
    ),
]


@pytest.mark.parametrize("name", KITS)
def test_the_sound_ones_pass(name):
    ledger = review(KITS[name]())
    assert not ledger and ledger.passes, str(ledger)


@pytest.mark.parametrize(("kit", "name", "where", "edit"), SPOILED)
def test_what_is_spoiled_is_found_and_mended_as_advised(kit, name, where, edit):
    spoiled = KITS[kit]().with_(**edit)
    ledger = review(spoiled)
    finding = next((finding for finding in ledger if (finding.name, finding.where) == (name, where)), None)
    assert finding is not None, str(ledger)
    assert finding.edits and not finding.decision, f"{finding}\n{ledger}"
    before = {(other.name, other.where): GRADES.index(other.grade) for other in ledger}
    for mend in finding.edits:
        mended = review(Design(**spoiled.with_(**mend).tables))
        after = {(other.name, other.where): GRADES.index(other.grade) for other in mended}
        assert (name, where) not in after, f"{mend}\n{mended}"
        worse = [
            key
            for key, grade in after.items()
            if grade <= GRADES.index(finding.grade) and before.get(key, 9) > grade
        ]
        assert not worse, f"{mend}\n{mended}"
