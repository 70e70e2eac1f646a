"""Where an exploration starts: a written note, a sonority, or a fingering."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from reedchord.collection import Collection
from reedchord.errors import InputError, RequestError, did_you_mean
from reedchord.exploring.ordinary_fingerings import ordinary_fingering
from reedchord.fingering import Fingering, fingering_remarks, unknown_keys
from reedchord.fingering_text import parse_fingering
from reedchord.pitch import Pitch, parse_pitch
from reedchord.saxophones import Saxophone, saxophone


@dataclass(frozen=True)
class Start:
    """A fingering to start from, on one saxophone, and what it was called."""

    fingering: Fingering
    saxophone: Saxophone
    called: Pitch | str

    def remarks(self) -> Iterator[str]:
        """Yield sentences on what is unusual in it, or may be meant otherwise."""
        yield from fingering_remarks(self.fingering, self.saxophone)
        keys = self.fingering.keys
        if self.called == self.fingering.short() and len(keys) == 1:
            (key,) = keys
            yield f"{key} is the one key that is down; a note is named with its octave, as C4"


def starting_from(text: str, member: str | None, collection: Collection | None) -> Start:
    """Read a written pitch, the id of a sonority in the collection, or a fingering.

    A sonority brings its saxophone along. Raises RequestError where none is known, and where
    the text is none of the three.
    """
    if collection is not None and text in collection:
        record = collection[text]
        if member is not None and saxophone(member) != record.saxophone:
            raise RequestError(
                "explore.saxophone",
                f"{text} is for {record.saxophone.name}",
                hint="Leave --saxophone out, or carry the sonority first.",
            )
        return Start(record.fingering, record.saxophone, text)
    if member is None:
        hint = (
            "Say it: --saxophone alto; a sonority tells it where its collection is named: -c FILE."
        )
        raise RequestError("explore.saxophone", "for which saxophone?", hint=hint)
    played = saxophone(member)
    pitch = _pitch(text)
    if pitch is not None:
        return Start(ordinary_fingering(pitch, played), played, pitch)
    fingering = _fingering(text, collection)
    missing = unknown_keys(fingering, played.name)
    if missing:
        raise RequestError("explore.keys", f"{' and '.join(missing)}: no {played} has it")
    return Start(fingering, played, fingering.short())


def _pitch(text: str) -> Pitch | None:
    try:
        return parse_pitch(text)
    except InputError:
        return None


def _fingering(text: str, collection: Collection | None) -> Fingering:
    try:
        return parse_fingering(text)
    except InputError as error:
        near = did_you_mean(text, collection.sonorities) if collection is not None else ""
        message = f"{text!r} is no written pitch, no sonority here, and no fingering"
        if " " in text.strip():
            message += f": {error.message}"
        hint = "Write G4, the id of a sonority, or 'left 1 2 3 | right 0'."
        raise RequestError("explore.from", message, hint=f"{hint} {near}".strip()) from None
