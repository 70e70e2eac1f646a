"""The legend of a part: the fingerings and sources of its sonorities, once, in its last bar."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from reedchord.musicxml import markup
from reedchord.musicxml.bar_texts import BarTexts
from reedchord.musicxml.chord_parts import BarText
from reedchord.musicxml.document import Part, Score
from reedchord.musicxml.fragment import Node
from reedchord.musicxml.note_editing import space_before
from reedchord.musicxml.splice import Edit
from reedchord.placement.our_directions import plain, removal, words_of
from reedchord.placement.proof import SelfCheckError
from reedchord.placement.record import LEGEND_HEAD, PlacedRecord, is_legend
from reedchord.placement.style import Sourced, Style
from reedchord.sonority import Sonority
from reedchord.wording import brief_source_words

_BEFORE_MUSIC = frozenset(("attributes", "print", "barline", "sound", "listening", "link"))


class Legends(NamedTuple):
    """Legends by the ids of their parts, the edits that write them, and what is to be told."""

    texts: dict[str, str]
    edits: tuple[Edit, ...] = ()
    warnings: tuple[str, ...] = ()


def legends(
    bars: BarTexts,
    parts: Iterable[Part],
    former: Mapping[str, str],
    wanted: Mapping[str, str],
) -> Legends:
    """Return what writes the `wanted` legends in place of the `former` ones.

    A former one that somebody changed stays, and none is written beside it.
    """
    texts: dict[str, str] = {}
    edits: list[Edit] = []
    warnings: list[str] = []
    for part in parts:
        old, new = former.get(part.id), wanted.get(part.id)
        bar = _last_bar(bars, part)
        if (old is None and new is None) or bar is None:
            continue
        there = _standing(bar) if old is not None else None
        if there is not None and plain(words_of(there)) != plain(old or ""):
            warnings.append(f"{part}: the legend in the last bar was changed and stays")
            continue
        if new is not None:
            texts[part.id] = new
            edits.append(_insertion(bar, new) if there is None else _renewal(bar, there, new))
        elif there is not None:
            edits.append(removal(bar, there))
    return Legends(texts, tuple(edits), tuple(warnings))


def has_legends(style: Style) -> bool:
    """Tell whether a style asks for legends."""
    return style.source is Sourced.LEGEND


def wanted_legends(
    style: Style, rows: Iterable[PlacedRecord], sonorities: Mapping[str, Sonority]
) -> dict[str, str]:
    """Return the legends that a style asks for, by the ids of the parts."""
    if not has_legends(style):
        return {}
    lines: dict[str, dict[str, str]] = {}
    for row in rows:
        for turn in row.turns:
            sonority = sonorities[turn.wish.sonority]
            source = brief_source_words(sonority)
            words = f"{turn.label} = {sonority.fingering.short()} ({source})"
            lines.setdefault(row.wish.part, {})[turn.label] = words
    return {
        part: "\n".join([LEGEND_HEAD, *(told[label] for label in sorted(told, key=_counted))])
        for part, told in lines.items()
    }


def prove_legends(score: Score, texts: Mapping[str, str]) -> None:
    """Raise SelfCheckError where the finished document does not have these legends."""
    bars = BarTexts(score)
    for part in score.parts:
        bar = _last_bar(bars, part) if part.id in texts else None
        there = _standing(bar) if bar else None
        if part.id in texts and (there is None or words_of(there) != texts[part.id]):
            raise SelfCheckError(f"the legend of {part} is not what was meant")


def _counted(label: str) -> tuple[int, str]:
    digits = "".join(character for character in label if character.isdecimal())
    return int(digits or 0), label


def _last_bar(bars: BarTexts, part: Part) -> BarText | None:
    """Return the last bar of a part that has notes or rests, which every placed part has."""
    found = (bars.of(bar) for bar in reversed(part.bars) if bar.element.find("note") is not None)
    return next(found, None)


def _standing(bar: BarText) -> Node | None:
    return next((node for node in bar.node.children if is_legend(words_of(node))), None)


def _renewal(bar: BarText, legend: Node, text: str) -> Edit:
    """Return the edit that writes other words into a legend, which keeps its place and look."""
    (words,) = (child for kind in legend.find_all("direction-type") for child in kind.children)
    start, end = bar.start + words.open_end, bar.start + words.close_start
    return Edit(start, end, markup.character_data(text))


def _insertion(bar: BarText, text: str) -> Edit:
    """Return the edit that puts a legend before the first music of a bar."""
    first = next(node for node in bar.node.children if node.tag not in _BEFORE_MUSIC)
    lead = space_before(bar.text, first.start)
    upright = markup.leaf("words", text, font_style="normal")
    words = markup.direction(upright, voice=None, staff=None, below=True)
    return Edit(bar.start + first.start, bar.start + first.start, words + lead)
