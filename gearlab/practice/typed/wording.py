"""Words that stand around a typed number: about, the answer, a direction, the name of what is asked.

What names the quantity that is asked says nothing new and is left out; what names another one is refused.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from gearlab.theory.quantities import QUANTITIES

__all__ = ["ANY", "Naming", "direction", "naming"]

_ROUNDED = "about approx approximately ca circa roughly around appr"
_SAY_NOTHING = """
    a an the is are was it its it's of for at so then therefore thus hence ans answer result solution value
    total altogether exactly precisely rounded each all in by my equals equal i get got we have comes out must
    should be needed required would will only just both between and or from to
"""
_BREAKS_OFF = (
    "a an the is are was it its it's of for at i get got we have and or from to between in by my be will"
)
_OPEN = frozenset(_BREAKS_OFF.split())
_FILLERS = frozenset(f"{_ROUNDED} {_SAY_NOTHING}".split())  # words that say nothing of the number
_SAME = {
    **dict.fromkeys(("center", "centres", "centers"), "centre"),
    **dict.fromkeys(("dia", "diam"), "diameter"),
    **dict.fromkeys(("pd", "pcd"), "pitch diameter"),
    "dist": "distance",
    "od": "outside diameter",
    "tip": "outside",
    "axes": "axis",
}
# A word behind a length, and what it may be said of: 78.75 mm apart.
_SAID_OF = {
    "apart": {"distance", "gap", "spacing", "pitch", "backlash", "clearance"},
    "thick": {"thickness", "width"},
    "wide": {"width", "space", "gap"},
    "deep": {"depth", "dedendum", "addendum"},
    "high": {"height", "addendum", "dedendum", "depth"},
    "tall": {"height", "addendum", "dedendum", "depth"},
    "long": {"length", "span", "distance"},
    "across": {"diameter", "span", "width"},
    "round": {"circumference"},
}
_PREPOSITIONS = """
    of at for over in with to per from by without between that which until while if on behind beyond
    whose under and when
"""
_ENDS = frozenset(_PREPOSITIONS.split())  # a noun phrase ends here
_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")

# A ratio a:b is read as a/b, and these are told of its two sides. A contact ratio or a factor has none.
_TURNS = ("driver turns", "driven turns")
_ORDERS = {
    **dict.fromkeys(
        ("ratio", "wanted_ratio", "first_stage_ratio", "second_stage_ratio", "equal_stage_ratio"), _TURNS
    ),
    "train_ratio": ("turns in", "turns out"),
    "reduction": ("turns of the sun", "turns of the carrier"),
    "train_value": ("turns of the last gear", "turns of the first gear"),
    "first_mesh_value": ("turns of the planet", "turns of the first gear"),
    "planet_mesh_value": ("turns of the second planet", "turns of the first planet"),
    "last_mesh_value": ("turns of the last gear", "turns of the planet"),
    "hub_ratio": ("hub diameter", "bore diameter"),
}
_ORDER_NAMED = re.compile(
    r"\bper\b|\bfor (?:each|every|one|a)\b|\bover\b|\bdivided by\b|\w ?[/:] ?\w|\bfrom\b.*\bto\b"
)


# Words that compare or deny: they stand in names of quantities too, but not beside a number.
_COMPARES = """
    above at behind below beyond fewest greater if largest least less limit most more not over smallest than
    that under until when where which while without
