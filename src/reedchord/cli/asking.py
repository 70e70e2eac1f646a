"""Questions on a terminal: asked until the answer is right, passed, or enough is enough."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable

from reedchord.cli import output
from reedchord.errors import ReedchordError

STOPPED, INTERRUPTED = 1, 130
STOP = "stop"
_YES, _NO = ("", "y", "yes"), ("n", "no")


class Stopped(Exception):  # noqa: N818 - nothing went wrong
    """The user has had enough."""


def is_terminal() -> bool:
    """Tell whether somebody can be asked."""
    return sys.stdin.isatty()


def ask(
    words: str,
    example: str,
    take: Callable[[str], Iterable[str]],
    *,
    needed: bool = False,
    default: str = "",
) -> None:
    """Ask until the answer is right, or passed where nothing is needed.

    `take` keeps the answer and returns what is echoed; it raises ReedchordError.
    """
    while True:
        text = answer(f"{words}{f' [{default}]' if default else ''}") or default
        if text == "?":
            output.say(f"  for example: {example}")
        elif not text and needed:
            output.say(f"  this is needed; for example: {example}")
        elif not text:
            return
        else:
            try:
                echoed = take(text)
            except ReedchordError as error:
                output.say(_indented(str(error)))
                continue
            for line in echoed:
                output.say(f"  {line}")
            return


def confirm(words: str) -> None:
    """Ask until the answer is yes or no, so that a slip loses nothing; raises Stopped at no."""
    while (said := answer(f"{words} [yes]").casefold()) not in _YES:
        if said in _NO:
            raise Stopped
        output.say("  answer yes or no")


def answer(words: str) -> str:
    """Return what somebody types; raises Stopped at the end of input and at `stop`."""
    sys.stderr.write(f"{words}\n> ")
    sys.stderr.flush()
    line = sys.stdin.readline()
    if not line or line.strip().casefold() == STOP:
        raise Stopped
    return line.strip()


def _indented(text: str) -> str:
    return "\n".join(f"  {line}" for line in text.splitlines())
