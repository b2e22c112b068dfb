"""Sound designs of the bench for the checks of shafts, hubs and fastenings: the vent drive and twins of it.

Made by the rules of the trade (common practice): stock shafts, hubs of about two bores, running holes.
"""

from pathlib import Path

from gearlab.parts.design import Design, read_design

TEXT = (Path(__file__).parents[3] / "notebooks" / "vent_drive.toml").read_text(encoding="utf-8")
PINION, WHEEL = "pinion_18T_m2p5_bore10_L27", "wheel_45T_m2p5_bore10_L25"


def vent() -> Design:
    """The vent drive with plain names, and with holes in the plate that its shafts run in."""
    design = read_design(TEXT.replace(PINION, "pinion").replace(WHEEL, "wheel"))
    more = {"drill_reach": 60, "thread_length": 9}
    return design.with_(
        shaft={"crank": {"hole": 10.1}, "vent": {"hole": 10.1}},
        gear={
            "pinion": {"drill_reach": 30, "thread_length": 9},
            "wheel": more,
        },
    )


def keyed() -> Design:
    """The vent drive with keys of the standard (DIN 6885-1, 10 mm: 3 x 3, 1.4 mm deep in the hub)."""
    key = {
        "keyway_depth": 1.4,
        "keyway_width": 3,
        "key_length": 20,
        "flat": None,
        "set_screw": None,
        "screw_length": None,
        "drill_depth": None,
        "drill_reach": None,
        "thread_length": None,
    }
    return vent().with_(gear={"pinion": key, "wheel": key})


def inch() -> Design:
    """20 and 60 teeth, 12 to the inch, on shafts of 3/8 in: 40 / 12 = 3.3333 in apart, and a little play."""
    gear = {
        "diametral_pitch": 12,
        "tooth_thinning": 0.0015,
        "face_width": 0.5,
        "bore": 0.375,
        "fit": "sliding",
        "hub_diameter": 0.75,
        "hub_projection": 0.5,
        "gap": 0.0625,
        "set_screw": "#10",
        "screw_length": 0.1875,
        "drill_depth": 0.375,
        "drill_reach": 3,
        "thread_length": 0.1875,
        "flat": 0.03,
        "allowable_stress": 8000,
    }
    shaft = {"diameter": 0.375, "length": 1.75, "behind": 0.3, "end": 0.125, "hole": 0.379, "y": 3}
    return Design(
        design={"name": "inch drive", "unit": "in", "ratio": 3, "direction": "opposite"},
        plate={"length": 9, "height": 6, "thickness": 0.25},
        shaft=[{"name": "A", "x": 2.0} | shaft, {"name": "B", "x": 5.3333} | shaft],
        gear=[
            {"name": "pinion", "shaft": "A", "teeth": 20} | gear,
            {"name": "wheel", "shaft": "B", "teeth": 60} | gear,
        ],
        mesh=[{"driver": "pinion", "driven": "wheel"}],
        load={"torque": 10, "speed": 60},
    )


def small() -> Design:
    """24 and 48 teeth, module 1, on shafts of 5 mm with hubs of 1.8 bores, the tool's own rule."""
    gear = {
        "module": 1,
        "tooth_thinning": 0.02,
        "face_width": 8,
        "bore": 5,
        "fit": "sliding",
        "hub_diameter": 9,
        "hub_projection": 7,
        "gap": 1,
        "set_screw": "M3",
        "screw_length": 2.5,
        "drill_depth": 4.5,
        "flat": 0.5,
        "allowable_stress": 60,
    }
    shaft = {"diameter": 5, "length": 35, "behind": 5, "end": 3, "hole": 5.1, "y": 50}
    return Design(
        design={"name": "small drive", "unit": "mm", "ratio": 2, "direction": "opposite"},
        plate={"length": 130, "height": 100, "thickness": 5},
        shaft=[{"name": "A", "x": 40} | shaft, {"name": "B", "x": 76} | shaft],
        gear=[
            {"name": "pinion", "shaft": "A", "teeth": 24} | gear,
            {"name": "wheel", "shaft": "B", "teeth": 48} | gear,
        ],
        mesh=[{"driver": "pinion", "driven": "wheel"}],
        load={"torque": 0.3, "speed": 60},
    )


KITS = {"vent": vent, "keyed": keyed, "inch": inch, "small": small}
