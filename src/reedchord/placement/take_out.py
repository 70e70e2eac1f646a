"""Taking single placements out of a score that was edited since they were made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from reedchord.errors import InputError
from reedchord.musicxml.chord_parts import BarText
from reedchord.musicxml.document import Bar, Score
from reedchord.musicxml.fragment import Node, parse_fragment
from reedchord.musicxml.giving_back import OurMarks, give_back, without_marks
from reedchord.musicxml.note_editing import space_before
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.splice import Edit, add_if_free
from reedchord.placement.former_events import former_events
from reedchord.placement.found import Found, State
from reedchord.placement.proof import prove_untouched
from reedchord.placement.record import ID_PREFIX, ScoreRecord


@dataclass
class TakenOut:
    """Edits that take placements out, and sentences on what stays and why."""

    edits: list[Edit] = field(default_factory=list)
    taken: list[Found] = field(default_factory=list)
    left: list[str] = field(default_factory=list)


def why_it_stays(found: Found) -> str | None:
    """Return why a placement cannot be taken out, None where it can."""
    if found.row.wish.as_written:
        return None  # the notes are the composer's, and only our marks go
    if found.state is State.EDITED:
        return f"{found.words()}: it stays as it is"
    if found.state is State.INTACT and former_events(found) is None:
        return f"{found.words()}, but the record does not hold what stood there: it stays"
    return None


def take_out(score: Score, record: ScoreRecord, placements: Iterable[Found]) -> TakenOut:
    """Return what takes intact placements out of a score; the others are named and stay."""
    result = TakenOut()
    claimed: set[int] = set()
    for found in placements:
        if found.state is State.MISSING:
            continue
        reason = why_it_stays(found)
        if reason is not None:
            result.left.append(reason)
            continue
        left: list[str] = []
        if not add_if_free(result.edits, _edits(score, record, found, left, claimed)):
            shared = "what stands for it stands for another placement too: it stays"
            result.left.append(f"{found.words()}, but {shared}")
            continue
        result.left += left
        if found.row.divides_bar_rest:
            result.left.append(f"{found.where}: the multi-bar rest stays divided")
        result.taken.append(found)
    result.edits = [Edit(e.start, e.end, score.source.encodable(e.new_text)) for e in result.edits]
    return result


def prove_taken_out(
    before: Score, data: bytes, after: str, edits: Sequence[Edit], taken: Sequence[Found]
) -> None:
    """Read a document anew and see that nothing outside the edits moved, nor any voice's end.

    Raises SelfCheckError, and InputError where what the record says does not fit.
    """
    bars = [one.music.part.bars[index] for one in taken if one.music for index, _ in one.chain]
    score = prove_untouched(before, data, after, edits, bars)
    music = {part.id: PartMusic(part) for part in score.parts}
    for found in taken:
        assert found.music is not None  # it stood in the score
        for index in {index for index, _ in found.chain}:
            if _ends(music[found.music.part.id], index) != found.music.bar(index).ends:
                raise InputError(
                    "record.broken",
                    f"what stood here before {found.row.label} does not fit the bar as the "
                    "score's reedchord field has it",
                    where=found.where,
                    hint="Somebody changed the field, or the bar: mend it by hand.",
                )


def _ends(music: PartMusic, index: int) -> object:
    """Return where the voices of a bar end, None where it cannot be read."""
    try:
        return music.bar(index).ends
    except InputError:
        return None


def _edits(
    score: Score, record: ScoreRecord, found: Found, left: list[str], claimed: set[int]
) -> Iterator[Edit]:
    assert found.music is not None  # it stands in the score
    assert found.row.was is not None  # or it would stay
    sonority = record.sonorities[found.row.wish.sonority]
    fingering = "" if found.row.kept_fingering else sonority.fingering.short()
    ours = OurMarks(f"{found.row.label}:", fingering, f"{ID_PREFIX}-")
    bars: dict[int, BarText] = {}
    if found.row.wish.as_written:
        for index, event in found.chain:
            bar = _bar_text(score, found.music.part.bars[index], bars)
            yield from without_marks(bar, event, ours)
        yield from _words_edits(bars[found.chain[0][0]], found, left, claimed)
        return
    former = former_events(found)
    assert former is not None  # or it would stay
    for one in former:
        bar = _bar_text(score, found.music.part.bars[one.bar_index], bars)
        yield from give_back(bar, one.events, one.was, ours, is_divided=one.is_divided)
    yield from _words_edits(bars[found.chain[0][0]], found, left, claimed)
    yield from _mark_edits(bars, found, left)


def _bar_text(score: Score, bar: Bar, bars: dict[int, BarText]) -> BarText:
    if bar.index not in bars:
        start, end = score.bar_span(bar)
        text = score.text[start:end]
        bars[bar.index] = BarText(text, parse_fragment(text), start)
    return bars[bar.index]


def _words_edits(bar: BarText, found: Found, left: list[str], claimed: set[int]) -> Iterator[Edit]:
    """Yield the edit that takes the label's words out; changed words stay and are told.

    `claimed` are the starts of those that belong to earlier placements.
    """
    row = found.row
    wanted = {_plain(words) for words in row.words}
    index = found.chain[0][1].children[0]
    before, after = bar.node.children[:index], bar.node.children[index:]
    near = [it for it in _directions_before(bar, index) if row.label in _words_of(it).split()]
    candidates = near or [
        node
        for node in (*reversed(before), *after)
        if bar.start + node.start not in claimed and _words_of(node)
    ]
    node = next((node for node in candidates if _plain(_words_of(node)) in wanted), None)
    if node is not None:
        claimed.add(bar.start + node.start)
        yield _removal(bar, node)
        return
    changed = [_words_of(node) for node in candidates if row.label in _words_of(node).split()]
    if changed:
        left.append(f"{found.where}: the words {_plain(changed[0])!r} were changed and stay")


def _mark_edits(bars: dict[int, BarText], found: Found, left: list[str]) -> Iterator[Edit]:
    """Yield edits that take out dynamics and hairpins of ours that stand right before a chord."""
    wanted = [_shape(parse_fragment(mark)) for mark in found.row.marks]
    for bar_index, event in found.chain:
        bar = bars[bar_index]
        for node in _directions_before(bar, event.children[0]):
            shapes = [
                _shape(child) for kind in node.find_all("direction-type") for child in kind.children
            ]
            if len(shapes) == 1 and shapes[0] in wanted:
                wanted.remove(shapes[0])
                yield _removal(bar, node)
    if wanted:
        left.append(f"{found.where}: dynamics that were changed or moved stay")


def _directions_before(bar: BarText, index: int) -> list[Node]:
    """Return the directions with nothing but directions between them and a child of the bar."""
    before: list[Node] = []
    for node in reversed(bar.node.children[:index]):
        if node.tag != "direction":
            break
        before.insert(0, node)
    return before


def _shape(node: Node) -> tuple[object, ...]:
    """Return what a mark is, whatever its place and look on the page."""
    return node.tag, node.get("type"), tuple(_shape(child) for child in node.children)


def _removal(bar: BarText, node: Node) -> Edit:
    lead = len(space_before(bar.text, node.start))
    return Edit(bar.start + node.start - lead, bar.start + node.end, "")


def _words_of(node: Node) -> str:
    """Return the words of a direction that holds nothing else; empty for all other elements."""
    if node.tag != "direction":
        return ""
    types = node.find_all("direction-type")
    words = [child for kind in types for child in kind.children]
    return words[0].text if len(words) == 1 and words[0].tag == "words" else ""


def _plain(words: str) -> str:
    """Return words whatever their line ends."""
    return " ".join(words.split())
