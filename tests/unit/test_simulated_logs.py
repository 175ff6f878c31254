"""The simulator tells the truth: exact athletes show exactly what the programme expects of them."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date

import pytest

import invented_briefs as invented
from simulated_athletes import EXACT, Spread, Truth, astray, estimated
from simulated_logs import PERFECT, Absence, Habits, Pain, simulate_log
from speedloom.exchange.filled_weeks import clock_of
from speedloom.training.document import canonical
from speedloom.training.log import Log
from speedloom.training.programme import Programme
from speedloom.workflows.log_questions import questions, with_marks
from speedloom.workflows.standing_log import standing_log

SEASON = range(1, 13)
BUSY = Habits(skipped=0.1, mistyped=0.1, unusual=0.1)


@pytest.fixture(scope="module")
def programme() -> Programme:
    data = invented.brief(invented.athlete(), invented.athlete("bea", mass_kg=60.0))
    return invented.planned(data, [invented.trial(), invented.trial("bea", mass=60.0, clock="behind")])


def exact(programme: Programme) -> Truth:
    return replace(estimated(programme), spread=EXACT)


def test_exact_athletes_run_the_expected_times(programme: Programme) -> None:
    log = simulate_log(programme, weeks=SEASON, seed=1, truth=exact(programme), habits=PERFECT)
    expected = [
        (result.time_s, one.line.expect.time_s)
        for one in standing_log(log, programme).entries
        if one.line and one.line.expect
        for result in one.entry.results
    ]
    assert len(expected) > 300
    # Times are stored to the millisecond, efforts of the first week as shares: one millisecond apart at most.
    assert max(abs((came or 0.0) - wanted) for came, wanted in expected) <= 0.0015


def test_a_stronger_athlete_has_more_in_reserve(programme: Programme) -> None:
    truth = exact(programme)
    strong = {ref: replace(one, lifts={"back_squat": 160.0}) for ref, one in truth.people.items()}

    def reserve(one: Truth) -> list[int]:
        log = simulate_log(programme, weeks=SEASON, seed=1, truth=one, habits=PERFECT)
        results = [r for e in log.entries if e.exercise == "back_squat" for r in e.results]
        return [result.rir for result in results if result.rir is not None]

    usual, more = reserve(truth), reserve(replace(truth, people=strong))
    assert len(usual) == len(more) > 50
    assert sum(more) > sum(usual) + len(usual)


def test_growth_makes_them_faster(programme: Programme) -> None:
    truth = exact(programme)
    growing = {ref: replace(one, v0_a_week=0.005) for ref, one in truth.people.items()}

    def last(one: Truth) -> float:
        log = simulate_log(programme, weeks=range(12, 13), seed=1, truth=one, habits=PERFECT)
        return sum(result.time_s or 0.0 for entry in log.entries for result in entry.results)

    assert last(replace(truth, people=growing)) < 0.99 * last(truth)


def test_the_same_call_makes_the_same_log_and_more_weeks_leave_the_first(programme: Programme) -> None:
    truth = astray(estimated(programme), seed=3)
    log = simulate_log(programme, weeks=SEASON, seed=7, truth=truth, habits=BUSY)
    again = simulate_log(programme, weeks=SEASON, seed=7, truth=truth, habits=BUSY)
    assert canonical(log) == canonical(again)
    first = simulate_log(programme, weeks=range(1, 5), seed=7, truth=truth, habits=BUSY)
    assert set(first.entries) <= set(log.entries)
    assert simulate_log(programme, weeks=SEASON, seed=8, truth=truth, habits=BUSY) != log


def happened(programme: Programme) -> Log:
    return simulate_log(
        programme,
        weeks=SEASON,
        seed=7,
        truth=replace(estimated(programme), spread=Spread()),
        absences=[Absence("ada", date(2026, 2, 2), date(2026, 2, 8))],
        rain=[date(2026, 1, 22)],
        pain=[Pain("bea", date(2026, 2, 16), date(2026, 2, 22))],
        habits=BUSY,
    )


def test_absences_rain_and_pain_stand_in_the_log(programme: Programme) -> None:
    log = standing_log(happened(programme), programme)
    assert [str(day) for day in log.lost_days("ada")] == [
        "2026-01-22", "2026-02-02", "2026-02-03", "2026-02-05", "2026-02-06",
    ]  # fmt: skip
    assert [str(day) for day in log.lost_days("bea")] == [
        "2026-01-22", "2026-02-17", "2026-02-19", "2026-02-20",
    ]  # fmt: skip
    that_day = [one.entry for one in log.of_athlete("bea") if one.entry.date == date(2026, 2, 16)]
    assert Counter(one.reason for one in that_day)["pain"] >= 3
    assert any(one.note.startswith("Left calf") and one.status == "stopped" for one in that_day)


def test_a_squad_writes_as_people_do(programme: Programme) -> None:
    log = happened(programme)
    kinds = Counter(entry.status for entry in log.entries)
    assert set(kinds) == {"done", "modified", "skipped", "stopped", "absent"}
    assert sum(entry.replaces is not None for entry in log.entries) > 5
    assert sum(result.mark == "unusual" for entry in log.entries for result in entry.results) > 5
    whole = [entry for entry in log.entries if entry.line is None and entry.status == "done"]
    assert all(1 <= (entry.effort or 0) <= 10 and 20 <= (entry.minutes or 0) <= 120 for entry in whole)
    assert {entry.status for entry in log.entries if entry.minutes is not None} == {"done", "stopped"}


def unmarked(log: Log) -> Log:
    """Take the simulator's own marks away, as if nobody had been asked while typing."""
    entries = tuple(
        entry.model_copy(
            update={"results": tuple(one.model_copy(update={"mark": None}) for one in entry.results)}
        )
        for entry in log.entries
    )
    return log.model_copy(update={"entries": entries})


