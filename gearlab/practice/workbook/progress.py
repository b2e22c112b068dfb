"""A student's answers on disk.

One JSON file beside the notebook, safe against crashes and two writers at once.

What stands here serves the student only: no mark is ever worked out from it.
"""

from __future__ import annotations

import contextlib
import json
import os
import time
from datetime import UTC, datetime
from functools import lru_cache
from importlib import metadata
from pathlib import Path

from gearlab.writing import write_json

__all__ = ["Answers", "FILE", "FOLDER_VARIABLE", "held", "write_json"]

FILE = "gearlab-answers.json"
FOLDER_VARIABLE = "GEARLAB_ANSWERS"
FORMAT = "gearlab answers 1"
LARGEST = 5_000_000  # bytes of a file that is read
LONGEST_TEXT = 2000  # characters of one stored text
_LEFT_OVER = 60.0  # seconds after which the lock of a killed program is taken over
_PATIENCE = 5.0  # seconds to wait for another writer


class Answers:
    """The answers of one folder, by default the working folder, which is the notebook's.

    The environment variable GEARLAB_ANSWERS, where set, goes before both. `damaged` is where a file that
    could not be read was set aside.
    """

    def __init__(self, folder: str | Path | None = None, file: str = FILE):
        if not file or Path(file).name != file:
            raise ValueError(f"file {file!r} must be a plain file name without a folder")
        self.folder = Path(os.environ.get(FOLDER_VARIABLE) or folder or Path.cwd())
        self.path = self.folder / file
        self.damaged: Path | None = None

    def __repr__(self) -> str:
        return f"Answers({str(self.path)!r})"

    def all(self) -> dict:
        """Everything stored, by key."""
        return self._read()

    def get(self, key: str) -> dict:
        """What is stored under a key; an empty dict where nothing is."""
        return self._read().get(key, {})

    def put(self, key: str, **fields) -> dict:
        """Store fields under a key beside those already there, and hand all of the key's fields back.

        Fields are plain data: texts (cut at 2000 characters), numbers, lists, dicts.
        """
        with held(self.path):
            stored = self._read()
            entry = {**stored.get(key, {}), **_plain(fields)}
            stored[key] = entry
            self._write(stored)
        return entry

    def clear(self, key: str) -> None:
        """Forget a key."""
        with held(self.path):
            stored = self._read()
            if stored.pop(key, None) is not None:
                self._write(stored)

    # -- the file --------------------------------------------------------------------------------------
    def _read(self) -> dict:
        try:
            if self.path.stat().st_size > LARGEST:
                raise ValueError("too large")
            data = json.loads(self.path.read_text(encoding="utf-8"))
            answers = data["answers"]
            if not isinstance(answers, dict):
                raise ValueError("no answers")
            return {str(key): entry for key, entry in answers.items() if isinstance(entry, dict)}
        except FileNotFoundError:
            return {}
        except (ValueError, KeyError, TypeError, RecursionError):
            self._set_aside()
            return {}

    def _set_aside(self) -> None:
        """Move a damaged file out of the way, so that nothing in it is lost and the student can go on."""
        for number in range(1, 1000):
            aside = self.path.with_name(f"{self.path.stem}.damaged-{number}{self.path.suffix}")
            if not aside.exists():
                with contextlib.suppress(OSError):
                    os.replace(self.path, aside)
                    self.damaged = aside
                return

    def _write(self, answers: dict) -> None:
        now = datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        write_json(self.path, {"format": FORMAT, "gearlab": _version(), "saved": now, "answers": answers})


@contextlib.contextmanager
def held(path: Path):
    """Nobody else who asks in this way writes a file (or what lies beside it) meanwhile.

    TimeoutError if another program holds it for 5 s.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    lock = path.with_name(f".{path.name}.lock")
    try:
        import fcntl
    except ImportError:  # Windows
        with _lock_file(lock):
            yield
        return
    with open(lock, "a") as handle:  # closing it lets the lock go
        start = time.monotonic()
        while True:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                break
            except OSError:
                if time.monotonic() - start > _PATIENCE:
                    raise TimeoutError(
                        f"another program has been writing {path} for more than {_PATIENCE:g} s;"
                        " close it and try again"
                    ) from None
                time.sleep(0.005)
        yield


@lru_cache(maxsize=1)
def _version() -> str:
    try:
        return metadata.version("gearlab")
    except metadata.PackageNotFoundError:
        return ""


@contextlib.contextmanager
def _lock_file(path: Path):
    """A lock where the system has none of its own: a file that only one program can create."""
    mine = path.with_suffix(".lock-file")
    start = time.monotonic()
    while True:
        try:
            os.close(os.open(mine, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
            break
        except FileExistsError:
            with contextlib.suppress(OSError):
                if time.time() - mine.stat().st_mtime > _LEFT_OVER:
                    mine.unlink()
                    continue
            if time.monotonic() - start > _PATIENCE:
                raise TimeoutError(
                    f"{mine} is held by another program; if none is running, delete it"
                ) from None
            time.sleep(0.01)
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            mine.unlink()


def _plain(value, depth: int = 0):
    """Plain data only, texts cut to a bounded length."""
    if depth > 6:
        raise ValueError("stored data is nested too deeply")
    if isinstance(value, str):
        return value[:LONGEST_TEXT]
    if value is None or isinstance(value, (bool, int, float)):
        return value
    if isinstance(value, dict):
        return {str(key)[:200]: _plain(inner, depth + 1) for key, inner in list(value.items())[:500]}
    if isinstance(value, (list, tuple)):
        return [_plain(inner, depth + 1) for inner in value[:500]]
    raise ValueError(f"{type(value).__name__} cannot be stored: use texts, numbers, lists and dicts")
