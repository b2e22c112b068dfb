"""Bench sheets of the vent drive.

From the design file to paper and cut files, measured back with reference libraries.
"""

import csv
import io
import sys
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.course.bench.sheets import bench_sheets, parts_table
from gearlab.drawing import sheets
from gearlab.drawing.shapes import Dimension
from gearlab.drawing.workshop import plate_drawing
from gearlab.parts.design import read_design
from gearlab.parts.made import parts_of, plate_part

KIT = Path(__file__).parents[2] / "notebooks" / "vent_drive.toml"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return bench_sheets(KIT, tmp_path_factory.mktemp("bench"), cut_width=0.18)


@pytest.fixture
def one_paper(monkeypatch):
    """A4 alone, where a test looks at no sheet.

    Letter's pages of these designs are drawn by ``made`` and by tests/drawing/test_workshop.py.
    """
    monkeypatch.setattr(sheets, "PAPERS", {"A4": sheets.PAPERS["A4"]})


@pytest.fixture
def no_paper(monkeypatch):
    """No sheet at all, where a test looks at other files of a design that is drawn on paper as above."""
    monkeypatch.setattr(sheets, "PAPERS", {})


def test_every_sheet_is_there(made):
    names = {path.name for path in made.files}
    assert {
        "sheets_A4.pdf",
        "sheets_Letter.pdf",
        "parts.csv",
        "review.txt",
        "plate_220x160x6.dxf",
        "plate_220x160x6.svg",
    } <= names
    assert len([name for name in names if name.endswith(".dxf")]) == 3 and all(
        path.stat().st_size > 100 for path in made.files
    )
    assert made.findings.passes


# The plate's holes (53.75, 80) and (132.5, 80), 78.75 mm apart, and the pinion's tips of 50 mm: the vent
# drive's numbers, worked by hand.
def test_the_cut_files_measured_back(made):
    folder = made.files[0].parent
    plate = ezdxf.readfile(folder / "plate_220x160x6.dxf")
    holes = sorted(
        (one.dxf.center.x, one.dxf.center.y, 2 * one.dxf.radius + 0.18)
        for one in plate.modelspace().query("CIRCLE")
    )
    assert np.allclose(holes, [(53.75, 80, 10.05), (132.5, 80, 10.05)])
    pinion = ezdxf.readfile(folder / "pinion_18T_m2p5_bore10_L27.dxf")
    edge = next(one for one in pinion.modelspace().query("LWPOLYLINE") if one.dxf.layer == "outline")
    reach = max(np.hypot(x, y) for x, y, *_ in edge.get_points())
    assert 2 * reach - 0.18 == pytest.approx(50, abs=1e-3)


def test_no_spreadsheet_runs_a_name():
    text = KIT.read_text(encoding="utf-8").replace('material = "acrylic"', 'material = "=1+1"')
    table = parts_table(parts_of(read_design(text)))
    assert "'=1+1" in table and ",=1+1" not in table


def test_the_parts_table(made):
    """Everything that has to be made or ordered, with its size: two of nearly everything (by hand)."""
    rows = list(csv.DictReader(io.StringIO(parts_table(parts_of(read_design(KIT))))))
    for kind in ("gear", "shaft", "collar", "washers"):
        assert sum(int(row["count"]) for row in rows if row["kind"] == kind) == 2
    (collars,) = [row for row in rows if row["kind"] == "collar"]  # alike: one row to order by
    assert (
        collars["size"] == "bore 10 mm, 8.5 mm wide"
        and "crank" in collars["where"]
        and "vent" in collars["where"]
    )
    (crank,) = [row for row in rows if row["part"] == "crank"]
    # ISO 286: h6 of 10 mm is 0 to -9 um; H7 is 0 to 15 um (from memory)
    assert crank["fits and limits"] == "sliding fit: 9.991 to 10 mm"
    assert crank["size"] == "diameter 10 mm; length 50 mm; flat 0.5 mm deep from 16 to 43 mm"
    (wheel,) = [row for row in rows if row["part"].startswith("wheel")]
    assert (
        wheel["fits and limits"] == "bore 10 to 10.015 mm (sliding fit)" and "module 2.5 mm" in wheel["size"]
    )
    sizes = {row["size"] for row in rows if row["kind"] == "set screw"}
    assert sizes == {"M5 x 8 mm", "M5 x 10 mm"} and all(row["unit"] == "mm" and row["size"] for row in rows)


