"""A false test taken out of the tests file is planned from no more, is said, and the past stays as it was."""

from __future__ import annotations

from datetime import date

from briefs import EXAMPLES, outcome, resolved
from speedloom.planning.clash import Clash
from speedloom.training.brief import Brief
from speedloom.training.exercise import load_catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.replanned import replanned_lines
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.replan import replan

BRIEF, SINCE = EXAMPLES / "spring_build.toml", date(2026, 2, 18)
FALSE_DAY, RIGHT = date(2026, 1, 11), "amina/2026-01-03/gates"


def with_a_false_test(brief: Brief, known: Measurements) -> tuple[Brief, Measurements]:
    """Add a newer test of Amina's in which every split is 7 % too fast."""
    false = tuple(
        trial.model_copy(
            update={
                "date": FALSE_DAY,
                "splits": tuple(
                    split.model_copy(update={"time_s": round(0.93 * split.time_s, 3)})
                    for split in trial.splits
                ),
            }
        )
        for trial in known.trials
        if trial.session == RIGHT
    )
    return brief, known.model_copy(update={"trials": (*known.trials, *false)})


def before(programme: Programme) -> list[object]:
    return [session for _, session in programme.sessions() if session.date < SINCE]


def test_a_test_that_is_gone_from_the_file_is_gone_from_the_plan() -> None:
    rulebook, catalogue = load_rulebook(), load_catalogue()
    old = outcome(resolved(BRIEF, change=with_a_false_test))
    assert isinstance(old, Programme)
    assert old.programmes[0].profile == f"amina/{FALSE_DAY}/gates"
    new = replan(
        old, since=SINCE, brief=resolved(BRIEF), rulebook=rulebook, catalogue=catalogue, reason="Typed wrong"
    )
    assert not isinstance(new, Clash)
    assert new.programmes[0].profile == RIGHT
    assert before(new) == before(old)
    assert "New: without the tests of Sun 11 Jan, Amina Okafor." in replanned_lines(old, new, since=SINCE)
    assert check_programme(new, brief=None, rulebook=rulebook, catalogue=catalogue).hard() == ()
