"""Where the files of the demonstration lie; they come with the package."""

from __future__ import annotations

from pathlib import Path

COLLECTION, SCORE, PLAN = "harbour-band.yaml", "harbour-lights.musicxml", "harbour-plan.yaml"
WISHES = "harbour-wishes.yaml"
SET_UP = "harbour-alto.yaml"


def shipped_path(name: str) -> Path:
    """Return the path of a file that comes with the package."""
    return Path(__file__).parent / "demo_data" / name
