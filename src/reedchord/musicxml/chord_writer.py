"""Rests, notes and chords of a score become other chords: the edits that do it, and no more.

Where lengths do not fit the divisions in force, these change right before the new notes and
back right after them, so that no duration of the score is touched. music21 10.5 and verovio
6.4 read such bars rightly; partitura 1.9 misplaces the other voices of such a bar (measured).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import lcm

from reedchord.musicxml import markup
from reedchord.musicxml.chord_parts import BarText, Hung, Link
from reedchord.musicxml.event import Event
from reedchord.musicxml.fragment import Node
from reedchord.musicxml.new_notes import NoteModel
from reedchord.musicxml.note_editing import NoteEditor, space_before
from reedchord.musicxml.splice import Edit
from reedchord.numbers_as_text import decimal_text


def run_edits(bar: BarText, events: Sequence[Event], links: Sequence[Link]) -> list[Edit]:
    """Return the edits, in the document's offsets, that write links in place of events.

    The events follow one another in one voice with nothing between them in the document, and
    the links last as long as they do. What hangs on events that go away moves to the first.
    """
    if links[0].keeps_notes:
        return _marking_edits(bar, events[0], links[0])
    nodes = [bar.node.children[index] for event in events for index in event.children]
    first, gone = nodes[0], nodes[1:]
    divisions = events[0].divisions
    finer = divisions_for(links, divisions)
    model = NoteModel(bar.text, first, finer)
    lead = space_before(bar.text, first.start)
    edits: list[Edit] = []
    before = [_divisions(finer)] if finer != divisions else []
    head, *tail = links
    before += [model.directions(head.hung)]
    edits += [Edit(first.start, first.start, text + lead) for text in before if text]
    edits += _first_edits(bar.text, first, gone, head, model)
    notes = [*model.chord(head, start=1)] if head.notes else []
    notes += [text for link in tail for text in _texts(model, link)]
    notes += [_divisions(divisions)] if finer != divisions else []
    if notes:
        edits.append(Edit(first.end, first.end, "".join(lead + text for text in notes)))
    edits += [
        Edit(node.start - len(space_before(bar.text, node.start)), node.end, "") for node in gone
    ]
    return [Edit(e.start + bar.start, e.end + bar.start, e.new_text) for e in edits]


def _marking_edits(bar: BarText, event: Event, link: Link) -> list[Edit]:
    """Return the edits that hang marks on the notes of an event; they only add."""
    nodes = [bar.node.children[index] for index in event.children]
    first = nodes[0]
    directions = NoteModel(bar.text, first, event.divisions).directions(link.hung)
    edits = []
    if directions:
        lead = space_before(bar.text, first.start)
        edits.append(Edit(first.start, first.start, directions + lead))
    for node, note in zip(nodes, link.notes, strict=True):
        editor = NoteEditor(bar.text, node)
        if note.id:
            editor.set_id(note.id)
        if node is first:
            _hang(editor, link.hung)
        edits += editor.edits()
    return [Edit(e.start + bar.start, e.end + bar.start, e.new_text) for e in edits]


def notation_edits(bar: BarText, event: Event, notations: Iterable[str]) -> list[Edit]:
    """Return the edits, in the document's offsets, that hang notations on a chord that stays."""
    editor = NoteEditor(bar.text, bar.node.children[event.children[0]])
    for notation in notations:
        editor.add_notation(notation)
    return [Edit(e.start + bar.start, e.end + bar.start, e.new_text) for e in editor.edits()]


def divisions_for(links: Iterable[Link], divisions: Fraction) -> Fraction:
    """Return divisions, a multiple of those in force, in which all lengths are whole."""
    lengths = [link.quarters * divisions for link in links if link.value is not None]
    return divisions * lcm(*(length.denominator for length in lengths))


def _divisions(divisions: Fraction) -> str:
    return markup.element("attributes", markup.leaf("divisions", decimal_text(divisions)))


def _texts(model: NoteModel, link: Link) -> list[str]:
    if not link.notes:
        return [model.rest(link)]
    directions = model.directions(link.hung)
    return [*([directions] if directions else []), *model.chord(link)]


def _first_edits(
    text: str, first: Node, gone: Sequence[Node], link: Link, model: NoteModel
) -> list[Edit]:
    """Return the edits that make the first note what the first link is."""
    if not link.notes and first.find("rest") is None:
        return [Edit(first.start, first.end, model.rest(link))]
    editor = NoteEditor(text, first)
    # What goes is taken out first: new children are placed by those that stay.
    if link.notes:
        editor.remove("accidental", "notehead", "notehead-text")
    if link.notes and link.clears_ties:
        editor.remove_ties()
    if link.value is not None:
        editor.remove("type", "dot")
        editor.replace_one_of(("duration",), model.length(link))
        editor.add("type", markup.leaf("type", link.value.type))
        for _ in range(link.value.dots):
            editor.add("dot", "<dot/>")
    if link.notes:
        _turn_into_first_note(editor, link)
    else:
        editor.replace_start_of("rest", without="measure")
    for node in gone:
        _rescue(editor, text, node)
    return editor.edits()


def _turn_into_first_note(editor: NoteEditor, link: Link) -> None:
    note = link.notes[0]
    editor.replace_one_of(("pitch", "unpitched", "rest"), markup.pitch(note.pitch))
    for tie in note.ties:
        editor.ensure_tie(tie)
    if note.shows_accidental:
        editor.add("accidental", markup.accidental(note.pitch))
    if link.is_half:
        editor.add("time-modification", markup.halved())
    if note.notehead:
        editor.add("notehead", note.notehead.markup())
    if note.id:
        editor.set_id(note.id)
    _hang(editor, link.hung)


def _hang(editor: NoteEditor, hung: Hung) -> None:
    """Add what hangs on the chord as a whole: it stands on the first note."""
    if hung.footnote:
        editor.add("footnote", markup.leaf("footnote", hung.footnote))
    for notation in hung.notations:
        editor.add_notation(notation)
    if hung.fingering:
        editor.add_fingering(hung.fingering)
    for number, text in enumerate(hung.cents_lines, start=1):
        editor.add("lyric", markup.cents_lyric(number, text))


def _rescue(editor: NoteEditor, text: str, gone: Node) -> None:
    """Move what hangs on a note that goes away to the first note, its ties aside."""
    for child in gone.children:
        if child.tag == "lyric":
            editor.add("lyric", child.source(text))
        elif child.tag == "notations":
            for notation in child.children:
                if notation.tag != "tied":
                    editor.add_notation(notation.source(text))
