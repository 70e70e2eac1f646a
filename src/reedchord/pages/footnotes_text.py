"""Footnotes as plain text: a list to read, Markdown, and a block for a score's last page."""

from __future__ import annotations

import textwrap

from reedchord.errors import RequestError
from reedchord.pages.footnotes import Footnote, Footnotes
from reedchord.wording import CAUTIONS, NO_BREAK_SPACE, brief_source_words, unbroken

WIDTH, MIN_WIDTH = 88, 40
"""Characters in a line of text."""

_INDENT = 4


def as_text(notes: Footnotes, width: int = WIDTH) -> str:
    """Return footnotes as text in lines of this many characters; cautions at the foot.

    Raises RequestError for lines too short to read.
    """
    if width < MIN_WIDTH:
        raise _too_short(width, MIN_WIDTH)
    heading_width = max(len(heading) for note in notes for heading, _ in note.rows) + 2
    lines = [notes.heading, *_wrapped(notes.guide, width)]
    for note in notes:
        lines += ["", f"{note.label}  {note.title}"]
        for heading, words in note.rows:
            before = " " * _INDENT + f"{heading + ':':<{heading_width}}"
            lines += _wrapped(words, width, before)
    lines += ["", *(line for sentence in CAUTIONS for line in _wrapped(sentence, width))]
    return _spaced("\n".join(lines)) + "\n"


def as_block(notes: Footnotes, width: int | None = None) -> str:
    """Return one line a sonority, `M1 = fingering (source, page)`, in the signs of the score.

    Lines longer than `width` characters go on below, never inside a hand. Raises
    RequestError where one hand is wider than that.
    """
    lines = []
    for note in notes:
        before = f"{note.label} = "
        hands = note.sonority.fingering.short().replace(" ", NO_BREAK_SPACE)
        hands = hands.replace(f"|{NO_BREAK_SPACE}", "| ")
        words = unbroken(f"{hands} ({brief_source_words(note.sonority)})")
        lines += _wrapped(words, width or len(before + words), before)
    longest = max(map(len, lines))
    if width and longest > width:
        raise _too_short(width, longest)
    return _spaced("\n".join(lines)) + "\n"


def as_markdown(notes: Footnotes) -> str:
    """Return footnotes as Markdown; cautions at the foot."""
    blocks = [f"# {_plain(notes.heading)}", notes.guide, *map(_markdown, notes)]
    cautions = "\n".join(f"> {sentence}" for sentence in CAUTIONS)
    return _spaced("\n\n".join([*blocks, cautions])) + "\n"


def _markdown(note: Footnote) -> str:
    rows = "\n".join(f"- *{heading}:* {_plain(words)}" for heading, words in note.rows)
    return f"**{note.label}** {_plain(note.title)}\n\n{rows}"


def _plain(words: str) -> str:
    """Return words with the characters that mean something to Markdown made harmless."""
    for character in "\\`*_[]<>":
        words = words.replace(character, f"\\{character}")
    return words


def _wrapped(words: str, width: int, before: str = "") -> list[str]:
    return textwrap.wrap(
        words,
        width,
        initial_indent=before,
        subsequent_indent=" " * len(before),
        break_long_words=False,
        break_on_hyphens=False,
    )


def _spaced(text: str) -> str:
    """Return a text whose lines are broken, so that its spaces can be plain again."""
    return text.replace(NO_BREAK_SPACE, " ")


def _too_short(width: int, needed: int) -> RequestError:
    return RequestError(
        "footnotes.width",
        f"lines of {width} characters are too short",
        hint=f"These footnotes need {needed}.",
    )
