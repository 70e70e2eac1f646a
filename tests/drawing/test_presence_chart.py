"""The chart of presence: four grades that need no colour, and what nobody has said."""

import pytest
from lxml import etree

from reedchord.drawing.presence_chart import chart_dynamics, presence_chart
from reedchord.dynamics import Dynamic
from samples import sonority

SVG = "{http://www.w3.org/2000/svg}"
TEAL = sonority("teal", "E4", "B4+20")
KNOWN = sonority(
    "known",
    "E4",
    "B4+20",
    tones=[
        {
            "written": "E4",
            "presence": {"p": "absent", "mp": "faint", "mf": "clear", "f": "dominant"},
        },
        {"written": "B4+20", "presence": {"ppp": "faint"}},
    ],
)


def test_columns_go_from_pp_to_ff_and_further_where_something_is_known():
    assert chart_dynamics(TEAL) == tuple(map(Dynamic, ("pp", "p", "mp", "mf", "f", "ff")))
    assert chart_dynamics(KNOWN)[0] is Dynamic.PPP


def signs(picture, row):
    """Return the signs of a row, the highest tone on top, by what is drawn."""
    root = etree.fromstring(picture.svg.encode())
    middle = 5.6 + 6.4 * (row + 0.5)
    found = []
    for shape in root:
        if shape.tag == f"{SVG}circle" and is_near(shape.get("cy"), middle):
            found.append("full" if shape.get("fill") == "#000" else "ring")
        elif shape.tag == f"{SVG}path" and is_near(shape.get("d").split()[1].split("a")[0], middle):
            found[-1] = "half"
        elif shape.get("d", "").endswith("h2.6") and is_near(
            shape.get("d").split()[1][:-4], middle
        ):
            found.append("dash")
        elif shape.text == "?" and abs(float(shape.get("y")) - middle) < 1.1:
            found.append("?")
    return found


def is_near(text, number):
    try:
        return float(text) == pytest.approx(number)
    except ValueError:
        return False


def test_each_grade_has_a_sign_of_its_own():
    picture = presence_chart(KNOWN)
    assert signs(picture, 1) == ["?", "?", "dash", "ring", "half", "full", "?"]
    assert signs(picture, 0) == ["ring", "?", "?", "?", "?", "?", "?"]


def test_it_is_pure_black_and_white():
    root = etree.fromstring(presence_chart(KNOWN).svg.encode())
    colours = {shape.get(name) for shape in root.iter() for name in ("fill", "stroke")}
    assert colours <= {None, "#000", "#fff"}


def test_it_says_in_words_what_it_shows():
    picture = presence_chart(KNOWN)
    assert picture.words == "B4 +20¢: ppp faint; E4: p absent, mp faint, mf clear, f dominant"
    assert presence_chart(TEAL).words == "B4 +20¢: not known; E4: not known"
