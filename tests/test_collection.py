"""Collections as people keep them: files, folders, and what is wrong with them, line by line."""

import json
from importlib.resources import files

import pytest

from reedchord.collection_reading import parse_collection, read_collection
from reedchord.errors import InputError, RequestError, SeveralErrors

HEAD = "reedchord: collection\nversion: 1\n"
SOURCES = """\
sources:
  - id: notebook
    type: manuscript
    title: A notebook of split sounds
    note: invented for these tests
"""
HERON = """\
  - id: heron
    saxophone: alto
    fingering: left 1 2 3, G sharp | right 1 2 3
    tones: [{written: E4-19}, {written: B5+14}]
    neighbours: [{sonority: egret, because: fingers}]
    evidence: documented
    source: {id: notebook, page: 012}
"""
EGRET = """\
  - id: egret
    saxophone: alto
    fingering: left 1 2 3 | right 1 2 3
    tones: [{written: C5}]
    evidence: invented
"""
BIRDS = HEAD + SOURCES + "sonorities:\n" + HERON + EGRET


def errors_of(call, *arguments):
    """Return the errors as (file, line, column, code), with the whole text."""
    with pytest.raises((InputError, SeveralErrors)) as caught:
        call(*arguments)
    errors = getattr(caught.value, "errors", (caught.value,))
    places = [(e.where.path, e.where.line, e.where.column, e.code) for e in errors]
    return places, str(caught.value)


def test_a_collection_gives_sonorities_by_id_with_their_sources():
    birds = parse_collection(BIRDS)
    assert [sonority.id for sonority in birds] == ["heron", "egret"]
    assert len(birds) == 2
    assert "heron" in birds
    assert "stork" not in birds
    assert str(birds["heron"].source) == (
        "A notebook of split sounds, n.d. (invented for these tests), p. 012"
    )
    assert birds["egret"].source is None
    assert birds.warnings == ()


def test_a_sonority_that_is_not_there_brings_near_names():
    with pytest.raises(RequestError, match=r"no sonority 'herron' in birds\.yaml") as caught:
        parse_collection(BIRDS, "birds.yaml")["herron"]
    assert caught.value.hint == "Did you mean heron?"


def test_a_neighbour_in_another_collection_is_a_warning():
    birds = parse_collection(BIRDS.replace("sonority: egret", "sonority: egrett"), "birds.yaml")
    assert birds.warnings == (
        (
            "birds.yaml, line 9, column 5, heron: its neighbour 'egrett' is not in this "
            "collection; did you mean egret?"
        ),
    )


def test_a_collection_may_be_json():
    data = {
        "reedchord": "collection",
        "version": 1,
        "sonorities": [
            {
                "id": "egret",
                "saxophone": "alto",
                "fingering": "left 1 2 3 | right 1 2 3",
                "tones": [{"written": "C𝄲5"}],
                "evidence": "invented",
            }
        ],
    }
    egret = parse_collection(json.dumps(data), "birds.json")["egret"]
    assert str(egret.written(1)) == "C5+50"
    data["sonorities"][0]["tones"] = [{"written": "H5"}]
    places, text = errors_of(parse_collection, json.dumps(data, indent=1), "birds.json")
    assert places == [("birds.json", 11, 6, "pitch.text")]
    assert "record egret, field tones[1].written: 'H5' is no pitch" in text


# What the whole file holds, and the places of the mistakes.
BROKEN = [
    ("- heron\n- egret\n", [(1, 1, "collection.format")]),
    ("just text\n", [(1, 1, "collection.format")]),
    ("title: x\nreedchord: plan\nversion: 1\n", [(2, 1, "collection.format")]),
    ("reedchord: collection\n", [(1, 1, "collection.version")]),
    ("reedchord: collection\nversion: 2\n", [(2, 1, "collection.version")]),
    ("reedchord: collection\nversion: true\n", [(2, 1, "collection.version")]),
    ("reedchord: collection\nversion: '1'\n", [(2, 1, "collection.version")]),
    (HEAD + "sonorites:\n", [(3, 1, "extra_forbidden")]),
    (HEAD + "title: [x]\n", [(3, 1, "string_type")]),
    (HEAD + "sonorities: heron\n", [(3, 1, "tuple_type")]),
    (HEAD + "sonorities:\n", [(3, 1, "tuple_type")]),
    (HEAD + "sonorities:\n  - heron\n", [(4, 5, "model_type")]),
    (
        BIRDS.replace("id: egret", "id: heron"),
        [(16, 5, "collection.twice")],
    ),
    (
        BIRDS.replace("id: notebook,", "id: notebok,"),
        [(15, 14, "source.unknown")],
    ),
    (
        BIRDS.replace(
            "saxophone: alto\n    fingering: left 1 2 3 |",
            "saxophon: alto\n    fingering: left 4 |",
        ),
        [
            (16, 5, "missing"),
            (17, 5, "extra_forbidden"),
            (18, 5, "fingering.text"),
        ],
    ),
    (
        BIRDS.replace("tones: [{written: C5}]", "tones: [{writen: C5}, 3]"),
        [(19, 14, "extra_forbidden"), (19, 27, "model_type")],
    ),
    (BIRDS.replace("tones: [{written: C5}]", "tones: []"), [(19, 5, "too_short")]),
]


