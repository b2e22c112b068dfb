"""Nothing private is ever part of the project: no key, no roster, no hand-in."""

import re
import subprocess
from pathlib import Path

import pytest

from gearlab.course.coursekey import HEADER

ROOT = Path(__file__).parent.parent.parent
KEY = re.compile(re.escape(HEADER) + r"\r?\n[0-9a-f]{64}")
ROSTER = re.compile(r"\A\ufeff?[^\n]*\bid\b[^\n]*[,;\t][^\n]*\bname\b[^\n]*\n", re.IGNORECASE)


def private(name: str, text: str) -> bool:
    return bool(
        KEY.search(text)
        or name.endswith(".key")
        or "HAND-IN_" in name
        or name.endswith(".frozen.json")
        or name.lower().endswith(".csv")
        and ROSTER.search(text)
    )


def test_no_key_roster_or_hand_in_is_committed():
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True)
    if listed.returncode:
        pytest.skip("not a git working tree")
    found = [name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()]
    assert len(found) > 20
    assert not [
        name for name in found if private(name, (ROOT / name).read_text(encoding="utf-8", errors="replace"))
    ]


def test_the_check_knows_what_it_looks_for():
    assert private("notes.txt", HEADER + "\n" + "a" * 64)
    assert private("own/class.csv", "id,name\n1,Ada\n") and private("c.csv", "Name;ID;Name\n")
    assert private("HAND-IN_homework-1_007.json", "{}")
    assert not private("tests/reference.csv", "teeth,module\n18,2.5\n") and not private(
        "coursekey.py", f'HEADER = "{HEADER}"\n'
    )
