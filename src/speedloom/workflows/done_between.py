"""What an athlete did between two tests: a plain count from the log, beside what was planned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from speedloom.training.log import Result
from speedloom.training.programme import Prescription
from speedloom.workflows.standing_log import NOT_TRAINED, StandingEntry, StandingLog


@dataclass(frozen=True)
class DoneBetween:
    """Sessions done of those planned, metres run hard, and sets with a load; extras are not in `planned`."""

    sessions: int
    planned: int
    extras: int
    metres: float
    sets: int


def done_between(standing: StandingLog, athlete: str, *, first: date, last: date) -> DoneBetween:
    """Count what was done after the first test day and before the last one.

    A line done without results counts as written; warm-ups are not counted.
    """
    planned = {
        session.ref
        for own in standing.programme.programmes
        if own.athlete == athlete
        for week in own.weeks
        for session in week.sessions
        if first < session.date < last
    }
    own = [one for one in standing.of_athlete(athlete) if first < one.entry.date < last]
    trained = [one for one in own if one.entry.status not in NOT_TRAINED]
    done = {one.session.ref for one in trained if one.session is not None}
    lines = [one for one in trained if one.entry.line is not None or one.entry.exercise is not None]
    return DoneBetween(
        sessions=len(done & planned),
        planned=len(planned),
        extras=len({one.entry.date for one in trained if one.place == "extra"}),
        metres=sum(_metres(one) for one in lines),
        sets=sum(_sets(one) for one in lines),
    )


def _metres(one: StandingEntry) -> float:
    if one.entry.results:
        return sum(result.distance_m or 0.0 for result in one.entry.results if not result.mark)
    line = one.line
    if line is None or line.purpose != "work" or line.distance_m is None:
        return 0.0
    return line.sets * line.reps * line.distance_m


def _sets(one: StandingEntry) -> int:
    if one.entry.results:
        return len({result.set for result in one.entry.results if _lifted(result)})
    return one.line.sets if one.line is not None and _is_lift(one.line) else 0


def _lifted(result: Result) -> bool:
    return result.load_kg is not None and result.distance_m is None


def _is_lift(line: Prescription) -> bool:
    return line.purpose == "work" and line.load_kg is not None and line.distance_m is None


def done_by_athlete(standing: StandingLog, days: Iterable[tuple[str, date, date]]) -> dict[str, DoneBetween]:
    """Count for several athletes, each with a first and a last test day."""
    return {ref: done_between(standing, ref, first=first, last=last) for ref, first, last in days}
