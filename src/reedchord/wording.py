"""Sentences that card, footnotes and commands share: evidence, tones, cautions."""

from __future__ import annotations

from itertools import groupby

from reedchord.dynamics import SCALE, DynamicRange
from reedchord.sonority_fields import Evidence, SonorityFields, Tone

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


def limit_words(sonority: SonorityFields, *, british: bool = False) -> list[str]:
    """Return each limit as a clause."""
    return [limit.words(british=british) for limit in sonority.limits]


def source_words(sonority: SonorityFields) -> str:
    """Return the source with its locator, or what stands in its place."""
    if sonority.source:
        return str(sonority.source)
    own = sonority.evidence in (Evidence.TRIED, Evidence.MEASURED)
    return "none: the player's own" if own else "none"
