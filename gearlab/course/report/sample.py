"""What a class typed wrong, in bounded room: all of it up to a number, beyond it a sample drawn by chance."""

from collections.abc import Callable
from hashlib import blake2b
from operator import itemgetter
from typing import Generic, TypeVar

Kept = TypeVar("Kept")
KEPT = 300  # wrong answers to one answer of a set that are looked at


class Sample(Generic[Kept]):
    """Of all that was offered the ones with the smallest numbers.

    The number comes from what names the thing and from nothing else. So the sample is the same in whatever
    order things come, and of parts that were gathered apart and then merged; and each has the same chance.

    count: how many were offered [-].
    most: how many are kept [-].
    bound: numbers from here on are not kept: what is gathered elsewhere holds enough smaller ones (`limit`).

    >>> sample = Sample(most=2)
    >>> for name in "abcd":
    ...     sample.offer(name, lambda: name.upper())
    >>> sample.count, len(sample.kept())
    (4, 2)
    """

    def __init__(self, most: int = KEPT, bound: int = 2**64):
        self.count = 0
        self.most, self.bound = most, bound
        self.limit = bound  # numbers from here on are not drawn: enough smaller ones are known
        self._kept: list[tuple[int, Kept]] = []

    def offer(self, name: str, content: Callable[[], Kept]) -> None:
        """Count a thing and keep it if it is drawn.

        name: no two things have the same.
        content: what is kept of it, asked for only then.
        """
        self.count += 1
        number = int.from_bytes(blake2b(name.encode("utf-8", "surrogatepass"), digest_size=8).digest(), "big")
        if number < self.limit:
            self._kept.append((number, content()))
            self._cut_if_many()

    def merge(self, other: "Sample[Kept]") -> None:
        """Add what another one was offered; no thing may have been offered to both."""
        self.count += other.count
        self._kept += [item for item in other._kept if item[0] < self.limit]
        self._cut_if_many()

    def kept(self) -> list[Kept]:
        """What was drawn, in the order of the draw."""
        self._cut()
        return [content for _, content in self._kept]

    def _cut_if_many(self) -> None:
        if 4 * len(self._kept) >= 5 * self.most + 4:
            self._cut()

    def _cut(self) -> None:
        self._kept.sort(key=itemgetter(0))
        del self._kept[self.most :]
        if len(self._kept) == self.most:
            self.limit = self._kept[-1][0] + 1