@pytest.mark.parametrize(("text", "places"), BROKEN)
def test_a_mistake_is_told_with_its_line_and_column(text, places):
    found, _ = errors_of(parse_collection, text, "birds.yaml")
    assert found == [("birds.yaml", *place) for place in places]


# What stands in the place of `type: manuscript` or of the tones, and the sentence on it.
SENTENCES = [
    (
        "type: manuscript",
        "type: manuskript",
        'type cannot be "manuskript"\n  Did you mean manuscript',
    ),
    ("type: manuscript", "title: 3", "stands here twice"),
    ("title: A notebook of split sounds", "title: 3", "title is text, not 3\n  A text that looks"),
    ("title: A notebook of split sounds", "title: ''", "title is empty\n"),
    ("title: A notebook of split sounds", f"title: {'x' * 2001}", "longer than 2000 characters"),
    (
        "title: A notebook of split sounds",
        "issued: {date-parts: 2026}",
        "date-parts is a list, not",
    ),
    (
        "title: A notebook of split sounds",
        "issued: 2026",
        "issued has fields of its own, it is not",
    ),
    ("    type: manuscript\n", "", "the field 'type' is missing"),
    ("tones: [{written: C5}]", "tones: 3", "tones is a list, not 3\n  Put '- ' before each entry"),
    ("tones: [{written: C5}]", "tones:", "tones is empty\n  Fill it in"),
    ("tones: [{written: C5}]", "tones: [5]", "entry 1 of tones has fields of its own, it is not 5"),
    (
        "tones: [{written: C5}]",
        "tones: [F#4-12]",
        'it is not "F#4-12"\n  Name the field: {written: "F#4-12"}.',
    ),
    ("{written: C5}", "{written: F #4}", "a # after a space begins a comment"),
    ("{written: C5}", "{written: 5}", "written is text, not 5"),
    (
        "{written: C5}",
        "{written: C5, presence: f}",
        'presence is a list of pairs such as mf: clear, not "f"',
    ),
    ("{written: C5}", "{written: C5, presence: {f: 1}}", "f is text, not 1"),
    ("evidence: invented", "evidence: true", "evidence is text, not true"),
    (
        "evidence: invented",
        "evidence: invented\n    build_up: [x]",
        'entry 1 of build_up is a whole number, not "x"',
    ),
    (
        "evidence: invented",
        "evidence: invented\n    emphasised: [1]",
        "a tone is named by its number or its pitch",
    ),
    (
        "evidence: invented",
        "evidence: invented\n    limits: [{articulation: slap, fastest: 4}]",
        "fastest is text, not 4",
    ),
]


@pytest.mark.parametrize(("old", "new", "sentence"), SENTENCES)
def test_a_wrong_kind_of_thing_is_told_in_a_sentence(old, new, sentence):
    assert old in BIRDS
    _, text = errors_of(parse_collection, BIRDS.replace(old, new))
    assert sentence in text


def test_a_broken_source_does_not_make_its_citations_wrong():
    for broken in (
        BIRDS.replace("type: manuscript", "type: manuskript"),
        BIRDS.replace("  - id: notebook\n    type", "  - type"),
        BIRDS.replace("    type: manuscript\n", ""),
        BIRDS.replace("sources:", "sources: none\nnote: |"),
        BIRDS.replace("reedchord: collection", "reedchord: colection"),
    ):
        places, _ = errors_of(parse_collection, broken)
        assert len(places) == 1


def test_another_source_is_still_missed_beside_a_broken_one():
    broken = BIRDS.replace("type: manuscript", "type: manuskript")
    places, _ = errors_of(parse_collection, broken.replace("{id: notebook,", "{id: letters,"))
    assert [(line, code) for _, line, _, code in places] == [
        (5, "literal_error"),
        (15, "source.unknown"),
    ]


def test_every_mistake_of_a_file_is_told_in_reading_order():
    broken = (
        BIRDS.replace("type: manuscript", "type: manuskript")
        .replace("E4-19", "E4-19x")
        .replace("id: egret\n", "id: heron\n")
        .replace("C5", "C99")
    )
    places, _ = errors_of(parse_collection, broken)
    assert [line for _, line, _, _ in places] == [5, 12, 19]


def test_a_folder_is_one_collection(tmp_path):
    (tmp_path / "1-sources.yml").write_text(HEAD + SOURCES, "utf-8")
    (tmp_path / "2-heron.yaml").write_text(HEAD + "sonorities:\n" + HERON, "utf-8-sig")
    (tmp_path / "3-egret.YAML").write_bytes(
        (HEAD + "sonorities:\n" + EGRET).replace("\n", "\r\n").encode()
    )
    (tmp_path / "readme.txt").write_text("no collection", "utf-8")
    (tmp_path / ".hidden.yaml").write_text("no collection", "utf-8")
    (tmp_path / "folder.yaml").mkdir()
    birds = read_collection(tmp_path)
    assert [sonority.id for sonority in birds] == ["heron", "egret"]
    assert birds["heron"].source.entry.title == "A notebook of split sounds"
    assert birds.warnings == ()


