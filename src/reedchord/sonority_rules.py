"""What must hold between the fields of a sonority, and what deserves a warning."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from reedchord.errors import InputError, did_you_mean
from reedchord.fingering import fingering_remarks, unknown_keys
from reedchord.keywork import KEYS, exists_on
from reedchord.pitch import Pitch, parse_pitch, signed_cents_text
from reedchord.saxophones import FAMILY, Saxophone
from reedchord.sonority_fields import Evidence, Presence, SonorityFields

AGREE_WITHIN_CENTS = 1
"""Written and concert pitch of one tone may differ by rounding, not by more."""

_OCTAVE = 1200
LOWEST_WRITTEN, HIGHEST_WRITTEN = parse_pitch("A2"), parse_pitch("C8")
"""No tone of a saxophone is written beyond: an octave below low A, and far above altissimo
(common practice, no source). They are the same for all, so that carrying never breaks a rule."""


class Contradiction(NamedTuple):
    """A rule that a record breaks; `field` leads from the record to the field at fault."""

    field: tuple[str | int, ...]
    error: InputError


def contradictions(sonority: SonorityFields) -> list[Contradiction]:
    """Return every rule that the record breaks, with the field where it does."""
    return [found for rule in _RULES for found in rule(sonority)]


def warnings(sonority: SonorityFields) -> list[str]:
    """Return sentences on what is unusual but may be right; the player decides."""
    return [sentence for rule in _WARNINGS for sentence in rule(sonority)]


def _broken(
    field: tuple[str | int, ...], code: str, message: str, hint: str | None = None
) -> Contradiction:
    return Contradiction(field, InputError(code, message, hint=hint))


def _pitches_agree(sonority: SonorityFields) -> Iterator[Contradiction]:
    for index, tone in enumerate(sonority.tones):
        if tone.written is None or tone.concert is None:
            continue
        expected = sonority.saxophone.concert(tone.written)
        if not _near(expected, tone.concert):
            yield _broken(
                ("tones", index, "concert"),
                "tone.disagree",
                f"tone {index + 1}: written {tone.written} on {sonority.saxophone.name} "
                f"sounds {expected}, not {tone.concert}",
                _likely_slip(sonority.saxophone, tone.written, tone.concert),
            )


def _likely_slip(member: Saxophone, written: Pitch, concert: Pitch) -> str:
    """Guess what went wrong when the two pitches of a tone do not belong together."""
    if _near(written, concert):
        return "Both fields hold the same pitch: is it the written or the concert one?"
    if _near(member.concert(concert), written):
        return "The two are exchanged."
    fitting = [other.name for other in FAMILY.values() if _near(other.concert(written), concert)]
    belong = f"they belong together on {fitting[0]}: is the saxophone right?" if fitting else ""
    gap = concert.cents - member.concert(written).cents
    octaves = round(gap / _OCTAVE)
    if octaves and abs(gap - octaves * _OCTAVE) <= AGREE_WITHIN_CENTS:
        slip = f"The concert pitch is {_octaves(octaves)}: check its octave number."
        return f"{slip} Or {belong}" if fitting else slip
    if fitting:
        return f"T{belong[1:]}"
    if abs(gap) < 100:
        return f"They are {signed_cents_text(gap)} cents apart: check the cents or their sign."
    return "Give one of the two and leave the other out."


def _octaves(count: int) -> str:
    way = "high" if count > 0 else "low"
    return f"an octave too {way}" if abs(count) == 1 else f"{abs(count)} octaves too {way}"


def _near(one: Pitch, other: Pitch) -> bool:
    return abs(one.cents - other.cents) <= AGREE_WITHIN_CENTS


def _tones_ascend(sonority: SonorityFields) -> Iterator[Contradiction]:
    given = sonority.written_pitches
    order = sorted(given, key=lambda pitch: pitch.cents)
    if [pitch.cents for pitch in given] != [pitch.cents for pitch in order]:
        hint = f"Write them as {', '.join(map(str, order))}."
        yield _broken(("tones",), "tones.order", "the tones do not stand lowest first", hint)
    for low, high in pairwise(order):
        if low.cents == high.cents:
            last = max(i for i, pitch in enumerate(given) if pitch.cents == high.cents)
            yield _broken(("tones", last), "tones.twice", f"the tone {high} is listed twice")


def _tones_in_range(sonority: SonorityFields) -> Iterator[Contradiction]:
    lowest = sonority.saxophone.lowest_written
    for index, pitch in enumerate(sonority.written_pitches):
        if not LOWEST_WRITTEN.cents <= pitch.cents <= HIGHEST_WRITTEN.cents:
            given = "concert" if sonority.tones[index].written is None else "written"
            yield _broken(
                ("tones", index, given),
                "tone.range",
                f"tone {index + 1}, written {pitch}, is out of reach of the {sonority.saxophone}",
                f"Written notes start at {lowest}; is this a concert pitch or a wrong octave?",
            )


def _keys_exist(sonority: SonorityFields) -> Iterator[Contradiction]:
    for name in unknown_keys(sonority.fingering, sonority.saxophone.name):
        there = [key for key in KEYS if exists_on(KEYS[key], sonority.saxophone.name)]
        yield _broken(
            ("fingering",),
            "fingering.no-such-key",
            f"the {sonority.saxophone} has no key {name!r}",
            did_you_mean(name, there),
        )


def _emphasis_exists(sonority: SonorityFields) -> Iterator[Contradiction]:
    try:
        number = sonority.emphasised_number
    except InputError as error:
        message = f"emphasised tone: {error.message}"
        yield _broken(("emphasised",), "emphasised.unknown", message, error.hint)
        return
    if number is None:
        return
    tone = sonority.tones[number - 1]
    marks = sonority.dynamics.marks() if sonority.dynamics else tuple(tone.presence)
    if marks and all(tone.presence_at(mark) is Presence.ABSENT for mark in marks):
        yield _broken(
            ("tones", number - 1, "presence"),
            "presence.emphasised",
            f"the emphasised tone {sonority.written(number)} is absent at every dynamic",
        )


def _build_up_is_of_tones(sonority: SonorityFields) -> Iterator[Contradiction]:
    for index, number in enumerate(sonority.build_up):
        if number not in sonority.numbers:
            yield _broken(
                ("build_up", index),
                "build-up.unknown",
                f"the build-up names tone {number}; the tones are 1 to {len(sonority.tones)}",
            )
        elif number in sonority.build_up[:index]:
            yield _broken(
                ("build_up", index), "build-up.twice", f"the build-up names tone {number} twice"
            )


def _presence_fits_dynamics(sonority: SonorityFields) -> Iterator[Contradiction]:
    if sonority.dynamics is None:
        return
    for index, tone in enumerate(sonority.tones):
        outside = [
            f"{word} at {mark}"
            for mark, word in tone.presence.items()
            if word is not Presence.ABSENT and mark not in sonority.dynamics
        ]
        if outside:
            yield _broken(
                ("tones", index, "presence"),
                "presence.outside",
                f"tone {index + 1} is {', '.join(outside)}, but the sonority speaks only at "
                f"{sonority.dynamics}",
                "Widen the dynamics, or leave that presence out.",
            )
    for mark in sonority.dynamics.marks():
        if all(tone.presence_at(mark) is Presence.ABSENT for tone in sonority.tones):
            yield _broken(
                ("dynamics",),
                "presence.silent",
                f"every tone is absent at {mark}, yet the sonority is said to speak there",
            )


def _limits_fit_dynamics(sonority: SonorityFields) -> Iterator[Contradiction]:
    seen = set()
    for index, limit in enumerate(sonority.limits):
        if limit.articulation in seen:
            yield _broken(
                ("limits", index, "articulation"),
                "limit.twice",
                f"there are two limits for {limit.articulation}",
                "Keep the fastest one.",
            )
        seen.add(limit.articulation)
        outside = [
            mark
            for mark in (limit.dynamics.marks() if limit.dynamics else ())
            if sonority.dynamics and mark not in sonority.dynamics
        ]
        if outside:
            yield _broken(
                ("limits", index, "dynamics"),
                "limit.outside",
                f"the limit for {limit.articulation} allows {limit.dynamics}, but the sonority "
                f"speaks only at {sonority.dynamics}",
            )


_SOURCE_NEEDED = {
    Evidence.DOCUMENTED: "a documented sonority names its source",
    Evidence.CARRIED: "a carried sonority names its source, or what it was carried from",
    Evidence.TRIED: "a tried sonority names the set-up that it was tried on, or its source",
    Evidence.MEASURED: "a measured sonority names the set-up that was measured, or its source",
}


def _source_is_given(sonority: SonorityFields) -> Iterator[Contradiction]:
    instead = {
        Evidence.CARRIED: sonority.carried_from,
        Evidence.TRIED: sonority.set_up,
        Evidence.MEASURED: sonority.set_up,
    }.get(sonority.evidence)
    if sonority.evidence in _SOURCE_NEEDED and not (sonority.source or instead):
        yield _broken(
            ("evidence",),
            "source.missing",
            _SOURCE_NEEDED[sonority.evidence],
            "Add source: {id: …, page: …}; or for your own: evidence: tried, and set_up: ….",
        )


def _others_are_others(sonority: SonorityFields) -> Iterator[Contradiction]:
    seen = {sonority.id: "the sonority is listed as its own neighbour"}
    for index, neighbour in enumerate(sonority.neighbours):
        if neighbour.sonority in seen:
            field = ("neighbours", index, "sonority")
            yield _broken(field, "neighbour.twice", seen[neighbour.sonority])
        seen[neighbour.sonority] = f"the neighbour {neighbour.sonority!r} is listed twice"
    if sonority.carried_from == sonority.id:
        message = "the sonority is carried from itself"
        yield _broken(("carried_from",), "carried-from.self", message)
    for index, other in enumerate(sonority.same_fingering_as):
        if other == sonority.id or other in sonority.same_fingering_as[:index]:
            where = "itself" if other == sonority.id else "twice"
            message = f"the sonority names {other!r} {where} for the same fingering"
            yield _broken(("same_fingering_as", index), "same-fingering.twice", message)


_RULES = (
    _pitches_agree,
    _tones_ascend,
    _tones_in_range,
    _keys_exist,
    _emphasis_exists,
    _build_up_is_of_tones,
    _presence_fits_dynamics,
    _limits_fit_dynamics,
    _source_is_given,
    _others_are_others,
)


def _unusual_fingering(sonority: SonorityFields) -> Iterator[str]:
    yield from fingering_remarks(sonority.fingering, sonority.saxophone)


def _tones_below_the_tube(sonority: SonorityFields) -> Iterator[str]:
    lowest = sonority.saxophone.lowest_written
    for number in sonority.numbers:
        pitch = sonority.written(number)
        if pitch.cents < lowest.cents - 50:
            yield (
                f"tone {number}, written {pitch}, lies below the lowest note {lowest}: "
                "a difference tone, or a wrong octave"
            )


def _limits_beyond_tongues(sonority: SonorityFields) -> Iterator[str]:
    for limit in sonority.limits:
        yield from limit.doubts()


_WARNINGS = (_unusual_fingering, _tones_below_the_tube, _limits_beyond_tongues)
