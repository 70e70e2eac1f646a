"""Lengths, build-ups, tremolos and slurs as one types them."""

import pytest

from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic

SCORE = "harbour-lights.musicxml"
BAND = ("-c", "harbour-band.yaml")
SLACK = ("alto-slack-water", *BAND, "--part", "Alto Saxophone", "--bar", "5")


def written(path, bar, part=1):
    """Return each event of a bar: r for a rest, the number of notes for a chord, its length."""
    music = PartMusic(read_score(path.read_bytes()).parts[part])
    return [
        ("r" if event.is_rest else len(event.notes), str(event.duration_quarters))
        for event in music.bar(bar - 1).events
    ]


def test_a_length_inside_a_bar_of_rest(run, harbour):
    status, out, err = run(
        "place", SCORE, *SLACK, "--beat", "2", "--for", "quarter.", "-o", "o.xml"
    )
    assert (status, out) == (0, "")
    assert "bar 5, beat 2, quarter." in err
    assert written(harbour / "o.xml", 5) == [
        ("r", "1"),
        (3, "1"),
        (3, "1/2"),
        ("r", "1/2"),
        ("r", "1"),
    ]


def test_a_build_up_with_dynamics(run, harbour):
    arguments = ("--build-up", "--dynamics", "pp < f", "--steps", "eighth,quarter")
    status, _, err = run("place", SCORE, *SLACK, *arguments, "-o", "o.xml")
    assert status == 0
    assert "build up" in err
    assert "mf stands here already" in err
    assert written(harbour / "o.xml", 5)[0] == (1, "1/2")


def test_one_tone_brought_out_and_an_order(run, harbour):
    assert run("place", SCORE, *SLACK, "--bring-out", "-o", "o.xml")[0] == 0
    assert written(harbour / "o.xml", 5) == [(1, "1"), (3, "2"), (1, "1")]
    assert run("place", SCORE, *SLACK, "--fade", "--order", "1,3,2", "-o", "p.xml")[0] == 0
    assert written(harbour / "p.xml", 5) == [(3, "2"), (2, "1"), (1, "1")]


def test_a_tremolo_stands_in_the_footnotes_and_in_the_plan(run, harbour):
    status, _, err = run("place", SCORE, *SLACK, "--tremolo", "alto-lantern", "-o", "o.xml")
    assert status == 0
    assert "tremolo with alto-lantern (M2)" in err
    assert "in turn with M2: C5 +6¢ (concert E♭4 +6¢)" in err
    _, out, _ = run("footnotes", "o.xml")
    assert "M2  " in out
    assert "tremolo with alto-lantern" in out
    _, plan, _ = run("plan", "o.xml")
    assert "tremolo: alto-lantern" in plan
    (harbour / "held.yaml").write_text(plan, "utf-8")
    run("place", SCORE, "--plan", "held.yaml", *BAND, "-o", "again.xml")
    assert (harbour / "again.xml").read_bytes() == (harbour / "o.xml").read_bytes()
    run("strip", "o.xml", "-o", "back.xml")
    assert (harbour / "back.xml").read_bytes() == (harbour / SCORE).read_bytes()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--for", "forever"], ["'forever' tells no length", "half+eighth", "to bar 14 beat 1"]),
        (["--for", "breve"], ["a note begins on bar 6, beat 1", "to bar 6 beat 1"]),
        (["--for", "to bar 99"], ["no bar 99"]),
        (["--grace", "1"], ["no grace note number 1"]),
        (["--grace", "0"], ["grace is at least 1, not 0"]),
        (["--steps", "half"], ["leave --steps out"]),
        (["--build-up", "--order", "1,2"], ["those that sound are 1, 2, 3"]),
        (["--trill", "alto-slack-water"], ["cannot alternate with itself"]),
        (["--trill", "soprano-gull"], ["is for soprano, the part for alto"]),
        (["--dynamics", "f < p"], ["does not lead from f to p"]),
        (["--slur"], ["no sonority begins where alto-slack-water ends"]),
    ],
)
def test_what_cannot_be_is_told_in_a_sentence(run, harbour, arguments, words):
    status, out, err = run("place", SCORE, *SLACK, *arguments, "-o", "o.xml")
    assert (status, out) == (2, "")
    for expected in words:
        assert expected in " ".join(err.split())
    assert not (harbour / "o.xml").exists()


def test_a_slur_to_the_next_is_told(run, harbour):
    first, *at_5 = SLACK
    assert run("place", SCORE, first, *at_5, "--for", "half", "-o", "o.xml")[0] == 0
    status, _, err = run("place", "o.xml", "alto-lantern", *at_5, "--beat", "3", "--in-place")
    assert status == 2
    assert "Rests that were divided for sonorities count as they were before" in err
    after_it = ("alto-lantern", *at_5, "--beat", "3", "--for", "half")
    assert run("place", "o.xml", *after_it, "--in-place")[0] == 0
    status, _, err = run("place", "o.xml", *SLACK, "--for", "half", "--slur", "-o", "p.xml")
    assert status == 0
    assert "bar 5, beat 1, half, slur to the next" in err
