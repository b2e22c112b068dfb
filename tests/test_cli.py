"""The command line, from outside: what it prints, how it ends, and never a traceback."""

import io
import json
import os
import re
import subprocess
import sys
import time
import urllib.request
import zipfile
from pathlib import Path

import pytest
from typer.testing import CliRunner

sys.path.insert(0, str(Path(__file__).parent / "course"))
from greenhouse import hand_in, right_answers, sheet_of, write_course  # noqa: E402

from gearlab.cli import app  # noqa: E402
from gearlab.cli.root import screen  # noqa: E402

ROOT = Path(__file__).parent.parent


def run(*arguments, typed=None):
    return CliRunner().invoke(app, [str(argument) for argument in arguments], input=typed)


@pytest.fixture
def course(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    write_course(tmp_path / "exercises")
    (tmp_path / "class.csv").write_text(
        "id,name,email\n007,Ada,ada@school.example\n012,Ben,ben@school.example\n", encoding="utf-8"
    )
    return tmp_path


def test_what_each_command_does_is_read_whole_in_a_narrow_terminal(monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    lines = run("--help").output.split("Commands:")[1].strip().splitlines()
    assert len(lines) >= 15 and all(line.endswith(".") and not line.endswith("...") for line in lines)


def test_long_lines_are_broken_between_words_in_a_terminal_only():
    words = "Next: put what they hand in into hand-ins/homework-1, then mark it, and read the report."
    for terminal, lines in ((True, 3), (False, 1)):
        console = type(screen)(file=io.StringIO(), force_terminal=terminal, color_system=None, width=40)
        console.print(words, soft_wrap=True)
        told = console.file.getvalue().splitlines()
        assert len(told) == lines and " ".join(line.strip() for line in told) == words
        assert all(len(line) <= 40 for line in told) or not terminal


HAND_OUT = (
    "hand-out",
    "exercises/sets/homework_1.toml",
    "--roster",
    "class.csv",
    "--key",
    "own/course.key",
    "--to",
    "out",
)
MARK = (
    "mark",
    "came",
    "--set",
    "exercises/sets/homework_1.toml",
    "--roster",
    "class.csv",
    "--key",
    "own/course.key",
    "--to",
    "results",
)


def test_from_hand_out_to_a_filled_gradebook(course):
    done = run(*HAND_OUT)
    assert done.exit_code == 0, done.output
    assert "New course key" in done.output and "2 students" in done.output
    assert (course / "own" / "course.key").stat().st_mode & 0o077 == 0 or os.name != "posix"
    (course / "came").mkdir()
    sheet = sheet_of(course / "out" / "notebooks" / "homework-1_007.ipynb")
    (course / "came" / sheet["file"]).write_text(hand_in(sheet, right_answers(sheet)))
    (course / "down.csv").write_text(
        "Login,Homework 1: the vent drive,Total\nada@school.example,,5\nben@school.example,3,6\n"
    )
    done = run(*MARK, "--template", "down.csv")
    assert done.exit_code == 0, done.output
    assert "1 of 2 marked, mean 12 of 12 points" in done.output and "nothing handed in" in done.output
    filled = (course / "results" / "gradebook_filled.csv").read_text()
    assert (
        filled == "Login,Homework 1: the vent drive,Total\nada@school.example,12,5\nben@school.example,3,6\n"
    )
    assert run(*HAND_OUT).exit_code == 0  # the same again is no error


@pytest.mark.parametrize(
    ("spoil", "arguments", "words"),
    [
        (lambda c: (c / "class.csv").write_text("id,name\n1,A\n1,B\n"), HAND_OUT, "line 2 and in line 3"),
        (lambda c: (c / "class.csv").unlink(), HAND_OUT, "class.csv"),
        (
            lambda c: None,
            (
                "hand-out",
                "exercises/sets/homework_1.toml",
                "--roster",
                "class.csv",
                "--key",
                "out/course.key",
                "--to",
                "out",
            ),
            "handed out",
        ),
        (lambda c: (c / "exercises/sets/homework_1.toml").write_text("[set]\n"), HAND_OUT, "homework_1.toml"),
        (lambda c: (c / "exercises/sets/homework_1.toml").unlink(), HAND_OUT, "no such file"),
        (lambda c: (c / "exercises/vent/bank.toml").write_text("x ="), HAND_OUT, "bank.toml"),
        (lambda c: (c / "came").mkdir(), MARK, "no such file"),
        (lambda c: (run(*HAND_OUT), (c / "own/course.key").chmod(0o644)), MARK, "rights 644"),
        (lambda c: run(*HAND_OUT), MARK, "neither a folder nor a zip"),
    ],
)
def test_errors_are_sentences_with_exit_code_2(course, spoil, arguments, words):
    spoil(course)
    done = run(*arguments)
    assert done.exit_code == 2, done.output
    assert words in done.output.replace("\n", " ") and "Traceback" not in done.output
    assert done.output.startswith("gearlab: ")
    assert not (course / "results").exists()


def test_a_failed_first_hand_out_leaves_no_key(course):
    (course / "exercises/vent/bank.toml").write_text("x =")
    run(*HAND_OUT)
    assert not (course / "own" / "course.key").exists()


def test_a_set_without_fair_numbers_names_question_and_student(course):
    bank = course / "exercises" / "vent" / "bank.toml"
    bank.write_text(
        bank.read_text().replace(
            "[question.givens]", 'where = ["driver_teeth > driven_teeth"]\n[question.givens]', 1
        )
    )
    done = run(*HAND_OUT)
    assert (
        done.exit_code == 2
        and "'007'" in done.output
        and "'shafts'" in done.output
        and "gearlab-edition" not in done.output
    )
    assert not (course / "out").exists() and not (course / "own" / "course.key").exists()


def test_a_set_that_comes_with_the_exercises_is_found_by_its_name(course):
    done = run("hand-out", "homework-1", *HAND_OUT[2:])
    assert done.exit_code == 0, done.output
    done = run("hand-out", "homework-9", *HAND_OUT[2:])
    assert done.exit_code == 2 and "there are homework-1" in done.output


def test_version():
    assert run("--version").output.startswith("gearlab ")


def test_try_prints_the_verdict_as_data(course):
    asked = json.loads(run("try", "exercises/vent/bank.toml", "shafts", "--answer", "1 mm", "--json").output)
    g = {name: given["value"] for name, given in asked["givens"].items()}
    right = g["module"] * (g["driver_teeth"] + g["driven_teeth"]) / 2  # C = m (N1 + N2) / 2
    again = json.loads(
        run("try", "exercises/vent", "shafts", "--answer", f"centre_distance={right} mm", "--json").output
    )
    answer = again["answers"]["centre_distance"]
    assert (
        again["givens"] == asked["givens"] and again["verdict"] == "right" and again["read"] == answer["read"]
    )
    assert answer["verdict"] == "right" and answer["points"] == 2 and answer["key"] == pytest.approx(right)
    slip = json.loads(
        run(
            "try",
            "exercises/vent",
            "shafts",
            "--answer",
            f"{g['module'] * (g['driver_teeth'] + g['driven_teeth'] + 4) / 2}",
            "--json",
        ).output
    )
    assert slip["answers"]["centre_distance"]["causes"][0]["name"] == "tips"
    other = json.loads(
        run("try", "exercises/vent", "shafts", "--seed", "7", "--answer", "1", "--json").output
    )
    assert other["givens"] != asked["givens"]


def test_try_refuses_an_answer_whose_name_is_mistyped(course):
    result = run("try", "exercises/vent/bank.toml", "shafts", "--answer", "centre_distanse=78.75 mm")
    assert result.exit_code == 2 and "did you mean centre_distance?" in " ".join(result.output.split())


def test_try_takes_several_answers_and_asks_on_the_terminal(course):
    done = run("try", "exercises/vent", "pinion", "--answer", "1", "--answer", "base_diameter=2", "--json")
    typed = {name: answer["typed"] for name, answer in json.loads(done.output)["answers"].items()}
    assert typed == {"pitch_diameter": "1", "outside_diameter": "", "base_diameter": "2"}
    asked = run("try", "exercises/vent", "direction", typed="a\n")
    assert asked.exit_code == 0 and "Which way" in asked.output and "your choice" in asked.output
    shown = run("try", "exercises/vent", "pitch", "--answer", "no idea [bold]")
    assert shown.exit_code == 0 and "could not be read" in shown.output


def test_try_takes_givens(course):
    asked = json.loads(
        run(
            "try",
            "exercises/vent",
            "shafts",
            "--given",
            "driver_teeth=18",
            "--given",
            "driven_teeth=45",
            "--given",
            "module=2.5",
            "--answer",
            "78,75 mm",
            "--json",
        ).output
    )
    # 2.5 (18 + 45) / 2 = 78.75, the vent drive of the scenario
    assert asked["answers"]["centre_distance"]["verdict"] == "right" and asked["answers"]["centre_distance"][
        "key"
    ] == pytest.approx(78.75)
    for given, words in (
        ("module=-2", "module=-2"),
        ("driver_teeth=18.5", "whole number"),
        ("module=two", "'two'"),
        ("teeth=18", "driver_teeth, driven_teeth, module"),
        ("module", "NAME=VALUE"),
    ):
        done = run("try", "exercises/vent", "shafts", "--given", given, "--answer", "1")
        assert done.exit_code == 2 and words in done.output


def test_try_and_check_name_what_there_is(course):
    done = run("try", "exercises/vent", "shaft", "--answer", "1")
    assert done.exit_code == 2 and "shafts" in done.output
    done = run("try", "no_such_lesson", "shafts", "--answer", "1")
    assert done.exit_code == 2 and "no_such_lesson" in done.output
    done = run("try", "exercises/vent", "pitch", "--answer", "1", "--answer", "2")
    assert done.exit_code == 2 and "circular_pitch" in done.output


def test_check_proves_a_good_bank_and_finds_a_bad_one(course):
    done = run("check", "exercises/vent", "--draws", "20")
    assert done.exit_code == 0 and "none" in done.output, done.output
    bank = course / "exercises" / "vent" / "bank.toml"
    # a listed slip that gives the right number for every draw
    bank.write_text(
        bank.read_text().replace(
            "module*(driver_teeth+driven_teeth+4)/2", "module*(driver_teeth+driven_teeth)/2"
        )
    )
    done = run("check", "exercises/vent", "--draws", "20")
    assert done.exit_code == 1 and "shafts" in done.output


def test_check_proves_a_set_too(course):
    homework = course / "exercises" / "sets" / "homework_1.toml"
    done = run("check", homework, "--draws", "20")
    assert done.exit_code == 0 and "none" in done.output, done.output
    homework.write_text(homework.read_text().replace('id = "shafts"', 'id = "shaft"'))
    done = run("check", homework, "--draws", "20")
    assert done.exit_code == 1 and "'shaft'" in done.output and "shafts" in done.output
    homework.write_text("[set\n")
    done = run("check", homework)
    assert done.exit_code == 1 and "not valid TOML" in done.output


def test_a_real_process_shows_no_traceback_and_starts_without_the_heavy_parts(tmp_path):
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            (
                "import sys; from gearlab.cli import main; print([m for m in ('matplotlib', 'ipywidgets',"
                " 'shapely') if m in sys.modules])"
            ),
        ],
        capture_output=True,
        text=True,
        cwd=tmp_path,
        check=True,
    )
    assert done.stdout.strip() == "[]"
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "gearlab",
            "mark",
            "nowhere",
            "--set",
            "s.toml",
            "--roster",
            "r.csv",
            "--key",
            "k",
            "--to",
            "t",
        ],
        capture_output=True,
        text=True,
        cwd=tmp_path,
    )
    assert (
        done.returncode == 2
        and done.stderr.startswith("gearlab: roster r.csv")
        and "Traceback" not in done.stderr
    )


