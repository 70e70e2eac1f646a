"""What a set-up got from a sonority, held against what its record says.

Where something was tried, that counts; where nothing was, the record does. Evidence rises
to tried only through a trial in which it spoke, and to measured only where every tone that
came was measured.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from pydantic import ValidationError

from reedchord.collection import Collection
from reedchord.dynamics import SCALE, Dynamic, DynamicRange
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Evidence, Limit, Presence, Tone
from reedchord.trials.heard import Heard, heard_tones
from reedchord.trials.set_ups import SetUpFile
from reedchord.trials.trial_fields import Trial
from reedchord.trials.trials import Trials


@dataclass(frozen=True)
class MeasuredTone:
    """The latest measurement of a tone: its number in the record, None for one that it lacks."""

    number: int | None
    written: Pitch
    uncertainty_cents: float | None
    date: str


@dataclass(frozen=True)
class Tried:
    """A sonority as its record has it, and as one set-up got it.

    `sonority` is the record with all that was tried in it, and `documented` itself where it
    did not speak lately in any way of attack; `heard` are the tones of each trial by number,
    where it ever spoke; `remarks` are sentences on what could not be taken into the record.
    """

    documented: Sonority
    sonority: Sonority
    set_up: SetUpFile
    trials: tuple[Trial, ...]
    heard: tuple[Heard, ...] = ()
    measured: tuple[MeasuredTone, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def furthest_cents(self) -> Fraction:
        """How far from where it is documented a tone was measured, of the one that is furthest."""
        return max(
            (
                abs(one.written.cents - self.documented.written(one.number).cents)
                for one in self.measured
                if one.number is not None
            ),
            default=Fraction(0),
        )

    @property
    def latest(self) -> tuple[Trial, ...]:
        """The trials of the latest day."""
        return tuple(one for one in self.trials if one.date == self.trials[-1].date)

    @property
    def speaks(self) -> bool | None:
        """Whether it spoke lately in any way of attack; None if it was not tried."""
        ways = {one.attack for one in self.trials}
        return any(self.speaks_with(way) for way in ways) if ways else None

    def speaks_with(self, attack: Articulation | None) -> bool | None:
        """Return whether it spoke so on the latest day that tells; None if nobody tried it so.

        A trial that names no way of attack tells of every way.
        """
        if all(one.attack is not attack for one in self.trials):
            return None
        telling = [one for one in self.trials if one.attack in (attack, None)]
        return any(one.outcome.spoke for one in telling if one.date == telling[-1].date)


def as_tried(sonority: Sonority, trials: Trials, *, over_cents: float = 0) -> Tried:
    """Return what was tried of a sonority beside what is documented.

    Measured pitches take the place of documented ones where any lies more than `over_cents`
    away. On the latest day that says something of a tone at a dynamic, that counts; of speeds,
    the fastest that was ever managed.
    """
    mine = trials.of(sonority)
    if not any(one.outcome.spoke for one in mine):
        return Tried(sonority, sonority, trials.set_up, mine)
    heard, remarks = heard_tones(sonority, mine)
    measured = tuple(_measured(mine, heard))
    base = Tried(sonority, sonority, trials.set_up, mine, heard, measured, remarks)
    pitches = _new_pitches(base, over_cents)
    return _with_record(base, pitches) if base.speaks else base


def _with_record(base: Tried, pitches: dict[int, Pitch]) -> Tried:
    """Return what was tried in the record, without what would contradict the rest of it."""
    reason = ""
    for dynamics, taken, left in (
        (True, pitches, ""),
        (True, {}, "what was measured"),
        (False, pitches, "what came at which dynamic"),
        (False, {}, "what was heard and measured"),
    ):
        try:
            record = _record(base, taken, with_dynamics=dynamics)
        except ValidationError as error:
            reason = error.errors()[0]["msg"].splitlines()[0]
            continue
        told = (f"{left} is not taken over: {reason}",) if left else ()
        return replace(base, sonority=record, remarks=(*base.remarks, *told))
    raise AssertionError(reason)  # without what was heard and measured nothing contradicts


@dataclass(frozen=True)
class TriedCollection:
    """A collection as one set-up got it, with what was tried by id."""

    collection: Collection
    tried: Mapping[str, Tried]

    @property
    def silent(self) -> tuple[Tried, ...]:
        """What did not speak lately in any way of attack."""
        return tuple(one for one in self.tried.values() if not one.speaks)

    @property
    def speaking(self) -> Collection:
        """The collection without what did not speak."""
        gone = {one.documented.id for one in self.silent}
        records = {one.id: one for one in self.collection if one.id not in gone}
        return replace(self.collection, sonorities=records)


def tried_collection(collection: Collection, trials: Trials) -> TriedCollection:
    """Return a collection with what one set-up tried in its records."""
    every = {trial.sonority for trial in trials.trials}
    found = {one.id: as_tried(one, trials) for one in collection if one.id in every}
    found = {name: tried for name, tried in found.items() if tried.trials}
    records = {one.id: found[one.id].sonority if one.id in found else one for one in collection}
    origin = f"{collection.origin}, as tried with {trials.set_up.id}"
    return TriedCollection(replace(collection, sonorities=records, origin=origin), found)


def _measured(trials: Sequence[Trial], heard: Sequence[Heard]) -> Iterator[MeasuredTone]:
    latest: dict[int | str | None, MeasuredTone] = {}
    for trial, tones in zip(trials, heard, strict=True):
        numbers = {id(tone): number for number, tone in tones.items()}
        for tone in trial.tones:
            number = numbers.get(id(tone))
            if tone.measured is not None and (number is not None or tone.tone is None):
                key = number if number is not None else tone.measured.printed()
                latest[key] = MeasuredTone(
                    number, tone.measured, tone.uncertainty_cents, trial.date
                )
    yield from sorted(latest.values(), key=lambda one: one.written.cents)


def _new_pitches(tried: Tried, over_cents: float) -> dict[int, Pitch]:
    """Return the measured pitches by tone, none where all lie as near as `over_cents`."""
    if over_cents > 0 and tried.furthest_cents <= over_cents:
        return {}
    return {one.number: one.written for one in tried.measured if one.number is not None}


def _record(tried: Tried, pitches: dict[int, Pitch], *, with_dynamics: bool) -> Sonority:
    """Return the record with what was tried in it; raises ValidationError where it cannot be.

    Without dynamics, those at which it and its tones speak stay as they were, so that the same
    trials are refused by the new record too.
    """
    old = tried.documented
    spoken = _spoken(tried) if with_dynamics else []
    speaks = _dynamics(old, spoken) if with_dynamics else old.dynamics
    tones = tuple(
        Tone(
            written=pitches.get(number, tone.written),
            concert=None if number in pitches else tone.concert,
            presence=_presence(tone, number, spoken, speaks),
        )
        for number, tone in zip(old.numbers, old.tones, strict=True)
    )
    new: dict[str, Any] = {
        **dict(old),
        "tones": tones,
        "emphasised": old.emphasised_number,
        "dynamics": speaks,
        "limits": _limits(old, tried.trials, speaks),
        "evidence": Evidence.MEASURED if _is_measured(tried, tones, pitches) else Evidence.TRIED,
        "set_up": tried.set_up.words(),
    }
    return Sonority(**new)


def _is_measured(tried: Tried, tones: Sequence[Tone], pitches: dict[int, Pitch]) -> bool:
    """Tell whether every tone that came stands as it was measured, now or before."""
    old = tried.documented
    if old.evidence is Evidence.MEASURED and old.set_up == tried.set_up.words():
        return True
    measured = {one.number: one.written.cents for one in tried.measured}
    came = [
        number
        for number, tone in zip(old.numbers, tones, strict=True)
        if number in measured or set(tone.presence.values()) != {Presence.ABSENT}
    ]
    return all(
        measured.get(number) == pitches.get(number, old.written(number)).cents for number in came
    )


_Spoken = Sequence[tuple[Trial, Heard]]


def _spoken(tried: Tried) -> _Spoken:
    every = zip(tried.trials, tried.heard, strict=True)
    return [(trial, tones) for trial, tones in every if trial.outcome.spoke]


def _tried_marks(trial: Trial) -> set[Dynamic]:
    """Return the dynamics at which somebody listened."""
    said = set(trial.dynamics.marks()) if trial.dynamics else set[Dynamic]()
    return said | {Dynamic(mark) for tone in trial.tones for mark in tone.marks}


def _presence(
    old: Tone, number: int, spoken: _Spoken, speaks: DynamicRange | None
) -> dict[Dynamic, Presence]:
    """Return presence by mark; how prominent a tone is that was said to be absent, is unknown.

    A trial that names no dynamics counts for all at which it speaks, whichever trial found them:
    so the same trials say the same of a record that has them already.
    """
    everywhere = speaks.marks() if speaks else SCALE
    presence: dict[Dynamic, Presence] = dict(old.presence)
    for trial, tones in spoken:
        tone = tones.get(number)
        if tone is None or (tone.came and tone.came_at is None):
            continue
        for mark in _tried_marks(trial) or everywhere:
            if mark not in tone.marks:
                presence[mark] = Presence.ABSENT
            elif presence.get(mark) is Presence.ABSENT:
                del presence[mark]
    return {mark: presence[mark] for mark in SCALE if mark in presence}


def _dynamics(old: Sonority, spoken: _Spoken) -> DynamicRange | None:
    """Return the dynamics at which it speaks: where it was tried by that, elsewhere as said."""
    speaks = old.possible_dynamics()
    marks = set(speaks.marks()) if speaks else set[Dynamic]()
    for trial, tones in spoken:
        came = {Dynamic(mark) for tone in tones.values() for mark in tone.marks}
        marks |= came or _tried_marks(trial)
        if came and tones.keys() >= set(old.numbers):
            marks -= _tried_marks(trial) - came
        marks |= {mark for one in trial.limits if one.dynamics for mark in one.dynamics.marks()}
    if not marks:
        return old.dynamics
    return DynamicRange(min(marks, key=SCALE.index), max(marks, key=SCALE.index))


def _limits(
    old: Sonority, trials: Sequence[Trial], speaks: DynamicRange | None
) -> tuple[Limit, ...]:
    """Return the fastest that was managed in each way, and the documented limits of others."""
    best: dict[str, Limit] = {}
    for limit in (limit for trial in trials for limit in trial.limits):
        there = best.get(limit.articulation)
        if there is None or limit.fastest.attacks_per_second > there.fastest.attacks_per_second:
            best[limit.articulation] = limit
    kept = [best.pop(limit.articulation, limit) for limit in old.limits]
    within = [_within(limit, speaks) for limit in (*kept, *best.values())]
    return tuple(limit for limit in within if limit is not None)


def _within(limit: Limit, speaks: DynamicRange | None) -> Limit | None:
    """Return a limit for the dynamics at which it speaks, None where there is none left."""
    if limit.dynamics is None or speaks is None:
        return limit
    left = [mark for mark in limit.dynamics.marks() if mark in speaks]
    return limit.model_copy(update={"dynamics": DynamicRange(left[0], left[-1])}) if left else None
