"""What stands in a bar, in one line of words, so that a finding can be seen in its place."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from reedchord.checks.checked_score import CheckedScore, SaxophonePart
from reedchord.checks.finding import Spot
from reedchord.musicxml.event import Event
from reedchord.numbers_as_text import decimal_text
from reedchord.rhythm import QUARTER, single_value

if TYPE_CHECKING:
    from reedchord.musicxml.event import Element

MOST_CHARACTERS = 400
_WEDGES = {"crescendo": "<", "diminuendo": ">", "stop": "!"}


def bar_words(checked: CheckedScore, spot: Spot) -> str | None:
    """Return the bar of a place: `bar 5 | mf, [1: M2 F4 D5 A5 whole] |`; the place in brackets.

    None where the place is no bar of a part.
    """
    part = next((one for one in checked.parts if one.music.part.id == spot.part_id), None)
    if part is None or spot.bar_index is None:
        return None
    entries = sorted(_entries(checked, part, spot), key=lambda entry: entry[0])
    text = ", ".join(words for _, words in entries)
    if len(text) > MOST_CHARACTERS:
        text = f"{text[:MOST_CHARACTERS]} …"
    return f"bar {spot.bar} | {text} |"


def _entries(
    checked: CheckedScore, part: SaxophonePart, spot: Spot
) -> Iterator[tuple[tuple[Fraction, int], str]]:
    """Yield what stands in a bar with what it is sorted by."""
    assert spot.bar_index is not None  # the caller looked
    timeline = part.music.bar(spot.bar_index)
    labels = {
        event.children: played.row.label
        for played in checked.placements
        if played.spot.part_id == spot.part_id
        for index, event in played.found.chain
        if index == spot.bar_index
    }
    for onset, direction in timeline.directions:
        for words in _marks(direction):
            yield (onset, 0), words
    voices = {event.voice for event in timeline.events}
    for event in (*timeline.events, *timeline.graces):
        words = f"{timeline.beat_at(event.onset_quarters)}: {_words(event, labels)}"
        if len(voices) > 1:
            words = f"voice {event.voice} {words}"
        here = spot.onset_quarters == str(event.onset_quarters) and (
            spot.label is None or event.children in labels
        )
        yield (event.onset_quarters, 1 if event.is_grace else 2), f"[{words}]" if here else words


def _words(event: Event, labels: dict[tuple[int, ...], str]) -> str:
    if event.is_rest:
        what = "rest"
    elif event.is_pitched:
        pitches = " ".join(pitch.printed_as_shown() for pitch in event.pitches)
        what = f"{labels.get(event.children, '')} {pitches}".strip()
    else:
        what = "unpitched"
    tie = " tied on" if event.is_tied("start") else ""
    return f"{what} {_length(event)}{tie}"


def _length(event: Event) -> str:
    if event.is_grace:
        return "grace"
    value = single_value(event.duration_quarters)
    return (
        value.words()
        if value
        else f"{decimal_text(event.duration_quarters)} {QUARTER.words(plural=True)}"
    )


def _marks(direction: Element) -> Iterator[str]:
    for dynamics in direction.iterfind("direction-type/dynamics"):
        yield from (str(child.tag) for child in dynamics.iterchildren("*"))
    for wedge in direction.iterfind("direction-type/wedge"):
        yield _WEDGES.get(wedge.get("type", ""), "")
