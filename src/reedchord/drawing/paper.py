"""The two sizes of paper that people print on."""

from __future__ import annotations

from enum import StrEnum

from reedchord.errors import RequestError, did_you_mean


class Paper(StrEnum):
    """A size of paper, by the name that people have for it."""

    A4 = "a4"
    LETTER = "letter"

    @property
    def typesetter_name(self) -> str:
        """What the typesetter calls it."""
        return "us-letter" if self is Paper.LETTER else "a4"


def paper_named(name: str) -> Paper:
    """Return the size with this name; raises RequestError with the sizes there are."""
    if name.casefold() not in list(Paper):
        raise RequestError(
            "paper.size", f"{name!r} is no size of paper", hint=did_you_mean(name, Paper)
        )
    return Paper(name.casefold())
