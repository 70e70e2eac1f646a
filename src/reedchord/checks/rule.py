"""What a rule is: its code, what it looks for, and how it looks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from reedchord.checks.checked_score import CheckedScore, Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Finding, Remedy, Severity, Spot

About = Callable[[Turn], Iterator["Problem"]]
Throughout = Callable[[CheckedScore], Iterator["Problem"]]


@dataclass(frozen=True)
class Problem:
    """A finding before its rule gives it a code and a severity."""

    sentence: str
    spot: Spot
    remedies: tuple[Remedy, ...] = ()


@dataclass(frozen=True)
class Rule:
    """One rule: it looks at one placement at a time (`about`), or at the score (`throughout`).

    `summary` says in one sentence what is found. `swappable` tells that another sonority in
    the same place may mend it. `performance_only` rules hold for scores meant for performance.
    """

    code: str
    severity: Severity
    summary: str
    about: About | None = None
    throughout: Throughout | None = None
    swappable: bool = False
    performance_only: bool = False
    passes: tuple[Example, ...] = ()
    fails: tuple[Example, ...] = ()

    def at(self, turn: Turn) -> list[Finding]:
        """Return what a rule about single placements finds at one."""
        return [self.finding(one) for one in self.about(turn)] if self.about else []

    def findings(self, checked: CheckedScore) -> list[Finding]:
        """Return all that the rule finds in a score."""
        if self.about is not None:
            return [finding for turn in checked.turns for finding in self.at(turn)]
        assert self.throughout is not None  # a rule looks at one or the other
        return [self.finding(one) for one in self.throughout(checked)]

    def finding(self, problem: Problem) -> Finding:
        """Return a problem under this rule's code."""
        return Finding(self.code, self.severity, problem.sentence, problem.spot, problem.remedies)
