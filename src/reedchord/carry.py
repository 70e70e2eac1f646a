"""One sonority on another member of the family: the same fingering, and a guess."""

from __future__ import annotations

from collections.abc import Container
from typing import NamedTuple

from reedchord.errors import RequestError
from reedchord.fingering import uncertain_keys, unknown_keys
from reedchord.pitch import Pitch
from reedchord.saxophones import FAMILY, Saxophone
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Evidence, Tone
from reedchord.sonority_rules import warnings
from reedchord.source import MAX_KEY_LENGTH, Citation, Source

ONLY_A_TRIAL = (
    "only carried over: the written notes stay nominally the same on another saxophone, and "
    "only a trial makes them true"
)


class Carried(NamedTuple):
    """What becomes of a sonority on another saxophone.

    `sonority` is None where a key of the fingering is missing there.
    """

    saxophone: Saxophone
    written: tuple[Pitch, ...]
    concert: tuple[Pitch, ...]
    missing_keys: tuple[str, ...]
    uncertain_keys: tuple[str, ...]
    sonority: Sonority | None
    warnings: tuple[str, ...]


def carry_to(sonority: Sonority, to: Saxophone, *, taken: Container[str] = ()) -> Carried:
    """Return the sonority with the same fingering and written notes on another saxophone.

    Its id is none of those `taken`. Raises RequestError when it is for that saxophone already.
    """
    if sonority.saxophone == to:
        raise RequestError("carry.same", f"{sonority.id} is for {to.name} saxophone already")
    missing = tuple(unknown_keys(sonority.fingering, to.name))
    record = None if missing else _on(sonority, to, taken)
    told = [ONLY_A_TRIAL]
    if sonority.evidence is Evidence.INVENTED:
        told.append(f"{sonority.id} is invented: nobody has played it on any saxophone")
    told += [f"the {to} has no {name} key" for name in missing]
    told += warnings(record) if record else []
    return Carried(
        saxophone=to,
        written=sonority.written_pitches,
        concert=tuple(to.concert(pitch) for pitch in sonority.written_pitches),
        missing_keys=missing,
        uncertain_keys=tuple(uncertain_keys(sonority.fingering, to.name)),
        sonority=record,
        warnings=tuple(told),
    )


def carry_to_all(sonority: Sonority) -> list[Carried]:
    """Return what becomes of the sonority on every other member, highest member first."""
    return [carry_to(sonority, to) for to in FAMILY.values() if to != sonority.saxophone]


def _on(sonority: Sonority, to: Saxophone, taken: Container[str]) -> Sonority:
    """Return the record for the other saxophone; a record carried twice keeps its origin.

    Presence, limits, build-up and advice stay as a claim; set-up and neighbours are those of
    the first saxophone and are left out.
    """
    carried_already = sonority.evidence is Evidence.CARRIED and sonority.carried_from
    origin = sonority.carried_from if carried_already else sonority.id
    tones = tuple(
        Tone(written=sonority.written(number), presence=tone.presence)
        for number, tone in zip(sonority.numbers, sonority.tones, strict=True)
    )
    return sonority.model_copy(
        update={
            "id": _new_id(origin or sonority.id, to, taken),
            "saxophone": to,
            "tones": tones,
            "emphasised": sonority.emphasised_number,
            "neighbours": (),
            "evidence": Evidence.CARRIED,
            "source": _source(sonority),
            "set_up": None,
            "carried_from": origin,
            "same_fingering_as": (),
        }
    )


def _new_id(origin: str, to: Saxophone, taken: Container[str]) -> str:
    ending, count = f"-on-{to.name.replace(' ', '-')}", 1
    while True:
        new = origin[: MAX_KEY_LENGTH - len(ending)] + ending
        if new not in taken and new != origin:
            return new
        count += 1
        ending = f"-on-{to.name.replace(' ', '-')}-{count}"


def _source(sonority: Sonority) -> Citation | None:
    """Return the source; that of an invented record says so, since its evidence no longer does."""
    cited = sonority.source
    if sonority.evidence is not Evidence.INVENTED:
        return cited
    citation = cited or Citation(id="invented")
    entry = citation.entry or Source(id=citation.id, type="document")
    if "invented" not in (entry.note or "").casefold():
        note = f"{entry.note}; invented" if entry.note else "invented: nobody has played it"
        entry = entry.model_copy(update={"note": note})
    return citation.model_copy(update={"entry": entry})
