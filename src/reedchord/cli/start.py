"""Where the command `reedchord` begins."""

from __future__ import annotations

import gc

OBJECTS_BEFORE_A_SEARCH = 500_000
"""All that a start makes stays; searching it for cycles again and again takes a tenth of it."""


def main() -> None:
    """Run the command line."""
    gc.set_threshold(OBJECTS_BEFORE_A_SEARCH)
    from reedchord.cli.app import main as run

    try:
        run()
    finally:
        gc.freeze()  # nor is anything searched at the end, when all of it goes
