"""The weeks before any session, worked by hand (all common practice but the taper)."""

from __future__ import annotations

from datetime import date

import pytest

from invented_briefs import RULEBOOK, Data, athlete, brief, lines, planned, resolved, sessions, weeks
from speedloom.planning.formulas import FORMULAS
from speedloom.planning.weeks import WeekPlan, lay_out, reserve_week
from speedloom.training.programme import Programme

SATURDAY = "2026-04-04"


def laid_out(
    *, in_training: bool = False, peaks: tuple[Data, ...] = (), **phases: object
) -> tuple[WeekPlan, ...]:
    """Lay out twelve weeks from 12 January 2026."""
    data = brief(goal={"kind": "general", "peaks": list(peaks)})
    data["phases"] |= phases
    return lay_out(resolved(data, []), in_training=in_training)


def kinds(plans: tuple[WeekPlan, ...]) -> str:
    """Write the kinds as letters: i l d t b."""
    return "".join(plan.kind[0] for plan in plans)


def main_peak(day: str = SATURDAY) -> tuple[Data, ...]:
    """Make a main peak."""
    return ({"date": day, "size": "main"},)


@pytest.mark.parametrize(
    ("deload", "in_training", "expected"),
    [
        ("last", False, "illdllldllld"),
        ("last", True, "llldllldllld"),
        ("first", False, "illldllldlll"),  # the first week is an introduction whatever its kind
        ("first", True, "dllldllldlll"),
        ("none", False, "illlllllllll"),
        ("none", True, "llllllllllll"),
    ],
)
def test_the_lighter_week_stands_where_the_coach_puts_it(
    deload: str, expected: str, *, in_training: bool
) -> None:
    assert kinds(laid_out(deload=deload, in_training=in_training)) == expected


def test_the_last_mesocycle_is_cut_to_the_end_and_loses_its_deload() -> None:
    plans = laid_out(mesocycle_weeks=[4, 4, 6])
    assert [plan.mesocycle for plan in plans] == [1] * 4 + [2] * 4 + [3] * 4
    assert kinds(plans) == "illdllldllll"


def test_mesocycles_go_on_as_the_last_one_where_the_dates_ask_for_more() -> None:
    assert [plan.mesocycle for plan in laid_out(mesocycle_weeks=[6, 3])] == [1] * 6 + [2] * 3 + [3] * 3


@pytest.mark.parametrize(
    ("length", "ramp"),
    [
        (3, "0.85 1 1"),
        (4, "0.8 0.9 1 1"),
        (5, "0.8 0.85 0.9 1 1"),
        (6, "0.8 0.85 0.9 1 1 1"),
    ],
)
def test_loading_weeks_climb_as_listed(length: int, ramp: str) -> None:
    plans = laid_out(in_training=True, deload="none", mesocycle_weeks=[length, 6, 6])[:length]
    assert " ".join(f"{_factor(plan):g}" for plan in plans) == ramp


@pytest.mark.parametrize(
    ("lengths", "ramp"),
    [([6, 3, 3], "1 0.9 0.8"), ([4, 4, 4], "0.9 1 0.9 0.8"), ([6, 6], "0.9 1 1 1 0.9 0.8")],
)
def test_the_last_mesocycle_takes_volume_off_again(lengths: list[int], ramp: str) -> None:
    plans = laid_out(in_training=True, deload="none", mesocycle_weeks=lengths)
    assert " ".join(f"{_factor(plan):g}" for plan in plans[-lengths[-1] :]) == ramp


def _factor(plan: WeekPlan) -> float:
    return RULEBOOK.number("weeks_ramp", plan.factor_number)


@pytest.mark.parametrize(
    ("length", "row"), [(3, [1, 2, 4]), (4, [1, 2, 3, 4]), (5, [1, 2, 2, 2, 4]), (6, [1, 2, 2, 2, 2, 4])]
)
def test_repetitions_in_reserve_follow_their_row(length: int, row: list[int]) -> None:
    plans = laid_out(in_training=True, deload="none", mesocycle_weeks=[length, 6, 6])[:length]
    assert [reserve_week(plan) for plan in plans] == row


