"""Logs of trials, and all that one set-up has tried."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from reedchord.errors import InputError, ReedchordError, Where, near_names, raise_all
from reedchord.own_file import OwnFile, parse_own_text, read_own_file
from reedchord.sonority import Sonority
from reedchord.trials.set_ups import SetUpFile, read_set_up
from reedchord.trials.trial_fields import Trial, TrialsFile

NOUN = "a log of trials"


@dataclass(frozen=True)
class Trials:
    """What one set-up has tried, oldest first."""

    set_up: SetUpFile
    trials: tuple[Trial, ...]
    warnings: tuple[str, ...] = ()

    def of(self, sonority: Sonority) -> tuple[Trial, ...]:
        """Return the trials of a sonority, oldest first."""
        if sonority.saxophone != self.set_up.saxophone:
            return ()
        return tuple(trial for trial in self.trials if trial.sonority == sonority.id)

    def unknown(self, known: Iterable[str]) -> list[str]:
        """Return sentences on trials of sonorities that are not known, with near names."""
        names = list(known)
        strange = dict.fromkeys(one.sonority for one in self.trials if one.sonority not in names)
        return [
            f"a trial of {name!r}, which is not known here{_guess(name, names)}" for name in strange
        ]


def default_log(set_up: Path) -> Path:
    """Return the log that belongs to a set-up's file where no other is named."""
    return set_up.with_name(f"{set_up.stem}-trials.yaml")


def read_trials(
    set_up: str | os.PathLike[str], log: str | os.PathLike[str] | None = None
) -> Trials:
    """Read a set-up and its log; a log that is not named may be missing.

    Raises InputError or SeveralErrors with file, line, column and field.
    """
    file = Path(set_up)
    owner = read_set_up(file)
    path = Path(log) if log is not None else default_log(file)
    if log is None and not path.exists():
        return Trials(owner, ())
    return trials_of(owner, read_log(path))


def read_log(path: str | os.PathLike[str]) -> OwnFile[TrialsFile]:
    """Read a log; raises InputError or SeveralErrors with file, line, column and field."""
    return _checked(read_own_file(TrialsFile, path, NOUN))


def parse_log(text: str, name: str = "trials.yaml") -> OwnFile[TrialsFile]:
    """Read a log from text; `name` stands in messages."""
    return _checked(parse_own_text(TrialsFile, text, name, NOUN))


def _checked(log: OwnFile[TrialsFile]) -> OwnFile[TrialsFile]:
    """Refuse trials of which nobody can tell whose they are."""
    if log.record.set_up is not None:
        return log
    errors: list[ReedchordError] = [
        InputError(
            "trial.set-up",
            "nobody says with which set-up this was tried",
            hint="Name the set-up: 'set_up: ID' at the head of the log, or in each trial.",
            where=log.fields.where(("trials", index), log.path),
        )
        for index, trial in enumerate(log.record.trials)
        if trial.set_up is None
    ]
    raise_all(errors)
    return log


def trials_of(set_up: SetUpFile, log: OwnFile[TrialsFile]) -> Trials:
    """Return what one set-up has tried, oldest first; others are told where names are near."""
    rows = [(trial.set_up or log.record.set_up, trial) for trial in log.record.trials]
    mine = sorted((one for name, one in rows if name == set_up.id), key=lambda one: one.date)
    others = dict.fromkeys(str(name) for name, _ in rows if name != set_up.id)
    near = near_names(set_up.id, others)
    warnings = [
        f"{Where(path=log.path)}: trials of {name!r}, not of {set_up.id!r}, are left out"
        for name in (near if mine else others)
    ]
    return Trials(set_up, tuple(mine), tuple(warnings))


def _guess(name: str, known: Iterable[str]) -> str:
    near = near_names(name, known, count=1)
    return f"; did you mean {near[0]}?" if near else ""
