"""A sonority as a page of plain text that a player can read."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from reedchord.pitch import A4_HZ
from reedchord.pitch_names import ABOUT_NAMES, PitchNames
from reedchord.reader import reader
from reedchord.sonority import Sonority
from reedchord.sonority_rules import warnings
from reedchord.text_table import WIDTH, aligned
from reedchord.wording import (
    CAUTIONS,
    evidence_words,
    presence_told,
    source_words,
    timed_limit_words,
)

if TYPE_CHECKING:
    from reedchord.trials.tried import Tried

_LABEL_WIDTH = 12


def card_text(sonority: Sonority, *, a4_hz: float = A4_HZ, tried: Tried | None = None) -> str:
    """Return everything that a record says, its warnings and the usual cautions.

    With what a set-up `tried`, that is shown first, and what was documented beside it.
    """
    rows = [
        ("Fingering", sonority.fingering.words()),
        ("", f"in a score: {sonority.fingering.short()}"),
        *_dynamics(sonority),
        *_limits(sonority),
        *_neighbours(sonority),
        *_build_up(sonority),
        ("Pitches", _about_names()),
        ("Advice", sonority.advice or ""),
        ("Evidence", evidence_words(sonority)),
        *_tried(tried),
        ("Source", source_words(sonority)),
        ("Carried", f"from {sonority.carried_from}" if sonority.carried_from else ""),
        ("Same keys", ", ".join(sonority.same_fingering_as)),
        *(("Warning", sentence) for sentence in warnings(sonority)),
        *(("" if index else "Caution", sentence) for index, sentence in enumerate(CAUTIONS)),
    ]
    title = f"{sonority.id}: {sonority.label()}, {sonority.saxophone}"
    facts = [_row(label, words) for label, words in rows if words]
    return "\n".join([title, "", *_tone_table(sonority, a4_hz), "", *facts]) + "\n"


def _about_names() -> str:
    names = reader().pitch_names
    return "" if names is PitchNames.ENGLISH else ABOUT_NAMES[names]


def _row(label: str, words: str) -> str:
    return textwrap.fill(
        words,
        WIDTH,
        initial_indent=f"{label:<{_LABEL_WIDTH}}",
        subsequent_indent=" " * _LABEL_WIDTH,
        break_on_hyphens=False,
    )


def _tone_table(sonority: Sonority, a4_hz: float) -> list[str]:
    head = ("tone", "written", "concert", f"Hz (A4 = {a4_hz:g})", "presence")
    rows = [
        (
            str(number),
            sonority.written(number).printed(),
            sonority.concert(number).printed(),
            f"{sonority.concert(number).hz(a4_hz):.1f}",
            presence_told(tone)
            + ("  (emphasised)" if number == sonority.emphasised_number else ""),
        )
        for number, tone in zip(sonority.numbers, sonority.tones, strict=True)
    ]
    return aligned([head, *rows])


def _dynamics(sonority: Sonority) -> list[tuple[str, str]]:
    dynamics = sonority.possible_dynamics()
    return [("Dynamics", f"speaks at {dynamics}" if dynamics else "not known")]


def _limits(sonority: Sonority) -> list[tuple[str, str]]:
    lines = timed_limit_words(sonority) or ["not known"]
    return [("" if index else "Limits", words) for index, words in enumerate(lines)]


def _neighbours(sonority: Sonority) -> list[tuple[str, str]]:
    return [
        (
            "" if index else "Neighbours",
            f"{near.sonority}: {near.because}" + (f"; {near.note}" if near.note else ""),
        )
        for index, near in enumerate(sonority.neighbours)
    ]


def _tried(tried: Tried | None) -> list[tuple[str, str]]:
    if tried is None:
        return []
    from reedchord.trials.tried_text import trial_lines, tried_rows

    if not tried.trials:
        return [("Tried", f"not with {tried.set_up.id}: {tried.set_up.words()}")]
    rows = [("With", tried.set_up.words()), *tried_rows(tried)]
    rows += [("Trials", line) for line in trial_lines(tried)]
    before = ["", *(label for label, _ in rows)]
    return [
        (label if label != last else "", words)
        for last, (label, words) in zip(before, rows, strict=False)
    ]


def _build_up(sonority: Sonority) -> list[tuple[str, str]]:
    order = ", then ".join(sonority.written(number).printed() for number in sonority.build_up)
    return [("Build-up", order)]
