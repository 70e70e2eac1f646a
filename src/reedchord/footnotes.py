"""Fingering footnotes, from a score alone: what appears in it, in order, and no more."""

from __future__ import annotations

import html
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from reedchord.musicxml.document import Part, Score, read_score
from reedchord.placement.record import PlacedRecord, no_placements, record_of, rows_still_there
from reedchord.sonority import Sonority
from reedchord.wording import CAUTIONS, evidence_words, limit_words, source_words


class FootnoteFormat(StrEnum):
    """How footnotes are written."""

    TEXT = "text"
    MARKDOWN = "markdown"
    HTML = "html"


@dataclass(frozen=True)
class Footnote:
    """The footnote of one sonority: its label, and pairs of a heading and what stands under it."""

    label: str
    title: str
    rows: tuple[tuple[str, str], ...]


def footnotes_of(data: bytes, *, british: bool = False) -> list[Footnote]:
    """Return the footnotes of the bytes of a MusicXML document, in the order of its labels.

    Raises RequestError where it holds no placements.
    """
    score = read_score(data)
    record = record_of(score)
    rows = rows_still_there(score, record)
    if not rows:
        raise no_placements()
    by_label: dict[str, list[PlacedRecord]] = {}
    for row in rows:
        by_label.setdefault(row.label, []).append(row)
    return [
        _footnote(label, record.sonorities[mine[0].wish.sonority], mine, score, british=british)
        for label, mine in by_label.items()
    ]


def _footnote(
    label: str,
    sonority: Sonority,
    placed: Sequence[PlacedRecord],
    score: Score,
    *,
    british: bool,
) -> Footnote:
    rows = [
        ("Fingering", sonority.fingering.words()),
        ("Tones", "; ".join(_tone_words(sonority, number) for number in sonority.numbers)),
    ]
    limits = limit_words(sonority, british=british)
    if limits:
        rows.append(("Limits", "; ".join(limits)))
    rows += [
        ("Source", source_words(sonority)),
        ("Evidence", evidence_words(sonority)),
        ("Places", "; ".join(_place_words(row, sonority, score) for row in placed)),
    ]
    title = f"{sonority.label()}, {sonority.saxophone}"
    return Footnote(label, title, tuple(rows))


def _tone_words(sonority: Sonority, number: int) -> str:
    written, concert = sonority.written(number).printed(), sonority.concert(number).printed()
    words = f"written {written} (concert {concert})"
    return f"{words}, emphasised" if number == sonority.emphasised_number else words


def _place_words(row: PlacedRecord, sonority: Sonority, score: Score) -> str:
    part = next((part for part in score.parts if part.id == row.wish.part), None)
    name = part.name if part and part.name else row.wish.part
    words = f"{name}, bar {_bar_now(row, part)}, beat {row.wish.beat}"
    if row.wish.manner != "ordinary":
        words += f", {row.wish.manner}"
    if len(row.numbers) < len(sonority.tones):
        words += f", only {_tones_named(row.numbers)}"
    number = row.emphasised
    return words if number is None else f"{words}, tone {number} emphasised"


def _tones_named(numbers: Sequence[int]) -> str:
    *rest, last = map(str, numbers)
    return f"tones {', '.join(rest)} and {last}" if rest else f"tone {last}"


def _bar_now(row: PlacedRecord, part: Part | None) -> str:
    """Return the bar in which the chord stands now: somebody may have added bars before it."""
    first = row.ids[0] if row.ids else None
    for bar in part.bars if part and first else ():
        if any(note.get("id") == first for note in bar.element.iterchildren("note")):
            return bar.label or str(bar.index + 1)
    return row.bar


def written_as(notes: Sequence[Footnote], form: FootnoteFormat) -> str:
    """Return footnotes as text, Markdown or a HTML page; the cautions stand at the foot."""
    return _WRITERS[form](notes)


def _as_text(notes: Sequence[Footnote]) -> str:
    width = max(len(heading) for note in notes for heading, _ in note.rows) + 2
    blocks = []
    for note in notes:
        lines = [f"{note.label}  {note.title}"]
        lines += [f"    {heading + ':':<{width}}{words}" for heading, words in note.rows]
        blocks.append("\n".join(lines))
    return "\n\n".join([*blocks, "\n".join(CAUTIONS)]) + "\n"


def _as_markdown(notes: Sequence[Footnote]) -> str:
    blocks = []
    for note in notes:
        rows = "\n".join(f"- *{heading}:* {_plain(words)}" for heading, words in note.rows)
        blocks.append(f"**{note.label}** {_plain(note.title)}\n\n{rows}")
    cautions = "\n".join(f"> {sentence}" for sentence in CAUTIONS)
    return "\n\n".join([*blocks, cautions]) + "\n"


def _plain(words: str) -> str:
    """Return words with the characters that mean something to Markdown made harmless."""
    for character in "\\`*_[]<>":
        words = words.replace(character, f"\\{character}")
    return words


_PAGE = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Fingering footnotes</title>
<style>
body {{ font: 11pt/1.4 serif; max-width: 42em; margin: 2em auto; padding: 0 1em; }}
section {{ break-inside: avoid; margin-bottom: 1.2em; }}
h2 {{ font-size: 1em; margin: 0 0 .2em; }}
dl {{ display: grid; grid-template-columns: 6em 1fr; gap: .1em .8em; margin: 0; }}
dt {{ font-style: italic; }}
dd {{ margin: 0; }}
footer {{ border-top: 1px solid; margin-top: 2em; padding-top: .5em; font-size: .9em; }}
</style>
</head>
<body>
<h1>Fingering footnotes</h1>
{sections}
<footer>
{cautions}
</footer>
</body>
</html>
"""


def _as_html(notes: Sequence[Footnote]) -> str:
    sections = []
    for note in notes:
        rows = "\n".join(
            f"<dt>{heading}</dt><dd>{html.escape(words)}</dd>" for heading, words in note.rows
        )
        title = html.escape(f"{note.label}  {note.title}")
        sections.append(f"<section>\n<h2>{title}</h2>\n<dl>\n{rows}\n</dl>\n</section>")
    cautions = "\n".join(f"<p>{html.escape(sentence)}</p>" for sentence in CAUTIONS)
    return _PAGE.format(sections="\n".join(sections), cautions=cautions)


_WRITERS = {
    FootnoteFormat.TEXT: _as_text,
    FootnoteFormat.MARKDOWN: _as_markdown,
    FootnoteFormat.HTML: _as_html,
}
