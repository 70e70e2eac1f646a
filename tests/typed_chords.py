"""Scores whose chords a composer has typed: placements with every trace of ours taken off."""

from __future__ import annotations

import re

from samples import note

_OURS = (
    r'<miscellaneous-field name="reedchord">.*?</miscellaneous-field>',
    r' id="rc-[^"]*"',
    r"<footnote>.*?</footnote>",
    r'<lyric [^>]*name="cents">.*?</lyric>',
    r'<direction placement="above"><direction-type><words>M\d.*?</direction>',
    r"<technical><fingering .*?</technical>",
    r"<notations>\s*</notations>",
    r"<notehead [^>]*>.*?</notehead>",
)


def typed_by_hand(data: bytes) -> bytes:
    """Return a placed score with its chords alone: no record, labels, ids or noteheads."""
    text = data.decode()
    for ours in _OURS:
        text = re.sub(
            rf"\s*{ours}" if not ours.startswith(" ") else ours, "", text, flags=re.DOTALL
        )
    assert "rc-" not in text
    return text.encode()


def chord(*pitches: str, quarters: int = 4, type_: str = "whole", more: str = "") -> str:
    """Return a chord as people type it: `chord("E4", "B4")`; an accidental by alter: `G#5`."""
    first, *others = (_note(pitch, quarters, type_) for pitch in pitches)
    first = first.replace("</note>", f"{more}</note>")
    return first + "".join(other.replace("<note>", "<note><chord/>") for other in others)


def _note(pitch: str, quarters: int, type_: str) -> str:
    alters = {"#": "1", "b": "-1", "-": "-0.5", "+": "0.5"}
    step, sign, octave = pitch[0], pitch[1:-1], pitch[-1]
    plain = note(step + octave, quarters, type_=type_)
    if not sign:
        return plain
    return plain.replace("<octave>", f"<alter>{alters[sign]}</alter><octave>", 1)


def fingering(text: str) -> str:
    """Return a fingering beside a note."""
    return f"<notations><technical><fingering>{text}</fingering></technical></notations>"


def words(text: str) -> str:
    """Return words above what follows."""
    return f"<direction><direction-type><words>{text}</words></direction-type></direction>"
