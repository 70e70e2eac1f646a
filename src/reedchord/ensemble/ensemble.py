"""What the other parts sound while a sonority does, and how its tones beat with that."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from reedchord.acoustics.beats import Beating, beating
from reedchord.acoustics.roughness import notes_roughness
from reedchord.ensemble.ensemble_sounds import Sound, true_sounds
from reedchord.errors import RequestError
from reedchord.musicxml.document import Score
from reedchord.pitch import A4_CENTS, A4_HZ, CENTS_PER_OCTAVE, Pitch, checked_a4_hz
from reedchord.placement.standing import StandingPlacement, standing_placements
from reedchord.score_time.whole_score import WholeScore, whole_score

WIDEST_CENTS = 200.0
"""Further apart than that a pair is near to nothing."""


@dataclass(frozen=True)
class Tuning:
    """What is asked for: the pitch of A4, which parts are held against, and how near counts.

    `part_ids` empty stands for all; `within_cents` None for what is usual by interval.
    """

    a4_hz: float = A4_HZ
    part_ids: frozenset[str] = frozenset()
    only_emphasised: bool = False
    within_cents: float | None = None

    def __post_init__(self) -> None:
        checked_a4_hz(self.a4_hz)
        if self.within_cents is not None and not 0 <= self.within_cents <= WIDEST_CENTS:
            raise RequestError(
                "tuning.within",
                f"--within goes from 0 to {WIDEST_CENTS:g} cents, not {self.within_cents:g}",
            )


@dataclass(frozen=True)
class Pair:
    """A tone and a note of another part that lie near a pure interval, while both sound."""

    tone: Sound
    other: Sound
    beating: Beating

    @property
    def onset_quarters(self) -> Fraction:
        """From when on both sound, in quarter notes from the score's start."""
        return max(self.tone.onset_quarters, self.other.onset_quarters)

    @property
    def end_quarters(self) -> Fraction:
        """Until when both sound."""
        return min(self.tone.end_quarters, self.other.end_quarters)


@dataclass(frozen=True)
class Roughness:
    """Roughness of a chord in one model, as it sounds and on the keyboard; mean over its time."""

    as_it_sounds: float
    on_keyboard: float

    @property
    def ratio(self) -> float | None:
        """How many times rougher than on the keyboard; None where that is not rough at all."""
        return self.as_it_sounds / self.on_keyboard if self.on_keyboard else None


@dataclass(frozen=True)
class TunedPlacement:
    """One placement among the other parts: what lies near, and how rough the whole is.

    `others` are all notes of other parts that sound while it does, near or not.
    """

    placement: StandingPlacement
    onset_quarters: Fraction
    end_quarters: Fraction
    others: tuple[Sound, ...]
    pairs: tuple[Pair, ...]
    roughness: Roughness | None


@dataclass(frozen=True)
class Ensemble:
    """The placements of a score in order of time, and the score's bars to find them by.

    `left_out` says in sentences what could not be looked at.
    """

    tuning: Tuning
    whole: WholeScore
    placements: tuple[TunedPlacement, ...]
    left_out: tuple[str, ...]

    @property
    def pairs(self) -> list[Pair]:
        """All pairs, placement by placement."""
        return [pair for one in self.placements for pair in one.pairs]

    def bar_index(self, moment_quarters: Fraction) -> int:
        """Return the index of the bar in which a moment lies."""
        return _bar_index(self.whole, moment_quarters)

    def bars_of(self, onset_quarters: Fraction, end_quarters: Fraction) -> range:
        """Return the indexes of the bars in which something sounds."""
        return _bars_of(self.whole, onset_quarters, end_quarters)


def ensemble(score: Score, tuning: Tuning) -> Ensemble:
    """Hold every sonority of a score against what the other parts sound meanwhile.

    Raises RequestError where the score holds no sonorities, and InputError where its time or
    pitches cannot be read.
    """
    standing = standing_placements(score)
    whole = whole_score(score)
    by_bar = _by_bar(true_sounds(whole, standing), whole)
    left_out: list[str] = []
    tuned = [
        one
        for placement in standing
        if (one := _tuned(placement, _near_in_time(placement, by_bar), tuning, left_out))
    ]
    tuned.sort(key=lambda one: one.onset_quarters)
    return Ensemble(tuning, whole, tuple(tuned), tuple(left_out))


