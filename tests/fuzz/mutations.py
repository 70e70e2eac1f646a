"""Bytes of files, broken at random but by a seed: every run can be repeated."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from random import Random

NASTY_TEXTS = (
    *("", " ", "0", "-0", "-1", "1", "2", "3", "0.5", "1/3", "1e9", "1e999999999", "-1e999999999"),
    *("NaN", "inf", "9" * 29, "9" * 400, "0." + "0" * 25 + "1", "0x10", "٣", "1_0", "+4", "4.0"),
    *("yes", "no", "start", "stop", "whole", "1024th", "maxima", "A", "H", "P1", "@1", "\u200b"),
    *("𝄪", "&amp;", "&#0;", "&#xD800;", "&nbsp;", "<x/>", "]]>", "<!--", "{}", "[]", "null"),
)
"""What stands in places where something else belongs."""
NASTY_BYTES = (
    *(b"\0", b"\xff", b"\xfe\xff", b"\xef\xbb\xbf", b"\r", b"\n", b"<", b">", b"&", b'"', b"'"),
    *(b"<!DOCTYPE x [", b"<![CDATA[", b"<!--", b"-->", b"<?", b"?>", b"<chord/>", b"<grace/>"),
    *(b"<cue/>", b"<double/>", b"<backup><duration>9</duration></backup>", b"<attributes/>"),
    *(b"<measure>", b"</measure>", b"<part id='P1'>", b"<rest/>", b"<duration>0</duration>"),
    *(b": ", b"\t", b"- ", b"*a", b"&a ", b"!!", b"%", b"{", b"[", b"1e400", b"\xc3"),
)
_LEAF = re.compile(rb"<([A-Za-z-]+)([^<>]*)>([^<>]{0,80})</\1>")
_ELEMENT = re.compile(
    rb"<(note|attributes|backup|forward|pitch|time|rest|part-list)\b.*?</\1>", re.DOTALL
)
_TAG = re.compile(rb"</?[A-Za-z-]+[^<>]*>")
_ATTRIBUTE = re.compile(rb"""=\s*(["'])[^"'<>]*\1""")
_JSON_FIELD = re.compile(rb"""(?:[\[,]|":)("(?:[^"\\]|\\.)*"|[^\[\],{}"]+)""")
_WORD = re.compile(rb"[\w.+-]+")


def truncated(data: bytes, chance: Random) -> bytes:
    """Break off anywhere."""
    return data[: chance.randrange(len(data) + 1)]


def bits_flipped(data: bytes, chance: Random) -> bytes:
    """Turn over one to eight bits."""
    changed = bytearray(data)
    for _ in range(chance.randint(1, 8)):
        if changed:
            changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
    return bytes(changed)


def piece_gone(data: bytes, chance: Random) -> bytes:
    """Leave a piece out."""
    start, end = _span(data, chance)
    return data[:start] + data[end:]


def piece_repeated(data: bytes, chance: Random) -> bytes:
    """Write a piece several times."""
    start, end = _span(data, chance)
    return data[:start] + data[start:end] * chance.randint(2, 4) + data[end:]


def piece_moved(data: bytes, chance: Random) -> bytes:
    """Take a piece out and put it in elsewhere."""
    start, end = _span(data, chance)
    rest = data[:start] + data[end:]
    point = chance.randrange(len(rest) + 1)
    return rest[:point] + data[start:end] + rest[point:]


def bytes_inserted(data: bytes, chance: Random) -> bytes:
    """Put in what has a meaning to some reader, or noise."""
    point = chance.randrange(len(data) + 1)
    new = chance.choice(NASTY_BYTES) if chance.random() < 0.8 else chance.randbytes(4)
    return data[:point] + new + data[point:]


def leaf_filled(data: bytes, chance: Random) -> bytes:
    """Give an element without children another text."""
    return _replaced(
        _LEAF, data, chance, lambda m: b"<%s%s>%s</%s>" % (m[1], m[2], _nasty(chance), m[1])
    )


def word_changed(data: bytes, chance: Random) -> bytes:
    """Write another word or number somewhere."""
    return _replaced(_WORD, data, chance, lambda _: _nasty(chance))


def json_changed(data: bytes, chance: Random) -> bytes:
    """Give a field of JSON in the document another text or number, or that of another field."""
    fields = [m[1] for m in _JSON_FIELD.finditer(data)]
    other = json.dumps(chance.choice(NASTY_TEXTS)).encode()
    new = chance.choice((other, other.strip(b'"'), chance.choice(fields or [b"[]"])))
    return _replaced(_JSON_FIELD, data, chance, lambda m: m[0][: m.start(1) - m.start()] + new)


def attribute_changed(data: bytes, chance: Random) -> bytes:
    """Give an attribute another text."""
    return _replaced(_ATTRIBUTE, data, chance, lambda m: b"=" + m[1] + _nasty(chance) + m[1])


def element_gone(data: bytes, chance: Random) -> bytes:
    """Leave a whole element out, so that the document stays well-formed."""
    return _replaced(chance.choice((_LEAF, _ELEMENT)), data, chance, lambda _: b"")


def element_repeated(data: bytes, chance: Random) -> bytes:
    """Write an element twice."""
    return _replaced(chance.choice((_LEAF, _ELEMENT)), data, chance, lambda m: m[0] * 2)


def elements_swapped(data: bytes, chance: Random) -> bytes:
    """Let two elements change places."""
    found = [m.span() for m in _LEAF.finditer(data)]
    if len(found) < 2:
        return data
    (a, b), (c, d) = sorted(chance.sample(found, 2))
    return data[:a] + data[c:d] + data[b:c] + data[a:b] + data[d:]


def tag_changed(data: bytes, chance: Random) -> bytes:
    """Write another tag of the document."""
    tags = _TAG.findall(data)
    return _replaced(_TAG, data, chance, lambda _: chance.choice(tags))


MUTATIONS: tuple[Callable[[bytes, Random], bytes], ...] = (
    truncated,
    bits_flipped,
    piece_gone,
    piece_repeated,
    piece_moved,
    bytes_inserted,
    *(leaf_filled, word_changed, attribute_changed, element_gone, element_repeated) * 2,
    json_changed,
    elements_swapped,
    tag_changed,
)
"""Those that leave the document well-formed stand here twice: they get deeper."""


def mutated(data: bytes, chance: Random) -> bytes:
    """Return the bytes with one to three things broken."""
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        data = chance.choice(MUTATIONS)(data, chance)
    return data


def _nasty(chance: Random) -> bytes:
    return chance.choice(NASTY_TEXTS).encode("utf-8")


def _span(data: bytes, chance: Random) -> tuple[int, int]:
    start = chance.randrange(len(data) + 1)
    return start, min(len(data), start + chance.choice((1, 2, 10, 100, 1000)))


def _replaced(
    pattern: re.Pattern[bytes],
    data: bytes,
    chance: Random,
    new: Callable[[re.Match[bytes]], bytes],
) -> bytes:
    found = list(pattern.finditer(data))
    if not found:
        return data
    match = chance.choice(found)
    return data[: match.start()] + new(match) + data[match.end() :]
