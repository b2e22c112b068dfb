"""Lining up the teeth: turn the driven gear by hand until its spaces stand where the driver's teeth are."""

from __future__ import annotations

import math

import traitlets

from ...drawing import numerals, views
from ...drawing.views.aligned import area_words, free_window
from ...parts import Mesh
from ..box import SPOKEN
from .pair import TEETH, cut
from .undeclared import Explorer, State, cell, group, measure, remark, row, sizes, whole, within

ANGLES = (-180.0, 180.0)
NEAR = 0.3  # how far from the middle of the free window still counts as there [deg]


class AlignmentNudge(Explorer):
    """Two gears whose marked teeth stand at given angles; the driven one is turned until no teeth overlap.

    Both angles count from +x, counter-clockwise; the driven gear lies at ``line_angle`` from the driver. The
    free window is measured on the cut teeth. ``mesh`` is the pair, ``overlap`` the area that lies in both
    gears.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 6 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    driver_angle, driven_angle, line_angle : float
        Where the marked teeth stand, and the direction from driver to driven gear, -180 to 180 [deg].
    backlash : float, optional
        Play on the pitch circles, 0 to 0.4 modules, half of it from each gear's teeth; left out, 0.24 modules
        [mm or in].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> nudge = AlignmentNudge(18, 46)
    >>> nudge.overlap > 20
    True
    >>> nudge.driven_angle = 3.9
    >>> nudge.overlap, nudge.warnings[1]["kind"]
    (0.0, 'good')
    """

    driver_teeth = traitlets.Int(18).tag(sync=True)
    driven_teeth = traitlets.Int(46).tag(sync=True)
    driven_angle = traitlets.Float(0.0).tag(sync=True)
    driver_angle = traitlets.Float(0.0).tag(sync=True)
    line_angle = traitlets.Float(0.0).tag(sync=True)
    backlash = traitlets.Float(0.6).tag(sync=True)
    inputs = ("driver_teeth", "driven_teeth", "driven_angle", "driver_angle", "line_angle", "backlash")

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 46,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        driver_angle: float = 0.0,
        driven_angle: float = 0.0,
        line_angle: float = 0.0,
        backlash: float | None = None,
    ):
        self._unit, module, diametral_pitch = sizes(module, diametral_pitch)
        self._size = {"module": module} if self._unit == "mm" else {"diametral_pitch": diametral_pitch}
        self._most = 0.4 * (module if self._unit == "mm" else 1 / diametral_pitch)
        self._home = driven_angle
        super().__init__(
            playing=False,
            driver_speed=0.0,
            driver_teeth=driver_teeth,
            driven_teeth=driven_teeth,
            driver_angle=driver_angle,
            driven_angle=driven_angle,
            line_angle=line_angle,
            backlash=0.6 * self._most if backlash is None else backlash,
        )

    @traitlets.validate(*inputs)
    def _checked(self, proposal):
        name = proposal.trait.name
        limits = (
            (*TEETH, "teeth")
            if name.endswith("teeth")
            else (0.0, self._most, self._unit)
            if name == "backlash"
            else (*ANGLES, "deg")
        )
        within(name, proposal.value, *limits)
        return proposal.value

    @property
    def overlap(self) -> float:
        """Area that lies in both gears [mm2] or [in2]."""
        return self.mesh.overlap_area(self.driver_angle, self.driven_angle, self.line_angle)

    @property
    def off(self) -> float:
        """How far the driven gear stands from the middle of the nearest free window, counter-clockwise
        positive [deg].
        """
        return self._off(free_window(self.mesh, self.driver_angle, self.line_angle)[0])

    def _off(self, middle: float) -> float:
        off = math.remainder(self.driven_angle - middle, 360.0 / self.driven_teeth)
        return 0.0 if abs(off) < 1e-9 else off

    def _state(self) -> State:
        thin = self.backlash / 2
        gears = (
            cut(teeth, 20.0, "full depth", **self._size, tooth_thinning=thin)
            for teeth in (self.driver_teeth, self.driven_teeth)
        )
        self.mesh = mesh = Mesh(*gears)
        window = free_window(mesh, self.driver_angle, self.line_angle)
        scene = views.aligned(
            mesh,
            self.driver_angle,
            self.driven_angle,
            line_angle=self.line_angle,
            window=window,
            controls=("driver_angle", "driven_angle"),
        )
        heading = f"{self.driver_teeth} and {self.driven_teeth} teeth, {numerals.pitch_name(mesh.driver)}"
        area = self.overlap
        return State(
            scene,
            heading,
            self._readout(window, area),
            self._remarks(self._off(window[0]), area),
            self._controls(),
        )

    def _controls(self) -> list[dict]:
        half = 180.0 / self.driven_teeth
        step, places = (0.05, 2) if self._unit == "mm" else (0.002, 3)
        angle = {"unit": "\u00b0", "spoken": "degrees", "places": 2}
        return [
            measure(
                "driven_angle",
                "Marked tooth of B stands at",
                *ANGLES,
                0.1,
                page=half,
                of="driven",
                home=self._home,
                **angle,
            ),
            measure(
                "driver_angle",
                "Marked tooth of A stands at",
                *ANGLES,
                0.5,
                page=5.0,
                of="driver",
                home=0.0,
                **angle,
            ),
            measure("line_angle", "Line of centres, from A to B", *ANGLES, 1.0, page=15.0, home=0.0, **angle),
            whole("driver_teeth", "Teeth of the driver", *TEETH, of="driver", spoken="teeth"),
            whole("driven_teeth", "Teeth of the driven gear", *TEETH, of="driven", spoken="teeth"),
            measure(
                "backlash",
                "Backlash",
                0.0,
                round(self._most, 4),
                step,
                page=4 * step,
                places=places,
                unit=self._unit,
                spoken=SPOKEN[self._unit],
            ),
        ]

    def _readout(self, window: tuple[float, float], area: float) -> list[dict]:
        middle, free = window
        pitch, off = 360.0 / self.driven_teeth, self._off(middle)

        def angle(word: str, value: float, places: int = 3, **options) -> dict:
            size = numerals.number(value, places)
            return cell(word, value, size + "\u00b0", spoken=size + " degrees", **options)

        own = [
            row("B stands at", angle("driven_angle", self.driven_angle, 2, explained=False)),
            row("one pitch of B", angle("driven_pitch_angle", pitch)),
            row("B within one pitch", angle("within_one_pitch", self.driven_angle % pitch, explained=False)),
        ]
        free_angles = [
            row("its middle", angle("driven_mark_angle", middle)),
            row("its width", angle("driven_play_angle", free)),
        ]
        if free > 0:
            ends = (
                f"{numerals.number(middle - free / 2, 2)}\u00b0 to"
                f" {numerals.number(middle + free / 2, 2)}\u00b0"
            )
            free_angles.append(row("from, to", cell("free_from", middle - free / 2, ends, explained=False)))
        free_angles.append(row("B is off its middle by", angle("off", off, explained=False)))
        cut_teeth = [
            row(
                "the teeth overlap by",
                cell("overlap", area, area_words(area, self._unit), explained=False, alarm=area > 0),
            )
        ]
        return [
            group("The driven gear", own),
            group("The free window", free_angles),
            group("Measured on the cut teeth", cut_teeth),
        ]

    def _remarks(self, off: float, area: float) -> list[dict]:
        said = [remark("task", "turn gear B to the middle of its free window.")]
        if area:
            way = "clockwise" if off > 0 else "counter-clockwise"
            said.append(
                remark(
                    "note",
                    f"the teeth overlap by {area_words(area, self._unit)}: turn B {way}, by no more than half"
                    " a pitch.",
                )
            )
        elif abs(off) <= NEAR:
            said.append(
                remark(
                    "good",
                    f"no teeth overlap, and B stands {numerals.number(abs(off), 2)}\u00b0 from the middle of"
                    " its window.",
                )
            )
        else:
            said.append(
                remark(
                    "note",
                    f"no teeth overlap, but B stands {numerals.number(abs(off), 2)}\u00b0 from the middle of"
                    " its window.",
                )
            )
        if self.backlash == 0:
            said.append(
                remark(
                    "warning",
                    "without backlash the window has no width: the teeth fit at one angle only, and bind.",
                )
            )
        return said

    def _derivation(self, word: str):
        extra = (
            {"line_angle": self.line_angle, "driver_mark_angle": self.driver_angle}
            if word == "driven_mark_angle"
            else {}
        )
        return self.mesh.explain(word, **extra)
