"""Sound scores with music of every shape: voices, staves, tuplets, changes, repeats, labels."""

from __future__ import annotations

from samples import BAR_REST, note, score
from shapes.odd_documents import Odd

ALL_REST = BAR_REST.format(4)
BACK = "<backup><duration>{}</duration></backup>"
ON = "<forward><duration>{}</duration></forward>"


def attributes(*children: str) -> str:
    """Return an <attributes> element."""
    return f"<attributes>{''.join(children)}</attributes>"


def in_voice(text: str, voice: str, staff: str = "") -> str:
    """Return notes moved to another voice and staff."""
    told = f"<staff>{staff}</staff>" if staff else ""
    return text.replace("<voice>1<", f"<voice>{voice}<").replace("</note>", f"{told}</note>")


def transpose(steps: int, semitones: int, octaves: int = 0, staff: str = "") -> str:
    """Return a <transpose>."""
    number = f' number="{staff}"' if staff else ""
    octave = f"<octave-change>{octaves}</octave-change>" if octaves else ""
    return (
        f"<transpose{number}><diatonic>{steps}</diatonic><chromatic>{semitones}</chromatic>"
        f"{octave}</transpose>"
    )


def tuplet(text: str, actual: int, normal: int) -> str:
    """Return notes in a tuplet's time."""
    return text.replace(
        "</note>",
        f"<time-modification><actual-notes>{actual}</actual-notes>"
        f"<normal-notes>{normal}</normal-notes></time-modification></note>",
    )


def direction(kind: str) -> str:
    """Return a direction."""
    return f"<direction><direction-type>{kind}</direction-type></direction>"


def marked(text: str, notations: str) -> str:
    """Return notes with notations."""
    return text.replace("</note>", f"<notations>{notations}</notations></note>")


def labelled(*labels: str) -> bytes:
    """Return a score of bars of rest that carry these labels."""
    data = score(*(note() * 4 for _ in labels)).decode()
    for number, label in enumerate(labels, start=1):
        data = data.replace(f'number="{number}"', f'NUMBER="{label}"', 1)
    return data.replace("NUMBER=", "number=").encode()


TENOR_NOW = (
    '<sound><instrument-change id="P1-I1">'
    "<instrument-sound>wind.reed.saxophone.tenor</instrument-sound></instrument-change></sound>"
)
INSTRUMENT = (
    b'</part-name><score-instrument id="P1-I1">'
    b"<instrument-name>Alto</instrument-name></score-instrument>"
)
FIRST_ENDING = (
    '<barline location="left"><bar-style>heavy-light</bar-style>'
    '<ending number="1" type="start"/><repeat direction="forward"/></barline>'
)
BACK_AGAIN = (
    '<barline location="right"><bar-style>light-heavy</bar-style>'
    '<ending number="1" type="stop"/><repeat direction="backward"/></barline>'
)
GRACE = (
    "<note><grace/><pitch><step>B</step><octave>4</octave></pitch><voice>1</voice>"
    "<type>eighth</type></note>"
)
CUE = note("G5", 4, type_="whole").replace("<note>", "<note><cue/>")
HALVES = note("C5", 2, type_="half") + note(quarters=2, type_="half")
TRIPLET = tuplet(note("C5", 2, type_="eighth") * 2 + note(quarters=2, type_="eighth"), 3, 2)
NESTED = tuplet(note("C5", 2, type_="16th") * 2 + note(quarters=2, type_="16th"), 9, 4)

VOICES = (
    Odd(
        "two voices",
        score(note() * 4, note() * 4 + BACK.format(4) + in_voice(HALVES, "2")),
        more={"voice": "2"},
    ),
    Odd(
        "a voice after a forward",
        score(
            ALL_REST,
            note("C5", 4, type_="whole")
            + BACK.format(4)
            + ON.format(2)
            + in_voice(note(quarters=2, type_="half"), "2"),
        ),
        beat="3",
        more={"voice": "2"},
    ),
    Odd("a voice with a word for a name", score(ALL_REST, in_voice(HALVES, "upper")), beat="3"),
    Odd(
        "two staves",
        score(ALL_REST, in_voice(HALVES, "1", "1") + BACK.format(4) + in_voice(HALVES, "5", "2")),
        beat="3",
        more={"staff": "2"},
    ),
    Odd("a cue in the other voice", score(ALL_REST, CUE + BACK.format(4) + in_voice(HALVES, "2"))),
    Odd("a grace note before", score(ALL_REST, GRACE + HALVES)),
    Odd("a grace note after, at the end of the bar", score(ALL_REST, HALVES + GRACE), beat="3"),
    Odd("a bar too full", score(ALL_REST, note() * 6), beat="6"),
    Odd("a bar not full", score(ALL_REST, note("C5")), beat="1"),
    Odd("a forward far beyond the bar", score(ALL_REST, HALVES + ON.format("9" * 20)), beat="3"),
    Odd("an empty chord of white space", score(ALL_REST, HALVES.replace("<note>", "<note>\n  "))),
)

