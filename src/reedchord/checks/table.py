"""All rules, in the order in which their findings are told."""

from __future__ import annotations

from reedchord.checks.rule import Rule
from reedchord.checks.rules import (
    absent_tone,
    alteration,
    assumed_tempo,
    cannot_speak,
    carried,
    concert_pitch,
    edited,
    faint_tone,
    gone,
    hard_change,
    impossible_dynamic,
    invented,
    long_breath,
    misread,
    missing_fingering,
    missing_key,
    missing_label,
    missing_source,
    no_rest,
    note_dynamics,
    older_record,
    other_saxophone,
    otherwise_tried,
    out_of_range,
    parentheses,
    repeated_ids,
    rest_beside,
    same_line,
    several_fingerings,
    several_words,
    shared_label,
    silent,
    speed_dynamic,
    split_chord,
    too_fast,
    transposition,
    unclear_repeats,
    unequal,
    unknown_chord,
    unknown_dynamic,
    unknown_limit,
)
from reedchord.errors import RequestError, did_you_mean

RULES: tuple[Rule, ...] = tuple(
    module.RULE
    for module in (
        silent,
        otherwise_tried,
        too_fast,
        speed_dynamic,
        cannot_speak,
        unknown_limit,
        impossible_dynamic,
        unknown_dynamic,
        absent_tone,
        faint_tone,
        hard_change,
        long_breath,
        no_rest,
        assumed_tempo,
        unclear_repeats,
        other_saxophone,
        missing_key,
        out_of_range,
        concert_pitch,
        transposition,
        edited,
        gone,
        shared_label,
        missing_label,
        missing_fingering,
        missing_source,
        older_record,
        carried,
        invented,
        unknown_chord,
        same_line,
        parentheses,
        alteration,
        split_chord,
        unequal,
        rest_beside,
        several_words,
        several_fingerings,
        repeated_ids,
        note_dynamics,
        misread,
    )
)

BY_CODE: dict[str, Rule] = {rule.code: rule for rule in RULES}


def rules_named(names: tuple[str, ...]) -> frozenset[str]:
    """Return the codes that some names stand for: `speed.too-fast`, or `speed` for all of them.

    Raises RequestError with near names for what is no code.
    """
    codes: set[str] = set()
    for name in names:
        mine = {code for code in BY_CODE if name in (code, code.partition(".")[0])}
        if not mine:
            subjects = {code.partition(".")[0] for code in BY_CODE}
            raise RequestError(
                "check.no-such-rule",
                f"{name!r} is no rule",
                hint=did_you_mean(name, [*BY_CODE, *sorted(subjects)]),
            )
        codes |= mine
    return frozenset(codes)
