"""A page of 2,000 invented sonorities in headless Chromium: how long it loads and filters.

`pytest -m benchmark -s` prints what this machine takes. A change of filters is timed from the
event until the frame after it is painted; the peer is the same page with all entries drawn.
"""

from __future__ import annotations

import random
import time

import pytest

from reedchord.collection import Collection
from reedchord.fingering import Amount, Fingering
from reedchord.keywork import KEYS
from reedchord.pages.browse import browse_page
from reedchord.pitch import pitch_from_cents
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority

COUNT = 2000
RUNS = 5
PAINTED = "new Promise(done => requestAnimationFrame(() => setTimeout(done)))"
CHANGE = f"""async ([selector, text]) => {{
    const control = document.querySelector(selector);
    const start = performance.now();
    if (control.tagName === 'BUTTON') control.click();
    else {{
        control.value = text;
        control.dispatchEvent(new Event('input', {{bubbles: true}}));
    }}
    await {PAINTED};
    return performance.now() - start;
}}"""
CHANGES = {
    "one note on the keyboard": ("#keyboard [data-note='65']", ""),
    "a second note": ("#keyboard [data-note='72']", ""),
    "a word": ("#text", "sharp"),
    "a dynamic": ("#dynamic", "mf"),
    "an order": ("#sort", "highest"),
}


def invented(number, chance):
    """Return a sonority of chance; nobody could play it."""
    common = [name for name in KEYS if name not in {"low A", "high F sharp", "high G"}]
    keys = sorted(chance.sample(common, 6), key=list(KEYS).index)
    heights = sorted(chance.sample(range(5800, 9000), chance.randint(2, 5)))
    return Sonority.model_validate(
        {
            "id": f"invented-{number}",
            "name": f"Invented {number}",
            "saxophone": chance.choice(list(FAMILY)),
            "fingering": Fingering(tuple((key, Amount.FULL) for key in keys)),
            "tones": [
                {
                    "written": pitch_from_cents(cents),
                    "presence": {"pp-p": "faint", "mp-f": chance.choice(["clear", "dominant"])},
                }
                for cents in heights
            ],
            "emphasised": 1,
            "limits": [
                {
                    "articulation": "single tongue",
                    "fastest": f"16th at quarter = {chance.randint(40, 100)}",
                    "dynamics": "p-f",
                }
            ],
            "evidence": "invented",
            "advice": "Invented for a measurement.",
        }
    )


@pytest.mark.benchmark
def test_load_and_filter_2000(page_of, tmp_path):
    chance = random.Random(4)
    records = [invented(number, chance) for number in range(COUNT)]
    start = time.perf_counter()
    text = browse_page(Collection({r.id: r for r in records}, {}, "invented.yaml"))
    print(f"\n{COUNT} sonorities: written in {time.perf_counter() - start:.1f} s, ", end="")
    print(f"{len(text.encode()) / 1e6:.1f} MB")
    path = tmp_path / "invented.html"
    path.write_text(text, "utf-8")
    loads = []
    for _ in range(3):
        page = page_of(path)
        page.evaluate(PAINTED)
        timing = "performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
        loads.append(page.evaluate(timing))
    print(f"  loaded and first entries drawn: {min(loads):.0f} ms")
    for name, change in CHANGES.items():
        taken = []
        for _ in range(RUNS):
            page.evaluate("document.getElementById('wish').reset()")
            page.evaluate(PAINTED)
            taken.append(page.evaluate(CHANGE, list(change)))
        taken.sort()
        print(f"  {name}: median {taken[RUNS // 2]:.0f} ms, slowest {taken[-1]:.0f} ms")
    page.evaluate("document.getElementById('wish').reset()")
    drawing = "performance.now(); browsePage.showAll(); document.body.offsetHeight;"
    everything = page.evaluate(
        f"(() => {{ const start = {drawing} return performance.now() - start }})()"
    )
    print(f"  all {COUNT} entries drawn, as for print: {everything:.0f} ms")
