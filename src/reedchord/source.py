"""Where a record comes from: CSL-JSON fields, and the citation that points into a source."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, StringConstraints

from reedchord.record_fields import Record

Text = Annotated[str, StringConstraints(min_length=1, max_length=2000, strip_whitespace=True)]
Locator = Annotated[
    Text,
    # `page: 12` is a number to YAML, and a text to everybody else.
    BeforeValidator(lambda given: str(given) if type(given) is int else given),
]
Key = Annotated[
    str, StringConstraints(pattern=r"^[A-Za-z][A-Za-z0-9_.:+-]*$", min_length=1, max_length=80)
]

CslType = Literal[
    "article",
    "article-journal",
    "article-magazine",
    "book",
    "chapter",
    "dataset",
    "document",
    "interview",
    "manuscript",
    "musical_score",
    "pamphlet",
    "paper-conference",
    "performance",
    "personal_communication",
    "report",
    "song",
    "thesis",
    "webpage",
]


class CslName(Record):
    """A person's or a body's name, as CSL-JSON has it."""

    family: Text | None = None
    """Family name."""
    given: Text | None = None
    """Given names."""
    literal: Text | None = None
    """The whole name, where it does not divide."""

    def __str__(self) -> str:
        if self.literal:
            return self.literal
        return " ".join(part for part in (self.given, self.family) if part)


class CslDate(Record):
    """A date, as CSL-JSON has it."""

    date_parts: Annotated[
        list[Annotated[list[int], Field(min_length=1, max_length=3)]],
        Field(alias="date-parts", min_length=1, max_length=2),
    ]
    """Year, month, day; a second list ends a range."""


class Source(Record):
    """One work, recording or person that records come from, in CSL-JSON fields."""

    id: Key
    """Key by which records cite this source; fit for BibTeX too."""
    type: CslType
    """Kind of source, a CSL type."""
    title: Text | None = None
    """Title of the work."""
    author: list[CslName] = Field(default_factory=list)
    """Who wrote or made it."""
    editor: list[CslName] = Field(default_factory=list)
    """Who edited it."""
    issued: CslDate | None = None
    """When it appeared."""
    container_title: Annotated[Text | None, Field(alias="container-title")] = None
    """The journal, book or series that holds it."""
    publisher: Text | None = None
    """Who published it."""
    publisher_place: Annotated[Text | None, Field(alias="publisher-place")] = None
    """Where it was published."""
    edition: Text | None = None
    """Which edition."""
    volume: Text | None = None
    """Volume."""
    issue: Text | None = None
    """Issue of a journal."""
    page: Text | None = None
    """Pages within the container."""
    archive: Text | None = None
    """The archive or shelf that keeps it."""
    doi: Annotated[
        str | None, Field(alias="DOI", pattern=r"^10\.[0-9]{4,9}/[^\sA-Z]+$", max_length=200)
    ] = None
    """DOI, bare and in lower case."""
    url: Annotated[str | None, Field(alias="URL", pattern=r"^https?://\S+$", max_length=500)] = None
    """Where it can be read."""
    note: Text | None = None
    """Anything a reader must know, such as that the source is invented."""

    @property
    def year(self) -> str:
        """The year it appeared, or n.d."""
        return str(self.issued.date_parts[0][0]) if self.issued else "n.d."

    def __str__(self) -> str:
        """Return one line for a footnote: who, what, where, when."""
        who = _names(self.author) or _names(self.editor, "ed. ")
        words = [who, self.title, self.container_title, self.publisher, self.year]
        return ", ".join(word for word in words if word) + (f" ({self.note})" if self.note else "")

    def brief(self) -> str:
        """Return the shortest text by which a player finds the source: name and year."""
        names = [name.family or str(name) for name in self.author or self.editor]
        if len(names) > 2:
            names = [f"{names[0]} et al."]
        return f"{' and '.join(names) or self.title or self.id} {self.year}"


class Citation(Record):
    """Where in a source a record stands."""

    id: Key
    """Key of the source."""
    page: Locator | None = None
    """Page on which the record stands."""
    number: Locator | None = None
    """Number that the source gives to the record."""
    entry: Source | None = None
    """The source itself; a collection fills it in from its list of sources."""

    @property
    def locator(self) -> str:
        """Page and number in words, empty when neither is known."""
        page = f"p. {self.page}" if self.page else None
        number = f"no. {self.number}" if self.number else None
        return ", ".join(word for word in (page, number) if word)

    def __str__(self) -> str:
        return self._with_locator(str(self.entry) if self.entry else self.id)

    def brief(self) -> str:
        """Return the citation in the fewest words, for print inside a score."""
        return self._with_locator(self.entry.brief() if self.entry else self.id)

    def _with_locator(self, name: str) -> str:
        return f"{name}, {self.locator}" if self.locator else name


def _names(names: list[CslName], before: str = "") -> str:
    if not names:
        return ""
    return before + " and ".join(str(name) for name in names)
