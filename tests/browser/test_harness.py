"""The harness itself notices what it is there for."""

import pytest

GOOD = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>Good</title></head>
<body><main><h1>Good</h1><button>Press</button></main></body></html>
"""


@pytest.fixture
def html(tmp_path):
    def write(text):
        path = tmp_path / "page.html"
        path.write_text(text, "utf-8")
        return path

    return write


def test_a_good_page_has_no_problems(html, page_of, requests_of, axe_violations, html_problems):
    path = html(GOOD)
    page = page_of(path)
    assert requests_of(page) == []
    assert axe_violations(page) == []
    assert html_problems(path) == []


def test_a_request_is_noticed(html, page_of, requests_of):
    address = "http://localhost:9/dot.png"
    page = page_of(html(GOOD.replace("<button>", f'<img alt="dot" src="{address}"><button>')))
    assert requests_of(page) == [address]
    page.seen.complaints.clear()  # that nobody answers at this address


def test_a_nameless_button_is_noticed(html, page_of, axe_violations):
    (violation,) = axe_violations(page_of(html(GOOD.replace("Press", ""))))
    assert violation.startswith("button-name")


def test_a_misplaced_element_is_noticed(html, html_problems):
    (problem,) = html_problems(html(GOOD.replace("Press", "<p>Press</p>")))
    assert "not allowed as child" in problem
