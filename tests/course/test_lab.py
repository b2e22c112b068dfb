"""Labs: run sheets that hold together, numbers of each bench, paper, true-size parts, and what stays private.

Values a bench should read are worked out here by hand: C = m (N1 + N2) / 2, d_o = m (N + 2), turns as N1
: N2, play 2 dC tan(phi) (common practice for small openings), half a pitch 180 / N for an even wheel and
nothing for an odd one (both marks to the right, wheel on the right), wall (D - d) / 2.
"""

from __future__ import annotations

import json
import math
import re
import tomllib

import nbformat
import pytest
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.contents import content_folder, lab_file
from gearlab.course.coursekey import read_key
from gearlab.course.handout.edition import Task
from gearlab.course.lab import load_run_sheet, make_lab, paperparts
from gearlab.course.lab.folder import hand_in_by_hand, open_lab_folder
from gearlab.course.marking.whole import mark
from gearlab.course.roster import read_roster
from gearlab.drawing.shapes import Label
from gearlab.drawing.workshop.block import said_width
from gearlab.drawing.workshop.plate import plate_drawings
from gearlab.practice.tables import BankError

LABS = sorted((content_folder("exercises") / "labs").glob("*.toml"))
LESSONS = [{"01", "02", "03", "04"}, {"08", "09"}, {"10", "11"}]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lab") / "lab"
    make_lab(lab_file("lab-1"), folder, 12, minutes=90, make_ups=2, parts=False)
    return folder


@pytest.fixture(scope="module")
def labs(tmp_path_factory):
    folders = {path.stem[:5]: tmp_path_factory.mktemp(path.stem) / "lab" for path in LABS}
    for name, folder in folders.items():
        make_lab(lab_file(name.replace("_", "-")), folder, 12, make_ups=2, parts=False)
    return {name: open_lab_folder(folder) for name, folder in folders.items()}


@pytest.mark.parametrize("path, lessons", list(zip(LABS, LESSONS)), ids=[path.stem for path in LABS])
def test_the_minutes_of_each_length_add_up(path, lessons):
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert {lesson[:2] for lesson in data["lab"]["lessons"]} == lessons
    for length in (75, 90, 110):
        assert sum(step["minutes"][str(length)] for step in data["step"]) == length
    asked = [
        each for step in data["step"] for kind in ("question", "prediction") for each in step.get(kind, [])
    ]
    # a lab asks out of every lesson that it is over
    assert {each["lesson"][:2] for each in asked} == lessons
    sheet = load_run_sheet(path)
    assert [(start, end) for start, end, _ in sheet.steps(75)][-1][1] == 75
    assert sheet.left_out(75) and not sheet.left_out(110)


def readings(lab):
    """What each reading of each bench should come to, with the bench's numbers."""
    for bench in (*lab.numbers.benches, *lab.numbers.make_ups):
        for step in lab.sheet.table.step:
            for table in step.reading:
                yield table.id, bench.numbers, lab.numbers.reading(bench, table)


def by_hand(name, n):
    first, second, module = n["driver_teeth"], n["driven_teeth"], n["module"]
    spacing = module * (first + second) / 2
    return {
        "spacing": lambda: spacing,
        "tips": lambda: module * (second + 2),
        "turns": lambda: n["crank_turns"] * first / second,
        "bad-spacing": lambda: spacing + 1.25,
        "strips": lambda: 2 * n["distance_opening"] * math.tan(math.radians(20)),
        "rocking": lambda: (
            2 * n["distance_opening"] * math.tan(math.radians(20)) * 100 / (module * second / 2)
        ),
        "turn": lambda: 0 if second % 2 else 180 / second,
        "check-line": lambda: 100,
        "marked": lambda: spacing,
        "rise": lambda: spacing * math.sin(math.radians(n["line_angle"])),
        "wall": lambda: (n["hub_diameter"] - n["bore_diameter"]) / 2,
    }[name]()


def test_readings_should_come_to_what_a_hand_works_out(labs):
    count = 0
    for lab in labs.values():
        for name, numbers, reading in readings(lab):
            assert reading.computed == pytest.approx(by_hand(name, numbers), abs=1e-6), (name, numbers)
            assert "{" not in reading.prompt
            count += 1
    assert count == 14 * (4 + 3 + 4)


