"""The class list: what is read, and what is refused with its line."""

import pytest

from gearlab.course.roster import Roster, Student, read_roster


def written(folder, text, encoding="utf-8"):
    path = folder / "class.csv"
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
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


@pytest.mark.parametrize("encoding", ["latin-1", "cp1252"])
def test_a_list_saved_in_the_old_encoding_is_read_and_said(tmp_path, encoding):
    roster = read_roster(written(tmp_path, "id;name\n1;Müller, Zoë\n", encoding))
    assert roster.find("1").name == "Müller, Zoë"
    assert any("Windows-1252" in remark and "CSV UTF-8" in remark for remark in roster.remarks)


@pytest.mark.parametrize(
    "content",
    [
        "id,name\n1,Müller\n2,".encode() + b"\xff\n",  # UTF-8 with a byte damaged: no other encoding
        b"id,name\n1,Bo\x81\n",  # 0x81 stands for nothing in Windows-1252
        b"\xff\xfe\x00",  # the mark of UTF-16, and half a letter
        b"id,name\n1,B\0o\n",
    ],
)
def test_what_is_no_text_says_what_to_do(tmp_path, content):
    path = tmp_path / "class.csv"
    path.write_bytes(content)
    with pytest.raises(ValueError, match="CSV UTF-8"):
        read_roster(path)
    with pytest.raises(ValueError, match="check the file name"):
        read_roster(tmp_path / "none.csv")


def test_sections_and_a_column_of_another_name(tmp_path):
    text = "id,name,Section,group\n3,Cy,B,x\n1,Ada,A,x\n2,Bo,B,y\n4,Di,,y\n"
    roster = read_roster(written(tmp_path, text))
    assert roster.sections == ("A", "B")
    assert [student.id for student in roster.section("b ")] == ["3", "2"]
    with pytest.raises(ValueError, match="section 'C': .*there are A, B"):
        roster.section("C")
    groups = read_roster(tmp_path / "class.csv", "Group")
    assert groups.sections == ("x", "y") and groups.find("4").section == "y"
    with pytest.raises(ValueError, match="exactly one must be called 'tutorial'"):
        read_roster(tmp_path / "class.csv", "tutorial")
    with pytest.raises(ValueError, match="no column section"):
        read_roster(written(tmp_path, "id,name\n1,Ada\n")).section("A")


def test_what_spreadsheets_do_to_ids(tmp_path):
    """Spreadsheets drop leading zeros and shorten numbers from 12 digits on (common practice)."""
    roster = read_roster(written(tmp_path, "sep=;\nid;name\n 007 ;Ada\n7;Ada\n\xa0S17\xa0;Bo\n"))
    assert [student.id for student in roster] == ["007", "7", "S17"]  # two students, and it is said
    assert any("ids 007, 7 differ in leading zeros only" in remark for remark in roster.remarks)
    assert roster.like("s017") is None and roster.like(" s17 ").id == "S17" and roster.like("0007") is None
    with pytest.raises(ValueError, match="line 3.*spreadsheet shortened"):
        read_roster(written(tmp_path, "id,name\n1,Ada\n1.23457E+11,Bo\n"))
    with pytest.raises(ValueError, match="line 2.*quotation marks"):
        read_roster(written(tmp_path, "id,name\n1,Lovelace, Ada\n"))


def test_a_roster_made_in_code_keeps_the_same_rules():
    with pytest.raises(ValueError, match="twice"):
        Roster([Student("1"), Student("1")])
    with pytest.raises(ValueError, match="not in the roster of 1 students"):
        Roster([Student("1")]).find("2")
