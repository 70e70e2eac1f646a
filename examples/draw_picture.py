"""Draw the README's pictures from the demonstration as it is now.

Run with the test extra installed: python examples/draw_picture.py
"""

from __future__ import annotations

from pathlib import Path

import verovio

from reedchord import read_collection
from reedchord.demo import PLACED, demo_files
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.diagram import sonority_diagram

BARS = "3-6"
FINGERED = "baritone-engine-room"
FOLDER = Path(__file__).parent


def main() -> None:
    """Write the placed score, the picture of its bars 3 to 6 and a fingering into this folder."""
    sonority = read_collection(shipped_path(COLLECTION))[FINGERED]
    diagram = sonority_diagram(sonority).svg
    (FOLDER / f"{FINGERED}.svg").write_text(diagram, "utf-8")
    placed, _ = demo_files()
    (FOLDER / PLACED).write_bytes(placed.data)
    toolkit = verovio.toolkit()
    toolkit.setOptions(
        {
            "scale": 40,
            "pageWidth": 2000,
            "pageMarginLeft": 150,
            "adjustPageHeight": True,
            "header": "none",
            "footer": "none",
            "xmlIdSeed": 1,
            "svgViewBox": True,
        }
    )
    toolkit.setInputFrom("xml")
    toolkit.loadData(placed.data.decode("utf-8"))
    toolkit.select({"measureRange": BARS})
    toolkit.redoLayout()
    svg = toolkit.renderToSVG(1)
    white = '<rect width="100%" height="100%" fill="white"/>'
    start = svg.index(">", svg.index("<svg")) + 1
    (FOLDER / "harbour-lights.svg").write_text(svg[:start] + white + svg[start:], "utf-8")


if __name__ == "__main__":
    main()
