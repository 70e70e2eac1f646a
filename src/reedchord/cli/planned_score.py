"""A score as a command looks at it: as it is, or with the placements of a plan in memory."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from reedchord.cli import output
from reedchord.cli.options import usual_collection
from reedchord.cli.place_request import PlaceRequest, read_request
from reedchord.collection import Collection
from reedchord.collection_reading import read_collection
from reedchord.placement.plan import read_plan
from reedchord.score_files import read_score_file


@dataclass(frozen=True)
class PlannedScore:
    """The bytes of a placed score, and the collection that was named, if any."""

    data: bytes
    collection: Collection | None


def planned_score(score: Path, plan: Path | None, collection: Path | None) -> PlannedScore:
    """Read a score, and place what a plan asks for; nothing is written.

    Without `collection`, the plan's own is read. Warnings are told as notes. Raises
    RequestError or InputError as placing does.
    """
    if plan is None:
        folder = collection or usual_collection()
        known = read_collection(folder) if folder else None
        return PlannedScore(read_score_file(score).data, known)
    request = PlaceRequest(
        score=score,
        plan=plan,
        collection=collection,
        placement={},
        style={},
        target=None,
        writes=False,
    )
    file, placed = read_request(request)
    for sentence in (*file.notes, *placed.warnings):
        output.note(sentence)
    folder = collection or read_plan(plan).collection or usual_collection()
    return PlannedScore(placed.data, read_collection(folder) if folder else None)
