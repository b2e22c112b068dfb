"""A sound pair on its plate, for the tests of what is asked of meshes, teeth, plate and room.

20 and 40 teeth, module 2, thinned by 0.04 mm each: a = 2 (20 + 40)/2 = 60 mm (common practice).
"""

from gearlab.parts.design import Design
from gearlab.parts.review import Finding, Held, Unmade, review

PAIR = "pinion with wheel"


def gear(name, shaft, teeth, **more):
    return {
        "name": name,
        "shaft": shaft,
        "teeth": teeth,
        "module": 2.0,
        "tooth_thinning": 0.04,
        "face_width": 10.0,
        "gap": 2.0,
        "bore": 8.0,
        "fit": "sliding",
        "hub_diameter": 18.0,
        "hub_projection": 12.0,
        "set_screw": "M4",
        "drill_depth": 9.0,
        "flat": 0.5,
        "allowable_stress": 60.0,
    } | more


def shaft(name, x, y, **more):
    return {"name": name, "x": x, "y": y, "diameter": 8.0, "length": 45.0, "behind": 10.0, "end": 3.0} | more


def sound(**edits):
    """The pair, with edits as ``Design.with_`` takes them."""
    made = Design(
        design={"name": "pair", "unit": "mm"},
        plate={"length": 200.0, "height": 120.0, "thickness": 6.0},
        shaft=[shaft("a", 50.0, 60.0), shaft("b", 110.0, 60.0)],
        gear=[gear("pinion", "a", 20), gear("wheel", "b", 40)],
        mesh=[{"driver": "pinion", "driven": "wheel"}],
        load={"torque": 0.5},
    )
    return made.with_(**edits) if edits else made


def outcomes(design, check):
    """What one check of the table comes to."""
    return [outcome for row, outcome in review(design).outcomes if row is not None and row.name == check]


def held(design, check):
    return [outcome for outcome in outcomes(design, check) if isinstance(outcome, Held)]


def unmade(design, check):
    return [outcome for outcome in outcomes(design, check) if isinstance(outcome, Unmade)]


def finding(design, name):
    """The finding of a name; its advice is followed, each edit by itself, and has to mend it."""
    found = next((one for one in review(design) if one.name == name), None)
    assert isinstance(found, Finding), f"no {name}: {review(design)}"
    assert found.edits or found.decision, f"{name} names neither a change nor what is to be decided"
    before = {(one.name, one.where) for one in review(design).fails}
    for edit in found.edits:
        after = review(design.with_(**edit))
        left = {(one.name, one.where) for one in after}
        assert (found.name, found.where) not in left, f"{name} stays after {edit}"
        worse = {(one.name, one.where) for one in after.of("will not work")}
        assert worse <= before, f"{edit} brings {worse - before}"
    return found


def edited(design):
    """The first edit of the one finding of a design."""
    (found,) = review(design)
    return found.edits[0]
