"""What was placed, told to people."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator

from reedchord.placement.place import PlacedScore
from reedchord.placement.placed import PlacedSonority
from reedchord.placement.style import Manner
from reedchord.sonority import Sonority


def report(score: PlacedScore) -> Iterator[str]:
    """Yield a few lines for each placement of the score, in its order."""
    return (_lines(done) for done in score.placed)


def _lines(done: PlacedSonority) -> str:
    manner = "" if done.placement.manner is Manner.ORDINARY else f" {done.placement.manner}"
    kind = "concert" if done.target.pitch.is_concert else "written"
    shown = ", ".join(
        f"{tone.pitch.printed_as_shown()} {tone.cents_label}¢" for tone in done.sounding.tones
    )
    length = f", {done.placement.lasting}" if done.placement.lasting else ""
    ways = "".join(f", {way}" for way in done.placement.ways)
    other = f" ({done.other_label})" if done.other_label else ""
    slur = ", slur to the next" if done.placement.slur else ""
    what = f"{done.label}{manner}: {done.sonority.id} ({done.sonority.evidence})"
    lines = [
        f"{what}, {done.target.where}{length}{ways}{other}{slur}",
        _tones(done.sonority, done.sounding.numbers, done.sounding.emphasised),
        f"in the score at {kind} pitch: {shown}",
    ]
    if done.other is not None:
        tones = _tones(done.other, done.other.numbers, done.other.emphasised_number)
        lines.append(f"in turn with {done.other_label}: {tones}")
    return "\n    ".join(lines)


def _tones(sonority: Sonority, numbers: Iterable[int], emphasised: int | None) -> str:
    return ", ".join(
        f"{sonority.written(number).printed()} (concert {sonority.concert(number).printed()})"
        + (" emphasised" if number == emphasised else "")
        for number in numbers
    )


def changes(before: str, after: str, name: str) -> str:
    """Return the changes as a unified diff, whatever the line ends of the score are."""
    lines = difflib.unified_diff(
        before.splitlines(), after.splitlines(), name, f"{name} (changed)", lineterm=""
    )
    return "".join(f"{line}\n" for line in lines)
