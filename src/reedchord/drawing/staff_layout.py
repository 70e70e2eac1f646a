"""Where clef, noteheads, accidentals and cents of a sonority stand on a treble staff: no SVG yet.

Lengths are in tenths of a staff space, downwards from the top line of the staff.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from reedchord.chord_spelling import Grid, SpelledTone, spelled
from reedchord.drawing.staff_glyphs import GLYPHS, UNITS_PER_STAFF_SPACE
from reedchord.pitch import Pitch

STAFF_SPACE = 10.0
STAFF_HEIGHT = 4 * STAFF_SPACE
LABEL_SIZE = 17.0
OCTAVE_MARK_SIZE = 15.0
GLYPH_SCALE = STAFF_SPACE / UNITS_PER_STAFF_SPACE

ACCIDENTALS = {
    -100: "accidentalFlat",
    -50: "accidentalQuarterToneFlatStein",
    0: "accidentalNatural",
    50: "accidentalQuarterToneSharpStein",
    100: "accidentalSharp",
}
"""Names in SMuFL of the accidentals on the grid of a score, by their cents."""
OCTAVE_MARKS = {-3: "22mb", -2: "15mb", -1: "8vb", 1: "8va", 2: "15ma", 3: "22ma"}

_TOP_LINE = Pitch("F", 5).staff_position
_BOTTOM_LINE = Pitch("E", 4).staff_position
_CLEF_LINE = Pitch("G", 4).staff_position
_LOWEST, _HIGHEST = Pitch("A", 3).staff_position, Pitch("F", 6).staff_position
"""Further out, ledger lines are hard to count: an octave mark stands instead."""

_HEAD_WIDTH = GLYPHS["noteheadBlack"].width * GLYPH_SCALE
_CLEF_X = 4.0
_AFTER_CLEF = 9.0
_BEFORE_HEAD, _BETWEEN_ACCIDENTALS = 2.5, 1.5
_BETWEEN_COLUMNS = 9.0
_LEDGER_OVERHANG = 4.0
_LABEL_GAP, _LABEL_STEP = 3.0, 0.85 * LABEL_SIZE


@dataclass(frozen=True)
class StaffTone:
    """A tone to be drawn: its number in the sonority, and its pitch with all cents."""

    number: int
    pitch: Pitch


@dataclass(frozen=True)
class StaffNote:
    """A tone on the staff: `shown` is its spelling, `octave_shift` how far above it sounds.

    `x` is the left end of the notehead, `accidental_x` that of the accidental, `y` their line
    or space; the label tells the cents that are left over, at the left end of its baseline.
    """

    tone: StaffTone
    shown: Pitch
    octave_shift: int
    label: str
    x: float = 0.0
    y: float = 0.0
    accidental_x: float = 0.0
    label_x: float = 0.0
    label_y: float = 0.0

    @property
    def accidental(self) -> str:
        """The name of its accidental in SMuFL."""
        return ACCIDENTALS[int(self.shown.alteration_cents)]

    @property
    def position(self) -> int:
        """Line or space on which it is drawn, in steps above C0."""
        return self.shown.staff_position - 7 * self.octave_shift


@dataclass(frozen=True)
class OctaveMark:
    """A mark over notes that sound octaves higher, or under notes that sound lower."""

    text: str
    left: float
    right: float
    y: float


@dataclass(frozen=True)
class StaffLayout:
    """Everything that is drawn, within (0, top) and (width, bottom).

    `staves` are the left and right ends of the staff, which stops where labels stand.
    """

    width: float
    top: float
    bottom: float
    staves: tuple[tuple[float, float], ...]
    notes: tuple[StaffNote, ...]
    marks: tuple[OctaveMark, ...]

    @property
    def height(self) -> float:
        """From top to bottom."""
        return self.bottom - self.top


def staff_layout(
    tones: Sequence[StaffTone], *, grid: Grid = Grid.QUARTER, side_by_side: bool = False
) -> StaffLayout:
    """Lay out tones, lowest first, as one chord or each for itself."""
    spelling = spelled([tone.pitch for tone in tones], grid)
    shown = list(zip(tones, spelling, strict=True))
    columns = [
        [StaffNote(tone, one.pitch, shift, one.cents_label, y=_y(one.pitch, shift))]
        for (tone, one), shift in zip(shown, _shifts(spelling, side_by_side), strict=True)
    ]
    if not side_by_side:
        notes = [column[0] for column in columns]
        columns = [list(group) for _, group in groupby(notes, key=lambda note: note.octave_shift)]
    x = _CLEF_X + GLYPHS["gClef"].width * GLYPH_SCALE + _AFTER_CLEF
    placed: list[StaffNote] = []
    staves = [(0.0, x)]
    for column in columns:
        heads = _with_accidentals(_with_heads(column), x)
        staves[-1] = (staves[-1][0], max(map(_staff_end, heads)))
        if side_by_side:
            x = max(map(_staff_end, heads)) + _BETWEEN_COLUMNS
        else:
            heads = _labelled_beside(heads, staves[-1][1])
            x = max(map(_right_end, heads)) + _BETWEEN_COLUMNS
            staves.append((x - _BETWEEN_COLUMNS / 2, x))
        placed += heads
    if side_by_side:
        return _framed(_labelled_underneath(placed), staves)
    return _framed(placed, staves[: len(columns)] or staves)


def ledger_lines(note: StaffNote) -> Iterator[tuple[float, float, float]]:
    """Yield left end, right end and height of each ledger line that a note needs."""
    above = range(_TOP_LINE + 2, note.position + 1, 2)
    below = range(_BOTTOM_LINE - 2, note.position - 1, -2)
    for position in (*above, *below):
        left, right = note.x - _LEDGER_OVERHANG, note.x + _HEAD_WIDTH + _LEDGER_OVERHANG
        yield left, right, _height_of(position)


def clef_position() -> tuple[float, float]:
    """Return where the clef's origin stands."""
    return _CLEF_X, _height_of(_CLEF_LINE)


