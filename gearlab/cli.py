"""The command line: `gearlab open`, `hand-out`, `mark`, `try`, `bench` and `check`."""

import difflib
import json
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.console import Console
from rich.markup import escape
from rich.panel import Panel
from rich.table import Table

if TYPE_CHECKING:
    from gearlab.practice.question import Question
    from gearlab.practice.reading import Reading
    from gearlab.practice.verdict import Verdict

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
screen = Console(highlight=False)
complaints = Console(stderr=True, highlight=False)


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


@app.command("open")
@plain_errors
def open_lessons(
    lesson: Annotated[
        str | None, typer.Argument(help="Number or name of the lesson; default: the course page.")
    ] = None,
    folder: Annotated[
        Path | None,
        typer.Option(help="Folder for your copy; default: gearlab-workbook in your home folder."),
    ] = None,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open a browser window.")] = True,
) -> None:
    """Open the lessons in JupyterLab, on your own copy; your work is never overwritten."""
    from gearlab.course.workbook import DEFAULT_FOLDER, bring_up_to_date, lab_command, open_lab

    workbook = bring_up_to_date(folder or DEFAULT_FOLDER)
    command = lab_command(workbook, lesson, browser)
    screen.print(f"Your lessons are in {escape(str(workbook.folder))}", soft_wrap=True)
    for name in workbook.copied:
        screen.print(f"  copied {escape(name)}", soft_wrap=True)
    for name in workbook.beside:
        screen.print(f"  there is a newer edition; it was put beside yours as {escape(name)}", soft_wrap=True)
    screen.print("Stop with Ctrl+C.")
    raise typer.Exit(open_lab(command))


SET_HELP = "The set: its file, or the name of one that comes with the exercises."
SetFile = Annotated[Path, typer.Argument(metavar="SET.toml", help=SET_HELP)]
RosterFile = Annotated[Path, typer.Option(help="Class list, CSV with the columns id and name.")]
KeyFile = Annotated[Path, typer.Option(help="Key of the course; keep it private.")]


@app.command("hand-out")
@plain_errors
def hand_out_set(
    set_file: SetFile,
    roster: RosterFile,
    key: KeyFile,
    to: Annotated[Path, typer.Option(help="Folder for the notebooks and sheets.")],
    again: Annotated[
        bool, typer.Option("--again", help="Hand out the edition that was frozen before.")
    ] = False,
) -> None:
    """Write a notebook and a printed sheet for each student, with their own numbers."""
    from gearlab.course.coursekey import make_key, read_key, refuse_inside
    from gearlab.course.handout import hand_out
    from gearlab.course.roster import read_roster

    refuse_inside(roster, to)
    refuse_inside(key, to)
    students = read_roster(roster)
    made = not key.exists()
    course_key = make_key(key) if made else read_key(key)
    try:
        with screen.status(f"sheets for {len(students)} students"):
            done = hand_out(_set(set_file), students, course_key, to, again)
    except (ValueError, OSError):
        if made:
            key.unlink()  # nothing was drawn from it
        raise
    if made:
        screen.print(
            f"New course key: {escape(str(key))}. Keep it, and a copy in a safe place: without it nothing can"
            " be marked.",
            soft_wrap=True,
        )
        if any((folder / ".git").exists() for folder in key.resolve().parents):
            screen.print("The key lies in a git project: never commit it.", soft_wrap=True)
    screen.print(
        f"{done.students} students: {escape(str(done.folder))}/notebooks and /sheets; to print for all:"
        " all_sheets.html",
        soft_wrap=True,
    )
    screen.print(
        f"{done.written} files are new. The set is frozen in {escape(str(done.frozen))}", soft_wrap=True
    )


