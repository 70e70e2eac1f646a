"""When notes begin and end in seconds, against the time map of verovio, which plays MusicXML."""

import pytest
import verovio

from reedchord.demo import demo_files
from reedchord.sounding.hear_score import ScoreWish, hear_score
from reedchord.sounding.hearing import SLAP_SECONDS
from truth.real_scores import NAMED
from truth.score_text import as_text, root_file

SCORES = (
    "utf16 madrigal",
    "crlf melody",
    "mixed line ends",
    "voice and clarinet",
    "two voices",
    "pickup",
    "microtones",
)
"""Scores without repeats, which verovio takes unasked, and grace notes, to which it gives time."""


def their_moments(text, way):
    """Return the moments in milliseconds at which notes begin (`on`) or end (`off`)."""
    toolkit = verovio.toolkit()
    toolkit.setOptions({"breaks": "none"})
    toolkit.setInputFrom("xml")
    assert toolkit.loadData(text)
    return {round(entry["tstamp"]) for entry in toolkit.renderToTimemap() if entry.get(way)}


def our_moments(tones, way):
    late = {"on": 0.0, "off": 1.0}[way]
    return {round(1000 * (one.onset_seconds + late * one.duration_seconds)) for one in tones}


@pytest.mark.parametrize("way", ["on", "off"])
@pytest.mark.parametrize("name", SCORES)
def test_real_scores(name, way):
    text = as_text(root_file(NAMED[name].read_bytes()))
    tones = hear_score(text.encode(), ScoreWish()).tones
    ours, theirs = our_moments(tones, way), their_moments(text, way)
    assert len(theirs) >= 8
    # Both round to milliseconds, and may do so differently.
    assert all(any(abs(one - other) <= 1 for other in theirs) for one in ours)
    assert all(any(abs(one - other) <= 1 for other in ours) for one in theirs)


def test_the_demonstration_with_its_sonorities():
    data = demo_files()[0].data
    tones = hear_score(data, ScoreWish()).tones
    assert our_moments(tones, "on") == their_moments(data.decode(), "on")
    # A slap has died away before its written end.
    held = [tone for tone in tones if tone.duration_seconds != SLAP_SECONDS]
    assert our_moments(held, "off") == their_moments(data.decode(), "off")