def test_a_plan_in_the_folder_is_passed_over_with_a_word(tmp_path):
    (tmp_path / "birds.yaml").write_text(BIRDS, "utf-8")
    plan = tmp_path / "plan.yaml"
    plan.write_text("reedchord: plan\nversion: 1\nplacements: []\n", "utf-8")
    [note] = read_collection(tmp_path).warnings
    assert note == f"{plan}: passed over, it says 'reedchord: plan'"
    places, _ = errors_of(read_collection, plan)
    assert places == [(str(plan), 1, 1, "collection.format")]


def test_the_same_id_in_two_files_names_both_places(tmp_path):
    first, second = tmp_path / "a.yaml", tmp_path / "b.yaml"
    for file in (first, second):
        file.write_text(HEAD + "sonorities:\n" + EGRET, "utf-8")
    places, text = errors_of(read_collection, tmp_path)
    assert places == [(str(second), 4, 5, "collection.twice")]
    assert f"the sonority 'egret' exists already ({first}, line 4, column 5)" in text


def test_every_mistake_of_every_file_is_told(tmp_path):
    (tmp_path / "a.yaml").write_text("reedchord: [\n", "utf-8")
    (tmp_path / "b.yaml").write_text(BIRDS.replace("C5", "H5"), "utf-8")
    (tmp_path / "c.json").write_text('{"reedchord": NaN}', "utf-8")
    (tmp_path / "d.yaml").write_bytes("title: Möwe".encode("latin-1"))
    (tmp_path / "e.yaml").write_text("", "utf-8")
    places, _ = errors_of(read_collection, tmp_path)
    assert [(path.rpartition("/")[2], code) for path, _, _, code in places] == [
        ("a.yaml", "yaml.broken"),
        ("b.yaml", "pitch.text"),
        ("c.json", "json.constant"),
        ("d.yaml", "file.encoding"),
        ("e.yaml", "data.empty"),
    ]


def test_a_file_that_is_not_there_brings_near_names(tmp_path):
    (tmp_path / "birds.yaml").write_text(BIRDS, "utf-8")
    with pytest.raises(InputError, match="no such file or folder") as caught:
        read_collection(tmp_path / "brids.yaml")
    assert caught.value.hint == "Did you mean birds.yaml?"


def test_a_spreadsheet_is_no_collection_yet(tmp_path):
    (tmp_path / "band.csv").write_text("name,saxophone\nHeron,alto\n")
    with pytest.raises(InputError, match="this is a spreadsheet") as caught:
        read_collection(tmp_path / "band.csv")
    assert "collection import" in caught.value.hint


def test_a_folder_without_collections(tmp_path):
    with pytest.raises(InputError, match="the folder holds no collection"):
        read_collection(tmp_path)


def test_a_collection_without_sonorities_is_a_warning():
    assert parse_collection(HEAD + SOURCES, "birds.yaml").warnings == (
        "birds.yaml: there is no sonority in it",
    )


@pytest.fixture(scope="module")
def harbour_band():
    text = files("reedchord").joinpath("demo_data", "harbour-band.yaml").read_text("utf-8")
    return parse_collection(text, "harbour-band.yaml")


def test_the_demonstration_says_that_it_is_invented(harbour_band):
    for sonority in harbour_band:
        assert sonority.evidence == "invented"
        assert "invented" in sonority.source.entry.note


def test_the_demonstration_shows_what_records_can_hold(harbour_band):
    sonorities = list(harbour_band)
    members = {sonority.saxophone.name for sonority in sonorities}
    assert len(sonorities) >= 14
    assert members >= {"soprano", "alto", "tenor", "baritone"}
    assert len(members) >= 5
    assert {len(sonority.tones) for sonority in sonorities} == {2, 3, 4, 5, 6}
    assert any(sonority.emphasised is None for sonority in sonorities)
    assert any(tone.written is None for sonority in sonorities for tone in sonority.tones)
    assert any(tone.written and tone.concert for s in sonorities for tone in s.tones)
    assert any("low A" in sonority.fingering.keys for sonority in sonorities)


def test_the_only_warning_of_the_demonstration_is_meant(harbour_band):
    (warning,) = harbour_band.warnings
    assert warning.endswith("baritone-engine-room: not every baritone saxophone has the low A key")


def test_tones_of_the_demonstration_lie_where_saxophones_sound(harbour_band):
    # Written B flat 3 (baritone A 3) to C 7: common practice, no source.
    for sonority in harbour_band:
        for pitch in sonority.written_pitches:
            assert sonority.saxophone.lowest_written.cents - 50 < pitch.cents < 9600
