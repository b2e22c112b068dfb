"""A lab's folder: what `gearlab lab` keeps in its private part, and what is typed in for a bench."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from gearlab.course.coursekey import read_key
from gearlab.course.handout.edition import frozen_edition
from gearlab.course.lab.numbers import Bench, Numbers
from gearlab.course.lab.runsheet import RunSheet, load_run_sheet
from gearlab.practice.handin import hand_in_content, read_hand_in
from gearlab.writing import write_json

LAB, EDITION = "lab", 1  # what lab.json says of itself


@dataclass(frozen=True)
class LabFolder:
    """A folder that `gearlab lab` made: its run sheet, its private key, the benches' places."""

    folder: Path
    sheet: RunSheet
    numbers: Numbers
    minutes: int

    @property
    def shared(self) -> Path:
        """Where benches write."""
        return self.folder / "benches"


def open_lab_folder(folder: Path) -> LabFolder:
    """Read what `gearlab lab` keeps in a folder's private part."""
    place = folder / "private" / "lab.json"
    try:
        data = json.loads(place.read_text(encoding="utf-8"))
        minutes, benches, make_ups = data["minutes"], data["benches"], data["make_ups"]
        sound = (
            data["gearlab"] == LAB
            and data["edition"] == EDITION
            and all(type(each) is int for each in (minutes, benches, make_ups))
        )
    except FileNotFoundError:
        raise ValueError(
            f"folder {folder}: holds no lab (there is no {place.name} in its private part);"
            " `gearlab lab RUNSHEET --benches 12 --to FOLDER` makes one"
        ) from None
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        sound = False
    if not sound:
        raise ValueError(f"{place}: is damaged; bring back the copy that `gearlab lab` wrote")
    sheet = load_run_sheet(folder / "private" / "run_sheet.toml")
    key = read_key(folder / "private" / "lab.key")
    edition = frozen_edition(key, sheet.lab.name)
    if edition is None:
        raise ValueError(
            f"folder {folder}: the frozen questions are gone; bring back the copy beside {key.path}"
        )
    return LabFolder(folder, sheet, Numbers(sheet, key, edition, benches, make_ups), sheet.minutes(minutes))


def hand_in_by_hand(lab: LabFolder, bench: Bench, typed: dict[str, dict[str, str]], now: str) -> Path:
    """Write, or add to, a bench's hand-in from its paper card; nothing typed, nothing changed."""
    sheet = lab.numbers.hand_out(bench, lab.minutes)
    path = lab.shared / bench.short / sheet["file"]
    saved, answers = 0, {}
    if path.exists():
        before = read_hand_in(path.read_bytes())
        saved, answers = before.saved, {name: dict(texts) for name, texts in before.answers.items()}
    for question, texts in typed.items():
        answers[question] = {**answers.get(question, {}), **texts}
    content = hand_in_content(sheet, answers, saved + 1, now, "typed in from paper")
    path.parent.mkdir(parents=True, exist_ok=True)
    write_json(path, content, 0o644)
    return path
