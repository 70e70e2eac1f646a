"""Any score, any place, nothing lost: over the MusicXML files that the music21 package ships.

A slice of them by default, all with REEDCHORD_CORPUS=whole:
`REEDCHORD_CORPUS=whole python -m pytest tests/corpus -s` prints the counts.
"""

import sys
from collections import Counter

import pytest

from corpus.corpus_scores import WHOLE, chosen_scores, outcome

SCORES = chosen_scores()


@pytest.mark.parametrize("path", SCORES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_placing_anywhere_in_a_real_score(path):
    found = outcome(path)
    assert found.placed or found.refusals


def test_the_counts():
    found = [outcome(path) for path in SCORES]
    refusals = sum((one.refusals for one in found), Counter())
    music21 = Counter(one.music21 for one in found)
    placed = sum(one.placed for one in found)
    lines = [
        f"{len(found)} scores, {sum(1 for one in found if one.placed)} with something placed",
        f"{placed} placements, {sum(refusals.values())} refusals",
        *(f"  {number} {code}" for code, number in refusals.most_common()),
        f"{sum(one.read_by_music21 for one in found)} chords read back by music21; its scores:",
        *(f"  {number} {fate}" for fate, number in music21.most_common()),
    ]
    sys.stdout.write("\n" + "\n".join(lines) + "\n")
    assert placed > 2 * sum(refusals.values())
    assert placed > (6_000 if WHOLE else 400)
