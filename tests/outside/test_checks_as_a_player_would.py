"""Small scores, and what a player would say of each: common practice, no source.

Nothing of the answers was taken from the program; whoever wrote them down knew the fingerings and
limits of `tiny_scores` and the music, and asked: can that be played, and can it be read? Every
finding that is expected stands there, so that an empty answer says "fine".
"""

from __future__ import annotations

import pytest

from reedchord.checks.example import Example
from tiny_scores import codes_in

FINE = ""

# bell: alto, p to f, semiquavers at 72 when tongued (mp to f), quavers at 66 slapped (f only),
# quavers at 88 slurred (p to mf); its top tone is absent at p, faint to mf, clear at f.
# knell: the same tones a hair away, one little finger from bell; quavers at 180.
# gong: alto, f to ff, crotchets at 60; far from bell. lamp: alto, ppp to p, limits not known.
SPEED = [
    ("mf bell/4 bell/4 bell/4 bell/4", 60, FINE, "crotchets are slow"),
    ("mf bell/4 bell/4 bell/4 bell/4", 200, FINE, "crotchets at 200 are slower than its limit"),
    ("mf bell/8 bell/8 bell/8 bell/8", 120, FINE, "quavers at 120: four a second"),
    ("mf bell/8 bell/8 bell/8 bell/8", 160, "speed.too-fast", "more than five a second"),
    ("mf bell/16 bell/16 r/8", 72, FINE, "exactly what the record promises"),
    ("mf bell/16 bell/16 r/8", 73, "speed.too-fast", "and a little more"),
    ("mf bell/16 r/16 r/8 bell/16 r/16 r/8", 120, FINE, "short, but a crotchet apart"),
    ("mf bell/8t bell/8t bell/8t", 90, FINE, "triplet quavers at 90: four and a half a second"),
    ("mf bell/8t bell/8t bell/8t", 100, "speed.too-fast", "triplet quavers at 100: five"),
    ("mf bell/8. bell/16 bell/4", 80, "speed.too-fast", "the semiquaver at 80"),
    ("mf bell/8. bell/16 bell/4", 70, FINE, "the semiquaver at 70"),
    ("mf knell/8 knell/8", 180, FINE, "its limit to the dot"),
    ("f gong/4 gong/4", 60, FINE, "a slow one, slowly"),
    ("f gong/4 gong/4", 90, "speed.too-fast", "a slow one in a walking tempo"),
    ("f gong/4 r/4 gong/4 r/4", 110, FINE, "with rests between it has the time"),
    ("mf bell/2~1 r/2", 60, FINE, "a half note in quavers"),
    ("mf bell/2~3 r/2", 60, "speed.too-fast", "eight a second"),
    ("f bell/8:slap bell/8:slap", 60, FINE, "slapped quavers at 60"),
    ("f bell/8:slap bell/8:slap", 76, "speed.too-fast", "slapped quavers at 76"),
    ("p ( lamp/8 lamp/8 )", 100, "speed.unknown", "slurred quavers nobody has tried"),
    ("mf bell/2~z r/2", 60, "speed.unknown", "an unmeasured tremolo: how fast?"),
    ("p lamp/8 lamp/8 lamp/8 lamp/8", 100, "speed.unknown", "nobody has tried"),
    ("mf bell/g C5/4", 60, "speed.cannot-speak", "a grace note is over before it splits"),
    ("mf bell/32 r/32 r/16 r/8", 120, "speed.cannot-speak", "a sixteenth of a second"),
]

