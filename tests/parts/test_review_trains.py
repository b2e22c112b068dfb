"""The review of trains.

Idlers, two gears on one shaft, a train folded back; what has no room on the plate, and what an idler's shaft
takes.

The designs are made by the rules of the trade (common practice); overlaps, pushes and stresses are worked by
hand.
"""

import copy
import math

import pytest

from gearlab import Gear, Train
from gearlab.parts.design import Design
from gearlab.parts.review import review

FACE, PROJECTION, GAP, BORE = 10.0, 12.0, 1.5, 8.0


def design(shafts, angles, *, module=2.0, above=False, load=None):
    """A design of a train, each shaft with one gear or two.

    ``above`` puts the last gear into the second plane.
    """
    train = Train(
        tuple(
            Gear(one, module=module) if isinstance(one, int) else tuple(Gear(n, module=module) for n in one)
            for one in shafts
        ),
        angles,
    )
    places, wide = [(0.0, 0.0)], 0.04 * module
    for distance, angle in zip(train.centre_distances, angles):
        places.append(
            (
                places[-1][0] + (distance + wide) * math.cos(math.radians(angle)),
                places[-1][1] + (distance + wide) * math.sin(math.radians(angle)),
            )
        )
    reach = [module * (max(one if isinstance(one, tuple) else (one,)) + 2) / 2 + 15 for one in shafts]
    left, low = (min(place[axis] - size for place, size in zip(places, reach)) for axis in (0, 1))
    right, high = (max(place[axis] + size for place, size in zip(places, reach)) for axis in (0, 1))
    gears, lengths = [], []
    for k, one in enumerate(shafts):
        height = 0.0
        for j, teeth in enumerate(one if isinstance(one, tuple) else (one,)):
            gap = GAP + (GAP + FACE + PROJECTION if above and k == len(shafts) - 1 else 0.0)
            gears.append(
                {
                    "name": f"g{k}{'ab'[j]}",
                    "shaft": f"s{k}",
                    "teeth": teeth,
                    "module": module,
                    "face_width": FACE,
                    "gap": gap,
                    "bore": BORE,
                    "fit": "sliding",
                    "hub_diameter": 16,
                    "hub_projection": PROJECTION,
                    "set_screw": "M4",
                    "drill_depth": 8,
                    "flat": 0.5,
                }
            )
            height += gap + FACE + PROJECTION
        lengths.append(math.ceil((8 + 6 + height + 3) / 5) * 5)
    of = [[gear["name"] for gear in gears if gear["shaft"] == f"s{k}"] for k in range(len(shafts))]
    tables = {
        "design": {
            "name": "train",
            "ratio": train.ratio,
            "direction": "same" if train.direction > 0 else "opposite",
        },
        "plate": {"length": right - left, "height": high - low, "thickness": 6},
        "shaft": [
            {
                "name": f"s{k}",
                "x": x - left,
                "y": y - low,
                "diameter": BORE,
                "length": lengths[k],
                "behind": 8,
                "end": 3,
            }
            for k, (x, y) in enumerate(places)
        ],
        "gear": gears,
        "mesh": [{"driver": of[k][-1], "driven": of[k + 1][0]} for k in range(len(shafts) - 1)],
    }
    return tables | ({"load": load} if load else {})


def found(tables):
    return review(Design.model_validate(tables))


@pytest.mark.parametrize(
    ("shafts", "angles", "above"),
    [
        ((18, 24, 45), (0.0, 0.0), False),
        ((20, 30, 20), (90.0, 90.0), False),
        ((18, 20, 19, 40), (0.0, 0.0, 0.0), False),
        ((22, 30, 60), (0.0, 50.0), False),
        ((18, (45, 30), 60), (0.0, 0.0), True),
        ((20, (40, 26), 52), (0.0, 30.0), True),
        ((18, (40, 24), 60), (-45.0, -45.0), True),
        ((18, (45, 30), 60), (0.0, 180.0), True),
        ((20, 20, 20, 20), (0.0, 90.0, 180.0), False),
    ],
)
def test_sound_trains_pass_without_a_false_alarm(shafts, angles, above):
    if len(shafts) == 4 and angles[1] == 90.0:
        angles = (0.0, 80.0, 160.0)  # a true square would close to a ring, which is another design
    assert not found(design(shafts, angles, above=above)), str(found(design(shafts, angles, above=above)))


def test_a_wheel_that_reaches_into_the_next_shaft():
    """18 : 60 + 18 : 36, module 2.

    The last shaft stands 54.08 mm off, the wheel's tips reach 62 mm, the shaft's radius is 4: 11.92 mm too
    far.
    """
    one = next(
        finding
        for finding in found(design((18, (60, 18), 36), (0.0, 0.0), above=True))
        if finding.name == "gear-strikes-shaft"
    )
    assert one.where == "g1a and shaft s2" and "11.92 mm" in one.what and one.grade == "will not work"