def test_the_parts_table_in_inches_with_keys_and_screws_to_order():
    """Two pinions and two wheels on half-inch shafts: keys of 1/8 square (ANSI B17.1), #10-24 screws."""
    text = (
        (KIT.parent / "vent_drive_inch.toml")
        .read_text(encoding="utf-8")
        .replace("flat = 0.02", "keyway_depth = 0.03")
    )
    rows = list(csv.DictReader(io.StringIO(parts_table(parts_of(read_design(text))))))
    kinds = {row["kind"] for row in rows}
    assert {"plate", "shaft", "gear", "key", "set screw", "collar", "washers"} == kinds
    assert {row["size"] for row in rows if row["kind"] == "set screw"} == {
        "#10-24 x 0.25 in",
        "#10-24 x 0.3125 in",
    }
    # a shaft of 3/8 in takes a key of 3/32 in, square; ANSI B17.1, table 1
    assert {row["size"].split(" x ")[0] for row in rows if row["kind"] == "key"} == {"0.09375"}
    assert all("in" in row["size"].split() or "in;" in row["size"] for row in rows)


def test_the_same_design_gives_the_same_bytes(made, tmp_path):
    again = bench_sheets(KIT, tmp_path, cut_width=0.18)
    assert [path.read_bytes() for path in again.files] == [path.read_bytes() for path in made.files]


def test_the_command_writes_reviews_and_warns(tmp_path, one_paper):
    run = CliRunner().invoke(app, ["bench", str(KIT), "--to", str(tmp_path / "sheets")])
    assert run.exit_code == 0, run.output
    assert (
        "Sound as far as checked" in run.output
        and "laser cutter" in run.output
        and (tmp_path / "sheets" / "sheets_A4.pdf").is_file()
    )


def test_a_failing_design_gets_its_review_first_and_its_files_when_asked_for(tmp_path, one_paper):
    bad, folder = tmp_path / "bad.toml", tmp_path / "sheets"
    bad.write_text(KIT.read_text(encoding="utf-8").replace("length = 45", "length = 30"), encoding="utf-8")
    run = CliRunner().invoke(app, ["bench", str(bad), "--to", str(folder)])
    assert run.exit_code == 1 and "will not work" in run.output and "--anyway" in run.output
    assert [path.name for path in folder.iterdir()] == ["review.txt"]
    # the finding is not pushed off the screen by what holds, which stands in the file
    assert len(run.output.splitlines()) < 24 and "Holds:" not in run.output
    assert "Holds:" in (folder / "review.txt").read_text(encoding="utf-8")
    run = CliRunner().invoke(app, ["bench", str(bad), "--to", str(folder), "--anyway"])
    assert run.exit_code == 1 and (folder / "parts.csv").is_file()


def test_what_moved_since_an_earlier_file(tmp_path, no_paper):
    """A plate 20 mm longer moves no number of the drive; a wheel of 50 teeth is 125 mm across (by hand)."""
    old = tmp_path / "old.toml"
    old.write_text(KIT.read_text(encoding="utf-8").replace("teeth = 45", "teeth = 50"), encoding="utf-8")
    run = CliRunner().invoke(app, ["bench", str(KIT), "--to", str(tmp_path / "x"), "--against", str(old)])
    assert run.exit_code == 0 and "pitch diameter: 125 to 112.5" in run.output
    assert "went: [will not work]" in run.output  # its holes stood too near


