"""What comes in: found wherever it lies, bounded, and never unpacked, followed or run."""

import io
import json
import os
import tracemalloc
import zipfile

import pytest

from gearlab.course.intake.came import Intake
from gearlab.course.roster import Roster, Student
from gearlab.practice.handin import FILE_LIMIT, read_hand_in

ROSTER = Roster([Student("007", "Ada"), Student("012", "Ben"), Student("b.x/1", "Cy")])


def content(student="007", **changes):
    data = {
        "gearlab": "hand-in",
        "edition": 1,
        "set": "homework-1",
        "student": student,
        "packet": "AAAA-BBBB-CCCC",
    }
    data["answers"] = {"spacing-metric": {"centre_distance": "78,75 mm"}}
    return json.dumps(data | changes).encode()


def zipped(files):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files:
            archive.writestr(name, data)
    return file.getvalue()


def kinds(intake):
    return sorted((problem.kind, problem.file) for problem in intake.problems)


def test_a_folder_with_folders_and_zips_in_it(tmp_path):
    (tmp_path / "week 3" / "Ada").mkdir(parents=True)
    (tmp_path / "week 3" / "Ada" / "HAND-IN_homework-1_007.json").write_bytes(content())
    (tmp_path / "HAND-IN_homework-1_b~2e~x~2f~1 (1).json").write_bytes(content("b.x/1"))
    inner = zipped([("my work/HAND-IN_homework-1_012 copy.json", content("012"))])
    (tmp_path / "ben_b_4711_file_work.zip").write_bytes(zipped([("work.zip", inner)]))
    intake = Intake(tmp_path, "homework-1", ROSTER)
    assert intake.problems == []
    for student in ROSTER:
        (item,) = intake.items(student.id)
        assert read_hand_in(intake.read(item)).student == student.id


def test_a_learning_systems_zip_with_prefixes(tmp_path):
    place = tmp_path / "download.zip"
    names = {
        "moss_ada_55_sub_hand-in_homework-1_007.json": content(),  # the system wrote the name small
        # and numbered this one: found by what stands in it
        "Ben Brook_77_late_HAND-IN_homework-1_012-3.json": content("012"),
        "Cy_78_answers.json": content("b.x/1"),
        "Cy_78_sheet.pdf": b"%PDF",
        "Dora_79_HAND-IN_homework-1_999.json": content("999"),
        "Eve_80_HAND-IN_practice-1_007.json": content("007", set="practice-1"),
        "Fay_81_homework-1_012.ipynb": b"{}",
        "Gus_82_mine.ipynb": b"{}",
    }
    place.write_bytes(zipped(names.items()))
    intake = Intake(place, "homework-1", ROSTER)
    assert [len(intake.items(student.id)) for student in ROSTER] == [1, 1, 1]
    assert intake.notebook("012") is not None and intake.notebook("007") is None
    prefix = f"{place} > "
    assert kinds(intake) == [
        ("foreign", prefix + "Dora_79_HAND-IN_homework-1_999.json"),
        ("other file", prefix + "Cy_78_sheet.pdf"),
        ("other file", prefix + "Gus_82_mine.ipynb"),
        ("other set", prefix + "Eve_80_HAND-IN_practice-1_007.json"),
    ]


def test_hostile_zips_are_bounded_and_touch_nothing(tmp_path):
    place = tmp_path / "in" / "download.zip"
    place.parent.mkdir()
    link = zipfile.ZipInfo("HAND-IN_homework-1_012.json")
    link.external_attr = 0o120777 << 16
    bomb = b"[" * 60_000_000
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("../../HAND-IN_homework-1_007.json", content())
        archive.writestr(link, "/etc/passwd")
        archive.writestr("HAND-IN_homework-1_b~2e~x~2f~1.json", bomb)
        archive.writestr(
            "bomb.zip", zipped([("inner.zip", zipped([("deep.zip", zipped([("more.zip", b"PK")]))]))])
        )
        archive.writestr("large.zip", b"\0" * 6_000_000)
    del bomb
    place.write_bytes(file.getvalue())
    before = sorted(tmp_path.rglob("*"))
    tracemalloc.start()
    intake = Intake(place, "homework-1", ROSTER)
    with pytest.raises(ValueError, match="larger than 200 kB"):
        read_hand_in(intake.read(intake.items("b.x/1")[0]))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 20_000_000
    assert sorted(tmp_path.rglob("*")) == before
    # the path in the zip is only a name
    assert read_hand_in(intake.read(intake.items("007")[0])).student == "007"
    assert intake.items("012") == []
    reasons = " / ".join(problem.reason for problem in intake.problems)
    assert (
        "link" in reasons
        and "inside a zip inside a zip" in reasons
        and "damaged, encrypted or too large" in reasons
    )


