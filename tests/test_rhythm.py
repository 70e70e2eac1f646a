"""Note values, speeds and beats, as the trade writes and says them."""

from fractions import Fraction

import pytest

from reedchord.errors import InputError
from reedchord.reader import Reader, told_to
from reedchord.rhythm import (
    NoteValue,
    Rate,
    beat_text,
    parse_beat,
    parse_note_value,
    parse_rate,
    quarters_words,
    simple_moment,
    single_value,
    spelled_values,
)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("quarter", NoteValue("quarter")),
        ("Quarters", NoteValue("quarter")),
        ("quarter.", NoteValue("quarter", 1)),
        ("quarters..", NoteValue("quarter", 2)),
        ("half", NoteValue("half")),
        ("halves", NoteValue("half")),
        ("dotted halves", NoteValue("half", 1)),
        ("double-dotted half", NoteValue("half", 2)),
        ("double dotted minims", NoteValue("half", 2)),
        ("triple-dotted quarter", NoteValue("quarter", 3)),
        ("16ths", NoteValue("16th")),
        ("sixteenth", NoteValue("16th")),
        ("thirty-seconds", NoteValue("32nd")),
        ("8ths", NoteValue("eighth")),
        ("semiquavers", NoteValue("16th")),
        (" dotted  crotchet ", NoteValue("quarter", 1)),
        ("hemidemisemiquaver", NoteValue("64th")),
        ("breves", NoteValue("breve")),
        ("longas", NoteValue("long")),
    ],
)
def test_values_are_read_in_both_vocabularies(text, value):
    assert parse_note_value(text) == value


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("crochet", "Did you mean crotchet?"),
        ("quater", "Did you mean quarter"),
        ("dotted", "There are: maxima, long"),
        ("dotted dotted quarter", "There are: maxima, long"),
        ("", "There are: maxima, long"),
        ("s", "There are: maxima, long"),
    ],
)
def test_an_unknown_value_is_answered_with_near_ones(text, hint):
    with pytest.raises(InputError, match="is no note value") as error:
        parse_note_value(text)
    assert error.value.code == "rhythm.value"
    assert error.value.hint.startswith(hint)


def test_dots_are_told_once_and_are_not_many():
    with pytest.raises(InputError, match="tells its dots twice"):
        parse_note_value("dotted quarter.")
    with pytest.raises(InputError, match="no note value has 5 dots"):
        parse_note_value("quarter.....")
    with pytest.raises(InputError, match="no note value has -1 dots"):
        NoteValue("quarter", -1)
    with pytest.raises(InputError, match="'crotchet' is no note value"):
        NoteValue("crotchet")


# common practice, no source: each dot adds half of what stands before it
@pytest.mark.parametrize(
    ("text", "quarters"),
    [
        ("whole", 4),
        ("half.", 3),
        ("half..", Fraction(7, 2)),
        ("eighth", Fraction(1, 2)),
        ("eighth.", Fraction(3, 4)),
        ("16th..", Fraction(7, 16)),
        ("quarter...", Fraction(15, 8)),
    ],
)
def test_lengths_in_quarters(text, quarters):
    assert parse_note_value(text).quarters == quarters


@pytest.mark.parametrize(
    ("rate", "text", "american", "british"),
    [
        (
            Rate(NoteValue("16th"), NoteValue("quarter"), Fraction(72)),
            "16th at quarter = 72",
            "16ths at quarter = 72",
            "semiquavers at crotchet = 72",
        ),
        (
            Rate(NoteValue("quarter", 1), NoteValue("half"), Fraction(60)),
            "quarter. at half = 60",
            "dotted quarters at half = 60",
            "dotted crotchets at minim = 60",
        ),
        (
            Rate(NoteValue("half"), NoteValue("half", 1), Fraction(145, 2)),
            "half at half. = 72.5",
            "halves at dotted half = 72.5",
            "minims at dotted minim = 72.5",
        ),
        (
            Rate(NoteValue("128th", 2), NoteValue("breve"), Fraction(100, 3)),
            "128th.. at breve = 100/3",
            "double-dotted 128ths at breve = 100/3",
            "double-dotted 128ths at breve = 100/3",
        ),
    ],
)
def test_speeds_are_written_and_said(rate, text, american, british):
    assert str(rate) == text
    assert rate.words() == american
    with told_to(Reader(british=True)):
        assert rate.words() == british
    assert {parse_rate(form) for form in (text, american, british)} == {rate}


@pytest.mark.parametrize(
    "text",
    ["16ths at quarter=72", "  Semiquavers AT Crotchet = 72.0 ", "sixteenths  at  quarter  =  72"],
)
def test_speeds_are_read_however_they_are_spaced(text):
    assert str(parse_rate(text)) == "16th at quarter = 72"


