"""What is about to be written at each place: labels and numbers, tones, courses and looks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from reedchord.musicxml.document import Score
from reedchord.numbers_as_text import decimal_text
from reedchord.placement.annotate import tones_at, without_what_is_there
from reedchord.placement.appearance import (
    Appearance,
    Sounding,
    appearance,
    dynamic_directions,
    wanted_tones,
)
from reedchord.placement.course import Course, course
from reedchord.placement.labels import Labels
from reedchord.placement.links import Voicing
from reedchord.placement.record import ID_PREFIX, OtherRecord, ScoreRecord, SlurRecord
from reedchord.placement.slurs import Slurred, Slurs, new_slurs, wants_slur
from reedchord.placement.style import Style
from reedchord.placement.target import Target
from reedchord.placement.wish import Wish

if TYPE_CHECKING:
    from reedchord.placement.found import Found


class Writing(NamedTuple):
    """What is written into: `settled` is the record of placements that stay as they are.

    `standing` says where these are in the score.
    """

    score: Score
    style: Style
    settled: ScoreRecord | None
    standing: tuple[Found, ...] = ()


class Draft(NamedTuple):
    """A placement that is about to be written: its labels, number and looks."""

    wish: Wish
    target: Target
    label: str
    is_first: bool
    number: int
    sounding: Sounding
    course: Course
    voicing: Voicing
    other: OtherRecord | None
    slur: SlurRecord | None


def drafts(writing: Writing, ordered: Sequence[tuple[Wish, Target]]) -> tuple[list[Draft], Slurs]:
    """Return what each wish will be in the score, labels and numbers in the given order.

    Slurs are all that are new, also those between placements that stay.
    """
    score = writing.score
    # Reading all ids takes a while, and few scores have any of our kind.
    may_meet = score.can_have_ids and f"{ID_PREFIX}-" in score.text
    taken_ids = score.ids if may_meet else frozenset[str]()
    labels = Labels(writing.settled, taken_ids)
    numbers = [labels.next_number() for _ in ordered]
    slurred = [
        Slurred(number, target, wish.placement.slur)
        for number, (wish, target) in zip(numbers, ordered, strict=True)
    ]
    slurred += [Slurred(one.row.number, one, wants_slur(one.row)) for one in writing.standing]
    slurs = new_slurs(slurred, taken_ids=taken_ids if score.can_have_ids else None)
    made = [
        _draft(writing, wish, target, labels, number, slurs)
        for number, (wish, target) in zip(numbers, ordered, strict=True)
    ]
    return made, slurs


def _draft(
    writing: Writing, wish: Wish, target: Target, labels: Labels, number: int, slurs: Slurs
) -> Draft:
    label, is_first = labels.label(wish.sonority.id)
    sounding = tones_at(wish.placement, wish.sonority, writing.style, target)
    way = course(wish.placement, wish.sonority, sounding, target.duration_quarters)
    look = appearance(
        sounding,
        wish.placement,
        wish.sonority,
        writing.style,
        label,
        course=way.words,
        is_first=is_first,
        cents_as_words=target.music.has_lyrics,
    )
    if target.keeps_notes:
        look = without_what_is_there(look, target)
    other, other_look = _other(writing, wish, target, labels, label)
    voicing = Voicing(
        look,
        way.members,
        number if writing.score.can_have_ids else None,
        keeps_ties=target.keeps_rhythm and len(way.steps) == 1 and other is None,
        whole_step=way.whole_step,
        directions=dynamic_directions(way.dynamics),
        other=other_look,
        notations=slurs.marks.get(number, ()),
        keeps_notes=target.keeps_notes,
    )
    slur = slurs.records.get(number)
    return Draft(wish, target, label, is_first, number, sounding, way, voicing, other, slur)


def _other(
    writing: Writing, wish: Wish, target: Target, labels: Labels, beside: str
) -> tuple[OtherRecord | None, Appearance | None]:
    """Return the record and the look of the sonority that takes turns, with all its tones."""
    if wish.other is None:
        return None, None
    label, is_first = labels.label(wish.other.id)
    plain = wish.placement.model_copy(update={"tones": None, "emphasised": None})
    sounding = wanted_tones(plain, wish.other, writing.style, is_concert=target.pitch.is_concert)
    look = appearance(
        sounding,
        plain,
        wish.other,
        writing.style,
        label,
        course="",
        is_first=is_first,
        cents_as_words=target.music.has_lyrics,
    )
    # The label alone would make a program take it for a placement of its own.
    footnote = f"with {beside}, {look.at_start.footnote}"
    look = look._replace(at_start=look.at_start._replace(footnote=footnote))
    record = OtherRecord.model_construct(
        label=label,
        pitches=tuple(tone.pitch for tone in sounding.tones),
        cents=tuple(decimal_text(tone.left_over_cents) for tone in sounding.tones),
        numbers=sounding.numbers,
        emphasised=sounding.emphasised,
    )
    return record, look
