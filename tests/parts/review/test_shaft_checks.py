"""Shafts in the review: lengths, and strength against worked examples of textbooks and statics by hand."""

import math

import pytest

from gearlab.parts.design import Design
from gearlab.parts.review import review
from gearlab.parts.review.shafts import bending_moment, forces, shear_stress

from .bench_kits import inch, vent


# Khurmi & Gupta, A Textbook of Machine Design, chapter 14 (from memory): 3000 N m of bending and 10,000 N m
# of torque are 10,440 N m together; at 500 / 6 = 83.3 MPa that takes a shaft of 86 mm.
def test_a_shaft_under_torsion_and_bending():
    assert shear_stress(3000e3, 10000e3, 86.0) == pytest.approx(500 / 6, rel=0.01)
    assert math.hypot(3000, 10000) == pytest.approx(10440, abs=1)


def gear_on_a_shaft(diameter):
    """A spur gear of 150 mm pitch diameter, the middle of its face 50 mm from the bearing.

    Khurmi & Gupta, chapter 14 (from memory): 7.5 kW at 300 rev/min, a gear of 150 mm in the middle between
    bearings 200 mm apart (so W x 200 / 4 bends as W x 50 does), 20 degrees, 45 MPa: T = 238.7 N m, the tooth
    pushes with 3387 N, M = 169.4 N m, both together 292.7 N m, d = 32 mm, say 35 mm.
    """
    gear = {
        "module": 5,
        "face_width": 20,
        "gap": 40,
        "bore": diameter,
        "fit": "press",
        "allowable_stress": 400,
    }
    shaft = {"y": 200, "diameter": diameter, "length": 80, "allowable_shear": 45, "behind": 5}
    return Design(
        design={"name": "textbook"},
        plate={"length": 700, "height": 400, "thickness": 10},
        shaft=[{"name": "A", "x": 200} | shaft, {"name": "B", "x": 200 + 225.2} | shaft],
        gear=[
            {"name": "a", "shaft": "A", "teeth": 30} | gear,
            {"name": "b", "shaft": "B", "teeth": 60} | gear,
        ],
        mesh=[{"driver": "a", "driven": "b"}],
        load={"torque": 238.7},
    )


def test_a_gear_on_its_shaft_as_the_textbook_has_it():
    pushes = forces(gear_on_a_shaft(32), "A")
    ((height, x, y),) = pushes
    assert height == 50 and math.hypot(x, y) == pytest.approx(3387, abs=2)
    assert bending_moment(pushes) == pytest.approx(169.4e3, rel=1e-3)
    assert math.hypot(169.4, 238.7) == pytest.approx(292.7, abs=0.1)
    assert shear_stress(169.4e3, 238.7e3, 32) == pytest.approx(45, rel=0.02)
    names = {d: [f.name for f in review(gear_on_a_shaft(d)) if f.where == "shaft A"] for d in (30, 35)}
    assert "shaft-overloaded" in names[30] and "shaft-overloaded" not in names[35]


def test_the_push_has_the_right_sides():
    """The driver turns counter-clockwise, its mate stands to its right: its teeth move up where they meet,
    push the mate up and away, and are pushed down and back."""
    design = vent()
    ((_, x, y),) = forces(design, "vent")
    assert x == pytest.approx(85.78 * math.tan(math.radians(20)), rel=1e-3) and y == pytest.approx(
        85.78, rel=1e-3
    )
    ((_, back, down),) = forces(design, "crank")
    assert (back, down) == pytest.approx((-x, -y))


def test_an_idler_in_line_takes_both_meshes():
    """Two tangential forces add up, the separating ones cancel: 2 x 2 N m / 20 mm = 200 N (statics)."""
    gear = {"teeth": 20, "module": 2, "face_width": 10, "bore": 8, "gap": 1}
    design = Design(
        design={"name": "row"},
        plate={"length": 300, "height": 100, "thickness": 6},
        shaft=[{"name": name, "x": 50 + 40 * k, "y": 50, "diameter": 8} for k, name in enumerate("ABC")],
        gear=[{"name": name.lower(), "shaft": name} | gear for name in "ABC"],
        mesh=[{"driver": "a", "driven": "b"}, {"driver": "b", "driven": "c"}],
        load={"torque": 2},
    )
    total = [sum(push[axis] for push in forces(design, "B")) for axis in (1, 2)]
    assert total == pytest.approx([0, 200], abs=1e-9)


