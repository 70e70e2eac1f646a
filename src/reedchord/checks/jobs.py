"""What to check each score by: the command's options, else its folder's configuration."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from reedchord.checks.checking import Conditions
from reedchord.checks.configuration import (
    Configuration,
    found_upwards,
    parse_severity,
    quarters_per_minute,
    read_configuration,
)
from reedchord.checks.finding import Severity
from reedchord.checks.table import rules_named
from reedchord.errors import ReedchordError, Where, said_by
from reedchord.trials.trials import Trials

DEFAULT_FAIL_ON = Severity.WARNING


@dataclass(frozen=True)
class Asked:
    """What the options of the command say; what is None, or empty, the configuration says."""

    collection: Path | None = None
    tempo: str | None = None
    select: tuple[str, ...] = ()
    ignore: tuple[str, ...] = ()
    fail_on: str | None = None
    for_performance: bool = False
    configuration: Path | None = None
    trials: Trials | None = None
    usual_collection: Path | None = None
    """The collection where neither option nor configuration names one."""


@dataclass(frozen=True)
class Job:
    """One score, and what it is checked by."""

    score: Path
    collection: Path | None
    conditions: Conditions
    fail_on: Severity


def jobs(scores: Iterable[Path], asked: Asked) -> list[Job]:
    """Return a job for each score.

    Raises InputError or RequestError for what cannot be read of options and configuration.
    """
    known: dict[Path | None, Configuration | None] = {None: None}
    return list(_jobs(scores, asked, known))


def _jobs(
    scores: Iterable[Path], asked: Asked, known: dict[Path | None, Configuration | None]
) -> Iterator[Job]:
    for score in scores:
        file = asked.configuration or found_upwards(score)
        if file not in known:
            known[file] = read_configuration(file) if file else None
        configuration = known[file]
        try:
            yield _job(score, asked, configuration)
        except ReedchordError as error:
            in_file = file and not (error.where.field or "").startswith("--")
            raise (error.at(Where(path=str(file))) if in_file else error) from None


def _job(score: Path, asked: Asked, configuration: Configuration | None) -> Job:
    table = configuration.table if configuration else None
    select = asked.select or tuple((table and table.select) or ())
    ignore = asked.ignore or tuple((table and table.ignore) or ())
    tempo = asked.tempo or (table and table.tempo)
    fail_on = asked.fail_on or (table and table.fail_on)
    with said_by("--select" if asked.select else "select"):
        selected = rules_named(select) if select else None
    with said_by("--ignore" if asked.ignore else "ignore"):
        ignored = rules_named(ignore)
    with said_by("--tempo" if asked.tempo else "tempo"):
        usual_tempo = quarters_per_minute(tempo) if tempo else None
    with said_by("--fail-on" if asked.fail_on else "fail-on"):
        severity = parse_severity(fail_on) if fail_on else DEFAULT_FAIL_ON
    conditions = Conditions(
        selected,
        ignored,
        asked.for_performance or bool(table and table.for_performance),
        usual_tempo,
        asked.trials,
    )
    return Job(
        score,
        asked.collection
        or (configuration.collection if configuration else None)
        or asked.usual_collection,
        conditions,
        severity,
    )
