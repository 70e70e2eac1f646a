"""Small music that a rule passes or finds at fault, in a notation of one line."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Example:
    """A few bars, and what a player would say of them.

    `music` holds tokens: `C5/4` a quarter note, `r/2` a rest, `bell/8` a sonority, `[C5+E5]/4`
    a chord, `|` a barline, `mf` a dynamic, `<`, `>` and `!` wedges and their end, `(` and `)`
    slurs. A value is 1, 2, 4 …, also 2., 8t (of a triplet), `long` (four whole notes) or `g`
    (grace note); `~3` adds a tremolo of three strokes. A sonority may be followed by `:slap`,
    `:tones=1+2` or `:bring=3`. `edits` replace text of the finished score, as an editor would;
    `silent` names sonorities that did not speak when the player tried them, as `bell`, or in one
    way alone, as `bell:slap`; `heard` those that did before, each with a tone as a player notes
    it: `2: p-f`, `1: none`, `2 = C5-40`.
    """

    music: str
    says: str
    tempo: int | None = 60
    saxophone: str = "alto"
    edits: tuple[tuple[str, str], ...] = ()
    for_performance: bool = False
    silent: tuple[str, ...] = ()
    heard: tuple[tuple[str, str], ...] = ()
