"""The board: states, half files and foreign ones, causes, dots, tallies; nothing lost while many write."""

from __future__ import annotations

import io
import json
import os
import re
import threading

import pytest
from labclass import sheets_of, work, written
from rich.console import Console

from gearlab.cli import labs
from gearlab.contents import lab_file
from gearlab.course.lab import lab_board, make_lab, open_board
from gearlab.course.lab.boardpage import board_html
from gearlab.course.lab.folder import hand_in_by_hand
from gearlab.course.lab.typing_in import questions_of, taken
from gearlab.course.lab.watching import RACY, STUCK
from gearlab.practice.workbook.attempts import record

NOON = 1_800_000_000.0  # a time far from that of any file written here: no look is a second one


@pytest.fixture(scope="module")
def empty(tmp_path_factory):
    folder = tmp_path_factory.mktemp("board") / "lab"
    make_lab(lab_file("lab-1"), folder, 12, make_ups=1, parts=False)
    return folder


@pytest.fixture(autouse=True)
def benches_write_where_they_are(monkeypatch):
    monkeypatch.delenv("GEARLAB_ANSWERS", raising=False)


@pytest.fixture
def board(empty):
    opened = open_board(empty)
    yield opened
    for path in empty.glob("benches/**/*"):
        if path.is_symlink() or (
            not path.is_dir() and path.suffix in (".json", ".jsonl") and path.name != "hand-out.json"
        ):
            path.unlink()


def step(board, letter):
    return next(each for each in board.steps if each.checkpoint == letter)


def types(board, bench, **texts):
    """A bench's paper card, typed in: names as in a hand-in, with _ for -."""
    asked = questions_of(board.lab, bench)
    given = taken(asked, {name.replace("_", "-"): text for name, text in texts.items()})
    return hand_in_by_hand(board.lab, asked.bench, given, "2026-11-29T10:00:00Z")


def cell(board, bench, letter):
    return board.cell(questions_of(board.lab, bench).bench, step(board, letter))


def spacing(board, bench):
    """C = m (N1 + N2) / 2 with the numbers of the card, by hand."""
    task = board.lab.numbers.tasks(questions_of(board.lab, bench).bench)["spacing-metric"]
    given = {name: float(text) for name, text in task.draw.texts.items()}
    return given["module"] * (given["driver_teeth"] + given["driven_teeth"]) / 2


def diameter(board, bench):
    """d = m N, by hand."""
    task = board.lab.numbers.tasks(questions_of(board.lab, bench).bench)["pitch-diameter-metric"]
    given = {name: float(text) for name, text in task.draw.texts.items()}
    return given["module"] * given["teeth"]


def test_a_bench_goes_from_nothing_to_right_after_a_slip(board):
    board.look(NOON)
    assert cell(board, "7", "B").state == "none" and cell(board, "7", "B").mark == "·"
    types(board, "7", pitch_diameter_metric=f"{diameter(board, '7'):g} mm")
    board.look(NOON + 1)
    assert cell(board, "7", "B").state == "begun" and cell(board, "7", "B").done == 1
    types(board, "7", spacing_metric=f"{2 * spacing(board, '7'):g} mm")  # diameters added instead of radii
    board.look(NOON + 2)
    assert cell(board, "7", "B").state == "wrong"
    board.look(NOON + 3 + STUCK)
    assert cell(board, "7", "B").state == "stuck" and board.quiet(questions_of(board.lab, "7").bench) > STUCK
    types(board, "7", spacing_metric=f"{spacing(board, '7'):g} mm")
    board.look(NOON + 4 + STUCK)
    assert cell(board, "7", "B").state == "mended" and cell(board, "7", "B").mark == "◆ r"
    types(
        board,
        "8",
        pitch_diameter_metric=f"{diameter(board, '8'):g} mm",
        spacing_metric=f"{spacing(board, '8'):g} mm",
    )
    types(board, "8", **{"predict_01_twice_the_teeth": "b", "predict_04_rim": "c"})
    board.look(NOON + 5 + STUCK)
    assert cell(board, "8", "B").state == "right" and cell(board, "8", "A").state == "given"
    (cause, *_) = board.causes()
    assert cause.benches == 1 and cause.title == "added diameters instead of radii"
    assert board.causes() and not board.look(NOON + 6 + STUCK)
    board.look(NOON + 5000)
    assert board.causes() == []  # of the hour


