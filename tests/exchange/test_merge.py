"""Two logs become one."""

from __future__ import annotations

import json

import pytest

from reedchord.collection_reading import read_collection
from reedchord.errors import ReedchordError
from reedchord.exchange.merge import merge_collections
from reedchord.yaml_text import read_data_text

FIRST = """\
# The first log.
reedchord: collection
version: 1
sources:
  - {id: first-log, type: book, title: First log}
sonorities:
  # Herons stand in the reeds.
  - id: heron
    saxophone: alto
    fingering: left 1 2 3 | right 1 3   # low C lifted
    tones:
      - {written: E4}
      - {written: D5, presence: {p-mf: clear}}
    evidence: documented
    source: {id: first-log, page: 3}
"""
SECOND = """\
# The second log.
reedchord: collection
version: 1
sources:
- {id: second-log, type: book, title: Second log}
sonorities:
- id: egret
  saxophone: alto
  fingering: B A G F D
  tones: [{written: E4}, {written: D5-20}]
  neighbours: [{sonority: stork, because: fingers}]
  evidence: documented
  source: {id: second-log, page: 7}

# Storks clatter.
- id: stork
  saxophone: tenor
  fingering: left 1 2 3 | right 1 3
  tones: [{written: E4}]
  carried_from: egret
  evidence: carried
"""


@pytest.fixture
def merge(tmp_path):
    """Return a function that writes texts as files and merges them."""

    def merge(*texts, **options):
        paths = []
        for number, text in enumerate(texts):
            paths.append(tmp_path / f"{number}.{'json' if text.startswith('{') else 'yaml'}")
            paths[-1].write_text(text, "utf-8")
        return merge_collections(paths, **options)

    return merge


def test_the_same_fingering_of_two_sources_stays_two_linked_records(merge):
    merged = merge(FIRST, SECOND)
    assert list(merged.collection.sonorities) == ["heron", "egret", "stork"]
    assert merged.collection["heron"].same_fingering_as == ("egret",)
    assert merged.collection["egret"].same_fingering_as == ("heron",)
    assert merged.collection["stork"].same_fingering_as == ()
    assert "heron is linked to egret: the same fingering" in merged.notes
    assert merged.collection.warnings == ()


def test_merging_again_changes_nothing(merge):
    merged = merge(FIRST, SECOND)
    again = merge(merged.text, SECOND, FIRST)
    assert again.text == merged.text
    assert again.notes == ()


def test_comments_of_all_files_are_kept(merge):
    merged = merge(FIRST, SECOND)
    for comment in ("first log", "stand in the reeds", "low C lifted", "second log", "clatter"):
        assert f"{comment}" in merged.text
    assert merged.text.startswith(FIRST.partition("sonorities:")[0].rstrip()[:40])
    assert not [note for note in merged.notes if "comment" in note]


@pytest.mark.parametrize(
    "last_field",
    [
        "    advice: steady air   # made up",
        "    limits: [{articulation: slap, fastest: quarter at quarter = 60}]   # made up",
        "    limits:\n      - {articulation: slap, fastest: quarter at quarter = 60}   # made up",
        "    limits:\n    - articulation: slap\n      fastest: half at half = 60   # made up",
    ],
)
def test_a_link_comes_before_the_comments_of_the_next_record(merge, last_field):
    """What stands before a record in its file does so in the merged one, links or not."""
    crane = "alto, fingering: left 1, tones: [{written: C5}], evidence: invented"
    first = f"{FIRST}{last_field}\n\n  # Of the crane.\n  - {{id: crane, saxophone: {crane}}}\n"
    merged = merge(first, SECOND)
    rows = merged.text.splitlines()
    link = rows.index("    same_fingering_as: [egret]")
    assert rows[link - 1].endswith("# made up")
    assert rows[link + 1 : link + 3] == ["", "  # Of the crane."]
    assert rows[link + 3].startswith("  - {id: crane,")


def test_equal_records_become_one(merge):
    merged = merge(FIRST, FIRST)
    assert merged.text == FIRST
    assert merged.notes == ()


CHANGED = FIRST.replace("written: E4", "written: E4+9")


