"""Sound designs of great variety that are spoiled one number at a time: trains, shafts, racks, bevel and
planetary sets, metric and inch.

Sizes by the rules of the trade (common practice); counts and places are worked by hand beside each.
"""

from collections.abc import Callable
from functools import cache
from pathlib import Path

from gearlab.parts.design import Design, begin, read_design

from . import bench_kits, drives, meshes

BARE = dict.fromkeys(
    ("set_screw", "screw_length", "drill_depth", "drill_reach", "thread_length", "flat"), None
)


def inch_vent() -> Design:
    return read_design((Path(__file__).parents[3] / "notebooks" / "vent_drive_inch.toml").read_text("utf-8"))


def one_stage() -> Design:
    return begin(
        "one stage", [(20, 60)], module=1.5, shaft_diameter=6, torque=0.6, allowable_stress=40, speed=60
    )


def two_stages() -> Design:
    return begin(
        "two stages", [(18, 45), (20, 50)], module=2, shaft_diameter=10, torque=1, allowable_stress=50
    )


def three_stages_inch() -> Design:
    return begin(
        "three stages",
        [(24, 48), (24, 60), (24, 72)],
        diametral_pitch=16,
        shaft_diameter=0.375,
        torque=1.5,
        allowable_stress=6000,
        speed=100,
        material="aluminium",
    )


def pressed() -> Design:
    """Gears of steel without hub, pressed on their shafts; the holes are bearings of the plate."""
    gear = dict.fromkeys(("hub_diameter", "set_screw", "drill_depth"), None)
    return meshes.sound().with_(
        gear={
            name: gear | {"fit": "press", "hub_projection": 0.0, "flat": 0.0} for name in ("pinion", "wheel")
        },
        shaft={name: {"hole": 8.1, "length": 35.0} for name in "ab"},
    )


def ring() -> Design:
    """20 teeth in a ring of 68, module 2: 48 mm apart; the ring's web is pressed on its shaft."""
    made = Design(
        design={"name": "ring", "unit": "mm", "ratio": 3.4, "direction": "same"},
        plate={"length": 300.0, "height": 200.0, "thickness": 6.0},
        shaft=[
            meshes.shaft("a", 148.0, 100.0, length=50.0, hole=8.1),
            meshes.shaft("b", 100.0, 100.0, hole=8.1),
        ],
        gear=[
            meshes.gear("pinion", "a", 20),
            meshes.gear("ring", "b", 68, internal=True, rim_diameter=160.0, gap=14.0, fit="press")
            | dict.fromkeys(("hub_diameter", "set_screw", "drill_depth"), None)
            | {"hub_projection": 0.0, "flat": 0.0},
        ],
        mesh=[{"driver": "pinion", "driven": "ring"}],
        load={"torque": 0.5},
    )
    return made


def racked() -> Design:
    """One stage with a rack under a second pinion at its end: 20 teeth of module 2 roll 20 mm above it."""
    made = begin("racked", [(18, 36)], module=2, shaft_diameter=10, torque=1, allowable_stress=50)
    top = made.foot("wheel 1") + made.overall_length("wheel 1")
    return made.with_(
        gear={
            "rack pinion": made.of("pinion 1").model_dump()
            | {"name": "rack pinion", "shaft": "II", "teeth": 20, "gap": 1.5, "hub_side": "away"}
        },
        shaft={"II": {"length": top + 45.0}},
        rack=[
            {
                "name": "slide",
                "pinion": "rack pinion",
                "teeth": 60,
                "travel": 300,
                "pitch_height": 10,
                "mounting_height": 30.04,
                "stops": True,
                "guided": True,
                "face_width": 10,
                "force": 60,
                "allowable_stress": 50,
            }
        ],
    )


def rack_alone() -> Design:
    return Design(
        design={"name": "rack"},
        rack=[
            {
                "name": "slide",
                "module": 2,
                "teeth": 40,
                "travel": 200,
                "pitch_height": 10,
                "mounting_height": 30,
                "stops": True,
                "guided": True,
            }
        ],
    )


