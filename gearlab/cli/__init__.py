"""The command line: `gearlab open`, `course`, `hand-out`, `mark`, `try`, `bench` and `check`."""

from gearlab.cli import benches, classes, lessons, questions
from gearlab.cli.root import app

__all__ = ["app", "benches", "classes", "lessons", "main", "questions"]

main = app  # what the command `gearlab` runs
