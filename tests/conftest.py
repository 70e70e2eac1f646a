from __future__ import annotations

import os

import pytest
from hypothesis import settings

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


# The same examples everywhere, so that a machine never finds by chance what ours did not;
# REEDCHORD_RANDOM=1 looks for others.
# A busy machine is no mistake of ours: there is no deadline for an example.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("random", deadline=None)
settings.load_profile("random" if os.environ.get("REEDCHORD_RANDOM") else "steady")
