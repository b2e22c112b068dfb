"""Whether every explorer fits the screen: heights, size of the teeth, Tab stops.

    python tests/bench/heights.py [--bare] [--only PairExplorer] [--pictures folder]

In JupyterLab at 1366 x 768 with the file browser open, at 800 px, and in Large type at both, one explorer
after another as the lessons call it: height of all of it, of the picture, of the lowest teeth that mesh, how many
Tab stops there are, and whether control, task or remark and picture are in sight together. ``--bare``: the same
in a bare page of 645 px with a stand-in model, without JupyterLab. ``--pictures`` keeps a picture of each.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
from conftest import ARGUMENTS, MODEL, PAGE, Lab  # noqa: E402

# as the lessons call them, two with larger counts, and those that are shown with a design
CALLS = """
AlignmentNudge(driver_teeth=18, driven_teeth=46, module=2.5)
BacklashGauge(driver_teeth=18, driven_teeth=45, module=2.5, centre_distance=80.0)
ContactStrip(driver_teeth=18, driven_teeth=45, module=2.5)
DriveExplorer(DESIGN)
HubSection(hub_diameter=28, bore_diameter=10, drill_depth=7, screw_length=12)
Jaws(teeth=19, module=2.5, span_teeth=3, pin_diameter=4.5)
LineOfAction(driver_teeth=18, driven_teeth=45, module=2.5)
PairExplorer(driver_teeth=18, driven_teeth=45, module=2.5)
PairExplorer(60, 120, module=2.5)
PairExplorer(design=DESIGN)
PitchStrips(module=2.5, diametral_pitch=10)
PlateLayout(driver_teeth=18, driven_teeth=45, module=2.5, plate_length=220, plate_height=160)
RackAndPinion(20, module=2.5)
RackCutter(teeth=12, module=2.5)
RatioFinder(ratio=2.4, centre_distance=80.0, module=2.5)
ReviewChecklist()
ShaftStack(overall_length=25, face_width=12, hub_diameter=32, outside_diameter=117.5, shaft_length=40)
SpacingExplorer(driver_teeth=18, driven_teeth=45, module=2.5, centre_distance=83.0)
StringUnwinding(teeth=18, module=2.5)
SunPlanetsRing(20, 15, module=2.5)
ToleranceSliders(driver_teeth=18, driven_teeth=45, module=2.5, design_backlash=0.146, hole_error=0.12)
ToothAnatomy(teeth=18, module=2.5)
ToothDial(teeth=18, module=2.5)
ToothForces(91.5, pressure_angle=20, teeth=18, module=2.5)
TrainArrows()
TrainBuilder(18, 36, 24, 48, module=2.5)
TurnCounter(driver_teeth=18, driven_teeth=45, module=2.5, driver_speed=15.0)
TwoCones(20, 30, module=2.5)
""".split("\n")[1:-1]  # fmt: skip
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
# of the notebook that is seen, between the toolbars and the lower edge
VISIBLE = "() => document.querySelector('.jp-WindowedPanel-outer').clientHeight"
LARGE = "() => [...document.querySelectorAll('.gl-toggle')].find(b => b.textContent === 'Large type').click()"


def made(call: str):
    """The explorer of a call."""
    names: dict = {}
    exec(START, names)
    drive = Path(__file__).parents[2] / "notebooks" / "vent_drive.toml"
    names["DESIGN"] = names["read_design"](drive)
    return eval(call, names)


def told(call: str, found: dict) -> str:
    """One row of the table."""
    teeth = "" if found["teeth"] is None else f"{found['teeth']:.0f}"
    sight = "yes" if found["needed"] <= found["visible"] else f"to {found['needed']}"
    sides = "  TOO WIDE" if found["over"] else ""
    return (
        f"{call[:44]:<45}{found['width']:>6}{found['all']:>7}{found['picture']:>9}{teeth:>7}{found['stops']:>7}"
        f"  {sight} of {found['visible']}{sides}"
    )


HEAD = f"{'explorer':<45}{'wide':>6}{'all':>7}{'picture':>9}{'teeth':>7}{'stops':>7}  in sight [px]"


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


def in_bare_page(browser, calls: list[str], pictures: Path | None, width: int, height: int, dark: bool):
    page = browser.new_page(viewport={"width": width, "height": height})
    page.on("pageerror", lambda error: print("ERROR", error))
    print(f"\nbare page, {width} x {height}\n{HEAD}")
    for i, call in enumerate(calls):
        print(told(call, bare(page, made(call), height, dark)), flush=True)
        if pictures:
            page.screenshot(path=pictures / f"{i:02d}_{call.partition('(')[0]}_{width}.png", full_page=True)
    page.close()


def in_lab(lab: Lab, calls: list[str], pictures: Path | None, sizes: list[tuple[int, int]], dark: bool):
    """Each explorer in a notebook of its own, with the file browser open, in windows of these sizes."""
    drive = Path(__file__).parents[2] / "notebooks" / "vent_drive.toml"
    (lab.root / drive.name).write_bytes(drive.read_bytes())
    print(f"\nJupyterLab, with the file browser open\n{HEAD}  window", flush=True)
    for i, call in enumerate(calls):
        page = lab.open([START + call.replace("DESIGN", DESIGN)], width=1366, height=768, dark=dark)
        page.wait_for_selector(".gl .gl-stage svg", timeout=60_000)
        page.evaluate(
            "() => { if (jupyterapp.shell.leftCollapsed)"
            " jupyterapp.commands.execute('application:toggle-left-area') }"
        )
        page.wait_for_function("() => !jupyterapp.shell.leftCollapsed")
        for large in (False, True):
            if large:
                page.evaluate(LARGE)
            for width, height in sizes:
                page.set_viewport_size({"width": width, "height": height})
                page.wait_for_timeout(500)
                row = told(call, page.evaluate(MEASURE, page.evaluate(VISIBLE)))
                print(f"{row}  {width} x {height}{', Large type' if large else ''}", flush=True)
                if pictures:
                    page.evaluate("() => document.querySelector('.gl').scrollIntoView()")
                    kind = f"{width}{'_large' if large else ''}{'_dark' if dark else ''}"
                    page.screenshot(path=pictures / f"lab_{i:02d}_{call.partition('(')[0]}_{kind}.png")
        lab.close(page)


def main() -> None:
    from playwright.sync_api import sync_playwright

    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--bare", action="store_true", help="in a bare page of 645 px, without JupyterLab")
    parser.add_argument("--only", default="", help="explorers whose call holds this")
    parser.add_argument("--pictures", type=Path, help="folder for a picture of each")
    parser.add_argument("--dark", action="store_true")
    parser.add_argument("--size", default="", help="of the window [px], such as 1366x768")
    given = parser.parse_args()
    calls = [call for call in CALLS if given.only in call]
    if given.pictures:
        given.pictures.mkdir(parents=True, exist_ok=True)
    sizes = given.size or ("645x600" if given.bare else "1366x768,800x768")
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        path = os.environ.get("GEARLAB_CHROMIUM") or "chromium"
        browser = playwright.chromium.launch(executable_path=shutil.which(path), args=ARGUMENTS)
        lab = None if given.bare else Lab(Path(folder), browser, keep=True)
        try:
            windows = [(int(wide), int(high)) for wide, high in (size.split("x") for size in sizes.split(","))]
            if lab is not None:
                in_lab(lab, calls, given.pictures, windows, given.dark)
            else:
                for width, height in windows:
                    in_bare_page(browser, calls, given.pictures, width, height, given.dark)
        finally:
            if lab is not None:
                lab.stop()
            browser.close()


if __name__ == "__main__":
    main()
