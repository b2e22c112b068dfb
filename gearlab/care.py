"""Care before the act: what can do harm, at which act, and the sentence that is said before it.

One table. Lessons, questions with work in them, sheets, cut files, the review, explorers, notes and the README
draw from it, so that a sentence is mended in one place. Every block ends with who decides: local rules and
licensed practice.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

__all__ = [
    "ACTS",
    "LOCAL",
    "MARK",
    "NOTES",
    "Care",
    "acts_of",
    "block",
    "hazard",
    "line",
    "named_in",
    "of",
    "page_text",
    "refused",
    "short",
]

#: The mark of a block in a lesson; a test holds that nothing else in a lesson wears it.
MARK = "⚠"
LOCAL = "Local rules and licensed practice come first."
LOCAL_SHORT = "local rules come first"
#: The first sentence of the part on safety in each lesson's notes.
NOTES = (
    "Local law, school rules and licensed practice come first; where they say more than this page, they hold."
)


@dataclass(frozen=True, slots=True)
class Care:
    """A row of the table.

    act: its name in a bank and in `block`; words: how a heading names it, after "Care before".
    hazard: what does the harm, as a part of a sentence; sentence: what to do, before the act.
    short: the same for a title block, "" where it is never set there.
    signs: pattern of the words by which a text asks for the act.
    """

    act: str
    words: str
    hazard: str
    sentence: str
    short: str = ""
    signs: str = ""


TABLE = (
    Care(
        "turning",
        "you turn the gears",
        "where teeth run together they draw in fingers, hair, sleeves and lanyards",
        "Gears pinch where their teeth run together, and the place changes sides with the direction. Tie back"
        " hair, sleeves and lanyards, keep fingers off every gear and shaft, and turn by hand, at the crank, one"
        " person at a time.",
        "Gears pinch: turn by hand, power off",
        r"\bturn the (real |vent )?(crank|drive|gears at the bench)\b|\b(turn|try) (it|them|the pair) at the bench\b",
    ),
    Care(
        "powering",
        "a motor drives it",
        "a powered drive does not stop for a hand",
        "A powered drive runs behind a fixed guard. Before a hand goes near, the power is switched off and locked off"
        " by the person allowed to do so; never hold a stalled gear, and never free a jam with the power on.",
        "guards in place",
        r"\b(drive|turn|run)\w* (it |the \w+ |them )?(by|with) (a|the) (motor|drill driver)\b"
        r"|\b(switch|connect)\w* (on )?(a|the) motor\b|\bswitch (it|the drive) on\b",
    ),
    Care(
        "shafts",
        "a shaft turns",
        "on a turning shaft, projecting ends and screws catch sleeves, hair and fingers",
        "On a turning shaft, projecting ends and screws catch sleeves, hair and fingers: shaft ends are short, smooth or"
        " covered, screws and keys end below the surface.",
        "",
        r"\bfit (a|the) (gear|wheel|pinion|collar)s? (on|to) (its|the|a) shaft\b",
    ),
    Care(
        "drilling",
        "you drill",
        "a drill seizes what is loose and throws chips",
        "Drilling and tapping are done by those who are allowed to. Clamp the work on waste wood and punch the place;"
        " goggles on, no gloves, hair, sleeves and lanyards tied back, the chuck key out before the switch is touched."
        " A long drill bends: start with a short one. Brush chips off, and take off the burr afterwards.",
        "drill with the work clamped, goggles on, no gloves",
        r"\bdrill(ing)? (a|an|the|both|two|your|this|these|it|them|through|out|holes?)\b|\bbefore (you|we) drill\b"
        r"|\bdrill and tap\b|\btap (the|a) (hole|thread)\b|\b(holes?|plate|hub) (is|are) (to be )?drilled\b",
    ),
    Care(
        "set-screws",
        "you tighten a set screw",
        "a key or wrench slips, and the drive may turn under it",
        "Before a screw is tightened or loosened, the power is off and locked off and the load is propped up: a gear whose"
        " screw is loose holds nothing. Use a key that fits, pull it towards you slowly, and take it out before"
        " anything turns.",
        "",
        r"\b(tighten|loosen)(ing)? (a|the|it|its|each|this|your|both)\b|\bset screw is tightened\b",
    ),
    Care(
        "cutting",
        "you cut",
        "a laser burns, blinds and makes poisonous fumes",
        "A laser cutter is run by those who are allowed to, with the lid closed, the exhaust on and somebody watching all"
        " the time. Only sheets whose material is known go in: some plastics give off poisonous gas. Saws, scissors and"
        " knives cut away from the hand.",
        "",
        r"\b(before|until) (you|we|anybody) cuts?\b|\blaser cutter is\b|\bcut (it|them|the|your|both) [\w ]{0,20}(out|on the laser)\b"
        r"|\brun the laser\b",
    ),
    Care(
        "printing",
        "you print",
        "a printer's nozzle and bed burn, and its moving parts pinch",
        "A printer is run by those who are allowed to and not left alone. Nozzle and bed are hot and its axes move: wait"
        " until both have stopped and cooled, and take parts off with the blade pointing away from you.",
        "",
        r"\b(print|printing) (the|a|your|it|them|one|both|this) (gear|wheel|pinion|rack|piece|test piece|part)s?\b",
    ),
    Care(
        "handling",
        "you take parts off",
        "plates and gears fall on feet, and cut edges are sharp",
        "Hold a part before its last screw is out: plates, shafts and gears fall on feet. Cut edges, caliper jaws and the"
        " ends of drills are sharp; lay parts flat, away from the edge of the bench.",
        "",
        r"\btake (the|a) (gear|wheel|pinion|plate|idler|shaft) (off|out|from)\b|\b(gear|wheel|pinion|idler) is taken (off|out)\b",
    ),
    Care(
        "measuring",
        "you measure",
        "teeth that can turn pinch jaws, pins and fingers",
        "Only what cannot turn is measured: gears off the drive, or the crank off, a motor locked off and the load"
        " propped up. Nothing goes between teeth that can turn: no jaws, no pins, no fingers.",
        "",
        r"\b(measure|caliper|put pins|lay pins) [\w ,]{0,40}\b(on the drive|at the bench|real gear)\b",
    ),
    Care(
        "raised-vent",
        "the vent is raised",
        "a raised vent falls when a tooth, a screw or a hand lets go",
        "A raised vent is a stored load: it is held up by a prop and never by the gears, before a hand goes near the drive"
        " or a part of it is taken out. Nobody stands or leans under it, or beyond the end of the rack.",
        "",
        r"\b(raise|lift|open|hold) (up )?the vent\b",
    ),
    Care(
        "strength",
        "you trust a strength",
        "a part breaks below a number that was only an estimate",
        "Every force, stress and torque held is an estimate for teaching. A part that people rely on is chosen and"
        " approved by somebody licensed to do so.",
        "",
        r"\bstrong enough for\b",
    ),
    Care(
        "lifting-people",
        "anything lifts people or hangs over them",
        "people fall, or a load falls on them",
        "Nothing here lifts, carries or holds people, or a load above them: that takes licensed design, parts made for it"
        " and an inspection.",
        "",
        r"\blift(s|ing)? (people|a person|persons|somebody)\b|\babove people\b",
    ),
    Care(
        "wind",
        "wind loads the vent",
        "a gust overloads the drive",
        "The gusts here are numbers for exercise: real wind loads come from the local building code and a licensed"
        " engineer, and the vent stays closed in wind.",
        "",
        r"",
    ),
    Care(
        "review",
        "you build from a review",
        "a review of numbers is taken for a permission",
        "A review checks numbers for teaching and does not approve a machine.",
        "",
        r"",
    ),
)

ACTS = tuple(row.act for row in TABLE)
_BY_ACT = {row.act: row for row in TABLE}


def refused(act: str) -> str:
    """What is wrong with the name of an act, "" where it is in the table."""
    if act in _BY_ACT:
        return ""
    nearest = get_close_matches(str(act), ACTS, 1, 0.5)
    meant = f"; did you mean {nearest[0]!r}?" if nearest else ""
    return f"no act {act!r} in the table of care: choose from {', '.join(ACTS)}{meant}"


def of(act: str) -> Care:
    """The row of an act.

    ValueError for an act that is not in the table, with the nearest name.

    >>> of("cutting").hazard
    'a laser burns, blinds and makes poisonous fumes'
    """
    if fault := refused(act):
        raise ValueError(fault)
    return _BY_ACT[act]


def hazard(act: str) -> str:
    """What does the harm, as a part of a sentence."""
    return of(act).hazard


def line(*acts: str) -> str:
    """The sentences of some acts in one paragraph, with who decides at its end.

    >>> line("review")
    'A review checks numbers for teaching and does not approve a machine. Local rules and licensed practice come first.'
    """
    return f"{' '.join(of(act).sentence for act in acts)} {LOCAL}"


def short(*acts: str) -> str:
    """The same for a title block, in a row or two.

    >>> short("turning", "powering")
    'Gears pinch: turn by hand, power off, guards in place; local rules come first.'
    """
    told = ", ".join(of(act).short for act in acts)
    return f"{told}; {LOCAL_SHORT}."


def _heading(acts: tuple[str, ...]) -> str:
    words = [of(act).words for act in acts]
    return f"Care before {', '.join(words[:-1])}{' and before ' if len(words) > 1 else ''}{words[-1]}."


def block(*acts: str) -> str:
    """The Markdown block of some acts: a cell of a lesson, before the act, equal to this text.

    One act is a paragraph, more are a list, so that each is found.

    ValueError without an act, or for one that is not in the table.

    >>> print(block("review"))
    > ⚠ **Care before you build from a review.** A review checks numbers for teaching and does not approve a machine. Local rules and licensed practice come first.
    """  # noqa: E501
    if not acts:
        raise ValueError(f"a block of care names its acts: one or more of {', '.join(ACTS)}")
    if len(acts) == 1:
        return f"> {MARK} **{_heading(acts)}** {line(*acts)}"
    rows = (f"> - **{of(act).words}:** {of(act).sentence}" for act in acts)
    return "\n".join([f"> {MARK} **Care before**", ">", *rows, ">", f"> {LOCAL}"])


def page_text(*acts: str) -> str:
    """The block as plain text, for a page, a box or a terminal: the mark, the heading, the sentences."""
    return f"{MARK} {_heading(acts)} {line(*acts)}" if acts else ""


def named_in(text: str) -> tuple[str, ...]:
    """The acts that a text asks for, by the signs of the table.

    >>> named_in("Drill the plate, then tighten the set screw.")
    ('drilling', 'set-screws')
    """
    return tuple(row.act for row in TABLE if row.signs and re.search(row.signs, text, re.IGNORECASE))


def acts_of(text: str) -> tuple[str, ...]:
    """The acts whose sentences stand in a text, in their order there.

    >>> acts_of(block("cutting", "turning"))
    ('cutting', 'turning')
    """
    places = {row.act: text.find(row.sentence) for row in TABLE}
    return tuple(sorted((act for act, place in places.items() if place >= 0), key=places.__getitem__))
