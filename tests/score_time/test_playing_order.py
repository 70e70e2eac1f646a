"""Repeats as players take them; common practice, no source."""

from __future__ import annotations

import pytest

from reedchord.errors import InputError
from reedchord.musicxml.document import read_score
from reedchord.score_time.playing_order import played_bars
from reedchord.score_time.whole_score import whole_score
from samples import note, score

C = note("C4") * 4


def order(*bars):
    whole = whole_score(read_score(score(*bars)))
    return "".join(str(index + 1) for index in played_bars(whole))


def forward(bar=C):
    return '<barline location="left"><repeat direction="forward"/></barline>' + bar


def backward(bar=C, times=""):
    return bar + f'<barline location="right"><repeat direction="backward"{times}/></barline>'


def ending(numbers, *, repeat=False, bar=C):
    start = f'<barline location="left"><ending number="{numbers}" type="start"/></barline>'
    again = '<repeat direction="backward"/>' if repeat else ""
    stop = f'<ending number="{numbers}" type="stop"/>'
    return f'{start}{bar}<barline location="right">{stop}{again}</barline>'


def jump(**names):
    said = " ".join(f'{name}="{target}"' for name, target in names.items())
    return f"<sound {said}/>"


@pytest.mark.parametrize(
    ("bars", "played"),
    [
        ((C, C, C), "123"),
        ((C, backward()), "1212"),
        ((C, forward(), backward(), C), "123234"),
        ((backward(forward(), times=' times="3"'), C), "1112"),
        ((backward(), backward(), C), "11223"),
        ((C, ending("1", repeat=True), ending("2"), C), "12134"),
        ((C, ending("1, 2", repeat=True), ending("3"), C), "1212134"),
        ((C, ending("1", repeat=True), ending("2", repeat=True), ending("3"), C), "1213145"),
        ((C, C + jump(fine="yes"), C, C + jump(dacapo="yes")), "123412"),
        (
            (
                C,
                jump(segno="1") + C,
                C + jump(tocoda="1"),
                C + jump(dalsegno="1"),
                jump(coda="1") + C,
            ),
            "1234235",
        ),
        ((forward(), backward(), C + jump(fine="yes"), C + jump(dacapo="yes")), "121234123"),
    ],
)
def test_bars_in_the_order_in_which_they_are_played(bars, played):
    assert order(*bars) == played


def test_a_jump_to_nowhere_is_told():
    with pytest.raises(InputError, match="segno"):
        order(C, C + jump(dalsegno="1"))
