"""Real MusicXML files, read where the package music21 installs them; none is copied.

Each file's properties were counted in its bytes; tests/truth_tests/test_real_scores.py counts
those again that other tests lean on.
"""

from __future__ import annotations

import functools
import re
from pathlib import Path

from truth.musicxml_schema import package_folder
from truth.score_text import encoding_of

_ROOT = package_folder("music21")
_CORPUS = _ROOT / "corpus"
_SUITE = _ROOT / "musicxml" / "lilypondTestSuite"

NAMED: dict[str, Path] = {
    # Encodings and line ends.
    # UTF-16 with BOM in an .mxl, CRLF, 10.9 MB, attributes in single quotes, 4 parts, 2477
    # rests, tuplets, grace notes, backups; the container names the score before META-INF.
    "utf16 quartet": _CORPUS / "beethoven" / "opus132.mxl",
    # UTF-16 with BOM, no .mxl, LF, 80 kB, single quotes, 3 parts, processing instructions,
    # lyrics, no rest.
    "utf16 plain": _CORPUS / "trecento" / "PMFC_12_22-Benedicamus PMFC12.22.xml",
    # UTF-16 with BOM in an .mxl, CRLF, 426 kB, 5 voices, 94 rests, lyrics, comments.
    "utf16 madrigal": _CORPUS / "monteverdi" / "madrigal.3.9.mxl",
    # UTF-8, CRLF, one part, 35 bars, 18 rests, divisions 2, beams, comments between bars.
    "crlf melody": _CORPUS / "ciconia" / "quod_jactatur.xml",
    # UTF-8, CRLF, 3 voices, 378 bars, 62 rests, ties, lyrics.
    "crlf gloria": _CORPUS / "luca" / "gloria.xml",
    # UTF-8, CR only, in an .mxl, 4 parts, 4 rests, forwards, pickup bars, divisions 2 and 4.
    "cr chorale": _CORPUS / "bach" / "bwv158.4.mxl",
    # UTF-8, CR only, in an .mxl, one piano part on two staves, chords, nested voices, tuplets.
    "cr piano": _CORPUS / "schoenberg" / "opus19" / "movement6.mxl",
    # CR nearly throughout, one LF: mixed line ends; 8 parts, 93 rests, version 1.1.
    "mixed line ends": _CORPUS / "bach" / "bwv69.6.xml",
    # Declared ISO-8859-1 (all characters are ASCII), LF, one part, 5 pitched rests.
    "latin1 rests": _SUITE / "02b-Rests-PitchedRests.xml",
    # No encoding declared, CRLF, in an .mxl, DOCTYPE of 0.6a, 4 parts, 95 rests,
    # 28 repeats, forwards of duration 0 and other old faults (11 schema errors).
    "old faults": _CORPUS / "haydn" / "opus1no1" / "movement4.mxl",
    # Containers.
    # .mxl with mimetype first and stored, and four bundled parts; 4 parts, 3049 rests.
    "bundled parts": _CORPUS / "beethoven" / "opus133.mxl",
    # .mxl with a PDF beside the score, without mimetype; one bar.
    "mxl with pdf": _SUITE / "90a-Compressed-MusicXML.mxl",
    # .mxl with a junk entry (__MACOSX/…) named like XML; one piano part, chords, backups.
    "mxl with junk": _CORPUS / "schoenberg" / "opus19" / "movement2.mxl",
    # Parts with rests to place something on.
    # 4.0, .mxl with mimetype, voice and clarinet, no <transpose>, 38 rests (2 whole bars), 26
    # tuplet notes, one metronome mark.
    "voice and clarinet": _CORPUS / "webern" / "webern_dormi_jesu_op_16_no_2.mxl",
    # 3.0, UTF-8, LF, 4 voices, 16 rests, divisions 10080, a bar numbered 8a, repeats, lyrics
    # with umlauts.
    "chorale": _CORPUS / "bach" / "bwv140.7.mxl",
    # 3.0, transposing clarinet (-1, -2) and piano: 482 bars, 514 rests (50 whole bars), cadenza
    # tuplets, <instrument> on notes, divisions 1024 and 8, 21 metronome marks.
    "transposing clarinet": _CORPUS / "weber" / "concertino_clarinet.mxl",
    # 2.0, CRLF, voice and piano, cue notes, forwards, backups, divisions 24 and 8.
    "cue notes": _CORPUS / "schumann_robert" / "dichterliebe_no2.xml",
    # 3.0, two parts with octave-change in <transpose>, 3 parts, 24 rests, <instrument> on notes.
    "octave change": _CORPUS / "trecento" / "PMFC_23_16-Kyrie Apt 16.xml",
    # 4.0, 3 voices, 36 rests (4 whole bars), divisions 12, 2 and 4, many characters beyond ASCII.
    "version 4 voices": _CORPUS / "lusitano" / "allor_che_ignuda.mxl",
    # 3.0, 810 kB, voice and piano, 142 rests, triplets everywhere, grace notes, backups.
    "triplets": _CORPUS / "schubert" / "Lindenbaum.xml",
    # 3.0, one staff, two voices by backup, 5 rests.
    "two voices": _CORPUS / "demos" / "two-voices.xml",
    # Small files with one difficulty each.
    # divisions change inside bar 1 (1, then 8) and inside bar 2 (38).
    "divisions mid-bar": _SUITE / "03c-Rhythm-DivisionChange.xml",
    # 19 rests of many values, dotted too; divisions 32.
    "rests of all values": _SUITE / "02a-Rests-Durations.xml",
    # 31 bars of rest in multi-bar rests (measure-style); divisions 1.
    "bars of rest": _SUITE / "02c-Rests-MultiMeasureRests.xml",
    # 11 parts, nine of them transposing, two with octave-change; no rest.
    "eleven transpositions": _SUITE / "72b-TransposingInstruments-Full.xml",
    # <transpose> changes in mid-part.
    "transposition changes": _SUITE / "72c-TransposingInstruments-Change.xml",
    # a tuplet inside a tuplet.
    "nested tuplets": _SUITE / "23d-Tuplets-Nested.xml",
    # a direction between the notes of one chord.
    "direction in chord": _SUITE / "21f-Chord-ElementInBetween.xml",
    # pickup, bar numbered X1, implicit bars.
    "pickup": _SUITE / "46d-PickupMeasure-ImplicitMeasures.xml",
    # quarter-tone and three-quarter-tone accidentals: alter -0.5, -1.5 and 1.5.
    "microtones": _SUITE / "01f-Pitches-EditorialMicrotoneAccidentals.xml",
}


