"""What a search found, as text for people and as plain data for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from reedchord.choosing.judging import Judged, Meeting, Missing
from reedchord.choosing.search import Found
from reedchord.choosing.search_conditions import Heard, Verdict, gap_words, pitch_of
from reedchord.choosing.search_wish import Wish
from reedchord.pitch import signed_cents_text
from reedchord.sonority import Sonority
from reedchord.text_table import WIDTH, aligned

MOST_NEAREST = 3
INDENT = " " * 4
_UNKNOWN = "presence not known"


def found_text(found: Found, *, most: int) -> str:
    """Return at most so many results, best first, or the nearest ones and what ruled them out."""
    if found.fitting:
        return _list_text(_head(found, most), found.fitting[:most], found)
    head = f"None of {found.searched} {_sonorities(found.searched)} fits."
    if not found.ruled_out:
        return f"{head}\n"
    nearest = found.ruled_out[: min(most, MOST_NEAREST)]
    return _list_text(f"{head} The nearest:", nearest, found)


def found_data(found: Found, *, most: int) -> dict[str, Any]:
    """Return the same as plain data, ready for JSON; cents as numbers."""
    nearest = () if found.fitting else found.ruled_out[: min(most, MOST_NEAREST)]
    return {
        "searched": found.searched,
        "fitting": found.fitting_count,
        "complete": found.complete,
        "results": [judged_data(one) for one in found.fitting[:most]],
        "nearest": [judged_data(one) for one in nearest],
    }


def _sonorities(count: int) -> str:
    return "sonority" if count == 1 else "sonorities"


def _head(found: Found, most: int) -> str:
    fitting, searched = found.fitting_count, found.searched
    complete, of = found.complete, f"of {searched} {_sonorities(searched)}"
    shown = f"; the best {most}:" if fitting > most else ", best first:"
    if complete == fitting:
        return f"{fitting} {of} fit{shown}"
    return (
        f"{complete or 'None'} {of} with all wished pitches, {fitting - complete} with some{shown}"
    )


def _list_text(head: str, judged: tuple[Judged, ...], found: Found) -> str:
    lines = [head]
    for number, one in enumerate(judged, start=1):
        lines += ["", f"{number}.  {_title(one)}", *judged_lines(one, found.wish)]
    return "\n".join(lines) + "\n"


def judged_lines(one: Judged, wish: Wish) -> list[str]:
    """Return fingering, tones and reasons of one result, indented."""
    lines = [f"{INDENT}{one.sonority.fingering.short()}"]
    lines += [f"{INDENT}{line}" for line in aligned(_tone_rows(one, wish))]
    for clause in _clauses(one):
        lines += wrapped(clause)
    return lines


def wrapped(clause: str) -> list[str]:
    """Return a clause as indented lines."""
    return textwrap.wrap(
        clause,
        WIDTH,
        initial_indent=INDENT,
        subsequent_indent=INDENT + "  ",
        break_on_hyphens=False,
    )


def _title(one: Judged) -> str:
    sonority = one.sonority
    facts = f"{sonority.label()}, {sonority.saxophone}, {sonority.evidence}"
    return f"{sonority.id}: {facts}; cost {one.cost:.0f}"


def _tone_rows(one: Judged, wish: Wish) -> list[tuple[str, ...]]:
    met = [(_met_label(m, wish), *_tone_cells(one.sonority, m.tone, wish)) for m in one.met]
    missing = [_missing_cells(m, one.sonority, wish) for m in one.missing]
    label = "in addition" if wish.wanted else "sounds"
    others = [(label, *_tone_cells(one.sonority, t, wish)) for t in one.in_addition]
    return [*met, *missing, *others]


def _met_label(meeting: Meeting, wish: Wish) -> str:
    return f"{wish.words_for(meeting.wish)} met {_by(meeting.cents)}"


def _by(cents: Fraction) -> str:
    return f"by {signed_cents_text(cents).replace('-', '−')}¢" if cents else "exactly"


def _tone_cells(sonority: Sonority, tone: Heard, wish: Wish) -> tuple[str, ...]:
    kind = "written" if wish.written else "concert"
    pitch = pitch_of(sonority, tone, wish).printed()
    return f"tone {tone.number}", f"{kind} {pitch}", str(tone.presence or _UNKNOWN)


def _missing_cells(missing: Missing, sonority: Sonority, wish: Wish) -> tuple[str, ...]:
    label = f"{wish.words_for(missing.wish)} missing"
    if missing.nearest is None:
        return label, "no tone left", "", ""
    tone, pitch, _ = _tone_cells(sonority, missing.nearest.tone, wish)
    return f"{label}; nearest", tone, pitch, gap_words(missing.nearest.cents)


def _clauses(one: Judged) -> Iterator[str]:
    yield from (f"ruled out by {verdict.wish}: {verdict.words}" for verdict in one.ruled_out)
    yield from (f"{verdict.wish}: {verdict.words}" for verdict in one.notes)


def judged_data(one: Judged) -> dict[str, Any]:
    """Return one result as plain data, ready for JSON."""
    sonority = one.sonority
    return {
        "sonority": sonority.id,
        "name": sonority.name,
        "saxophone": sonority.saxophone.name,
        "evidence": str(sonority.evidence),
        "cost": round(one.cost, 3),
        "met": [_meeting_data(meeting, sonority) for meeting in one.met],
        "missing": [
            {
                "wish": str(missing.wish),
                "nearest": missing.nearest and _meeting_data(missing.nearest, sonority),
            }
            for missing in one.missing
        ],
        "in_addition": [_tone_data(tone, sonority) for tone in one.in_addition],
        "notes": [_verdict_data(verdict) for verdict in one.notes],
        "ruled_out_by": [_verdict_data(verdict) for verdict in one.ruled_out],
    }


def _meeting_data(meeting: Meeting, sonority: Sonority) -> dict[str, Any]:
    return {
        "wish": str(meeting.wish),
        "cents": float(meeting.cents),
        **_tone_data(meeting.tone, sonority),
    }


def _tone_data(tone: Heard, sonority: Sonority) -> dict[str, Any]:
    return {
        "tone": tone.number,
        "written": str(sonority.written(tone.number)),
        "concert": str(sonority.concert(tone.number)),
        "presence": tone.presence and str(tone.presence),
    }


def _verdict_data(verdict: Verdict) -> dict[str, Any]:
    return {"wish": verdict.wish, "because": verdict.words, "cost": verdict.cost}
