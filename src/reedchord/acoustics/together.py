"""Tones that sound together, each judged by harmonics that no other one reaches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.following import (
    HIGHEST_FOLLOWED_HZ,
    Followed,
    Harmonics,
    harmonics_near,
    held,
)
from reedchord.acoustics.spectrum import CENTS_A_NEPER, Reals, Spectra, in_half_the_window
from reedchord.acoustics.swing import mended

_REACH_CENTS, _NEAR_REACH_CENTS = 45.0, 20.0
"""How far a harmonic is looked for: first about one height, then about the course found."""
_ROUGHLY = 10
_REACHED_LOBES = 0.8
"""Nearer than that, two harmonics disturb each other."""
_THEIRS, _REACHED = 0.05, 0.3
"""Trust in a harmonic at which another tone's lies, and in one near to which it does."""
_THEIRS_LOCKED = 1.5
"""A peak within so many times its usual distance of another tone's harmonic is that one."""
_NUMBERED = 40
"""The highest harmonic with which a tone may disturb another."""
_LEAST_OWN, _OWN_FRAMES, _GAP_FRAMES = 0.12, 8, 8
"""Less trust than that share is left where another tone is all that is seen; how many frames of
its own a tone must have, and half of how many without are no silence."""
_VIBRATO_CENTS = 3.0
"""A tone that moves so far from frame to frame is looked at through a shorter window too."""
_APART, _FRAMES, _MOVES = 1.5, 6.0, 0.55
"""How much each cause of uncertainty weighs, fitted to mixtures of notes."""
_SAID_SHARE, _UNTOLD_CENTS = 0.02, 20.0
"""A harmonic that says less of the height is not asked; how unsure a frame is that none tells."""


def _is_near(
    found: Spectra, harmonics: Harmonics, course_cents: Reals, other: Followed
) -> NDArray[np.bool_]:
    """Tell which harmonics of a tone another tone's come near to, frame by frame."""
    hz = harmonics.numbers[:, None] * 2 ** (course_cents / 1200)
    base_hz = 2 ** (other.course_cents / 1200)
    theirs = np.clip(np.rint(hz / base_hz), 1, _NUMBERED)
    return np.asarray(np.abs(hz - theirs * base_hz) < _REACHED_LOBES * found.lobe_hz)


def _is_theirs(harmonics: Harmonics, other: Followed) -> NDArray[np.bool_]:
    """Tell which peaks that were taken for harmonics of a tone lie at another tone's."""
    numbers, heights = harmonics.numbers[:, None], harmonics.heights_cents
    theirs = np.rint(numbers * 2 ** ((heights - other.course_cents) / 1200))
    ratio = CENTS_A_NEPER * np.log(numbers / np.clip(theirs, 1, _NUMBERED))
    off_cents = np.abs(heights + ratio - other.course_cents)
    return np.asarray(off_cents < _THEIRS_LOCKED * harmonics.locked_cents)


def free_of(found: Spectra, one: Followed, others: Sequence[Followed]) -> NDArray[np.bool_]:
    """Tell which harmonics of a tone no other tone's harmonic comes near to."""
    is_free = np.ones(one.harmonics.powers.shape, dtype=np.bool_)
    for other in others:
        is_free &= ~_is_near(found, one.harmonics, one.course_cents, other)
    return is_free


def _own(
    found: Spectra, harmonics: Harmonics, course_cents: Reals, others: Sequence[Followed]
) -> Harmonics:
    """Return the harmonics of a tone with less trust where another's may be seen instead."""
    share = np.ones(harmonics.powers.shape)
    for other in others:
        share[_is_near(found, harmonics, course_cents, other)] *= _REACHED
        share[_is_theirs(harmonics, other)] *= _THEIRS
    return harmonics.trusted(np.maximum(share, _THEIRS))


def follow(
    found: Spectra,
    frequency_hz: float,
    sounds: NDArray[np.bool_],
    others: Sequence[Followed] = (),
) -> Followed:
    """Follow the tone at about a frequency, vibrato and all, beside others that are known."""
    course_cents = np.full(len(found.power), 1200 * float(np.log2(frequency_hz)))
    far = harmonics_near(found, course_cents, _REACH_CENTS, _ROUGHLY)
    rough = held(_own(found, far, course_cents, others), sounds, found.hop_seconds)
    return _look(found, rough.course_cents, sounds, others)