def test_semiquavers_at_crotchet_72_are_4_8_attacks_a_second():
    # 72 beats a minute, four attacks in each: 288 / 60
    assert parse_rate("semiquavers at crotchet = 72").attacks_per_second == Fraction(24, 5)
    assert parse_rate("eighths at quarter. = 40").attacks_per_second == 2
    assert parse_rate("whole at whole = 60").attacks_per_second == 1


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("16ths 72", "is no speed"),
        ("16ths at quarter", "is no speed"),
        ("at quarter = 72", "is no speed"),
        ("16ths at quarter = -72", "is no speed"),
        ("16ths at quarter = 1e9", "is no speed"),
        ("16ths at quarter = 0", "a metronome mark is above 0"),
        ("16ths at quarter = 0.0", "a metronome mark is above 0"),
        ("16ths at qarter = 72", "'qarter' is no note value"),
        ("x" * 5000 + " at quarter = 72", "is no speed"),
    ],
)
def test_what_is_no_speed_is_told(text, message):
    with pytest.raises(InputError, match=message):
        parse_rate(text)


@pytest.mark.parametrize(
    ("text", "beat"),
    [
        ("1", 1),
        ("3", 3),
        ("2.5", Fraction(5, 2)),
        ("2+1/3", Fraction(7, 3)),
        (" 2 + 1/3 ", Fraction(7, 3)),
        ("7/3", Fraction(7, 3)),
        ("1+1/2+1/4", Fraction(7, 4)),
    ],
)
def test_beats_are_read(text, beat):
    assert parse_beat(text) == beat


@pytest.mark.parametrize(
    "text",
    [
        "",
        "0",
        "0.5",
        "2/3",
        "-1",
        "2+-1",
        "2-1",
        "x",
        "1/0",
        "2+",
        "1e9",
        "1e999999999",
        "nan",
        "1_0",
    ],
)
def test_what_is_no_beat_is_told(text):
    with pytest.raises(InputError, match="is no beat") as error:
        parse_beat(text)
    assert error.value.hint == "Beats count from 1: 3, 2.5 or 2+1/3."


@pytest.mark.parametrize(
    ("beat", "text"),
    [
        (Fraction(3), "3"),
        (Fraction(5, 2), "2.5"),
        (Fraction(9, 8), "1.125"),
        (Fraction(17, 16), "1+1/16"),
        (Fraction(7, 3), "2+1/3"),
        (Fraction(11, 5), "2+1/5"),
    ],
)
def test_beats_are_written_as_people_count(beat, text):
    assert beat_text(beat) == text
    assert parse_beat(text) == beat


@pytest.mark.parametrize(
    ("quarters", "value"),
    [(Fraction(3, 2), "quarter."), (Fraction(7, 2), "half.."), (Fraction(32), "maxima")],
)
def test_a_length_of_one_value(quarters, value):
    assert str(single_value(quarters)) == value


@pytest.mark.parametrize("quarters", [Fraction(5, 4), Fraction(1, 3), Fraction(0), Fraction(-1)])
def test_a_length_of_no_single_value(quarters):
    assert single_value(quarters) is None


@pytest.mark.parametrize(
    ("quarters", "values"),
    [
        (Fraction(5, 2), ["half", "eighth"]),
        (Fraction(5, 4), ["quarter", "16th"]),
        (Fraction(9, 2), ["whole", "eighth"]),
        (Fraction(5), ["whole", "quarter"]),
        (Fraction(3), ["half."]),
        (Fraction(88), ["maxima..", "maxima"]),
        (Fraction(0), []),
    ],
)
def test_a_length_is_spelled_with_tied_values_longest_first(quarters, values):
    assert [str(value) for value in spelled_values(quarters)] == values


@pytest.mark.parametrize("quarters", [Fraction(1, 3), Fraction(7, 3), Fraction(-1), 10**29])
def test_what_no_values_add_up_to_is_not_spelled(quarters):
    assert spelled_values(quarters) is None


@pytest.mark.parametrize(
    ("exact", "printed"),
    [
        ("85/256", "1/3"),
        ("171/256", "2/3"),
        ("255/256", "1"),
        ("1+341/1024", "1+1/3"),
        ("33/100", "1/3"),
        ("3/16", "3/16"),
        ("3/32", "3/32"),
        ("1/64", "1/64"),
        ("3/64", "3/64"),
        ("1/24", "1/24"),
    ],
)
def test_a_rounded_tuplet_is_printed_as_it_is_meant(exact, printed):
    moment = sum(map(Fraction, exact.split("+")))
    assert simple_moment(moment) == sum(map(Fraction, printed.split("+")))


@pytest.mark.parametrize(
    ("quarters", "usual", "british"),
    [
        (Fraction(1), "1 quarter note", "1 crotchet"),
        (Fraction(3, 2), "1.5 quarter notes", "1.5 crotchets"),
        (Fraction(4, 3), "4/3 quarter notes", "4/3 crotchets"),
    ],
)
def test_lengths_are_counted_as_the_reader_counts(quarters, usual, british):
    assert quarters_words(quarters) == usual
    with told_to(Reader(british=True)):
        assert quarters_words(quarters) == british
