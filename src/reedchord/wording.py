"""Sentences that card, footnotes and commands share: evidence, tones, cautions."""

from __future__ import annotations

import re
from itertools import groupby

from reedchord.dynamics import SCALE, DynamicRange
from reedchord.numbers_as_text import decimal_text
from reedchord.sonority_fields import Evidence, SonorityFields, Tone

NO_BREAK_SPACE = "\u00a0"
_BEGINS_A_KEY = "left|right|hand|and|half|slightly|low|high|palm|side|front|alternate"
_BEFORE_A_NUMBER = re.compile(
    r"\b(bar|beat|tones?|pp?\.|no\.|and|to) (?=\d)|(?<==) | (?=[+−]\d|= )"
)
_INSIDE_A_KEY = re.compile(rf"\b({_BEGINS_A_KEY}) | (?=(?:sharp|flat|key)\b)")

EVIDENCE_SENTENCES = {
    Evidence.INVENTED: "made up, not played by anybody",
    Evidence.CARRIED: "only carried over from another saxophone; only a trial makes it true",
    Evidence.DOCUMENTED: "documented by its source; every instrument and player differs",
    Evidence.TRIED: "tried on one set-up, and true for that one",
    Evidence.MEASURED: "measured on one set-up, and true for that one",
}

CAUTIONS = (
    "Do not bite and do not force: steady air and a little more support help.",
    (
        "Rest when jaw, lips or ears tire. Multiphonics and slaps are loud at the ear: protect it "
        "when practising for long, and start playback at low volume."
    ),
    "What a player and a set-up can do is for the player, and their teacher, to say.",
)


def evidence_words(sonority: SonorityFields) -> str:
    """Return how well a record is known, in words."""
    words = f"{sonority.evidence}: {EVIDENCE_SENTENCES[sonority.evidence]}"
    return f"{words} ({sonority.set_up})" if sonority.set_up else words


def presence_words(tone: Tone) -> str:
    """Return a tone's presence, dynamics of one presence drawn together: `pp-p faint, f clear`."""
    said = [(mark, tone.presence_at(mark)) for mark in SCALE]
    words = []
    for presence, marks in groupby(said, key=lambda entry: entry[1]):
        run = [mark for mark, _ in marks]
        if presence is not None:
            words.append(f"{DynamicRange(run[0], run[-1])} {presence}")
    return ", ".join(words)


def presence_told(tone: Tone) -> str:
    """Return a tone's presence in words; `not known` where nobody says anything of it."""
    return presence_words(tone) or "not known"


def limit_words(sonority: SonorityFields) -> list[str]:
    """Return each limit as a clause."""
    return [limit.words() for limit in sonority.limits]


def timed_limit_words(sonority: SonorityFields) -> list[str]:
    """Return each limit as a clause that tells attacks a second, too."""
    rates = (limit.fastest.attacks_per_second for limit in sonority.limits)
    return [
        f"{words} ({decimal_text(round(rate, 1))} attacks a second)"
        for words, rate in zip(limit_words(sonority), rates, strict=True)
    ]


def source_words(sonority: SonorityFields) -> str:
    """Return the source with its locator, or what stands in its place."""
    if sonority.source:
        return str(sonority.source)
    own = sonority.evidence in (Evidence.TRIED, Evidence.MEASURED)
    return "none: the player's own" if own else "none"


def brief_source_words(sonority: SonorityFields) -> str:
    """Return where a record comes from and how well it is known, in the fewest words."""
    evidence = str(sonority.evidence)
    return f"{sonority.source.brief()}, {evidence}" if sonority.source else evidence


def keys_unbroken(fingering_words: str) -> str:
    """Return a fingering in words that breaks into lines only after a comma or a semicolon."""
    return _INSIDE_A_KEY.sub(rf"\g<1>{NO_BREAK_SPACE}", fingering_words)


def unbroken(words: str) -> str:
    """Return words in which no line ends before a number that belongs to the word before it."""
    return _BEFORE_A_NUMBER.sub(rf"\g<1>{NO_BREAK_SPACE}", words)
