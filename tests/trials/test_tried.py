"""What was tried goes before what was documented, and both stay to be seen."""

from oda import SET_UP, trials
from reedchord.collection import Collection
from reedchord.dynamics import Dynamic, parse_dynamic_range
from reedchord.sonority_fields import Articulation, Evidence, Presence
from reedchord.trials.tried import as_tried, tried_collection
from reedchord.trials.tried_text import differences, extra_tones, tried_words
from samples import sonority

HERON = sonority(
    "heron",
    "E4-19",
    "B4+34",
    "G#5-12",
    emphasised="B4+34",
    evidence="documented",
    source={"id": "reedbed"},
    limits=[{"articulation": "single tongue", "fastest": "16th at quarter = 72"}],
)
SPOKE = "date: 2031-11-25, sonority: heron, outcome: spoke"


def test_nothing_is_said_where_nothing_was_tried():
    tried = as_tried(HERON, trials())
    assert (tried.speaks, tried.sonority, tried.trials) == (None, HERON, ())


def test_evidence_rises_to_tried_and_the_set_up_is_named():
    tried = as_tried(HERON, trials(SPOKE))
    assert tried.speaks is True
    assert tried.sonority.evidence is Evidence.TRIED
    assert tried.sonority.set_up == SET_UP.words()
    assert tried.sonority.source == HERON.source
    assert tried.documented == HERON


def test_evidence_does_not_rise_where_it_did_not_speak():
    tried = as_tried(HERON, trials("date: 2031-11-25, sonority: heron, outcome: did not speak"))
    assert (tried.speaks, tried.sonority) == (False, HERON)


def test_the_latest_day_tells_whether_it_speaks():
    failed = "date: 2031-11-26, sonority: heron, outcome: did not speak"
    again = "date: 2031-11-26, sonority: heron, outcome: after a try, attack: breath"
    assert as_tried(HERON, trials(failed, SPOKE)).speaks is False
    tried = as_tried(HERON, trials(SPOKE, failed, again))
    assert tried.speaks is True
    assert tried_words(tried) == (
        "spoke in 2 of 3 trials; 2031-11-26: did not speak; spoke after a try, breath (oda-alto)"
    )


def test_a_way_of_attack_that_fails_says_nothing_of_another():
    slap = "date: 2031-11-26, sonority: heron, outcome: did not speak, attack: slap"
    breath = f"{SPOKE}, attack: breath"
    for before in (SPOKE, breath):
        tried = as_tried(HERON, trials(before, slap))
        assert tried.speaks is True
        assert tried.speaks_with(Articulation.SLAP) is False
        assert tried.speaks_with(Articulation.FLUTTER) is None
        assert tried.sonority.evidence is Evidence.TRIED
    unsaid = "date: 2031-11-26, sonority: heron, outcome: did not speak"
    assert as_tried(HERON, trials(breath, unsaid)).speaks is False
    assert as_tried(HERON, trials(breath, slap.replace("slap", "breath"))).speaks is False


def test_measured_pitches_take_the_place_of_documented_ones():
    row = f"{SPOKE}, tones: [{{tone: B4+34, measured: B4+10, uncertainty_cents: 3}}]"
    tried = as_tried(HERON, trials(row))
    assert [str(pitch) for pitch in tried.sonority.written_pitches] == ["E4-19", "B4+10", "G#5-12"]
    assert tried.sonority.evidence is Evidence.TRIED
    assert tried.sonority.emphasised_number == 2
    [pitch, evidence] = differences(tried)
    assert pitch.words() == "tone 2: measured B4 +10¢ ±3¢, −24 cents; documented B4 +34¢"
    assert evidence.what == "evidence"


ALL_MEASURED = "{tone: 1, measured: E4-19}, {tone: 2, measured: B4+30}"


def test_evidence_rises_to_measured_where_every_tone_that_came_was_measured():
    for third, evidence in (
        ("{tone: 3, measured: G#5-12}", Evidence.MEASURED),
        ("{tone: 3, came_at: []}", Evidence.MEASURED),
        ("{tone: 3}", Evidence.TRIED),
    ):
        row = f"{SPOKE}, tones: [{ALL_MEASURED}, {third}]"
        assert as_tried(HERON, trials(row)).sonority.evidence is evidence


def test_what_was_measured_with_the_same_set_up_stays_measured():
    mine = {"evidence": Evidence.MEASURED, "set_up": SET_UP.words()}
    assert as_tried(HERON.model_copy(update=mine), trials(SPOKE)).sonority.evidence is (
        Evidence.MEASURED
    )
    others = {**mine, "set_up": "T. M., alto saxophone"}
    assert as_tried(HERON.model_copy(update=others), trials(SPOKE)).sonority.evidence is (
        Evidence.TRIED
    )


def test_small_differences_can_be_left_alone():
    row = f"{SPOKE}, tones: [{ALL_MEASURED}, {{tone: 3, measured: G#5-12}}]"
    assert as_tried(HERON, trials(row), over_cents=10).sonority.evidence is Evidence.TRIED
    assert as_tried(HERON, trials(row), over_cents=3).sonority.evidence is Evidence.MEASURED


def test_the_latest_measurement_counts():
    first = f"{SPOKE}, tones: [{{tone: 1, measured: E4-30}}]"
    second = "date: 2031-11-26, sonority: heron, outcome: spoke"
    second += ", tones: [{tone: 1, measured: E4-25}]"
    tried = as_tried(HERON, trials(second, first))
    assert str(tried.sonority.written(1)) == "E4-25"


