"""The scale of dynamic marks and ranges of it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import NamedTuple

from reedchord.errors import InputError


class Dynamic(StrEnum):
    """A dynamic mark, softest first, by the names of MusicXML's `dynamics` element."""

    PPPP = "pppp"
    PPP = "ppp"
    PP = "pp"
    P = "p"
    MP = "mp"
    MF = "mf"
    F = "f"
    FF = "ff"
    FFF = "fff"
    FFFF = "ffff"

    @property
    def level(self) -> int:
        """Place on the scale, 0 the softest."""
        return SCALE.index(self)


SCALE = tuple(Dynamic)


@dataclass(frozen=True)
class DynamicRange:
    """From the softest to the loudest mark, both included."""

    softest: Dynamic
    loudest: Dynamic

    def __post_init__(self) -> None:
        if self.softest.level > self.loudest.level:
            raise InputError(
                "dynamics.range",
                f"{self.softest} is louder than {self.loudest}",
                hint=f"Write the softer mark first: {self.loudest}-{self.softest}.",
            )

    def __contains__(self, dynamic: Dynamic) -> bool:
        return self.softest.level <= dynamic.level <= self.loudest.level

    def marks(self) -> tuple[Dynamic, ...]:
        """Return every mark of the range, softest first."""
        return SCALE[self.softest.level : self.loudest.level + 1]

    def __str__(self) -> str:
        if self.softest is self.loudest:
            return str(self.softest)
        return f"{self.softest}-{self.loudest}"


_TO = r"\s*[-–—]\s*|\s+to\s+"


def parse_dynamic(text: str) -> Dynamic:
    """Read one mark: `mf`; raises InputError for anything else."""
    try:
        return Dynamic(text.strip().casefold())
    except ValueError:
        raise InputError(
            "dynamics.mark",
            f"{text!r} is no dynamic mark",
            hint=f"Marks are {', '.join(SCALE)}.",
        ) from None


def parse_dynamic_range(text: str) -> DynamicRange:
    """Read `p-f`, `mf` or `pp to mp`."""
    ends = re.split(_TO, text.strip().casefold())
    if len(ends) > 2 or (len(ends) == 2 and not all(ends)):
        raise InputError("dynamics.range", f"{text!r} is no range of dynamics", hint="Write p-f.")
    return DynamicRange(parse_dynamic(ends[0]), parse_dynamic(ends[-1]))


class DynamicCourse(NamedTuple):
    """Marks one after the other, with a hairpin from each to the next."""

    marks: tuple[Dynamic, ...]

    def __str__(self) -> str:
        text = str(self.marks[0])
        for before, mark in pairwise(self.marks):
            text += f" {'<' if before.level < mark.level else '>'} {mark}"
        return text


_HAIRPIN = r"\s*([<>])\s*|\s+to\s+"


def parse_dynamic_course(text: str) -> DynamicCourse:
    """Read `mf`, `pp < f`, `pp < f > pp` or `pp to f`; raises InputError for anything else."""
    first, *rest = re.split(_HAIRPIN, text.strip())
    marks = [parse_dynamic(first or "")]
    for sign, name in zip(rest[::2], rest[1::2], strict=True):
        mark = parse_dynamic(name or "")
        louder = mark.level > marks[-1].level
        if mark is marks[-1] or (sign and louder != (sign == "<")):
            raise InputError(
                "dynamics.course",
                f"{text!r} does not lead from {marks[-1]} to {mark}",
                hint="Write < towards a louder mark and > towards a softer one: pp < f > pp.",
            )
        marks.append(mark)
    return DynamicCourse(tuple(marks))
