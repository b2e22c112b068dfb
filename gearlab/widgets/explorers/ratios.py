"""Choosing tooth counts.

A ratio, a spacing and a tooth size are wanted, and only whole teeth are possible.
"""

from __future__ import annotations

import traitlets

from ...drawing import numerals, views
from ...parts import Gear, Mesh
from ...parts.choosing import pairs
from ..box import SPOKEN
from .explorer import (
    SIZES,
    Explorer,
    State,
    cell,
    choice,
    group,
    measure,
    remark,
    row,
    size_control,
    sizes,
    whole,
    within,
)

COUNTS = (12, 120)
LISTED = (18, 72)  # counts the list is made of [teeth]
RATIO = (1.0, 5.0)
NEAR = 0.1  # how near the wanted ratio is near enough [-]
OWN = "own"


class RatioFinder(Explorer):
    """A list of tooth counts for a wanted ratio and spacing, and the pair that was chosen, turning.

    Choose a pair from the list or set the counts; ``mesh`` is the pair shown.

    Parameters
    ----------
    ratio : float
        Wanted driver turns per driven turn, 1 to 5 [-].
    centre_distance : float
        Wanted spacing of the shafts, 18 to 120 modules [mm or in].
    module : float, optional
        0.5 to 10; 2.5 if neither is given [mm].
    diametral_pitch : float, optional
        In place of the module, 2 to 64; then lengths are inches [1/in, teeth in an inch of pitch diameter;
        -].
    driver_teeth, driven_teeth : int
        The pair shown at first, 12 to 120 teeth [-].
    driver_speed : float
        Signed speed of the driver, counter-clockwise positive, -30 to 30 [rpm].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> finder = RatioFinder(ratio=2.4, centre_distance=80.0, module=2.5)
    >>> finder.picked = "19 45"
    >>> finder.driver_teeth, finder.warnings[-1]["kind"]
    (19, 'good')
    """

    wanted_ratio = traitlets.Float(2.4).tag(sync=True)
    wanted_distance = traitlets.Float(80.0).tag(sync=True)
    module = traitlets.Float(2.5).tag(sync=True)
    diametral_pitch = traitlets.Float(10.0).tag(sync=True)
    driver_teeth = traitlets.Int(18).tag(sync=True)
    driven_teeth = traitlets.Int(45).tag(sync=True)
    picked = traitlets.Unicode(OWN).tag(sync=True)
    inputs = (
        "wanted_ratio",
        "wanted_distance",
        "module",
        "diametral_pitch",
        "driver_teeth",
        "driven_teeth",
        "picked",
    )

    def __init__(
        self,
        ratio: float = 2.4,
        centre_distance: float = 80.0,
        *,
        module: float | None = None,
        diametral_pitch: float | None = None,
        driver_teeth: int = 18,
        driven_teeth: int = 45,
        driver_speed: float = 6.0,
    ):
        self.unit, module, diametral_pitch = sizes(module, diametral_pitch)
        self._matched = None
        self._wishes = ratio, centre_distance
        self.module, self.diametral_pitch = module, diametral_pitch
        super().__init__(
            playing=True,
            driver_speed=driver_speed,
            wide=True,
            wanted_ratio=ratio,
            wanted_distance=centre_distance,
            driver_teeth=driver_teeth,
            driven_teeth=driven_teeth,
        )
        self._tidy()

    @traitlets.validate("wanted_ratio", "driver_teeth", "driven_teeth", "module", "diametral_pitch")
    def _checked(self, proposal):
        name = proposal.trait.name
        limits = {
            "wanted_ratio": (*RATIO, "turns per turn"),
            "driver_teeth": (*COUNTS, "teeth"),
            "driven_teeth": (*COUNTS, "teeth"),
        }.get(name) or SIZES[name]
        within(name, proposal.value, *limits)
        return proposal.value

    @traitlets.validate("wanted_distance")
    def _checked_distance(self, proposal):
        within("centre_distance", proposal.value, *self._reach(), self.unit)
        return proposal.value

    @property
    def scale(self) -> float:
        """Size of the teeth: the module, or one over the diametral pitch [mm or in]."""
        return self.module if self.unit == "mm" else 1 / self.diametral_pitch

    @property
    def candidates(self):
        """Pairs near the wanted ratio and within one module of the wanted spacing, nearest ratio first."""
        return pairs(
            self.wanted_ratio,
            low=LISTED[0],
            high=LISTED[1],
            within=0.08,
            centre_distance=self.wanted_distance,
            module=self.scale,
            distance_within=self.scale,
            count=9,
        )

    @property
    def done(self) -> bool:
        """Whether spacing and ratio are met by a hunting pair [-]."""
        return all(self._met().values())

    def _reach(self) -> tuple[float, float]:
        return 18 * self.scale, 120 * self.scale

    def _met(self) -> dict[str, bool]:
        near = 0.01 if self.unit == "mm" else 0.0005
        return {
            "spacing": abs(self.mesh.centre_distance - self.wanted_distance) <= near + 1e-9,
            "ratio": abs(self.mesh.ratio - self.wanted_ratio) <= NEAR + 1e-9,
            "hunting": self.mesh.numbers["common_factor"] == 1,
        }

    def _tidy(self):
        """The list and the two counts say the same; whichever was changed leads."""
        counts = self.driver_teeth, self.driven_teeth
        if self.picked != OWN and self._matched and self._matched != self.picked:
            self._matched = self.picked
            with self.hold_trait_notifications():
                self.driver_teeth, self.driven_teeth = (int(part) for part in self.picked.split())
            return
        listed = [(one.driver_teeth, one.driven_teeth) for one in self.candidates]
        self._matched = "{} {}".format(*counts) if counts in listed else OWN
        self.picked = self._matched

    def _state(self) -> State:
        size = {"module": self.module} if self.unit == "mm" else {"diametral_pitch": self.diametral_pitch}
        self.mesh = mesh = Mesh(Gear(self.driver_teeth, **size), Gear(self.driven_teeth, **size))
        scene = views.wished(mesh, self.wanted_distance, turning=1.0 if self.driver_speed >= 0 else -1.0)
        spoken = SPOKEN[self.unit]
        ratio, distance = self._wishes
        options = [
            (f"{one.driver_teeth} {one.driven_teeth}", f"{one.driver_teeth} and {one.driven_teeth} teeth")
            for one in self.candidates
        ]
        shown = f"{self.driver_teeth} {self.driven_teeth}"
        if shown not in [value for value, _ in options]:
            options.insert(0, (OWN, f"not on the list: {self.driver_teeth} and {self.driven_teeth}"))
        step, page, places = (0.25, 2.5, 2) if self.unit == "mm" else (0.01, 0.1, 3)
        controls = [
            measure(
                "wanted_ratio",
                "Wanted ratio",
                *RATIO,
                0.05,
                page=0.5,
                places=2,
                unit="",
                spoken="turns per turn",
                home=ratio,
            ),
            measure(
                "wanted_distance",
                "Wanted spacing",
                *self._reach(),
                step,
                page=page,
                places=places,
                unit=self.unit,
                spoken=spoken,
                home=distance,
            ),
            size_control(self.unit),
            choice("picked", "Pair from the list", options),
            whole("driver_teeth", "Teeth of the driver", *COUNTS, of="driver", spoken="teeth"),
            whole("driven_teeth", "Teeth of the driven gear", *COUNTS, of="driven", spoken="teeth"),
        ]
        return State(
            scene,
            f"{self.driver_teeth} and {self.driven_teeth} teeth, {numerals.pitch_name(mesh.driver)}",
            self._readout(),
            self._remarks(),
            controls,
        )

    def _readout(self) -> list[dict]:
        mesh, n = self.mesh, self.mesh.numbers
        error = mesh.ratio / self.wanted_ratio - 1
        own = [
            row(
                "spacing",
                cell(
                    "centre_distance", mesh.centre_distance, numerals.length(mesh.centre_distance, self.unit)
                ),
            ),
            row("driver turns per driven turn", cell("ratio", mesh.ratio, numerals.plain(mesh.ratio, 4))),
            row("off the wanted ratio by", cell("ratio_error", 100 * error, _percent(error))),
            row(
                "common factor", cell("common_factor", n["common_factor"], numerals.plain(n["common_factor"]))
            ),
            row(
                "different spaces a tooth meets",
                cell(
                    "spaces_met", n["spaces_met"], f"{numerals.plain(n['spaces_met'])} of {self.driven_teeth}"
                ),
            ),
            row(
                "driver turns until the same two teeth meet",
                cell(
                    "driver_turns_to_repeat",
                    n["driver_turns_to_repeat"],
                    numerals.plain(n["driver_turns_to_repeat"]),
                ),
            ),
        ]
        rows = []
        for one in self.candidates:
            name = f"{one.driver_teeth} and {one.driven_teeth}"
            spacing = one.size * self.scale / 2
            rows.append(
                row(
                    name,
                    cell(f"spacing of {name}", spacing, numerals.length(spacing, self.unit), explained=False),
                    cell(f"error of {name}", 100 * one.error, _percent(one.error), explained=False),
                    cell(f"factor of {name}", one.common_factor, str(one.common_factor), explained=False),
                )
            )
        tables = [group("The pair shown", own)]
        if rows:
            tables.append(
                group("The list, nearest ratio first", rows, ("spacing", "ratio off by", "common factor"))
            )
        return tables

    def _remarks(self) -> list[dict]:
        wanted, ratio = numerals.length(self.wanted_distance, self.unit), numerals.plain(self.wanted_ratio)
        said = [
            remark(
                "task",
                f"find a hunting pair for {wanted} at {numerals.pitch_name(self.mesh.driver)}, with a ratio"
                f" near {ratio} (within {NEAR}).",
            )
        ]
        met = self._met()
        spacing, reached = (
            numerals.length(self.mesh.centre_distance, self.unit),
            numerals.plain(self.mesh.ratio, 3),
        )
        factor = numerals.plain(self.mesh.numbers["common_factor"])
        if self.done:
            return [
                *said,
                remark(
                    "good",
                    f"{self.driver_teeth} and {self.driven_teeth}: {spacing}, {reached}, no common factor.",
                ),
            ]
        if not met["spacing"]:
            said.append(
                remark(
                    "note",
                    f"these gears stand {spacing} apart, not {wanted}: the counts add up to"
                    f" {self.driver_teeth + self.driven_teeth}.",
                )
            )
        if not met["ratio"]:
            said.append(remark("note", f"the ratio is {reached}, which is not near {ratio}."))
        if not met["hunting"]:
            meets = numerals.plain(self.mesh.numbers["spaces_met"])
            said.append(
                remark(
                    "note",
                    f"both counts can be divided by {factor}: each driver tooth meets only {meets} of the"
                    f" {self.driven_teeth} spaces, again and again.",
                )
            )
        if not any(
            abs(one.size * self.scale / 2 - self.wanted_distance) <= 0.002 * self.scale
            for one in self.candidates
        ):
            half = numerals.length(self.scale / 2, self.unit)
            said.append(
                remark(
                    "note",
                    f"no pair on the list stands at exactly {wanted}: spacings go in steps of half a module,"
                    f" {half}.",
                )
            )
        return said

    def _derivation(self, word: str):
        return self.mesh.explain(
            word, **({"wanted_ratio": float(self.wanted_ratio)} if word == "ratio_error" else {})
        )

    def _named(self) -> str:
        return f"ratio {numerals.plain(self._wishes[0])}, {numerals.length(self._wishes[1], self.unit)}"


def _percent(share: float) -> str:
    """A share in per cent, with its sign."""
    words = numerals.number(100 * share, 2)
    return f"{'+' if share > 0 and words != '0.00' else ''}{words} %"
