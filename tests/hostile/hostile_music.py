"""Well-formed scores whose music cannot be counted, each with the code of its refusal."""

from __future__ import annotations

from hostile.hostile_documents import TEXT, Hostile
from samples import BAR_REST, RESTS, note, score

BAR = ("P1", "bar 1")


def changed(old: str, new: str, count: int = 1) -> bytes:
    """Return the usual score with a text in it changed."""
    assert old in TEXT, old
    return TEXT.replace(old, new, count).encode("utf-8")


def duration(text: str) -> bytes:
    """Return a score whose first rest has another duration."""
    return changed("<duration>1<", f"<duration>{text}<")


def divisions(text: str) -> bytes:
    """Return a score with other divisions."""
    return changed("<divisions>1<", f"<divisions>{text}<")


NUMBERS = (
    Hostile("no divisions", changed("<divisions>1</divisions>", ""), "score.no-divisions", BAR),
    Hostile("divisions of zero", divisions("0"), "score.number", ("'0'", "P1")),
    Hostile("divisions below zero", divisions("-4"), "score.number", ("'-4'",)),
    Hostile("divisions in words", divisions("four"), "score.number", ("'four'",)),
    Hostile("divisions with an exponent", divisions("1e9"), "score.number", ("'1e9'",)),
    Hostile("divisions of 400 digits", divisions("9" * 400), "score.number", ("not a number",)),
    Hostile("no duration", changed("<duration>1</duration>", ""), "score.no-duration", BAR),
    Hostile("an empty duration", duration(""), "score.number", BAR),
    Hostile("a duration below zero", duration("-1"), "score.number", ("'-1'", *BAR)),
    Hostile("a duration that is no number", duration("NaN"), "score.number", ("'NaN'", *BAR)),
    Hostile("an infinite duration", duration("inf"), "score.number", ("'inf'", *BAR)),
    Hostile(
        "a duration with an exponent",
        duration("1e999999999"),
        "score.number",
        ("'1e999999999'", *BAR),
    ),
    Hostile("a duration with a comma", duration("1,5"), "score.number", ("'1,5'", *BAR)),
    Hostile("a duration of a million digits", duration("9" * 1_000_000), "score.number", BAR),
    Hostile(
        "beats in words", changed("<beats>4<", "<beats>four<"), "score.number", ("'four'", "P1")
    ),
    Hostile(
        "a key of half a sharp",
        changed("<time>", "<key><fifths>0.5</fifths></key><time>"),
        "score.number",
        ("fifths",),
    ),
    Hostile(
        "a transposition without semitones",
        changed("<chromatic>-9</chromatic>", ""),
        "score.transpose",
        ("<chromatic>", "P1"),
    ),
    Hostile(
        "a transposition in words",
        changed("<chromatic>-9<", "<chromatic>sixth<"),
        "score.number",
        ("'sixth'",),
    ),
    Hostile(
        "a transposition by 400 digits",
        changed("<chromatic>-9<", f"<chromatic>{'9' * 400}<"),
        "score.number",
        ("chromatic",),
    ),
    Hostile(
        "a doubled part",
        changed("</transpose>", "<double/></transpose>"),
        "part.doubled",
        ("<double>", "P1"),
    ),
)

REST_OF_TWO = (
    "<attributes><measure-style><multiple-rest>2</multiple-rest></measure-style></attributes>"
)