def _look(
    found: Spectra,
    course_cents: Reals,
    sounds: NDArray[np.bool_],
    others: Sequence[Followed],
) -> Followed:
    near = harmonics_near(found, course_cents, _NEAR_REACH_CENTS)
    own = _own(found, near, course_cents, others)
    made = held(own, _entered(near, own, sounds), found.hop_seconds)
    return replace(made, harmonics=near, sounds=sounds)


def _entered(near: Harmonics, own: Harmonics, sounds: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Tell the frames in which a tone sounds, less those before its entry or after its end.

    There nearly all that is near is another tone's. A few such frames within it are kept.
    """
    share = np.sum(own.trust, axis=0) / np.maximum(np.sum(near.trust, axis=0), 1e-9)
    is_own = share > _LEAST_OWN
    if np.all(is_own):
        return sounds
    apart = np.pad(sounds & is_own, 2 * _GAP_FRAMES)
    views = np.lib.stride_tricks.sliding_window_view
    widened = np.any(views(apart, 2 * _GAP_FRAMES + 1), axis=1)
    closed = sounds & np.all(views(widened, 2 * _GAP_FRAMES + 1), axis=1)
    return closed if np.sum(closed) >= _OWN_FRAMES else sounds


def judged_together(found: Spectra, tones: Sequence[Followed]) -> tuple[Followed, ...]:
    """Follow tones by those harmonics above all that are free of the others.

    A long window parts tones, a short one shows vibrato: a tone that has any is seen in both.
    """
    moves = [_has_vibrato(one) for one in tones]
    short = in_half_the_window(found, 1.1 * HIGHEST_FOLLOWED_HZ) if any(moves) else found
    closer = [
        _look(short, one.course_cents, one.sounds, ()) if is_moving else one
        for one, is_moving in zip(tones, moves, strict=True)
    ]
    judged = []
    for place, one in enumerate(tones):
        own = _own(found, one.harmonics, one.course_cents, [*tones[:place], *tones[place + 1 :]])
        sounds = _entered(one.harmonics, own, one.sounds)
        if moves[place]:
            course_cents = closer[place].course_cents
            near = harmonics_near(short, course_cents, _NEAR_REACH_CENTS)
            others = [*closer[:place], *closer[place + 1 :]]
            own = own.with_(_own(short, near, course_cents, others))
        whole = held(own, sounds, found.hop_seconds)
        if moves[place]:
            course = mended(whole.course_cents, whole.held, found.hop_seconds)
            whole = replace(whole, course_cents=course)
        judged.append(whole)
    return tuple(judged)


def _has_vibrato(one: Followed) -> bool:
    steps = one.steps_cents
    return len(steps) > 0 and float(np.median(steps)) > _VIBRATO_CENTS


def share_agreeing(one: Followed) -> float:
    """Return how much of the trust in its harmonics goes to those that agree, 0 to 1."""
    trust = one.harmonics.trust[:, one.held > 0]
    agree = one.agreement.cells[:, one.held > 0] > 0
    return float(np.sum(trust * agree) / max(1e-9, float(np.sum(trust))))


def uncertainty_cents(one: Followed) -> float:
    """Return one standard deviation of a tone's height.

    From how far its harmonics lie apart in the mean, how sure they are in each frame, and how
    far the tone moves from frame to frame while few of them tell. The factors were fitted to
    mixtures of notes.
    """
    locked, cells = one.harmonics.locked_cents, one.agreement.cells
    say = cells * one.held
    weights = np.maximum(np.sum(say, axis=1), 1e-12)
    off = np.sum(say * (one.harmonics.heights_cents - one.course_cents), axis=1) / weights
    said = weights > _SAID_SHARE * np.max(weights)
    few = np.sum(said) / max(1, np.sum(said) - 1)
    apart = few * np.sum((weights * off)[said] ** 2) / np.sum(weights[said]) ** 2
    in_frames = 1 / np.maximum(np.sum((cells > 0) / locked**2, axis=0), 1 / _UNTOLD_CENTS**2)
    frames = np.sum(one.held**2 * in_frames) / np.sum(one.held) ** 2
    steps = one.steps_cents
    moves = float(np.mean(steps**2)) if len(steps) else 0.0
    tellers = max(1, int(np.count_nonzero(say)))
    return float(np.sqrt(_APART * apart + _FRAMES * frames + _MOVES * moves / tellers))