@app.command("mark")
@plain_errors
def mark_class(
    folder: Annotated[
        Path,
        typer.Argument(metavar="FOLDER", help="Folder, or the learning system's zip, of what was handed in."),
    ],
    set_file: Annotated[Path, typer.Option("--set", metavar="SET.toml", help=SET_HELP)],
    roster: RosterFile,
    key: KeyFile,
    to: Annotated[Path, typer.Option(help="Folder for the results.")],
    template: Annotated[
        Path | None, typer.Option(help="Your own gradebook file, to be filled in as gradebook_filled.csv.")
    ] = None,
    column: Annotated[str | None, typer.Option(help="Points column in it; default: the set's title.")] = None,
) -> None:
    """Mark what came in: gradebook, feedback pages, class report, evidence, and what to look at."""
    from gearlab.course.coursekey import read_key
    from gearlab.course.gradebook import Template, fill_template
    from gearlab.course.marking import mark
    from gearlab.course.roster import read_roster

    students = read_roster(roster)
    if template:
        Template(template)  # refused before an hour of marking, not after it
    points: dict[str, float] = {}

    with screen.status(f"hand-ins of {len(students)} students") as status:
        count = 0

        def keep(student, reached):
            nonlocal count
            count += 1
            if not count % 50:
                status.update(f"{count} of {len(students)} students")
            if template and reached is not None:
                points[student.id] = reached

        done = mark(folder, _set(set_file), students, read_key(key), to, keep)
    _show_marking(done)
    if template:
        changes, unmatched = fill_template(
            template, to / "gradebook_filled.csv", points, students, column or done.title
        )
        screen.print(f"\ngradebook_filled.csv: {len(changes)} cells filled", soft_wrap=True)
        for line in unmatched:
            screen.print(f"  not matched: {escape(line)}", soft_wrap=True)


def _show_marking(done) -> None:
    from gearlab.course.gradebook import points_text
    from gearlab.course.intake import KINDS

    mean = (
        f", mean {points_text(done.points / done.marked)} of {points_text(done.out_of)} points"
        if done.marked
        else ""
    )
    screen.print(f"{done.marked} of {done.students} marked{mean}", soft_wrap=True)
    for note in done.notes:
        screen.print(f"Note: {escape(note)}", soft_wrap=True)
    for kind, words in KINDS.items():
        count = sum(problem.kind == kind for problem in done.problems)
        if count:
            screen.print(f"  {count:>4}  {words}")
    screen.print(
        f"Results in {escape(str(done.folder))}: gradebook.csv, feedback, report.html, evidence.json,"
        " problems.csv",
        soft_wrap=True,
    )


@app.command("try")
@plain_errors
def try_question(
    bank: Annotated[
        str, typer.Argument(metavar="BANK", help="A bank.toml, its folder, or the name of a lesson.")
    ],
    question: Annotated[str, typer.Argument(metavar="QUESTION", help="Id of the question.")],
    seed: Annotated[str, typer.Option(help="Other numbers for another seed.")] = "0",
    given: Annotated[
        list[str] | None,
        typer.Option("--given", metavar="NAME=VALUE", help="Set a given yourself; may be repeated."),
    ] = None,
    answer: Annotated[
        list[str] | None,
        typer.Option(
            "--answer", metavar="[ID=]TEXT", help="Your answer; may be repeated. Without it you are asked."
        ),
    ] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print verdicts, readings, key and givens as JSON.")
    ] = False,
) -> None:
    """Ask one question and say what happened; the numbers never come from a course key."""
    questions = _bank(bank)
    try:
        chosen = questions[question]
    except KeyError as error:
        there = ", ".join(each.id for each in questions)
        raise ValueError(f"question: {error.args[0]}; there are {there}") from None
    values = dict(_pair(text, "--given") for text in given or [])
    draw = chosen.draw_with(values, seed) if values else chosen.draw(seed)
    if answer is None:
        _show_question(chosen, draw)
        texts = {
            field.id: screen.input(
                f"{escape(field.label)}{escape(' [' + field.unit + ']') if field.unit else ''}: "
            )
            for field in chosen.fields
        }
    else:
        texts = _answers(chosen, answer)
    read = chosen.readings(texts)
    verdicts = chosen.judge(draw, texts, read=read)
    if as_json:
        sys.stdout.write(
            json.dumps(_as_data(chosen, draw, texts, read, verdicts), indent=1, ensure_ascii=False) + "\n"
        )
        return
    if answer is not None:
        _show_question(chosen, draw)
    _show_verdicts(chosen, read, verdicts)


