"""The secret of a course, from which every student's numbers are drawn."""

import hmac
import os
import re
import secrets
from pathlib import Path

HEADER = "gearlab course key: keep this file private and never hand it out"
# The mark that a hand-out leaves in its folder; a key must not lie in such a folder.
HAND_OUT_MARK = "hand-out.json"
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
    found = re.fullmatch(re.escape(HEADER) + r"\n([0-9a-f]{64})\n?", text.replace("\r\n", "\n"))
    if not found:
        raise ValueError(
            f"key {path}: is not a course key (its first line should be {HEADER!r}); check the file name"
        )
    if os.name == "posix" and rights & 0o077:
        raise ValueError(
            f"key {path}: other users may open it (rights {rights:03o}, allowed 600); run `chmod 600 {path}`,"
            " and take a new key if somebody may have read it"
        )
    return CourseKey(path, bytes.fromhex(found[1]))


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
    except FileExistsError:
        raise ValueError(f"key {path}: is there already; a course keeps its key") from None
    except OSError as error:
        raise ValueError(f"key {path}: cannot be written ({error.strerror}); choose another place") from None
    with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
        file.write(f"{HEADER}\n{secret.hex()}\n")
    return CourseKey(path, secret)


def refuse_inside(path: Path, folder: Path) -> None:
    """Refuse a private file that lies in a folder about to be handed out.

    ValueError if the file lies in the folder or below it.
    """
    if Path(path).resolve().is_relative_to(Path(folder).resolve()):
        raise ValueError(f"{path} lies in {folder}, which is handed out; keep it in a folder of your own")


def refuse_handed_out(path: Path) -> None:
    """Refuse a place for a private file in a folder that is handed out.

    ValueError if the file lies in such a folder or below it.
    """
    for folder in Path(path).resolve().parents:
        if (folder / HAND_OUT_MARK).is_file():
            raise ValueError(f"{path} lies in {folder}, which is handed out; keep it in a folder of your own")


def _check_place(path: Path) -> None:
    for folder in path.resolve().parents:
        if (folder / HAND_OUT_MARK).is_file():
            raise ValueError(
                f"key {path} lies in {folder}, which is handed out; keep the key in a folder of your own"
            )
