"""What is to be heard: sounded tones, and how loud a presence, a mark or a way of playing is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from reedchord.acoustics.synthesis import LOUDEST, SoundedTone, Timbre
from reedchord.dynamics import Dynamic
from reedchord.pitch import Pitch
from reedchord.placement.style import Manner
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Presence

PRESENCE_DB: dict[Presence | None, float | None] = {
    Presence.DOMINANT: 0.0,
    Presence.CLEAR: -6.0,
    Presence.FAINT: -18.0,
    Presence.ABSENT: None,
    None: -6.0,
}
"""Level of a tone by its presence, an assumption; what nobody has said is heard as clear."""
EMPHASIS_DB = 2.5
"""So much louder is the tone that the record itself emphasises, whose presence tells the rest."""
BROUGHT_OUT_DB = 9.0
"""So much louder is another tone that is brought out: a clear one then stands over a dominant."""
DB_PER_MARK = 3.0
"""From one dynamic mark to the next, an assumption."""
FULL_MARK = Dynamic.FF
"""The mark that is played back at the loudest; a louder one is not louder."""
DEFAULT_MARK = Dynamic.MF
SLAP_SECONDS = 0.5
"""A slap has died away by then."""

_FALL_DB_PER_MARK = 0.4
"""So much steeper do the partials fall from one mark to the next softer one."""
_TIMBRES = {
    Manner.ORDINARY: Timbre(),
    Manner.SLAP: Timbre(attack_seconds=0.004, decay_seconds=0.45, breath_db=-34.0, burst_db=2.0),
    Manner.VERY_SOFT: Timbre(
        fall_db=7.0, attack_seconds=0.3, breath_db=-22.0, burst_db=-40.0, partials=6
    ),
}
PLAIN = Timbre(partials=6, fall_db=7.0, attack_seconds=0.03, breath_db=None)
"""How the notes of other parts sound."""


@dataclass(frozen=True)
class Hearing:
    """Sounded tones, how far below the loudest they are played back, and what was assumed."""

    title: str
    tones: tuple[SoundedTone, ...]
    below_loudest_db: float = 0.0
    saxophone: Saxophone | None = None
    """Whose sound another player is asked for."""
    told: tuple[str, ...] = ()

    @property
    def seconds(self) -> float:
        """How long it lasts, until the last tone has died away."""
        return max((tone.end_seconds for tone in self.tones), default=0.0)

    @property
    def peak(self) -> float:
        """Its largest sample, 1 being full scale."""
        return float(LOUDEST * 10 ** (-self.below_loudest_db / 20))


@dataclass(frozen=True)
class Reading:
    """How pitches are read: A4 in Hz, and whether they are rounded to the keyboard."""

    a4_hz: float = 440.0
    is_tempered: bool = False

    def hz(self, concert: Pitch) -> float:
        """Return the frequency of a concert pitch; halfway it is rounded towards its spelling."""
        if self.is_tempered:
            concert = replace(concert, alteration_cents=Fraction(concert.accidental_cents))
        return concert.hz(self.a4_hz)


def mark_db(level: float) -> float:
    """Return how much softer than the fullest mark a level of `dynamics.SCALE` is, 0 or less."""
    return DB_PER_MARK * min(0.0, level - FULL_MARK.level)


def tone_db(
    sonority: Sonority, number: int, dynamic: Dynamic, emphasised: int | None
) -> float | None:
    """Return the level of a tone against a dominant one in dB; None where it is absent.

    `emphasised` is the number of the tone that is brought out, if any.
    """
    level_db = PRESENCE_DB[sonority.tones[number - 1].presence_at(dynamic)]
    if level_db is None or number != emphasised:
        return level_db
    is_own = number == sonority.emphasised_number
    return level_db + (EMPHASIS_DB if is_own else BROUGHT_OUT_DB)


def timbre(manner: Manner, dynamic: Dynamic) -> Timbre:
    """Return how a tone of a sonority is made: the softer, the fewer of its partials are heard."""
    made = _TIMBRES[manner]
    marks_softer = FULL_MARK.level - dynamic.level
    return replace(made, fall_db=made.fall_db + _FALL_DB_PER_MARK * max(0, marks_softer))
