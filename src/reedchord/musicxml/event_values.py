"""The note values that an event has, or that it gets when it becomes a chord as long as it is."""

from __future__ import annotations

from fractions import Fraction

from reedchord.errors import RequestError
from reedchord.metre import Metre, metre
from reedchord.musicxml.bar_state import positive_number
from reedchord.musicxml.event import Event
from reedchord.musicxml.timeline import BarTimeline
from reedchord.rhythm import NoteValue, balanced_values, quarters_words, single_value

_HOLDS = (
    "time-modification",
    "beam",
    "notations/ornaments/tremolo[@type='start']",
    "notations/ornaments/tremolo[@type='stop']",
)


def is_fixed(event: Event) -> bool:
    """Whether a tuplet, a beam or a tremolo of two notes holds it, so that its length stays."""
    return any(event.first.find(path) is not None for path in _HOLDS)


def own_values(event: Event) -> tuple[NoteValue, ...] | None:
    """Return the note values that an event is written anew with, None where its own stay.

    Raises RequestError for a rest that no note value fits.
    """
    if _keeps_notation(event):
        return None
    if event.first.find("time-modification") is not None:
        value = _value_in_tuplet(event)
        values = None if value is None else [value]
    elif event.is_rest:
        values = balanced_values(event.duration_quarters)
    else:
        value = single_value(event.duration_quarters)
        values = None if value is None else [value]
    if values is None and event.is_rest:
        raise RequestError(
            "rhythm.rest",
            f"this rest of {quarters_words(event.duration_quarters)} has no note value",
            hint="Write it as rests with note values first.",
        )
    return None if values is None else tuple(values)


def grid_of(timeline: BarTimeline) -> Metre:
    """Return the grid of a bar's metre; a short first bar is a pickup."""
    state = timeline.opening_state
    full, length = state.bar_quarters, max(timeline.ends.values(), default=Fraction(0))
    is_pickup = timeline.bar.index == 0 and full is not None and length < full
    return metre(state.beats, state.beat_quarters, bar_quarters=length if is_pickup else None)


def _value_in_tuplet(event: Event) -> NoteValue | None:
    """Return the written value of a member of a tuplet: its length without the tuplet."""
    change = event.first.find("time-modification")
    assert change is not None  # the caller has found it
    actual, normal = (
        positive_number(change.findtext(tag) or "", tag) for tag in ("actual-notes", "normal-notes")
    )
    return single_value(event.duration_quarters * actual / normal)


def _keeps_notation(event: Event) -> bool:
    """Whether the type and dots that are there tell the length, or have to be believed."""
    name = event.first.findtext("type")
    if name is None:
        return event.is_grace
    rest = event.first.find("rest")
    if rest is None or event.first.find("time-modification") is not None:
        return True
    if rest.get("measure") == "yes":
        return False
    value = single_value(event.duration_quarters)
    return value == NoteValue(name.strip(), len(event.first.findall("dot")))
