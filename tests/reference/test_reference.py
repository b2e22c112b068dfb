"""Every published value, through gearlab, to its own tolerance."""

import importlib
import math
import tomllib
from pathlib import Path

import pytest

from gearlab import Gear, Mesh

# One file of methods a group of subjects: methods.py, methods_trains.py and so on, each with its METHODS.
METHODS = {}
for _file in sorted(Path(__file__).parent.glob("methods*.py")):
    METHODS |= importlib.import_module(_file.stem).METHODS

FILES = sorted(Path(__file__).parent.glob("topic_*.toml"))
CONFIDENCE = {
    "seen",
    "seen (solution transcription)",
    "seen (formula only; number is its evaluation)",
    "from memory",
    "common practice",
}


def read(text, name="the rows"):
    """Rows of a file of published values.

    Refuses a row that does not say where it stands and how sure it is.
    """
    rows = tomllib.loads(text)["row"]
    for row in rows:
        for field in ("id", "source", "confidence"):
            if not str(row.get(field, "")).strip():
                raise ValueError(
                    f"{name}: row {row.get('id', '?')} has no {field}: a published value needs one"
                )
        if row["confidence"] not in CONFIDENCE:
            raise ValueError(
                f"{name}: row {row['id']} has the confidence {row['confidence']!r}: use one of"
                f" {', '.join(sorted(CONFIDENCE))}"
            )
        if "tolerance" not in row or not row["tolerance"] >= 0:
            raise ValueError(f"{name}: row {row['id']} has no tolerance")
    return rows


ROWS = [row for file in FILES for row in read(file.read_text(encoding="utf-8"), file.name)]


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_published_value(row):
    value, expected = METHODS[row["method"]](row), row["expected"]["value"]
    if isinstance(expected, list):
        assert value == expected, row["source"]
    else:
        assert math.isfinite(value)
        assert abs(value - expected) <= row["tolerance"], (
            f"{row['quantity']}: {value!r} against {expected} ({row['source']}; {row['confidence']})"
        )


def test_every_row_is_counted_once():
    names = [row["id"] for row in ROWS]
    assert len(names) == len(set(names)) > 300


@pytest.mark.parametrize("field", ["source", "confidence", "tolerance"])
def test_a_row_without_its_source_is_refused(field):
    lines = ['id = "X-1"', 'source = "ISO 53:1998"', 'confidence = "seen"', "tolerance = 0.1"]
    assert read("[[row]]\n" + "\n".join(lines))[0]["id"] == "X-1"
    bare = "[[row]]\n" + "\n".join(line for line in lines if not line.startswith(field))
    with pytest.raises(ValueError, match=f"X-1 has no {field}"):
        read(bare)
    empty = "[[row]]\n" + "\n".join(
        f'{field} = ""' if line.startswith(field) and field != "tolerance" else line
        for line in lines
        if not (line.startswith(field) and field == "tolerance")
    )
    with pytest.raises(ValueError, match=f"X-1 has no {field}"):
        read(empty)


# Common practice: two stock gears of 24 DP with 30 and 60 teeth are mounted 1.875 in apart, and the larger
# turns half as fast, the other way.
def test_stock_pair_of_24_diametral_pitch():
    pair = Mesh(Gear(30, diametral_pitch=24), Gear(60, diametral_pitch=24))
    assert pair.centre_distance == pytest.approx(1.875, abs=1e-12)  # common practice
    assert pair.speed(100) == pytest.approx(-50.0, abs=1e-12)  # common practice
    assert pair.explain("driven_speed", driver_speed=100.0).result == pytest.approx(-50.0, abs=1e-12)
