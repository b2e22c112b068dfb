"""What each role looks like, on light and on dark paper, and how wide its words are.

Driver and driven differ three times: by colour (blue and vermilion, told apart with every common kind
of colour vision), by the slope of their hatching and by a letter. Text has a contrast of at least
4.5 : 1 to its ground, lines at least 3 : 1 (a test computes both).

Widths of words are those of the face that the sheets are set in (DejaVu Sans), a little on the wide side;
they tell whether words fit, and where they break, before anything is drawn.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache

FONT = "system-ui, -apple-system, 'Segoe UI', 'Helvetica Neue', Arial, sans-serif"

#: Colours by name; every look below is made from these.
THEMES = {
    "light": {
        "paper": "#ffffff",
        "ink": "#1b1f24",
        "muted": "#59626d",
        "faint": "#8a939e",
        "driver": "#0072b2",
        "driver text": "#005a8c",
        "driver ground": "#e4f1f9",
        "driven": "#d55e00",
        "driven text": "#a34700",
        "driven ground": "#fdeee2",
        "gear": "#3d4854",
        "gear text": "#2b333c",
        "gear ground": "#eef1f4",
        "accent": "#7b2d8e",
        "accent text": "#6d2580",
        "accent ground": "#f3e6f7",
    },
    "dark": {
        "paper": "#111418",
        "ink": "#e9ecef",
        "muted": "#a9b2bc",
        "faint": "#6f7a86",
        "driver": "#5cb3ea",
        "driver text": "#86c8f2",
        "driver ground": "#10283a",
        "driven": "#ff9142",
        "driven text": "#ffae73",
        "driven ground": "#38210f",
        "gear": "#b6c0ca",
        "gear text": "#d3dae1",
        "gear ground": "#1e252c",
        "accent": "#d9a6f2",
        "accent text": "#e3bdf6",
        "accent ground": "#35203f",
    },
}

#: Sizes of type [points of the picture].
TYPE = {"small": 13.0, "normal": 15.0, "large": 19.0, "letter": 26.0}


@dataclass(frozen=True)
class Look:
    """How one role is drawn: names of colours, width [points], dashes [points].

    ``{of}`` in a colour's name stands for the gear that the shape belongs to.
    """

    line: str = ""
    width: float = 1.25
    fill: str = ""
    dash: tuple[float, ...] = ()
    text: str = "ink"
    halo: str = "paper"  # round words that may lie on lines; none where they never do: it costs time
    weight: int = 400
    opacity: float = 1.0


LOOKS = {
    "driver": Look("driver", 1.6, "driver ground", text="driver text", halo="", weight=600),
    "driven": Look("driven", 1.6, "driven ground", text="driven text", halo="", weight=600),
    "gear": Look("gear", 1.6, "gear ground", text="gear text", halo="", weight=600),
    "outline": Look("{of}", 1.6),
    "marked tooth": Look("{of}", 1.6, "{of}"),
    "hatch": Look("{of}", 0.9, opacity=0.9),
    "pitch circle": Look("{of} text", 1.7, dash=(11, 3, 2.5, 3), text="{of} text", weight=600),
    "base circle": Look("{of} text", 1.4, dash=(2, 3.5), text="{of} text"),
    "outside circle": Look("{of} text", 1.1, dash=(7, 4), text="{of} text"),
    "root circle": Look("{of} text", 1.1, dash=(4, 4), text="{of} text"),
    "line of centres": Look("muted", 1.1, dash=(16, 4, 3, 4)),
    "line of action": Look("accent", 1.8, text="accent text", weight=600),
    "pitch point": Look("ink", 1.5, "paper"),
    "contact point": Look("paper", 1.5, "accent", text="accent text"),
    "centre": Look("ink", 1.3),
    "mark": Look("ink", 1.6, "ink"),
    "hole": Look("ink", 1.3, "paper"),
    "dimension": Look("ink", 1.1, text="ink", weight=600),
    "turning arrow": Look("{of} text", 2.6, text="{of} text", weight=600),
    "construction": Look("muted", 1.0, dash=(3, 3), text="muted"),
    "letter": Look(text="{of} text", halo="{of} ground", weight=700),
    "speed": Look(text="{of} text", halo="{of} ground", weight=600),
    "note": Look(text="{of} text", halo=""),
    "string": Look("accent", 2.4, text="accent text", weight=600),
    "flank": Look("{of}", 3.2, text="{of} text", weight=600),
    "cutter": Look("driven", 1.6, "driven ground", text="driven text", weight=600),
    "gauge": Look("driven", 1.6, "driven ground", text="driven text", weight=600),
    "sweep": Look("driven", 0.7, opacity=0.9),
    "shade": Look("accent", 1.2, "accent ground", text="accent text", weight=600),
    "overlap": Look("accent", 1.4, "accent", text="accent text", weight=600),
    "paper": Look("", fill="paper"),
    "clash": Look("accent", 2.6, text="accent text", weight=600),
    "tooth side": Look("{of} text", 0.7, "{of}"),
    "land": Look("{of} text", 0.9, "{of} ground"),
    "tooth end": Look("{of} text", 0.9, "{of} ground"),
    "hidden outline": Look("{of} text", 1.2, dash=(4.5, 3)),
}


def colour(name: str, of: str, theme: str) -> str:
    """The colour of a name such as ``{of} text`` for one gear and theme, as #rrggbb."""
    if theme not in THEMES:
        raise ValueError(f"theme {theme!r} is not known; themes are: {', '.join(THEMES)}")
    return THEMES[theme][named(name, of)]


