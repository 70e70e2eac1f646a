"""What in a trial may be right, and is more likely a slip."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.pitch import Pitch
from reedchord.sonority import Sonority
from reedchord.trials.trial_fields import Trial

FAR_CENTS = 100
"""A tone that lies further from where its source has it is more likely another one (common
practice, no source)."""
_NEAR_CENTS = 50


def trial_doubts(sonority: Sonority, trial: Trial) -> Iterator[str]:
    """Yield sentences on measured pitches and speeds; raises InputError for an unknown tone."""
    for tone in trial.tones:
        if tone.tone is not None and tone.measured is not None:
            yield from far_off(sonority, sonority.tone_number(tone.tone), tone.measured)
    for limit in trial.limits:
        yield from limit.doubts()


def far_off(sonority: Sonority, number: int, measured: Pitch) -> Iterator[str]:
    """Yield a sentence where a tone was measured far from where the record has it."""
    written, concert = sonority.written(number), sonority.concert(number)
    if abs(measured.cents - written.cents) <= FAR_CENTS:
        return
    if abs(measured.cents - concert.cents) <= _NEAR_CENTS:
        guess = f"that is near {concert.printed()}, its concert pitch; what is noted is written"
    else:
        guess = "is it another tone, or another octave?"
    yield f"tone {number} is {written.printed()}, and {measured.printed()} was measured: {guess}"
