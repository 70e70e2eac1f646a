"""A rest without a fixed line beside quarter tones in another voice."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore, WrittenChord
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule

_SECOND_VOICE = (
    "<backup><duration>96</duration></backup><note><rest/><duration>96</duration>"
    "<voice>2</voice><type>whole</type></note></measure>"
)


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for chord in checked.chords:
        voice = _resting_voice(chord)
        if voice is not None:
            yield Problem(
                f"voice {voice} rests beside the quarter tones of {chord.words}: some readers "
                "refuse the whole score",
                chord.spot,
                (Remedy("give that rest a fixed line (display-step), or take it out"),),
            )


def _resting_voice(chord: WrittenChord) -> str | None:
    here = chord.event
    if all(pitch.alteration_cents % 100 == 0 for pitch in here.pitches):
        return None
    for other in chord.part.music.bar(chord.bar_index).events:
        if other.voice == here.voice or other.staff != here.staff or not other.is_rest:
            continue
        meets = (
            other.onset_quarters < here.end_quarters and here.onset_quarters < other.end_quarters
        )
        if meets and other.first.find("rest/display-step") is None:
            return other.voice
    return None


RULE = Rule(
    "writing.rest-beside",
    Severity.WARNING,
    "A rest without a fixed line stands beside quarter tones in another voice.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "one voice"),),
    fails=(Example("p lamp/1", "a resting second voice", edits=(("</measure>", _SECOND_VOICE),)),),
)
