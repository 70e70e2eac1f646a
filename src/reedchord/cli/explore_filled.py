"""A list of fingerings to try that was filled in: into a collection and a log."""

from __future__ import annotations

from pathlib import Path

from reedchord.cli import output
from reedchord.cli.options import today
from reedchord.errors import RequestError


def put_into_collection(
    filled: Path, set_up: Path | None, log: Path | None, out: Path | None
) -> None:
    """Write what was filled in as records, and as trials into the log of the set-up."""
    from reedchord.cli.collection_files import (
        refuse_other_name,
        tell_what_is_unusual,
        write_collection,
    )
    from reedchord.collection_reading import read_collection
    from reedchord.exchange.filled import (
        collection_with_filled,
        entries_there,
        filled_trials,
        left_out,
        read_to_try,
    )
    from reedchord.exchange.logged import log_with
    from reedchord.score_files import in_turn, write_atomically
    from reedchord.trials.set_ups import read_set_up
    from reedchord.trials.trials import default_log

    if set_up is None:
        raise RequestError(
            "explore.set-up", "with which set-up was it tried?", hint="Name it: --set-up FILE."
        )
    refuse_other_name(out)
    owner, listed = read_set_up(set_up), read_to_try(filled)
    if out is None:
        output.result(collection_with_filled(None, listed, owner)[0])
        return
    path = log or default_log(set_up)
    with in_turn(out), in_turn(path):
        there = entries_there(listed, read_collection(out)) if out.is_file() else frozenset()
        text, collection = collection_with_filled(out, listed, owner, there)
        trials = filled_trials(listed, today(), there)
        log_text = log_with(path, trials, owner.id)
        if trials:
            write_collection(text, collection, out, inputs=[filled, set_up, path])
            write_atomically(path, log_text.encode("utf-8"))
    for sentence in left_out(listed):
        output.note(sentence)
    for name in sorted(there):
        output.note(f"{name} stands in {out} already, and stays as it is there")
    tell_what_is_unusual(collection[one.sonority] for one in trials)
    names = ", ".join(one.sonority for one in trials)
    output.say(f"noted in {path}: {names}" if names else "nothing new is filled in")
