"""A drive with one number wrong: its checks with live numbers, and what the review says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from gearlab.care import of

from ...contents import content_folder
from ...drawing import numerals, views
from ...parts import Mesh
from ...parts.design import Design, read_design
from ...parts.review import Ledger, review
from ...theory.derivation import Derivation
from .controls import Measure, Scale, Whole
from .explorer import Explorer, State
from .findings import advised_line, findings_told, undecided_told
from .numbers import numbers
from .part import Part, at_distance, mesh_named, used
from .state import Cells, Inputs, cell, good, group, row, task

PINION, WHEEL = "pinion", "wheel"
RATIO_WITHIN = 0.06  # so that some neighbours of 18 teeth will do as well
LONGEST_PLATE = 260.0  # [mm]
NAMES = {
    "driver_teeth": "the pinion's teeth",
    "hole_spacing": "the spacing of the holes",
    "plate_length": "the plate",
    "hub_diameter": "the pinion's hub",
    "screw_length": "the set screw",
    "washers": "the washers under the wheel",
}
TASK = (
    "repair the failing design with one change, so that the review finds nothing. Then spoil it with another"
    " number, and read what it says."
)
SOUND = "spoil the design with one number, read what the review says, and repair it with another."
#: Whose number a control is: of the driver or the driven gear, or of the plate, and its field.
FIELDS = {
    "driver_teeth": ("driver", "teeth"),
    "plate_length": ("plate", "length"),
    "hub_diameter": ("driver", "hub_diameter"),
    "screw_length": ("driver", "screw_length"),
    "washers": ("driven", "gap"),
}
WIDE = 620.0  # of the picture of a whole drive [points]
APART = {"mm": (0.25, 5.0, 2), "in": (0.01, 0.25, 3)}  # step, page and places of the spacing


class Reviewed(NamedTuple):
    """A design and what the review finds in it."""

    design: Design
    findings: Ledger


class _OfDesign:
    """A line whose range is that of the design, where one was given."""

    def scale_for(self, maker: Any, inputs: Inputs | None = None) -> Scale:
        return maker.scales.get(self.name) or super().scale_for(maker, inputs)  # type: ignore[misc,attr-defined]

    def _unit(self, maker: Any, inputs: Inputs) -> str:
        unit = super()._unit(maker, inputs)  # type: ignore[misc]
        return maker.unit_of(inputs) if unit == "mm" else unit


class _Whole(_OfDesign, Whole):
    """A whole number of a design."""


class _Size(_OfDesign, Measure):
    """A length of a design."""


def _has(field: str) -> Any:
    """Whether the pinion has a number."""
    return lambda maker, inputs: getattr(maker.whole.of(maker.pair[0]), field) is not None


def _taken(design: Design, name: str) -> dict[str, Any]:
    pair = mesh_named(design, name)
    taken: dict[str, Any] = {"hole_spacing": round(design.distance(pair.driver, pair.driven), 9)}
    for control in FIELDS:
        table, field = _of(design, (pair.driver, pair.driven), control)
        taken[control] = getattr(table, field)
    return {control: value for control, value in taken.items() if value is not None}


def _of(design: Design, pair: tuple[str, str], control: str) -> tuple[Any, str]:
    whose, field = FIELDS[control]
    return (design.on_plate if whose == "plate" else design.of(pair[whose == "driven"])), field


def _edited(inputs: Inputs, design: Design, name: str) -> dict[str, Any]:
    pair = mesh_named(design, name)
    both = pair.driver, pair.driven
    edits: dict[str, Any] = {"plate": {"length": inputs.plate_length}, "gear": {gear: {} for gear in both}}
    settings = inputs.settings()
    for control, (whose, field) in FIELDS.items():
        table, _ = _of(design, both, control)
        if whose != "plate" and getattr(table, field) is not None:
            edits["gear"][table.name][field] = settings[control]
    if abs(inputs.hole_spacing - design.distance(*both)) > 1e-8:
        edits["shaft"] = at_distance(design, name, inputs.hole_spacing)
    return edits


class ReviewChecklist(Explorer):
    """A drive on its plate, six numbers of it to change, and the review of the whole design after each
    change: of the vent drive with its holes too far apart, or of two gears in mesh of any design.

    Examples
    --------
    >>> checks = ReviewChecklist()
    >>> checks.findings.names
    ('tips-do-not-reach',)
    >>> checks.hole_spacing = 78.75
    >>> checks.findings.passes, checks.warnings[-1]["kind"], checks.changed
    (True, 'good', ('hole_spacing',))
    """

    speed, positional, judged = 4.0, 1, True
    words = ("face_offset", "shaft_there", "checks_hold", "checks_unmade")
    part_of_design = Part("mesh", _taken, _edited)
    scales: Mapping[str, Scale] = {}
    driver_teeth = _Whole(
        18,
        10,
        30,
        "Teeth of the pinion",
        page=4,
        about="Teeth of the pinion at first, where the wheel has 45",
    )
    hole_spacing = _Size(
        83.75,
        66.0,
        100.0,
        "Spacing of the holes",
        unit="mm",
        step=0.25,
        page=5.0,
        places=2,
        about="Distance of the holes at first; if left out that of a drive whose holes were set by the"
        " outside diameters",
    )
    plate_length = _Size(
        220.0, 140.0, LONGEST_PLATE, "Plate length", unit="mm", step=5.0, page=20.0, places=0
    )
    hub_diameter = _Size(
        28.0,
        14.0,
        46.0,
        "Hub of the pinion",
        unit="mm",
        step=1.0,
        page=4.0,
        places=1,
        when=_has("hub_diameter"),
    )
    screw_length = _Size(
        8.0,
        3.0,
        20.0,
        "Set screw of the pinion",
        unit="mm",
        step=1.0,
        page=4.0,
        places=1,
        when=_has("screw_length"),
    )
    washers = _Size(2.5, 0.0, 12.0, "Washers under the wheel", unit="mm", step=0.5, page=2.0, places=1)

    advised = advised_line()

    def prepare(self):
        own = self._design is not None
        self.whole = Design(**(self._design or _kit()).tables)  # without its text, which is quicker to change
        self.part = self.part if own else self.whole.mesh[0].name
        chosen = mesh_named(self.whole, self.part)
        self.pair = chosen.driver, chosen.driven
        self.scales = _scales(self.whole, self.pair) if own else {}

    @property
    def changed(self) -> tuple[str, ...]:
        """Which numbers differ from the design it began with."""
        return self._changes(self.shown.inputs)

    def _changes(self, inputs: Inputs) -> tuple[str, ...]:
        now, first = inputs.settings(), self.first.settings()
        return tuple(name for name in NAMES if abs(now[name] - first[name]) > 1e-9)

    @property
    def design(self) -> Design:
        """The design as it is set now."""
        if self._design is None:
            return self.shown.subject.design
        return self._design.with_(**_edited(self.shown.inputs, self._design, self.part))

    @property
    def findings(self) -> Ledger:
        """What the review finds now."""
        return self.shown.subject.findings

    def use(self) -> Design:
        """Say what the numbers that are shown have moved in the design; return it."""
        if self._design is not None:
            inputs = self.shown.inputs
            edits = _edited(inputs, self._design, self.part) if self.changed else {}
            self.used = used(self._design, self.design, edits, bool(self.changed))
        return self.design

    def unit_of(self, inputs: Inputs) -> str:
        return self.whole.unit

    def tidied(self, inputs: Inputs, before: Inputs | None) -> Inputs:
        same = before is None or inputs.but(advised=before.advised) == before
        return inputs if same else inputs.but(advised=0)

    def state(self, inputs: Inputs) -> State:
        design = self.whole.with_(**_edited(inputs, self.whole, self.part))
        findings = review(design)
        name = design.name[:1].upper() + design.name[1:]
        heading = f"{name}, {len(findings)} {'finding' if len(findings) == 1 else 'findings'}"
        told = self._remarks(findings, self._changes(inputs), inputs.advised)
        scene, readout = self._scene(design, inputs), []
        if "gear-cannot-be" not in findings.names:
            checks = _Checks(design, self.pair, frozenset(findings.names))
            readout = [checks.teeth(inputs), checks.place(), checks.hub(), checks.ledger(findings)]
        return State(inputs, scene, heading, readout, told, Reviewed(design, findings))

    def _scene(self, design: Design, inputs: Inputs) -> Any:
        if self._design is not None:
            return views.drive(
                design,
                width=WIDE,
                marked=self.pair[0],
                turning=1.0 if inputs.driver_speed >= 0 else -1.0,
                sides=False,
            )
        crank, vent = design.shaft
        return views.mounted(
            design.gears[PINION],
            design.gears[WHEEL],
            (crank.place, vent.place),
            size=(design.on_plate.length, design.on_plate.height),
            bore=design.of(PINION).bore,
            hubs=(inputs.hub_diameter, design.of(WHEEL).hub_diameter or 0.0),
            room=LONGEST_PLATE,
        )

    def reason(self, word: str, state: State) -> Derivation:
        design, (driver, driven) = state.subject.design, self.pair
        pinion = design.toothed[driver]
        if word in ("centre_distance", "ratio"):
            return Mesh(pinion, design.toothed[driven]).explain(word)
        return (pinion if word == "root_diameter" else design.hubs[driver]).explain(word)

    def _remarks(self, findings: Ledger, changed: tuple[str, ...], advised: int) -> list[dict]:
        failing = self._design is None or not review(self.whole).passes
        told = [task(TASK if failing else SOUND), *findings_told(findings, advised)]
        told += undecided_told(findings)
        if not findings.passes:
            return told
        nothing = "he review finds nothing that will not work or will trouble."
        how = f"T{nothing}"
        if len(changed) == 1 and failing:
            how = f"Repaired with one change, {NAMES[changed[0]]}: t{nothing}"
        elif changed:
            numbers = ", ".join(NAMES[name] for name in changed)
            how += f" You changed {len(changed)} number{'s' if len(changed) > 1 else ''} ({numbers})."
        return [*told, good(f"{how} {of('review').sentence}")]

    def _named(self) -> str:
        spacing = numerals.plain(self.hole_spacing)
        driven = self.whole.of(self.pair[1]).teeth
        return f"{self.driver_teeth} and {driven} teeth, holes {spacing} {self.whole.unit} apart"


def _scales(design: Design, pair: tuple[str, str]) -> dict[str, Scale]:
    """The ranges of the controls about the numbers of a design."""
    scales = {}
    for control, (whose, field) in FIELDS.items():
        key = "plate" if whose == "plate" else f"gear {pair[whose == 'driven']}"
        number = numbers(design, key)[field]
        scales[control] = number.scale(number.at, design.unit)
    apart, (step, page, places) = design.distance(*pair), APART[design.unit]
    low, high = (round(share * apart / page) * page for share in (0.8, 1.25))
    scales["hole_spacing"] = Scale(apart, min(low, apart), max(high, apart), step, page, places)
    return scales


class _Checks(Cells):
    """The numbers that the review judges; those of a finding raise an alarm."""

    def __init__(self, design: Design, pair: tuple[str, str], findings: frozenset[str]):
        self.design, self.findings, self.names = design, findings, pair
        self.pinion, self.wheel = (design.toothed[name] for name in pair)
        super().__init__(Mesh(self.pinion, self.wheel).numbers, design.unit)

    def line(self, label: str, word: str, value: float, *alarms: str, explained: bool = False) -> dict:
        """A row with a length, and the findings that make it an alarm."""
        alarm = not self.findings.isdisjoint(alarms)
        return row(label, self.length(word, value, explained=explained, alarm=alarm))

    def teeth(self, inputs: Inputs) -> dict:
        """Whether they mesh."""
        rows = [
            row("ratio", self.number("ratio", alarm="ratio-missed" in self.findings)),
            row("spacing that the teeth need", self.length("centre_distance")),
            self.line(
                "spacing of the holes",
                "hole_spacing",
                inputs.hole_spacing,
                "tips-do-not-reach",
                "shafts-too-near",
                "loose-mesh",
                "little-contact",
            ),
        ]
        mesh = _meshing(self.pinion, self.wheel, inputs.hole_spacing)
        if mesh:
            contact = self.number(
                "contact_ratio", mesh.contact_ratio, alarm="little-contact" in self.findings
            )
            rows += [
                self.line("play", "backlash", mesh.backlash, "loose-mesh", "shafts-too-near"),
                row("contact ratio", contact),
            ]
        return group("The teeth", rows)

    def place(self) -> dict:
        """Whether they have room on plate and shaft."""
        design, wheel = self.design, self.names[1]
        plate, shaft = design.on_plate, design.shaft_of(wheel)
        across = design.of(wheel).rim_diameter or self.wheel.outside_diameter
        edge = plate.length - shaft.place[0] - across / 2
        below, above = (design.face_height(name) for name in self.names)
        reach = max(
            design.foot(table.name) + design.overall_length(table.name) for table in design.on(shaft.name)
        )
        needed = shaft.behind + plate.thickness + reach + shaft.end
        rows = [
            self.line("beyond the wheel's tips", "edge_margin", edge, "tips-over-edge"),
            self.line(
                "offset of the faces",
                "face_offset",
                abs(above - below),
                "faces-miss",
                "faces-partly-miss",
            ),
            self.line(
                f"{shaft.name} shaft: needed", "shaft_length", needed, "shaft-too-short", "shaft-too-long"
            ),
            self.line(f"{shaft.name} shaft: length as drawn", "shaft_there", shaft.length or 0.0),
        ]
        return group("Plate and shaft", rows)

    def hub(self) -> dict:
        """Whether the pinion's hub is sound."""
        spaces = "hub-fills-spaces", "hub-near-root", "bore-reaches-spaces", "thin-rim"
        lines: list[tuple[Any, ...]] = [
            ("root circle of the pinion", "root_diameter", self.pinion.root_diameter, *spaces)
        ]
        hub = self.design.hubs.get(self.names[0])
        if hub is not None:
            least, most = hub.drill_window
            lines += [
                ("wall of its hub", "hub_wall", hub.wall, "thin-wall"),
                ("longest screw below the surface", "screw_room", hub.longest_screw, "screw-stands-out"),
                ("hole for the screw, minimum depth", "least_drill_depth", least, "hole-short-of-shaft"),
                ("hole for the screw, maximum depth", "greatest_drill_depth", most, "hole-into-far-wall"),
            ]
        return group("The pinion's hub", [self.line(*line, explained=True) for line in lines])

    def ledger(self, findings: Ledger) -> dict:
        """How much was looked at."""
        hold, unmade = len(findings.holds), len(findings.unmade)
        rows = [
            row("checks that hold", cell("checks_hold", hold, str(hold), explained=False)),
            row("checks not made", cell("checks_unmade", unmade, str(unmade), explained=False)),
        ]
        return group("The review", rows)


def _meshing(pinion: Any, wheel: Any, spacing: float) -> Mesh | None:
    """The pair at the spacing of the holes, if its tips reach each other."""
    try:
        mesh = Mesh(pinion, wheel, centre_distance=spacing)
        return mesh if mesh.backlash is not None and mesh.contact_ratio is not None else None
    except ValueError:
        return None


def _kit() -> Design:
    """The vent drive, with plain names for its gears: here their numbers change."""
    kit = read_design(content_folder("notebooks") / "vent_drive.toml")
    names = zip((gear.name for gear in kit.gear), (PINION, WHEEL))
    return kit.with_(design={"ratio_within": RATIO_WITHIN}, gear={old: {"name": new} for old, new in names})
