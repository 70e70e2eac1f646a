"""Take the README's picture of the page to browse, in the Chromium that is installed.

Run with the test extra installed: python examples/draw_browse_page.py
"""

from __future__ import annotations

import io
import shutil
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.pages.browse import browse_page

PICTURE = Path(__file__).parent / "harbour-band-page.png"
WISH = "notes=65,72&within=60&dynamic=mf"


def main() -> None:
    """Write the page, open it with F4 and C5 chosen at mf, and take its picture."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        page_file = Path(folder) / "band.html"
        page_file.write_text(browse_page(read_collection(shipped_path(COLLECTION))), "utf-8")
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"))
        page = browser.new_page(viewport={"width": 1120, "height": 720})
        page.goto(f"{page_file.as_uri()}#{WISH}")
        taken = Image.open(io.BytesIO(page.screenshot()))
        browser.close()
    taken.convert("P", palette=Image.Palette.ADAPTIVE, colors=32).save(PICTURE, optimize=True)


if __name__ == "__main__":
    main()
