"""Excerpts of a score as pictures: some bars of some parts, with the placements marked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from reedchord.drawing.engraving import MusicPaper, engraved_pages
from reedchord.drawing.engraving_marks import Marking, marked_page
from reedchord.drawing.picture_files import Picture
from reedchord.errors import ReedchordError, RequestError
from reedchord.musicxml.document import Part, Score
from reedchord.musicxml.engravable import BAR_ID, engravable
from reedchord.placement.standing import StandingPlacement

_LABEL_SPACES, _CHARACTER_SPACES = 1.2, 1.4
"""Room in the right margin before a label and for each character of it, in spaces of a staff."""
BARS_AROUND = 1
"""Bars before and after a placement that belong to its excerpt."""
_ID = "reedchord-placement-{}-{}"


@dataclass(frozen=True)
class BarRange:
    """Bars of a score by their indices, both ends included."""

    first: int
    last: int

    def words(self, part: Part) -> str:
        """Return the range by the labels of its bars: `bar 5`, `bars 3 to 6`."""
        first, last = part.bars[self.first], part.bars[self.last]
        return f"bar {first}" if first == last else f"bars {first} to {last}"


def bar_ranges(text: str, part: Part) -> tuple[BarRange, ...]:
    """Read `10`, `10-14` or `3,@7-@9`, bars by label or counted, as ranges of a part's bars.

    Raises RequestError with the bars that exist.
    """
    return tuple(_bar_range(piece.strip(), part) for piece in text.split(","))


def _bar_range(text: str, part: Part) -> BarRange:
    """Try every way to divide the text, as a label may hold a hyphen itself."""
    if not text.strip("- "):
        raise _no_bars(text, part)
    pieces = text.split("-")
    ways = [("-".join(pieces[:cut]), "-".join(pieces[cut:])) for cut in range(1, len(pieces))]
    for first, last in [(text, text), *ways]:
        try:
            found = BarRange(part.bar(first.strip()).index, part.bar(last.strip()).index)
        except ReedchordError:
            continue
        if found.first > found.last:
            raise RequestError(
                "excerpt.backwards",
                f"bar {first} comes after bar {last}",
                hint=f"Write the earlier one first: {last}-{first}.",
            )
        return found
    ends = ways[0] if len(ways) == 1 else (text, text)
    if not all(end.strip() for end in ends):
        raise _no_bars(text, part)
    for end in ends:
        part.bar(end.strip())  # tells which bars there are
    raise AssertionError(text)  # or one of the ways would have been found


def _no_bars(text: str, part: Part) -> RequestError:
    there = f"the bars are {part.bars[0]} to {part.bars[-1]}" if part.bars else "there are no bars"
    return RequestError(
        "excerpt.no-bars",
        f"{text!r} names no bars",
        hint=f"Write 10, or 10-14, or several as 3,@7-@9; {there}.",
    )


def ranges_around(placements: Iterable[StandingPlacement]) -> tuple[BarRange, ...]:
    """Return the bars around placements, ranges that touch drawn together."""
    ranges = sorted((_around(one) for one in placements), key=lambda bars: (bars.first, bars.last))
    merged: list[BarRange] = []
    for bars in ranges:
        if merged and bars.first <= merged[-1].last + 1:
            merged[-1] = replace(merged[-1], last=max(merged[-1].last, bars.last))
        else:
            merged.append(bars)
    return tuple(merged)


def _around(one: StandingPlacement) -> BarRange:
    last = len(one.part.bars) - 1
    return BarRange(
        max(one.bar.index - BARS_AROUND, 0), min(one.last_bar.index + BARS_AROUND, last)
    )


@dataclass(frozen=True)
class Excerpt:
    """Some bars as drawn: a picture for each page, and the placements that they show."""

    bars: BarRange
    pages: tuple[Picture, ...]
    placements: tuple[StandingPlacement, ...]


class Excerpts:
    """Draws excerpts of some parts of a score, the placements in them marked."""

    def __init__(
        self,
        score: Score,
        parts: Sequence[Part],
        placements: Sequence[StandingPlacement] = (),
        *,
        part_names: bool = True,
    ) -> None:
        ids = {part.id for part in parts}
        self._placements = tuple(one for one in placements if one.part.id in ids)
        names = {
            note: _ID.format(one.row.number, index)
            for one in self._placements
            for index, note in enumerate(one.notes)
        }
        self._score, self._parts, self._names = score, parts, names
        self._part_names = part_names

    def draw(self, bars: BarRange, paper: MusicPaper, *, title: str, key: str) -> Excerpt:
        """Draw some bars; raises RequestError where the engraver draws nothing of them.

        `key` is the excerpt's own in the document that it will stand in.
        """
        shown = tuple(one for one in self._placements if _is_within(one, bars))
        markings = tuple(_marking(one) for one in shown)
        ends = BAR_ID.format(bars.first), BAR_ID.format(bars.last)
        margin_mm = _margin_spaces(shown) * paper.staff_mm / 4
        document = engravable(
            self._score,
            self._parts,
            self._names,
            bars=range(bars.first, bars.last + 1),
            part_names=self._part_names,
        )
        pages = engraved_pages(document, *ends, paper, right_margin_mm=margin_mm)
        pictures = tuple(
            marked_page(page, markings, unit_mm=paper.unit_mm, title=title, key=f"{key}-{number}")
            for number, page in enumerate(pages, start=1)
        )
        return Excerpt(bars, pictures, shown)


def _is_within(one: StandingPlacement, bars: BarRange) -> bool:
    return bars.first <= one.last_bar.index and one.bar.index <= bars.last


def _marking(one: StandingPlacement) -> Marking:
    ids = frozenset(_ID.format(one.row.number, index) for index in range(len(one.notes)))
    return Marking(one.row.label, ids)


def _margin_spaces(placements: Iterable[StandingPlacement]) -> float:
    """Return the room for the labels of each part, as they stand in the margin at the most."""
    by_part: dict[str, list[str]] = {}
    for one in placements:
        labels = by_part.setdefault(one.part.id, [])
        labels += [one.row.label] if one.row.label not in labels else []
    longest = max((len(" ".join(labels)) for labels in by_part.values()), default=0)
    return _LABEL_SPACES + longest * _CHARACTER_SPACES if longest else 0.0


def parts_named(score: Score, names: Sequence[str]) -> tuple[Part, ...]:
    """Return the parts with these ids or names in the order of the score; all where none is."""
    if not names:
        return score.parts
    wanted = {score.part(name).id for name in names}
    return tuple(part for part in score.parts if part.id in wanted)
