"""The class list: what is read, and what is refused with its line."""

import pytest

from gearlab.course.roster import Roster, Student, read_roster


def written(folder, text, encoding="utf-8"):
    path = folder / "class.csv"
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("part", [",", ";", "\t"])
def test_ids_are_text_with_their_zeros(tmp_path, encoding, part):
    text = 'name,ID,email,group\r\n"Šárka, M.",0071,s@school.example,A\r\n\r\nBo,12,,B\r\n'.replace(",", part)
    text = text.replace(f"Šárka{part} M.", "Šárka, M.")
    roster = read_roster(written(tmp_path, text, encoding))
    assert list(roster) == [Student("0071", "Šárka, M.", "s@school.example"), Student("12", "Bo", "")]
    assert "71" not in roster


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name,email\nBo,b@x\n", ["line 1", "'id'"]),
        ("id,id,name\n1,1,Bo\n", ["line 1", "'id'"]),
        ("", ["line 1", "(none)"]),
        ("id,name\n", ["no student"]),
        ("id,name\n007,Bo\n008,Cy\n007,Di\n", ["'007'", "line 2", "line 4"]),
        ("id,name\nabc,Bo\nABC,Cy\n", ["line 2", "line 3", "capitals"]),
        ("id,name\n ,Bo\n", ["line 2", "without an id"]),
        ("id,name\n" + "9" * 65 + ",Bo\n", ["line 2", "65 characters", "at most 64"]),
        ("id,name\na\u200bb,Bo\n", ["line 2", "control character"]),
        ('id,name\n1,"Bo\n', ["CSV"]),
        ("id,name\n1," + "x" * 201 + "\n", ["line 2", "201", "at most 200"]),
    ],
)
def test_refused_with_the_line_named(tmp_path, text, words):
    with pytest.raises(ValueError) as error:
        read_roster(written(tmp_path, text))
    assert all(word in str(error.value) for word in words), str(error.value)


def test_other_encodings_and_missing_files_say_what_to_do(tmp_path):
    with pytest.raises(ValueError, match="CSV UTF-8"):
        read_roster(written(tmp_path, "id,name\n1,Müller\n", "latin-1"))
    with pytest.raises(ValueError, match="check the file name"):
        read_roster(tmp_path / "none.csv")


def test_a_roster_made_in_code_keeps_the_same_rules():
    with pytest.raises(ValueError, match="twice"):
        Roster([Student("1"), Student("1")])
    with pytest.raises(ValueError, match="not in the roster of 1 students"):
        Roster([Student("1")]).find("2")