def _show_verdicts(question: "Question", read: "dict[str, Reading]", verdicts: "dict[str, Verdict]") -> None:
    """Each verdict in a frame of its own; before them, how the choices of a design were read."""
    from gearlab.practice.verdict import NAMES

    if not question.judges_fields:
        lines = [
            f"{field.label}: {read[field.id].echo or read[field.id].problem}" for field in question.fields
        ]
        screen.print(Panel(escape("\n".join(lines)), title="your choice", title_align="left"))
    for answer in question.answers:
        verdict = verdicts[answer.id]
        text = (
            f"{verdict.read}\n{verdict.sentence}"
            if verdict.read and question.judges_fields
            else verdict.sentence
        )
        title = f"{answer.label}: {NAMES[verdict.kind]}, {verdict.points:g} of {verdict.out_of:g}"
        screen.print(Panel(escape(text), title=escape(title), title_align="left"))


def _bank(name: str):
    """A bank by its path or by the name of its lesson."""
    from gearlab.contents import lesson_bank
    from gearlab.practice import load_bank

    return (
        load_bank(Path(name))
        if Path(name).exists() or name.endswith(".toml")
        else load_bank(lesson_bank(name))
    )


def _set(path: Path) -> Path:
    """A set by its path or by its name."""
    from gearlab.contents import set_file

    return path if path.exists() else set_file(str(path))


