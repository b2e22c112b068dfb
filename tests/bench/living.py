"""How fast the living pair is in JupyterLab, beside the same pair redrawn by matplotlib.

    python tests/bench/living.py [--repeats 40]

Frames a second and kernel messages of a turning pair of 60 + 120 teeth; time from a key on the slider to
changed pixels (taken at the frame after the one that drew them) for the explorer and, in the same run, for
the same scene drawn by matplotlib through ipywidgets' ``interact``.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
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
    repeats = parser.parse_args().repeats
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright, tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("GEARLAB_CHROMIUM", "/usr/bin/chromium"), args=ARGUMENTS
        )
        lab = Lab(Path(folder), browser)
        try:
            print(f"load of the machine at the start {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores\n")
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
            print(f"\nload of the machine at the end {os.getloadavg()[0]:.1f}")
        finally:
            lab.stop()
            browser.close()


if __name__ == "__main__":
    main()
