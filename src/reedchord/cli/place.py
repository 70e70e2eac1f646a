"""`reedchord place`: sonorities into a score."""

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    DiffOption,
    DryRunOption,
    InPlaceOption,
    PitchNamesOption,
    PlanCollectionOption,
    ScoreOutputOption,
    speak,
)
from reedchord.cli.target import chosen_target
from reedchord.cli.written_score import show_or_write

Option = typer.Option


def place_command(
    score: Annotated[Path, typer.Argument(help="MusicXML: .musicxml, .xml or .mxl; - reads it.")],
    sonority: Annotated[str | None, typer.Argument(help="Id of a sonority.")] = None,
    collection: PlanCollectionOption = None,
    plan: Annotated[
        Path | None, Option(help="File of all placements; others are taken out.")
    ] = None,
    part: Annotated[str | None, Option("--part", "-p", help="Part, by id or name.")] = None,
    bar: Annotated[str | None, Option("--bar", "-b", help="Bar's label, or @N counted.")] = None,
    beat: Annotated[str | None, Option(help="Beat from 1: 3, 2.5 or 2+1/3; else 1.")] = None,
    voice: Annotated[str | None, Option(help="Voice, where several begin there.")] = None,
    staff: Annotated[str | None, Option(help="Staff, where several begin there.")] = None,
    grace: Annotated[
        int | None, Option(help="Grace note before that beat, 1 the first of them.")
    ] = None,
    lasting: Annotated[
        str | None,
        Option("--for", help="How long: half, quarter., 3/8, or 'to bar 14 beat 1'."),
    ] = None,
    emphasised: Annotated[
        str | None, Option("--emphasise", help="Tone to bring out, by number or written pitch.")
    ] = None,
    tones: Annotated[
        str | None, Option(help="Only these tones, by number or pitch: 1,3 or F#4,G5.")
    ] = None,
    build_up: Annotated[
        bool, Option("--build-up", help="Tones enter one by one, in the record's order.")
    ] = False,
    fade: Annotated[
        bool, Option("--fade", help="Tones leave one by one, the last to enter first.")
    ] = False,
    bring_out: Annotated[
        bool, Option("--bring-out", help="The emphasised tone, then all, then it again.")
    ] = False,
    order: Annotated[
        str | None, Option(help="Order in which tones enter, by number or pitch: 2,1,3.")
    ] = None,
    steps: Annotated[
        str | None, Option(help="How long each step lasts: quarter,quarter; the whole as left.")
    ] = None,
    tremolo: Annotated[
        str | None, Option(help="Id of a sonority with which it alternates.")
    ] = None,
    trill: Annotated[str | None, Option(help="The same, called a trill.")] = None,
    slur: Annotated[
        bool, Option("--slur", help="A slur leads to the sonority that follows at once.")
    ] = False,
    dynamics: Annotated[
        str | None, Option(help="Marks with hairpins: mf, 'pp < f' or 'pp < f > pp'.")
    ] = None,
    manner: Annotated[str | None, Option(help="ordinary, slap or 'very soft'.")] = None,
    saxophone: Annotated[
        str | None, Option(help="The part's saxophone, where the score does not tell.")
    ] = None,
    carry: Annotated[
        bool, Option("--carry", help="Carry a sonority of another saxophone.")
    ] = False,
    grid: Annotated[str | None, Option(help="Finest accidental: quarter or semitone.")] = None,
    cents: Annotated[str | None, Option(help="Cents shown: first, always or never.")] = None,
    fingering: Annotated[str | None, Option(help="Fingering shown: first, always, never.")] = None,
    source: Annotated[
        str | None, Option(help="Source: first, always, never, or legend, once in the last bar.")
    ] = None,
    marking: Annotated[
        str | None, Option(help="Tones that stand back: grey, diamond or none.")
    ] = None,
    convert: Annotated[
        bool, Option("--convert", help="Read MEI, ABC, Humdrum or MIDI through music21 first.")
    ] = False,
    out: ScoreOutputOption = None,
    in_place: InPlaceOption = False,
    diff: DiffOption = False,
    dry_run: DryRunOption = False,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
) -> None:
    """Place one sonority, or all of a plan, in a score.

    Nothing else in it moves. One sonority comes beside those that the score holds, or takes the
    place of one. A plan holds all placements: those that it does not name are taken out, so
    that a changed plan gives what it gives on the score without any. `reedchord plan` writes
    the plan of a score.

    With --diff or --dry-run nothing is written, and the status is 1 if something would be.
    """
    from reedchord.cli.place_request import PlaceRequest, read_request
    from reedchord.placement.report import report

    speak(british=british, pitch_names=pitch_names)
    request = PlaceRequest(
        score=score,
        plan=plan,
        collection=collection,
        placement={
            "sonority": sonority,
            "part": part,
            "bar": bar,
            "beat": beat,
            "voice": voice,
            "staff": staff,
            "grace": grace,
            "lasting": lasting,
            "emphasised": emphasised,
            "tones": tones,
            "build_up": build_up or None,
            "fade": fade or None,
            "bring_out": bring_out or None,
            "order": order,
            "steps": steps,
            "tremolo": tremolo,
            "trill": trill,
            "slur": slur or None,
            "dynamics": dynamics,
            "manner": manner,
            "saxophone": saxophone,
            "carry": carry or None,
        },
        style={
            "grid": grid,
            "cents": cents,
            "fingering": fingering,
            "source": source,
            "marking": marking,
        },
        target=chosen_target(score, out, in_place=in_place, others=(collection, plan)),
        writes=not (diff or dry_run),
        convert=convert,
    )
    file, placed = read_request(request)
    for sentence in (*file.notes, *placed.warnings):
        output.note(sentence)
    for sentence in report(placed):
        output.say(sentence)
    target = request.target if request.writes else None
    show_or_write(placed, file, score, target, diff=diff)
