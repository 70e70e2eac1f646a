"""Scores of a few bars from the one-line notation of `reedchord.checks.example`."""

from __future__ import annotations

import re
from fractions import Fraction

from reedchord.checks.checking import Conditions, check
from reedchord.checks.example import Example
from reedchord.collection import Collection
from reedchord.dynamics import SCALE
from reedchord.exchange.typed_trial import typed_tone
from reedchord.pitch import parse_pitch
from reedchord.placement.place import place
from reedchord.placement.plan import Placement
from reedchord.rhythm import QUARTERS_BY_TYPE
from reedchord.saxophones import saxophone
from reedchord.trials.set_ups import SetUpFile
from reedchord.trials.trial_fields import Trial
from reedchord.trials.trials import Trials
from samples import sonority

DIVISIONS = 24
CLEAR = {"p-f": "clear"}
BELL = sonority(
    "bell",
    fingering="left 1 2 3 | right 1 3, E flat",
    tones=[
        {"written": "E4", "presence": CLEAR},
        {"written": "C5-20", "presence": {"p-f": "dominant"}},
        {"written": "A5+24", "presence": {"p": "absent", "mp-mf": "faint", "f": "clear"}},
    ],
    emphasised=2,
    dynamics="p-f",
    limits=[
        {"articulation": "single tongue", "fastest": "16th at quarter = 72", "dynamics": "mp-f"},
        {"articulation": "slap", "fastest": "eighth at quarter = 66", "dynamics": "f"},
        {"articulation": "slur", "fastest": "eighth at quarter = 88", "dynamics": "p-mf"},
    ],
    neighbours=[{"sonority": "knell", "because": "fingers and embouchure"}],
)
KNELL = sonority(
    "knell",
    fingering="left 1 2 3 | right 1 3, low C",
    tones=[
        {"written": "E4+10", "presence": CLEAR},
        {"written": "C5-5", "presence": {"p-f": "dominant"}},
        {"written": "A5+10", "presence": {"p-f": "clear"}},
    ],
    emphasised=2,
    dynamics="p-f",
    limits=[{"articulation": "single tongue", "fastest": "eighth at quarter = 180"}],
)
GONG = sonority(
    "gong",
    fingering="octave | left 1 2, low B flat | right 1 2, side C",
    tones=[
        {"written": "D4", "presence": {"f-ff": "dominant"}},
        {"written": "G#5", "presence": {"f-ff": "clear"}},
    ],
    emphasised=1,
    dynamics="f-ff",
    limits=[
        {"articulation": "single tongue", "fastest": "quarter at quarter = 60", "dynamics": "f-ff"}
    ],
)
LAMP = sonority(
    "lamp",
    fingering="left 1 2 3, G sharp | right half 1 3",
    tones=[
        {"written": "C5+6", "presence": {"ppp-p": "clear"}},
        {"written": "B5-29", "presence": {"ppp": "faint", "pp-p": "dominant"}},
    ],
    emphasised=2,
    dynamics="ppp-p",
)
PAIR = sonority("pair", "E5", "F5", "C6", fingering="octave | left 1 3 | right 1 2 3", emphasised=3)
SPIKE = sonority("spike", "G#4", "D#5", fingering="left 1 2 | right 1, high F sharp")
DEEP = sonority("deep", "D4", "B4", fingering="low A | left 1 2 3 | right 1", saxophone="baritone")
BAND = Collection(
    {one.id: one for one in (BELL, KNELL, GONG, LAMP, PAIR, SPIKE, DEEP)}, {}, "tiny band"
)

_TOKEN = re.compile(
    r"(?P<what>\[[^]]+\]|[^/]+)/(?P<value>[^~:]+)(?:~(?P<strokes>\w+))?(?P<how>:.*)?"
)
_BY_NUMBER = {"1": "whole", "2": "half", "4": "quarter", "8": "eighth", "16": "16th", "32": "32nd"}
_ACCIDENTALS = {0: "natural", 100: "sharp", -100: "flat", 50: "quarter-sharp", -50: "quarter-flat"}
_WEDGES = {"<": "crescendo", ">": "diminuendo", "!": "stop"}


