"""What the columns of a spreadsheet hold, by their headings: ours, and those that people write."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from reedchord.errors import InputError, did_you_mean
from reedchord.source import Source

SOURCE_FIELDS = tuple(field.alias or name for name, field in Source.model_fields.items())
"""Fields of a source by their CSL names; their headings are `source id`, `source title`, …"""
TONE_FIELDS = ("written", "concert", "cents", "presence")
"""Fields of one tone; their headings are `tone 1 written`, …"""
RECORD_FIELDS = (
    "id",
    "name",
    "saxophone",
    "fingering",
    "emphasised",
    "dynamics",
    "limits",
    "neighbours",
    "build_up",
    "advice",
    "evidence",
    "page",
    "number",
    "set_up",
    "carried_from",
    "same_fingering_as",
)
GUESSED_FIELDS = ("articulation", "fastest", "source")
"""Fields of spreadsheets that are none of ours: a single limit, a source as free text."""
IGNORED = "ignore"

_WORDS = {
    "id": "id, key, identifier, kennung, identifiant",
    "name": "name, label, bezeichnung, nom",
    "saxophone": "saxophone, sax, saxophon, saxofon, instrument",
    "fingering": "fingering, keys, griff, griffweise, fingersatz, doigte",
    "written": "written, written pitch, written note, written tone, tone, pitch, ton, "
    "ton geschrieben, tone geschrieben, geschrieben, geschriebene tone, notiert, notierter ton, "
    "notierte tone, ecrit, note ecrite, hauteur, son",
    "concert": "concert, concert pitch, concert note, concert tone, sounding, sounding pitch, "
    "sounding note, sounding tone, klingend, klang, klingender ton, klingende tone, ton klingend, "
    "tone klingend, reel, note reelle, son reel",
    "cents": "cents, cent, deviation, abweichung, ecart",
    "presence": "presence, prominence, prasenz, starke",
    "emphasised": "emphasised, emphasized, emphasis, main tone, emphasised tone, hauptton, "
    "hervorgehoben, betont, accentue, note principale",
    "dynamics": "dynamics, dynamic, dynamik, lautstarke, nuance, dynamique",
    "fastest": "fastest, speed, tempo, geschwindigkeit, vitesse",
    "articulation": "articulation, artikulation",
    "limits": "limits, limit, grenzen, limite",
    "neighbours": "neighbours, neighbors, nachbarn, voisins",
    "build_up": "build up, aufbau",
    "advice": "advice, tip, hinweis, tipp, conseil",
    "evidence": "evidence, beleg, nachweis, preuve",
    "source": "source, quelle, origine",
    "page": "page, seite, p",
    "number": "number, no, nr, nummer, numero",
    "set_up": "set up, setup, equipment, ausrustung, materiel",
    "carried_from": "carried from",
    "same_fingering_as": "same fingering as",
    "source author": "author, autor, auteur",
    "source issued": "year, jahr, annee",
    "source publisher": "publisher, verlag, editeur",
    "source DOI": "doi",
    "source URL": "url",
    IGNORED: IGNORED,
}
"""Headings without accents and plural endings, in English, German and French."""

_FIELDS_BY_WORDS = {
    word.strip(): field for field, words in _WORDS.items() for word in words.split(",")
}


@dataclass(frozen=True)
class Column:
    """What a column holds; `tone` is the number of the tone that it is about, 1 the lowest."""

    field: str
    tone: int | None = None

    @property
    def heading(self) -> str:
        """Our heading for such a column."""
        words = self.field.replace("_", " ")
        return words if self.tone is None else f"tone {self.tone} {words}"


KNOWN_HEADINGS = (
    *(Column(field).heading for field in (*RECORD_FIELDS, *GUESSED_FIELDS)),
    *(f"source {field}" for field in SOURCE_FIELDS),
    *TONE_FIELDS,
    *(Column(field, 1).heading for field in TONE_FIELDS),
    IGNORED,
)
"""The headings that a mapping may name; tones are numbered from 1."""


def column_of(heading: str) -> Column | None:
    """Return what a column holds by its heading, None where it cannot be told."""
    for field in SOURCE_FIELDS:
        if _plain(heading) == _plain(f"source {field}"):
            return Column(f"source {field}")
    words = [re.sub(r"^([0-9]+)\D+$", r"\1", word) for word in _plain(heading).split()]
    numbers = [word for word in words if word.isdecimal()]
    rest = [word for word in words if not word.isdecimal()]
    if len(numbers) > 1:
        return None
    found = _field(rest, numbered=bool(numbers))
    if found is None or (numbers and found not in TONE_FIELDS):
        return None
    return Column(found, int(numbers[0]) if numbers else None)


def named_column(heading: str) -> Column:
    """Return what a heading of a mapping or a setting means; raises InputError with near ones."""
    column = column_of(heading)
    if column is None:
        raise InputError(
            "column.unknown",
            f"{heading!r} is no field of a sonority",
            hint=did_you_mean(heading, KNOWN_HEADINGS),
        )
    return column


def _field(words: list[str], *, numbered: bool) -> str | None:
    """Return the field of a heading, also behind `tone` where the tone is numbered."""
    if numbered and words == ["note"]:
        return "written"
    tries = [" ".join(words)]
    if numbered and len(words) > 1 and words[0] in ("tone", "ton", "note", "son"):
        tries.append(" ".join(words[1:]))
    for name in tries:
        # Plurals: notes écrites, pitches, Griffe.
        each = " ".join(word.removesuffix("s") for word in name.split())
        for stem in (name, each, name.removesuffix("es"), name.removesuffix("e")):
            if stem in _FIELDS_BY_WORDS:
                return _FIELDS_BY_WORDS[stem]
    return None


def _plain(text: str) -> str:
    """Return words without case, accents and signs: `Doigté(s)` as `doigte s`."""
    bare = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(c for c in bare if not unicodedata.combining(c))
    return " ".join(re.findall(r"[a-z]+|[0-9]+(?:st|nd|rd|th|er|e)?", letters))