def _bar_index(whole: WholeScore, moment_quarters: Fraction) -> int:
    found = bisect_right(whole.bar_starts, moment_quarters) - 1
    return min(found, whole.bar_count - 1)


def _bars_of(whole: WholeScore, onset_quarters: Fraction, end_quarters: Fraction) -> range:
    first = _bar_index(whole, onset_quarters)
    following = bisect_left(whole.bar_starts, end_quarters)
    return range(first, max(first + 1, min(following, whole.bar_count)))


def _by_bar(sounds: Iterable[Sound], whole: WholeScore) -> dict[int, list[Sound]]:
    """Return sounds by the index of every bar that they reach into."""
    found: dict[int, list[Sound]] = {}
    for sound in sounds:
        for index in _bars_of(whole, sound.onset_quarters, sound.end_quarters):
            found.setdefault(index, []).append(sound)
    return found


def _near_in_time(
    placement: StandingPlacement, by_bar: Mapping[int, Sequence[Sound]]
) -> list[Sound]:
    """Return the sounds of the bars in which a placement stands, each once."""
    first, last = placement.notes[0].bar_index, placement.notes[-1].bar_index
    bars = (by_bar.get(index, ()) for index in range(first, last + 1))
    return list({id(sound): sound for bar in bars for sound in bar}.values())


def _tuned(
    placement: StandingPlacement, sounds: Sequence[Sound], tuning: Tuning, left_out: list[str]
) -> TunedPlacement | None:
    mine = [sound for sound in sounds if sound.placement is placement]
    if not mine:
        left_out.append(f"{placement.words}: a grace note takes no time in which it could beat")
        return None
    tones = mine
    if tuning.only_emphasised:
        tones = [sound for sound in mine if sound.tone == placement.row.emphasised]
        if placement.row.emphasised is None:
            left_out.append(f"{placement.words}: no tone of {placement.row.label} is emphasised")
            return None
    others = [
        sound
        for sound in sounds
        if sound.part != placement.part
        and (not tuning.part_ids or sound.part.id in tuning.part_ids)
        and any(sound.overlaps(own) for own in mine)
    ]
    return TunedPlacement(
        placement,
        min(sound.onset_quarters for sound in mine),
        max(sound.end_quarters for sound in mine),
        tuple(others),
        tuple(near_pairs(tones, others, tuning)),
        _roughness(mine, others, tuning.a4_hz),
    )


def near_pairs(tones: Iterable[Sound], others: Sequence[Sound], tuning: Tuning) -> Iterator[Pair]:
    """Yield tones with the notes that lie near a pure interval from them and sound with them."""
    for tone in tones:
        for other in others:
            if not tone.overlaps(other):
                continue
            found = beating(
                tone.concert.hz(tuning.a4_hz),
                other.concert.hz(tuning.a4_hz),
                within_cents=tuning.within_cents,
            )
            if found is not None:
                yield Pair(tone, other, found)


def _roughness(tones: Sequence[Sound], others: Sequence[Sound], a4_hz: float) -> Roughness | None:
    """Return the mean over the time in which others sound too, None where none does."""
    moments = sorted({m for s in (*tones, *others) for m in (s.onset_quarters, s.end_quarters)})
    lasting, true, tempered = 0.0, 0.0, 0.0
    for start, end in pairwise(moments):
        own = [s.concert for s in tones if s.onset_quarters <= start < s.end_quarters]
        rest = [s.concert for s in others if s.onset_quarters <= start < s.end_quarters]
        if not own or not rest:
            continue
        weight = float(end - start)
        lasting += weight
        true += weight * notes_roughness([pitch.hz(a4_hz) for pitch in (*own, *rest)])
        tempered += weight * notes_roughness([_key_hz(pitch, a4_hz) for pitch in (*own, *rest)])
    return Roughness(true / lasting, tempered / lasting) if lasting else None


def _key_hz(pitch: Pitch, a4_hz: float) -> float:
    """Return the frequency of the nearest key of a keyboard in equal temperament."""
    key_cents = 100 * math.floor(pitch.cents / 100 + Fraction(1, 2))
    return a4_hz * math.pow(2, (key_cents - A4_CENTS) / CENTS_PER_OCTAVE)
