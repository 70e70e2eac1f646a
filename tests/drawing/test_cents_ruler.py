"""The cents ruler: every tone exactly where it lies between the keys."""

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from reedchord.drawing.cents_ruler import cents_ruler, spread
from samples import EGRET, HERON, sonority

SVG = "{http://www.w3.org/2000/svg}"
WIDE = sonority("wide", "Bb3", "E7+40")
CROWD = sonority("crowd", *(f"C5+{cents}" for cents in range(0, 48, 4)))


def key_centres(root):
    """Return the centre of each key by its name; the octave is left out."""
    centres = {}
    for key, name in zip(
        root.iter(f"{SVG}rect"),
        (text for text in root.iter(f"{SVG}text") if float(text.get("y")) > 20),
        strict=True,
    ):
        centres.setdefault(name.text, []).append(float(key.get("x")) + float(key.get("width")) / 2)
    return centres


def pointers(root):
    """Return tip and filling of each pointer, lowest first."""
    shapes = [path for path in root.iter(f"{SVG}path") if path.get("stroke-linejoin")]
    return [
        (float(re.findall(r"L(-?[\d.]+)", shape.get("d"))[0]), shape.get("fill"))
        for shape in shapes
    ]


def test_tones_lie_at_their_cents_from_the_keys():
    """E4 -19, B quarter-flat 4 +14, which is 36 below B, and G sharp 5 -12."""
    root = etree.fromstring(cents_ruler(HERON).svg.encode())
    keys = key_centres(root)
    semitone = keys["F4"][0] - keys["E4"][0]
    tips = pointers(root)
    wanted = [
        keys["E4"][0] - 0.19 * semitone,
        keys["B4"][0] - 0.36 * semitone,
        keys["G♯"][-1] - 0.12 * semitone,
    ]
    assert [tip for tip, _ in tips] == pytest.approx(wanted, abs=0.02)


def test_the_emphasised_tone_alone_is_black_and_bold():
    root = etree.fromstring(cents_ruler(HERON).svg.encode())
    assert [filling for _, filling in pointers(root)] == ["#fff", "#000", "#fff"]
    bold = [text.text for text in root.iter(f"{SVG}text") if text.get("font-weight")]
    assert bold == [HERON.written(2).printed()]
    none = etree.fromstring(cents_ruler(EGRET).svg.encode())
    assert {filling for _, filling in pointers(none)} == {"#fff"}


@pytest.mark.parametrize("record", [HERON, EGRET, WIDE, CROWD], ids=lambda record: record.id)
def test_there_are_twelve_semitones_at_least_and_all_tones_lie_on_the_ruler(record):
    picture = cents_ruler(record)
    root = etree.fromstring(picture.svg.encode())
    keys = list(root.iter(f"{SVG}rect"))
    assert len(keys) >= 13
    left = float(keys[0].get("x"))
    right = float(keys[-1].get("x")) + float(keys[-1].get("width"))
    assert all(left < tip < right for tip, _ in pointers(root))
    labels = [text for text in root.iter(f"{SVG}text") if text.get("y") == "4"]
    assert len(labels) == len(record.tones)
    assert all(0 < float(label.get("x")) < picture.width_mm for label in labels)


def test_it_tells_written_and_concert_pitches_in_words():
    words = cents_ruler(HERON).words
    assert words.startswith("written E4 −19¢, concert G3 −19¢")
    assert words.count("(emphasised)") == 1


@given(st.lists(st.floats(0, 180, allow_nan=False), min_size=1, max_size=12))
def test_labels_keep_their_order_their_room_and_stay_on_the_paper(places):
    wanted, room = sorted(places), 12.0
    found = spread(wanted, room, 6.0, 174.0)
    assert all(b - a >= room - 1e-6 for a, b in pairwise(found))
    assert found[0] >= 6 - 1e-6
    assert found[-1] <= 174 + 1e-6


def test_labels_with_room_stay_at_their_tones():
    assert spread([20, 60, 100], 12, 6, 174) == [20, 60, 100]
