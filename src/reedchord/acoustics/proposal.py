"""Which groups of partials are worth proposing as tones, and which belong to another tone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from reedchord.acoustics.grouping import HARMONICS, HarmonicGroup, group
from reedchord.acoustics.partials import Partial

FAINTEST_BELOW_DB = 27.0
FAINTEST_SINGLE_BELOW_DB = 22.0
"""A group, and a single line, are proposed as tones down to so far below the strongest."""
SHORTEST_SECONDS = 0.4
_SHORTEST_SHARE = 0.4
"""What is shorter, and shorter than that share of the longest tone, belongs to the attack."""
_HELD = 0.05
_OVERTONE_CENTS = 12.0
_SURE_OVERTONE_CENTS = 2.0
_OWN_HARMONICS = 4
_BESIDE_CENTS, _BESIDE_DB = 60.0, 12.0
_LEAST_SCORE = 25.0
_LEAST_SINGLE_SCORE = 24.0


@dataclass(frozen=True)
class ProposedTone:
    """A group that may be a tone: its level in dB against a full-scale sine."""

    group: HarmonicGroup
    level_db: float

    @property
    def harmonics(self) -> int:
        """How many partials it has."""
        return len(self.group.members)

    @property
    def held_frames(self) -> int:
        """For how many frames it is no more than 13 dB below its own loudest moment."""
        powers = self.group.powers
        return int(np.count_nonzero(powers > _HELD * np.max(powers)))


def propose(partials: Sequence[Partial], hop_seconds: float) -> tuple[ProposedTone, ...]:
    """Return proposed tones, loudest first; which of them are tones is for people to say."""
    found = [ProposedTone(one, _level_db(one, partials)) for one in group(partials)]
    found.sort(key=lambda tone: -tone.level_db)
    kept: list[ProposedTone] = []
    for tone in found:
        owner = next((k for k, other in enumerate(kept) if _is_overtone(tone, other)), None)
        if owner is None:
            kept.append(tone)
        else:
            kept[owner] = _with(kept[owner], tone, partials)
    long_enough = min(
        SHORTEST_SECONDS,
        _SHORTEST_SHARE * max((tone.held_frames for tone in kept), default=0) * hop_seconds,
    )
    return tuple(
        tone
        for tone in kept
        if _is_worth(tone, kept[0], partials) and tone.held_frames * hop_seconds >= long_enough
    )


def _level_db(one: HarmonicGroup, partials: Sequence[Partial]) -> float:
    powers = [10 ** (partials[index].level_db / 10) for _, index in one.members]
    return 10 * float(np.log10(sum(powers)))


def _is_overtone(tone: ProposedTone, other: ProposedTone) -> bool:
    """Tell whether a weaker group is rather some harmonics of another that were left over."""
    ratio = tone.group.frequency_hz / other.group.frequency_hz
    number = round(ratio)
    if not 2 <= number <= HARMONICS:
        return False
    misfit = abs(1200 * float(np.log2(ratio / number)))
    unsure = 2 * float(np.hypot(tone.group.uncertainty_cents, other.group.uncertainty_cents))
    few = tone.harmonics < _OWN_HARMONICS
    return misfit <= (_OVERTONE_CENTS if few else _SURE_OVERTONE_CENTS) + unsure


def _with(owner: ProposedTone, tone: ProposedTone, partials: Sequence[Partial]) -> ProposedTone:
    """Return a tone with the partials of its overtone; its pitch stays."""
    number = round(tone.group.frequency_hz / owner.group.frequency_hz)
    more = tuple((number * own, index) for own, index in tone.group.members)
    members = tuple(sorted((*owner.group.members, *more)))
    whole = replace(owner.group, members=members, powers=owner.group.powers + tone.group.powers)
    return ProposedTone(whole, _level_db(whole, partials))


def _is_worth(tone: ProposedTone, strongest: ProposedTone, partials: Sequence[Partial]) -> bool:
    below = strongest.level_db - tone.level_db
    single = tone.harmonics == 1
    if tone.group.score < (_LEAST_SINGLE_SCORE if single else _LEAST_SCORE):
        return False
    if below > (FAINTEST_SINGLE_BELOW_DB if single else FAINTEST_BELOW_DB):
        return False
    return not (tone.harmonics <= 2 and _is_beside(tone, partials))


def _is_beside(tone: ProposedTone, partials: Sequence[Partial]) -> bool:
    """Tell whether a line stands right beside a much stronger one, as unsteadiness makes them."""
    own = {index for _, index in tone.group.members}
    height = 1200 * float(np.log2(tone.group.frequency_hz))
    return any(
        abs(other.height_cents - height) < _BESIDE_CENTS
        and other.level_db > tone.level_db + _BESIDE_DB
        for index, other in enumerate(partials)
        if index not in own
    )
