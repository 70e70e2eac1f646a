"""Notes on collections that are written name the file that was written."""

import pytest


@pytest.fixture
def odd(harbour):
    """A collection in which one record names a neighbour that is not there."""
    text = (harbour / "harbour-band.yaml").read_text("utf-8")
    odd = text.replace("sonority: soprano-gull, because", "sonority: soprano-gulls, because")
    assert odd != text
    (harbour / "odd.yaml").write_text(odd, "utf-8")
    return "odd.yaml"


@pytest.mark.parametrize("out", ["both.yaml", "both.json"])
def test_merging(run, odd, out):
    assert run("collection", "export", odd, "-o", "odd2.yaml")[0] == 0
    status, _, err = run("collection", "merge", odd, "odd2.yaml", "-o", out)
    assert status == 0
    assert f"note: {out}, line " in err
    assert "merged.yaml" not in err


@pytest.mark.parametrize("out", ["new.yaml", "new.json"])
def test_importing(run, odd, out):
    assert run("collection", "export", odd, "-o", "odd.csv")[0] == 0
    status, _, err = run("collection", "import", "odd.csv", "-o", out)
    assert status == 0
    assert f"note: {out}, line " in err
    assert "collection.yaml" not in err
