"""From pieces of a layout to chords with their ties, ids, and what hangs on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from reedchord.musicxml import markup
from reedchord.musicxml.chord_parts import ChordNote, Hung, Link
from reedchord.placement.appearance import Appearance
from reedchord.placement.layout import Piece, Run
from reedchord.placement.record import ID_PREFIX

TREMOLO_BEAMS = 3
FLAGS = {"eighth": 1, "16th": 2, "32nd": 3, "64th": 4, "128th": 5, "256th": 6}
"""Flags of note values; they count among the beams of a tremolo (common practice, no source)."""


class Voicing(NamedTuple):
    """What one placement writes: its look, and which tones sound at each step of its course.

    `number` is the placement's, for ids; None where the score's version has none.
    `keeps_ties` leaves ties that the score has as they are. In `whole_step` the sonority is
    whole; `directions` are markup by the step before which they stand. `other` is the look
    of the sonority that takes turns with it; `notations` are markup for the first chord.
    """

    look: Appearance
    members: tuple[tuple[int, ...], ...]
    number: int | None
    keeps_ties: bool
    whole_step: int = 0
    directions: Mapping[int, tuple[str, ...]] = MappingProxyType({})
    other: Appearance | None = None
    notations: tuple[str, ...] = ()
    keeps_notes: bool = False
    """Whether the notes that are there stay, and are only marked."""

    def look_of(self, piece: Piece) -> Appearance:
        """Return the look of the sonority whose turn it is."""
        return self.other if self.other is not None and piece.is_other else self.look

    def sounding(self, piece: Piece) -> tuple[int, ...]:
        """Return the places of the tones that sound in a piece."""
        if self.other is not None:
            return tuple(range(len(self.look_of(piece).notes)))
        return self.members[piece.step]


class WrittenRun(NamedTuple):
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


class WrittenChord(NamedTuple):
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
    if voicing.keeps_notes:
        yield from _marked_links(places, voicing)
        return
    sounding = [voicing.sounding(run.pieces[place]) for run, place in places]
    count, begun = 0, set[tuple[int, bool]]()
    for index, (run, place) in enumerate(places):
        piece = run.pieces[place]
        ties = _ties(sounding, index) if voicing.other is None else {}
        given = [note.get("id") for note in run.events[0].notes] if place == 0 else []
        notes: list[ChordNote] = []
        for position, member in enumerate(sounding[index]):
            count += 1
            old = given[position] if position < len(given) else None
            new = None if voicing.number is None else f"{ID_PREFIX}-{voicing.number}-{count}"
            note = voicing.look_of(piece).notes[member]
            note_id = old or new if new else None
            notes.append(note._replace(ties=ties.get(member, ()), id=note_id))
        turn = piece.step, piece.is_other
        hung = _hung(voicing, piece) if turn not in begun else Hung()
        begun.add(turn)
        marks = voicing.notations if index == 0 else ()
        hung = hung._replace(notations=(*marks, *_tremolo(voicing, piece)))
        is_half = voicing.other is not None
        clears_ties = not voicing.keeps_ties
        yield Link(piece.quarters, piece.value, tuple(notes), hung, clears_ties, is_half)


def _marked_links(places: Sequence[tuple[Run, int]], voicing: Voicing) -> Iterator[Link]:
    """Yield the chords that stay, each with ids for its notes, the first with all our marks."""
    count = 0
    for index, (run, place) in enumerate(places):
        notes = []
        for note, pitch in zip(run.events[0].notes, run.events[0].pitches, strict=True):
            count += 1
            new = None if voicing.number is None else f"{ID_PREFIX}-{voicing.number}-{count}"
            notes.append(ChordNote(pitch, id=note.get("id") or new if new else None))
        hung = _hung(voicing, run.pieces[place]) if index == 0 else Hung()
        if index == 0:
            hung = hung._replace(notations=voicing.notations)
        yield Link(run.pieces[place].quarters, None, tuple(notes), hung, keeps_notes=True)


def _ties(sounding: Sequence[tuple[int, ...]], index: int) -> dict[int, tuple[str, ...]]:
    """Return the ties of each tone of a chord: from the chord before, and on to the next."""
    before = sounding[index - 1] if index else ()
    after = sounding[index + 1] if index + 1 < len(sounding) else ()
    return {
        member: ("stop",) * (member in before) + ("start",) * (member in after)
        for member in sounding[index]
    }


def _tremolo(voicing: Voicing, piece: Piece) -> list[str]:
    """Return the mark of a two-note tremolo: fewer beams where the value has flags."""
    if voicing.other is None or piece.value is None:
        return []
    flags = FLAGS.get(piece.value.type, 0)
    way = "stop" if piece.is_other else "start"
    return [markup.tremolo(way, max(TREMOLO_BEAMS - flags, 1))]


def _hung(voicing: Voicing, piece: Piece) -> Hung:
    """Return what hangs on the first chord of a step, or of the other sonority's turns."""
    look = voicing.look_of(piece)
    hung = look.at_start if piece.step == 0 else Hung()
    if piece.step == voicing.whole_step:
        hung = hung._replace(cents_lines=look.where_whole.cents_lines)
    directions = () if piece.is_other else voicing.directions.get(piece.step, ())
    return hung._replace(directions=directions)
