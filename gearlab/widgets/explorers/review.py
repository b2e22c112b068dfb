"""The vent drive with one number wrong: its checks with live numbers, and what the review says."""

from __future__ import annotations

import copy
import tomllib

import traitlets

from ...contents import content_folder
from ...drawing import numerals, views
from ...parts import Mesh
from ...parts.design import Design, design_of
from ...parts.review import Findings, review
from .undeclared import Explorer, State, cell, group, measure, remark, row, whole, within

PINION, WHEEL = "pinion", "wheel"
RATIO_WITHIN = 0.06  # so that some neighbours of 18 teeth will do as well
TEETH, LIMITS = (
    (10, 30),
    {
        "hole_spacing": (66.0, 100.0, "mm"),
        "plate_length": (170.0, 260.0, "mm"),
        "hub_diameter": (14.0, 46.0, "mm"),
        "screw_length": (3.0, 20.0, "mm"),
        "washers": (0.0, 12.0, "mm"),
    },
)
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


class ReviewChecklist(Explorer):
    """The vent drive on its plate, six numbers of it to change, and the review of the whole design after each
    change.

    Parameters
    ----------
    driver_teeth : int
        Teeth of the pinion at first, 10 to 30; the wheel has 45 [-].
    hole_spacing : float
        Distance of the holes at first, 66 to 100; by default that of a drive whose holes were set from the
        outside diameters [mm].
    plate_length : float
        170 to 260 [mm].
    hub_diameter, screw_length : float
        The pinion's hub, 14 to 46, and its set screw, 3 to 20 [mm].
    washers : float
        Between plate and wheel, 0 to 12 [mm].

    Raises
    ------
    ValueError
        If a value is outside its limits; the message names them.

    Examples
    --------
    >>> checks = ReviewChecklist()
    >>> checks.findings.names
    ('tips-do-not-reach',)
    >>> checks.hole_spacing = 78.75
    >>> checks.findings.passes, checks.warnings[-1]["kind"], checks.changed
    (True, 'good', ('hole_spacing',))
    """

    driver_teeth = traitlets.Int(18).tag(sync=True)
    hole_spacing = traitlets.Float(83.75).tag(sync=True)
    plate_length = traitlets.Float(220.0).tag(sync=True)
    hub_diameter = traitlets.Float(28.0).tag(sync=True)
    screw_length = traitlets.Float(8.0).tag(sync=True)
    washers = traitlets.Float(2.5).tag(sync=True)
    inputs = ("driver_teeth", "hole_spacing", "plate_length", "hub_diameter", "screw_length", "washers")

    def __init__(
        self,
        driver_teeth: int = 18,
        *,
        hole_spacing: float = 83.75,
        plate_length: float = 220.0,
        hub_diameter: float = 28.0,
        screw_length: float = 8.0,
        washers: float = 2.5,
    ):
        within("driver_teeth", driver_teeth, *TEETH, "teeth")
        given = {
            "hole_spacing": hole_spacing,
            "plate_length": plate_length,
            "hub_diameter": hub_diameter,
            "screw_length": screw_length,
            "washers": washers,
        }
        for name, value in given.items():
            within(name, value, *LIMITS[name])
        self._kit = _kit()
        self._first = {"driver_teeth": driver_teeth, **{name: float(value) for name, value in given.items()}}
        super().__init__(playing=False, driver_speed=4.0, **self._first)

    @traitlets.validate(
        "driver_teeth", "hole_spacing", "plate_length", "hub_diameter", "screw_length", "washers"
    )
    def _checked(self, proposal):
        name = proposal.trait.name
        within(name, proposal.value, *((*TEETH, "teeth") if name == "driver_teeth" else LIMITS[name]))
        return proposal.value

    @property
    def changed(self) -> tuple[str, ...]:
        """Which numbers differ from the design it began with [-]."""
        return tuple(name for name, value in self._first.items() if abs(getattr(self, name) - value) > 1e-9)

    @property
    def design(self) -> Design:
        """The design as it is set now."""
        data = copy.deepcopy(self._kit)
        crank, vent = data["shaft"]
        pinion, wheel = data["gear"]
        data["plate"]["length"] = self.plate_length
        vent["x"] = crank["x"] + self.hole_spacing
        pinion |= {
            "teeth": self.driver_teeth,
            "hub_diameter": self.hub_diameter,
            "screw_length": self.screw_length,
        }
        wheel["gap"] = self.washers
        return design_of(data)

    @property
    def findings(self) -> Findings:
        """What the review finds now."""
        return review(self.design)

    def _derivation(self, word: str):
        design = self.design
        pinion = design.gears[PINION]
        if word in ("centre_distance", "ratio"):
            return Mesh(pinion, design.gears[WHEEL]).explain(word)
        return (
            pinion.explain("root_diameter") if word == "root_diameter" else design.hubs[PINION].explain(word)
        )

    def _state(self) -> State:
        design = self.design
        found = review(design)
        pinion, wheel = design.gears[PINION], design.gears[WHEEL]
        holes = tuple((one.x, one.y) for one in design.shaft)
        scene = views.mounted(
            pinion,
            wheel,
            holes,
            size=(design.plate.length, design.plate.height),
            bore=design.of(PINION).bore,
            hubs=(self.hub_diameter, design.of(WHEEL).hub_diameter),
            room=LIMITS["plate_length"][1],
        )
        return State(
            scene,
            f"Vent drive, {len(found)} {'finding' if len(found) == 1 else 'findings'}",
            self._readout(design, found),
            [remark("task", TASK), *self._remarks(found)],
            self._controls(),
        )

    def _readout(self, design: Design, found: Findings) -> list[dict]:
        names, length = set(found.names), lambda value: numerals.length(value, "mm")
        pinion, wheel, hub = design.gears[PINION], design.gears[WHEEL], design.hubs.get(PINION)
        true = Mesh(pinion, wheel)
        try:
            mesh = Mesh(pinion, wheel, centre_distance=self.hole_spacing)
            play, contact = mesh.backlash, mesh.contact_ratio
        except ValueError:
            play = contact = None

        def plain(label, word, value, text, *alarms, explained=False):
            return row(label, cell(word, value, text, explained=explained, alarm=bool(names & set(alarms))))

        pair = [
            plain(
                "ratio", "ratio", true.ratio, numerals.number(true.ratio, 3), "ratio-missed", explained=True
            ),
            plain(
                "spacing that the teeth need",
                "centre_distance",
                true.centre_distance,
                length(true.centre_distance),
                explained=True,
            ),
            plain(
                "spacing of the holes",
                "hole_spacing",
                self.hole_spacing,
                length(self.hole_spacing),
                "tips-do-not-reach",
                "shafts-too-near",
                "loose-mesh",
                "little-contact",
            ),
        ]
        if play is not None:
            pair += [
                plain("play", "backlash", play, length(play), "loose-mesh", "shafts-too-near"),
                plain(
                    "contact ratio", "contact_ratio", contact, numerals.number(contact, 3), "little-contact"
                ),
            ]
        edge = design.plate.length - design.shaft_of(WHEEL).x - wheel.outside_diameter / 2
        heights = [design.face_height(one) for one in (PINION, WHEEL)]
        shaft = design.shaft_of(WHEEL)
        needed = (
            shaft.behind + design.plate.thickness + self.washers + design.overall_length(WHEEL) + shaft.end
        )
        place = [
            plain("beyond the wheel's tips", "edge_margin", edge, length(edge), "tips-over-edge"),
            plain(
                "faces, one above the other",
                "face_offset",
                abs(heights[1] - heights[0]),
                length(abs(heights[1] - heights[0])),
                "faces-miss",
                "faces-partly-miss",
            ),
            plain(
                "vent shaft: needed",
                "shaft_length",
                needed,
                length(needed),
                "shaft-too-short",
                "shaft-too-long",
            ),
            plain("vent shaft: there is", "shaft_there", shaft.length, length(shaft.length)),
        ]
        fixed = [
            plain(
                "root circle of the pinion",
                "root_diameter",
                pinion.root_diameter,
                length(pinion.root_diameter),
                "hub-fills-spaces",
                "hub-near-root",
                "bore-reaches-spaces",
                "thin-rim",
                explained=True,
            )
        ]
        if hub is not None:
            least, most = hub.drill_window
            fixed += [
                plain("wall of its hub", "hub_wall", hub.wall, length(hub.wall), "thin-wall", explained=True),
                plain(
                    "longest screw below the surface",
                    "screw_room",
                    hub.longest_screw,
                    length(hub.longest_screw),
                    "screw-stands-out",
                    explained=True,
                ),
                plain(
                    "hole for the screw, least",
                    "least_drill_depth",
                    least,
                    length(least),
                    "hole-short-of-shaft",
                    explained=True,
                ),
                plain(
                    "hole for the screw, greatest",
                    "greatest_drill_depth",
                    most,
                    length(most),
                    "hole-into-far-wall",
                    explained=True,
                ),
            ]
        return [group("The teeth", pair), group("Plate and shaft", place), group("The pinion's hub", fixed)]

    def _remarks(self, found: Findings) -> list[dict]:
        said = [
            remark(
                GRADE[one.grade],
                f"{one.grade}: {one.where}: {one.what} {one.limit} {one.why} To change: {one.change}",
            )
            for one in found
        ]
        if not found.passes:
            return said
        changed = self.changed
        if not changed:
            how = "The review finds nothing that will not work or will trouble."
        elif len(changed) == 1:
            how = (
                f"Repaired with one change, {NAMES[changed[0]]}: the review finds nothing that will not work"
                " or will trouble."
            )
        else:
            how = (
                f"The review finds nothing that will not work or will trouble. You changed {len(changed)}"
                f" numbers ({', '.join(NAMES[name] for name in changed)})."
            )
        return [*said, remark("good", f"{how} It judges numbers for teaching and releases no machine.")]

    def _controls(self) -> list[dict]:
        def of(name, label, step, page, places):
            return measure(
                name,
                label,
                *LIMITS[name][:2],
                step,
                page=page,
                places=places,
                unit="mm",
                spoken="millimetres",
            )

        return [
            whole("driver_teeth", "Teeth of the pinion", *TEETH, page=4, spoken="teeth"),
            of("hole_spacing", "Spacing of the holes", 0.25, 5.0, 2),
            of("plate_length", "Plate length", 5.0, 20.0, 0),
            of("hub_diameter", "Hub of the pinion", 1.0, 4.0, 1),
            of("screw_length", "Set screw in it", 1.0, 4.0, 1),
            of("washers", "Washers under the wheel", 0.5, 2.0, 1),
        ]

    def _named(self) -> str:
        return f"{self.driver_teeth} and 45 teeth, holes {numerals.plain(self.hole_spacing)} mm apart"


def _kit() -> dict:
    """The vent drive's tables, with plain names for its gears: here their numbers change."""
    data = tomllib.loads((content_folder("notebooks") / "vent_drive.toml").read_text(encoding="utf-8"))
    names = dict(zip((one["name"] for one in data["gear"]), (PINION, WHEEL)))
    for one in data["gear"]:
        one["name"] = names[one["name"]]
    data["mesh"] = [{side: names[name] for side, name in pair.items()} for pair in data["mesh"]]
    data["design"]["ratio_within"] = RATIO_WITHIN
    return data
