"""How a sonority unfolds: tones that enter one by one, leave again, or one that leads the rest."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from reedchord.dynamics import Dynamic
from reedchord.errors import RequestError
from reedchord.numbers_as_text import decimal_text
from reedchord.placement.appearance import Sounding
from reedchord.placement.layout import Rhythm
from reedchord.placement.plan import Placement
from reedchord.rhythm import QUARTERS_BY_TYPE, quarters_words, single_value
from reedchord.sonority import Sonority

Members = tuple[int, ...]
"""Places of tones in a chord, counted from 0 for the lowest."""


class Course(NamedTuple):
    """Steps in time: how long each lasts in quarter notes, and which tones sound in it."""

    steps: tuple[Fraction, ...]
    members: tuple[Members, ...]
    words: str = ""
    alternates: bool = False
    """Whether another sonority takes turns with it, all tones of either."""
    dynamics: tuple[tuple[int, Dynamic], ...] = ()
    """Marks with the steps at whose beginning they stand."""

    @property
    def rhythm(self) -> Rhythm:
        """Its steps, without the tones."""
        return Rhythm(self.steps, self.alternates)

    @property
    def whole_step(self) -> int:
        """The step in which all tones sound."""
        return max(range(len(self.members)), key=lambda step: len(self.members[step]))

    @property
    def turns(self) -> tuple[int, ...]:
        """The first step, that in which it is whole, and the last, each named once."""
        return tuple(sorted({0, self.whole_step, len(self.steps) - 1}))


def course(
    placement: Placement, sonority: Sonority, sounding: Sounding, duration_quarters: Fraction
) -> Course:
    """Return the course that a placement asks for.

    Raises RequestError where the order of tones, a tone to bring out or the steps are wrong.
    """
    everything = tuple(range(len(sounding.numbers)))
    _refuse_idle_fields(placement)
    if not placement.unfolds:
        kind = "tremolo" if placement.tremolo else "trill" if placement.trill else ""
        way = Course((duration_quarters,), (everything,), kind, placement.other is not None)
        return _with_dynamics(way, placement)
    if len(everything) < 2:
        raise RequestError(
            "course.one-tone",
            "a single tone has nothing to build up, to fade or to bring out",
            hint="Place at least two tones.",
        )
    if placement.bring_out:
        members, whole = _brought_out(sounding, everything), 1
    else:
        members, whole = _entering(placement, sonority, sounding)
    words = [name for name, is_asked in placement.unfolding if is_asked]
    steps = _steps(placement, len(members), whole, duration_quarters)
    return _with_dynamics(Course(steps, members, " and ".join(words)), placement)


def _with_dynamics(way: Course, placement: Placement) -> Course:
    marks = placement.dynamics.marks if placement.dynamics else ()
    if len(marks) > len(way.turns):
        raise RequestError(
            "course.dynamics",
            f"{placement.dynamics} has {len(marks)} marks, and here is room for {len(way.turns)}",
            hint="A chord takes one mark, a build-up or a fade two, both together three.",
        )
    return way._replace(dynamics=tuple(zip(way.turns, marks, strict=False)))


def _refuse_idle_fields(placement: Placement) -> None:
    alternates = bool(placement.tremolo) + bool(placement.trill)
    if placement.grace is not None and (placement.unfolds or alternates):
        raise RequestError(
            "course.grace",
            "a grace note has no time for tones to come and go",
            hint="Place the plain sonority on it.",
        )
    if alternates + placement.unfolds > 1:
        raise RequestError(
            "course.two-ways",
            "a tremolo, a trill and tones that come and go exclude each other",
            hint="Ask for one of them.",
        )
    if placement.bring_out and (placement.build_up or placement.fade):
        raise RequestError(
            "course.two-ways",
            "to bring out one tone is another course than to build up or to fade",
            hint="Ask for one of them.",
        )
    if placement.order is not None and not (placement.build_up or placement.fade):
        raise RequestError(
            "course.order",
            "an order of tones is given, but they enter all at once",
            hint="Ask for --build-up or --fade, or leave --order out.",
        )
    if placement.steps is not None and not placement.unfolds:
        raise RequestError(
            "course.steps",
            "steps are given, but there is only one",
            hint="Ask for --build-up, --fade or --bring-out, or leave --steps out.",
        )


def _brought_out(sounding: Sounding, everything: Members) -> tuple[Members, ...]:
    """Return one tone, then the whole, then the one again."""
    if sounding.emphasised is None:
        raise RequestError(
            "course.nothing-to-bring-out",
            "no tone is emphasised, so none can be brought out",
            hint="Name it: --emphasise.",
        )
    alone = (sounding.numbers.index(sounding.emphasised),)
    return alone, everything, alone


def _entering(
    placement: Placement, sonority: Sonority, sounding: Sounding
) -> tuple[tuple[Members, ...], int]:
    """Return the tones of each step, and which step is the whole."""
    order = [sounding.numbers.index(number) for number in _order(placement, sonority, sounding)]
    growing = [tuple(sorted(order[: count + 1])) for count in range(len(order))]
    steps = growing if placement.build_up else growing[-1:]
    whole = len(steps) - 1
    if placement.fade:
        steps = [*steps, *reversed(growing[:-1])]
    return tuple(steps), whole


def _order(placement: Placement, sonority: Sonority, sounding: Sounding) -> list[int]:
    """Return the numbers of the wanted tones in the order in which they enter."""
    if placement.order is None:
        given = [number for number in sonority.build_up if number in sounding.numbers]
        source = f"the record of {sonority.id}"
    else:
        given = [sonority.tone_number(tone) for tone in placement.order]
        source = "the order that is given"
    if sorted(given) != list(sounding.numbers):
        wanted = ", ".join(map(str, sounding.numbers))
        named = ", ".join(map(str, given)) or "none"
        raise RequestError(
            "course.order",
            f"{source} names tones {named}, and those that sound are {wanted}",
            hint="Name each of them once, in the order in which they enter: --order.",
        )
    return given


def _steps(
    placement: Placement, count: int, whole: int, duration_quarters: Fraction
) -> tuple[Fraction, ...]:
    """Return lengths: as given, or equal ones; what is left over falls to the whole."""
    if placement.steps is None:
        given = [_even_step(duration_quarters / count)] * (count - 1)
    else:
        given = [length.quarters for length in placement.steps]
    if len(given) == count - 1:
        left = duration_quarters - sum(given)
        if left <= 0:
            raise RequestError(
                "course.steps",
                f"the steps take {decimal_text(sum(given, Fraction(0)))} of "
                f"{quarters_words(duration_quarters)}, so none are left for the whole chord",
                hint="Give shorter steps, or let the sonority last longer.",
            )
        given.insert(whole, left)
    if len(given) != count or sum(given) != duration_quarters:
        raise RequestError(
            "course.steps",
            f"the steps last {quarters_words(sum(given, Fraction(0)))} in {len(given)}, the "
            f"sonority {decimal_text(duration_quarters)} in {count}",
            hint=f"Give {count - 1} steps, so that the whole chord lasts as long as is left, "
            f"or {count} that fill the time.",
        )
    return tuple(given)


def _even_step(quarters: Fraction) -> Fraction:
    """Return a step that is a note value: as long as asked, or the next shorter plain one."""
    if single_value(quarters) is not None:
        return quarters
    return next((length for length in QUARTERS_BY_TYPE.values() if length <= quarters), quarters)
