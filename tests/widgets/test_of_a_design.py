"""Explorers that show a part of a design: they take its numbers and give them back.

Expected numbers are by hand, from the definitions: spacing is half the sum of the teeth times the module, or
over the diametral pitch; a pitch radius is half the teeth times the module.
"""

from pathlib import Path
from typing import Any, NamedTuple

import pytest

from gearlab import read_design, review, widgets
from gearlab.parts.choosing import pairs
from gearlab.widgets import (
    AlignmentNudge,
    BacklashGauge,
    ContactStrip,
    HubSection,
    Jaws,
    LineOfAction,
    PairExplorer,
    PlateLayout,
    RackAndPinion,
    RatioFinder,
    ShaftStack,
    SpacingExplorer,
    SunPlanetsRing,
    ToleranceSliders,
    ToothAnatomy,
    ToothDial,
    ToothForces,
    TrainArrows,
    TrainBuilder,
    TurnCounter,
    TwoCones,
)

FOLDER = Path(__file__).parents[2] / "notebooks"
KITS = {name: read_design(FOLDER / f"{name}.toml") for name in ("vent_drive", "vent_drive_inch")}
SCALE = {"mm": 2.5, "in": 1 / 12}
SIZE = {"mm": {"module": 2.5}, "in": {"diametral_pitch": 12}}
#: A string, a cutter and strips show no part of a drive; those of a whole drive have a design of their own.
# the checklist of a design has tests of its own
ALONE = {"StringUnwinding", "RackCutter", "PitchStrips", "ReviewChecklist", "DriveExplorer"}


def length(unit, modules):
    return modules * SCALE[unit]


def with_all(kit):
    """A kit with a second stage above its vent shaft, a rack, a bevel pair and a planetary set beside."""
    unit, vent = kit.unit, kit.shaft[1]
    like = {**SIZE[unit], "face_width": length(unit, 4), "bore": vent.diameter}
    stands = {"x": vent.x, "y": vent.y + length(unit, 30), "diameter": vent.diameter}
    return kit.with_(
        shaft={"last": {"name": "last", **stands}},
        gear={
            "third": {"shaft": "vent", "teeth": 20, **like},
            "fourth": {"shaft": "last", "teeth": 40, **like},
        },
        mesh={"third with fourth": {}},
        rack={
            "vent rack": {
                "pinion": "fourth",
                "teeth": 60,
                "travel": length(unit, 60),
                "pitch_height": length(unit, 6),
                "mounting_height": length(unit, 26),
            }
        },
        bevel={"corner": {"teeth": (20, 30), **SIZE[unit]}},
        planetary={"head": {"sun": 24, "planet": 18, "ring": 60, "planets": 3, **SIZE[unit]}},
    )


FULL = {name: with_all(kit) for name, kit in KITS.items()}


class Case(NamedTuple):
    """An explorer, what is changed in it, and what the design then says, by hand."""

    explorer: Any
    change: Any  # from unit and explorer, the settings
    says: Any  # from design and the one before, pairs of what is and what should be


def first(design):
    return design.mesh[0]


def apart(design, pair=None):
    pair = pair or first(design)
    return design.distance(pair.driver, pair.driven)


def touch(design, *teeth):
    return sum(teeth) / 2 * SCALE[design.unit]


