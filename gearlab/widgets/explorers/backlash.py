"""How much play there is: carry the wheel along the line of centres and watch the gap at the pitch point."""

from __future__ import annotations

import math

import traitlets

from ...drawing import numerals, views
from ...parts import Mesh
from ..box import SPOKEN
from .pair import LEAST_CONTACT, TEETH, cut
from .undeclared import Explorer, State, cell, group, measure, remark, row, tooth_size, within

NEAR = 0.12  # how far from the wanted backlash still counts as met, as a share of it
CLOSEST, WIDEST = -0.12, 0.8  # reach of the shafts about the touching of the pitch circles [modules]


class BacklashGauge(Explorer):
    """The mesh of two gears, much enlarged.

    The shafts are moved until the gap has the backlash that is wanted.

    ``mesh`` is the pair as it stands.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 6 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    centre_distance : float, optional
        Where the shafts stand at first, from 0.12 modules nearer than the touching of the pitch circles to
        0.8 modules further; left out, half a module further [mm or in].
    wanted_backlash : float, optional
        Backlash of the task, above 0; left out, 0.04 modules, which is 0.10 mm at module 2.5 [mm or in].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> gauge = BacklashGauge(18, 45, module=2.5, centre_distance=80.0)
    >>> round(gauge.value("backlash"), 3)
    0.977
    >>> gauge.centre_distance = 78.89
    >>> gauge.warnings[1]["kind"]
    'good'
    """

    centre_distance = traitlets.Float(80.0).tag(sync=True)
    inputs = ("centre_distance",)

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        centre_distance: float | None = None,
        wanted_backlash: float | None = None,
    ):
        unit, size = tooth_size(module, diametral_pitch)
        for name, teeth in (("driver_teeth", driver_teeth), ("driven_teeth", driven_teeth)):
            within(name, teeth, *TEETH, "teeth")
        self._gears = tuple(cut(teeth, 20.0, "full depth", **size) for teeth in (driver_teeth, driven_teeth))
        self.mesh = Mesh(*self._gears)
        scale, right = self._gears[0].scale, self.mesh.reference_centre_distance
        self.wanted_backlash = 0.04 * scale if wanted_backlash is None else wanted_backlash
        within("wanted_backlash", self.wanted_backlash, 0.001 * scale, 0.3 * scale, unit)
        places = 2 if unit == "mm" else 4
        self._reach = round(right + CLOSEST * scale, places), round(right + WIDEST * scale, places)
        self._start = round(right + 0.5 * scale, places) if centre_distance is None else centre_distance
        super().__init__(playing=False, driver_speed=0.0, centre_distance=self._start)

    @traitlets.validate("centre_distance")
    def _checked(self, proposal):
        within("centre_distance", proposal.value, *self._reach, self.mesh.unit)
        return proposal.value

    def _state(self) -> State:
        self.mesh = mesh = Mesh(*self._gears, self.centre_distance)
        unit, driver = mesh.unit, mesh.driver
        scene = views.backlash(mesh, control="centre_distance")
        step, page, places = (0.01, 0.1, 2) if unit == "mm" else (0.0005, 0.005, 4)
        control = measure(
            "centre_distance",
            "Centre distance",
            *self._reach,
            step,
            page=page,
            places=places,
            unit=unit,
            spoken=SPOKEN[unit],
            home=self._start,
        )
        heading = (
            f"{driver.teeth} and {mesh.driven.teeth} teeth, {numerals.pitch_name(driver)}: the gap, enlarged"
        )
        return State(scene, heading, self._readout(mesh), self._remarks(mesh), [control])

    def _readout(self, mesh: Mesh) -> list[dict]:
        n, unit = mesh.numbers, mesh.unit
        opening = mesh.centre_distance - mesh.reference_centre_distance

        def length(word: str, value: float | None = None, **options) -> dict:
            value = n[word] if value is None else value
            return cell(word, value, numerals.length(value, unit), **{"explained": word in n} | options)

        def angle(word: str) -> dict:
            if n[word] < 0:
                return cell(word, n[word], "jams", alarm=True)
            size = numerals.number(n[word], 2 if word == "operating_pressure_angle" else 3)
            return cell(word, n[word], size + "\u00b0", spoken=size + " degrees")

        spacing = [
            row("centre distance", length("centre_distance", explained=False)),
            row("pitch circles would touch at", length("reference_centre_distance")),
            row("opened by", length("distance_opening", opening)),
            row("operating pressure angle", angle("operating_pressure_angle")),
            row(
                "contact ratio",
                cell(
                    "contact_ratio",
                    n["contact_ratio"],
                    numerals.number(n["contact_ratio"], 3),
                    alarm=n["contact_ratio"] < LEAST_CONTACT,
                ),
            ),
            row("driver turns per driven turn", cell("ratio", n["ratio"], numerals.plain(n["ratio"], 4))),
        ]
        play = [
            row("on the operating pitch circles", length("backlash", mesh.backlash, alarm=mesh.backlash < 0)),
            row("on the pitch circles", length("pitch_circle_backlash")),
            row("along the line of action", length("backlash_along_action")),
            row(
                "quick estimate from the opening",
                length("quick_backlash", 2 * opening * math.tan(math.radians(mesh.driver.pressure_angle))),
            ),
        ]
        rock = [row("can rock by", angle("driver_play_angle"), angle("driven_play_angle"))]
        return [
            group("The spacing", spacing),
            group("The backlash", play),
            group("The other gear held still", rock, ("A driver", "B driven")),
        ]

    def _remarks(self, mesh: Mesh) -> list[dict]:
        unit, play, wanted = mesh.unit, mesh.backlash, self.wanted_backlash
        said = [
            remark(
                "task",
                f"set the spacing for {numerals.length(wanted, unit)} backlash, within"
                f" {numerals.length(NEAR * wanted, unit)}.",
            )
        ]
        lack = wanted - play
        if play < 0:
            said.append(
                remark(
                    "stop",
                    f"the teeth would overlap by {numerals.length(-play, unit)}: this pair jams. Move the"
                    " shafts apart.",
                )
            )
        elif abs(lack) <= NEAR * wanted:
            said.append(
                remark(
                    "good",
                    f"{numerals.length(play, unit)} of backlash at a centre distance of"
                    f" {numerals.length(mesh.centre_distance, unit)}. The ratio is still"
                    f" {numerals.plain(mesh.ratio, 4)}.",
                )
            )
        else:
            way = "too little: move the shafts apart." if lack > 0 else "too much: bring the shafts nearer."
            said.append(remark("note", f"{numerals.length(abs(lack), unit)} {way}"))
        contact = numerals.number(mesh.contact_ratio, 2)
        if mesh.contact_ratio < 1:
            said.append(
                remark(
                    "stop",
                    f"contact ratio {contact}, below 1: one pair of teeth lets go before the next takes"
                    " over.",
                )
            )
        elif mesh.contact_ratio < LEAST_CONTACT:
            said.append(
                remark(
                    "warning",
                    f"contact ratio {contact}, below {LEAST_CONTACT}: hardly anything in reserve when "
                    "one pair of teeth hands over to the next.",
                )
            )
        return said

    def _derivation(self, word: str):
        return self.mesh.explain(word)

    def _warm(self):
        # the pair at its right distance follows other formulas, which take a moment the first time
        right = self.mesh.reference_centre_distance
        for distance in (right, right + 0.01 * self.mesh.driver.scale):
            _ = Mesh(*self._gears, distance).numbers
