"""What was wished of one sonority's tones, asked of another's."""

from __future__ import annotations

from reedchord.pitch import Pitch
from reedchord.placement.plan import Placement
from reedchord.placement.record import PlacedRecord, SetAside
from reedchord.placement.wish import Wish
from reedchord.sonority import Sonority

COUNTERPART_WITHIN_CENTS = 50
"""A tone of another sonority takes a tone's part when it is no further away."""

ToneReference = int | Pitch


def swapped_wish(
    row: PlacedRecord, old: Sonority, new: Sonority, *, carry: bool
) -> tuple[Wish, tuple[str, ...]]:
    """Return the wish of a placement asked of another sonority, and what is dropped of it.

    What is dropped is set aside, so that swapping back gives the same wish again.
    """
    here = _refs(row.wish)
    memory = dict(row.set_aside)
    dropped: tuple[str, ...] = ()
    there = memory.pop(_origin(new), None)
    goes_back = there is not None
    if there is None:
        there, dropped = _asked_of(here, old, new, carry=carry)
    back, _ = _asked_of(there, new, old, carry=goes_back and here.carry)
    if back != here:
        memory[_origin(old)] = here
    placement = row.wish.model_copy(
        update={
            "sonority": new.id,
            "tones": there.tones,
            "emphasised": there.emphasised,
            "carry": there.carry,
        }
    )
    aside = {name: memory[name] for name in sorted(memory)}
    return Wish(placement, new, set_aside=aside, is_swap=True), dropped


def _origin(sonority: Sonority) -> str:
    """Return the id under which a collection has it, also where it is carried."""
    return sonority.carried_from or sonority.id


def _refs(placement: Placement) -> SetAside:
    return SetAside(tones=placement.tones, emphasised=placement.emphasised, carry=placement.carry)


def _asked_of(
    wish: SetAside, old: Sonority, new: Sonority, *, carry: bool
) -> tuple[SetAside, tuple[str, ...]]:
    """Return the same wish by the new sonority's tone numbers; tones without counterpart drop."""
    dropped = []
    tones: tuple[int, ...] | None = None
    if wish.tones is not None:
        found = [_counterpart(ref, old, new) for ref in wish.tones]
        lost = [
            _name(ref, old) for ref, number in zip(wish.tones, found, strict=True) if not number
        ]
        if lost:
            only = " and ".join(_name(ref, old) for ref in wish.tones)
            near = f"{new.id} has nothing near {' and '.join(lost)}"
            dropped.append(f"only {only}: dropped, {near}; all its tones are placed")
        else:
            tones = tuple(dict.fromkeys(number for number in found if number is not None))
    emphasised: int | None = None
    if wish.emphasised is not None:
        emphasised = _counterpart(wish.emphasised, old, new)
        if emphasised is None or (tones is not None and emphasised not in tones):
            emphasised = None
            name = _name(wish.emphasised, old)
            dropped.append(f"{name} emphasised: dropped, {new.id} has nothing near it")
    return SetAside(tones=tones, emphasised=emphasised, carry=wish.carry or carry), tuple(dropped)


def _counterpart(ref: ToneReference, old: Sonority, new: Sonority) -> int | None:
    """Return the number of the new sonority's tone nearest to one of the old's, if any is near."""
    wanted = old.written(old.tone_number(ref)).cents
    nearest = min(new.numbers, key=lambda number: abs(new.written(number).cents - wanted))
    is_near = abs(new.written(nearest).cents - wanted) <= COUNTERPART_WITHIN_CENTS
    return nearest if is_near else None


def _name(ref: ToneReference, sonority: Sonority) -> str:
    return sonority.written(sonority.tone_number(ref)).printed()
