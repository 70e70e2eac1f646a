"""What was placed, told to people."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from reedchord.placement.place import PlacedScore
from reedchord.placement.placed import PlacedSonority
from reedchord.placement.style import Manner


def report(score: PlacedScore) -> Iterator[str]:
    """Yield a few lines for each placement of the score, in its order."""
    return (_lines(done) for done in score.placed)


def _lines(done: PlacedSonority) -> str:
    manner = "" if done.placement.manner is Manner.ORDINARY else f" {done.placement.manner}"
    sonority = done.sonority
    tones = [
        f"{sonority.written(number).printed()} (concert {sonority.concert(number).printed()})"
        + (" emphasised" if number == done.sounding.emphasised else "")
        for number in done.sounding.numbers
    ]
    kind = "concert" if done.target.pitch.is_concert else "written"
    shown = ", ".join(
        f"{tone.pitch.printed_as_shown()} {tone.cents_label}¢" for tone in done.sounding.tones
    )
    length = f", {done.placement.lasting}" if done.placement.lasting else ""
    ways = "".join(f", {way}" for way in done.placement.ways)
    other = f" ({done.other_label})" if done.other_label else ""
    return (
        f"{done.label}{manner}: {sonority.id} ({sonority.evidence}), "
        f"{done.target.where}{length}{ways}{other}\n"
        f"    {', '.join(tones)}\n"
        f"    in the score at {kind} pitch: {shown}"
    )


def changes(before: str, after: str, name: str) -> str:
    """Return the changes as a unified diff, whatever the line ends of the score are."""
    lines = difflib.unified_diff(
        before.splitlines(), after.splitlines(), name, f"{name} (changed)", lineterm=""
    )
    return "".join(f"{line}\n" for line in lines)
