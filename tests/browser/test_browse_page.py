"""The page to browse, used as people use it: clicked, typed into, tabbed through, printed.

Which sonorities a wish must leave is computed here anew from the records, by trying all ways.
"""

from __future__ import annotations

import random
from itertools import permutations

import pytest

from reedchord.collection import Collection
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.dynamics import Dynamic
from reedchord.pages.browse import browse_page
from reedchord.pitch import parse_pitch, pitch_from_cents
from reedchord.rhythm import parse_rate
from reedchord.sonority_fields import Articulation, Presence
from samples import HERON, sonority

BAND = read_collection(shipped_path(COLLECTION))


def collection_of(*records):
    return Collection({record.id: record for record in records}, {}, "samples.yaml")


@pytest.fixture(scope="session")
def html(tmp_path_factory):
    path = tmp_path_factory.mktemp("browse") / "band.html"
    path.write_text(browse_page(BAND), "utf-8")
    return path


@pytest.fixture
def page(html, page_of):
    return page_of(html)


def press(page, name):
    page.get_by_role("button", name=name, exact=True).click()


def count(page):
    return page.get_by_role("status").inner_text()


def names(page):
    return page.locator("#list h3").all_text_contents()


def expected(keeps):
    return [record.label() for record in BAND if keeps(record)]


def sounds(record, pitches, *, within=50, at=None):
    """Whether every pitch has a tone of its own that is heard."""
    heard = [
        record.concert(number).cents
        for number, tone in enumerate(record.tones, start=1)
        if (tone.presence_at(at) if at else None) is not Presence.ABSENT
    ]
    wanted = [parse_pitch(pitch).cents for pitch in pitches]
    return any(
        all(abs(tone - pitch) <= within for tone, pitch in zip(way, wanted, strict=True))
        for way in permutations(heard, len(wanted))
    )


def test_all_sonorities_are_there_in_the_order_of_the_collection(page):
    assert count(page) == f"{len(BAND)} sonorities"
    assert names(page) == [record.label() for record in BAND]


def test_nothing_is_asked_of_the_network_and_nothing_can_be(page, requests_of):
    press(page, "F4")
    page.get_by_label("Speaks at").select_option("mf")
    assert requests_of(page) == []
    answer = "fetch('http://localhost:9/').then(() => 'let through', error => error.name)"
    assert page.evaluate(answer) == "TypeError"
    assert "Content Security Policy" in page.seen.complaints[0]
    page.seen.complaints.clear()


def test_the_page_is_good_html(html, html_problems):
    assert html_problems(html) == []


@pytest.mark.parametrize("width", [1280, 1030, 768, 390, 320])
def test_no_barrier_that_axe_knows_and_nothing_wider_than_the_screen(
    html, page_of, axe_violations, width
):
    page = page_of(html, width=width)
    press(page, "F4")
    assert axe_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    hidden = "table => table.scrollWidth - table.clientWidth"
    assert not any(table.evaluate(hidden) for table in page.locator(".tones").all())


def test_no_barrier_where_nothing_is_found(html, page_of, axe_violations):
    page = page_of(html, fragment="notes=61&within=1")
    assert count(page) == f"None of {len(BAND)} sonorities"
    assert axe_violations(page) == []


def test_pitches_from_the_keyboard(page):
    press(page, "F4")
    assert names(page) == expected(lambda record: sounds(record, ["F4"]))
    press(page, "C5")
    assert names(page) == expected(lambda record: sounds(record, ["F4", "C5"])) == ["Slack water"]
    assert page.locator(".met em").all_text_contents() == ["meets C5", "meets F4"]
    assert page.locator("#wish-words").inner_text() == "concert F4, C5 within 50 cents"
    press(page, "Take F4 out")
    assert names(page) == expected(lambda record: sounds(record, ["C5"]))


@pytest.mark.parametrize("within", [5, 20, 100])
def test_tolerance_in_cents(page, within):
    press(page, "B flat 4")
    page.get_by_label("within").fill(str(within))
    assert names(page) == expected(lambda record: sounds(record, ["Bb4"], within=within))