def test_a_known_pair_reads_as_the_books_have_it(labs):
    # 18 and 45 teeth of module 2.5: C = 78.75, d_o = 117.5; opened by 0.5 mm: 2 x 0.5 x 0.36397 of play
    lab = labs["lab_1"]
    rows = [
        (name, n, reading)
        for name, n, reading in readings(lab)
        if (n["driver_teeth"], n["driven_teeth"]) == (18, 45)
    ]
    assert {round(reading.computed, 3) for name, _, reading in rows if name == "spacing"} == {78.75}
    assert {round(reading.computed, 3) for name, _, reading in rows if name == "tips"} == {117.5}
    play = {
        round(r.computed, 3)
        for name, n, r in readings(labs["lab_2"])
        if name == "strips" and n["distance_opening"] == 0.5
    }
    assert play == {0.364}


def test_benches_have_numbers_of_their_own_and_neighbours_other_kits(labs):
    for lab in labs.values():
        benches = [*lab.numbers.benches, *lab.numbers.make_ups]
        sheets = [
            json.dumps([task.draw.texts for task in lab.numbers.tasks(bench).values()]) for bench in benches
        ]
        assert len(set(sheets)) == len(benches)
        kits = [bench.kit.name for bench in lab.numbers.benches]
        assert all(first != second for first, second in zip(kits, kits[1:]))
        # two benches of one kit do not get the same number of their own
        pairs = [(bench.kit.name, tuple(bench.own.values())) for bench in lab.numbers.benches]
        assert len(set(pairs)) == len(pairs)


def test_what_lies_where_and_what_is_private(made):
    lab = open_lab_folder(made)
    book = (made / "private" / "answer_book.html").read_text(encoding="utf-8")
    handed = [path for path in made.rglob("*") if path.is_file() and "private" not in path.parts]
    assert {path.name for path in handed if path.suffix == ".html"} == {
        "cards.html", "worksheets.html", "exit_tickets.html", "make_up.html",
    }  # fmt: skip
    secret = (made / "private" / "lab.key").read_text().split()[-1]
    for path in handed:
        text = path.read_text(encoding="utf-8")
        assert secret not in text and "should come to" not in text and "on purpose" not in text, path.name
    for bench in lab.numbers.benches:
        for task in lab.numbers.tasks(bench).values():
            if task.entry.question.id == "spacing-metric":
                # the answer book, from the givens of the card by hand: C = m (N1 + N2) / 2
                given = {name: float(text) for name, text in task.draw.texts.items()}
                spacing = given["module"] * (given["driver_teeth"] + given["driven_teeth"]) / 2
                assert f">{spacing:.6g} mm (" in book
    for path in (made / "private").rglob("*"):
        assert path.is_dir() or path.stat().st_mode & 0o077 == 0, path.name


def test_cautions_stand_before_what_is_turned_measured_and_cut(made):
    cards = (made / "print" / "cards.html").read_text(encoding="utf-8")
    assert cards.count("Gears pinch where their teeth run together") == 12
    assert "Nothing goes between teeth that can turn" in cards
    assert "Saws, scissors and knives cut away" in (made / "print" / "make_up.html").read_text(
        encoding="utf-8"
    )
    assert "goggles on" in (made / "private" / "prepare.html").read_text(encoding="utf-8")
    notebook = (made / "benches" / "07" / "lab-1_bench-07.ipynb").read_text(encoding="utf-8")
    assert "Gears pinch where their teeth run together" in notebook


def test_the_exit_ticket_and_the_late_path_are_on_paper(made):
    tickets = (made / "print" / "exit_tickets.html").read_text(encoding="utf-8")
    cards = (made / "print" / "cards.html").read_text(encoding="utf-8")
    assert tickets.count('class="stop">X<') == 36 and 'class="stop">X<' not in cards
    make_up = (made / "print" / "make_up.html").read_text(encoding="utf-8")
    assert "Up to 10 minutes late" in make_up and "within seven days" in make_up and "Make-up 2" in make_up


