"""The sheet over which composer and player meet: its content, whatever it is written as."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from reedchord.collection import Collection
from reedchord.drawing.cents_ruler import cents_ruler
from reedchord.drawing.diagram import sonority_diagram
from reedchord.drawing.picture_files import Picture
from reedchord.drawing.presence_chart import chart_dynamics, presence_chart
from reedchord.drawing.staff_picture import sonority_staff
from reedchord.dynamics import Dynamic
from reedchord.musicxml.document import read_score
from reedchord.pages.sheet_excerpts import SheetExcerpt, excerpts_by_label
from reedchord.pages.sheet_options import NeighbourLine, Options, neighbour_lines, options_for
from reedchord.pitch_names import ABOUT_NAMES
from reedchord.placement.standing import (
    StandingPlacement,
    places_named,
    standing_placements,
    tones_named,
)
from reedchord.reader import reader
from reedchord.sonority import Sonority
from reedchord.sonority_rules import warnings
from reedchord.trials.set_ups import SET_UP_FIELDS
from reedchord.trials.trials import Trials
from reedchord.trials.tried import tried_collection
from reedchord.trials.tried_text import shown_as_tried
from reedchord.wording import (
    evidence_words,
    keys_unbroken,
    presence_told,
    source_words,
    timed_limit_words,
    unbroken,
)

STAFF_SPACE_MM = 1.6


@dataclass(frozen=True)
class SheetTone:
    """One tone in words; `is_wanted` tells whether the score asks for it anywhere."""

    number: int
    written: str
    concert: str
    presence: str
    is_emphasised: bool
    is_wanted: bool


@dataclass(frozen=True)
class SheetPictures:
    """The drawings of one sonority."""

    fingering: Picture
    written_staff: Picture
    concert_staff: Picture
    ruler: Picture
    presence: Picture


@dataclass(frozen=True)
class SheetSonority:
    """All that a sheet tells of one sonority, tones highest first."""

    label: str
    id: str
    name: str
    saxophone: str
    places: str
    excerpts: tuple[SheetExcerpt, ...]
    not_drawn: str
    fingering: str
    pictures: SheetPictures
    tones: tuple[SheetTone, ...]
    emphasis: str
    dynamics: tuple[Dynamic, ...]
    facts: tuple[tuple[str, tuple[str, ...]], ...]
    neighbours: tuple[NeighbourLine, ...]
    options: Options


@dataclass(frozen=True)
class MeetingSheet:
    """A sheet: the score's title and its sonorities in the order of their labels."""

    title: str
    about_names: str
    """What a reader must know before the first pitch."""
    set_up: dict[str, str]
    """What is known of player and instrument, by the headings of its head."""
    sonorities: tuple[SheetSonority, ...]


def meeting_sheet(
    data: bytes,
    collection: Collection | None = None,
    *,
    trials: Trials | None = None,
) -> MeetingSheet:
    """Return the sheet of the bytes of a placed score.

    Alternatives come from `collection`. With `trials`, what a set-up tried goes before what is
    documented, both are told, and what did not speak is not offered. Raises RequestError where
    the score holds no placements.
    """
    score = read_score(data)
    by_label: dict[str, list[StandingPlacement]] = {}
    for one in standing_placements(score):
        by_label.setdefault(one.row.label, []).append(one)
    drawn = excerpts_by_label(score, by_label)
    others = _others(collection, trials)
    return MeetingSheet(
        score.title or "Untitled score",
        ABOUT_NAMES[reader().pitch_names],
        trials.set_up.fields() if trials else dict.fromkeys(SET_UP_FIELDS, ""),
        tuple(
            _entry(label, places, drawn[label], others, trials)
            for label, places in by_label.items()
        ),
    )


class _Others(NamedTuple):
    """A collection to choose others from, whole, and without what did not speak."""

    whole: Collection | None
    speaking: Collection | None


def _others(collection: Collection | None, trials: Trials | None) -> _Others:
    if collection is None or trials is None:
        return _Others(collection, collection)
    mine = tried_collection(collection, trials)
    return _Others(mine.collection, mine.speaking)


