"""A score read and written again by another library, as if a person had opened and saved it."""

from __future__ import annotations

import io
import tempfile
import warnings
from pathlib import Path

from truth.score_text import as_text, root_file


def through_music21(data: bytes) -> bytes:
    """Return a score as music21 writes it: no ids, divisions of its own, everything anew."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from music21 import converter
        from music21.musicxml.m21ToXml import GeneralObjectExporter

        score = converter.parseData(as_text(root_file(data)), format="musicxml")
        return GeneralObjectExporter(score).parse()


def through_partitura(data: bytes) -> bytes:
    """Return a score as partitura writes it: ids stay, the header, words and footnotes go."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import partitura

        score = partitura.load_musicxml(io.BytesIO(root_file(data)))
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "saved.musicxml"
            partitura.save_musicxml(score, file)
            return file.read_bytes()
