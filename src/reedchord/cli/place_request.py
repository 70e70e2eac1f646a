"""From the options of `reedchord place` to a score with placements in it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from reedchord.cli.options import no_collection, usual_collection
from reedchord.cli.placement_options import option_placement, option_style, typed
from reedchord.cli.score_input import read_or_convert
from reedchord.cli.written_score import refuse_no_output
from reedchord.collection_cache import cached_collection
from reedchord.errors import ReedchordError, RequestError, Where
from reedchord.musicxml.score_file import ScoreFile
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Plan, read_plan
from reedchord.placement.record import recorded_style
from reedchord.placement.style import USUAL, Style


class PlaceRequest(NamedTuple):
    """What was asked for on the command line; None where an option was not given."""

    score: Path
    plan: Path | None
    collection: Path | None
    placement: Mapping[str, Any]
    style: Mapping[str, str | None]
    target: Path | None
    writes: bool
    convert: bool = False


def read_request(request: PlaceRequest) -> tuple[ScoreFile, PlacedScore]:
    """Read everything that a request names and make its placements, without writing.

    Raises RequestError or InputError, or SeveralErrors with all that is wrong.
    """
    refuse_no_output(request.target, writes=request.writes)
    plan = _plan(request)
    folder = request.collection or plan.collection or usual_collection()
    if folder is None:
        raise no_collection()
    collection = cached_collection(folder)
    file = read_or_convert(request.score, request.target, convert=request.convert)
    try:
        style = _style(request, plan.style, file.data)
        placed = place(
            file.data, plan.placements, collection, style, whole=request.plan is not None
        )
    except ReedchordError as error:
        if not error.code.startswith("collection."):
            error.at(Where(path=str(request.score)))
        raise
    return file, placed


def _plan(request: PlaceRequest) -> Plan:
    """Return the plan file's placements, or the one that the options describe."""
    if request.plan is None:
        return Plan(((option_placement(request.placement), Where()),), None, None)
    named = [typed(name) for name, said in request.placement.items() if said is not None]
    if named:
        raise RequestError(
            "place.plan-and-more", f"--plan holds the placements: leave out {', '.join(named)}"
        )
    return read_plan(request.plan)


def _style(request: PlaceRequest, planned: Style | None, data: bytes) -> Style | None:
    """Return the plan's style, or the score's, with what options change; None for the usual."""
    if all(said is None for said in request.style.values()):
        return planned
    held = None if request.plan else recorded_style(data)
    return option_style(request.style, planned or held or USUAL)
