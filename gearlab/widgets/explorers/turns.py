"""How many turns, how fast and which way."""

from __future__ import annotations

import math

import traitlets

from ...drawing import numerals, views
from ...parts import Gear, Mesh
from .pair import TEETH
from .readout import speed_cell
from .undeclared import Explorer, State, cell, group, remark, row, tooth_size, whole, within


class TurnCounter(Explorer):
    """A pair with a marked tooth on each gear; its turns are counted while it runs.

    Parameters
    ----------
    driver_teeth, driven_teeth : int
        Numbers of teeth, 6 to 160 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
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
    >>> counter = TurnCounter(18, 45)
    >>> counter.angle = 1800.0
    >>> counter.driver_turns, counter.driven_turns
    (5.0, -2.0)
    """

    driver_teeth = traitlets.Int(18).tag(sync=True)
    driven_teeth = traitlets.Int(45).tag(sync=True)
    inputs = ("driver_teeth", "driven_teeth", "driver_speed")

    def __init__(
        self,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        driver_speed: float = 15.0,
        playing: bool = False,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        super().__init__(
            playing=playing, driver_speed=driver_speed, driver_teeth=driver_teeth, driven_teeth=driven_teeth
        )
        self.counts = True
        self.observe(self._rested, names=["angle"])

    @traitlets.validate("driver_teeth", "driven_teeth")
    def _checked(self, proposal):
        within(proposal.trait.name, proposal.value, *TEETH, "teeth")
        return proposal.value

    @property
    def driver_turns(self) -> float:
        """Turns of the driver [turns]."""
        return self.angle / 360.0

    @property
    def driven_turns(self) -> float:
        """Turns of the driven gear [turns]; the other way round, so of the other sign."""
        return -self.driver_turns * self.driver_teeth / self.driven_teeth

    def _state(self) -> State:
        driver, driven = (Gear(teeth, **self._size) for teeth in (self.driver_teeth, self.driven_teeth))
        self.mesh = mesh = Mesh(driver, driven)
        scene = views.pair(mesh, driver_speed=self.driver_speed)
        driven_speed = mesh.speed(self.driver_speed)
        rows = [
            row(
                "teeth",
                cell("driver_teeth", driver.teeth, str(driver.teeth), explained=False),
                cell("driven_teeth", driven.teeth, str(driven.teeth), explained=False),
            ),
            row(
                "speed",
                speed_cell("driver_speed", self.driver_speed, explained=False),
                speed_cell("driven_speed", driven_speed),
            ),
        ]
        ratio = [
            row("driver turns per driven turn", cell("ratio", mesh.ratio, numerals.plain(mesh.ratio, 4)))
        ]
        controls = [
            whole("driver_teeth", "Teeth of the driver", *TEETH, of="driver", spoken="teeth"),
            whole("driven_teeth", "Teeth of the driven gear", *TEETH, of="driven", spoken="teeth"),
        ]
        return State(
            scene,
            f"{driver.teeth} teeth drive {driven.teeth}",
            [group("The gears", rows, ("A driver", "B driven")), group("The pair", ratio)],
            self._met(),
            controls,
        )

    def _met(self) -> list[dict]:
        """A remark when both marked teeth have come together again."""
        turns = self.driven_teeth // math.gcd(self.driver_teeth, self.driven_teeth)
        passed = self.driver_turns / turns
        # within a quarter of a degree of the driver: the marks are seen to touch
        if abs(self.driver_turns) > 0.5 and abs(passed - round(passed)) * turns * 360 < 0.25:
            return [
                remark(
                    "good",
                    f"both marked teeth meet again: driver {numerals.plain(abs(self.driver_turns), 2)} turns,"
                    f" driven {numerals.plain(abs(self.driven_turns), 2)} turns.",
                )
            ]
        return []

    def _rested(self, _change) -> None:
        with self._guard:
            self.warnings = self._met()

    def _derivation(self, word: str):
        return self.mesh.explain(
            word, **({"driver_speed": self.driver_speed} if word == "driven_speed" else {})
        )
