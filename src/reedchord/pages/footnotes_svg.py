"""Footnotes as one SVG block to place in an engraving: labels, diagrams, fingerings, sources."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from reedchord.drawing.diagram import FONT, STROKE, shapes
from reedchord.drawing.diagram_layout import Layout, text_width, wide_layout
from reedchord.drawing.picture_files import Picture
from reedchord.errors import RequestError
from reedchord.pages.footnotes import Footnote, Footnotes
from reedchord.wording import NO_BREAK_SPACE, brief_source_words, unbroken

WIDTH_MM = 170.0
_UNITS_PER_MM = 34 / 12
"""Diagrams 34 units high get the size of a footnote, 12 mm; a unit is about a point."""
_LABEL_SIZE, _SIZE, _SMALL = 12.0, 9.0, 8.0
_LINE = 11.0
_GAP = 10.0
_BETWEEN = 9.0
_SPACE = 3.0
"""Between a diagram and the words below it."""
_LEAST_BESIDE = 130.0
"""Narrower than that, words stand below the diagram and not beside it."""
_BOLD = 1.1
"""How much wider bold letters are."""


@dataclass(frozen=True)
class _Columns:
    """Where an entry's diagram and words begin, and how wide the words may be."""

    diagrams_x: float
    words_x: float
    words_width: float
    words_below: bool


@dataclass(frozen=True)
class _Line:
    words: str
    size: float
    bold: bool = False


def as_svg(notes: Footnotes, width_mm: float = WIDTH_MM) -> Picture:
    """Draw footnotes as a block of this width, text as text.

    Raises RequestError where a diagram or a word is wider than that.
    """
    layouts = [wide_layout(note.sonority.fingering) for note in notes]
    columns = _columns(notes, layouts, width_mm)
    drawn: list[str] = []
    y = 0.0
    for note, layout in zip(notes, layouts, strict=True):
        drawn += _entry(note, layout, columns, y)
        y += _height(note, layout, columns) + _BETWEEN
    height_mm = round((y - _BETWEEN) / _UNITS_PER_MM, 2)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm:g}mm" height="{height_mm:g}mm"'
        f' viewBox="0 0 {width_mm * _UNITS_PER_MM:.2f} {height_mm * _UNITS_PER_MM:.2f}"'
        f' font-family="{FONT}" stroke-width="{STROKE}">'
    )
    title = f"<title>{escape(notes.heading)}</title>"
    svg = "\n".join([head, title, *drawn]) + "\n</svg>\n"
    return Picture(svg, width_mm, height_mm, notes.heading, _words(notes))


def _words(notes: Footnotes) -> str:
    return "; ".join(f"{note.label}: {note.title}" for note in notes)


def _columns(notes: Footnotes, layouts: Sequence[Layout], width_mm: float) -> _Columns:
    width = width_mm * _UNITS_PER_MM
    x = max(text_width(note.label, _LABEL_SIZE) for note in notes) * _BOLD + _GAP
    widest = max(layout.width for layout in layouts)
    beside = width - x - widest - _GAP
    words_below = beside < _LEAST_BESIDE
    columns = (
        _Columns(x, x, width - x, True)
        if words_below
        else (_Columns(x, x + widest + _GAP, beside, False))
    )
    words = [_width(word, line) for note in notes for line in _lines(note) for word in _split(line)]
    needed = x + max(*words, widest)
    if words_below and needed > width:
        raise RequestError(
            "footnotes.width",
            f"a block {width_mm:g} mm wide is too narrow",
            hint=f"These footnotes need {needed / _UNITS_PER_MM + 0.5:.0f} mm.",
        )
    return columns


def _lines(note: Footnote) -> list[_Line]:
    return [
        _Line(note.title, _SIZE, bold=True),
        _Line(note.fingering, _SIZE),
        _Line(unbroken(brief_source_words(note.sonority)), _SMALL),
    ]


def _split(line: _Line) -> list[str]:
    return [word.replace(NO_BREAK_SPACE, " ") for word in line.words.split(" ")]


def _width(words: str, line: _Line) -> float:
    return text_width(words, line.size) * (_BOLD if line.bold else 1)


def _wrapped(note: Footnote, width: float) -> list[_Line]:
    return [
        _Line(words, line.size, line.bold)
        for line in _lines(note)
        for words in _filled_lines(line, width)
    ]


def _filled_lines(line: _Line, width: float) -> Iterator[str]:
    filled = ""
    for word in _split(line):
        longer = f"{filled} {word}" if filled else word
        if filled and _width(longer, line) > width:
            yield filled
            longer = word
        filled = longer
    yield filled


def _height(note: Footnote, layout: Layout, columns: _Columns) -> float:
    words = len(_wrapped(note, columns.words_width)) * _LINE
    return layout.height + _SPACE + words if columns.words_below else max(layout.height, words)


def _entry(note: Footnote, layout: Layout, columns: _Columns, y: float) -> Iterator[str]:
    yield _text(note.label, 0, y + _LABEL_SIZE * 0.75, _LABEL_SIZE, bold=True)
    yield f'<g transform="translate({columns.diagrams_x:.2f} {y:.2f})" role="img">'
    yield f"<title>{escape(note.fingering.replace(NO_BREAK_SPACE, ' '))}</title>"
    yield from shapes(layout)
    yield "</g>"
    baseline = y + _SIZE * 0.85 + (layout.height + _SPACE if columns.words_below else 0)
    for line in _wrapped(note, columns.words_width):
        yield _text(line.words, columns.words_x, baseline, line.size, bold=line.bold)
        baseline += _LINE


def _text(words: str, x: float, y: float, size: float, *, bold: bool) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}"{weight}>{escape(words)}</text>'