def test_damaged_and_encrypted_entries_name_their_reason(tmp_path):
    data = bytearray(
        zipped([("HAND-IN_homework-1_007.json", content()), ("HAND-IN_homework-1_012.json", content("012"))])
    )
    data[60] ^= 0xFF  # inside the first entry's packed bytes
    second = data.rindex(b"PK\x01\x02")
    data[second + 8] |= 1  # the directory says: encrypted
    place = tmp_path / "download.zip"
    place.write_bytes(data)
    intake = Intake(place, "homework-1", ROSTER)
    with pytest.raises(ValueError, match="damaged"):
        intake.read(intake.items("007")[0])
    with pytest.raises(ValueError, match="encrypted"):
        intake.read(intake.items("012")[0])


@pytest.mark.skipif(os.name != "posix", reason="links and pipes")
def test_links_and_pipes_in_a_folder_are_not_followed(tmp_path):
    secret = tmp_path / "secret.json"
    secret.write_bytes(content())
    folder = tmp_path / "in"
    folder.mkdir()
    (folder / "HAND-IN_homework-1_007.json").symlink_to(secret)
    (folder / "all").symlink_to(tmp_path, target_is_directory=True)
    os.mkfifo(folder / "HAND-IN_homework-1_012.json")
    intake = Intake(folder, "homework-1", ROSTER)
    assert intake.received == 0 and [p.kind for p in intake.problems] == ["unreadable"] * 3


def test_a_folder_that_cannot_be_opened_is_named_and_the_rest_is_read(tmp_path, monkeypatch):
    (tmp_path / "locked").mkdir()
    (tmp_path / "HAND-IN_homework-1_007.json").write_bytes(content())
    scandir = os.scandir

    def guarded(path):
        if str(path).rstrip("/").endswith("locked"):
            raise PermissionError(13, "Permission denied")
        return scandir(path)

    monkeypatch.setattr(os, "scandir", guarded)
    intake = Intake(tmp_path, "homework-1", ROSTER)
    assert len(intake.items("007")) == 1
    assert kinds(intake) == [("unreadable", "locked/")] and "Permission denied" in intake.problems[0].reason


def test_the_place_must_be_a_folder_or_a_zip(tmp_path):
    other = tmp_path / "list.csv"
    other.write_text("id,name\n")
    for place in (other, tmp_path / "none"):
        with pytest.raises(ValueError, match="neither a folder nor a zip"):
            Intake(place, "homework-1", ROSTER)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (content()[:-30], "cut off"),
        (b"answers = 1", "not JSON"),
        (b"\x80\x04\x95pickle", "not JSON"),
        (b"[" * 150_000, "not JSON|cut off"),
        (b'{"a":' * 30_000, "not JSON|cut off"),
        (b"[]", "whole file"),
        (b"{}", "not a hand-in"),
        (content(gearlab="hand-out"), "not a hand-in"),
        (content(edition=2), "not a hand-in"),
        (content(answers=[]), "field answers"),
        (content(answers={"q": {"a": 5}}), "field answers > q > a"),
        (content(answers={"q": {"a": "9" * 4001}}), "4000"),
        (content(answers={f"q{i}": {} for i in range(201)}), "200"),
        (content(student="x" * 65), "field student"),
        (content(saved=10**12), "field saved"),
        (content(padding="x" * FILE_LIMIT), "larger than 200 kB"),
        (
            b'{"gearlab": "hand-in", "edition": 1, "set": "s", "student": "\\ud800", "answers": {}}',
            "not JSON",
        ),
    ],
)
def test_what_is_no_hand_in_says_why(data, words, processor_time):
    def tried():
        with pytest.raises(ValueError, match=words):
            read_hand_in(data)

    assert processor_time(tried, 1) < 1.0


def test_what_a_disk_says_about_scores_is_not_even_read():
    hand_in = read_hand_in(content(score=100, attempts=1, verdicts={"spacing-metric": "right"}))
    assert not hasattr(hand_in, "score") and not hasattr(hand_in, "verdicts")
    assert hand_in.answered() == 1
    assert read_hand_in(b"\xef\xbb\xbf" + content(answers={"q": {"a": " ", "b": None}})).answered() == 0
