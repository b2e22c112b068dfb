"""The review of many kits.

Sizes from 0.5 to 5 modules and 8 to 24 pitches, alone and with one failure put in each.

Sound kits are made by the rules of the bench (common practice); a failure is one number that breaks a rule,
whatever the size.
"""

import copy
import math

import pytest

from gearlab import Gear
from gearlab.parts.design import Design
from gearlab.parts.review import review


def kit(
    n1,
    n2,
    size,
    bore,
    face,
    *,
    inch=False,
    angle=0.0,
    hub=None,
    projection=0.0,
    screw=None,
    pressure_angle=20.0,
):
    """A pair on its plate as tables.

    A margin of 5 modules and two bores beyond the tips, 3 % of a module of play.
    """
    scale, key = (1 / size, "diametral_pitch") if inch else (size, "module")
    stock, gap, plate, behind, end = (0.25, 0.06, 0.25, 0.3, 0.1) if inch else (5.0, 1.5, 6.0, 8.0, 2.0)
    tips, distance = [(n + 2) * scale / 2 for n in (n1, n2)], (n1 + n2) * scale / 2
    step = distance * math.cos(math.radians(angle)), distance * math.sin(math.radians(angle))
    margin = 5 * scale + 2 * bore
    low = [min(-tips[0], step[axis] - tips[1]) - margin for axis in (0, 1)]
    high = [max(tips[0], step[axis] + tips[1]) + margin for axis in (0, 1)]
    length = math.ceil((behind + plate + gap + face + projection + end) / stock - 1e-9) * stock
    gears = [
        {
            "name": name,
            "shaft": name,
            "teeth": n,
            key: size,
            "pressure_angle": pressure_angle,
            "tooth_thinning": 0.015 * scale,
            "face_width": face,
            "gap": gap,
            "bore": bore,
            "fit": "sliding",
        }
        | (
            {"fit": "press"}
            if hub is None
            else {
                "hub_diameter": hub,
                "hub_projection": projection,
                "set_screw": screw,
                "drill_depth": hub / 2,
                "flat": 0.05 * bore,
            }
        )
        for name, n in (("a", n1), ("b", n2))
    ]
    return {
        "design": {"name": "kit", "unit": "in" if inch else "mm", "ratio": n2 / n1, "direction": "opposite"},
        "plate": {"length": high[0] - low[0], "height": high[1] - low[1], "thickness": plate},
        "shaft": [
            {
                "name": name,
                "x": x - low[0],
                "y": y - low[1],
                "diameter": bore,
                "length": length,
                "behind": behind,
                "end": end,
            }
            for name, (x, y) in (("a", (0, 0)), ("b", step))
        ],
        "gear": gears,
        "mesh": [{"driver": "a", "driven": "b"}],
    }


BARE = {
    "paper, module 3": kit(18, 36, 3, 4, 1),
    "paper, module 5": kit(18, 36, 5, 4, 1),
    "laser, 18 and 45": kit(18, 45, 2.5, 10, 3),
    "laser, 19 and 45": kit(19, 45, 2.5, 10, 3),
    "printed": kit(18, 45, 2.5, 10, 10),
    "tiny": kit(20, 40, 1, 4, 5),
    "clockwork": kit(24, 60, 0.5, 3, 4),
    "upright": kit(18, 45, 2.5, 10, 12, angle=90.0),
}
WHOLE = {
    "vent drive in inches": kit(18, 45, 10, 0.375, 0.55, inch=True, hub=0.75, projection=0.55, screw="#10"),
    "12 pitch": kit(20, 60, 12, 0.25, 0.5, inch=True, hub=0.5, projection=0.5, screw="#8"),
    "24 pitch": kit(40, 72, 24, 0.25, 0.25, inch=True, angle=30.0, hub=0.45, projection=0.4, screw="#6"),
    "8 pitch": kit(18, 24, 8, 0.5, 0.75, inch=True, angle=-90.0, hub=0.95, projection=0.75, screw="1/4"),
    "module 2.5": kit(18, 45, 2.5, 10, 14, hub=20, projection=13, screw="M5"),
    "module 5": kit(20, 30, 5, 20, 40, angle=180.0, hub=40, projection=30, screw="M8"),
    "module 1.5": kit(24, 31, 1.5, 6, 10, angle=45.0, hub=11, projection=9, screw="M3"),
    "25 degrees": kit(14, 40, 3, 10, 20, hub=19, projection=12, screw="M5", pressure_angle=25.0),
    "14.5 degrees": kit(
        36, 36, 2, 10, 15, angle=120.0, hub=20, projection=12, screw="M5", pressure_angle=14.5
    ),
}


@pytest.mark.parametrize("name", [*BARE, *WHOLE])
def test_a_sound_kit_passes_clean(name):
    found = review(Design.model_validate((BARE | WHOLE)[name]))
    assert not found, str(found)


def scale(design):
    gear = design["gear"][0]
    return gear.get("module") or 1 / gear["diametral_pitch"]


def apart(design, by):
    """Moves the second shaft along the line of centres, by so many modules."""
    one, two = design["shaft"]
    distance = math.hypot(two["x"] - one["x"], two["y"] - one["y"])
    for axis in "xy":
        two[axis] += (two[axis] - one[axis]) / distance * by * scale(design)


