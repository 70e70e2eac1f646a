"""`reedchord tuning`: how the sonorities of a score beat with the other parts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    A4Option,
    BritishOption,
    JsonOption,
    OfferingCollection,
    PartsOption,
    PitchNamesOption,
    ScoreArgument,
    speak,
)
from reedchord.cli.pictures import refuse_other_picture, write_picture
from reedchord.pitch import A4_HZ

if TYPE_CHECKING:
    from reedchord.ensemble.ensemble import Ensemble

Option = typer.Option
NOTHING_NEAR = 1


def tuning_command(
    score: ScoreArgument,
    a4: A4Option = A4_HZ,
    part: PartsOption = None,
    only_emphasised: Annotated[
        bool,
        Option("--only-emphasised", help="Only the tone of each sonority that is brought out."),
    ] = False,
    within: Annotated[
        float | None,
        Option(
            help="Cents around every interval; else 100 around the unison, 50 around octave, "
            "fifth, twelfth and two octaves."
        ),
    ] = None,
    collection: OfferingCollection = None,
    picture: Annotated[
        Path | None, Option("--output", "-o", help="Draw it too: file.svg, .png or .pdf.")
    ] = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
) -> None:
    """Tell how the other parts beat with each sonority.

    Cents apart, beats a second, and who it is. Tones sound as their records say, the other
    parts as the keyboard does. The status is 1 where nothing comes near to any tone.
    """
    from reedchord.ensemble.ensemble_report import ensemble_data, ensemble_text

    speak(british=british, pitch_names=pitch_names)
    if picture is not None:
        refuse_other_picture(picture, (score, collection))
    found = _read(score, a4, part or [], within, only_emphasised=only_emphasised)
    nearer = None
    if collection is not None:
        from reedchord.collection_cache import cached_collection
        from reedchord.ensemble.ensemble_remedies import remedies

        nearer = remedies(found, cached_collection(collection))
    for sentence in found.left_out:
        output.note(sentence)
    if as_json:
        output.data(ensemble_data(found, nearer))
    else:
        output.result(ensemble_text(found, nearer))
    if picture is not None:
        from reedchord.ensemble.ensemble_picture import ensemble_picture

        drawn = ensemble_picture(found)
        write_picture(drawn, picture, says=drawn.title)
    if not found.pairs:
        raise typer.Exit(NOTHING_NEAR)


def _read(
    path: Path, a4_hz: float, parts: list[str], within: float | None, *, only_emphasised: bool
) -> Ensemble:
    from reedchord.ensemble.ensemble import Tuning, ensemble
    from reedchord.errors import ReedchordError, Where
    from reedchord.musicxml.document import read_score
    from reedchord.score_files import read_score_file

    file = read_score_file(path)
    for sentence in file.notes:
        output.note(sentence)
    try:
        score = read_score(file.data)
        part_ids = frozenset(score.part(name).id for name in parts)
        return ensemble(score, Tuning(a4_hz, part_ids, only_emphasised, within))
    except ReedchordError as error:
        raise error.at(Where(path=str(path))) from None
