"""Whether every explorer fits the screen: heights, size of the teeth, Tab stops.

    python tests/bench/heights.py [--bare] [--only PairExplorer] [--pictures folder]

In JupyterLab with the file browser open, in windows of 1366 x 768, 1080 x 768 (645 px of notebook) and
800 x 768, each in usual and in Large type, one explorer after another as the lessons call it: height of all
of it, of the picture, of the lowest teeth, how many Tab stops there are, and whether control, task or remark
and picture are in sight together. ``--bare``: in a bare page of 645 px with a stand-in model, without
JupyterLab (15 s instead of 7 minutes). ``--pictures`` keeps a picture of each.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
from conftest import ARGUMENTS, Lab  # noqa: E402
from explorer_calls import CALLS, DESIGN, MEASURE, START, bare, made  # noqa: E402

# of the notebook that is seen, between the toolbars and the lower edge
VISIBLE = "() => document.querySelector('.jp-WindowedPanel-outer').clientHeight"
LARGE = "() => [...document.querySelectorAll('.gl-toggle')].find(b => b.textContent === 'Large type').click()"


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
        page.wait_for_selector(".gl .gl-stage svg", timeout=180_000)  # on a busy machine
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
    sizes = given.size or ("645x600" if given.bare else "1366x768,1080x768,800x768")
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        path = os.environ.get("GEARLAB_CHROMIUM") or "chromium"
        browser = playwright.chromium.launch(executable_path=shutil.which(path), args=ARGUMENTS)
        lab = None if given.bare else Lab(Path(folder), browser, keep=True)
        try:
            windows = [
                (int(wide), int(high)) for wide, high in (size.split("x") for size in sizes.split(","))
            ]
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
