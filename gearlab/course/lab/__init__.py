"""The lab: what benches get on paper and on screen, and the board that says how far they are."""

from gearlab.course.lab.making import MadeLab, make_lab
from gearlab.course.lab.projector import lab_board
from gearlab.course.lab.runsheet import RunSheet, load_run_sheet
from gearlab.course.lab.watching import Board, open_board

__all__ = ["Board", "MadeLab", "RunSheet", "lab_board", "load_run_sheet", "make_lab", "open_board"]