DYNAMICS = [
    ("p bell/1", 60, FINE, "its softest"),
    ("f bell/1", 60, FINE, "its loudest"),
    ("pp bell/1", 60, "dynamic.impossible", "too soft for it"),
    ("ff bell/1", 60, "dynamic.impossible", "too loud for it"),
    ("p < bell/1 ! f", 60, FINE, "a crescendo within what it has"),
    ("mf < bell/1 ! ff", 60, "dynamic.impossible", "a crescendo out of it"),
    ("f > bell/1 ! pp", 60, "dynamic.impossible", "a diminuendo out of it"),
    ("ppp lamp/1", 60, "tone.faint", "the tone that matters hardly speaks"),
    ("p lamp/1", 60, FINE, "soft, as it likes it"),
    ("mf lamp/1", 60, "dynamic.impossible", "it breaks away"),
    ("ff gong/1", 60, FINE, "as loud as can be"),
    ("sfz gong/1", 60, "dynamic.unknown", "louder than what?"),
    ("f sfz gong/1", 60, FINE, "louder than f is what it likes"),
    ("mp gong/1", 60, "dynamic.impossible", "it does not start so softly"),
    ("fp gong/1", 60, "dynamic.impossible", "it cannot go on at p"),
    ("p bell/16 bell/16 bell/16 bell/16", 60, "speed.dynamic", "too soft for that speed"),
    ("p bell/2 bell/2", 60, FINE, "slowly it can be soft"),
    ("mp bell/8:slap bell/8:slap", 60, "speed.dynamic", "a slap is loud or nothing"),
    ("f ( C5/8 bell/8 ) C5/4", 80, "speed.dynamic", "slurred into, quick and loud"),
    ("f bell/1:bring=3", 60, FINE, "the top comes through at f"),
    ("mf bell/1:bring=3", 60, "tone.faint", "the top is there, hardly"),
    ("p bell/1:bring=3", 60, "tone.absent", "the top is not there"),
    ("p bell/1:bring=1", 60, FINE, "the low tone can be found at p"),
    ("p bell/1:tones=1+2", 60, FINE, "these two sound"),
    ("p bell/1:tones=1+3", 60, "tone.absent", "of these two, one does not"),
    ("bell/1", 60, "dynamic.unknown", "how loud?"),
    ("bell/2 f bell/2", 60, "dynamic.unknown", "how loud at first?"),
]

CHANGES = [
    ("mf bell/4 knell/4 bell/4 knell/4", 60, FINE, "one little finger to and fro"),
    ("mf bell/8 knell/8 bell/8 knell/8", 110, FINE, "even in quavers"),
    ("f bell/2 gong/2", 60, FINE, "far, but two seconds to get there"),
    ("f bell/8 gong/4", 60, "change.too-hard", "far, and half a second"),
    ("f bell/8 r/2 gong/4", 60, FINE, "a rest to get there"),
    ("f bell/8 r/32 gong/4", 60, "change.too-hard", "a rest that is none"),
    ("f bell/16 C5/4 gong/2", 60, FINE, "not from one to the other"),
    ("f bell/2~1a gong/2~1b", 60, "change.too-hard", "shaken between two hands full"),
]
BREATH = [
    ("p bell/breve r/1", 60, FINE, "eight seconds at p"),
    ("p bell/long", 60, "breath.too-long", "sixteen seconds"),
    ("p bell/long", 120, FINE, "the same in half the time"),
    ("ff gong/breve", 60, "breath.too-long", "eight seconds at ff"),
    ("ff gong/1", 60, FINE, "four seconds at ff"),
    ("mf ( C5/breve D5/1 bell/1 )", 60, "breath.no-rest", "sixteen seconds under a slur"),
    ("mf C5/1 r/4 bell/1 r/4 C5/1", 60, FINE, "rests all around"),
]
INSTRUMENT = [
    ("mf Bb3/1 bell/1", 60, FINE, "the lowest note"),
    ("A3/1", 60, "saxophone.range", "the alto goes down to B flat"),
    ("mf spike/1", 60, "saxophone.key", "not everybody has a high F sharp"),
    ("mf [C4+E4+G4]/1", 60, "chord.unknown", "one player, three ordinary notes"),
    ("mf [E4+C5+A5]/1", 60, "chord.unknown", "looks like bell; how is it fingered?"),
    ("C5/2 E5/2", 60, FINE, "a melody"),
    ("mf bell/1", None, "tempo.assumed", "how fast?"),
]
EVERY = [*SPEED, *DYNAMICS, *CHANGES, *BREATH, *INSTRUMENT]


def test_there_are_at_least_sixty():
    assert len({(music, tempo) for music, tempo, _, _ in EVERY}) >= 60


@pytest.mark.parametrize(("music", "tempo", "answer", "said"), EVERY, ids=lambda one: str(one)[:50])
def test_a_player_says_the_same(music, tempo, answer, said):
    found = codes_in(Example(music, said, tempo=tempo))
    assert sorted(set(found)) == sorted(answer.split()), said
