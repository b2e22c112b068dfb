"""The command line: `gearlab` with its commands, one file for what is asked of it."""

from gearlab.cli import benches, classes, decisions, labs, lessons, questions, terms
from gearlab.cli.root import app

__all__ = ["app", "benches", "classes", "decisions", "labs", "lessons", "main", "questions", "terms"]

# in the order in which people need them: to learn, to mark a class, in a lab, to write questions
ORDER = (
    *("open", "copy", "try"),
    *("course", "hand-out", "mark", "decide", "term", "key-sheet", "student"),
    *("lab", "board", "card", "bench"),
    "check",
)
app.registered_commands.sort(key=lambda command: ORDER.index(command.name or ""))
main = app  # what the command `gearlab` runs
