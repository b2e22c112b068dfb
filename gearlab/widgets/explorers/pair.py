"""Everything about a pair of gears, and why."""

from __future__ import annotations

import math
from functools import lru_cache

import traitlets

from ...drawing import numerals, views
from ...parts import Gear, Mesh
from ...theory.units import MM_PER_INCH
from ..box import SPOKEN
from .explorer import (
    SIZES,
    Explorer,
    State,
    cell,
    choice,
    group,
    measure,
    one_of,
    remark,
    row,
    size_control,
    sizes,
    switch,
    whole,
    within,
)

TEETH = (6, 160)
ANGLES = {"full depth": (14.5, 20.0, 25.0), "stub": (20.0,), "fine pitch": (20.0,)}
ERROR = {"mm": 2.0, "in": 0.08}
FINE_FROM = 20.0  # DP from which ANSI B6.7 calls a pitch fine
LEAST_CONTACT = 1.2  # contact ratio that shop practice asks for (common practice)


@lru_cache(maxsize=128)
def cut(teeth: int, pressure_angle: float, tooth_system: str, **size) -> Gear:
    """A gear, worked out once: the one that did not change keeps its numbers and its teeth."""
    return Gear(teeth, **size, pressure_angle=pressure_angle, tooth_system=tooth_system)


