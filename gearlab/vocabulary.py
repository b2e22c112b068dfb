"""One word for one idea: what labels, messages, help and notes call things.

The trade's word is used everywhere; the everyday word stands beside it once, where the idea is introduced.
"""

from typing import NamedTuple


class Term(NamedTuple):
    """An idea with its word, and the words that are not used for it (patterns; matched as whole words)."""

    idea: str
    word: str
    everyday: str = ""
    never: tuple[str, ...] = ()


# fmt: off
TERMS = (
    # gears and how they stand
    Term("the gear that drives", "driver", "", ("driving gear", "drive gear")),
    Term("the gear that is driven", "driven gear", "", ("follower", "driven wheel")),
    Term("the smaller of two", "pinion"),
    Term("the larger of two", "wheel", "", ("gear ?wheel", "bull gear")),
    Term("a gear that only hands the turning on", "idler", "", ("idler wheel", "intermediate gear")),
    Term("one with which it meshes", "mate", "", ("mating gear", "counter-?gear")),
    Term("from shaft to shaft", "centre distance", "hole spacing", ("center distance", "shaft distance", "ax[il]e?s? distance")),
    # the tooth
    Term("diameter of the circle that rolls", "pitch diameter", "", ("pitch circle diameter", "pitch line diameter", "partial diameter")),
    Term("diameter over the tips", "outside diameter", "over the tips", ("addendum circle diameter", "overall diameter")),
    Term("how many teeth there are", "tooth count", "number of teeth", ("tooth number", "teeth number", "count of the teeth")),
    Term("length of a tooth along its shaft", "face width", "", ("tooth width",)),
    Term("cut with the rack moved out or in", "profile shift", "", ("addendum modification", "profile displacement")),
    Term("pressure angle at the distance that is set", "operating pressure angle", "angle at work", ("working pressure angle",)),
    # running
    Term("driver turns per driven turn", "ratio", "", ("transmission ratio", "gear rate")),
    Term("free turning between the flanks", "backlash", "play", ("play of the teeth", "flank play")),
    Term("room between a tip and the root of its mate", "clearance", "", ("tip play", "bottom play")),
    Term("how many pairs of teeth touch on average", "contact ratio", "", ("overlap ratio", "contact rate", "degree of overlap")),
    Term("a tooth more, so that every tooth meets every other", "hunting tooth", "", ("wandering tooth",)),
    Term("the other way about", "reversed", "", ("direction is turned round",)),
    # asking and marking
    Term("what a student is given", "hand-out", "", ("(?-i:handout)",)),
    Term("what a student gives back", "hand-in", "", ("(?-i:handin)", "submission")),
    Term("what is said of an answer", "verdict", "", ("judgement", "judgment", "marking result")),
    Term("a mistake with a known cause", "slip", "", ("misstep",)),
)
# fmt: on

#: Turns of phrase that are no English of the trade, each with what is written in its place.
PHRASES = {
    "something else than": "something other than",
    "belongs? into": "belongs in",
    "in earnest": "in practice",
    "to be had": "possible, available",
    "look whether": "check that",
    "nought": "zero",
    "falls? out of it": "cancels, or: results",
}

#: More of them, looked for in the places of `tests/test_house.py` that have been through the edit.
WORDINGS = {
    "also if": "even if",
    "looks? what": "see what",
    "(?<!no )difference to": "difference from",
    "on the (?:right|same) distance": "at the right distance",
    "shall": "is to, are to, must",
    "who(?:so)?ever": "anyone who",
    "all the same": "anyway",
    "(?:long|gear) over all": "overall length",
    "no release|releases? no": "does not approve",
    "may bear": "can withstand",
    "in how much": "how much, the area in which",
    "more rarely": "less often",
    "gets? to know": "meets",
    "drawn back": "set back",
    "(?:set|planets?)[a-z0-9 =]* (?:does not|do not|goes?) (?:go )?together": "can be assembled, cannot be assembled",
    "stands? below the line": "is in the denominator",
    "lose each other": "lose contact",
}
