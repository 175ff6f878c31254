"""Seasons, two matches a week, a year, exams, travel, open slots, substitutes, holidays (common practice)."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from invented_briefs import Data, athlete, brief, findings, planned, resolved, sessions, slot, weeks
from speedloom.planning.weeks import lay_out
from speedloom.training.programme import Programme, Session

WHOLE = {"from": "2026-01-12", "until": "2026-04-05"}


def fields(*days: str) -> list[Data]:
    """Make track slots on these weekdays, named by their first three letters."""
    return [slot(day[:3], day, "track") for day in days]


def matches(*days: str) -> list[Data]:
    """Make matches at three in the afternoon."""
    return [{"kind": "match", "title": "League", "date": day, "start": "15:00:00"} for day in days]


def phased(data: Data, **phases: object) -> Data:
    """Change the phases of a brief."""
    data["phases"] |= phases
    return data


def work(session: Session, **fields: object) -> list[str]:
    """Name the working lines of a session whose fields have these values, a top-speed run by its run."""
    return [
        line.run or line.method
        for line in session.prescriptions
        if line.purpose == "work" and all(getattr(line, name) == value for name, value in fields.items())
    ]


def on(programme: Programme, day: str) -> Session:
    """Give the only session of a date."""
    (found,) = [session for session in sessions(programme) if session.date.isoformat() == day]
    return found


def factors(programme: Programme) -> dict[str, float]:
    """Give the share of a full week that the runs of each day were multiplied by."""
    found = {}
    for session in sessions(programme):
        for line in session.prescriptions:
            if line.purpose == "work" and line.run is not None:
                count = programme.basis[line.basis["reps"]]
                wanted = programme.basis[programme.basis[count.inputs["proposed"]].inputs["wanted"]]
                found[session.date.isoformat()] = float(programme.basis[wanted.inputs["factor"]].value or 0)
    return found


def test_a_season_goes_three_weeks_up_and_one_easy_between_its_ends() -> None:
    programme = planned(phased(brief(athlete(in_training=True)), season=[WHOLE]))
    found = weeks(programme)
    assert {week.kind for week in found} == {"in_season"}
    cycle = [week.specificity for week in found[:4]]
    assert cycle[:3] == sorted(cycle[:3])
    assert (cycle[0], max(cycle)) == (0.45, 0.9)
    assert [week.specificity for week in found] == cycle * 3
    by_monday = factors(programme)
    volumes = [by_monday[(date(2026, 1, 12) + timedelta(weeks=more)).isoformat()] for more in range(4)]
    assert volumes == pytest.approx([0.65, 0.65, 0.65, 0.65 * 0.6])


def test_a_season_begins_its_cycle_again_after_weeks_outside_it() -> None:
    two = [{"from": "2026-01-12", "until": "2026-02-01"}, {"from": "2026-02-23", "until": "2026-04-05"}]
    data = phased(brief(athlete(in_training=True)), season=two)
    plans = lay_out(resolved(data, []), in_training=True)
    assert [plan.season_place for plan in plans] == [0, 1, 2, None, None, None, 0, 1, 2, 3, 0, 1]


def test_two_matches_a_week_leave_light_days_and_primers_only() -> None:
    days = matches(*[f"2026-02-{day:02d}" for day in (4, 7, 11, 14)])
    data = phased(
        brief(slots=fields("monday", "thursday", "friday"), events=days, end="2026-02-15"), season=[WHOLE]
    )
    programme = planned(data)
    assert findings(programme).hard() == ()
    dates = {session.date.isoformat() for session in sessions(programme)}
    assert not dates & {"2026-02-05", "2026-02-12"}
    for monday in ("2026-02-02", "2026-02-09"):
        assert "resisted_sprint" not in work(on(programme, monday))
    for friday in ("2026-02-06", "2026-02-13"):
        primer = on(programme, friday)
        assert set(work(primer)) <= {"acceleration"}
        assert sum(line.reps for line in primer.prescriptions if line.purpose == "work") <= 3


def test_a_year_with_two_peaks_starts_again_at_0_4_and_never_from_the_beginning() -> None:
    peaks = [{"date": "2026-06-06"}, {"date": "2026-12-19"}, {"date": "2026-04-18", "size": "minor"}]
    data = phased(
        brief(end="2027-01-10", goal={"kind": "sprint_time", "distance_m": 40, "peaks": peaks}), taper_days=10
    )
    programme = planned(data)
    found = weeks(programme)
    assert len(found) == 52
    assert findings(programme).hard() == ()
    peak = next(place for place, week in enumerate(found) if week.monday == date(2026, 6, 1))
    after = found[peak + 1 :]
    assert (found[peak].kind, after[0].kind) == ("taper", "break")
    assert next(week.specificity for week in after if week.kind == "loading") == 0.4
    assert min(week.specificity for week in after) == 0.4
    second = next(week for week in found if week.monday == date(2026, 12, 14))
    assert second.kind == "taper"
    assert second.specificity == pytest.approx(1.0, abs=0.12)


def test_exam_days_hold_seven_tenths_and_only_they() -> None:
    # Mann et al. 2016 (read): more injuries in exam weeks; the share itself is common practice.
    exam = {"kind": "exam", "date": "2026-02-02", "until": "2026-02-04"}
    plain, examined = factors(planned(brief())), factors(planned(brief(events=[exam])))
    changed = {day for day, share in examined.items() if share != plain[day]}
    assert changed == {"2026-02-02"}
    assert examined["2026-02-02"] == pytest.approx(0.7 * plain["2026-02-02"])


def test_nobody_runs_flat_out_on_a_day_of_travel() -> None:
    trip = {"kind": "travel", "date": "2026-02-02", "training": "possible"}
    session = on(planned(brief(events=[trip])), "2026-02-02")
    runs = [line for line in session.prescriptions if line.method == "unloaded_sprint"]
    assert runs
    assert {line.effort for line in runs} == {0.9}
    assert "top_speed" not in work(session)


def test_an_open_slot_leaves_the_day_before_a_match_and_the_day_after() -> None:
    wandering = slot("free", "friday", "track") | {"open": True}
    quiet = brief(slots=[*fields("monday"), wandering], end="2026-02-01")
    played = quiet | {"events": matches("2026-01-24")}
    before = {one.date for one in sessions(planned(quiet)) if one.slot == "free"}
    after = {one.date for one in sessions(planned(played)) if one.slot == "free"}
    assert date(2026, 1, 23) in before
    assert not after & {date(2026, 1, day) for day in (22, 23, 24, 25)}
    assert len(after) == len(before)
    assert date(2026, 1, 30) in after


@pytest.mark.parametrize(("minutes", "runs"), [(0.0, True), (20.0, True), (30.0, False), (90.0, False)])
def test_who_hardly_played_gets_a_few_top_speed_runs_the_day_after(minutes: float, *, runs: bool) -> None:
    data = brief(
        athlete(match_minutes=minutes, in_training=True),
        slots=fields("wednesday", "sunday"),
        events=matches("2026-01-31"),
        end="2026-02-08",
    )
    programme = planned(phased(data, season=[WHOLE]))
    sunday = [one for one in sessions(programme) if one.date == date(2026, 2, 1)]
    assert bool(sunday) is runs
    for session in sunday:
        fast = [line for line in session.prescriptions if line.run == "top_speed"]
        assert 2 <= sum(line.reps for line in fast) <= 4
        assert set(work(session)) <= {"top_speed", "hamstring_groin_calf"}


def holiday(first: str, until: str) -> Data:
    """Make a holiday without training."""
    return {"kind": "holiday", "date": first, "until": until, "training": "none"}


def test_the_weeks_after_three_weeks_of_holiday_come_back_by_steps() -> None:
    # Rule D3 (memory): 50, 30, 20 and 10 % less after two weeks or more.
    programme = planned(brief(athlete(in_training=True), events=[holiday("2026-02-09", "2026-03-01")]))
    shares = factors(programme)
    mondays = ["2026-03-02", "2026-03-09", "2026-03-16", "2026-03-23"]
    assert [shares[monday] <= cap for monday, cap in zip(mondays, (0.5, 0.7, 0.8, 0.9), strict=True)] == [
        True
    ] * 4
    first = on(programme, "2026-03-02")
    runs = [line for line in first.prescriptions if line.method == "unloaded_sprint"]
    assert {line.effort for line in runs} == {0.9}
    assert findings(programme).hard() == ()


@pytest.mark.parametrize("closed", ["2026-01-26", "2026-02-09"])
def test_a_lighter_week_beside_a_closed_one_is_a_loading_week(closed: str) -> None:
    # Week 4 (2 to 8 February) is the lighter one; the week before or after it is closed.
    until = (date.fromisoformat(closed) + timedelta(days=6)).isoformat()
    plans = lay_out(resolved(brief(events=[holiday(closed, until)]), []), in_training=False)
    kinds = {plan.monday.isoformat(): plan.kind for plan in plans}
    assert (kinds[closed], kinds["2026-02-02"]) == ("break", "loading")
    plain = lay_out(resolved(brief(), []), in_training=False)
    assert plain[3].kind == "deload"


def test_two_sessions_on_a_day_are_one_hard_and_one_that_is_not() -> None:
    both = [slot("am", "monday", "track", start="09:00:00"), slot("pm", "monday", "track", start="17:00:00")]
    programme = planned(brief(athlete(in_training=True), slots=both, end="2026-02-08"))
    second = [one for one in sessions(programme) if one.slot == "pm"]
    assert second
    for session in second:
        runs = [line for line in session.prescriptions if line.method == "unloaded_sprint"]
        assert all(line.effort is not None and line.effort <= 0.9 for line in runs)
        assert "plyometric" not in work(session)
    assert findings(programme).hard() == ()


def test_one_session_a_week_holds_the_weekly_top_speed_runs() -> None:
    programme = planned(brief(athlete(in_training=True), slots=fields("wednesday")))
    for week in weeks(programme):
        if week.kind == "loading":
            (session,) = week.sessions
            assert "top_speed" in work(session)
    assert findings(programme).hard() == ()


def test_a_slot_that_comes_and_goes_has_sessions_on_its_own_dates_only() -> None:
    passing = slot("thu", "thursday", "track") | {"from": "2026-02-01", "until": "2026-03-01"}
    days = {
        one.date for one in sessions(planned(brief(slots=[*fields("monday"), passing]))) if one.slot == "thu"
    }
    assert days == {date(2026, 2, 5) + timedelta(weeks=more) for more in range(4)}
