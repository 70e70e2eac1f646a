"""The main job on the example that comes with the package."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from reedchord.collection_reading import parse_collection
from reedchord.demo_mistakes import MISTAKES, mistaken_score
from reedchord.demo_paths import COLLECTION, PLAN, SCORE, SET_UP, WISHES, shipped_path
from reedchord.errors import RequestError, Where
from reedchord.pages.footnotes import footnotes_of
from reedchord.pages.footnotes_html import as_html
from reedchord.pages.footnotes_text import as_text
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import parse_plan
from reedchord.score_files import write_atomically

PLACED, TEXT, PAGE = (
    "harbour-lights-placed.musicxml",
    "harbour-lights-footnotes.txt",
    "harbour-lights-footnotes.html",
)


@dataclass(frozen=True)
class DemoFile:
    """One file of the demonstration and what it is."""

    name: str
    data: bytes
    meaning: str


def demo_files() -> tuple[PlacedScore, list[DemoFile]]:
    """Return the demonstration made anew: the placed score, and every file with its meaning."""
    names = COLLECTION, SCORE, PLAN, WISHES, SET_UP
    given = {name: shipped_path(name).read_bytes() for name in names}
    collection = parse_collection(given[COLLECTION].decode("utf-8"), COLLECTION)
    plan = parse_plan(given[PLAN].decode("utf-8"), PLAN)
    placed = place(given[SCORE], plan.placements, collection, plan.style)
    notes = footnotes_of(placed.data)
    text = as_text(notes).encode("utf-8")
    page = as_html(notes).encode("utf-8")
    mistaken = mistaken_score(given[SCORE], plan.placements, collection)
    return placed, [
        DemoFile(SCORE, given[SCORE], "the score as it was"),
        DemoFile(COLLECTION, given[COLLECTION], "the sonorities, all invented"),
        DemoFile(PLAN, given[PLAN], "what goes where"),
        DemoFile(WISHES, given[WISHES], "what is wished, for reedchord chain to answer"),
        DemoFile(SET_UP, given[SET_UP], "a player's set-up, for reedchord trial"),
        DemoFile(PLACED, placed.data, "the score with the sonorities in it"),
        DemoFile(MISTAKES, mistaken, "the same with mistakes, for reedchord check to find"),
        DemoFile(TEXT, text, "its footnotes"),
        DemoFile(PAGE, page, "the same as a page to print"),
    ]


def write_demo(folder: Path, demo: list[DemoFile]) -> None:
    """Write the files into a folder, which is made where it is missing.

    Raises RequestError rather than overwrite a file that differs.
    """
    for file in demo:
        there = folder / file.name
        if there.exists() and (not there.is_file() or there.read_bytes() != file.data):
            raise RequestError(
                "demo.exists",
                "another file of this name is there already",
                hint="Choose an empty folder, or move the file away.",
                where=Where(path=str(there)),
            )
    if folder.is_file():
        raise RequestError(
            "demo.folder",
            "this is a file",
            hint="Name a folder for the files; it is made where it is missing.",
            where=Where(path=str(folder)),
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise RequestError(
            "demo.folder", f"cannot be made: {error.strerror}", where=Where(path=str(folder))
        ) from None
    for file in demo:
        write_atomically(folder / file.name, file.data)
