"""Which measured tones go into a record: said by an option, or asked on a terminal."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from reedchord.cli import output
from reedchord.cli.asking import STOPPED, Stopped, ask, is_terminal
from reedchord.errors import RequestError

if TYPE_CHECKING:
    from reedchord.measuring.measured_tones import TakenTone
    from reedchord.measuring.measurement import Measurement


def record_of_takes(
    measured: Sequence[Measurement],
    tones: Sequence[TakenTone],
    out: Path,
    inputs: Sequence[Path],
    *,
    wish: str | None,
    name: str | None,
    dynamics: str | None,
    fingering: str | None,
    set_up: str | None,
) -> None:
    """Write the chosen tones as a record; raises RequestError for what nobody has said."""
    from reedchord.cli.collection_files import tell_what_is_unusual, write_collection
    from reedchord.collection_reading import read_collection
    from reedchord.dynamics import parse_dynamic_range
    from reedchord.exchange.added import collection_with
    from reedchord.exchange.new_ids import free_id, kebab
    from reedchord.measuring.measured_record import measured_record
    from reedchord.score_files import in_turn

    if fingering is None:
        raise RequestError(
            "measure.fingering",
            "a recording does not tell the fingering",
            hint='Say --fingering "left 1 2 3 | right 1", or --sonority ID.',
        )
    chosen = _chosen(tones, wish, measured[0])
    with in_turn(out):
        known = read_collection(out) if out.exists() else None
        wished = name or kebab(Path(measured[0].name).stem) or "take"
        record, source = measured_record(
            measured,
            chosen,
            name=name or free_id(wished, known.sonorities if known else ()),
            fingering=fingering,
            dynamics=parse_dynamic_range(dynamics) if dynamics else None,
            set_up=set_up,
        )
        source["id"] = free_id(source["id"], known.sources if known else ())
        record["source"] = {"id": source["id"]}
        text, collection = collection_with(out, record, source)
        write_collection(text, collection, out, inputs=inputs)
    tell_what_is_unusual([collection[record["id"]]])
    output.say(f"{record['id']}: tones {', '.join(tone.label for tone in chosen)}, measured")
    if dynamics is None:
        output.note(
            "nothing is said about presence: --dynamics pp-ff says what the take went through"
        )


def _chosen(
    tones: Sequence[TakenTone], wish: str | None, first: Measurement
) -> tuple[TakenTone, ...]:
    from reedchord.measuring.measured_tones import chosen_tones

    if wish is not None:
        return chosen_tones(tones, wish, first)
    if not is_terminal():
        raise RequestError(
            "measure.take",
            "nobody has said which tones go into the record",
            hint=f"Say --choose with numbers of {', '.join(str(t.number) for t in tones)}, or all.",
        )
    picked: list[TakenTone] = []

    def take(text: str) -> list[str]:
        picked[:] = chosen_tones(tones, text, first)
        return [f"tone {t.label}: {t.written or t.concert}" for t in picked]

    try:
        ask("Which of the proposed tones go into the record?", "1,3,p5 or all", take, needed=True)
    except Stopped:
        output.say("stopped; nothing was written")
        raise typer.Exit(STOPPED) from None
    return tuple(picked)
