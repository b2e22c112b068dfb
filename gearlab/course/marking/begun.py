"""A marking that is under way: what is done lies on the disk, so that a killed one goes on from there."""

from __future__ import annotations

import hmac
import shutil
from collections.abc import Container
from pathlib import Path
from threading import Lock

from gearlab.course.marking.blocks import Block
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

    def get(self, block: Block) -> bytes | None:
        """What came of a block, pickled; None where it is not done, or not whole."""
        try:
            content = (self.folder / block.name).read_bytes()
        except OSError:
            return None
        seal, done = content[:_SEAL], content[_SEAL:]
        if not hmac.compare_digest(seal, self._seal(block, done)):
            return None
        self.found += 1
        return done

    def put(self, block: Block, done: bytes) -> None:
        """Keep what came of a block."""
        seal = self._seal(block, done)
        with self._lock:
            if not self._closed:
                write_whole(self.folder / block.name, seal + done)

    def _seal(self, block: Block, done: bytes) -> bytes:
        return hmac.digest(self._secret, block.name.encode() + done, "sha256")

    def hand_over(self, pages: Path, expected: Container[str]) -> None:
        """Give the pages to the results: those that are of them, where an earlier run left others too.

        expected: their paths in the results.
        """
        if self.resumed:
            for page in self.pages.iterdir():
                if f"{PAGES}/{page.name}" not in expected:
                    page.unlink()
        self.pages.rename(pages)
        self.clear()

    def clear(self) -> None:
        """Leave nothing."""
        with self._lock:
            self._closed = True
        shutil.rmtree(self.folder, ignore_errors=True)
