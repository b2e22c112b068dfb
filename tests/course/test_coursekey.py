"""The course key: made private, refused when it is not."""

import os

import pytest

from gearlab.course.coursekey import HEADER, LETTERS, make_key, read_key, refuse_inside

posix = pytest.mark.skipif(os.name != "posix", reason="file rights are a matter of POSIX systems")


def test_a_new_key_is_private_and_reads_back(tmp_path):
    path = tmp_path / "own" / "greenhouse.key"
    key = make_key(path)
    assert read_key(path).secret == key.secret and len(key.secret) == 32
    assert path.read_text().startswith(HEADER + "\n")
    if os.name == "posix":
        assert path.stat().st_mode & 0o777 == 0o600
    assert key.secret.hex() not in repr(key)
    with pytest.raises(ValueError, match="keeps its key"):
        make_key(path)
    assert make_key(tmp_path / "other.key").secret != key.secret


@posix
@pytest.mark.parametrize("rights", [0o640, 0o604, 0o660])
def test_a_key_others_can_open_is_refused(tmp_path, rights):
    path = tmp_path / "c.key"
    make_key(path)
    path.chmod(rights)
    with pytest.raises(ValueError, match=f"rights {rights:03o}, allowed 600.*chmod 600"):
        read_key(path)


def test_other_files_are_no_keys(tmp_path):
    path = tmp_path / "c.key"
    with pytest.raises(ValueError, match="no such file"):
        read_key(path)
    for content in (b"", b"id,name\n1,Bo\n", HEADER.encode() + b"\nabc\n", b"\xff\xfe"):
        path.write_bytes(content)
        path.chmod(0o600)
        with pytest.raises(ValueError, match="key .*c.key"):
            read_key(path)


def test_a_key_never_lies_in_what_is_handed_out(tmp_path):
    handed = tmp_path / "handed"
    (handed / "sheets").mkdir(parents=True)
    with pytest.raises(ValueError, match="handed out"):
        refuse_inside(handed / "sheets" / "c.key", handed)
    refuse_inside(tmp_path / "c.key", handed)
    (handed / "hand-out.json").write_text("{}")
    for place in (handed / "c.key", handed / "sheets" / "c.key"):
        with pytest.raises(ValueError, match="handed out"):
            make_key(place)
        assert not place.exists()


def test_packet_codes_differ_by_student_set_and_edition_and_have_no_look_alikes(tmp_path):
    key = make_key(tmp_path / "c.key")
    codes = {
        key.packet_code(s, e, i) for s in ("one", "two") for e in ("aa", "bb") for i in ("1", "11", "01")
    }
    assert len(codes) == 12
    assert all(set(code) <= set(LETTERS + "-") and len(code) == 14 for code in codes)
    assert not set("0O1IL") & set(LETTERS)
    assert read_key(key.path).packet_code("one", "aa", "1") == key.packet_code("one", "aa", "1")
