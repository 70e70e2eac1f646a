"""The demonstration's score once more, with mistakes for `reedchord check` to find."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from reedchord.collection import Collection
from reedchord.errors import InputError, Where
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.plan import Placement

Given = Placement | tuple[Placement, Where]

MISTAKES = "harbour-lights-mistakes.musicxml"


@dataclass(frozen=True)
class Edit:
    """Text of one bar of one part that an editor, or a slip, replaced."""

    part: str
    bar: str
    old: str
    new: str


@dataclass(frozen=True)
class Mistake:
    """What is wrong, the code under which it is found, and how it came about."""

    code: str
    words: str
    prepared: tuple[Edit, ...] = ()
    """What the music is before anything is placed."""
    placements: tuple[dict[str, Any], ...] = ()
    edits: tuple[Edit, ...] = ()
    """What somebody changed afterwards."""


_QUARTER, _EIGHTH = (
    f"        <duration>{divisions}</duration>\n        <voice>1</voice>\n"
    f"        <type>{value}</type>\n      </note>"
    for divisions, value in ((6, "quarter"), (3, "eighth"))
)
_E5 = (
    "      <note>\n        <pitch>\n          <step>E</step>\n          <octave>5</octave>\n"
    "        </pitch>\n"
)
_B5_ABOVE = (
    "\n      <note>\n        <chord/>\n        <pitch>\n          <step>B</step>\n"
    "          <octave>5</octave>\n        </pitch>\n        <duration>24</duration>\n"
    "        <voice>1</voice>\n        <type>whole</type>\n      </note>"
)


def _placed(sonority: str, part: str, bar: int, beat: int = 1, **more: Any) -> dict[str, Any]:
    return {"sonority": sonority, "part": part, "bar": str(bar), "beat": str(beat), **more}


DELIBERATE: tuple[Mistake, ...] = (
    Mistake(
        "saxophone.range",
        "the soprano's E in bar 7 slipped below its lowest note",
        edits=(Edit("P1", "7", "<octave>5</octave>", "<octave>3</octave>"),),
    ),
    Mistake(
        "change.too-hard",
        "from Ferry bell to Fog signal nearly every finger moves within a quarter note",
        placements=(
            _placed("tenor-ferry-bell", "P3", 7, 2),
            _placed("tenor-fog-signal", "P3", 7, 3),
        ),
    ),
    Mistake(
        "speed.too-fast",
        "Shingle is slow, and stands in eighths",
        prepared=(Edit("P2", "8", _QUARTER, f"{_EIGHTH}\n{_E5}{_EIGHTH}"),),
        placements=(_placed("alto-shingle", "P2", 8),),
    ),
    Mistake(
        "marks.fingering",
        "somebody wrote another fingering for Engine room",
        edits=(Edit("P4", "8", "low C</fingering>", "E♭</fingering>"),),
    ),
    Mistake(
        "marks.label",
        "the label of the second Slack water is lost",
        edits=(Edit("P2", "9", "<words>M2</words>", "<words>dolce</words>"),),
    ),
    Mistake(
        "dynamic.impossible",
        "Lantern is for ppp to p, and stands at mf",
        placements=(_placed("alto-lantern", "P2", 10),),
    ),
    Mistake(
        "placement.edited",
        "the low tone of Slipway was dragged a step down",
        edits=(Edit("P3", "11", "<step>E</step>", "<step>D</step>"),),
    ),
    Mistake(
        "label.two-sonorities",
        "Mooring line got the label of Ferry bell",
        edits=(Edit("P4", "11", "<words>M8 ", "<words>M1 "),),
    ),
    Mistake(
        "chord.unknown",
        "somebody typed a third into the alto's last bar",
        edits=(Edit("P2", "12", "</note>", f"</note>{_B5_ABOVE}"),),
    ),
    Mistake(
        "tone.absent",
        "the top tone of Breakwater is to be brought out at p, where it is absent",
        placements=(_placed("tenor-breakwater", "P3", 12, emphasised=3),),
    ),
)
"""The mistakes in the order of the score."""


def mistaken_score(score: bytes, placements: Iterable[Given], collection: Collection) -> bytes:
    """Return the demonstration with its placements and every deliberate mistake in it."""
    prepared = _edited(score, [edit for one in DELIBERATE for edit in one.prepared])
    wrong = [Placement.model_validate(row) for one in DELIBERATE for row in one.placements]
    placed = place(prepared, [*placements, *wrong], collection)
    return _edited(placed.data, [edit for one in DELIBERATE for edit in one.edits])


def _edited(data: bytes, edits: Iterable[Edit]) -> bytes:
    """Return a document in which each text is replaced in its bar, where it stands first."""
    for edit in edits:
        score = read_score(data)
        start, end = score.bar_span(score.part(edit.part).bar(edit.bar))
        before, bar, after = score.text[:start], score.text[start:end], score.text[end:]
        if edit.old not in bar:
            raise InputError("demo.mistake", f"bar {edit.bar} of {edit.part} lacks {edit.old!r}")
        data = (before + bar.replace(edit.old, edit.new, 1) + after).encode("utf-8")
    return data
