"""Benches that write: each as its notebook does, some through a disk that shows half a file, all at once.

What a bench wrote, and when, it tells in a journal outside the shared folder: that is what a board is held
against.
"""

from __future__ import annotations

import json
import os
import random
import time
from pathlib import Path

from gearlab.course.lab.folder import LabFolder
from gearlab.practice.workbook.attempts import record
from gearlab.widgets import hand_in


def sheets_of(lab: LabFolder) -> dict[str, dict]:
    """The sheet of each bench, by its folder's name."""
    return {bench.short: lab.numbers.hand_out(bench, lab.minutes) for bench in lab.numbers.benches}


def torn(path: Path, data: bytes, pause: float) -> None:
    """A file written in place and in halves, as a copy over a slow network is."""
    with open(path, "wb", buffering=0) as file:
        file.write(data[: len(data) // 2])
        os.fsync(file.fileno())
        time.sleep(pause)
        file.write(data[len(data) // 2 :])


def work(shared: Path, short: str, data: dict, journal: Path, seconds: float, pace: float) -> None:
    """One bench: it types answer after answer for some seconds, every fourth bench through a torn disk."""
    chance = random.Random(f"bench {short}")
    place = shared / short
    place.mkdir(parents=True, exist_ok=True)
    sheet = hand_in(data, place)
    end, lines = time.monotonic() + seconds, []
    while time.monotonic() < end:
        question = chance.choice(data["questions"])
        choices = question.get("options")
        texts = {
            answer["id"]: str(chance.randint(1, len(choices)))
            if choices
            else f"{chance.uniform(1, 200):.2f} {answer['unit']}"
            for answer in question["answers"]
        }
        sheet.keep(question["id"], texts)
        if int(short) % 4 == 0:
            torn(sheet.path, sheet.path.read_bytes(), 0.02)
        lines.append(("hand-in", sheet.saved, time.time()))
        if chance.random() < 0.3:
            record(
                place, event="answer", bank="lab", question=question["id"], verdict="right", cause="", draw=0
            )
            lines.append(("attempt", 1, time.time()))
        time.sleep(chance.uniform(0.4, 1.6) * pace)
    final = {"answers": sheet.answers, "saved": sheet.saved, "lines": lines}
    journal.mkdir(parents=True, exist_ok=True)
    (journal / f"{short}.json").write_text(json.dumps(final))


def written(journal: Path) -> dict[str, dict]:
    """What the benches say that they wrote."""
    return {path.stem: json.loads(path.read_text()) for path in sorted(journal.glob("*.json"))}
