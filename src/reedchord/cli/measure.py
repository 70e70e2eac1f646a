"""`reedchord measure`: a recording as partials and proposed tones; the player picks."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from reedchord.cli import measure_options as given
from reedchord.cli import output
from reedchord.cli.measure_record import record_of_takes
from reedchord.cli.options import (
    A4Option,
    BritishOption,
    JsonOption,
    OptionalCollection,
    PitchNamesOption,
    named_collection,
    speak,
)
from reedchord.cli.pictures import refuse_other_picture, write_picture
from reedchord.errors import RequestError, said_by
from reedchord.pitch import A4_HZ

if TYPE_CHECKING:
    from reedchord.measuring.measured_tones import TakenTone
    from reedchord.measuring.measurement import Measurement
    from reedchord.sonority import Sonority

NOTHING_FOUND = 1


def measure_command(
    takes: given.TakesArgument,
    sonority: given.ComparedOption = None,
    collection: OptionalCollection = None,
    saxophone: given.MemberOption = None,
    a4: A4Option = A4_HZ,
    start: given.FromOption = 0.0,
    end: given.ToOption = None,
    partials: given.PartialsOption = 12,
    choose: given.ChooseOption = None,
    fingering: given.FingeringOption = None,
    dynamics: given.DynamicsOption = None,
    name: given.IdOption = None,
    set_up: given.SetUpOption = None,
    out: given.RecordOption = None,
    picture: given.PictureOption = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
) -> None:
    """Measure recordings: partials, proposed tones, presence.

    Nothing is decided silently: --choose says which tones go into a record, or you are asked.
    """
    from reedchord.acoustics.sound_reading import read_sound
    from reedchord.measuring.measure import measure
    from reedchord.measuring.measured_tones import taken_tones
    from reedchord.saxophones import saxophone as member_named
    from reedchord.trials.set_ups import read_set_up

    speak(british=british, pitch_names=pitch_names)
    _refuse_without_record(out, {"choose": choose, "dynamics": dynamics, "fingering": fingering,
                                 "id": name})  # fmt: skip
    _refuse_other_names(out, picture, takes)
    record = _record(sonority, collection)
    owner = read_set_up(set_up) if set_up else None
    with said_by("--saxophone"):
        member = member_named(saxophone) if saxophone else None
    member = member or (record.saxophone if record else owner.saxophone if owner else None)
    sounds = [read_sound(path, from_seconds=start, to_seconds=end) for path in takes]
    measured = [measure(sound, saxophone=member, a4_hz=a4) for sound in sounds]
    tones = taken_tones(measured)
    show = _data if as_json else _text
    output.result(show(measured, tones, record, partials))
    if picture:
        _draw(measured[0], picture)
    if out:
        record_of_takes(
            measured, tones, out, takes, wish=choose, name=name, dynamics=dynamics,
            fingering=fingering or (str(record.fingering) if record else None),
            set_up=owner.words() if owner else None,
        )  # fmt: skip
    if not tones:
        raise typer.Exit(NOTHING_FOUND)


def _refuse_without_record(out: Path | None, given_options: dict[str, str | None]) -> None:
    """Raise RequestError where something is said about a record that nobody wants written."""
    said = [f"--{name}" for name, text in given_options.items() if text is not None]
    if out is None and said:
        raise RequestError(
            "measure.no-output",
            f"{' and '.join(said)} tells what goes into a record, but none is written",
            hint="Name the collection to add it to: -o mine.yaml.",
        )


def _refuse_other_names(out: Path | None, picture: Path | None, takes: Sequence[Path]) -> None:
    """Raise RequestError for names that cannot be written to, before the work begins."""
    from reedchord.cli.collection_files import refuse_other_name

    refuse_other_name(out)
    if picture is not None:
        refuse_other_picture(picture, takes)


def _record(sonority: str | None, collection: Path | None) -> Sonority | None:
    from reedchord.collection_cache import cached_collection

    return cached_collection(named_collection(collection))[sonority] if sonority else None


def _text(
    measured: Sequence[Measurement],
    tones: Sequence[TakenTone],
    record: Sonority | None,
    partials: int,
) -> str:
    from reedchord.measuring.measure_report import comparison_text, measurement_text, together_text
    from reedchord.measuring.measured_tones import compared
    from reedchord.text_table import WIDTH
    from reedchord.wording import CAUTIONS

    texts = [measurement_text(one, partials=partials) for one in measured]
    if len(measured) > 1:
        texts.append(together_text(measured, tones))
    if record:
        texts.append(comparison_text(record, compared(record, tones), measured[0].a4_hz))
    cautions = [line for caution in CAUTIONS for line in textwrap.wrap(caution, WIDTH)]
    return "\n".join([*texts, *cautions]) + "\n"


def _data(
    measured: Sequence[Measurement],
    tones: Sequence[TakenTone],
    record: Sonority | None,
    _: int,
) -> str:
    from reedchord.measuring.measure_report import comparison_data, measurement_data, together_data
    from reedchord.measuring.measured_tones import compared
    from reedchord.wording import CAUTIONS

    data = {
        "takes": [measurement_data(one) for one in measured],
        "tones": together_data(tones),
        "compared": comparison_data(record, compared(record, tones)) if record else None,
        "cautions": list(CAUTIONS),
    }
    return output.data_text(data)


def _draw(take: Measurement, file: Path) -> None:
    from reedchord.measuring.measure_picture import measure_picture

    if not take.tones:
        raise RequestError("measure.picture", f"{take.name} has no tones to draw")
    drawn = measure_picture(take)
    write_picture(drawn, file, says=drawn.title)
