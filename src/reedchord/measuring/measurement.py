"""What was measured in a take: its partials, its proposed tones, and what is doubtful."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from reedchord.acoustics.spectrum import Spectra
from reedchord.pitch import Pitch, pitch_from_cents, pitch_from_hz
from reedchord.saxophones import Saxophone
from reedchord.sonority_fields import Presence

SURE_TO = 2.0
"""Uncertainties are told as two standard deviations, and what the method itself may be off."""
METHOD_CENTS = 0.3


@dataclass(frozen=True)
class MeasuredPartial:
    """One line of the spectrum, 1 the loudest; levels in dB below the loudest."""

    number: int
    frequency_hz: float
    uncertainty_cents: float
    level_db: float
    above_noise_db: float
    tone: int | None
    """Number of the proposed tone that it would belong to."""
    harmonic: int | None
    """Which harmonic of that tone it would be."""


@dataclass(frozen=True)
class Band:
    """A third of the take's own range of loudness; levels in dB against its loudest moment."""

    name: str
    softest_db: float
    loudest_db: float
    seconds: float


@dataclass(frozen=True)
class MeasuredTone:
    """One proposed tone; tones are numbered from the lowest."""

    number: int
    frequency_hz: float
    uncertainty_cents: float
    wander_cents: float
    level_db: float
    """Below the loudest tone."""
    partials: tuple[int, ...]
    """Numbers of its partials."""
    onset_seconds: float
    heard_seconds: float
    presence: tuple[Presence, ...]
    """In each band, softest first."""
    heights_hz: tuple[float | None, ...]
    """Its frequency at each moment of the spectra, None where it is not heard."""
    doubt: str | None = None
    """Why it may be no tone of the saxophone."""


@dataclass(frozen=True)
class Measurement:
    """One take, measured."""

    name: str
    seconds: float
    rate_hz: int
    a4_hz: float
    saxophone: Saxophone | None
    tones: tuple[MeasuredTone, ...]
    partials: tuple[MeasuredPartial, ...]
    bands: tuple[Band, ...]
    entries: tuple[tuple[int, ...], ...]
    """Numbers of the tones in the order in which they enter; one entry where all start together."""
    signal_to_noise_db: float | None
    remarks: tuple[str, ...]
    """What is wrong or doubtful about the take, as sentences."""
    spectra: Spectra | None

    def concert(self, frequency_hz: float) -> Pitch:
        """Return a frequency as concert pitch, to a tenth of a cent, spelled as its written one."""
        written = self.written(frequency_hz)
        if self.saxophone is None or written is None:
            return self._sharp(frequency_hz)
        return self.saxophone.concert(written)

    def written(self, frequency_hz: float) -> Pitch | None:
        """Return a frequency as the saxophone's written pitch, None without a saxophone."""
        if self.saxophone is None:
            return None
        return pitch_from_cents(self.saxophone.written(self._sharp(frequency_hz)).cents)

    def _sharp(self, frequency_hz: float) -> Pitch:
        return rounded(pitch_from_hz(frequency_hz, self.a4_hz), 10)


def rounded(pitch: Pitch, parts_of_a_cent: int = 1) -> Pitch:
    """Return a pitch with its cents rounded to whole ones, or to parts of them."""
    cents = Fraction(round(pitch.alteration_cents * parts_of_a_cent), parts_of_a_cent)
    return Pitch(pitch.step, pitch.octave, cents)
