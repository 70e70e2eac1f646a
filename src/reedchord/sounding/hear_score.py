"""Bars of a score as sound: sonorities at their true pitch, everything else as plain tones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import groupby

from reedchord.acoustics.synthesis import SoundedTone
from reedchord.ensemble.ensemble_sounds import places_of
from reedchord.errors import RequestError
from reedchord.musicxml.document import Part, Score, read_score
from reedchord.pages.excerpt import bar_ranges, parts_named
from reedchord.placement.record import read_record
from reedchord.placement.standing import StandingPlacement, standing_placements
from reedchord.placement.style import Manner
from reedchord.score_time.playing_order import played_bars
from reedchord.score_time.tempo import TempoMap, tempo_map
from reedchord.score_time.whole_score import WholeScore, whole_score
from reedchord.sounding.heard_levels import SILENT_DB, Levels, Loudness
from reedchord.sounding.heard_notes import HeardNote, heard_notes
from reedchord.sounding.hearing import PLAIN, SLAP_SECONDS, Hearing, Reading, timbre


@dataclass(frozen=True)
class ScoreWish:
    """What of a score is to be heard: bars and parts as text, all where they are left out."""

    bars: str | None = None
    parts: Sequence[str] = ()
    alone: bool = False
    """Only the sonorities, without any other note."""
    repeats: bool = False
    reading: Reading = field(default_factory=Reading)


@dataclass(frozen=True)
class _Run:
    """Bars that follow each other: from where to where in quarters, and when in seconds."""

    start: Fraction
    end: Fraction
    onset_seconds: float


@dataclass(frozen=True)
class _Time:
    """The runs in the order in which they are played, and the tempo of the score."""

    tempo: TempoMap
    runs: tuple[_Run, ...]

    def played(self, start: Fraction, end: Fraction) -> Iterator[tuple[float, Fraction, Fraction]]:
        """Yield when in seconds a span is played each time, and what of it, in quarters."""
        for run in self.runs:
            begin, stop = max(start, run.start), min(end, run.end)
            if begin < stop:
                yield run.onset_seconds + self.seconds(run.start, begin), begin, stop

    def seconds(self, start: Fraction, end: Fraction) -> float:
        """Return how long a span lasts."""
        return self.tempo.seconds_between(start, end)


def hear_score(data: bytes, wish: ScoreWish) -> Hearing:
    """Return the tones of a score as they are heard, repeats only where they are wished.

    Raises RequestError where nothing sounds, and InputError where the score cannot be read in
    time.
    """
    score = read_score(data)
    standing = _standing(score, needed=wish.alone)
    parts = parts_named(score, wish.parts)
    whole = whole_score(score)
    tempo = tempo_map(whole)
    time = _Time(tempo, tuple(_runs(whole, tempo, _bars(whole, parts, wish))))
    levels, places = Levels(whole), places_of(standing)
    tones = [
        tone
        for music in whole.parts
        if music.part in parts
        for note in heard_notes(whole, music, tempo, places)
        if note.sound.placement is not None or not wish.alone
        for tone in _tones(note, time, levels, wish.reading)
    ]
    if not tones:
        raise _nothing(parts, wish)
    told = [*tempo.assumptions, *levels.told(), *_not_heard(standing)]
    if not standing:
        told.insert(0, "no sonority stands in the score: all notes are plain tones")
    saxophone = standing[0].sonority.saxophone if standing else None
    tones.sort(key=lambda tone: (tone.onset_seconds, tone.frequency_hz))
    return Hearing(score.title or "Score", tuple(tones), saxophone=saxophone, told=tuple(told))


def _standing(score: Score, *, needed: bool) -> tuple[StandingPlacement, ...]:
    """Return the placements of a score; where none is needed it may have none."""
    if not needed and read_record(score) is None:
        return ()
    return standing_placements(score)


def _bars(whole: WholeScore, parts: Sequence[Part], wish: ScoreWish) -> list[int]:
    """Return the indices of the bars in the order in which they are heard."""
    if wish.bars is None:
        return played_bars(whole) if wish.repeats else list(range(whole.bar_count))
    wanted = [
        index
        for bars in bar_ranges(wish.bars, parts[0])
        for index in range(bars.first, bars.last + 1)
    ]
    return [bar for bar in played_bars(whole) if bar in set(wanted)] if wish.repeats else wanted


def _runs(whole: WholeScore, tempo: TempoMap, bars: Sequence[int]) -> Iterator[_Run]:
    """Yield bars that follow each other as one run, so that notes sound on over barlines."""
    onset_seconds = 0.0
    for _, group in groupby(enumerate(bars), key=lambda entry: entry[1] - entry[0]):
        run = [bar for _, bar in group]
        start, end = whole.bar_starts[run[0]], whole.bar_starts[run[-1] + 1]
        yield _Run(start, end, onset_seconds)
        onset_seconds += tempo.seconds_between(start, end)


def _tones(note: HeardNote, time: _Time, levels: Levels, reading: Reading) -> Iterator[SoundedTone]:
    sound = note.sound
    manner = sound.placement.row.wish.manner if sound.placement else Manner.ORDINARY
    for start, end in note.spans:
        for onset_seconds, begin, stop in time.played(start, end):
            loudness = levels.of(sound, begin, stop)
            if loudness.loudest_db is None:
                continue
            seconds = time.seconds(begin, stop)
            yield SoundedTone(
                reading.hz(sound.concert),
                onset_seconds,
                min(seconds, SLAP_SECONDS) if manner is Manner.SLAP else seconds,
                loudness.loudest_db,
                timbre(manner, loudness.mark) if sound.placement else PLAIN,
                tuple(_course(loudness, time)),
            )


def _course(loudness: Loudness, time: _Time) -> Iterator[tuple[float, float]]:
    """Yield seconds after the onset and dB below the loudest, where the level changes."""
    loudest_db = loudness.loudest_db
    first = loudness.levels_db[0][0]
    if loudest_db is None or all(one == loudest_db for _, one in loudness.levels_db):
        return
    for moment, level_db in loudness.levels_db:
        heard_db = SILENT_DB if level_db is None else level_db - loudest_db
        yield time.seconds(first, moment), heard_db


def _not_heard(standing: Sequence[StandingPlacement]) -> Iterator[str]:
    for one in standing:
        if one.row.wish.grace is not None:
            yield f"{one.words}: it is a grace note, and those are not heard"


def _nothing(parts: Sequence[Part], wish: ScoreWish) -> RequestError:
    where = f"bars {wish.bars} of " if wish.bars else ""
    what = "no sonority" if wish.alone else "no note"
    return RequestError(
        "hear.nothing",
        f"{what} sounds in {where}{', '.join(map(str, parts))}",
        hint="Name other bars or parts" + (", or leave --alone out." if wish.alone else "."),
    )
