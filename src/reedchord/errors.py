"""The one exception family: what is wrong, where, and what would be right."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import NamedTuple, Self


class Where(NamedTuple):
    """A place that a person can find again; every field that is known is printed."""

    path: str | None = None
    line: int | None = None
    column: int | None = None
    record: str | None = None
    field: str | None = None
    part: str | None = None
    bar: str | None = None
    beat: str | None = None

    def __str__(self) -> str:
        words = [self.path] if self.path else []
        for label, text in (
            ("line", self.line),
            ("column", self.column),
            ("record", self.record),
            ("field", self.field),
            ("part", self.part),
            ("bar", self.bar),
            ("beat", self.beat),
        ):
            if text is not None:
                # An option of a command names itself.
                words.append(str(text) if str(text).startswith("--") else f"{label} {text}")
        return ", ".join(words)

    def within(self, outer: Where) -> Where:
        """Return this place completed with what only `outer` knows of the same file."""
        if self.path and outer.path and self.path != outer.path:
            return self
        known = {name: text for name, text in self._asdict().items() if text is not None}
        return outer._replace(**known)


class ReedchordError(Exception):
    """Any mistake that the user can act on.

    `code` is stable and made for programs, `message` says what is wrong, `hint` what would
    be right, `where` the place.
    """

    def __init__(
        self, code: str, message: str, *, hint: str | None = None, where: Where | None = None
    ) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.hint = hint
        self.where = where or Where()

    def at(self, outer: Where) -> Self:
        """Return this error with its place completed from `outer`."""
        self.where = self.where.within(outer)
        return self

    def __str__(self) -> str:
        place = str(self.where)
        text = f"{place}: {self.message}" if place else self.message
        return f"{text}\n  {self.hint}" if self.hint else text


class InputError(ReedchordError):
    """A file or a text is wrong, wherever it came from."""


class RequestError(ReedchordError):
    """The files are fine, but the wish cannot be met."""


class SeveralErrors(ReedchordError):  # noqa: N818 - it is many, and says so
    """All mistakes that one run found, reported together."""

    def __init__(self, errors: Iterable[ReedchordError]) -> None:
        self.errors = tuple(single for error in errors for single in singles(error))
        super().__init__("several", f"{len(self.errors)} mistakes found")

    def at(self, outer: Where) -> Self:
        """Return these errors, the place of each completed from `outer`."""
        for error in self.errors:
            error.at(outer)
        return super().at(outer)

    def __str__(self) -> str:
        return "\n".join(str(error) for error in self.errors)


def singles(error: ReedchordError) -> tuple[ReedchordError, ...]:
    """Return each mistake that an error tells, itself where it is one."""
    return error.errors if isinstance(error, SeveralErrors) else (error,)


def raise_all(errors: list[ReedchordError]) -> None:
    """Raise what was collected: nothing, the single error, or all of them together."""
    if len(errors) == 1:
        raise errors[0]
    if errors:
        raise SeveralErrors(errors)


@contextmanager
def said_by(option: str) -> Iterator[None]:
    """Tell mistakes within with the option, or the field, that holds what is read."""
    try:
        yield
    except ReedchordError as error:
        raise error.at(Where(field=option)) from None


def near_names(wanted: str, known: Iterable[str], count: int = 3) -> list[str]:
    """Return up to `count` known names that contain `wanted` from a word on, then look-alikes."""
    folded = {name.casefold(): name for name in known}
    text = wanted.strip().casefold()
    holding = [name for name in folded if len(text) > 2 and f" {text}" in f" {name}"]
    alike = difflib.get_close_matches(text, list(folded), n=count, cutoff=0.6)
    return [folded[name] for name in dict.fromkeys(sorted(holding, key=len) + alike)][:count]


def did_you_mean(wanted: str, known: Iterable[str]) -> str:
    """Return a sentence that offers near names, or else the names that exist."""
    names = list(known)
    near = near_names(wanted, names)
    if near:
        first = ", ".join(near[:-1])
        return f"Did you mean {first}{' or ' if first else ''}{near[-1]}?"
    if not names:
        return "There are none."
    shown = ", ".join(names[:12])
    return f"There are: {shown}{', …' if len(names) > 12 else '.'}"
