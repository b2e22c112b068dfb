"""Files put in place where the system refuses it for a moment, as Windows does; not tried there."""

import os

import pytest

from gearlab import writing


@pytest.mark.parametrize("refusals", [0, 1, 5])
def test_a_file_that_is_read_for_a_moment_is_replaced_a_little_later(tmp_path, monkeypatch, refusals):
    draft, place = str(tmp_path / "draft"), str(tmp_path / "place")
    for path, text in ((draft, "new"), (place, "old")):
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
    left, replace = [refusals], os.replace

    def busy(source, target):
        if left[0]:
            left[0] -= 1
            raise PermissionError(13, "Access is denied", target)
        replace(source, target)

    monkeypatch.setattr(writing.os, "replace", busy)
    monkeypatch.setattr(writing.os, "name", "nt")
    writing.put_in_place(draft, place)
    monkeypatch.undo()
    assert (tmp_path / "place").read_text(encoding="utf-8") == "new" and not left[0]


def test_a_file_that_stays_open_is_refused_after_two_seconds_and_at_once_elsewhere(tmp_path, monkeypatch):
    waits = []

    def busy(source, target):
        raise PermissionError(13, "Access is denied", target)

    monkeypatch.setattr(writing.os, "replace", busy)
    monkeypatch.setattr(writing.time, "sleep", waits.append)
    clock = iter(range(100))
    monkeypatch.setattr(writing.time, "monotonic", lambda: next(clock) * 0.5)
    monkeypatch.setattr(writing.os, "name", "nt")
    with pytest.raises(PermissionError):
        writing.put_in_place("a", "b")
    monkeypatch.setattr(writing.os, "name", "posix")
    before = len(waits)
    with pytest.raises(PermissionError):
        writing.put_in_place("a", "b")
    monkeypatch.undo()
    assert before == 4 and len(waits) == before