"""
_COMPARING = frozenset(_COMPARES.split())


def _words(text: str) -> list[str]:
    words: list[str] = []
    for word in _WORD.findall(text.lower()):
        words += _SAME.get(word, word).split()
    return words


def _head(text: str) -> str:
    """The noun of a phrase: what stands before "of", a comma or a bracket."""
    words: list[str] = []
    for word in _words(re.split("[,(:;]", text, maxsplit=1)[0]):
        if word in _ENDS and words:
            break
        words.append(word)
    return words[-1] if words else ""


@cache
def _heads() -> frozenset[str]:
    return frozenset(_head(quantity.meaning) for quantity in QUANTITIES.values())


@cache
def _all_words() -> frozenset[str]:
    words = {word for quantity in QUANTITIES.values() for word in _words(quantity.meaning)}
    return frozenset(words - _COMPARING)


@dataclass(frozen=True)
class Naming:
    """What a typed number may be called.

    meaning: the quantity asked, in words; "" where it is not known.
    words, heads: of that phrase, and its nouns.
    order: what the two sides of a ratio are; () where a ratio cannot be meant, None where it is not known.
    """

    meaning: str = ""
    words: frozenset[str] = frozenset()
    heads: frozenset[str] = frozenset()
    order: tuple[str, ...] | None = None

    @property
    def short(self) -> str:
        """The quantity asked, in a few words."""
        words = re.split("[,(:]", self.meaning, maxsplit=1)[0].strip()
        return "" if "whether" in words else words

    def fits(self, words: Sequence[str], strict: bool = True) -> bool:
        """Whether words beside the number say nothing but what is asked; if not strict, unknown words may
        stand there.
        """
        before_of = words[: words.index("of")] if "of" in words else words
        plain = [word for word in _words(" ".join(words)) if word not in _FILLERS]
        nouns = [word for word in _words(" ".join(before_of)) if word in _heads() and word not in _FILLERS]
        if not self.meaning:
            return not strict or all(word in _all_words() or word in _SAID_OF for word in plain)
        if nouns and nouns[-1] not in self.heads:
            return False
        known = _all_words()
        return all(
            word in self.words
            or bool(self.heads & _SAID_OF.get(word, set()))
            or (not strict and word not in known)
            for word in plain
        )

    def behind(self, words: Sequence[str]) -> bool:
        """Whether words may stand behind the number: no phrase that breaks off, or that makes it a part."""
        return words[0] != "of" and words[-1] not in _OPEN and self.fits(words)


ANY = Naming()


@lru_cache(4096)
def naming(word: str, label: str = "", prompt: str | None = None) -> Naming:
    """What a number of that quantity may be called; `prompt` is searched for the order of a ratio.

    >>> naming("centre_distance").fits(["apart"]), naming("driver_pitch_diameter").fits(["pitch"])
    (True, False)
    >>> naming("ratio").order
    ('driver turns', 'driven turns')
    """
    quantity = QUANTITIES.get(word)
    if quantity is None:  # a name of the bank's own: its label is all that is known
        return (
            Naming(label, frozenset(_words(label)) - _COMPARING, frozenset({_head(label)}), None)
            if label
            else ANY
        )
    order: tuple[str, ...] = _ORDERS.get(word, ())
    if order and prompt is not None and not _ORDER_NAMED.search(f"{label} {prompt}"):
        order = ()
    words = {*_words(quantity.meaning), *_words(label)} - _COMPARING
    if "distance" in words:
        words |= {"shaft", "shafts", "hole", "holes", "axis", "axle", "spacing"}
    heads = {_head(quantity.meaning), _head(label)} - {""}
    if heads & {"ratio", "reduction"} and _ORDERS.get(word):
        words |= {"ratio", "reduction", "turn", "turns", "gear", "speed", "teeth"}
        heads |= {"ratio", "reduction", "turn", "turns"}
    return Naming(quantity.meaning, frozenset(words), frozenset(heads), order)


# -- a direction of turning ----------------------------------------------------------------------------
_DIRECTION = re.compile(
    r"(?<![^\W\d_])(?<!-)(?:(counter[- ]?clockwise|anti[- ]?clockwise|ccw|acw)|(clockwise|cw))(?![\w-])",
    re.IGNORECASE,
)


def direction(text: str) -> tuple[str, int]:
    """The text without its word for a direction, and that direction: 1, -1, or 0 for none.

    ValueError where there is more than one.

    >>> direction("6 cw rpm")
    ('6 rpm', -1)
    """
    if "w" not in text and "W" not in text:  # every such word has one
        return text, 0
    turned = _DIRECTION.findall(text)
    if not turned:
        return text, 0
    if len(turned) > 1:
        raise ValueError("More than one direction was typed; write one number with one direction.")
    rest = re.sub(r"\( *\)", " ", _DIRECTION.sub(" ", text))
    return " ".join(rest.split()).rstrip(" ,"), 1 if turned[0][0] else -1