class _Writer:
    """Writes one bar after the other, and notes what is to be placed where."""

    def __init__(self, member, tempo):
        self.member, self.tempo = member, tempo
        self.bars, self.placements, self.slur = [[]], [], ""
        self.onset = Fraction(0)

    def token(self, token):
        if token == "|":
            self.bars.append([])
            self.onset = Fraction(0)
        elif token in SCALE or token in ("fp", "sfz"):
            self.direction(f"<dynamics><{token}/></dynamics>")
        elif token in _WEDGES:
            self.direction(f'<wedge type="{_WEDGES[token]}"/>')
        elif token == "(":
            self.slur = '<slur type="start" number="1"/>'
        elif token == ")":
            self.close_slur()
        else:
            self.note(_TOKEN.fullmatch(token))

    def direction(self, inside):
        self.bars[-1].append(f"<direction><direction-type>{inside}</direction-type></direction>")

    def close_slur(self):
        stop = '<notations><slur type="stop" number="1"/></notations></note>'
        self.bars[-1][-1] = self.bars[-1][-1].replace("</note>", stop, 1)

    def note(self, said):
        what, value, grace = said["what"], said["value"], said["value"] == "g"
        name, dots, in_triplet = _value(value)
        quarters = QUARTERS_BY_TYPE[name] * (2 - Fraction(1, 2**dots))
        quarters *= Fraction(2, 3) if in_triplet else 1
        is_placed = what != "r" and what.islower()
        shown = ["B4"] if is_placed else what.strip("[]").split("+")
        time = "" if grace else f"<duration>{int(quarters * DIVISIONS)}</duration>"
        rest = what == "r" or (is_placed and not (grace or said["strokes"] or self.slur))
        more = _triplet(in_triplet)
        notations = self.slur + _tremolo(said["strokes"])
        self.slur = ""
        for number, pitch in enumerate(shown):
            head = ("<grace/>" if grace else "") + ("<chord/>" if number else "")
            body = "<rest/>" if rest else _pitch(pitch)
            sign = "" if rest else _accidental(pitch)
            inner = f"<notations>{notations}</notations>" if notations and not number else ""
            self.bars[-1].append(
                f"<note>{head}{body}{time}<voice>1</voice><type>{name}</type>{'<dot/>' * dots}"
                f"{sign}{more}{inner}</note>"
            )
        if is_placed:
            self.placements.append(self.placement(what, said["how"] or "", grace=grace))
        if not grace:
            self.onset += quarters

    def placement(self, name, how, *, grace):
        record = {"sonority": name, "part": "P1", "bar": f"@{len(self.bars)}"}
        record["beat"] = f"{1 + self.onset}" if self.onset.denominator == 1 else _beat(self.onset)
        for word in filter(None, how.split(":")):
            key, _, given = word.partition("=")
            if key == "tones":
                record["tones"] = [int(one) for one in given.split("+")]
            elif key == "bring":
                record["emphasised"] = int(given)
            elif key == "carry":
                record["carry"] = True
            else:
                record["manner"] = key
        if grace:
            record["grace"] = 1
        return Placement.model_validate(record)

    def document(self):
        diatonic, chromatic, octave = self.member.transpose
        change = f"<octave-change>{octave}</octave-change>" if octave else ""
        attributes = (
            f"<attributes><divisions>{DIVISIONS}</divisions><transpose><diatonic>{diatonic}"
            f"</diatonic><chromatic>{chromatic}</chromatic>{change}</transpose></attributes>"
        )
        if self.tempo:
            attributes += f'<sound tempo="{self.tempo}"/>'
        bars = "".join(
            f'<measure number="{number}">{attributes if number == 1 else ""}'
            f"{''.join(bar)}</measure>"
            for number, bar in enumerate(self.bars, start=1)
        )
        name = f"{self.member.name.capitalize()} Saxophone"
        return (
            '<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="4.0"><part-list>'
            f'<score-part id="P1"><part-name>{name}</part-name></score-part></part-list>'
            f'<part id="P1">{bars}</part></score-partwise>\n'
        ).encode()


def _value(text):
    if text in ("long", "breve"):
        return text, 0, False
    if text == "g":
        return "eighth", 0, False
    return _BY_NUMBER[text.rstrip(".t")], text.count("."), text.endswith("t")


def _beat(onset):
    whole, rest = divmod(1 + onset, 1)
    return f"{whole}+{rest}"


def _triplet(wanted):
    if not wanted:
        return ""
    return (
        "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
        "</time-modification>"
    )


def _tremolo(strokes):
    if not strokes:
        return ""
    if strokes == "z":
        return '<ornaments><tremolo type="unmeasured">0</tremolo></ornaments>'
    kind, count = (
        ("start", strokes[:-1])
        if strokes.endswith("a")
        else ("stop", strokes[:-1])
        if strokes.endswith("b")
        else ("single", strokes)
    )
    return f'<ornaments><tremolo type="{kind}">{count}</tremolo></ornaments>'


def _pitch(text):
    pitch = parse_pitch(text)
    alter = pitch.alteration_cents / 100
    shown = f"<alter>{float(alter):g}</alter>" if alter else ""
    return f"<pitch><step>{pitch.step}</step>{shown}<octave>{pitch.octave}</octave></pitch>"


def _accidental(text):
    alteration = parse_pitch(text).alteration_cents
    return f"<accidental>{_ACCIDENTALS[int(alteration)]}</accidental>" if alteration else ""


def tiny_score(example: Example) -> bytes:
    """Return the example's score with its sonorities in it, its edits made."""
    writer = _Writer(saxophone(example.saxophone), example.tempo)
    for token in example.music.split():
        writer.token(token)
    data = writer.document()
    if writer.placements:
        data = place(data, writer.placements, BAND).data
    text = data.decode("utf-8")
    for old, new in example.edits:
        assert old in text, f"{example.music}: there is no {old!r} to edit in {text}"
        text = text.replace(old, new, 1)
    return text.encode("utf-8")


def codes_in(example: Example) -> list[str]:
    """Return the codes of all that is found in an example, those about assumptions too."""
    conditions = Conditions(
        for_performance=example.for_performance,
        trials=_trials(example) if example.silent or example.heard else None,
    )
    return [one.code for one in check(tiny_score(example), BAND, conditions).findings]


def _trials(example: Example) -> Trials:
    """Return what an invented set-up tried, some of it in vain."""
    set_up = SetUpFile.model_validate(
        {
            "reedchord": "set-up",
            "version": 1,
            "id": "reedbed-alto",
            "player": "invented",
            "saxophone": "alto",
        }
    )
    rows = [
        {"date": "2031-03-04", "sonority": name, "outcome": "spoke", "tones": [typed_tone(tone)]}
        for name, tone in example.heard
    ]
    for text in example.silent:
        name, _, attack = text.partition(":")
        failed = {"date": "2031-03-05", "sonority": name, "outcome": "did not speak"}
        rows.append({**failed, "attack": attack or None})
    return Trials(set_up, tuple(Trial.model_validate(row) for row in rows))
