"""What is no number is refused by name, everywhere.

Every number that a public function, method or part takes is tried with everything that is none.

The table holds a sound call of each; a new public function without a row fails, and so does a parameter that
no row fills.
"""

import dataclasses
import inspect
import math
import re
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from every_row import every

from gearlab import (
    BevelPair,
    EpicyclicTrain,
    Gear,
    Hub,
    InternalGear,
    Load,
    Mesh,
    Planetary,
    Plate,
    Rack,
    RackDrive,
    Shaft,
    Train,
    derive,
)
from gearlab.parts import (
    alignment,
    choosing,
    convergents,
    gauging,
    identify,
    layout,
    load,
    plate,
    shaft,
    tolerances,
)
from gearlab.parts.design import design_of, read_design
from gearlab.parts.plate import Hole
from gearlab.parts.published import fastening, fits, quality, recommended, strength
from gearlab.parts.turning import roll
from gearlab.shape import Rack as BasicRack
from gearlab.shape import ToothForm, arcinv, inv
from gearlab.shape.given import LARGEST
from gearlab.theory import QUANTITIES, reach, system

NO_NUMBERS = {
    "NaN": math.nan,
    "infinity": math.inf,
    "minus infinity": -math.inf,
    "a truth value": True,
    "a text": "2",
    "a complex number": 2 + 0j,
    "numpy's truth value": np.bool_(True),
    "an object": object(),
    "a list": [2.0],
    "an array": np.array([2.0, 3.0]),
}
HUGE = 1e300

GEAR, WHEEL, THICK = (
    Gear(18, module=2.5, face_width=14),
    Gear(45, module=2.5, face_width=12),
    Gear(24, diametral_pitch=10),
)
MESH, RING = Mesh(GEAR, WHEEL, 79.0), InternalGear(60, module=2.5)
DRIVE, TRAIN = RackDrive(Gear(20, module=2.5), Rack(54, module=2.5)), Train.of(18, 30, 45, module=2.5)
SET, CAGE = Planetary(24, 18, module=2.5), EpicyclicTrain.differential(16, 10, length_unit="mm")
BENCH, HUB, LOAD = Plate(220, 160, 6), Hub(28, 10, 13, 14), Load(MESH, 5.0, 60.0)
FORM = ToothForm(18, BasicRack(math.radians(20), 1.0, 1.25, 0.3))
SIZE = {
    "pressure_angle": 20.0,
    "profile_shift": 0.1,
    "face_width": 10.0,
    "tooth_thinning": 0.05,
    "tip_shortening": 0.02,
}
MODULE, PITCH = {"module": 2.5}, {"diametral_pitch": 10.0}

