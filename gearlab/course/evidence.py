"""The evidence behind every mark: one record for each answer, written as it comes."""

from pydantic_core import to_json

from gearlab.course.marks import MarkedTask
from gearlab.course.sheet import shown_givens


class Evidence:
    """Writes the records of a marking into one JSON file.

    Parameters
    ----------
    file : binary file
        Opened for writing [-].
    head : dict
        What holds for all records: the set, its edition, the version of gearlab [-].
    """

    def __init__(self, file, head: dict):
        self._file = file
        self._between = b"\n"
        file.write(to_json(head)[:-1] + b',"records":[')

    def add(self, student: str, marked: list[MarkedTask]) -> None:
        """Write the records of one student.

        Parameters
        ----------
        student : str
            Id of the student [-].
        marked : list of MarkedTask
            The questions, marked [-].

        Returns
        -------
        None
            Nothing [-].
        """
        lines = []
        for task in marked:
            question, draw, scale = task.entry.question, task.draw, task.entry.scale
            keys = question.keys(draw)
            for answer in question.answers:
                verdict, key = task.verdicts[answer.id], keys[answer.id]
                record = {
                    "student": student,
                    "question": question.id,
                    "version": question.version,
                    "answer": answer.id,
                    "asked": answer.label,
                    "unit": answer.unit,
                    "givens": shown_givens(task),
                    "key": key.text,
                    "tolerance": key.tolerance,
                    "typed": task.texts.get(answer.id, ""),
                    "read": verdict.read.removeprefix("read as "),
                    "verdict": verdict.kind,
                    "causes": [cause.name for cause in verdict.causes],
                    "carried": verdict.carried,
                    "note": verdict.note,
                    "points": round(verdict.points * scale, 6),
                    "out_of": round(verdict.out_of * scale, 6),
                }
                if "reason" in task.texts:
                    record["reason"] = task.texts["reason"]
                lines.append(to_json(record))
        if lines:
            self._file.write(self._between + b",\n".join(lines))
            self._between = b",\n"

    def close(self, students: int, points: float) -> None:
        """Write the totals, which the records add up to.

        Parameters
        ----------
        students : int
            How many hand-ins were marked [-].
        points : float
            The points of all of them together [-].

        Returns
        -------
        None
            Nothing [-].
        """
        self._file.write(b'\n],"totals":' + to_json({"students": students, "points": round(points, 6)}) + b"}\n")
