"""What a record may not contradict, and on which line it does. Every record is invented."""

import pytest

from reedchord.collection_reading import parse_collection
from reedchord.errors import SeveralErrors
from reedchord.sonority_rules import contradictions, warnings

RECORD = """\
reedchord: collection
version: 1
sonorities:
  - id: heron
    saxophone: alto
    fingering: left 1 2 3 | right 1 2 3
    tones:
      - written: E4-19
        concert: G3-19
        presence: {p: faint, mp-f: clear}
      - written: B5+14
      - written: E6-50
    emphasised: 2
    dynamics: p-f
    limits:
      - articulation: single tongue
        fastest: 16th at quarter = 72
        dynamics: p-mf
    neighbours:
      - {sonority: heron2, because: fingers}
    build_up: [1, 3, 2]
    evidence: tried
    set_up: invented player
"""


def mistakes(*changes):
    """Return the errors of the record with some of its text exchanged."""
    text = RECORD
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    try:
        parse_collection(text, "heron.yaml")
    except SeveralErrors as several:
        return several.errors
    except Exception as error:
        return (error,)
    return ()


def test_the_record_as_it_stands_is_sound():
    assert mistakes() == ()
    assert contradictions(parse_collection(RECORD)["heron"]) == []


# What is changed, then line, column and field of the mistake, and a part of what is said.
MISTAKES = [
    # The two pitches of a tone
    (
        ("concert: G3-19", "concert: G3+19"),
        (9, 9, "tones[1].concert"),
        "written E4-19 on alto sounds G3-19, not G3+19\n  They are +38 cents apart",
    ),
    (
        ("concert: G3-19", "concert: E4-19"),
        (9, 9, "tones[1].concert"),
        "Both fields hold the same pitch",
    ),
    (
        ("E4-19\n        concert: G3-19", "G3-19\n        concert: E4-19"),
        (9, 9, "tones[1].concert"),
        "The two are exchanged.",
    ),
    (
        ("concert: G3-19", "concert: D3-19"),
        (9, 9, "tones[1].concert"),
        "They belong together on tenor: is the saxophone right?",
    ),
    (
        ("concert: G3-19", "concert: G4-19"),
        (9, 9, "tones[1].concert"),
        "an octave too high: check its octave number. Or they belong together on sopranino",
    ),
    (
        ("concert: G3-19", "concert: G1-19"),
        (9, 9, "tones[1].concert"),
        "2 octaves too low: check its octave number. Or they belong together on contrabass",
    ),
    (
        ("concert: G3-19", "concert: C4"),
        (9, 9, "tones[1].concert"),
        "Give one of the two and leave the other out.",
    ),
    (
        ("      - written: B5+14", "      - presence: {p: faint}"),
        (11, 9, "tones[2]"),
        "neither a written nor a concert pitch",
    ),
    (
        ("written: B5+14", "written: B5+320"),
        (11, 9, "tones[2].written"),
        "B##5+120 is spelled far from its step\n  Choose a nearer step, such as D6+20.",
    ),
    # The tones among each other
    (("B5+14", "E6"), (7, 5, "tones"), "not stand lowest first\n  Write them as E4-19, E6-50, E6"),
    (("B5+14", "E6-50"), (12, 9, "tones[3]"), "the tone E6-50 is listed twice"),
    (("E6-50", "C8+1"), (12, 9, "tones[3].written"), "out of reach of the alto saxophone"),
    (
        ("written: E4-19\n        concert: G3-19", "concert: B1"),
        (8, 9, "tones[1].concert"),
        "tone 1, written G#2, is out of reach",
    ),
    # Keys
    (
        ("right 1 2 3", "right 1 2 3, low A"),
        (6, 5, "fingering"),
        "the alto saxophone has no key 'low A'",
    ),
    # Emphasis, build-up
    (("emphasised: 2", "emphasised: 4"), (13, 5, "emphasised"), "4 is not among the tones"),
    (("emphasised: 2", "emphasised: F5"), (13, 5, "emphasised"), "1: E4-19, 2: B5+14, 3: E6-50"),
    (("[1, 3, 2]", "[1, 3, 4]"), (21, 22, "build_up[3]"), "names tone 4; the tones are 1 to 3"),
    (("[1, 3, 2]", "[1, 3, 1]"), (21, 22, "build_up[3]"), "names tone 1 twice"),
    # Presence and dynamics
    (
        ("mp-f: clear", "mp-fff: clear"),
        (10, 9, "tones[1].presence"),
        "clear at ff, clear at fff, but the sonority speaks only at p-f",
    ),
    (
        ("B5+14", "B5+14\n        presence: {p-f: absent}"),
        (12, 9, "tones[2].presence"),
        "the emphasised tone B5+14 is absent at every dynamic",
    ),
    (("p: faint, mp-f", "p-mf: faint, mp"), (10, 33, "tones[1].presence.mp"), "given twice"),
    (("p: faint", "px: faint"), (10, 20, "tones[1].presence.px"), "'px' is no dynamic mark"),
    (
        ("p: faint", "p: feint"),
        (10, 20, "tones[1].presence.p"),
        "'feint' is no word for presence\n  Did you mean faint?",
    ),
    # Limits
    (
        ("dynamics: p-mf", "dynamics: p-ff"),
        (18, 9, "limits[1].dynamics"),
        "allows p-ff, but the sonority speaks only at p-f",
    ),
    (
        ("    n", "      - {articulation: single tongue, fastest: 8th at half = 9}\n    n"),
        (19, 10, "limits[2].articulation"),
        "two limits for single tongue",
    ),
    (
        ("single tongue", "tongue"),
        (16, 9, "limits[1].articulation"),
        "'tongue' is no way of articulating\n  Did you mean single tongue or double tongue?",
    ),
    # Neighbours
    (
        ("sonority: heron2", "sonority: heron"),
        (20, 10, "neighbours[1].sonority"),
        "its own neighbour",
    ),
    (("because: fingers", "because: finger"), (20, 28, "neighbours[1].because"), "mean fingers"),
    # Evidence and source
    (("tried", "trid"), (22, 5, "evidence"), "'trid' is no kind of evidence\n  Did you mean tried"),
    (("tried\n    set_up: invented player", "documented"), (22, 5, "evidence"), "names its source"),
    (("tried\n    set_up: invented player", "carried"), (22, 5, "evidence"), "was carried from"),
    (("tried\n    set_up: invented player", "tried"), (22, 5, "evidence"), "set-up that it was"),
    (("tried\n    set_up: invented player", "measured"), (22, 5, "evidence"), "set-up that was"),
    (
        ("tried", "carried\n    carried_from: heron"),
        (23, 5, "carried_from"),
        "the sonority is carried from itself",
    ),
]


