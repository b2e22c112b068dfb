"""Designs that try the workshop's drawings: small and large, odd names, crowded plates, open lengths."""

import math
from pathlib import Path

from gearlab.parts.design import Design, read_design

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


def gear(name, shaft, teeth, **more):
    return {"name": name, "shaft": shaft, "teeth": teeth, **more}


def six_gears():
    """Three shafts, six gears; one length is open, one gear turns nothing."""
    like = {"module": 1.5, "face_width": 10, "bore": 8, "fit": "sliding", "material": "oak"}
    shafts = (("first", 30.0, 60), ("second", 75.0, 80), ("third", 127.5, None))
    return Design(
        design={"name": "three shafts, six gears"},
        plate={"length": 200, "height": 120, "thickness": 6, "material": "plywood"},
        shaft=[
            {
                "name": name,
                "x": x,
                "y": 60,
                "diameter": 8,
                "behind": 8,
                "end": 3,
                "hole": 8.1,
                "length": length,
            }
            for name, x, length in shafts
        ],
        gear=[
            gear("pinion A", "first", 20, gap=1, **like),
            gear("wheel A", "second", 40, gap=1, **like),
            gear("pinion B", "second", 20, gap=2, **like),
            gear("wheel B", "third", 50, gap=13, **like),
            gear("dial", "first", 30, gap=15, **{**like, "face_width": 5}),
            gear("take-off", "third", 16, gap=5, profile_shift=0.2, **like),
        ],
        mesh=[{"driver": "pinion A", "driven": "wheel A"}, {"driver": "pinion B", "driven": "wheel B"}],
        load={"torque": 1.0, "speed": 20},
    )


def inch_keys():
    """A compound train in inches, its gears on keys, one under a tooth."""
    like = {
        "diametral_pitch": 10,
        "face_width": 0.75,
        "bore": 0.5,
        "fit": "sliding",
        "hub_diameter": 1.0,
        "hub_projection": 0.5,
        "keyway_depth": 0.0625,
        "key_length": 0.75,
        "set_screw": "#10",
        "screw_length": 0.25,
        "gap": 0.0625,
    }
    shafts = (("in", 1.75, 2.5), ("middle", 4.75, 4.0), ("out", 8.35, 4.0))
    return Design(
        design={"name": "compound train in inches", "unit": "in", "ratio": 6},
        plate={"length": 11, "height": 6, "thickness": 0.375, "material": "plywood"},
        shaft=[
            {
                "name": name,
                "x": x,
                "y": 3,
                "diameter": 0.5,
                "length": length,
                "behind": 0.375,
                "end": 0.125,
                "hole": 0.502,
                "material": "steel",
            }
            for name, x, length in shafts
        ],
        gear=[
            gear("pinion in", "in", 20, **like),
            gear("wheel middle", "middle", 40, **like),
            gear("pinion middle", "middle", 18, keyway_on="tooth", **like),
            gear("wheel out", "out", 54, screws=2, **{**like, "gap": 1.375}),
        ],
        mesh=[
            {
                "driver": "pinion in",
                "driven": "wheel middle",
                "least_backlash": 0.003,
                "most_backlash": 0.008,
            },
            {"driver": "pinion middle", "driven": "wheel out"},
        ],
    )


def rack():
    """A rack with its pinion; the hole is not stated."""
    pinion = {"module": 2.5, "face_width": 12, "bore": 10, "gap": 1.5, "set_screw": "M5"}
    return Design(
        design={"name": "rack of the vent"},
        plate={"length": 120, "height": 100, "thickness": 6},
        shaft=[{"name": "crank", "x": 60, "y": 60, "diameter": 10, "length": 45, "behind": 8}],
        gear=[gear("pinion", "crank", 18, hub_diameter=28, hub_projection=13, **pinion)],
        rack=[
            {
                "name": "rack",
                "pinion": "pinion",
                "teeth": 30,
                "travel": 200,
                "pitch_height": 12.5,
                "mounting_height": 35,
                "stops": True,
                "guided": True,
                "face_width": 12,
            }
        ],
    )


def mitre():
    return Design(
        design={"name": "mitre pair alone"},
        mitre={"teeth": [20, 20], "module": 2.5, "face_width": 10, "thrust_collars": True},
    )


def bevels():
    """A pair of 1 : 3 on shafts, its large back cone wider than a page, and one at 60 degrees."""
    return Design(
        design={"name": "bevel corner"},
        shaft=[{"name": "in", "diameter": 10}, {"name": "out", "diameter": 12}],
        bevel=[
            {
                "name": "corner",
                "teeth": [16, 48],
                "module": 3,
                "face_width": 15,
                "driver": "in",
                "driven": "out",
                "mounting": [72.1, 24],
                "material": "brass",
            },
            {"name": "angle", "teeth": [20, 30], "module": 2, "shaft_angle": 60},
        ],
    )