# What is called, and a sound call of it. A row more for a function whose parameters shut each other out.
CALLS = {
    "Gear": [(Gear, {"teeth": 18, **MODULE, **SIZE}), (Gear, {"teeth": 18, **PITCH, **SIZE})],
    "InternalGear": [
        (InternalGear, {"teeth": 60, **MODULE, **SIZE}),
        (InternalGear, {"teeth": 60, **PITCH, **SIZE}),
    ],
    "Gear.numbers_with": [(GEAR.numbers_with, {"pin_diameter": 5.0})],
    "Gear.span": [(GEAR.span, {"teeth": 3})],
    "Gear.over_pins": [(GEAR.over_pins, {"pin_diameter": 4.5})],
    "Gear.explain": [(GEAR.explain, {"word": "over_pins", "pin_diameter": 4.5})],
    "Gear.outline": [(GEAR.outline, {"tolerance": 0.01})],
    "InternalGear.numbers_with": [(RING.numbers_with, {"pin_diameter": 5.0})],
    "InternalGear.between_pins": [(RING.between_pins, {"pin_diameter": 4.5})],
    "InternalGear.explain": [(RING.explain, {"word": "inside_diameter", "driver_teeth": 20})],
    "InternalGear.outline": [(RING.outline, {"tolerance": 0.01})],
    "Mesh": [(Mesh, {"driver": GEAR, "driven": WHEEL, "centre_distance": 79.0})],
    "roll": [(roll, {"pair": MESH, "driver_turns": 2.0})],
    "Mesh.speed": [(MESH.speed, {"driver_rpm": 10.0})],
    "Mesh.alignment": [(MESH.alignment, {"driver_angle": 10.0, "line_angle": 20.0})],
    "Mesh.free_window": [(MESH.free_window, {"driver_angle": 3.0})],
    "Mesh.overlaps": [(MESH.overlaps, {"driver_angle": 3.0, "driven_angle": 5.0, "line_angle": 10.0})],
    "Mesh.overlap_area": [
        (MESH.overlap_area, {"driver_angle": 3.0, "driven_angle": 5.0, "line_angle": 10.0})
    ],
    "Mesh.explain": [(MESH.explain, {"word": "driven_speed", "driver_speed": 20.0})],
    "Rack": [
        (Rack, {"teeth": 20, **MODULE, "pressure_angle": 20.0, "pitch_height": 20.0}),
        (Rack, {"teeth": 20, **PITCH}),
    ],
    "Rack.for_travel": [
        (Rack.for_travel, {"travel": 100.0, "spare_teeth": 3, **MODULE}),
        (Rack.for_travel, {"travel": 10.0, **PITCH}),
    ],
    "Rack.outline": [(Rack(20, module=2.5).outline, {"tolerance": 0.01})],
    "RackDrive": [(RackDrive, {"pinion": DRIVE.pinion, "rack": DRIVE.rack, "spare_teeth": 3})],
    "RackDrive.travel": [(DRIVE.travel, {"pinion_angle": 10.0})],
    "RackDrive.turns_for": [(DRIVE.turns_for, {"travel": 10.0})],
    "RackDrive.rack_speed": [(DRIVE.rack_speed, {"pinion_speed": 10.0})],
    "RackDrive.alignment": [(DRIVE.alignment, {"pinion_angle": 10.0})],
    "RackDrive.forces": [(DRIVE.forces, {"pinion_torque": 2.0})],
    "RackDrive.driven_back": [(DRIVE.driven_back, {"load": 2.0})],
    "RackDrive.explain": [(DRIVE.explain, {"word": "rack_speed", "speed": 2.0})],
    "BevelPair": [
        (
            BevelPair,
            {
                "driver_teeth": 20,
                "driven_teeth": 30,
                **MODULE,
                "shaft_angle": 90.0,
                "pressure_angle": 20.0,
                "face_width": 10.0,
            },
        ),
        (BevelPair, {"driver_teeth": 20, "driven_teeth": 30, **PITCH}),
    ],
    "BevelPair.speed": [(BevelPair(20, 30, module=2.5).speed, {"driver_speed": 10.0, "side": 1})],
    "BevelPair.forces": [(BevelPair(20, 30, module=2.5, face_width=10.0).forces, {"mean_force": 10.0})],
    "BevelPair.explain": [
        (BevelPair(20, 30, module=2.5).explain, {"word": "output_speed", "driver_speed": 10.0})
    ],
    "Train": [(Train, {"shafts": (GEAR, WHEEL, GEAR), "line_angles": (0.0, 10.0)})],
    "Train.of": [
        (
            lambda teeth, **more: Train.of(*teeth, **more),
            {"teeth": (18, 30, 45), "line_angles": (0.0, 10.0), **MODULE},
        )
    ],
    "Train.bent": [(TRAIN.bent, {"shaft_spacing": 130.0})],
    "Train.speeds": [(TRAIN.speeds, {"first_speed": 10.0})],
    "Train.turns": [(TRAIN.turns, {"first_turns": 10.0})],
    "Train.alignment": [(TRAIN.alignment, {"first_angle": 10.0})],
    "Train.torques": [(TRAIN.torques, {"first_torque": 10.0, "mesh_efficiency": 0.98})],
    "Train.idler_load": [(TRAIN.idler_load, {"tangential_force": 10.0, "idler": 1, "first_direction": 1})],
    "Train.explain": [(TRAIN.explain, {"word": "third_speed", "first_speed": 10.0})],
    "Planetary": [
        (Planetary, {"sun_teeth": 24, "planet_teeth": 18, **MODULE, "planets": 3, "pressure_angle": 20.0}),
        (Planetary, {"sun_teeth": 24, "planet_teeth": 18, **PITCH}),
    ],
    "Planetary.speeds": [(SET.speeds, {"sun": 10.0})],
    "Planetary.torques": [(SET.torques, {"sun_torque": 1.5})],
    "Planetary.alignment": [(SET.alignment, {"sun_angle": 5.0})],
    "Planetary.explain": [(SET.explain, {"word": "carrier_speed", "sun_speed": 10.0})],
    "EpicyclicTrain": [
        (
            lambda teeth, planets, module=None, diametral_pitch=None: EpicyclicTrain(
                (("S", teeth, "P", 18), ("R", 60, "P", 18, "internal")),
                {"P": "C"},
                planets=planets,
                module=module,
                diametral_pitch=diametral_pitch,
            ),
            {"teeth": 24, "planets": 3, **size},
        )
        for size in (MODULE, PITCH)
    ],
    "EpicyclicTrain.stepped": [
        (
            lambda teeth, planets: EpicyclicTrain.stepped(
                ("A", 64), (28, 26), ("B", teeth), inside=(True, True), planets=planets
            ),
            {"teeth": 62, "planets": 2},
        ),
        (
            lambda teeth: EpicyclicTrain.stepped(("A", 64), (teeth, 26), ("B", 62), inside=(True, True)),
            {"teeth": 28},
        ),
    ],
    "EpicyclicTrain.differential": [
        (
            lambda teeth, planets: EpicyclicTrain.differential(teeth, 10, planets=planets),
            {"teeth": 16, "planets": 2},
        ),
        (lambda teeth: EpicyclicTrain.differential(16, teeth), {"teeth": 10}),
    ],
    "EpicyclicTrain.speeds": [(CAGE.speeds, {"left": 40.0, "right": 20.0})],
    "EpicyclicTrain.torques": [(CAGE.torques, {"left": 1.5})],
    "EpicyclicTrain.power_flow": [
        (
            lambda left, right, torque, mesh_efficiency: CAGE.power_flow(
                {"left": left, "right": right}, {"left": torque}, mesh_efficiency
            ),
            {"left": 40.0, "right": 20.0, "torque": 1.5, "mesh_efficiency": 0.98},
        )
    ],
    "EpicyclicTrain.explain": [
        (lambda **speeds: CAGE.explain("cage", **speeds), {"left": 40.0, "right": 20.0})
    ],
    "Plate": [(Plate, {"length": 220.0, "height": 160.0, "thickness": 6.0})],
    "Plate.with_pair": [(BENCH.with_pair, {"mesh": MESH, "hole_diameter": 10.0, "line_angle": 10.0})],
    "Plate.around": [
        (
            Plate.around,
            {"what": MESH, "margin": 10.0, "thickness": 6.0, "hole_diameter": 10.0, "line_angle": 10.0},
        )
    ],
    "Plate.with_train": [
        (Plate(300, 200, 6).with_train, {"train": TRAIN, "hole_diameter": 10.0, "line_angle": 10.0})
    ],
    "Plate.length_for": [(BENCH.length_for, {"mesh": MESH, "margin": 10.0})],
    "Hole": [
        (
            lambda x, y, diameter: BENCH.with_holes(Hole("A", x, y, diameter)),
            {"x": 50.0, "y": 50.0, "diameter": 10.0},
        )
    ],
    "Shaft": [(Shaft, {"diameter": 10.0, "length": 50.0})],
    "Shaft.needed": [
        (Shaft(10, 50).needed, {"behind": 8.0, "plate": 6.0, "gap": 1.0, "gear": 20.0, "end": 3.0})
    ],
    "Shaft.spare": [
        (Shaft(10, 50).spare, {"behind": 8.0, "plate": 6.0, "gap": 1.0, "gear": 20.0, "end": 3.0})
    ],
    "Shaft.reach": [(Shaft(10, 50).reach, {"behind": 8.0, "plate": 6.0, "gap": 1.0, "gear": 20.0})],
    "Shaft.next_stock": [(Shaft(10, 50).next_stock, {"length": 47.0})],
    "shaft.face_height": [
        (shaft.face_height, {"gap": 1.0, "overall_length": 27.0, "face_width": 14.0, "hub_side": "plate"})
    ],
    "Hub": [
        (
            Hub,
            {
                "diameter": 28.0,
                "bore": 10.0,
                "projection": 13.0,
                "face_width": 14.0,
                "keyway_depth": 1.0,
                "flat_depth": 0.5,
            },
        )
    ],
    "Hub.chuck_reach": [(HUB.chuck_reach, {"gear": GEAR, "depth": 14.0})],
    "Hub.hole_angle": [(HUB.hole_angle, {"gear": GEAR, "number": 2})],
    "Hub.explain": [(HUB.explain, {"word": "hub_wall", "keyway_depth": 10.0})],
    "Load": [(Load, {"mesh": MESH, "torque": 5.0, "speed": 60.0, "efficiency": 0.97})],
    "Load.from_power": [(Load.from_power, {"mesh": MESH, "power": 50.0, "speed": 60.0, "efficiency": 0.97})],
    "Load.bending": [(LOAD.bending, {"face_width": 12.0, "form": 0.3, "allowable": 20.0, "teeth_made": 3.0})],
    "Load.at_stall": [(LOAD.at_stall, {"torque": 10.0})],
    "Load.explain": [
        (
            Load(Mesh(GEAR, WHEEL), 5.0, 60.0).explain,
            {"word": "bending_stress", "face_width": 12.0, "form_factor": 0.3},
        )
    ],
    "load.through": [(load.through, {"train": TRAIN, "torque": 5.0, "speed": 60.0, "mesh_efficiency": 0.97})],
    "alignment.aligned": [
        (alignment.aligned, {"driver_teeth": 18, "driven_teeth": 45, "driver_angle": 5.0, "line_angle": 10.0})
    ],
    "choosing.percent": [(choosing.percent, {"share": 0.01})],
    "choosing.pairs": [
        (
            choosing.pairs,
            {
                "ratio": 2.5,
                "low": 18,
                "high": 60,
                "within": 0.05,
                "centre_distance": 80.0,
                "module": 2.5,
                "distance_within": 2.5,
                "count": 5,
            },
        ),
        (
            choosing.pairs,
            {
                "ratio": 2.5,
                "low": 18,
                "high": 60,
                "centre_distance": 3.5,
                "diametral_pitch": 10.0,
                "count": 5,
            },
        ),
    ],
    "choosing.two_stages": [
        (choosing.two_stages, {"ratio": 8.3, "low": 18, "high": 60, "within": 0.001, "count": 5})
    ],
    "convergents.continued_fraction": [(convergents.continued_fraction, {"number": 8.3, "most": 24})],
    "convergents.convergents": [
        (lambda number, most: list(convergents.convergents(number, most)), {"number": 8.3, "most": 24})
    ],
    "fastening.key": [(fastening.key, {"shaft_diameter": 10.0})],
    "SetScrew.holding_torque": [(fastening.set_screw("M5").holding_torque, {"shaft_diameter": 10.0})],
    "fits.fit": [(fits.fit, {"name": "sliding", "size": 10.0})],
    "gauging.span": [(gauging.span, {"gear": GEAR, "teeth": 3})],
    "gauging.over_pins": [(gauging.over_pins, {"gear": GEAR, "pin_diameter": 4.5})],
    "identify.which_gear": [
        (
            identify.which_gear,
            {
                "teeth": 24,
                "unit": "mm",
                "outside_diameter": 65.0,
                "spans": {3: 19.3},
                "uncertainty": 0.2,
                "pressure_angles": (20.0, 14.5),
                "worst": 6.0,
                "count": 5,
            },
        )
    ],
    "identify.thickness_from_span": [
        (identify.thickness_from_span, {"gear": GEAR, "span": 19.0, "teeth": 3})
    ],
    "identify.shift_from_span": [(identify.shift_from_span, {"gear": GEAR, "span": 19.0, "teeth": 3})],
    "identify.thickness_from_pins": [
        (identify.thickness_from_pins, {"gear": GEAR, "over_pins": 51.8, "pin_diameter": 4.5})
    ],
    "identify.shift_from_pins": [
        (identify.shift_from_pins, {"gear": GEAR, "over_pins": 51.8, "pin_diameter": 4.5})
    ],
    "layout.walk": [(layout.walk, {"distances": (10.0, 20.0), "angles": (0.0, 10.0)})],
    "quality.composite_tolerance": [
        (quality.composite_tolerance, {"quality": 7, "teeth": 36, "pitch_diameter": 1.5})
    ],
    "quality.general_tolerance": [(quality.general_tolerance, {"length": 30.0})],
    "quality.tooth_tolerances": [
        (quality.tooth_tolerances, {"module": 2.5, "pitch_diameter": 45.0, "grade": 7})
    ],
    "Recommendation.backlash": [
        (
            recommended.RECOMMENDED_BACKLASH["AGMA 2002, metric"].backlash,
            {"module": 2.5, "centre_distance": 80.0},
        )
    ],
    "strength.form_factor": [(strength.form_factor, {"teeth": 18.0, "pressure_angle": 20.0})],
    "strength.speed_constant": [(strength.speed_constant, {"teeth_made": 3.0, "length_unit": "mm"})],
    "tolerances.backlash_budget": [
        (
            tolerances.backlash_budget,
            {"mesh": MESH, "distance": 0.05, "thickness": (0.02, 0.03), "bore_offset": (0.02, 0.03)},
        )
    ],
    "tolerances.warmed": [(tolerances.warmed, {"mesh": MESH, "warming": 10.0, "plate": 7e-5, "gears": 2e-5})],
    "tolerances.distance_for_backlash": [(tolerances.distance_for_backlash, {"mesh": MESH, "backlash": 0.2})],
    "plate.extent": [(plate.extent, {"circles": (((0.0, 0.0), 10.0), ((20.0, 0.0), 10.0))})],
    # theory and shape
    "theory.derive": [
        (
            lambda **given: derive("centre_distance", given),
            {"module": 2.5, "driver_teeth": 18, "driven_teeth": 45},
        ),
        (
            lambda **given: derive("driven_speed", given),
            {"driver_teeth": 18, "driven_teeth": 45, "driver_speed": 20.0},
        ),
        (
            lambda **given: derive("base_diameter", given),
            {"module": 2.5, "teeth": 18, "pressure_angle": 20.0},
        ),
    ],
    "theory.Derivation.value": [
        (
            derive("centre_distance", ["module", "driver_teeth", "driven_teeth"]).value,
            {"module": 2.5, "driver_teeth": 18, "driven_teeth": 45},
        ),
        (
            derive("base_diameter", ["module", "teeth", "pressure_angle"]).value,
            {"module": 2.5, "teeth": 18, "pressure_angle": 20.0},
        ),
    ],
    "theory.Derivation.all_numbers": [
        (
            lambda **numbers: derive("base_diameter", ["module", "teeth", "pressure_angle"]).all_numbers(
                numbers
            ),
            {"module": 2.5, "teeth": 18, "pressure_angle": 20.0},
        )
    ],
    "theory.system": [(system, {"pressure_angle": 20.0})],
    "theory.reach": [
        (reach, {"given": ("teeth", "diametral_pitch"), "kind": "gear", "pressure_angle": 20.0})
    ],
    "shape.Rack": [
        (BasicRack, {"pressure_angle": 0.35, "addendum": 1.0, "dedendum": 1.25, "tip_radius": 0.3})
    ],
    "shape.Rack.tool_half_tip": [(FORM.rack.tool_half_tip, {"thinning": 0.02})],
    "shape.Rack.full_round": [(FORM.rack.full_round, {"thinning": 0.02})],
    "shape.Rack.check_round": [(FORM.rack.check_round, {"thinning": 0.02})],
    "shape.ToothForm": [
        (
            ToothForm,
            {"teeth": 18, "rack": FORM.rack, "profile_shift": 0.1, "thinning": 0.02, "tip_shortening": 0.01},
        )
    ],
    "shape.ToothForm.flank": [(FORM.flank, {"u": 0.5, "side": 1})],
    "shape.ToothForm.fillet": [(FORM.fillet, {"u": 0.5, "side": 1})],
    "shape.ToothForm.tip": [(FORM.tip, {"angle": 0.01})],
    "shape.ToothForm.root": [(FORM.root, {"angle": 0.17})],
    "shape.ToothForm.tooth_points": [(FORM.tooth_points, {"tolerance": 0.01})],
    "shape.ToothForm.outline": [(FORM.outline, {"tolerance": 0.01})],
    "shape.arcinv": [(arcinv, {"value": 0.02})],
    "shape.inv": [(inv, {"alpha": 0.35})],
}
# Take arrays too: an array of numbers is no fault there (what is wrong in one is tried as well).
ARRAYS = {
    ("Mesh.speed", "driver_rpm"),
    ("Mesh.alignment", "driver_angle"),
    ("Mesh.alignment", "line_angle"),
    ("RackDrive.travel", "pinion_angle"),
    ("alignment.aligned", "driver_angle"),
    ("alignment.aligned", "line_angle"),
    ("theory.Derivation.value", "*"),
    ("shape.ToothForm.flank", "u"),
    ("shape.ToothForm.fillet", "u"),
    ("shape.ToothForm.tip", "angle"),
    ("shape.ToothForm.root", "angle"),
    ("shape.arcinv", "value"),
    ("shape.inv", "alpha"),
}
# What is a number, a text or nothing else in one place only: an infinite count of teeth is a rack, a row may
# name both gears of a shaft.
MEANT = {
    ("strength.form_factor", "teeth", "infinity"),
    # Ways are kept by what was asked for: what cannot be a key is refused by Python itself.
    ("theory.reach", "pressure_angle", "a list"),
    ("theory.reach", "pressure_angle", "an array"),
}
# Results, made by the library and never by the reader: what goes into them was looked at before.
RESULTS = {
    "Bending",
    "BacklashBudget",
    "Candidate",
    "Choices",
    "Fit",
    "Key",
    "PairChoice",
    "Placed",
    "Recommendation",
    "SetScrew",
    "TrainChoice",
    "Derivation",
    "Quantity",
    "Step",
    "ToothSystem",
}
MODULES = (
    alignment,
    choosing,
    convergents,
    fastening,
    fits,
    gauging,
    identify,
    layout,
    load,
    plate,
    quality,
    recommended,
    shaft,
    strength,
    tolerances,
)
NUMBER = ("float", "int", "complex")


