"""The command `reedchord`: its commands, and errors turned into exit statuses, once."""

from __future__ import annotations

import os
import sys

# Looking for plugins costs pydantic a tenth of our start, and we have none.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

import typer

from reedchord.cli import output
from reedchord.cli.browse import browse_command
from reedchord.cli.carry import carry_command
from reedchord.cli.chain import chain_command
from reedchord.cli.check import check_command
from reedchord.cli.check_collections import check_collections_command
from reedchord.cli.demo import demo_command
from reedchord.cli.diagram import diagram_command
from reedchord.cli.explore import explore_command
from reedchord.cli.export_collection import export_command
from reedchord.cli.find import find_command
from reedchord.cli.follow import follow_command
from reedchord.cli.footnotes import footnotes_command
from reedchord.cli.hear import hear_command
from reedchord.cli.import_collection import import_command
from reedchord.cli.match import match_command
from reedchord.cli.measure import measure_command
from reedchord.cli.merge_collections import merge_command
from reedchord.cli.neighbours import neighbours_command
from reedchord.cli.new_sonority import new_command
from reedchord.cli.place import place_command
from reedchord.cli.plan import plan_command
from reedchord.cli.practice import practice_command
from reedchord.cli.preview import preview_command
from reedchord.cli.sheet import sheet_command
from reedchord.cli.show import show_command
from reedchord.cli.strip import strip_command
from reedchord.cli.swap import swap_command
from reedchord.cli.trial import trial_command
from reedchord.cli.tuning import tuning_command
from reedchord.errors import ReedchordError

EXIT_USER_ERROR = 2
EXIT_OUR_FAULT = 70

app = typer.Typer(
    name="reedchord",
    help="Saxophone multiphonics into MusicXML scores that a given player can really play.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
collections = typer.Typer(
    help="Work with files of sonorities.", no_args_is_help=True, rich_markup_mode=None
)
app.add_typer(collections, name="collection")

app.command("place")(place_command)
app.command("strip")(strip_command)
app.command("swap")(swap_command)
app.command("plan")(plan_command)
app.command("check")(check_command)
app.command("carry")(carry_command)
app.command("find")(find_command)
app.command("chain")(chain_command)
app.command("neighbours")(neighbours_command)
app.command("match")(match_command)
app.command("tuning")(tuning_command)
app.command("footnotes")(footnotes_command)
app.command("show")(show_command)
app.command("diagram")(diagram_command)
app.command("preview")(preview_command)
app.command("browse")(browse_command)
app.command("sheet")(sheet_command)
app.command("hear")(hear_command)
app.command("practice")(practice_command)
app.command("explore")(explore_command)
app.command("measure")(measure_command)
app.command("trial")(trial_command)
app.command("follow")(follow_command)
app.command("demo")(demo_command)
collections.command("check")(check_collections_command)
collections.command("import")(import_command)
collections.command("export")(export_command)
collections.command("merge")(merge_command)
collections.command("new")(new_command)


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


def main() -> None:
    """Run the command line; user mistakes end with status 2 and a sentence, never a traceback."""
    try:
        app()
    except ReedchordError as error:
        output.error(str(error))
        sys.exit(EXIT_USER_ERROR)
    except KeyboardInterrupt:
        output.error("interrupted; nothing was written")
        sys.exit(130)
    except BrokenPipeError:
        output.silence()
        sys.exit(0)
    except Exception as error:
        output.own_fault(error)
        sys.exit(EXIT_OUR_FAULT)