def test_quantities_are_those_of_the_benches(made):
    page = (made / "private" / "prepare.html").read_text(encoding="utf-8")
    rows = {what: int(number) for number, what in re.findall(r"<td>(\d+)</td><td>([^<]+)</td>", page)}
    # twelve benches, six kits: two of each; three kits have 18, 20 and 24 teeth twice each
    assert rows["gear, 18 teeth, module 2.5 mm, bore 10 mm"] == 4
    assert sum(number for what, number in rows.items() if what.startswith("gear, ")) == 24
    plates = {what: number for what, number in rows.items() if what.startswith("plate ")}
    assert len(plates) == 12 and set(plates.values()) == {2}
    assert any("plate Ax" in what and "80.00 mm apart" in what for what in plates)
    assert any("plate Ay" in what and "78.75 mm apart" in what for what in plates)
    assert rows["caliper, 150 mm, wiped and zeroed"] == 13  # one spare
    assert rows["card, printed on both sides"] == 12


def test_a_lab_made_again_keeps_its_numbers_and_what_benches_wrote(tmp_path):
    folder = tmp_path / "lab"
    make_lab(lab_file("lab-2"), folder, 3, make_ups=1, parts=False)
    before = (folder / "print" / "cards.html").read_text(encoding="utf-8")
    notebook = folder / "benches" / "02" / "lab-2_bench-02.ipynb"
    notebook.write_text("worked in")
    again = make_lab(lab_file("lab-2"), folder, 5, make_ups=1, parts=False)
    after = (folder / "print" / "cards.html").read_text(encoding="utf-8")
    assert again.kept == 4 and notebook.read_text() == "worked in"
    start, end = before.index("<article"), before.rindex("</article>")
    assert before[start:end] in after and "Bench 5" in after
    with pytest.raises(ValueError, match="another run sheet.*own copy"):
        make_lab(lab_file("lab-1"), folder, 3, parts=False)
    assert make_lab(folder / "private" / "run_sheet.toml", folder, 6, make_ups=1, parts=False).benches == 6
    (tmp_path / "full" / "benches").mkdir(parents=True)
    (tmp_path / "full" / "benches" / "mine.txt").write_text("x")
    with pytest.raises(ValueError, match="files of something else"):
        make_lab(lab_file("lab-1"), tmp_path / "full", 3, parts=False)
    assert not (tmp_path / "full" / "private").exists()


def test_the_notebook_of_a_bench_runs_and_saves_where_the_board_looks(made, monkeypatch):
    place = made / "benches" / "03"
    notebook = nbformat.read(place / "lab-1_bench-03.ipynb", 4)
    nbformat.validate(notebook)
    monkeypatch.chdir(place)
    space: dict = {}
    boxes = []
    for cell in notebook.cells:
        if cell.cell_type == "code":
            *lines, last = cell.source.split("\n")
            exec("\n".join(lines), space)  # noqa: S102 (our own notebook)
            boxes.append(eval(last, space))  # noqa: S307
    lab = open_lab_folder(made)
    asked = sum(step.asks for _, _, step in lab.sheet.steps(90))
    assert len(boxes) == asked + 2
    space["sheet"].keep("read-spacing", {"reading": "75.05 mm"})
    file = place / "HAND-IN_lab-1_bench-03.json"
    assert json.loads(file.read_text())["answers"]["read-spacing"] == {"reading": "75.05 mm"}
    assert file.stat().st_mode & 0o044 == 0o044  # the instructor's account may read it
    file.unlink()


def test_paper_gears_are_true_size_and_the_bad_parts_are_bad():
    sheet = load_run_sheet(lab_file("lab-1"))
    kit = sheet.table.kit[0]
    scene = paperparts._cut_outs(sheet, kit, paperparts.gears(kit))
    left, low, right, top = scene.bounds
    # 45 teeth of module 2.5 are 117.5 mm over the tips, 18 are 50: one above the other with 6 mm between
    assert right - left == pytest.approx(117.5) and top - low == pytest.approx(117.5 + 50 + 6)
    page = next(paperparts.paper_gears(sheet, "Letter", {}))
    assert {round(float(side), 2) for side in page.get_size_inches()} == {8.5, 11.0}
    good, bad = sorted(paperparts.plates(sheet, kit), key=lambda plate: plate.holes[1].x - plate.holes[0].x)
    assert good.holes[1].x - good.holes[0].x == pytest.approx(78.75)
    assert bad.holes[1].x - bad.holes[0].x == pytest.approx(80.0)
    odd = paperparts.bad_gear(kit, sheet.table.bad[1])
    assert odd.unit == "in" and odd.pitch_diameter == pytest.approx(1.8)  # 18 teeth of P = 10