def _entry(
    label: str,
    placed: Sequence[StandingPlacement],
    drawn: tuple[tuple[SheetExcerpt, ...], str],
    others: _Others,
    trials: Trials | None,
) -> SheetSonority:
    sonority, tried = shown_as_tried(placed[0].sonority, trials)
    emphasised = placed[0].row.emphasised
    wanted = frozenset(number for one in placed for number in one.row.numbers)
    excerpts, not_drawn = drawn
    return SheetSonority(
        label=label,
        id=sonority.id,
        name=sonority.label(),
        saxophone=str(sonority.saxophone),
        places=places_named(placed),
        excerpts=excerpts,
        not_drawn=not_drawn,
        fingering=keys_unbroken(sonority.fingering.words()),
        pictures=_pictures(sonority, emphasised),
        tones=_tones(sonority, emphasised, wanted),
        emphasis=_emphasis(sonority, placed, wanted),
        dynamics=chart_dynamics(sonority),
        facts=_facts(sonority, tried),
        neighbours=neighbour_lines(sonority, others.whole),
        options=options_for(sonority, wanted, emphasised, others.speaking),
    )


def _pictures(sonority: Sonority, emphasised: int | None) -> SheetPictures:
    def staff(*, concert: bool) -> Picture:
        return sonority_staff(
            sonority, concert=concert, emphasised=emphasised, staff_space_mm=STAFF_SPACE_MM
        )

    return SheetPictures(
        sonority_diagram(sonority),
        staff(concert=False),
        staff(concert=True),
        cents_ruler(sonority, emphasised=emphasised),
        presence_chart(sonority, emphasised=emphasised),
    )


def _tones(
    sonority: Sonority, emphasised: int | None, wanted: frozenset[int]
) -> tuple[SheetTone, ...]:
    return tuple(
        SheetTone(
            number,
            sonority.written(number).printed(),
            sonority.concert(number).printed(),
            presence_told(sonority.tones[number - 1]),
            number == emphasised,
            number in wanted,
        )
        for number in reversed(sonority.numbers)
    )


def _emphasis(
    sonority: Sonority, placed: Sequence[StandingPlacement], wanted: frozenset[int]
) -> str:
    """Tell which tone the score brings out, and which it leaves out, in a sentence or two."""
    numbers = list(dict.fromkeys(one.row.emphasised for one in placed))
    named = [
        f"tone {number}, written {sonority.written(number).printed()}" if number else "no tone"
        for number in numbers
    ]
    sentences = [f"The score brings out {'; elsewhere '.join(named)}"]
    left_out = [number for number in sonority.numbers if number not in wanted]
    if left_out:
        sentences.append(f"it does not ask for {tones_named(left_out)}")
    return "; ".join(sentences) + "."


def _facts(
    sonority: Sonority, tried: Sequence[tuple[str, str]]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return pairs of a heading and its lines: how it is played, and how well it is known."""

    def lines_of(heading: str) -> tuple[str, ...]:
        return tuple(words for name, words in tried if name == heading)

    speaks = sonority.possible_dynamics()
    build_up = ", then ".join(sonority.written(number).printed() for number in sonority.build_up)
    rows = [
        ("Tried", lines_of("Tried")),
        ("Differs", lines_of("Differs")),
        ("Speaks at", (str(speaks) if speaks else "not known",)),
        ("Limits", _limits(sonority)),
        ("Build-up", (build_up,) if build_up else ()),
        ("Advice", (sonority.advice,) if sonority.advice else ()),
        ("Mind", (*lines_of("Mind"), *warnings(sonority))),
        ("Source", (source_words(sonority),)),
        ("Evidence", (evidence_words(sonority),)),
    ]
    return tuple((heading, tuple(map(unbroken, lines))) for heading, lines in rows if lines)


def _limits(sonority: Sonority) -> tuple[str, ...]:
    return tuple(timed_limit_words(sonority)) or ("not known: begin slowly",)
