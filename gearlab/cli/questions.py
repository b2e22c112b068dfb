"""`gearlab try` and `gearlab check`: one question, and whole banks."""

import difflib
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from rich.markup import escape
from rich.panel import Panel
from rich.table import Table

from gearlab.cli.places import say
from gearlab.cli.root import app, plain_errors, screen

if TYPE_CHECKING:
    from gearlab.practice.question import Question
    from gearlab.practice.typed.reading import Reading
    from gearlab.practice.verdict import Verdict


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
    """Ask one question here, with numbers that are no student's."""
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
    from gearlab.practice.solution import told_once
    from gearlab.practice.verdict import NAMES

    if not question.judges_fields:
        lines = [
            f"{field.label}: {read[field.id].echo or read[field.id].problem}" for field in question.fields
        ]
        screen.print(Panel(escape("\n".join(lines)), title="your choice", title_align="left"))
    sentences = told_once(question, verdicts)
    for answer in question.answers:
        verdict, text = verdicts[answer.id], sentences[answer.id]
        if verdict.read and question.judges_fields:
            text = f"{verdict.read}\n{text}"
        text = question.remark(verdict) if verdict.open else text
        title = f"{answer.label}: {NAMES[verdict.kind]}, {verdict.points:g} of {verdict.out_of:g}"
        screen.print(Panel(escape(text), title=escape(title), title_align="left"))


def _bank(name: str):
    """A bank by its path or by the name of its lesson."""
    from gearlab.practice import load_bank

    return load_bank(_path_of(name))


def _path_of(name: str) -> Path:
    from gearlab.contents import lesson_bank

    return Path(name) if Path(name).exists() or name.endswith(".toml") else lesson_bank(name)


def _pair(text: str, option: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals or not name.strip():
        raise ValueError(f"{option} {text!r}: write it as NAME=VALUE, such as driver_teeth=18")
    return name.strip(), value.strip()


def _answers(question, given: list[str]) -> dict[str, str]:
    """Typed answers by their id; those without one go to the answers in order."""
    ids = [field.id for field in question.fields]
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
    for answer in question.answers:
        verdict = verdicts[answer.id]
        answers[answer.id] = {
            "typed": question.typed(texts, answer.id),
            "read": verdict.read.removeprefix("read as "),
            "verdict": verdict.kind,
            "causes": [{"name": cause.name, "sentence": cause.sentence} for cause in verdict.causes],
            "sentence": verdict.sentence,
            "key": keys[answer.id].text if keys[answer.id].value is None else keys[answer.id].value,
            "unit": answer.unit,
            "points": verdict.points,
            "out_of": verdict.out_of,
        }
    givens = {
        given.name: {"text": given.text, "value": given.value, "unit": given.unit} for given in draw.givens
    }
    asked = {
        "question": question.id,
        "version": question.version,
        "prompt": draw.prompt,
        "givens": givens,
    }
    if question.judges_fields:
        # A question with one answer says its verdict at the top as well: that is what most scripts want.
        only = next(iter(answers.values())) if len(answers) == 1 else {}
        return {**asked, **only, "answers": answers}
    choice = {
        field.id: {
            "typed": texts.get(field.id, ""),
            "read": read[field.id].echo.removeprefix("read as "),
            "value": field.number(read[field.id]),
            "unit": field.unit,
        }
        for field in question.fields
    }
    return {**asked, "fields": choice, "answers": answers}


@app.command("check")
@plain_errors
def check_banks(
    banks: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="BANK...", help="bank.toml files, their folders, names of lessons, or homework sets."
        ),
    ] = None,
    draws: Annotated[int, typer.Option(min=1, max=10_000, help="Draws for each question.")] = 200,
    words: Annotated[
        bool,
        typer.Option(
            "--words", help="List the words one may ask for with a kind (such as pair); alone, the kinds."
        ),
    ] = False,
    new: Annotated[
        bool,
        typer.Option("--new", help="Write a commented bank and set of your own to a new FILE or folder."),
    ] = False,
) -> None:
    """Check question banks and sets.

    Draws each question many times, works out its answer, and makes sure that no listed slip gives the right
    answer. Begin with `gearlab check --new my_questions`, read what it wrote, and check that; `gearlab check
    --words pair` lists what may be asked.
    """
    if words and new:
        raise ValueError("--words lists words, --new writes files: give one of the two")
    if words:
        _list_words(banks or [])
    elif new:
        _begin(banks or [])
    elif not banks:
        raise ValueError(
            "name what to check: a bank.toml, its folder, the name of a lesson or a homework set; `gearlab"
            " check --new my_questions` writes one to begin with"
        )
    else:
        _check(banks, draws)


def _list_words(kinds: list[str]) -> None:
    from gearlab.practice.checks.askable import kinds_in_words, kinds_named, words_in_words

    lists = [words_in_words(kind) for kind in kinds_named(kinds)] if kinds else [kinds_in_words()]
    for place, lines in enumerate(lists):
        sys.stdout.write("\n" * bool(place) + "\n".join(lines) + "\n")


def _begin(places: list[str]) -> None:
    from gearlab.practice.checks.starter import write_starter

    if len(places) != 1:
        raise ValueError("--new: name one file or folder to write, such as gearlab check --new my_questions")
    bank, homework = write_starter(Path(places[0]))
    for what, path in (("bank", bank), ("set", homework)):
        say(f"{what}: {path}")
    say(f"Read the comments, then change one thing at a time and run: gearlab check {homework}")


def _check(banks: list[str], draws: int) -> None:
    from gearlab.practice import check_bank, check_set, is_set, load_bank, load_set

    table = Table(title=f"{draws} draws for each question", title_justify="left")
    table.add_column("bank or set")
    for heading in ("questions", "problems"):
        table.add_column(heading, justify="right")
    faults = []
    for name in banks:
        path = _path_of(name)
        of_set = is_set(path)
        with screen.status(f"drawing and judging {escape(str(name))}"):
            problems = (check_set if of_set else check_bank)(path, draws=draws)
        count = "-" if problems else str(len(load_set(path).entries if of_set else load_bank(path)))
        table.add_row(escape(str(name)), count, str(len(problems)) if problems else "none")
        faults += problems
    screen.print(table)
    for problem in faults:
        say(problem)
    if faults:
        raise typer.Exit(1)