@pytest.mark.parametrize(("change", "place", "words"), MISTAKES)
def test_a_contradiction_is_told_with_the_line_of_its_field(change, place, words):
    (error,) = mistakes(change)
    assert (error.where.line, error.where.column, error.where.field) == place
    assert error.where.path == "heron.yaml"
    assert error.where.record == "heron"
    assert words in str(error)


def test_every_contradiction_of_a_record_is_told_at_once():
    errors = mistakes(
        ("concert: G3-19", "concert: G3"),
        ("right 1 2 3", "right 1 2 3, low A"),
        ("emphasised: 2", "emphasised: 9"),
        ("[1, 3, 2]", "[7, 7]"),
        ("p-mf", "p-ff"),
    )
    assert [(error.where.line, error.where.field) for error in errors] == [
        (6, "fingering"),
        (9, "tones[1].concert"),
        (13, "emphasised"),
        (18, "limits[1].dynamics"),
        (21, "build_up[1]"),
        (21, "build_up[2]"),
    ]


def test_a_sonority_does_not_speak_where_every_tone_is_absent():
    changes = [
        ("p: faint, mp-f: clear", "p: absent, mp-f: clear"),
        ("B5+14", "B5+14\n        presence: {p: absent}"),
        ("E6-50", "E6-50\n        presence: {p: absent}"),
    ]
    (error,) = mistakes(*changes)
    assert error.message.startswith("every tone is absent at p, yet")
    assert error.where.field == "dynamics"


@pytest.mark.parametrize("cents", ["-20", "-18"])
def test_written_and_concert_pitch_may_differ_by_a_cent(cents):
    assert mistakes(("G3-19", f"G3{cents}")) == ()
    assert len(mistakes(("G3-19", f"G3{cents}.5" if cents == "-20" else "G3-17.5"))) == 1


@pytest.mark.parametrize(
    "known",
    ["invented", "tried\n    source: {id: notebook}", "carried\n    carried_from: stork"],
)
def test_what_may_stand_without_a_set_up(known):
    errors = mistakes(("tried\n    set_up: invented player", known))
    # The notebook is not in the list of sources, which only the collection can know.
    assert {error.code for error in errors} <= {"source.unknown"}


def warned(old="", new=""):
    return warnings(parse_collection(RECORD.replace(old, new))["heron"])


def test_an_ordinary_record_raises_no_eyebrows():
    assert warned() == []


@pytest.mark.parametrize(
    ("fingering", "sentence"),
    [
        (
            "left 1 2 3, low C sharp, low B flat | right 1 2 3",
            (
                "left little finger on low C sharp and low B flat: one finger does not commonly "
                "hold them together; hard or unusual, ask the player"
            ),
        ),
        (
            "left 1 2 3 | right 1 2 3, high F sharp",
            "not every alto saxophone has the high F sharp key",
        ),
    ],
)
def test_what_is_unusual_is_a_warning_and_no_error(fingering, sentence):
    assert sentence in warned("left 1 2 3 | right 1 2 3", fingering)


def test_a_tone_below_the_tube_is_a_warning():
    low = warned("written: E4-19\n        concert: G3-19", "written: A3")
    assert low == [
        "tone 1, written A3, lies below the lowest note Bb3: a difference tone, or a wrong octave"
    ]