NOTES = (
    Hostile(
        "two multi-bar rests from one bar",
        score(REST_OF_TWO * 2 + BAR_REST.format(4), BAR_REST.format(4)),
        "score.multi-bar-rest",
        ("2 multi-bar rests", "bar 1"),
    ),
    Hostile(
        "a chord before its note", changed("<rest/>", "<chord/><rest/>"), "score.lone-chord", BAR
    ),
    Hostile("a note without pitch", changed("<rest/>", ""), "address.unpitched", BAR),
    Hostile(
        "a note and a rest at once",
        score(note("C5", more="<rest/>")),
        "address.unclear-note",
        ("<pitch> and <rest>", *BAR),
    ),
    Hostile(
        "a chord with a note without pitch",
        score(note("C5") + "<note><chord/><duration>1</duration></note>"),
        "address.unpitched",
        BAR,
    ),
    Hostile(
        "an offset in words",
        changed("<note>", "<direction><offset>soon</offset></direction><note>"),
        "score.number",
        ("<offset> is 'soon'", *BAR),
    ),
    Hostile(
        "a sound's offset with an exponent",
        changed("<note>", '<sound tempo="60"><offset>1e999999999</offset></sound><note>'),
        "score.number",
        ("<offset> is '1e999999999'", *BAR),
    ),
    Hostile(
        "a backup before the bar's start",
        changed("<note>", "<backup><duration>1</duration></backup><note>"),
        "score.backup",
        BAR,
    ),
    Hostile(
        "a backup without duration", changed("<note>", "<backup/><note>"), "score.no-duration", BAR
    ),
    Hostile(
        "a tie to nowhere that leads in",
        score(
            note("C5", more='<tie type="start"/>'),
            note("C5", more='<tie type="stop"/>').replace("<note>", "<note><chord/>"),
        ),
        "score.lone-chord",
        ("bar 2",),
    ),
)

STRUCTURE = (
    Hostile(
        "no parts", b"<score-partwise version='4.0'><part-list/></score-partwise>", "score.no-parts"
    ),
    Hostile(
        "no measures",
        TEXT[: TEXT.index('<part id="P1">')].encode() + b'<part id="P1"/></score-partwise>',
        "score.no-such-bar",
        ("has no bars", "P1"),
    ),
    Hostile(
        "a part twice",
        changed("</score-partwise>", '<part id="P1"/></score-partwise>'),
        "score.part-twice",
        ("'P1'",),
    ),
    Hostile(
        "a part described twice",
        changed("</part-list>", '<score-part id="P1"/></part-list>'),
        "score.part-twice",
        ("'P1'",),
    ),
    Hostile(
        "a part without id", changed('<part id="P1">', "<part>"), "score.no-such-part", ("'P1'",)
    ),
    Hostile(
        "no list of parts, so no saxophone",
        (TEXT[: TEXT.index("<part-list>")] + TEXT[TEXT.index("</part-list>") + 12 :]).encode(),
        "part.no-saxophone",
        ("--saxophone", "P1"),
    ),
    Hostile(
        "bars of one label",
        changed('number="2"', 'number="1"'),
        "score.bar-not-unique",
        ("@1, @2",),
    ),
    Hostile("bars without labels", RESTS.replace(b'number="1"', b""), "score.no-such-bar", ("@1",)),
    Hostile(
        "a bar outside its part",
        changed("</part>", '</part><measure number="9"/>'),
        "score.structure",
        ("4 bars", "3 in the parts"),
    ),
    Hostile(
        "a bar in a bar",
        changed('<measure number="2">', '<measure number="2"><measure number="3"/>'),
        "score.structure",
    ),
    Hostile(
        "a timewise score with parts outside",
        RESTS.replace(b"score-partwise", b"score-timewise"),
        "score.no-parts",
    ),
    Hostile(
        "a partwise score with bars outside",
        b'<score-partwise><measure number="1"><part id="P1"/></measure></score-partwise>',
        "score.no-parts",
    ),
    Hostile(
        "a timewise score with a part twice in a bar",
        b'<score-timewise><measure number="1"><part id="P1"/><part id="P1"/></measure>'
        b"</score-timewise>",
        "score.part-twice",
        ("'P1'",),
    ),
    Hostile(
        "a record of ours that is none",
        score(
            note(),
            header="<identification><miscellaneous>"
            '<miscellaneous-field name="reedchord">{"format":"reedchord"}</miscellaneous-field>'
            "</miscellaneous></identification>",
        ),
        "record.broken",
        ("reedchord field",),
    ),
)
