"""Reedchord: saxophone multiphonics into MusicXML scores that a given player can really play.

Names are loaded when they are asked for, so that a command starts at once.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reedchord.card import card_text
    from reedchord.carry import Carried, carry_to, carry_to_all
    from reedchord.choosing.search import find
    from reedchord.choosing.search_wish import Wish
    from reedchord.collection import Collection
    from reedchord.collection_reading import parse_collection, read_collection
    from reedchord.errors import InputError, ReedchordError, RequestError
    from reedchord.fingering import Fingering
    from reedchord.fingering_text import parse_fingering
    from reedchord.music21_bridge.chords import from_music21, to_music21
    from reedchord.pages.footnotes import footnotes_of
    from reedchord.pitch import Pitch, parse_pitch
    from reedchord.placement.place import PlacedScore, place
    from reedchord.placement.plan import Placement, read_plan
    from reedchord.placement.strip import strip
    from reedchord.placement.style import Style
    from reedchord.placement.swap import swap
    from reedchord.reader import Reader, told_to
    from reedchord.saxophones import FAMILY, Saxophone, saxophone
    from reedchord.sonority import Sonority

_HOMES = {
    "FAMILY": "saxophones",
    "Carried": "carry",
    "Collection": "collection",
    "Fingering": "fingering",
    "InputError": "errors",
    "Pitch": "pitch",
    "PlacedScore": "placement.place",
    "Placement": "placement.plan",
    "Reader": "reader",
    "ReedchordError": "errors",
    "RequestError": "errors",
    "Saxophone": "saxophones",
    "Sonority": "sonority",
    "Style": "placement.style",
    "Wish": "choosing.search_wish",
    "card_text": "card",
    "carry_to": "carry",
    "carry_to_all": "carry",
    "find": "choosing.search",
    "footnotes_of": "pages.footnotes",
    "from_music21": "music21_bridge.chords",
    "parse_collection": "collection_reading",
    "parse_fingering": "fingering_text",
    "parse_pitch": "pitch",
    "place": "placement.place",
    "read_collection": "collection_reading",
    "read_plan": "placement.plan",
    "saxophone": "saxophones",
    "strip": "placement.strip",
    "swap": "placement.swap",
    "to_music21": "music21_bridge.chords",
    "told_to": "reader",
}

__all__ = [
    "FAMILY",
    "Carried",
    "Collection",
    "Fingering",
    "InputError",
    "Pitch",
    "PlacedScore",
    "Placement",
    "Reader",
    "ReedchordError",
    "RequestError",
    "Saxophone",
    "Sonority",
    "Style",
    "Wish",
    "card_text",
    "carry_to",
    "carry_to_all",
    "find",
    "footnotes_of",
    "from_music21",
    "parse_collection",
    "parse_fingering",
    "parse_pitch",
    "place",
    "read_collection",
    "read_plan",
    "saxophone",
    "strip",
    "swap",
    "to_music21",
    "told_to",
]


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'reedchord' has no attribute {name!r}")
    return getattr(import_module(f"reedchord.{_HOMES[name]}"), name)