def named(name: str, of: str) -> str:
    """A colour's full name: ``{of}`` filled in; without a gear the ink of the page."""
    if of:
        return name.replace("{of}", of)
    return {"{of}": "ink", "{of} text": "ink", "{of} ground": "paper"}.get(name, name)


def key(name: str) -> str:
    """A colour's name as a CSS variable, ``--gl-driver-text``."""
    return "--gl-" + name.replace(" ", "-")


def contrast(first: str, second: str) -> float:
    """Contrast of two colours, 1 to 21 [-], after WCAG 2.2, definition of contrast ratio.

    >>> round(contrast("#000000", "#ffffff"), 1)
    21.0
    """
    lighter, darker = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(hexadecimal: str) -> float:
    parts = [int(hexadecimal[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def living_css(root: str) -> str:
    """The same looks as style rules for a living picture under the selector ``root``.

    Widths follow the variable ``--u`` (units of the scene per point), colours the variables of the
    theme, which ``theme_css`` sets.
    """
    rules = []
    for role, look in LOOKS.items():
        for of in ("driver", "driven", "gear", ""):
            if of and "{of}" not in look.line + look.fill + look.text + look.halo:
                continue
            chosen = f"{root} .{css_class(role)}" + (f".of-{of}" if of else "")
            line = f"var({key(named(look.line, of))})" if look.line else "none"
            fill = f"var({key(named(look.fill, of))})" if look.fill else "none"
            body = f"stroke:{line};fill:{fill};stroke-width:calc({look.width}px*var(--u)*var(--type))"
            if look.dash:
                body += ";stroke-dasharray:" + " ".join(
                    f"calc({d}px*var(--u)*var(--type))" for d in look.dash
                )
            if look.opacity != 1:
                body += f";stroke-opacity:{look.opacity}"
            rules.append(f"{chosen}{{{body}}}")
            halo = f"var({key(named(look.halo, of))})" if look.halo else "none"
            rules.append(
                f"{root} text.{css_class(role)}"
                + (f".of-{of}" if of else "")
                + f"{{fill:var({key(named(look.text, of))});font-weight:{look.weight};stroke:{halo};"
                "stroke-width:3.5px;stroke-dasharray:none;stroke-opacity:1}"
            )
    return "\n".join(rules)


def theme_css(root: str) -> str:
    """The colours as variables.

    Light, and dark where the page says so or the reader prefers it outside a notebook.
    """

    def block(theme):
        return ";".join(f"{key(name)}:{value}" for name, value in THEMES[theme].items())

    paper = "--gl-paper:var(--jp-layout-color0,{});--gl-ink:var(--jp-content-font-color0,{})"
    light, dark = THEMES["light"], THEMES["dark"]
    return "\n".join(
        [
            f"{root}{{{block('light')};{paper.format(light['paper'], light['ink'])}}}",
            (
                "@media (prefers-color-scheme:"
                f" dark){{{root}{{{block('dark')};{paper.format(dark['paper'], dark['ink'])}}}}}"
            ),
            (
                "[data-jp-theme-light='true']"
                f" {root}{{{block('light')};{paper.format(light['paper'], light['ink'])}}}"
            ),
            (
                "[data-jp-theme-light='false']"
                f" {root}{{{block('dark')};{paper.format(dark['paper'], dark['ink'])}}}"
            ),
        ]
    )


def css_class(role: str) -> str:
    """A role as a class name, ``r-pitch-circle``."""
    return "r-" + role.replace(" ", "-")


WIDEST = 1.0  # of a letter whose width is not known [heights of type]
_CLASSES = (
    ("ijl.,:;'|!` ", 0.34),
    ('frtI()[]{}"-/\\', 0.43),
    ("MW@%", 1.0),
    ("mw+=<>~\u00b1\u2212\u2300#_^$&", 0.98),
)
_WIDTHS = {letter: width for letters, width in _CLASSES for letter in letters}


def width_of(text: str, size: float) -> float:
    """Width of one line of words in the unit of ``size``, the height of its type.

    >>> round(width_of("face width", 10.0), 1)
    57.2
    """
    return size * sum(map(_letter, text))


@cache
def _letter(letter: str) -> float:
    if letter in _WIDTHS:
        return _WIDTHS[letter]
    if not letter.isascii() and unicodedata.east_asian_width(letter) in "WF":
        return WIDEST
    return 0.76 if letter.isupper() else 0.64


def wrapped(text: str, room: float, size: float, most: int = 0) -> list[str]:
    """Lines of words that each fit a room; a word that is too long for a line is broken.

    most: lines at most, the last one then ends in an ellipsis; 0 for as many as it takes.

    >>> wrapped("a pinion of 18 teeth", 60.0, 10.0)
    ['a pinion of', '18 teeth']
    >>> wrapped("a pinion of 18 teeth", 70.0, 10.0, most=1)
    ['a pinion of…']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and width_of(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
            continue
        if width_of(word, size) <= room:
            lines.append(word)
            continue
        lines.append("")
        for letter in word:
            if lines[-1] and width_of(lines[-1] + letter, size) > room:
                lines.append("")
            lines[-1] += letter
    if most and len(lines) > most:
        last = lines[most - 1]
        while last and width_of(f"{last}\u2026", size) > room:
            last = last[:-1]
        lines = [*lines[: most - 1], f"{last}\u2026"]
    return lines
