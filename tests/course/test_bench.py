"""Bench sheets of the vent drive: from the design file to paper and cut files, measured back with reference libraries."""

import csv
import io
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from typer.testing import CliRunner

from gearlab.cli import app
from gearlab.course.bench import bench_sheets, parts_table
from gearlab.parts.design import read_design

KIT = Path(__file__).parents[2] / "notebooks" / "vent_drive.toml"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return bench_sheets(KIT, tmp_path_factory.mktemp("bench"), cut_width=0.18)


def test_every_sheet_is_there(made):
    names = {path.name for path in made.files}
    assert {"sheets_A4.pdf", "sheets_Letter.pdf", "parts.csv", "review.txt", "plate_220x160x6.dxf", "plate_220x160x6.svg"} <= names
    assert len([name for name in names if name.endswith(".dxf")]) == 3 and all(path.stat().st_size > 100 for path in made.files)
    assert made.findings.passes


# The plate's holes (53.75, 80) and (132.5, 80), 78.75 mm apart, and the pinion's tips of 50 mm: the vent drive's numbers, worked by hand.
def test_the_cut_files_measured_back(made):
    folder = made.files[0].parent
    plate = ezdxf.readfile(folder / "plate_220x160x6.dxf")
    holes = sorted((one.dxf.center.x, one.dxf.center.y, 2 * one.dxf.radius + 0.18) for one in plate.modelspace().query("CIRCLE"))
    assert np.allclose(holes, [(53.75, 80, 10), (132.5, 80, 10)])
    pinion = ezdxf.readfile(folder / "pinion_18T_m2p5_bore10_L27.dxf")
    edge = next(one for one in pinion.modelspace().query("LWPOLYLINE") if one.dxf.layer == "outline")
    reach = max(np.hypot(x, y) for x, y, *_ in edge.get_points())
    assert 2 * reach - 0.18 == pytest.approx(50, abs=1e-3)


def test_the_parts_table(made):
    rows = list(csv.DictReader(io.StringIO(parts_table(read_design(KIT)))))
    assert {"plate_220x160x6", "shaft_d10_L50", "shaft_d10_L45", "set screw M5 x 8"} <= {row["part"] for row in rows}


def test_the_same_design_gives_the_same_bytes(made, tmp_path):
    again = bench_sheets(KIT, tmp_path, cut_width=0.18)
    assert [path.read_bytes() for path in again.files] == [path.read_bytes() for path in made.files]


def test_the_command_writes_reviews_and_warns(tmp_path):
    run = CliRunner().invoke(app, ["bench", str(KIT), "--to", str(tmp_path / "sheets")])
    assert run.exit_code == 0, run.output
    assert "the design passes" in run.output and "Laser cutters" in run.output and (tmp_path / "sheets" / "sheets_A4.pdf").is_file()


def test_a_failing_design_is_written_all_the_same_and_says_so(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(KIT.read_text(encoding="utf-8").replace("length = 45", "length = 30"), encoding="utf-8")
    run = CliRunner().invoke(app, ["bench", str(bad), "--to", str(tmp_path / "sheets")])
    assert run.exit_code == 1 and "will not work" in run.output and (tmp_path / "sheets" / "parts.csv").is_file()


def test_a_file_that_does_not_fit_is_an_error_in_words(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("[design]\nname = 'x'\n", encoding="utf-8")
    run = CliRunner().invoke(app, ["bench", str(bad), "--to", str(tmp_path / "sheets")])
    assert run.exit_code == 2 and "plate: Field required" in run.output + run.stderr