def takes_numbers(function):
    """The parameters that are numbers by their annotation, or have none."""
    found = []
    for name, parameter in inspect.signature(function).parameters.items():
        note = str(parameter.annotation)
        if (
            name not in ("self", "cls", "_context")
            and (parameter.annotation is inspect.Parameter.empty or any(word in note for word in NUMBER))
            and "bool" not in note
        ):
            found.append((name, parameter))
    return found


def public():
    """(name of a row, the function) of all that takes numbers.

    Parts with their methods, the functions beside them, theory and shape.
    """
    import gearlab.shape
    import gearlab.theory

    places = [("", {name: getattr(gearlab, name) for name in gearlab.__all__})]
    places += [
        (
            module.__name__.rpartition(".")[2] + ".",
            {
                name: thing
                for name, thing in vars(module).items()
                if not name.startswith("_") and getattr(thing, "__module__", "") == module.__name__
            },
        )
        for module in MODULES
    ]
    places += [
        ("theory.", {name: getattr(gearlab.theory, name) for name in gearlab.theory.__all__}),
        ("shape.", {name: getattr(gearlab.shape, name) for name in gearlab.shape.__all__}),
    ]
    for prefix, things in places:
        for name, thing in things.items():
            if not callable(thing):
                continue
            inner = prefix if prefix in ("theory.", "shape.") else ""
            if not inspect.isclass(thing):
                yield (
                    (f"{prefix}{name}" if prefix or name not in ("derive", "review") else f"theory.{name}"),
                    thing,
                )
                continue
            if name not in RESULTS:
                yield f"{inner}{name}", thing
            for base in thing.__mro__:
                if base.__module__.startswith("gearlab"):
                    for method, function in vars(base).items():
                        function = getattr(function, "__func__", function)
                        if (
                            not method.startswith("_")
                            and inspect.isfunction(function)
                            and getattr(thing, method, None) is not None
                        ):
                            yield f"{inner}{name}.{method}", function


