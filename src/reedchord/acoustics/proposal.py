"""Which groups of partials are worth proposing as tones, and which belong to another tone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from reedchord.acoustics.following import Followed
from reedchord.acoustics.grouping import FAINTEST_BELOW_DB, HARMONICS, HarmonicGroup, group
from reedchord.acoustics.hidden import are_one, hidden_tones, is_harmonic, true_multiple
from reedchord.acoustics.partials import Partial
from reedchord.acoustics.spectrum import Spectra
from reedchord.acoustics.together import (
    follow,
    judged_together,
    share_agreeing,
    uncertainty_cents,
)

FAINTEST_SINGLE_BELOW_DB = 22.0
"""A group, and a single line, are proposed as tones down to so far below the strongest."""
_OVERTONE_CENTS = 12.0
_SURE_OVERTONE_CENTS = 2.0
_OFTEN_LEFT_OVER = 2
_LOUDER_DB = 3.0
_OWN_HARMONICS = 4
_LEAST_SCORE = 25.0
_LEAST_SINGLE_SCORE = 24.0
_LEAST_SHARE_AGREEING = 0.42
_LEAST_AGREED_SCORE = 20.0
"""Where fewer harmonics of a group move together, chance has made it."""


@dataclass(frozen=True)
class ProposedTone:
    """A group that may be a tone: its level in dB against a full-scale sine."""

    group: HarmonicGroup
    level_db: float

    @property
    def harmonics(self) -> int:
        """How many partials it has."""
        return len(self.group.members)


def propose(partials: Sequence[Partial], found: Spectra) -> tuple[ProposedTone, ...]:
    """Return proposed tones, loudest first; which of them are tones is for people to say."""
    groups = [ProposedTone(one, _level_db(one, partials)) for one in group(partials, found)]
    groups.sort(key=lambda tone: -tone.level_db)
    kept: list[ProposedTone] = []
    for tone in groups:
        owner = next((k for k, other in enumerate(kept) if _is_overtone(tone, other)), None)
        if owner is None:
            kept.append(tone)
        else:
            kept[owner] = _with(kept[owner], tone, partials)
    worth = [tone for tone in kept if _is_worth(tone, kept[0])]
    apart = _none_too_low(_with_hidden(worth, partials, found), found)
    judged = _judged(found, apart)
    agreed = [tone for tone in judged if _is_agreed(tone)]
    agreed = [tone for tone in agreed if not _is_double(tone, agreed)]
    if not agreed or len(agreed) == len(judged):
        return tuple(judged)
    return tuple(_judged(found, agreed))


def _judged(found: Spectra, tones: Sequence[ProposedTone]) -> list[ProposedTone]:
    together = judged_together(found, [tone.group.followed for tone in tones])
    return [
        replace(tone, group=replace(tone.group, followed=followed))
        for tone, followed in zip(tones, together, strict=True)
    ]


def _is_double(tone: ProposedTone, tones: Sequence[ProposedTone]) -> bool:
    """Tell whether a tone moves as a stronger one does, or as a harmonic of another one."""
    own = tone.group.followed
    return any(
        (are_one(own, other.group.followed) and other.group.score > tone.group.score)
        or (is_harmonic(own, other.group.followed) and other.level_db > tone.level_db - _LOUDER_DB)
        for other in tones
        if other is not tone
    )


def _is_agreed(tone: ProposedTone) -> bool:
    """Tell whether the harmonics that were followed bear out what the partials proposed."""
    share = share_agreeing(tone.group.followed)
    return share >= _LEAST_SHARE_AGREEING and share * tone.group.score >= _LEAST_AGREED_SCORE


def _with_hidden(
    tones: Sequence[ProposedTone], partials: Sequence[Partial], found: Spectra
) -> list[ProposedTone]:
    """Return tones and those hidden among their harmonics; what is an overtone of these goes."""
    kept = list(tones)
    for one in hidden_tones(found, [tone.group.followed for tone in tones]):
        owner = tones[one.owner]
        group = _every(one.multiple, owner.group, one.followed)
        hidden = ProposedTone(group, _level_db(group, partials))
        if hidden.level_db < tones[0].level_db - FAINTEST_BELOW_DB:
            continue
        kept = [
            tone
            for tone in kept
            if tone is owner
            or tone.level_db > owner.level_db + _LOUDER_DB
            or not _is_overtone(tone, hidden)
        ]
        kept.append(hidden)
    return kept


def _none_too_low(tones: Sequence[ProposedTone], found: Spectra) -> list[ProposedTone]:
    """Return tones at their true height where nothing but multiples of them is their own."""
    followed = [tone.group.followed for tone in tones]
    kept = []
    for place, tone in enumerate(tones):
        others = [*followed[:place], *followed[place + 1 :]]
        multiple = true_multiple(found, tone.group.followed, others)
        if multiple > 1:
            own = tone.group.followed
            higher = follow(found, multiple * own.frequency_hz, own.sounds)
            if any(are_one(higher, other) for other in others):
                continue
            kept.append(replace(tone, group=_every(multiple, tone.group, higher)))
        else:
            kept.append(tone)
    return kept


def _every(multiple: int, owner: HarmonicGroup, followed: Followed) -> HarmonicGroup:
    """Return a multiple of a tone with its share of the partials, the uppermost at least."""
    shared = [(n // multiple, index) for n, index in owner.members if n % multiple == 0]
    members = tuple(shared) or ((1, owner.members[-1][1]),)
    return HarmonicGroup(followed, members, owner.score)


def _level_db(one: HarmonicGroup, partials: Sequence[Partial]) -> float:
    powers = [10 ** (partials[index].level_db / 10) for _, index in one.members]
    return 10 * float(np.log10(sum(powers)))


def _is_overtone(tone: ProposedTone, other: ProposedTone) -> bool:
    """Tell whether a weaker group is rather some harmonics of another that were left over."""
    ratio = tone.group.frequency_hz / other.group.frequency_hz
    number = round(ratio)
    if number == 1:
        return are_one(tone.group.followed, other.group.followed)
    if not 2 <= number <= HARMONICS:
        return False
    misfit = abs(1200 * float(np.log2(ratio / number)))
    unsure = 2 * float(
        np.hypot(uncertainty_cents(tone.group.followed), uncertainty_cents(other.group.followed))
    )
    few = tone.harmonics < _OWN_HARMONICS
    return (
        misfit
        <= (_OVERTONE_CENTS if few or number <= _OFTEN_LEFT_OVER else _SURE_OVERTONE_CENTS) + unsure
    )


def _with(owner: ProposedTone, tone: ProposedTone, partials: Sequence[Partial]) -> ProposedTone:
    """Return a tone with the partials of its overtone; its pitch stays."""
    number = round(tone.group.frequency_hz / owner.group.frequency_hz)
    more = tuple((number * own, index) for own, index in tone.group.members)
    members = tuple(sorted((*owner.group.members, *more)))
    whole = replace(owner.group, members=members)
    return ProposedTone(whole, _level_db(whole, partials))


def _is_worth(tone: ProposedTone, strongest: ProposedTone) -> bool:
    below = strongest.level_db - tone.level_db
    single = tone.harmonics == 1
    if tone.group.score < (_LEAST_SINGLE_SCORE if single else _LEAST_SCORE):
        return False
    return below <= (FAINTEST_SINGLE_BELOW_DB if single else FAINTEST_BELOW_DB)