def test_any_octave(page):
    press(page, "C4")
    page.get_by_label("in any octave").check()
    octaves = [f"C{octave}" for octave in range(10)]
    assert names(page) == expected(lambda r: any(sounds(r, [pitch]) for pitch in octaves))
    pressed = page.locator("#keyboard [aria-pressed=true]").evaluate_all("all => all.length")
    assert pressed == len(page.locator("#keyboard button.white[aria-label^='C']").all())


def test_the_keyboard_by_keys_alone(page):
    """One stop for the tab key; arrows move, space chooses, and again takes out."""
    page.locator("#keyboard [tabindex='0']").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("PageUp")
    page.keyboard.press("Space")
    assert page.locator("#chosen").inner_text().startswith("C♯5")
    page.keyboard.press("Space")
    assert count(page) == f"{len(BAND)} sonorities"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.name") == "anyOctave"


def test_the_first_stop_leads_past_the_filters(page_of, html):
    page = page_of(html, fragment="saxophones=alto")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "results"
    assert page.evaluate("location.hash") == "#saxophones=alto"


def test_saxophones_and_words(page):
    page.get_by_label("alto", exact=True).check()
    assert names(page) == expected(lambda record: record.saxophone.name == "alto")
    page.get_by_label("Words").fill("LANTERN sharp")
    assert names(page) == ["Lantern"]
    page.get_by_role("button", name="Clear all").click()
    assert count(page) == f"{len(BAND)} sonorities"
    assert page.get_by_label("Words").input_value() == ""


def test_dynamic_rules_out_what_does_not_speak_and_tones_that_are_absent(page):
    page.get_by_label("Speaks at").select_option("p")
    speaking = {r.id for r in BAND if Dynamic.P in (r.possible_dynamics() or [Dynamic.P])}
    assert names(page) == expected(lambda record: record.id in speaking)
    press(page, "C5")
    heard = {record.id for record in BAND if sounds(record, ["C5"], at=Dynamic.P)}
    assert names(page) == expected(lambda record: record.id in speaking & heard)
    assert "Slack water" not in names(page)  # its C5 is absent at p


def is_fast(record, rate, way=None):
    """Whether a limit reaches a speed, None where nobody has said."""
    ways = [
        limit
        for limit in record.limits
        if limit.articulation is (way or limit.articulation)
        and (way or limit.articulation is not Articulation.SLUR)
    ]
    fast = [limit.fastest.attacks_per_second >= rate.attacks_per_second for limit in ways]
    return any(fast) if fast else None


@pytest.mark.parametrize(
    ("value", "beat", "tempo", "way"),
    [("eighth", "quarter", 96, None), ("16th", "quarter.", 60, None), ("half", "half", 60, "slur")],
)
def test_speed(page, value, beat, tempo, way):
    page.get_by_label("Note value", exact=True).select_option(value)
    page.get_by_label("Beat", exact=True).select_option(beat)
    page.get_by_label("Beats a minute").fill(str(tempo))
    page.get_by_label("Way of articulating").select_option(way or "")
    rate = parse_rate(f"{value} at {beat} = {tempo}")
    wished = Articulation(way) if way else None
    assert names(page) == expected(lambda record: is_fast(record, rate, wished) is not False)
    page.get_by_label("only what is known").check()
    assert names(page) == expected(lambda record: is_fast(record, rate, wished))


def test_what_nobody_has_said_is_told(page_of, tmp_path):
    path = tmp_path / "heron.html"
    path.write_text(browse_page(collection_of(HERON)), "utf-8")
    page = page_of(path, fragment="dynamic=mf&value=eighth&tempo=60")
    assert count(page) == "1 sonority; of 1 not all is known"
    assert page.locator(".unknown").inner_text() == "dynamics and speed not known"