def test_every_slip_by_a_factor_of_ten_is_asked_about_and_changes_no_estimate(programme: Programme) -> None:
    truth = astray(estimated(programme), seed=5, share=0.04)
    habits = replace(PERFECT, unusual=0.3)
    log = simulate_log(programme, weeks=SEASON, seed=5, truth=truth, habits=habits)
    slipped = sum(result.mark is not None for entry in log.entries for result in entry.results)
    marked = with_marks(unmarked(log), programme, rulebook=invented.RULEBOOK)
    assert slipped > 100
    standing = standing_log(marked, programme)
    for ours, theirs in zip(log.entries, marked.entries, strict=True):
        for meant, found in zip(ours.results, theirs.results, strict=True):
            assert found.mark == "unusual" or meant.mark is None
            assert found not in standing.usable_results(theirs) or meant.mark is None


def test_ordinary_training_is_hardly_ever_asked_about(programme: Programme) -> None:
    truth = astray(estimated(programme), seed=5, share=0.04)
    log = simulate_log(programme, weeks=SEASON, seed=5, truth=truth, habits=PERFECT)
    results = sum(len(entry.results) for entry in log.entries)
    asked = questions(standing_log(log, programme), rulebook=invented.RULEBOOK)
    # Too light a squat leaves more than ten in reserve in the first week: that may well be asked about.
    assert len(asked) < 0.005 * results
    assert {one.why for one in asked} <= {"rir_many"}


def test_zones_are_timed_between_two_beams(programme: Programme) -> None:
    log = simulate_log(programme, weeks=SEASON, seed=5, truth=exact(programme), habits=PERFECT)
    zones = [one for one in standing_log(log, programme).entries if one.line and one.line.run_in_m]
    assert len(zones) > 5
    assert {(one.entry.timing, one.entry.clock) for one in zones} == {("gates", None)}
    for one in zones:
        assert one.line is not None
        assert clock_of(one.line) == {"timing": "gates", "clock": None, "behind_m": None}
