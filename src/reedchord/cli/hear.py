"""`reedchord hear`: a sonority, or bars of a score, as sound."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    A4Option,
    BarsOption,
    OptionalCollection,
    PartsOption,
    named_collection,
)
from reedchord.cli.score_input import read_or_convert
from reedchord.cli.set_up_options import LogOption, SetUpOption, record_as_tried
from reedchord.cli.target import MUSICXML_SUFFIXES
from reedchord.errors import ReedchordError, RequestError, Where
from reedchord.numbers_as_text import counted
from reedchord.pitch import A4_HZ

if TYPE_CHECKING:
    from reedchord.sounding.hear_score import ScoreWish
    from reedchord.sounding.hearing import Hearing

Option = typer.Option
MAX_SECONDS = 60.0


def hear_command(
    what: Annotated[str, typer.Argument(help="Id of a sonority, or a score with sonorities.")],
    out: Annotated[Path, Option("--output", "-o", help="File.wav, .flac or .mid.")],
    collection: OptionalCollection = None,
    at: Annotated[str | None, Option("--at", help="Dynamic mark: mf.")] = None,
    emphasise: Annotated[str | None, Option(help="Tone to bring out, by number or pitch.")] = None,
    manner: Annotated[str | None, Option(help="slap or 'very soft'.")] = None,
    build_up: Annotated[
        bool, Option("--build-up", help="Tones enter one by one, as the record says.")
    ] = False,
    seconds: Annotated[
        float | None, Option(min=0.2, max=MAX_SECONDS, help="How long it lasts; 4 as a rule.")
    ] = None,
    bars: BarsOption = None,
    part: PartsOption = None,
    alone: Annotated[bool, Option("--alone", help="Only the sonorities of a score.")] = False,
    repeats: Annotated[bool, Option("--repeats", help="Play repeats and jumps.")] = False,
    a4: A4Option = A4_HZ,
    tempered: Annotated[
        bool, Option("--tempered", help="Rounded to the keyboard, to compare.")
    ] = False,
    set_up: SetUpOption = None,
    log: LogOption = None,
) -> None:
    """Sound a sonority at its true cents, or a score.

    The other parts of a score are plain tones. Levels are a sketch from presence and dynamics,
    the timbre is no real saxophone's; pitches and beats are true to the record. MIDI leaves the
    sound to another player.
    """
    from reedchord.cli.target import refuse_overwriting
    from reedchord.collection_cache import cached_collection
    from reedchord.score_files import write_atomically
    from reedchord.sounding.hear import WayText, hear_sonority, way_from_text
    from reedchord.sounding.hear_files import heard_bytes, sound_format
    from reedchord.sounding.hear_score import ScoreWish
    from reedchord.sounding.hearing import Reading
    from reedchord.wording import CAUTIONS

    kind, reading = sound_format(out), Reading(a4, tempered)
    typed = WayText(at, emphasise, manner, build_up, seconds)
    if _is_score(what):
        of_sonority = {**asdict(typed), "set-up": set_up, "log": log}
        _refuse(of_sonority, "a score", "what stands in it is heard as it stands there")
        refuse_overwriting(out, [Path(what)])
        heard = _score(Path(what), ScoreWish(bars, part or [], alone, repeats, reading))
    else:
        of_score = {"bars": bars, "part": part, "alone": alone, "repeats": repeats}
        _refuse(of_score, "a sonority", f"there is no file {what}")
        refuse_overwriting(out, [collection])
        whole = cached_collection(named_collection(collection))
        record = record_as_tried(what, whole, set_up, log)
        heard = hear_sonority(record, way_from_text(typed, record, reading))
    for sentence in heard.told:
        output.note(sentence)
    write_atomically(out, heard_bytes(heard, kind))
    tones = counted(len(heard.tones), "tone")
    output.say(f"wrote {out}: {heard.title}, {tones}, {heard.seconds:.1f} seconds")
    output.note(CAUTIONS[1])


def _is_score(what: str) -> bool:
    path = Path(what)
    return what == "-" or path.suffix.casefold() in MUSICXML_SUFFIXES or path.is_file()


def _refuse(options: Mapping[str, object], what: str, why: str) -> None:
    given = [f"--{name.replace('_', '-')}" for name, setting in options.items() if setting]
    if given:
        raise RequestError("hear.option", f"{' and '.join(given)} cannot be said of {what}: {why}")


def _score(path: Path, wish: ScoreWish) -> Hearing:
    from reedchord.sounding.hear_score import hear_score

    file = read_or_convert(path, None, convert=False)
    for sentence in file.notes:
        output.note(sentence)
    try:
        return hear_score(file.data, wish)
    except ReedchordError as error:
        raise error.at(Where(path=str(path))) from None
