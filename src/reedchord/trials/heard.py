"""Which tones of a record the trials of a log mean, whatever pitch they name them by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reedchord.errors import InputError
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority
from reedchord.trials.trial_fields import Trial, TrialTone

Heard = dict[int, TrialTone]
"""The tones of a trial by their numbers in the record."""

_SAME_WITHIN_CENTS = 1
"""Pitches that people copy from one another are rounded by no more."""


def heard_tones(
    sonority: Sonority, trials: Sequence[Trial]
) -> tuple[tuple[Heard, ...], tuple[str, ...]]:
    """Return the tones of each trial, and sentences on those that cannot be meant."""
    told: dict[str, None] = {}
    latest_first = tuple(tone for trial in reversed(trials) for tone in trial.tones)
    heard: list[Heard] = []
    for trial in trials:
        found: Heard = {}
        for tone in trial.tones:
            if tone.tone is None:
                continue
            try:
                found[_number(sonority, tone.tone, latest_first)] = tone
            except InputError as error:
                told[f"trial of {trial.date}: {error.message}"] = None
        heard.append(found)
    return tuple(heard), tuple(told)


def _number(sonority: Sonority, named: int | Pitch, latest_first: Sequence[TrialTone]) -> int:
    """Return the tone that a trial names; raises InputError where there is none.

    A record that follows its trials has a measured pitch where the log, or a later trial, still
    names the tone by the one from before: what any trial measured leads from one to the other.
    """
    names, first = [named], None
    for name in names:
        try:
            return sonority.tone_number(name)
        except InputError as error:
            first = first or error
        names += [other for other in _other_names(name, latest_first) if other not in names]
    assert first is not None  # the name itself was asked for
    raise first


def _other_names(name: int | Pitch, latest_first: Sequence[TrialTone]) -> Iterator[int | Pitch]:
    for tone in latest_first:
        if tone.tone is None or tone.measured is None:
            continue
        if tone.tone == name:
            yield tone.measured
        if isinstance(name, Pitch) and _same(tone.measured, name):
            yield tone.tone


def _same(one: Pitch, other: Pitch) -> bool:
    return abs(one.cents - other.cents) <= _SAME_WITHIN_CENTS