CASES = [
    Case(
        PairExplorer,
        lambda unit, _: {"driver_teeth": 20},
        lambda after, _: [(after.of(first(after).driver).teeth, 20), (apart(after), touch(after, 20, 45))],
    ),
    Case(
        SpacingExplorer,
        lambda unit, _: {"centre_distance": {"mm": 79.5, "in": 2.66}[unit]},
        lambda after, before: [
            (apart(after), {"mm": 79.5, "in": 2.66}[after.unit]),
            (after.shaft[0].place, before.shaft[0].place),
            (after.shaft[1].y, before.shaft[1].y),
        ],
    ),
    Case(
        BacklashGauge,
        lambda unit, _: {"centre_distance": {"mm": 78.9, "in": 2.6305}[unit]},
        lambda after, _: [(apart(after), {"mm": 78.9, "in": 2.6305}[after.unit])],
    ),
    Case(
        # 20 degrees: of an opening 2 tan 20 is backlash, beside the thinning of both gears
        ToleranceSliders,
        lambda unit, _: {"design_backlash": {"mm": 0.2, "in": 0.008}[unit]},
        lambda after, _: [
            (
                apart(after),
                touch(after, 18, 45) + {"mm": 0.2 - 0.1, "in": 0.008 - 0.004}[after.unit] / (2 * 0.3639702),
            )
        ],
    ),
    Case(
        ContactStrip,
        lambda unit, _: {"opening": 0.2},
        lambda after, _: [(apart(after), touch(after, 18, 45) + 0.2 * SCALE[after.unit])],
    ),
    Case(
        LineOfAction,
        lambda unit, _: {"opening": 0.25},
        lambda after, _: [(apart(after), touch(after, 18, 45) + 0.25 * SCALE[after.unit])],
    ),
    Case(
        AlignmentNudge,
        lambda unit, _: {"line_angle": 30.0},
        lambda after, before: [
            (after.line_angle(first(after).driver, first(after).driven), 30.0),
            (apart(after), apart(before)),
        ],
    ),
    Case(
        TurnCounter,
        lambda unit, _: {"driver_speed": 12.0},
        lambda after, _: [(after.load.speed, 12.0), (after.speeds["vent"], -12.0 * 18 / 45)],
    ),
    Case(
        RatioFinder,
        lambda unit, _: {"driver_teeth": 19},
        lambda after, _: [(after.of(first(after).driver).teeth, 19), (apart(after), touch(after, 19, 45))],
    ),
    Case(
        PlateLayout,
        lambda unit, explorer: {"hole_x": explorer.hole_x + length(unit, 1)},
        lambda after, before: [
            (shaft.x - was.x, SCALE[after.unit]) for shaft, was in zip(after.shaft, before.shaft)
        ],
    ),
    Case(
        ToothForces,
        lambda unit, _: {"angle_of_pressure": 25.0},
        lambda after, _: [
            (after.of(gear).pressure_angle, 25) for gear in (first(after).driver, first(after).driven)
        ],
    ),
    Case(
        ShaftStack,
        lambda unit, _: {"axial_gap": {"mm": 2.0, "in": 0.125}[unit]},
        lambda after, _: [(after.gear[0].gap, {"mm": 2.0, "in": 0.125}[after.unit])],
    ),
    Case(
        ShaftStack,
        lambda unit, _: {"shaft_length": {"mm": 55.0, "in": 2.0}[unit]},
        lambda after, _: [(after.shaft[0].length, {"mm": 55, "in": 2}[after.unit])],
    ),
    Case(
        ShaftStack,
        lambda unit, _: {"end_length": {"mm": 4.0, "in": 0.1875}[unit]},
        lambda after, _: [(after.shaft[0].end, {"mm": 4, "in": 0.1875}[after.unit])],
    ),
    Case(
        HubSection,
        lambda unit, _: {"drill_depth": {"mm": 12.5, "in": 0.44}[unit]},
        lambda after, _: [(after.gear[0].drill_depth, {"mm": 12.5, "in": 0.44}[after.unit])],
    ),
    Case(
        HubSection,
        lambda unit, _: {"screw_length": {"mm": 6.0, "in": 0.1875}[unit]},
        lambda after, _: [(after.gear[0].screw_length, {"mm": 6, "in": 0.1875}[after.unit])],
    ),
    Case(
        HubSection,
        lambda unit, _: {"hub_diameter": {"mm": 30.0, "in": 0.75}[unit]},
        lambda after, _: [(after.gear[0].hub_diameter, {"mm": 30, "in": 0.75}[after.unit])],
    ),
    Case(
        HubSection,
        lambda unit, _: {"flat_depth": {"mm": 0.8, "in": 0.03}[unit]},
        lambda after, _: [(after.gear[0].flat, {"mm": 0.8, "in": 0.03}[after.unit])],
    ),
    Case(
        ToothDial,
        lambda unit, _: {"teeth": 21},
        lambda after, _: [(after.gears[after.gear[0].name].pitch_diameter, 21 * SCALE[after.unit])],
    ),
    Case(
        # over 3 of 18 teeth, module 1: cos 20 (2.5 pi + 18 inv 20) = 7.6324; less the thinning times cos 20
        # 19.034 mm and 0.63415 in (the span formula of the handbooks)
        Jaws,
        lambda unit, _: {"span_teeth": 3, "opening": {"mm": 19.03, "in": 0.634}[unit]},
        lambda after, _: [
            (after.reading(after.gear[0].name, "span").over, 3),
            (after.reading(after.gear[0].name, "span").value, {"mm": 19.03, "in": 0.634}[after.unit]),
        ],
    ),
    Case(
        RackAndPinion,
        lambda unit, _: {"teeth": 36},
        lambda after, _: [
            (after.of("fourth").teeth, 36),
            (after.rack[0].mounting_height, (6 + 18) * SCALE[after.unit]),
        ],
    ),
    Case(
        RackAndPinion,
        lambda unit, _: {"side": "below"},
        lambda after, _: [(after.rack[0].angle, 90)],
    ),
    Case(
        TwoCones,
        lambda unit, _: {"driven_teeth": 40},
        lambda after, _: [(after.bevel[0].teeth, (20, 40))],
    ),
    Case(
        SunPlanetsRing,
        lambda unit, _: {"planet_teeth": 24},
        lambda after, _: [(after.planetary[0].planet, 24), (after.planetary[0].ring, 24 + 2 * 24)],
    ),
    Case(
        TrainBuilder,
        lambda unit, _: {"first_teeth": 20},
        lambda after, _: [
            (apart(after), touch(after, 20, 45)),
            (apart(after, after.mesh[1]), touch(after, 20, 40)),
        ],
    ),
]


