"""Whatever edits do to a score: what the whole reading would refuse, the proof refuses too."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from reedchord.errors import InputError
from reedchord.musicxml.bar_state import states_at_bars
from reedchord.musicxml.document import read_score
from reedchord.musicxml.splice import Edit, splice
from reedchord.musicxml.touched_bars import read_touched
from reedchord.placement.proof import SelfCheckError, prove_untouched

BARS = [
    '<measure number="1"><attributes><divisions>2</divisions></attributes><note/></measure>',
    '<measure number="2"/>',
    '<measure number="2"><!-- </measure> --><note id="a"/></measure>',
    "<measure number='>' a='\"'><note id=\"a\"/></measure >",
    '<measure number="5"><![CDATA[<measure>]]><note>--</note></measure>',
    '<measure number="6"><?remark </measure> ?></measure>',
    '<measure number="7"></measure>',
]
BREAKING = [
    *("<!--", "-->", "<![CDATA[", "]]>", "<?a ", "?>", "<note>", "</note>", '<a b="', '">', '"'),
    *("&", "&amp;", "&x;", "<", ">", "--", "\x01", "\ufffe", '<a b="" b=""/>', "<x:a/>", "x", ""),
    *("</measure>", "<measure/>", '</measure><measure number="9">', '<part id="P"/>', "</part>"),
    *('</part><part id="R">', "<attributes><divisions>7</divisions></attributes>"),
]


@st.composite
def edited_scores(draw):
    """Return a score of two parts, partwise or timewise, and edits of it, most at tags."""
    rows = draw(st.lists(st.tuples(*[st.sampled_from(BARS)] * 2), min_size=1, max_size=6))
    between = draw(st.sampled_from(["", "\n", " <!-- <measure/> --> "]))
    listed = '<part-list><score-part id="P"/><score-part id="Q"/></part-list>'
    if draw(st.booleans()):
        parts = (between.join(row[part] for row in rows) for part in (0, 1))
        first, second = (
            f'<part id="{name}">{bars}</part>' for name, bars in zip("PQ", parts, strict=True)
        )
        text = f"<score-partwise>{listed}{first}{between}{second}</score-partwise>"
    else:
        cells = ["".join(map(_cell, row, "PQ")) for row in rows]
        text = between.join(
            f'<measure number="{n}">{cell}</measure>' for n, cell in enumerate(cells)
        )
        text = f"<score-timewise>{listed}{text}</score-timewise>"
    points = [at + (sign == ">") for at, sign in enumerate(text) if sign in "<>"]
    chosen = draw(st.lists(st.sampled_from(points), min_size=1, max_size=4, unique=True))
    widths = draw(st.lists(st.sampled_from([0, 0, 0, 1, 5, 12]), min_size=4, max_size=4))
    new = draw(st.lists(st.sampled_from(BREAKING), min_size=4, max_size=4))
    return text, [
        Edit(start, min(start + width, len(text)), words)
        for start, width, words in zip(chosen, widths, new, strict=False)
    ]


def _cell(bar: str, part: str) -> str:
    return bar.replace("<measure ", f'<part id="{part}" ').replace("measure", "part")


@settings(max_examples=250, deadline=None)
@given(edited_scores())
def test_what_a_whole_reading_refuses_is_refused(case):
    text, edits = case
    before = read_score(text.encode())
    try:
        after = splice(text, edits)
    except ValueError:
        assume(False)  # they overlap
    data = after.encode()
    try:
        whole = read_score(data)
    except InputError:
        with pytest.raises((InputError, SelfCheckError)):
            prove_untouched(before, data, after, edits, [])
        return
    try:
        touched = read_touched(before, after, edits)
    except InputError:
        return  # stricter than it need be: nothing is written then
    assert [part.id for part in touched.parts] == [part.id for part in whole.parts]
    for one, other in zip(touched.parts, whole.parts, strict=True):
        assert [bar.label for bar in one.bars] == [bar.label for bar in other.bars]
        assert list(states_at_bars(one)) == list(states_at_bars(other))


def test_bars_that_are_lost_in_a_comment_are_missed():
    """The whole is malformed, as a comment holds no `--`; without the second bar it is not."""
    bars = (f'<measure number="{n}"><note/></measure>' for n in (1, 2, 3))
    text = f"<score-partwise><part id='P'>{''.join(bars)}</part></score-partwise>"
    text = text.replace("<note/>", "<!-- mine -->", 2).replace("<!-- mine -->", "<note/>", 1)
    before = read_score(text.encode())
    first, third = (before.bar_spans[index][0] + len('<measure number="1">') for index in (0, 2))
    edits = [Edit(first, first, "<!--"), Edit(third, third, "-->")]
    after = splice(text, edits)
    with pytest.raises(InputError):
        read_score(after.encode())
    with pytest.raises(SelfCheckError, match="bars were lost"):
        prove_untouched(before, after.encode(), after, edits, [])
