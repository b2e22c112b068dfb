"""How fast the living pair is in JupyterLab, beside the same pair redrawn by matplotlib.

    python tests/bench/living.py [--repeats 40] [--steps]

Frames a second and kernel messages of a turning pair of 60 + 120 teeth; time from a key on the slider to
changed pixels (taken at the frame after the one that drew them) for the explorer and, in the same run, for
the same scene drawn by matplotlib through ipywidgets' ``interact``.

Then, for five explorers, a step in the same page three ways: the floor (a key that turns one path), a state
that the page held (once the page is at rest, so that the next picture lies painted under the one that is
seen; ``laid`` counts how often it did), and one that it had to ask for; the page's own script on the key; how
far a key that is held, 30 a second, is behind; what the page holds; what the kernel still works from 300 ms
after the last key, in two seconds. ``--steps`` measures these alone.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

import psutil

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))
from conftest import ARGUMENTS, Lab  # noqa: E402

EXPLORER = "from gearlab.widgets import PairExplorer\nPairExplorer({a}, {b}, module=2.5, playing={playing})"
MATPLOTLIB = """%matplotlib inline
import matplotlib.pyplot as plt
from ipywidgets import interact, IntSlider
from gearlab import drawing
from gearlab.parts import Gear, Mesh
def show(teeth):
    figure, ax = plt.subplots(figsize=(7.5, 6.2))
    drawing.draw(drawing.pair(Mesh(Gear(teeth, module=2.5), Gear({b}, module=2.5)), driver_speed=15.0), ax)
    plt.show()
