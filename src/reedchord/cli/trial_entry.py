"""The questions of a filled meeting sheet, asked on a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import typer

from reedchord.cli import output
from reedchord.cli.asking import INTERRUPTED, STOP, STOPPED, Stopped, ask, confirm, is_terminal
from reedchord.errors import RequestError
from reedchord.numbers_as_text import counted

if TYPE_CHECKING:
    from reedchord.exchange.typed_trial import TrialQuestion
    from reedchord.sonority import Sonority
    from reedchord.trials.set_ups import SetUpFile
    from reedchord.trials.trial_fields import Trial


def asked_trials(
    wanted: Sequence[tuple[str, Sonority]], set_up: SetUpFile, known: dict[str, Any]
) -> list[Trial]:
    """Return trials from answers, one for each sonority that is not passed over.

    What is `known` already is not asked. Raises RequestError where there is no terminal, and
    where none is for the set-up's saxophone.
    """
    from reedchord.exchange.typed_trial import refuse_other_saxophones

    refuse_other_saxophones([one for _, one in wanted], set_up)
    if not is_terminal():
        raise RequestError(
            "trial.no-terminal",
            "what came of it is not said, and there is no terminal to ask on",
            hint="Say it: --outcome spoke, --outcome 'after a try', --outcome 'did not speak'.",
        )
    output.say(f"Empty answers pass, ? shows an example; {STOP} or Ctrl-C ends, nothing written.")
    mine = [(label, one) for label, one in wanted if one.saxophone == set_up.saxophone]
    try:
        asked = [_asked(label, one, set_up, known) for label, one in mine]
        trials = [one for one in asked if one is not None]
        if trials:
            confirm(f"Note {counted(len(trials), 'trial')}?")
    except (Stopped, KeyboardInterrupt) as end:
        output.say("\nstopped; nothing was written")
        raise typer.Exit(INTERRUPTED if isinstance(end, KeyboardInterrupt) else STOPPED) from None
    return trials


def _asked(
    label: str, sonority: Sonority, set_up: SetUpFile, known: dict[str, Any]
) -> Trial | None:
    from reedchord.exchange.typed_trial import QUESTIONS, checked_trial
    from reedchord.trials.doubts import trial_doubts
    from reedchord.trials.trial_fields import Outcome

    output.say(f"\n{f'{label}  ' if label else ''}{sonority.id}: {sonority.fingering.short()}")
    for number in reversed(sonority.numbers):
        output.say(f"  {number}: {sonority.written(number).printed()}")
    data: dict[str, Any] = {**known, "sonority": sonority.id}
    trial: Trial | None = None

    def take(question: TrialQuestion, text: str) -> list[str]:
        nonlocal trial
        before = set(trial_doubts(sonority, trial)) if trial else set()
        new = {**data, question.field: question.read(text)}
        trial = checked_trial({"outcome": "spoke", **new}, sonority, set_up)
        data.update(new)
        return [f"note: {one}" for one in trial_doubts(sonority, trial) if one not in before]

    for question in QUESTIONS:
        silent = data.get("outcome") in (Outcome.DID_NOT_SPEAK, "did not")
        if question.field in known or (question.only_if_spoke and silent):
            continue
        ask(question.words, question.example, lambda text, of=question: take(of, text))  # type: ignore[misc]
        if "outcome" not in data:
            return None  # an empty answer passes the sonority over
    return trial
