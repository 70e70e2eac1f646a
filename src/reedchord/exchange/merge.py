"""Several collections become one: nothing is lost, and nothing silently overruled."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from pathlib import Path

from ruamel.yaml.comments import CommentedMap, CommentedSeq

from reedchord.collection import Collection
from reedchord.collection_reading import parse_collection
from reedchord.errors import InputError, ReedchordError, RequestError, Where, raise_all
from reedchord.exchange.collection_text import json_text
from reedchord.exchange.commented import (
    LISTS,
    CommentedFile,
    add_field,
    lost_comments,
    read_commented,
)
from reedchord.exchange.new_ids import free_id
from reedchord.many_objects import many_objects
from reedchord.sonority import Sonority
from reedchord.source import Citation, Source

Record = Source | Sonority
_NewIds = dict[str, dict[str, str]]
"""New ids by the old ones, of sources and of sonorities."""


@dataclass(frozen=True)
class Merged:
    """One collection made of several, as checked and as text with the comments of all."""

    collection: Collection
    text: str
    notes: tuple[str, ...]


@dataclass
class _Joined:
    """What is in the merged collection so far, with the place where each record came from."""

    sources: dict[str, Source] = field(default_factory=dict)
    sonorities: dict[str, Sonority] = field(default_factory=dict)
    places: dict[tuple[str, str], Where] = field(default_factory=dict)
    errors: list[ReedchordError] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


@many_objects()
def merge_collections(
    paths: Sequence[Path], *, rename: bool = False, out: str = "merged.yaml"
) -> Merged:
    """Join collections, the first one's text first.

    Equal records of one id become one, and so do equal sources. With `rename` a later one that
    differs gets a new id, else InputErrors name both places. Records of different sources with
    the same fingering on the same saxophone are linked. `out` names the result in messages;
    where its name and all others end with .json, the text is JSON.
    """
    if len(paths) < 2:
        raise RequestError("merge.one", "there is only one collection", hint="Name two or more.")
    joined = _Joined()
    parts = [read_commented(path) for path in dict.fromkeys(map(Path, paths))]
    base = parts[0][1][0]
    for collection, files in parts:
        new_ids = _new_ids(collection, joined) if rename else {kind: {} for kind in LISTS}
        for file in files:
            _join(collection, file, new_ids, joined, base)
    raise_all(joined.errors)
    _link(base.records("sonorities"), joined)
    every = [file for _, files in parts for file in files]
    joined.notes += [
        f"{file.path}: its {name} is left out"
        for file in every[1:]
        for name in ("title", "note")
        if name in file.document
    ]
    as_json = all(map(_is_json, (out, *(file.path for file in every))))
    text = json_text(base.document) if as_json else base.as_text()
    joined.notes += [f"a comment could not be kept: {one}" for one in lost_comments(every, text)]
    merged = parse_collection(text, "merged.yaml" if _is_json(out) and not as_json else out)
    for name, sonority in joined.sonorities.items():
        assert _without_names(merged[name]) == _without_names(sonority)  # nothing is lost
    return Merged(merged, text, tuple(joined.notes))


def _is_json(name: str) -> bool:
    return name.casefold().endswith(".json")


def _without_names(sonority: Sonority) -> Sonority:
    """Return a record without what merging may change: ids, and links by them."""
    names = {"id": "", "neighbours": (), "carried_from": None, "same_fingering_as": ()}
    return sonority.model_copy(update=names)


def _unlinked(record: Record) -> Record:
    """Return a record without the links that merging makes."""
    if isinstance(record, Source):
        return record
    return record.model_copy(update={"same_fingering_as": ()})


def _new_ids(collection: Collection, joined: _Joined) -> _NewIds:
    """Return new ids for what differs from something earlier with the same id."""
    return {kind: _new_of(getattr(collection, kind), getattr(joined, kind)) for kind in LISTS}


def _new_of(records: Mapping[str, Record], known: Mapping[str, Record]) -> dict[str, str]:
    taken = {*known, *records}
    new_ids = {}
    for name, record in records.items():
        if name in known and _unlinked(known[name]) != _unlinked(record):
            new_ids[name] = free_id(name, taken)
            taken.add(new_ids[name])
    return new_ids


def _join(
    collection: Collection,
    file: CommentedFile,
    new_ids: _NewIds,
    joined: _Joined,
    base: CommentedFile,
) -> None:
    """Add a file's records to the joined ones and, where it is not the first, to its text."""
    for kind in LISTS:
        for index, row in enumerate(list(file.document.get(kind) or ())):
            place = file.where(kind, index)
            record = _with_new_source(getattr(collection, kind)[row["id"]], new_ids["sources"])
            _rename(kind, row, new_ids, joined, place)
            new = _is_new(kind, row["id"], record, joined, place)
            if new and file is not base:
                base.append(kind, row, file.comments_before(kind, index))


