"""Whatever somebody does to a placed score, nothing but our own errors comes out.

And what is taken out is taken out: no note of it keeps our ids, labels or cents.
"""

import random
import re

import pytest

from reedchord.collection import Collection
from reedchord.errors import ReedchordError
from reedchord.musicxml.document import read_score
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import place
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from reedchord.placement.swap import swap
from samples import BAR_REST, COLLECTION, at, note, score, sonority

TEAL = sonority("teal", "E4", "C5", "G5+60")
WANTED = [
    at(1),
    at(2, 2, "egret", lasting="half"),
    at(3, 1, "crane"),
    at(4, 3, tones=[1, 3]),
    at(4, 3, "egret", grace=1),
    at(5, 2, manner="slap"),
    at(6, 1, "rising", build_up=True),
]
TURNS = [
    at(7, 1, tremolo="egret", lasting="half", slur=True),
    at(7, 3, "crane", trill="egret", lasting="half"),
]
RISING = sonority("rising", "E4", "C5", "G5+60", build_up=[1, 2, 3])
BAND = Collection({**COLLECTION.sonorities, "rising": RISING}, {}, "samples")
WHOLE = note("C5", 4, type_="whole")
GRACE = note("D5", type_="eighth").replace("<duration>1</duration>", "")
HALVES = (
    note("C5", 2, type_="half")
    + GRACE.replace("<note>", "<note><grace/>")
    + note("D5", 2, type_="half")
)
BEFORE = score(WHOLE, note() * 4, BAR_REST.format(4), HALVES, note() * 4, WHOLE, BAR_REST.format(4))
PLACED = place(BEFORE, WANTED, BAND).data.decode()
WITH_TURNS = place(BEFORE, [*WANTED, *TURNS], BAND).data.decode()
TAGS = ["note", "direction", "measure", "lyric", "notations", "footnote", "accidental", "tie"]


def spans(text, tag):
    return [found.span() for found in re.finditer(rf"<{tag}[ >].*?</{tag}>", text, re.DOTALL)]


def taken_out(text, chance):
    start, end = chance.choice(spans(text, chance.choice(TAGS[:-1])))
    return text[:start] + text[end:]


def copied(text, chance):
    start, end = chance.choice(spans(text, chance.choice(TAGS[:-1])))
    return text[:end] + text[start:]


def moved(text, chance):
    start, end = chance.choice(spans(text, "note"))
    point, _ = chance.choice(spans(text[:start] + text[end:], "note"))
    rest = text[:start] + text[end:]
    return rest[:point] + text[start:end] + rest[point:]


def here_and_there(pattern, new):
    def change(text, chance):
        return re.sub(pattern, lambda m: new(m, chance) if chance.random() < 0.3 else m[0], text)

    return change


EDITS = [
    taken_out,
    copied,
    moved,
    here_and_there(r"<step>.</step>", lambda _, c: f"<step>{c.choice('ABCDEFG')}</step>"),
    here_and_there(
        r"<duration>\d</duration>", lambda _, c: f"<duration>{c.choice('124')}</duration>"
    ),
    here_and_there(r' id="rc-[^"]*"', lambda *_: ""),
    here_and_there(r"<footnote>.*?</footnote>", lambda *_: ""),
    here_and_there(r"<slur [^>]*>", lambda *_: ""),
    here_and_there("<tremolo.*?</tremolo>", lambda *_: ""),
    here_and_there("<voice>1", lambda *_: "<voice>2"),
    here_and_there("<chord/>", lambda *_: ""),
    here_and_there(
        "(<note[^>]*>)(<chord/>)?<pitch>", lambda m, _: f"{m[1]}<cue/>{m[2] or ''}<pitch>"
    ),
]


def edited(seed):
    chance = random.Random(seed)
    text = WITH_TURNS if seed % 3 == 0 else PLACED
    for _ in range(chance.randint(1, 3)):
        text = chance.choice(EDITS)(text, chance)
    return text.encode()


def outcome(question, *arguments, **more):
    """Return an answer, or None where it is one of our errors."""
    try:
        return question(*arguments, **more)
    except ReedchordError:
        return None


@pytest.mark.parametrize("seed", range(120))
def test_only_our_errors_come_out_and_what_goes_goes_whole(seed):
    data = edited(seed)
    outcome(held_plan, data)
    outcome(swap, data, "heron", TEAL)
    outcome(place, data, [at(2, 1, "crane")], BAND)
    outcome(place, data, [*WANTED[1:], at(1, 1, "egret")], BAND, whole=True)
    done = outcome(strip, data)
    if done is not None and not done.stay and not done.left:
        assert read_record(read_score(done.data)) is None
        assert b"rc-" not in done.data
        assert b'name="cents"' not in done.data
        assert b"<footnote>M" not in done.data
        assert b"<slur" not in done.data
        assert b"<tremolo" not in done.data