class PairExplorer(Explorer):
    """A pair of spur gears: choose teeth, pitch, tooth system and spacing; see it turn and read every number.

    Every number of the readout opens its reason. ``mesh`` is the pair as it stands.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 6 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    tooth_system : str
        "full depth", "stub" or "fine pitch" [-]; never guessed from the pitch.
    pressure_angle : float
        The controls offer 14.5, 20 and 25 for full depth, 20 for the others [deg].
    centre_distance_error : float
        How much wider the shafts stand than they should, -2 to 2 mm or -0.08 to 0.08 in [mm or in].
    driver_speed : float
        Signed speed of the driver, counter-clockwise positive, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> explorer = PairExplorer(18, 45, module=2.5)
    >>> explorer.value("centre_distance"), explorer.value("driven_speed")
    (78.75, -6.0)
    >>> explorer.driver_teeth = 19
    >>> explorer
    PairExplorer(19 and 45 teeth, module 2.5)
    """

    driver_teeth = traitlets.Int(18).tag(sync=True)
    driven_teeth = traitlets.Int(45).tag(sync=True)
    size_by = traitlets.Unicode("mm").tag(sync=True)
    module = traitlets.Float(2.5).tag(sync=True)
    diametral_pitch = traitlets.Float(10.0).tag(sync=True)
    tooth_system = traitlets.Unicode("full depth").tag(sync=True)
    pressure_angle = traitlets.Float(20.0).tag(sync=True)
    centre_distance_error = traitlets.Float(0.0).tag(sync=True)
    contact = traitlets.Bool(False).tag(sync=True)

    inputs = (
        "driver_teeth",
        "driven_teeth",
        "size_by",
        "module",
        "diametral_pitch",
        "tooth_system",
        "pressure_angle",
        "centre_distance_error",
        "contact",
        "driver_speed",
    )

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        tooth_system: str = "full depth",
        pressure_angle: float = 20.0,
        centre_distance_error: float = 0.0,
        driver_speed: float = 15.0,
        playing: bool = True,
    ):
        unit, module, diametral_pitch = sizes(module, diametral_pitch)
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            size_by=unit,
            driver_teeth=driver_teeth,
            driven_teeth=driven_teeth,
            module=module,
            diametral_pitch=diametral_pitch,
            tooth_system=tooth_system,
            pressure_angle=pressure_angle,
            centre_distance_error=centre_distance_error,
        )

    @traitlets.validate(
        "driver_teeth",
        "driven_teeth",
        "size_by",
        "module",
        "diametral_pitch",
        "tooth_system",
        "centre_distance_error",
    )
    def _checked(self, proposal):
        name, value = proposal.trait.name, proposal.value
        if name in ("driver_teeth", "driven_teeth"):
            within(name, value, *TEETH, "teeth")
        elif name == "tooth_system":
            one_of(name, value, ANGLES)
        elif name == "size_by":
            one_of(name, value, ERROR)
        elif name == "centre_distance_error":
            within(name, value, -ERROR[self.size_by], ERROR[self.size_by], self.size_by)
        else:
            within(name, value, *SIZES[name])
        return value

    def _tidy(self):
        if abs(self.centre_distance_error) > ERROR[self.size_by]:
            self.centre_distance_error = 0.0  # millimetres left over after a change to inches
        if self.tooth_system != "full depth" and self.pressure_angle not in ANGLES[self.tooth_system]:
            self.pressure_angle = ANGLES[self.tooth_system][0]

    def _state(self) -> State:
        unit = self.size_by
        size = {"module": self.module} if unit == "mm" else {"diametral_pitch": self.diametral_pitch}
        driver, driven = (
            cut(teeth, self.pressure_angle, self.tooth_system, **size)
            for teeth in (self.driver_teeth, self.driven_teeth)
        )
        right = Mesh(driver, driven)
        mesh = (
            Mesh(driver, driven, right.centre_distance + self.centre_distance_error)
            if self.centre_distance_error
            else right
        )
        self.mesh = mesh
        show = ("pitch circles", "base circles", "line of action") if self.contact else ("pitch circles",)
        scene = views.pair(mesh, driver_speed=self.driver_speed, show=show)
        heading = f"{driver.teeth} and {driven.teeth} teeth, {numerals.pitch_name(driver)}"
        return State(
            scene, heading, self._readout(mesh), remarks(mesh, self.driver_speed), self._controls(unit)
        )

    def _controls(self, unit: str) -> list[dict]:
        limit = ERROR[unit]
        step, places = (0.05, 2) if unit == "mm" else (0.002, 3)
        angles = sorted({*ANGLES[self.tooth_system], self.pressure_angle})
        return [
            whole("driver_teeth", "Teeth of the driver", *TEETH, of="driver", spoken="teeth"),
            whole("driven_teeth", "Teeth of the driven gear", *TEETH, of="driven", spoken="teeth"),
            measure(
                "centre_distance_error",
                "Centre distance, off by",
                -limit,
                limit,
                step,
                page=10 * step,
                places=places,
                unit=unit,
                spoken=SPOKEN[unit],
            ),
            size_control(unit),
            choice(
                "size_by",
                "Size of the teeth by",
                [("mm", "module, in millimetres"), ("in", "diametral pitch, in inches")],
            ),
            choice("tooth_system", "Tooth system", [(name, name) for name in ANGLES]),
            choice(
                "pressure_angle",
                "Pressure angle",
                [(angle, f"{numerals.plain(angle)}\u00b0") for angle in angles],
            ),
            switch("contact", "Show where the teeth touch"),
        ]

    def _readout(self, mesh: Mesh) -> list[dict]:
        n, unit = mesh.numbers, mesh.unit

        def length(word: str, alarm: bool = False) -> dict:
            return cell(word, n[word], numerals.length(n[word], unit), alarm=alarm)

        driven_speed = mesh.speed(self.driver_speed)
        pair = [row("centre distance", length("centre_distance"))]
        if mesh.centre_distance != mesh.reference_centre_distance:
            pair.append(row("pitch circles touch at", length("reference_centre_distance")))
        pair += [
            row("driver turns per driven turn", cell("ratio", n["ratio"], numerals.plain(n["ratio"], 4))),
            row(
                "contact ratio",
                cell(
                    "contact_ratio",
                    n["contact_ratio"],
                    numerals.number(n["contact_ratio"], 3),
                    alarm=n["contact_ratio"] < LEAST_CONTACT,
                ),
            ),
            row(
                "operating pressure angle",
                cell(
                    "operating_pressure_angle",
                    n["operating_pressure_angle"],
                    numerals.number(n["operating_pressure_angle"], 2) + "\u00b0",
                ),
            ),
            row(
                "backlash",
                cell(
                    "backlash", mesh.backlash, numerals.length(mesh.backlash, unit), alarm=mesh.backlash < 0
                ),
            ),
        ]
        gears = [
            row(
                "speed",
                speed_cell("driver_speed", self.driver_speed, explained=False),
                speed_cell("driven_speed", driven_speed),
            )
        ]
        gears += [
            row(f"{kind} diameter", length(f"driver_{kind}_diameter"), length(f"driven_{kind}_diameter"))
            for kind in ("outside", "pitch", "base", "root")
        ]
        tooth = [
            row(word.replace("_", " "), length(word))
            for word in (
                "circular_pitch",
                "base_pitch",
                "tooth_thickness",
                "addendum",
                "dedendum",
                "whole_depth",
                "working_depth",
                "clearance",
            )
        ]
        return [
            group("The pair", pair),
            group("The gears", gears, ("A driver", "B driven")),
            group("The teeth", tooth),
        ]

    def _derivation(self, word: str):
        extra = {"driver_speed": self.driver_speed} if word == "driven_speed" else {}
        return self.mesh.explain(word, **extra)

    def _warm(self):
        # a pair at another than its right distance follows other formulas, which take a moment the first time
        right = self.mesh.reference_centre_distance
        _ = Mesh(self.mesh.driver, self.mesh.driven, right + 0.01 * self.mesh.driver.scale).numbers

    def _named(self) -> str:
        return f"{self.driver_teeth} and {self.driven_teeth} teeth, {numerals.pitch_name(self.mesh.driver)}"


