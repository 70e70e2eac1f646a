"""Where a record comes from: CSL-JSON fields, and the citation that points into a source."""

import re
from typing import Annotated, Literal, Self

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    StringConstraints,
    WithJsonSchema,
    model_validator,
)

from reedchord.errors import InputError
from reedchord.record_fields import Record, Rows, record_error

_NOT_IN_XML = r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]"
"""Characters that no MusicXML file can hold: XML 1.0, production 2 (Char)."""


def _fit_for_scores(text: str) -> str:
    stray = re.search(_NOT_IN_XML, text)
    if stray:
        message = f"the text holds U+{ord(stray[0]):04X}, which no score can hold"
        raise record_error(InputError("text.character", message, hint="Take it out."))
    return text


def _matching(pattern: str, kind: str, hint: str) -> AfterValidator:
    def read(text: str) -> str:
        if re.fullmatch(pattern, text):
            return text
        raise record_error(InputError("text.form", f"{text!r} is no {kind}", hint=hint))

    return AfterValidator(read)


MAX_KEY_LENGTH = 80
_ID = rf"[A-Za-z][A-Za-z0-9_.:+-]{{0,{MAX_KEY_LENGTH - 1}}}"
_DOI = r"10\.[0-9]{4,9}/[^\sA-Z]{1,190}"
_URL = r"https?://\S{1,490}"

Text = Annotated[
    str,
    StringConstraints(min_length=1, max_length=2000, strip_whitespace=True),
    AfterValidator(_fit_for_scores),
]
Locator = Annotated[
    Text,
    # `page: 12` is a number to YAML, and a text to everybody else.
    BeforeValidator(lambda given: str(given) if type(given) is int else given),
    WithJsonSchema({"type": ["string", "integer"], "minLength": 1, "maxLength": 2000}),
]
Key = Annotated[
    str,
    _matching(
        _ID, "id", "An id starts with a letter; letters, digits and _ . : + - follow, no spaces."
    ),
    WithJsonSchema({"type": "string", "pattern": f"^{_ID}$"}),
]
Doi = Annotated[
    str,
    _matching(_DOI, "DOI", "Write it bare and in lower case: 10.1234/abc."),
    WithJsonSchema({"type": "string", "pattern": f"^{_DOI}$"}),
]
Url = Annotated[
    str,
    _matching(_URL, "web address", "It starts with https:// and holds no spaces."),
    WithJsonSchema({"type": "string", "pattern": f"^{_URL}$"}),
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

    @model_validator(mode="after")
    def _not_nameless(self) -> Self:
        if not str(self):
            error = InputError(
                "name.empty", "the name is empty", hint="Give family and given, or literal."
            )
            raise record_error(error)
        return self

    def __str__(self) -> str:
        if self.literal:
            return self.literal
        return " ".join(part for part in (self.given, self.family) if part)


class CslDate(Record):
    """A date, as CSL-JSON has it."""

    date_parts: Annotated[
        Rows[Annotated[Rows[int], Field(min_length=1, max_length=3)]],
        Field(alias="date-parts", min_length=1, max_length=2),
    ]
    """Year, month, day; a second list ends a range."""

    @model_validator(mode="after")
    def _in_the_calendar(self) -> Self:
        for _, *rest in self.date_parts:
            for number, most in zip(rest, (12, 31), strict=False):
                if not 1 <= number <= most:
                    error = InputError(
                        "date.parts",
                        f"{number} is no {'month' if most == 12 else 'day'}",
                        hint="Write year, month, day: [[2026, 11, 25]].",
                    )
                    raise record_error(error)
        return self


class Source(Record):
    """One work, recording or person that records come from, in CSL-JSON fields."""

    id: Key
    """Key by which records cite this source; fit for BibTeX too."""
    type: CslType
    """Kind of source, a CSL type."""
    title: Text | None = None
    """Title of the work."""
    author: Rows[CslName] = ()
    """Who wrote or made it."""
    editor: Rows[CslName] = ()
    """Who edited it."""
    issued: CslDate | None = None
    """When it appeared."""
    container_title: Annotated[Text | None, Field(alias="container-title")] = None
    """The journal, book or series that holds it."""
    publisher: Text | None = None
    """Who published it."""
    publisher_place: Annotated[Text | None, Field(alias="publisher-place")] = None
    """Where it was published."""
    edition: Locator | None = None
    """Which edition."""
    volume: Locator | None = None
    """Volume."""
    issue: Locator | None = None
    """Issue of a journal."""
    page: Locator | None = None
    """Pages within the container."""
    archive: Text | None = None
    """The archive or shelf that keeps it."""
    doi: Annotated[Doi | None, Field(alias="DOI")] = None
    """DOI, bare and in lower case."""
    url: Annotated[Url | None, Field(alias="URL")] = None
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

    @model_validator(mode="after")
    def _entry_is_the_cited_one(self) -> Self:
        if self.entry and self.entry.id != self.id:
            error = InputError(
                "source.other",
                f"the citation of {self.id!r} holds the source {self.entry.id!r}",
                hint="Leave entry out: the list of sources is searched for the id.",
            )
            raise record_error(error)
        return self

    @property
    def locator(self) -> str:
        """Page and number in words, empty when neither is known."""
        several = self.page and re.search("[-–,]", self.page)
        page = f"{'pp.' if several else 'p.'} {self.page}" if self.page else None
        number = f"no. {self.number}" if self.number else None
        return ", ".join(word for word in (page, number) if word)

    def __str__(self) -> str:
        return self._with_locator(str(self.entry) if self.entry else self.id)

    @property
    def brief_name(self) -> str:
        """The source in the fewest words, without the place in it."""
        return self.entry.brief() if self.entry else self.id

    def brief(self) -> str:
        """Return the citation in the fewest words, for print inside a score."""
        return self._with_locator(self.brief_name)

    def _with_locator(self, name: str) -> str:
        return f"{name}, {self.locator}" if self.locator else name


def _names(names: tuple[CslName, ...], before: str = "") -> str:
    if not names:
        return ""
    return before + " and ".join(str(name) for name in names)
