"""The saxophone family as one table, and the way between written and concert pitch."""

from __future__ import annotations

from typing import NamedTuple

from reedchord.errors import InputError, did_you_mean
from reedchord.pitch import Pitch, parse_pitch


class Saxophone(NamedTuple):
    """One member of the family.

    `semitones` and `steps` lead from written to concert pitch; `transpose` is MusicXML's
    (diatonic, chromatic, octave-change); `sound` is the id in MusicXML's `sounds.xml`;
    `abbreviation` is what players read on a part.
    """

    name: str
    key: str
    semitones: int
    steps: int
    transpose: tuple[int, int, int]
    sound: str
    abbreviation: str
    lowest_written: Pitch
    highest_written: Pitch
    has_low_a: bool = False

    def concert(self, written: Pitch) -> Pitch:
        """Return the concert pitch of a written one, the spelling's letter distance kept."""
        return written.transposed(semitones=self.semitones, steps=self.steps)

    def written(self, concert: Pitch) -> Pitch:
        """Return the written pitch of a concert one, the spelling's letter distance kept."""
        return concert.transposed(semitones=-self.semitones, steps=-self.steps)

    def __str__(self) -> str:
        return f"{self.name} saxophone"


_SOUND = "wind.reed.saxophone"

# Keys and intervals: common practice, no source; soprano to baritone agree with music21's
# instrument classes. Lowest and highest written notes are those of the keywork, altissimo
# lies above.
_ROWS: tuple[tuple[str, str, int, int, tuple[int, int, int], str, str, str, str], ...] = (
    ("sopranino", "E flat", 3, 2, (2, 3, 0), "sopranino", "Sno. Sax.", "Bb3", "F#6"),
    ("soprano", "B flat", -2, -1, (-1, -2, 0), "soprano", "Sop. Sax.", "Bb3", "G6"),
    ("alto", "E flat", -9, -5, (-5, -9, 0), "alto", "Alto Sax.", "Bb3", "F#6"),
    ("C melody", "C", -12, -7, (0, 0, -1), "melody", "C Mel. Sax.", "Bb3", "F#6"),
    ("tenor", "B flat", -14, -8, (-1, -2, -1), "tenor", "Ten. Sax.", "Bb3", "F#6"),
    ("baritone", "E flat", -21, -12, (-5, -9, -1), "baritone", "Bar. Sax.", "A3", "F#6"),
    ("bass", "B flat", -26, -15, (-1, -2, -2), "bass", "Bass Sax.", "Bb3", "F#6"),
    ("contrabass", "E flat", -33, -19, (-5, -9, -2), "contrabass", "Cb. Sax.", "Bb3", "F#6"),
)

FAMILY: dict[str, Saxophone] = {
    name: Saxophone(
        name,
        key,
        semitones,
        steps,
        transpose,
        f"{_SOUND}.{sound}",
        abbreviation,
        parse_pitch(lowest),
        parse_pitch(highest),
        has_low_a=name == "baritone",
    )
    for name, key, semitones, steps, transpose, sound, abbreviation, lowest, highest in _ROWS
}
"""Every member by its name, highest first."""


def saxophone(name: str) -> Saxophone:
    """Return the member of the family with this name; raises InputError with near names."""
    plain = " ".join(name.casefold().replace("_", " ").replace("-", " ").split())
    plain = f" {plain}".removesuffix(" saxophone").removesuffix(" sax").strip()
    for member in FAMILY.values():
        if member.name.casefold() == plain:
            return member
    raise InputError(
        "saxophone.unknown", f"{name!r} is no saxophone", hint=did_you_mean(plain, FAMILY)
    )