def mitre_alone() -> Design:
    """20 : 20 teeth of module 2.5 between two axes, 1 N m."""
    return drives.alone("bevel", drives.CORNER, {"torque": 1.0, "shaft": "A"})


def cornered() -> Design:
    """A stage in inches whose last shaft turns a bevel pair 20 : 40, 12 to the inch."""
    return bench_kits.inch().with_(
        shaft={"C": {"name": "C", "diameter": 0.375}},
        bevel=[
            {
                "name": "corner",
                "teeth": [20, 40],
                "diametral_pitch": 12,
                "face_width": 0.5,
                "driver": "B",
                "driven": "C",
                "thrust_collars": True,
                "allowable_stress": 8000,
            }
        ],
        design={"ratio": 6, "direction": None},
    )


def planetary() -> Design:
    return drives.alone("planetary", drives.HEAD, {"torque": 1.0, "shaft": "A"})


def idler() -> Design:
    """20, 30 and 40 teeth on an angle, the middle one on its pin: 50.05 and 70.05 mm apart."""
    hub = dict.fromkeys(("hub_diameter", "set_screw", "drill_depth"), None)
    return Design(
        design={"name": "idler", "unit": "mm", "ratio": 2, "direction": "same"},
        plate={"length": 240.0, "height": 220.0, "thickness": 6.0},
        shaft=[
            meshes.shaft("a", 60.0, 60.0, hole=8.1),
            meshes.shaft("b", 110.0, 60.0, hole=8.1),
            meshes.shaft("c", 110.0, 130.0, hole=8.1),
        ],
        gear=[
            meshes.gear("first", "a", 20),
            meshes.gear("idler", "b", 30, gap=14.0, bore=8.05, fit=None)
            | hub
            | {"hub_projection": 0.0, "flat": 0.0},
            meshes.gear("last", "c", 40),
        ],
        mesh=[{"driver": "first", "driven": "idler"}, {"driver": "idler", "driven": "last"}],
        load={"torque": 0.5},
    )


def angled(pressure_angle: float, pinion: int, wheel: int) -> Design:
    made = begin(
        f"{pressure_angle:g} degrees",
        [(pinion, wheel)],
        module=2,
        shaft_diameter=8,
        torque=0.5,
        allowable_stress=60,
    )
    return made.with_(gear={name: {"pressure_angle": pressure_angle} for name in made.gears})


def stub() -> Design:
    made = begin("stub", [(24, 48)], diametral_pitch=10, shaft_diameter=0.5, torque=40, allowable_stress=9000)
    return made.with_(gear={name: {"tooth_system": "stub"} for name in made.gears})


def read_back() -> Design:
    """The small drive with what a caliper said of it: pins of 5 mm in holes 36 mm apart: 41 mm over them."""
    readings = (
        ("pinion with wheel", "hole_spacing", 36.0, {}),
        ("pinion", "outside_diameter", 25.96, {}),
        ("A", "diameter", 5.0, {}),
        ("wheel", "bore", 5.0, {}),
    )
    return bench_kits.small().with_(
        measured={
            f"{part} {quantity}": {"part": part, "quantity": quantity, "value": value, "reads_to": 0.02}
            | more
            for part, quantity, value, more in readings
        }
    )


#: Every base by name; each is sound.
BASES: dict[str, Callable[[], Design]] = {
    name: cache(base)
    for name, base in {
        "vent": bench_kits.vent,
        "inch vent": inch_vent,
        "one stage": one_stage,
        "two stages": two_stages,
        "three stages inch": three_stages_inch,
        "keyed": bench_kits.keyed,
        "pressed": pressed,
        "ring": ring,
        "racked": racked,
        "rack alone": rack_alone,
        "mitre alone": mitre_alone,
        "cornered": cornered,
        "planetary": planetary,
        "idler": idler,
        "stub": stub,
        "14.5 degrees": lambda: angled(14.5, 36, 48),
        "25 degrees": lambda: angled(25.0, 15, 40),
        "read back": read_back,
    }.items()
}
