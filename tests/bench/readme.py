"""The table of lessons in the README: titles and minutes from the notebooks, the rest from the README itself.

    python tests/bench/readme.py --write

puts titles and minutes in place after a lesson was changed; what one can do after it is written by hand.
"""

import json
import re
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROW = re.compile(r"^\| \[(\d+) · (.*)\]\((\S+)\) \| (\d+) \| (.+) \|$", re.MULTILINE)


def lessons() -> list[tuple[str, str, str, str]]:
    """Number, title, file and minutes of each lesson, in order."""
    found = []
    for path in sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb")):
        head = "".join(json.loads(path.read_text(encoding="utf-8"))["cells"][0]["source"])
        number, title = re.match(r"# (\d+) · (.*)", head).groups()
        minutes = re.search(r"[Aa]bout (\d+) min", head)[1]
        found.append((number, title, f"notebooks/{path.name}", minutes))
    return found


def brought_up_to_date(text: str) -> str:
    """The README with titles and minutes as the notebooks say."""
    known = {row[0]: row for row in lessons()}

    def row(found):
        number, title, file, minutes = known[found[1]]
        return f"| [{number} · {title}]({file}) | {minutes} | {found[5]} |"

    return ROW.sub(row, text)


if __name__ == "__main__" and "--write" in sys.argv:
    readme = ROOT / "README.md"
    readme.write_text(brought_up_to_date(readme.read_text(encoding="utf-8")), encoding="utf-8")
