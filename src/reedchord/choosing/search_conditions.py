"""The wishes that a sonority either meets or is ruled out by: one function for each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product
from typing import NamedTuple

from reedchord.choosing.connection import POINTS_OF_DOCUMENTED, POINTS_OF_UNKNOWN_EMBOUCHURE
from reedchord.choosing.neighbours import best_reason, statements_about
from reedchord.choosing.search_wish import Wish, deviation_cents
from reedchord.choosing.whole_parts import common_parts, gaps_in_parts, in_parts
from reedchord.collection import Collection
from reedchord.dynamics import Dynamic
from reedchord.errors import RequestError
from reedchord.fingering_change import change_difficulty
from reedchord.numbers_as_text import decimal_text
from reedchord.pitch import Pitch, signed_cents_text
from reedchord.rhythm import Rate
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Closeness, Evidence, Limit, Presence, Tone

COST_OF_UNKNOWN = 30
"""What it costs where nobody has said whether a wish is met."""


class Heard(NamedTuple):
    """A tone as it is heard at the wished dynamic, or at its best one.

    `cents` are concert or written, as the wish has it; `presence` is None where it is not
    known.
    """

    number: int
    cents: Fraction
    concert_cents: Fraction
    presence: Presence | None


class Verdict(NamedTuple):
    """What came of one wish: it rules the sonority out, or costs something and is told."""

    wish: str
    words: str
    rules_out: bool = False
    cost: int = 0


@dataclass(frozen=True)
class Search:
    """A wish over a collection, with what is looked up once for all sonorities."""

    wish: Wish
    home: Sonority | None
    """The sonority to connect to."""
    documented: Mapping[str, Closeness]
    """Ids that records name as its neighbours, in either direction, each with the best reason."""


def search_in(collection: Collection, wish: Wish) -> Search:
    """Return the search; raises RequestError where the sonority to connect to is not there."""
    if wish.connects_to is None:
        return Search(wish, None, {})
    home = collection[wish.connects_to]
    if wish.saxophones and home.saxophone not in wish.saxophones:
        raise RequestError(
            "find.impossible",
            f"{home.id} is for {home.saxophone.name}: nothing for another saxophone connects to it",
            hint=f"Wish for --saxophone {home.saxophone.name}, or for no connection.",
        )
    said = statements_about(home, collection)
    return Search(wish, home, {near: best_reason(lines) for near, lines in said.items()})


_PROMINENCE = tuple(Presence)


def heard_tones(sonority: Sonority, wish: Wish) -> tuple[Heard, ...]:
    """Return the tones that are not absent at the wished dynamic, lowest first."""
    return tuple(tone for tone in _tones(sonority, wish) if tone.presence is not Presence.ABSENT)


def silent_tones(sonority: Sonority, wish: Wish) -> tuple[Heard, ...]:
    """Return the tones that are absent at the wished dynamic, lowest first."""
    return tuple(tone for tone in _tones(sonority, wish) if tone.presence is Presence.ABSENT)


def _tones(sonority: Sonority, wish: Wish) -> Iterator[Heard]:
    shift_cents = 100 * sonority.saxophone.semitones
    for number, tone in enumerate(sonority.tones, start=1):
        concert_cents = _concert_cents(tone, shift_cents)
        cents = concert_cents - shift_cents if wish.written else concert_cents
        yield Heard(number, cents, concert_cents, presence_of(tone, wish.dynamic))


def presence_of(tone: Tone, dynamic: Dynamic | None) -> Presence | None:
    """Return the presence at a dynamic, or the best one anywhere; None where it is not known."""
    if dynamic is not None:
        return tone.presence_at(dynamic)
    return min(tone.presence.values(), key=_PROMINENCE.index, default=None)


def _concert_cents(tone: Tone, shift_cents: int) -> Fraction:
    if tone.written is not None:
        return tone.written.alteration_cents + (tone.written.natural_cents + shift_cents)
    assert tone.concert is not None  # a tone without either is refused
    return tone.concert.cents


def verdicts(search: Search, sonority: Sonority, heard: tuple[Heard, ...]) -> list[Verdict]:
    """Return what comes of every wish but the wished pitches themselves."""
    return [verdict for rule in _RULES for verdict in rule(search, sonority, heard)]


Rule = Callable[[Search, Sonority, tuple[Heard, ...]], Iterator[Verdict]]


def _saxophone(search: Search, sonority: Sonority, _: tuple[Heard, ...]) -> Iterator[Verdict]:
    wished = search.wish.saxophones
    if wished and sonority.saxophone not in wished:
        yield Verdict("saxophone", f"it is for {sonority.saxophone.name}", rules_out=True)


def _evidence(search: Search, sonority: Sonority, _: tuple[Heard, ...]) -> Iterator[Verdict]:
    least = search.wish.evidence
    order = tuple(Evidence)
    if least is not None and order.index(sonority.evidence) < order.index(least):
        words = f"its evidence is {sonority.evidence}, weaker than {least}"
        yield Verdict("evidence", words, rules_out=True)


def _tone_count(search: Search, _: Sonority, heard: tuple[Heard, ...]) -> Iterator[Verdict]:
    wished = search.wish.tone_count
    if wished is not None and len(heard) != wished:
        at = f" at {search.wish.dynamic}" if search.wish.dynamic else ""
        yield Verdict("tones", f"it has {len(heard)} tones{at}, not {wished}", rules_out=True)


def _dynamic(search: Search, sonority: Sonority, _: tuple[Heard, ...]) -> Iterator[Verdict]:
    wished = search.wish.dynamic
    if wished is None:
        return
    possible = sonority.possible_dynamics()
    if possible is None:
        yield Verdict("dynamic", "its dynamics are not known", cost=COST_OF_UNKNOWN)
    elif wished not in possible:
        yield Verdict("dynamic", f"it speaks at {possible}, not at {wished}", rules_out=True)


def _speed(search: Search, sonority: Sonority, _: tuple[Heard, ...]) -> Iterator[Verdict]:
    wish = search.wish
    if not wish.asks_for_speed:
        return
    limits, usable = usable_limits(sonority, wish.articulation, wish.dynamic)
    if not limits:
        way = f" ({wish.articulation})" if wish.articulation else ""
        words = f"how fast it can be articulated{way} is not known"
        yield Verdict("speed", words, cost=COST_OF_UNKNOWN)
        return
    fastest = max(usable or limits, key=lambda limit: limit.fastest.attacks_per_second)
    if usable and _is_within(wish.speed, fastest.fastest):
        yield Verdict("speed", fastest.words())
    else:
        at = f" at {wish.dynamic}" if wish.dynamic else ""
        subject = f"{wish.speed.words()}{at} are" if wish.speed else f"{wish.articulation}{at} is"
        yield Verdict("speed", f"{subject} beyond it ({fastest.words()})", rules_out=True)


def usable_limits(
    sonority: Sonority, articulation: Articulation | None, dynamic: Dynamic | None
) -> tuple[list[Limit], list[Limit]]:
    """Return the limits for a way of articulating, any but slurs where none is named.

    First all of them, then those that hold at the dynamic.
    """
    limits = [limit for limit in sonority.limits if _is_way(limit.articulation, articulation)]
    return limits, [limit for limit in limits if _possible_at(limit, dynamic)]


def _is_way(articulation: Articulation, wished: Articulation | None) -> bool:
    return articulation is wished if wished else articulation is not Articulation.SLUR


def _is_within(wished: Rate | None, fastest: Rate) -> bool:
    return wished is None or wished.attacks_per_second <= fastest.attacks_per_second


def _possible_at(limit: Limit, dynamic: Dynamic | None) -> bool:
    return dynamic is None or limit.dynamics is None or dynamic in limit.dynamics


def _outer_tones(search: Search, sonority: Sonority, heard: tuple[Heard, ...]) -> Iterator[Verdict]:
    wish = search.wish
    if not heard or not (wish.lowest or wish.highest):
        return
    by_height = sorted(heard, key=lambda tone: tone.cents)
    for name, pitch, tone in (
        ("lowest", wish.lowest, by_height[0]),
        ("highest", wish.highest, by_height[-1]),
    ):
        if pitch is not None:
            yield _outer_tone(wish, name, pitch, pitch_of(sonority, tone, wish), tone)


def _outer_tone(wish: Wish, name: str, pitch: Pitch, found: Pitch, tone: Heard) -> Verdict:
    gap = deviation_cents(pitch.cents, tone.cents, pitch_class=wish.pitch_class)
    words = f"its {name} tone is {found.printed()}, {gap_words(gap)} {wish.words_for(pitch)}"
    return Verdict(name, words, rules_out=abs(gap) > wish.within_cents, cost=round(abs(gap)))


def _intervals(search: Search, _: Sonority, heard: tuple[Heard, ...]) -> Iterator[Verdict]:
    within_cents = search.wish.within_cents
    for semitones in search.wish.intervals:
        shown = f"{decimal_text(semitones)} semitones"
        nearest = _nearest_interval(search.wish, 100 * semitones, heard)
        if nearest is None:
            yield Verdict("interval", f"it has no two tones for {shown}", rules_out=True)
            continue
        low, high, gap = nearest
        words = f"{shown} between tones {low.number} and {high.number}, by {_signed(gap)} cents"
        if abs(gap) > within_cents:
            words = f"nearest to {words}"
        yield Verdict("interval", words, rules_out=abs(gap) > within_cents, cost=round(abs(gap)))


def _nearest_interval(
    wish: Wish, wished_cents: Fraction, heard: tuple[Heard, ...]
) -> tuple[Heard, Heard, Fraction] | None:
    """Return the two tones that are nearest to an interval, and the cents above it."""
    cents = [wished_cents, *(tone.cents for tone in heard)]
    parts = common_parts(cents)
    wished, *heights = in_parts(cents, parts)
    widths = [abs(high - low) for low, high in combinations(heights, 2)]
    gaps = gaps_in_parts(wished, widths, parts, pitch_class=wish.pitch_class)
    every = zip(combinations(heard, 2), gaps, strict=True)
    nearest = min(every, key=lambda one: abs(one[1]), default=None)
    if nearest is None:
        return None
    (low, high), gap = nearest
    return low, high, Fraction(gap, parts)


def _avoid(search: Search, sonority: Sonority, heard: tuple[Heard, ...]) -> Iterator[Verdict]:
    for pitch, tone in product(search.wish.avoid, heard):
        gap = tone.concert_cents - pitch.cents
        if abs(gap) <= search.wish.avoid_within_cents:
            sounding = sonority.concert(tone.number).printed()
            words = f"tone {tone.number} sounds {sounding}, {gap_words(gap)} {pitch.printed()}"
            yield Verdict("avoid", words, rules_out=True)


def connection(search: Search, sonority: Sonority, _: tuple[Heard, ...]) -> Iterator[Verdict]:
    """Yield what comes of the wish to connect: at most one verdict."""
    home = search.home
    if home is None:
        return
    if sonority.id == home.id:
        yield Verdict("connects to", "it is that sonority itself", rules_out=True)
    elif sonority.saxophone != home.saxophone:
        words = f"it is for {sonority.saxophone.name}, {home.id} for {home.saxophone.name}"
        yield Verdict("connects to", words, rules_out=True)
    elif sonority.id in search.documented:
        because = search.documented[sonority.id]
        words = f"documented neighbour of {home.id} ({because})"
        yield Verdict("connects to", words, cost=POINTS_OF_DOCUMENTED[because])
    else:
        change = change_difficulty(home.fingering, sonority.fingering)
        hard, cost = change.grade == "hard", change.score + POINTS_OF_UNKNOWN_EMBOUCHURE
        words = f"computed change from {home.id}: {change.grade} ({change.score}), {change.words}"
        yield Verdict("connects to", words, rules_out=hard, cost=cost)


_RULES: tuple[Rule, ...] = (
    _saxophone,
    _evidence,
    _tone_count,
    _dynamic,
    _speed,
    _outer_tones,
    _intervals,
    _avoid,
    connection,
)
"""Every rule; a new wish is a new function here."""


def pitch_of(sonority: Sonority, tone: Heard, wish: Wish) -> Pitch:
    """Return the tone's pitch in the words of the wish: written, or else concert."""
    return sonority.written(tone.number) if wish.written else sonority.concert(tone.number)


def gap_words(gap: Fraction) -> str:
    """Return a gap in cents as words: `18 cents below`, `exactly`."""
    if not gap:
        return "exactly"
    return f"{decimal_text(abs(gap))} cents {'above' if gap > 0 else 'below'}"


def _signed(gap: Fraction) -> str:
    return signed_cents_text(gap).replace("-", "−")
