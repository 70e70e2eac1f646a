"""An invented player with a set-up and trials of the sample sonorities."""

from __future__ import annotations

from reedchord.own_file import parse_own_text
from reedchord.trials.set_ups import SetUpFile
from reedchord.trials.trials import Trials, parse_log, trials_of

SET_UP_TEXT = """\
reedchord: set-up
version: 1
id: oda-alto
player: O. D.  # invented
saxophone: alto
instrument: borrowed from the boathouse
reed: no. 3
"""
SET_UP = parse_own_text(SetUpFile, SET_UP_TEXT, "oda.yaml", "a set-up").record

HEAD = "reedchord: trials\nversion: 1\nset_up: oda-alto\ntrials:\n"


def trials(*rows: str) -> Trials:
    """Return what Oda tried; each row is a trial as YAML in braces, without its braces."""
    return trials_of(SET_UP, parse_log(HEAD + "".join(f"  - {{{row}}}\n" for row in rows)))
