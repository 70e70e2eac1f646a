"""What is printed and kept at a placement: words, fingering, hidden footnote."""

from __future__ import annotations

import re

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.played import Played
from reedchord.placement.record import is_legend

OUR_LABEL = re.compile(r"M[1-9][0-9]*")


def words_at(checked: CheckedScore, played: Played) -> tuple[str, ...]:
    """Return the texts of the word directions that stand at a placement's beginning."""
    bar_index, event = played.found.chain[0]
    timeline = checked.part(played).music.bar(bar_index)
    texts = (
        words.text or ""
        for onset, direction in timeline.directions
        if onset == event.onset_quarters
        for words in direction.iterfind("direction-type/words")
    )
    return tuple(text for text in texts if not is_legend(text))


def labels_at(checked: CheckedScore, played: Played) -> tuple[str, ...]:
    """Return the labels that stand at a placement: first words that look like one of ours."""
    firsts = (words.split(maxsplit=1)[0] for words in words_at(checked, played) if words.split())
    return tuple(first for first in firsts if OUR_LABEL.fullmatch(first))


def fingerings_of(played: Played) -> tuple[str, ...]:
    """Return the fingerings that are printed at a placement."""
    return tuple(
        (element.text or "").strip()
        for _, event in played.found.chain
        for note in event.notes
        for element in note.iterfind("notations/technical/fingering")
    )


def footnotes_of(played: Played) -> tuple[str, ...]:
    """Return the hidden footnotes of a placement's notes."""
    texts = (
        (note.findtext("footnote") or "").strip()
        for _, event in played.found.chain
        for note in event.notes
    )
    return tuple(text for text in texts if text)
