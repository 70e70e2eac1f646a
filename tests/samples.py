"""Invented sonorities and small scores in which a test can see every note."""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import quoteattr

from reedchord.collection import Collection
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.event import Event
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.plan import Placement
from reedchord.sonority import Sonority


def sonority(name: str, *written: str, **fields: object) -> Sonority:
    """Return an invented sonority for alto saxophone with these written tones."""
    record = {
        "id": name,
        "saxophone": "alto",
        "fingering": "left 1 2 3, G sharp | right 1 2 3, low C",
        "tones": [{"written": pitch} for pitch in written],
        "evidence": "invented",
    }
    return Sonority.model_validate(record | fields)


HERON = sonority("heron", "E4-19", "Bqf4+14", "G#5-12", emphasised=2)
"""Three tones; on the quarter-tone grid its labels read −12, +14 and −19 from above."""
EGRET = sonority("egret", "C#4", "A4+25", fingering="octave | left 1 2 3 | right 1 half 2")
"""Two tones, none of them emphasised."""
BITTERN = sonority(
    "bittern",
    "D4",
    "F#5+31",
    fingering="left 1 2 3 | right 1 2",
    saxophone="tenor",
    source={
        "id": "reedbed",
        "page": 7,
        "entry": {
            "id": "reedbed",
            "type": "book",
            "title": "Sounds of the Reedbed",
            "author": [{"family": "Marshwood", "given": "Ada"}],
            "issued": {"date-parts": [[2031]]},
            "note": "invented for these tests",
        },
    },
)
"""For tenor, with a source."""
CRANE = sonority("crane", "B3", "D#5", fingering="left 1 2 3 | right 1 2 3, low B")

COLLECTION = Collection(
    {record.id: record for record in (HERON, EGRET, BITTERN, CRANE)}, {}, "samples"
)

ALTO = "<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>"


def note(
    pitch: str = "", quarters: int = 1, *, type_: str | None = "quarter", more: str = ""
) -> str:
    """Return a note `C4`, or a rest where there is no pitch; one division is a quarter."""
    what = (
        f"<pitch><step>{pitch[0]}</step><octave>{pitch[1:]}</octave></pitch>"
        if pitch
        else "<rest/>"
    )
    value = f"<type>{type_}</type>" if type_ else ""
    return f"<note>{what}<duration>{quarters}</duration>{more}<voice>1</voice>{value}</note>"


BAR_REST = '<note><rest measure="yes"/><duration>{}</duration><voice>1</voice></note>'


def score(
    *bars: str,
    name: str = "Alto Saxophone",
    transpose: str = ALTO,
    beats: int = 4,
    divisions: int = 1,
    version: str = "4.0",
    header: str = "",
) -> bytes:
    """Return a score of one part; every bar is given by its notes."""
    attributes = (
        f"<attributes><divisions>{divisions}</divisions>"
        f"<time><beats>{beats}</beats><beat-type>4</beat-type></time>{transpose}</attributes>"
    )
    measures = "".join(
        f'\n  <measure number="{number}">{attributes if number == 1 else ""}{bar}</measure>'
        for number, bar in enumerate(bars, start=1)
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f"<score-partwise version={quoteattr(version)}>{header}<part-list>"
        f'<score-part id="P1"><part-name>{name}</part-name></score-part></part-list>\n'
        f'<part id="P1">{measures}\n</part>\n</score-partwise>\n'
    ).encode()


RESTS = score(note() * 4, note() * 4, note() * 4)
"""Three bars of four crotchet rests."""


def at(bar: int | str, beat: int | str = 1, name: str = "heron", **fields: object) -> Placement:
    """Return a placement in part P1."""
    record = {"sonority": name, "part": "P1", "bar": bar, "beat": beat}
    return Placement.model_validate(record | fields)


def events(data: bytes, bar: int = 1, part: int = 0) -> tuple[Event, ...]:
    """Return the events of a bar, counted from 1."""
    read: Score = read_score(data)
    return PartMusic(read.parts[part]).bar(bar - 1).events


def shown(event: Event) -> Sequence[str]:
    """Return the pitches of an event as text on the quarter-tone grid."""
    return [pitch.quarter_tone_text() for pitch in event.pitches]