def test_evidence(page_of, tmp_path):
    records = [
        sonority("first", "C4", evidence="invented"),
        sonority("second", "C4", evidence="tried", set_up="an invented set-up"),
    ]
    path = tmp_path / "two.html"
    path.write_text(browse_page(collection_of(*records)), "utf-8")
    page = page_of(path)
    page.get_by_label("tried").check()
    assert names(page) == ["second"]
    page.get_by_label("invented").check()
    page.get_by_label("Order").select_option("strongest evidence")
    assert names(page) == ["second", "first"]


def test_orders(page):
    order = page.get_by_label("Order")
    order.select_option("lowest tone")
    lowest = sorted(BAND, key=lambda record: min(p.cents for p in record.concert_pitches))
    assert names(page) == [record.label() for record in lowest]
    order.select_option("name")
    assert names(page) == sorted(record.label() for record in BAND)
    press(page, "C5")
    order.select_option("nearest to the chosen pitches")
    met = [r for r in BAND if sounds(r, ["C5"])]
    nearest = sorted(met, key=lambda r: min(abs(p.cents - 7200) for p in r.concert_pitches))
    assert names(page) == [record.label() for record in nearest]


def chance_sonority(number, chance):
    """Return a sonority of chance; nobody could play it."""
    heights = sorted(chance.sample(range(6000, 8400, 7), chance.randint(1, 5)))
    words = ["absent", "faint", "clear"]
    tones = [
        {"written": pitch_from_cents(cents), "presence": {"p": chance.choice(words), "f": "clear"}}
        for cents in heights
    ]
    limit = {"articulation": "single tongue", "fastest": f"16th at quarter = {40 + number}"}
    return HERON.model_validate(
        HERON.model_dump(exclude={"tones", "emphasised"})
        | {"id": f"chance-{number}", "tones": tones, "limits": [limit] if number % 3 else []}
    )


def meets(record, notes, within, mark, octaves):
    """Whether every note, in one of the octaves, has a tone of its own, by trying all ways."""
    heard = [
        record.concert(number).cents
        for number, tone in enumerate(record.tones, start=1)
        if tone.presence_at(mark) is not Presence.ABSENT
    ]
    return any(
        all(
            any(abs(tone - 100 * note - 1200 * octave) <= within for octave in octaves)
            for tone, note in zip(way, notes, strict=True)
        )
        for way in permutations(heard, len(notes))
    )


def test_any_wish_leaves_what_trying_all_ways_leaves(page_of, tmp_path):
    chance = random.Random(5)
    records = [chance_sonority(number, chance) for number in range(120)]
    path = tmp_path / "chance.html"
    path.write_text(browse_page(collection_of(*records)), "utf-8")
    page = page_of(path)
    sizes = set()
    for _ in range(40):
        notes = sorted(chance.sample(range(51, 75), chance.randint(0, 3)))
        within, mark = chance.choice([20, 60, 130]), chance.choice(["p", "f"])
        anywhere, tempo = chance.random() < 0.5, chance.randint(40, 160)
        address = f"notes={','.join(map(str, notes))}&within={within}&dynamic={mark}"
        address += f"&anyOctave={str(anywhere).lower()}&value=16th&tempo={tempo}"
        page.evaluate(f"location.hash = '{address}'; browsePage.takeAddress()")
        classes = sorted({note % 12 for note in notes}) if anywhere else notes
        rate = parse_rate(f"16th at quarter = {tempo}")
        left = [
            record.id
            for record in records
            if is_fast(record, rate) is not False
            and meets(record, classes, within, Dynamic(mark), range(12) if anywhere else [0])
            and Dynamic(mark) in record.possible_dynamics()
        ]
        assert page.evaluate("browsePage.meetings.map(one => one.sonority.id)") == left, address
        sizes.add(len(left))
    assert len(sizes) > 10


