"""A trial from what somebody typed: options of a command, or answers from a filled sheet."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reedchord.data_text import DataText
from reedchord.errors import InputError, ReedchordError, RequestError, raise_all
from reedchord.exchange.cells import cell_data, whole_number
from reedchord.pitch import parse_pitch
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation
from reedchord.trials.set_ups import SetUpFile
from reedchord.trials.trial_fields import Outcome, Trial
from reedchord.validation import validated

TONE_EXAMPLE = "2: p-f, or 3: none, or D5 = D5-30 ±2: mf"
_SURE = r"(?:±|\+/?-)\s*(?P<sure>[0-9]{1,9}(?:[.,][0-9]{1,9})?)\s*(?:¢|cents?)?\s*"
_TONE = re.compile(
    r"(?:tone\s+)?(?P<tone>[^=:]*?)\s*"
    rf"(?:=\s*(?P<measured>[^:=±]+?)\s*(?:{_SURE})?)?"
    r"(?::\s*(?P<came>.*))?",
    re.IGNORECASE,
)
_RUN = re.compile(r"([0-9]{1,2})(?:\s*[-–]\s*([0-9]{1,2}))?")
_SEVERAL = re.compile(
    rf"\s*(?:tones?\s+)?(?P<numbers>{_RUN.pattern}(?:\s*,\s*{_RUN.pattern})*)\s*:(?P<came>.*)",
    re.IGNORECASE,
)
_NONE = {"none", "no", "-"}


def typed_tone(text: str) -> dict[str, Any]:
    """Return the plain data of a tone in a trial: `2: p-f`, `3: none`, `2 = D5-30 ±2`, `= E6`."""
    read = _TONE.fullmatch(text.strip())
    if read is None or not (read["tone"] or read["measured"]):
        message = f"{text!r} is no tone of a trial"
        raise InputError("trial.tone", message, hint=f"Write {TONE_EXAMPLE}.")
    data: dict[str, Any] = {}
    if read["tone"]:
        data["tone"] = _named(read["tone"])
    if read["came"] is not None:
        said = read["came"].strip()
        marks = [] if said.casefold() in _NONE else re.split(r"\s*,\s*", said)
        data["came_at"] = marks
    if read["measured"]:
        data["measured"] = read["measured"]
    if read["sure"]:
        data["uncertainty_cents"] = float(read["sure"].replace(",", "."))
    return data


def _named(text: str) -> Any:
    """Return the number or the pitch that names a tone; raises InputError for anything else."""
    name = whole_number(text)
    if isinstance(name, str):
        try:
            parse_pitch(name)
        except InputError:
            message = f"{name!r} is neither the number of a tone nor its pitch"
            raise InputError("trial.tone", message, hint=f"Write {TONE_EXAMPLE}.") from None
    return name


def refuse_other_saxophones(sonorities: Sequence[Sonority], set_up: SetUpFile) -> None:
    """Raise RequestError where none of some sonorities is for the saxophone of a set-up."""
    if any(one.saxophone == set_up.saxophone for one in sonorities):
        return
    members = ", ".join(dict.fromkeys(one.saxophone.name for one in sonorities))
    what = sonorities[0].id if len(sonorities) == 1 else "what stands in the score"
    raise RequestError(
        "trial.other-saxophone",
        f"{what} is for {members}, {set_up.id} is a set-up of {set_up.saxophone.name}",
        hint="Carry the sonority first, and give the carried record a place in a collection.",
    )


def checked_trial(data: dict[str, Any], sonority: Sonority, set_up: SetUpFile) -> Trial:
    """Return the trial; raises RequestError, or InputError about its fields.

    The set-up has to play the sonority's saxophone, and named tones have to be in the record.
    """
    refuse_other_saxophones([sonority], set_up)
    errors: list[ReedchordError] = []
    trial = validated(Trial, DataText(data), (), "", errors)
    for error in errors:
        # There is no file, and the field was named by an option or a question.
        error.where = type(error.where)()
    raise_all(errors)
    assert trial is not None  # or there were errors
    named = [sonority.tone_number(tone.tone) for tone in trial.tones if tone.tone is not None]
    twice = [number for number in set(named) if named.count(number) > 1]
    if twice:
        raise RequestError("trial.tone-twice", f"tone {twice[0]} is named twice")
    return trial


@dataclass(frozen=True)
class TrialQuestion:
    """One question from the sheet: its answer as plain data of a field."""

    field: str
    words: str
    example: str
    read: Callable[[str], Any]
    only_if_spoke: bool = True


def _outcome(text: str) -> str:
    numbered = {str(number): str(outcome) for number, outcome in enumerate(Outcome, start=1)}
    return numbered.get(text, text)


def typed_tones(text: str) -> list[dict[str, Any]]:
    """Return the plain data of several tones: `1-3: mf-f; 4: none`, or `1, 3: p`."""
    parts = [part for part in text.split(";") if part.strip()]
    return [typed_tone(one) for part in parts for one in _one_by_one(part)]


def _one_by_one(text: str) -> Iterator[str]:
    """Yield what is said of several tones at once, once for each."""
    read = _SEVERAL.fullmatch(text)
    if read is None:
        yield text
        return
    for first, last in _RUN.findall(read["numbers"]):
        low, high = sorted((int(first), int(last or first)))
        yield from (f"{number}:{read['came']}" for number in range(low, high + 1))


def typed_limits(text: str) -> Any:
    """Return the plain data of limits: `single tongue: 16th at quarter = 72, mp-f`."""
    return cell_data("limits", text)


_OUTCOMES = ", ".join(f"{number} {outcome}" for number, outcome in enumerate(Outcome, start=1))
QUESTIONS = (
    TrialQuestion("outcome", f"What came of it: {_OUTCOMES}?", "2", _outcome, False),
    TrialQuestion(
        "tones",
        "Which tones came at which dynamics, with ; between?",
        "1-2: p-f; 3: mf; 4: none",
        typed_tones,
    ),
    TrialQuestion(
        "attack", f"How was it attacked: {', '.join(Articulation)}?", "breath", str, False
    ),
    TrialQuestion(
        "limits", "How fast did it go?", "single tongue: 16th at quarter = 72, mp-f", typed_limits
    ),
    TrialQuestion("remarks", "Comments?", "only with the soft reed", str, False),
)
"""In the order of the meeting sheet; the way of attack and the speed stand among its comments."""
