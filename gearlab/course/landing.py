"""What a reader's folder opens on: the course page, brought up to date, and the pages that lessons link to.

The course page is a notebook. Each time the folder is opened, its page stands in it as an output, so that it
is read before
any cell has run. Glossary and formula sheet are made here once and again when what they are made of has
changed.
"""

from __future__ import annotations

import hashlib
import json
from datetime import date
from pathlib import Path

from gearlab.contents import PACKAGE, content_folder
from gearlab.practice.workbook.attempts import attempts
from gearlab.practice.workbook.coursepage import still_page
from gearlab.practice.workbook.glossary import FORMULAS, GLOSSARY, formula_sheet, glossary
from gearlab.practice.workbook.progress import Answers
from gearlab.practice.workbook.standing import standing

COURSE = "course.ipynb"
CELL = "course-page-01"  # the cell whose output is the page


def edition(content: bytes) -> str:
    """Digest of what a notebook says, whatever its outputs; of other content, of all of it."""
    try:
        cells = json.loads(content)["cells"]
        content = json.dumps([[cell["cell_type"], "".join(cell["source"])] for cell in cells]).encode()
    except (ValueError, KeyError, TypeError):
        pass
    return hashlib.sha256(content).hexdigest()


def with_page(content: bytes, folder: Path, today: date) -> bytes:
    """The course page's notebook with the page of a day as its output; unchanged where it has no place."""
    try:
        notebook = json.loads(content)
        cell = next(
            cell for cell in notebook["cells"] if cell.get("id") == CELL and cell["cell_type"] == "code"
        )
    except (ValueError, KeyError, TypeError, StopIteration):
        return content
    told = still_page(standing(Answers(folder).all(), attempts(folder), today))
    cell["outputs"] = [{"output_type": "display_data", "metadata": {}, "data": told}]
    cell["execution_count"] = None
    return (json.dumps(notebook, indent=1, ensure_ascii=False) + "\n").encode()


def made_of() -> str:
    """Digest of what glossary and formula sheet are made of."""
    files = [
        *(PACKAGE / "theory").rglob("*.py"),
        *(PACKAGE / "practice").glob("[gl][le]*.py"),
        *content_folder("notebooks").glob("[0-9]*.ipynb"),
        *content_folder("exercises").glob("*/bank.toml"),
    ]
    digest = hashlib.sha256()
    for path in sorted(files):
        digest.update(path.read_bytes())
    return digest.hexdigest()


def pages() -> dict[str, str]:
    """Glossary and formula sheet by the name of their files: Markdown for reading, HTML for printing."""
    both = {GLOSSARY: glossary(), FORMULAS: formula_sheet()}
    return {
        f"{name}.{kind}": getattr(page, way)()
        for name, page in both.items()
        for kind, way in (("md", "markdown"), ("html", "html"))
    }
