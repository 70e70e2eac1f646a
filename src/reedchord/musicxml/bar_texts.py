"""The text of bars, read where something is to be changed."""

from __future__ import annotations

from reedchord.errors import InputError, Where
from reedchord.musicxml.chord_parts import BarText
from reedchord.musicxml.document import Bar, Score
from reedchord.musicxml.fragment import parse_fragment
from reedchord.musicxml.score_text import line_and_column


class BarTexts:
    """The bars of a score as text and nodes, each read once."""

    def __init__(self, score: Score) -> None:
        self._score = score
        self._read: dict[int, BarText] = {}

    def of(self, bar: Bar) -> BarText:
        """Return a bar's text and nodes; raises InputError for names that cannot be read."""
        if bar.ordinal not in self._read:
            start, end = self._score.bar_span(bar)
            text = self._score.text[start:end]
            try:
                self._read[bar.ordinal] = BarText(text, parse_fragment(text), start)
            except InputError as error:
                line, _ = line_and_column(self._score.text, start)
                raise error.at(Where(line=line, bar=str(bar))) from None
        return self._read[bar.ordinal]
