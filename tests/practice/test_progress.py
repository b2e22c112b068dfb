"""Answers on disk."""

import json
import os
import signal
import sys
import time

import pytest
import writers

from gearlab.practice.workbook import progress
from gearlab.practice.workbook.progress import Answers, write_json


@pytest.fixture
def answers(tmp_path, monkeypatch):
    monkeypatch.delenv(progress.FOLDER_VARIABLE, raising=False)
    return Answers(tmp_path)


def test_put_merges_fields(answers):
    answers.put("03/spacing", texts={"centre_distance": "78,75"}, number=1)
    answers.put("03/spacing", tries=2)
    answers.put("predict/03/1", text="larger")
    again = Answers(answers.folder)
    assert again.get("03/spacing") == {"texts": {"centre_distance": "78,75"}, "number": 1, "tries": 2}
    assert set(again.all()) == {"03/spacing", "predict/03/1"}
    assert again.get("nothing") == {}
    again.clear("predict/03/1")
    assert set(answers.all()) == {"03/spacing"}
    data = json.loads(answers.path.read_text(encoding="utf-8"))
    assert data["format"] == "gearlab answers 1" and data["saved"].endswith("Z")


def test_environment_redirects_the_folder(tmp_path, monkeypatch):
    elsewhere = tmp_path / "elsewhere"
    monkeypatch.setenv(progress.FOLDER_VARIABLE, str(elsewhere))
    Answers(tmp_path).put("a", texts={"x": "1"})
    assert (elsewhere / progress.FILE).exists() and not (tmp_path / progress.FILE).exists()


def test_default_folder_is_the_working_one(tmp_path, monkeypatch):
    monkeypatch.delenv(progress.FOLDER_VARIABLE, raising=False)
    monkeypatch.chdir(tmp_path)
    assert Answers().path == tmp_path / progress.FILE


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"answers": 3}', '{"answers": {"a"', "\x00\x01", "[" * 100_000]
)
def test_damaged_file_is_set_aside(answers, text):
    answers.path.write_text(text, encoding="utf-8")
    assert answers.all() == {}
    assert answers.damaged is not None and answers.damaged.read_text(encoding="utf-8") == text
    answers.put("a", number=1)
    assert answers.get("a") == {"number": 1}


def test_entries_that_are_no_tables_are_left_out(answers):
    answers.path.write_text(json.dumps({"answers": {"a": 3, "b": {"number": 1}}}), encoding="utf-8")
    assert answers.all() == {"b": {"number": 1}}


def test_too_large_a_file_is_set_aside(answers):
    answers.path.write_text('{"answers": {"a": {"x": "' + "y" * progress.LARGEST + '"}}}', encoding="utf-8")
    assert answers.all() == {} and answers.damaged


def test_texts_are_bounded_and_only_plain_data_is_stored(answers):
    answers.put("a", texts={"x": "9" * 10_000})
    assert len(answers.get("a")["texts"]["x"]) == progress.LONGEST_TEXT
    with pytest.raises(ValueError, match="cannot be stored"):
        answers.put("a", thing=object())
    with pytest.raises(ValueError, match="nested"):
        answers.put("a", thing=[[[[[[[[1]]]]]]]])
    with pytest.raises(ValueError, match="plain file name"):
        Answers(answers.folder, "../elsewhere.json")


def test_left_over_temporary_files_are_removed(answers):
    old, new = answers.folder / ".gearlab-old.tmp", answers.folder / ".gearlab-new.tmp"
    for one in (old, new):
        one.write_text("x")
    os.utime(old, (time.time() - 120,) * 2)
    answers.put("a", number=1)
    assert not old.exists() and new.exists()


def test_failed_write_leaves_the_old_file(tmp_path):
    path = tmp_path / "x.json"
    write_json(path, {"a": 1})
    with pytest.raises(TypeError):
        write_json(path, {"a": object()})
    assert json.loads(path.read_text()) == {"a": 1}
    assert [one.name for one in tmp_path.iterdir()] == ["x.json"]


def test_two_writers_lose_nothing(answers):
    workers = [writers.process(writers.answer_many, answers.folder, name, 40) for name in "ab"]
    for one in workers:
        one.start()
    for one in workers:
        one.join(30)
    assert len(answers.all()) == 80


def test_lock_file_where_there_is_no_flock(answers, monkeypatch):
    monkeypatch.setitem(sys.modules, "fcntl", None)
    answers.put("a", number=1)
    assert answers.get("a") == {"number": 1}
    lock = next(iter([answers.path.with_name(f".{progress.FILE}.lock")])).with_suffix(".lock-file")
    lock.write_text("")  # a program that was killed while it held the lock
    os.utime(lock, (time.time() - 120,) * 2)
    answers.put("a", number=2)
    assert answers.get("a") == {"number": 2}
    lock.write_text("")
    monkeypatch.setattr(progress, "_PATIENCE", 0.05)
    with pytest.raises(TimeoutError, match="delete it"):
        answers.put("a", number=3)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs kill")
def test_killed_while_writing(answers):
    for _ in range(3):
        process = writers.process(writers.answer_on, answers.folder)
        process.start()
        # in the midst of its work: it has written some, whatever was there before
        seen, until = set(), time.monotonic() + 60
        while len(seen) < 5 and time.monotonic() < until:
            if answers.path.exists():
                seen.add(answers.path.read_bytes())
            time.sleep(0.005)
        assert len(seen) == 5, "it does not write"
        process.kill()
        process.join()
        assert isinstance(answers.get("k")["number"], int) and answers.damaged is None
