"""From the bytes of a score to all that the rules find in it."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from fractions import Fraction

from reedchord.checks.alternatives import alternatives
from reedchord.checks.checked_score import CheckedScore, Turn
from reedchord.checks.finding import Finding, Remedy, Severity, Spot
from reedchord.checks.reading import checked_score
from reedchord.checks.rule import Rule
from reedchord.checks.rules import hard_change
from reedchord.checks.table import RULES
from reedchord.collection import Collection
from reedchord.musicxml.document import read_score
from reedchord.trials.trials import Trials


@dataclass(frozen=True)
class Conditions:
    """What to check by: rules by their codes, and what the user says of the score.

    `select` None takes all rules; `assumed_tempo`, in quarters per minute, holds where no
    tempo is marked; `trials` are a player's set-up and what it got.
    """

    select: frozenset[str] | None = None
    ignore: frozenset[str] = frozenset()
    for_performance: bool = False
    assumed_tempo: Fraction | None = None
    trials: Trials | None = None

    def asks_for(self, rule: Rule) -> bool:
        """Whether a rule is to be held against the score."""
        if rule.code in self.ignore or (self.select is not None and rule.code not in self.select):
            return False
        return self.for_performance or not rule.performance_only


@dataclass(frozen=True)
class Report:
    """What was found in a score, in the order of its bars."""

    findings: tuple[Finding, ...]
    checked: CheckedScore = field(repr=False)

    def worst(self) -> Severity | None:
        """Return the worst severity of all findings, None where there are none."""
        return min((one.severity for one in self.findings), key=_rank, default=None)


def _rank(severity: Severity) -> int:
    return severity.rank


def check(
    data: bytes, collection: Collection | None = None, conditions: Conditions | None = None
) -> Report:
    """Hold the bytes of a MusicXML document against all rules.

    Remedies that exchange a sonority come from the collection. Raises InputError where the
    document cannot be read.
    """
    wanted = conditions or Conditions()
    with _nothing_thrown_away():
        score = read_score(data)
        checked = checked_score(
            score, collection, assumed_tempo=wanted.assumed_tempo, trials=wanted.trials
        )
        rules = [rule for rule in RULES if wanted.asks_for(rule)]
        found = [(rule, finding) for rule in rules for finding in rule.findings(checked)]
        with_swaps = _with_alternatives(checked, found)
        return Report(tuple(sorted(with_swaps, key=_Order(checked))), checked)


@contextmanager
def _nothing_thrown_away() -> Iterator[None]:
    """Hold the garbage collector while a score is checked.

    All that is made is kept to the end, and looking through it again and again takes a fifth
    of the time (`tests/benchmarks`).
    """
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_enabled:
            gc.enable()


class _Order:
    """Sorts findings as the score is read: by bar, part, beat; then as the rules stand."""

    def __init__(self, checked: CheckedScore) -> None:
        parts = [part.music.part.id for part in checked.parts]
        self._parts = {name: number for number, name in enumerate(parts)}

    def __call__(self, finding: Finding) -> tuple[int, int, Fraction]:
        spot = finding.spot
        bar = -1 if spot.bar_index is None else spot.bar_index
        part = self._parts.get(spot.part_id or "", -1)
        return bar, part, Fraction(spot.onset_quarters or 0)


def _with_alternatives(checked: CheckedScore, found: list[tuple[Rule, Finding]]) -> list[Finding]:
    """Add the sonorities that could stand there instead; each place is searched once."""
    if checked.collection is None:
        return [finding for _, finding in found]
    swaps = _Swaps(checked)
    return [
        replace(finding, remedies=(*finding.remedies, *swaps.for_finding(rule, finding)))
        for rule, finding in found
    ]


class _Swaps:
    """Alternatives for places, each searched once."""

    def __init__(self, checked: CheckedScore) -> None:
        self._turns = {turn.here.spot: turn for turn in checked.turns}
        self._known: dict[Spot, tuple[Remedy, ...]] = {}

    def for_finding(self, rule: Rule, finding: Finding) -> Iterator[Remedy]:
        """Yield what could stand at a finding's place; of a change, also at the place before."""
        turn = self._turns.get(finding.spot) if rule.swappable else None
        if turn is None:
            return
        yield from self._at(turn)
        if rule is hard_change.RULE and turn.before is not None:
            before = turn.before
            for remedy in self._at(self._turns[before.spot]):
                words = f"in place of {before.name} before it: {remedy.words}"
                yield replace(remedy, words=words, spot=before.spot)

    def _at(self, turn: Turn) -> tuple[Remedy, ...]:
        spot = turn.here.spot
        if spot not in self._known:
            self._known[spot] = alternatives(turn)
        return self._known[spot]
