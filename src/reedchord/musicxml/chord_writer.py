"""A rest, note or chord of a score becomes another chord: the edits that do it, and no more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reedchord.errors import RequestError
from reedchord.musicxml import markup
from reedchord.musicxml.fragment import Node
from reedchord.musicxml.note_editing import NoteEditor, space_before
from reedchord.musicxml.splice import Edit
from reedchord.musicxml.timeline import Event
from reedchord.pitch import Pitch
from reedchord.rhythm import NoteValue, balanced_values, single_value

GREY = "#808080"


@dataclass(frozen=True)
class Notehead:
    """How a notehead departs from an ordinary one."""

    shape: str = "normal"
    parentheses: bool = False
    color: str | None = None

    def markup(self) -> str:
        """Return the `<notehead>` element."""
        attributes = {"parentheses": "yes"} if self.parentheses else {}
        if self.color:
            attributes["color"] = self.color
        return markup.leaf("notehead", self.shape, **attributes)


@dataclass(frozen=True)
class ChordNote:
    """One note to be written: a pitch on the grid, its notehead where it is not ordinary."""

    pitch: Pitch
    notehead: Notehead | None = None


@dataclass(frozen=True)
class ChordToWrite:
    """A chord, lowest note first, and what hangs on it.

    `words` stand above its onset, `footnote` is editorial and not printed, `cents_lines`
    stand under it with the highest note's first. `ids` has one for each note of each
    written chord, or is empty where the score's version has none.
    """

    notes: tuple[ChordNote, ...]
    words: str | None = None
    footnote: str | None = None
    fingering: str | None = None
    cents_lines: tuple[str, ...] = ()
    ids: tuple[str, ...] = ()


@dataclass(frozen=True)
class BarText:
    """A bar's source text, its nodes, and where it begins in the document."""

    text: str
    node: Node
    start: int


def chord_edits(
    bar: BarText,
    events: Sequence[Event],
    chord: ChordToWrite,
    *,
    comes_in: bool = False,
    goes_on: bool = False,
) -> list[Edit]:
    """Return the edits, in the document's offsets, that write a chord over events of one bar.

    `events` are one rest, note or chord, or the links of a chain of ties, which may come in
    from the bar before and go on into the next; what hangs on the chord is written at the
    first. Raises RequestError where a rest cannot become notes.
    """
    edits: list[Edit] = []
    ids = chord.ids
    for index, event in enumerate(events):
        here = continuation(chord, ids) if index else replace(chord, ids=ids)
        tied = comes_in or index > 0, goes_on or index + 1 < len(events)
        edits += _event_edits(bar, event, here, tied)
        ids = ids[len(chord.notes) * links_of(event) :]
    return [Edit(e.start + bar.start, e.end + bar.start, e.new_text) for e in edits]


def continuation(chord: ChordToWrite, ids: tuple[str, ...]) -> ChordToWrite:
    """Return the chord as it is written where a tie leads on: bare notes."""
    return ChordToWrite(chord.notes, ids=ids)


def written_values(event: Event) -> list[NoteValue] | None:
    """Return the note values that a rest becomes, None where its own notation stays."""
    if not event.is_rest or _keeps_notation(event):
        return None
    values = balanced_values(event.duration_quarters)
    if values is None or event.first.find("time-modification") is not None:
        raise RequestError(
            "rhythm.rest",
            f"this rest of {event.duration_quarters} quarter notes has no note value",
            hint="Write it as rests with note values first.",
        )
    return values


def _keeps_notation(event: Event) -> bool:
    """Whether a rest's own type and dots tell its length."""
    rest, name = event.first.find("rest"), event.first.findtext("type")
    if name is None or rest is None or rest.get("measure") == "yes":
        return False
    if event.first.find("time-modification") is not None:
        return True
    dots = len(event.first.findall("dot"))
    value = single_value(event.duration_quarters)
    return value == NoteValue(name.strip(), dots)


def links_of(event: Event) -> int:
    """Return how many tied chords an event becomes: more than one for some whole-bar rests."""
    return len(written_values(event) or [0])


def changes_value(event: Event) -> bool:
    """Whether an event's duration, type and dots are written anew."""
    return written_values(event) is not None or _missing_value(event) is not None