_ = interact(show, teeth=IntSlider({a}, 6, 160))"""

PROBE = """signature => {
  window.times = [];
  let begun = 0, was = signature();
  document.addEventListener('keydown', () => { begun = performance.now(); was = signature(); }, true);
  let changed = false;
  const look = () => {
    if (changed) { times.push(performance.now() - begun); begun = 0; changed = false; }
    else if (begun && signature() !== was) changed = true;
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}"""


STEPPED = {
    "pair": "PairExplorer(18, 45, playing=False)",
    "train builder": "TrainBuilder(playing=False)",
    "plate": "PlateLayout()",
    "hub section": "HubSection(hub_diameter=18)",
    "planetary set": "SunPlanetsRing()",
}
# the control that is stepped; of the hub section one that changes picture and readout
TOUCHED = {"hub section": ".gl-controls input[type=range][aria-label='Hub']"}
# away from the ends, where a key changes nothing, and from what cannot be built
START = "for name, value in start.settings().items(): setattr(explorer, name, value)"
SLIDER = ".gl-controls input[type=range]"
# times [ms] from a key to the frame after the one that drew picture and readout, and of the page's own script
WATCH = """touched => {
  const root = document.querySelector('.gl'), svg = root.querySelector('.gl-stage svg'), slider = document.querySelector(touched);
  const watch = window.watch = { times: [], own: [], need: 2, lag: 0, disorder: 0, keys: [] };
  let begun = 0, picture = false, readout = false, changed = false, shown = 0;
  new MutationObserver(() => { picture = true; }).observe(root.querySelector('.gl-stage'), { attributes: true, subtree: true, childList: true });
  new MutationObserver(() => { readout = true; }).observe(root.querySelector('.gl-readout'), { characterData: true, subtree: true, childList: true });
  window.addEventListener('keydown', () => { begun = performance.now(); picture = readout = changed = false; }, true);
  slider.addEventListener('keydown', () => { watch.own.push(performance.now() - begun); watch.keys.push([root.steps.counts.held + root.steps.counts.asked + watch.base, begun]); });
  watch.base = root.steps.turn - root.steps.counts.held - root.steps.counts.asked;
  const floor = document.createElement('button'), path = svg.querySelector('path'); let turned = 0;
  floor.className = 'floor';
  floor.addEventListener('keydown', () => path.setAttribute('transform', `rotate(${++turned % 7})`));
  root.append(floor);
  const look = now => {
    if (changed) { watch.times.push(performance.now() - begun); begun = 0; changed = false; }
    else if (begun && picture && (readout || watch.need === 1)) changed = true;
    const drawn = root.steps.turn;
    if (drawn < shown) watch.disorder += 1;
    shown = drawn;
    const late = watch.keys.find(([turn]) => turn > drawn);
    if (late) watch.lag = Math.max(watch.lag, performance.now() - late[1]);
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}"""  # noqa: E501
# nothing is left to be made ready, or it takes too long
READY = """() => new Promise(done => {
  const end = performance.now() + 3000, root = document.querySelector('.gl');
  const over = () => root.querySelectorAll('.gl-under').length > 1 || performance.now() > end;
  const look = () => over() ? done() : setTimeout(look, 50);
  look(); })"""
COUNTS = "() => { const { counts, laid } = document.querySelector('.gl').steps; return { ...counts, laid }; }"
STRETCH = 12  # keys one way, as many back: some controls end soon


def pressed(
    page, focus: str, repeats: int, need: int, ahead: bool = False
) -> tuple[list[float], list[float]]:
    """Times from key to frame, and the page's own script on the key [ms]; the first three left out."""
    page.focus(focus)
    page.wait_for_timeout(500)
    page.evaluate("need => { watch.times.length = watch.own.length = 0; watch.need = need; }", need)
    for i in range(repeats + 3):
        if not ahead:
            page.evaluate("() => document.querySelector('.gl').steps.forget()")
        page.keyboard.press("ArrowLeft" if i // STRETCH % 2 else "ArrowRight")
        page.evaluate(
            "i => new Promise(done => { const end = performance.now() + 5000;"
            " const over = () => watch.times.length > i || performance.now() > end;"
            " const ask = () => over() ? done() : setTimeout(ask, 25); ask(); })",
            i,
        )
        page.wait_for_timeout(400)
        if ahead:
            page.evaluate(READY)
            page.wait_for_timeout(100)
    return page.evaluate("() => watch.times")[3:], page.evaluate("() => watch.own")[3:]


def stepped(lab: Lab, name: str, cell: str, repeats: int) -> dict[str, float]:
    """The step of an explorer in the same page: floor, held, asked for, and a held key."""
    page = lab.open(
        ["from gearlab.widgets import *\nexplorer = " + cell + "\nstart = explorer.now()\nexplorer"]
    )
    page.wait_for_selector(".gl .gl-stage svg", timeout=60_000)
    page.wait_for_timeout(4000)
    slider = TOUCHED.get(name, SLIDER)
    page.evaluate(WATCH, slider)
    result: dict[str, float] = {}
    floor, _ = pressed(page, ".floor", repeats, 1)
    # the first touch brings the next states; then a step is held
    page.focus(slider)
    page.keyboard.press("ArrowRight")
    page.evaluate(READY)
    before = page.evaluate(COUNTS)
    held, own = pressed(page, slider, repeats, 2, ahead=True)
    counts = page.evaluate(COUNTS)
    result["rest"] = after_rest(lab, page)
    result["misses"] = repeats + 3 - (counts["held"] - before["held"])
    result["laid"] = counts["laid"] - before["laid"]
    # a key held 30 times a second, back over new ground
    run_below(page, START)
    page.wait_for_timeout(800)
    page.focus(slider)
    page.evaluate(
        "() => { document.querySelector('.gl').steps.forget(); watch.lag = 0; watch.keys.length = 0; }"
    )
    start = time.monotonic()
    for i in range(45):
        page.keyboard.down("ArrowRight")
        time.sleep(max(0.0, start + (i + 1) / 30 - time.monotonic()))
    page.keyboard.up("ArrowRight")
    page.wait_for_timeout(500)
    result |= page.evaluate("() => ({ lag: watch.lag, disorder: watch.disorder })")
    result["keys/s"] = 44 / (page.evaluate("() => watch.keys.at(-1)[1] - watch.keys[0][1]") / 1000)
    result["bytes"] = page.evaluate("() => document.querySelector('.gl').steps.bytes")
    # the present way: nothing is worked out ahead
    run_below(page, "explorer.ahead.later = lambda *_: None; explorer.ahead.forget()")
    page.evaluate("() => document.querySelector('.gl').steps.forget()")
    page.focus(slider)
    run_below(page, START)
    page.wait_for_timeout(800)
    asked, _ = pressed(page, slider, repeats, 2)
    for what, times in (("floor", floor), ("held", held), ("own", own), ("asked", asked)):
        result[what], result[what + " 95"] = statistics.median(times), statistics.quantiles(times, n=20)[-1]
    lab.close(page)
    return result


def after_rest(lab: Lab, page) -> float:
    """Processor time of the kernel from 300 ms after a key, in two seconds [ms]."""
    kernels = [
        p
        for p in psutil.Process(lab.process.pid).children(recursive=True)
        if "ipykernel" in " ".join(p.cmdline())
    ]
    page.keyboard.press("ArrowRight")
    time.sleep(0.3)
    before = sum(sum(p.cpu_times()[:2]) for p in kernels)
    time.sleep(2.0)
    return 1000 * (sum(sum(p.cpu_times()[:2]) for p in kernels) - before)


def run_below(page, code: str) -> None:
    """Run code in the page's kernel, without a cell."""
    page.evaluate(
        """async code => { const k = jupyterapp.shell.currentWidget.sessionContext.session.kernel;
        await k.requestExecute({ code }).done; }""",
        code,
    )


def steps_table(lab: Lab, repeats: int) -> None:
    """Print the steps of the five explorers; above is what a held state takes more than the floor."""
    heads = (
        "floor",
        "held",
        "above",
        "95 %",
        "own",
        "asked",
        "95 %",
        "lag",
        "disorder",
        "KB",
        "misses",
        "laid",
        "rest",
    )
    print(f"\n{'a step [ms]':<16}" + "".join(f"{head:>8}" for head in heads))
    for name, cell in STEPPED.items():
        r = stepped(lab, name, cell, repeats)
        row = [r["floor"], r["held"], r["held"] - r["floor"], r["held 95"] - r["floor"], r["own"], r["asked"]]
        row += [r["asked 95"], r["lag"], r["disorder"], r["bytes"] / 1000, r["misses"], r["laid"], r["rest"]]
        print(f"{name:<16}" + "".join(f"{value:>8.1f}" for value in row) + f"   {r['keys/s']:.0f} keys/s")


def latency(lab: Lab, cell: str, focus: str, ready: str, signature: str, repeats: int) -> list[float]:
    """Times from key to picture [ms], the first three left out."""
    page = lab.open([cell])
    page.wait_for_selector(ready, timeout=60_000)
    page.wait_for_timeout(3000)
    page.evaluate(f"() => ({PROBE})({signature})")
    page.focus(focus)
    for i in range(repeats + 3):
        page.keyboard.press("ArrowRight")
        # the page itself says when it is done: asking it every frame would take its time
        page.evaluate(
            "i => new Promise(done => { const ask = () => times.length > i ? done() : setTimeout(ask, 25);"
            " ask(); })",
            i,
        )
        page.wait_for_timeout(150)
    times = page.evaluate("() => times")[3:]
    lab.close(page)
    return times


def turning(lab: Lab, a: int, b: int, seconds: float = 5.0) -> dict:
    """Frames a second, kernel messages, and the share of one core that kernel and browser take."""
    page = lab.open([EXPLORER.format(a=a, b=b, playing=True)])
    page.wait_for_selector(".gl .gl-turns", timeout=60_000)
    page.wait_for_timeout(4000)
    frames = "() => [document.querySelector('.gl').living.frames, performance.now()]"
    kernels = [
        p
        for p in psutil.Process(lab.process.pid).children(recursive=True)
        if "ipykernel" in " ".join(p.cmdline())
    ]
    browser = [p for p in psutil.Process().children(recursive=True) if "chrom" in p.name()]

    def used(group):
        return sum(sum(p.cpu_times()[:2]) for p in group if p.is_running())

    messages, first, kernel, drawing = len(page.traffic), page.evaluate(frames), used(kernels), used(browser)
    page.wait_for_timeout(1000 * seconds)
    last = page.evaluate(frames)
    lasted = (last[1] - first[1]) / 1000
    found = {
        "frames/s": (last[0] - first[0]) / lasted,
        "messages": len(page.traffic) - messages,
        "kernel %": 100 * (used(kernels) - kernel) / lasted,
        "browser %": 100 * (used(browser) - drawing) / lasted,
    }
    lab.close(page)
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=40)
    parser.add_argument("--steps", action="store_true")
    options = parser.parse_args()
    repeats = options.repeats
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright, tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("GEARLAB_CHROMIUM", "/usr/bin/chromium"), args=ARGUMENTS
        )
        lab = Lab(Path(folder), browser)
        try:
            print(f"load of the machine at the start {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores\n")
            if options.steps:
                steps_table(lab, repeats)
                return
            print(f"{'turning pair':<22}{'frames/s':>10}{'messages':>10}{'kernel %':>10}{'browser %':>11}")
            for a, b in ((18, 45), (60, 120)):
                found = turning(lab, a, b)
                print(
                    f"{f'{a} + {b} teeth':<22}{found['frames/s']:>10.1f}{found['messages']:>10d}{found['kernel %']:>10.1f}{found['browser %']:>11.1f}"  # noqa: E501
                )
            print(f"\n{'tooth count to picture':<34}{'median ms':>10}{'95 % ms':>10}{'longest':>10}")
            medians = {}
            for a, b in ((18, 45), (60, 120)):
                for name, run in (
                    (
                        "explorer, with readout",
                        (
                            EXPLORER.format(a=a, b=b, playing=False),
                            "input[aria-label='Teeth of the driver'][type=range]",
                            ".gl .gl-turns",
                            (
                                "() => document.querySelector('path.r-driver').getAttribute('d').length "
                                "+ document.querySelector('.gl-readout').textContent"
                            ),
                        ),
                    ),
                    (
                        "matplotlib, interact",
                        (
                            MATPLOTLIB.format(a=a, b=b),
                            ".noUi-handle",
                            ".jupyter-widgets img",
                            "() => document.querySelector('.jupyter-widgets img')?.src ?? 'none'",
                        ),
                    ),
                ):
                    times = latency(lab, *run, repeats)
                    medians[name] = statistics.median(times)
                    print(
                        f"{f'{a} + {b}: {name}':<34}{medians[name]:>10.1f}{statistics.quantiles(times, n=20)[-1]:>10.1f}{max(times):>10.1f}"  # noqa: E501
                    )
                print(
                    f"{'':<4}matplotlib takes"
                    f" {medians['matplotlib, interact'] / medians['explorer, with readout']:.1f} times as"
                    " long"
                )
            steps_table(lab, repeats)
            print(f"\nload of the machine at the end {os.getloadavg()[0]:.1f}")
        finally:
            lab.stop()
            browser.close()


if __name__ == "__main__":
    main()
