"""Lines of the planner that could once be broken without a test noticing (all common practice)."""

from __future__ import annotations

from datetime import date

from invented_briefs import athlete, brief, findings, lines, planned, resolved, sessions, slot, trial, weeks
from speedloom.planning.weeks import lay_out

PEAK = "2026-04-04"


def peaked(**more: object) -> dict[str, object]:
    """Make a brief with a main peak on its last Saturday."""
    data = brief(**more)  # type: ignore[arg-type]
    data["goal"] = {"kind": "sprint_time", "distance_m": 40, "peaks": [{"date": PEAK, "size": "main"}]}
    data["phases"] |= {"taper_days": 10, "deload": "first"}  # type: ignore[operator]
    return data


def test_a_lighter_week_before_a_single_loading_week_stands_one_step_below_it() -> None:
    plans = lay_out(resolved(peaked(), []), in_training=False)
    lighter = next(plan for plan in plans if plan.kind == "deload" and plan.places == 1)
    loading = next(plan for plan in plans if plan.kind == "loading" and plan.mesocycle == lighter.mesocycle)
    assert lighter.loading_before == loading.loading_before - 1


def test_no_sled_in_the_last_week_and_no_top_speed_on_the_last_day_before_a_peak() -> None:
    data = peaked()
    data["slots"] = [slot("fri", "friday", "track"), slot("tue", "tuesday", "track")]
    near = [
        ((date.fromisoformat(PEAK) - session.date).days, line)
        for session in sessions(planned(data))
        for line in session.prescriptions
    ]
    assert min(days for days, line in near if line.method == "resisted_sprint") >= 7
    assert min(days for days, line in near if line.run == "top_speed") > 1


def test_track_sprinters_run_no_zone_in_the_three_days_before_a_competition() -> None:
    data = peaked()
    data["goal"]["distance_m"] = 100
    data["events"] = [{"kind": "competition", "title": "Meeting", "date": PEAK}]
    data["slots"] = [slot("tue", "tuesday", "track"), slot("wed", "wednesday", "track")]
    data["slots"] += [slot("mon", "monday", "track")]
    near = [
        (date.fromisoformat(PEAK) - session.date).days
        for session in sessions(planned(data))
        for line in session.prescriptions
        if line.run == "top_speed"
    ]
    assert min(near) > 3


def test_introduction_sleds_never_slow_more_than_their_rule() -> None:
    data = brief()
    data["kit"][1]["plates_kg"] = [[26.0, 4]]  # the nearest load may be the heavier one
    first = weeks(planned(data))[0]
    sleds = [line.decrement for session in first.sessions for line in session.prescriptions if line.decrement]
    assert sleds
    assert max(sleds) <= 0.25


def test_a_lighter_week_is_cut_from_the_week_before_it() -> None:
    data = brief()
    data["phases"] |= {"deload": "first", "taper_days": 0}  # type: ignore[operator]
    programme = planned(data)
    for before, lighter in zip(weeks(programme), weeks(programme)[1:], strict=False):
        if lighter.kind == "deload":
            assert lighter.volumes["acceleration"].wanted < 0.65 * before.volumes["acceleration"].wanted


def test_a_runner_with_long_acceleration_runs_fewer_than_three_of_them() -> None:
    data = brief(athlete(level="advanced"))
    data["places"][1]["straight_m"] = 150
    data["phases"] |= {"deload": "none", "taper_days": 0}
    slow_starter = [trial(f0=5.6, v0=11.6, gates=(10, 20, 30, 40, 60))]
    standing = [line for line in lines(planned(data, slow_starter), run="acceleration") if line.distance_m]
    longest = max(standing, key=lambda line: line.distance_m or 0)
    assert (longest.distance_m or 0) >= 80
    assert longest.reps < 3


def test_runs_of_more_than_50_m_from_standing_are_for_the_advanced_level() -> None:
    # Rule S1b, common practice: what the check would warn of is not proposed.
    data = brief(athlete(level="intermediate"))
    data["places"][1]["straight_m"] = 150
    programme = planned(data, [trial(f0=5.6, v0=10.0)])
    distances = {line.distance_m or 0.0 for line in lines(programme, run="acceleration")}
    assert max(distances) == 50
    assert "long_standing_run" not in {finding.rule for finding in findings(programme)}
