"""axe-core in JupyterLab itself, light and dark, over our own output (violations of the host are not ours).

And the focus ring, where the host's style would win: its contrast to what is round it.
"""

from __future__ import annotations

from axe_page import misnamed, names, told, violations

CELLS = [
    "from gearlab import *\nfrom gearlab.widgets import *\n"
    "PairExplorer(18, 45, module=2.5, centre_distance_error=1.25, playing=False)",
    "predict('07_contact/ten-teeth')",
    "ask('03_centre_distance', 'spacing-metric', number=0)",
    "derive('centre_distance', given=['driver_teeth', 'driven_teeth', 'module'])",
    "course_page()",
]
OURS = ".gl, .gearlab-box, .gearlab-course, .gearlab-derivation"
THEMES = {"light": "JupyterLab Light", "dark": "JupyterLab Dark"}

# the ring of the focused control, and the ground on which it lies: colours as the browser has them
RING = """() => {
  const at = document.activeElement, css = getComputedStyle(at), canvas = new OffscreenCanvas(1, 1).getContext("2d");
  const rgba = colour => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1); return [...canvas.getImageData(0, 0, 1, 1).data]; };
  const light = ([r, g, b]) => { const [x, y, z] = [r, g, b].map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * x + 0.7152 * y + 0.0722 * z; };
  let node = at.parentElement, ground = [0, 0, 0, 0];
  while (node && ground[3] < 255) { ground = rgba(getComputedStyle(node).backgroundColor); node = node.parentElement; }
  const [high, low] = [light(rgba(css.outlineColor)), light(ground)].sort((a, b) => b - a);
  return { name: at.getAttribute("aria-label") ?? at.textContent.slice(0, 30), ours: !!at.closest(".gl,.gearlab-box,.gearlab-course"), style: css.outlineStyle, width: parseFloat(css.outlineWidth), contrast: (high + 0.05) / (low + 0.05), gear: at.matches("g") };
}"""  # noqa: E501


def rings(page, start: str, stops: int) -> list[dict]:
    """The focus ring of what Tab reaches from here on, as long as it is ours."""
    page.locator(start).first.focus()
    seen = []
    for _ in range(stops):
        page.keyboard.press("Tab")
        ring = page.evaluate(RING)
        if ring["ours"] and not ring["gear"]:  # a gear has a ring of its own in the picture
            seen.append(ring)
    return seen


def test_our_outputs_in_jupyterlab(lab):
    page = lab.open(CELLS, height=4000)
    try:
        page.wait_for_function(
            "() => document.querySelectorAll('.gl .gl-picture, .gearlab-box, .gl-now').length >= 4",
            timeout=60_000,
        )
        lab.finished(page)
        for theme, name in THEMES.items():
            page.evaluate(
                "theme => { jupyterapp.commands.execute('apputils:change-theme', { theme }) }", name
            )
            page.wait_for_selector(
                f"body[data-jp-theme-light={'true' if theme == 'light' else 'false'}]", state="attached"
            )
            page.wait_for_function(
                "light => (getComputedStyle(document.body).getPropertyValue('--jp-layout-color1').trim().match(/^(#fff|white)/i) !== null) === light",  # noqa: E501
                arg=theme == "light",
            )
            found = violations(page, OURS, only_contrast=theme == "dark")
            assert not found, f"{theme}\n{told(found)}"
            wrong = misnamed([row for part in OURS.split(", ") for row in names(page, part)])
            assert not wrong, wrong
            seen = [*rings(page, ".gl-play", 6), *rings(page, ".gearlab-box input", 4)]
            assert len(seen) > 5
            # WCAG 2.2, 1.4.11: 3 to 1
            weak = [
                ring for ring in seen if ring["style"] == "none" or ring["width"] < 2 or ring["contrast"] < 3
            ]
            assert not weak, f"{theme}: {weak}"
            print(theme, sorted({round(ring["contrast"], 1) for ring in seen}))
    finally:
        page.evaluate(
            "() => { jupyterapp.commands.execute('apputils:change-theme', { theme: 'JupyterLab Light' }) }"
        )
        page.wait_for_selector("body[data-jp-theme-light=true]", state="attached")
        lab.close(page)
