"""`gearlab lab`, `gearlab board` and `gearlab card`: a lab made, watched, and typed in from paper."""

import time
from collections.abc import Iterator
from pathlib import Path
from textwrap import shorten
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Group, RenderableType
from rich.live import Live
from rich.markup import escape
from rich.table import Table
from rich.text import Text

from gearlab.cli.places import many, say
from gearlab.cli.root import app, plain_errors, screen

if TYPE_CHECKING:
    from gearlab.course.lab import Board

COLOURS = {
    "right": "green",
    "given": "green",
    "mended": "cyan",
    "wrong": "yellow",
    "stuck": "bold red",
    "none": "dim",
}
TURN = 8.0  # seconds that each part of a board stands that is higher than the terminal
FolderOption = Annotated[Path, typer.Argument(metavar="FOLDER", help="Folder that `gearlab lab` made.")]


@app.command("lab")
@plain_errors
def lab(
    run_sheet: Annotated[
        Path,
        typer.Argument(
            metavar="RUNSHEET", help="The run sheet: its file, or one that comes along: lab-1, lab-2, lab-3."
        ),
    ],
    benches: Annotated[int, typer.Option(help="How many benches.")],
    to: Annotated[Path, typer.Option(help="Folder for prints, the private part and the benches' places.")],
    minutes: Annotated[int | None, typer.Option(help="Length of the lab; default: its longest.")] = None,
    make_ups: Annotated[int, typer.Option(help="How many make-up sheets.")] = 4,
    cut_width: Annotated[float, typer.Option(help="What a beam takes away [mm].")] = 0.0,
    parts: Annotated[
        bool, typer.Option("--parts/--no-parts", help="True-size sheets and cut files, too.")
    ] = True,
) -> None:
    """Make a lab: cards, worksheets, answer book, what to prepare.

    Exit tickets, make-up sheets, and a folder and a notebook for each bench come with it.
    """
    from gearlab.contents import lab_file
    from gearlab.course.lab import make_lab

    file = run_sheet if run_sheet.exists() else lab_file(str(run_sheet))
    with screen.status("") as status:
        prepared = make_lab(
            file,
            to,
            benches,
            minutes=minutes,
            make_ups=make_ups,
            cut_width=cut_width,
            parts=parts,
            tell=lambda what: status.update(escape(what)),
        )
    folder = prepared.folder
    for line in (
        f"{prepared.benches} benches, {prepared.make_ups} make-up sheets, {prepared.minutes} minutes",
        f"print on both sides: {folder}/print",
        f"keep private (answer book, what to prepare, key): {folder}/private",
        f"share with the benches: {folder}/benches",
        f"watch: gearlab board {folder}",
    ):
        say(line)
    if prepared.kept:
        say(f"{prepared.kept} notebooks were there already and stay as they are")


@app.command("board")
@plain_errors
def board(
    folder: FolderOption,
    every: Annotated[float, typer.Option(help="Seconds between two looks.")] = 1.0,
    once: Annotated[bool, typer.Option("--once", help="Look once and stop.")] = False,
    most: Annotated[int, typer.Option(help="How many causes are shown.")] = 3,
) -> None:
    """Watch a lab: who is where, causes, readings, predictions."""
    from gearlab.course.lab import open_board

    if not 0.2 <= every <= 600:
        raise ValueError(f"--every {every:g}: a board looks every 0.2 to 600 s")
    watched = open_board(folder)
    watched.look()
    if once:
        screen.print(shown(watched, most))
        return
    try:
        with Live(
            in_turns(watched, most, 0.0), console=screen, auto_refresh=False, screen=screen.is_terminal
        ) as live:
            begun = time.monotonic()
            while True:
                time.sleep(every)
                watched.look()
                live.update(in_turns(watched, most, time.monotonic() - begun), refresh=True)
    except KeyboardInterrupt:
        screen.print(shown(watched, most))


