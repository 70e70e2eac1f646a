"""Real scores with invented sonorities in them, and what stood there before."""

from __future__ import annotations

import functools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from reedchord.chord_spelling import Grid
from reedchord.errors import ReedchordError, SeveralErrors, Where
from reedchord.musicxml.document import Part, Score, read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Placement
from reedchord.placement.style import Style
from samples import ALTO, COLLECTION
from truth.real_scores import NAMED, with_saxophone
from truth.score_text import encoding_of, root_file

NAMES = ("heron", "egret", "crane")
LARGEST_FOR_OTHER_READERS = 150_000
"""Bytes of a score that the slow readers are asked about."""
AT_MOST = 8
"""Placements tried in one score."""


@dataclass(frozen=True)
class Case:
    """A real score and the part that becomes an alto saxophone's."""

    name: str
    part: int = 0
    renamed: bool = True
    """Whether the part gets a saxophone's name and transposition, or the user says so."""


CASES = (
    Case("utf16 plain", 1),
    Case("utf16 madrigal", 2, renamed=False),
    Case("utf16 quartet"),
    Case("crlf melody"),
    Case("crlf gloria", 1),
    Case("cr chorale", 3),
    Case("cr piano", renamed=False),
    Case("mixed line ends", 7),
    Case("latin1 rests"),
    Case("old faults", 1),
    Case("bundled parts"),
    Case("mxl with pdf"),
    Case("mxl with junk", renamed=False),
    Case("voice and clarinet", 1),
    Case("chorale"),
    Case("transposing clarinet", renamed=False),
    Case("cue notes", renamed=False),
    Case("octave change", 1, renamed=False),
    Case("version 4 voices", 2),
    Case("triplets"),
    Case("two voices"),
    Case("divisions mid-bar"),
    Case("rests of all values"),
    Case("bars of rest"),
    Case("eleven transpositions", 4, renamed=False),
    Case("transposition changes", renamed=False),
    Case("nested tuplets"),
    Case("direction in chord"),
    Case("pickup"),
    Case("microtones"),
)


IN_TURNS = [case for case in CASES if case.name != "nested tuplets"]
"""Those with a place for a tremolo."""


@dataclass(frozen=True)
class Placed:
    """A score before and after, and how many wishes were refused for which reason."""

    case: Case
    before: bytes
    result: PlacedScore
    refusals: Counter[str] = field(compare=False)

    @property
    def is_small(self) -> bool:
        """Whether the slow readers can be asked about it."""
        return len(self.result.data) < LARGEST_FOR_OTHER_READERS


@functools.cache
def placed(case: Case, grid: Grid = Grid.QUARTER) -> Placed:
    """Place sonorities all over one part of a real score."""
    data = root_file(NAMED[case.name].read_bytes())
    score = read_score(data)
    part = score.parts[case.part]
    if case.renamed:
        data = _transposing(with_saxophone(data, part.id), part.id)
        score = read_score(data)
        part = score.parts[case.part]
    return _placed(case, data, _wishes(score, part, case), Style(grid=grid))


@functools.cache
def placed_in_turns(case: Case) -> Placed:
    """Place tremolos where sonorities were, in a version of MusicXML that has them."""
    plain = placed(case)
    codec = encoding_of(plain.before)
    text = re.sub(
        r"(<score-(?:partwise|timewise)\b)[^>]*>",
        r'\1 version="4.0">',
        plain.before.decode(codec),
        count=1,
    )
    others = dict(zip(NAMES, (*NAMES[1:], NAMES[0]), strict=True))
    rows = plain.result.record.placements
    wishes = [row.wish.model_copy(update={"tremolo": others[row.wish.sonority]}) for row in rows]
    return _placed(case, text.encode(codec), wishes, Style())


def _placed(case: Case, data: bytes, asked: Sequence[Placement], style: Style) -> Placed:
    """Place what is not refused."""
    wishes = [(wish, Where(line=line)) for line, wish in enumerate(asked)]
    refusals: Counter[str] = Counter()
    try:
        return Placed(case, data, place(data, wishes, COLLECTION, style), refusals)
    except SeveralErrors as several:
        errors = several.errors
    except ReedchordError as error:
        errors = (error,)
    refusals.update(error.code for error in errors)
    refused = {error.where.line for error in errors}
    wishes = [(wish, where) for wish, where in wishes if where.line not in refused]
    return Placed(case, data, place(data, wishes, COLLECTION, style), refusals)


def _transposing(data: bytes, part_id: str) -> bytes:
    """Give a part that does not transpose an alto saxophone's transposition."""
    codec = encoding_of(data)
    text = data.decode(codec)
    start = re.search(rf"""<part\s+id\s*=\s*["']{part_id}["']""", text)
    assert start is not None
    end = text.index("</part>", start.end())
    if "<transpose>" in text[start.end() : end]:
        return data
    point = text.index("</attributes>", start.end(), end)
    return (text[:point] + ALTO + text[point:]).encode(codec)


def _wishes(score: Score, part: Part, case: Case) -> list[Placement]:
    """Return wishes for rests and for notes, spread over the whole part."""
    music = PartMusic(part)
    rests, notes = [], []
    for bar in part.bars:
        timeline = music.bar(bar.index)
        for event in timeline.events:
            if not event.is_cue:
                address = (bar.index, timeline.beat_at(event.onset_quarters), event)
                (rests if event.is_rest else notes).append(address)
    chosen = [*_spread(rests, AT_MOST - 3), *_spread(notes, 3)]
    return [
        Placement(
            sonority=NAMES[index % len(NAMES)],
            part=part.id,
            bar=f"@{bar + 1}",
            beat=beat,
            voice=event.voice,
            staff=event.staff,
            saxophone=None if case.renamed else COLLECTION["heron"].saxophone,
        )
        for index, (bar, beat, event) in enumerate(chosen)
    ]


def _spread(rows: list, count: int) -> list:
    return rows[:: max(1, len(rows) // count)][:count] if rows else []
