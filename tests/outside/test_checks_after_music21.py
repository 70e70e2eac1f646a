"""What `check` says of scores that music21 has read and written again."""

from __future__ import annotations

import warnings

import pytest

from reedchord.checks.checking import check
from reedchord.collection_reading import read_collection
from reedchord.demo import PLACED, demo_files
from reedchord.demo_mistakes import DELIBERATE, MISTAKES
from reedchord.demo_paths import COLLECTION, shipped_path


@pytest.fixture(scope="module")
def codes():
    """Return a function that gives the codes found in a file of the demonstration, rewritten."""
    files = {file.name: file.data for file in demo_files()[1]}
    band = read_collection(shipped_path(COLLECTION))

    def codes(name):
        from music21 import converter
        from music21.musicxml.m21ToXml import GeneralObjectExporter

        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            score = converter.parseData(files[name].decode("utf-8"), format="musicxml")
            written = GeneralObjectExporter(score).parse()
        return sorted(finding.code for finding in check(written, band).findings)

    return codes


def test_a_sound_score_stays_sound(codes):
    assert codes(PLACED) == []


def test_mistakes_stay_mistakes(codes):
    assert codes(MISTAKES) == sorted(mistake.code for mistake in DELIBERATE)