def test_the_address_holds_the_wish(page, page_of, html):
    press(page, "F4")
    page.get_by_label("alto", exact=True).check()
    page.get_by_label("Note values", exact=True).select_option("british")
    page.get_by_label("Note value", exact=True).select_option("quaver")
    page.get_by_label("Beats a minute").fill("60")
    again = page_of(html, fragment=page.evaluate("location.hash.slice(1)"))
    assert names(again) == names(page)
    assert again.locator("#wish-words").inner_text() == page.locator("#wish-words").inner_text()
    assert "quavers at crotchet = 60" in again.locator("#wish-words").inner_text()
    again.evaluate("location.hash = 'saxophones=tenor'")
    tenors = expected(lambda record: record.saxophone.name == "tenor")
    again.wait_for_function(f"document.querySelectorAll('#list h3').length === {len(tenors)}")
    assert names(again) == tenors


def test_a_broken_address_does_no_harm(page_of, html):
    page = page_of(html, fragment="notes=x,-3,61.5&tempo=fast&dynamic=loud&sort=odd&within=-1")
    assert count(page) == f"{len(BAND)} sonorities"


def accidentals(page):
    """Return the accidentals of the staff of one entry, lowest first."""
    used = page.locator(".entry", has_text="alto-slack-water").locator(".staff use")
    signs = [use.get_attribute("href") for use in used.all()]
    return [sign.removeprefix("#accidental") for sign in signs if "accidental" in sign]


def test_staff_and_words_of_an_entry(page):
    """The tones are F4+50, D5-18 and A5+24 as written, A3-50, F4-18 and C5+24 in concert."""
    entry = page.locator(".entry", has_text="alto-slack-water")
    highest = entry.locator("tbody tr").first.inner_text()
    assert highest.split("\t")[:3] == ["3", "A5 +24¢", "C5 +24¢"]
    words = entry.inner_text().replace("\u00a0", " ")
    assert "single tongue: up to 16ths at quarter = 72" in words
    assert "Kettlewick Harbour Band" in words
    assert entry.locator(".staff svg").bounding_box()["height"] > 40
    assert accidentals(page) == ["QuarterToneSharpStein", "Natural", "Natural"]
    page.get_by_label("Staff shows").select_option("concert pitch")
    assert accidentals(page) == ["QuarterToneFlatStein", "Natural", "Natural"]


def test_text_of_a_collection_is_never_markup(page_of, tmp_path):
    name = "</script><script>document.title = 'broken'</script><img src=x>"
    path = tmp_path / "odd.html"
    path.write_text(browse_page(collection_of(HERON.model_copy(update={"name": name}))), "utf-8")
    page = page_of(path)
    assert names(page) == [name]
    assert page.title() == "Sonorities of samples.yaml"
    assert page.locator("img").count() == 0


def test_print_has_all_that_was_found_and_no_filters(page_of, tmp_path):
    records = [sonority(f"bird-{number}", "C4", "G5+31") for number in range(75)]
    path = tmp_path / "many.html"
    path.write_text(browse_page(collection_of(*records)), "utf-8")
    page = page_of(path, fragment="notes=51", height=500)
    assert 0 < page.locator(".entry").count() < 75
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    assert page.locator(".entry").count() == 75
    assert page.locator("#list").is_visible()
    assert not page.locator("form").is_visible()
    assert page.locator("#wish-words").inner_text() == "concert E♭3 within 50 cents"
    assert page.locator("footer").inner_text().startswith("Before you play")


def test_many_are_drawn_only_when_looked_at(page_of, tmp_path):
    records = [sonority(f"bird-{number}", "C4", "G5+31") for number in range(1200)]
    path = tmp_path / "many.html"
    path.write_text(browse_page(collection_of(*records)), "utf-8")
    page = page_of(path)
    assert count(page) == "1,200 sonorities"
    first = page.locator(".entry").count()
    assert first < 100
    page.mouse.wheel(0, 1_000_000)
    page.wait_for_function(f"document.querySelectorAll('.entry').length > {first}")
    page.get_by_label("Words").fill("bird-1199")
    assert names(page) == ["bird-1199"]
    page.get_by_label("Words").fill("bird-1")
    more = page.get_by_role("button", name="Show more")
    before = page.locator(".entry").count()
    more.press("Enter")
    assert page.locator(".entry").count() > before
    assert page.evaluate("document.activeElement.className") == "entry"
