"""What a score looks like around its placements: engraved bars, before and after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reedchord.drawing.engraving import MusicPaper
from reedchord.drawing.picture_files import Picture
from reedchord.errors import RequestError
from reedchord.musicxml.document import Part, read_score
from reedchord.pages.excerpt import (
    BarRange,
    Excerpt,
    Excerpts,
    bar_ranges,
    parts_named,
    ranges_around,
)
from reedchord.placement.record import read_record
from reedchord.placement.standing import StandingPlacement, standing_placements
from reedchord.placement.strip import strip

WIDTH_MM = 180
"""What a page of A4 or Letter paper has room for between its margins."""
PAGE_HEIGHT_MM = 205
"""Height of the music on such a page, headings and captions aside."""
ABOUT_MARKS = (
    "Corners and labels in the margin mark the sonorities; they are not part of the score."
)

_STAFF_MM, _SMALLEST_STAFF_MM = 6.0, 3.2
_SYSTEM_MM = 16.0
"""What a staff of the usual size takes of the height of a system, with the room around it."""


@dataclass(frozen=True)
class Stage:
    """Pictures of one state of the score, under a heading where there are two."""

    heading: str
    pages: tuple[Picture, ...]


@dataclass(frozen=True)
class PreviewedBars:
    """Some bars, as they were and as they are, and what is marked in them."""

    heading: str
    stages: tuple[Stage, ...]
    captions: tuple[str, ...]


@dataclass(frozen=True)
class Preview:
    """A preview of a score: its title and one entry for each range of bars."""

    title: str
    bars: tuple[PreviewedBars, ...]

    @property
    def placements(self) -> int:
        """How many lines tell of marked placements."""
        return sum(len(bars.captions) for bars in self.bars)


def preview(
    data: bytes,
    *,
    bars: str | None = None,
    parts: Sequence[str] = (),
    before_after: bool = False,
    paged: bool = False,
) -> Preview:
    """Engrave bars of a score; without `bars`, those around its placements.

    `bars` is text such as `10-14` or `3,@7`, `parts` are ids or names; `paged` divides long
    excerpts into pages of paper. Raises RequestError where the score lacks such bars or parts,
    where it holds no placements and no bars are named, and with `before_after` where it cannot
    be given back.
    """
    score = read_score(data)
    is_bare = bars is not None and read_record(score) is None
    placements = () if is_bare else standing_placements(score)
    shown = parts_named(score, parts)
    mine = tuple(one for one in placements if one.part in shown)
    if not mine and bars is None:
        raise _none_in(shown, placements)
    ranges = bar_ranges(bars, shown[0]) if bars is not None else ranges_around(mine)
    before = read_score(strip(data).data) if before_after else None
    after = Excerpts(score, shown, mine)
    was = Excerpts(before, parts_named(before, [part.id for part in shown])) if before else None
    paper = _music_paper(shown, paged=paged)
    title = score.title or "Preview"
    entries = [
        _previewed(number, one, shown[0], (was, after), paper)
        for number, one in enumerate(ranges, start=1)
    ]
    return Preview(title, tuple(entries))


def _previewed(
    number: int,
    bars: BarRange,
    part: Part,
    drawn_from: tuple[Excerpts | None, Excerpts],
    paper: MusicPaper,
) -> PreviewedBars:
    words = bars.words(part)
    heading = words[0].upper() + words[1:]
    was, after = drawn_from
    stages = []
    if was is not None:
        before = was.draw(bars, paper, title=f"{heading}, before", key=f"before-{number}")
        stages.append(Stage("Before", before.pages))
    now = after.draw(bars, paper, title=heading, key=f"bars-{number}")
    stages.append(Stage("With the sonorities" if was else "", now.pages))
    return PreviewedBars(heading, tuple(stages), _captions(now))


def _captions(excerpt: Excerpt) -> tuple[str, ...]:
    return tuple(
        f"{one.row.label}  {one.sonority.label()}: {one.words}" for one in excerpt.placements
    )


def _music_paper(parts: Sequence[Part], *, paged: bool) -> MusicPaper:
    """Return paper for so many parts: a system of many staves is drawn smaller."""
    staves = sum(_staves(part) for part in parts)
    room = PAGE_HEIGHT_MM / (staves * _SYSTEM_MM)
    staff_mm = max(_SMALLEST_STAFF_MM, min(1.0, room) * _STAFF_MM)
    return MusicPaper(WIDTH_MM, staff_mm, PAGE_HEIGHT_MM if paged else None)


def _staves(part: Part) -> int:
    first = part.bars[0].element if part.bars else None
    text = first.findtext("attributes/staves") if first is not None else None
    return int(text) if text and text.strip().isdecimal() else 1


def _none_in(parts: Sequence[Part], placements: Sequence[StandingPlacement]) -> RequestError:
    there = ", ".join(dict.fromkeys(str(one.part) for one in placements))
    return RequestError(
        "preview.no-placements",
        f"no sonority stands in {', '.join(map(str, parts))}",
        hint=f"Sonorities stand in {there}; or name bars with --bars.",
    )