def test_dots_are_measured_minus_computed_in_the_units_of_the_reading(board):
    # kits A, B, C: C = 78.75, 75, 75 mm; typed in millimetres, inches and much too wide
    types(board, "1", read_spacing="78.85 mm")
    types(board, "2", read_spacing="2.9527559 in")
    types(board, "3", read_spacing="85")
    types(board, "4", read_spacing="about as long as my hand")
    board.look(NOON)
    table = step(board, "C").reading[0]
    dots = board.dots(table)
    assert [round(dot.difference, 3) for dot in dots] == [0.0, 0.1, 10.0]
    assert [dot.far for dot in dots] == [False, False, True]
    assert cell(board, "3", "C").state == "wrong" and cell(board, "4", "C").state == "begun"
    html = board_html(board)
    assert "3 readings, 1 beyond ±0.3 mm; further out: 0 left, 1 right" in html and 'class="near"' in html


def test_a_reading_that_cannot_be_one_is_told_with_its_cause(board):
    # kit A, C = 78.75 mm is 3.1 in; kits B and C, 75 mm: ten times too small, and nothing that is known
    types(board, "1", read_spacing="3.1")
    types(board, "2", read_spacing="7.5")
    types(board, "3", read_spacing="75.1")
    types(board, "4", read_spacing="18")
    board.look(NOON)
    assert [cell(board, bench, "C").state for bench in "1234"] == ["wrong", "wrong", "begun", "wrong"]
    causes = {cause.title: cause for cause in board.causes(5)}
    assert set(causes) == {"read in inches", "ten times too small"}
    assert causes["read in inches"].question == "Hole spacing of your plate"
    assert "25.4 mm" in causes["read in inches"].sentence
    html = board_html(board)
    assert "4 readings, 3 beyond ±0.3 mm" in html and "not plausible: 3" in html


def test_a_lab_handed_out_before_readings_had_instruments_is_read_as_then(tmp_path):
    text = re.sub(r"(?m)^(instrument|plausible) = .*\n", "", lab_file("lab-1").read_text(encoding="utf-8"))
    (tmp_path / "old.toml").write_text(text, encoding="utf-8")
    make_lab(tmp_path / "old.toml", tmp_path / "lab", 4, make_ups=0, parts=False)
    board = open_board(tmp_path / "lab")
    (spacing,) = [q for q in questions_of(board.lab, "1").questions if q["id"] == "read-spacing"]
    assert spacing["kind"] == "number" and spacing["prompt"].endswith("(read to 0.05 mm)")
    for bench, typed in (("1", "78.85 mm"), ("2", "2.9527559 in"), ("3", "85"), ("4", "my hand")):
        types(board, bench, read_spacing=typed)
    board.look(NOON)
    dots = board.dots(step(board, "C").reading[0])
    assert [round(dot.difference, 3) for dot in dots] == [0.0, 0.1, 10.0]
    assert [dot.far for dot in dots] == [False, False, True]
    assert [cell(board, bench, "C").state for bench in "1234"] == ["begun", "begun", "wrong", "begun"]
    assert not board.causes() and "3 readings, 1 beyond ±0.3 mm; further" in board_html(board)


def test_predictions_are_tallies_without_names(board):
    for bench, letter in (("1", "a"), ("2", "b"), ("3", "b"), ("12", "b")):
        types(board, bench, predict_01_twice_the_teeth=letter)
    board.look(NOON)
    (question, options, total), _ = board.tally(step(board, "A"))
    assert "36 teeth" in question and total == 4 and [count for _, count in options] == [1, 3, 0, 0]
    assert "4 predictions" in board_html(board) and "4 predictions" not in board_html(board, tallies=False)