def made(explorer, kit):
    return explorer(
        design=FULL[kit] if explorer in (RackAndPinion, TwoCones, SunPlanetsRing, TrainBuilder) else KITS[kit]
    )


@pytest.mark.parametrize("kit", KITS)
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.explorer.__name__)
def test_an_explorer_takes_numbers_and_gives_them_back(case, kit):
    explorer = made(case.explorer, kit)
    before = explorer.design
    assert explorer.designed and explorer.use() is before  # nothing moves, no line is added
    assert "Nothing has moved" in explorer.used
    change = case.change(before.unit, explorer)
    for name, value in change.items():
        setattr(explorer, name, value)
    assert explorer.shown.inputs != explorer.first, explorer.warnings
    after = explorer.use()
    assert after != before and "In your design: " in explorer.used
    for is_now, should_be in case.says(after, before):
        assert is_now == pytest.approx(should_be, rel=1e-7)
    assert read_design(after.toml) == after
    taken_on = case.explorer(design=after, part=explorer.part)
    for name, value in change.items():
        assert getattr(taken_on, name) == pytest.approx(value, abs=1e-6)
    assert taken_on.use() is after


@pytest.mark.parametrize("kit", KITS)
def test_what_is_set_back_is_set_back(kit):
    """Used with another number and again with the first one: the design of the beginning."""
    for cls, name, other in ((PairExplorer, "driver_teeth", 20), (HubSection, "flat_depth", 0.03)):
        explorer = cls(design=KITS[kit])
        own = getattr(explorer, name)
        for value in (other, own):
            setattr(explorer, name, value)
            after = explorer.use()
        assert after == KITS[kit]


def test_every_explorer_of_a_part_of_a_drive_takes_a_design():
    """Those of the list that is tested here, and two whose arrows set no number."""
    explorers = {name: getattr(widgets, name) for name in widgets.__all__}
    takes = {name for name, cls in explorers.items() if getattr(cls, "part_of_design", None)}
    pictures = {name for name, cls in explorers.items() if hasattr(cls, "declared")}
    assert takes - {"ReviewChecklist"} == pictures - ALONE
    takes -= {"ReviewChecklist"}
    assert takes == {case.explorer.__name__ for case in CASES} | {"ToothAnatomy", "TrainArrows"}


@pytest.mark.parametrize("kit", KITS)
def test_explorers_whose_arrows_set_no_number(kit):
    scale = SCALE[KITS[kit].unit]
    anatomy = ToothAnatomy(design=KITS[kit], named=True)
    assert anatomy.value("addendum") == pytest.approx(scale) and anatomy.use() == KITS[kit]
    row = KITS[kit].with_(
        shaft={"idler": {"x": 1, "y": 1, "diameter": 0.2}},
        gear={
            "idler": {"shaft": "idler", "teeth": 24, **SIZE[KITS[kit].unit], "face_width": 0.5, "bore": 0.2}
        },
        mesh=[
            {"driver": KITS[kit].gear[0].name, "driven": "idler"},
            {"driver": "idler", "driven": KITS[kit].gear[1].name},
        ],
    )
    assert TrainArrows(design=KITS[kit]).teeth == (18, 45)
    arrows = TrainArrows(design=row)
    assert arrows.teeth == (18, 24, 45)
    arrows.arrow_1 = 1
    assert arrows.use() == row and "no number of your design" in arrows.used


