"""All printing: results alone on standard output, all talk on standard error."""

from __future__ import annotations

import os
import sys
import traceback

from reedchord.errors import ReedchordError, singles


def result(text: str) -> None:
    """Print a result as it is; characters that the terminal lacks become `?`."""
    stream = sys.stdout
    encoding = stream.encoding or "utf-8"
    stream.write(text.encode(encoding, "replace").decode(encoding))
    stream.flush()


def data(content: object) -> None:
    """Print a result for programs, as JSON."""
    result(data_text(content))


def data_text(content: object) -> str:
    """Return a result for programs as the JSON that is printed."""
    import json

    return json.dumps(content, ensure_ascii=False, indent=2) + "\n"


def say(sentence: str) -> None:
    """Tell the user what was done."""
    _talk(sentence)


def note(sentence: str) -> None:
    """Tell the user something to look at."""
    _talk(f"note: {sentence}")


def error(sentence: str) -> None:
    """Tell the user what is wrong."""
    _talk(f"error: {sentence}")


def mistakes(error: ReedchordError) -> None:
    """Tell the user each mistake that was found."""
    for one in singles(error):
        _talk(f"error: {one}")


def own_fault(fault: BaseException) -> None:
    """Own up to a fault of the program; the traceback only on request."""
    error(
        f"this is a fault in reedchord, not yours; nothing was written: "
        f"{type(fault).__name__}: {fault}"
    )
    if os.environ.get("REEDCHORD_TRACEBACK"):
        _talk("".join(traceback.format_exception(fault)))
    else:
        _talk("  Set REEDCHORD_TRACEBACK=1 and run again for a report to the developers.")


def silence() -> None:
    """Let nobody complain about a reader that went away."""
    sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115


def _talk(text: str) -> None:
    encoding = sys.stderr.encoding or "utf-8"
    sys.stderr.write(text.encode(encoding, "replace").decode(encoding) + "\n")
