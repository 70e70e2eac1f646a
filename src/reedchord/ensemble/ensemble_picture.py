"""Beats over time as a picture: which bars beat, how fast, and in which interval.

Only bars in which a sonority sounds are drawn, several rows of them where there are many. In
millimetres, pure black on white.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from xml.sax.saxutils import escape

from reedchord.drawing.picture_files import Picture
from reedchord.ensemble.ensemble import Ensemble
from reedchord.ensemble.ensemble_report import bar_beats

WIDTH_MM = 180.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 14.0, 4.0, 14.0, 5.0
_ROW_GAP, _GAP_BETWEEN_BARS = 9.0, 2.5
_BRACKETS, _PLOT, _NAMES = 5.0, 36.0, 9.0
_QUARTER, _NARROWEST_BAR = 7.0, 14.0
_BRACKET_STEP = 4.2
_SIZE, _SMALL = 3.0, 2.6
_FONT = "Libertinus Serif, Times New Roman, serif"
FEWEST_BEATS_SHOWN = 10

_LINES = {
    "unison": ("unison", 'stroke-width="0.8"'),
    "octave": ("octaves", 'stroke-width="0.35"'),
    "two octaves": ("octaves", 'stroke-width="0.35"'),
    "fifth": ("a fifth or twelfth", 'stroke-width="0.35" stroke-dasharray="1.2 0.8"'),
    "twelfth": ("a fifth or twelfth", 'stroke-width="0.35" stroke-dasharray="1.2 0.8"'),
}
"""What a kind of interval is called beside its line, and how that is drawn."""


@dataclass(frozen=True)
class _Bar:
    """A bar on the paper: `x` is its left end in its row, in millimetres."""

    index: int
    label: str
    start_quarters: Fraction
    end_quarters: Fraction
    x: float
    width: float

    def place(self, moment_quarters: Fraction) -> float:
        """Return where a moment of the bar lies."""
        return self.x + self.width * float(
            (moment_quarters - self.start_quarters) / (self.end_quarters - self.start_quarters)
        )


@dataclass(frozen=True)
class _Frame:
    """One row: its bars, where it begins, and what is seen of beats a second."""

    bars: tuple[_Bar, ...]
    y: float
    levels: int
    most_beats: int

    @property
    def plot_top(self) -> float:
        return self.y + _BRACKETS + (self.levels - 1) * _BRACKET_STEP

    @property
    def bottom(self) -> float:
        return self.plot_top + _PLOT

    def height(self, beats_per_second: float) -> float:
        """Return where a number of beats lies."""
        return self.bottom - _PLOT * min(beats_per_second, self.most_beats) / self.most_beats


def ensemble_picture(found: Ensemble) -> Picture:
    """Draw beats a second over the bars in which sonorities sound; the same bytes each time."""
    frames = list(_frames(found))
    height_mm = (frames[-1].bottom if frames else _TOP) + _NAMES + _BOTTOM
    sums = bar_beats(found)
    drawn = list(_head())
    for frame in frames:
        drawn += [*_axis(frame), *_bars(frame, sums), *_brackets(found, frame)]
        drawn += _beats(found, frame)
    title = "Beats between sonorities and the other parts"
    words = "; ".join(
        f"bar {bar.label}: {sums.get(bar.index, 0):.0f} beats a second in all"
        for frame in frames
        for bar in frame.bars
    )
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img"'
        f' width="{WIDTH_MM:g}mm" height="{_n(height_mm)}mm"'
        f' viewBox="0 0 {WIDTH_MM:g} {_n(height_mm)}" font-family="{_FONT}">\n'
        f"  <title>{escape(title)}</title>\n  <desc>{escape(words)}</desc>\n  "
        f'<rect width="{WIDTH_MM:g}" height="{_n(height_mm)}" fill="white"/>\n  '
        + "\n  ".join(drawn)
        + "\n</svg>\n"
    )
    return Picture(svg, WIDTH_MM, float(_n(height_mm)), title, words)


def _frames(found: Ensemble) -> Iterator[_Frame]:
    most = max((pair.beating.beats_per_second for pair in found.pairs), default=0.0)
    most_beats = max(FEWEST_BEATS_SHOWN, 5 * math.ceil(most / 5))
    y = _TOP
    for bars in _rows(found):
        levels = 1 + max((level for _, level, *_ in _levels(found, bars)), default=0)
        frame = _Frame(tuple(bars), y, levels, most_beats)
        yield frame
        y = frame.bottom + _NAMES + _ROW_GAP


def _rows(found: Ensemble) -> Iterator[list[_Bar]]:
    """Yield bars in which something sounds, as many in a row as there is room for."""
    starts, row, x = found.whole.bar_starts, list[_Bar](), _LEFT
    longest = max(found.whole.parts, key=lambda music: len(music.part.bars))
    for index in _bars_with_placements(found):
        quarters = starts[index + 1] - starts[index]
        width = min(max(_NARROWEST_BAR, _QUARTER * float(quarters)), WIDTH_MM - _LEFT - _RIGHT)
        gap = _GAP_BETWEEN_BARS if row and row[-1].index + 1 != index else 0.0
        if row and x + gap + width > WIDTH_MM - _RIGHT:
            yield row
            row, x, gap = [], _LEFT, 0.0
        label = str(longest.part.bars[index])
        row.append(_Bar(index, label, starts[index], starts[index + 1], x + gap, width))
        x += gap + width
    if row:
        yield row


def _bars_with_placements(found: Ensemble) -> list[int]:
    bars: set[int] = set()
    for one in found.placements:
        bars.update(found.bars_of(one.onset_quarters, one.end_quarters))
    return sorted(bars)


def _head() -> Iterator[str]:
    yield _text(_LEFT, 5, "Beats a second between tones of sonorities and the other parts", 3.6)
    x = _LEFT
    for name, style in dict.fromkeys(_LINES.values()):
        yield f'<path d="M{_n(x)} 9.2h8" fill="none" stroke="black" {style}/>'
        yield _text(x + 9.5, 10.2, f"near {name}", _SIZE)
        x += 40


def _axis(frame: _Frame) -> Iterator[str]:
    step = 5 if frame.most_beats <= 30 else 10
    for beats in range(0, frame.most_beats + 1, step):
        y = frame.height(beats)
        yield _text(_LEFT - 2, y + 1, str(beats), _SMALL, anchor="end")
        for bar in frame.bars:
            yield _line(bar.x, y, bar.x + bar.width, y, 0.3 if beats == 0 else 0.08)
    yield _text(2, frame.plot_top - 1.5, "per second", _SMALL)


def _bars(frame: _Frame, sums: dict[int, float]) -> Iterator[str]:
    for bar in frame.bars:
        for x in (bar.x, bar.x + bar.width):
            yield _line(x, frame.plot_top, x, frame.bottom, 0.2)
        middle = bar.x + bar.width / 2
        yield _text(middle, frame.bottom + 3.6, f"bar {bar.label}", _SIZE, anchor="middle")
        added = f"{sums.get(bar.index, 0):.0f} in all"
        yield _text(middle, frame.bottom + 7, added, _SMALL, anchor="middle")


def _levels(found: Ensemble, bars: Sequence[_Bar]) -> Iterator[tuple[str, int, float, float]]:
    """Yield label, level, left and right end of each placement in a row of bars."""
    ends: list[float] = []
    for one in found.placements:
        inside = [
            bar
            for bar in bars
            if one.onset_quarters < bar.end_quarters and bar.start_quarters < one.end_quarters
        ]
        if not inside:
            continue
        left = inside[0].place(max(one.onset_quarters, inside[0].start_quarters)) + 0.4
        right = inside[-1].place(min(one.end_quarters, inside[-1].end_quarters)) - 0.4
        free = (level for level, end in enumerate(ends) if end < left)
        level = next(free, len(ends))
        ends[level : level + 1] = [right]
        yield one.placement.row.label, level, left, right


def _brackets(found: Ensemble, frame: _Frame) -> Iterator[str]:
    for label, level, left, right in _levels(found, frame.bars):
        y = frame.plot_top - 1.4 - level * _BRACKET_STEP
        path = f"M{_n(left)} {_n(y + 0.9)}v-0.9H{_n(right)}v0.9"
        yield f'<path d="{path}" fill="none" stroke="black" stroke-width="0.25"/>'
        yield _text((left + right) / 2, y - 0.6, label, _SIZE, anchor="middle", bold=True)


def _beats(found: Ensemble, frame: _Frame) -> Iterator[str]:
    for pair in found.pairs:
        _, style = _LINES[pair.beating.interval.name]
        y = frame.height(pair.beating.beats_per_second)
        path = "".join(
            f"M{_n(bar.place(max(pair.onset_quarters, bar.start_quarters)))} {_n(y)}"
            f"H{_n(bar.place(min(pair.end_quarters, bar.end_quarters)))}"
            for bar in frame.bars
            if pair.onset_quarters < bar.end_quarters and bar.start_quarters < pair.end_quarters
        )
        if path:
            yield f'<path d="{path}" fill="none" stroke="black" {style}/>'


def _line(x1: float, y1: float, x2: float, y2: float, width: float) -> str:
    path = f"M{_n(x1)} {_n(y1)}L{_n(x2)} {_n(y2)}"
    return f'<path d="{path}" fill="none" stroke="black" stroke-width="{width:g}"/>'


def _text(
    x: float, y: float, words: str, size: float, *, anchor: str = "start", bold: bool = False
) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{size:g}" text-anchor="{anchor}"{weight}>'
        f"{escape(words)}</text>"
    )


def _n(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
