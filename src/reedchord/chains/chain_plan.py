"""A chain as a plan that `place` takes."""

from __future__ import annotations

import io
from typing import Any

from ruamel.yaml import YAML

from reedchord.choosing.chain import Sequenced, Step
from reedchord.errors import ReedchordError, RequestError, raise_all
from reedchord.placement.plan import VERSION, Placement
from reedchord.placement.style import Manner
from reedchord.sonority_fields import Articulation


def chain_plan(sequenced: Sequenced, collection: str | None) -> str:
    """Return the plan in YAML; `collection` is its path from where the plan will stand.

    Raises RequestError, or SeveralErrors, for wishes without a bar and players without a part.
    """
    errors: list[ReedchordError] = []
    for step in sequenced.steps:
        for name, said in (("bar", step.wish.bar), ("part", step.player.part)):
            if said is None:
                errors.append(_missing(step, name))
    raise_all(errors)
    plan: dict[str, Any] = {"reedchord": "plan", "version": VERSION}
    if collection is not None:
        plan["collection"] = collection
    plan["placements"] = [
        _placement(step).model_dump(mode="json", exclude_defaults=True) for step in sequenced.steps
    ]
    stream = io.StringIO()
    yaml = YAML()
    yaml.width = 100
    yaml.dump(plan, stream)
    return stream.getvalue()


def _missing(step: Step, name: str) -> RequestError:
    hint = "Give the wish its bar, and its beat where that is not 1."
    owner = f"wish {step.wish.number}"
    if name == "part":
        owner = f"the player {step.player.name}"
        hint = "Name it in the file of wishes: players: [{saxophone: alto, part: P2}]."
    words = f"{owner} has no {name}, which a plan needs"
    return RequestError("chain.no-place", words, hint=hint, where=step.wish.where)


def _placement(step: Step) -> Placement:
    slap = step.wish.wish.articulation is Articulation.SLAP
    given = {
        "sonority": step.judged.sonority.id,
        "part": step.player.part,
        "bar": step.wish.bar,
        "beat": step.wish.beat,
        "lasting": step.wish.lasts if step.wish.is_length_said else None,
        "emphasised": _emphasised(step),
        "manner": Manner.SLAP if slap else None,
    }
    return Placement.model_validate({name: said for name, said in given.items() if said})


def _emphasised(step: Step) -> int | None:
    """Return the tone that the wish brings out, where the record brings out another."""
    wish, judged = step.wish.wish, step.judged
    if wish.emphasised is None:
        return None
    index = wish.emphasised_index
    wished = wish.emphasised if index is None else wish.wanted[index]
    met = [meeting.tone.number for meeting in judged.met if meeting.wish == wished]
    return met[0] if met and met[0] != judged.sonority.emphasised_number else None
