"""Which days stand, what they are for, and what lies near them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from invented_briefs import RULEBOOK, Data, athlete, brief, planned, resolved, sessions, slot
from speedloom.planning.calendar_week import Day, days_of_week
from speedloom.planning.weeks import WeekPlan

MONDAY = date(2026, 1, 19)


def week_of(data: Data, *, before: tuple[Day, ...] = (), more: int = 0) -> tuple[dict[str, Day], list[str]]:
    """Give the days of the second week (or a later one) by slot, and the slots that are lost."""
    ready = resolved(data, [])
    week = WeekPlan(2 + more, MONDAY + timedelta(weeks=more), 1, "loading")
    days, lost = days_of_week(ready, ready.athletes[0], week, rulebook=RULEBOOK, before=before)
    return {day.slot.ref: day for day in days}, [one.ref for one in lost]


def fields(*days: str, start: str = "17:00:00") -> list[Data]:
    """Make track slots on these weekdays, named by their first three letters."""
    return [slot(day[:3], day, "track", start=start) for day in days]


def match(day: str, **more: object) -> Data:
    """Make a match on a date of January 2026."""
    return {"kind": "match", "title": "Home", "date": f"2026-01-{day}"} | more


def test_the_first_field_day_is_heavier_the_last_faster_one_between_neutral() -> None:
    days, _ = week_of(brief(slots=fields("monday", "wednesday", "friday")))
    assert [days[ref].role for ref in ("mon", "wed", "fri")] == ["heavier", "neutral", "faster"]


def test_a_single_field_day_is_neutral_a_single_gym_day_heavier() -> None:
    days, _ = week_of(brief(slots=[slot("mon", "monday", "track"), slot("tue", "tuesday", "gym")]))
    assert (days["mon"].role, days["tue"].role) == ("neutral", "heavier")


def test_field_and_gym_days_have_roles_of_their_own() -> None:
    days, _ = week_of(brief())
    assert [day.role for day in days.values()] == ["heavier", "heavier", "faster", "faster"]
    assert [ref for ref, day in days.items() if day.last_of_kind] == ["thu", "fri"]


def test_the_day_after_a_hard_one_is_easy_and_has_no_jumps() -> None:
    days, _ = week_of(brief(slots=fields("monday", "tuesday", "wednesday")))
    assert [(day.easy, day.jumps) for day in days.values()] == [(False, True), (True, False), (False, True)]
    assert days["tue"].role == "neutral"


@pytest.mark.parametrize(("hour", "easy"), [("16:00:00", True), ("17:00:00", False), ("18:00:00", False)])
def test_48_hours_are_counted_from_start_to_start(hour: str, *, easy: bool) -> None:
    days, _ = week_of(brief(slots=[*fields("monday"), *fields("wednesday", start=hour)]))
    assert days["wed"].easy is easy


def test_the_gap_reaches_over_sunday() -> None:
    data = brief(slots=fields("monday", "sunday"))
    first, _ = week_of(data)
    second, _ = week_of(data, before=tuple(first.values()), more=1)
    assert not first["sun"].easy
    assert second["mon"].easy


def test_an_easy_day_does_not_make_the_next_one_easy() -> None:
    # Saturday hard, Sunday easy: on Monday 48 h have passed since the last hard day.
    data = brief(slots=fields("monday", "saturday", "sunday"))
    first, _ = week_of(data)
    second, _ = week_of(data, before=tuple(first.values()), more=1)
    assert [first[ref].easy for ref in ("mon", "sat", "sun")] == [False, False, True]
    assert not second["mon"].easy


def test_a_match_closes_its_day_and_the_day_after() -> None:
    days, lost = week_of(brief(slots=fields("friday", "saturday", "sunday"), events=[match("24")]))
    assert list(days) == ["fri"]
    assert lost == ["sat", "sun"]


@pytest.mark.parametrize("kickoff", ["10:00:00", "15:00:00", "20:00:00"])
@pytest.mark.parametrize("hour", ["08:00:00", "17:00:00"])
def test_the_last_two_days_before_a_match_count_as_days_not_only_as_hours(kickoff: str, hour: str) -> None:
    data = brief(
        slots=fields("wednesday", "thursday", "friday", start=hour), events=[match("24", start=kickoff)]
    )
    days, _ = week_of(data)
    assert {ref: day.nearness for ref, day in days.items()} == {
        "wed": "free",
        "thu": "light",
        "fri": "primer",
    }


@pytest.mark.parametrize("size", ["match", "main", "minor"])
def test_a_substitute_runs_after_one_match_but_not_on_the_eve_of_the_next(size: str) -> None:
    played = [match("22"), *([match("24")] if size == "match" else [])]
    peaks = [] if size == "match" else [{"date": "2026-01-24", "size": size}]
    slots = fields("friday", start="10:00:00")
    more = {"slots": slots, "goal": {"kind": "sprint_time", "distance_m": 40, "peaks": peaks}}
    _, lost = week_of(brief(athlete(match_minutes=10.0), events=played, **more))
    assert lost == ["fri"]
    days, _ = week_of(brief(athlete(match_minutes=10.0), events=[match("22")], slots=slots))
    assert days["fri"].nearness == "top_up"


def test_no_gym_the_day_before_a_match() -> None:
    days, lost = week_of(brief(events=[match("24")]))
    assert "fri" not in days
    assert lost == ["fri"]


def test_every_day_of_a_tournament_counts() -> None:
    cup = {"kind": "competition", "date": "2026-01-21", "until": "2026-01-23"}
    days, lost = week_of(
        brief(slots=fields("monday", "wednesday", "friday", "saturday", "sunday"), events=[cup])
    )
    assert sorted(lost) == ["fri", "sat", "wed"]
    assert {ref: day.nearness for ref, day in days.items()} == {"mon": "light", "sun": "free"}


def test_the_lighter_of_two_days_near_a_match_is_the_faster_one() -> None:
    days, _ = week_of(brief(slots=fields("monday", "thursday"), events=[match("24")]))
    assert (days["mon"].role, days["thu"].role) == ("heavier", "faster")
    days, _ = week_of(brief(slots=fields("monday", "friday"), events=[match("21")]))
    assert (days["mon"].nearness, days["mon"].role) == ("light", "faster")
    assert (days["fri"].nearness, days["fri"].role) == ("free", "heavier")


@pytest.mark.parametrize(
    ("event", "stands"),
    [
        ({"kind": "holiday", "training": "none"}, False),
        ({"kind": "holiday", "training": "possible"}, True),
        ({"kind": "holiday"}, True),
        ({"kind": "exam"}, True),
        ({"kind": "travel"}, False),
        ({"kind": "travel", "training": "possible"}, True),
    ],
)
def test_an_event_closes_a_day_or_leaves_it_open(event: Data, *, stands: bool) -> None:
    days, lost = week_of(brief(events=[event | {"date": "2026-01-19"}]))
    assert ("mon" in days) is stands
    assert ("mon" in lost) is not stands


def test_slots_keep_to_their_own_dates_and_those_of_the_programme() -> None:
    late = [slot("mon", "monday", "track") | {"from": "2026-01-20"}, slot("fri", "friday", "gym")]
    days, lost = week_of(brief(slots=late, end="2026-01-22"))
    assert (days, lost) == ({}, [])


def test_present_are_those_who_are_not_away() -> None:
    away = [{"date": "2026-01-19"}]
    data = brief(athlete(), athlete("ben"), athlete("cas", away=away))
    days, _ = week_of(data)
    assert (days["mon"].present, days["tue"].present) == (2, 3)


def test_days_to_a_peak_are_whole_days_and_end_with_it() -> None:
    peaks = [{"date": "2026-01-22", "size": "main"}, {"date": "2026-01-25", "size": "minor"}]
    days, _ = week_of(brief(slots=fields("monday", "saturday"), goal={"kind": "general", "peaks": peaks}))
    assert (days["mon"].days_to_peak, days["mon"].days_to_minor) == (3, 6)
    assert "sat" not in days or days["sat"].days_to_peak is None


@pytest.mark.parametrize("off", [0, 3])
def test_who_begins_later_than_the_programme_has_a_first_week_back(off: int) -> None:
    away = [{"date": "2026-01-12", "until": "2026-01-22"}]
    programme = planned(brief(athlete(away=away, weeks_off=off), end="2026-02-22"))
    first = [session for session in sessions(programme) if session.date <= date(2026, 1, 25)]
    runs = [line for session in first for line in session.prescriptions if line.method == "unloaded_sprint"]
    assert first
    assert all(line.effort is not None and line.effort <= 0.9 for line in runs)
    assert not [line for line in runs if line.run == "top_speed"]


def test_an_open_slot_never_stands_on_another_slot_s_minutes() -> None:
    # The quiet days are closed; on the others a slot stands at the same time.
    closed = [{"kind": "holiday", "training": "none", "date": f"2026-01-{day}"} for day in (20, 22, 24, 25)]
    wandering = slot("free", "tuesday", "track") | {"open": True}
    days, _ = week_of(brief(slots=[*fields("monday", "wednesday", "friday"), wandering], events=closed))
    dates = [day.date for day in days.values()]
    assert len(dates) == len(set(dates))


def test_two_open_slots_take_two_days() -> None:
    two = [slot(ref, "tuesday", "track") | {"open": True} for ref in ("one", "two")]
    days, _ = week_of(brief(slots=two))
    assert abs((days["one"].date - days["two"].date).days) >= 2


def test_an_open_slot_keeps_to_its_own_dates() -> None:
    late = slot("free", "monday", "track") | {"open": True, "from": "2026-01-23"}
    days, _ = week_of(brief(slots=[late]))
    assert days["free"].date >= date(2026, 1, 23)


def test_days_that_a_restriction_took_away_are_no_training() -> None:
    none = {"ref": "r", "set_by": "x", "set_as": "coach", "from": "2026-02-02", "until": "2026-02-20"}
    shut = athlete(restrictions=[none | {"limits": [{"what": "minutes", "at_most": 0}]}], in_training=True)
    programme = planned(brief(shut, end="2026-03-08"))
    days = [session for session in sessions(programme) if session.date > date(2026, 2, 1)]
    assert days[0].date == date(2026, 2, 23)
    first = [line for session in days if session.date < date(2026, 3, 2) for line in session.prescriptions]
    runs = [line for line in first if line.method == "unloaded_sprint"]
    assert all(line.effort is not None and line.effort <= 0.9 for line in runs)
