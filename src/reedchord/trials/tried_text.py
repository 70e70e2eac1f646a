"""What was tried beside what was documented, as text for people and as plain data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from reedchord.numbers_as_text import decimal_text
from reedchord.pitch import signed_cents_text
from reedchord.sonority import Sonority
from reedchord.trials.doubts import far_off
from reedchord.trials.trials import Trials
from reedchord.trials.tried import MeasuredTone, Tried, as_tried
from reedchord.wording import presence_told


@dataclass(frozen=True)
class Difference:
    """One thing that was found otherwise than documented."""

    what: str
    documented: str
    tried: str

    def words(self, where: str = "documented") -> str:
        """Return both sides in one clause; `where` tells where the other side stands."""
        return f"{self.what}: {self.tried}; {where} {self.documented}"


def tried_words(tried: Tried) -> str:
    """Return in one line how often it spoke, and what came of the latest day."""
    spoke = sum(one.outcome.spoke for one in tried.trials)
    last = "; ".join(
        f"{one.outcome}{f', {one.attack}' if one.attack else ''}" for one in tried.latest
    )
    trials = "trial" if len(tried.trials) == 1 else "trials"
    counted = f"spoke in {spoke} of {len(tried.trials)} {trials}"
    return f"{counted}; {tried.latest[0].date}: {last} ({tried.set_up.id})"


def trial_lines(tried: Tried) -> list[str]:
    """Return one line for each trial, the latest first, with remarks and takes."""
    return [
        "; ".join(
            part
            for part in (
                f"{one.date}: {one.outcome}",
                f"{one.attack}" if one.attack else "",
                f"tried at {one.dynamics}" if one.dynamics else "",
                *(limit.words() for limit in one.limits),
                one.remarks or "",
                f"takes: {', '.join(one.takes)}" if one.takes else "",
            )
            if part
        )
        for one in reversed(tried.trials)
    ]


def differences(tried: Tried, *, over_cents: float | None = None) -> tuple[Difference, ...]:
    """Return what was found otherwise than documented, tones first.

    With `over_cents`, measured pitches count only where any lies further away than that.
    """
    old, new = tried.documented, tried.sonority
    measured = {one.number: one for one in tried.measured if one.number is not None}
    if over_cents is not None and tried.furthest_cents <= over_cents:
        measured = {}
    return (
        *_tones(tried, measured),
        *_changed("speaks at", old.possible_dynamics(), new.possible_dynamics()),
        *_limits(old, new),
        *_changed("evidence", old.evidence, new.evidence),
    )


def extra_tones(tried: Tried) -> list[str]:
    """Return sentences on measured tones that the record does not have."""
    return [
        f"{one.written.printed()} was measured{_how_sure(one)}, and the record has no such tone"
        for one in tried.measured
        if one.number is None
    ]


def doubts(tried: Tried) -> list[str]:
    """Return sentences on what is to be looked at again, and on what was not taken over."""
    far = [
        sentence
        for one in tried.measured
        if one.number is not None
        for sentence in far_off(tried.documented, one.number, one.written)
    ]
    return [*extra_tones(tried), *far, *tried.remarks]


def tried_rows(tried: Tried) -> list[tuple[str, str]]:
    """Return pairs of a heading and its words: what came of it, and what differs."""
    rows = [("Tried", tried_words(tried))] if tried.trials else []
    rows += [("Differs", one.words()) for one in differences(tried)]
    return rows + [("Mind", words) for words in doubts(tried)]


def shown_as_tried(
    sonority: Sonority, trials: Trials | None
) -> tuple[Sonority, tuple[tuple[str, str], ...]]:
    """Return a sonority as a set-up got it, and rows that tell what was tried of it, if any."""
    tried = as_tried(sonority, trials) if trials else None
    if tried is None or not tried.trials:
        return sonority, ()
    return tried.sonority, tuple(tried_rows(tried))


def _tones(tried: Tried, measured: Mapping[int, MeasuredTone]) -> Iterator[Difference]:
    old, new = tried.documented, tried.sonority
    for number in old.numbers:
        name, one = f"tone {number}", measured.get(number)
        if one is not None:
            gap = one.written.cents - old.written(number).cents
            told = f"measured {one.written.printed()}{_how_sure(one)}, {_by(gap)}"
            yield Difference(name, old.written(number).printed(), told)
        before, after = (presence_told(s.tones[number - 1]) for s in (old, new))
        yield from _changed(f"{name} presence", before, after)


def _by(gap: Any) -> str:
    return f"{signed_cents_text(gap).replace('-', '−')} cents" if gap else "the same"


def _how_sure(one: MeasuredTone) -> str:
    return "" if one.uncertainty_cents is None else f" ±{one.uncertainty_cents:g}¢"


def _limits(old: Sonority, new: Sonority) -> Iterator[Difference]:
    before = {limit.articulation: limit for limit in old.limits}
    for limit in new.limits:
        said = before.get(limit.articulation)
        if limit != said:
            documented = said.words() if said else "nothing"
            a_second = decimal_text(round(limit.fastest.attacks_per_second, 1))
            told = f"{limit.words()} ({a_second} attacks a second)"
            yield Difference("limit", documented, told)


def _changed(what: str, before: object, after: object) -> Iterator[Difference]:
    if before != after:
        yield Difference(what, str(before or "not known"), str(after or "not known"))
