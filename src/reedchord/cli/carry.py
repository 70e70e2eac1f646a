"""`reedchord carry`: one sonority on other members of the family."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    JsonOption,
    OptionalCollection,
    PitchNamesOption,
    SonorityArgument,
    named_collection,
    speak,
)
from reedchord.errors import RequestError, said_by

if TYPE_CHECKING:
    from reedchord.choosing.same_sounds import SameSounds

Option = typer.Option


def carry_command(
    sonority: SonorityArgument,
    more: Annotated[list[str] | None, typer.Argument(help="More members, after --to.")] = None,
    collection: OptionalCollection = None,
    to: Annotated[
        list[str] | None, Option("--to", help="Member of the family; more may follow.")
    ] = None,
    everywhere: Annotated[bool, Option("--all", help="Every other member.")] = False,
    keep_sounds: Annotated[
        bool, Option("--same-sounds", help="Also what the collection has nearest in sound there.")
    ] = False,
    most: Annotated[int, Option(min=1, help="How many of the nearest to show.")] = 3,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
) -> None:
    """Carry a sonority to other members of the family.

    The fingering stays, the concert pitches are new, and all of it is a guess.
    """
    from reedchord.carry import ONLY_A_TRIAL, carry_to
    from reedchord.carry_text import carried_data, carried_text
    from reedchord.choosing.same_sounds import same_sounds
    from reedchord.collection_cache import cached_collection
    from reedchord.saxophones import FAMILY, saxophone

    speak(british=british, pitch_names=pitch_names)
    whole = cached_collection(named_collection(collection))
    record = whole[sonority]
    wanted = [*(to or []), *(more or [])]
    if bool(wanted) == everywhere:
        hint = f"Say --all, or --to with some of: {', '.join(FAMILY)}."
        raise RequestError("carry.where-to", "to which saxophones?", hint=hint)
    others = [member for member in FAMILY.values() if member != record.saxophone]
    with said_by("--to"):
        members = others if everywhere else [saxophone(name) for name in wanted]
    carried = [carry_to(record, member) for member in members]
    near = [same_sounds(whole, record, m, most=most) for m in members] if keep_sounds else []
    if as_json:
        rows = _near_data(near, most) if near else [carried_data(one) for one in carried]
        data = {"from": record.id, "saxophone": record.saxophone.name, "carried": rows}
        output.data(data)
    else:
        output.result("\n".join([carried_text(record, carried), *_near_texts(near, most)]))
    output.note(ONLY_A_TRIAL)


def _near_data(near: list[SameSounds], most: int) -> list[dict[str, Any]]:
    from reedchord.choosing.same_sounds_text import same_sounds_data

    return [same_sounds_data(one, most=most) for one in near]


def _near_texts(near: list[SameSounds], most: int) -> list[str]:
    from reedchord.choosing.same_sounds_text import same_sounds_text

    return [same_sounds_text(one, most=most) for one in near]
