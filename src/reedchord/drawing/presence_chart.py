"""How prominent each tone is at each dynamic, as a small chart that needs no colour."""

from __future__ import annotations

from collections.abc import Iterator
from xml.sax.saxutils import escape

from reedchord.drawing.picture_files import Picture
from reedchord.dynamics import SCALE, Dynamic
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Presence
from reedchord.wording import presence_told

USUAL = SCALE[Dynamic.PP.level : Dynamic.FF.level + 1]
"""The dynamics that every chart shows."""
_NAMES_WIDTH, _COLUMN, _ROW, _HEAD, _KEY_HEIGHT = 25.0, 8.0, 6.4, 5.6, 6.5
_RADIUS = 2.1
_TEXT, _SMALL = 3.4, 2.9
_FONT = "Libertinus Serif, Times New Roman, serif"
_KEY_PLACES = (2.4, 22.0, 34.8, 47.4, 62.4)


def chart_dynamics(sonority: Sonority) -> tuple[Dynamic, ...]:
    """Return pp to ff, and what lies beyond where something is known of it."""
    told = [mark.level for tone in sonority.tones for mark in tone.presence]
    first = min([USUAL[0].level, *told])
    last = max([USUAL[-1].level, *told])
    return SCALE[first : last + 1]


def presence_chart(sonority: Sonority, *, emphasised: int | None = None) -> Picture:
    """Draw a row for each tone, the highest on top, and a column for each dynamic.

    `emphasised` is the number of the tone whose name is bold, else the record's own.
    """
    marks = chart_dynamics(sonority)
    chosen = emphasised or sonority.emphasised_number
    width = max(_NAMES_WIDTH + _COLUMN * len(marks), 80.0)
    foot = _HEAD + _ROW * len(sonority.tones)
    height = round(foot + _KEY_HEIGHT, 2)
    drawn = [
        _text(mark, _column(index), _HEAD - 1.6, _TEXT, 'font-style="italic" text-anchor="middle"')
        for index, mark in enumerate(marks)
    ]
    for row, number in enumerate(reversed(sonority.numbers)):
        middle = _HEAD + _ROW * (row + 0.5)
        look = 'font-weight="bold"' if number == chosen else ""
        name = f"{number}  {sonority.written(number).printed()}"
        drawn.append(_rule(_HEAD + _ROW * row, _NAMES_WIDTH + _COLUMN * len(marks)))
        drawn.append(_text(name, 0.5, middle + 1.1, _TEXT, look))
        tone = sonority.tones[number - 1]
        drawn += [
            _sign(tone.presence_at(mark), _column(index), middle)
            for index, mark in enumerate(marks)
        ]
    drawn += [_rule(foot, _NAMES_WIDTH + _COLUMN * len(marks)), *_key(foot + 4.2)]
    title = f"Presence of the tones of {sonority.label()} by dynamic"
    words = "; ".join(
        f"{sonority.written(number).printed()}: " + presence_told(sonority.tones[number - 1])
        for number in reversed(sonority.numbers)
    )
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img"'
        f' width="{width:g}mm" height="{height:g}mm" viewBox="0 0 {width:g} {height:g}"'
        f' font-family="{_FONT}">\n  <title>{escape(title)}</title>\n'
        f"  <desc>{escape(words)}</desc>\n  " + "\n  ".join(drawn) + "\n</svg>\n"
    )
    return Picture(svg, width, height, title, words)


def _column(index: int) -> float:
    return _NAMES_WIDTH + _COLUMN * (index + 0.5)


def _sign(presence: Presence | None, x: float, y: float) -> str:
    """Draw a full disc, a half full one, a ring, a dash, or a small question mark."""
    ring = (
        f'<circle cx="{x:g}" cy="{y:g}" r="{_RADIUS:g}" fill="{{}}" stroke="#000"'
        ' stroke-width="0.35"/>'
    )
    if presence is None:
        return _text("?", x, y + 1, _SMALL, 'text-anchor="middle"')
    if presence is Presence.DOMINANT:
        return ring.format("#000")
    if presence is Presence.FAINT:
        return ring.format("#fff")
    if presence is Presence.CLEAR:
        half = (
            f'<path d="M{x - _RADIUS:g} {y:g}a{_RADIUS:g} {_RADIUS:g} 0 0 0 {2 * _RADIUS:g} 0Z"/>'
        )
        return ring.format("#fff") + half
    return f'<path d="M{x - 1.3:g} {y:g}h2.6" stroke="#000" stroke-width="0.5"/>'


def _key(y: float) -> Iterator[str]:
    """Explain the signs beneath the chart."""
    for x, presence in zip(_KEY_PLACES, (*Presence, None), strict=True):
        yield _sign(presence, x, y)
        yield _text(presence or "not known", x + 3, y + 1, _SMALL)


def _rule(y: float, width: float) -> str:
    return f'<path d="M0 {y:g}H{width:g}" stroke="#000" stroke-width="0.12"/>'


def _text(words: str, x: float, y: float, size: float, look: str = "") -> str:
    return f'<text x="{x:g}" y="{y:g}" font-size="{size:g}" {look}>{escape(words)}</text>'
