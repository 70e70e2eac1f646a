"""Scores in other formats, judged by the files that music21 ships and by music21's own reading."""

import re
from fractions import Fraction

import pytest

from reedchord.errors import InputError
from reedchord.music21_bridge.conversion import ABC, HUMDRUM, MEI, MIDI, converted, foreign_format
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from samples import COLLECTION, RESTS, at
from truth.music21_reading import sounding_pitches
from truth.musicxml_schema import package_folder, schema_errors

_ROOT = package_folder("music21")
FILES = {
    "krn": (_ROOT / "corpus" / "bach" / "bwv277.krn", HUMDRUM),
    "abc": (_ROOT / "corpus" / "airdsAirs" / "book1.abc", ABC),
    "mei": (_ROOT / "mei" / "test" / "notes_in_utf8.mei", MEI),
    "mei in utf-16": (_ROOT / "mei" / "test" / "notes_in_utf16.mei", MEI),
    "mid": (_ROOT / "midi" / "testPrimitive" / "test05.mid", MIDI),
}


@pytest.mark.parametrize(("path", "form"), FILES.values(), ids=FILES)
def test_the_format_is_recognised_by_what_is_in_the_file(path, form):
    assert foreign_format(path.read_bytes()) is form


def test_musicxml_is_no_other_format():
    assert foreign_format(RESTS) is None
    assert foreign_format(RESTS.decode().encode("utf-16")) is None
    assert foreign_format(b"") is None
    assert foreign_format(b"just words") is None


@pytest.mark.parametrize("name", ["krn", "mei", "mid"])
def test_a_conversion_is_valid_and_the_same_each_time(name):
    path, form = FILES[name]
    document, told = converted(path.read_bytes(), form)
    assert converted(path.read_bytes(), form)[0] == document
    assert f"converted from {form.name} to MusicXML by music21" in told
    # MusicXML 4.0 XSD.
    assert schema_errors(document) == []
    assert read_score(document).parts[0].id == "P1"


def test_pitches_of_a_chorale_are_those_that_music21_reads():
    from music21 import converter

    path, form = FILES["krn"]
    document, _ = converted(path.read_bytes(), form)
    bar = converter.parse(path, format="humdrum").parts[0].getElementsByClass("Measure")[1]
    expected = [Fraction(note.pitch.ps) for note in bar.notes]
    assert [s.pitches[0] for s in sounding_pitches(document, 0, 1)] == expected


def midi_for_alto() -> bytes:
    """Return a MIDI file whose part says that it is for alto saxophone; C4, D4, E4, F4 sound."""
    from music21 import instrument, note, stream
    from music21.midi.translate import streamToMidiFile

    part = stream.Part([instrument.AltoSaxophone()])
    part.append([note.Note(name) for name in ("C4", "D4", "E4", "F4")])
    part.append(note.Rest(4))
    part.append(note.Note("G4"))
    return streamToMidiFile(stream.Score([part])).writestr()


def test_what_sounds_in_midi_sounds_in_the_conversion():
    document, told = converted(midi_for_alto(), MIDI)
    heard = [sounding.pitches[0] for sounding in sounding_pitches(document, 0, 0)]
    assert heard == [60, 62, 64, 65]  # MIDI note numbers, MIDI 1.0
    # Written a major sixth higher for alto (common practice, no source).
    assert re.findall(r"<step>(.)</step>", document.decode())[:2] == ["A", "B"]
    assert "transposed to written pitch" in told
    placed = place(document, [at(2)], COLLECTION)
    assert placed.warnings == ()


@pytest.mark.parametrize(
    ("data", "form", "code"),
    [
        (FILES["abc"][0].read_bytes(), ABC, "convert.several"),
        (b"MThd\0\0", MIDI, "convert.failed"),
        (b"<mei><music", MEI, "convert.failed"),
        (b'<!DOCTYPE mei [<!ENTITY a "aa">]><mei>&a;</mei>', MEI, "xml.entity"),
        (b"**kern\n" + b"!" * (17 * 2**20), HUMDRUM, "convert.size"),
    ],
)
def test_what_cannot_be_converted_is_told(data, form, code):
    with pytest.raises(InputError) as wrong:
        converted(data, form)
    assert wrong.value.code == code