def _height_of(position: int) -> float:
    return (_TOP_LINE - position) * STAFF_SPACE / 2


def _y(shown: Pitch, shift: int) -> float:
    return _height_of(shown.staff_position - 7 * shift)


def _shifts(spelling: Sequence[SpelledTone], side_by_side: bool) -> list[int]:
    """Return by how many octaves each tone sounds above its line.

    A chord is shifted as a whole where that is enough, and only else in parts.
    """
    ranges = [_possible_shifts(one.pitch.staff_position) for one in spelling]
    common = set.intersection(*map(set, ranges)) if ranges and not side_by_side else set()
    if common:
        return [min(common, key=abs)] * len(ranges)
    return [min(shifts, key=abs) for shifts in ranges]


def _possible_shifts(position: int) -> range:
    """Return the shifts that bring a tone between the lowest and the highest line."""
    return range(-((_HIGHEST - position) // 7), (position - _LOWEST) // 7 + 1)


def _with_heads(column: list[StaffNote]) -> list[StaffNote]:
    """Set the upper of two neighbouring heads to the right of the lower."""
    heads: list[StaffNote] = []
    for note in column:
        close = heads and heads[-1].x == 0 and note.position - heads[-1].position <= 1
        heads.append(replace(note, x=_HEAD_WIDTH if close else 0.0))
    return heads


def _with_accidentals(heads: list[StaffNote], x: float) -> list[StaffNote]:
    """Set accidentals before the heads, from the top into the nearest column with room."""
    columns: list[list[StaffNote]] = []
    for note in reversed(heads):
        free = (column for column in columns if not any(_collide(note, one) for one in column))
        column = next(free, None)
        if column is None:
            columns.append([note])
        else:
            column.append(note)
    widths = [max(_accidental_width(note) for note in column) for column in columns]
    head_x = x + sum(widths) + _BETWEEN_ACCIDENTALS * (len(widths) - 1) + _BEFORE_HEAD
    accidental_x: dict[int, float] = {}
    right = head_x - _BEFORE_HEAD
    for width, column in zip(widths, columns, strict=True):
        for note in column:
            accidental_x[note.tone.number] = right - _accidental_width(note)
        right -= width + _BETWEEN_ACCIDENTALS
    return [
        replace(note, x=note.x + head_x, accidental_x=accidental_x[note.tone.number])
        for note in heads
    ]


def _accidental_width(note: StaffNote) -> float:
    return GLYPHS[note.accidental].width * GLYPH_SCALE


def _collide(one: StaffNote, other: StaffNote) -> bool:
    """Whether two accidentals in one column would touch."""
    upper, lower = sorted((one, other), key=lambda note: note.y)
    bottom = upper.y - GLYPHS[upper.accidental].bottom * GLYPH_SCALE
    top = lower.y - GLYPHS[lower.accidental].top * GLYPH_SCALE
    return bottom + 1 > top


def _labelled_beside(column: list[StaffNote], staff_end: float) -> list[StaffNote]:
    """Set labels to the right of a chord, spread where notes are near to one another."""
    middles = _spread([note.y for note in column], _LABEL_STEP)
    return [
        replace(note, label_x=staff_end + _LABEL_GAP, label_y=middle + LABEL_SIZE * 0.34)
        for note, middle in zip(column, middles, strict=True)
    ]


def _spread(heights: list[float], step: float) -> list[float]:
    """Return heights, lowest on the page first, at least `step` apart and as near as can be."""
    clusters: list[list[float]] = []
    for height in heights:
        clusters.append([height])
        while len(clusters) > 1 and _lowest(clusters[-1], step) > _top(clusters[-2], step) - step:
            clusters[-2:] = [clusters[-2] + clusters[-1]]
    return [
        _lowest(cluster, step) - step * index
        for cluster in clusters
        for index in range(len(cluster))
    ]


def _lowest(cluster: list[float], step: float) -> float:
    return sum(cluster) / len(cluster) + step * (len(cluster) - 1) / 2


def _top(cluster: list[float], step: float) -> float:
    return _lowest(cluster, step) - step * (len(cluster) - 1)


def _labelled_underneath(notes: list[StaffNote]) -> list[StaffNote]:
    """Set labels in one row under tones that stand side by side."""
    lowest = max((note.y for note in notes), default=0.0)
    y = max(lowest, STAFF_HEIGHT) + STAFF_SPACE + LABEL_SIZE
    return [
        replace(note, label_x=note.x + (_HEAD_WIDTH - label_width(note.label)) / 2, label_y=y)
        for note in notes
    ]


def label_width(text: str, size: float = LABEL_SIZE) -> float:
    """Return about how wide a label is, rather too wide than too narrow."""
    return 0.6 * size * len(text)


def _staff_end(note: StaffNote) -> float:
    """Return how far a head, its ledger lines and a label underneath reach."""
    label = (_HEAD_WIDTH + label_width(note.label)) / 2
    return note.x + max(_HEAD_WIDTH + _LEDGER_OVERHANG + 1, label)


def _right_end(note: StaffNote) -> float:
    return max(note.x + _HEAD_WIDTH, note.label_x + label_width(note.label))


def _framed(notes: list[StaffNote], staves: list[tuple[float, float]]) -> StaffLayout:
    """Return the layout with octave marks, high and wide enough for everything in it."""
    clef_y, clef = clef_position()[1], GLYPHS["gClef"]
    tops = [
        clef_y - clef.top * GLYPH_SCALE,
        *(note.y - STAFF_SPACE * 1.4 for note in notes),
        *(note.label_y - LABEL_SIZE * 0.75 for note in notes),
    ]
    bottoms = [
        clef_y - clef.bottom * GLYPH_SCALE,
        *(note.y + STAFF_SPACE * 1.4 for note in notes),
        *(note.label_y + 2 for note in notes),
    ]
    marks = tuple(_octave_marks(notes, max(bottoms)))
    tops += [mark.y - OCTAVE_MARK_SIZE for mark in marks]
    bottoms += [mark.y + 2 for mark in marks]
    rights = [staves[-1][1], *map(_right_end, notes), *(mark.right for mark in marks)]
    return StaffLayout(
        round(max(rights) + 1, 2),
        round(min(tops) - 1, 2),
        round(max(bottoms) + 1, 2),
        tuple(staves),
        tuple(notes),
        marks,
    )


def _octave_marks(notes: list[StaffNote], bottom: float) -> Iterator[OctaveMark]:
    for shift, group in groupby(notes, key=lambda note: note.octave_shift):
        if shift:
            marked = list(group)
            left = min(note.accidental_x for note in marked)
            right = max(note.x + _HEAD_WIDTH for note in marked)
            right = max(right, left + label_width(OCTAVE_MARKS[shift], OCTAVE_MARK_SIZE) + 8)
            above = min(0.0, *(note.y - STAFF_SPACE for note in marked)) - STAFF_SPACE
            y = above if shift > 0 else bottom + OCTAVE_MARK_SIZE * 0.8
            yield OctaveMark(OCTAVE_MARKS[shift], left, right, y)
