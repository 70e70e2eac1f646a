"""The options that name a set-up and its log, and what they give."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reedchord.cli import output
from reedchord.errors import RequestError

if TYPE_CHECKING:
    from reedchord.collection import Collection
    from reedchord.sonority import Sonority
    from reedchord.trials.trials import Trials
    from reedchord.trials.tried import Tried, TriedCollection

SetUpOption = Annotated[
    Path | None,
    typer.Option("--set-up", help="Set-up whose trials go before what is documented."),
]
LogOption = Annotated[
    Path | None,
    typer.Option("--log", help="Log of its trials; else SETUP-trials.yaml beside the set-up."),
]


def named_trials(set_up: Path | None, log: Path | None) -> Trials | None:
    """Return what the named set-up tried, None where none is named; warnings are told."""
    if set_up is None:
        if log is not None:
            raise RequestError("set-up.none", "a log needs its set-up", hint="Name it: --set-up.")
        return None
    from reedchord.trials.trials import read_trials

    trials = read_trials(set_up, log)
    for sentence in trials.warnings:
        output.note(sentence)
    return trials


def tried_of(
    sonority: Sonority, collection: Collection, set_up: Path | None, log: Path | None
) -> Tried | None:
    """Return what the named set-up tried of one sonority, None where no set-up is named."""
    trials = named_trials(set_up, log)
    if trials is None:
        return None
    from reedchord.trials.tried import as_tried

    for sentence in trials.unknown(collection.sonorities):
        output.note(sentence)
    if sonority.saxophone != trials.set_up.saxophone:
        output.note(f"{trials.set_up.id} is a set-up of {trials.set_up.saxophone.name}")
    return as_tried(sonority, trials)


def record_as_tried(
    name: str, collection: Collection, set_up: Path | None, log: Path | None
) -> Sonority:
    """Return a sonority of a collection as the named set-up got it, and tell what came of it."""
    from reedchord.trials.tried_text import tried_words

    documented = collection[name]
    tried = tried_of(documented, collection, set_up, log)
    if tried is None:
        return documented
    told = tried_words(tried) if tried.trials else f"not tried with {tried.set_up.id}"
    output.note(f"{name}: {told}")
    return tried.sonority


def as_tried_collection(
    collection: Collection, set_up: Path | None, log: Path | None
) -> TriedCollection | None:
    """Return a collection as the named set-up got it, and tell what did not speak."""
    trials = named_trials(set_up, log)
    if trials is None:
        return None
    from reedchord.trials.tried import tried_collection

    for sentence in trials.unknown(collection.sonorities):
        output.note(sentence)
    mine = tried_collection(collection, trials)
    for one in mine.silent:
        date = one.latest[0].date
        output.note(f"{one.documented.id} did not speak on {date} and is left out")
    return mine
