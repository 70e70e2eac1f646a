"""From an exploration to a list that can be filled in, and from what was filled in to records."""

from __future__ import annotations

from collections.abc import Container, Iterator
from pathlib import Path
from typing import Any

from ruamel.yaml.comments import CommentedMap

from reedchord.collection import Collection
from reedchord.data_text import DataText
from reedchord.errors import InputError, ReedchordError, RequestError, raise_all
from reedchord.exchange.added import collection_with_all
from reedchord.exchange.collection_text import dumped, spaced, styled
from reedchord.exchange.new_ids import free_id, kebab
from reedchord.exploring.explore import ONLY_A_TRIAL, Exploration
from reedchord.own_file import OwnFile, read_own_file
from reedchord.reader import USUAL, told_to
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Evidence
from reedchord.trials.set_ups import SetUpFile
from reedchord.trials.to_try import ToTryFile
from reedchord.trials.trial_fields import Outcome, Trial
from reedchord.validation import validated

_HOW = (
    "# Fill in what came: '- {written: F#4-12, presence: {mf: clear}}' for each tone, the lowest",
    "# first, and what else was: 'outcome: after a try', 'attack: breath', 'dynamics: p-f'.",
    "# Then: reedchord explore --filled THIS --set-up YOURS.yaml -o COLLECTION.yaml",
)
_COPIED = ("name", "tones", "emphasised", "dynamics", "limits", "advice")


def to_try_text(found: Exploration, taken: Container[str] = ()) -> str:
    """Return an exploration as YAML to be filled in; no id is one of those `taken`."""
    with told_to(USUAL):
        start = found.called
    begin = start.removeprefix(f"{found.saxophone.name}-").replace("♯", " sharp")
    stem = kebab(f"{found.saxophone.name} {begin.replace('♭', ' flat')}")
    used: set[str] = set()
    rows = []
    for number, one in enumerate(found.to_try, start=1):
        name = free_id(f"{stem}-{number:02}", _Either(taken, used))
        used.add(name)
        rows.append(
            {"id": name, "fingering": str(one.fingering), "change": one.words(), "tones": []}
        )
    head: dict[str, Any] = {
        "reedchord": "to-try",
        "version": 1,
        "saxophone": found.saxophone.name,
        "start": start,
        "note": ONLY_A_TRIAL,
    }
    data = CommentedMap({**styled(head), "fingerings": spaced([styled(row) for row in rows])})
    return "\n".join(_HOW) + "\n" + dumped(data)


class _Either:
    """What is in one of several."""

    def __init__(self, *parts: Container[str]) -> None:
        self._parts = parts

    def __contains__(self, name: object) -> bool:
        return any(name in part for part in self._parts)


def read_to_try(path: Path) -> OwnFile[ToTryFile]:
    """Read a list; raises InputError or SeveralErrors with file, line, column and field."""
    return read_own_file(ToTryFile, path, "a list of fingerings to try")


def entries_there(listed: OwnFile[ToTryFile], known: Collection) -> frozenset[str]:
    """Return ids of filled entries that went into a collection before, when more was empty.

    Raises InputError, or SeveralErrors, with the place of an entry whose id means something
    else there.
    """
    errors: list[ReedchordError] = []
    there = set()
    for index, entry in enumerate(listed.record.fingerings):
        if not entry.tones or entry.id not in known:
            continue
        old = known[entry.id]
        if (old.saxophone, old.fingering) == (listed.record.saxophone, entry.fingering):
            there.add(entry.id)
            continue
        errors.append(
            InputError(
                "explore.id-taken",
                f"{entry.id} has another fingering in {known.called}: {old.fingering.short()}",
                hint=f"Give it another id: {free_id(entry.id, known.sonorities)}.",
                where=listed.fields.where(("fingerings", index, "id"), listed.path),
            )
        )
    raise_all(errors)
    return frozenset(there)


def filled_records(
    listed: OwnFile[ToTryFile], set_up: SetUpFile, there: Container[str] = ()
) -> list[dict[str, Any]]:
    """Return the records of all entries with tones as plain data: tried, with this set-up.

    Those that are `there` already are left out. Raises RequestError where nothing is filled in,
    or the set-up plays another saxophone, and InputError with the place of what cannot be a
    record.
    """
    member = listed.record.saxophone
    if set_up.saxophone != member:
        raise RequestError(
            "explore.other-saxophone",
            f"the list is for {member.name}, {set_up.id} is a set-up of {set_up.saxophone.name}",
        )
    errors: list[ReedchordError] = []
    records = []
    for index, entry in enumerate(listed.record.fingerings):
        if not entry.tones or entry.id in there:
            continue
        row = listed.fields.data["fingerings"][index]
        record = {
            "id": entry.id,
            "saxophone": member.name,
            "fingering": str(entry.fingering),
            **{name: row[name] for name in _COPIED if name in row},
            "evidence": Evidence.TRIED.value,
            "set_up": set_up.words(),
        }
        record = {name: record[name] for name in Sonority.model_fields if name in record}
        found: list[ReedchordError] = []
        validated(Sonority, DataText(record), (), listed.path, found)
        errors += [one.at(listed.fields.where(("fingerings", index), listed.path)) for one in found]
        records.append(record)
    raise_all(errors)
    if not any(entry.tones for entry in listed.record.fingerings):
        raise RequestError(
            "explore.not-filled",
            "no entry has a tone",
            hint="Fill in what came, below tones: - {written: F#4-12}.",
            where=listed.fields.where((), listed.path),
        )
    return records


def filled_trials(listed: OwnFile[ToTryFile], date: str, there: Container[str] = ()) -> list[Trial]:
    """Return the trial of each entry with tones: evidence rises only through one.

    Those that are `there` already are left out.
    """
    return [
        Trial(
            date=date,
            sonority=entry.id,
            attack=entry.attack,
            outcome=entry.outcome or Outcome.SPOKE,
            dynamics=entry.dynamics,
            limits=entry.limits,
            remarks=entry.advice,
        )
        for entry in listed.record.fingerings
        if entry.tones and entry.id not in there
    ]


def left_out(listed: OwnFile[ToTryFile]) -> Iterator[str]:
    """Yield sentences on what was tried and has no tone, so that no record comes of it."""
    for entry in listed.record.fingerings:
        if entry.outcome is not None and not entry.tones:
            why = "and has no tone yet" if entry.outcome.spoke else "so there is nothing to keep"
            yield f"{entry.id}: {entry.outcome}, {why}"


def collection_with_filled(
    file: Path | None,
    listed: OwnFile[ToTryFile],
    set_up: SetUpFile,
    there: Container[str] = (),
) -> tuple[str, Collection]:
    """Return the text of a collection with all that was filled in, and what it holds then."""
    return collection_with_all(file, filled_records(listed, set_up, there), [])