def planetary():
    like = {"planets": 3, "module": 2, "face_width": 10, "material": "POM"}
    return Design(design={"name": "planetary"}, planetary={"sun": 24, "planet": 18, "ring": 60, **like})


def stepped():
    teeth = {"sun": 24, "planet": 30, "second_planet": 18, "ring": 72, "planets": 3}
    return Design(
        design={"name": "stepped set"}, planetary={"name": "set", **teeth, "module": 2, "face_width": 10}
    )


def small():
    """Module 0.5, long names, odd letters."""
    long = "tiny pinion of the very small drive with a long name no. 9 <b>"
    axis = "first axis with a long name $a_b$ WWWW"
    return Design(
        design={"name": "smallest <drive> & co. $x_1$ \u00e4\u00df\u2116"},
        plate={"length": 40, "height": 30, "thickness": 2},
        shaft=[
            {"name": axis, "x": 8, "y": 15, "diameter": 2, "hole": 2.02},
            {"name": "s2", "x": 17.75, "y": 15, "diameter": 2, "length": 12},
        ],
        gear=[
            gear(long, axis, 9, module=0.5, face_width=3, bore=2, profile_shift=0.4),
            gear(
                "w" * 78,
                "s2",
                30,
                module=0.5,
                face_width=2,
                bore=2,
                hub_diameter=6,
                hub_projection=4,
                set_screw="M3",
            ),
        ],
        mesh=[{"driver": long, "driven": "w" * 78}],
    )


def large():
    """Plate, wheel and shaft are all larger than a page."""
    return Design(
        design={"name": "large drive"},
        plate={"length": 620, "height": 420, "thickness": 12},
        shaft=[
            {"name": "a", "x": 90, "y": 210, "diameter": 20, "length": 400, "hole": 20.1, "behind": 20},
            {"name": "b", "x": 390, "y": 210, "diameter": 30, "length": 90},
        ],
        gear=[
            gear("p", "a", 20, module=6, face_width=40, bore=20, gap=3, flat=1),
            gear(
                "wheel",
                "b",
                80,
                module=6,
                face_width=38,
                bore=30,
                gap=4,
                keyway_depth=3.3,
                hub_diameter=60,
                hub_projection=20,
                hub_side="away",
                set_screw="M8",
            ),
        ],
        mesh=[{"driver": "p", "driven": "wheel"}],
    )


def crowd():
    """Nine shafts in a row, one hole near the edge."""
    shafts, x, y = [], 20.0, 40.0
    for number in range(9):
        shafts.append(
            {
                "name": f"shaft {number + 1}",
                "x": round(x, 3),
                "y": round(y, 3),
                "diameter": 5,
                "length": 30,
                "behind": 4,
            }
        )
        way = math.radians(25 if number % 2 == 0 else -20)
        x, y = x + 20 * math.cos(way), y + 20 * math.sin(way)
    shafts[-1]["x"] = 195.0
    names = [f"gear {number + 1}" for number in range(9)]
    return Design(
        design={"name": "nine in a row"},
        plate={"length": 200, "height": 80, "thickness": 5},
        shaft=shafts,
        gear=[
            gear(name, shaft["name"], 20, module=1, face_width=6, bore=5, gap=1)
            for name, shaft in zip(names, shafts)
        ],
        mesh=[{"driver": first, "driven": second} for first, second in zip(names, names[1:-1])],
    )


def ring():
    return Design(
        design={"name": "pinion in a ring"},
        plate={"length": 200, "height": 200, "thickness": 6},
        shaft=[
            {"name": "a", "x": 60, "y": 100, "diameter": 8, "length": 40},
            {"name": "b", "x": 100, "y": 100, "diameter": 8, "length": 50},
        ],
        gear=[
            gear("pinion", "a", 20, module=2, face_width=10, bore=8, gap=1),
            gear("ring", "b", 60, module=2, face_width=9, bore=8, gap=1, internal=True, rim_diameter=140),
        ],
        mesh=[{"driver": "pinion", "driven": "ring"}],
    )


DESIGNS = {
    "vent drive": lambda: read_design(NOTEBOOKS / "vent_drive.toml"),
    "vent drive in inches": lambda: read_design(NOTEBOOKS / "vent_drive_inch.toml"),
    **{
        made.__name__: made
        for made in (six_gears, inch_keys, rack, mitre, bevels, planetary, stepped, small, large, crowd, ring)
    },
}
