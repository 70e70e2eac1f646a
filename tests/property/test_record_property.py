"""Whatever a score calls its parts, bars, voices and notes: the record of it is read back."""

from xml.sax.saxutils import escape, quoteattr

from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.collection import Collection
from reedchord.errors import ReedchordError
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from samples import ALTO, EGRET, at, sonority

IN_XML = st.characters(
    exclude_categories=["Cs"],
    exclude_characters=[chr(n) for n in (*range(9), 11, 12, *range(14, 32), 0xFFFE, 0xFFFF)],
)  # XML 1.0, production 2 (Char)
NAMES = st.one_of(
    st.text(IN_XML, min_size=1, max_size=12),
    st.sampled_from([" ", "\u00a0", "x" * 199, "x" * 2100, "rc-1-1", "@3", "]]>", "<!--", "&'\""]),
)
PITCHES = [
    f"<pitch><step>C</step><alter>{alter}</alter><octave>5</octave></pitch>"
    for alter in ("0.333", "-1.5", "4.5", "0.123456789012345678")
]
FIELDS = st.fixed_dictionaries(
    {},
    optional={
        "lasting": st.sampled_from(["half", "to bar @2 beat 2", "3/8", "1/64", "half+eighth"]),
        "build_up": st.booleans(),
        "tones": st.sampled_from([[1, 2], [2], ["E4-19"]]),
        "tremolo": st.just("egret"),
        "slur": st.booleans(),
        "dynamics": st.sampled_from(["mf", "pp < f"]),
        "manner": st.sampled_from(["slap", "very soft"]),
        "as_written": st.booleans(),
    },
)


@st.composite
def scores(draw):
    """Return a score of two bars with odd names in it, and how it is encoded."""
    part, label, voice, name = (draw(NAMES) for _ in range(4))
    length = draw(st.sampled_from(["1", "1.5", "0.333333333333333333"]))
    ending = f"<duration>{length}</duration><voice>{escape(voice)}</voice></note>"
    sounds = draw(st.sampled_from([["<rest/>"], PITCHES[:1], PITCHES[1:3], PITCHES[2:]]))
    notes = [f"<note id={quoteattr(name)}><chord/>{sound}<?remark?>{ending}" for sound in sounds]
    first = notes[0].replace("<chord/>", "")
    rest = "<note><rest/>" + ending.replace(length, "4")
    attributes = f"<attributes><divisions>1</divisions>{ALTO}</attributes>"
    version, encoding = draw(
        st.sampled_from([("1.0", "utf-16"), ("3.0", "utf-8"), ("4.0", "utf-8")])
    )
    return (
        f'<?xml version="1.0" encoding="{encoding}"?><score-partwise version="{version}">'
        f"<part-list><score-part id={quoteattr(part)}><part-name>Alto Saxophone</part-name>"
        f"</score-part></part-list><part id={quoteattr(part)}>"
        f"<measure number={quoteattr(label)}>{attributes}{first}{''.join(notes[1:])}</measure>"
        f'<measure number="2">{rest}</measure></part></score-partwise>'
    ).encode(encoding)


@settings(max_examples=250, deadline=None)
@given(data=scores(), fields=FIELDS, advice=st.text(IN_XML, min_size=1).filter(str.strip))
def test_what_is_written_of_a_score_is_read_back(data, fields, advice):
    heron = sonority("heron", "E4-19", "Bqf4+14", emphasised=2, advice=advice)
    collection = Collection({"heron": heron, "egret": EGRET}, {}, "generated")
    try:
        placed = place(data, [at("@1", part="Alto Saxophone", **fields)], collection)
    except ReedchordError:
        return  # refused: nothing is written then
    assert read_record(read_score(placed.data)) == placed.record
    assert strip(placed.data).data == data
