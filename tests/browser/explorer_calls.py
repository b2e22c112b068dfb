"""The explorers as the lessons call them, shown in a bare page and measured there; for test and bench."""

from __future__ import annotations

import json
from pathlib import Path

from conftest import MODEL, PAGE

# as the lessons call them, two with larger counts, and those that are shown with a design
CALLS = [
    "AlignmentNudge(driver_teeth=18, driven_teeth=46, module=2.5)",
    "BacklashGauge(driver_teeth=18, driven_teeth=45, module=2.5, centre_distance=80.0)",
    "ContactStrip(driver_teeth=18, driven_teeth=45, module=2.5, controls=['shade', 'lines', 'opening'],"
    " readout=['two_pair_share', 'contact_ratio'])",
    "DriveExplorer(DESIGN)",
    "HubSection(hub_diameter=28, bore_diameter=10, drill_depth=7, screw_length=12)",
    "Jaws(teeth=19, module=2.5, span_teeth=3, pin_diameter=4.5)",
    "LineOfAction(driver_teeth=18, driven_teeth=45, module=2.5, controls=['tilt', 'opening'],"
    " readout=['driver_distance', 'driver_base_radius', 'operating_pressure_angle', 'centre_distance'])",
    "PairExplorer(driver_teeth=18, driven_teeth=45, module=2.5)",
    "PairExplorer(60, 120, module=2.5)",
    "PairExplorer(design=DESIGN)",
    "PitchStrips(module=2.5, diametral_pitch=10)",
    "PlateLayout(driver_teeth=18, driven_teeth=45, module=2.5, plate_length=220, plate_height=160)",
    "RackAndPinion(20, module=2.5)",
    "RackCutter(teeth=12, module=2.5, controls=['teeth', 'profile_shift'],"
    " readout=['past', 'least_teeth', 'least_shift'])",
    "RatioFinder(ratio=2.4, centre_distance=80.0, module=2.5)",
    "ReviewChecklist()",
    "ShaftStack(overall_length=25, face_width=12, hub_diameter=32, outside_diameter=117.5, shaft_length=40)",
    "SpacingExplorer(driver_teeth=18, driven_teeth=45, module=2.5, centre_distance=83.0)",
    "StringUnwinding(teeth=18, module=2.5, controls=['roll_angle', 'tooth', 'pressure_angle'],"
    " readout=['roll_angle', 'free_string', 'point_radius', 'base_radius'])",
    "SunPlanetsRing(20, 15, module=2.5)",
    "ToleranceSliders(driver_teeth=18, driven_teeth=45, module=2.5, design_backlash=0.146, hole_error=0.12)",
    "ToothAnatomy(teeth=18, module=2.5)",
    "ToothDial(teeth=18, module=2.5)",
    "ToothForces(91.5, pressure_angle=20, teeth=18, module=2.5)",
    "TrainArrows(controls=['arrangement'])",
    "TrainBuilder(18, 36, 24, 48, module=2.5,"
    " controls=['first_teeth', 'second_teeth', 'third_teeth', 'fourth_teeth'],"
    " readout=['train_ratio', 'first_stage_ratio', 'first_centre_distance', 'axis_offset'])",
    "TurnCounter(driver_teeth=18, driven_teeth=45, module=2.5, driver_speed=15.0,"
    " controls=['driver_teeth'], readout=['driven_speed', 'ratio'], hidden=['driven_speed', 'ratio'])",
    "TwoCones(20, 30, module=2.5)",
]
DESIGN = "read_design('vent_drive.toml')"
START = "from pathlib import Path\nfrom gearlab import *\nfrom gearlab.widgets import *\n"

MEASURE = """visible => {
  const root = document.querySelector('.gl'), top = root.getBoundingClientRect().top;
  const shown = node => node && node.checkVisibility({ visibilityProperty: true }) && !node.closest('[inert]');
  const picture = root.querySelector('.gl-sheet:not(.gl-under) svg'), [, , wide] = picture.getAttribute('viewBox').split(' ').map(Number);
  const deep = [...picture.querySelectorAll('[data-tooth]')].map(path => {
    const at = path.dataset.tooth.split(' ').map(Number), radii = [];
    for (let i = 0; i < at.length; i += 2) radii.push(Math.hypot(at[i], at[i + 1]));
    return (Math.max(...radii) - Math.min(...radii)) * picture.clientWidth / wide;
  });
  const bottom = name => Math.max(0, ...[...root.querySelectorAll(name)].filter(shown).map(node => node.getBoundingClientRect().bottom - top));
  const stops = [...root.querySelectorAll('a[href],button,input,select,summary,textarea,[tabindex]')].filter(node => shown(node) && node.tabIndex >= 0 && !node.disabled);
  const low = bottom('.gl-stage,.gl-controls,.gl-side > .gl-warnings,.gl-review');
  return { width: root.clientWidth, all: Math.round(root.getBoundingClientRect().height), picture: Math.round(root.querySelector('.gl-stage').clientHeight),
    teeth: deep.length ? Math.min(...deep) : null, stops: stops.length, needed: Math.round(low), visible, over: root.scrollWidth > root.clientWidth };
}"""  # noqa: E501


def made(call: str):
    """The explorer of a call."""
    names: dict = {}
    exec(START, names)
    drive = Path(__file__).parents[2] / "notebooks" / "vent_drive.toml"
    names["DESIGN"] = names["read_design"](drive)
    return eval(call, names)


def bare(page, explorer, visible: int, dark: bool = False) -> dict:
    """Measure an explorer in a bare page with a stand-in model."""
    state = {
        name: value
        for name, value in explorer.get_state().items()
        if name not in ("layout", "comm", "_esm", "_css", "_anywidget_id") and not name.startswith("_")
    }
    state["playing"] = False
    page.set_content(
        PAGE.format(light=str(not dark).lower(), paper="#111111" if dark else "#ffffff").replace(
            "padding:16px", "padding:0"
        )
    )
    page.add_style_tag(content=str(explorer._css))
    page.add_script_tag(content=MODEL + "window.gearlabPush = window.gearlabSend = async () => '';")
    page.evaluate(
        """async ([code, state]) => {
        const module = await import(URL.createObjectURL(new Blob([code], { type: "text/javascript" })));
        window.model = new GearlabModel(JSON.parse(state));
        model.save_changes = () => {};
        await module.default.render({ model, el: document.getElementById("place") });
        for (let i = 0; i < 4; i++) await new Promise(done => requestAnimationFrame(done));
    }""",
        [str(explorer._esm), json.dumps(state)],
    )
    return page.evaluate(MEASURE, visible)
