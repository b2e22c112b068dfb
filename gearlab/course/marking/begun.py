"""A marking that is under way: what is done lies on the disk, so that a killed one goes on from there."""

from __future__ import annotations

import hmac
import pickle
import shutil
from hashlib import blake2b
from pathlib import Path
from threading import Lock

from gearlab.course.marking.blocks import Came, Done
from gearlab.writing import write_whole

PAGES = "feedback"
_SEAL = 32  # bytes of the seal before each block


class Begun:
    """The blocks that are done, each under a name that tells what came in and by which recipe.

    A block is sealed with the course key: what lies there was written by this course's marking.

    folder: a folder of the marking's own, cleared where another recipe left it.
    recipe: digest of the recipe.
    """

    def __init__(self, folder: Path, recipe: str, secret: bytes):
        self.folder, self._recipe = folder, recipe.encode()
        self._secret = hmac.digest(secret, b"begun\0" + self._recipe, "sha256")
        head = folder / "recipe.txt"
        if folder.exists() and (not head.is_file() or head.read_bytes() != self._recipe):
            shutil.rmtree(folder)
        self.resumed = folder.exists()
        self.pages.mkdir(parents=True, exist_ok=True)
        folder.chmod(0o700)
        write_whole(head, recipe)
        self.found = 0  # blocks that need not be marked again
        self._lock, self._closed = Lock(), False  # blocks are put from another thread, perhaps late

    @property
    def pages(self) -> Path:
        """The folder into which the pages are written."""
        return self.folder / PAGES

    @staticmethod
    def _name(block: list[Came]) -> str:
        """The name of a block: equal where the same came in."""
        told = blake2b(digest_size=20)
        for came in block:
            told.update(came.told().encode("utf-8", "surrogatepass") + b"\0")
        return told.hexdigest()

    def get(self, block: list[Came]) -> Done | None:
        """What came of a block; None where it is not done, or not whole."""
        name = self._name(block)
        try:
            content = (self.folder / name).read_bytes()
        except OSError:
            return None
        seal, data = content[:_SEAL], content[_SEAL:]
        if not hmac.compare_digest(seal, hmac.digest(self._secret, name.encode() + data, "sha256")):
            return None
        self.found += 1
        return pickle.loads(data)

    def put(self, block: list[Came], done: Done) -> None:
        """Keep what came of a block."""
        name = self._name(block)
        data = pickle.dumps(done)
        with self._lock:
            if not self._closed:
                seal = hmac.digest(self._secret, name.encode() + data, "sha256")
                write_whole(self.folder / name, seal + data)

    def hand_over(self, pages: Path, expected: set[str]) -> None:
        """Give the pages to the results: those that are of them, where an earlier run left others too."""
        if self.resumed:
            for page in self.pages.iterdir():
                if page.name not in expected:
                    page.unlink()
        self.pages.rename(pages)
        self.clear()

    def clear(self) -> None:
        """Leave nothing."""
        with self._lock:
            self._closed = True
        shutil.rmtree(self.folder, ignore_errors=True)
