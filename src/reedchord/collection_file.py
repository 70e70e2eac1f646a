"""The format of a collection file, as one record."""

from typing import Literal

from reedchord.record_fields import Record, Rows
from reedchord.sonority import Sonority
from reedchord.source import Source, Text

FORMAT = "collection"
VERSION = 1


class CollectionFile(Record):
    """Sonorities and the sources they come from; a folder of such files is one collection."""

    reedchord: Literal["collection"]
    """Says what the file is."""
    version: Literal[1]
    """Version of this format."""
    title: Text | None = None
    """A title for people."""
    note: Text | None = None
    """Anything a reader must know about the file."""
    sources: Rows[Source] = ()
    """Where the sonorities come from; they cite these by id."""
    sonorities: Rows[Sonority] = ()
    """The sonorities, in any order."""
