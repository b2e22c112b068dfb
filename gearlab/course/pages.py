"""Pages made from the templates of this folder; whatever is put in is escaped."""

from functools import cache
from importlib.resources import files

import jinja2
from markupsafe import Markup

from gearlab.course.gradebook import points_text
from gearlab.digits import number_text
from gearlab.quoting import one_line, safe, steady
from gearlab.theory.printing import symbol_mathml
from gearlab.theory.quantities import QUANTITIES
from gearlab.theory.units import written

Shown = str | float | jinja2.Undefined | None  # what a template puts in


def points_words(points: float) -> str:
    """Points with their word.

    >>> points_words(1.0), points_words(2.5)
    ('1 point', '2.5 points')
    """
    return f"{points_text(points)} point{'' if points_text(points) == '1' else 's'}"


def behind(unit: str) -> str:
    """A unit as it stands behind a number, "" for none.

    >>> behind("mm"), behind("1")
    (' mm', '')
    """
    return "" if unit in ("", "1") else f" {written(unit)}"


def amount(value: float, unit: str) -> str:
    """A number [unit] to six figures, with its unit.

    >>> amount(78.75, "mm"), amount(45.0, "1")
    ('78.75 mm', '45')
    """
    return number_text(value, 6) + behind(unit)


def css_string(text: str) -> Markup:
    """Text as a string of a style sheet: nothing in it can end the string or the style.

    Returns the string with its quotes.

    >>> print(css_string('a"</style>'))
    "a\\22 \\3c \\2f style\\3e "
    """
    return Markup('"' + "".join(c if c.isalnum() or c in " ,.:-" else f"\\{ord(c):x} " for c in text) + '"')


def symbol(word: str, notation: str) -> Markup:
    """The symbol of a quantity, typeset.

    word: the quantity's word.
    notation: ``"inch"`` or ``"iso"``.
    """
    return Markup(f"<math>{symbol_mathml(QUANTITIES[word], notation)}</math>")


def wanted_work(minutes: float) -> float:
    """The room that a question of so many minutes wants to be worked in, on paper [mm]."""
    return min(max(8 * minutes, 26.0), 60.0)


def part(name: str) -> str:
    """The text of a file among the templates.

    name: file name, such as ``"sheet.css"``.
    """
    return (files("gearlab.course") / "templates" / name).read_text(encoding="utf-8")


def _steady(value: Shown) -> Shown:
    """What a template puts in, before it is escaped; what is typeset already stays."""
    return steady(value) if type(value) is str else value


@cache
def _environment() -> jinja2.Environment:
    environment = jinja2.Environment(
        loader=jinja2.FunctionLoader(part),
        autoescape=True,
        finalize=_steady,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["points"] = points_words
    environment.filters["number"] = points_text
    environment.filters["css_string"] = css_string
    environment.filters["symbol"] = symbol
    environment.filters["unit"] = written
    environment.filters["wanted_work"] = wanted_work
    environment.filters["text"] = lambda text: Markup(safe(text))  # as pages put together from pieces have it
    environment.filters["line"] = lambda text: Markup(safe(one_line(text)))
    return environment


def page(template: str, **fields) -> str:
    """A page from its template.

    **fields: what is put in; text is escaped.
    """
    return _environment().get_template(template).render(**fields)


class Frame:
    """A page whose fixed text is made once and whose slots are filled very often.

    slots: names left open.
    **fields: what is put in once.

    >>> frame = Frame("feedback_question.html", ("points", "out_of", "prompt", "decided", "answers", "open",
    ...               "solution"), number=1, question={"title": "Spacing & more"})
    >>> empty = dict.fromkeys(("out_of", "prompt", "decided", "answers", "open", "solution"), "")
    >>> "Spacing &amp; more" in frame.fill({"points": "1"} | empty)
    True
    """

    def __init__(self, template: str, slots: tuple[str, ...], **fields):
        text = page(template, **fields, **{slot: Markup(f"\0{slot}\0") for slot in slots})
        self._pieces = text.split("\0")
        self._utf8 = [piece.encode("utf-8") for piece in self._pieces]
        unknown = set(self._pieces[1::2]) ^ set(slots)
        if unknown:
            raise ValueError(f"template {template}: slots {', '.join(sorted(unknown))} do not stand in it")

    def fill(self, values: dict[str, str]) -> str:
        """The page with its slots filled.

        values: slot to HTML, escaped already.
        """
        pieces = self._pieces.copy()
        pieces[1::2] = [values[slot] for slot in pieces[1::2]]
        return "".join(pieces)

    def fill_utf8(self, values: dict[str, bytes]) -> bytes:
        """The same in UTF-8, from pieces in UTF-8: what many pages have in common is encoded once."""
        pieces = self._utf8.copy()
        pieces[1::2] = [values[slot] for slot in self._pieces[1::2]]
        return b"".join(pieces)

    def between(self, values: dict[str, bytes]) -> list[bytes]:
        """What stands before, between and after the slots that are still open when these are filled."""
        between = [self._utf8[0]]
        for slot, fixed in zip(self._pieces[1::2], self._utf8[2::2]):
            if slot in values:
                between[-1] += values[slot] + fixed
            else:
                between.append(fixed)
        return between
