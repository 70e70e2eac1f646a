"""All parts of a score on one time line, in quarter notes from its start."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from reedchord.musicxml.document import Score
from reedchord.musicxml.part_music import PartMusic


@dataclass(frozen=True)
class WholeScore:
    """A score whose bars all have their place in time.

    `bar_starts` are in quarter notes from the start, one more than there are bars: the last
    is the end.
    """

    score: Score
    parts: tuple[PartMusic, ...]
    bar_starts: tuple[Fraction, ...]

    @property
    def bar_count(self) -> int:
        """How many bars the longest part has."""
        return len(self.bar_starts) - 1

    @property
    def end_quarters(self) -> Fraction:
        """Where the score ends."""
        return self.bar_starts[-1]

    def part(self, part_id: str) -> PartMusic:
        """Return the music of the part with this id; raises KeyError."""
        for music in self.parts:
            if music.part.id == part_id:
                return music
        raise KeyError(part_id)


def whole_score(score: Score) -> WholeScore:
    """Put every bar of every part on one time line.

    A bar is as long as its longest voice in any part, so that pickups and underfull bars
    count as what they hold; a bar without notes is as long as its metre says. Raises
    InputError where durations cannot be known.
    """
    parts = tuple(PartMusic(part) for part in score.parts)
    count = max(len(music.part.bars) for music in parts)
    lengths = (_bar_quarters(parts, index) for index in range(count))
    return WholeScore(score, parts, tuple(accumulate(lengths, initial=Fraction(0))))


def _bar_quarters(parts: tuple[PartMusic, ...], index: int) -> Fraction:
    there = [music for music in parts if index < len(music.part.bars)]
    longest = max((music.bar_quarters(index) for music in there), default=Fraction(0))
    if longest:
        return longest
    return max(music.bar(index).opening_state.bar_quarters or Fraction(0) for music in there)