def test_the_wheel_carries_lessons_exercises_and_templates(tmp_path):
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    for part in (
        "course/templates/sheet.html",
        "course/templates/page.css",
        "course/lab_settings/overrides.json",
        "cli/__init__.py",
        "contents.py",
    ):
        assert f"gearlab/{part}" in names
    for folder in ("notebooks", "exercises"):
        kept = {
            path.relative_to(ROOT / folder).as_posix()
            for path in (ROOT / folder).rglob("*")
            if path.suffix in (".ipynb", ".toml", ".md") and ".ipynb_checkpoints" not in path.parts
        }
        assert kept <= {
            name.removeprefix(f"gearlab/content/{folder}/")
            for name in names
            if name.startswith(f"gearlab/content/{folder}/")
        }
    assert not [
        name
        for name in names
        if name.endswith(".key")
        or "HAND-IN" in name
        or "roster" in name.lower()
        and not name.endswith("roster.py")
    ]
    # The unpacked wheel finds its own content, also where a project's pyproject.toml is nowhere near.
    zipfile.ZipFile(wheel).extractall(tmp_path / "site")
    code = "from gearlab.contents import content_folder as f; print(f('exercises')); print(f('notebooks'))"
    done = subprocess.run(
        [sys.executable, "-I", "-c", f"import sys; sys.path.insert(0, {str(tmp_path / 'site')!r}); {code}"],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
    )
    assert done.stdout.split() == [
        str(tmp_path / "site" / "gearlab" / "content" / name) for name in ("exercises", "notebooks")
    ]


