"""The command `reedchord`: its commands, and errors turned into exit statuses, once."""

from __future__ import annotations

import os
import sys
from contextvars import copy_context
from typing import NoReturn

# Looking for plugins costs pydantic a tenth of our start, and we have none.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

import typer

from reedchord.cli import output
from reedchord.cli.commands import Collections, Commands
from reedchord.cli.usage_errors import UsageError, tell_usage_error
from reedchord.errors import InputError, ReedchordError, Where

EXIT_USER_ERROR = 2
EXIT_OUR_FAULT = 70

app = typer.Typer(
    name="reedchord",
    cls=Commands,
    help="Saxophone multiphonics into MusicXML scores that a given player can really play.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
collections = typer.Typer(
    cls=Collections,
    help="Work with files of sonorities.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
app.add_typer(collections, name="collection")


@collections.callback()
def _nothing() -> None:
    pass


def _print_version(*, wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        output.result(f"reedchord {version('reedchord')}\n")
        raise typer.Exit


@app.callback()
def _options(
    show_version: bool = typer.Option(
        False,
        "--version",
        callback=lambda wanted: _print_version(wanted=wanted),
        is_eager=True,
        help="Say which version this is.",
    ),
) -> None:
    pass


def _end_without_a_file(error: OSError) -> NoReturn:
    """End with what the system says of a name that it was asked for; other faults are ours."""
    if error.filename is None:
        output.own_fault(error)
        sys.exit(EXIT_OUR_FAULT)
    where = Where(path=str(error.filename))
    output.mistakes(
        InputError("file.refused", f"the system refuses it: {error.strerror}", where=where)
    )
    sys.exit(EXIT_USER_ERROR)


def main() -> None:
    """Run the command line; user mistakes end with status 2 and a sentence, never a traceback."""
    try:
        # Who reads it is the command's own affair, and nobody's after it.
        sys.exit(copy_context().run(app, standalone_mode=False))
    except ReedchordError as error:
        output.mistakes(error)
        sys.exit(EXIT_USER_ERROR)
    except UsageError as error:
        tell_usage_error(error)
        sys.exit(EXIT_USER_ERROR)
    except KeyboardInterrupt:
        output.error("interrupted; nothing was written")
        sys.exit(130)
    except BrokenPipeError:
        output.silence()
        sys.exit(0)
    except OSError as error:
        _end_without_a_file(error)
    except Exception as error:
        output.own_fault(error)
        sys.exit(EXIT_OUR_FAULT)
