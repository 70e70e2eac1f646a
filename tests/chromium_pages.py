"""Pages in headless Chromium: opened, clicked, checked, and never allowed to ask the network.

Where Chromium is not installed these tests are skipped and say so, unless
REEDCHORD_BROWSER=required, as in `.ci/run`. Debian's package is called chromium; nothing is
downloaded by the tests.
"""

from __future__ import annotations

import functools
import json
import os
import shutil
import subprocess
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path

import pytest

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
# Most of these keep Chromium from talking to its maker, which is not what is tested here.
ARGUMENTS = [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PATIENCE_MS = 10_000
QUICK_START = ["-Xss4m", "-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC"]  # half of the seconds


def _is_missing(what):
    if os.environ.get("REEDCHORD_BROWSER") == "required":
        pytest.fail(f"{what}, and REEDCHORD_BROWSER says that it is required")
    pytest.skip(what)


@dataclass
class Seen:
    """What a page did since it was opened."""

    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)


@pytest.fixture(scope="session")
def chromium():
    """Chromium, started once for all tests."""
    if CHROMIUM is None:
        _is_missing("Chromium is not installed (Debian: apt-get install chromium)")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def page_of(chromium):
    """Return a function that opens an HTML file; errors of its scripts fail the test."""
    contexts, watched = [], []

    def open_page(html, *, width=1280, height=900, fragment="", **more):
        context = chromium.new_context(viewport={"width": width, "height": height}, **more)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE_MS)
        page.seen = Seen()
        watched.append(page.seen)
        address = Path(html).resolve().as_uri()

        def note(request):
            if request.url.partition("#")[0] != address and not request.url.startswith("data:"):
                page.seen.requests.append(request.url)

        page.on("request", note)
        page.on("pageerror", lambda error: page.seen.complaints.append(str(error)))
        page.on(
            "console",
            lambda line: line.type == "error" and page.seen.complaints.append(line.text),
        )
        page.goto(address + (f"#{fragment}" if fragment else ""))
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert [complaint for seen in watched for complaint in seen.complaints] == []


@pytest.fixture
def requests_of():
    """Return a function that tells what a page asked for, itself and data in it aside."""

    def requests(page):
        page.wait_for_load_state("networkidle")
        return page.seen.requests

    return requests


@pytest.fixture(scope="session")
def axe_violations():
    """Return a function that lists what axe-core finds wrong in an open page, with its places."""
    axe = files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")

    def violations(page):
        page.evaluate(axe)
        found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
        return [
            f"{rule['id']}: {rule['help']}: {node['target']}"
            for rule in found
            for node in rule["nodes"]
        ]

    return violations


@pytest.fixture(scope="session")
def html_problems():
    """Return a function that lists the errors that the Nu Html Checker finds in a file.

    It is the npm package vnu-jar; REEDCHORD_VNU is the path of its vnu.jar.
    """
    jar = os.environ.get("REEDCHORD_VNU", "")
    if not Path(jar).is_file() or shutil.which("java") is None:
        _is_missing("the Nu Html Checker is not installed (npm package vnu-jar, REEDCHORD_VNU)")

    @functools.cache
    def problems_of(page):
        line = ["java", *QUICK_START, "-jar", jar, "--format", "json", "--exit-zero-always", "-"]
        done = subprocess.run(line, input=page, capture_output=True, check=True)
        return [
            f"line {message.get('lastLine')}: {message['message']}: {message.get('extract', '')}"
            for message in json.loads(done.stderr)["messages"]
            if message["type"] != "info"
        ]

    def problems(path):
        return problems_of(path.read_bytes())

    return problems
