"""axe-core over widgets and pages, without a network: the script comes with a package of the test extra.

Many widgets stand on one page, each behind a stand-in model that nobody answers, in JupyterLab's own colours
(the style sheets of its themes, as installed): so one page load and one run of axe do for all of them.
"""

from __future__ import annotations

import json
import sys
from html import escape
from pathlib import Path

import axe_playwright_python
from conftest import MODEL

AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
THEMES = Path(sys.prefix, "share/jupyter/lab/themes/@jupyterlab")

#: Rules that axe leaves out unless asked: the name of a control holds what is seen on it (WCAG 2.5.3), targets
#: are large enough or far enough apart (2.5.8).
ASKED_FOR = ("label-content-name-mismatch", "target-size")

#: Rules that are switched off, each with its reason. On purpose short; none hides a fault of ours.
LEFT_OUT: dict[str, str] = {}

PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>gearlab</title><style>{theme}</style></head>
<body data-jp-theme-light="{light}" style="margin:0;overflow:auto;background:var(--jp-layout-color0);color:var(--jp-content-font-color1)">
<main style="padding:12px"><h1>All of them</h1></main></body></html>"""

MAKE = """async ({ codes, styles, widgets }) => {
  for (const style of styles) document.head.append(Object.assign(document.createElement("style"), { textContent: style }));
  const modules = await Promise.all(codes.map(code => import(URL.createObjectURL(new Blob([code], { type: "text/javascript" })))));
  const main = document.querySelector("main");
  for (const { name, code, state, html } of widgets) {
    const head = Object.assign(document.createElement("h2"), { textContent: name }), place = document.createElement("div");
    place.dataset.call = name;
    place.className = "jp-RenderedHTMLCommon";
    main.append(head, place);
    if (html) { place.innerHTML = html; continue; }
    place.className = "";
    const model = new GearlabModel(state);
    model.save_changes = model.send = () => {};
    place.model = model;
    await modules[code].default.render({ model, el: place });
  }
  for (let i = 0; i < 4; i++) await new Promise(done => requestAnimationFrame(done));
}"""

RUN = """async ({ where, asked, off, only }) => {
  const rules = {};
  for (const rule of asked) rules[rule] = { enabled: true };
  for (const rule of off) rules[rule] = { enabled: false };
  const told = await axe.run(where || document, { rules, resultTypes: ["violations", "incomplete"], iframes: false, ...(only ? { runOnly: only } : {}) });
  const rows = kind => told[kind].flatMap(({ id, help, nodes }) => nodes.map(({ target, html, any, all, none }) => {
    const node = document.querySelector(target.flat().join(" "));
    return { rule: id, help, call: node?.closest("[data-call]")?.dataset.call ?? "", where: target.flat().join(" "), html: html.slice(0, 160),
      why: [...any, ...all, ...none].map(check => check.message).join(" ").slice(0, 200) };
  }));
  return { version: told.testEngine.version, violations: rows("violations"), unsure: rows("incomplete") };
}"""


def lab_theme(dark: bool) -> str:
    """The colours and sizes of JupyterLab's own theme."""
    return (THEMES / f"theme-{'dark' if dark else 'light'}-extension/index.css").read_text(encoding="utf-8")


def state_of(widget) -> dict:
    """What the page knows of a widget, at rest."""
    skipped = ("layout", "comm", "_esm", "_css", "_anywidget_id")
    unsent = ahead.unsent if (ahead := getattr(widget, "ahead", None)) else ()
    state = {
        name: value
        for name, value in widget.get_state().items()
        if name not in (*skipped, *unsent) and not name.startswith("_")
    }
    return json.loads(json.dumps(state | ({"playing": False} if "playing" in state else {})))


def show_all(page, things: dict, dark: bool) -> None:
    """Put widgets, or the HTML of outputs, on one page, by name."""
    codes, styles, widgets = [], [], []
    for name, thing in things.items():
        if isinstance(thing, str):
            widgets.append({"name": name, "html": thing})
            continue
        code, style = str(thing._esm), str(thing._css)
        if code not in codes:
            codes.append(code)
        if style not in styles:
            styles.append(style)
        widgets.append({"name": name, "code": codes.index(code), "state": state_of(thing)})
    page.set_content(PAGE.format(theme=lab_theme(dark), light=str(not dark).lower()))
    page.add_script_tag(content=MODEL)
    page.evaluate(MAKE, {"codes": codes, "styles": styles, "widgets": widgets})


def violations(page, where: str = "", only: list[str] | None = None) -> list[dict]:
    """What axe finds on the page, or in a part of it; one row for each element."""
    return looked_at(page, where, only)["violations"]


def looked_at(page, where: str = "", only: list[str] | None = None) -> dict:
    """The rows of violations, and of what axe could not decide."""
    if not page.evaluate("() => !!window.axe"):
        page.evaluate(AXE.read_text(encoding="utf-8") + "; 0")
    return page.evaluate(RUN, {"where": where, "asked": ASKED_FOR, "off": list(LEFT_OUT), "only": only})


def told(rows: list[dict]) -> str:
    """The rows as text, for a test that fails."""
    return "\n".join(f"{row['rule']}: {row['call']}: {row['where']} {escape(row['html'], False)}: {row['why']}" for row in rows)
