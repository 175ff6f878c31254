"""An athlete's days around a day, and what of a programme is above limits newer than it."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from small_programme import small_programme
from speedloom.training.athlete import Limit, Restriction
from speedloom.training.exercise import load_catalogue
from speedloom.training.log import Log
from speedloom.training.rule import load_rulebook
from speedloom.workflows.beyond_limits import beyond_limits, not_as_written
from speedloom.workflows.own_days import OwnDays, own_days
from speedloom.workflows.standing_log import standing_log
from unit.report.sample import MONDAY, programme

FIRST = date(2026, 1, 12)


def days(today: date, **other: int) -> OwnDays:
    document = small_programme()
    log = Log.model_validate(
        {"schema": "speedloom.log/1", "programme": document.id, "timezone": "Europe/Amsterdam", "entries": ()}
    )
    around = {"ahead_days": 7, "back_days": 14} | other
    return own_days(document.programmes[0], standing_log(log, document), today=today, **around)


def dates(sessions: tuple[object, ...]) -> list[str]:
    return [f"{session.date:%d %b}" for session in sessions]  # type: ignore[attr-defined]


def test_today_ahead_and_unwritten_are_told_apart() -> None:
    found = days(FIRST + timedelta(days=7))
    assert dates(found.today) == ["19 Jan"]
    assert dates(found.ahead) == ["21 Jan", "26 Jan"]
    assert dates(found.unwritten) == ["12 Jan", "14 Jan"]
    assert found.week is not None
    assert found.week.number == 2


@pytest.mark.parametrize(("today", "ahead"), [(date(2026, 1, 2), ["12 Jan"]), (date(2026, 3, 1), [])])
def test_before_and_after_it_the_next_session_counts_however_far(today: date, ahead: list[str]) -> None:
    found = days(today, back_days=7)
    assert (dates(found.ahead), found.today, found.unwritten, found.week) == (ahead, (), (), None)


def held(*limits: Limit, first: date = MONDAY, last: date | None = None) -> Restriction:
    content = {"ref": "new", "limits": limits, "from": first, "until": last, "set_by": "x", "set_as": "coach"}
    return Restriction.model_validate(content)


NO_RUNS = Limit(what="share_vmax", at_most=0)


def above(restriction: Restriction | None, *, since: date = MONDAY) -> set[tuple[str | None, int | None]]:
    found = beyond_limits(
        programme(),
        {"ada": [restriction]} if restriction else {},
        since=since,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
    )
    return {(one.athlete, one.week) for one in found}


def test_sessions_above_a_newer_limit_are_found_for_that_athlete_only() -> None:
    assert above(held(NO_RUNS)) == {("ada", 1), ("ada", 2), ("ada", 3), ("ada", 4)}


def test_days_gone_by_and_days_it_does_not_hold_are_left_out() -> None:
    assert above(held(NO_RUNS), since=MONDAY + timedelta(days=14)) == {("ada", 3), ("ada", 4)}
    assert above(held(NO_RUNS, last=MONDAY + timedelta(days=6))) == {("ada", 1)}


def lines(restriction: Restriction) -> tuple[set[str], set[str]]:
    """Give the exercises, and whether sessions as a whole, of the first Monday that are above a limit."""
    document = programme()
    found = not_as_written(
        document,
        {"ada": [restriction]},
        first=MONDAY,
        last=MONDAY,
        rulebook=load_rulebook(),
        catalogue=load_catalogue(),
    )
    session = document.programmes[0].weeks[0].sessions[0]
    those = {line.exercise for line in session.prescriptions if line.ref in found}
    return those, {"whole"} & {"whole" if session.ref in found else ""}


def test_every_line_above_a_limit_is_named_not_only_the_worst() -> None:
    session = programme().programmes[0].weeks[0].sessions[0]
    work = {line.exercise for line in session.prescriptions if line.purpose == "work"}
    runs = {
        line.exercise
        for line in session.prescriptions
        if line.purpose == "work" and line.method in {"unloaded_sprint", "resisted_sprint"}
    }
    assert len(runs) > 1
    assert lines(held(NO_RUNS)) == (runs, set())
    assert lines(held(Limit(what="sets", at_most=0))) == (work, set())


def test_a_sum_that_no_line_passes_alone_names_the_session() -> None:
    assert lines(held(Limit(what="minutes", at_most=0))) == (set(), {"whole"})
    sets = Limit(what="sets", at_most=5)
    those, whole = lines(held(sets))
    assert those | whole


def test_a_limit_that_is_kept_or_none_finds_nothing() -> None:
    assert above(held(Limit(what="minutes", at_most=300))) == set()
    assert above(None) == set()
