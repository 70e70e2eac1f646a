"""The options of `reedchord find`: one wish each."""

from __future__ import annotations

from typing import Annotated

import typer

_Text = str | None


def _option(help_text: str, metavar: str) -> typer.models.OptionInfo:
    option: typer.models.OptionInfo = typer.Option(help=help_text, metavar=metavar)
    return option


ConcertOption = Annotated[_Text, _option("Concert pitches wished: 'F4 A5-20'.", "PITCHES")]
WrittenOption = Annotated[_Text, _option("Written pitches wished, instead.", "PITCHES")]
EmphasisedOption = Annotated[_Text, _option("Pitch that is to stand out.", "PITCH")]
PitchClassOption = Annotated[
    bool, typer.Option("--pitch-class", help="Octaves do not count; 'F A' is enough.")
]
IntervalOption = Annotated[
    _Text, _option("Semitones, each between some two tones: '7 10.5'.", "SEMITONES")
]
HighestOption = Annotated[_Text, _option("Pitch of the highest tone.", "PITCH")]
LowestOption = Annotated[_Text, _option("Pitch of the lowest tone.", "PITCH")]
TonesOption = Annotated[int | None, typer.Option(help="Number of tones that sound.")]
WithinOption = Annotated[_Text, _option("Furthest that a tone lies from a wish; 50.", "CENTS")]
SaxophoneOption = Annotated[
    list[str] | None, typer.Option(help="Member of the family, or any; may be repeated.")
]
AtOption = Annotated[_Text, _option("Mark at which the wished tones are heard.", "DYNAMIC")]
SpeedOption = Annotated[
    _Text, _option("How fast to articulate: 'eighth at quarter = 96'.", "SPEED")
]
ArticulationOption = Annotated[
    _Text, _option("How it is articulated: single tongue, slap, slur.", "WAY")
]
EvidenceOption = Annotated[_Text, _option("Weakest evidence to accept.", "EVIDENCE")]
ConnectsToOption = Annotated[_Text, _option("Sonority that it is to connect to.", "SONORITY")]
AvoidOption = Annotated[
    _Text, _option("Concert pitches of others that no tone may beat with.", "PITCHES")
]
AvoidWithinOption = Annotated[_Text, _option("How near a tone may not come to them; 50.", "CENTS")]
MostOption = Annotated[int, typer.Option(help="How many results to show.", min=1)]
