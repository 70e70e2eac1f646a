"""Texts, paths and switches as a command gets them, without a validator for each.

Typer builds one for every option of a command, given or not; forty of them take as long as
placing a sonority. Whatever else an option may be is read by typer itself.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from typer.core import TyperCommand, TyperGroup

_AS_GIVEN = (str, bool)


class PlainCommand(TyperCommand):
    """A command whose texts, paths and switches need no validator."""

    def get_params(self, ctx: Any) -> list[Any]:
        """Return the parameters of the command, its help option among them."""
        return [_read_plainly(parameter) for parameter in super().get_params(ctx)]


class PlainGroup(TyperGroup):
    """A group of commands whose own options need no validator."""

    def get_params(self, ctx: Any) -> list[Any]:
        """Return the options of the group, its help option among them."""
        return [_read_plainly(parameter) for parameter in super().get_params(ctx)]


def _read_plainly(parameter: Any) -> Any:
    """Return a parameter with a plain reader where typer would build one; older ones do not."""
    build = getattr(parameter, "get_runtime_param", None)
    if build is not None and not isinstance(build, _PlainReader):
        parameter.get_runtime_param = _PlainReader(parameter.type_descriptor.annotation, build)
    return parameter


class _PlainReader:
    """Stands in for what typer asks a parameter for: something that reads what was typed."""

    def __init__(self, annotation: Any, build: Any) -> None:
        self._annotation = annotation
        self._build = build

    def __call__(self) -> _PlainReader:
        return self

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:
        """Return what the command gets for one parameter; typer's own errors go through."""
        is_single = param.nargs == 1 and not param.multiple
        if is_single and (value is None or self._annotation in _AS_GIVEN):
            return value
        if is_single and self._annotation is Path:
            return Path(value)
        return self._build().coerce(value, param=param, ctx=ctx)
