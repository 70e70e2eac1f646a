"""A list of fingerings to try: written to be filled in, and filled in, a collection."""

import json

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from oda import SET_UP
from reedchord.collection_reading import parse_collection
from reedchord.errors import ReedchordError
from reedchord.exchange.filled import (
    collection_with_filled,
    filled_records,
    filled_trials,
    left_out,
    to_try_text,
)
from reedchord.exploring.explore import explore
from reedchord.exploring.ordinary_fingerings import ordinary_fingering
from reedchord.own_file import parse_own_text
from reedchord.pitch import parse_pitch
from reedchord.saxophones import saxophone
from reedchord.schemas import schema_texts
from reedchord.sonority_fields import Articulation, Evidence
from reedchord.trials.to_try import ToTryFile
from reedchord.trials.trial_fields import Outcome

ALTO = saxophone("alto")
FOUND = explore(ordinary_fingering(parse_pitch("C4"), ALTO), ALTO, start="C4", most=4)
LIST = to_try_text(FOUND, taken={"alto-c4-01"})


def read(text):
    return parse_own_text(ToTryFile, text, "try.yaml", "a list of fingerings to try")


def filled(*tones, nth=0, **more):
    """Return the list with tones in one entry, as a player would type them."""
    lines = LIST.splitlines(keepends=True)
    places = [index for index, line in enumerate(lines) if line == "    tones: []\n"]
    rows = "".join(f"      - {tone}\n" for tone in tones)
    rest = "".join(f"    {name}: {said}\n" for name, said in more.items())
    lines[places[nth]] = f"    tones:\n{rows}{rest}"
    return read("".join(lines))


def test_the_list_can_be_read_and_says_how_to_fill_it():
    listed = read(LIST).record
    assert [one.fingering for one in listed.fingerings] == [one.fingering for one in FOUND.to_try]
    assert listed.fingerings[0].id == "alto-c4-01-2"  # the collection has alto-c4-01
    assert LIST.startswith("# Fill in what came")
    assert YAML(typ="safe").load(LIST)["saxophone"] == "alto"
    schema = json.loads(schema_texts()["to-try.schema.json"])
    Draft202012Validator(schema).validate(YAML(typ="safe").load(LIST))


def test_what_was_filled_in_becomes_a_record_of_the_set_up():
    listed = filled("{written: F#4-12, presence: {mf: clear}}", "{written: G5+31}", emphasised=2)
    text, collection = collection_with_filled(None, listed, SET_UP)
    [record] = collection
    assert record.id == "alto-c4-01-2"
    assert record.evidence is Evidence.TRIED
    assert record.set_up == SET_UP.words()
    assert record.emphasised_number == 2
    assert str(record.fingering) == str(FOUND.to_try[0].fingering)
    assert parse_collection(text)[record.id] == record


def test_a_collection_keeps_its_comments(tmp_path):
    file = tmp_path / "mine.yaml"
    text, _ = collection_with_filled(None, filled("{written: F#4-12}"), SET_UP)
    file.write_text(f"# my own\n{text}", "utf-8")
    text, collection = collection_with_filled(file, filled("{written: G4}", nth=1), SET_UP)
    assert text.startswith("# my own\n")
    assert len(collection) == 2


def test_nothing_filled_in_and_another_saxophone_are_told():
    with pytest.raises(ReedchordError, match="no entry has a tone"):
        filled_records(read(LIST), SET_UP)
    tenor = SET_UP.model_copy(update={"saxophone": saxophone("tenor")})
    with pytest.raises(ReedchordError, match="the list is for alto, oda-alto is a set-up of tenor"):
        filled_records(filled("{written: G4}"), tenor)


def test_outcome_and_attack_go_into_the_trial():
    listed = filled("{written: G4}", outcome="after a try", attack="breath")
    [trial] = filled_trials(listed, "2031-11-25")
    assert (trial.outcome, trial.attack) == (Outcome.AFTER_A_TRY, Articulation.BREATH)


def test_what_has_no_tone_is_told():
    lines = [f"{LIST}    outcome: did not speak\n", f"{LIST}    outcome: spoke\n"]
    told = [next(left_out(read(text))) for text in lines]
    assert told == [
        "alto-c4-04: did not speak, so there is nothing to keep",
        "alto-c4-04: spoke, and has no tone yet",
    ]


def test_a_tone_that_came_where_nothing_spoke_is_refused():
    with pytest.raises(ReedchordError, match="it did not speak, and yet a tone came"):
        filled("{written: G4}", outcome="did not speak")


def test_what_cannot_be_a_record_is_told_with_its_line():
    listed = filled("{written: G5}", "{written: G4}", nth=1)
    with pytest.raises(ReedchordError, match="lowest first") as caught:
        filled_records(listed, SET_UP)
    where = caught.value.where
    assert (where.path, where.record) == ("try.yaml", "alto-c4-02")
    assert listed.text.splitlines()[where.line - 1].strip().startswith("- id: alto-c4-02")
