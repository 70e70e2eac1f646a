"""Whatever was tried, the record that comes of it holds, and evidence tells how it came."""

from hypothesis import given, settings
from hypothesis import strategies as st

from oda import SET_UP
from reedchord.dynamics import SCALE, DynamicRange
from reedchord.pitch import pitch_from_cents
from reedchord.sonority_fields import Articulation, Evidence
from reedchord.trials.trial_fields import Outcome, Trial
from reedchord.trials.trials import Trials
from reedchord.trials.tried import as_tried
from reedchord.trials.tried_text import differences, tried_rows
from samples import sonority

HERON = sonority(
    "heron",
    "E4-19",
    "B4+34",
    "G#5-12",
    emphasised=2,
    dynamics="p-f",
    limits=[
        {"articulation": "single tongue", "fastest": "16th at quarter = 72", "dynamics": "mp-f"},
        {"articulation": "slap", "fastest": "eighth at quarter = 60", "dynamics": "f"},
    ],
    build_up=[2, 1, 3],
)
ranges = st.tuples(st.sampled_from(SCALE), st.sampled_from(SCALE)).map(
    lambda ends: str(DynamicRange(*sorted(ends, key=SCALE.index)))
)


def heard(*presence):
    pitches = map(str, HERON.written_pitches)
    return [{"written": w, "presence": p} for w, p in zip(pitches, presence, strict=True)]


def heron(**fields):
    return type(HERON).model_validate({**HERON.model_dump(mode="json"), **fields})


HERONS = st.sampled_from(
    [
        HERON,
        heron(emphasised=None),
        heron(evidence="measured", set_up=SET_UP.words()),
        heron(tones=heard({"p": "absent"}, {"mp": "absent"}, {"f": "dominant"})),
        heron(dynamics=None, tones=heard({"mf": "clear"}, {"p": "absent", "f": "clear"}, {})),
        heron(dynamics=None, emphasised=None, tones=heard({}, {}, {"ppp": "absent"})),
    ]
)
tones = st.fixed_dictionaries(
    {"tone": st.integers(1, 3)},
    optional={
        "came_at": st.lists(ranges, max_size=2),
        "measured": st.sampled_from([-450, -24, -3, 0, 5, 30, 450]),
    },
)
limits = st.fixed_dictionaries(
    {
        "articulation": st.sampled_from(list(Articulation)),
        "fastest": st.sampled_from(["16th at quarter = 60", "quarter at quarter = 90"]),
    },
    optional={"dynamics": ranges},
)
attacks = st.sampled_from([Articulation.BREATH, Articulation.SLAP])
spoken = st.fixed_dictionaries(
    {"outcome": st.sampled_from([Outcome.SPOKE, Outcome.AFTER_A_TRY])},
    optional={
        "dynamics": ranges,
        "tones": st.lists(tones, max_size=3, unique_by=lambda tone: tone["tone"]),
        "limits": st.lists(limits, max_size=2),
        "attack": attacks,
    },
)
silent = st.fixed_dictionaries(
    {"outcome": st.just(Outcome.DID_NOT_SPEAK)}, optional={"attack": attacks}
)
days = st.sampled_from(["2031-11-24", "2031-11-25"])


@st.composite
def logs(draw):
    rows = draw(st.lists(st.one_of(spoken, silent), max_size=4))
    by_pitch = draw(st.sets(st.integers(1, 3)))
    for tone in (tone for row in rows for tone in row.get("tones", ())):
        pitch = HERON.written(tone["tone"])
        if "measured" in tone:  # in cents from the pitch of the record
            tone["measured"] = str(pitch_from_cents(pitch.cents + tone["measured"]))
        if tone["tone"] in by_pitch:
            tone["tone"] = str(pitch)
    trials = [
        Trial.model_validate({"sonority": "heron", "date": draw(days), **row}) for row in rows
    ]
    return Trials(SET_UP, tuple(sorted(trials, key=lambda one: one.date)))


@settings(deadline=None)
@given(log=logs())
def test_the_record_holds_and_evidence_rises_only_through_what_spoke(log):
    tried = as_tried(HERON, log)
    again = type(HERON).model_validate(tried.sonority.model_dump(mode="json"))
    assert again == tried.sonority
    if tried.speaks:
        assert tried.sonority.evidence in (Evidence.TRIED, Evidence.MEASURED)
        assert tried.sonority.set_up == SET_UP.words()
    else:
        assert tried.sonority == HERON
    assert bool(tried_rows(tried)) == bool(log.trials)
    if tried.sonority == HERON:
        assert all(one.what.startswith("tone") for one in differences(tried))


@settings(deadline=None)
@given(record=HERONS, log=logs(), over_cents=st.sampled_from([0, 10]))
def test_what_was_tried_already_is_not_tried_into_it_again(record, log, over_cents):
    tried = as_tried(record, log, over_cents=over_cents)
    again = as_tried(tried.sonority, log, over_cents=over_cents)
    assert again.sonority == tried.sonority
