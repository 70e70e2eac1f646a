"""From the options of `reedchord place` to a score with placements in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel

from reedchord.cli.score_input import read_or_convert
from reedchord.cli.written_score import refuse_no_output
from reedchord.collection_cache import cached_collection
from reedchord.data_text import DataText
from reedchord.errors import ReedchordError, RequestError, Where, raise_all
from reedchord.musicxml.container import ScoreFile
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Placement, Plan, read_plan
from reedchord.placement.record import recorded_style
from reedchord.placement.style import Style
from reedchord.validation import validated

_M = TypeVar("_M", bound=BaseModel)
_ARGUMENT = "sonority"
_OPTIONS = {"lasting": "--for", "emphasised": "--emphasise"}
"""Options that are called otherwise than the field of a plan that they fill."""


@dataclass(frozen=True)
class PlaceRequest:
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
    folder = request.collection or plan.collection
    if folder is None:
        raise RequestError(
            "place.no-collection", "no collection is named", hint="Give it: --collection FILE."
        )
    collection = cached_collection(folder)
    file = read_or_convert(request.score, request.target, convert=request.convert)
    try:
        held = None if request.plan else recorded_style(file.data)
        style = _style(request.style, plan.style, held)
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
    named = [name for name, said in request.placement.items() if said is not None]
    if request.plan is not None:
        if named:
            raise RequestError(
                "place.plan-and-more",
                f"--plan holds the placements: leave out {', '.join(map(_typed, named))}",
            )
        return read_plan(request.plan)
    missing = [name for name in ("sonority", "part", "bar") if name not in named]
    if missing:
        raise RequestError(
            "place.incomplete",
            f"what is missing: {', '.join(map(_typed, missing))}",
            hint="reedchord place SCORE SONORITY --collection FILE --part P --bar N -o OUT",
        )
    given = {name: said for name, said in request.placement.items() if said is not None}
    return Plan(((_option_record(Placement, given), Where()),), None, None)


def _style(
    options: Mapping[str, str | None], planned: Style | None, held: Style | None
) -> Style | None:
    given = {name: said for name, said in options.items() if said is not None}
    if not given:
        return planned
    base = planned or held or Style()
    return _option_record(Style, {**base.model_dump(mode="json"), **given})


def _option_record(model: type[_M], given: Mapping[str, Any]) -> _M:
    """Return a record made of options; raises RequestError that names the option."""
    errors: list[ReedchordError] = []
    record = validated(model, DataText(dict(given)), (), "", errors)
    for error in errors:
        error.where = Where(field=_typed(error.where.field or ""))
    raise_all(errors)
    assert record is not None  # or there would have been errors
    return record


def _typed(field: str) -> str:
    """Return what is typed for a field of a plan: `--build-up` for build_up, entries aside."""
    name = field.partition("[")[0]
    return name if name == _ARGUMENT else _OPTIONS.get(name, f"--{name.replace('_', '-')}")