# Numbers by their annotation that are none: rows of gears, files, forms.
NOT_NUMBERS = {
    ("Load.explain", "word"),
    ("layout.check_fit", "aligned"),
    ("gauging.span", "gear"),
    ("gauging.over_pins", "gear"),
    ("gauging.on_cut_tooth", "gear"),
    ("EpicyclicTrain", "meshes"),
    ("EpicyclicTrain", "module"),
    ("EpicyclicTrain", "diametral_pitch"),
    ("EpicyclicTrain.stepped", "first"),
    ("EpicyclicTrain.differential", "side_teeth"),
    ("EpicyclicTrain.differential", "planet_teeth"),
    ("EpicyclicTrain.stepped", "planet"),
    ("EpicyclicTrain.stepped", "last"),
    ("EpicyclicTrain", "planets"),
    ("EpicyclicTrain.explain", "asked"),
    ("EpicyclicTrain.power_flow", "speeds"),
    ("EpicyclicTrain.power_flow", "torques"),
    ("recommended.recommended_backlash", "pair"),
    ("gauging.span_teeth", "gear"),
    ("Train.of", "teeth"),
    ("layout.line_angles", "train"),
    ("layout.check_shafts", "train"),
    ("layout.check_motion", "train"),
    ("layout.check_room", "train"),
    ("layout.check_fit", "train"),
    ("shape.ToothForm", "rack"),
    ("Plate", "holes"),
    ("Train", "shafts"),
    ("Plate.with_pair", "mesh"),
    ("theory.derive", "given"),
    ("theory.Derivation.all_numbers", "numbers"),
    ("theory.Derivation.with_changes", "changes"),
    ("BevelPair.explain", "word"),
}
RENDERED = {
    f"theory.Derivation.{name}"
    for name in ("check_holds", "refusal", "lines", "markdown", "mathml", "text", "spoken")
}


