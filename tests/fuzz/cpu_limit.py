"""A limit to the processor time of one piece of work: what takes longer hangs."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

CPU_SECONDS = 20
"""A thousand times what a sound file takes; a busy machine does not matter."""


class TooLongError(Exception):
    """The work did not end."""


@contextmanager
def cpu_limit(seconds: int = CPU_SECONDS) -> Iterator[None]:
    """Raise TooLongError inside work that takes more processor time."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise TooLongError(f"still at work after {seconds} seconds of processor time")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