def test_half_a_file_is_read_at_the_next_look_and_costs_nothing_known(board):
    path = types(board, "5", read_spacing="80.1 mm")
    board.look(NOON)
    assert board.answers(questions_of(board.lab, "5").bench) == {"read-spacing": {"reading": "80.1 mm"}}
    whole = types(board, "5", read_tips="117.4 mm").read_bytes()
    for cut in (0, 1, len(whole) // 3, len(whole) - 2):
        path.write_bytes(whole[:cut])
        board.look(NOON + 1 + cut)
        assert board.unreadable and "read-spacing" in board.answers(questions_of(board.lab, "5").bench)
    path.write_bytes(whole)
    board.look(NOON + 9999)
    assert not board.unreadable and len(board.answers(questions_of(board.lab, "5").bench)) == 2


def foreign(**fields):
    return json.dumps({"gearlab": "hand-in", "edition": 1, "set": "lab-1", "answers": {}, **fields}).encode()


@pytest.mark.parametrize(
    "content",
    [
        b"\xff\xfe\x00",
        b"[" * 100_000,
        b'{"gearlab": "hand-in"}',
        b"x" * 300_000,
        foreign(set="lab-9\u202e", student="bench-05"),
        foreign(student="<b>"),
        foreign(student="bench-05", packet="AAAA"),
    ],
)  # fmt: skip
def test_what_is_no_hand_in_of_this_lab_is_told_and_changes_nothing(board, content):
    path = board.lab.shared / "05" / "HAND-IN_lab-1_\u202ebench-05<b>.json"
    path.write_bytes(content)
    board.look(NOON)
    assert len(board.unreadable) + len(board.foreign) == 1
    assert board.answers(questions_of(board.lab, "5").bench) == {}
    html = board_html(board)
    assert "\u202e" not in html and "<b>.json" not in html and "⚠" in html
    path.unlink()


@pytest.mark.skipif(os.name != "posix", reason="pipes and links of this system")
def test_pipes_and_links_are_left_alone(board, tmp_path):
    outside = tmp_path / "HAND-IN_lab-1_bench-06.json"
    outside.write_bytes(types(board, "6", read_spacing="81 mm").read_bytes())
    (board.lab.shared / "06" / outside.name).unlink()
    (board.lab.shared / "06" / outside.name).symlink_to(outside)
    os.mkfifo(board.lab.shared / "06" / "HAND-IN_pipe.json")
    board.look(NOON)
    assert board.answers(questions_of(board.lab, "6").bench) == {} and board.reads == 0


def test_attempts_count_once_and_half_a_line_waits(board):
    place = board.lab.shared / "02"
    about = {"bank": "03", "question": "spacing-metric", "version": 1, "draw": 0, "answer": "x", "typed": "1"}
    record(place, event="answer", verdict="listed slip", cause="nohalf", **about)
    file = place / "gearlab-attempts.jsonl"
    line = file.read_bytes()
    with open(file, "ab") as more:
        more.write(line[:40])
    board.look(NOON)
    board.look(NOON + 1)
    assert board.attempts == 1 and board.causes()[0].benches == 1
    with open(file, "ab") as more:
        more.write(line[40:] + b"[]\n{\n" + line)
    board.look(NOON + 2)
    board.look(NOON + 3)
    assert board.attempts == 3


def test_an_idle_look_reads_nothing(board):
    for bench in "123456":
        types(board, bench, read_spacing="80 mm")
    assert board.look(NOON) and board.reads == 6
    assert not board.look(NOON + 1) and board.reads == 6
    types(board, "3", read_spacing="80.05 mm")
    assert board.look(NOON + 2) and board.reads == 7


def test_a_file_written_a_moment_ago_is_read_once_more(board):
    path = types(board, "9", read_spacing="75 mm")
    written_at = path.stat().st_mtime
    board.look(written_at + RACY / 2)
    board.look(written_at + RACY / 2 + 0.1)
    assert board.reads == 2
    board.look(written_at + RACY + 1)
    board.look(written_at + RACY + 2)
    assert board.reads == 3


def test_of_copies_the_newest_counts_and_a_file_begun_anew_is_read(board):
    bench = questions_of(board.lab, "10").bench
    path = types(board, "10", read_spacing="74 mm")
    copy = path.with_name("HAND-IN_lab-1_bench-10 (1).json")
    copy.write_bytes(path.read_bytes())
    types(board, "10", read_spacing="75 mm")
    board.look(NOON)
    assert board.answers(bench)["read-spacing"] == {"reading": "75 mm"} and board.saved(bench) == 2
    copy.unlink()
    path.unlink()  # its notebook found it damaged, set it aside and began another
    types(board, "10", read_tips="100 mm")
    board.look(NOON + 1)
    assert board.saved(bench) == 1 and board.answers(bench) == {"read-tips": {"reading": "100 mm"}}


def test_what_is_taken_away_is_told_no_more(board):
    path = board.lab.shared / "05" / "HAND-IN_x.json"
    path.write_bytes(b"{")
    board.look(NOON)
    assert board.unreadable
    path.unlink()
    board.look(NOON + 1)
    assert not board.unreadable and not board.foreign


def test_a_make_up_sheet_appears_when_something_comes_of_it(board):
    assert "M1" not in [bench.short for bench in board.benches]
    types(board, "M1", read_spacing="75 mm")
    board.look(NOON)
    assert board.benches[-1].short == "M1"


def test_nothing_is_lost_while_twenty_benches_write(tmp_path):
    folder, journal = tmp_path / "lab", tmp_path / "journal"
    make_lab(lab_file("lab-1"), folder, 20, make_ups=0, parts=False)
    board = open_board(folder)
    writers = [
        threading.Thread(target=work, args=(board.lab.shared, short, sheet, journal, 2.0, 0.1))
        for short, sheet in sheets_of(board.lab).items()
    ]
    for writer in writers:
        writer.start()
    looks = 0
    while any(writer.is_alive() for writer in writers):
        board.look()
        looks += 1
    board.look()
    told = written(journal)
    by_short = {bench.short: bench for bench in board.benches}
    assert len(told) == 20 and looks > 3
    for short, one in told.items():
        assert board.answers(by_short[short]) == one["answers"], short
    assert board.attempts == sum(kind == "attempt" for one in told.values() for kind, *_ in one["lines"]) > 0
    assert not board.unreadable and not board.foreign


def test_the_projector_waits_for_its_folder_and_shows_it(tmp_path, empty):
    waiting = lab_board(tmp_path / "none")
    assert "No board yet" in waiting.html() and "gearlab lab" in waiting.html()
    shown = lab_board(empty).html()
    assert "Lab 1: a first pair" in shown and "nothing yet" in shown
    with pytest.raises(ValueError, match="every = 0 s"):
        lab_board(empty, every=0)


def test_the_page_says_what_the_letters_of_the_checkpoints_stand_for(board):
    types(board, "2", spacing_metric="1 mm")
    board.look()
    page = board_html(board)
    assert "<b>A Door question</b><br>12 nothing yet<" in page
    assert re.search(r"<b>B Your own numbers</b><br>11 nothing yet, 1 (working|not right)<", page)


def test_a_low_terminal_shows_all_of_the_board_in_turns(board, monkeypatch):
    """The benches stay, and within a few turns every line of the whole board was there once."""
    for number in range(1, 7):
        types(board, str(number), read_spacing="79 mm", predict_04_rim="c", spacing_metric="1 mm")
    board.look()
    low = Console(width=80, height=24, force_terminal=True, color_system=None, file=io.StringIO())
    monkeypatch.setattr(labs, "screen", low)

    def lines(part):
        return ["".join(piece.text for piece in line).rstrip() for line in low.render_lines(part)]

    seen = set()
    for turn in range(12):
        now = lines(labs.in_turns(board, 3, labs.TURN * turn))
        assert len(now) <= 24 or "in turn" in now[-1], now
        assert sum(re.match(r"│\d\d ", line) is not None for line in now) == 12
        seen |= set(now)
    assert set(lines(labs.shown(board))) <= seen
