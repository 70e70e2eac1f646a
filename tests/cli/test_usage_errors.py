"""What is typed wrongly is told as every other mistake: how it begins, what is right, status 2."""

import pytest

SHOW = ["show", "alto-slack-water", "-c", "harbour-band.yaml"]


@pytest.mark.parametrize(
    ("arguments", "sentence", "hint"),
    [
        (["plase"], "there is no command 'plase'", "Did you mean place"),
        (["collection", "chek"], "there is no command 'chek'", "Did you mean check?"),
        (["find", "--concrt", "F4"], "there is no option --concrt", "Did you mean --concert"),
        (["--hepl"], "there is no option --hepl", "Did you mean --help?"),
        (["show"], "what is missing: SONORITY", "Id of a sonority"),
        (["browse", "harbour-band.yaml"], "what is missing: --output", "File.html"),
        (["trial", "gull"], "what is missing: --set-up", "File of the set-up"),
        ([*SHOW, "twice"], "nothing is expected that reads 'twice'", "quotation marks"),
        ([*SHOW, "--a4"], "nothing follows --a4", "Write what it is to be: --a4"),
        ([*SHOW, "--british=yes"], "--british stands alone, without a value", "--help tells more"),
        ([*SHOW, "--a4", "high"], "--a4: a number is wanted", "380 to 480"),
        (["explore", "--changes", "3"], "--changes: ", "How many changes"),
        (["explore", "--most", "0"], "--most: at least 1 is wanted", "How many fingerings"),
        (["explore", "--most", "few"], "--most: a whole number is wanted", "How many fingerings"),
        (["hear", "x", "-o", "x.wav", "--seconds", "0"], "--seconds: ", "How long"),
    ],
)
def test_what_is_typed_wrongly_is_told_like_any_other_mistake(
    harbour, run, arguments, sentence, hint
):
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert err.startswith(f"error: {sentence}")
    assert hint in err
    assert err.rstrip().endswith("--help tells more.")


@pytest.mark.parametrize("group", [[], ["collection"]])
def test_a_group_alone_shows_its_commands(run, group):
    status, _, err = run(*group)
    assert status == 2
    assert "Commands:" in err
    assert "error" not in err


def test_each_of_several_mistakes_begins_alike(harbour, run):
    text = (harbour / "harbour-band.yaml").read_text("utf-8")
    (harbour / "bad.yaml").write_text(text.replace("saxophone: alto", "saxophone: flute"), "utf-8")
    status, _, err = run("collection", "check", "bad.yaml")
    assert status == 2
    assert err.count("error: bad.yaml, line ") == text.count("saxophone: alto") > 1


@pytest.mark.parametrize(
    "arguments",
    [
        ["show", "alto-slack-water", "-c", "{}.yaml"],
        ["footnotes", "{}.xml"],
        ["place", "harbour-lights.musicxml", "--plan", "{}.yaml", "-o", "o.musicxml"],
        ["place", "{}.xml", *SHOW[1:], "-p", "P2", "-b", "5", "-o", "o.musicxml"],
        ["place", "harbour-lights.musicxml", *SHOW[1:], "-p", "P2", "-b", "5", "-o", "{}.xml"],
        ["diagram", *SHOW[1:], "-o", "{}.svg"],
        ["demo", "{}"],
    ],
    ids=lambda arguments: " ".join(arguments[:3]),
)
def test_a_name_that_no_system_allows_is_told(harbour, run, arguments):
    """Most systems allow 255 characters or bytes (POSIX: NAME_MAX)."""
    status, out, err = run(*(one.format("a" * 300) for one in arguments))
    assert (status, out) == (2, "")
    assert err.startswith("error: aaa")
    assert err.count("\n") == 1
