"""Making very many objects that stay."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def many_objects() -> Iterator[None]:
    """Look for no garbage meanwhile: Python would look through all objects again and again."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if not gc.get_freeze_count():
            # Both together put what is new to what is old, so that nobody looks through it now.
            gc.freeze()
            gc.unfreeze()
        if was_on:
            gc.enable()