def root(design):
    gear = design["gear"][0]
    return Gear(
        gear["teeth"],
        pressure_angle=gear["pressure_angle"],
        **{word: gear[word] for word in ("module", "diametral_pitch") if word in gear},
    ).root_diameter


def low_on_plate(design, bores):
    lowest = min(shaft["y"] for shaft in design["shaft"])
    for shaft in design["shaft"]:
        shaft["y"] += bores * shaft["diameter"] - lowest


def times(table, word, factor, without=None):
    def change(design):
        one = design[table[0]][table[1]] if isinstance(table, tuple) else design[table]
        one[word] *= factor
        one.pop(without, None)

    return change


def put(place, **words):
    return lambda design: design["gear"][place].update(words)


FAILURES = {
    "tips-do-not-reach": lambda design: apart(design, 2.2),
    "shafts-too-near": lambda design: apart(design, -0.3),
    "loose-mesh": lambda design: apart(design, 0.2),
    "teeth-do-not-match": put(0, pressure_angle=22.5),
    "shaft-too-short": (
        lambda design: design["shaft"][0].update(
            length=design["shaft"][0]["length"]
            - design["gear"][0]["face_width"] * 0.6
            - (5 if design["design"]["unit"] == "mm" else 0.25)
        )
    ),
    "shaft-too-long": times(("shaft", 1), "length", 1.9),
    "faces-miss": (
        lambda design: design["gear"][1].update(
            gap=design["gear"][1]["gap"] + 1.01 * design["gear"][1]["face_width"]
        )
    ),
    "faces-partly-miss": (
        lambda design: design["gear"][1].update(
            gap=design["gear"][1]["gap"] + 0.4 * design["gear"][1]["face_width"]
        )
    ),
    "hub-fills-spaces": (
        lambda design: design["gear"][0].update(hub_diameter=root(design) + 0.2 * scale(design))
    ),
    "hub-near-root": lambda design: design["gear"][0].update(hub_diameter=root(design) - 0.2 * scale(design)),
    "thin-wall": lambda design: design["gear"][0].update(hub_diameter=1.3 * design["gear"][0]["bore"]),
    "hole-short-of-shaft": times(("gear", 1), "drill_depth", 0.4),
    "hole-into-far-wall": times(("gear", 1), "drill_depth", 1.7),
    "screw-stands-out": (
        lambda design: design["gear"][1].update(screw_length=design["gear"][1]["hub_diameter"] / 2)
    ),
    "bore-is-not-the-shaft": times(("gear", 0), "bore", 1.05),
    "bore-looser-than-shaft": times(("gear", 0), "bore", 1.05, "fit"),
    "bore-tighter-than-shaft": times(("gear", 0), "bore", 0.97, "fit"),
    "fit-not-named": times(("gear", 0), "bore", 1.0, "fit"),
    "wrong-direction": lambda design: design["design"].update(direction="same"),
    "ratio-missed": times("design", "ratio", 1.05),
    "hole-near-edge": lambda design: low_on_plate(design, 1.2),
    "hole-breaks-edge": lambda design: low_on_plate(design, 0.4),
    "keyway-breaks-through": (
        lambda design: design["gear"][0].update(keyway_depth=0.5 * design["gear"][0]["bore"])
    ),
    "thin-over-keyway": lambda design: design["gear"][0].update(keyway_depth=0.3 * design["gear"][0]["bore"]),
    "units-look-mixed": (
        lambda design: design["plate"].update(
            length=design["plate"]["length"] / 25.4, height=design["plate"]["height"] / 25.4
        )
    ),
    "hub-too-short-for-screw": times(("gear", 0), "hub_projection", 0.2),
    "tight-spot": lambda design: design["gear"][0].update(bore_offset=0.12 * scale(design)),
    "undercut": put(0, teeth=9),
    "screw-unknown": put(1, set_screw="a nail"),
    "fit-unknown": put(0, fit="snug"),
    "screw-without-hub": lambda design: [
        design["gear"][1].pop(word) for word in ("hub_diameter", "hub_projection")
    ],
}


@pytest.mark.parametrize("kit_name", WHOLE)
@pytest.mark.parametrize("name", FAILURES)
def test_one_failure_is_found_at_any_size(name, kit_name):
    design = copy.deepcopy(WHOLE[kit_name])
    FAILURES[name](design)
    found = review(Design.model_validate(design))
    assert name in found.names, f"{kit_name}: {found}"


def test_the_bad_kit_of_the_bench():
    """Holes for 80 mm under 18 and 45 teeth, a hub turned round, a bore 0.2 mm off, a screw of 12 mm.

    Each is told at once.
    """
    design = copy.deepcopy(WHOLE["module 2.5"])
    apart(design, 0.5)  # 78.75 + 1.25 = 80.00 mm
    # its face of 14 then spans 1.5 to 15.5, the other 14.5 to 28.5: 1 mm meets
    design["gear"][1] |= {"hub_side": "away"}
    design["gear"][0] |= {"screw_length": 12}
    names = review(Design.model_validate(design)).names
    assert {"little-contact", "loose-mesh", "faces-partly-miss", "screw-stands-out"} <= set(names)
    true = copy.deepcopy(WHOLE["module 2.5"])
    true["gear"][0] |= {"bore_offset": 0.2}
    assert review(Design.model_validate(true)).names == ("tight-spot",)
