"""Where a new child goes: the order of children in the MusicXML 4.0 schema, as one table."""

from __future__ import annotations

from collections.abc import Sequence

_SCORE_HEADER = (
    "work",
    "movement-number",
    "movement-title",
    "identification",
    "defaults",
    "credit",
    "part-list",
)

ORDER: dict[str, tuple[str, ...]] = {
    # element score-partwise, group score-header
    "score-partwise": (*_SCORE_HEADER, "part"),
    # element score-timewise, group score-header
    "score-timewise": (*_SCORE_HEADER, "measure"),
    # complexType identification
    "identification": ("creator", "rights", "encoding", "source", "relation", "miscellaneous"),
    # complexType miscellaneous
    "miscellaneous": ("miscellaneous-field",),
    # complexType attributes, group editorial
    "attributes": (
        "footnote",
        "level",
        "divisions",
        "key",
        "time",
        "staves",
        "part-symbol",
        "instruments",
        "clef",
        "staff-details",
        "transpose",
        "for-part",
        "directive",
        "measure-style",
    ),
    # complexType direction, groups editorial-voice-direction and staff
    "direction": (
        "direction-type",
        "offset",
        "footnote",
        "level",
        "voice",
        "staff",
        "sound",
        "listening",
    ),
    # complexType note, groups full-note, duration, editorial-voice and staff
    "note": (
        "grace",
        "cue",
        "chord",
        "pitch",
        "unpitched",
        "rest",
        "duration",
        "tie",
        "instrument",
        "footnote",
        "level",
        "voice",
        "type",
        "dot",
        "accidental",
        "time-modification",
        "stem",
        "notehead",
        "notehead-text",
        "staff",
        "beam",
        "notations",
        "lyric",
        "play",
        "listen",
    ),
    # complexType notations, group editorial; after it any order is valid
    "notations": (
        "footnote",
        "level",
        "tied",
        "slur",
        "tuplet",
        "glissando",
        "slide",
        "ornaments",
        "technical",
        "articulations",
        "dynamics",
        "fermata",
        "arpeggiate",
        "non-arpeggiate",
        "accidental-mark",
        "other-notation",
    ),
    # complexType lyric, group editorial; syllabic, elision and text may come again
    "lyric": (
        "syllabic",
        "text",
        "elision",
        "extend",
        "laughing",
        "humming",
        "end-line",
        "end-paragraph",
        "footnote",
        "level",
    ),
}
"""The children of each parent, first to last."""


def insertion_index(parent_tag: str, child_tag: str, existing: Sequence[str]) -> int:
    """Return the index in `existing` before which a new child goes.

    That is after the last child that may stand before it. Children that the schema does not
    know are passed over. Raises ValueError for a pair that the table lacks: our own fault.
    """
    order = ORDER.get(parent_tag, ())
    if child_tag not in order:
        raise ValueError(f"the order of <{child_tag}> in <{parent_tag}> is not known")
    not_after = order[: order.index(child_tag) + 1]
    places = [index for index, tag in enumerate(existing, start=1) if tag in not_after]
    return places[-1] if places else 0
