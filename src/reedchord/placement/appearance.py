"""How one sonority looks at one place: its notes, noteheads, words and hidden note."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from reedchord.chord_spelling import SpelledTone, spelled
from reedchord.dynamics import Dynamic
from reedchord.errors import RequestError
from reedchord.musicxml import markup
from reedchord.musicxml.chord_parts import GREY, ChordNote, Hung, Notehead
from reedchord.pitch import Pitch
from reedchord.placement.plan import Placement
from reedchord.placement.style import Manner, Marking, Shown, Sourced, Style
from reedchord.sonority import Sonority

STAFF_POSITIONS_OF_A_SECOND = 1


class Sounding(NamedTuple):
    """The tones of a sonority that are wanted at one place, lowest first, by their numbers."""

    numbers: tuple[int, ...]
    emphasised: int | None
    tones: tuple[SpelledTone, ...]


def wanted_tones(
    placement: Placement, sonority: Sonority, style: Style, *, is_concert: bool
) -> Sounding:
    """Return the tones that a placement wants, spelled for its score.

    Raises RequestError for a tone that the sonority lacks or that is left out and yet to be
    emphasised.
    """
    numbers = tuple(sonority.numbers)
    if placement.tones is not None:
        numbers = tuple(sorted({sonority.tone_number(tone) for tone in placement.tones}))
    emphasised = sonority.emphasised_number
    if placement.emphasised is not None:
        emphasised = sonority.tone_number(placement.emphasised)
        if emphasised not in numbers:
            raise RequestError(
                "tones.emphasised-left-out",
                f"tone {emphasised} is to be emphasised, but is not among the tones to place",
                hint="Add it to the tones, or emphasise one of them.",
            )
    if emphasised not in numbers:
        emphasised = None
    pitch_of = sonority.concert if is_concert else sonority.written
    pitches = [pitch_of(number) for number in numbers]
    return Sounding(numbers, emphasised, spelled(pitches, style.grid))


class Appearance(NamedTuple):
    """The notes of a chord, and what hangs on it: at its beginning, and where it is whole."""

    notes: tuple[ChordNote, ...]
    at_start: Hung
    where_whole: Hung


def appearance(
    sounding: Sounding,
    placement: Placement,
    sonority: Sonority,
    style: Style,
    label: str,
    *,
    course: str,
    is_first: bool,
    cents_as_words: bool,
) -> Appearance:
    """Return how a sonority looks, ids and ties aside; `course` names a build-up and the like."""
    cents: tuple[str, ...] = ()
    if _is_shown(style.cents, is_first=is_first):
        cents = tuple(tone.cents_label for tone in reversed(sounding.tones))
    words = [_label_words(label, placement.manner, course)]
    if _is_shown(style.source, is_first=is_first):
        words += _brief_source(sonority)
    if cents_as_words:
        words += cents
    shows_fingering = _is_shown(style.fingering, is_first=is_first)
    return Appearance(
        tuple(_chord_notes(sounding, style.marking)),
        Hung(
            words="\n".join(words),
            footnote=footnote(label, sonority),
            fingering=sonority.fingering.short() if shows_fingering else None,
        ),
        Hung(cents_lines=() if cents_as_words else cents),
    )


def dynamic_directions(marks: Sequence[tuple[int, Dynamic]]) -> dict[int, tuple[str, ...]]:
    """Return markup by step: dynamic marks, and hairpins from each to the next."""
    directions: dict[int, tuple[str, ...]] = {}
    for index, (step, mark) in enumerate(marks):
        here = [markup.wedge("stop")] if index else []
        here.append(markup.dynamics(str(mark)))
        if index + 1 < len(marks):
            grows = marks[index + 1][1].level > mark.level
            here.append(markup.wedge("crescendo" if grows else "diminuendo"))
        directions[step] = tuple(here)
    return directions


def _label_words(label: str, manner: Manner, course: str) -> str:
    ways = [] if manner is Manner.ORDINARY else [str(manner)]
    ways += [course] if course else []
    return f"{label} {', '.join(ways)}".rstrip()


def footnote(label: str, sonority: Sonority) -> str:
    """Return the note that is kept with the chord but not printed: fingering and source."""
    source = str(sonority.source) if sonority.source else sonority.set_up
    parts = [sonority.fingering.words(), *([source] if source else []), str(sonority.evidence)]
    return f"{label}: {'; '.join(parts)}"


def _is_shown(shown: Shown | Sourced, *, is_first: bool) -> bool:
    return shown == Shown.ALWAYS or (shown == Shown.FIRST and is_first)


def _brief_source(sonority: Sonority) -> list[str]:
    """Return lines that tell where it comes from and how well it is known; short lines fit."""
    citation, evidence = sonority.source, str(sonority.evidence)
    if citation is None:
        return [evidence]
    locator = citation.locator
    return [citation.brief_name, f"{locator}, {evidence}" if locator else evidence]


def _chord_notes(sounding: Sounding, marking: Marking) -> list[ChordNote]:
    pitches = [tone.pitch for tone in sounding.tones]
    return [
        ChordNote(pitch, None if _stands_out(number, sounding) else _receding(pitches, i, marking))
        for i, (number, pitch) in enumerate(zip(sounding.numbers, pitches, strict=True))
    ]


def _stands_out(number: int, sounding: Sounding) -> bool:
    return sounding.emphasised is None or sounding.emphasised == number


def _receding(pitches: Sequence[Pitch], index: int, marking: Marking) -> Notehead | None:
    """Return the notehead of a tone that stands back.

    Parentheses would cover a neighbour a second away, so grey alone serves there.
    """
    if marking is Marking.NONE:
        return None
    if marking is Marking.DIAMOND:
        return Notehead("diamond")
    here = pitches[index].staff_position
    close = any(
        abs(other.staff_position - here) <= STAFF_POSITIONS_OF_A_SECOND
        for place, other in enumerate(pitches)
        if place != index
    )
    return Notehead(parentheses=not close, color=GREY)
