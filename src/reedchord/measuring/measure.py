"""A take measured: partials, proposed tones, their presence in time and by loudness."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.courses import heard, loudness_bands, onset_seconds
from reedchord.acoustics.partials import Partial, find_partials
from reedchord.acoustics.proposal import ProposedTone, propose
from reedchord.acoustics.sound_reading import Sound
from reedchord.acoustics.spectrum import (
    WINDOW_SECONDS,
    Reals,
    Spectra,
    spectra,
)
from reedchord.acoustics.together import uncertainty_cents
from reedchord.measuring.measurement import (
    METHOD_CENTS,
    SURE_TO,
    Band,
    MeasuredPartial,
    MeasuredTone,
    Measurement,
)
from reedchord.measuring.take_remarks import doubt_about, lowest_hz, remarks
from reedchord.saxophones import Saxophone
from reedchord.sonority_fields import Presence

WINDOWS_A_TAKE = 3
PRESENT_FROM_DB = ((-3.0, Presence.DOMINANT), (-12.0, Presence.CLEAR), (-30.0, Presence.FAINT))
"""Against the loudest tone of the band; half-way between the levels at which `hear` sounds them."""
_HEARD_SHARE = 0.4
"""A tone is present in a band where it is heard for so much of it."""
_COVERED_DB = (30.0, 10.0)
"""A partial tells when its tone sounds where no neighbour reaches it; else the next best do."""
_TELLING_PARTIALS = 5
_TOGETHER_SECONDS = 0.12
BAND_NAMES = {1: ("as played",), 3: ("soft third", "middle third", "loud third")}


def measure(
    sound: Sound, *, saxophone: Saxophone | None = None, a4_hz: float = 440.0
) -> Measurement:
    """Measure one take; everything is proposed and nothing decided.

    A take without any tone gives a measurement without tones, and remarks that say why.
    """
    window = min(WINDOW_SECONDS, sound.seconds / WINDOWS_A_TAKE)
    found = spectra(sound.samples, sound.rate_hz, window)
    partials = find_partials(found)
    proposed = sorted(propose(partials, found), key=lambda tone: tone.group.frequency_hz)
    taken = _Take(found, partials, proposed, lowest_hz(saxophone, a4_hz))
    tones = tuple(taken.tone(number) for number in range(1, len(proposed) + 1))
    whole = Measurement(
        name=sound.name,
        seconds=sound.seconds,
        rate_hz=sound.rate_hz,
        a4_hz=a4_hz,
        saxophone=saxophone,
        tones=tones,
        partials=_measured_partials(partials, proposed),
        bands=taken.bands,
        entries=_entries(tones),
        signal_to_noise_db=taken.signal_to_noise_db,
        remarks=(),
        spectra=found,
    )
    return Measurement(**{**vars(whole), "remarks": remarks(sound, whole, window)})


class _Take:
    """What the tones of one take share: frames, noise and bands."""

    def __init__(
        self,
        found: Spectra,
        partials: Sequence[Partial],
        proposed: Sequence[ProposedTone],
        lowest_hz: float,
    ) -> None:
        self._found, self._partials, self._proposed = found, partials, proposed
        self._total = np.sum(found.power, axis=1)
        self._powers = [self._own_powers(tone) for tone in proposed]
        self._loudest = max((float(np.max(powers)) for powers in self._powers), default=0.0)
        self._heard = [
            heard(powers, self._noise(tone), self._loudest)
            for tone, powers in zip(proposed, self._powers, strict=True)
        ]
        self._doubts = [
            doubt_about(tone.group.frequency_hz, lowest_hz, is_heard, self._total)
            for tone, is_heard in zip(proposed, self._heard, strict=True)
        ]
        trusted = [number for number, doubt in enumerate(self._doubts) if doubt is None]
        self._trusted = trusted or list(range(len(proposed)))
        self._frames: list[NDArray[np.bool_]] = []
        edges = np.zeros(0)
        if proposed:
            total = np.sum([self._powers[number] for number in self._trusted], axis=0)
            self._frames, edges = loudness_bands(total, found.hop_seconds)
        names = BAND_NAMES.get(len(self._frames), ())
        self.bands = tuple(
            Band(name, low, high, int(np.sum(frames)) * found.hop_seconds)
            for name, frames, (low, high) in zip(
                names, self._frames, pairwise(edges.tolist()), strict=True
            )
        )

    @property
    def signal_to_noise_db(self) -> float | None:
        """How far all tones together lie above the noise up to 10 kHz, None without tones."""
        if not self._proposed:
            return None
        signal = float(np.sum(self._powers)) / 2
        # A sine of amplitude 1 has power 1/2; noise fills two columns' worth for each column
        # of the unpadded transform (Blackman-Harris: noise bandwidth 2.0, from memory).
        columns = self._found.bin_hz * self._found.window_seconds / 2.0
        noise = float(np.sum(self._found.noise)) * len(self._total) * columns / 2
        return 10 * float(np.log10(signal / max(noise, signal * 1e-8)))

    def _own_powers(self, tone: ProposedTone) -> Reals:
        """Return the power of a tone by frame, as most of its clear strong partials have it.

        The median of their courses, each against its own level, is brought up to the level of
        the whole tone, so that one partial in which another tone leaks does not count.
        """
        own = {index for _, index in tone.group.members}
        clear = next(
            (kept for level_db in _COVERED_DB if (kept := self._clear(own, level_db))), list(own)
        )
        strongest = sorted(clear)[:_TELLING_PARTIALS]
        courses = [
            self._partials[index].powers / 10 ** (self._partials[index].level_db / 10)
            for index in strongest
        ]
        whole = sum(10 ** (self._partials[index].level_db / 10) for index in own)
        return np.asarray(whole * np.median(courses, axis=0), dtype=np.float64)

    def _clear(self, own: set[int], below_db: float) -> list[int]:
        """Return the partials beside which no other stands that is weaker by less than this."""
        mine = np.array(sorted(own))
        others = np.setdiff1d(np.arange(len(self._partials)), mine)
        hz = np.array([one.frequency_hz for one in self._partials])
        level = np.array([one.level_db for one in self._partials])
        is_near = np.abs(hz[others][None, :] - hz[mine][:, None]) < self._found.lobe_hz
        is_loud = level[others][None, :] > level[mine][:, None] - below_db
        covered = np.any(is_near & is_loud, axis=1)
        return [int(index) for index in mine[~covered]]

    def _noise(self, tone: ProposedTone) -> float:
        """Return the power of the noise under the partials of a tone."""
        own = [self._partials[index] for _, index in tone.group.members]
        return sum(10 ** ((one.level_db - one.above_noise_db) / 10) for one in own)

    def tone(self, number: int) -> MeasuredTone:
        """Return a proposed tone with what its frames tell."""
        proposed, is_heard = self._proposed[number - 1], self._heard[number - 1]
        group, found = proposed.group, self._found
        hop = found.hop_seconds
        onset = onset_seconds(self._powers[number - 1], is_heard, found.times_seconds, hop)
        has_entered = found.times_seconds >= onset - hop
        is_heard = is_heard & has_entered
        # Where loudness tells nothing apart, a tone that enters late is not the less present.
        told = has_entered if len(self._frames) == 1 else np.ones_like(has_entered)
        heights = np.where(is_heard, 2 ** (group.followed.course_cents / 1200), 0.0)
        loudest = max(self._proposed[number].level_db for number in self._trusted)
        return MeasuredTone(
            number=number,
            frequency_hz=group.frequency_hz,
            uncertainty_cents=SURE_TO * uncertainty_cents(group.followed) + METHOD_CENTS,
            wander_cents=group.followed.wander_cents,
            level_db=proposed.level_db - loudest,
            partials=tuple(index + 1 for _, index in group.members),
            onset_seconds=onset,
            heard_seconds=min(int(np.sum(is_heard)) * hop, found.seconds),
            presence=tuple(self._presence(number, frames & told) for frames in self._frames),
            heights_hz=tuple(float(hz) or None for hz in heights),
            doubt=self._doubts[number - 1],
        )

    def _presence(self, number: int, frames: NDArray[np.bool_]) -> Presence:
        if not np.any(frames) or np.mean(self._heard[number - 1][frames]) < _HEARD_SHARE:
            return Presence.ABSENT
        means = [float(np.mean(powers[frames])) for powers in self._powers]
        loudest = max(means[other] for other in self._trusted)
        below_db = 10 * float(np.log10(means[number - 1] / loudest))
        return next((word for least, word in PRESENT_FROM_DB if below_db >= least), Presence.ABSENT)


def _measured_partials(
    partials: Sequence[Partial], proposed: Sequence[ProposedTone]
) -> tuple[MeasuredPartial, ...]:
    owners = {
        index: (number, harmonic)
        for number, tone in enumerate(proposed, 1)
        for harmonic, index in tone.group.members
    }
    return tuple(
        MeasuredPartial(
            index + 1,
            one.frequency_hz,
            SURE_TO * one.uncertainty_cents + METHOD_CENTS,
            one.level_db - partials[0].level_db,
            one.above_noise_db,
            *owners.get(index, (None, None)),
        )
        for index, one in enumerate(partials)
    )


def _entries(tones: Sequence[MeasuredTone]) -> tuple[tuple[int, ...], ...]:
    """Return the tones in order of entry, those that enter together in one group.

    Tones that may be none, such as hum, are left out.
    """
    groups: list[list[MeasuredTone]] = []
    certain = [tone for tone in tones if tone.doubt is None]
    for tone in sorted(certain, key=lambda one: one.onset_seconds):
        if groups and tone.onset_seconds - groups[-1][-1].onset_seconds <= _TOGETHER_SECONDS:
            groups[-1].append(tone)
        else:
            groups.append([tone])
    return tuple(tuple(tone.number for tone in group) for group in groups)
