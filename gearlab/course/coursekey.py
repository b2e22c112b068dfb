"""The secret of a course, from which every student's numbers are drawn."""

import hmac
import os
import re
import secrets
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from gearlab.writing import write_whole

HEADER = "gearlab course key: keep this file private and never hand it out"
# The mark that a hand-out leaves in its folder; a key must not lie in such a folder.
HAND_OUT_MARK = "hand-out.json"
COURSE_FILE, HANDED_OUT = "course.toml", "handed-out"  # a course's own file, and where its hand-outs lie
CODES_KEPT = 1000  # sheet codes that do not fit and are remembered
# Without 0 O 1 I L, which look alike on paper.
LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"


class CourseKey:
    """The key of one course and the file it lies in.

    secret: the key itself, 32 bytes.
    """

    def __init__(self, path: Path, secret: bytes):
        self.path = Path(path)
        self.secret = secret

    def __repr__(self) -> str:
        return f"CourseKey({str(self.path)!r})"  # the secret is never shown

    def packet_code(self, set_name: str, edition: str, student: str) -> str:
        """The code that ties a sheet to its student, its set and the frozen edition.

        edition: digest of the frozen copy.
        Returns twelve letters and digits in three groups, without look-alikes.
        """
        message = "\x1f".join(("packet", set_name, edition, student)).encode("utf-8")
        number = int.from_bytes(hmac.digest(self.secret, message, "sha256")[:16], "big")
        letters = []
        for _ in range(12):
            number, rest = divmod(number, len(LETTERS))
            letters.append(LETTERS[rest])
        return "-".join("".join(letters[i : i + 4]) for i in (0, 4, 8))

    def frozen_path(self, set_name: str) -> Path:
        """Where the frozen copy of a set lies: beside the key.

        Returns the file, there or not.
        """
        return self.path.with_name(f"{self.path.name}.{set_name}.frozen.json")


def read_key(path: Path) -> CourseKey:
    """Read a course key from its file.

    ValueError if there is no such file, it is no key, others may read it, or it lies in a folder that is
        handed out.
    """
    path = Path(path)
    _check_place(path)
    try:
        with open(path, encoding="utf-8") as file:
            rights = os.fstat(file.fileno()).st_mode & 0o777
            text = file.read(1000)
    except FileNotFoundError:
        raise ValueError(
            f"key {path}: there is no such file; `gearlab hand-out` makes it for a new course"
        ) from None
    except (OSError, UnicodeDecodeError) as error:
        raise ValueError(f"key {path}: cannot be read ({error}); check the file name") from None
    match = re.fullmatch(re.escape(HEADER) + r"\n([0-9a-f]{64})\n?", text.replace("\r\n", "\n"))
    if not match:
        raise ValueError(
            f"key {path}: is not a course key (its first line should be {HEADER!r}); check the file name"
        )
    if os.name == "posix" and rights & 0o077:
        raise ValueError(
            f"key {path}: other users may open it (rights {rights:03o}, allowed 600); run `chmod 600 {path}`,"
            " and take a new key if somebody may have read it"
        )
    return CourseKey(path, bytes.fromhex(match[1]))


def make_key(path: Path) -> CourseKey:
    """Make a new course key, readable by its owner only.

    path: the key file; it must not be there yet.
    ValueError if the file is there already, or would lie in a folder that is handed out.
    """
    path = Path(path)
    _check_place(path)
    secret = secrets.token_bytes(32)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        os.close(handle)
    except FileExistsError:
        if not unfinished(path):
            raise ValueError(f"key {path}: is there already; a course keeps its key") from None
    except OSError as error:
        raise ValueError(f"key {path}: cannot be written ({error.strerror}); choose another place") from None
    write_whole(path, f"{HEADER}\n{secret.hex()}\n", rights=0o600, safe=True)
    return CourseKey(path, secret)


def unfinished(path: Path) -> bool:
    """Whether a key file is empty: its maker was stopped before anything was drawn from it."""
    try:
        return Path(path).stat().st_size == 0
    except OSError:
        return False


@dataclass
class CodesMet:
    """How the sheet codes in a class's files fit the key: whether it is the key they were handed out with.

    fitting: files whose code is of this hand-out, or whose numbers are.
    others: files with a code of another one.
    """

    fitting: int = 0
    others: int = 0
    codes: set[str] = field(default_factory=set)

    def add(self, code: str, fits: bool) -> None:
        """Count one file and the code it carries."""
        self.fitting += fits
        self.others += not fits
        if not fits and len(self.codes) < CODES_KEPT:
            self.codes.add(code)

    def refuse_wrong_key(self, path: Path, codes: Iterable[str]) -> None:
        """Refuse where no code fits, nor is any of them a code of somebody else in the class.

        codes: those of the whole class.
        ValueError if files came and none fits; nothing should be marked then.
        """
        if self.others and not self.fitting and self.codes.isdisjoint(codes):
            raise ValueError(
                f"key {path}: no sheet code fits: wrong key? All {self.others} files that came carry codes of"
                " another hand-out (another key, or another edition of the set), so nothing was marked. Give"
                " the key of that hand-out with --key; if it is this one, add --mark-anyway"
            )

    def remark(self) -> str:
        """A sentence where many fit and many do not, "" otherwise."""
        if self.others < 3 or self.others < self.fitting:
            return ""
        return (
            f"{self.others} of {self.others + self.fitting} files carry sheet codes of another hand-out: was"
            " part of the class given sheets from another key?"
        )


def refuse_inside(path: Path, folder: Path) -> None:
    """Refuse a private file that lies in a folder about to be handed out.

    ValueError if the file lies in the folder or below it.
    """
    if Path(path).resolve().is_relative_to(Path(folder).resolve()):
        raise ValueError(f"{path} is in {folder}, which is handed out; keep it in a folder of your own")


def refuse_handed_out(path: Path) -> None:
    """Refuse a place for a private file in a folder that is handed out, or in a course's folder of those.

    ValueError if the file lies in such a folder or below it.
    """
    for folder in Path(path).resolve().parents:
        of_course = folder.name == HANDED_OUT and (folder.parent / COURSE_FILE).is_file()
        if of_course or (folder / HAND_OUT_MARK).is_file():
            raise ValueError(f"{path} is in {folder}, which is handed out; keep it in a folder of your own")


def _check_place(path: Path) -> None:
    handed_out = [folder for folder in path.resolve().parents if (folder / HAND_OUT_MARK).is_file()]
    if handed_out:
        where = f"key {path} is in {handed_out[0]}, which is handed out"
        raise ValueError(f"{where}; keep the key in a folder of your own")