def test_every_public_function_that_takes_numbers_has_a_row():
    missing = []
    for name, function in public():
        if name in RENDERED:
            continue
        filled = set().union(*(row for _, row in CALLS.get(name, [])))
        for parameter, about in takes_numbers(function):
            if (name, parameter) in NOT_NUMBERS:
                continue
            if about.kind is about.VAR_KEYWORD:
                fine = bool(filled - {one for one, _ in takes_numbers(function)})
            else:
                fine = parameter in filled
            if not fine:
                missing.append(f"{name}: {parameter}")
    assert not missing, "no sound value in CALLS for:\n" + "\n".join(sorted(set(missing)))


def places(value, path=()):
    """Where numbers stand in a sound value: (), (0,), (1, 0) ..."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        yield path
    elif isinstance(value, (tuple, list)):
        for index, one in enumerate(value):
            yield from places(one, (*path, index))
    elif isinstance(value, dict):
        for name, one in value.items():
            yield from places(one, (*path, name))


def put(value, path, new):
    """The same with another value at a place."""
    if not path:
        return new
    if isinstance(value, dict):
        return value | {path[0]: put(value[path[0]], path[1:], new)}
    return type(value)(
        put(one, path[1:], new) if index == path[0] else one for index, one in enumerate(value)
    )


NUMBERS = [
    (name, row, parameter, path)
    for name, rows in CALLS.items()
    for row, (_, sound) in enumerate(rows)
    for parameter, value in sound.items()
    for path in places(value)
]


def call(name, row, parameter, path, value):
    function, sound = CALLS[name][row]
    return function(**sound | {parameter: put(sound[parameter], path, value)})


def named(parameter, message):
    """By its name, as words, or as the quantity of theory that it is."""
    words = (
        {parameter, parameter.replace("_", " ")}
        | ({QUANTITIES[parameter].meaning} if parameter in QUANTITIES else set())
        | ({"material"} if parameter == "allowable" else set())
    )
    return any(re.search(rf"\b{re.escape(word.lower())}(?![a-z])", message.lower()) for word in words)


@every(NUMBERS)
def test_what_is_no_number_is_refused_by_name(name, row, parameter, path):
    arrays = {(name, parameter), (name, "*")} & ARRAYS
    for about, value in {**NO_NUMBERS, "None": None}.items():
        if (arrays and about in ("a list", "an array")) or (name, parameter, about) in MEANT:
            continue
        function, sound = CALLS[name][row]
        default = inspect.signature(function).parameters.get(parameter)
        if value is None and not path and default is not None and default.default is None:
            continue  # None is how it is left out
        with pytest.raises(ValueError) as refused:
            result = call(name, row, parameter, path, value)
            pytest.fail(
                f"{name}({parameter}{list(path) or ''} = {value!r}), {about}, is taken: {result!r}"[:300]
            )
        assert named(parameter, str(refused.value)), (
            f"{name}({parameter} = {value!r}): the message does not name it: {refused.value}"
        )
    if arrays:
        for value in ([1.0, math.nan], np.array([1.0, math.inf]), ["1.0", "2.0"], [True, False]):
            with pytest.raises(ValueError):
                call(name, row, parameter, path, value)


def finite(value, depth=0):
    """Whether every number in a result is finite."""
    if value is None or isinstance(value, (str, bool, int, Fraction)):
        return True
    if isinstance(value, (float, np.floating, np.ndarray)):
        return bool(np.isfinite(np.asarray(value, dtype=float)).all())
    if isinstance(value, dict) or hasattr(value, "items"):
        return all(finite(one, depth) for one in value.values())
    if isinstance(value, (tuple, list)):
        return all(finite(one, depth) for one in value)
    if dataclasses.is_dataclass(value) and depth < 2:
        words = (
            [item.name for item in dataclasses.fields(value)]
            + ["numbers"] * hasattr(value, "numbers")
            + ["result"] * (type(value).__name__ == "Derivation")
        )
        return all(finite(getattr(value, word), depth + 1) for word in words)
    return True


@every(NUMBERS)
def test_huge_numbers_are_refused_or_give_numbers(name, row, parameter, path):
    for value in (HUGE, -HUGE, 10**400, LARGEST, -LARGEST, 1e-300):
        try:
            result = call(name, row, parameter, path, value)
            sound = finite(result)
        except ValueError:  # at once, or where a number of the part is read
            continue
        assert sound, f"{name}({parameter} = {value!r}) gives {result!r}"[:300]


@every(NUMBERS)
def test_numpy_numbers_are_numbers(name, row, parameter, path):
    function, sound = CALLS[name][row]
    value = sound[parameter]
    for step in path:
        value = value[step]
    whole = isinstance(value, int)
    for kind in (np.int64, np.int32) if whole else (np.float64, np.float32):
        call(name, row, parameter, path, kind(value))


# -- a design file -------------------------------------------------------------------------------------
DESIGN = read_design(Path(__file__).resolve().parents[2] / "notebooks" / "vent_drive.toml").model_dump(
    exclude_none=True
)


@every([(path,) for path in places(DESIGN)])
def test_a_design_takes_numbers_only(path):
    design_of(DESIGN)
    for value in (math.nan, math.inf, True, "2", HUGE, [2.0], None):
        if value is None and path[-1] not in (
            "length",
            "height",
            "thickness",
            "x",
            "y",
            "diameter",
            "teeth",
            "face_width",
            "bore",
            "torque",
        ):
            continue
        if value is None and path[-1] == "length" and "shaft" in path:
            continue
        with pytest.raises(ValueError, match=str(path[-1])):
            design_of(put(DESIGN, path, value))


# -- no tooth ------------------------------------------------------------------------------------------
SHIFTS = [(-2.0, 0.0), (-2.0, 0.5), (-1.5, 0.0), (3.0, 0.0), (3.0, 0.5), (1.0, 2.5), (0.0, 1.6), (0.0, 1.5)]


@every(
    (kind, teeth, pressure_angle, *thinned)
    for kind in (Gear, InternalGear)
    for teeth in (6, 18, 60, 500)
    for pressure_angle in (14.5, 20.0, 32.0)
    for thinned in SHIFTS
)
def test_a_shift_that_leaves_no_tooth_is_refused(kind, teeth, pressure_angle, shift, thinning):
    """A tooth is pi/2 + 2 x tan(alpha) modules thick on the reference circle, a ring's pi/2 - 2 x tan(alpha),
    less its thinning (ISO 21771:2007); of 0 or less there is no tooth.
    """
    thickness = (
        math.pi / 2 + (2 if kind is Gear else -2) * shift * math.tan(math.radians(pressure_angle)) - thinning
    )
    try:
        gear = kind(
            teeth, module=1.0, pressure_angle=pressure_angle, profile_shift=shift, tooth_thinning=thinning
        )
    except ValueError as refused:
        assert "profile_shift" in str(refused) and "thinning" in str(refused)
        assert ("no tooth is left" in str(refused)) == (thickness <= 0)
    else:
        assert thickness > 0 and gear.numbers.get("tooth_thickness", 1.0) > 0


PARTS = (Gear, Mesh, Train, Rack)
OTHER_KINDS = {"a number": 7, "a text": "pinion", "nothing": None, "a plate": BENCH}


@pytest.mark.parametrize("other", OTHER_KINDS)
def test_a_part_of_another_kind_is_refused_by_name(other):
    """Every part that a function or part takes, in every sound call of the table."""
    tried = 0
    for row, calls in CALLS.items():
        for call, values in calls:
            for name, value in values.items():
                if isinstance(value, PARTS):
                    with pytest.raises(ValueError, match=rf"^{name} = .* is no .*: give ") as refused:
                        call(**values | {name: OTHER_KINDS[other]})
                    assert "such as" in str(refused.value), row
                    tried += 1
    assert tried > 20


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: Train(GEAR), "shafts = .* is no list: give one gear or two for each shaft"),
        (lambda: Train((GEAR, WHEEL), 30.0), "line_angles = 30.0 is no list"),
        (lambda: tolerances.backlash_budget(MESH, thickness=0.02), "thickness = 0.02 is no list: give two"),
        (lambda: tolerances.backlash_budget(MESH, bore_offset=(0.02,)), "bore_offset holds 1 numbers"),
        (lambda: identify.which_gear(24, "mm", spans=19.3), "spans = 19.3 is no mapping"),
        (lambda: identify.which_gear(24, "mm", outside_diameter=65, pressure_angles=20), "is no list"),
        (lambda: Load(GEAR, 5.0, 60.0), "mesh = .* is no mesh: give a Mesh"),
        (lambda: read_design(MESH), "design = .* is no design: give a Design, the path"),
        (lambda: fastening.set_screw(5), "set screw 5 is no size"),
    ],
)
def test_a_list_a_mapping_or_a_text_is_asked_for_by_name(call, told):
    with pytest.raises(ValueError, match=told):
        call()