def test_a_ring_draws_the_pinion_into_its_teeth_along_the_pitch_circle_and_away_from_it():
    """A pinion inside a ring, to the right of the ring's middle: they touch still further right; the pinion
    turns counter-clockwise, its teeth move up there and push the ring up and outward (to the right)."""
    gear = {"module": 2, "face_width": 10, "bore": 8, "gap": 1}
    design = Design(
        design={"name": "ring"},
        plate={"length": 300, "height": 300, "thickness": 6},
        shaft=[
            {"name": "R", "x": 100, "y": 150, "diameter": 8},
            {"name": "P", "x": 140, "y": 150, "diameter": 8},
        ],
        gear=[
            {"name": "ring", "shaft": "R", "teeth": 60, "internal": True, "rim_diameter": 140} | gear,
            {"name": "pinion", "shaft": "P", "teeth": 20} | gear,
        ],
        mesh=[{"driver": "pinion", "driven": "ring"}],
        load={"torque": 2},
    )
    ((_, x, y),) = forces(design, "R")
    assert x == pytest.approx(100 * math.tan(math.radians(20))) and y == pytest.approx(100)
    other = design.with_(mesh={"pinion with ring": None}).with_(mesh={"ring with pinion": {}})
    ((_, x, y),) = forces(other, "P")
    # the ring drives: it turns counter-clockwise, moves up where they touch, and presses the pinion inward
    assert y == pytest.approx(2000 / 60) and x == pytest.approx(-2000 / 60 * math.tan(math.radians(20)))


# By hand: 1.93 N m at 22.5 mm are 85.8 N, 91.3 N along the line of action; 21.5 mm above the plate they bend
# with 1963 N mm; with 1930 N mm of torque 2753 N mm, on 10 mm 14.0 MPa; 4 / 1.93 of it when the clutch slips.
def test_the_crank_of_the_vent_drive():
    running = review(vent().with_(load={"stall_torque": None, "slip_torque": None}))
    stress = {held.where: held for held in running.holds if "shear stress" in held.what}["shaft crank"]
    assert stress.number == pytest.approx(14.02, abs=0.01) and stress.limit == 55
    stalled = {held.where: held for held in review(vent()).holds if "shear stress" in held.what}[
        "shaft crank"
    ]
    assert stalled.number == pytest.approx(14.02 * 4 / 1.93, abs=0.02)
    # yield in shear of plain steel: half of 235 MPa in tension (EN 10025)
    assert stalled.limit == pytest.approx(110) and stalled.limit <= 235 / 2


def test_half_an_inch_short():
    """Common practice: plate and gap of 0.25 in, a gear 1 in over all, a shaft of 1 in: 0.5 in short."""
    design = inch().with_(
        plate={"thickness": 0.25},
        shaft={name: {"length": 1, "behind": 0, "end": 0} for name in "AB"},
        gear={name: {"gap": 0.25, "face_width": 0.5, "hub_projection": 0.5} for name in ("pinion", "wheel")},
    )
    short = [finding for finding in review(design) if finding.name == "shaft-too-short"]
    assert [finding.where for finding in short] == ["shaft A", "shaft B"]
    assert all("0.5 in short" in finding.what and "1.5 in" in finding.change for finding in short)


def test_a_length_or_a_load_that_is_missing_is_decisive():
    undecided = {
        (gap.where, gap.what) for gap in review(vent().with_(shaft={"vent": {"length": None}})).undecided
    }
    assert undecided == {("shaft vent", "whether it is long enough")}
    ledger = review(vent().with_(load=None))
    assert not ledger.passes
    assert {"shaft crank", "shaft vent"} <= {
        gap.where for gap in ledger.undecided if gap.what == "its strength"
    }


def test_a_length_that_was_measured_counts():
    read = {"value": 44.6, "reads_to": 0.5}
    assert not review(vent().with_(measured={"vent length": read}))
    short = review(vent().with_(measured={"vent length": read | {"reads_to": 0.05}}))
    assert short.names == ("shaft-too-short", "measured-differs") and "as measured" in short[0].what
