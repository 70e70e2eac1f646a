"""Small scores in which another part sounds beside the saxophone."""

from __future__ import annotations

from reedchord.placement.place import place
from samples import COLLECTION, at, note, score


def with_part(data: bytes, *bars: str, name: str = "Flute", opening: str = "") -> bytes:
    """Return a score with one more part, P2; `opening` stands in its first attributes."""
    attributes = f"<attributes><divisions>1</divisions>{opening}</attributes>"
    measures = "".join(
        f'<measure number="{number}">{attributes if number == 1 else ""}{bar}</measure>'
        for number, bar in enumerate(bars, start=1)
    )
    listed = f'<score-part id="P2"><part-name>{name}</part-name></score-part></part-list>'
    text = data.decode().replace("</part-list>", listed)
    return text.replace(
        "</score-partwise>", f'<part id="P2">{measures}</part></score-partwise>'
    ).encode()


def heron_against(*bars: str, opening: str = "", **fields: object) -> bytes:
    """Return a score with the heron on the first beat of the alto, and a second part.

    It sounds concert G3-19, D4-36 and B4-12: written E4, B4 and G#5 for alto.
    """
    base = with_part(score(note(quarters=4, type_="whole")), *bars, opening=opening)
    return place(base, [at(1, **fields)], COLLECTION).data