def test_a_file_that_does_not_fit_is_an_error_in_words(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("[design]\nname = 'x'\n", encoding="utf-8")
    run = CliRunner().invoke(app, ["bench", str(bad), "--to", str(tmp_path / "sheets")])
    assert run.exit_code == 2 and "[plate] is missing" in run.output + run.stderr


def test_a_part_has_one_name_on_all_its_sheets(made):
    """The list of parts, the file and what is marked on the part name it alike."""
    folder, name = made.files[0].parent, "pinion_18T_m2p5_bore10_L27"
    document = ezdxf.readfile(folder / f"{name}.dxf")
    assert document.header.custom_vars.get("part") == name
    svg = (folder / f"{name}.svg").read_text(encoding="utf-8")
    assert f'aria-label="{name}"' in svg and f"<title>{name}</title>" in svg
    assert name in (folder / "parts.csv").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("pinion", "wheel"),
    [("../../elsewhere", "wheel 45/2"), ("con", "$x^{$ & <b>"), ("Lüftungsrad 45", "a" * 80)],
)
def test_a_gear_of_any_name_stays_in_its_folder(tmp_path, one_paper, pinion, wheel):
    text = KIT.read_text(encoding="utf-8").replace("pinion_18T_m2p5_bore10_L27", pinion)
    text = text.replace("wheel_45T_m2p5_bore10_L25", wheel)
    done = bench_sheets(read_design(text), tmp_path / "in" / "sheets", anyway=True)
    assert (
        all(
            path.resolve().parent == (tmp_path / "in" / "sheets").resolve() and path.is_file()
            for path in done.files
        )
        and len(done.files) == 9
    )
    assert len({path.name.casefold() for path in done.files}) == 9
    assert [path.name for path in tmp_path.iterdir()] == ["in"]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("y = 80", "y = 4", r"a hole of 10.05 mm at \(53.75, 4\) mm breaks through the edge"),
        ("y = 80", "y = 0", r"a hole of 10.05 mm at \(53.75, 0\) mm breaks through the edge"),
        ("bore = 10", "bore = 39", "gear 'pinion_18T_m2p5_bore10_L27': bore 39 mm is out of range"),
    ],
)
def test_what_cannot_be_drawn_writes_nothing(tmp_path, old, new, says):
    with pytest.raises(ValueError, match=says):
        text = KIT.read_text(encoding="utf-8").replace(old, new, 1)
        bench_sheets(read_design(text), tmp_path / "sheets", anyway=True)
    assert not list(tmp_path.iterdir())


def test_a_folder_that_cannot_be_written_is_said(tmp_path, no_paper):
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    with pytest.raises(ValueError, match="cannot be written: .*; give a folder that you may write to"):
        bench_sheets(KIT, tmp_path / "taken")
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "a file"


def test_the_plate_s_drawing_says_the_places_that_stand_in_the_file():
    """75.125 mm is not 75.12.

    A dimension is never rounded to another hole. Equal places are dimensioned once.
    """
    design = read_design(KIT.read_text(encoding="utf-8").replace("y = 80", "y = 75.125"))
    scene = plate_drawing(plate_part(design))
    dimensions = [shape.text for shape in scene.shapes if isinstance(shape, Dimension)]
    assert dimensions == ["220", "53.75", "132.5", "75.125", "160", "78.75 \u00b1 0.03"]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_plate_of_220_by_160_fits_its_one_page_when_turned(paper):
    (page,) = sheets.pages(plate_drawing(plate_part(read_design(KIT))), paper)
    width, height = page.get_size_inches()
    assert width > height


def test_the_test_piece_comes_alone_with_the_sentence_that_turns_it_into_an_option(tmp_path):
    run = CliRunner().invoke(app, ["bench", str(KIT), "--to", str(tmp_path / "piece"), "--test-piece"])
    assert run.exit_code == 0, run.output
    text = " ".join(run.output.split())
    assert "--cut-width NUMBER" in text and "--clearance NUMBER" in text
    names = {path.name for path in (tmp_path / "piece").iterdir()}
    assert names == {
        f"test_piece_{way}{end}"
        for way in ("cut", "print")
        for end in (".svg", ".dxf", "_A4.pdf", "_Letter.pdf")
    }
    held = ezdxf.readfile(tmp_path / "piece" / "test_piece_cut.dxf").header.custom_vars
    assert "--cut-width NUMBER" in held.get("note") and "no part" in held.get("verdict")


