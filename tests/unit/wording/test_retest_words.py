"""What is said of a retest: verdicts, chances never certain, and no word of cause, promise or blame."""

from __future__ import annotations

import re
from dataclasses import asdict, replace

import pytest

from retest_squads import Squads, drawn_changes, retested
from speedloom.training.exercise import load_catalogue
from speedloom.training.rule import load_rulebook
from speedloom.wording.athlete_retest import CURVE_NOTE, MEANINGS, NO_LOG, done_text, own_retest_words
from speedloom.wording.athlete_retest_other import notes, other_way
from speedloom.wording.athlete_retest_values import chance_text, change_text, value_text
from speedloom.wording.retest import retest_text
from speedloom.wording.retest_method import method_lines
from speedloom.workflows.done_between import DoneBetween
from speedloom.workflows.retest import Change, Panel, Retest, Verdict
from speedloom.workflows.retest_values import Measure

TIME, JUMP = Measure("split_time", distance_m=30.0), Measure("jump_height")
TOP_SPEED, LONGER = Measure("vmax"), Measure("split_time", distance_m=40.0)
LIFT = Measure("one_rep_max", exercise="back_squat")
BANNED = re.compile(
    r"\b(significant\w*|prevent\w*|guarantee\w*|will improve|injur\w*|risk\w*|because|made you|thanks to|"
    r"lazy|fail\w*|poor\w*|disappoint\w*|should have|caus\w+)\b",
    re.IGNORECASE,
)


def squad(*, gain: float) -> Retest:
    wanted = Squads(1, fixed=(-gain, 0.03), error_s=0.03)
    changes, rng = drawn_changes(wanted)
    return retested(changes[0], rng, wanted)


def test_values_have_the_digits_people_use() -> None:
    assert value_text(TIME, 4.4) == "4.40 s"
    assert value_text(TIME, 0.0123, finer=True) == "0.012 s"
    assert value_text(JUMP, 0.3456) == "34.6 cm"
    assert value_text(LIFT, 101.25) == "101.2 kg"
    assert (change_text(TIME, -0.061), change_text(JUMP, 0.02)) == ("−0.06 s", "+2.0 cm")
    assert (change_text(TIME, 0.0), change_text(TIME, -0.001)) == ("0.00 s", "0.00 s")


@pytest.mark.parametrize("chance", [0.0, 1e-9, 0.004, 0.996, 1.0])
def test_no_chance_is_certain(chance: float) -> None:
    assert chance_text(chance) in {"under 1 %", "over 99 %"}


def test_every_verdict_has_words_for_the_athlete() -> None:
    assert set(MEANINGS) == set(Verdict.__args__)


@pytest.mark.parametrize("gain", [-0.12, -0.04, 0.0, 0.04, 0.12])
def test_no_cause_promise_or_blame(gain: float) -> None:
    found = squad(gain=gain)
    catalogue, rulebook = load_catalogue(), load_rulebook()
    said = [CURVE_NOTE, NO_LOG, *MEANINGS.values(), *method_lines(found)]
    said.append(retest_text(found, catalogue=catalogue, rulebook=rulebook))
    for ref in found.athletes:
        words = own_retest_words(found, ref, name=ref, catalogue=catalogue)
        said += [words.headline, words.meaning, *words.reading, words.done, *(row.said for row in words.rows)]
        # What colleagues read of the others is not on an athlete's page.
        others = {other for other in found.athletes if other != ref}
        assert not [other for other in others if other in str(asdict(words))]
    assert [found for text in said for found in BANNED.findall(text)] == []


def test_better_worse_and_unclear_are_said_with_their_chance() -> None:
    said = {
        words.headline.partition(". ")[2].partition(" (")[0]
        for gain in (-0.15, 0.0, 0.15)
        for found in [squad(gain=gain)]
        for ref in found.athletes
        for words in [own_retest_words(found, ref, name=ref, catalogue=load_catalogue())]
    }
    assert {"Likely faster", "Likely slower", "Too close to call."} <= said


def test_a_page_begins_with_the_distance_of_the_goal() -> None:
    found = squad(gain=0.1)
    words = own_retest_words(found, "a00", name="Anna", catalogue=load_catalogue(), goal_m=30.0)
    assert words.title == "Anna"
    assert words.days == "Your tests of 8 January 2026 and 2 April 2026"
    assert re.match(r"30 m time: 4\.\d\d s, then 4\.\d\d s\. ", words.headline)
    assert any("all 14 athletes" in line for line in words.reading)


def test_what_was_done_is_counted_and_nothing_made_of_it() -> None:
    done = DoneBetween(sessions=31, planned=36, extras=1, metres=4200.0, sets=212)
    assert done_text(done) == (
        "Written down in between: 31 of 36 planned sessions, and extra training on 1 day; "
        "4200 m of running in sets and 212 sets of strength and power work."
    )
    assert done_text(None) == NO_LOG


def as_measured(panel: Panel, change: Change, measure: Measure, *, values: tuple[float, float]) -> Change:
    """Give a change of another measure, with other values."""
    before, after = (
        replace(day, measure=measure, trials=(value,))
        for day, value in zip((change.before, change.after), values, strict=True)
    )
    assert panel.smallest is not None
    return replace(change, before=before, after=after, verdict="unclear")


@pytest.mark.parametrize(
    ("measure", "values", "said"),
    [
        (
            TOP_SPEED,
            (7.91, 7.81),
            "Top speed went the other way: 7.91 m/s, then 7.81 m/s. Too close to call.",
        ),
        (TOP_SPEED, (7.91, 8.05), ""),
        (TOP_SPEED, (7.91, 7.90), ""),  # by less than counts: nothing went anywhere
        (LONGER, (5.70, 5.90), "40 m time went the other way: 5.70 s, then 5.90 s. Too close to call."),
        (LONGER, (5.70, 5.50), ""),
    ],
)
def test_what_went_the_other_way_is_named_beside_the_headline(
    measure: Measure, values: tuple[float, float], said: str
) -> None:
    found = squad(gain=0.12)
    panel, change = found.of_athlete("a00")[0]
    assert change.raw < 0
    smallest = replace(panel.smallest, value=0.05)
    other = (
        replace(panel, measure=measure, smallest=smallest),
        as_measured(panel, change, measure, values=values),
    )
    both = (panel, change), other
    assert other_way(both, both[0], catalogue=load_catalogue()) == ((said,) if said else ())


def test_newtons_for_a_kilogram_are_explained_where_they_stand() -> None:
    found = squad(gain=0.12)
    panel, change = found.of_athlete("a00")[0]
    force = replace(panel, measure=Measure("f0")), change
    assert notes([(panel, change)]) == ()
    assert [note for note in notes([(panel, change), force]) if "newtons for each kilogram" in note]


def test_the_table_is_a_hundred_wide_and_a_long_name_gives_way() -> None:
    found = squad(gain=0.12)
    names = {"a00": "Cleo Wilhelmina van der Rijnsburgh-Oosterwijk-Brandenburg"}
    done = {"a00": DoneBetween(sessions=31, planned=36, extras=1, metres=4200.0, sets=212)}
    text = retest_text(found, catalogue=load_catalogue(), rulebook=load_rulebook(), names=names, done=done)
    assert max(map(len, text.splitlines())) <= 100
    row = next(line for line in text.splitlines() if line.startswith("  Cleo"))
    assert "…" in row
    assert re.search(r"(>99|\d+) %  +(<1|\d+) %  +(<1|\d+) %  +likely faster$", row)
