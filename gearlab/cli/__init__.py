"""The command line: `open`, `hand-out`, `mark`, `try`, `bench`, `check`, `lab`, `board` and `card`."""

from gearlab.cli import benches, classes, labs, lessons, questions
from gearlab.cli.root import app

__all__ = ["app", "benches", "classes", "labs", "lessons", "main", "questions"]

main = app  # what the command `gearlab` runs
