"""A measurement as text for people, and as data for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any

from reedchord.measuring.measured_tones import Comparison, TakenTone
from reedchord.measuring.measurement import MeasuredPartial, Measurement
from reedchord.sonority import Sonority
from reedchord.text_table import WIDTH

PARTIALS_SHOWN = 12
_GROUPS = (
    "Tones are proposed by drawing partials together that lie like harmonics. Combination tones "
    "and loud partials can pass for tones: you say which are."
)


def measurement_text(take: Measurement, *, partials: int = PARTIALS_SHOWN) -> str:
    """Return one take as text: proposed tones, presence, entries, ranked partials, remarks."""
    member = f", {take.saxophone}" if take.saxophone else ""
    lines = [f"{take.name}: {take.seconds:.2f} s{member}, A4 = {take.a4_hz:g} Hz"]
    lines += [f"  ! {sentence}" for sentence in take.remarks]
    if not take.tones:
        return "\n".join(lines) + "\n"
    lines += ["", "proposed tones, the lowest first"]
    lines += _aligned([_TONE_HEAD, *(_tone_row(take, number) for number in _numbers(take))])
    lines += [f"  tone {tone.number}: {tone.doubt}" for tone in take.tones if tone.doubt]
    lines += ["", *_presence_lines(take), *_entry_lines(take)]
    shown = f"{min(partials, len(take.partials))} of {len(take.partials)}"
    if not partials:
        return "\n".join([*lines, "", *textwrap.wrap(_GROUPS, WIDTH)]) + "\n"
    lines += ["", f"partials, the loudest first ({shown})"]
    rows = [_partial_row(take, one) for one in take.partials[:partials]]
    lines += _aligned([_PARTIAL_HEAD, *rows])
    return "\n".join([*lines, "", *textwrap.wrap(_GROUPS, WIDTH)]) + "\n"


_TONE_HEAD = ("", "written", "concert", "Hz", "sure to", "wanders", "level", "partials", "heard")
_PARTIAL_HEAD = ("", "concert", "Hz", "sure to", "level", "above noise", "would be")


def _numbers(take: Measurement) -> range:
    return range(1, len(take.tones) + 1)


def _tone_row(take: Measurement, number: int) -> tuple[str, ...]:
    tone = take.tones[number - 1]
    written = take.written(tone.frequency_hz)
    return (
        str(number),
        written.printed() if written else "?",
        take.concert(tone.frequency_hz).printed(),
        f"{tone.frequency_hz:.2f}",
        f"±{tone.uncertainty_cents:.1f}¢",
        f"±{tone.wander_cents:.0f}¢",
        _db(tone.level_db),
        str(len(tone.partials)),
        f"{tone.onset_seconds:.2f} s on, {tone.heard_seconds:.1f} s",
    )


def _partial_row(take: Measurement, one: MeasuredPartial) -> tuple[str, ...]:
    would_be = f"tone {one.tone}, harmonic {one.harmonic}" if one.tone else "none of the tones"
    return (
        f"p{one.number}",
        take.concert(one.frequency_hz).printed(),
        f"{one.frequency_hz:.1f}",
        f"±{one.uncertainty_cents:.1f}¢",
        _db(one.level_db),
        f"{one.above_noise_db:.0f} dB",
        would_be,
    )


def _db(level_db: float) -> str:
    return f"{level_db:.0f} dB".replace("-0 dB", "0 dB").replace("-", "−")


def _presence_lines(take: Measurement) -> list[str]:
    if len(take.bands) == 1:
        said = "presence (the loudness hardly changes; play a crescendo to tell by dynamic)"
    else:
        whole_db = take.bands[-1].loudest_db - take.bands[0].softest_db
        said = f"presence in thirds of the take's own range of {whole_db:.0f} dB, no dynamic marks"
    heads = [f"{band.name}, {band.seconds:.1f} s" for band in take.bands]
    rows = [(str(tone.number), *map(str, tone.presence)) for tone in take.tones]
    return [said, *_aligned([("", *heads), *rows])]


def _entry_lines(take: Measurement) -> list[str]:
    if len(take.entries) < 2:
        return []
    onset = {tone.number: tone.onset_seconds for tone in take.tones}
    words = [
        f"{' and '.join(map(str, entry))} at {onset[entry[0]]:.2f} s" for entry in take.entries
    ]
    return ["", f"entries, within about 0.1 s: {'; '.join(words)}"]


def together_text(takes: Sequence[Measurement], tones: Sequence[TakenTone]) -> str:
    """Return the tones of several takes as text, with mean and spread."""
    rows = [("", "written", "concert", "spread", "found in takes")]
    for tone in tones:
        spread = "?" if tone.spread_cents is None else f"±{tone.spread_cents:.1f}¢"
        found = f"{len(tone.found_in)} of {len(takes)}: {', '.join(map(str, tone.found_in))}"
        written = tone.written.printed() if tone.written else "?"
        rows.append((str(tone.number), written, tone.concert.printed(), spread, found))
    return "\n".join([f"{len(takes)} takes together", *_aligned(rows)]) + "\n"


def comparison_text(sonority: Sonority, found: Comparison, a4_hz: float) -> str:
    """Return as text which tones agree with a record, which are missing and which are new."""
    lines = [f"beside the record {sonority.id}"]
    for number, tone, cents in found.pairs:
        lines.append(
            f"  record {number}, written {sonority.written(number).printed()}: measured tone "
            f"{tone.number}, {_away(cents)}"
        )
    lines += [
        f"  record {number}, written {sonority.written(number).printed()}: not found"
        for number in found.missing
    ]
    for tone in found.new:
        written = tone.written.printed() if tone.written else tone.concert.printed()
        lines.append(f"  measured tone {tone.number}, written {written}: not in the record")
    if found.is_shifted:
        lines.append(
            f"  ! all lie about {_away(found.shift_cents)} off: another "
            f"tuning? --a4 {found.a4_hz(a4_hz):.0f} would bring them together"
        )
    return "\n".join(lines) + "\n"


def _away(cents: float) -> str:
    """Return whole cents with their sign, `0¢` for less than half of one."""
    return f"{round(cents):+d}¢".replace("+0", "0").replace("-", "−")


def _aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [
        "  "
        + "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def measurement_data(take: Measurement) -> dict[str, Any]:
    """Return one take as plain data; cents and dB as rounded numbers, pitches as text."""
    return {
        "take": take.name,
        "seconds": round(take.seconds, 3),
        "rate_hz": take.rate_hz,
        "a4_hz": take.a4_hz,
        "saxophone": take.saxophone.name if take.saxophone else None,
        "remarks": list(take.remarks),
        "signal_to_noise_db": _rounded(take.signal_to_noise_db),
        "bands": [
            {
                "name": band.name,
                "softest_db": round(band.softest_db, 1),
                "loudest_db": round(band.loudest_db, 1),
                "seconds": round(band.seconds, 2),
            }
            for band in take.bands
        ],
        "tones": [_tone_data(take, number) for number in _numbers(take)],
        "entries": [list(entry) for entry in take.entries],
        "partials": [_partial_data(take, one) for one in take.partials],
    }


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, 1)


def _tone_data(take: Measurement, number: int) -> dict[str, Any]:
    tone = take.tones[number - 1]
    written = take.written(tone.frequency_hz)
    return {
        "number": number,
        "written": str(written) if written else None,
        "concert": str(take.concert(tone.frequency_hz)),
        "frequency_hz": round(tone.frequency_hz, 3),
        "uncertainty_cents": round(tone.uncertainty_cents, 2),
        "wander_cents": round(tone.wander_cents, 1),
        "level_db": round(tone.level_db, 1),
        "partials": list(tone.partials),
        "onset_seconds": round(tone.onset_seconds, 2),
        "heard_seconds": round(tone.heard_seconds, 2),
        "presence": [str(word) for word in tone.presence],
        "doubt": tone.doubt,
    }


def _partial_data(take: Measurement, one: MeasuredPartial) -> dict[str, Any]:
    return {
        "number": one.number,
        "concert": str(take.concert(one.frequency_hz)),
        "frequency_hz": round(one.frequency_hz, 2),
        "uncertainty_cents": round(one.uncertainty_cents, 2),
        "level_db": round(one.level_db, 1),
        "above_noise_db": round(one.above_noise_db, 1),
        "tone": one.tone,
        "harmonic": one.harmonic,
    }


def together_data(tones: Sequence[TakenTone]) -> list[dict[str, Any]]:
    """Return the tones of several takes as plain data."""
    return [
        {
            "number": tone.number,
            "written": str(tone.written) if tone.written else None,
            "concert": str(tone.concert),
            "spread_cents": _rounded(tone.spread_cents),
            "found_in": list(tone.found_in),
        }
        for tone in tones
    ]


def comparison_data(sonority: Sonority, found: Comparison) -> dict[str, Any]:
    """Return a comparison with a record as plain data."""
    return {
        "sonority": sonority.id,
        "agreeing": [
            {"record": number, "measured": tone.number, "cents": round(cents, 1)}
            for number, tone, cents in found.pairs
        ],
        "missing": list(found.missing),
        "new": [tone.number for tone in found.new],
        "shift_cents": round(found.shift_cents, 1),
    }