def shown(board: "Board", most: int = 3) -> RenderableType:
    """The board for a terminal, all of it."""
    from gearlab.course.lab.boardpage import legend

    blocks = [part for block in _blocks(board, most) for part in block]
    return Group(_grid(board), Text(f"{legend()}; ~ quiet for 6 minutes", style="dim"), *blocks)


def in_turns(board: "Board", most: int, seconds: float) -> RenderableType:
    """The board as high as the terminal: the benches stay, what does not fit below them comes in turns.

    seconds: since the board was opened [s].
    """
    from gearlab.course.lab.boardpage import legend

    if not screen.is_terminal:
        return shown(board, most)
    head: list[RenderableType] = [_grid(board), Text(f"{legend()}; ~ quiet for 6 minutes", style="dim")]
    room = screen.height - _height(head) - 1
    pages: list[list[RenderableType]] = [[]]
    left = room
    for block in _blocks(board, most):
        high = _height(block)
        if pages[-1] and high > left:
            pages.append([])
            left = room
        pages[-1] += block
        left -= high
    turn = int(seconds / TURN) % len(pages)
    more = [Text(f"{turn + 1} of {len(pages)} in turn; --once shows all", style="dim")] if pages[1:] else []
    return Group(*head, *pages[turn], *more)


def _height(parts: list[RenderableType]) -> int:
    """Lines that parts of the board take on the screen [-]."""
    return len(screen.render_lines(Group(*parts), pad=False))


