"""A trial added at the end of a log, which keeps every other character as it was."""

from __future__ import annotations

import codecs
import re
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ruamel.yaml.comments import CommentedMap, CommentedSeq

from reedchord.errors import RequestError
from reedchord.exchange.collection_text import dumped, json_text, styled
from reedchord.input_files import read_text
from reedchord.own_file import ENDINGS, OwnFile
from reedchord.trials.trial_fields import Trial, TrialsFile
from reedchord.trials.trials import parse_log

_MARK = codecs.BOM_UTF8.decode("utf-8")
"""At the start of files that some editors of Windows save; reading leaves it out."""
_EMPTY_LIST = re.compile(r"[ \t]*(\[[ \t]*\]|null|~)?[ \t]*(?=#|\r?\n|$)")


def trial_data(trial: Trial) -> dict[str, Any]:
    """Return a trial as the plain data of a file."""
    data = trial.model_dump(mode="json", exclude_defaults=True)
    return {name: data[name] for name in Trial.model_fields if name in data}


def log_with(file: Path, trials: Sequence[Trial], set_up: str) -> str:
    """Return the text of a log with trials at its end; one that is not there, or empty, is begun.

    Raises what reading raises, so that nothing is added to a log with mistakes in it, and
    RequestError where its list stands in brackets.
    """
    text = read_text(file, ENDINGS) if file.exists() else ""
    mark = _MARK if text and file.read_bytes().startswith(codecs.BOM_UTF8) else ""
    text = text if text.strip() else _beginning(file, set_up)
    for trial in trials:
        text = text_with(text, str(file), trial, set_up)
    return mark + text


def _beginning(file: Path, set_up: str) -> str:
    head = {"reedchord": "trials", "version": 1, "set_up": set_up}
    if file.suffix.casefold() == ".json":
        return json_text(head)
    return "".join(f"{name}: {words}\n" for name, words in head.items())


def text_with(text: str, name: str, trial: Trial, set_up: str) -> str:
    """Return the text of a log with one trial more, its file called `name`."""
    old = parse_log(text, name)
    if old.record.set_up not in (None, set_up) or "set_up" not in old.fields.data:
        trial = trial.model_copy(update={"set_up": set_up})
    new_text = _json(old, trial) if name.casefold().endswith(".json") else _yaml(old, trial)
    new = parse_log(new_text, name).record
    assert new == old.record.model_copy(update={"trials": (*old.record.trials, trial)})
    return new_text


def _json(old: OwnFile[TrialsFile], trial: Trial) -> str:
    data = dict(old.fields.data)
    data["trials"] = [*(data.get("trials") or []), trial_data(trial)]
    return json_text(data)


def _yaml(old: OwnFile[TrialsFile], trial: Trial) -> str:
    """Return the text with a trial behind the last one, before whatever follows the list."""
    text, end = old.text, "\r\n" if "\r\n" in old.text else "\n"
    text = text if text.endswith("\n") else text + end
    lines = text.splitlines(keepends=True)
    if "trials" not in old.fields.data:
        return "".join([*lines, f"{end}trials:{end}", _lines(trial, "  ", end)])
    head = old.fields.positions[("trials",)][0] - 1
    if not old.record.trials:
        lines[head] = _opened(lines[head], old, end)
        indent, at = "  ", head + 1
    else:
        indent = _indent_of_dash(lines, old)
        at = _end_of_list(lines, old, head)
    gap = end if lines[at - 1].strip() else ""
    return "".join([*lines[:at], gap, _lines(trial, indent, end), *lines[at:]])


def _opened(line: str, old: OwnFile[TrialsFile], end: str) -> str:
    """Return the line of an empty list ready for entries below it."""
    before, colon, after = line.partition(":")
    empty = _EMPTY_LIST.match(after)
    if empty is None:
        raise _in_brackets(old)
    comment = after[empty.end() :].strip()
    return f"{before}{colon}{f'  {comment}' if comment else ''}{end}"


def _indent_of_dash(lines: list[str], old: OwnFile[TrialsFile]) -> str:
    line, column = old.fields.positions[("trials", 0)]
    before = lines[line - 1][: column - 1]
    if before.strip() != "-":
        raise _in_brackets(old)
    return before[: before.index("-")]


def _end_of_list(lines: list[str], old: OwnFile[TrialsFile], head: int) -> int:
    """Return the line before which a new entry stands: that of the next field, or the end.

    Comments and empty lines right before that field belong to it.
    """
    fields = [place[0] - 1 for path, place in old.fields.positions.items() if len(path) == 1]
    after = [line for line in fields if line > head]
    if not after:
        return _without_document_end(lines)
    at = min(after)
    while lines[at - 1].lstrip().startswith("#") or not lines[at - 1].strip():
        at -= 1
    return at


def _without_document_end(lines: list[str]) -> int:
    at = len(lines)
    ends = [index for index, line in enumerate(lines) if line.rstrip() == "..."]
    return ends[-1] if ends else at


def _in_brackets(old: OwnFile[TrialsFile]) -> RequestError:
    return RequestError(
        "trial.brackets",
        "the trials stand in brackets, so nothing can be added without writing them anew",
        hint="Give each trial a line of its own that begins with a dash.",
        where=old.fields.where(("trials",), old.path),
    )


def _lines(trial: Trial, indent: str, end: str) -> str:
    row: CommentedMap = styled(trial_data(trial))
    text = textwrap.dedent(dumped(CommentedSeq([row])))
    return "".join(f"{indent}{line}{end}" if line else end for line in text.splitlines())
