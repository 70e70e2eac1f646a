"""A take as a picture: its spectrum over time, the tones drawn in, and a ruler with their cents."""

from __future__ import annotations

import base64
import struct
import zlib
from collections.abc import Iterator
from xml.sax.saxutils import escape

import numpy as np

from reedchord.drawing.cents_ruler import cents_ruler, spread
from reedchord.drawing.picture_files import Picture
from reedchord.errors import RequestError
from reedchord.measuring.measured_record import measured_record
from reedchord.measuring.measured_tones import taken_tones
from reedchord.measuring.measurement import MeasuredTone, Measurement
from reedchord.sonority import Sonority

WIDTH_MM, PLOT_HEIGHT_MM = 180.0, 95.0
_LEFT, _RIGHT, _TOP, _AXIS = 17.0, 34.0, 9.0, 9.0
_PIXELS = (720, 380)
_SHOWN_DB = 60.0
_FONT = "Libertinus Serif, Times New Roman, serif"
_OCTAVES_ABOVE = 2.0
_HIGHEST_HZ, _LOWEST_HZ = 8_000.0, 50.0
_NO_FINGERING = "left 0 | right 0"
_MOST_ON_RULER = 12
_LABEL_MM = 4.2


def measure_picture(take: Measurement) -> Picture:
    """Draw a take; the same bytes each time. Raises RequestError without tones or saxophone."""
    if take.spectra is None or not take.tones or take.saxophone is None:
        lacking = "a saxophone for the written pitches" if take.tones else "a tone to draw"
        raise RequestError(
            "measure.picture", f"the picture needs {lacking}", hint="Say --saxophone alto."
        )
    low, high = _range_octaves(take)
    ruler = cents_ruler(_as_sonority(take), width_mm=WIDTH_MM)
    ruler_top = _TOP + PLOT_HEIGHT_MM + _AXIS + 4
    height = ruler_top + ruler.height_mm
    title = f"{take.name}: spectrum over time with {len(take.tones)} proposed tones"
    words = ", ".join(_words(take, tone) for tone in take.tones)
    inner = ruler.svg.replace("<svg ", f'<svg y="{ruler_top:g}" ', 1)
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        f' role="img" width="{WIDTH_MM:g}mm" height="{height:g}mm"'
        f' viewBox="0 0 {WIDTH_MM:g} {height:g}" font-family="{_FONT}">\n'
        f"<title>{escape(title)}</title>\n<desc>{escape(words)}</desc>\n"
        f'<rect width="{WIDTH_MM:g}" height="{height:g}" fill="#fff"/>\n'
        + "\n".join([*_plot(take, low, high), *_axes(take, low, high), *_tones(take, low, high)])
        + f"\n{_unscaled(inner)}</svg>\n"
    )
    return Picture(svg, WIDTH_MM, height, title, words)


def _unscaled(ruler_svg: str) -> str:
    """Return a drawing for use inside another, where lengths are millimetres already."""
    head, _, rest = ruler_svg.partition(">")
    return head.replace('mm"', '"') + ">" + rest


def _as_sonority(take: Measurement) -> Sonority:
    """Return the loudest tones as a record, for the ruler alone."""
    loudest = sorted(take.tones, key=lambda tone: -tone.level_db)[:_MOST_ON_RULER]
    numbers = {tone.number for tone in loudest}
    tones = [tone for tone in taken_tones([take]) if tone.number in numbers]
    data, source = measured_record([take], tones, name="take", fingering=_NO_FINGERING)
    data["source"]["entry"] = source
    data.pop("build_up", None)
    return Sonority.model_validate(data)


def _words(take: Measurement, tone: MeasuredTone) -> str:
    written = take.written(tone.frequency_hz)
    assert written is not None
    return f"written {written.printed()}, concert {take.concert(tone.frequency_hz).printed()}"


def _range_octaves(take: Measurement) -> tuple[float, float]:
    """Return the lowest and highest frequency that are drawn, as octaves above 1 Hz."""
    lowest = max(_LOWEST_HZ, take.tones[0].frequency_hz / 1.5)
    highest = min(_HIGHEST_HZ, take.tones[-1].frequency_hz * 2**_OCTAVES_ABOVE, take.rate_hz / 2)
    return float(np.log2(lowest)), float(np.log2(max(highest, 4 * lowest)))


