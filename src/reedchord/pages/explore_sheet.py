"""The sheet of fingerings to be tried: diagrams and room for notes, on screen and on paper."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from reedchord.drawing.diagram import fingering_diagram
from reedchord.drawing.paper import Paper
from reedchord.drawing.picture_files import Picture
from reedchord.drawing.templates import filled_page, template_text
from reedchord.drawing.typesetting import TypesetDocument, typeset_document
from reedchord.exploring.explore import ONLY_A_TRIAL, Exploration, ToTry
from reedchord.exploring.explore_report import about
from reedchord.saxophones import Saxophone
from reedchord.trials.set_ups import SET_UP_FIELDS, SetUpFile
from reedchord.trials.trial_fields import OUTCOMES
from reedchord.wording import CAUTIONS, keys_unbroken


@dataclass(frozen=True)
class SheetEntry:
    """One fingering on the sheet."""

    number: int
    diagram: Picture
    fingering: str
    change: str
    grade: str
    remark: str


@dataclass(frozen=True)
class SheetFamily:
    """Near relatives under the change that they share."""

    heading: str
    entries: tuple[SheetEntry, ...]


@dataclass(frozen=True)
class TrySheet:
    """A sheet: what was started from, and fingerings by family."""

    title: str
    set_up: dict[str, str]
    """What is known of player and instrument, by the headings of its head."""
    about: str
    home: Picture
    home_words: str
    families: tuple[SheetFamily, ...]


def try_sheet(found: Exploration, set_up: SetUpFile | None = None) -> TrySheet:
    """Return the content of a sheet, its head filled in where a set-up is named."""
    return TrySheet(
        f"To try from {found.called}, {found.saxophone}",
        set_up.fields() if set_up else dict.fromkeys(SET_UP_FIELDS, ""),
        about(found),
        fingering_diagram(found.home, saxophone=found.saxophone, name=found.called),
        keys_unbroken(found.home.words()),
        tuple(_families(found)),
    )


def sheet_html(sheet: TrySheet) -> str:
    """Return a sheet as a web page; no request leaves it, and there is no script in it."""
    return filled_page("explore.html", {"sheet": sheet, **_FACTS})


def sheet_pdf(sheet: TrySheet, paper: Paper = Paper.A4) -> TypesetDocument:
    """Return a sheet as PDF, with what no font could show."""
    facts = {**asdict(sheet), **_FACTS, "paper": paper.typesetter_name}
    return typeset_document(template_text("explore.typ"), {"facts": json.dumps(facts)})


_FACTS: dict[str, Any] = {
    "only_a_trial": ONLY_A_TRIAL,
    "outcomes": OUTCOMES,
    "cautions": CAUTIONS,
}


def _families(found: Exploration) -> Iterator[SheetFamily]:
    first = 1
    for family in found.families:
        words = family.words
        entries = tuple(_entries(family.members, first, found.saxophone))
        yield SheetFamily(words[0].upper() + words[1:], entries)
        first += len(entries)


def _entries(members: Sequence[ToTry], first: int, saxophone: Saxophone) -> Iterator[SheetEntry]:
    for number, one in enumerate(members, start=first):
        yield SheetEntry(
            number,
            fingering_diagram(one.fingering, saxophone=saxophone, name=str(number)),
            keys_unbroken(one.fingering.words()),
            one.words(),
            one.difficulty.grade,
            "; ".join(one.remarks),
        )