def test_two_loading_weeks_use_the_last_two_places_and_the_deload_the_last() -> None:
    assert [reserve_week(plan) for plan in laid_out(deload="last")[1:4]] == [3, 4, 4]


def test_specificity_by_hand() -> None:
    # Eight loading weeks in three mesocycles: 8 + 3 - 2 = 9 steps, two of them on entering a mesocycle.
    expected = [0, 0, 1, 1, 3, 4, 5, 5, 7, 8, 9, 9]
    found = [week.specificity for week in weeks(planned(brief()))]
    assert found == pytest.approx([ninth / 9 for ninth in expected], abs=6e-4)


def test_specificity_keeps_to_its_ends_and_never_falls() -> None:
    for deload in ("first", "last", "none"):
        data = brief()
        data["phases"] |= {"deload": deload, "specificity": [0.2, 0.8]}
        found = [week.specificity for week in weeks(planned(data))]
        assert (found[0], found[-1]) == (0.2, 0.8)
        assert found == sorted(found)


def test_a_deload_that_opens_a_mesocycle_has_its_specificity_one_that_ends_it_keeps_the_last() -> None:
    first, last = (laid_out(deload=deload) for deload in ("first", "last"))
    assert (first[4].kind, first[4].loading_before, first[5].loading_before) == ("deload", 3, 3)
    assert (last[3].kind, last[3].loading_before, last[2].loading_before) == ("deload", 1, 1)


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        (0, "illdllldllld"),
        (8, "illdllldlllt"),
        (9, "illdllldlltt"),
        (10, "illdllldlltt"),
        (14, "illdllldlltt"),
    ],
)
def test_the_taper_takes_the_weeks_whose_thursday_lies_in_it(days: int, expected: str) -> None:
    # Saturday 4 April less 8 days is Friday 27 March: that week's Thursday is before it.
    assert kinds(laid_out(taper_days=days, peaks=main_peak())) == expected


def test_the_week_after_a_main_peak_is_light() -> None:
    plans = laid_out(taper_days=8, peaks=main_peak("2026-02-28"))
    assert (plans[6].kind, plans[7].kind, plans[7].factor_number) == ("taper", "break", "after_peak")


@pytest.mark.parametrize(
    ("days_to_peak", "taper_days", "factor"),
    # Means: 14 days (7 x 0.70 + 7 x 0.45) / 14 = 0.575, a cut of 42 % (Bosquet 2007, read: 41 to 60 %).
    [(14, 14, 0.70), (8, 14, 0.70), (7, 14, 0.45), (1, 14, 0.45), (11, 11, 0.70), (10, 10, 0.5), (8, 8, 0.5)],
)
def test_taper_factors(days_to_peak: int, taper_days: int, factor: float) -> None:
    taper = FORMULAS["taper.factor"](
        days_to_peak=days_to_peak, taper_days=taper_days, far=0.70, near=0.45, short=0.50
    )
    assert taper == factor


def _factors(data: Data) -> dict[str, float]:
    """Give the factor that the runs of each day were multiplied by."""
    programme = planned(data)
    found = {}
    for session in sessions(programme):
        for line in session.prescriptions:
            if line.purpose == "work" and line.run is not None:
                count = programme.basis[line.basis["reps"]]
                wanted = programme.basis[programme.basis[count.inputs["proposed"]].inputs["wanted"]]
                node = programme.basis[wanted.inputs["factor"]]
                found[session.date.isoformat()] = float(node.value or 0)
    return found


def test_a_taper_begins_on_its_day_not_on_its_monday() -> None:
    data = brief(goal={"kind": "general", "peaks": list(main_peak("2026-04-05"))})
    data["phases"]["taper_days"] = 10
    factors = _factors(data)
    # Thursday 26 March is the tenth day before Sunday 5 April; Monday the 23rd is not yet in it.
    assert factors["2026-03-26"] == 0.5
    assert factors["2026-03-30"] == 0.5


