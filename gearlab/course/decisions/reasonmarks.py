"""The points that people gave for texts, and the codes by which a text is known without its name."""

import hmac
import re
from dataclasses import dataclass, field

from gearlab.course.coursekey import CourseKey
from gearlab.practice import Question, Verdict
from gearlab.practice.verdict import Award

CODE = re.compile(r"[B-DF-HJ-NP-TV-XZ]{4}(?:-[B-DF-HJ-NP-TV-XZ]{4}){2}")
_LETTERS = "BCDFGHJKLMNPQRSTVWXZ"  # no vowels: no words, and nothing that a spreadsheet takes for a number


@dataclass(frozen=True)
class Codes:
    """Makes the codes of the texts of one set.

    secret: drawn from the course key, which it does not tell.
    """

    secret: bytes = field(repr=False)

    @classmethod
    def of(cls, key: CourseKey, set_name: str) -> "Codes":
        """The codes of a set of a course."""
        return cls(hmac.digest(key.secret, f"reasons\x1f{set_name}".encode(), "sha256"))

    def code(self, student: str, question: str, answer: str, text: str) -> str:
        """The code of a student's text."""
        who = self._letters(8, "who", question, answer, student)
        return f"{who[:4]}-{who[4:]}-{self._letters(4, 'text', question, answer, ' '.join(text.split()))}"

    def _letters(self, count: int, *about: str) -> str:
        number = int.from_bytes(hmac.digest(self.secret, "\x1f".join(about).encode(), "sha256")[:16], "big")
        letters = []
        for _ in range(count):
            number, rest = divmod(number, len(_LETTERS))
            letters.append(_LETTERS[rest])
        return "".join(letters)


@dataclass(frozen=True)
class ReasonMarks:
    """What people gave for the texts of a set: plain data, which another process may hold.

    given: by the code of the text.
    """

    codes: Codes
    given: dict[str, Award]

    def judged(
        self, student: str, question: Question, texts: dict[str, str], verdicts: dict[str, Verdict]
    ) -> dict[str, Verdict]:
        """The verdicts on a student's question with the points that people gave."""
        given = {}
        for answer, text in question.to_mark(texts).items():
            award = self.given.get(self.codes.code(student, question.id, answer, text))
            if award is not None:
                given[answer] = award
        return question.judged_by(verdicts, given) if given else verdicts
