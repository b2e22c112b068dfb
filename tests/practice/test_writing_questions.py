"""What an author meets: near words for mistyped ones, words to ask for, a bank and a set to begin with."""

import json
import math
import re
import sys
import tomllib
from pathlib import Path

import pytest
from typer.testing import CliRunner

sys.path.insert(0, str(Path(__file__).parents[1] / "course"))
from greenhouse import hand_in, sheet_of  # noqa: E402

from gearlab.cli import app
from gearlab.practice import check_bank, check_set
from gearlab.practice.checks.askable import words_to_ask
from gearlab.practice.checks.starter import OFF, write_starter
from gearlab.theory.derivation import words_of
from gearlab.theory.scope import KINDS

EVERYTHING = """
[bank]
title = "All there is"
lesson = "own"

[[question]]
id = "vent"
version = 1
kind = "number"
of = "pair"
features = ["set distance"]
length_unit = "mm"
notation = "iso"
tooth_system = "full depth"
level = 2
minutes = 5
title = "Vent"
prompt = "{driver_teeth} and {driven_teeth} teeth at {driver_speed} rpm"
hints = ["a", "b", "c"]
idea = "i"
care = ["turning"]
where = ["driver_teeth < driven_teeth"]
[question.givens]
driver_teeth = { from = 16, to = 20, step = 1 }
driven_teeth = { one_of = [40, 41] }
driver_speed = { one_of = [40, 42], unit = "rpm" }
extra = { one_of = [1, 2], local = true, unit = "mm", label = "extra", symbol = "e" }
[[question.answers]]
id = "ratio"
label = "ratio"
asked = "ratio"
given = ["driver_teeth", "driven_teeth"]
tolerance = { relative = 0.001, absolute = 0 }
points = 1
[[question.answers]]
asked = "driven_speed"
uses = ["ratio"]
carry = "-driver_speed / ratio"
proof = "-1 / ratio * driver_speed"
unit = "rpm"
[[question.answers.slips]]
name = "doubled"
title = "doubled it"
formula = "driver_speed * 2"
says = "No."
credit = 0.5
where = ["driver_teeth > 2"]
[[question.answers]]
id = "path"
label = "path"
formula = "extra * driven_speed"
proof = "extra == path / driven_speed"
range = { from = -500, to = 0 }
rule = "r"
symbol = "s"
source = "common practice"
whole = "up"

[[question]]
id = "formula"
kind = "expression"
title = "F"
prompt = "C of N1, N2 and m"
hints = ["a", "b", "c"]
[question.givens]
driver_teeth = { from = 16, to = 20, step = 1 }
driven_teeth = { one_of = [40, 41] }
module = { one_of = [2, 3] }
[[question.answers]]
asked = "centre_distance"
symbols = ["driver_teeth", "driven_teeth", "module"]

[[question]]
id = "design"
kind = "design"
title = "D"
prompt = "About {wanted} to 1"
hints = ["a", "b", "c"]
givens = { wanted = { one_of = [2.5, 2.6], local = true } }
example = { driver_teeth = 18, driven_teeth = "nearest(18 * wanted)" }
bad_example = { driver_teeth = 18, driven_teeth = 18 }
fields = [
    { word = "driver_teeth", label = "d", from = 6, to = 99 },
    { word = "driven_teeth", label = "w", from = 6, to = 99 },
]
[[question.conditions]]
id = "ratio"
title = "ratio"
formula = "abs(ratio - wanted) <= 0.1"
near = "abs(ratio - wanted) <= 0.2"
shows = "ratio"
wanted = "near {wanted}"
says = "s"
points = 2
"""
# Fields whose texts are for readers, or names that the author chooses.
FREE = {
    "title",
    "prompt",
    "hints",
    "says",
    "label",
    "idea",
    "rule",
    "source",
    "lesson",
    "id",
    "name",
    "symbol",
}
FORMULAS = {"where", "carry", "proof", "formula", "near", "shows", "example", "bad_example"}
SET = """
[set]
name = "own"
title = "O"
use = "marked"
attempts = "kept"
[[question]]
bank = "bank.toml"
id = "vent"
points = 2
"""


