"""A MusicXML score as text and tree at once: its parts, its bars, and where each bar stands."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from reedchord.errors import InputError, RequestError, Where, did_you_mean, near_names
from reedchord.musicxml.safe_xml import parse
from reedchord.musicxml.score_text import ScoreText, read_score_text
from reedchord.musicxml.tag_search import element_spans

if TYPE_CHECKING:
    from lxml.etree import _Element

FIRST_VERSION_WITH_IDS = (3, 1)
LONGEST_NAME = 200
"""Characters of a bar's label or a part's id that are kept; real ones have ten."""


class Instrument(NamedTuple):
    """A `<score-instrument>` of a part."""

    id: str
    name: str
    sound: str | None


@dataclass(frozen=True)
class Bar:
    """One bar of one part; `index` counts from 0, `label` is what the score calls it."""

    index: int
    label: str
    element: _Element = field(repr=False, compare=False)
    ordinal: int
    """Place among all bars of all parts in document order."""

    def __str__(self) -> str:
        counted = str(self.index + 1)
        return self.label if self.label == counted else f"{self.label} (@{counted})"


@dataclass(frozen=True)
class Part:
    """One part; its bars are made when they are asked for.

    `groups` are the elements that hold its bars, each with the ordinal of the first: whole
    parts, or in a timewise score the part's element in each bar.
    """

    id: str
    name: str
    abbreviation: str
    instruments: tuple[Instrument, ...]
    groups: tuple[tuple[_Element, int], ...] = field(repr=False, compare=False)

    @cached_property
    def bars(self) -> tuple[Bar, ...]:
        """The part's bars in order."""
        cells = [
            (measure, bar, first + offset)
            for group, first in self.groups
            for offset, (measure, bar) in enumerate(_cells(group))
        ]
        return tuple(
            Bar(index, _label(measure), bar, ordinal)
            for index, (measure, bar, ordinal) in enumerate(cells)
        )

    def __str__(self) -> str:
        return f"{self.id} ({self.name})" if self.name else self.id

    def bar(self, address: str) -> Bar:
        """Return the bar with this label, or `@N` for the Nth bar counted from 1.

        Raises RequestError with the bars that exist, also where a label is not unique.
        """
        found = self._bars_by_address.get(address, [])
        if len(found) == 1:
            return found[0]
        if not found:
            raise RequestError(
                "score.no-such-bar",
                f"part {self} has no bar {address}",
                hint=self._bars_that_exist(),
            )
        places = ", ".join(f"@{bar.index + 1}" for bar in found[:8])
        raise RequestError(
            "score.bar-not-unique",
            f"part {self} has {len(found)} bars labelled {address}",
            hint=f"Count from the start instead: {places}.",
        )

    @cached_property
    def _bars_by_address(self) -> dict[str, list[Bar]]:
        """Bars by their labels and by `@N`, which counts even where a label looks like it."""
        by_address: dict[str, list[Bar]] = {}
        for bar in self.bars:
            if not bar.label.startswith("@"):
                by_address.setdefault(bar.label, []).append(bar)
            by_address[f"@{bar.index + 1}"] = [bar]
        return by_address

    def _bars_that_exist(self) -> str:
        if not self.bars:
            return "It has no bars."
        return (
            f"It has {len(self.bars)} bars, labelled {self.bars[0].label} to "
            f"{self.bars[-1].label}; @1 to @{len(self.bars)} count from the start."
        )


