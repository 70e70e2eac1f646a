"""How loud each note of a score is heard: by the dynamics in force, and by a tone's presence."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from reedchord.dynamics import SCALE, Dynamic
from reedchord.ensemble.ensemble_sounds import Sound
from reedchord.placement.standing import StandingPlacement, places_named, tones_named
from reedchord.placement.style import Manner
from reedchord.score_time.dynamic_line import ACCENT_LEVELS, DynamicLine, dynamic_line
from reedchord.score_time.whole_score import WholeScore
from reedchord.sounding.hearing import DEFAULT_MARK, mark_db, tone_db

PLAIN_DB = -6.0
"""A plain note is as loud as a clear tone."""
SILENT_DB = -70.0
"""Level of an absent tone that comes in later."""
_SAMPLES = 8
"""Into so many pieces a note is divided whose dynamic changes."""


@dataclass(frozen=True)
class Loudness:
    """The mark at which a note begins, and its level in dB at moments in quarter notes.

    One moment alone means that the level stays; None that nothing is heard.
    """

    mark: Dynamic
    levels_db: tuple[tuple[Fraction, float | None], ...]

    @property
    def loudest_db(self) -> float | None:
        """The highest level, None where it is never heard."""
        return max((one for _, one in self.levels_db if one is not None), default=None)


class Levels:
    """Levels of the notes of one score; keeps what had to be assumed."""

    def __init__(self, whole: WholeScore) -> None:
        self._whole = whole
        self._lines: dict[tuple[str, str, str], DynamicLine] = {}
        self._unmarked: dict[str, None] = {}
        self._unsaid: dict[tuple[str, Dynamic], set[int]] = {}
        self._absent: dict[tuple[str, Dynamic], set[int]] = {}
        self._absent_at: dict[tuple[str, Dynamic], dict[int, StandingPlacement]] = {}

    def of(self, sound: Sound, start: Fraction, end: Fraction) -> Loudness:
        """Return how loud a note is from `start` to `end`, in quarter notes."""
        line = self._line(sound)
        is_changing = line.changes_between(start, end)
        step = (end - start) / _SAMPLES
        moments = [start + n * step for n in range(_SAMPLES + 1)] if is_changing else [start]
        levels = [self._level(line, sound, moment, start) for moment in moments]
        levels_db = [self._level_db(sound, level) for level in levels]
        return Loudness(nearest_mark(levels[0]), tuple(zip(moments, levels_db, strict=True)))

    def told(self) -> Iterator[str]:
        """Yield what was assumed, and which tones are not heard, as sentences."""
        for part in self._unmarked:
            yield f"{part}: where no dynamic is marked yet, {DEFAULT_MARK} is assumed"
        for (name, mark), numbers in self._unsaid.items():
            verb = "is" if len(numbers) == 1 else "are"
            yield (
                f"nobody has said how prominent {tones_named(sorted(numbers))} of {name} "
                f"{verb} at {mark}: heard as clear"
            )
        for (name, mark), numbers in self._absent.items():
            verb = "is" if len(numbers) == 1 else "are"
            yield (
                f"{tones_named(sorted(numbers))} of {name} {verb} absent at {mark}, and not heard: "
                f"{places_named(self._absent_at[name, mark].values())}"
            )

    def _line(self, sound: Sound) -> DynamicLine:
        key = sound.part.id, sound.staff, sound.voice
        if key not in self._lines:
            music = self._whole.part(sound.part.id)
            self._lines[key] = dynamic_line(self._whole, music, sound.staff, sound.voice)
        return self._lines[key]

    def _level(self, line: DynamicLine, sound: Sound, moment: Fraction, start: Fraction) -> float:
        level = line.beginnings.get(moment) if moment == start else None
        level = level if level is not None else line.level(moment)
        if level is None:
            self._unmarked[str(sound.part)] = None
            level = Fraction(DEFAULT_MARK.level)
        heard = float(level) + (ACCENT_LEVELS if sound.onset_quarters in line.accents else 0)
        if sound.placement and sound.placement.row.wish.manner is Manner.VERY_SOFT:
            possible = sound.placement.sonority.possible_dynamics()
            heard = min(heard, possible.softest.level if possible else Dynamic.PP.level)
        return heard

    def _level_db(self, sound: Sound, level: float) -> float | None:
        placement, number = sound.placement, sound.tone
        if placement is None or number is None:
            return mark_db(level) + PLAIN_DB
        mark = nearest_mark(level)
        if placement.sonority.tones[number - 1].presence_at(mark) is None:
            self._unsaid.setdefault((placement.sonority.id, mark), set()).add(number)
        own_db = tone_db(placement.sonority, number, mark, placement.row.emphasised)
        if own_db is None:
            key = placement.sonority.id, mark
            self._absent.setdefault(key, set()).add(number)
            self._absent_at.setdefault(key, {})[placement.row.number] = placement
            return None
        return mark_db(level) + own_db


def nearest_mark(level: float) -> Dynamic:
    """Return the mark nearest to a level of the scale, halfway the softer."""
    return SCALE[min(len(SCALE) - 1, max(0, math.ceil(level - 0.5)))]
