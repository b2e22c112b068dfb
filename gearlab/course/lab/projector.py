"""The board in a notebook: shown once, then kept up to date while the benches write."""

from __future__ import annotations

import threading
import time
from pathlib import Path

from gearlab.course.lab.boardpage import board_html
from gearlab.course.lab.watching import Board, open_board
from gearlab.quoting import safe


class Projector:
    """A board that looks again every few seconds: :func:`lab_board` makes it; `stop` ends it."""

    def __init__(self, folder: str | Path, every: float, tallies: bool):
        if not 0.2 <= every <= 600:
            raise ValueError(f"every = {every:g} s: a board looks every 0.2 to 600 s")
        self.folder, self.every, self.tallies = Path(folder), every, tallies
        self.board: Board | None = None
        self._end = threading.Event()
        self._shown = ""
        self._handle = None
        self._thread: threading.Thread | None = None

    def html(self) -> str:
        """The board as it is now; without a folder, how to make one."""
        try:
            if self.board is None:
                self.board = open_board(self.folder)
            self.board.look()
        except (ValueError, OSError) as error:
            return f"<p>No board yet: {safe(str(error))}</p>"
        return board_html(self.board, tallies=self.tallies)

    def _ipython_display_(self) -> None:
        from IPython.display import HTML, display

        self._shown = self.html()
        self._handle = display(HTML(self._shown), display_id=True)
        if self._thread is None:
            self._thread = threading.Thread(target=self._follow, daemon=True, name="gearlab board")
            self._thread.start()

    def _follow(self) -> None:
        from IPython.display import HTML

        while not self._end.wait(self.every):
            html = self.html()
            if html != self._shown and self._handle is not None:
                self._shown = html
                self._handle.update(HTML(html))

    def stop(self) -> None:
        """Look no more; what is shown stays."""
        self._end.set()
        if self._thread is not None:
            self._thread.join(timeout=self.every + 5)

    def __repr__(self) -> str:
        return f"Projector({str(self.folder)!r}), {time.strftime('%H:%M')}"


def lab_board(folder: str | Path, *, every: float = 2.0, tallies: bool = True) -> Projector:
    """The board of a lab's folder for the projector; as the last value of a cell it stays up to date.

    every: seconds between two looks [s]; tallies: whether the predictions are shown.
    ValueError for a time out of range.
    """
    return Projector(folder, every, tallies)
