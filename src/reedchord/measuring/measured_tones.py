"""The tones of one or several takes together, and beside those of a record."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from reedchord.errors import RequestError
from reedchord.measuring.measurement import MeasuredPartial, MeasuredTone, Measurement
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority

SAME_TONE_CENTS = 35.0
"""Tones of two takes that lie nearer are one."""
AGREE_CENTS = 50.0
COMMON_SHIFT_CENTS = 8.0
_TOGETHER_CENTS = 10.0
_LARGEST_SHIFT_CENTS = 150.0


@dataclass(frozen=True)
class TakenTone:
    """One tone as all takes have it; numbered from the lowest, a partial from -1 down."""

    number: int
    frequency_hz: float
    concert: Pitch
    written: Pitch | None
    uncertainty_cents: float
    spread_cents: float | None
    """Standard deviation over the takes that have it, None where one alone does."""
    found_in: tuple[int, ...]
    """Numbers of these takes."""
    first: MeasuredTone | None
    """The tone in the first of them, for presence and level; None for a single partial."""

    @property
    def doubt(self) -> str | None:
        """Why it may be no tone of the saxophone."""
        return self.first.doubt if self.first else None

    @property
    def label(self) -> str:
        """What the user calls it: `2`, or `p5` for a partial."""
        return str(self.number) if self.number > 0 else f"p{-self.number}"


def taken_tones(takes: Sequence[Measurement]) -> tuple[TakenTone, ...]:
    """Return the tones of takes of one sonority, the lowest first: the mean of their cents."""
    rows: list[list[tuple[int, MeasuredTone]]] = []
    for number, take in enumerate(takes, 1):
        for tone in take.tones:
            near = [row for row in rows if _cents(row, tone) <= SAME_TONE_CENTS]
            fresh = [row for row in near if row[-1][0] != number]
            if fresh:
                min(fresh, key=lambda row: _cents(row, tone)).append((number, tone))
            else:
                rows.append([(number, tone)])
    rows.sort(key=_mean_hz)
    return tuple(_taken(number, row, takes[0]) for number, row in enumerate(rows, 1))


def _mean_hz(row: Sequence[tuple[int, MeasuredTone]]) -> float:
    return math.exp(sum(math.log(tone.frequency_hz) for _, tone in row) / len(row))


def _cents(row: Sequence[tuple[int, MeasuredTone]], tone: MeasuredTone) -> float:
    return abs(1200 * math.log2(tone.frequency_hz / _mean_hz(row)))


def _taken(number: int, row: Sequence[tuple[int, MeasuredTone]], take: Measurement) -> TakenTone:
    hz = _mean_hz(row)
    unsure = max(tone.uncertainty_cents for _, tone in row)
    spread = None
    if len(row) > 1:
        squares = sum(_cents(row, tone) ** 2 for _, tone in row)
        spread = math.sqrt(squares / (len(row) - 1))
    return TakenTone(
        number,
        hz,
        take.concert(hz),
        take.written(hz),
        unsure,
        spread,
        tuple(number for number, _ in row),
        row[0][1],
    )


def chosen_tones(tones: Sequence[TakenTone], wish: str, take: Measurement) -> tuple[TakenTone, ...]:
    """Return the tones of a list such as `1,3,p5`, or `all` without a doubt, the lowest first.

    `p5` is the fifth partial of the take, where the proposal holds a tone for a harmonic.
    Raises RequestError for others.
    """
    if wish.strip().casefold() == "all":
        return tuple(tone for tone in tones if not tone.doubt)
    known = {str(tone.number): tone for tone in tones}
    known |= {f"p{one.number}": _of_partial(one, take) for one in take.partials}
    words = [word.strip() for word in wish.split(",") if word.strip()]
    strange = [word for word in words if word not in known]
    if strange or not words:
        raise RequestError(
            "measure.take",
            f"{', '.join(strange) or 'nothing'} is no number of a proposed tone or a partial",
            hint=f"There are {', '.join(str(tone.number) for tone in tones) or 'no tones'} and "
            f"{len(take.partials)} partials; write --choose 1,3,p5 or --choose all.",
        )
    chosen = {word: known[word] for word in words}
    return tuple(sorted(chosen.values(), key=lambda tone: tone.frequency_hz))


def _of_partial(one: MeasuredPartial, take: Measurement) -> TakenTone:
    hz = one.frequency_hz
    concert, written = take.concert(hz), take.written(hz)
    return TakenTone(-one.number, hz, concert, written, one.uncertainty_cents, None, (1,), None)


@dataclass(frozen=True)
class Comparison:
    """A record's tones beside measured ones; `shift_cents` is what all of them share."""

    pairs: tuple[tuple[int, TakenTone, float], ...]
    """Number in the record, measured tone, cents by which the measured one is higher."""
    missing: tuple[int, ...]
    new: tuple[TakenTone, ...]
    shift_cents: float

    def a4_hz(self, measured_at_hz: float) -> float:
        """Return the A4 at which the tones would on average agree."""
        return measured_at_hz * 2 ** (self.shift_cents / 1200)

    @property
    def is_shifted(self) -> bool:
        """Whether several tones lie off alike, as with another A4."""
        return len(self.pairs) > 1 and abs(self.shift_cents) >= COMMON_SHIFT_CENTS


def compared(sonority: Sonority, tones: Sequence[TakenTone]) -> Comparison:
    """Return which tones agree, by how many cents, which are missing and which are new.

    First the shift is found under which most tones agree, as another A4 makes it; then tones
    pair off with the nearest, within half a semitone of the shifted place.
    """
    record = {number: float(sonority.concert(number).cents) for number in sonority.numbers}
    measured = {tone.number: float(tone.concert.cents) for tone in tones}
    shift = _shift(list(record.values()), list(measured.values()))
    gaps = sorted(
        (abs(high - low - shift), one, other)
        for one, low in record.items()
        for other, high in measured.items()
    )
    paired: dict[int, int] = {}
    for gap, one, other in gaps:
        if gap <= AGREE_CENTS and one not in paired and other not in paired.values():
            paired[one] = other
    by_number = {tone.number: tone for tone in tones}
    pairs = tuple(
        (one, by_number[other], measured[other] - record[one])
        for one, other in sorted(paired.items())
    )
    mean = sum(gap for _, _, gap in pairs) / len(pairs) if pairs else 0.0
    is_common = all(abs(gap - mean) <= _TOGETHER_CENTS for _, _, gap in pairs)
    return Comparison(
        pairs,
        tuple(number for number in record if number not in paired),
        tuple(tone for tone in tones if tone.number not in paired.values()),
        mean if is_common else 0.0,
    )


def _shift(record: Sequence[float], measured: Sequence[float]) -> float:
    """Return the shift that brings most tones together, nothing where it brings no more."""

    def agreeing(shift: float) -> int:
        return sum(
            any(abs(high - low - shift) <= _TOGETHER_CENTS for high in measured) for low in record
        )

    shifts = [high - low for low in record for high in measured]
    near = [shift for shift in shifts if abs(shift) <= _LARGEST_SHIFT_CENTS]
    plain = sum(any(abs(high - low) <= AGREE_CENTS for high in measured) for low in record)
    best = max(near, key=lambda shift: (agreeing(shift), -abs(shift)), default=0.0)
    return best if agreeing(best) > max(1, plain) else 0.0


def record_pitch(tone: TakenTone) -> Pitch:
    """Return a tone's written pitch in whole cents; the saxophone is known."""
    assert tone.written is not None
    cents = Fraction(round(tone.written.alteration_cents))
    return Pitch(tone.written.step, tone.written.octave, cents)
