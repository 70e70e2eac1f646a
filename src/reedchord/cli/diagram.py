"""`reedchord diagram`: a fingering as a picture of the two hands."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from reedchord.cli import output
from reedchord.cli.options import OptionalCollection, named_collection
from reedchord.cli.pictures import refuse_other_picture, write_picture

if TYPE_CHECKING:
    from reedchord.fingering import Fingering
    from reedchord.saxophones import Saxophone


def diagram_command(
    sonority: Annotated[
        str | None, typer.Argument(help="Id of a sonority in the collection.")
    ] = None,
    collection: OptionalCollection = None,
    fingering: Annotated[
        str | None,
        typer.Option(help='Instead of a sonority: "octave | left 1 2 3 | right 1".'),
    ] = None,
    saxophone: Annotated[
        str | None, typer.Option(help="Saxophone of that fingering; its keys are checked.")
    ] = None,
    out: Annotated[
        Path, typer.Option("--output", "-o", help="File.svg, .png or .pdf; - prints SVG.")
    ] = Path("-"),
    size: Annotated[
        str, typer.Option(help="footnote (12 mm high), text (20 mm) or page.")
    ] = "text",
    strip: Annotated[
        bool, typer.Option("--strip", help="One line, for use between words (5 or 8 mm high).")
    ] = False,
) -> None:
    """Draw a fingering: the two hands, pressed keys in black.

    Keys beside the six main ones have their names.
    """
    from reedchord.drawing.diagram import diagram_size, fingering_diagram
    from reedchord.fingering import fingering_remarks
    from reedchord.score_files import STANDARD_STREAM

    if str(out) != STANDARD_STREAM:
        refuse_other_picture(out, [collection])
    wished = diagram_size(size)
    if fingering is None:
        drawn = _of_sonority(sonority, collection, saxophone)
    else:
        drawn = _of_fingering(fingering, saxophone, sonority)
    for remark in fingering_remarks(drawn.fingering, drawn.saxophone):
        output.note(remark)
    picture = fingering_diagram(
        drawn.fingering, saxophone=drawn.saxophone, name=drawn.name, size=wished, strip=strip
    )
    write_picture(picture, out, says=picture.words)


class _Drawn(NamedTuple):
    """The fingering that is to be drawn, the saxophone that it is for, and its sonority's name."""

    fingering: Fingering
    saxophone: Saxophone | None
    name: str = ""


def _of_sonority(sonority: str | None, collection: Path | None, saxophone: str | None) -> _Drawn:
    from reedchord.collection_cache import cached_collection
    from reedchord.errors import RequestError

    if sonority is None:
        raise RequestError(
            "diagram.nothing",
            "a sonority is missing",
            hint='Give an id and --collection FILE, or --fingering "left 1 2 3 | right 1".',
        )
    if saxophone is not None:
        raise RequestError(
            "diagram.two-wishes",
            "--saxophone goes with --fingering; a sonority has its own saxophone",
            hint="Leave --saxophone out; `carry` shows a sonority on other saxophones.",
        )
    record = cached_collection(named_collection(collection))[sonority]
    return _Drawn(record.fingering, record.saxophone, record.label())


def _of_fingering(fingering: str, saxophone: str | None, sonority: str | None) -> _Drawn:
    from reedchord import saxophones
    from reedchord.errors import RequestError, said_by
    from reedchord.fingering_text import parse_fingering

    if sonority is not None:
        raise RequestError(
            "diagram.two-wishes",
            "a sonority and --fingering are two fingerings",
            hint="Give one of them.",
        )
    with said_by("--saxophone"):
        member = saxophones.saxophone(saxophone) if saxophone else None
    with said_by("--fingering"):
        return _Drawn(parse_fingering(fingering), member)
