"""A written chord becomes again what it replaced: what others hung on it since stays."""

from __future__ import annotations

import re
from collections.abc import Sequence, Set
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
    """How that which we hung on a chord is told from what is theirs.

    `takes_turns` says that the chords are those of a tremolo of two notes, `slurs` where in
    the document slurs of ours begin and end on them.
    """

    footnote_starts: tuple[str, ...]
    fingerings: Set[str]
    id_start: str
    takes_turns: bool = False
    slurs: Set[int] = frozenset()

    def has_footnote(self, source: str) -> bool:
        """Whether a `<footnote>` is ours."""
        return parse_fragment(source).text.startswith(self.footnote_starts)

    def is_notation(self, node: Node) -> bool:
        """Whether a notation, slurs aside, is ours, or came of ours in another program.

        music21 makes tuplets of our tremolos (measured), partitura tremolos without a number.
        """
        if node.tag == "fingering":
            return node.text.strip() in self.fingerings
        if node.tag == "tremolo":
            is_of_two = node.get("type") in ("start", "stop") or not node.text.strip()
            return self.takes_turns and is_of_two
        return self.takes_turns and node.tag == "tuplet"


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
    divisions: Fraction | None = None,
) -> list[Edit]:
    """Return the edits, in the document's offsets, that put back what a chord took away.

    `events` are the chords, and rests, of one bar that stand for one rest or note;
    `is_divided` is as when it was taken away; `divisions` are those in which they will count.
    """
    nodes = [bar.node.children[index] for event in events for index in event.children]
    first = nodes[0]
    note = _bare_note(bar, first, ours)
    _without_looks(note, ours)
    own = [element for element in was if not _is_note(element)]
    if is_divided:
        _without_ties(note)
    quarters = sum((event.duration_quarters for event in events), Fraction(0))
    _restore(note, own, quarters, divisions or events[0].divisions)
    if len(events) > 1:
        _join_beams(note, first, bar.node.children[events[-1].children[0]], bar.text)
    for gone in nodes[1:]:
        _rescue(note, bar, gone, ours)
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
    nodes = [bar.node.children[index] for index in event.children]
    return [_rewritten(bar, node, _bare_note(bar, node, ours)) for node in nodes]


def without_slurs(bar: BarText, child: int, slurs: Set[int]) -> Edit:
    """Return the edit that takes some ends of slurs off the note that is a child of a bar.

    `slurs` says where in the document they begin.
    """
    node = bar.node.children[child]
    note = NoteText(bar.text, node)
    _without_slurs(note, bar, node, slurs)
    return _rewritten(bar, node, note)


def _rewritten(bar: BarText, node: Node, note: NoteText) -> Edit:
    return Edit(node.start + bar.start, node.end + bar.start, str(note))


def _is_note(element: str) -> bool:
    return re.match(r"<note[\s/>]", element) is not None


def _bare_note(bar: BarText, node: Node, ours: OurMarks) -> NoteText:
    """Return a note without what marks it as ours."""
    note = NoteText(bar.text, node)
    note.drop_attribute("id", rf"{re.escape(ours.id_start)}[^\"']*")
    note.rewrite(("footnote",), lambda it: None if ours.has_footnote(it) else it)
    note.rewrite(("lyric",), lambda it: None if _is_cents(parse_fragment(it)) else it)
    note.rewrite(("notations",), lambda it: pruned(it, parse_fragment(it), ours.is_notation))
    _without_slurs(note, bar, node, ours.slurs)
    return note


def _without_slurs(note: NoteText, bar: BarText, node: Node, slurs: Set[int]) -> None:
    for notations in node.find_all("notations"):
        for slur in notations.find_all("slur"):
            if bar.start + slur.start in slurs:
                note.drop_notation(slur.source(bar.text))


def _without_looks(note: NoteText, ours: OurMarks) -> None:
    if GREY in (note.first("notehead") or ""):
        note.drop_attribute("color", GREY)  # some programs copy it from the notehead
    note.drop(*_LOOKS)
    if ours.takes_turns:
        note.drop("time-modification")


def _is_cents(lyric: Node) -> bool:
    return lyric.get("name") == "cents"


def _restore(note: NoteText, own: Sequence[str], quarters: Fraction, divisions: Fraction) -> None:
    """Give the first note back what it lost; it lasts some quarter notes."""
    kinds = (*_VALUE, *_LOOKS, "tie", "tied")
    old = {tag: [it for it in own if re.match(rf"<{tag}[\s/>]", it)] for tag in kinds}
    for element in own:
        if any(re.match(rf"<{tag}[\s/>]", element) for tag in _PITCHES):
            note.put(_PITCHES, element)
            if element.startswith("<rest"):
                _silence(note)
    if old["duration"]:
        note.put(("duration",), _same_length(old["duration"][0], quarters, divisions))
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


def _join_beams(note: NoteText, first: Node, last: Node, text: str) -> None:
    """Give the first note of several that become one the beams of one: none where all were it.

    The beams are those of other programs: none stood where we divided.
    """
    begins = {beam.text.strip() for beam in first.find_all("beam")} == {"begin"}
    if {beam.text.strip() for beam in last.find_all("beam")} != {"end"}:
        return
    note.drop("beam")
    for beam in () if begins else last.find_all("beam"):
        note.add(beam.source(text))


def _rescue(note: NoteText, bar: BarText, gone: Node, ours: OurMarks) -> None:
    """Move what others hung on a note that goes away to the one that stays."""
    for child in gone.children:
        if child.tag == "lyric" and not _is_cents(child):
            note.add(child.source(bar.text))
        elif child.tag == "notations":
            for notation in child.children:
                kept = pruned(bar.text, notation, ours.is_notation)
                is_ours = bar.start + notation.start in ours.slurs or notation.tag == "tied"
                if kept is not None and not is_ours:
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
