"""Small pieces of MusicXML as text."""

from __future__ import annotations

from fractions import Fraction
from html import escape

from reedchord.numbers_as_text import decimal_text
from reedchord.pitch import Pitch

ACCIDENTAL_NAMES = {
    -200: "flat-flat",
    -100: "flat",
    -50: "quarter-flat",
    0: "natural",
    50: "quarter-sharp",
    100: "sharp",
    200: "double-sharp",
}
"""Names of MusicXML's accidental-value by alteration in cents; no arrows, no three-quarters."""


def element(tag: str, *content: str, **attributes: str) -> str:
    """Return an element around markup that is ready; `_` in attribute names becomes `-`."""
    opening = tag + "".join(
        f' {name.replace("_", "-")}="{escape(text)}"' for name, text in attributes.items()
    )
    inside = "".join(content)
    return f"<{opening}>{inside}</{tag}>" if inside else f"<{opening}/>"


def leaf(tag: str, text: str, **attributes: str) -> str:
    """Return an element around plain text."""
    return element(tag, character_data(text), **attributes)


def character_data(text: str) -> str:
    """Return plain text as it stands between tags."""
    return escape(text, quote=False)


def pitch(written: Pitch) -> str:
    """Return a `<pitch>`; `alter` in semitones, left out when it is 0."""
    semitones = written.alteration_cents / 100
    alter = leaf("alter", decimal_text(semitones)) if semitones else ""
    return element("pitch", leaf("step", written.step), alter, leaf("octave", str(written.octave)))


def accidental(written: Pitch) -> str:
    """Return the `<accidental>` that shows the alteration of a pitch."""
    return leaf("accidental", ACCIDENTAL_NAMES[int(written.alteration_cents)])


def duration(quarters: Fraction, divisions: Fraction) -> str:
    """Return a `<duration>` in divisions of a quarter note."""
    return leaf("duration", decimal_text(quarters * divisions))


def words_direction(text: str, *, voice: str | None, staff: str | None, below: bool = False) -> str:
    """Return a `<direction>` with one `<words>`; lines are parted by line feeds."""
    return direction(leaf("words", text), voice=voice, staff=staff, below=below)


def direction(mark: str, *, voice: str | None, staff: str | None, below: bool = False) -> str:
    """Return a `<direction>` around one mark, such as words, dynamics or a wedge."""
    return element(
        "direction",
        element("direction-type", mark),
        leaf("voice", voice) if voice else "",
        leaf("staff", staff) if staff else "",
        placement="below" if below else "above",
    )


def halved() -> str:
    """Return the `<time-modification>` of a two-note tremolo: two in the time of one."""
    return element("time-modification", leaf("actual-notes", "2"), leaf("normal-notes", "1"))


def tremolo(way: str, marks: int) -> str:
    """Return the ornament of a two-note tremolo, `start` or `stop`, with so many beams."""
    return element("ornaments", leaf("tremolo", str(marks), type=way))


def slur(way: str, number: int, name: str | None = None) -> str:
    """Return a `<slur>`, `start` or `stop`, with an id where it has one."""
    return element("slur", type=way, number=str(number), **({"id": name} if name else {}))


def dynamics(mark: str) -> str:
    """Return a `<dynamics>` with one mark, such as mf."""
    return element("dynamics", element(mark))


def wedge(kind: str) -> str:
    """Return a `<wedge>`: crescendo, diminuendo or stop."""
    return element("wedge", type=kind)


def fingering(text: str) -> str:
    """Return a `<fingering>`, one for a whole chord."""
    return leaf("fingering", text, placement="above")


def cents_lyric(line: int, text: str) -> str:
    """Return a `<lyric>` that shows a tone's cents on a line of its own."""
    return element(
        "lyric", leaf("syllabic", "single"), leaf("text", text), number=str(line), name="cents"
    )
