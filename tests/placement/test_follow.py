"""A score that follows trials: cents renewed, swaps only by consent, history kept, strip exact."""

import pytest

from oda import trials
from reedchord.collection import Collection
from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.placement.follow import chosen_swaps, follow, followed, history_lines
from reedchord.placement.follow_report import follow_report
from reedchord.placement.place import place
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from reedchord.sonority_fields import Evidence
from samples import HERON, RESTS, at, note, score, sonority

GULL = sonority("gull", "E4-10", "Bqf4+20", "G#5", fingering="left 1 2 3 | right 1 3")
TERN = sonority("tern", "D4", "A5", fingering="left 1 3 | right 1 3")
BAND = Collection({one.id: one for one in (HERON, GULL, TERN)}, {}, "band")
PLACED = place(RESTS, [at(1), at(2, name="tern"), at(3, emphasised="G#5-12")], BAND).data

SPOKE = "date: 2031-11-25, sonority: heron, outcome: spoke"
MEASURED = f"{SPOKE}, tones: [{{tone: 3, measured: G#5+20, uncertainty_cents: 2}}]"
SILENT = "date: 2031-11-25, sonority: heron, outcome: did not speak"


def record(data):
    return read_record(read_score(data))


def test_a_score_without_placements_has_nothing_to_follow():
    with pytest.raises(RequestError, match="no sonorities of ours"):
        followed(RESTS, trials(SPOKE))


def test_cents_follow_and_labels_stay():
    mine = trials(MEASURED)
    done = follow(PLACED, followed(PLACED, mine))
    before, after = record(PLACED), record(done.placed.data)
    assert [row.label for row in after.placements] == [row.label for row in before.placements]
    assert str(after.sonorities["heron"].written(3)) == "G#5+20"
    assert after.sonorities["heron"].evidence is Evidence.TRIED
    assert after.sonorities["tern"] == before.sonorities["tern"]
    assert after.placements[0].cents[-1] == "20"
    assert after.placements[2].emphasised == 3  # asked for as G#5-12, which is no more
    assert done.swaps == ()


def test_the_history_says_what_changed_and_why():
    data = follow(PLACED, followed(PLACED, trials(MEASURED))).placed.data
    assert history_lines(PLACED) == []
    first, second = history_lines(data)
    assert first == (
        "Alto Saxophone, bar 1, beat 1, tone 2 emphasised: 2031-11-25, oda-alto: was heron, "
        "tone 3 was G♯5 −12¢; evidence was invented"
    )
    assert second.startswith("Alto Saxophone, bar 3, beat 1")
    assert [len(row.history) for row in record(data).placements] == [1, 0, 1]


@pytest.mark.parametrize("named", ["3", "G#5-12"])
def test_following_twice_changes_nothing_more(named):
    mine = trials(MEASURED.replace("tone: 3", f"tone: {named}"))
    once = follow(PLACED, followed(PLACED, mine)).placed
    twice = follow(once.data, followed(once.data, mine)).placed
    assert twice.data == once.data


def test_strip_gives_the_exact_score_back():
    data = follow(PLACED, followed(PLACED, trials(MEASURED))).placed.data
    assert strip(data).data == RESTS
    swapped = follow(PLACED, followed(PLACED, trials(SILENT), BAND), {"M1": GULL}).placed.data
    assert strip(swapped).data == RESTS


def test_small_differences_leave_the_pitches_alone():
    near = f"{SPOKE}, tones: [{{tone: 3, measured: G#5-8}}]"
    report = "\n".join(follow_report(followed(PLACED, trials(near))))
    assert "its cents stay: no tone was measured more than 10 cents away" in report
    assert "measured G♯5 −8¢" not in report
    assert "measured G♯5 −8¢" in "\n".join(
        follow_report(followed(PLACED, trials(near), over_cents=3))
    )
    after = record(follow(PLACED, followed(PLACED, trials(near))).placed.data)
    assert str(after.sonorities["heron"].written(3)) == "G#5-12"
    assert after.sonorities["heron"].evidence is Evidence.TRIED
    data = follow(PLACED, followed(PLACED, trials(near), over_cents=3)).placed.data
    assert str(record(data).sonorities["heron"].written(3)) == "G#5-8"


def test_what_was_not_tried_stays():
    mine = trials("date: 2031-11-25, sonority: gull, outcome: spoke")
    assert followed(PLACED, mine, BAND) == ()
    assert follow(PLACED, ()).placed.data == PLACED


def test_what_does_not_speak_is_only_offered_for_a_swap():
    found = followed(PLACED, trials(SILENT), BAND)
    assert follow(PLACED, found).placed.data == PLACED
    [one] = found
    assert [other.sonority.id for other in one.alternatives] == ["gull"]
    [told] = follow_report(found)
    assert "M1 heron: spoke in 0 of 1 trial; 2031-11-25: did not speak (oda-alto)" in told
    assert "1. gull (invented)" in told
    assert "beside tern: computed" in told
    assert "choose: --swap M1=gull, or --apply-swaps" in told


