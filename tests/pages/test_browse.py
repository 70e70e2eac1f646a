"""The page to browse before a browser sees it: whole, small, and nothing from elsewhere."""

import base64
import hashlib
import json
import re

import pytest

from reedchord.collection import Collection
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.errors import RequestError
from reedchord.pages.browse import browse_page
from reedchord.pages.browse_data import Pictures, browse_data
from reedchord.wording import CAUTIONS
from samples import HERON, sonority

BAND = read_collection(shipped_path(COLLECTION))
PAGE = browse_page(BAND)


def collection_of(*records):
    return Collection({record.id: record for record in records}, {}, "samples.yaml")


def data_of(page):
    """Return the data that stands in a page."""
    return json.loads(re.search(r'<script type="application/json".*?>(.*?)</script>', page)[1])


def test_the_same_collection_gives_the_same_bytes():
    assert browse_page(BAND) == PAGE


def test_a_collection_without_sonorities_gives_no_page():
    with pytest.raises(RequestError, match="holds no sonority"):
        browse_page(Collection({}, {}, "empty.yaml"))


def test_the_policy_allows_this_script_and_style_and_nothing_else():
    """Content Security Policy Level 3, hash-source."""
    policy = re.search(r'Content-Security-Policy" content="(.*?)"', PAGE)[1].replace("&#39;", "'")
    directives = dict(one.split(" ", 1) for one in policy.split("; "))
    assert directives["default-src"] == "'none'"
    for name, text in (
        ("style-src", re.search(r"<style>(.*?)</style>", PAGE, re.DOTALL)[1]),
        ("script-src", re.search(r"<script>(.*?)</script>", PAGE, re.DOTALL)[1]),
    ):
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert directives[name] == f"'sha256-{digest}'"


def test_nothing_is_taken_from_elsewhere():
    addresses = re.findall(r"https?://[^\s\"'<>]+", re.sub(r"<script type.*?</script>", "", PAGE))
    assert addresses == []
    assert "@import" not in PAGE
    assert "url(" not in PAGE


def test_every_sonority_is_in_the_data_with_its_pitches_and_words():
    data = data_of(PAGE)
    assert [one["id"] for one in data["sonorities"]] == [record.id for record in BAND]
    slack_water = next(one for one in data["sonorities"] if one["id"] == "alto-slack-water")
    assert [tone["cents"] for tone in slack_water["tones"]] == [5650.0, 6482.0, 7224.0]
    assert slack_water["limits"][0]["british"].startswith("single tongue: up to semiquavers")


def test_cautions_stand_at_the_foot():
    foot = PAGE[PAGE.index("<footer>") : PAGE.index("</footer>")]
    assert all(sentence in foot for sentence in CAUTIONS)


def test_data_cannot_end_its_element():
    name = "</script><!--\u2028 & </SCRIPT>"
    page = browse_page(collection_of(HERON.model_copy(update={"name": name})))
    assert page.count("</script>") == browse_page(collection_of(HERON)).count("</script>")
    assert data_of(page)["sonorities"][0]["name"] == name


def test_elements_of_pictures_are_kept_once():
    pictures = Pictures()
    assert pictures.numbers(["<a/>", "<b/>", "<a/>"]) == [0, 1, 0]
    assert pictures.table == ["<a/>", "<b/>"]


def test_filters_offer_what_there_is():
    tried = sonority("tried", "C4", evidence="tried", set_up="an invented one")
    tenor = sonority("low", "C4", saxophone="tenor")
    choices = browse_data(collection_of(tenor, tried))["choices"]
    assert choices["saxophones"] == ["alto", "tenor"]
    assert choices["evidence"] == ["invented", "tried"]
