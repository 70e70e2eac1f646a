"""Where every key of a fingering stands in its diagram: rectangles and words, no SVG yet.

The drawing follows the hand. The fingers 1, 2 and 3 of a hand are pads on a line that falls
like fingertips, the thumb's bar lies before them. Further pressed keys are bars, each with its
name: those of the little finger after the third pad, all others above the line, from the first
pad on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from reedchord.fingering import Amount, Fingering
from reedchord.keywork import KEYS, MAIN_KEYS, Group, Hand, Key

MARGIN = 1.0
NAME_SIZE = 6.4
_BAR_WIDTH, _BAR_HEIGHT = 9.0, 5.0
_THUMB_WIDTH = 14.0
_GAP = 5.0
_BEFORE_NAME = 1.5


@dataclass(frozen=True)
class Pad:
    """A key as a rectangle with its upper left corner; `amount` is None when it is lifted."""

    key: Key
    amount: Amount | None
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class Word:
    """Text with the left end (else the middle) of its baseline, and the size of its letters."""

    text: str
    x: float
    y: float
    size: float = NAME_SIZE
    centred: bool = False
    on_black: bool = False


@dataclass(frozen=True)
class Layout:
    """Everything that is drawn, within (0, 0) and (width, height), in units of its own."""

    width: float
    height: float
    pads: tuple[Pad, ...]
    words: tuple[Word, ...]


@dataclass(frozen=True)
class _Fingers:
    """Measures of the three pads of a hand: from one to the next, and how they fall."""

    pad_width: float
    pad_height: float
    step: float
    fall: float
    digit_size: float

    @property
    def height(self) -> float:
        """How much room they need from top to bottom."""
        return self.pad_height + 2 * self.fall


_SLANTED = _Fingers(11, 16, step=13.5, fall=8, digit_size=8)
_ON_A_LINE = _Fingers(8, 11, step=9.5, fall=0.75, digit_size=6)
_ROWS, _ROW_HEIGHT = 4, 9.0
"""How many bars stand one over another beside the slanted pads."""

_Drawn = Pad | Word


def wide_layout(fingering: Fingering) -> Layout:
    """Return the two hands side by side."""
    left = _thumb_and_left_hand(fingering)
    right = _hand(fingering, Hand.RIGHT, _right_end(left) + 2 * _GAP, MARGIN)
    return _layout([*left, *right], _SLANTED.height)


def stacked_layout(fingering: Fingering) -> Layout:
    """Return the right hand under the left, a finger further out."""
    left = _thumb_and_left_hand(fingering)
    y = MARGIN + _SLANTED.height + _GAP
    x = _right_end(_thumb(fingering)) + _GAP + _SLANTED.step
    return _layout([*left, *_hand(fingering, Hand.RIGHT, x, y)], y - MARGIN + _SLANTED.height)


def strip_layout(fingering: Fingering) -> Layout:
    """Return both hands on one line, for use between words."""
    bar_top = MARGIN + (_ON_A_LINE.height - _BAR_HEIGHT) / 2
    drawn: list[_Drawn] = []
    x = MARGIN
    for key in _thumb_keys(fingering):
        drawn += _named_bar(key, fingering, x, bar_top)
        x = _right_end(drawn) + _GAP
    for hand in Hand:
        drawn.append(Word(hand[0].upper(), x, _baseline(bar_top)))
        drawn += _pads(fingering, hand, _ON_A_LINE, _right_end(drawn) + _BEFORE_NAME, MARGIN)
        x = _right_end(drawn) + 2 * _BEFORE_NAME
        for key in _further_keys(fingering, hand):
            drawn += _named_bar(key, fingering, x, bar_top)
            x = _right_end(drawn) + _GAP
        x = _right_end(drawn) + 2 * _GAP
    return _layout(drawn, _ON_A_LINE.height)


def _layout(drawn: list[_Drawn], height: float) -> Layout:
    return Layout(
        round(_right_end(drawn) + MARGIN, 2),
        round(height + 2 * MARGIN, 2),
        tuple(one for one in drawn if isinstance(one, Pad)),
        tuple(one for one in drawn if isinstance(one, Word)),
    )


def _thumb_and_left_hand(fingering: Fingering) -> list[_Drawn]:
    thumb = _thumb(fingering)
    return [*thumb, *_hand(fingering, Hand.LEFT, _right_end(thumb) + _GAP, MARGIN)]


def _hand(fingering: Fingering, hand: Hand, x: float, y: float) -> Iterator[_Drawn]:
    """Draw a hand's three pads, its name, and the bars of its further pressed keys."""
    yield Word(hand.value, x, y + _SLANTED.height - 1)
    yield from _pads(fingering, hand, _SLANTED, x, y)
    # The upper two rows begin over the second and the third pad, the others after it.
    pads_over = (1, 2, 3, 3)
    row_x = [x + number * _SLANTED.step + _BEFORE_NAME for number in pads_over]
    for row, key in _rows(_further_keys(fingering, hand)):
        drawn = [*_named_bar(key, fingering, row_x[row], y + row * _ROW_HEIGHT)]
        yield from drawn
        row_x[row] = _right_end(drawn) + _GAP


