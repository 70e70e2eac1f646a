"""What the library does with a score, whatever the score is: it works, or raises our family."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from random import Random

from fuzz.mutations import mutated
from reedchord.checks.checking import check
from reedchord.checks.told import ScoreReport, told
from reedchord.errors import ReedchordError, SeveralErrors, Where
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.musicxml.packing import repack
from reedchord.musicxml.part_music import PartMusic
from reedchord.pages.footnotes import footnotes_of
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Placement
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from samples import COLLECTION
from truth.real_scores import score_paths

_RECORD = re.compile(rb'name="reedchord">([^<]*)<')
LARGEST_BYTES = 40_000
WISHES = 5


@dataclass(frozen=True)
class Sample:
    """A sound file, and wishes of which some can be met in it."""

    name: str
    data: bytes
    wishes: tuple[Placement, ...]


@cache
def samples() -> tuple[Sample, ...]:
    """Return small real scores, plain and packed, bare and with sonorities in them."""
    found = []
    for path in score_paths():
        if path.stat().st_size > LARGEST_BYTES or (path.suffix == ".mxl" and "bwv" in path.name):
            continue  # chorales are many and alike
        data = path.read_bytes()
        try:
            wishes = _wishes(data, Random(path.name))
            done = _placed(open_score(data).data, wishes)
        except ReedchordError:
            found.append(Sample(path.name, data, ()))
            continue
        found.append(Sample(path.name, data, wishes))
        if len(done.data) < 2 * LARGEST_BYTES:
            found.append(Sample(f"{path.name}, placed", done.data, wishes))
    return tuple(found)


def exercise(data: bytes, wishes: tuple[Placement, ...]) -> str:
    """Place, strip, check, ask for plan and footnotes; return how it ended.

    Raises only what is not of our family. What was placed in a score that held nothing of ours
    must come out again, byte for byte.
    """
    try:
        file = open_score(data)
        was_bare = read_record(read_score(file.data)) is None
    except ReedchordError as error:
        return error.code
    for question in (strip, held_plan, footnotes_of, checked):
        try:
            question(file.data)
        except ReedchordError:
            continue
    try:
        done = _placed(file.data, wishes)
        repack(file, done.data)
    except ReedchordError as error:
        return error.code
    if was_bare:
        assert strip(done.data).data == file.data
    return "placed"


def checked(data: bytes) -> ScoreReport:
    """Check a score and tell every finding with its bar and its lines."""
    return told("broken", check(data, COLLECTION), is_package=False)


def broken(sample: Sample, chance: Random) -> bytes:
    """Return a sample with something broken in it: in its score, in its record, in its package."""
    file = open_score(sample.data)
    if file.package is not None:
        if chance.random() < 0.3:
            return mutated(sample.data, chance)
        return repack(file, mutated(file.data, chance))
    field = _RECORD.search(sample.data)
    if field is None or chance.random() < 0.7:
        return mutated(sample.data, chance)
    start, end = field.span(1)
    return sample.data[:start] + mutated(field[1], chance) + sample.data[end:]


def _placed(data: bytes, wishes: tuple[Placement, ...]) -> PlacedScore:
    """Place what can be placed; raises the first refusal where nothing can."""
    asked = [(wish, Where(line=line)) for line, wish in enumerate(wishes)]
    try:
        return place(data, asked, COLLECTION)
    except SeveralErrors as several:
        first, errors = several.errors[0], several.errors
    except ReedchordError as error:
        first, errors = error, (error,)
    refused = {error.where.line for error in errors}
    rest = [(wish, where) for wish, where in asked if where.line not in refused]
    if not rest or len(rest) == len(asked):
        raise first
    return place(data, rest, COLLECTION)


def _wishes(data: bytes, chance: Random) -> tuple[Placement, ...]:
    score = read_score(open_score(data).data)
    places = [
        (part, bar, music.bar(bar.index).beat_at(event.onset_quarters), event)
        for part in score.parts
        for music in (PartMusic(part),)
        for bar in part.bars
        for event in music.bar(bar.index).events
        if not event.is_cue
    ]
    chance.shuffle(places)
    return tuple(
        Placement(
            sonority=chance.choice(("heron", "egret", "crane")),
            part=part.id,
            bar=f"@{bar.index + 1}",
            beat=beat,
            voice=event.voice or None,
            staff=event.staff or None,
            saxophone=COLLECTION["heron"].saxophone,
        )
        for part, bar, beat, event in places[:WISHES]
    )
