"""The plan that a score holds: what was asked for, as a file that `place` takes."""

from __future__ import annotations

import io
from typing import Any

from ruamel.yaml import YAML

from reedchord.musicxml.document import read_score
from reedchord.placement.found import State, find_placements, still_there
from reedchord.placement.plan import VERSION
from reedchord.placement.record import PlacedRecord, ScoreRecord, record_of


def held_plan(data: bytes) -> str:
    """Return the placements of the bytes of a MusicXML document as a plan in YAML.

    Bars count from the start (`@5`), so that the plan holds where labels are not unique.
    Placements that are gone from an edited score are left out, the others stand where they
    are now, and remarks before the plan tell what was edited. Raises RequestError where the
    score holds no placements.
    """
    score = read_score(data)
    record = record_of(score)
    found = find_placements(score, record)
    rows = record.of(one.row_now() for one in still_there(found)).placements
    remarks = [f"# {one.words()}\n" for one in found if one.state is not State.INTACT]
    plan = {
        "reedchord": "plan",
        "version": VERSION,
        "style": record.style.model_dump(mode="json"),
        "placements": [_asked_for(row, record) for row in rows],
    }
    stream = io.StringIO()
    yaml = YAML()
    yaml.width = 100
    yaml.dump(plan, stream)
    return "".join(remarks) + stream.getvalue()


def _asked_for(row: PlacedRecord, record: ScoreRecord) -> dict[str, Any]:
    """Return a placement as it was asked for: a carried sonority by the id of its origin."""
    wish: dict[str, Any] = row.wish.model_dump(mode="json", exclude_defaults=True)
    for name in ("sonority", "tremolo", "trill") if row.wish.carry else ():
        origin = record.sonorities[wish[name]].carried_from if name in wish else None
        wish |= {name: origin} if origin else {}
    return wish