def turning(speed: float) -> str:
    """A signed speed for a table: size and a turning arrow [rpm].

    >>> turning(-6.0), turning(15.0), turning(0.0)
    ('6 rpm \u21bb', '15 rpm \u21ba', '0 rpm')
    """
    arrow = " \u21ba" if speed > 0 else " \u21bb" if speed < 0 else ""
    return f"{numerals.plain(abs(speed), 3)} rpm{arrow}"


def speed_cell(word: str, speed: float, **options) -> dict:
    """A signed speed of a readout: an arrow for the eye, words for the ear [rpm]."""
    return cell(word, speed, turning(speed), spoken=numerals.speed(speed), **options)


def remarks(mesh: Mesh, driver_speed: float = 0.0) -> list[dict]:
    """What a careful person would say about a pair, most urgent first."""
    driver, driven, unit = mesh.driver, mesh.driven, mesh.unit
    said = []
    if mesh.backlash < -1e-9 * driver.scale:
        less = mesh.reference_centre_distance - mesh.centre_distance
        said.append(
            remark(
                "stop",
                f"the shafts stand {numerals.length(less, unit)} too close: the teeth would overlap by "
                f"{numerals.length(-mesh.backlash, unit)} and jam. Move the shafts apart.",
            )
        )
    if mesh.contact_ratio < 1:
        said.append(
            remark(
                "stop",
                f"contact ratio {numerals.number(mesh.contact_ratio, 2)}, below 1: one pair of teeth lets go"
                " before the next takes over.",
            )
        )
    elif mesh.contact_ratio < LEAST_CONTACT:
        said.append(
            remark(
                "warning",
                f"contact ratio {numerals.number(mesh.contact_ratio, 2)}, below {LEAST_CONTACT}: the"
                " hand-over from pair to pair has little to spare, so small errors give knocks.",
            )
        )
    for name, gear in (("driver A", driver), ("driven gear B", driven)):
        if gear.undercut:
            said.append(
                remark(
                    "warning",
                    f"{name} with {gear.teeth} teeth is undercut: its cutter takes away part of the flank"
                    f" near the root. At {numerals.plain(gear.pressure_angle)}\u00b0 {gear.tooth_system} it"
                    f" takes {math.ceil(gear.numbers['least_teeth'])} teeth to be free of it.",
                )
            )
    if mesh.interference:
        said.append(
            remark(
                "warning",
                "a tip reaches past the end of the line of action: on gears that were not cut by a matching"
                " rack it would dig into the flank.",
            )
        )
    if "contact_ratio" in mesh.measured:
        said.append(
            remark(
                "note",
                "the contact ratio is measured on the cut teeth: the formula would count flank that is not"
                " there.",
            )
        )
    pitch = 1 / driver.scale if unit == "in" else MM_PER_INCH / driver.scale
    if pitch >= FINE_FROM and driver.tooth_system == "full depth":
        small = (
            f"P {numerals.plain(pitch)}"
            if unit == "in"
            else f"module {numerals.plain(driver.scale)}, which is P {numerals.plain(pitch, 2)},"
        )
        said.append(
            remark(
                "warning",
                f"{small} is a fine pitch (P 20 and up), and you chose full depth. Fine-pitch gears usually"
                " have the fine-pitch tooth with a deeper root; choose \u201cfine pitch\u201d if the gears"
                " are made so.",
            )
        )
    common = math.gcd(driver.teeth, driven.teeth)
    turns = driven.teeth // common
    if common > 1:
        said.append(
            remark(
                "note",
                f"{driver.teeth} and {driven.teeth} have the common factor {common}: the same two teeth meet"
                f" again after {turns} turn{'s' if turns > 1 else ''} of the driver.",
            )
        )
    else:
        said.append(
            remark(
                "note",
                f"{driver.teeth} and {driven.teeth} have no common factor: a hunting pair, every tooth meets"
                f" every space before the same two meet again after {turns} turns of the driver.",
            )
        )
    return said
