"""Sun, planets and ring: choose the counts and the member that is held, and see what turns how fast."""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...drawing.views.planetary import input_of, output_of
from ...parts import Planetary
from .explorer import Explorer, State, cell, choice, group, one_of, remark, row, tooth_size, whole, within
from .pair import speed_cell

SUN, PLANET, PLANETS = (12, 48), (12, 36), (2, 6)
HELD = ("ring", "sun", "carrier")
NEAR = 0.01  # how near the ratio must come to the wanted one [-]


class SunPlanetsRing(Explorer):
    """A planetary set: its counts, what is held, and the speed of every member.

    Parameters
    ----------
    sun_teeth : int
        Number of teeth of the sun, 12 to 48 [-].
    planet_teeth : int
        Number of teeth of each planet, 12 to 36 [-].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    planets : int
        How many, 2 to 6 [-].
    held : str
        The member that stands still, "ring", "sun" or "carrier" [-].
    wanted_reduction : float
        Turns of the sun for each turn of the carrier that the task asks for, 2.5 to 12 [-].
    driver_speed : float
        Signed speed of the input, counter-clockwise positive, -30 to 30 [rpm].
    playing : bool
        Whether it starts turning by itself [-].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> head = SunPlanetsRing(24, 18)
    >>> head.done, head.value("carrier_speed")
    (True, 2.0)
    >>> SunPlanetsRing(20, 15).warnings[-1]["text"][:40]
    'planets = 3 does not go together: two pl'
    """

    sun_teeth = traitlets.Int(20).tag(sync=True)
    planet_teeth = traitlets.Int(15).tag(sync=True)
    planets = traitlets.Int(3).tag(sync=True)
    held = traitlets.Unicode("ring").tag(sync=True)
    inputs = ("sun_teeth", "planet_teeth", "planets", "held", "driver_speed")

    def __init__(
        self,
        sun_teeth: int = 20,
        planet_teeth: int = 15,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        planets: int = 3,
        held: str = "ring",
        wanted_reduction: float = 3.5,
        driver_speed: float = 7.0,
        playing: bool = False,
    ):
        unit, self._size = tooth_size(module, diametral_pitch)
        within("wanted_reduction", wanted_reduction, 2.5, 12.0)
        self.wanted_reduction = wanted_reduction
        super().__init__(
            playing=playing,
            driver_speed=driver_speed,
            sun_teeth=sun_teeth,
            planet_teeth=planet_teeth,
            planets=planets,
            held=held,
        )

    @traitlets.validate("sun_teeth", "planet_teeth", "planets")
    def _checked(self, proposal):
        limits = {"sun_teeth": (*SUN, "teeth"), "planet_teeth": (*PLANET, "teeth"), "planets": PLANETS}[
            proposal.trait.name
        ]
        within(proposal.trait.name, proposal.value, *limits)
        return proposal.value

    @traitlets.validate("held")
    def _listed(self, proposal):
        one_of("held", proposal.value, HELD)
        return proposal.value

    @property
    def done(self) -> bool:
        """True if three planets fit evenly, and with the ring held the reduction is the wanted one [-]."""
        return (
            self.made.fits
            and self.planets == 3
            and self.held == "ring"
            and abs(self.made.numbers["reduction"] - self.wanted_reduction) <= NEAR
        )

    def _state(self) -> State:
        made = Planetary(
            self.sun_teeth,
            self.planet_teeth,
            planets=self.planets,
            held=self.held,
            must_fit=False,
            **self._size,
        )
        scene = views.planetary(made, input_speed=self.driver_speed or None)
        self.made = made
        controls = [
            whole("sun_teeth", "Teeth of the sun", *SUN, page=6, spoken="teeth"),
            whole("planet_teeth", "Teeth of a planet", *PLANET, page=6, spoken="teeth"),
            whole("planets", "Planets", *PLANETS, page=1, spoken="planets"),
            choice("held", "Held still", [(member, f"the {member}") for member in HELD]),
        ]
        return State(
            scene,
            f"Sun {made.sun_teeth}, planets {made.planet_teeth}, ring {made.ring_teeth}",
            self._readout(),
            self._remarks(),
            controls,
        )

    def _readout(self) -> list[dict]:
        made, n, unit = self.made, self.made.numbers, self.made.unit
        first, last = input_of(made), output_of(made)
        remainder = made.assembly_remainder
        rows = [
            row("ring teeth", cell("ring_teeth", n["ring_teeth"], numerals.plain(n["ring_teeth"], 0))),
            row(
                "left over when shared among the planets",
                cell("assembly_remainder", remainder, numerals.plain(remainder, 0), alarm=remainder != 0),
            ),
            row(
                "sun turns per carrier turn, ring held",
                cell("reduction", n["reduction"], numerals.plain(n["reduction"], 4)),
            ),
            row(
                "room between planets",
                cell("planet_gap", n["planet_gap"], numerals.length(n["planet_gap"], unit)),
            ),
        ]
        groups = [group("The set", rows)]
        if made.fits:
            speeds = made.speeds(**{first: float(self.driver_speed)})
            told = {"sun": "sun", "planet": "each planet", "carrier": "carrier", "ring": "ring"}
            role = {first: ", in", last: ", out", made.held: ", held"}
            rows = [
                row(
                    words + role.get(member, ""),
                    speed_cell(f"{member}_speed", speeds[member], explained=member not in (first, made.held)),
                )
                for member, words in told.items()
            ]
            groups.append(group("Speeds, seen from the bench", rows))
        return groups

    def _remarks(self) -> list[dict]:
        made, wanted = self.made, numerals.plain(self.wanted_reduction, 4)
        reduction = numerals.plain(made.numbers["reduction"], 4)
        said = [
            remark(
                "task",
                "choose the counts so that three planets fit evenly, and with the ring held the sun turns"
                f" {wanted} times for each turn of the carrier.",
            )
        ]
        if self.done:
            return [
                *said,
                remark(
                    "good",
                    f"ring {made.ring_teeth}, nothing left over, {reduction} turns of the sun for one of the"
                    " carrier.",
                ),
            ]
        if not made.fits:
            return [*said, remark("stop", made.misfit() + ".")]
        if abs(made.numbers["reduction"] - self.wanted_reduction) > NEAR:
            said.append(
                remark(
                    "note",
                    f"it goes together; with the ring held the sun turns {reduction} times, not {wanted}.",
                )
            )
        elif self.planets != 3:
            said.append(
                remark(
                    "note",
                    f"{made.planets} planets fit as well, and the ratio is the same: planets share the load,"
                    " they do not change the ratio. The task asks for three.",
                )
            )
        else:
            speeds = made.speeds(**{input_of(made): 1.0})
            said.append(
                remark(
                    "note",
                    f"with the {made.held} held the {output_of(made)} turns"
                    f" {'with' if speeds[output_of(made)] > 0 else 'against'} the {input_of(made)}. The task"
                    " asks for the ring to be held.",
                )
            )
        return said

    def _derivation(self, word: str):
        extra = {f"{input_of(self.made)}_speed": float(self.driver_speed)} if word.endswith("_speed") else {}
        return self.made.explain(word, **extra)
