"""Files written whole or not at all, and what an entry of a folder is.

This module stands below all the others and imports none of them.
"""

import contextlib
import json
import os
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path

_DRAFT = (".gearlab-", ".tmp")  # how the name of a temporary file begins and ends
_PATIENCE = 2.0  # seconds in which a file that somebody else has open is tried again
_LEFT_OVER = 60.0  # seconds after which the temporary file of a killed program is removed


def put_in_place(source: str | Path, target: str | Path) -> None:
    """Move a file or a folder over another one.

    Windows refuses that while somebody reads the other one (a browser, a virus scanner, a folder that is kept
    on a server), mostly for a moment: it is tried again for two seconds.
    """
    start = time.monotonic()
    while True:
        try:
            os.replace(source, target)
            return
        except PermissionError:
            if os.name != "nt" or time.monotonic() - start > _PATIENCE:
                raise
            time.sleep(0.02)


def write_whole(path: Path, content: str | bytes, rights: int = 0o644, safe: bool = False) -> None:
    """Write a file to a temporary name beside its place and move it there.

    Text is written as UTF-8 with plain line feeds; the folder is made if missing. `safe` waits until the disk
    has it.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, draft = tempfile.mkstemp(prefix=_DRAFT[0], suffix=_DRAFT[1], dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            if os.name == "posix":
                os.fchmod(file.fileno(), rights)
            if safe:
                file.flush()
                os.fsync(file.fileno())
        put_in_place(draft, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(draft)
        raise


def write_new(path: str, data: bytes, over: bool = False) -> None:
    """Write a file into a folder that is not in its place yet: the short way, for thousands of them.

    path: the file; none of that name is there.
    data: what stands in it.
    over: whether one of that name may be there, and goes.
    """
    how = os.O_TRUNC if over else os.O_EXCL
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | how | getattr(os, "O_BINARY", 0), 0o644)
    try:
        while data:
            data = data[os.write(handle, data) :]
    finally:
        os.close(handle)


def kind_of(entry: os.DirEntry) -> str:
    """What an entry of a folder is: "folder", "file", "link" or "other"; links are not followed."""
    if entry.is_symlink():
        return "link"
    return "folder" if entry.is_dir() else "file" if entry.is_file() else "other"


def write_json(path: str | Path, data: Mapping, rights: int = 0o600) -> None:
    """Write plain data as JSON, for this user alone, and remove what killed programs left beside it."""
    path = Path(path)
    for draft in path.parent.glob("*".join(_DRAFT)):
        with contextlib.suppress(OSError):
            if time.time() - draft.stat().st_mtime > _LEFT_OVER:
                draft.unlink()
    text = json.dumps(data, ensure_ascii=False, indent=1, sort_keys=True)
    write_whole(path, text + "\n", rights=rights, safe=True)
