"""Results of searches and chains with a note of what a set-up tried."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from reedchord.choosing.chain import Chain, Sequenced
from reedchord.choosing.chain_request import ChainRequest
from reedchord.choosing.search import Found, Judged
from reedchord.choosing.search_conditions import Verdict
from reedchord.errors import Where
from reedchord.trials.tried import Tried, TriedCollection
from reedchord.trials.tried_text import tried_rows


def found_with_trials(found: Found, tried: Mapping[str, Tried]) -> Found:
    """Return what was found, each result with what was tried of it."""
    return replace(
        found,
        fitting=tuple(_noted(one, tried) for one in found.fitting),
        ruled_out=tuple(_noted(one, tried) for one in found.ruled_out),
    )


def without_silent(request: ChainRequest, tried: TriedCollection) -> ChainRequest:
    """Return a row of wishes that forbids what did not speak."""
    silent = [(one.documented.id, Where()) for one in tried.silent]
    return replace(request, forbidden=(*request.forbidden, *silent))


def chain_with_trials(chain: Chain, tried: Mapping[str, Tried]) -> Chain:
    """Return a chain, each of its sonorities with what was tried of it."""
    return replace(chain, best=tuple(_sequence(one, tried) for one in chain.best))


def _sequence(sequence: Sequenced, tried: Mapping[str, Tried]) -> Sequenced:
    steps = (replace(step, judged=_noted(step.judged, tried)) for step in sequence.steps)
    return replace(sequence, steps=tuple(steps))


def _noted(judged: Judged, tried: Mapping[str, Tried]) -> Judged:
    mine = tried.get(judged.sonority.id)
    if mine is None:
        return judged
    notes = tuple(Verdict(heading.lower(), words) for heading, words in tried_rows(mine))
    return replace(judged, notes=(*judged.notes, *notes))
