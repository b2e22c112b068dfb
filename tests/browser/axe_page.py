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

#: Rules that axe leaves out unless asked: the name of a control holds what is seen on it (WCAG 2.5.3),
#: targets are large enough or far enough apart (2.5.8).
ASKED_FOR = ("label-content-name-mismatch", "target-size")

#: Rules that are switched off, each with its reason. On purpose short; none hides a fault of ours.
LEFT_OUT: dict[str, str] = {}

PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>gearlab</title><style>{theme}</style></head>
<body data-jp-theme-light="{light}" style="margin:0;overflow:auto;background:var(--jp-layout-color0);color:var(--jp-content-font-color1)">
<main style="padding:12px"><h1>All of them</h1></main></body></html>"""  # noqa: E501

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
}"""  # noqa: E501

#: Where contrast is not looked for: the words in pictures lie on hatching and on teeth, of which axe says
#: that it cannot tell; tests/drawing computes the contrast of every role on its ground.
NOT_FOR_CONTRAST = [".gl-picture"]

RUN = """async ({ where, asked, off, only, pictures }) => {
  const rules = {}, found = {}, version = axe.version;
  for (const rule of asked) rules[rule] = { enabled: true };
  for (const rule of off) rules[rule] = { enabled: false };
  // signs of one formula that have the same colour, size and ground: contrast is computed for the first of them. Of a
  // single letter axe says that it cannot tell, so such a sign stands for those of the same text only
  const alike = () => [...document.querySelectorAll("math")].flatMap(math => {
    const seen = new Set();
    return [...math.querySelectorAll("mi,mn,mo,ms,mtext")].filter(sign => {
      const { color, fontSize, fontWeight } = getComputedStyle(sign), text = sign.textContent.trim();
      const look = new Set([/^[!-\u024f\u0370-\u03ff]{2,}$/.test(text) ? "" : text, color, fontSize, fontWeight]);
      for (let at = sign; at !== math; at = at.parentElement) {
        const { backgroundColor, backgroundImage, opacity, position, filter, mixBlendMode } = getComputedStyle(at);
        look.add([backgroundColor, backgroundImage, opacity, position, filter, mixBlendMode].join());
      }
      const key = [...look].join(";");
      return seen.has(key) || !seen.add(key);
    });
  });
  const parts = where ? [...document.querySelectorAll(where)] : [document];
  const run = (exclude, options) => axe.run({ include: parts, exclude }, { resultTypes: ["violations"], iframes: false, ...options });
  // of a gear that reaches beyond the frame of a close-up axe takes the whole box, over controls that it does not cover:
  // the size of targets is looked at without the pictures, where they can be taken away
  const sizes = where ? rules["target-size"] : { enabled: false };
  if (!only) Object.assign(found, await run([], { rules: { ...rules, "target-size": sizes, "color-contrast": { enabled: false } } }));
  // a page of our own: without the pictures axe need not walk through them
  if (!where) {
    for (const picture of document.querySelectorAll(pictures.join())) picture.remove();
    for (const sign of alike()) sign.style.visibility = "hidden";
  }
  const contrast = await run(pictures.filter(picture => document.querySelector(picture)), { runOnly: only || where ? ["color-contrast"] : ["color-contrast", "target-size"] });
  const rows = [...(found.violations ?? []), ...contrast.violations].flatMap(({ id, nodes }) => nodes.map(({ target, html, any, all, none }) => {
    const node = document.querySelector(target.flat().join(" "));
    return { rule: id, call: node?.closest("[data-call]")?.dataset.call ?? "", where: target.flat().join(" "), html: html.slice(0, 160),
      why: [...any, ...all, ...none].map(check => check.message).join(" ").slice(0, 200) };
  }));
  return { version, rows };
}"""  # noqa: E501


def lab_theme(dark: bool) -> str:
    """The colours and sizes of JupyterLab's own theme."""
    return (THEMES / f"theme-{'dark' if dark else 'light'}-extension/index.css").read_text(encoding="utf-8")


