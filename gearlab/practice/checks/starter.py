"""A commented bank and set to begin with, as `gearlab check --new` writes them: made to be read and changed.

The two lie in the folder `starter_files`. Lines that begin with `#: ` are switched off: without that mark
each block of them is a working example.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

from gearlab.writing import write_whole

__all__ = ["OFF", "write_starter"]

OFF = "#: "  # how a line begins that is switched off
_TEXTS = Path(__file__).with_name("starter_files")


def write_starter(place: Path) -> tuple[Path, Path]:
    """Write the starter bank and set, and give the two files; what is there is never overwritten.

    place: a file that ends with .toml, or a folder, in which they become bank.toml and set.toml.
    ValueError if one of the two is there already.
    """
    if place.suffix == ".toml":
        bank, homework = place, place.with_name(f"{place.stem}_set.toml")
    else:
        bank, homework = place / "bank.toml", place / "set.toml"
    name = re.sub(r"[^a-z0-9]+", "-", (place.stem or place.resolve().name).lower()).strip("-")
    put = {word: " ".join(str(path).split()) for word, path in (("BANK_FILE", bank), ("SET_FILE", homework))}
    put |= {"BANK_NAME": json.dumps(bank.name)[1:-1], "SET_NAME": name[:80].strip("-") or "my-set"}
    texts = {
        path: re.sub("|".join(put), lambda word: put[word[0]], (_TEXTS / file).read_text(encoding="utf-8"))
        for path, file in ((bank, "bank.toml"), (homework, "set.toml"))
    }
    for path in texts:
        if path.exists():
            raise ValueError(f"{path}: is there already and stays as it is; name another file or folder")
    for path, text in texts.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.open("x").close()  # nobody else has begun one of that name meanwhile
        write_whole(path, text)
    return bank, homework
