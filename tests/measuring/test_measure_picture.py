"""The picture of a take: lines where the tones lie, labels that do not overlap."""

import base64
import io
import re
from itertools import pairwise

import numpy as np
import pytest
from lxml import etree
from PIL import Image

from reedchord.drawing.picture_files import PictureFormat, picture_bytes
from reedchord.errors import RequestError
from reedchord.measuring.measure import measure
from reedchord.measuring.measure_picture import measure_picture
from reedchord.saxophones import saxophone
from takes import build_up, held, sound

SVG = "{http://www.w3.org/2000/svg}"
HREF = "{http://www.w3.org/1999/xlink}href"
ALTO = saxophone("alto")
TAKE = measure(sound(build_up()), saxophone=ALTO)
PICTURE = measure_picture(TAKE)
ROOT = etree.fromstring(PICTURE.svg.encode())


def image():
    [found] = ROOT.iter(f"{SVG}image")
    data = base64.b64decode(found.get(HREF).partition(",")[2])
    return found, np.asarray(Image.open(io.BytesIO(data)))


def test_the_same_take_gives_the_same_bytes():
    assert measure_picture(measure(sound(build_up()), saxophone=ALTO)).svg == PICTURE.svg


def test_the_spectrum_is_dark_where_tones_sound_and_white_before_they_enter():
    found, pixels = image()
    top, height = float(found.get("y")), float(found.get("height"))
    lines = [path for path in ROOT.iter(f"{SVG}path") if path.get("stroke-width") == "0.45"]
    assert len(lines) == len(TAKE.tones)
    for tone, line in zip(reversed(TAKE.tones), lines, strict=True):
        y = float(re.findall(r"L[\d.]+ ([\d.]+)", line.get("d"))[5])
        row = min(round((y - top) / height * len(pixels)), len(pixels) - 1)
        second = pixels.shape[1] / TAKE.seconds
        after = pixels[row - 2 : row + 3, round((tone.onset_seconds + 0.3) * second)]
        before = pixels[row - 2 : row + 3, round(max(0, tone.onset_seconds - 0.2) * second)]
        assert after.min() < 200
        assert before.min() > after.min()


def test_lines_begin_when_their_tones_enter():
    found, _ = image()
    left, width = float(found.get("x")), float(found.get("width"))
    lines = [path for path in ROOT.iter(f"{SVG}path") if path.get("stroke-width") == "0.45"]
    for tone, line in zip(reversed(TAKE.tones), lines, strict=True):
        x = float(re.match(r"M([\d.]+)", line.get("d"))[1])
        assert (x - left) / width * TAKE.seconds == pytest.approx(tone.onset_seconds, abs=0.15)


def test_labels_of_near_tones_have_room():
    near = measure(sound(held((300.0, 330.0, 361.0), (0, 0, 0))), saxophone=ALTO)
    root = etree.fromstring(measure_picture(near).svg.encode())
    heights = [
        float(text.get("y")) for text in root.iter(f"{SVG}text") if text.get("font-size") == "3.4"
    ]
    labels = sorted(heights[: len(near.tones)])
    assert len(labels) == 3
    assert all(below - above > 4 for above, below in pairwise(labels))


def test_it_tells_the_tones_in_words():
    assert PICTURE.words.count("written") == 3
    assert "with 3 proposed tones" in PICTURE.title


@pytest.mark.parametrize("kind", [PictureFormat.PNG, PictureFormat.PDF])
def test_it_can_be_a_png_or_a_pdf(kind):
    data = picture_bytes(
        PICTURE.svg, kind, width_mm=PICTURE.width_mm, height_mm=PICTURE.height_mm, title="t"
    )
    assert data.startswith(b"\x89PNG" if kind is PictureFormat.PNG else b"%PDF")
    assert len(data) > 20_000


def test_without_a_saxophone_there_is_none():
    with pytest.raises(RequestError, match="needs a saxophone"):
        measure_picture(measure(sound(held())))
