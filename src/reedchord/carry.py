"""One sonority on another member of the family: the same fingering, and a guess."""

from __future__ import annotations

from dataclasses import dataclass

from reedchord.errors import RequestError
from reedchord.fingering import uncertain_keys, unknown_keys
from reedchord.pitch import Pitch
from reedchord.saxophones import FAMILY, Saxophone
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Evidence

ONLY_A_TRIAL = (
    "only carried over: the written notes stay nominally the same on another saxophone, and "
    "only a trial makes them true"
)


@dataclass(frozen=True)
class Carried:
    """What becomes of a sonority on another saxophone.

    `sonority` is None where a key of the fingering is missing there.
    """

    saxophone: Saxophone
    written: tuple[Pitch, ...]
    concert: tuple[Pitch, ...]
    missing_keys: tuple[str, ...]
    uncertain_keys: tuple[str, ...]
    sonority: Sonority | None
    warnings: tuple[str, ...]


def carry_to(sonority: Sonority, to: Saxophone) -> Carried:
    """Return the sonority with the same fingering and written notes on another saxophone.

    Raises RequestError when it is for that saxophone already.
    """
    if sonority.saxophone == to:
        raise RequestError("carry.same", f"{sonority.id} is for {to.name} saxophone already")
    missing = tuple(unknown_keys(sonority.fingering, to.name))
    uncertain = tuple(uncertain_keys(sonority.fingering, to.name))
    warnings = [ONLY_A_TRIAL]
    warnings += [f"not every {to} has the {name} key" for name in uncertain]
    return Carried(
        saxophone=to,
        written=sonority.written_pitches,
        concert=tuple(to.concert(pitch) for pitch in sonority.written_pitches),
        missing_keys=missing,
        uncertain_keys=uncertain,
        sonority=None if missing else _on(sonority, to),
        warnings=tuple(warnings),
    )


def carry_to_all(sonority: Sonority) -> list[Carried]:
    """Return what becomes of the sonority on every other member, highest member first."""
    return [carry_to(sonority, to) for to in FAMILY.values() if to != sonority.saxophone]


def _on(sonority: Sonority, to: Saxophone) -> Sonority:
    """Return the record for the other saxophone; a record carried twice keeps its origin."""
    origin = sonority.carried_from or sonority.id
    data = sonority.model_dump(mode="json", by_alias=True, exclude={"set_up"})
    tones = [
        {"written": str(sonority.written(number)), "presence": tone["presence"]}
        for number, tone in zip(sonority.numbers, data["tones"], strict=True)
    ]
    data |= {
        "id": f"{origin}-on-{to.name.replace(' ', '-')}",
        "saxophone": to.name,
        "tones": tones,
        "emphasised": sonority.emphasised_number,
        "evidence": str(Evidence.CARRIED),
        "carried_from": origin,
    }
    return Sonority.model_validate(data)