def _plot(take: Measurement, low: float, high: float) -> Iterator[str]:
    """Draw the spectrum, darker where it is stronger, down to 60 dB below the strongest."""
    found = take.spectra
    assert found is not None
    width, height = _PIXELS
    hz = 2 ** np.linspace(high, low, height)
    columns = np.clip(
        np.rint((hz - found.frequencies_hz[0]) / found.bin_hz).astype(int),
        0,
        found.power.shape[1] - 1,
    )
    moments = np.linspace(0, take.seconds, width)
    frames = np.clip(np.rint(moments / found.hop_seconds).astype(int), 0, len(found.power) - 1)
    power = found.power[frames][:, columns].T
    level = 10 * np.log10(np.maximum(power / np.max(found.power), 1e-12))
    dark = np.clip(1 + level / _SHOWN_DB, 0, 1)
    grey = (255 - 175 * dark**1.5).astype(np.uint8)
    image = base64.b64encode(_png(grey)).decode("ascii")
    yield (
        f'<image x="{_LEFT:g}" y="{_TOP:g}" width="{_plot_width():g}" height="{PLOT_HEIGHT_MM:g}"'
        f' preserveAspectRatio="none" xlink:href="data:image/png;base64,{image}"/>'
    )
    yield (
        f'<rect x="{_LEFT:g}" y="{_TOP:g}" width="{_plot_width():g}" height="{PLOT_HEIGHT_MM:g}"'
        ' fill="none" stroke="#000" stroke-width="0.25"/>'
    )


def _png(grey: np.ndarray[tuple[int, ...], np.dtype[np.uint8]]) -> bytes:
    """Return rows of grey pixels as a PNG (ISO/IEC 15948: IHDR, IDAT, IEND)."""
    height, width = grey.shape
    rows = b"".join(b"\0" + row.tobytes() for row in grey)
    parts = (
        (b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)),
        (b"IDAT", zlib.compress(rows, 9)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in parts
    )


def _plot_width() -> float:
    return WIDTH_MM - _LEFT - _RIGHT


def _x(take: Measurement, seconds: float) -> float:
    return _LEFT + _plot_width() * min(1.0, max(0.0, seconds / take.seconds))


def _y(frequency_hz: float, low: float, high: float) -> float:
    return _TOP + PLOT_HEIGHT_MM * (high - float(np.log2(frequency_hz))) / (high - low)


def _axes(take: Measurement, low: float, high: float) -> Iterator[str]:
    bottom = _TOP + PLOT_HEIGHT_MM
    yield f'<text x="{_LEFT:g}" y="6" font-size="4">{escape(take.name)}</text>'
    step = next(s for s in (0.1, 0.2, 0.5, 1, 2, 5, 10) if take.seconds / s <= 8)
    for number in range(int(take.seconds / step) + 1):
        x = _x(take, number * step)
        yield f'<path d="M{x:.2f} {bottom:g}v1.2" stroke="#000" stroke-width="0.2"/>'
        yield _text(x, bottom + 4.6, 3, "middle", f"{number * step:g} s")
    for hz in (50, 100, 200, 500, 1000, 2000, 5000):
        if low <= np.log2(hz) <= high:
            y = _y(hz, low, high)
            yield f'<path d="M{_LEFT:g} {y:.2f}h-1.2" stroke="#000" stroke-width="0.2"/>'
            yield _text(_LEFT - 1.8, y + 1, 3, "end", f"{hz} Hz")


def _tones(take: Measurement, low: float, high: float) -> Iterator[str]:
    """Draw the course of each tone, white beneath black, and its written pitch at the right."""
    right = _LEFT + _plot_width()
    wanted = [_y(tone.frequency_hz, low, high) for tone in reversed(take.tones)]
    places = spread(wanted, _LABEL_MM, _TOP + 1, _TOP + PLOT_HEIGHT_MM)
    for tone, y, label_y in zip(reversed(take.tones), wanted, places, strict=True):
        path = _course(take, tone, low, high)
        for colour, thick in (("#fff", 1.1), ("#000", 0.45)):
            yield f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{thick}"/>'
        written = take.written(tone.frequency_hz)
        assert written is not None
        yield (
            f'<path d="M{right:.2f} {y:.2f}L{right + 4:.2f} {label_y:.2f}" stroke="#000"'
            ' stroke-width="0.2"/>'
        )
        words = f"{tone.number}  {written.printed()}"
        yield _text(right + 5, label_y + 1.1, 3.4, "start", words)


def _course(take: Measurement, tone: MeasuredTone, low: float, high: float) -> str:
    found = take.spectra
    assert found is not None
    parts, is_drawing = [], False
    for seconds, hz in zip(found.times_seconds, tone.heights_hz, strict=True):
        if hz is None or not low < np.log2(hz) < high or seconds > take.seconds:
            is_drawing = False
            continue
        parts.append(f"{'L' if is_drawing else 'M'}{_x(take, seconds):.2f} {_y(hz, low, high):.2f}")
        is_drawing = True
    return "".join(parts) or "M0 0"


def _text(x: float, y: float, size: float, anchor: str, words: str) -> str:
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}" text-anchor="{anchor}">'
        f"{escape(words)}</text>"
    )