RHYTHMS = (
    Odd(
        "a triplet",
        score(ALL_REST, TRIPLET + note(quarters=18, type_=None), divisions=6),
        beat="1+2/3",
    ),
    Odd(
        "a tuplet in a tuplet",
        score(ALL_REST, NESTED + note(quarters=3, type_="eighth"), divisions=9),
        beat="1+4/9",
    ),
    Odd(
        "divisions that change in the bar",
        score(
            ALL_REST,
            note("C5", 2, type_="half")
            + attributes("<divisions>8</divisions>")
            + note("C5", 8)
            + note(quarters=8),
        ),
        beat="4",
    ),
    Odd(
        "divisions with a point",
        score(ALL_REST, HALVES).replace(b"<divisions>1<", b"<divisions>1.0<"),
        beat="3",
    ),
    Odd(
        "a pickup",
        score(note(), note() * 4)
        .replace(b'number="1"', b'number="0" implicit="yes"')
        .replace(b'number="2"', b'number="1"'),
        bar="0",
    ),
    Odd(
        "no metre",
        score(ALL_REST, HALVES).replace(
            b"<beats>4</beats><beat-type>4</beat-type>", b"<senza-misura/>"
        ),
        beat="3",
    ),
    Odd(
        "a metre of sums",
        score(BAR_REST.format(7), BAR_REST.format(7), divisions=2).replace(
            b"<beats>4</beats><beat-type>4<", b"<beats>2+2+3</beats><beat-type>8<"
        ),
    ),
    Odd("5/4 as a whole-bar rest", score(BAR_REST.format(5), BAR_REST.format(5), beats=5)),
    Odd(
        "beamed eighths around",
        score(
            ALL_REST,
            note("C5", type_="eighth", more="").replace(
                "</note>", '<beam number="1">begin</beam></note>'
            )
            + note("D5", type_="eighth").replace("</note>", '<beam number="1">end</beam></note>')
            + note(quarters=6, type_=None),
            divisions=2,
        ),
        beat="1",
    ),
    Odd(
        "a chain of ties over the barline",
        score(
            note() * 3 + marked(note("C5", more='<tie type="start"/>'), '<tied type="start"/>'),
            marked(note("C5", 4, type_="whole", more='<tie type="stop"/>'), '<tied type="stop"/>'),
        ),
        bar="1",
        beat="4",
    ),
)

