"""A written chord becomes again what it replaced: what others hung on it since stays."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from reedchord.musicxml import markup
from reedchord.musicxml.bar_state import decimal_number
from reedchord.musicxml.chord_parts import GREY, BarText
from reedchord.musicxml.event import Event
from reedchord.musicxml.event_values import own_values
from reedchord.musicxml.fragment import Node, parse_fragment
from reedchord.musicxml.note_editing import space_before
from reedchord.musicxml.note_text import NoteText, pruned
from reedchord.musicxml.splice import Edit

_PITCHES = ("pitch", "unpitched", "rest")
_LOOKS = ("accidental", "notehead", "notehead-text")
_VALUE = ("duration", "type", "dot")
_OF_THE_CHORD = ("duration", "instrument", "voice", "staff")
"""What every note of a chord shares, however the score writes it now."""


class OurMarks(NamedTuple):
    """How that which we hung on a chord is told from what is theirs."""

    footnote_start: str
    fingering: str
    id_start: str

    def has_footnote(self, source: str) -> bool:
        """Whether a `<footnote>` is ours."""
        return parse_fragment(source).text.startswith(self.footnote_start)

    def is_fingering(self, node: Node) -> bool:
        """Whether a notation is our fingering."""
        return node.tag == "fingering" and node.text.strip() == self.fingering


def taken_away(bar: BarText, event: Event, *, is_divided: bool = False) -> tuple[str, ...]:
    """Return what a chord takes away from an event of a bar, as the bar writes it.

    Where the event is divided or joined with others, that is its length and its ties too.
    """
    first, *others = (bar.node.children[index] for index in event.children)
    changes_value = is_divided or own_values(event) is not None
    tags = _PITCHES + _LOOKS + (_VALUE if changes_value else ()) + ("tie",) * is_divided
    lost = [child.source(bar.text) for child in first.children if child.tag in tags]
    if is_divided:
        notations = first.find_all("notations")
        lost += [it.source(bar.text) for node in notations for it in node.find_all("tied")]
    return (*lost, *(note.source(bar.text) for note in others))


def give_back(
    bar: BarText,
    events: Sequence[Event],
    was: Sequence[str],
    ours: OurMarks,
    *,
    is_divided: bool = False,
) -> list[Edit]:
    """Return the edits, in the document's offsets, that put back what a chord took away.

    `events` are the chords, and rests, of one bar that stand for one rest or note;
    `is_divided` is as when it was taken away.
    """
    nodes = [bar.node.children[index] for event in events for index in event.children]
    first = nodes[0]
    note = NoteText(bar.text, first)
    _without_ours(note, ours)
    own = [element for element in was if not _is_note(element)]
    if is_divided:
        _without_ties(note)
    _restore(note, own, events)
    for gone in nodes[1:]:
        _rescue(note, bar.text, gone, ours)
    lead = space_before(bar.text, first.start)
    others = [lead + _fitted(element, note) for element in was if _is_note(element)]
    edits = [Edit(first.start, first.end, "".join([str(note), *others]))]
    edits += [
        Edit(node.start - len(space_before(bar.text, node.start)), node.end, "")
        for node in nodes[1:]
    ]
    return [Edit(e.start + bar.start, e.end + bar.start, e.new_text) for e in edits]


def without_marks(bar: BarText, event: Event, ours: OurMarks) -> list[Edit]:
    """Return the edits, in the document's offsets, that take our marks off notes that stay."""
    edits = []
    for index in event.children:
        node = bar.node.children[index]
        note = NoteText(bar.text, node)
        _without_marks(note, ours)
        edits.append(Edit(node.start + bar.start, node.end + bar.start, str(note)))
    return edits


def _is_note(element: str) -> bool:
    return re.match(r"<note[\s/>]", element) is not None


def _without_ours(note: NoteText, ours: OurMarks) -> None:
    _without_marks(note, ours)
    if GREY in (note.first("notehead") or ""):
        note.drop_attribute("color", GREY)  # some programs copy it from the notehead
    note.drop(*_LOOKS)


def _without_marks(note: NoteText, ours: OurMarks) -> None:
    note.drop_attribute("id", rf"{re.escape(ours.id_start)}[^\"']*")
    note.rewrite(("footnote",), lambda it: None if ours.has_footnote(it) else it)
    note.rewrite(("lyric",), lambda it: None if _is_cents(parse_fragment(it)) else it)
    note.rewrite(("notations",), lambda it: pruned(it, parse_fragment(it), ours.is_fingering))


def _is_cents(lyric: Node) -> bool:
    return lyric.get("name") == "cents"


def _restore(note: NoteText, own: Sequence[str], events: Sequence[Event]) -> None:
    """Give the first note back what it lost."""
    kinds = (*_VALUE, *_LOOKS, "tie", "tied")
    old = {tag: [it for it in own if re.match(rf"<{tag}[\s/>]", it)] for tag in kinds}
    for element in own:
        if any(re.match(rf"<{tag}[\s/>]", element) for tag in _PITCHES):
            note.put(_PITCHES, element)
            if element.startswith("<rest"):
                _silence(note)
    if old["duration"]:
        quarters = sum((event.duration_quarters for event in events), Fraction(0))
        length = _same_length(old["duration"][0], quarters, events[0].divisions)
        note.put(("duration",), length)
        note.drop("type", "dot")
    for tag in ("tie", "type", "dot", *_LOOKS):
        for element in old[tag]:
            note.add(element)
    for element in reversed(old["tied"]):
        note.add_notation(element, first=True)


def _same_length(old: str, quarters: Fraction, divisions: Fraction) -> str:
    """Return a `<duration>`, as it was written where the divisions are still the same."""
    if decimal_number(parse_fragment(old).text, "duration") == quarters * divisions:
        return old
    return markup.duration(quarters, divisions)


def _silence(note: NoteText) -> None:
    """Take out what a rest does not have: ties, and the stem that some programs add."""
    _without_ties(note)
    note.rewrite(("stem",), lambda it: None if parse_fragment(it).text.strip() != "none" else it)


def _without_ties(note: NoteText) -> None:
    note.drop("tie")
    note.rewrite(
        ("notations",), lambda it: pruned(it, parse_fragment(it), lambda node: node.tag == "tied")
    )


def _rescue(note: NoteText, text: str, gone: Node, ours: OurMarks) -> None:
    """Move what others hung on a note that goes away to the one that stays."""
    for child in gone.children:
        if child.tag == "lyric" and not _is_cents(child):
            note.add(child.source(text))
        elif child.tag == "notations":
            for notation in child.children:
                kept = pruned(text, notation, ours.is_fingering)
                if kept is not None and notation.tag != "tied":
                    note.add_notation(kept)


def _fitted(source: str, first: NoteText) -> str:
    """Return an old chord note with the length and voice that the score gives its chord now."""
    note = NoteText(source, parse_fragment(source))
    for tag in _OF_THE_CHORD:
        now = first.first(tag)
        if note.first(tag) is None or note.first(tag) == now:
            continue
        if now is None:
            note.drop(tag)
        else:
            note.put((tag,), now)
    return str(note)
