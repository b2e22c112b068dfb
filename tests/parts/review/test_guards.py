"""How a design says that it is guarded, and what the review says of it.

ISO 13857:2008, table 4 (slots, persons of 14 years and above), from memory: up to 4 mm 2 mm away, 6: 10,
8: 20, 10: 80, 12: 100, 20: 120, up to 120: 850. That a fixed guard opens with a tool only, and that one which
opens by hand is interlocked: ISO 14120 and ISO 14119, from memory; that a powered drive is guarded at all:
common practice.
"""

import pytest

from gearlab.parts.design import Design, read_design
from gearlab.parts.review import Finding, Held, Unmade, guards, review

from .drives import KIT, MESH
from .sound_bases import inch_vent

FIXED = {"kind": "fixed", "opens": "tool", "opening": 6, "distance": 10}
(ROW,) = guards.CHECKS
SILENT = Design(**{table: fields for table, fields in KIT.tables.items() if table != "guard"})


def outcomes(design: Design) -> list:
    return list(ROW.made(design))


def finding(design: Design) -> Finding:
    (told,) = (outcome for outcome in outcomes(design) if isinstance(outcome, Finding))
    return told


def guarded(**fields) -> Design:
    return SILENT.with_(guard={key: value for key, value in (FIXED | fields).items() if value is not None})


def test_a_guarded_drive_has_nothing_to_find():
    assert [type(outcome) for outcome in outcomes(guarded())] == [Held, Held]
    assert review(guarded()).names == review(SILENT).names and review(guarded()).passes
    behind_a_switch = guarded(kind="interlocked", opens=None, opening=0, distance=None)
    assert [type(outcome) for outcome in outcomes(behind_a_switch)] == [Held, Held]
    assert read_design(guarded().toml).guard == guarded().guard


def test_what_is_not_stated_is_told_and_is_no_finding():
    (silent,) = outcomes(SILENT)
    assert isinstance(silent, Unmade) and not silent.decisive and "[guard]" in silent.give
    assert "local rules come first" in silent.give and "motor" in silent.why
    assert "how it is guarded" in str(review(SILENT)) and review(SILENT).passes
    no_motor = SILENT.with_(load={"stall_torque": None})
    assert "1450 rpm" in outcomes(no_motor.with_(load={"speed": -1450}))[0].why
    told = [str(outcome) for outcome in outcomes(guarded(opens=None, opening=None))]
    assert "what opens it" in told[0] and "opening (0 for a closed one)" in told[1]
    assert "distance from the teeth" in str(outcomes(guarded(distance=None))[1])


def test_what_is_turned_by_hand_needs_none():
    by_hand = SILENT.with_(load={"stall_torque": None, "slip_torque": None})
    assert outcomes(by_hand) == [] and outcomes(by_hand.with_(guard={"kind": "none"})) == []
    assert outcomes(SILENT.with_(mesh={MESH: None})) == [] and outcomes(SILENT.with_(load=None)) == []


@pytest.mark.parametrize("base", [SILENT, inch_vent()], ids=["mm", "in"])
@pytest.mark.parametrize(
    ("guard", "name", "words"),
    [
        ({"kind": "none"}, "no-guard", "without a guard"),
        ({"kind": "fixed", "opens": "hand", "opening": 0}, "guard-opens-by-hand", "opens by hand"),
        (
            {"kind": "fixed", "opens": "tool", "opening": 0.4, "distance": 0},
            "reached-through-guard",
            "from the",
        ),
        ({"kind": "interlocked", "opening": 130, "distance": 900}, "reached-through-guard", "opening of 130"),
    ],
)
def test_a_planted_fault_is_found_and_its_advice_mends_it(base, guard, name, words):
    wrong = base.with_(guard=guard)
    told = finding(wrong)
    assert told.name == name and words in told.what and told.grade == "will trouble"
    assert "Local rules and licensed practice come first." in told.change
    assert not review(wrong).passes and told.edits
    for edit in told.edits:
        mended = wrong.with_(**edit)
        assert name not in review(mended).names and review(mended).passes
        assert read_design(mended.toml) == mended  # its file keeps what was changed


@pytest.mark.parametrize(
    ("opening", "distance"),
    [(4, 2), (6, 10), (8, 20), (10, 80), (12, 100), (20, 120), (30, 850), (120, 850)],
)
def test_how_far_behind_an_opening_the_teeth_are(opening, distance):
    assert guards.least_distance(opening) == distance
    holds = guarded(opening=opening, distance=distance)
    assert [type(outcome) for outcome in outcomes(holds)] == [Held, Held]
    short = guarded(opening=opening, distance=distance - 0.5)
    assert finding(short).name == "reached-through-guard" and f"{distance} mm" in finding(short).limit
    wider = guards.least_distance(opening + 0.5)
    assert wider is None if opening == 120 else wider >= distance


def test_a_guard_in_inches():
    """12 mm are 0.472 in and ask for 100 mm, 3.937 in."""
    base = inch_vent()
    near = base.with_(guard={"kind": "fixed", "opens": "tool", "opening": 0.47, "distance": 3.5})
    assert "3.937" in finding(near).limit
    assert {"guard": {"distance": 3.938}} in finding(near).edits
    assert {"guard": {"opening": 0.393}} in finding(near).edits  # 10 mm: 80 mm, 3.15 in


def test_a_guard_that_is_not_one_is_refused_in_words():
    with pytest.raises(ValueError, match="kind"):
        SILENT.with_(guard={"opens": "tool"})
    with pytest.raises(ValueError, match="fixed.*interlocked.*none"):
        SILENT.with_(guard={"kind": "mesh"})
    with pytest.raises(ValueError, match="did you mean.*guard"):
        Design(
            design={"name": "a"},
            gaurd={"kind": "none"},
            **{k: v for k, v in SILENT.tables.items() if k != "design"},
        )
