"""What must hold between the fields of a sonority, and what deserves a warning."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from reedchord.errors import InputError, did_you_mean
from reedchord.fingering import finger_warnings, uncertain_keys, unknown_keys
from reedchord.keywork import KEYS, exists_on
from reedchord.pitch import Pitch, parse_pitch, signed_cents_text
from reedchord.saxophones import FAMILY, Saxophone
from reedchord.sonority_fields import Presence, SonorityFields

AGREE_WITHIN_CENTS = 1
"""Written and concert pitch of one tone may differ by rounding, not by more."""

_OCTAVE = 1200
HIGHEST_WRITTEN = parse_pitch("C8")
"""Above it no tone of a saxophone is written (common practice, no source)."""


def first_contradiction(sonority: SonorityFields) -> InputError | None:
    """Return the first rule that the record breaks, None when it is sound."""
    for rule in _RULES:
        for error in rule(sonority):
            return error
    return None


def warnings(sonority: SonorityFields) -> list[str]:
    """Return sentences on what is unusual but may be right; the player decides."""
    return [sentence for rule in _WARNINGS for sentence in rule(sonority)]


def _pitches_agree(sonority: SonorityFields) -> Iterator[InputError]:
    for number, tone in enumerate(sonority.tones, start=1):
        if tone.written is None and tone.concert is None:
            yield InputError(
                "tone.no-pitch", f"tone {number} has neither a written nor a concert pitch"
            )
        elif tone.written is not None and tone.concert is not None:
            expected = sonority.saxophone.concert(tone.written)
            if abs(expected.cents - tone.concert.cents) > AGREE_WITHIN_CENTS:
                yield InputError(
                    "tone.disagree",
                    f"tone {number}: written {tone.written} on {sonority.saxophone.name} "
                    f"sounds {expected}, not {tone.concert}",
                    hint=_likely_slip(sonority.saxophone, tone.written, tone.concert),
                )


def _likely_slip(member: Saxophone, written: Pitch, concert: Pitch) -> str:
    """Guess what went wrong when the two pitches of a tone do not belong together."""
    if _near(written, concert):
        return "Both fields hold the same pitch: is it the written or the concert one?"
    if _near(member.concert(concert), written):
        return "The two are exchanged."
    for other in FAMILY.values():
        if other is not member and _near(other.concert(written), concert):
            return f"They belong together on {other.name}: is the saxophone right?"
    gap = concert.cents - member.concert(written).cents
    octaves = round(gap / _OCTAVE)
    if octaves and abs(gap - octaves * _OCTAVE) <= AGREE_WITHIN_CENTS:
        return f"The concert pitch is {_octaves(octaves)}: check its octave number."
    if abs(gap) < 100:
        return f"They are {signed_cents_text(gap)} cents apart: check the cents or their sign."
    return "Give one of the two and leave the other out."


def _octaves(count: int) -> str:
    way = "high" if count > 0 else "low"
    return f"an octave too {way}" if abs(count) == 1 else f"{abs(count)} octaves too {way}"


def _near(one: Pitch, other: Pitch) -> bool:
    return abs(one.cents - other.cents) <= AGREE_WITHIN_CENTS


def _tones_ascend(sonority: SonorityFields) -> Iterator[InputError]:
    heights = [pitch.cents for pitch in sonority.written_pitches]
    if heights != sorted(heights):
        order = sorted(sonority.written_pitches, key=lambda pitch: pitch.cents)
        yield InputError(
            "tones.order",
            "the tones do not stand lowest first",
            hint=f"Write them as {', '.join(map(str, order))}.",
        )
    for low, high in zip(sonority.written_pitches, sonority.written_pitches[1:], strict=False):
        if low.cents == high.cents:
            yield InputError("tones.twice", f"the tone {low} is listed twice")


def _tones_in_range(sonority: SonorityFields) -> Iterator[InputError]:
    lowest = sonority.saxophone.lowest_written
    for number in sonority.numbers:
        pitch = sonority.written(number)
        if pitch.cents < lowest.cents - _OCTAVE or pitch.cents > HIGHEST_WRITTEN.cents:
            yield InputError(
                "tone.range",
                f"tone {number}, written {pitch}, is out of reach of the {sonority.saxophone}",
                hint=f"Written notes start at {lowest}; is this a concert pitch or a wrong octave?",
            )


def _keys_exist(sonority: SonorityFields) -> Iterator[InputError]:
    for name in unknown_keys(sonority.fingering, sonority.saxophone.name):
        there = [key for key in KEYS if exists_on(KEYS[key], sonority.saxophone.name)]
        yield InputError(
            "fingering.no-such-key",
            f"the {sonority.saxophone} has no key {name!r}",
            hint=did_you_mean(name, there),
        )


def _emphasis_exists(sonority: SonorityFields) -> Iterator[InputError]:
    if sonority.emphasised is None:
        return
    try:
        sonority.tone_number(sonority.emphasised)
    except InputError as error:
        yield InputError("emphasised.unknown", f"emphasised tone: {error.message}", hint=error.hint)


def _build_up_is_of_tones(sonority: SonorityFields) -> Iterator[InputError]:
    for number in sonority.build_up:
        if number not in sonority.numbers:
            yield InputError(
                "build-up.unknown",
                f"the build-up names tone {number}; there are {len(sonority.tones)}",
            )
    if len(set(sonority.build_up)) != len(sonority.build_up):
        yield InputError("build-up.twice", "the build-up names a tone twice")


def _presence_fits_dynamics(sonority: SonorityFields) -> Iterator[InputError]:
    for number, tone in enumerate(sonority.tones, start=1):
        for mark, presence in tone.presence.items():
            outside = sonority.dynamics is not None and mark not in sonority.dynamics
            if outside and presence is not Presence.ABSENT:
                yield InputError(
                    "presence.outside",
                    f"tone {number} is {presence} at {mark}, but the sonority speaks only at "
                    f"{sonority.dynamics}",
                    hint="Widen the dynamics, or leave that presence out.",
                )
    yield from _something_sounds(sonority)
    yield from _emphasised_sounds(sonority)


def _something_sounds(sonority: SonorityFields) -> Iterator[InputError]:
    for mark in sonority.dynamics.marks() if sonority.dynamics else ():
        if all(tone.presence_at(mark) is Presence.ABSENT for tone in sonority.tones):
            yield InputError(
                "presence.silent",
                f"every tone is absent at {mark}, yet the sonority is said to speak there",
            )


def _emphasised_sounds(sonority: SonorityFields) -> Iterator[InputError]:
    number = sonority.emphasised_number
    if number is None:
        return
    said = sonority.tones[number - 1].presence.values()
    if said and all(word is Presence.ABSENT for word in said):
        yield InputError(
            "presence.emphasised",
            f"the emphasised tone {sonority.written(number)} is absent at every dynamic",
        )


def _limits_fit_dynamics(sonority: SonorityFields) -> Iterator[InputError]:
    ways = [limit.articulation for limit in sonority.limits]
    for way in sorted({way for way in ways if ways.count(way) > 1}):
        yield InputError("limit.twice", f"there are two limits for {way}")
    for limit in sonority.limits:
        if sonority.dynamics is None or limit.dynamics is None:
            continue
        if limit.dynamics.softest not in sonority.dynamics or (
            limit.dynamics.loudest not in sonority.dynamics
        ):
            yield InputError(
                "limit.outside",
                f"the limit for {limit.articulation} allows {limit.dynamics}, but the sonority "
                f"speaks only at {sonority.dynamics}",
            )


def _source_is_given(sonority: SonorityFields) -> Iterator[InputError]:
    if sonority.evidence == "documented" and sonority.source is None:
        yield InputError(
            "source.missing",
            "a documented sonority names its source",
            hint="Add source: {id: …, page: …}; or evidence: tried, if it is your own.",
        )
    if sonority.evidence == "carried" and not (sonority.source or sonority.carried_from):
        yield InputError(
            "source.missing", "a carried sonority names its source or what it was carried from"
        )


def _neighbour_is_another(sonority: SonorityFields) -> Iterator[InputError]:
    if any(neighbour.sonority == sonority.id for neighbour in sonority.neighbours):
        yield InputError("neighbour.self", "the sonority is listed as its own neighbour")


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
    _neighbour_is_another,
)


def _one_finger_on_far_keys(sonority: SonorityFields) -> Iterator[str]:
    for warning in finger_warnings(sonority.fingering):
        yield warning.message


def _keys_not_on_every_instrument(sonority: SonorityFields) -> Iterator[str]:
    for name in uncertain_keys(sonority.fingering, sonority.saxophone.name):
        yield f"not every {sonority.saxophone} has the {name} key"


def _tones_below_the_tube(sonority: SonorityFields) -> Iterator[str]:
    lowest = sonority.saxophone.lowest_written
    for number in sonority.numbers:
        pitch = sonority.written(number)
        if pitch.cents < lowest.cents - Fraction(50):
            yield (
                f"tone {number}, written {pitch}, lies below the lowest note {lowest}: "
                "a difference tone, or a wrong octave"
            )


_WARNINGS = (_one_finger_on_far_keys, _keys_not_on_every_instrument, _tones_below_the_tube)
