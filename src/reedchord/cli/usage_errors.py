"""Mistakes in the typing of a command, which typer finds, told as all others are."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import typer

from reedchord.cli import output
from reedchord.errors import RequestError, did_you_mean

UsageError: type[Any] = typer.BadParameter.__bases__[0]
"""What typer raises for whatever is typed wrongly; it has no public name for it."""

_NOTHING_TYPED = "NoArgsIsHelpError"
_QUOTED = "A name with spaces stands in quotation marks."
_BOUNDS = (
    (r"greater than or equal to (\S+)|range x>=(\S+?)\.?$", "at least {} is wanted"),
    (r"less than or equal to (\S+)", "at most {} is wanted"),
    (r"range (\S+?)<=x<=(\S+?)\.?$", "{} to {} is wanted"),
    (r"valid integer", "a whole number is wanted"),
    (r"valid (?:number|float)", "a number is wanted"),
)
"""What typer says of numbers, by release, and what we do."""


def tell_usage_error(error: Any) -> None:
    """Tell a mistake that typer found; whoever typed a group alone is shown its commands."""
    if type(error).__name__ == _NOTHING_TYPED:
        output.say(str(error.format_message()))
    else:
        output.mistakes(usage_error(error))


def usage_error(error: Any) -> RequestError:
    """Return a mistake that typer found in our words: what is wrong, and what would be right."""
    message, hint = _told(error)
    command = error.ctx.command_path if error.ctx else "reedchord"
    lines = [hint, f"{command} --help tells more."]
    return RequestError("usage", message, hint="\n  ".join(filter(None, lines)))


def _told(error: Any) -> tuple[str, str]:
    if (name := getattr(error, "option_name", None)) and hasattr(error, "possibilities"):
        return f"there is no option {name}", did_you_mean(name, _options(error.ctx.command))
    parameter = getattr(error, "param", None)
    if parameter is not None:
        return _of_parameter(error, parameter)
    said = str(error.format_message())
    for pattern, told in _PATTERNS.items():
        if found := re.search(pattern, said):
            return told(error, found)
    return said.rstrip("."), ""


def _of_parameter(error: Any, parameter: Any) -> tuple[str, str]:
    """Return what is wrong with an option or an argument, and what its help says of it."""
    name, about = _typed(parameter), str(parameter.help or "")
    if type(error) is not typer.BadParameter:
        return f"what is missing: {name}", f"{name}: {about}"
    for pattern, words in _BOUNDS:
        if found := re.search(pattern, error.message):
            return f"{name}: {words.format(*filter(None, found.groups()))}", about
    return f"{name}: {error.message}".rstrip("."), about


def _no_command(error: Any, found: re.Match[str]) -> tuple[str, str]:
    names = error.ctx.command.list_commands(error.ctx)
    return f"there is no command {found[1]!r}", did_you_mean(found[1], names)


def _too_many(_: Any, found: re.Match[str]) -> tuple[str, str]:
    return f"nothing is expected that reads {found[1]!r}", _QUOTED


def _without_value(_: Any, found: re.Match[str]) -> tuple[str, str]:
    return f"nothing follows {found[1]}", f"Write what it is to be: {found[1]} …"


def _with_value(_: Any, found: re.Match[str]) -> tuple[str, str]:
    return f"{found[1]} stands alone, without a value", ""


_PATTERNS: dict[str, Callable[[Any, re.Match[str]], tuple[str, str]]] = {
    r"No such command '([^']*)'": _no_command,
    r"unexpected extra argument(?:\(s\)|s)? \((.*)\)": _too_many,
    r"Option '([^']*)' requires an argument": _without_value,
    r"Option '([^']*)' does not take a value": _with_value,
}


def _typed(parameter: Any) -> str:
    """Return what is typed for a parameter: its long name, or the argument's in capitals."""
    longest = str(max(parameter.opts, key=len))
    return longest if longest.startswith("-") else longest.upper()


def _options(command: Any) -> list[str]:
    return ["--help", *(_typed(one) for one in command.params if one.opts[0].startswith("-"))]
