"""A copy of a score for an engraver: partwise, some parts alone, bars and notes with known ids."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lxml import etree

from reedchord.musicxml.document import Bar, Part, Score

if TYPE_CHECKING:
    from lxml.etree import _Element

BAR_ID = "reedchord-bar-{}"
"""Id of a bar in the copy, by its index."""

BARS_KEPT_BEFORE, BARS_KEPT_AFTER = 8, 1
"""Ties, slurs and octave marks that reach into an excerpt begin and end within so many bars."""

_LEFT_OUT = ("credit", "defaults", "identification")
"""What stands on a page around the music, and the record of placements."""

_NAMES = (
    "part-name",
    "part-name-display",
    "part-abbreviation",
    "part-abbreviation-display",
)


@dataclass(frozen=True)
class NotePlace:
    """Place of a `<note>`: its part, its bar's index, and its own among the bar's children."""

    part: str
    bar_index: int
    child: int


def engravable(
    score: Score,
    parts: Sequence[Part],
    names: Mapping[NotePlace, str],
    *,
    bars: range | None = None,
    part_names: bool = True,
) -> str:
    """Return a partwise copy with these parts alone, as text.

    Bars of the first part carry the ids that engravers are asked for; `names` are new ids of
    notes. With `bars`, by their indices, bars long before them are emptied unless clef, key
    or time change there, and those after the next are left out: whole scores take long.
    Without `part_names`, nothing stands before the staves. Multi-bar rests become
    single bars, so that every bar can be found.
    """
    root = etree.Element("score-partwise", version=score.root.get("version", "1.0"))
    for child in score.root.iterchildren("*"):
        if child.tag == "part-list":
            root.append(_part_list(child, score, parts, part_names=part_names))
        elif child.tag not in ("part", "measure", *_LEFT_OUT):
            root.append(deepcopy(child))
    for part in parts:
        holder = etree.SubElement(root, "part", id=part.id)
        copied = part.bars if bars is None else part.bars[: bars.stop + BARS_KEPT_AFTER]
        whole_from = 0 if bars is None else bars.start - BARS_KEPT_BEFORE
        holder.extend(
            _bar_copy(bar, part, names, is_emptied=bar.index < whole_from) for bar in copied
        )
    for bar_index, measure in enumerate(root.iterfind("part[1]/measure")):
        measure.set("id", BAR_ID.format(bar_index))
    return etree.tostring(root, encoding="unicode")


def _part_list(
    part_list: _Element, score: Score, parts: Sequence[Part], *, part_names: bool
) -> _Element:
    """Return the list without parts that are left out; groups stay where none is."""
    wanted = {part.id for part in parts}
    copy = deepcopy(part_list)
    for child in list(copy):
        is_group = child.tag == "part-group" and len(wanted) < len(score.parts)
        if is_group or (child.tag == "score-part" and child.get("id") not in wanted):
            copy.remove(child)
    if not part_names:
        for name in list(copy.iterfind("score-part/*")):
            if name.tag in _NAMES:
                name.clear()
    return copy


def _bar_copy(
    bar: Bar, part: Part, names: Mapping[NotePlace, str], *, is_emptied: bool
) -> _Element:
    around = bar.element if bar.element.tag == "measure" else bar.element.getparent()
    assert around is not None  # a timewise part stands in a measure
    measure = etree.Element("measure")
    for attribute, text in around.items():
        if attribute != "id":
            measure.set(attribute, text)
    # A change of clef in a bar without notes is lost on verovio, so such bars stay whole.
    if is_emptied and bar.element.find("attributes") is None:
        return measure
    for child, element in enumerate(bar.element.iterchildren("*")):
        copy = deepcopy(element)
        name = names.get(NotePlace(part.id, bar.index, child))
        if name is not None:
            copy.set("id", name)
        measure.append(copy)
    _divide_multi_bar_rests(measure.iterfind("attributes/measure-style"))
    return measure


def _divide_multi_bar_rests(styles: Iterable[_Element]) -> None:
    for style in list(styles):
        attributes = style.getparent()
        if attributes is not None and style.find("multiple-rest") is not None:
            attributes.remove(style)
