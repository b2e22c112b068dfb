"""The command line: `gearlab open`, `hand-out`, `mark`, `decide`, `student`, `try`, `bench` and `check`."""

from gearlab.cli import benches, classes, decisions, lessons, questions
from gearlab.cli.root import app

__all__ = ["app", "benches", "classes", "decisions", "lessons", "main", "questions"]

main = app  # what the command `gearlab` runs