def test_a_tone_that_the_record_lacks_is_told_and_not_added():
    tried = as_tried(HERON, trials(f"{SPOKE}, tones: [{{measured: E6+10}}]"))
    assert len(tried.sonority.tones) == 3
    assert tried.sonority.evidence is Evidence.TRIED
    assert extra_tones(tried) == ["E6 +10¢ was measured, and the record has no such tone"]


def test_a_tone_that_cannot_be_meant_is_told():
    tried = as_tried(HERON, trials(f"{SPOKE}, tones: [{{tone: 9}}]"))
    assert tried.remarks == ("trial of 2031-11-25: 9 is not among the tones of heron",)


def test_measured_pitches_out_of_order_are_told_and_not_taken():
    tried = as_tried(HERON, trials(f"{SPOKE}, tones: [{{tone: 1, measured: C5}}]"))
    assert tried.sonority.written_pitches == HERON.written_pitches
    assert tried.remarks[0].startswith("what was measured is not taken over: the tones do not")


def test_tones_are_absent_where_somebody_listened_and_heard_none():
    row = f"{SPOKE}, dynamics: p-mf, tones: [{{tone: 1, came_at: [mf]}}, {{tone: 3, came_at: []}}]"
    tried = as_tried(HERON, trials(row)).sonority
    assert tried.tones[0].presence == {Dynamic.P: Presence.ABSENT, Dynamic.MP: Presence.ABSENT}
    assert set(tried.tones[2].presence.values()) == {Presence.ABSENT}
    assert tried.tones[1].presence == {}


def test_a_tone_that_did_not_come_is_absent_wherever_any_trial_made_it_speak():
    record = HERON.model_copy(update={"dynamics": parse_dynamic_range("mp-mf")})
    loud = f"{SPOKE}, dynamics: f"
    tried = as_tried(record, trials(f"{SPOKE}, tones: [{{tone: 3, came_at: []}}]", loud)).sonority
    assert str(tried.dynamics) == "mp-f"
    assert list(tried.tones[2].presence) == [Dynamic.MP, Dynamic.MF, Dynamic.F]


def test_what_contradicts_the_record_leaves_its_dynamics_alone():
    mine = trials(f"{SPOKE}, dynamics: pp, tones: [{{tone: 2, came_at: []}}]")
    tried = as_tried(HERON.model_copy(update={"dynamics": parse_dynamic_range("pp")}), mine)
    assert [tone.presence for tone in tried.sonority.tones] == [{}, {}, {}]
    [remark] = tried.remarks
    assert remark.startswith("what came at which dynamic is not taken over: the emphasised tone")
    assert as_tried(tried.sonority, mine).sonority == tried.sonority


def test_a_tone_keeps_the_names_that_it_had_before_it_was_measured():
    first = f"{SPOKE}, tones: [{{tone: B4+34, measured: B4+10}}]"
    heard = "date: 2031-11-26, sonority: heron, outcome: spoke, tones: "
    as_before = f"{heard} [{{tone: B4+34, came_at: [mf]}}]"
    as_after = f"{heard} [{{tone: B4+10, measured: B4+5}}]"
    log = trials(first, as_before, as_after)
    tried = as_tried(HERON, log)
    assert (tried.remarks, str(tried.sonority.written(2))) == ((), "B4+5")
    assert as_tried(tried.sonority, log).sonority == tried.sonority


def test_a_tone_said_to_be_absent_that_came_is_heard_but_not_how_clearly():
    faint = sonority("heron", "E4").model_copy(
        update={"tones": (HERON.tones[0].model_copy(update={"presence": {"p": Presence.ABSENT}}),)}
    )
    tried = as_tried(faint, trials(f"{SPOKE}, tones: [{{tone: 1, came_at: [p]}}]")).sonority
    assert tried.tones[0].presence_at(Dynamic.P) is None
    assert str(tried.possible_dynamics()) == "p"


def test_the_fastest_that_was_managed_goes_before_the_documented_limit():
    slow = f"{SPOKE}, limits: [{{articulation: single tongue, fastest: 16th at quarter = 50}}]"
    slower = f"{SPOKE}, limits: [{{articulation: single tongue, fastest: 16th at quarter = 40}}]"
    slap = f"{SPOKE}, limits: [{{articulation: slap, fastest: eighth at quarter = 60}}]"
    tried = as_tried(HERON, trials(slow, slower, slap))
    assert [limit.words() for limit in tried.sonority.limits] == [
        "single tongue: up to 16ths at quarter = 50",
        "slap: up to eighths at quarter = 60",
    ]
    assert differences(tried)[0].documented == "single tongue: up to 16ths at quarter = 72"


def test_a_collection_as_one_set_up_got_it():
    egret = sonority("egret", "C#4", "A4+25")
    crane = sonority("crane", "B3", "D#5")
    whole = Collection({one.id: one for one in (HERON, egret, crane)}, {}, "samples")
    silent = "date: 2031-11-25, sonority: egret, outcome: did not speak"
    mine = tried_collection(whole, trials(SPOKE, silent))
    assert list(mine.speaking.sonorities) == ["heron", "crane"]
    assert list(mine.collection.sonorities) == ["heron", "egret", "crane"]
    assert mine.collection["heron"].evidence is Evidence.TRIED
    assert [one.documented.id for one in mine.silent] == ["egret"]
    assert set(mine.tried) == {"heron", "egret"}
