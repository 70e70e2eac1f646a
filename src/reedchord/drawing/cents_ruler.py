"""A ruler with the semitones of the keyboard on it, and where the tones of a sonority truly lie.

The drawing is in millimetres and pure black and white. Tones stand at their written pitch; what
sounds is told beneath, as both lie equally far from the nearest key.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from reedchord.drawing.picture_files import Picture
from reedchord.pitch import Pitch, pitch_from_cents
from reedchord.pitch_names import note_name
from reedchord.reader import reader
from reedchord.sonority import Sonority

FEWEST_SEMITONES = 12
_MARGIN = 5.0
_WIDEST_LABEL = 23.0
_LABEL_SIZE = 3.4
_ELBOW_TOP, _ELBOW_BOTTOM = 9.6, 13.6
_POINTER_TOP, _RULER_TOP, _KEYS_TOP, _BOTTOM = 14.4, 17.4, 21.4, 31.0
_BLACK_KEY_BOTTOM = 27.6
_FONT = "Libertinus Serif, Times New Roman, serif"
_FINE_TICKS_FROM = 5.0
"""A semitone of so many millimetres has room for ticks at every ten cents."""


@dataclass(frozen=True)
class _Scale:
    """Where cents lie on the paper; `first` and `last` are whole semitones."""

    first: int
    last: int
    left: float
    semitone: float

    def x(self, cents: float) -> float:
        """Return the place of a height in cents (C4 = 6000), in millimetres."""
        return self.left + (cents / 100 - self.first + 0.5) * self.semitone


def cents_ruler(
    sonority: Sonority, *, emphasised: int | None = None, width_mm: float = 180
) -> Picture:
    """Draw the tones of a sonority above the keys of a keyboard; the same bytes each time.

    `emphasised` is the number of the tone with the black pointer, else the record's own.
    """
    chosen = emphasised or sonority.emphasised_number
    scale = _scale(sonority.written_pitches, width_mm)
    tones = sorted(sonority.numbers, key=lambda number: sonority.written(number).cents)
    true = [scale.x(float(sonority.written(number).cents)) for number in tones]
    room = min(_WIDEST_LABEL, (width_mm - 2 * _MARGIN) / len(tones))
    places = spread(true, room, _MARGIN + room / 2, width_mm - _MARGIN - room / 2)
    drawn = [*_ticks(scale), *_keys(scale)]
    for number, x, label_x in zip(tones, true, places, strict=True):
        size = _LABEL_SIZE * min(1.0, room / _WIDEST_LABEL * 1.1)
        drawn += _pointer(x, label_x, is_black=number == chosen)
        drawn += _label(sonority, number, label_x, size, is_bold=number == chosen)
    title = f"Cents ruler of {sonority.label()}"
    words = ", ".join(_tone_words(sonority, number, number == chosen) for number in tones)
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img"'
        f' width="{width_mm:g}mm" height="{_BOTTOM + 0.5:g}mm"'
        f' viewBox="0 0 {width_mm:g} {_BOTTOM + 0.5:g}" font-family="{_FONT}">\n'
        f"  <title>{escape(title)}</title>\n  <desc>{escape(words)}</desc>\n  "
        + "\n  ".join(drawn)
        + "\n</svg>\n"
    )
    return Picture(svg, width_mm, _BOTTOM + 0.5, title, words)


def _tone_words(sonority: Sonority, number: int, is_emphasised: bool) -> str:
    written, concert = sonority.written(number).printed(), sonority.concert(number).printed()
    return f"written {written}, concert {concert}" + (" (emphasised)" if is_emphasised else "")


def _scale(pitches: Sequence[Pitch], width_mm: float) -> _Scale:
    """Return a scale with a key more at both ends, and an octave at the least."""
    first = math.floor(min(pitch.cents for pitch in pitches) / 100 + 0.5) - 1
    last = math.floor(max(pitch.cents for pitch in pitches) / 100 + 0.5) + 1
    lacking = max(0, FEWEST_SEMITONES - (last - first))
    first, last = first - lacking // 2, last + lacking - lacking // 2
    return _Scale(first, last, _MARGIN, (width_mm - 2 * _MARGIN) / (last - first + 1))


def spread(wanted: Sequence[float], room: float, lowest: float, highest: float) -> list[float]:
    """Return places as near as can be to the wanted ones, in order, each with room of its own.

    Places that would overlap are pooled around their mean (isotonic regression by pooling
    adjacent violators, from memory).
    """
    pools: list[list[float]] = []
    for index, place in enumerate(wanted):
        pools.append([place - index * room])
        while len(pools) > 1 and _mean(pools[-2]) > _mean(pools[-1]):
            pools[-2:] = [pools[-2] + pools[-1]]
    packed = [_mean(pool) for pool in pools for _ in pool]
    most = highest - (len(wanted) - 1) * room
    return [min(max(place, lowest), most) + index * room for index, place in enumerate(packed)]


def _mean(places: Sequence[float]) -> float:
    return sum(places) / len(places)


def _ticks(scale: _Scale) -> Iterator[str]:
    """Draw the ruler: a long tick where a key is in tune, finer ones at every ten cents."""
    long, fine = "", ""
    for semitone in range(scale.first, scale.last + 1):
        long += f"M{_n(scale.x(100 * semitone))} {_n(_RULER_TOP)}V{_n(_KEYS_TOP)}"
        if scale.semitone >= _FINE_TICKS_FROM:
            for cents in (-40, -30, -20, -10, 10, 20, 30, 40):
                x = scale.x(100 * semitone + cents)
                fine += f"M{_n(x)} {_n(_KEYS_TOP - 1.1)}V{_n(_KEYS_TOP)}"
        fine += f"M{_n(scale.x(100 * semitone - 50))} {_n(_KEYS_TOP - 2)}V{_n(_KEYS_TOP)}"
    left, right = scale.x(100 * scale.first - 50), scale.x(100 * scale.last + 50)
    fine += f"M{_n(right)} {_n(_KEYS_TOP - 2)}V{_n(_KEYS_TOP)}"
    yield f'<path d="M{_n(left)} {_n(_KEYS_TOP)}H{_n(right)}" stroke="#000" stroke-width="0.3"/>'
    yield f'<path d="{long}" stroke="#000" stroke-width="0.35"/>'
    yield f'<path d="{fine}" stroke="#000" stroke-width="0.12"/>'


def _keys(scale: _Scale) -> Iterator[str]:
    for semitone in range(scale.first, scale.last + 1):
        pitch = pitch_from_cents(Pitch("C", -1).cents + 100 * semitone)
        is_black = bool(pitch.alteration_cents)
        left, width = scale.x(100 * semitone - 50), scale.semitone
        bottom = _BLACK_KEY_BOTTOM if is_black else _BOTTOM
        yield (
            f'<rect x="{_n(left)}" y="{_n(_KEYS_TOP)}" width="{_n(width)}"'
            f' height="{_n(bottom - _KEYS_TOP)}" fill="{"#000" if is_black else "#fff"}"'
            ' stroke="#000" stroke-width="0.2"/>'
        )
        yield _key_name(pitch, scale.x(100 * semitone), width)


def _key_name(pitch: Pitch, x: float, width: float) -> str:
    """Name a key; narrow ones tell the octave at each C alone."""
    is_black = bool(pitch.alteration_cents)
    octave = str(pitch.octave) if not is_black and (width > 6 or pitch.step == "C") else ""
    name = f"{note_name(pitch.step, int(pitch.alteration_cents), reader().pitch_names)}{octave}"
    size = min(2.9, 0.52 * width)
    y = _BLACK_KEY_BOTTOM - 1.2 if is_black else _BOTTOM - 0.8
    colour = "#fff" if is_black else "#000"
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="middle"'
        f' fill="{colour}">{name}</text>'
    )


def _pointer(x: float, label_x: float, *, is_black: bool) -> Iterator[str]:
    """Draw a leader from the label to the true place, and an arrowhead and a line there."""
    yield (
        f'<path d="M{_n(label_x)} {_n(_ELBOW_TOP)}L{_n(x)} {_n(_ELBOW_BOTTOM)}V{_n(_KEYS_TOP)}"'
        ' fill="none" stroke="#000" stroke-width="0.25"/>'
    )
    yield (
        f'<path d="M{_n(x - 1.3)} {_n(_POINTER_TOP)}H{_n(x + 1.3)}L{_n(x)} {_n(_RULER_TOP + 0.6)}Z"'
        f' fill="{"#000" if is_black else "#fff"}" stroke="#000" stroke-width="0.3"'
        ' stroke-linejoin="round"/>'
    )


def _label(
    sonority: Sonority, number: int, x: float, size: float, *, is_bold: bool
) -> Iterator[str]:
    weight = ' font-weight="bold"' if is_bold else ""
    written, concert = sonority.written(number).printed(), sonority.concert(number).printed()
    yield (
        f'<text x="{_n(x)}" y="4" font-size="{_n(size)}" text-anchor="middle"{weight}>'
        f"{escape(written)}</text>"
    )
    yield (
        f'<text x="{_n(x)}" y="8" font-size="{_n(0.82 * size)}" text-anchor="middle">'
        f"sounds {escape(concert)}</text>"
    )


def _n(length: float) -> str:
    return f"{round(length, 2):g}"
