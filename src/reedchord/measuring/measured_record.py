"""Measured tones as a record of a collection: evidence measured, source the player's own take."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from reedchord.dynamics import DynamicRange
from reedchord.errors import RequestError
from reedchord.exchange.new_ids import kebab
from reedchord.measuring.measured_tones import TakenTone, record_pitch
from reedchord.measuring.measurement import Measurement


def measured_record(
    takes: Sequence[Measurement],
    tones: Sequence[TakenTone],
    *,
    name: str,
    fingering: str,
    dynamics: DynamicRange | None = None,
    set_up: str | None = None,
) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return a record and its source as plain data of a collection.

    `dynamics` says from which mark to which the take went; without it nothing is said about
    presence. Raises RequestError where the saxophone is not known, or there are no tones.
    """
    member = takes[0].saxophone
    if member is None or not tones:
        raise RequestError(
            "measure.record",
            "a record needs a saxophone and a tone at least",
            hint="Say --saxophone alto and --choose 1,2.",
        )
    source = _source(takes, tones, name)
    numbers = {tone.first.number: place for place, tone in enumerate(tones, 1) if tone.first}
    record: dict[str, Any] = {
        "id": name,
        "saxophone": member.name,
        "fingering": fingering,
        "tones": [_tone(tone, dynamics) for tone in tones],
    }
    if dynamics:
        record["dynamics"] = str(dynamics)
    entries = [numbers[one] for entry in takes[0].entries for one in entry if one in numbers]
    is_one_by_one = all(len(entry) == 1 for entry in takes[0].entries)
    if len(takes) == 1 and is_one_by_one and len(entries) == len(tones) > 1:
        record["build_up"] = entries
    record["evidence"] = "measured"
    record["source"] = {"id": source["id"]}
    if set_up:
        record["set_up"] = set_up
    return record, source


def _tone(tone: TakenTone, dynamics: DynamicRange | None) -> dict[str, Any]:
    data: dict[str, Any] = {"written": str(record_pitch(tone))}
    if dynamics and tone.first:
        data["presence"] = {
            str(marks): str(word)
            for marks, word in zip(
                band_marks(dynamics, len(tone.first.presence)), tone.first.presence, strict=True
            )
            if marks is not None
        }
    return data


def band_marks(dynamics: DynamicRange, bands: int) -> list[DynamicRange | None]:
    """Divide a range of marks among the bands of a take, softest first.

    A band that falls between two marks gets none.
    """
    marks = dynamics.marks()
    edges = [round(len(marks) * number / bands) for number in range(bands + 1)]
    parts = [marks[low:high] for low, high in pairwise(edges)]
    return [DynamicRange(part[0], part[-1]) if part else None for part in parts]


def _source(takes: Sequence[Measurement], tones: Sequence[TakenTone], name: str) -> dict[str, Any]:
    files = ", ".join(take.name for take in takes)
    unsure = max(tone.uncertainty_cents for tone in tones)
    return {
        "id": f"take-{kebab(name) or 'own'}",
        "type": "performance",
        "title": f"the player's own {'take' if len(takes) == 1 else 'takes'}: {files}",
        "note": f"measured to within {unsure:.1f} cents, A4 = {takes[0].a4_hz:g} Hz",
    }
