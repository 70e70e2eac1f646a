"""`reedchord browse` as typed."""

import pytest


def test_a_page_is_written_and_told(harbour, run):
    status, out, talk = run("browse", "harbour-band.yaml", "-o", "band.html")
    assert (status, out) == (0, "")
    assert talk == "wrote band.html: 16 sonorities; open it in a browser\n"
    page = (harbour / "band.html").read_text("utf-8")
    assert page.startswith("<!DOCTYPE html>")
    assert page.endswith("</html>\n")


def test_a_dash_prints_it(harbour, run):
    status, out, talk = run("browse", "harbour-band.yaml", "-o", "-")
    assert (status, talk) == (0, "")
    assert "<title>Sonorities of harbour-band.yaml</title>" in out


@pytest.mark.parametrize("name", ["band.pdf", "band"])
def test_another_format_is_refused(harbour, run, name):
    status, out, talk = run("browse", "harbour-band.yaml", "-o", name)
    assert (status, out) == (2, "")
    assert f"error: a page to browse cannot be written to {name}" in talk
    assert "ends in .html, .htm" in talk
    assert not (harbour / name).exists()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("reedchord: collection\nversion: 1\nsonorities: []\n", "holds no sonority"),
        ("reedchord: collection\nversion: 1\nsonorities:\n  - id: x\n", "line 4"),
        ("", "wrong.yaml"),
    ],
)
def test_a_collection_that_is_empty_or_wrong(harbour, run, text, said):
    (harbour / "wrong.yaml").write_text(text, "utf-8")
    status, out, talk = run("browse", "wrong.yaml", "-o", "page.html")
    assert (status, out) == (2, "")
    assert said in talk
    assert not (harbour / "page.html").exists()