@dataclass(frozen=True)
class Score:
    """A score: its text for splicing, its tree for questions."""

    source: ScoreText
    root: _Element = field(repr=False)
    parts: tuple[Part, ...]

    @property
    def text(self) -> str:
        """The document's text, without a byte order mark."""
        return self.source.text

    @property
    def is_timewise(self) -> bool:
        """Whether the bars hold the parts rather than the parts the bars."""
        return str(self.root.tag) == "score-timewise"

    @property
    def version(self) -> tuple[int, ...]:
        """Declared MusicXML version; 1.0 where none is declared, as the schema says."""
        numbers = re.findall(r"\d+", self.root.get("version", "1.0"))
        return tuple(int(number) for number in numbers[:2])

    @property
    def can_have_ids(self) -> bool:
        """Whether the declared version has an `id` attribute on notes."""
        return self.version >= FIRST_VERSION_WITH_IDS

    @property
    def title(self) -> str:
        """Title of the work, else of the movement, on one line; empty where it has none."""
        return _text(self.root, "work/work-title") or _text(self.root, "movement-title")

    @property
    def is_marked_concert(self) -> bool:
        """Whether the score says that it is written as it sounds (`<concert-score/>`, 4.0)."""
        return self.root.find("defaults/concert-score") is not None

    @cached_property
    def ids(self) -> frozenset[str]:
        """Every `id` attribute of the document."""
        found = (element.get("id") for element in self.root.iter("*"))
        return frozenset(name for name in found if name)

    def part(self, wanted: str) -> Part:
        """Return the part with this id, name or abbreviation.

        Raises RequestError with the parts that exist, also where a name is not unique.
        """
        by_id = [part for part in self.parts if part.id == wanted]
        folded = wanted.casefold()
        by_name = [
            part
            for part in self.parts
            if folded and folded in (part.name.casefold(), part.abbreviation.casefold())
        ]
        found = by_id or by_name
        if len(found) == 1:
            return _with_usable_id(found[0])
        if found:
            ids = ", ".join(part.id for part in found)
            raise RequestError(
                "score.part-not-unique",
                f"{len(found)} parts are called {wanted!r}",
                hint=f"Name one by its id: {ids}.",
            )
        names = [name for part in self.parts for name in (part.id, part.name) if name]
        near = f"{did_you_mean(wanted, names)} " if near_names(wanted, names) else ""
        there = ", ".join(str(part) for part in self.parts)
        raise RequestError(
            "score.no-such-part",
            f"there is no part {wanted!r}",
            hint=f"{near}The parts are {there}.",
        )

    def bar_span(self, bar: Bar) -> tuple[int, int]:
        """Return where a bar's element starts and ends in the text."""
        return self.bar_spans[bar.ordinal]

    @cached_property
    def bar_count(self) -> int:
        """How many bars all parts have together."""
        return _count(self.root, "measure/part" if self.is_timewise else "part/measure")

    @cached_property
    def bar_spans(self) -> list[tuple[int, int]]:
        """Where each bar starts and ends in the text, in the document's order."""
        spans = list(element_spans(self.text, "part" if self.is_timewise else "measure"))
        if len(spans) != self.bar_count:
            raise InputError(
                "score.structure",
                f"{len(spans)} bars stand in the text but {self.bar_count} in the parts",
                hint="Bars outside their parts are not MusicXML; mend the score first.",
            )
        return spans


def read_score(data: bytes) -> Score:
    """Read the bytes of a MusicXML document; raises InputError for anything else."""
    return score_of(read_score_text(data), data)


def score_of(source: ScoreText, data: bytes | None = None) -> Score:
    """Read a document's text; `data`, where given, are the bytes that it was decoded from.

    Raises InputError where it is no MusicXML.
    """
    root = parse(source, data)
    return Score(source, root, tuple(_parts(root)))


def _parts(root: _Element) -> Iterator[Part]:
    described: dict[str, _Element] = {}
    for listed in root.iterfind("part-list/score-part"):
        if described.setdefault(_id(listed), listed) is not listed:
            raise _twice("part-list describes", _id(listed))
    groups = _groups_by_part(root)
    if not groups:
        raise InputError("score.no-parts", "the score has no parts", where=Where())
    for part_id, mine in groups.items():
        entry = described.get(part_id)
        if entry is None:
            yield Part(part_id, "", "", (), tuple(mine))
            continue
        instruments = tuple(
            Instrument(
                instrument.get("id", ""),
                _text(instrument, "instrument-name"),
                instrument.findtext("instrument-sound"),
            )
            for instrument in entry.iterfind("score-instrument")
        )
        name, abbreviation = _text(entry, "part-name"), _text(entry, "part-abbreviation")
        yield Part(part_id, name, abbreviation, instruments, tuple(mine))


def _with_usable_id(part: Part) -> Part:
    if 0 < len(part.id) <= LONGEST_NAME:
        return part
    raise RequestError(
        "score.part-id",
        f"part {part.name!r} has {'too long an' if part.id else 'no'} id",
        hint="Give the <part> and its <score-part> one short id, such as P1.",
    )


def _label(measure: _Element) -> str:
    return " ".join(measure.get("number", "").split())[:LONGEST_NAME]


def _id(element: _Element) -> str:
    return element.get("id", "").strip()


def _text(element: _Element, tag: str) -> str:
    return " ".join((element.findtext(tag) or "").split())


def _groups_by_part(root: _Element) -> dict[str, list[tuple[_Element, int]]]:
    """Return the elements that hold each part's bars, with the ordinal of each one's first."""
    groups: dict[str, list[tuple[_Element, int]]] = {}
    ordinal = 0
    is_timewise = root.tag == "score-timewise"
    for element in root.iterfind("measure/part" if is_timewise else "part"):
        mine = groups.setdefault(_id(element), [])
        if mine and mine[-1][0].getparent() is element.getparent():
            raise _twice("score holds", _id(element))
        mine.append((element, ordinal))
        ordinal += 1 if is_timewise else _count(element, "measure")
    return groups


def _twice(who: str, part_id: str) -> InputError:
    return InputError(
        "score.part-twice",
        f"the {who} the part {part_id!r} twice",
        hint="Give each part an id of its own.",
    )


def _cells(group: _Element) -> Iterator[tuple[_Element, _Element]]:
    """Yield, for each bar of a group, the element with its number and that with its notes."""
    around = group.getparent()
    if around is not None and around.tag == "measure":
        yield around, group
        return
    for measure in group.iterchildren("measure"):
        yield measure, measure


def _count(element: _Element, path: str) -> int:
    counted = element.xpath(f"count({path})")
    assert isinstance(counted, float)  # as XPath's count always is
    return int(counted)
