"""A collection of sonorities, and which files it is read from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from reedchord.demo_paths import COLLECTION as DEMONSTRATION
from reedchord.demo_paths import shipped_path
from reedchord.errors import InputError, RequestError, Where, did_you_mean
from reedchord.input_files import missing
from reedchord.sonority import Sonority
from reedchord.source import Source

SUFFIXES = (".yaml", ".yml", ".json")
_SPREADSHEETS = (".csv", ".tsv", ".tab")


@dataclass(frozen=True)
class Collection:
    """Sonorities and sources by id, in the order in which the files give them."""

    sonorities: Mapping[str, Sonority]
    sources: dict[str, Source]
    origin: str
    warnings: tuple[str, ...] = ()

    def __getitem__(self, sonority_id: str) -> Sonority:
        """Return the sonority with this id; raises RequestError with near names."""
        try:
            return self.sonorities[sonority_id]
        except KeyError:
            raise RequestError(
                "collection.no-such-sonority",
                f"there is no sonority {sonority_id!r} in {self.called}",
                hint=did_you_mean(sonority_id, self.sonorities),
            ) from None

    @property
    def called(self) -> str:
        """What messages call it: its file or folder, or the demonstration's collection."""
        shipped = str(shipped_path(DEMONSTRATION))
        return self.origin.replace(shipped, "the demonstration's collection")

    def __contains__(self, sonority_id: object) -> bool:
        return sonority_id in self.sonorities

    def __iter__(self) -> Iterator[Sonority]:
        return iter(self.sonorities.values())

    def __len__(self) -> int:
        return len(self.sonorities)


def collection_files(path: Path) -> list[Path]:
    """Return the file, or the files of a folder, that reading it reads.

    Raises InputError where there are none.
    """
    if path.is_file():
        if path.suffix.casefold() in _SPREADSHEETS:
            raise InputError(
                "collection.spreadsheet",
                "this is a spreadsheet, and no collection yet",
                hint=f"Make one of it: reedchord collection import {path} -o {path.stem}.yaml",
                where=Where(path=str(path)),
            )
        return [path]
    if not path.is_dir():
        raise missing(path, SUFFIXES, "file or folder")
    files = _files_in(path)
    if not files:
        raise InputError(
            "collection.empty-folder",
            "the folder holds no collection",
            hint=f"Collections end in {', '.join(SUFFIXES)}.",
            where=Where(path=str(path)),
        )
    return files


def _files_in(folder: Path) -> list[Path]:
    return sorted(
        file
        for file in folder.iterdir()
        if file.suffix.casefold() in SUFFIXES and not file.name.startswith(".") and file.is_file()
    )