def _pair(text: str, option: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip():
        raise ValueError(f"{option} {text!r}: write it as NAME=VALUE, such as driver_teeth=18")
    return name.strip(), value.strip()


def _answers(question, given: list[str]) -> dict[str, str]:
    """Typed answers by their id; those without one go to the answers in order."""
    ids = [one.id for one in question.fields]
    texts: dict[str, str] = {}
    for text in given:
        name, equals, value = text.partition("=")
        if equals and name.strip() in ids:
            texts[name.strip()] = value.strip()
            continue
        # "C = 78.75" is an answer too; what is nearly an id is one mistyped
        if equals and (near := difflib.get_close_matches(name.strip(), ids, n=1, cutoff=0.75)):
            raise ValueError(
                f"--answer {text!r}: question {question.id!r} has no answer {name.strip()!r};"
                f" did you mean {near[0]}?"
            )
        free = [identity for identity in ids if identity not in texts]
        if not free:
            raise ValueError(
                f"--answer {text!r}: question {question.id!r} has {len(ids)} answers ({', '.join(ids)});"
                " write ID=TEXT for one of them"
            )
        texts[free[0]] = text
    return texts


def _show_question(question, draw) -> None:
    lines = [escape(draw.prompt)]
    lines += [f"  {letter}) {escape(text)}" for letter, text in draw.options]
    screen.print(
        Panel(
            "\n".join(lines),
            title=escape(f"{question.title}  (level {question.level}, {question.minutes:g} min)"),
            title_align="left",
        )
    )


def _as_data(question, draw, texts: dict[str, str], read: "dict[str, Reading]", verdicts: dict) -> dict:
    answers = {}
    keys = question.keys(draw)
    for one in question.answers:
        verdict = verdicts[one.id]
        answers[one.id] = {
            "typed": question.typed(texts, one.id),
            "read": verdict.read.removeprefix("read as "),
            "verdict": verdict.kind,
            "causes": [{"name": cause.name, "sentence": cause.sentence} for cause in verdict.causes],
            "sentence": verdict.sentence,
            "key": keys[one.id].text if keys[one.id].value is None else keys[one.id].value,
            "unit": one.unit,
            "points": verdict.points,
            "out_of": verdict.out_of,
        }
    givens = {one.name: {"text": one.text, "value": one.value, "unit": one.unit} for one in draw.givens}
    if not question.judges_fields:
        choice = {
            one.id: {
                "typed": texts.get(one.id, ""),
                "read": read[one.id].echo.removeprefix("read as "),
                "value": one.number(read[one.id]),
                "unit": one.unit,
            }
            for one in question.fields
        }
        return {
            "question": question.id,
            "version": question.version,
            "prompt": draw.prompt,
            "givens": givens,
            "fields": choice,
            "answers": answers,
        }
    # A question with one answer says its verdict at the top as well: that is what most scripts want.
    only = next(iter(answers.values())) if len(answers) == 1 else {}
    return {
        "question": question.id,
        "version": question.version,
        "prompt": draw.prompt,
        "givens": givens,
        **only,
        "answers": answers,
    }


@app.command("bench")
@plain_errors
def bench(
    design: Annotated[Path, typer.Argument(metavar="DESIGN.toml", help="The design's file.")],
    to: Annotated[Path, typer.Option(help="Folder for the sheets, cut files, parts table and review.")],
    cut_width: Annotated[
        float, typer.Option(help="What the beam takes away [unit of the design]; --test-piece tells it.")
    ] = 0.0,
    clearance: Annotated[
        float,
        typer.Option(help="How far each flank of a printed part is set back [unit]; --test-piece tells it."),
    ] = 0.0,
    tolerance: Annotated[
        float | None, typer.Option(help="Largest distance from the exact curve: 0.005 mm or 0.0002 in.")
    ] = None,
    colour: Annotated[
        list[str] | None, typer.Option(metavar="LAYER=#RRGGBB", help="Colour of mark, hole or outline.")
    ] = None,
    sector: Annotated[
        list[str] | None, typer.Option(metavar="GEAR=FROM:TO", help="Make part of a gear, angles in deg.")
    ] = None,
    test_piece: Annotated[
        bool, typer.Option("--test-piece", help="Write the test piece for --cut-width and --clearance alone.")
    ] = False,
    solids: Annotated[
        bool, typer.Option("--solids", help='STL and 3MF, too; needs: pip install "gearlab[solids]".')
    ] = False,
    anyway: Annotated[
        bool, typer.Option("--anyway", help="Write the files of a design that does not pass its review, too.")
    ] = False,
    against: Annotated[
        Path | None, typer.Option(metavar="OLD.toml", help="An earlier file: tell what moved since.")
    ] = None,
) -> None:
    """Review a design and write its bench sheets: true-size PDF, SVG and DXF, a table of parts.

    Begin with --test-piece: push its peg into the slots and a shaft into the holes; the number at the one
    that is just filled is the --cut-width of a beam or the --clearance of a printer.
    """
    from gearlab.course.benchcommand import run
    from gearlab.course.benchfiles import Making, pairs_of, sectors_of

    colours = pairs_of("--colour", colour or (), "mark=#3f9c8a")
    making = Making(cut_width, clearance, tolerance, colours, sectors_of(sector or ()), solids)
    with screen.status("") as status:
        passes = run(
            design,
            to,
            making,
            anyway=anyway,
            test_piece=test_piece,
            against=against,
            say=lambda text: screen.print(escape(text), soft_wrap=True),
            tell=lambda what: status.update(escape(what)),
        )
    if not passes:
        raise typer.Exit(1)


@app.command("check")
@plain_errors
def check_banks(
    banks: Annotated[
        list[str],
        typer.Argument(
            metavar="BANK...", help="bank.toml files, their folders, names of lessons, or homework sets."
        ),
    ],
    draws: Annotated[int, typer.Option(min=1, max=10_000, help="Draws for each question.")] = 200,
) -> None:
    """Check question banks and sets.

    Every question drawn many times, its key derived, every listed slip told apart from the key.
    """
    from gearlab.contents import lesson_bank
    from gearlab.practice import check_bank, check_set, is_set, load_bank, load_set

    table = Table(title=f"{draws} draws for each question", title_justify="left")
    table.add_column("bank or set")
    for heading in ("questions", "problems"):
        table.add_column(heading, justify="right")
    found = []
    for name in banks:
        path = Path(name) if Path(name).exists() or name.endswith(".toml") else lesson_bank(name)
        of_set = is_set(path)
        with screen.status(f"drawing and judging {escape(str(name))}"):
            problems = (check_set if of_set else check_bank)(path, draws=draws)
        count = "-" if problems else str(len(load_set(path).entries if of_set else load_bank(path)))
        table.add_row(escape(str(name)), count, str(len(problems)) if problems else "none")
        found += problems
    screen.print(table)
    for problem in found:
        screen.print(escape(problem), soft_wrap=True)
    if found:
        raise typer.Exit(1)


main = app  # what the command `gearlab` runs

if __name__ == "__main__":
    main()