def test_gears_that_are_not_to_mesh_collide():
    """20, 20 and 40 teeth bent to 60 degrees, module 2.

    First and last stand sqrt(40.08^2 + 60.08^2 - 40.08 x 60.08) = 52.99 mm apart, their tips need 22 + 42.
    """
    tables = design((20, 20, 40), (0.0, 0.0))
    first, middle, last = tables["shaft"]
    last["x"], last["y"] = (
        middle["x"] - 60.08 * math.cos(math.radians(60)),
        middle["y"] + 60.08 * math.sin(math.radians(60)),
    )
    tables["plate"]["height"] += 200
    assert math.hypot(last["x"] - first["x"], last["y"] - first["y"]) == pytest.approx(52.99, abs=0.01)
    one = next(finding for finding in found(tables) if finding.name == "gears-collide")
    assert "face and face" in one.what and "11.009 mm" in one.what
    tables["gear"][2]["gap"] += FACE + PROJECTION + GAP  # out of the way, though now out of mesh as well
    assert "gears-collide" not in found(tables).names and "faces-miss" in found(tables).names


def test_coaxial_gears_at_one_height_collide():
    # the second plane forgotten
    assert "gears-collide" in found(design((18, (45, 30), 60), (0.0, 180.0))).names


def test_holes_that_meet():
    tables = design((18, 24, 45), (0.0, 0.0))
    tables["shaft"][1] |= {"x": tables["shaft"][0]["x"] + 6, "y": tables["shaft"][0]["y"]}
    one = next(finding for finding in found(tables) if finding.name == "holes-meet")
    assert "6 mm apart" in one.what and "8 mm" in one.limit


def test_gaps_stack_along_a_shaft():
    """Two gears on one shaft: 1.5 + 22 + 1.5 + 22 above a plate of 6 with 8 behind and 3 beyond: 64 mm."""
    tables = design((18, (45, 30), 60), (0.0, 0.0), above=True)
    made = Design.model_validate(tables)
    assert made.foot("g1b") == pytest.approx(25.0) and made.face_height("g1b") == pytest.approx(
        42.0
    ) == pytest.approx(made.face_height("g2a"))
    tables["shaft"][1]["length"] = 60
    short = next(finding for finding in found(tables) if finding.name == "shaft-too-short")
    assert "4 mm short" in short.what


def test_the_shaft_of_an_idler_takes_both_meshes():
    """In line both tangential forces add up: 2 x 1.8 N m / 18 mm = 200 N."""
    tables = design((18, 24, 45), (0.0, 0.0), load={"torque": 1.8})
    for gear in tables["gear"]:
        gear["allowable_stress"] = 70.0  # bronze
    names = found(tables).names
    assert names == ("idler-takes-both-meshes",) and found(tables).passes
    assert "200 N" in found(tables)[0].what and "estimate" in found(tables)[0].source


@pytest.mark.parametrize(
    ("change", "name"),
    [
        (lambda gear: gear.pop("hub_diameter") and gear.pop("hub_projection"), "screw-without-hub"),
        (lambda gear: gear.update(hub_projection=5.0, face_width=17.0), "hub-too-short-for-screw"),
    ],
)
def test_a_set_screw_needs_a_hub(change, name):
    tables = design((18, 45), (0.0,))
    change(tables["gear"][0])
    assert name in found(tables).names


@pytest.mark.parametrize(
    ("more", "form"),
    [
        ({}, 0.309),
        ({"tooth_thinning": 0.05}, 0.309),
        ({"tooth_system": "stub"}, None),
        ({"profile_shift": 0.3}, None),
        ({"pressure_angle": 25.0}, None),
    ],
)
def test_stress_is_told_of_every_tooth(more, form):
    """2 N m on 18 teeth of module 2.

    111.1 N; over 10 mm of face, module 2 and Y 0.309 (Shigley, table 14-2): 17.98 MPa. Other teeth are
    measured.
    """
    tables = design((18, 45), (0.0,), load={"torque": 2.0})
    for gear in tables["gear"]:
        gear |= more | {"allowable_stress": 5.0}
    if "profile_shift" in more:
        tables["shaft"][1]["x"] += 2 * 0.6
    one = next(
        finding for finding in found(tables) if finding.name == "teeth-overloaded" and finding.where == "g0a"
    )
    assert "estimate for teaching" in one.source
    stress = float(one.what.split("about ")[1].split(" MPa")[0])
    if form:
        assert stress == pytest.approx(2.0 / 0.018 / (10 * 2 * form), abs=0.006)
    else:
        # stub, shifted and 25 degree teeth are all stouter at the foot
        assert stress < 2.0 / 0.018 / (10 * 2 * 0.309)


def test_a_review_changes_nothing():
    tables = design((18, (45, 30), 60), (0.0, 0.0), above=True)
    before = copy.deepcopy(tables)
    found(tables)
    assert tables == before
