"""Who reads changes what people are told, and nothing that is kept."""

import contextvars
import re

import pytest

from reedchord.collection_reading import read_collection
from reedchord.demo import demo_files
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.drawing.cents_ruler import cents_ruler
from reedchord.exchange.export import exported
from reedchord.exchange.filled import to_try_text
from reedchord.exploring.explore import explore
from reedchord.exploring.ordinary_fingerings import ordinary_fingering
from reedchord.pitch import parse_pitch
from reedchord.pitch_names import PitchNames
from reedchord.reader import USUAL, Reader, reader, speak_to, told_to
from reedchord.saxophones import saxophone
from reedchord.sounding.practice import practice

BERLIN = Reader(british=True, pitch_names=PitchNames.GERMAN)
START, ALTO = parse_pitch("Bb4"), saxophone("alto")
BAND = read_collection(shipped_path(COLLECTION))


def test_the_former_reader_is_back_afterwards():
    with told_to(BERLIN):
        assert reader() == BERLIN
        with told_to(USUAL):
            assert parse_pitch("Bb4").printed() == "B♭4"
        assert parse_pitch("Bb4").printed() == "B4"
    assert reader() == USUAL


def test_a_command_speaks_to_nobody_but_its_own_reader():
    contextvars.copy_context().run(speak_to, BERLIN)
    assert reader() == USUAL


@pytest.mark.parametrize("kind", ["csv", "json", "yaml", "bibtex"])
def test_what_is_exported_is_the_same_for_everybody(kind):
    usual = exported(BAND, kind)
    with told_to(BERLIN):
        assert exported(BAND, kind) == usual


def test_scores_are_the_same_for_everybody():
    usual, line = demo_files()[0].data, practice(BAND["alto-shingle"]).score
    with told_to(BERLIN):
        assert demo_files()[0].data == usual
        assert practice(BAND["alto-shingle"]).score == line


def test_a_list_to_be_filled_in_is_the_same_for_everybody():
    found = explore(ordinary_fingering(START, ALTO), ALTO, start=START, most=3)
    usual = to_try_text(found)
    assert "alto-b-flat4-01" in usual
    with told_to(BERLIN):
        assert found.called == "B4"
        assert to_try_text(found) == usual


def test_the_keys_of_a_ruler_have_german_names_too():
    def keys():
        svg = cents_ruler(BAND["alto-shingle"]).svg
        return {name.rstrip("0123456789") for name in re.findall(r">([A-H]\w*♯?)</text>", svg)}

    assert keys() == {*"ABCDEFG", "A♯", "C♯", "D♯", "F♯", "G♯"}
    with told_to(BERLIN):
        assert keys() == {*"AHCDEFG", "Ais", "Cis", "Dis", "Fis", "Gis"}
