"""A score in which nobody is known to play a saxophone: silence would be no comfort."""

from samples import RESTS

SAID = "no part says that it is for a saxophone"


def test_that_nothing_could_be_looked_at_is_said(harbour, run):
    strings = RESTS.replace(b"Saxophone", b"Violin").replace(b"saxophone", b"violin")
    (harbour / "strings.musicxml").write_bytes(strings)
    status, _, err = run("check", "strings.musicxml")
    assert status == 0
    assert f"note: strings.musicxml: {SAID}" in err
    assert SAID not in run("check", "harbour-lights.musicxml")[2]
