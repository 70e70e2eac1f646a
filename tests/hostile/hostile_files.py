"""All hostile files by name."""

from __future__ import annotations

from hostile import hostile_documents as documents
from hostile import hostile_music as music
from hostile.hostile_documents import Hostile
from hostile.hostile_packages import PACKAGES

HOSTILE: dict[str, Hostile] = {
    one.name: one
    for one in (
        *documents.ENTITIES,
        *documents.SIZES,
        *documents.OTHER_FORMATS,
        *documents.ENCODINGS,
        *documents.MALFORMED,
        *music.NUMBERS,
        *music.NOTES,
        *music.STRUCTURE,
        *PACKAGES,
    )
}