def _row_texts(figure):
    return [text.get_text() for axes in figure.axes for text in axes.texts]


@pytest.mark.parametrize("name", ("lab-1", "lab-2", "lab-3"))
def test_the_corner_of_a_true_size_page_says_everything(name):
    sheet = load_run_sheet(lab_file(name))
    for paper in ("A4", "Letter"):
        pages = [
            *paperparts.paper_gears(sheet, paper, {"A": 1, "B": 3}),
            *paperparts.plate_sheets(sheet, paper),
        ]
        for page in pages:
            words = " ".join(_row_texts(page))
            assert "\u2026" not in words and sheet.lab.title in words, words
            assert "material card" in words or "material plywood or acrylic" in words
            assert "local rules come first." in words
        told = " ".join(word for page in pages for word in _row_texts(page))
        assert "kit A: print it once" in told and "kit B: print it 3 times" in told
        assert "kit C: no bench has it" in told


def test_no_line_goes_through_the_name_of_a_hole():
    sheet = load_run_sheet(lab_file("lab-2"))
    plate = paperparts.plates(sheet, sheet.table.kit[0])[0]
    (scene,) = plate_drawings(plate, "A4")
    for hole in plate.holes:
        (label,) = [
            s for s in scene.shapes if isinstance(s, Label) and s.text.startswith(f"{hole.name} \u2300")
        ]
        # the line up to the spacing stands over the hole's centre
        assert label.at[0] - said_width(label.text) / 2 > hole.x + 1.0


def test_cut_files_have_the_holes_where_the_plates_say():
    sheet = load_run_sheet(lab_file("lab-3"))
    files = paperparts.cut_files(sheet)
    assert {"plate_Ax.svg", "plate_Ay.dxf", "gear_18_module_2.5.svg"} <= set(files)
    apart = []
    for name in ("plate_Ax.dxf", "plate_Ay.dxf"):
        rows = [row.strip() for row in files[name].split("\n")]
        pairs = list(zip(rows[::2], rows[1::2], strict=False))
        starts = [at for at, pair in enumerate(pairs) if pair == ("0", "CIRCLE")]
        places = [next(float(value) for code, value in pairs[at:] if code == "10") for at in starts]
        apart.append(max(places) - min(places))
    assert sorted(apart) == pytest.approx([78.0, 78.75])


def reading_of(lab, bench, name):
    tables = {table.id: table for step in lab.sheet.table.step for table in step.reading}
    return lab.numbers.reading(lab.numbers.by_id[bench], tables[name])


def test_a_reading_of_a_bench_is_a_question_of_kind_reading(made):
    lab = open_lab_folder(made)
    bench = lab.numbers.by_id["bench-01"]  # kit A: C = 2.5 (18 + 45) / 2 = 78.75 mm
    sheet = {question["id"]: question for question in lab.numbers.hand_out(bench, 90)["questions"]}
    spacing = sheet["read-spacing"]
    assert spacing["kind"] == "reading" and spacing["answers"][0]["unit"] == "mm" and not spacing["givens"]
    contract = spacing["contracts"]["reading"]
    assert contract["asked"] == "your own reading: caliper, to 0.05 mm" and "0.3 mm" in contract["accepts"]
    assert "no points" in contract["more"][0] and "78.75" not in json.dumps(spacing)
    reading = reading_of(lab, "bench-01", "spacing")
    assert reading.value("78.85 mm") == 78.85 and reading.value("3.1 in") == pytest.approx(78.74)
    # steps of 0.05 mm: two of them, and two hundred and five
    assert reading.verdict("78.85 mm").sentence.startswith("Right. Measured minus computed: +0.1 mm, 2 steps")
    assert "+10.25 mm, 205 steps of the caliper" in reading.verdict("89").sentence  # one pin not taken off
    assert reading.verdict("78.83").right and "Finer than the caliper" in reading.verdict("78.83").sentence
    told = {text: reading.verdict(text) for text in ("3.1", "7.88", "200", "3 kg")}
    assert [verdict.right for verdict in told.values()] == [False] * 4
    assert told["3.1"].causes[0].title == "read in inches" and told["7.88"].causes[0].title.startswith("ten")
    assert "between 63 and 94.5 mm" in told["200"].sentence and told["3 kg"].kind == "wrong unit"
    # by hand: 10, 15, 20 or 5 turns of the crank, 18 : 45
    turns = reading_of(lab, "bench-01", "turns")
    assert (
        turns.verdict(f"{bench.own['crank_turns'] * 0.4:g}").sentence
        == "Right. Counted minus computed: 0 turns."
    )
    worksheets = (made / "print" / "worksheets.html").read_text(encoding="utf-8")
    assert "(caliper, to 0.05 mm)" in worksheets and "(mark on the tooth, to 0.25 turns)" in worksheets
    book = (made / "private" / "answer_book.html").read_text(encoding="utf-8")
    assert "should come to 78.75 mm, within 0.3 mm; plausible from 63 to 94.5 mm" in book