def _event_edits(
    bar: BarText, event: Event, chord: ChordToWrite, tied: tuple[bool, bool]
) -> list[Edit]:
    nodes = [bar.node.children[index] for index in event.children]
    first = nodes[0]
    lead = space_before(bar.text, first.start)
    values = written_values(event)
    count = len(chord.notes)
    tied_in, tied_out = tied
    link = _Link(
        chord=chord,
        ids=chord.ids[:count],
        tied_in=tied_in,
        tied_out=tied_out or (values is not None and len(values) > 1),
        accidentals=not tied_in,
    )
    editor = NoteEditor(bar.text, first)
    _turn_into_first_note(editor, link, event, values)
    for node in nodes[1:]:
        _rescue(editor, bar.text, node)
    value = values[0] if values else _missing_value(event)
    tail = _members(bar.text, first, link, event, value, start=1)
    for index, value in enumerate((values or [])[1:], start=1):
        later = replace(
            link,
            chord=continuation(chord, ()),
            ids=chord.ids[count * index : count * (index + 1)],
            tied_in=True,
            tied_out=index + 1 < len(values or []) or tied_out,
            accidentals=False,
        )
        tail += _members(bar.text, first, later, event, value, start=0)
    edits = editor.edits()
    if chord.words:
        direction = markup.words_direction(
            chord.words, voice=first.text_of("voice"), staff=first.text_of("staff")
        )
        edits.append(Edit(first.start, first.start, direction + lead))
    if tail:
        edits.append(Edit(first.end, first.end, "".join(lead + note for note in tail)))
    edits += [
        Edit(node.start - len(space_before(bar.text, node.start)), node.end, "")
        for node in nodes[1:]
    ]
    return edits


@dataclass(frozen=True)
class _Link:
    """One chord of a chain of ties as it is to be written."""

    chord: ChordToWrite
    ids: tuple[str, ...]
    tied_in: bool
    tied_out: bool
    accidentals: bool

    @property
    def ties(self) -> list[str]:
        return ["stop"] * self.tied_in + ["start"] * self.tied_out


def _turn_into_first_note(
    editor: NoteEditor, link: _Link, event: Event, values: list[NoteValue] | None
) -> None:
    note = link.chord.notes[0]
    editor.replace_one_of(("pitch", "unpitched", "rest"), markup.pitch(note.pitch))
    editor.remove("accidental", "notehead", "notehead-text")
    value = values[0] if values else _missing_value(event)
    if value is not None:
        _set_value(editor, event, value)
    for tie in link.ties:
        editor.ensure_tie(tie)
    if link.accidentals:
        editor.add("accidental", markup.accidental(note.pitch))
    if note.notehead:
        editor.add("notehead", note.notehead.markup())
    if link.ids:
        editor.set_id(link.ids[0])
    _hang(editor, link.chord)


def _rescue(editor: NoteEditor, text: str, gone: Node) -> None:
    """Move what hangs on a note that goes away to the first note, its ties aside."""
    for child in gone.children:
        if child.tag == "lyric":
            editor.add("lyric", child.source(text))
        elif child.tag == "notations":
            for notation in child.children:
                if notation.tag != "tied":
                    editor.add_notation(notation.source(text))


def _hang(editor: NoteEditor, chord: ChordToWrite) -> None:
    """Add what hangs on the chord as a whole: it stands on the first note."""
    if chord.footnote:
        editor.add("footnote", markup.leaf("footnote", chord.footnote))
    if chord.fingering:
        editor.add_fingering(chord.fingering)
    for number, text in enumerate(chord.cents_lines, start=1):
        editor.add("lyric", markup.cents_lyric(number, text))


def _missing_value(event: Event) -> NoteValue | None:
    """Return the note value of an event whose notes do not tell it."""
    if event.first.find("type") is not None or event.first.find("time-modification") is not None:
        return None
    return single_value(event.duration_quarters)


def _set_value(editor: NoteEditor, event: Event, value: NoteValue) -> None:
    editor.remove("type", "dot")
    editor.replace_one_of(("duration",), markup.duration(value.quarters, event.divisions))
    editor.add("type", markup.leaf("type", value.type))
    for _ in range(value.dots):
        editor.add("dot", "<dot/>")


_COPIED_BEFORE_TYPE = ("instrument", "level", "voice")


def _members(
    text: str, first: Node, link: _Link, event: Event, value: NoteValue | None, *, start: int
) -> list[str]:
    """Return the chord's notes from the one with index `start` up."""
    return [
        _member(text, first, link, event, index, value)
        for index in range(start, len(link.chord.notes))
    ]


def _member(
    text: str, first: Node, link: _Link, event: Event, index: int, value: NoteValue | None
) -> str:
    """Return one `<note>` that shares the first note's rhythm, voice, staff and instrument."""

    def copied(*tags: str) -> str:
        return "".join(node.source(text) for node in first.children if node.tag in tags)

    note = link.chord.notes[index]
    if value is None:
        length, written = copied("duration"), copied("type") + copied("dot")
    else:
        length = markup.duration(value.quarters, event.divisions)
        written = markup.leaf("type", value.type) + "<dot/>" * value.dots
    tied = "".join(markup.element("tied", type=tie) for tie in link.ties)
    note_id = {"id": link.ids[index]} if link.ids else {}
    return markup.element(
        "note",
        "<chord/>" if index else "",
        markup.pitch(note.pitch),
        length,
        *(markup.element("tie", type=tie) for tie in link.ties),
        copied(*_COPIED_BEFORE_TYPE),
        written,
        markup.accidental(note.pitch) if link.accidentals else "",
        copied("time-modification"),
        copied("stem"),
        note.notehead.markup() if note.notehead else "",
        copied("staff"),
        markup.element("notations", tied) if tied else "",
        **note_id,
    )
