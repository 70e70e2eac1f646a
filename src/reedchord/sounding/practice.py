"""Practice of one sonority: its tones one by one, then built up, then together.

The line is a score of ours in which the sonority is placed like in any other, so that spelling,
cents, fingering, source and proof are the same; its sound is that score as it is heard.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from reedchord.collection import Collection
from reedchord.dynamics import Dynamic
from reedchord.errors import RequestError
from reedchord.musicxml import markup
from reedchord.placement.place import place
from reedchord.placement.plan import Placement
from reedchord.placement.standing import tones_named
from reedchord.placement.style import Shown, Style
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Presence
from reedchord.sounding.hear_score import ScoreWish, hear_score
from reedchord.sounding.hearing import DEFAULT_MARK, Hearing, Reading
from reedchord.wording import CAUTIONS, evidence_words

QUARTERS_PER_MINUTE = 60
"""So that a tone of three beats and a rest to breathe take four seconds."""
_PART = "P1"
_CHARACTERS = 84
"""In a line of the words below the staff."""
_DIVISIONS = 8
_REST = f'<note><rest measure="yes"/><duration>{4 * _DIVISIONS}</duration><voice>1</voice></note>'
_BREATHING = (
    f"<note><rest/><duration>{3 * _DIVISIONS}</duration><voice>1</voice><type>half</type><dot/>"
    f"</note><note><rest/><duration>{_DIVISIONS}</duration><voice>1</voice><type>quarter</type>"
    "</note>"
)
"""Three beats to play in, and one to breathe in."""
_END = '<barline location="right"><bar-style>light-heavy</bar-style></barline>'


@dataclass(frozen=True)
class Practice:
    """A line to practise from as MusicXML, and what is to be told beside it."""

    sonority: Sonority
    dynamic: Dynamic
    score: bytes
    told: tuple[str, ...]

    @property
    def advice(self) -> tuple[str, ...]:
        """The record's advice, how well it is known, and the usual cautions."""
        return advice(self.sonority)

    def hearing(self, reading: Reading) -> Hearing:
        """Return the line as it is heard."""
        return hear_score(self.score, ScoreWish(reading=reading))


@dataclass(frozen=True)
class _Step:
    """What is placed in so many bars, besides the sonority and its dynamic."""

    wish: Mapping[str, object]
    bars: int = 1


def practice(sonority: Sonority, dynamic: Dynamic | None = None) -> Practice:
    """Return a line for the sonority's own saxophone, at the mark at which most tones sound.

    Tones stand in the order in which the record lets them enter. Raises RequestError where no
    tone sounds at the dynamic.
    """
    told: list[str] = []
    if dynamic is None:
        dynamic = _comfortable_mark(sonority)
        told.append(f"no dynamic is named: practised at {dynamic}")
    order = _order(sonority, told)
    alone = [number for number in order if _sounds(sonority, number, dynamic)]
    if not alone:
        raise RequestError(
            "practice.silent", f"at {dynamic} no tone of {sonority.id} sounds: all absent"
        )
    if len(alone) < len(order):
        absent = tones_named(sorted(set(order) - set(alone)))
        told.append(f"absent at {dynamic}, so not practised alone: {absent}")
    steps = list(_steps(sonority, alone))
    wish = {"sonority": sonority.id, "part": _PART, "dynamics": str(dynamic)}
    placements = []
    bar = 1
    for step in steps:
        placements.append(Placement.model_validate({**wish, "bar": str(bar), **step.wish}))
        bar += step.bars
    collection = Collection({sonority.id: sonority}, {}, "practice")
    style = Style(cents=Shown.ALWAYS)
    placed = place(_score(sonority, steps).encode(), placements, collection, style)
    return Practice(sonority, dynamic, placed.data, (*told, *placed.warnings))


def advice(sonority: Sonority) -> tuple[str, ...]:
    """Return the advice of a record, how well it is known, and the usual cautions."""
    own = (f"Advice: {sonority.advice}",) if sonority.advice else ()
    return (*own, f"Evidence: {evidence_words(sonority)}.", *CAUTIONS)