@pytest.mark.parametrize("kit", KITS)
def test_one_after_another_on_one_design(kit):
    """Counts, plate, stack and hub: each takes on what the one before gave."""
    design = KITS[kit]
    unit = design.unit
    steps = (
        (RatioFinder, {"driver_teeth": 20, "driven_teeth": 50}),
        (
            PlateLayout,
            {"hole_x": {"mm": 51.25, "in": 2.0}[unit], "plate_length": {"mm": 240.0, "in": 9.0}[unit]},
        ),
        (ShaftStack, {"end_length": {"mm": 4.0, "in": 0.1875}[unit]}),
        (ShaftStack, {"shaft_length": {"mm": 55.0, "in": 2.0}[unit]}),
        (HubSection, {"hub_diameter": {"mm": 29.0, "in": 0.9375}[unit]}),
    )
    for cls, change in steps:
        explorer = cls(design=design)
        for name, value in change.items():
            setattr(explorer, name, value)
        design = explorer.use()
    assert apart(design) == pytest.approx(touch(design, 20, 50))
    assert design.ratio == pytest.approx(2.5)
    assert design.plate.length == {"mm": 240, "in": 9}[unit]
    assert design.shaft[0].x == {"mm": 51.25, "in": 2}[unit]
    assert design.shaft[0].length == {"mm": 55, "in": 2}[unit]
    assert "shafts-too-near" not in review(design).names
    assert "# " in design.toml and design.toml.count("\n") == KITS[kit].toml.count("\n")


@pytest.mark.parametrize("kit", KITS)
def test_what_a_moved_shaft_drives_goes_with_it(kit):
    """The second stage keeps its spacing when the first is moved apart, and its shaft goes as far."""
    before = FULL[kit]
    explorer = SpacingExplorer(design=before)
    more = length(before.unit, 0.5)
    explorer.centre_distance += more
    after = explorer.use()
    for shaft, was in zip(after.shaft[1:], before.shaft[1:]):
        assert (shaft.x - was.x, shaft.y - was.y) == pytest.approx((more, 0.0), abs=1e-8)
    assert apart(after, after.mesh[1]) == pytest.approx(apart(before, before.mesh[1]))


def test_a_second_mesh_is_named():
    explorer = SpacingExplorer(design=FULL["vent_drive"], part="third with fourth")
    explorer.centre_distance = 76.0  # upright: the last shaft goes up
    after = explorer.use()
    assert (
        after.shaft[2].place == pytest.approx((132.5, 80 + 76))
        and after.shaft[1] == KITS["vent_drive"].shaft[1]
    )


@pytest.mark.parametrize("kit", KITS)
def test_a_shaft_with_two_gears_is_stacked_whole(kit):
    """Collar, plate, gap, first gear, gap, second gear, end: their sum, by hand."""
    unit = FULL[kit].unit
    design = FULL[kit].with_(gear={"third": {"gap": {"mm": 1.0, "in": 0.05}[unit]}})
    stack = ShaftStack(design=design, part="vent")
    needed = {
        "mm": 8.5 + 6 + 2.5 + 25 + 1 + 10 + 3,
        "in": 0.3125 + 0.25 + 0.09375 + 0.9375 + 0.05 + 4 / 12 + 0.125,
    }
    assert stack.value("shaft_length") == pytest.approx(needed[unit])
    stack.hub_points = "outwards"
    assert [table.hub_side for table in stack.use().on("vent")] == ["away", "plate"]


def test_single_tables_of_a_file_are_edited_where_they_stand():
    """One [rack], one [mitre], one [planetary], without names: only the line changes that has to."""
    text = KITS["vent_drive"].toml + (
        f'\n[rack]\npinion = "{KITS["vent_drive"].gear[1].name}"   # lifts\nteeth = 60\ntravel = 300\n'
        "pitch_height = 15\nmounting_height = 71.25\n\n[mitre]\nteeth = [20, 20]  # a corner\nmodule = 2\n\n"
        "[planetary]\nsun = 24\nplanet = 18\nring = 60\nplanets = 3  # even\n"
    )
    for cls, change, line in (
        (RackAndPinion, {"rack_teeth": 64}, "teeth = 64"),
        (TwoCones, {"driven_teeth": 24}, "teeth = [20, 24]  # a corner"),
        (SunPlanetsRing, {"planets": 4}, "planets = 4  # even"),
    ):
        explorer = cls(design=read_design(text))
        for name, value in change.items():
            setattr(explorer, name, value)
        lines, before = explorer.use().toml.splitlines(), text.splitlines()
        assert [new for new, old in zip(lines, before, strict=True) if new != old] == [line]


