"""Legends: fingerings and sources of a part, once, in its last bar, and gone without a trace."""

import pytest
from music21 import converter, expressions

from reedchord import read_collection
from reedchord.checks.checking import check
from reedchord.demo import demo_files
from reedchord.demo_paths import COLLECTION as DEMO_COLLECTION
from reedchord.demo_paths import shipped_path
from reedchord.musicxml.document import read_score
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import place
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from reedchord.placement.style import Style
from reedchord.placement.swap import swap
from samples import COLLECTION, RESTS, at, note, score
from truth.musicxml_schema import schema_errors

BAND = read_collection(shipped_path(DEMO_COLLECTION))
LEGEND = Style.model_validate({"source": "legend"})
TWO = [at(1), at(2, 1, "egret")]
HERON_LINE = "M1 = L 1 2 3 G♯ | R 1 2 3 low C (invented)"
TOLD = f"Fingerings and sources:\n{HERON_LINE}\nM2 = octave | L 1 2 3 | R 1 ½2 - (invented)"


def legends(data):
    """Return the legends of a document with the numbers of their bars, in the document's order."""
    return [
        (bar.label, words.text)
        for part in read_score(data).parts
        for bar in part.bars
        for words in bar.element.iterfind("direction/direction-type/words")
        if (words.text or "").startswith("Fingerings")
    ]


def test_it_stands_in_the_last_bar_and_the_labels_are_bare():
    done = place(RESTS, TWO, COLLECTION, LEGEND)
    assert legends(done.data) == [("3", TOLD)]
    assert "<words>M1</words>" in done.after
    assert schema_errors(done.data) == []
    assert strip(done.data).data == RESTS


def test_only_parts_with_sonorities_have_one_and_each_tells_its_own():
    plain, files = demo_files()
    given = next(file.data for file in files if file.name == "harbour-lights.musicxml")
    plan = [row.wish for row in read_record(read_score(plain.data)).placements]
    done = place(given, plan, BAND, LEGEND)
    told = legends(done.data)
    assert [bar for bar, _ in told] == ["12"] * 4
    assert [text.count(" = ") for _, text in told] == [1, 1, 2, 2]
    assert "(Fennimar 2026, no. 5, invented)" in told[3][1]
    assert check(done.data).findings == ()
    assert strip(done.data).data == given


def test_music21_reads_it_in_the_last_measure():
    parsed = converter.parseData(place(RESTS, TWO, COLLECTION, LEGEND).data.decode())
    last = parsed.parts[0].getElementsByClass("Measure")[-1]
    assert TOLD in [
        text.content for text in last.recurse().getElementsByClass(expressions.TextExpression)
    ]


def test_the_same_again_changes_nothing_and_another_style_takes_it_out():
    done = place(RESTS, TWO, COLLECTION, LEGEND).data
    assert place(done, TWO, COLLECTION, LEGEND, whole=True).data == done
    assert place(done, [at(1)], COLLECTION).data == done
    assert "source: legend" in held_plan(done)
    usual = place(done, TWO, COLLECTION, Style(), whole=True).data
    assert usual == place(RESTS, TWO, COLLECTION).data


def test_a_sonority_in_the_last_bar_has_a_label_of_its_own():
    data = place(RESTS, [at(3), at(1, 1, "egret")], COLLECTION, LEGEND).data
    assert len(legends(data)) == 1
    codes = {finding.code for finding in check(data).findings}
    assert not {code for code in codes if code.partition(".")[0] in ("label", "marks", "writing")}
    assert strip(data).data == RESTS


def renamed(data):
    return data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


def test_it_goes_from_a_score_that_was_edited_since():
    done = strip(renamed(place(RESTS, [*TWO, at(3)], COLLECTION, LEGEND).data))
    assert (done.data, done.left) == (renamed(RESTS), ())


INDENTED = RESTS.replace(b"<note>", b"\n    <note>").replace(b"</measure>", b"\n  </measure>")


@pytest.mark.parametrize("given", [RESTS, INDENTED], ids=["on one line", "indented"])
def test_it_is_renewed_in_a_score_that_was_edited_since(given):
    edited = renamed(place(given, [at(1)], COLLECTION, LEGEND).data)
    assert legends(edited)[0][1].endswith(HERON_LINE)
    for bar in (2, 3):
        more = place(edited, [at(bar, 1, "egret")], COLLECTION)
        assert legends(more.data) == [("3", TOLD)]
        assert strip(more.data).data == renamed(given)
    none = place(edited, [at(2, 1, "egret")], COLLECTION, Style())
    assert legends(none.data) == []


@pytest.mark.parametrize("given", [RESTS, INDENTED], ids=["on one line", "indented"])
def test_it_goes_with_the_last_that_it_tells_of_in_an_edited_score(given):
    edited = renamed(place(given, [at(1)], COLLECTION, LEGEND).data)
    other = swap(edited, "heron", COLLECTION["egret"]).placed.data
    assert legends(other) == [("3", TOLD.replace(f"{HERON_LINE}\n", "").replace("M2", "M1"))]
    assert strip(other).data == renamed(given)
    assert legends(place(edited, [at(2)], COLLECTION, whole=True).data) == []


def test_one_that_is_renewed_keeps_its_look():
    data = place(INDENTED, [at(1)], COLLECTION, LEGEND).data
    assert data.count(b'<words font-style="normal">') == 1
    moved = data.replace(b'<words font-style="normal">', b'<words relative-y="-20">')
    more = place(moved, [at(2, 1, "egret")], COLLECTION)
    assert legends(more.data) == [("3", TOLD)]
    assert b'<words relative-y="-20">Fing' in more.data


def test_one_that_somebody_changed_stays_and_is_told():
    data = place(RESTS, [at(1)], COLLECTION, LEGEND).data
    before, printed, after = data.rpartition(b"low C (invented)")
    assert printed  # the record in the header has it too, and stays as it is
    edited = before + b"low C (my own)" + after
    done = strip(edited)
    assert [text for _, text in legends(done.data)] == [
        f"Fingerings and sources:\n{HERON_LINE.replace('invented', 'my own')}"
    ]
    assert "the legend in the last bar was changed and stays" in " ".join(done.left)
    more = place(edited, [at(2, 1, "egret")], COLLECTION)
    assert len(legends(more.data)) == 1
    assert any("was changed and stays" in sentence for sentence in more.warnings)


def test_a_score_in_latin_1_tells_signs_that_it_lacks_as_references():
    latin = RESTS.replace(b"UTF-8", b"ISO-8859-1")
    done = place(latin, TWO, COLLECTION, LEGEND).data
    assert b"G&#9839;" in done
    assert legends(done) == [("3", TOLD)]
    assert strip(done).data == latin


def test_a_multi_bar_rest_does_not_hide_it():
    style = "<measure-style><multiple-rest>3</multiple-rest></measure-style>"
    resting = f"<attributes>{style}</attributes>{note() * 4}"
    given = score(note() * 4, resting, note() * 4, note() * 4)
    done = place(given, [at(1)], COLLECTION, LEGEND).data
    assert legends(done)[0][0] == "4"
    assert b"<multiple-rest>2</multiple-rest>" in done
    assert strip(done).data == given


@pytest.mark.parametrize("ending", ['<barline location="right"/>', "<!-- fine -->"])
def test_what_ends_the_last_bar_stays_there(ending):
    given = score(note() * 4, note() * 4 + ending)
    done = place(given, [at(1)], COLLECTION, LEGEND)
    assert done.after.index("Fingerings and") < done.after.index(ending)
    assert strip(done.data).data == given