def _grid(board: "Board") -> Table:
    """Benches by checkpoint, side by side where the terminal is wide enough."""
    from gearlab.course.lab.watching import STUCK

    steps = board.steps
    grid = Table(
        title=escape(board.lab.sheet.lab.title), title_justify="left", title_style="bold", pad_edge=False
    )
    benches = board.benches
    side_by_side = max(1, (screen.width - 2) // (11 + 6 * len(steps)))
    rows = max(1, min(len(benches), max(6, -(-len(benches) // side_by_side))))
    blocks = [benches[start : start + rows] for start in range(0, len(benches), rows)]
    for _ in blocks:
        grid.add_column("bench", no_wrap=True)
        for step in steps:
            grid.add_column(step.checkpoint, justify="center", no_wrap=True, min_width=3)
    for row in range(rows):
        cells: list[Text] = []
        for block in blocks:
            if row >= len(block):
                cells += [Text("")] * (1 + len(steps))
                continue
            bench = block[row]
            cells.append(Text(bench.short + (" ~" if board.quiet(bench) >= STUCK else "")))
            for step in steps:
                cell = board.cell(bench, step)
                cells.append(Text(cell.mark, style=COLOURS.get(cell.state, "")))
        grid.add_row(*cells)
    return grid


def _blocks(board: "Board", most: int) -> Iterator[list[RenderableType]]:
    """What stands below the benches, in blocks that stay together."""
    from gearlab.course.lab.boardpage import in_words

    for step in board.steps:
        yield [Text(f"{step.checkpoint} {step.title}: {in_words(board, step)}")]
    if causes := board.causes(most):
        yield [
            Text("\nCommonest causes of the hour", style="bold"),
            *(
                Text(f" {cause.benches:>3}  {cause.question}: {cause.title}. {cause.sentence}")
                for cause in causes
            ),
        ]
    for step in board.steps:
        for table in step.reading:
            if dots := _dots(board, step.checkpoint, table):
                yield dots
        for question, options, total in board.tally(step):
            if total:
                yield [
                    Text(f"\n{step.checkpoint} {question}", style="bold"),
                    *(
                        Text(f" {count:>3}  {'#' * count:<{min(total, 40)}}  {text}")
                        for text, count in options
                    ),
                ]
    odd = [*board.unreadable.items(), *board.foreign.items()][:5]
    if odd:
        yield [Text(f"! {name}: {reason}", style="dim") for name, reason in odd]


def _dots(board: "Board", checkpoint: str, table) -> list[RenderableType]:
    """Measured minus computed as a column of letters a dot: o within the limits, X beyond them."""
    from gearlab.course.lab.boardpage import span, stacked, unlikely
    from gearlab.course.pages import behind

    dots = board.dots(table)
    if not dots:
        return []
    half, unit = span(dots, table), behind(table.unit)
    columns, left, right = stacked(dots, half, 61)
    lines: list[RenderableType] = [
        Text(f"\n{checkpoint} {table.title}, measured minus computed", style="bold")
    ]
    for level in range(max(map(len, columns)) - 1, -1, -1):
        row = "".join(
            "X" if len(each) > level and each[level].far else "o" if len(each) > level else " "
            for each in columns
        )
        lines.append(Text(f"  {row}"))
    lines.append(Text("  " + "".join("+" if place == 30 else "-" for place in range(61))))
    beyond = f"; further out: {left} left, {right} right" if left or right else ""
    lines.append(Text(f"  {f'{-half:+g}':<30}0{f'{half:+g}{unit}':>30}"))
    lines.append(Text(f"  o within ±{table.within:g}{unit}, X beyond{beyond}{unlikely(dots)}", style="dim"))
    return lines


@app.command("card")
@plain_errors
def card(
    folder: FolderOption,
    bench: Annotated[
        str, typer.Argument(metavar="BENCH", help="Number of the bench, or M1 for a make-up sheet.")
    ],
    answer: Annotated[
        list[str] | None,
        typer.Option(
            "--answer", metavar="QUESTION[.ANSWER]=TEXT", help="One answer; without it you are asked."
        ),
    ] = None,
) -> None:
    """Type in a bench's paper card, in place of its notebook."""
    from datetime import UTC, datetime

    from gearlab.course.lab.folder import hand_in_by_hand, open_lab_folder
    from gearlab.course.lab.typing_in import questions_of, readings_told, taken

    place = open_lab_folder(folder)
    asked = questions_of(place, bench)
    if answer is None:
        given = _typed_in(asked)
    else:
        pairs = [text.partition("=") for text in answer]
        wrong = [text for text, (_, sign, _value) in zip(answer, pairs) if not sign]
        if wrong:
            raise ValueError(f"--answer {wrong[0]!r}: write it as QUESTION=TEXT or QUESTION.ANSWER=TEXT")
        given = taken(asked, {name.strip(): value for name, _, value in pairs})
    file = hand_in_by_hand(place, asked.bench, given, datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"))
    count = sum(len(texts) for texts in given.values())
    say(f"{asked.bench.title}: {many(count, 'answer')} in {file}")
    for title, told in readings_told(place, asked.bench, given):
        say(f"  {title}: {told}")


def _typed_in(asked) -> dict[str, dict[str, str]]:
    """What is typed from a card, question by question; one who stops keeps what was typed so far."""
    from gearlab.course.lab.typing_in import taken

    screen.print(
        "An empty line leaves an answer as it is; choices by their letters, such as a or a, c. Ctrl+C stops;"
        " what was typed is kept."
    )
    given: dict[str, dict[str, str]] = {}
    try:
        for question in asked.questions:
            prompt = shorten(question["prompt"], 200, placeholder=" ...")
            screen.print(f"\n[bold]{escape(question['title'])}[/bold]  {escape(prompt)}", soft_wrap=True)
            for number, text in enumerate(question.get("options", [])):
                say(f"  {chr(97 + number)}) {text}")
            for field in question["answers"]:
                unit = f" [{field['unit']}]" if field["unit"] else ""
                while text := screen.input(escape(f"{field['label']}{unit}: ")).strip():
                    try:
                        answers = taken(asked, {f"{question['id']}.{field['id']}": text})
                    except ValueError as error:
                        say(str(error))
                        continue
                    given.setdefault(question["id"], {}).update(answers[question["id"]])
                    break
    except (EOFError, KeyboardInterrupt):
        screen.print("\nStopped here. The same command takes the rest; empty lines leave what is there.")
    return given