def test_a_bevel_pair_alone_is_a_design():
    """Cone angles of 20 and 20 teeth, then 20 and 30: 45 degrees, then tan = 20/30 (definition)."""
    alone = read_design(
        '[design]\nname = "corner"\nunit = "in"\n[mitre]\nteeth = [20, 20]\ndiametral_pitch = 12\n'
    )
    cones = TwoCones(design=alone)
    assert (cones.driver_cone_angle, cones.done) == (45.0, True)
    cones.driven_teeth = 30
    again = TwoCones(design=cones.use())
    assert again.driver_cone_angle == pytest.approx(33.690068) and again.done


@pytest.mark.parametrize("kit", KITS)
def test_keyed_gears_are_turned_by_their_keyways(kit):
    """A keyway over a space: the tooth beside it stands half a pitch further, 180/18 = 10 degrees."""
    design = KITS[kit]
    keyed = design.with_(
        gear={table.name: {"keyway_on": on} for table, on in zip(design.gear, ("space", "tooth"))}
    )
    nudge = AlignmentNudge(design=keyed)
    assert (nudge.driver_angle, nudge.driven_angle) == (10.0, 0.0)
    nudge.driver_angle = 25.0
    assert nudge.use().shaft[0].key_angle == pytest.approx(15.0)


@pytest.mark.parametrize("kit", KITS)
def test_teeth_are_shown_as_the_design_cuts_them(kit):
    """Thinned teeth have their play where the pitch circles touch: the thinning of both."""
    play = {"mm": 0.1, "in": 0.004}[KITS[kit].unit]
    for cls in (PairExplorer, BacklashGauge):
        assert cls(design=KITS[kit]).value("backlash") == pytest.approx(play, rel=1e-6)
    assert ToleranceSliders(design=KITS[kit]).value("nominal_distance") == pytest.approx(
        touch(KITS[kit], 18, 45)
    )


def test_a_measured_reading_is_taken_on():
    name = KITS["vent_drive"].gear[0].name
    design = KITS["vent_drive"].with_(
        measured=[{"part": name, "quantity": "span", "value": 19.0, "reads_to": 0.02, "over": 3}]
    )
    jaws = Jaws(design=design)
    assert (jaws.opening, jaws.span_teeth, jaws.way) == (19.0, 3, "span")
    jaws.opening = 18.98
    (reading,) = jaws.use().measured
    assert (reading.value, reading.reads_to, reading.over) == (18.98, 0.02, 3)


def test_numbers_beside_a_design_stand():
    explorer = PairExplorer(design=KITS["vent_drive"], driven_teeth=60)
    assert explorer.driven_teeth == 60
    assert explorer.use().of(KITS["vent_drive"].mesh[0].driven).teeth == 60


def test_a_design_beyond_the_usual_limits_is_shown():
    """What a design has is within the range of its control, and some room about it."""
    kit = KITS["vent_drive_inch"].with_(plate={"thickness": 1.0}, shaft={"crank": {"length": 6.0}})
    stack = ShaftStack(design=kit)
    assert (stack.plate_thickness, stack.shaft_length) == (1.0, 6.0)
    stack.shaft_length = 6.25
    assert stack.use().shaft[0].length == 6.25


def test_a_hub_smaller_than_five_eighths_of_an_inch():
    """24 to the inch, 30 teeth: 1.25 in across, a bore of a quarter and a hub of half an inch."""
    hub = HubSection(0.5, 0.25, unit="in", drill_depth=0.2, screw_length=0.125)
    assert hub.value("hub_wall") == 0.125 and hub.value("hub_ratio") == 2


def test_a_stack_takes_its_plate_and_washers():
    """A gear 1 in overall, a gap of 0.25 in, a plate of 0.25 in, flush with its back: 1.5 in of shaft."""
    stack = ShaftStack(
        unit="in",
        overall_length=1.0,
        plate_thickness=0.25,
        axial_gap=0.25,
        behind_plate=0.0,
        end_length=0.0,
        shaft_length=1.0,
    )
    stack.asked_for = "shaft_length"
    assert stack.value("shaft_length") == 1.5 and "0.5000 in too short" in stack.warnings[-1]["text"]


