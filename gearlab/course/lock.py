"""One program at a time in a folder, and a lock that a killed program left behind is taken over."""

import contextlib
import json
import os
import secrets
import socket
import time
from dataclasses import asdict, dataclass
from datetime import datetime
from glob import escape
from pathlib import Path

_WRITING = 2.0  # seconds after which a lock without its holder's name is one of a killed program
_PATIENCE = 10.0  # seconds in which a lock that comes and goes is tried again


@dataclass(frozen=True, slots=True)
class Holder:
    """Who holds a lock: process, machine, and since when; `started` tells processes of one number apart."""

    pid: int
    host: str
    since: str
    started: str

    @classmethod
    def me(cls) -> "Holder":
        """This process, now."""
        now = datetime.now().astimezone().isoformat(" ", "seconds")
        return cls(os.getpid(), socket.gethostname(), now, _started(os.getpid()))

    def gone(self) -> bool:
        """Whether it is a process of this machine that runs no more."""
        if self.host != socket.gethostname() or os.name == "nt":
            return False
        try:
            os.kill(self.pid, 0)
        except ProcessLookupError:
            return True
        except OSError:
            pass  # somebody else's process: it runs
        return bool(self.started) and _started(self.pid) not in ("", self.started)


def _started(pid: int) -> str:
    """When a process began, as its system counts; "" where that is not told."""
    try:
        told = Path(f"/proc/{pid}/stat").read_text(encoding="ascii", errors="replace")
        return told.rpartition(")")[2].split()[19]
    except (OSError, IndexError):
        return ""


class Lock:
    """Held inside `with`: a file that only one program can make.

    path: the lock file.
    what: what is written meanwhile, for the message.
    ValueError on entering if another program holds it; the message names it.
    """

    def __init__(self, path: Path, what: str):
        self.path = Path(path)
        self._what = what
        self._handle: int | None = None
        self.taken_over = ""  # since when a program held it that was stopped in the middle

    def __enter__(self) -> "Lock":
        latest = time.monotonic() + _PATIENCE
        while time.monotonic() < latest:
            try:
                self._make()
            except FileExistsError:
                self._look_at_holder()
            except FileNotFoundError:
                continue  # the one that held it cleared away what it took for left
            except OSError as error:
                raise ValueError(
                    f"{self._what}: {self.path.parent} cannot be written ({error.strerror}); choose another"
                    " folder"
                ) from None
            else:
                self._clear_away()
                return self
        raise ValueError(f"{self._what}: other programs take the lock {self.path} again and again; try later")

    def _clear_away(self) -> None:
        """Remove what killed programs left beside the lock while they tried to take it."""
        for left in self.path.parent.glob(f"{escape(self.path.name)}[-~]*"):
            with contextlib.suppress(OSError):
                if "~" not in left.name or time.time() - left.stat().st_mtime > _WRITING:
                    left.unlink()

    def _make(self) -> None:
        """Make the lock with its holder's name in it, where the disk can: nobody ever sees it empty then."""
        name = json.dumps({**asdict(Holder.me()), "what": self._what}).encode()
        draft = self.path.with_name(f"{self.path.name}-{secrets.token_hex(4)}")
        try:
            draft.write_bytes(name)
            os.link(draft, self.path)
            self._handle = os.open(self.path, os.O_RDONLY)
        except (FileExistsError, FileNotFoundError):
            raise
        except OSError:
            self._handle = os.open(self.path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o644)
            os.write(self._handle, name)
        finally:
            draft.unlink(missing_ok=True)

    def __exit__(self, *_) -> None:
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None
        with contextlib.suppress(OSError):
            os.unlink(self.path)

    def _look_at_holder(self) -> None:
        """Refuse where the holder runs; take its lock away where it runs no more."""
        try:
            content, age = self.path.read_bytes()[:2000], time.time() - self.path.stat().st_mtime
        except FileNotFoundError:
            return  # it has just ended
        except OSError as error:
            raise ValueError(f"lock {self.path}: cannot be read ({error.strerror}); look at it") from None
        holder = _holder(content)
        if holder is None and age < _WRITING:
            time.sleep(0.05)  # it has made its lock and not yet written its name
        elif holder is None or holder.gone() or os.name == "nt":
            self._take_away(content, holder)
        else:
            self._refuse(holder)

    def _take_away(self, content: bytes, holder: Holder | None) -> None:
        """Remove the lock of a killed program, and only that one."""
        aside = self.path.with_name(f"{self.path.name}~{secrets.token_hex(4)}")
        try:
            # Windows lets nobody move a file that its holder has open
            os.rename(self.path, aside)
        except FileNotFoundError:
            return
        except OSError:
            self._refuse(holder)
        if aside.read_bytes()[:2000] != content:  # another program was quicker: it gets its lock back
            with contextlib.suppress(OSError):
                os.rename(aside, self.path)
            return
        os.unlink(aside)
        self.taken_over = holder.since if holder else "an unknown time"

    def _refuse(self, holder: Holder | None) -> None:
        if holder is None:
            raise ValueError(f"{self._what}: another program is writing there now; wait until it has ended")
        here = holder.host == socket.gethostname()
        raise ValueError(
            f"{self._what}: process {holder.pid} on {'this machine' if here else holder.host} has been"
            f" writing there since {holder.since}; wait until it has ended"
            + ("" if here else f", or delete {self.path} if you know that it runs no more")
        )


def _holder(content: bytes) -> Holder | None:
    """Who wrote a lock; None if that cannot be read."""
    try:
        told = json.loads(content)
        pid, *words = told["pid"], told["host"], told["since"], told["started"]
    except (ValueError, KeyError, TypeError):
        return None
    if not isinstance(pid, int) or not 0 < pid < 2**31 or not all(isinstance(word, str) for word in words):
        return None
    return Holder(pid, *words)
