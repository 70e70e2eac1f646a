"""Parameters that are read plainly give what typer's own readers give."""

from __future__ import annotations

import pytest
import typer

from reedchord.cli.commands import COLLECTION_COMMANDS, COMMANDS, Collections, Commands

TYPED = ["", " ", "x", "1", "-1", " 5 ", "1.5", "1e3", "1_000", "inf", "٣", "é", "\udcff", "~", "-"]


def parameters(name, group):
    command = group.get_command(typer.Context(group), name)
    context = typer.Context(command)
    found = command.get_params(context)
    if not all(hasattr(parameter, "get_runtime_param") for parameter in found):
        pytest.skip("this release of typer builds no validators")
    return [(parameter, context) for parameter in found]


def told(reader, value, parameter, context):
    """Return what is made of a value, or what is said of it."""
    try:
        made = reader.coerce(value, param=parameter, ctx=context)
    except typer.BadParameter as error:
        return error.message
    return type(made), made


ALL = [
    *((name, Commands(commands={}, name="all")) for name in COMMANDS),
    *((name, Collections(name="all")) for name in COLLECTION_COMMANDS),
]


@pytest.mark.parametrize(("name", "group"), ALL, ids=[name for name, _ in ALL])
def test_what_is_typed_becomes_what_typer_makes_of_it(name, group):
    for parameter, context in parameters(name, group):
        plain = parameter.get_runtime_param()
        typers = plain._build()
        is_switch = parameter.type_descriptor.annotation is bool
        several = parameter.multiple or parameter.nargs != 1
        for text in [None, True, False] if is_switch else [None, *TYPED]:
            value = (text,) if several and text is not None else text
            wanted = told(typers, value, parameter, context)
            assert told(plain, value, parameter, context) == wanted, (parameter.name, value)