def test_pairs_by_diametral_pitch():
    """24 to the inch, 30 and 60 teeth, 1.875 in apart (common practice)."""
    (best, *_) = pairs(2.0, centre_distance=1.875, diametral_pitch=24)
    assert (best.driver_teeth, best.driven_teeth, best.error) == (30, 60, 0)
    with pytest.raises(ValueError, match="give one of them"):
        pairs(2.0, centre_distance=1.875, diametral_pitch=24, module=1)
    with pytest.raises(ValueError, match="go together"):
        pairs(2.0, diametral_pitch=24)
    with pytest.raises(ValueError, match="in"):
        pairs(2.0, centre_distance=-1.0, diametral_pitch=24)


def test_what_a_design_cannot_take_is_said_and_leaves_it():
    explorer = PairExplorer(design=KITS["vent_drive"])
    explorer.size_by = "in"
    explorer._hear(explorer, {"kind": "use"}, [])
    assert "cannot take these numbers" in explorer.used and explorer.design == KITS["vent_drive"]
    jaws = Jaws(design=KITS["vent_drive"])
    jaws.way = "tips"
    jaws._hear(jaws, {"kind": "use"}, [])
    assert "close them" in jaws.used and not jaws.design.measured


METRIC = KITS["vent_drive"]
PINION, WHEEL = (table.name for table in METRIC.gear)


@pytest.mark.parametrize(
    "make, says",
    [
        (lambda: PairExplorer(design=METRIC, part="pinion with wheel"), "is no mesh of the design"),
        (lambda: PairExplorer(part="x"), "give design=..., too"),
        (lambda: PairExplorer(18, 45).design, "was made without a design"),
        (lambda: PairExplorer(design="vent_drive.toml"), "give a Design"),
        (lambda: PairExplorer(design=METRIC.with_(mesh=None)), "has no mesh to show"),
        (
            lambda: SpacingExplorer(design=METRIC, driver_teeth=20),
            "driver_teeth = 20 is given beside a design",
        ),
        (
            lambda: ToleranceSliders(
                design=METRIC.with_(gear={n: {"tooth_thinning": 0} for n in (PINION, WHEEL)})
            ),
            "thin the teeth",
        ),
        (
            lambda: SpacingExplorer(design=METRIC.with_(gear={PINION: {"profile_shift": 0.3}})),
            "profile_shift of .* is 0.3",
        ),
        (lambda: PairExplorer(design=METRIC.with_(gear={PINION: {"module": 2}})), "they do not mesh"),
        (
            lambda: PairExplorer(
                design=METRIC.with_(
                    gear={n: {"module": None, "diametral_pitch": 10} for n in (PINION, WHEEL)}
                )
            ),
            "has no module",
        ),
        (
            lambda: SpacingExplorer(design=METRIC.with_(shaft={"vent": {"x": 180}})),
            "centre_distance = .* is out of",
        ),
        (lambda: ToothForces(design=METRIC.with_(load=None)), "add .load. with torque"),
        (
            lambda: ShaftStack(design=METRIC.with_(gear={WHEEL: {"shaft": "crank"}}, mesh=None), part="vent"),
            "no gear",
        ),
        (
            lambda: ShaftStack(design=METRIC.with_(shaft={"vent": {"length": None}}), part="vent"),
            "give it a length",
        ),
        (lambda: HubSection(design=FULL["vent_drive"], part="third"), "has no hub"),
        (lambda: TrainBuilder(design=METRIC), "has 1 mesh, and here there are two"),
        (lambda: TrainArrows(design=METRIC.with_(mesh=None)), "not arranged so"),
        (lambda: TrainArrows(design=FULL["vent_drive"]), "not arranged so"),
        (lambda: RackAndPinion(design=METRIC), "has no rack to show"),
        (
            lambda: RackAndPinion(design=FULL["vent_drive"].with_(rack={"vent rack": {"angle": 0}})),
            "give it an angle of -90 or 90 deg",
        ),
        (
            lambda: SunPlanetsRing(
                design=FULL["vent_drive"].with_(planetary={"head": {"second_planet": 20}})
            ),
            "is a stepped set",
        ),
        (
            lambda: SunPlanetsRing(design=FULL["vent_drive"].with_(planetary={"head": {"ring": 62}})),
            "has 62 teeth",
        ),
        (
            lambda: ToothDial(
                design=METRIC.with_(gear={WHEEL: {"internal": True, "rim_diameter": 150}}), part=WHEEL
            ),
            "is a ring",
        ),
    ],
)
def test_what_cannot_be_is_refused(make, says):
    with pytest.raises(ValueError, match=says):
        make()