def _with_new_source(record: Record, new_ids: dict[str, str]) -> Record:
    """Return a source, or a record that cites one, with the new id of that source."""
    cited = record if isinstance(record, Source) else record.source
    if cited is None or cited.id not in new_ids:
        return record
    new = {"id": new_ids[cited.id]}
    if isinstance(record, Source):
        return record.model_copy(update=new)
    assert isinstance(cited, Citation)
    assert cited.entry is not None  # or reading had told
    entry = cited.entry.model_copy(update=new)
    return record.model_copy(update={"source": cited.model_copy(update={**new, "entry": entry})})


def _is_new(kind: str, name: str, record: Record, joined: _Joined, place: Where) -> bool:
    """Note a record; tell whether it is new, and note an error where it differs."""
    first = joined.places.setdefault((kind, name), place)
    known = (joined.sources if isinstance(record, Source) else joined.sonorities).get(name)
    if known is None:
        if isinstance(record, Source):
            joined.sources[name] = record
        else:
            joined.sonorities[name] = record
        return True
    if _unlinked(known) != _unlinked(record):
        joined.errors.append(_differs(kind, name, first, place))
    return False


def _differs(kind: str, name: str, first: Where, place: Where) -> ReedchordError:
    noun = "source" if kind == "sources" else "sonority"
    return InputError(
        "merge.differs",
        f"the {noun} {name!r} differs from the one at {first}",
        hint="Make them equal, or give one of them another id. --rename does that for the later "
        "one.",
        where=place,
    )


def _rename(kind: str, row: CommentedMap, new_ids: _NewIds, joined: _Joined, place: Where) -> None:
    """Give a record its new id, and the new ones of the records and the source that it names."""
    sonorities, sources = new_ids["sonorities"], new_ids["sources"]
    if row["id"] in new_ids[kind]:
        joined.notes.append(f"{place}: {row['id']} is now {new_ids[kind][row['id']]}")
        row["id"] = new_ids[kind][row["id"]]
    if kind == "sources":
        return
    for near in row.get("neighbours") or ():
        near["sonority"] = sonorities.get(near["sonority"], near["sonority"])
    if row.get("carried_from") in sonorities:
        row["carried_from"] = sonorities[row["carried_from"]]
    others = row.get("same_fingering_as") or ()
    for index, other in enumerate(others):
        row["same_fingering_as"][index] = sonorities.get(other, other)
    if row.get("source") and row["source"]["id"] in sources:
        row["source"]["id"] = sources[row["source"]["id"]]


def _link(rows: CommentedSeq, joined: _Joined) -> None:
    """Let records of one fingering and saxophone name each other where their sources differ."""
    by_id = {row["id"]: row for row in rows}
    for group in _same_fingerings(joined.sonorities):
        for name, sonority in group:
            others = [other for other, record in group if _source(record) != _source(sonority)]
            known = list(by_id[name].get("same_fingering_as") or ())
            new = [other for other in others if other not in known]
            if new:
                links = CommentedSeq([*known, *new])
                links.fa.set_flow_style()
                add_field(by_id[name], "same_fingering_as", links)
                joined.notes.append(f"{name} is linked to {', '.join(new)}: the same fingering")


def _same_fingerings(
    sonorities: dict[str, Sonority],
) -> Iterator[list[tuple[str, Sonority]]]:
    def fingering(item: tuple[str, Sonority]) -> tuple[str, str]:
        return item[1].saxophone.name, str(item[1].fingering)

    for _, group in groupby(sorted(sonorities.items(), key=fingering), key=fingering):
        yield list(group)


def _source(sonority: Sonority) -> str | None:
    return sonority.source.id if sonority.source else None
