"""Multi-bar rests: divided where one of their bars is to sound, so that it is not hidden."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator

from reedchord.errors import InputError, Where
from reedchord.musicxml import markup
from reedchord.musicxml.child_order import insertion_index
from reedchord.musicxml.chord_parts import BarText
from reedchord.musicxml.document import Bar
from reedchord.musicxml.fragment import Node
from reedchord.musicxml.note_editing import space_before
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.splice import Edit

SHORTEST = 2
"""Bars of rest that are drawn as one; a single bar is a rest of its own."""


def division_edits(
    music: PartMusic, sounding: Collection[int], bar_text: Callable[[Bar], BarText]
) -> Iterator[Edit]:
    """Yield edits, in the document's offsets, that shorten and part multi-bar rests.

    `sounding` are the indices of bars that sound from now on.
    """
    ranges = dict.fromkeys(bars for bar, bars in music.multi_bar_rests.items() if bar in sounding)
    for bars in ranges:
        first = bar_text(music.part.bars[bars[0]])
        found = _found(first)
        kept = {run[0]: len(run) for run in _silent_runs(bars, sounding)}
        yield _in_place(first, found, kept.pop(bars[0], 0))
        for index, length in kept.items():
            style = _with_length(first.text, found[1], length)
            yield _added(bar_text(music.part.bars[index]), style)


def _found(bar: BarText) -> tuple[Node, Node]:
    """Return the attributes and the measure style that begin the rest."""
    found = [
        (attributes, style)
        for attributes in bar.node.find_all("attributes")
        for style in attributes.find_all("measure-style")
        if style.has("multiple-rest")
    ]
    if len(found) != 1:
        raise InputError(
            "score.multi-bar-rest",
            f"{len(found)} multi-bar rests begin in one bar, so it cannot be divided",
            hint="Leave one of them in the score.",
            where=Where(bar=bar.node.get("number")),
        )
    return found[0]


def _silent_runs(bars: range, sounding: Collection[int]) -> Iterator[list[int]]:
    run: list[int] = []
    for index in [*bars, None]:
        if index is not None and index not in sounding:
            run.append(index)
            continue
        if len(run) >= SHORTEST:
            yield run
        run = []


def _in_place(bar: BarText, found: tuple[Node, Node], length: int) -> Edit:
    attributes, style = found
    if length:
        new, gone = _with_length(bar.text, style, length), style
        return Edit(bar.start + gone.start, bar.start + gone.end, new)
    gone = style if len(attributes.children) > 1 else attributes
    lead = len(space_before(bar.text, gone.start))
    return Edit(bar.start + gone.start - lead, bar.start + gone.end, "")


def _with_length(text: str, style: Node, length: int) -> str:
    rest = style.find("multiple-rest")
    assert rest is not None  # it was found by that
    source = style.source(text)
    inside = slice(rest.open_end - style.start, rest.close_start - style.start)
    return source[: inside.start] + str(length) + source[inside.stop :]


def _added(bar: BarText, style: str) -> Edit:
    """Return the edit that begins a multi-bar rest in a bar."""
    children = bar.node.children
    first = children[0] if children else None
    gap = space_before(bar.text, first.start) if first else ""
    if first is None or first.tag != "attributes" or first.self_closing:
        point = bar.node.open_end
        return Edit(bar.start + point, bar.start + point, gap + markup.element("attributes", style))
    index = insertion_index("attributes", "measure-style", [c.tag for c in first.children])
    point = first.children[index - 1].end if index else first.open_end
    return Edit(bar.start + point, bar.start + point, gap + style)