def test_a_reading_in_inches_comes_to_inches(tmp_path):
    path = tmp_path / "sheet.toml"
    rows = (
        'unit = "{}"\ninstrument = "caliper"\nplausible = {{ relative = 0.2 }}\nresolution = {}\nwithin = {}'
    )
    metric, inches = rows.format("mm", 0.05, 0.3), rows.format("in", 0.001, 0.01)
    assert metric in GOOD
    path.write_text(GOOD.replace(metric, inches, 1), encoding="utf-8")
    make_lab(path, tmp_path / "lab", 1, make_ups=0, parts=False)
    reading = reading_of(open_lab_folder(tmp_path / "lab"), "bench-01", "spacing")
    assert reading.computed == pytest.approx(78.75 / 25.4) and reading.verdict("78.75 mm").right
    assert reading.verdict("78.75").causes[0].title == "read in millimetres"


FIRST = "minutes = { 75 = 5, 90 = 5, 110 = 5 }"
GOOD = LABS[0].read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "old, new, said",
    [
        (FIRST, "minutes = { 75 = 4, 90 = 5, 110 = 5 }", "74 min; change a step by 1"),
        (FIRST, "minutes = { 75 = 5, 90 = 5 }", "minutes are stated for 75, 90"),
        ('id = "spacing-metric"', 'id = "spacing-metrics"', "'spacing-metrics'.*near: spacing-metric"),
        ('id = "rim"', 'id = "rims"', "prediction 'rims'"),
        ('care = ["turning"]', 'care = ["turnin"]', "did you mean 'turning'"),
        ('checkpoint = "B"', 'checkpoint = "A"', "checkpoint 'A' is there 2 times"),
        ("exit = true", "exit = false", "exactly one step is the exit ticket"),
        ('computed = "centre_distance"', 'computed = "centre_distanc"', "near: centre_distance"),
        ('formula = "crank_turns * driver_teeth', 'formula = "crank_turn * driver_teeth', "formula"),
        ("within = 0.4", "within = 0.01", "finer than the instrument's 0.05 mm"),
        ("{crank_turns} times", "{crank_turn} times", "'crank_turn' is no number of a bench"),
        ('what = "plate"\nby = 1.25', 'what = "plate"', "a plate is wrong `by`"),
        ('unit = "turns"\ninstrument', 'unit = "turn"\ninstrument', "unit: 'turn' is not known"),
        ('instrument = "caliper"\n', "", "plausible: goes with an instrument"),
        ("plausible = { relative = 0.2 }\n", "", "plausible: is needed"),
        ("plausible = { relative = 0.2 }", "plausible = { from = 5 }", "give either from and to"),
        ("plausible = { relative = 0.2 }", "plausible = { relative = 0.95 }", "0.1 times.*driver_teeth 18"),
        ("plausible = { relative = 0.2 }", "plausible = { absolute = 0.2 }", "as far as the widest band"),
        ('unit = "mm"\ninstrument', 'unit = "deg"\ninstrument', "reading 'spacing': .*deg"),
        ('title = "Lab 1: a first pair"', "titel = 'x'", "is not a field known here; near: title"),
    ],
)  # fmt: skip
def test_a_run_sheet_that_does_not_hold_together_is_refused_in_words(tmp_path, old, new, said):
    assert old in GOOD
    path = tmp_path / "sheet.toml"
    path.write_text(GOOD.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(BankError, match=said) as told:
        load_run_sheet(path)
    assert str(path) in str(told.value)
    with pytest.raises(BankError):
        make_lab(path, tmp_path / "lab", 4)
    assert not (tmp_path / "lab").exists()


def test_the_benches_can_be_marked_as_a_class_is(made, tmp_path):
    lab, private = open_lab_folder(made), made / "private"
    bench = lab.numbers.benches[4]
    task = lab.numbers.tasks(bench)["spacing-metric"]
    given = {name: float(text) for name, text in task.draw.texts.items()}
    spacing = given["module"] * (given["driver_teeth"] + given["driven_teeth"]) / 2  # by hand
    answers = {"spacing-metric": {"centre_distance": f"{spacing:g} mm"}, "read-spacing": {"reading": "1 mm"}}
    file = hand_in_by_hand(lab, bench, answers, "2026-11-29T10:00:00Z")
    roster, key = read_roster(private / "roster.csv"), read_key(private / "lab.key")
    result = mark(
        made / "benches", private / "set" / "sets" / "lab-1.toml", roster, key, tmp_path / "results"
    )
    file.unlink()
    # two points for the spacing on the card; readings and predictions are not marked
    assert result.marked == 1 and result.points == pytest.approx(2.0)
    assert not [note for note in result.notes if "edited" in note]


def test_other_lengths_and_too_many_benches_are_refused(tmp_path):
    with pytest.raises(ValueError, match="minutes = 60: .* 75, 90, 110"):
        make_lab(lab_file("lab-1"), tmp_path / "lab", 4, minutes=60)
    with pytest.raises(ValueError, match="benches = 0: a room has 1 to 200"):
        make_lab(lab_file("lab-1"), tmp_path / "lab", 0)
    assert not (tmp_path / "lab" / "private" / "lab.key").exists()


def test_the_commands(tmp_path):
    def run(*arguments, typed=None):
        return CliRunner().invoke(app, [str(argument) for argument in arguments], input=typed)

    folder = tmp_path / "lab"
    out = run("lab", "lab-1", "--benches", 4, "--to", folder, "--minutes", 75, "--no-parts")
    assert out.exit_code == 0 and "4 benches, 4 make-up sheets, 75 minutes" in out.output
    lab = open_lab_folder(folder)
    assert isinstance(lab.numbers.tasks(lab.numbers.benches[0])["spacing-metric"], Task)
    out = run("card", folder, "2", "--answer", "read-spacing=75.02 mm", "--answer", "predict-04-rim=c")
    assert out.exit_code == 0 and "Bench 2: 2 answers" in out.output
    beside = run("card", folder, "1", "--answer", "read-spacing=89")
    assert "+10.25 mm, 205 steps of the caliper; within 0.3 mm it needs no second look" in beside.output
    assert "Hole spacing of your plate: Right. Measured minus computed: +0.02 mm" in " ".join(
        out.output.split()
    )
    out = run("card", folder, "M1", "--answer", "read-spacings=75")
    assert out.exit_code == 2 and "near: read-spacing" in out.output.replace("\n", " ")
    assert run("card", folder, "9", "--answer", "read-spacing=75").exit_code == 2
    out = run("card", folder, "2", "--answer", "predict-04-rim=x")
    assert out.exit_code == 2 and "choose from a to c" in out.output.replace("\n", " ")
    # typed from paper: what is no option is asked again, and one who stops keeps what was typed
    out = run("card", folder, "3", typed="78.5\nb\n\n47 mm\n")
    assert out.exit_code == 0 and "choose from a to" in out.output and "Bench 3: 2 answers" in out.output
    saved = json.loads(next((folder / "benches" / "03").glob("HAND-IN_*.json")).read_text(encoding="utf-8"))
    assert {text for texts in saved["answers"].values() for text in texts.values() if text} == {"2", "47 mm"}
    out = run("board", folder, "--once")
    assert out.exit_code == 0 and "measured minus computed" in out.output and "o within" in out.output
    out = run("board", tmp_path, "--once")
    assert out.exit_code == 2 and "holds no lab" in out.output.replace("\n", " ")
    out = run("lab", "lab-7", "--benches", 4, "--to", folder)
    assert out.exit_code == 2 and "lab-1-a-first-pair" in out.output.replace("\n", " ")
