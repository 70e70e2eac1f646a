"""More than one text above one sonority."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.marks import words_at
from reedchord.checks.rule import Problem, Rule

_WORDS = (
    '<direction placement="above"><direction-type><words>dolce</words></direction-type></direction>'
)
_LABEL = '<direction placement="above"><direction-type><words>M1'


def _about(turn: Turn) -> Iterator[Problem]:
    texts = [" ".join(words.split()) for words in words_at(turn.checked, turn.here)]
    if len(texts) > 1:
        told = " and ".join(repr(text) for text in texts)
        yield Problem(
            f"{told} stand above {turn.here.name} at one moment: some readers print them as one",
            turn.here.spot,
            (Remedy("one text with the label in it"),),
        )


RULE = Rule(
    "writing.words",
    Severity.NOTE,
    "Several texts stand at the moment of a sonority, and some readers run them together.",
    about=_about,
    passes=(Example("mf bell/1", "the label alone"),),
    fails=(Example("mf bell/1", "dolce as well", edits=((_LABEL, _WORDS + _LABEL),)),),
)
