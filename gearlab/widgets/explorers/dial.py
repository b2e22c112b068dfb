"""One gear: how its pitch circle grows with its teeth."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts import Gear
from .undeclared import SIZES, Explorer, State, cell, group, row, size_control, sizes, whole, within

TEETH = (6, 120)


class ToothDial(Explorer):
    """A gear whose number of teeth is dialled: its pitch circle grows by one module with every tooth.

    ``gear`` is the gear as it stands.

    Parameters
    ----------
    teeth : int
        Number of teeth, 6 to 120 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    driver_speed : float
        Signed speed when it turns, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> ToothDial(46, module=2.5).value("pitch_diameter")
    115.0
    """

    teeth = traitlets.Int(20).tag(sync=True)
    module = traitlets.Float(2.5).tag(sync=True)
    diametral_pitch = traitlets.Float(10.0).tag(sync=True)
    inputs = ("teeth", "module", "diametral_pitch")

    def __init__(
        self,
        teeth: int = 20,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        driver_speed: float = 3.0,
        playing: bool = False,
    ):
        self._unit, module, diametral_pitch = sizes(module, diametral_pitch)
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            teeth=teeth,
            module=module,
            diametral_pitch=diametral_pitch,
        )

    @traitlets.validate("teeth", "module", "diametral_pitch")
    def _checked(self, proposal):
        name = proposal.trait.name
        within(name, proposal.value, *(TEETH + ("teeth",) if name == "teeth" else SIZES[name]))
        return proposal.value

    def _state(self) -> State:
        size = {"module": self.module} if self._unit == "mm" else {"diametral_pitch": self.diametral_pitch}
        self.gear = gear = Gear(self.teeth, **size)
        numbers = gear.numbers
        rows = [
            row(label, cell(word, numbers[word], numerals.length(numbers[word], gear.unit)))
            for label, word in (
                ("pitch diameter", "pitch_diameter"),
                ("outside diameter", "outside_diameter"),
                ("root diameter", "root_diameter"),
                ("circular pitch", "circular_pitch"),
                ("pitch circumference", "pitch_circumference"),
            )
        ]
        return State(
            views.gear(gear, frame=frame(gear)),
            f"{gear.teeth} teeth, {numerals.pitch_name(gear)}",
            [group("The gear", rows)],
            controls=[whole("teeth", "Number of teeth", *TEETH, spoken="teeth"), size_control(gear.unit)],
        )

    def _derivation(self, word: str):
        return self.gear.explain(word)


def frame(gear) -> float:
    """Width of the picture's frame [gear.unit].

    It grows in a few steps, so that a growing gear is seen to grow.
    """
    size = 26.0 * gear.scale
    while size < gear.outside_diameter:
        size *= 1.5
    return size
