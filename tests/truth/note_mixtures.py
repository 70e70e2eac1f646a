"""Real saxophone notes, alone and mixed, measured: errors in cents, missed and false tones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain

import numpy as np

from reedchord.acoustics.sound_reading import Sound
from reedchord.measuring.measure import measure
from truth.sampled_saxophones import SampledNote, patch_notes, sound_font_notes

SECONDS = 1.5
NEAR_LABEL_CENTS, NEAR_CENTS = 50, 25
SETTINGS_FIXED_ON = ("Tenor", "Baritone")
"""Of the sound font; the settings were fixed on these, as they are and swung, and on synthesised
chords; all other notes are held out."""
HIGHEST_CENTS = 8800


@dataclass(frozen=True)
class Tally:
    """What came of some recordings."""

    errors_cents: np.ndarray
    missed: float
    false: float
    covered: float
    """Share of the errors that lie within the uncertainty that was told."""

    def row(self, name: str) -> str:
        """Return one line of a table."""
        median, high = np.median(self.errors_cents), np.percentile(self.errors_cents, 95)
        return (
            f"{name:<44}{median:6.2f}{high:7.2f}{self.missed:8.3f}{self.false:7.2f}"
            f"{self.covered:9.2f}"
        )


def together(tallies: Sequence[Tally]) -> Tally:
    """Return what came of equally many recordings of several sets."""
    sizes = [len(one.errors_cents) for one in tallies]
    return Tally(
        np.concatenate([one.errors_cents for one in tallies]),
        float(np.mean([one.missed for one in tallies])),
        float(np.mean([one.false for one in tallies])),
        float(np.average([one.covered for one in tallies], weights=sizes)),
    )


HEADER = f"{'':<44}{'median':>6}{'95 %':>7}{'missed':>8}{'false':>7}{'covered':>9}"


def development_notes() -> list[SampledNote]:
    return [note for note in sound_font_notes() if note.member in SETTINGS_FIXED_ON]


def swung_notes() -> list[SampledNote]:
    """Return notes of the same set, higher and with vibrato: as alto and soprano are played."""
    chance = np.random.default_rng(5)
    ups = ((note, chance.uniform(300, 1900)) for note in development_notes() for _ in range(2))
    return [
        _swung(note, up_cents, chance)
        for note, up_cents in ups
        if note.label_cents + up_cents < HIGHEST_CENTS
    ]


def _swung(note: SampledNote, up_cents: float, chance: np.random.Generator) -> SampledNote:
    """Return a note read faster, with a swing of 8 to 28 cents, 4 to 6 times a second."""
    moments = np.arange(round(SECONDS * note.rate_hz)) / note.rate_hz
    swing = np.sin(2 * np.pi * (chance.uniform(4, 6) * moments + chance.uniform()))
    grown = np.clip((moments - 0.15) / 0.25, 0, 1)
    cents = up_cents + chance.uniform(8, 28) * grown * swing
    places = np.cumsum(2 ** (cents / 1200))
    source = note.lasting(places[-1] / note.rate_hz + 0.1)
    lines = np.fft.rfft(source)
    # What would be folded back from above half the sample rate is taken out first.
    lines[round(len(lines) / 2 ** (np.max(cents) / 1200)) :] = 0
    read = np.interp(places, np.arange(len(source)), np.fft.irfft(lines, len(source)))
    samples = read * (1 + 0.15 * grown * swing)
    name = f"{note.name} {up_cents:+.0f}"
    label_cents = note.label_cents + up_cents
    return replace(
        note, name=name, samples=samples, loop=(0, len(samples)), label_cents=label_cents
    )


def held_out_notes() -> dict[str, list[SampledNote]]:
    others = [note for note in sound_font_notes() if note.member not in SETTINGS_FIXED_ON]
    return {"sound font, alto and soprano": others, "patches, all members": list(patch_notes())}


def tones_of(samples: np.ndarray, rate_hz: int) -> list[tuple[float, float]]:
    """Return height (A4 = 6900) and uncertainty in cents of every proposed tone, loudest first."""
    found = measure(Sound("notes", samples, rate_hz, 1))
    ranked = sorted(found.tones, key=lambda tone: -tone.level_db)
    return [
        (6900 + 1200 * np.log2(tone.frequency_hz / 440), tone.uncertainty_cents) for tone in ranked
    ]


def levelled(note: SampledNote) -> np.ndarray:
    samples = note.lasting(SECONDS)
    return 0.1 * samples / np.sqrt(np.mean(samples**2))


def tally_of_singles(notes: Sequence[SampledNote]) -> Tally:
    """Return errors against the labels of the makers of the samples."""
    errors, missed, false = [], 0, 0
    for note in notes:
        tones = tones_of(levelled(note), note.rate_hz)
        near = [cents for cents, _ in tones if abs(cents - note.label_cents) < NEAR_LABEL_CENTS]
        errors += [abs(near[0] - note.label_cents)] if near else []
        missed += not near
        false += len(tones) - bool(near)
    return Tally(np.array(errors), missed / len(notes), false / len(notes), float("nan"))


def tally_of_mixtures(
    notes: Sequence[SampledNote], snr_db: float, trials: int, seed: int = 7
) -> Tally:
    """Return errors of three notes mixed at one level, against each measured alone and clean.

    White noise over the whole band is that far below the mixture (root mean squares).
    """
    chance = np.random.default_rng(seed)
    alone: dict[str, float] = {}
    rows = [_mixture(notes, snr_db, chance, alone) for _ in range(trials)]
    pairs = list(chain.from_iterable(found for found, _, _ in rows))
    errors = np.array([error for error, _ in pairs])
    return Tally(
        errors,
        sum(missed for _, missed, _ in rows) / (3 * trials),
        sum(false for _, _, false in rows) / trials,
        float(np.mean([error <= unsure for error, unsure in pairs])),
    )


def _mixture(notes, snr_db, chance, alone):
    picked = _three(notes, chance)
    whole = sum(levelled(note) for note in picked)
    noise = chance.normal(size=len(whole)) * np.sqrt(np.mean(whole**2)) * 10 ** (-snr_db / 20)
    left = tones_of(whole + noise, picked[0].rate_hz)
    pairs = []
    for note in picked:
        true = _alone(note, alone)
        nearest = min(left, key=lambda tone: abs(tone[0] - true), default=None)
        if nearest and abs(nearest[0] - true) < NEAR_CENTS:
            left.remove(nearest)
            pairs.append((abs(nearest[0] - true), nearest[1]))
    return pairs, 3 - len(pairs), len(left)


def _three(notes, chance):
    """Return three notes of different pitch and one sample rate; octaves are allowed."""
    while True:
        picked = [notes[index] for index in chance.choice(len(notes), 3, replace=False)]
        heights = {round(note.label_cents / 100) for note in picked}
        if len(heights) == 3 and len({note.rate_hz for note in picked}) == 1:
            return picked


def _alone(note, known):
    if note.name not in known:
        tones = tones_of(levelled(note), note.rate_hz)
        near = [cents for cents, _ in tones if abs(cents - note.label_cents) < NEAR_LABEL_CENTS]
        known[note.name] = near[0] if near else note.label_cents
    return known[note.name]
