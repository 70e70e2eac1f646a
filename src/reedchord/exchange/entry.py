"""A record that is asked for step by step: the questions, and a check after each answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from reedchord.data_text import DataText
from reedchord.errors import ReedchordError, RequestError, did_you_mean, raise_all
from reedchord.exchange.cells import cell_data
from reedchord.exchange.csv_rows import split_pitches
from reedchord.exchange.new_ids import free_id, kebab
from reedchord.fingering import fingering_remarks
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Evidence
from reedchord.source import Source
from reedchord.validation import validated

CONCERT = "concert"
_NOT_YET_ASKED: dict[str, Any] = {
    "id": "not-yet-asked",
    "saxophone": "alto",
    "fingering": "left 0 | right 0",
    "tones": [{"written": "C5"}],
    "evidence": "invented",
    "source": {"id": "not-yet-asked"},
}
"""Stands for what is not known yet, so that each answer can be checked as part of a record."""


@dataclass
class Draft:
    """What has been answered so far, and what the collection holds already."""

    sources: Mapping[str, Source]
    taken: frozenset[str]
    data: dict[str, Any] = field(default_factory=dict)
    source: dict[str, Any] | None = None
    """A new source, not yet in the collection."""

    def checked(self, **more: Any) -> Sonority:
        """Return the record with more fields; raises every InputError about them."""
        errors: list[ReedchordError] = []
        data = {**_NOT_YET_ASKED, **self.data, **more}
        record = validated(Sonority, DataText(data), (), "", errors)
        for error in errors:
            # There is no file, and the question names the field.
            error.where = type(error.where)()
        # One answer for all tones is wrong in all of them, and told once.
        raise_all(list({str(error): error for error in errors}.values()))
        assert record is not None  # or there were errors
        return record

    def record(self) -> dict[str, Any]:
        """Return the finished record as plain data, in the order of its fields."""
        return {name: self.data[name] for name in Sonority.model_fields if name in self.data}


Answer = Callable[[Draft, str], list[str]]
"""Takes an answer into the draft and returns what is echoed; raises ReedchordError."""


@dataclass(frozen=True)
class Question:
    """One question; an empty answer takes the default, or passes where nothing is needed."""

    words: str
    example: str
    answer: Answer
    needed: bool = False
    default: Callable[[Draft], str] = lambda _: ""
    when: Callable[[Draft], bool] = lambda _: True


def _field(name: str) -> Answer:
    """Return the answer of a field that one text fills."""

    def answer(draft: Draft, text: str) -> list[str]:
        read = cell_data(name, text)
        draft.checked(**{name: read})
        draft.data[name] = read
        return []

    return answer


def _saxophone(draft: Draft, text: str) -> list[str]:
    try:
        member = draft.checked(saxophone=text).saxophone
    except ReedchordError as error:
        error.hint = f"There are: {', '.join(FAMILY)}."
        raise
    draft.data["saxophone"] = member.name
    return [f"{member}, in {member.key}"]


def _fingering(draft: Draft, text: str) -> list[str]:
    checked = draft.checked(fingering=text)
    fingering = checked.fingering
    draft.data["fingering"] = str(fingering)
    remarks = fingering_remarks(fingering, checked.saxophone)
    unusual = [f"careful: {remark}" for remark in remarks]
    return [fingering.words(), f"in a score: {fingering.short()}", *unusual]


def _tones(draft: Draft, text: str) -> list[str]:
    kind, pitches = "written", text
    if text.casefold().startswith(CONCERT):
        kind, pitches = CONCERT, text[len(CONCERT) :].lstrip(" :")
    tones = [{kind: part.strip()} for part in split_pitches(pitches) if part.strip()]
    record = draft.checked(tones=tones)
    draft.data["tones"] = tones
    return [
        f"tone {number}  written {record.written(number).printed()}"
        f"  concert {record.concert(number).printed()}"
        for number in record.numbers
    ]


def _presence(draft: Draft, text: str) -> list[str]:
    """Take one presence for all tones, or one for each with a stroke between."""
    tones = draft.data["tones"]
    parts = text.split("/") if "/" in text else [text] * len(tones)
    if len(parts) != len(tones):
        raise RequestError(
            "new.presence",
            f"there are {len(tones)} tones, but presence for {len(parts)}",
            hint="Leave a place empty where it is not known: p faint / / mf clear.",
        )
    read = [cell_data("presence", part.strip()) if part.strip() else {} for part in parts]
    new = [
        {**tone, **({"presence": presence} if presence else {})}
        for tone, presence in zip(tones, read, strict=True)
    ]
    draft.checked(tones=new)
    draft.data["tones"] = new
    return []


def _emphasised(draft: Draft, text: str) -> list[str]:
    tone = cell_data("emphasised", text)
    number = draft.checked(emphasised=tone).emphasised_number
    draft.data["emphasised"] = tone
    return [f"tone {number}"]


def _source(draft: Draft, text: str) -> list[str]:
    """Take the id of a source in the collection, or else the title of a new one."""
    draft.source = None
    if text in draft.sources:
        draft.data["source"] = {"id": text}
        return [str(draft.sources[text])]
    new = free_id(kebab(text) or "source", draft.sources)
    draft.source = {"id": new, "type": "document", "title": text}
    draft.data["source"] = {"id": new}
    near = did_you_mean(text, draft.sources) if draft.sources else ""
    return [f"a new source, {new}", *([f"known ones: {near}"] if near else [])]


def _of_source(name: str) -> Answer:
    def answer(draft: Draft, text: str) -> list[str]:
        assert draft.source is not None  # asked for new sources only
        errors: list[ReedchordError] = []
        source = {**draft.source, name: cell_data(f"source {name}", text)}
        read = validated(Source, DataText(source), (), "", errors)
        raise_all(errors)
        draft.source = source
        return [str(read)]

    return answer


def _in_source(name: str) -> Answer:
    def answer(draft: Draft, text: str) -> list[str]:
        cited = {**draft.data["source"], name: cell_data(name, text)}
        draft.checked(source=cited)
        draft.data["source"] = cited
        return []

    return answer


def _id(draft: Draft, text: str) -> list[str]:
    if text in draft.taken:
        raise RequestError(
            "new.taken", f"the id {text!r} is taken", hint=f"Free is {free_id(text, draft.taken)}."
        )
    return _field("id")(draft, text)


def _id_from_name(draft: Draft) -> str:
    words = draft.data.get("name") or f"{draft.data['saxophone']} sonority"
    return free_id(kebab(words) or "sonority", draft.taken)


def _is(*kinds: Evidence) -> Callable[[Draft], bool]:
    return lambda draft: draft.data.get("evidence") in kinds


def _is_new_source(draft: Draft) -> bool:
    return draft.source is not None


def _has_source(draft: Draft) -> bool:
    return "source" in draft.data


_OWN = _is(Evidence.TRIED, Evidence.MEASURED)
_FOREIGN = _is(Evidence.DOCUMENTED, Evidence.CARRIED)
QUESTIONS = (
    Question("Which saxophone?", "alto", _saxophone, needed=True),
    Question(
        "Which keys?", "octave | left 1 2 3, G sharp | right 1 half 2, low C", _fingering,
        needed=True,
    ),
    Question(
        "Which tones, the lowest first? Written pitches, or concert ones after 'concert'",
        "F#4-12 G5+31", _tones, needed=True,
    ),
    Question(
        "How prominent are they? One answer for all, or one for each tone with / between",
        "pp-p faint, mf clear / mf dominant", _presence,
    ),
    Question("Which tone is brought out, by number or pitch?", "2", _emphasised),
    Question("At which dynamics does it speak?", "p-f", _field("dynamics")),
    Question(
        "How fast can it be repeated?", "single tongue: 16th at quarter = 72, mp-f",
        _field("limits"),
    ),
    Question("In which order can the tones enter, one by one?", "2 1 3", _field("build_up")),
    Question("What helps it to speak?", "steady air, throat open", _field("advice")),
    Question(
        f"How is it known: {', '.join(Evidence)}?", "tried", _field("evidence"), needed=True,
        default=lambda _: Evidence.TRIED.value,
    ),
    Question(
        "On which set-up: player, instrument, mouthpiece, reed?", "mine: alto, reed no. 3",
        _field("set_up"), needed=True, when=_OWN,
    ),
    Question(
        "Which source? The id of one in the collection, or the title of a new one",
        "Practice log", _source, needed=True, when=_FOREIGN,
    ),
    Question("Who made the source?", "Brask, Ottoline; Dowle, Tavin", _of_source("author"),
             when=_is_new_source),
    Question("When did it appear?", "2031", _of_source("issued"), when=_is_new_source),
    Question("What kind is it?", "book, manuscript, document", _of_source("type"),
             default=lambda _: "document", when=_is_new_source),
    Question("On which page?", "12", _in_source("page"), when=_has_source),
    Question("Which number does it have there?", "3", _in_source("number"), when=_has_source),
    Question("What is it called?", "Slack water", _field("name")),
    Question("Which id shall it have?", "alto-slack-water", _id, needed=True,
             default=_id_from_name),
)  # fmt: skip
"""The questions in order; a new one is a new row."""


def finished(draft: Draft) -> Sonority:
    """Return the whole record, checked without anything that stands for what is not known."""
    errors: list[ReedchordError] = []
    record = validated(Sonority, DataText(draft.record()), (), "", errors)
    raise_all(errors)
    assert record is not None  # or there were errors
    return record