def test_solids_are_written_when_asked_for(tmp_path, no_paper):
    pytest.importorskip("manifold3d", reason="the extra `solids` installs it")
    inch = KIT.with_name("vent_drive_inch.toml")
    run = CliRunner().invoke(app, ["bench", str(inch), "--to", str(tmp_path), "--solids", "--anyway"])
    assert run.exit_code in (0, 1), run.output
    names = sorted(path.name for path in tmp_path.iterdir())
    assert len([name for name in names if name.endswith("_in.stl")]) == 3, "the plate and two gears"
    assert len([name for name in names if name.endswith(".3mf")]) == 3


def test_without_the_extra_a_sentence_tells_how_to_install_it(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "manifold3d", None)
    run = CliRunner().invoke(app, ["bench", str(KIT), "--to", str(tmp_path / "x"), "--solids", "--anyway"])
    assert run.exit_code == 2 and 'pip install "gearlab[solids]"' in " ".join(
        (run.output + run.stderr).split()
    )
    assert not (tmp_path / "x").exists()


def test_every_cut_file_says_the_verdict_of_its_design(made):
    for file in made.files:
        if file.suffix == ".dxf":
            held = ezdxf.readfile(file).header.custom_vars
            assert held.get("verdict") == made.findings.verdict and "Gears pinch" in held.get("care")
        if file.suffix == ".svg":
            text = file.read_text(encoding="utf-8")
            assert made.findings.verdict in text and "Gears pinch" in text


RACK = """
[[rack]]
name = "vent rack"
pinion = "wheel_45T_m2p5_bore10_L25"
teeth = 40
module = 2.5
pitch_height = 12.5
mounting_height = 68.75
travel = 200
"""
SET = """
[[planetary]]
name = "set"
sun = 24
planet = 24
ring = 72
planets = 3
module = 2.5
face_width = 10
"""


def test_racks_rings_and_sectors_are_cut_as_well(tmp_path, no_paper):
    """A set of 24, 24 and 72 teeth: three planets of one file; tips of the ring on 175 mm (by hand)."""
    done = bench_sheets(
        read_design(KIT.read_text(encoding="utf-8") + RACK + SET),
        tmp_path,
        anyway=True,
        sectors={"wheel_45T_m2p5_bore10_L25": (-44, 44)},
        colours={"outline": "#123456"},
    )
    held = {path.stem: ezdxf.readfile(path) for path in done.files if path.suffix == ".dxf"}
    assert {"vent rack", "set sun", "set planet", "set ring", "wheel_45T_m2p5_bore10_L25"} <= held.keys()
    assert "make 3 of it" in held["set planet"].header.custom_vars.get("note")
    assert "11 whole teeth" in held["wheel_45T_m2p5_bore10_L25"].header.custom_vars.get("note")
    (teeth,) = (one for one in held["set ring"].modelspace().query("LWPOLYLINE") if one.dxf.layer == "hole")
    assert 2 * min(np.hypot(x, y) for x, y, *_ in teeth.get_points()) == pytest.approx(175, abs=0.01)
    assert held["vent rack"].layers.get("outline").rgb == (0x12, 0x34, 0x56)


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--sector", "wheel"], "--sector 'wheel' cannot be read: write it such as"),
        (["--sector", "wheel=1"], "give two angles in degrees"),
        (["--sector", "elsewhere=0:90"], "there is no gear 'elsewhere'"),
        (["--colour", "edge=#000000"], "layer 'edge' of a colour is not known"),
        (["--tolerance", "-1"], "tolerance -1 mm is out of range"),
    ],
)
def test_options_that_cannot_be_read_are_met_in_words(tmp_path, options, says):
    run = CliRunner().invoke(app, ["bench", str(KIT), "--to", str(tmp_path / "x"), "--anyway", *options])
    assert run.exit_code == 2 and says in " ".join((run.output + run.stderr).split())
    assert not (tmp_path / "x").exists()