@functools.cache
def score_paths() -> tuple[Path, ...]:
    """Return every MusicXML file of music21's corpus and of the suite of small files."""
    suffixes = {".xml", ".musicxml", ".mxl"}
    return tuple(
        sorted(
            path
            for folder in (_CORPUS, _SUITE)
            for path in folder.rglob("*")
            if path.suffix in suffixes
        )
    )


_ASCII_COMPATIBLE = "latin-1"


def with_saxophone(
    data: bytes,
    part_id: str,
    name: str = "Alto Saxophone",
    sound: str = "wind.reed.saxophone.alto",
) -> bytes:
    """Return the document with one part named as a saxophone, every other byte kept.

    Sets the part's <part-name>, and its <instrument-name> and <instrument-sound> where it has
    them. Takes the MusicXML document itself (`root_file` of an .mxl), in any encoding; `name`
    is ASCII. Adds no <transpose>.
    """
    codec = encoding_of(data)
    codec = codec if codec.startswith("utf-16") else _ASCII_COMPATIBLE
    text = data.decode(codec)
    entry = re.search(
        rf"""<score-part\s[^>]*?\bid\s*=\s*(["']){re.escape(part_id)}\1.*?</score-part\s*>""",
        text,
        re.DOTALL,
    )
    assert entry is not None, f"there is no score-part {part_id}"
    renamed = entry[0]
    for element, content in (
        ("part-name", name),
        ("instrument-name", name),
        ("instrument-sound", sound),
    ):
        renamed = re.sub(
            rf"<({element})(\s[^>]*?)?(?:/>|>[^<]*</{element}\s*>)",
            rf"<\1\2>{content}</{element}>",
            renamed,
        )
    return (text[: entry.start()] + renamed + text[entry.end() :]).encode(codec)
