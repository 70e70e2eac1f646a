"""`reedchord hear` as a musician meets it."""

import io
import re
import wave

import mido
import numpy as np
import pytest
import soundfile

from reedchord.acoustics.synthesis import LOUDEST

BAND = ("-c", "harbour-band.yaml")
SCORE = "harbour-lights-placed.musicxml"
CAUTION = "start playback at low volume"


def read_wave(path):
    """Return rate and samples from -1 to 1, with the standard library's own reader."""
    with wave.open(str(path)) as file:
        assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
        frames = file.readframes(file.getnframes())
        return file.getframerate(), np.frombuffer(frames, "<i2") / 2**15


def test_a_sonority_as_wav(harbour, run):
    status, out, err = run("hear", "alto-slack-water", *BAND, "--at", "mf", "-o", "s.wav")
    assert (status, out) == (0, "")
    assert "wrote s.wav: Slack water, mf, 3 tones, 4.1 seconds" in err
    assert CAUTION in err
    rate, samples = read_wave(harbour / "s.wav")
    assert len(samples) / rate == pytest.approx(4.06, abs=0.01)
    assert 0.01 < np.max(np.abs(samples)) <= LOUDEST + 2**-15


def test_flac_holds_the_same_samples(harbour, run):
    for name in ("s.wav", "s.FLAC"):
        assert run("hear", "alto-slack-water", *BAND, "-o", name)[0] == 0
    flac, rate = soundfile.read(io.BytesIO((harbour / "s.FLAC").read_bytes()))
    assert (harbour / "s.FLAC").read_bytes().startswith(b"fLaC")
    known, samples = read_wave(harbour / "s.wav")
    assert rate == known
    assert np.array_equal(flac, samples)


def test_midi_has_a_channel_for_each_tone(harbour, run):
    assert run("hear", "alto-slack-water", *BAND, "-o", "s.mid")[0] == 0
    file = mido.MidiFile(harbour / "s.mid")
    assert len({m.channel for m in file if m.type == "note_on"}) == 3


@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.mid"])
def test_the_same_wish_gives_the_same_bytes(harbour, run, name):
    run("hear", "alto-slack-water", *BAND, "-o", name)
    before = (harbour / name).read_bytes()
    (harbour / name).unlink()
    run("hear", "alto-slack-water", *BAND, "-o", name)
    assert (harbour / name).read_bytes() == before


def test_every_option_of_a_sonority_changes_the_sound(harbour, run):
    sounds = set()
    ways = (
        ("--at", "f"),
        ("--at", "f", "--emphasise", "3"),
        ("--at", "f", "--manner", "slap"),
        ("--at", "f", "--manner", "very soft"),
        ("--at", "f", "--build-up"),
        ("--at", "f", "--seconds", "2"),
        ("--at", "f", "--a4", "442"),
        ("--at", "f", "--tempered"),
    )
    for way in ways:
        status, _, err = run("hear", "alto-slack-water", *BAND, *way, "-o", "s.mid")
        assert status == 0, err
        sounds.add((harbour / "s.mid").read_bytes())
        run("hear", "alto-slack-water", *BAND, *way, "-o", "s.wav")
        sounds.add((harbour / "s.wav").read_bytes())
    assert len(sounds) >= 2 * len(ways) - 2  # to MIDI slap and very soft are other lengths only


def test_bars_of_a_score(harbour, run):
    status, _, err = run("hear", SCORE, "--bars", "3-4", "-o", "bars.wav")
    assert status == 0
    rate, samples = read_wave(harbour / "bars.wav")
    assert f"{len(samples) / rate:.1f} seconds" in err
    assert np.max(np.abs(samples)) <= LOUDEST + 2**-15
    assert CAUTION in err


def test_without_a_collection_the_demonstration_sounds(harbour, run):
    status, _, err = run("hear", "alto-slack-water", "-o", "s.mid")
    assert status == 0
    assert "all invented" in err


@pytest.mark.parametrize(
    ("arguments", "sentence", "hint"),
    [
        (
            ["alto-slack-water", *BAND, "-o", "s.mp3"],
            "sound cannot be written to s.mp3",
            ".wav, .flac",
        ),
        (["alto-slack-water", *BAND, "-o", "s"], "sound cannot be written to s", ".wav, .flac"),
        (["alto-slack-watr", *BAND, "-o", "s.wav"], "alto-slack-watr", "alto-slack-water"),
        (["gone.musicxml", "-o", "s.wav"], "gone.musicxml: there is no such file", ""),
        (["harbour-band.yaml", "-o", "s.wav"], "harbour-band.yaml", ""),
        ([SCORE, "--bars", "99", "-o", "s.wav"], "has no bar 99", "labelled 1 to 12"),
        ([SCORE, "--part", "Oboe", "-o", "s.wav"], "there is no part 'Oboe'", "The parts are"),
        ([SCORE, "--at", "f", "--build-up", "-o", "s.wav"], "--at and --build-up", "a score"),
        (["alto-slack-water", *BAND, "--bars", "3", "-o", "s.wav"], "--bars", "a sonority"),
        (["soprano-gull", *BAND, "--build-up", "-o", "s.wav"], "in which order", "build_up:"),
        (["alto-slack-water", *BAND, "--emphasise", "7", "-o", "s.wav"], "7 is not", "1: F"),
        ([SCORE, "-o", "no/such/s.wav"], "no/such/s.wav: cannot be written", ""),
    ],
)
def test_mistakes_are_told(harbour, run, arguments, sentence, hint):
    status, out, err = run("hear", *arguments)
    assert (status, out) == (2, "")
    assert sentence in err
    assert hint in err
    assert "Traceback" not in err
    assert not (harbour / "s.wav").exists()


def test_a_sonority_that_is_silent_at_a_dynamic(harbour, run):
    (harbour / "hush.yaml").write_text(
        "reedchord: collection\nversion: 1\nsonorities:\n"
        "  - id: hush\n    saxophone: alto\n    fingering: left 1 2\n    evidence: invented\n"
        "    tones:\n      - {written: C5, presence: {p: absent, f: clear}}\n",
        "utf-8",
    )
    status, _, err = run("hear", "hush", "-c", "hush.yaml", "--at", "p", "-o", "s.wav")
    assert status == 2
    assert "at p no tone of hush sounds: all absent\n  It speaks at f: --at f." in err


def test_an_input_is_never_overwritten(harbour, run):
    was = (harbour / SCORE).read_bytes()
    (harbour / "score.wav").write_bytes(was)
    status, _, err = run("hear", "score.wav", "-o", "score.wav")
    assert status == 2
    assert "would overwrite" in err
    assert (harbour / "score.wav").read_bytes() == was


@pytest.mark.parametrize("name", ["alto-slack-water", "soprano-halyard", "tenor-slipway"])
def test_what_is_heard_is_measured_as_the_record_says(harbour, run, name):
    # Fog signal is left out: its third tone lies 4 cents from the fifth partial of its first.
    at = "mp" if name == "soprano-halyard" else "f"
    assert run("hear", name, *BAND, "--at", at, "-o", "take.wav")[0] == 0
    _, out, err = run("measure", "take.wav", "--sonority", name, *BAND)
    compared = re.findall(r"record \d, written .*: measured tone \d, ([+−]?\d+)¢", out + err)
    assert len(compared) >= 3
    assert all(abs(int(cents.replace("−", "-"))) <= 2 for cents in compared)
