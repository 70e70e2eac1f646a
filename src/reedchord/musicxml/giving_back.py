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
_OF_THE_VOICE = ("instrument", "voice", "staff")
"""What every note of a voice shares, however the score writes it now."""


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


class Former(NamedTuple):
    """How long a rest, note or chord lasted, in quarter notes, and what was taken away from it."""

    quarters: Fraction
    was: Sequence[str]

    @property
    def notes(self) -> list[str]:
        """The notes that were taken away whole."""
        return [element for element in self.was if _is_note(element)]

    @property
    def length(self) -> str | None:
        """Its `<duration>`, None where that stayed, or it had none."""
        return next((it for it in self.was if it.startswith("<duration")), None)

    def counts_in(self, divisions: Fraction) -> bool:
        """Whether its length was taken away, and counted in these divisions."""
        if self.length is None:
            return False
        written = decimal_number(parse_fragment(self.length).text, "duration")
        return written == self.quarters * divisions

    @property
    def is_whole(self) -> bool:
        """Whether all of it is known, its first note too."""
        notes = self.notes
        return bool(notes) and not parse_fragment(notes[0]).has("chord")


def taken_away(bar: BarText, event: Event, *, is_divided: bool = False) -> tuple[str, ...]:
    """Return what a chord takes away from an event of a bar, as the bar writes it.

    Where the event is divided or joined with others, that is its length and its ties too, and
    the whole of its first note, for the white space and the attributes that go with it.
    """
    first, *others = (bar.node.children[index] for index in event.children)
    changes_value = is_divided or own_values(event) is not None
    tags = _PITCHES + _LOOKS + (_VALUE if changes_value else ()) + ("tie",) * is_divided
    lost = [child.source(bar.text) for child in first.children if child.tag in tags]
    if is_divided:
        notations = first.find_all("notations")
        lost += [it.source(bar.text) for node in notations for it in node.find_all("tied")]
        others.insert(0, first)
    return (*lost, *(note.source(bar.text) for note in others))


def give_back(
    bar: BarText,
    events: Sequence[Event],
    formers: Sequence[Former],
    ours: OurMarks,
    *,
    is_divided: bool = False,
    divisions: Fraction | None = None,
) -> list[Edit]:
    """Return the edits, in the document's offsets, that put back what chords took away.

    `events` are the chords, and rests, of one bar that stand for what was there: one event, or
    several that follow one another, of which all but the first are known whole. `is_divided`
    is as when it was taken away; `divisions` are those in which they will count.
    """
    former, *following = formers
    divisions = divisions or events[0].divisions
    nodes = [bar.node.children[index] for event in events for index in event.children]
    first = nodes[0]
    note = _bare_note(bar, first, ours)
    _without_looks(note, ours)
    own = [element for element in former.was if not _is_note(element)]
    if is_divided:
        _without_ties(note)
    _restore(note, own, former.quarters, divisions)
    if len(events) > 1:
        _join_beams(note, first, bar.node.children[events[-1].children[0]], bar.text)
    for gone in nodes[1:]:
        _rescue(note, bar, gone, ours)
    lead = space_before(bar.text, first.start)
    notes, back = former.notes, str(note)
    if is_divided and former.is_whole:
        whole = notes.pop(0)
        back = whole if _is_as_it_was(back, whole) else back
    others = [_fitted(element, note, note.first("duration")) for element in notes]
    for other in following:
        length = other.length and _same_length(other.length, other.quarters, divisions)
        others += [_fitted(element, note, length) for element in other.notes]
    edits = [Edit(first.start, first.end, "".join([back, *(lead + it for it in others)]))]
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


def _is_as_it_was(back: str, was: str) -> bool:
    """Whether a note that comes back says all that it said, with nothing of somebody's in it.

    White space aside, and attributes that went with a tag that was written anew.
    """
    now, then = parse_fragment(back), parse_fragment(was)
    is_same = [_shape(child) for child in now.children] == [_shape(it) for it in then.children]
    has_remarks = "<!--" in back or "<?" in back
    return is_same and now.attributes.items() <= then.attributes.items() and not has_remarks


def _shape(node: Node) -> tuple[object, ...]:
    return node.tag, node.attributes, node.text.strip(), [_shape(it) for it in node.children]


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


def _fitted(source: str, first: NoteText, length: str | None) -> str:
    """Return an old note with its length, and with the voice that the score gives it now."""
    note = NoteText(source, parse_fragment(source))
    for tag in ("duration", *_OF_THE_VOICE):
        now = length if tag == "duration" else first.first(tag)
        if note.first(tag) is None or note.first(tag) == now:
            continue
        if now is None:
            note.drop(tag)
        else:
            note.put((tag,), now)
    return str(note)
