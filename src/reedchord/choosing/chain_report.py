"""A chain as text for people and as plain data for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from math import isinf
from typing import Any

from reedchord.choosing.chain import Chain, Sequenced, Step
from reedchord.choosing.chain_reasons import Change, PassedOver, seconds_text
from reedchord.choosing.neighbours_report import change_data
from reedchord.choosing.search_report import judged_data, judged_lines, wrapped
from reedchord.text_table import WIDTH

ONLY_A_TRIAL = (
    "Costs and times are ours (common practice, no source); embouchure, air and tongue are known "
    "only where a record tells, and a trial has the last word."
)


def chain_text(chain: Chain) -> str:
    """Return the best sequence wish by wish, with what was traded, then the next best ones."""
    best = chain.best[0]
    lines = [_head(chain), *_not_met(best), *_traded(best)]
    for step in best.steps:
        lines += ["", *_step_lines(step, best)]
    if len(chain.best) > 1:
        lines += ["", "Next best"]
    for number, other in enumerate(chain.best[1:], start=2):
        lines += _other_lines(number, best, other)
    return "\n".join([*lines, "", *textwrap.wrap(ONLY_A_TRIAL, WIDTH)]) + "\n"


def chain_data(chain: Chain) -> dict[str, Any]:
    """Return the same as plain data, ready for JSON; costs in cents, times in seconds."""
    return {
        "proved": chain.proved,
        "candidates": chain.width,
        "at_least": round(chain.at_least, 3),
        "sequences": [
            {
                "cost": round(one.cost, 3),
                "change_cost": round(one.change_cost, 3),
                "steps": [_step_data(step) for step in one.steps],
            }
            for one in chain.best
        ],
    }


def _head(chain: Chain) -> str:
    best = chain.best[0]
    costs = f"cost {best.cost:.0f}: fits {best.cost - best.change_cost:.0f}, changes "
    costs += f"{best.change_cost:.0f}"
    if chain.proved:
        return f"The best of all sequences, {costs}."
    return (
        f"The best of the sequences that were weighed, {costs}.\n"
        f"At most the {chain.width} nearest sonorities of each saxophone were weighed for a wish; "
        f"no sequence costs less than {chain.at_least:.0f}."
    )


def _traded(best: Sequenced) -> Iterator[str]:
    over = [str(step.wish.number) for step in best.steps if step.passed_over]
    if over:
        wishes = "wish" if len(over) == 1 else "wishes"
        yield f"A better fit was passed over for an easier change at {wishes} {', '.join(over)}."


def _not_met(best: Sequenced) -> Iterator[str]:
    lacking = [
        f"{', '.join(step.wish.wish.words_for(one.wish) for one in step.judged.missing)} at wish "
        f"{step.wish.number}"
        for step in best.steps
        if step.judged.missing
    ]
    if lacking:
        yield from textwrap.wrap(f"No tone meets {'; '.join(lacking)}.", WIDTH)


def _several(best: Sequenced) -> bool:
    return len({step.player.name for step in best.steps}) > 1


def _step_lines(step: Step, best: Sequenced) -> Iterator[str]:
    wish, sonority = step.wish, step.judged.sonority
    place = f"bar {wish.bar}, beat {wish.beat or 1}; " if wish.bar else ""
    when = f"{place}{seconds_text(wish.begin_seconds)} s, {wish.lasts}"
    yield f"{wish.number}.  {wish.said} ({when})"
    facts = f"{sonority.label()}, {sonority.saxophone}, {sonority.evidence}"
    who = f" for {step.player.name}" if _several(best) else ""
    yield from wrapped(f"{sonority.id}{who}: {facts}; fit {step.judged.cost:.0f}")
    yield from judged_lines(step.judged, wish.wish)
    if step.change:
        change = step.change
        yield from wrapped(f"from {change.before.id}: {change.words()}; cost {change.cost:.0f}")
    if step.passed_over:
        yield from wrapped(_passed_over_words(step.passed_over))


def _passed_over_words(over: PassedOver) -> str:
    name = f"passed over: {over.sonority.id} fits better ({over.cost:.0f}), but"
    if over.change is None:
        return f"{name} the changes of its player would cost {over.more:.0f} more in all"
    change = f"{over.change.before.id} to {over.change.after.id}: {over.change.words()}"
    if isinf(over.more):
        return f"{name} it cannot be played; {change}"
    return f"{name} all would cost {over.more:.0f} more; {change}"


def _other_lines(number: int, best: Sequenced, other: Sequenced) -> Sequence[str]:
    named = _several(other)
    differences = []
    for step, was in zip(other.steps, best.steps, strict=True):
        if step.judged.sonority.id != was.judged.sonority.id:
            who = f" for {step.player.name}" if named else ""
            name, old = step.judged.sonority.id, was.judged.sonority.id
            differences.append(f"wish {step.wish.number}: {name}{who}, not {old}")
    words = f"{number}.  cost {other.cost:.0f}; {'; '.join(differences)}"
    return textwrap.wrap(words, WIDTH, subsequent_indent="    ", break_on_hyphens=False)


def _step_data(step: Step) -> dict[str, Any]:
    wish = step.wish
    return {
        "wish": wish.number,
        "asked_for": wish.said,
        "bar": wish.bar,
        "beat": wish.beat,
        "begin_seconds": float(wish.begin_seconds),
        "length_seconds": float(wish.length_seconds),
        "fixed": wish.fixed is not None,
        "player": step.player.name,
        "part": step.player.part,
        "result": judged_data(step.judged),
        "change": step.change and _change_data(step.change),
        "passed_over": step.passed_over and _passed_over_data(step.passed_over),
    }


def _change_data(change: Change) -> dict[str, Any]:
    connection = change.connection
    return {
        "from": change.before.id,
        "to": change.after.id,
        "rest_seconds": change.room.rest_seconds,
        "seconds": change.room.change_seconds,
        "cost": _finite(change.cost),
        "basis": connection and str(connection.basis),
        "because": connection and connection.because and str(connection.because),
        "points": connection and connection.points,
        "needed_seconds": connection and connection.needed_seconds,
        "fingers": connection and change_data(connection.fingers),
        "words": change.words(),
    }


def _passed_over_data(over: PassedOver) -> dict[str, Any]:
    return {
        "sonority": over.sonority.id,
        "cost": round(over.cost, 3),
        "more": _finite(over.more),
        "change": over.change and _change_data(over.change),
    }


def _finite(cost: float) -> float | None:
    """Return a cost for JSON, which knows no infinity: null is what nobody can play."""
    return None if isinf(cost) else round(cost, 3)
