from hypothesis import given
from hypothesis import strategies as st

from reedchord.musicxml.splice import Edit, inverse, splice, untouched_is_equal

TEXTS = st.text("ab<>é𝄪\r\n", max_size=30)


@st.composite
def texts_with_edits(draw):
    text = draw(TEXTS)
    points = sorted(draw(st.lists(st.integers(0, len(text)), max_size=8)))
    spans = zip(points[::2], points[1::2], strict=False)
    edits = [Edit(start, end, draw(st.text("xy𝄫", max_size=3))) for start, end in spans]
    return text, edits, draw(st.permutations(edits))


@given(texts_with_edits())
def test_the_inverse_brings_the_old_text_back(case):
    text, edits, _ = case
    assert splice(splice(text, edits), inverse(edits, text)) == text


@given(texts_with_edits())
def test_the_inverse_of_the_inverse_makes_the_edits_again(case):
    text, edits, _ = case
    new = splice(text, edits)
    assert splice(text, inverse(inverse(edits, text), new)) == new


@given(texts_with_edits())
def test_what_lies_outside_the_edits_is_equal(case):
    text, edits, _ = case
    new = splice(text, edits)
    assert untouched_is_equal(text, new, edits)
    assert untouched_is_equal(new, text, inverse(edits, text))


@given(texts_with_edits(), st.data())
def test_any_other_change_is_found(case, data):
    text, edits, _ = case
    new = splice(text, edits)
    kept = [index for index in range(len(text)) if not any(e.start <= index < e.end for e in edits)]
    if not kept:
        return
    index = data.draw(st.sampled_from(kept))
    moved = sum(len(e.new_text) - (e.end - e.start) for e in edits if e.end <= index)
    changed = new[: index + moved] + "#" + new[index + moved + 1 :]
    assert not untouched_is_equal(text, changed, edits)
    assert not untouched_is_equal(text, new + "#", edits)


@given(texts_with_edits())
def test_the_order_of_edits_at_different_places_does_not_matter(case):
    text, edits, shuffled = case
    if len({edit.start for edit in edits}) == len(edits):
        assert splice(text, shuffled) == splice(text, edits)


@given(TEXTS, st.text("xyz", max_size=5), st.data())
def test_letters_inserted_one_by_one_stay_in_order(text, letters, data):
    point = data.draw(st.integers(0, len(text)))
    edits = [Edit(point, point, letter) for letter in letters]
    assert splice(text, edits) == text[:point] + letters + text[point:]
