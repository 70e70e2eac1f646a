"""Ids for records that come without one."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container

from reedchord.source import MAX_KEY_LENGTH

_ROOM_FOR_NUMBER = 6


def kebab(words: str) -> str:
    """Return words as an id, `Bell buoy (II)` as `bell-buoy-ii`; empty where nothing is left."""
    bare = unicodedata.normalize("NFKD", words.casefold())
    letters = "".join(c for c in bare if not unicodedata.combining(c))
    text = "-".join(re.findall(r"[a-z0-9]+", letters))
    text = f"s-{text}" if text[:1].isdecimal() else text
    return text[: MAX_KEY_LENGTH - _ROOM_FOR_NUMBER].rstrip("-")


def free_id(wished: str, taken: Container[str]) -> str:
    """Return the wished id, or with the first number from 2 on that makes it a new one."""
    new, count = wished, 1
    while new in taken:
        count += 1
        ending = f"-{count}"
        new = wished[: MAX_KEY_LENGTH - len(ending)] + ending
    return new
