"""Draw examples/harbour-lights.svg, the README's picture, from the demonstration as it is now.

Run with the test extra installed: python examples/draw_picture.py
"""

from __future__ import annotations

from pathlib import Path

import verovio

from reedchord.demo import PLACED, demo_files

BARS = "3-6"
FOLDER = Path(__file__).parent


def main() -> None:
    """Write the placed score and the picture of its bars 3 to 6 into this folder."""
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
