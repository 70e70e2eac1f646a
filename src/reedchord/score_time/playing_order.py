"""The bars of a score in the order in which they are played, repeats taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reedchord.errors import InputError
from reedchord.musicxml.bar_contents import may_hold_jumps
from reedchord.score_time.whole_score import WholeScore

if TYPE_CHECKING:
    from reedchord.musicxml.event import Element

MOST_BARS_PLAYED = 100_000
"""Where repeats would lead further than this, the score is not a piece of music."""


@dataclass(frozen=True)
class _Signs:
    """What the barlines and jumps of one bar ask for, in any part."""

    opens_repeat: bool = False
    closes_repeat: int = 0
    """How often the repeated bars are played in all, 0 where no repeat ends here."""
    endings: frozenset[int] = frozenset()
    """The times for which an ending begins here; empty where none does."""
    ending_stops: bool = False
    jumps: frozenset[str] = frozenset()


_NONE = _Signs()
_JUMPS = ("segno", "coda", "tocoda", "fine", "dacapo", "dalsegno")


def played_bars(whole: WholeScore) -> list[int]:
    """Return the indexes of the bars as they are played.

    Repeats, endings, da capo and dal segno, al fine and al coda; after a jump repeats are not
    taken again (common practice, no source). Raises InputError where they lead nowhere.
    """
    signs = [_signs(whole, index) for index in range(whole.bar_count)]
    return list(_walk(signs))


def _signs(whole: WholeScore, index: int) -> _Signs:
    every = [music.part.bars[index] for music in whole.parts if index < len(music.part.bars)]
    bars = [bar for bar in every if may_hold_jumps(bar.element)]
    if not bars:
        return _NONE
    barlines = [line for bar in bars for line in bar.element.iterchildren("barline")]
    repeats = [repeat for line in barlines for repeat in line.iterchildren("repeat")]
    endings = [ending for line in barlines for ending in line.iterchildren("ending")]
    sounds = [sound for bar in bars for sound in bar.element.iter("sound")]
    backward = [repeat for repeat in repeats if repeat.get("direction") == "backward"]
    begun = [ending for ending in endings if ending.get("type") == "start"]
    return _Signs(
        opens_repeat=any(repeat.get("direction") == "forward" for repeat in repeats),
        closes_repeat=max((_times(repeat) for repeat in backward), default=0),
        endings=frozenset(number for ending in begun for number in _numbers(ending)),
        ending_stops=any(ending.get("type") in ("stop", "discontinue") for ending in endings),
        jumps=frozenset(name for sound in sounds for name in _JUMPS if sound.get(name)),
    )


def _times(repeat: Element) -> int:
    said = repeat.get("times", "2")
    return max(1, int(said)) if said.isdecimal() and len(said) < 4 else 2


def _numbers(ending: Element) -> Iterator[int]:
    for number in ending.get("number", "").replace(",", " ").split():
        if number.isdecimal() and len(number) < 4:
            yield int(number)


def _walk(signs: list[_Signs]) -> Iterator[int]:
    index = start = played = 0
    time, jumped = 1, False
    while index < len(signs):
        sign = signs[index]
        if sign.opens_repeat and index != start and not jumped:
            start, time = index, 1
        if sign.endings and not _is_played(sign.endings, time, jumped=jumped):
            index = _after_ending(signs, index)
            continue
        yield index
        played += 1
        if played > MOST_BARS_PLAYED:
            raise InputError("score.repeats", "the repeats of the score lead round in a circle")
        if sign.closes_repeat and not jumped:
            if time < max(sign.closes_repeat, _last_time(signs, start, index)):
                index, time = start, time + 1
                continue
            start, time = index + 1, 1
        following = _jump(signs, index, jumped=jumped)
        jumped = jumped or bool({"dacapo", "dalsegno"} & sign.jumps)
        if following is None:
            return
        index = following


def _is_played(endings: frozenset[int], time: int, *, jumped: bool) -> bool:
    """After a jump only the last ending is played: the one that leads on."""
    return 1 not in endings if jumped else time in endings


def _after_ending(signs: list[_Signs], index: int) -> int:
    while index < len(signs) - 1 and not signs[index].ending_stops:
        index += 1
    return index + 1


def _last_time(signs: list[_Signs], start: int, index: int) -> int:
    """Return the highest time that an ending which belongs to this repeat is for."""
    last = 0
    for later in range(start, len(signs)):
        if later > index and not signs[later].endings:
            break
        last = max([last, *signs[later].endings])
    return last


def _jump(signs: list[_Signs], index: int, *, jumped: bool) -> int | None:
    """Return the bar that follows this one; None at the end."""
    jumps = signs[index].jumps
    if jumped and "fine" in jumps:
        return None
    if jumped and "tocoda" in jumps:
        return _bar_with("coda", signs, index + 1)
    if not jumped and "dacapo" in jumps:
        return 0
    if not jumped and "dalsegno" in jumps:
        return _bar_with("segno", signs, 0)
    return index + 1


def _bar_with(name: str, signs: list[_Signs], start: int) -> int:
    for index in range(start, len(signs)):
        if name in signs[index].jumps:
            return index
    raise InputError("score.repeats", f"a jump leads to a {name} that the score does not have")