def snapshot(widget) -> dict:
    """A widget as it stands now: its script, its style and what the page knows of it, at rest."""
    skipped = ("layout", "comm", "_esm", "_css", "_anywidget_id")
    unsent = ahead.unsent if (ahead := getattr(widget, "ahead", None)) else ()
    state = {
        name: value
        for name, value in widget.get_state().items()
        if name not in (*skipped, *unsent) and not name.startswith("_")
    }
    state = json.loads(json.dumps(state | ({"playing": False} if "playing" in state else {})))
    return {"code": str(widget._esm), "style": str(widget._css), "state": state}


def show_all(page, things: dict, dark: bool) -> None:
    """Put widgets (see :func:`snapshot`), or the HTML of outputs, on one page, by name."""
    codes, styles, widgets = [], [], []
    for name, thing in things.items():
        if isinstance(thing, str):
            widgets.append({"name": name, "html": thing})
            continue
        code, style = thing["code"], thing["style"]
        if code not in codes:
            codes.append(code)
        if style not in styles:
            styles.append(style)
        widgets.append({"name": name, "code": codes.index(code), "state": thing["state"]})
    page.set_content(PAGE.format(theme=lab_theme(dark), light=str(not dark).lower()))
    page.add_script_tag(content=MODEL)
    page.evaluate(MAKE, {"codes": codes, "styles": styles, "widgets": widgets})


def violations(page, where: str = "", only_contrast: bool = False) -> list[dict]:
    """What axe finds on the page, or in the parts of it that a selector names: one row for each element."""
    ready(page)
    asked = {"where": where, "asked": ASKED_FOR, "off": list(LEFT_OUT), "only": only_contrast}
    return page.evaluate(RUN, {**asked, "pictures": NOT_FOR_CONTRAST})["rows"]


#: axe reads a colour from its text anew for every element and each that lies behind it, which takes more than
#: half of the time of contrast: here each text is read once.
READ_ONCE = """() => {
  const Colour = axe.commons.color.Color.prototype, read = Colour.parseString, known = new Map();
  Colour.parseString = function (text) {
    const seen = known.get(text);
    if (seen) [this.r, this.g, this.b, this.alpha] = seen;
    else { read.call(this, text); known.set(text, [this.r, this.g, this.b, this.alpha]); }
    return this;
  };
}"""


def ready(page) -> None:
    """Bring axe into a page."""
    if not page.evaluate("() => !!window.axe"):
        page.evaluate(AXE.read_text(encoding="utf-8") + "; 0")
        page.evaluate(READ_ONCE)


def told(rows: list[dict]) -> str:
    """The rows as text, for a test that fails."""
    return "\n".join(
        f"{row['rule']}: {row['call']}: {row['where']} {escape(row['html'], False)}: {row['why']}"
        for row in rows
    )


#: Of every control that can be seen: the text on it, or its label, and the name that is read out (as axe
#: computes it).
NAMES = """where => {
  axe.setup(document);
  const bare = text => text.normalize("NFKD").replace(/[\\s\\u2009]+/g, " ").trim().toLowerCase();
  const rows = [...document.querySelectorAll("button,a[href],summary,[role=button],[role=link],[role=slider],input:not([type=hidden]),select,textarea")]
    .filter(node => (!where || node.closest(where)) && node.checkVisibility({ visibilityProperty: true }) && !node.closest("[aria-hidden=true],[inert]"))
    .map(node => {
      const field = node.matches("input,select,textarea"), own = field ? node.labels?.[0] : node.matches("g") ? null : node;
      const copy = own?.cloneNode(true);
      copy?.querySelectorAll("[aria-hidden=true],select,input,math").forEach(each => each.remove());
      return { call: node.closest("[data-call]")?.dataset.call ?? "", seen: bare(copy?.textContent ?? ""), name: bare(axe.commons.text.accessibleText(node)) };
    });
  axe.teardown();
  return rows;
}"""  # noqa: E501


def names(page, where: str = "") -> list[dict]:
    """What is seen on each control, and what it is called."""
    ready(page)
    return page.evaluate(NAMES, where)


def misnamed(rows: list[dict]) -> list[dict]:
    """Controls without a name, or whose name does not hold what is seen on them (WCAG 2.5.3).

    A sign without letter or digit, as the minus of a step button, is no text: its name says what it does.
    """
    return [
        row
        for row in rows
        if not row["name"] or (any(map(str.isalnum, row["seen"])) and row["seen"] not in row["name"])
    ]