def _pads(
    fingering: Fingering, hand: Hand, fingers: _Fingers, x: float, y: float
) -> Iterator[_Drawn]:
    for number in (1, 2, 3):
        yield from _finger(fingering, MAIN_KEYS[hand, number], fingers, x, y)
        x, y = x + fingers.step, y + fingers.fall


def _finger(
    fingering: Fingering, key: Key, fingers: _Fingers, x: float, y: float
) -> Iterator[_Drawn]:
    amount = fingering.amount(key.name)
    yield Pad(key, amount, x, y, fingers.pad_width, fingers.pad_height)
    yield Word(
        str(key.number),
        x + fingers.pad_width / 2,
        # In the upper half, which stays white under a half covered key.
        y + fingers.pad_height / 4 + fingers.digit_size * 0.36,
        fingers.digit_size,
        centred=True,
        on_black=amount is Amount.FULL,
    )


def _further_keys(fingering: Fingering, hand: Hand) -> list[Key]:
    """Return the pressed keys of a hand that are neither its thumb's nor a main key."""
    pressed = [KEYS[name] for name in fingering.keys if KEYS[name].hand is hand]
    return [key for key in pressed if key.group not in (Group.MAIN, Group.THUMB)]


def _rows(keys: list[Key]) -> Iterator[tuple[int, Key]]:
    """Yield keys with their rows: the little finger's at the foot, others from the top down."""
    others = [key for key in keys if key.group is not Group.TABLE]
    little = [key for key in keys if key.group is Group.TABLE]
    room = _ROWS - len(little)
    yield from enumerate(others[:room])
    yield from enumerate(little, start=room)
    # What is left goes on behind the others, from the top down again.
    yield from ((number % _ROWS, key) for number, key in enumerate(others[room:]))


def _named_bar(key: Key, fingering: Fingering, x: float, y: float) -> Iterator[_Drawn]:
    yield Pad(key, fingering.amount(key.name), x, y, _BAR_WIDTH, _BAR_HEIGHT)
    yield Word(_name(key, fingering), x + _BAR_WIDTH + _BEFORE_NAME, _baseline(y))


def _thumb(fingering: Fingering) -> list[_Drawn]:
    """Draw the bars of the thumb with their names underneath."""
    drawn: list[_Drawn] = []
    y = MARGIN
    for key in _thumb_keys(fingering):
        drawn.append(Pad(key, fingering.amount(key.name), MARGIN, y, _THUMB_WIDTH, _BAR_HEIGHT))
        drawn.append(Word(_name(key, fingering), MARGIN, y + _BAR_HEIGHT + NAME_SIZE))
        y += _SLANTED.height - _BAR_HEIGHT - 1.5 - NAME_SIZE
    return drawn


def _thumb_keys(fingering: Fingering) -> list[Key]:
    """Return the octave key, pressed or not, and what else the thumb presses."""
    pressed = [KEYS[name] for name in fingering.keys]
    thumb = [key for key in pressed if key.group is Group.THUMB]
    return [KEYS["octave"], *(key for key in thumb if key.name != "octave")]


def _name(key: Key, fingering: Fingering) -> str:
    amount = fingering.amount(key.name) or Amount.FULL
    return key.short() if amount is Amount.FULL else f"{amount} {key.short()}"


def _baseline(bar_top: float) -> float:
    return bar_top + _BAR_HEIGHT / 2 + NAME_SIZE * 0.31


_WIDTHS_IN_EMS = {
    " ": 0.25, "f": 0.33, "h": 0.56, "i": 0.3, "l": 0.3, "m": 0.84, "r": 0.4, "t": 0.35,
    "w": 0.76, "♯": 0.6, "♭": 0.6,
}  # fmt: skip


def text_width(text: str, size: float) -> float:
    """Return about how wide a text is, rather too wide than too narrow for book faces."""
    ems = (_WIDTHS_IN_EMS.get(sign, 0.68 if sign.isupper() else 0.51) for sign in text)
    return sum(ems) * size


def _right_end(drawn: list[_Drawn]) -> float:
    return max(
        one.x + (one.width if isinstance(one, Pad) else text_width(one.text, one.size))
        for one in drawn
    )
