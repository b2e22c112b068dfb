"""How many values gearlab is held against, and how sure each is.

Counted from the rows, told in the lessons, the README and DEVELOPERS.md.
"""

import tomllib
from collections import Counter
from pathlib import Path

# How sure a row is, as a reader is told. What was worked out from a formula that was read in print is counted
# with the worked solutions.
KINDS = {
    "seen": "read in print",
    "seen (solution transcription)": "in worked solutions",
    "seen (formula only; number is its evaluation)": "in worked solutions",
    "from memory": "from memory",
    "common practice": "common practice",
}
# These look a number up in a table that gearlab holds: typed table against typed table, which shows a slip of
# typing and nothing else.
TABLES = {
    "table",
    "square_key",
    "keyseat_half",
    "parallel_key",
    "metric_key_hub",
    "screw_over_key",
    "screw_table",
    "seating_torque",
    "static_stress",
    "form_factor_maker",
    "form_factor_textbook",
    "form_factor_rack",
    "trade_class",
    "composite",
    "composite_step",
    "general_tolerance",
}
_TRAINS = {"train", "pair_from_speeds", "train_spacing", "idler_shigley"}
_CHOOSING = {"convergents", "convergent_k", "geometric_stages", "reverted", "reverted_exact", "change_gears"}
# Which rows belong to a lesson: topics (files), or methods within them.
LESSONS = {
    "01": {1},
    "02": {1},
    "03": {1, 3},
    "04": {10, *_TRAINS},
    "05": {10, "told", *_TRAINS, "reverted", "reverted_exact"},
    "06": {2, 3},
    "07": {3, 4, 11},
    "08": {6},
    "09": set(),
    "10": set(),
    "11": {7},
    "12": {8},
    "13": {9, "told", "rack"},
    "14": {9, "told", "bevel"},
    "15": {10, "told", "willis", "planet", "epicyclic", "torque_balance"},
    "16": {10, *_CHOOSING},
    "17": {5, 12},
    "18": {6, 7, 8, 12, 13},
    "19": {6, 7, 8, 12, 13},
}


def rows() -> list[dict]:
    """Every row, with the number of its topic."""
    found = []
    for file in sorted(Path(__file__).parent.glob("topic_*.toml")):
        topic = int(file.stem.removeprefix("topic_"))
        found += [row | {"topic": topic} for row in tomllib.loads(file.read_text(encoding="utf-8"))["row"]]
    return found


def of_lesson(lesson: str) -> list[dict]:
    """The rows of a lesson's subject."""
    wanted = LESSONS[lesson]
    topics, methods = (
        {one for one in wanted if isinstance(one, int)},
        tuple(one for one in wanted if isinstance(one, str)),
    )
    return [
        row for row in rows() if row["topic"] in topics and (not methods or row["method"].startswith(methods))
    ]


def counted(some: list[dict]) -> Counter:
    """How many rows of each kind; those of a typed table apart."""
    return Counter("tables" if row["method"] in TABLES else KINDS[row["confidence"]] for row in some)


def in_words(some: list[dict]) -> str:
    """The counts as a sentence goes on.

    "18 read in print, 7 in worked solutions, 4 from memory; 12 more hold a typed table against its source".
    """
    count = counted(some)
    parts = [f"{count[kind]} {kind}" for kind in dict.fromkeys(KINDS.values()) if count[kind]]
    tables = f"{count['tables']} more hold a typed table against its source" if count["tables"] else ""
    return "; ".join(one for one in (", ".join(parts), tables) if one)


def sentence(lesson: str) -> str:
    """What a lesson's "Sources" says of the values of its subject."""
    some = of_lesson(lesson)
    if not some:
        return (
            "How sure: the numbers of this lesson are held against geometry measured by a second route; no"
            " published value stands behind them."
        )
    checked = len(some) - counted(some)["tables"]
    return f"How sure: gearlab is held against {checked} published values of this subject: {in_words(some)}."