def mistyped(word):
    """A letter twice: the commonest slip of a key (common practice)."""
    middle = len(word) // 2
    return word[:middle] + word[middle] + word[middle:]


def written(value):
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(key)} = {written(part)}" for key, part in value.items()) + " }"
    return "[" + ", ".join(map(written, value)) + "]" if isinstance(value, list) else json.dumps(value)


def spoiled(data, free, key=""):
    """Each (word, data with that word mistyped): names of fields and givens, and words among the values."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield name, {mistyped(name) if other == name else other: part for other, part in data.items()}
            inner = name if name in free or not key else key if key in FORMULAS else name
            yield from ((word, data | {name: other}) for word, other in spoiled(value, free, inner))
    elif isinstance(data, list):
        for place, value in enumerate(data):
            yield from (
                (word, [*data[:place], other, *data[place + 1 :]])
                for word, other in spoiled(value, free, key)
            )
    elif isinstance(data, str) and key in ("prompt", "wanted"):
        yield from (
            (word, data.replace(f"{{{word}}}", f"{{{mistyped(word)}}}"))
            for word in re.findall(r"{(\w+)}", data)
        )
    elif isinstance(data, str) and key in FORMULAS:
        for word in re.findall(r"[a-z_]{4,}", data):
            yield word, data.replace(word, mistyped(word), 1)
    elif isinstance(data, str) and key not in free:
        yield data, mistyped(data)


def test_every_mistyped_word_of_a_bank_is_told_with_its_place_and_the_near_word(tmp_path):
    path = tmp_path / "bank.toml"
    data = tomllib.loads(EVERYTHING)
    path.write_text(EVERYTHING, encoding="utf-8")
    assert check_bank(path, 4) == []
    cases = list(spoiled(data, FREE))
    assert len(cases) > 150
    missed = []
    for word, other in cases:
        path.write_text(
            "\n".join(f"{name} = {written(part)}" for name, part in other.items()), encoding="utf-8"
        )
        lines = check_bank(path, 2)
        # where a name is made (a local given) it is what uses it that is told, with the name as it stands now
        names = f"{word}|{mistyped(word)}" if word in ("extra", "wanted") else re.escape(word)
        near = re.compile(rf"near: [^;]*\b({names})\b|writes it '{names}'|mean '{names}'")
        if not any(near.search(line) and str(path) in line for line in lines):
            missed.append((word, mistyped(word), lines))
    assert not missed


def test_every_mistyped_word_of_a_set_is_told_too(tmp_path):
    (tmp_path / "bank.toml").write_text(EVERYTHING, encoding="utf-8")
    path = tmp_path / "set.toml"
    for word, other in spoiled(tomllib.loads(SET), FREE - {"id"}):
        path.write_text(
            "\n".join(f"{name} = {written(part)}" for name, part in other.items()), encoding="utf-8"
        )
        lines = check_set(path, 2)
        assert any(f"near: {word}" in line and str(path) in line for line in lines), (word, lines)


run = CliRunner()


def test_the_words_of_a_kind_are_listed_in_eighty_columns():
    done = run.invoke(app, ["check", "--words"])
    assert done.exit_code == 0 and all(kind in done.output for kind in KINDS)
    for kind in ("pair", "rack and pinion", "planetary set", "key"):
        done = run.invoke(app, ["check", "--words", *kind.split()])
        assert done.exit_code == 0 and max(map(len, done.output.splitlines())) <= 80
        assert all(f" {word}:" in done.output for word in words_of(kind))
    # P and N in the inch notation, m and z in ISO 21771; a module is a length, a speed is in rev/min
    words = {row.word: row for row in words_to_ask("pair")}
    assert (words["driver_teeth"].inch, words["driver_teeth"].iso) == ("N1", "z1")
    assert (words["module"].metric_unit, words["module"].inch_unit, words["driven_speed"].metric_unit) == (
        "mm",
        "in",
        "rpm",
    )
    for name, near in (
        ("module", "'pair'"),
        ("pear", "near: pair"),
        ("rack", "rack and pinion"),
        ("center_distance", "centre_distance"),
    ):
        done = run.invoke(app, ["check", "--words", name])
        assert done.exit_code == 2 and near in done.output


def switched_on(text, blocks):
    lines, place, last = text.splitlines(), -1, -2
    for number, line in enumerate(lines):
        if line.startswith(OFF):
            place += number != last + 1
            last = number
            if blocks is None or place in blocks:
                lines[number] = line.removeprefix(OFF)
    return "\n".join(lines) + "\n", place + 1


def test_the_starter_passes_and_so_does_each_example_in_it(tmp_path):
    bank, homework = write_starter(tmp_path / "My Questions")
    assert (bank.name, homework.name) == ("bank.toml", "set.toml") and check_set(homework, 100) == []
    text = bank.read_text(encoding="utf-8")
    _, count = switched_on(text, ())
    assert count >= 8
    for blocks in (*({place} for place in range(count)), None):
        bank.write_text(switched_on(text, blocks)[0], encoding="utf-8")
        assert check_bank(bank, 15) == [], blocks
    homework.write_text(switched_on(homework.read_text(encoding="utf-8"), None)[0], encoding="utf-8")
    assert check_set(homework, 5) == []
    kinds = {question["kind"] for question in tomllib.loads(text)["question"]}
    assert (
        kinds == {"number", "choice", "expression", "design", "reading", "reason"} and "\nformula = " in text
    )


def test_what_is_there_is_never_overwritten(tmp_path):
    place = tmp_path / "own.toml"
    done = run.invoke(app, ["check", "--new", str(place)])
    assert done.exit_code == 0 and (tmp_path / "own_set.toml").exists(), done.output
    place.unlink()
    (tmp_path / "own_set.toml").write_text("mine")
    done = run.invoke(app, ["check", "--new", str(place)])
    assert done.exit_code == 2 and "stays as it is" in done.output
    assert not place.exists() and (tmp_path / "own_set.toml").read_text() == "mine"


@pytest.mark.parametrize("arguments", [["--new"], ["--new", "a", "b"], ["--new", "--words"], []])
def test_what_cannot_be_meant_is_said(arguments):
    done = run.invoke(app, ["check", *arguments])
    assert done.exit_code == 2 and "gearlab:" in done.output


def test_the_starter_is_handed_out_and_marked(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    write_starter(Path("mine"))
    Path("roster.csv").write_text("id,name\ns1,Ada\ns2,Ben\n")
    common = ["--set", "mine/set.toml", "--roster", "roster.csv", "--key", "course.key"]
    done = run.invoke(app, ["hand-out", "mine/set.toml", *common[2:], "--to", "out"])
    assert done.exit_code == 0, done.output
    sheet = sheet_of(Path("out/notebooks/mine_s1.ipynb"))
    assert "_own_" not in json.dumps(sheet)
    givens = {q["id"]: {name: float(text) for name, text in q["givens"].items()} for q in sheet["questions"]}
    speed, design, blank, tips = (
        givens[name] for name in ("vent-speed", "counts-for-a-ratio", "blank-mass", "measure-a-gear")
    )
    options = next(q["options"] for q in sheet["questions"] if q["id"] == "which-way")
    ring = blank["outside_diameter"] ** 2 - blank["bore"] ** 2
    answers = {  # by the plain definitions
        "vent-speed": {
            "driven_speed": f"{-speed['driver_speed'] * speed['driver_teeth'] / speed['driven_teeth']:.6g}"
        },
        "which-way": {"choice": str(options.index("Counter-clockwise") + 1)},
        "distance-formula": {"centre_distance": "m(z1 + z2)/2"},
        "counts-for-a-ratio": {"driver_teeth": "18", "driven_teeth": f"{round(18 * design['ratio_asked'])}"},
        "blank-mass": {"mass": f"{blank['density'] * math.pi / 4 * ring * blank['face_width'] / 1000:.6g} g"},
        "measure-a-gear": {
            "outside_diameter": f"{tips['module'] * (tips['teeth'] + 2):.6g} mm",
            "pitch_diameter": f"{tips['module'] * tips['teeth']:.6g} mm",
        },
    }
    Path("came").mkdir()
    Path("came", sheet["file"]).write_text(hand_in(sheet, answers))
    done = run.invoke(app, ["mark", "came", *common, "--to", "results"])
    assert done.exit_code == 0 and "mean 15 of 17 points" in done.output, done.output  # no reason was written
