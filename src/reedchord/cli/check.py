"""`reedchord check`: what in a score cannot be played or read, and what would mend it."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import typer

from reedchord.cli import output
from reedchord.cli.check_options import (
    CollectionOption,
    ConfigOption,
    FailOnOption,
    FormatOption,
    IgnoreOption,
    PerformanceOption,
    ScoresArgument,
    SelectOption,
    TempoOption,
)
from reedchord.cli.options import (
    BritishOption,
    JsonOption,
    PitchNamesOption,
    speak,
    usual_collection,
)
from reedchord.cli.set_up_options import LogOption, SetUpOption, named_trials
from reedchord.errors import RequestError

if TYPE_CHECKING:
    from reedchord.checks.jobs import Job
    from reedchord.checks.told import ScoreReport

SOMETHING_FOUND, UNREADABLE = 1, 2
_SAY_SO = "name it so in the score, or place something with --saxophone"


def check_command(
    scores: ScoresArgument,
    collection: CollectionOption = None,
    tempo: TempoOption = None,
    form: FormatOption = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
    select: SelectOption = None,
    ignore: IgnoreOption = None,
    fail_on: FailOnOption = None,
    for_performance: PerformanceOption = False,
    config: ConfigOption = None,
    set_up: SetUpOption = None,
    log: LogOption = None,
) -> None:
    """Tell what in scores cannot be played or read.

    Rules look at limits, dynamics, neighbours, breath, range, marks and traps of notation. The
    status is 0 where nothing is as bad as --fail-on (warning), 1 where something is, 2 where a
    score, or what is asked, cannot be read. A file reedchord.toml in the score's folder, or
    above it, may say the same under [check]; options go first.
    """
    from reedchord.checks.jobs import Asked, jobs
    from reedchord.checks.report_text import summary

    speak(british=british, pitch_names=pitch_names)
    write = _writer(form, as_json=as_json)
    asked = Asked(
        collection,
        tempo,
        _names(select),
        _names(ignore),
        fail_on,
        for_performance,
        config,
        named_trials(set_up, log),
        usual_collection(),
    )
    work = jobs(scores, asked)
    reports = _checked(work)
    output.result(write(reports))
    for report in reports:
        if report.error is not None:
            output.error(report.error)
        if report.is_without_saxophones:
            output.note(f"{report.path}: no part says that it is for a saxophone: {_SAY_SO}")
    output.say(summary(reports))
    if any(report.error is not None for report in reports):
        raise typer.Exit(UNREADABLE)
    if any(report.has(job.fail_on) for job, report in zip(work, reports, strict=True)):
        raise typer.Exit(SOMETHING_FOUND)


def _writer(form: str | None, *, as_json: bool) -> Callable[[list[ScoreReport]], str]:
    """Return what puts reports into a format; raises RequestError for one that is not known."""
    from reedchord.checks.report_json import json_text
    from reedchord.checks.report_sarif import sarif_text
    from reedchord.checks.report_text import report_text

    writers = {"text": report_text, "json": json_text, "sarif": sarif_text}
    if as_json and form not in (None, "json"):
        raise RequestError("check.format", f"--json and --format {form} are two formats")
    form = "json" if as_json else form or "text"
    if form not in writers:
        raise RequestError(
            "check.format", f"{form!r} is no format", hint=f"There are: {', '.join(writers)}."
        )
    return writers[form]


def _names(given: list[str] | None) -> tuple[str, ...]:
    """Return codes that were given one by one, or several in one with commas."""
    return tuple(name for text in given or () for name in text.replace(",", " ").split())


def _checked(work: Sequence[Job]) -> list[ScoreReport]:
    """Check all scores, with a progress bar where somebody watches."""
    from reedchord.checks.many_scores import check_scores

    running = check_scores(work)
    if len(work) == 1 or not sys.stderr.isatty():
        return list(running)
    with typer.progressbar(running, length=len(work), label="checking", file=sys.stderr) as bar:
        return list(bar)