def test_different_records_of_one_id_are_refused_with_both_places(merge):
    with pytest.raises(ReedchordError) as caught:
        merge(FIRST, CHANGED)
    told = str(caught.value)
    assert "1.yaml, line 8, column 5: the sonority 'heron' differs from the one at" in told
    assert "0.yaml, line 8, column 5" in told
    assert "--rename" in told


def test_a_later_record_is_renamed_on_request_with_all_that_names_it(merge):
    other = SECOND.replace("egret", "heron")
    merged = merge(FIRST, other, rename=True)
    assert list(merged.collection.sonorities) == ["heron", "heron-2", "stork"]
    assert merged.collection["stork"].carried_from == "heron-2"
    assert merged.collection["heron"].same_fingering_as == ("heron-2",)
    assert any(note.endswith("heron is now heron-2") for note in merged.notes)


def test_a_source_with_other_content_is_refused(merge):
    with pytest.raises(ReedchordError, match="the source 'first-log' differs from the one at"):
        merge(FIRST, FIRST.replace("First log}", "Fist log}").replace("heron", "egret"))


def test_two_logs_with_one_id_are_told_apart_on_request(merge):
    """Two players call their log the same: each record still cites its own one."""
    other = SECOND.replace("second-log", "first-log")
    merged = merge(FIRST, other, rename=True)
    sources = merged.collection.sources
    assert {name: source.title for name, source in sources.items()} == {
        "first-log": "First log",
        "first-log-2": "Second log",
    }
    cited = [merged.collection[name].source for name in ("heron", "egret")]
    assert [(one.entry.title, one.page) for one in cited] == [
        ("First log", "3"),
        ("Second log", "7"),
    ]
    # Of two sources, though both files call them the same.
    assert merged.collection["heron"].same_fingering_as == ("egret",)
    assert any(note.endswith("first-log is now first-log-2") for note in merged.notes)
    with pytest.raises(ReedchordError, match="--rename does that"):
        merge(FIRST, other)


def test_json_among_the_files(merge, tmp_path):
    data = {
        "reedchord": "collection",
        "version": 1,
        "sonorities": [
            {
                "id": "crane",
                "saxophone": "alto",
                "fingering": "left 1",
                "tones": [{"written": "C4", "presence": {"pp-mf": "faint"}}],
                "evidence": "invented",
            }
        ],
    }
    for texts in ((FIRST, json.dumps(data)), (json.dumps(data), FIRST)):
        merged = merge(*texts)
        assert {"heron", "crane"} == set(merged.collection.sonorities)
        assert len(merged.collection["crane"].tones[0].presence) == 4


def test_a_folder_is_one_collection(tmp_path):
    folder = tmp_path / "logs"
    folder.mkdir()
    (folder / "a.yaml").write_text(FIRST, "utf-8")
    (folder / "b.yaml").write_text(SECOND, "utf-8")
    (tmp_path / "c.yaml").write_text(CHANGED.replace("heron", "crane"), "utf-8")
    merged = merge_collections([folder, tmp_path / "c.yaml"])
    assert list(merged.collection.sonorities) == ["heron", "egret", "stork", "crane"]
    # The crane is of the same source as the heron, and is not linked to it.
    assert merged.collection["crane"].same_fingering_as == ("egret",)


def test_one_collection_is_nothing_to_merge(merge):
    with pytest.raises(ReedchordError, match="only one collection"):
        merge(FIRST)


def test_what_comes_out_is_read_like_any_collection(merge, tmp_path):
    (tmp_path / "out.yaml").write_text(merge(FIRST, SECOND).text, "utf-8")
    assert len(read_collection(tmp_path / "out.yaml")) == 3


def test_json_alone_stays_json_with_the_records_that_yaml_gives(tmp_path):
    names = ("first", "second")
    for name, text in zip(names, (FIRST, SECOND), strict=True):
        (tmp_path / f"{name}.yaml").write_text(text, "utf-8")
        data = read_data_text(text, f"{name}.yaml").data
        (tmp_path / f"{name}.json").write_text(json.dumps(data), "utf-8")
    as_yaml = merge_collections([tmp_path / f"{name}.yaml" for name in names])
    as_json = merge_collections([tmp_path / f"{name}.json" for name in names], out="both.json")
    assert json.loads(as_json.text)["sonorities"][2]["id"] == "stork"
    assert list(as_json.collection) == list(as_yaml.collection)
    assert as_json.collection.sources == as_yaml.collection.sources
