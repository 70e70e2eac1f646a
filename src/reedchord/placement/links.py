"""From pieces of a layout to chords with their ties, ids, and what hangs on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from reedchord.musicxml.chord_parts import ChordNote, Hung, Link
from reedchord.placement.appearance import Appearance
from reedchord.placement.layout import Run
from reedchord.placement.record import ID_PREFIX


@dataclass(frozen=True)
class Voicing:
    """What one placement writes: its look, and which tones sound at each step of its course.

    `number` is the placement's, for ids; None where the score's version has none.
    `keeps_ties` leaves ties that the score has as they are. In `whole_step` the sonority is
    whole; `directions` are markup by the step before which they stand.
    """

    look: Appearance
    members: tuple[tuple[int, ...], ...]
    number: int | None
    keeps_ties: bool
    whole_step: int = 0
    directions: Mapping[int, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class WrittenRun:
    """A run with the chords and rests that take its place, one for each piece."""

    run: Run
    links: tuple[Link, ...]


def written_runs(runs: Sequence[Run], voicings: Sequence[Voicing]) -> list[WrittenRun]:
    """Return runs with all that is to be written, in the order of the pieces."""
    made: dict[tuple[int, int], Link] = {}
    owned: dict[int | None, list[tuple[int, Fraction, int, int]]] = {}
    for index, run in enumerate(runs):
        for place, piece in enumerate(run.pieces):
            spot = run.bar_index, piece.onset_quarters, index, place
            owned.setdefault(piece.owner, []).append(spot)
    for owner, voicing in enumerate(voicings):
        places = sorted(owned.get(owner, ()))
        mine = [(runs[index], place) for _, _, index, place in places]
        links = _links(mine, voicing)
        made |= {
            (index, place): link for (_, _, index, place), link in zip(places, links, strict=True)
        }
    return [
        WrittenRun(
            run,
            tuple(
                made.get((index, place)) or Link(piece.quarters, piece.value)
                for place, piece in enumerate(run.pieces)
            ),
        )
        for index, run in enumerate(runs)
    ]


@dataclass(frozen=True)
class WrittenChord:
    """A chord of a placement with its bar's index and where it begins there."""

    bar_index: int
    onset_quarters: Fraction
    link: Link


def chords_of_all(written: Sequence[WrittenRun], count: int) -> list[list[WrittenChord]]:
    """Return the chords of each of `count` placements in the order in which they sound."""
    chords: list[list[WrittenChord]] = [[] for _ in range(count)]
    for one in written:
        for piece, link in zip(one.run.pieces, one.links, strict=True):
            if piece.owner is not None:
                chord = WrittenChord(one.run.bar_index, piece.onset_quarters, link)
                chords[piece.owner].append(chord)
    for mine in chords:
        mine.sort(key=lambda chord: (chord.bar_index, chord.onset_quarters))
    return chords


def _links(places: Sequence[tuple[Run, int]], voicing: Voicing) -> Iterator[Link]:
    """Yield the chords of one placement in the order in which they sound."""
    sounding = [voicing.members[run.pieces[place].step] for run, place in places]
    count, begun = 0, set[int]()
    for index, (run, place) in enumerate(places):
        piece = run.pieces[place]
        before = sounding[index - 1] if index else ()
        after = sounding[index + 1] if index + 1 < len(places) else ()
        given = [note.get("id") for note in run.events[0].notes] if place == 0 else []
        notes: list[ChordNote] = []
        for position, member in enumerate(sounding[index]):
            count += 1
            old = given[position] if position < len(given) else None
            new = None if voicing.number is None else f"{ID_PREFIX}-{voicing.number}-{count}"
            ties = ("stop",) * (member in before) + ("start",) * (member in after)
            note = voicing.look.notes[member]
            notes.append(replace(note, ties=ties, id=old or new if new else None))
        hung = _hung(voicing, piece.step) if piece.step not in begun else Hung()
        begun.add(piece.step)
        yield Link(piece.quarters, piece.value, tuple(notes), hung, not voicing.keeps_ties)


def _hung(voicing: Voicing, step: int) -> Hung:
    """Return what hangs on the first chord of a step."""
    hung = voicing.look.at_start if step == 0 else Hung()
    if step == voicing.whole_step:
        hung = replace(hung, cents_lines=voicing.look.where_whole.cents_lines)
    return replace(hung, directions=voicing.directions.get(step, ()))
