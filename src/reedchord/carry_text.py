"""What becomes of a sonority across the family, as text for an arranger."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from reedchord.carry import Carried
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority
from reedchord.text_table import aligned


def carried_text(sonority: Sonority, carried: Sequence[Carried]) -> str:
    """Return written pitches once, then concert pitches and keys for each saxophone."""
    rows = [(sonority.saxophone.name, sonority.concert_pitches, _origin(sonority))]
    rows += [(one.saxophone.name, one.concert, _outcome(one)) for one in carried]
    head = ("saxophone", "concert pitches", "evidence and keys")
    table = [head, *((name, _pitches(pitches), words) for name, pitches, words in rows)]
    return "\n".join(
        [
            f"{sonority.id}: {sonority.label()}",
            f"fingering  {sonority.fingering.words()}",
            f"written    {_pitches(sonority.written_pitches)}",
            "",
            *aligned(table),
            "",
        ]
    )


def carried_data(carried: Carried) -> dict[str, Any]:
    """Return one outcome as plain data, ready for JSON."""
    return {
        "saxophone": carried.saxophone.name,
        "sonority": carried.sonority and carried.sonority.id,
        "evidence": carried.sonority and str(carried.sonority.evidence),
        "written": [str(pitch) for pitch in carried.written],
        "concert": [str(pitch) for pitch in carried.concert],
        "missing_keys": list(carried.missing_keys),
        "uncertain_keys": list(carried.uncertain_keys),
        "warnings": list(carried.warnings),
    }


def _pitches(pitches: Sequence[Pitch]) -> str:
    return "  ".join(pitch.printed() for pitch in pitches)


def _origin(sonority: Sonority) -> str:
    return f"{sonority.evidence} (the record itself)"


def _outcome(carried: Carried) -> str:
    if carried.missing_keys:
        return f"cannot be fingered: no {' and no '.join(carried.missing_keys)} key"
    if carried.uncertain_keys:
        return f"carried; not every one has {' and '.join(carried.uncertain_keys)}"
    return "carried"
