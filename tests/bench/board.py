"""The board while fifty benches write: run `python tests/bench/board.py [BENCHES [SECONDS]]`.

Each bench is a process that types as its notebook does; every fourth one through a disk that shows half
a file for a moment. Told are whether anything was lost, the delay from the end of a write to the board
that shows it (the board looks every half second), and the processor time of a look, busy and idle.
"""

import multiprocessing
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

from rich.console import Console
from rich.table import Table

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "course"))
from labclass import sheets_of, work, written  # noqa: E402

from gearlab.contents import lab_file  # noqa: E402
from gearlab.course.lab import make_lab, open_board  # noqa: E402

EVERY = 0.5  # seconds between two looks


def main(benches: int = 50, seconds: float = 30.0) -> None:
    with tempfile.TemporaryDirectory(prefix="gearlab-board-") as text:
        folder, journal = Path(text, "lab"), Path(text, "journal")
        make_lab(lab_file("lab-1"), folder, benches, make_ups=0, parts=False)
        board = open_board(folder)
        before = time.process_time()
        board.look()
        first = time.process_time() - before
        sheets = sheets_of(board.lab)
        fork = multiprocessing.get_context("fork")
        writers = [
            fork.Process(target=work, args=(board.lab.shared, short, sheet, journal, seconds, 1.0))
            for short, sheet in sheets.items()
        ]
        for writer in writers:
            writer.start()
        looks, seen = [], []
        while any(writer.is_alive() for writer in writers):
            before = time.process_time()
            board.look()
            looks.append(time.process_time() - before)
            seen.append((time.time(), {bench.short: board.saved(bench) for bench in board.benches}))
            time.sleep(EVERY)
        for writer in writers:
            writer.join()
        time.sleep(2.1)  # a file that was written just now is read once more
        board.look()
        before = time.process_time()
        for _ in range(20):
            board.look()
        idle = (time.process_time() - before) / 20
        show(board, written(journal), looks, seen, first, idle)


def show(board, told, looks, seen, first, idle) -> None:
    """A table of what came out."""
    by_short = {bench.short: bench for bench in board.benches}
    lost = [short for short, one in told.items() if board.answers(by_short[short]) != one["answers"]]
    attempts = sum(kind == "attempt" for one in told.values() for kind, *_ in one["lines"])
    delays, writes = [], 0
    for short, one in told.items():
        for kind, number, when in one["lines"]:
            if kind == "hand-in":
                writes += 1
                shown = next((at for at, saved in seen if at >= when and saved[short] >= number), None)
                if shown is not None:
                    delays.append(shown - when)
    table = Table(title=f"{len(told)} benches, {os.cpu_count()} cores, a look every {EVERY:g} s")
    table.add_column("what")
    table.add_column("measured", justify="right")
    cuts = statistics.quantiles(delays, n=20)
    for what, number in (
        ("hand-ins written", f"{writes}"),
        ("benches whose last answers differ", f"{len(lost)}"),
        ("attempts written, read", f"{attempts}, {board.attempts}"),
        ("files that could not be read at the end", f"{len(board.unreadable)}"),
        (
            "delay to the board, median, 95 of 100, longest",
            f"{statistics.median(delays):.2f}, {cuts[18]:.2f}, {max(delays):.2f} s",
        ),
        ("first look, nothing there yet", f"{1000 * first:.0f} ms of processor"),
        (
            "a look while they write, median, longest",
            f"{1000 * statistics.median(looks):.0f}, {1000 * max(looks):.0f} ms",
        ),
        ("a look when nothing changed", f"{1000 * idle:.1f} ms"),
    ):
        table.add_row(what, number)
    Console().print(table)
    if lost or attempts != board.attempts:
        raise SystemExit(f"lost: {lost}, attempts {attempts} written, {board.attempts} read")


if __name__ == "__main__":
    main(*[kind(text) for kind, text in zip((int, float), sys.argv[1:])])