@pytest.mark.skipif(os.name != "posix", reason="the process is ended by a signal")
def test_copy_brings_the_lessons_and_starts_nothing(tmp_path):
    done = run("copy", "--folder", tmp_path / "mine")
    assert done.exit_code == 0 and "copied 01_teeth_and_diameter.ipynb" in done.output
    assert "Ctrl+C" not in done.output
    (tmp_path / "mine" / "01_teeth_and_diameter.ipynb").write_text("my own notes", encoding="utf-8")
    again = run("copy", "--folder", tmp_path / "mine")
    assert again.exit_code == 0 and "copied" not in again.output
    assert (tmp_path / "mine" / "01_teeth_and_diameter.ipynb").read_text(encoding="utf-8") == "my own notes"
    (tmp_path / "file").write_text("", encoding="utf-8")
    refused = run("copy", "--folder", tmp_path / "file" / "below")
    assert refused.exit_code == 2 and "--folder" in refused.output + refused.stderr


def test_open_copies_the_lessons_and_starts_the_lab_on_them(tmp_path):
    lessons = sorted(path.name for path in (ROOT / "notebooks").glob("[0-9]*.ipynb"))
    # Warnings of JupyterLab's own parts are not ours: as errors they would keep it from ending.
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONWARNINGS"} | {
        "HOME": str(tmp_path)
    }
    command = [
        sys.executable,
        "-m",
        "gearlab",
        "open",
        "--folder",
        str(tmp_path / "mine"),
        "--no-browser",
    ]
    with (
        open(tmp_path / "said", "w+") as said,
        subprocess.Popen(
            command, env=environment, stdout=said, stderr=subprocess.STDOUT, cwd=tmp_path
        ) as process,
    ):
        try:
            for _ in range(400):
                found = list((tmp_path / ".local/share/jupyter/runtime").glob("jpserver-*.json"))
                if found or process.poll() is not None:
                    break
                time.sleep(0.2)
            text = (tmp_path / "said").read_text()
            assert found, text
            server = json.loads(found[0].read_text())
            assert server["root_dir"] == str(tmp_path / "mine")
            for _ in range(50):
                try:
                    with urllib.request.urlopen(
                        f"{server['url']}api/contents?token={server['token']}", timeout=10
                    ) as answer:
                        names = {entry["name"] for entry in json.load(answer)["content"]}
                    break
                except OSError:
                    time.sleep(0.2)
            assert names >= set(lessons)
            assert f"Your lessons are in {tmp_path / 'mine'}" in text and (
                not lessons or f"copied {lessons[0]}" in text
            )
        finally:
            process.terminate()
            try:
                process.wait(timeout=20)
            except subprocess.TimeoutExpired:
                process.kill()


