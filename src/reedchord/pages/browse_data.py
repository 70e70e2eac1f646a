"""What the page to browse needs to know of each sonority, as plain data for JSON.

Pictures are lists of numbers into one table of SVG elements, since most elements occur in many
pictures: the page of 2,000 sonorities stays small, and nothing is drawn before it is looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from reedchord.collection import Collection
from reedchord.drawing.diagram import FONT, STROKE, shapes
from reedchord.drawing.diagram_layout import stacked_layout
from reedchord.drawing.staff_layout import staff_layout
from reedchord.drawing.staff_picture import staff_elements, staff_tones, view_box
from reedchord.dynamics import SCALE, DynamicRange
from reedchord.reader import USUAL, Reader, told_to
from reedchord.rhythm import NoteValue
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Evidence, Limit
from reedchord.wording import evidence_words, keys_unbroken, presence_words, source_words, unbroken

VALUES = tuple(map(NoteValue, ("half", "quarter", "eighth", "16th", "32nd", "64th")))
"""Note values that a speed can be asked for in."""
BEATS = (NoteValue("half"), NoteValue("quarter", 1), NoteValue("quarter"), NoteValue("eighth"))
"""Beats that a tempo can be asked for in."""


class Pictures:
    """The table of SVG elements that pictures are made of."""

    def __init__(self) -> None:
        self._number_of: dict[str, int] = {}

    def numbers(self, elements: Iterable[str]) -> list[int]:
        """Return the numbers of elements; new ones are added to the table."""
        return [self._number_of.setdefault(one, len(self._number_of)) for one in elements]

    @property
    def table(self) -> list[str]:
        """The elements by their numbers."""
        return list(self._number_of)


def browse_data(collection: Collection) -> dict[str, Any]:
    """Return everything that the page knows: choices for the filters, and the sonorities."""
    pictures = Pictures()
    sonorities = [sonority_data(sonority, pictures) for sonority in collection]
    return {
        "choices": choices(collection),
        "sonorities": sonorities,
        "elements": pictures.table,
        "diagram": {"font": FONT, "stroke": STROKE},
    }


def choices(collection: Collection) -> dict[str, Any]:
    """Return what the filters offer: only what occurs in the collection."""
    sonorities = list(collection)
    present = {sonority.saxophone.name for sonority in sonorities}
    known = {sonority.evidence for sonority in sonorities}
    ways = {limit.articulation for sonority in sonorities for limit in sonority.limits}
    return {
        "saxophones": [name for name in FAMILY if name in present],
        "dynamics": list(map(str, SCALE)),
        "articulations": [str(way) for way in Articulation if way in ways],
        "evidence": [str(kind) for kind in Evidence if kind in known],
        "values": [_value_data(value) for value in VALUES],
        "beats": [_value_data(beat) for beat in BEATS],
    }


def sonority_data(sonority: Sonority, pictures: Pictures) -> dict[str, Any]:
    """Return what is known of one sonority; heights are cents, C4 is 6000."""
    return {
        "id": sonority.id,
        "name": sonority.label(),
        "saxophone": sonority.saxophone.name,
        "fingering": keys_unbroken(sonority.fingering.words()),
        "tones": [_tone_data(sonority, number) for number in sonority.numbers],
        "emphasised": sonority.emphasised_number,
        "speaks": _range_data(sonority.possible_dynamics()),
        "limits": [_limit_data(limit) for limit in sonority.limits],
        "evidence": str(sonority.evidence),
        "evidenceWords": evidence_words(sonority),
        "source": unbroken(source_words(sonority)),
        "advice": sonority.advice or "",
        "written": _staff_data(sonority, pictures, concert=False),
        "concert": _staff_data(sonority, pictures, concert=True),
        "diagram": _diagram_data(sonority, pictures),
    }


def _tone_data(sonority: Sonority, number: int) -> dict[str, Any]:
    tone, concert = sonority.tones[number - 1], sonority.concert(number)
    return {
        "written": sonority.written(number).printed(),
        "concert": concert.printed(),
        "cents": float(concert.cents),
        "presence": presence_words(tone),
        "presenceAt": {str(mark): str(word) for mark, word in tone.presence.items()},
    }


def _limit_data(limit: Limit) -> dict[str, Any]:
    return {
        "articulation": str(limit.articulation),
        "attacksPerSecond": float(limit.fastest.attacks_per_second),
        "dynamics": _range_data(limit.dynamics),
        **_both(lambda: unbroken(limit.words())),
    }


def _range_data(dynamics: DynamicRange | None) -> dict[str, Any] | None:
    if dynamics is None:
        return None
    return {"words": str(dynamics), "marks": list(map(str, dynamics.marks()))}


def _value_data(value: NoteValue) -> dict[str, Any]:
    return {
        "name": str(value),
        "quarters": float(value.quarters),
        **_both(value.words),
        "plural": _both(lambda: value.words(plural=True)),
    }


def _both(words: Callable[[], str]) -> dict[str, str]:
    """Return words as Americans and as the British read them: the page lets its reader choose."""
    told = {}
    for name, somebody in (("american", USUAL), ("british", Reader(british=True))):
        with told_to(somebody):
            told[name] = words()
    return told


def _staff_data(sonority: Sonority, pictures: Pictures, *, concert: bool) -> dict[str, Any]:
    layout = staff_layout(staff_tones(sonority, concert=concert))
    elements = staff_elements(layout, sonority.emphasised_number, by_reference=True)
    return {"box": view_box(layout), "elements": pictures.numbers(elements)}


def _diagram_data(sonority: Sonority, pictures: Pictures) -> dict[str, Any]:
    layout = stacked_layout(sonority.fingering)
    box = f"0 0 {layout.width:g} {layout.height:g}"
    return {"box": box, "elements": pictures.numbers(shapes(layout))}
