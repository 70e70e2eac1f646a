"""The schema harness: it accepts what is valid, refuses what is not, and compares two versions."""

from truth.musicxml_schema import new_schema_errors, schema_errors
from truth.real_scores import NAMED, score_paths
from truth_tests.small_scores import C_MAJOR, as_utf16, chord_score

SCORE = chord_score(*C_MAJOR)


def test_a_valid_score_has_no_errors():
    assert schema_errors(SCORE) == []
    assert schema_errors(as_utf16(SCORE)) == []


def test_a_wrong_step_is_an_error_with_its_path_and_no_line():
    (facet, *more) = schema_errors(SCORE.replace(b"<step>E</step>", b"<step>H</step>"))
    assert facet.startswith("/score-partwise/part/measure/note/pitch/step: Element 'step'")
    assert "line" not in facet
    assert len(more) <= 1  # the same value again, as "no valid value of the type step"


def test_a_wrong_child_order_is_an_error():
    swapped = SCORE.replace(
        b"<voice>1</voice><type>whole</type>", b"<type>whole</type><voice>1</voice>"
    )
    assert len(schema_errors(swapped)) == 3


def test_ids_are_unique():
    first = SCORE.replace(b"<note>", b'<note id="n1">', 1)
    assert schema_errors(first) == []
    assert schema_errors(first.replace(b"<note>", b'<note id="n1">', 1)) != []


def test_a_timewise_score_is_validated_too():
    timewise = (
        b'<score-timewise version="4.0"><part-list><score-part id="P1"><part-name/></score-part>'
        b'</part-list><measure number="1"><part id="P1"><note><rest/><duration>1</duration>'
        b"</note></part></measure></score-timewise>"
    )
    assert schema_errors(timewise) == []
    assert schema_errors(timewise.replace(b"<duration>1<", b"<duration>x<")) != []


def test_a_broken_document_is_one_error_without_a_line():
    assert schema_errors(b"<score-partwise>") == [
        "not well-formed: Premature end of data in tag score-partwise"
    ]


def test_a_document_that_declares_entities_is_refused_unread(tmp_path):
    secret = tmp_path / "secret.txt"
    secret.write_text("secret")
    hostile = SCORE.replace(
        b'partwise.dtd">', f'partwise.dtd" [<!ENTITY x SYSTEM "{secret.as_uri()}">]>'.encode()
    ).replace(b"Alto Saxophone", b"&x;")
    assert schema_errors(hostile) == ["declares entities, which no score needs"]


def test_old_faults_are_not_new_ones():
    old = NAMED["old faults"].read_bytes()
    assert len(schema_errors(old)) == 11
    assert new_schema_errors(old, old) == []


def test_a_fault_repeated_once_more_is_one_new_error():
    wrong = b"<voice>1</voice><type>whole</type>", b"<type>whole</type><voice>1</voice>"
    once, twice = SCORE.replace(*wrong, 1), SCORE.replace(*wrong, 2)
    assert len(new_schema_errors(SCORE, twice)) == 2
    assert len(new_schema_errors(once, twice)) == 1
    assert new_schema_errors(twice, once) == []


def test_four_files_of_the_suite_of_small_scores_are_known_to_be_invalid():
    suite = [path for path in score_paths() if path.parent.name == "lilypondTestSuite"]
    invalid = {path.name[:3].rstrip("-") for path in suite if schema_errors(path.read_bytes())}
    assert (len(suite), invalid) == (143, {"01e", "41g", "74a", "99d"})
