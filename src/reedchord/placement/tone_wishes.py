"""What was wished of one sonority, asked of another: its tones, and how they come and go."""

from __future__ import annotations

from fractions import Fraction

from reedchord.errors import RequestError
from reedchord.pitch import Pitch
from reedchord.placement.appearance import wanted_tones
from reedchord.placement.course import course
from reedchord.placement.plan import Placement
from reedchord.placement.record import PlacedRecord
from reedchord.placement.style import Style
from reedchord.placement.wish import ADDRESS, Wish
from reedchord.sonority import Sonority

COUNTERPART_WITHIN_CENTS = 50
"""A tone of another sonority takes a tone's part when it is no further away."""

ToneReference = int | Pitch

_DROPPED_IN_TURN = (
    ("the lengths of its steps", {"steps": None}),
    ("its dynamics", {"dynamics": None}),
    (
        "build-up, fade and bringing out",
        {"build_up": False, "fade": False, "bring_out": False, "order": None},
    ),
)
"""What is given up of a course that the new sonority cannot have, until it can."""


def swapped_wish(
    row: PlacedRecord, old: Sonority, new: Sonority, *, carry: bool
) -> tuple[Wish, tuple[str, ...]]:
    """Return the wish of a placement asked of another sonority, and what is dropped of it.

    What is dropped is set aside, so that swapping back gives the same wish again.
    """
    here = row.wish
    quarters = Fraction(row.duration_quarters)
    memory = dict(row.set_aside)
    dropped: tuple[str, ...] = ()
    there = memory.pop(_origin(new), None)
    goes_back = there is not None
    if there is None:
        there, dropped = _asked_of(here, old, new, quarters)
        there = there.model_copy(update={"carry": here.carry or carry})
    there = there.model_copy(
        update={"sonority": new.id} | {name: getattr(here, name) for name in ADDRESS}
    )
    back, _ = _asked_of(there, new, old, quarters)
    back = back.model_copy(
        update={"sonority": here.sonority, "carry": here.carry if goes_back else there.carry}
    )
    if back != here:
        memory[_origin(old)] = here
    aside = {name: memory[name] for name in sorted(memory)}
    return Wish(there, new, set_aside=aside, history=row.history, is_swap=True), dropped


def _origin(sonority: Sonority) -> str:
    """Return the id under which a collection has it, also where it is carried."""
    return sonority.carried_from or sonority.id


def _asked_of(
    wish: Placement, old: Sonority, new: Sonority, quarters: Fraction
) -> tuple[Placement, tuple[str, ...]]:
    """Return the same wish by the new sonority's tone numbers, and what is dropped of it."""
    dropped: list[str] = []
    tones = _counterparts("only", wish.tones, old, new, dropped)
    emphasised = _emphasised(wish, tones, old, new, dropped)
    order = _counterparts("the order", wish.order, old, new, dropped)
    update = {"tones": tones, "emphasised": emphasised, "order": order, "as_written": False}
    there = wish.model_copy(update=update)
    for words, without in _DROPPED_IN_TURN:
        reason = _why_not(there, new, quarters)
        if reason is None:
            break
        changed = there.model_copy(update=without)
        if changed != there:
            dropped.append(f"{words}: dropped, {reason}")
        there = changed
    return there, tuple(dropped)


def _why_not(wish: Placement, sonority: Sonority, quarters: Fraction) -> str | None:
    """Return why a sonority cannot come and go as it is wished, None where it can."""
    try:
        sounding = wanted_tones(wish, sonority, Style(), is_concert=False)
        course(wish, sonority, sounding, quarters)
    except RequestError as error:
        return error.message
    return None


def _counterparts(
    what: str,
    tones: tuple[ToneReference, ...] | None,
    old: Sonority,
    new: Sonority,
    dropped: list[str],
) -> tuple[int, ...] | None:
    """Return the new numbers of wanted tones, None where some have no counterpart."""
    if tones is None:
        return None
    found = [_counterpart(tone, old, new) for tone in tones]
    pairs = zip(tones, found, strict=True)
    lost = [_name(tone, old) for tone, number in pairs if number is None]
    if lost:
        named = " and ".join(_name(tone, old) for tone in tones)
        dropped.append(f"{what} {named}: dropped, {new.id} has nothing near {' and '.join(lost)}")
        return None
    return tuple(dict.fromkeys(number for number in found if number is not None))


def _emphasised(
    wish: Placement,
    tones: tuple[int, ...] | None,
    old: Sonority,
    new: Sonority,
    dropped: list[str],
) -> int | None:
    if wish.emphasised is None:
        return None
    number = _counterpart(wish.emphasised, old, new)
    if number is not None and (tones is None or number in tones):
        return number
    dropped.append(f"{_name(wish.emphasised, old)} emphasised: dropped, {new.id} has nothing near")
    return None


def _counterpart(tone: ToneReference, old: Sonority, new: Sonority) -> int | None:
    """Return the number of the new sonority's tone nearest to one of the old's, if any is near."""
    wanted = old.written(old.tone_number(tone)).cents
    nearest = min(new.numbers, key=lambda number: abs(new.written(number).cents - wanted))
    is_near = abs(new.written(nearest).cents - wanted) <= COUNTERPART_WITHIN_CENTS
    return nearest if is_near else None


def _name(tone: ToneReference, sonority: Sonority) -> str:
    return sonority.written(sonority.tone_number(tone)).printed()
