"""Every quantity of the subject, once: its word, its symbols, its dimension and its range.

A quantity's *word* (``centre_distance``) is its name everywhere: in code, in question
banks and in files. *Symbols* are for reading, in one of two notations: ``"inch"`` (P, N,
d, C, a for addendum) and ``"iso"`` (z, m, d, a for centre distance, after ISO 21771).

Quantities that belong to one gear are written once (``pitch_diameter``, d). In a pair they
exist twice, as ``driver_pitch_diameter`` (d1) and ``driven_pitch_diameter`` (d2), in a train
as ``first_pitch_diameter`` and so on. The rows stand in ``tables`` and ``benchtables``.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection
from dataclasses import astuple, dataclass, replace
from functools import cache
from hashlib import sha256
from math import inf, pi

from . import benchtables, othernames, tables

#: The letters that usually go with a length unit.
NOTATION = {"in": "inch", "mm": "iso"}
NOTATIONS = tuple(NOTATION.values())


@dataclass(frozen=True)
class Quantity:
    """One quantity of the subject.

    word: name in code, banks and files.
    meaning: what it is, as a noun phrase.
    dimension: one of the dimensions of ``gearlab.theory.units``.
    inch, iso: plain symbols in the two notations.
    low, high: range [theory units, rad]; outside it a value is refused and a root is dropped.
    owner: "gear" (one for each gear), "tooth" (shared by gears that mesh), "pair", "single" (a gear looked at
        by itself), "train", or a subject of the bench ("workshop", "plate", "stack", "hub", "load", "rack",
        "bevel", "planetary", "drive", "epicyclic", "key").
    whole: true for counts, which are whole numbers.
    index: number of the gear in its pair or train.
    zero: true where zero has a meaning though the quantity cannot be negative.
    unit: of a quantity that a question brings along (see ``own``): the only unit it has; "" for all others.

    >>> quantity("centre_distance").symbol("inch")
    'C'
    >>> quantity("driven_pitch_diameter").latex("iso")
    'd_{2}'
    """

    word: str
    meaning: str
    dimension: str
    inch: str
    iso: str
    low: float = 0.0
    high: float = inf
    owner: str = "gear"
    whole: bool = False
    index: str = ""
    zero: bool = False
    unit: str = ""

    def symbol(self, notation: str = "inch") -> str:
        """Plain symbol in a notation ("inch" or "iso"), such as ``d_o1``."""
        return (self.inch if check_notation(notation) == "inch" else self.iso) + self.index

    def latex(self, notation: str = "inch") -> str:
        """The symbol in LaTeX, such as ``d_{o1}``."""
        base = self.inch if check_notation(notation) == "inch" else self.iso
        head, _, tail = base.partition("_")
        return _in_latex(head) + (f"_{{{_in_latex(tail)}{self.index}}}" if tail + self.index else "")

    @property
    def signed(self) -> bool:
        """True where a negative value has a meaning (speeds, angles turned, differences)."""
        return self.low < 0


_GREEK = {
    "phi": r"\phi",
    "psi": r"\psi",
    "beta": r"\beta",
    "gamma": r"\gamma",
    "delta": r"\delta",
    "mu": r"\mu",
    "nu": r"\nu",
    "xi": r"\xi",
    "sigma": r"\sigma",
    "Sigma": r"\Sigma",
    "alpha": r"\alpha",
    "theta": r"\theta",
    "omega": r"\omega",
    "epsilon": r"\varepsilon",
    "zeta": r"\zeta",
    "rho": r"\rho",
    "tau": r"\tau",
    "Delta": r"\Delta",
    "eta": r"\eta",
}


def _in_latex(text: str) -> str:
    for name, code in _GREEK.items():
        if text.startswith(name):
            rest = text[len(name) :]
            return code + (" " + rest if rest else "")
    return text


def check_notation(notation: str) -> str:
    """Hand the notation back, or raise ValueError naming the two there are."""
    if notation not in NOTATIONS:
        raise ValueError(f"notation {notation!r} is unknown: use 'inch' (P, N, d, C) or 'iso' (m, z, d, a)")
    return notation


def _table(owner: str, rows: str) -> list[Quantity]:
    entries = []
    for row in rows.strip().splitlines():
        cells = [cell.strip() for cell in row.split("|")]
        word, meaning, dimension, inch, iso = cells[:5]
        low, high = _RANGE.get(dimension, (0.0, inf))
        stated = len(cells) > 5 and cells[5] != ""
        if stated:
            low, high = (float(part) for part in cells[5].split(".."))
        zero = stated or dimension not in ("length", "pitch", "count")
        entries.append(
            Quantity(
                word, meaning, dimension, inch, iso or inch, low, high, owner, dimension == "count", zero=zero
            )
        )
    return entries


_RANGE = {
    "count": (1.0, inf),
    "angle": (0.0, pi / 2),
    "speed": (-inf, inf),
    "turns": (-inf, inf),
    "angular speed": (-inf, inf),
    "linear speed": (-inf, inf),
}
#: Sizes beyond which a given is refused, by dimension: least, greatest, and their unit (a metric one; inches are converted).
#: Wide on purpose (common practice): a watch has less than a microwatt, the gears of a ship a hundred megawatts; invar grows by
#: 1e-6/K, soft plastics by 300e-6/K. What may be negative may be as large the other way.
# fmt: off
PLAUSIBLE: dict[str, tuple[float, float, str]] = {
    "length": (-1e6, 1e6, "mm"), "pitch": (1e-4, 1e5, "1/in"), "speed": (-1e7, 1e7, "rpm"), "angular speed": (-1e6, 1e6, "rad/s"), "linear speed": (-1e4, 1e4, "m/s"),
    "frequency": (0.0, 1e9, "Hz"), "time": (0.0, 1e10, "s"), "force": (0.0, 1e9, "N"), "torque": (0.0, 1e9, "N*m"), "stress": (0.0, 1e5, "MPa"),
    "power": (0.0, 1e9, "W"), "temperature": (-500.0, 2000.0, "K"), "expansion": (0.0, 1e-3, "1/K"), "turns": (-1e12, 1e12, "turns"),
}
# fmt: on

GEAR, TOOTH, PAIR = (
    _table("gear", tables.GEAR_ROWS),
    _table("tooth", tables.TOOTH_ROWS),
    _table("pair", tables.PAIR_ROWS),
)
SINGLE, TRAIN = _table("single", tables.SINGLE_ROWS), _table("train", tables.TRAIN_ROWS)
BENCH = [
    entry
    for name in benchtables.BENCH
    for entry in _table(name, getattr(benchtables, f"{name.upper()}_ROWS"))
]

# Where a gear stands in its pair or train: what its words begin with, its number, what a sentence calls it.
SIDES = {
    "driver": (1, "the driver"),
    "driven": (2, "the driven gear"),
    "first": (1, "the first gear"),
    "second": (2, "the second gear"),
    "third": (3, "the third gear"),
    "fourth": (4, "the fourth gear"),
}
#: What a train says of each of its gears; of a pair's gears everything is said.
TRAIN_GEAR = frozenset(
    [
        "teeth",
        "pitch_diameter",
        "outside_diameter",
        "root_diameter",
        "pitch_radius",
        "outside_radius",
        "speed",
        "turns",
        "angle",
        "angular_speed",
    ]
)


class _Quantities(dict[str, Quantity]):
    """Those of the subject; one that a question brings along is found by its word, and listed nowhere."""

    def __missing__(self, word: str) -> Quantity:
        return _BROUGHT[word]


_BROUGHT: dict[str, Quantity] = {}
QUANTITIES: dict[str, Quantity] = _Quantities(
    {q.word: q for q in GEAR + TOOTH + PAIR + SINGLE + TRAIN + BENCH}
)
#: Side and base word of each word that belongs to one gear of several: first_teeth is ("first", "teeth").
SIDED: dict[str, tuple[str, str]] = {}


def _index() -> None:
    for side, (number, of) in SIDES.items():
        for base in (
            GEAR + TOOTH if side in ("driver", "driven") else [q for q in GEAR if q.word in TRAIN_GEAR]
        ):
            link = "by" if base.word == "angle" else "of"
            word = f"{side}_{base.word}"
            QUANTITIES[word] = replace(
                base, word=word, meaning=f"{base.meaning} {link} {of}", index=str(number)
            )
            SIDED[word] = side, base.word


_index()
_PLACES = {base.word: number for number, base in enumerate(GEAR + SINGLE + TOOTH + PAIR + TRAIN + BENCH)}


def own(name: str, entry: Quantity) -> Quantity:
    """A quantity that a question brings along, for its own formula: the entry with a word nobody else has.

    name: what the question calls it; the same name and entry give the same word in every process.
    """
    digest = sha256(repr((name, astuple(replace(entry, word="")))).encode()).hexdigest()
    word = f"{re.sub(r'[^A-Za-z0-9]+', '_', name)}_own_{digest[:10]}"
    return _BROUGHT.setdefault(word, replace(entry, word=word))


def known(word: str) -> bool:
    """Whether a word names a quantity, of the subject or brought along by a question."""
    return word in QUANTITIES or word in _BROUGHT


def plain(text: str) -> str:
    """A text with the words of ``own`` quantities as their questions call them.

    >>> plain("left out price_own_492de91dfe")
    'left out price'
    """
    return re.sub(r"_own_[0-9a-f]{10}", "", text)


def split_side(word: str) -> tuple[str, str]:
    """Side and base of a word; the side is empty where a word belongs to no one gear.

    >>> split_side("third_teeth"), split_side("centre_distance")
    (('third', 'teeth'), ('', 'centre_distance'))
    """
    return SIDED.get(word, ("", word))


def place(word: str) -> tuple[int, str]:
    """Sorting key [-]: the order in which quantities are taught, the driver before the driven gear.

    >>> sorted(["addendum", "driven_pitch_diameter", "driver_pitch_diameter"], key=place)
    ['driver_pitch_diameter', 'driven_pitch_diameter', 'addendum']
    """
    return _PLACES.get(split_side(word)[1], len(_PLACES)), QUANTITIES[word].index


_ORDER = {side: "abcd"[number - 1] + "_" for side, (number, _) in SIDES.items()}


def side_order(text: str) -> str:
    """Sorting key.

    The driver comes before the driven gear in every list a reader sees, the first gear before the second.

    >>> sorted(["driven_teeth", "driver_teeth"], key=side_order)
    ['driver_teeth', 'driven_teeth']
    """
    for side, letter in _ORDER.items():
        text = text.replace(side + "_", letter)
    return text


# Whose a number is, as people say it where theory says driver or driven, or needs no word.
_EVERYDAY_OWNERS = {"pinion", "wheel", "gear", "input", "output", "small", "large", "rack", "shaft"}


def quantity(name: str, notation: str = "inch", among: Collection[str] = ()) -> Quantity:
    """Find a quantity by its word or, as a convenience, by its symbol in a notation.

    name: a word (``centre_distance``) or a symbol (``C``).
    notation: "inch" or "iso".
    among: words to look through first: N1 is the driver's count in a pair, the first gear's in a train.
    Returns the entry of that name.
    ValueError for an unknown name; near names are given.

    >>> quantity("C").word, quantity("a", notation="iso").word
    ('centre_distance', 'centre_distance')
    """
    if isinstance(name, str) and (name in QUANTITIES or name in _BROUGHT):
        return QUANTITIES[name]
    name = as_symbol(name, notation)
    for words in (among, QUANTITIES):
        for word in words:
            if QUANTITIES[word].symbol(notation) == name:
                return QUANTITIES[word]
    raise ValueError(f"quantity {name!r} is unknown{_near(name, notation)}")


@cache
def _symbols(notation: str) -> dict[str, str]:
    """The symbols of a notation, by themselves and by how they are written without underscores."""
    exact = [entry.symbol(notation) for entry in QUANTITIES.values()]
    return {symbol.replace("_", ""): symbol for symbol in reversed(exact)} | {each: each for each in exact}


_LETTERS = {"α": "alpha", "ϕ": "phi", "φ": "phi", "ω": "omega", "η": "eta", "ε": "epsilon", "σ": "sigma"}


def as_symbol(name: str, notation: str) -> str:
    """A symbol as it stands in a notation, where somebody wrote it a little otherwise; else the name itself.

    >>> as_symbol("z_1", "iso"), as_symbol("T1", "inch"), as_symbol("Ft", "iso"), as_symbol("teeth", "iso")
    ('z1', 'T_1', 'F_t', 'teeth')
    """
    if not isinstance(name, str):
        raise ValueError(f"quantity {name!r} is no word: give one, such as 'centre_distance', or a symbol")
    symbols = _symbols(check_notation(notation))
    if name in QUANTITIES or name in symbols:
        return name if name in QUANTITIES else symbols[name]
    plain_name = "".join(_LETTERS.get(letter, letter) for letter in name).replace("_", "")
    return symbols.get(plain_name, name)


def _near(name: str, notation: str) -> str:
    """What to write in place of a name that is none: what it is called here, or words like it."""
    like = othernames.word_like(name)
    if like in QUANTITIES:
        return f"; here it is called {like}"
    owner, _, base = like.partition("_")
    if owner in _EVERYDAY_OWNERS and base in QUANTITIES:  # pinion_teeth, wheel_speed
        return f"; near words: {', '.join((base, *_on_sides(base)))}"
    called = othernames.called_here(name)
    if called is None and owner in {*_EVERYDAY_OWNERS, *SIDES}:  # pinion_tip_diameter
        called = tuple(
            word for plain in othernames.called_here(base) or () for word in _on_sides(plain) or (plain,)
        )
        called = tuple(word for word in called if word.startswith(owner)) or called or None
    if called:
        return f"; here it is called {' or '.join(called)}"
    if called is not None:
        return ": gearlab has no formula for it"
    other = "iso" if notation == "inch" else "inch"
    if as_symbol(name, other) in _symbols(other):
        meant = quantity(name, other)
        return (
            f" in the {notation} notation; in the {other} notation it is {meant.word}: write"
            f" {meant.symbol(notation)}, or the word, or choose notation={other!r}"
        )
    near = difflib.get_close_matches(like, list(QUANTITIES), n=3, cutoff=0.6)
    if near:
        return f"; near words: {', '.join(near)}"
    return f" (symbols are read in the {notation} notation; gearlab.glossary() lists the words)"


def _on_sides(base: str) -> tuple[str, ...]:
    """The words of driver and driven gear for a word that each gear has."""
    return tuple(f"{side}_{base}" for side in ("driver", "driven") if f"{side}_{base}" in QUANTITIES)
