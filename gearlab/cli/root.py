"""What every command stands on: the one `app`, the screen, and errors that are sentences."""

from collections.abc import Callable, Iterable
from functools import wraps
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console, ConsoleOptions, RenderableType
from rich.markup import escape
from rich.segment import Segment
from typer.core import TyperGroup

from gearlab.quoting import plain_lines

# to learn, to mark a class, in a lab, to write questions
ORDER = (
    *("open", "copy", "try"),
    *("course", "hand-out", "mark", "decide", "term", "key-sheet", "student"),
    *("lab", "board", "card", "bench"),
    "check",
)


class _InOrder(TyperGroup):
    """Commands in the order in which people need them."""

    def list_commands(self, ctx) -> list[str]:
        known = {name: place for place, name in enumerate(ORDER)}
        return sorted(super().list_commands(ctx), key=lambda name: known.get(name, len(known)))


app = typer.Typer(
    cls=_InOrder,
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


class _Screen(Console):
    """A console on which no name, answer or file name of somebody else's steers the terminal.

    Long lines are broken between words in a terminal, and left whole where another program reads them.
    """

    def print(self, *objects, soft_wrap: bool | None = None, **options) -> None:
        super().print(*objects, soft_wrap=False if self.is_terminal else soft_wrap, **options)

    def render(self, renderable: RenderableType, options: ConsoleOptions | None = None) -> Iterable[Segment]:
        for segment in super().render(renderable, options):
            yield segment if segment.control else Segment(plain_lines(segment.text), segment.style)


screen = _Screen(highlight=False)
complaints = _Screen(stderr=True, highlight=False)


def plain_errors(command: Callable) -> Callable:
    """A command whose errors are sentences, with exit code 2, and never a traceback."""

    @wraps(command)
    def run(*arguments, **options):
        try:
            return command(*arguments, **options)
        except (ValueError, OSError) as error:
            complaints.print("[bold]gearlab:[/bold] " + escape(str(error)), soft_wrap=True)
            raise typer.Exit(2) from None

    return run


def _version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        screen.print(f"gearlab {version('gearlab')}")
        raise typer.Exit


@app.callback()
def gearlab(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """A teaching workbook on how spur gears mesh."""


def set_of(path: Path) -> Path:
    """A set by its path or by its name."""
    from gearlab.contents import set_file

    return path if path.exists() else set_file(str(path))
