"""A sonority on a small treble staff as SVG, drawn from our own layout.

The emphasised tone has a black notehead, the others are outlines; where none is emphasised, all
are black. Every tone has its accidental, naturals too, and the cents that it leaves over.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from xml.sax.saxutils import escape

from reedchord.chord_spelling import Grid
from reedchord.drawing.picture_files import Picture
from reedchord.drawing.staff_glyphs import GLYPHS
from reedchord.drawing.staff_layout import (
    GLYPH_SCALE,
    LABEL_SIZE,
    OCTAVE_MARK_SIZE,
    STAFF_SPACE,
    OctaveMark,
    StaffLayout,
    StaffNote,
    StaffTone,
    clef_position,
    label_width,
    ledger_lines,
    staff_layout,
)
from reedchord.sonority import Sonority

STAFF_SPACE_MM = 1.4
"""Distance of two staff lines on paper."""
_FONT = "Libertinus Serif, Times New Roman, serif"
_LINE, _LEDGER_LINE = 1.0, 1.4


def staff_picture(
    tones: Sequence[StaffTone],
    *,
    emphasised: int | None = None,
    title: str = "Tones on a treble staff",
    grid: Grid = Grid.QUARTER,
    side_by_side: bool = False,
    staff_space_mm: float = STAFF_SPACE_MM,
) -> Picture:
    """Draw tones, lowest first, as a chord or side by side; the same tones give the same bytes.

    `emphasised` is the number of a tone. Tones above F6 and below A3 are drawn under an
    octave mark.
    """
    layout = staff_layout(tones, grid=grid, side_by_side=side_by_side)
    millimetres = staff_space_mm / STAFF_SPACE
    width_mm, height_mm = (
        round(layout.width * millimetres, 2),
        round(layout.height * millimetres, 2),
    )
    words = staff_words(tones, emphasised)
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img"'
        f' width="{_number(width_mm)}mm" height="{_number(height_mm)}mm"'
        f' viewBox="{view_box(layout)}" font-family="{_FONT}">'
    )
    texts = [f"<title>{escape(title)}</title>", f"<desc>{escape(words)}</desc>"]
    drawn = staff_elements(layout, emphasised)
    svg = "\n  ".join([head, *texts, *drawn]) + "\n</svg>\n"
    return Picture(svg, width_mm, height_mm, title, words)


def sonority_staff(
    sonority: Sonority,
    *,
    concert: bool = False,
    emphasised: int | None = None,
    side_by_side: bool = False,
    staff_space_mm: float = STAFF_SPACE_MM,
) -> Picture:
    """Draw the written or the concert pitches of a sonority.

    The record's own emphasised tone is black, unless the number of another is given.
    """
    return staff_picture(
        staff_tones(sonority, concert=concert),
        emphasised=emphasised or sonority.emphasised_number,
        title=f"{sonority.label()}, {'concert' if concert else 'written'} pitch",
        side_by_side=side_by_side,
        staff_space_mm=staff_space_mm,
    )


def staff_tones(sonority: Sonority, *, concert: bool = False) -> tuple[StaffTone, ...]:
    """Return the tones of a sonority as they are drawn, lowest first."""
    pitch_of = sonority.concert if concert else sonority.written
    return tuple(StaffTone(number, pitch_of(number)) for number in sonority.numbers)


def staff_words(tones: Sequence[StaffTone], emphasised: int | None) -> str:
    """Return what the picture shows, in words: `F♯4 −12¢, G5 +31¢ (emphasised)`."""
    return ", ".join(
        tone.pitch.printed() + (" (emphasised)" if tone.number == emphasised else "")
        for tone in tones
    )


def view_box(layout: StaffLayout) -> str:
    """Return the SVG viewBox of a layout."""
    return f"0 {_number(layout.top)} {_number(layout.width)} {_number(layout.height)}"


def staff_elements(
    layout: StaffLayout, emphasised: int | None, *, by_reference: bool = False
) -> Iterator[str]:
    """Yield the SVG elements of a layout.

    With `by_reference`, clef, heads and accidentals are uses of symbols whose ids are the
    names of `glyph_symbols`; else every element stands for itself.
    """
    yield _path(_staff_lines(layout), _LINE)
    yield _glyph("gClef", *clef_position(), by_reference=by_reference)
    ledgers = sorted({line for note in layout.notes for line in ledger_lines(note)})
    if ledgers:
        yield _path(ledgers, _LEDGER_LINE)
    for note in layout.notes:
        yield from _note(note, emphasised, by_reference=by_reference)
    for mark in layout.marks:
        yield from _octave_mark(mark)


def glyph_symbols() -> Iterator[str]:
    """Yield one SVG symbol a glyph, for `staff_elements` by reference."""
    for name, glyph in GLYPHS.items():
        yield f'<symbol id="{name}" overflow="visible">{_outline(glyph.path, 0, 0)}</symbol>'


def _note(note: StaffNote, emphasised: int | None, *, by_reference: bool) -> Iterator[str]:
    outlined = emphasised is not None and note.tone.number != emphasised
    head = "noteheadHalf" if outlined else "noteheadBlack"
    yield _glyph(note.accidental, note.accidental_x, note.y, by_reference=by_reference)
    yield _glyph(head, note.x, note.y, by_reference=by_reference)
    yield (
        f'<text x="{_number(note.label_x)}" y="{_number(note.label_y)}"'
        f' font-size="{_number(LABEL_SIZE)}">{note.label}</text>'
    )


def _octave_mark(mark: OctaveMark) -> Iterator[str]:
    yield (
        f'<text x="{_number(mark.left)}" y="{_number(mark.y)}"'
        f' font-size="{_number(OCTAVE_MARK_SIZE)}" font-style="italic">{mark.text}</text>'
    )
    left = mark.left + label_width(mark.text, OCTAVE_MARK_SIZE)
    y = mark.y - OCTAVE_MARK_SIZE * 0.3
    hook = STAFF_SPACE / 2 if mark.text.endswith("a") else -STAFF_SPACE / 2
    yield (
        f'<path d="M{_number(left)} {_number(y)}H{_number(mark.right)}v{_number(hook)}" fill="none"'
        f' stroke="#000" stroke-width="{_number(_LINE)}" stroke-dasharray="3 2"/>'
    )


def _staff_lines(layout: StaffLayout) -> list[tuple[float, float, float]]:
    return [(left, right, line * STAFF_SPACE) for left, right in layout.staves for line in range(5)]


def _path(lines: Iterable[tuple[float, float, float]], thickness: float) -> str:
    steps = "".join(f"M{_number(left)} {_number(y)}H{_number(right)}" for left, right, y in lines)
    return f'<path d="{steps}" stroke="#000" stroke-width="{_number(thickness)}"/>'


def _glyph(name: str, x: float, y: float, *, by_reference: bool) -> str:
    if by_reference:
        return f'<use href="#{name}" x="{_number(x)}" y="{_number(y)}"/>'
    return _outline(GLYPHS[name].path, x, y, f' data-glyph="{name}"')


def _outline(path: str, x: float, y: float, more: str = "") -> str:
    moved = f"translate({_number(x)} {_number(y)}) " if x or y else ""
    scale = f"scale({_number(GLYPH_SCALE)} {_number(-GLYPH_SCALE)})"
    return f'<path{more} transform="{moved}{scale}" d="{path}"/>'


def _number(length: float) -> str:
    return f"{round(length, 2):g}"
