from __future__ import annotations

import pytest

from chromium_pages import (  # noqa: F401 - fixtures for every room
    axe_violations,
    chromium,
    html_problems,
    page_of,
    requests_of,
)


@pytest.fixture(autouse=True)
def _cache_of_its_own(monkeypatch, tmp_path_factory):
    """No test reads or writes the cache of whoever runs it."""
    monkeypatch.setenv("REEDCHORD_CACHE", str(tmp_path_factory.mktemp("cache")))
