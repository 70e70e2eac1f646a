"""How sonorities lie among the other parts, as text for people and as plain data for programs."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from reedchord.chord_spelling import MINUS
from reedchord.ensemble.ensemble import Ensemble, Pair, TunedPlacement
from reedchord.ensemble.ensemble_remedies import Remedy, mean_cents
from reedchord.ensemble.ensemble_sounds import Sound
from reedchord.rhythm import simple_moment
from reedchord.text_table import WIDTH, aligned

ONLY_A_MODEL = (
    "Cents and beats are arithmetic on the pitches of the records and of the keyboard; players "
    "bend pitches, and a trial has the last word. Roughness is a comparison inside one model "
    "(Sethares 1993, seven harmonics a note, all equally loud), not a fact about how it sounds."
)
_MOST_BEATS_TOLD = 5

Remedies = Mapping[int, Sequence[Remedy]]


@dataclass(frozen=True)
class PairGroup:
    """The same tone and the same note of another part, at every moment at which they meet."""

    pairs: tuple[Pair, ...]

    @property
    def first(self) -> Pair:
        """The first of them: all others beat alike."""
        return self.pairs[0]


def pair_groups(one: TunedPlacement) -> list[PairGroup]:
    """Return the pairs of a placement, equal ones together, tone by tone."""
    groups: dict[tuple[object, ...], list[Pair]] = {}
    for pair in one.pairs:
        other = pair.other
        key = pair.tone.tone or 0, pair.tone.concert, other.part.id, other.voice, other.concert
        groups.setdefault(key, []).append(pair)
    found = [PairGroup(tuple(pairs)) for pairs in groups.values()]
    return sorted(found, key=lambda group: group.first.tone.concert.cents)


def ensemble_text(found: Ensemble, remedies: Remedies | None = None) -> str:
    """Return placement by placement what lies near its tones, then the bars that beat most."""
    lines = [f"A4 = {found.tuning.a4_hz:g} Hz"]
    for one in found.placements:
        lines += ["", *_placement_lines(found, one)]
        if remedies is not None and one.pairs:
            lines += _remedy_lines(remedies.get(one.placement.row.number, ()))
    lines += ["", *_fastest(found)] if found.pairs else []
    lines += ["", *textwrap.wrap(ONLY_A_MODEL, WIDTH)]
    return "\n".join(lines) + "\n"


def cents_words(cents: float) -> str:
    """Return cents with their sign and without a fraction: `+14¢`."""
    whole = round(cents)
    return f"{'+' if whole > 0 else MINUS if whole < 0 else ''}{abs(whole)}¢"


def moments_words(found: Ensemble, pairs: Sequence[Pair]) -> str:
    """Return where pairs begin to sound together: `bar 3, beats 1 and 3`."""
    beats: dict[str, list[str]] = {}
    for pair in pairs:
        index = found.bar_index(pair.onset_quarters)
        music = found.whole.part(pair.tone.part.id)
        timeline = music.bar(min(index, len(music.part.bars) - 1))
        beat = timeline.beat_at(simple_moment(pair.onset_quarters - found.whole.bar_starts[index]))
        here = beats.setdefault(str(timeline.bar), [])
        if beat not in here:
            here.append(beat)
    return "; ".join(
        f"bar {bar}, beat{'s' if len(here) > 1 else ''} {', '.join(here)}"
        for bar, here in beats.items()
    )


def _placement_lines(found: Ensemble, one: TunedPlacement) -> Iterator[str]:
    placement = one.placement
    yield f"{placement.row.label}  {placement.words}: {placement.sonority.label()}"
    groups = pair_groups(one)
    if not groups:
        yield f"    {_nothing_near(one)}"
    rows = [_row(found, one, group) for group in groups]
    yield from (f"    {line}" for line in aligned(rows))
    if one.roughness and one.roughness.ratio is not None:
        yield (
            f"    roughness in the model: {one.roughness.ratio:.2f} times that of the same chord "
            "on the keyboard"
        )


def _nothing_near(one: TunedPlacement) -> str:
    if not one.others:
        return "no other part sounds meanwhile"
    return "no other part comes near to a tone"


def _row(found: Ensemble, one: TunedPlacement, group: PairGroup) -> tuple[str, ...]:
    pair = group.first
    number = pair.tone.tone
    emphasised = "*" if number is not None and number == one.placement.row.emphasised else " "
    name = f"tone {number}" if number is not None else "edited"
    return (
        f"{emphasised}{name} {pair.tone.concert.printed()}",
        _who(pair.other),
        pair.beating.interval.name,
        f"{cents_words(pair.beating.cents):>5}",
        f"{pair.beating.beats_per_second:>5.1f}/s",
        moments_words(found, group.pairs),
    )


def _who(sound: Sound) -> str:
    label = f" of {sound.placement.row.label}" if sound.placement else ""
    voice = f" voice {sound.voice}" if sound.voice != "1" else ""
    return f"{sound.concert.printed()}{label}, {sound.part.name or sound.part.id}{voice}"


def _remedy_lines(found: Sequence[Remedy]) -> Iterator[str]:
    if not found:
        yield "    no sonority of the collection lies nearer"
        return
    now = mean_cents(found[0].now)
    yield f"    nearer, on the average (now {now:.0f}¢ from what the others sound):"
    for remedy in found:
        sonority = remedy.instead.sonority
        met = ", ".join(
            f"{met.wish.printed()} by {cents_words(float(met.cents))}" for met in remedy.instead.met
        )
        yield f"      {sonority.id} ({sonority.label()}): {remedy.cents:.0f}¢; meets {met}"


def _fastest(found: Ensemble) -> Iterator[str]:
    yield "Bars that beat most (beats a second of all pairs that sound there, added up):"
    bars = sorted(bar_beats(found).items(), key=lambda item: -item[1])[:_MOST_BEATS_TOLD]
    for index, beats in bars:
        bar = max(found.whole.parts, key=lambda music: len(music.part.bars)).part.bars[index]
        yield f"    bar {bar}: {beats:.0f}"


def bar_beats(found: Ensemble) -> dict[int, float]:
    """Return beats a second by the index of a bar, all pairs that sound there added up.

    Two notes that meet several times in a bar count once, and so do two sonorities.
    """
    beats: dict[int, dict[object, float]] = {}
    for pair in found.pairs:
        notes = frozenset(
            (sound.part.id, sound.voice, sound.concert) for sound in (pair.tone, pair.other)
        )
        for index in found.bars_of(pair.onset_quarters, pair.end_quarters):
            beats.setdefault(index, {})[notes] = pair.beating.beats_per_second
    return {index: math.fsum(bar.values()) for index, bar in sorted(beats.items())}


def ensemble_data(found: Ensemble, remedies: Remedies | None = None) -> dict[str, Any]:
    """Return the same as plain data, ready for JSON; Hz, cents, beats a second, quarters."""
    return {
        "a4_hz": found.tuning.a4_hz,
        "placements": [_placement_data(found, one, remedies) for one in found.placements],
        "left_out": list(found.left_out),
        "about": ONLY_A_MODEL,
    }


def _placement_data(
    found: Ensemble, one: TunedPlacement, remedies: Remedies | None
) -> dict[str, Any]:
    placement, rough = one.placement, one.roughness
    data = {
        "label": placement.row.label,
        "sonority": placement.sonority.id,
        "part": placement.part.id,
        "bar": placement.row.bar,
        "beat": placement.row.wish.beat,
        "onset_quarters": str(one.onset_quarters),
        "end_quarters": str(one.end_quarters),
        "roughness_in_the_model": rough
        and {
            "as_it_sounds": round(rough.as_it_sounds, 6),
            "on_keyboard": round(rough.on_keyboard, 6),
        },
        "pairs": [_pair_data(found, pair) for pair in one.pairs],
    }
    if remedies is not None:
        nearer = remedies.get(placement.row.number, ())
        data["nearer"] = [
            {"sonority": remedy.instead.sonority.id, "mean_cents": round(remedy.cents, 3)}
            for remedy in nearer
        ]
    return data


def _pair_data(found: Ensemble, pair: Pair) -> dict[str, Any]:
    other, a4_hz = pair.other, found.tuning.a4_hz
    return {
        "tone": pair.tone.tone,
        "concert": str(pair.tone.concert),
        "hz": round(pair.tone.concert.hz(a4_hz), 4),
        "other": {
            "part": other.part.id,
            "voice": other.voice,
            "concert": str(other.concert),
            "hz": round(other.concert.hz(a4_hz), 4),
            "label": other.placement and other.placement.row.label,
        },
        "interval": pair.beating.interval.name,
        "cents": round(pair.beating.cents, 3),
        "beats_per_second": round(pair.beating.beats_per_second, 4),
        "onset_quarters": str(pair.onset_quarters),
        "end_quarters": str(pair.end_quarters),
    }