def _comfortable_mark(sonority: Sonority) -> Dynamic:
    """Return the possible mark at which most tones sound, of several the nearest to mf."""
    possible = sonority.possible_dynamics()
    if possible is None:
        return DEFAULT_MARK
    return min(
        possible.marks(),
        key=lambda mark: (
            -sum(_sounds(sonority, number, mark) for number in sonority.numbers),
            abs(mark.level - DEFAULT_MARK.level),
        ),
    )


def _sounds(sonority: Sonority, number: int, dynamic: Dynamic) -> bool:
    return sonority.tones[number - 1].presence_at(dynamic) is not Presence.ABSENT


def _order(sonority: Sonority, told: list[str]) -> list[int]:
    """Return all tones in the order of the record, those that it leaves out from below."""
    rest = [number for number in sonority.numbers if number not in sonority.build_up]
    if rest and len(sonority.tones) > 1:
        told.append(
            "the record does not say in which order the tones enter: they stand from below, "
            "without a build-up"
        )
    return [*sonority.build_up, *rest]


def _steps(sonority: Sonority, alone: Sequence[int]) -> Iterator[_Step]:
    """Yield each tone alone, a build-up where its order is known, and twice all together."""
    if len(sonority.tones) > 1:
        for number in alone:
            yield _Step({"tones": (number,), "emphasised": number})
        if sorted(sonority.build_up) == list(sonority.numbers):
            yield _Step({"build_up": True, "lasting": "breve"}, bars=2)
    yield _Step({})
    yield _Step({})


def _score(sonority: Sonority, steps: Sequence[_Step]) -> str:
    """Return bars of rests for the saxophone, and one more with the words."""
    bars = [_REST if step.bars > 1 else _BREATHING for step in steps for _ in range(step.bars)]
    bars.append(_words(sonority) + _REST + _END)
    bars[0] = _opening(sonority.saxophone) + bars[0]
    measures = (
        markup.element("measure", bar, number=str(number))
        for number, bar in enumerate(bars, start=1)
    )
    title = f"{sonority.label()}: to practise"
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            '<score-partwise version="4.0">',
            markup.element("work", markup.leaf("work-title", title)),
            markup.element("part-list", _listed(sonority.saxophone)),
            f'<part id="{_PART}">',
            *measures,
            "</part>",
            "</score-partwise>",
            "",
        ]
    )


def _listed(saxophone: Saxophone) -> str:
    name = str(saxophone).title()
    instrument = markup.element(
        "score-instrument",
        markup.leaf("instrument-name", name),
        markup.leaf("instrument-sound", saxophone.sound),
        id=f"{_PART}-I1",
    )
    named = markup.leaf("part-name", name), markup.leaf("part-abbreviation", saxophone.abbreviation)
    return markup.element("score-part", *named, instrument, id=_PART)


def _opening(saxophone: Saxophone) -> str:
    """Return clef, metre and transposition, and the tempo."""
    names = "diatonic", "chromatic", "octave-change"
    intervals = zip(names, saxophone.transpose, strict=True)
    attributes = markup.element(
        "attributes",
        markup.leaf("divisions", str(_DIVISIONS)),
        markup.element("key", markup.leaf("fifths", "0")),
        markup.element("time", markup.leaf("beats", "4"), markup.leaf("beat-type", "4")),
        markup.element("clef", markup.leaf("sign", "G"), markup.leaf("line", "2")),
        markup.element("transpose", *(markup.leaf(name, str(n)) for name, n in intervals)),
    )
    metronome = markup.element(
        "metronome",
        markup.leaf("beat-unit", "quarter"),
        markup.leaf("per-minute", str(QUARTERS_PER_MINUTE)),
    )
    return attributes + markup.direction(metronome, voice=None, staff=None)


def _words(sonority: Sonority) -> str:
    lines = [line for sentence in advice(sonority) for line in textwrap.wrap(sentence, _CHARACTERS)]
    words = markup.words_direction("\n".join(lines), voice=None, staff=None, below=True)
    return markup.element("print", new_system="yes") + words