def test_a_minor_peak_lightens_its_last_five_days_and_nothing_else() -> None:
    plain = _factors(brief(goal={"kind": "general"}))
    peak = {"date": "2026-02-14", "size": "minor"}
    light = _factors(brief(goal={"kind": "general", "peaks": [peak]}))
    changed = {day for day, factor in light.items() if factor != plain[day]}
    assert changed == {"2026-02-09", "2026-02-12"}
    assert all(light[day] == pytest.approx(0.6 * plain[day]) for day in changed)


def test_three_weeks_off_cut_the_first_four_weeks() -> None:
    factors = _factors(brief(athlete(weeks_off=3)))
    mondays = ["2026-01-12", "2026-01-19", "2026-01-26", "2026-02-02", "2026-02-09"]
    # The lighter of the ramp (0.6, 0.9, 1, 0.6 deload, 0.85) and what 50, 30, 20 and 10 % leave.
    assert [factors[monday] for monday in mondays] == [0.5, 0.7, 0.8, 0.6, 0.85]


def test_the_introduction_week_is_gentle() -> None:
    programme = planned(brief())
    first = weeks(programme)[0]
    work = [line for session in first.sessions for line in session.prescriptions if line.purpose == "work"]
    assert {line.effort for line in work if line.method == "unloaded_sprint"} == {0.90}
    assert not [line for line in work if line.run == "top_speed"]
    assert max(line.decrement or 0 for line in work) <= 0.25
    assert {line.rir for line in work if line.rir is not None} == {5}
    assert {line.load_kg for line in work if line.method == "power"} == {None}
    assert {(line.sets, line.reps) for line in work if line.exercise.endswith("nordic_lower")} == {(1, 5)}
    assert {line.exercise for line in work if line.method == "plyometric"} <= {
        "broad_jump_stick",
        "squat_jump_low",
        "low_pogo",
        "low_forward_pogo",
    }


def test_a_deload_cuts_runs_and_sets_by_30_to_50_percent_of_the_fullest_week_and_keeps_speed() -> None:
    for level in ("novice", "intermediate", "advanced"):
        programme = planned(brief(athlete(level=level)))
        amounts = {week.number: _amounts(week.number, programme) for week in weeks(programme)}
        for light, before in ((8, (5, 6, 7)), (12, (9, 10, 11))):
            for kind in (0, 1):
                usual = max(amounts[number][kind] for number in before)
                assert 0.5 * usual <= amounts[light][kind] <= 0.7 * usual + 1e-9, (level, light, kind)
        efforts = {line.effort for line in lines(programme, run="top_speed")}
        assert efforts <= {None, 0.95}


def _amounts(number: int, programme: Programme) -> tuple[float, float]:
    metres = sets = 0.0
    for session in weeks(programme)[number - 1].sessions:
        for line in session.prescriptions:
            if line.purpose != "work":
                continue
            if line.method in {"unloaded_sprint", "resisted_sprint"}:
                metres += line.sets * line.reps * ((line.distance_m or 0) + (line.run_in_m or 0))
            elif line.method in {"power", "maximal_strength", "general_strength"}:
                sets += line.sets
    return metres, sets


def test_the_last_days_before_a_main_peak() -> None:
    # Common practice: last sled 7 to 10 days before, last lift at 85 % and last Nordic 5 to 7.
    data = brief(goal={"kind": "general", "peaks": list(main_peak())})
    data["phases"]["taper_days"] = 14
    last: dict[str, int] = {}
    for session in sessions(planned(data)):
        days = (date.fromisoformat(SATURDAY) - session.date).days
        for line in session.prescriptions:
            heavy = (line.share_1rm or 0) >= 0.85
            nordic = "nordic" in line.exercise and line.hold_s is None
            for name, true in {
                "sled": line.method == "resisted_sprint",
                "heavy": heavy,
                "nordic": nordic,
            }.items():
                if true:
                    last[name] = days
    assert last["sled"] >= 7
    assert last["heavy"] > 5
    assert last["nordic"] > 5