CHANGES = (
    Odd(
        "a clef in the bar",
        score(
            ALL_REST,
            note("C5", 2, type_="half")
            + attributes("<clef><sign>F</sign><line>4</line></clef>")
            + note(quarters=2, type_="half"),
        ),
        beat="3",
    ),
    Odd(
        "a key in the bar",
        score(
            ALL_REST,
            note("C5", 2, type_="half")
            + attributes("<key><fifths>-7</fifths></key>")
            + note(quarters=2, type_="half"),
        ),
        beat="3",
    ),
    Odd(
        "a key of single steps",
        score(
            ALL_REST,
            attributes("<key><key-step>F</key-step><key-alter>1</key-alter></key>") + HALVES,
        ),
        beat="3",
    ),
    Odd(
        "a clef with an octave",
        score(
            attributes(
                "<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>"
            )
            + ALL_REST,
            HALVES,
        ),
        beat="3",
    ),
    Odd(
        "under an octave line",
        score(
            ALL_REST,
            direction('<octave-shift type="down" size="8"/>')
            + HALVES
            + direction('<octave-shift type="stop" size="8"/>'),
        ),
        beat="3",
    ),
    Odd(
        "a transposition that changes",
        score(ALL_REST, attributes(transpose(-1, -2, -1)) + HALVES),
        beat="3",
    ),
    Odd(
        "a transposition that changes in the bar",
        score(
            ALL_REST,
            note("C5", 2, type_="half")
            + attributes(transpose(-1, -2))
            + note(quarters=2, type_="half"),
        ),
        beat="3",
    ),
    Odd(
        "a transposition for each staff",
        score(
            ALL_REST,
            attributes(transpose(-5, -9, staff="1"), transpose(0, 0, staff="2"))
            + in_voice(HALVES, "1", "1")
            + BACK.format(4)
            + in_voice(HALVES, "5", "2"),
        ),
        more={"staff": "2"},
    ),
    Odd(
        "a transposition of semitones alone",
        score(ALL_REST, HALVES).replace(b"<diatonic>-5</diatonic>", b""),
        beat="3",
    ),
    Odd(
        "an octave besides",
        score(ALL_REST, HALVES, name="Baritone Saxophone", transpose=transpose(-5, -9, -1)),
        more={"carry": "yes"},
    ),
    Odd(
        "a change of instrument",
        score(
            ALL_REST,
            TENOR_NOW + HALVES,
        ),
        beat="3",
    ),
    Odd(
        "instruments on notes",
        score(ALL_REST, HALVES.replace("<voice>", '<instrument id="P1-I1"/><voice>')).replace(
            b"</part-name>",
            INSTRUMENT,
        ),
        beat="3",
    ),
    Odd(
        "a concert score that says so",
        score(ALL_REST, HALVES, header="<defaults><concert-score/></defaults>"),
        beat="3",
    ),
    Odd("a concert score that does not", score(ALL_REST, HALVES, transpose=""), beat="3"),
)

REPEATS = (
    Odd(
        "repeats and endings",
        score(
            ALL_REST,
            FIRST_ENDING + HALVES + BACK_AGAIN,
        ),
        beat="3",
    ),
    Odd(
        "an unmeasured tremolo",
        score(
            ALL_REST,
            marked(
                note("C5", 2, type_="half"),
                '<ornaments><tremolo type="unmeasured">0</tremolo></ornaments>',
            )
            + note(quarters=2, type_="half"),
        ),
        beat="3",
    ),
    Odd(
        "a tremolo on one note",
        score(
            ALL_REST,
            marked(
                note("C5", 2, type_="half"),
                '<ornaments><tremolo type="single">3</tremolo></ornaments>',
            )
            + note(quarters=2, type_="half"),
        ),
        beat="1",
    ),
    Odd(
        "beside a tremolo of two notes",
        score(
            ALL_REST,
            "".join(
                tuplet(
                    marked(
                        note(pitch, type_="half"),
                        f'<ornaments><tremolo type="{way}">3</tremolo></ornaments>',
                    ),
                    2,
                    1,
                )
                for pitch, way in (("C5", "start"), ("E5", "stop"))
            )
            + note(quarters=2, type_="half"),
        ),
        beat="3",
    ),
    Odd(
        "before a repeated bar",
        score(
            ALL_REST,
            HALVES,
            attributes(
                '<measure-style><measure-repeat type="start">1</measure-repeat></measure-style>'
            )
            + HALVES,
        ),
        beat="3",
    ),
    Odd(
        "after a multi-bar rest",
        score(
            attributes("<measure-style><multiple-rest>1</multiple-rest></measure-style>")
            + ALL_REST,
            ALL_REST,
        ),
    ),
)

LABELS = (
    Odd("labels that are no numbers", labelled("A", "X1", "12b"), bar="12b"),
    Odd("labels that are not unique", labelled("1", "1", "1"), bar="@3"),
    Odd("labels that look like counting", labelled("@2", "@1", "3"), bar="@2"),
    Odd("no labels at all", labelled("", "", ""), bar="@2"),
    Odd("labels in other digits", labelled("١", "٢", "٣"), bar="٣"),
    Odd("labels with spaces", labelled(" 1 ", "Coda  1", "3"), bar="Coda 1"),
)

MUSIC = (*VOICES, *RHYTHMS, *CHANGES, *REPEATS, *LABELS)
