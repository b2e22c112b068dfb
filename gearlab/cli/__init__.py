"""The command line: `gearlab` with its commands, one file for what is asked of it."""

from gearlab.cli import benches, classes, decisions, labs, lessons, questions, terms
from gearlab.cli.root import app

__all__ = ["app", "benches", "classes", "decisions", "labs", "lessons", "main", "questions", "terms"]

main = app  # what the command `gearlab` runs