@pytest.mark.parametrize(
    "name, near",
    [
        ("04", "04_ratio_speed_direction"),
        ("4", "04_ratio_speed_direction"),
        ("contact", "07_contact"),
        ("07_contcat", "07_contact"),
    ],
)
def test_try_names_the_near_lesson(name, near):
    result = run("try", name, "shafts")
    assert result.exit_code == 2 and f"did you mean {near}?" in result.output


def test_python_runs_the_package_as_the_command():
    command = [sys.executable, "-m", "gearlab", "--version"]
    shown = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert re.fullmatch(r"gearlab \d+\.\d+\S*\n", shown)


def test_try_takes_a_choice_of_several_numbers():
    # 18 and 45 teeth share the factor 9 (worked by hand in tests/practice/test_design.py)
    bank = str(Path(__file__).parent / "practice" / "data" / "16_choosing")
    done = json.loads(
        run(
            "try",
            bank,
            "hunting-pair",
            "--given",
            "wanted_ratio=2.5",
            "--answer",
            "18",
            "--answer",
            "driven_teeth=45 teeth",
            "--json",
        ).output
    )
    assert done["fields"]["driven_teeth"] == {
        "typed": "45 teeth",
        "read": "45 teeth",
        "value": 45,
        "unit": "teeth",
    }
    assert {name: one["verdict"] for name, one in done["answers"].items()} == {
        "ratio": "right",
        "distance": "right",
        "drawer": "right",
        "hunting": "not met",
    }
    shown = run("try", bank, "hunting-pair", typed="3.5\n45\n").output
    assert (
        "teeth of the crank gear [teeth]:" in shown
        and "A whole number is needed here." in shown
        and "could not be read, 0 of 2" in shown
    )