def test_a_chosen_swap_is_made_and_remembered():
    mine = trials(SILENT)
    found = followed(PLACED, mine, BAND)
    swaps = chosen_swaps(found, ["M1=gull"], BAND, mine)
    assert swaps == chosen_swaps(found, [], BAND, mine, best=True)
    done = follow(PLACED, found, swaps)
    after = record(done.placed.data)
    assert [row.wish.sonority for row in after.placements] == ["gull", "tern", "gull"]
    assert [swap.new.id for swap in done.swaps] == ["gull", "gull"]
    assert history_lines(done.placed.data)[0] == (
        "Alto Saxophone, bar 1, beat 1: 2031-11-25, oda-alto: was heron, it did not speak"
    )


def test_the_best_is_not_taken_where_it_has_no_wanted_tone():
    far = sonority("far", "C6", neighbours=[{"sonority": "heron", "because": "fingers"}])
    band = Collection({one.id: one for one in (HERON, TERN, far)}, {}, "band")
    mine = trials(SILENT)
    found = followed(PLACED, mine, band)
    [alternative] = found[0].alternatives
    assert alternative.sonority == far
    assert alternative.reasons[0].startswith("none of the tones; lacks concert ")
    assert alternative.reasons[1] == "a documented neighbour"
    assert chosen_swaps(found, [], band, mine, best=True) == {}


def test_a_tone_that_the_score_brings_out_and_that_never_came_is_told():
    row = f"{SPOKE}, dynamics: p-f, tones: [{{tone: 3, came_at: []}}]"
    mine = trials(row)
    [one] = followed(PLACED, mine, BAND)
    assert one.is_in_doubt
    [words] = one.missing
    assert words == "tone 3, G♯5 −12¢, did not come, and is brought out in bar 3, beat 1"
    assert chosen_swaps([one], [], BAND, mine, best=True) == {}
    assert chosen_swaps([one], ["M1=gull"], BAND, mine) == {"M1": GULL}


def test_a_slap_that_failed_is_told_where_the_score_asks_for_it():
    slap = SILENT.replace("25", "26") + ", attack: slap"
    data = place(RESTS, [at(1), at(2, manner="slap")], BAND).data
    [one] = followed(data, trials(SPOKE, slap), BAND)
    assert one.tried.speaks
    assert one.missing == ("it did not speak as a slap, and is slapped in bar 2, beat 1",)
    [one] = followed(PLACED, trials(SPOKE, slap), BAND)
    assert one.missing == ()


REFUSED = [
    (["M1"], "no swap"),
    (["M1=gul"], "Did you mean gull"),
    (["M1=lark"], "lark did not speak either, on 2031-11-25"),
]


@pytest.mark.parametrize(("typed", "words"), REFUSED)
def test_swaps_that_cannot_be_chosen(typed, words):
    lark = sonority("lark", "E4", "B4")
    band = Collection({**BAND.sonorities, "lark": lark}, {}, "band")
    mine = trials(SILENT, SILENT.replace("heron", "lark"))
    with pytest.raises(RequestError) as caught:
        chosen_swaps(followed(PLACED, mine, band), typed, band, mine)
    assert words in str(caught.value)


def test_a_swap_needs_a_collection_and_a_label_in_doubt():
    mine = trials(SILENT)
    found = followed(PLACED, mine)
    with pytest.raises(RequestError, match="where is gull to be found"):
        chosen_swaps(found, ["M1=gull"], None, mine)
    with pytest.raises(RequestError, match="M2 is not among"):
        follow(PLACED, found, {"M2": GULL})


def test_a_new_sonority_comes_as_it_was_tried():
    mine = trials(SILENT, MEASURED.replace("heron", "gull"))
    found = followed(PLACED, mine, BAND)
    swaps = chosen_swaps(found, ["M1=gull"], BAND, mine)
    assert swaps["M1"].evidence is Evidence.TRIED
    after = record(follow(PLACED, found, swaps).placed.data)
    assert after.sonorities["gull"].set_up == mine.set_up.words()


def test_an_edited_score_follows_where_it_can():
    edited = PLACED.replace(b"</measure>", b"<!-- mine --></measure>", 1)
    done = follow(edited, followed(edited, trials(MEASURED)))
    assert str(record(done.placed.data).sonorities["heron"].written(3)) == "G#5+20"
    assert b"<!-- mine -->" in done.placed.data


def test_where_a_chord_was_edited_its_sonority_keeps_its_record():
    written = score(note("C5") + note() * 3, note() * 4)
    placed = place(written, [at(1), at(2)], BAND).data
    start = placed.index(b"<pitch>")
    edited = placed[:start] + placed[start:].replace(b"<octave>4", b"<octave>3", 1)
    done = follow(edited, followed(edited, trials(MEASURED)))
    assert done.placed.data == edited
    assert "heron keeps its record" in done.left[0]


def test_both_sonorities_of_a_tremolo_follow():
    placed = place(RESTS, [at(1, tremolo="tern")], BAND).data
    row = "date: 2031-11-25, sonority: tern, outcome: spoke"
    mine = trials(f"{row}, tones: [{{tone: 1, measured: D4+30}}]")
    data = follow(placed, followed(placed, mine)).placed.data
    assert str(record(data).sonorities["tern"].written(1)) == "D4+30"
    assert strip(data).data == RESTS
