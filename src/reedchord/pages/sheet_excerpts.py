"""The bars of a sheet: where each sonority stands, in its own part, engraved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from reedchord.drawing.engraving import MusicPaper
from reedchord.drawing.picture_files import Picture
from reedchord.musicxml.document import Part, Score
from reedchord.pages.excerpt import BarRange, Excerpts, ranges_around
from reedchord.placement.standing import StandingPlacement, places_named

MOST_EXCERPTS = 4
"""So many excerpts of one sonority are drawn; further places are told in words."""
MOST_BARS = 8
"""So many bars an excerpt has at the most."""
_PAPER = MusicPaper(width_mm=180, staff_mm=5.6, height_mm=110)


@dataclass(frozen=True)
class SheetExcerpt:
    """Some bars of one part as drawn, with a heading, and what stands there of the sonority."""

    heading: str
    pages: tuple[Picture, ...]
    caption: str


def excerpts_by_label(
    score: Score, by_label: Mapping[str, Sequence[StandingPlacement]]
) -> dict[str, tuple[tuple[SheetExcerpt, ...], str]]:
    """Return the excerpts of each label, and what is told of places that are not drawn."""
    music: dict[str, Excerpts] = {}
    everything = [one for placed in by_label.values() for one in placed]
    for one in everything:
        if one.part.id not in music:
            music[one.part.id] = Excerpts(score, [one.part], everything, part_names=False)
    return {label: _of_label(label, placed, music) for label, placed in by_label.items()}


def _of_label(
    label: str, placed: Sequence[StandingPlacement], music: Mapping[str, Excerpts]
) -> tuple[tuple[SheetExcerpt, ...], str]:
    wanted = list(_ranges(placed))
    drawn = [
        _drawn(f"{label}-{number}", part, bars, placed, music[part.id])
        for number, (part, bars) in enumerate(wanted[:MOST_EXCERPTS], start=1)
    ]
    others = [
        f"{part.name or part.id}, {bars.words(part)}" for part, bars in wanted[MOST_EXCERPTS:]
    ]
    not_drawn = f"It also stands in {'; '.join(others)}." if others else ""
    return tuple(drawn), not_drawn


def _ranges(placed: Sequence[StandingPlacement]) -> Iterator[tuple[Part, BarRange]]:
    """Yield the bars around the placements, part by part, long runs of bars divided."""
    for part in {one.part.id: one.part for one in placed}.values():
        mine = [one for one in placed if one.part.id == part.id]
        for bars in ranges_around(mine):
            for first in range(bars.first, bars.last + 1, MOST_BARS):
                yield part, BarRange(first, min(first + MOST_BARS - 1, bars.last))


def _drawn(
    key: str,
    part: Part,
    bars: BarRange,
    placed: Sequence[StandingPlacement],
    music: Excerpts,
) -> SheetExcerpt:
    heading = f"{part.name or part.id}, {bars.words(part)}"
    excerpt = music.draw(bars, _PAPER, title=heading, key=key)
    caption = places_named(one for one in excerpt.placements if one in placed)
    return SheetExcerpt(heading, excerpt.pages, caption or heading)
