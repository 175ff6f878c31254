"""The level that is proposed where the coach gives none (DOSES "Level": common practice)."""

from __future__ import annotations

from datetime import date

import pytest

from house import ROOT
from invented_briefs import athlete, brief, resolved, trial
from speedloom.exchange.brief_file import read_brief
from speedloom.training.athlete import Athlete
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Lift, Measurements
from speedloom.training.rule import load_rulebook
from speedloom.workflows.resolve_brief import propose_level, resolve_brief

BRIEF, TESTS = read_brief(ROOT / "tests" / "unit" / "training" / "data" / "brief.toml")


@pytest.mark.parametrize(
    ("athlete", "level"),
    [
        (Athlete(ref="a"), "novice"),
        (Athlete(ref="a", training_years=0.5), "novice"),
        (Athlete(ref="a", training_years=1), "intermediate"),
        (Athlete(ref="a", training_years=3), "advanced"),
        (Athlete(ref="a", training_years=6, born=date(2011, 1, 1)), "novice"),
        (Athlete(ref="a", training_years=6, born=date(2010, 1, 12)), "advanced"),
        (Athlete(ref="a", training_years=6, weeks_off=4), "novice"),
    ],
)
def test_the_proposed_level(athlete: Athlete, level: str) -> None:
    assert propose_level(athlete, BRIEF, rulebook=load_rulebook()) == level


def test_everybody_in_the_tests_where_the_brief_names_nobody() -> None:
    brief = BRIEF.model_copy(update={"athletes": ()})
    whole = resolve_brief(brief, TESTS, rulebook=load_rulebook(), catalogue=load_catalogue())
    assert [athlete.ref for athlete in whole.athletes] == ["mila"]


def test_lifts_of_the_tests_join_those_of_the_brief_once() -> None:
    own = BRIEF.athletes[0].lifts[0]
    newer = Lift(athlete="mila", date=date(2026, 1, 9), exercise="back_squat", load_kg=85.0, reps=3)
    tests = Measurements(trials=TESTS.trials, lifts=(newer, own.model_copy(update={"athlete": "mila"})))
    whole = resolve_brief(BRIEF, tests, rulebook=load_rulebook(), catalogue=load_catalogue())
    assert whole.athletes[0].lifts == (own, newer.model_copy(update={"athlete": None}))
    assert [exercise.ref for exercise in whole.catalogue] == ["back_squat", "trap_bar_deadlift"]


def test_only_the_athletes_of_the_brief_are_kept() -> None:
    stranger = TESTS.trials[0].model_copy(update={"athlete": "stranger"})
    tests = Measurements(trials=(stranger, *TESTS.trials))
    whole = resolve_brief(BRIEF, tests, rulebook=load_rulebook(), catalogue=load_catalogue())
    assert {trial.athlete for trial in whole.measurements.trials} == {"mila"}


def test_the_brief_holds_before_the_tests_and_the_newest_test_up_to_the_start_before_later_ones() -> None:
    dated = (("2025-12-01", 70.0), ("2026-01-08", 71.0), ("2026-02-20", 74.0))
    runs = [trial() | {"date": day, "mass_kg": mass} for day, mass in dated]
    unsaid = {name: value for name, value in athlete().items() if name != "mass_kg"}
    masses = [resolved(brief(one), runs).athletes[0].mass_kg for one in (athlete(mass_kg=65.0), unsaid)]
    assert masses == [65.0, 71.0]
    assert resolved(brief(unsaid), runs[2:]).athletes[0].mass_kg == 74.0
