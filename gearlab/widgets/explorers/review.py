"""The vent drive with one number wrong: its checks with live numbers, and what the review says."""

from __future__ import annotations

import copy
from typing import Any, NamedTuple

from ...contents import content_folder
from ...drawing import numerals, views
from ...parts import Gear, Mesh
from ...parts.design import Design, design_of, read_design
from ...parts.review import Ledger, review
from ...theory.derivation import Derivation
from .controls import Measure, Whole
from .explorer import Explorer, State
from .inputs import Inputs
from .readout import Cells, good, group, remark, row, task

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
GRADE = {"will not work": "warning", "will trouble": "warning", "worth knowing": "note"}


class Reviewed(NamedTuple):
    """A design and what the review finds in it."""

    design: Design
    findings: Ledger


class ReviewChecklist(Explorer):
    """The vent drive on its plate, six numbers of it to change, and the review of the whole design after each
    change.

    Examples
    --------
    >>> checks = ReviewChecklist()
    >>> checks.findings.names
    ('tips-do-not-reach',)
    >>> checks.hole_spacing = 78.75
    >>> checks.findings.passes, checks.warnings[-1]["kind"], checks.changed
    (True, 'good', ('hole_spacing',))
    """

    speed, positional, words = 4.0, 1, ("face_offset", "shaft_there")
    driver_teeth = Whole(
        18,
        10,
        30,
        "Teeth of the pinion",
        page=4,
        about="Teeth of the pinion at first, where the wheel has 45",
    )
    hole_spacing = Measure(
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
    plate_length = Measure(
        220.0, 140.0, LONGEST_PLATE, "Plate length", unit="mm", step=5.0, page=20.0, places=0
    )
    hub_diameter = Measure(28.0, 14.0, 46.0, "Hub of the pinion", unit="mm", step=1.0, page=4.0, places=1)
    screw_length = Measure(8.0, 3.0, 20.0, "Set screw in it", unit="mm", step=1.0, page=4.0, places=1)
    washers = Measure(2.5, 0.0, 12.0, "Washers under the wheel", unit="mm", step=0.5, page=2.0, places=1)

    def prepare(self):
        self._kit = _kit()

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
        return self.shown.thing.design

    @property
    def findings(self) -> Ledger:
        """What the review finds now."""
        return self.shown.thing.findings

    def _designed(self, inputs: Inputs) -> Design:
        data = copy.deepcopy(self._kit)
        crank, vent = data["shaft"]
        pinion, wheel = data["gear"]
        data["plate"]["length"] = inputs.plate_length
        vent["x"] = crank["x"] + inputs.hole_spacing
        pinion |= {
            "teeth": inputs.driver_teeth,
            "hub_diameter": inputs.hub_diameter,
            "screw_length": inputs.screw_length,
        }
        wheel["gap"] = inputs.washers
        return design_of(data)

    def state(self, inputs: Inputs) -> State:
        design = self._designed(inputs)
        findings = review(design)
        crank, vent = design.shaft
        scene = views.mounted(
            design.gears[PINION],
            design.gears[WHEEL],
            (crank.place, vent.place),
            size=(design.on_plate.length, design.on_plate.height),
            bore=design.of(PINION).bore,
            hubs=(inputs.hub_diameter, design.of(WHEEL).hub_diameter or 0.0),
            room=LONGEST_PLATE,
        )
        checks = _Checks(design, frozenset(findings.names))
        readout = [checks.teeth(inputs), checks.place(inputs), checks.hub()]
        heading = f"Vent drive, {len(findings)} {'finding' if len(findings) == 1 else 'findings'}"
        told = [task(TASK), *self._remarks(findings, self._changes(inputs))]
        return State(inputs, scene, heading, readout, told, Reviewed(design, findings))

    def reason(self, word: str, state: State) -> Derivation:
        design = state.thing.design
        pinion = design.gears[PINION]
        if word in ("centre_distance", "ratio"):
            return Mesh(pinion, design.gears[WHEEL]).explain(word)
        return (pinion if word == "root_diameter" else design.hubs[PINION]).explain(word)

    def _remarks(self, findings: Ledger, changed: tuple[str, ...]) -> list[dict]:
        told = [
            remark(
                GRADE[finding.grade],
                f"{finding.grade}: {finding.where}: {finding.what} {finding.limit} {finding.why} To change:"
                f" {finding.change}",
            )
            for finding in findings
        ]
        if not findings.passes:
            return told
        nothing = "he review finds nothing that will not work or will trouble."
        how = f"T{nothing}"
        if len(changed) == 1:
            how = f"Repaired with one change, {NAMES[changed[0]]}: t{nothing}"
        elif changed:
            numbers = ", ".join(NAMES[name] for name in changed)
            how += f" You changed {len(changed)} numbers ({numbers})."
        return [*told, good(f"{how} It judges numbers for teaching and releases no machine.")]

    def _named(self) -> str:
        return f"{self.driver_teeth} and 45 teeth, holes {numerals.plain(self.hole_spacing)} mm apart"


class _Checks(Cells):
    """The numbers that the review judges; those of a finding raise an alarm."""

    def __init__(self, design: Design, findings: frozenset[str]):
        self.design, self.findings = design, findings
        self.pinion, self.wheel = design.gears[PINION], design.gears[WHEEL]
        super().__init__(Mesh(self.pinion, self.wheel).numbers, "mm")

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

    def place(self, inputs: Inputs) -> dict:
        """Whether they have room on plate and shaft."""
        design = self.design
        plate, shaft = design.on_plate, design.shaft_of(WHEEL)
        edge = plate.length - shaft.place[0] - self.wheel.outside_diameter / 2
        below, above = (design.face_height(name) for name in (PINION, WHEEL))
        needed = shaft.behind + plate.thickness + inputs.washers + design.overall_length(WHEEL) + shaft.end
        rows = [
            self.line("beyond the wheel's tips", "edge_margin", edge, "tips-over-edge"),
            self.line(
                "faces, one above the other",
                "face_offset",
                abs(above - below),
                "faces-miss",
                "faces-partly-miss",
            ),
            self.line("vent shaft: needed", "shaft_length", needed, "shaft-too-short", "shaft-too-long"),
            self.line("vent shaft: there is", "shaft_there", shaft.length or 0.0),
        ]
        return group("Plate and shaft", rows)

    def hub(self) -> dict:
        """Whether the pinion's hub is sound."""
        spaces = "hub-fills-spaces", "hub-near-root", "bore-reaches-spaces", "thin-rim"
        lines: list[tuple[Any, ...]] = [
            ("root circle of the pinion", "root_diameter", self.pinion.root_diameter, *spaces)
        ]
        hub = self.design.hubs.get(PINION)
        if hub is not None:
            least, most = hub.drill_window
            lines += [
                ("wall of its hub", "hub_wall", hub.wall, "thin-wall"),
                ("longest screw below the surface", "screw_room", hub.longest_screw, "screw-stands-out"),
                ("hole for the screw, least", "least_drill_depth", least, "hole-short-of-shaft"),
                ("hole for the screw, greatest", "greatest_drill_depth", most, "hole-into-far-wall"),
            ]
        return group("The pinion's hub", [self.line(*line, explained=True) for line in lines])


def _meshing(pinion: Gear, wheel: Gear, spacing: float) -> Mesh | None:
    """The pair at the spacing of the holes, if its tips reach each other."""
    try:
        mesh = Mesh(pinion, wheel, centre_distance=spacing)
        return mesh if mesh.backlash is not None and mesh.contact_ratio is not None else None
    except ValueError:
        return None


def _kit() -> dict:
    """The vent drive's tables, with plain names for its gears: here their numbers change."""
    kit = read_design(content_folder("notebooks") / "vent_drive.toml")
    names = zip((gear.name for gear in kit.gear), (PINION, WHEEL))
    data = copy.deepcopy(kit.with_(gear={old: {"name": new} for old, new in names}).tables)
    data["design"]["ratio_within"] = RATIO_WITHIN
    return data
