"""What an athlete did between two tests: a plain count from the log, beside what was planned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from speedloom.training.log import Result
from speedloom.training.programme import Prescription
from speedloom.workflows.standing_log import NOT_TRAINED, StandingEntry, StandingLog

_STRENGTH = frozenset({"power", "maximal_strength", "general_strength"})


@dataclass(frozen=True)
class DoneBetween:
    """Sessions done of those planned, metres run hard, sets of strength and power; extras are apart."""

    sessions: int
    planned: int
    extras: int
    metres: float
    sets: int


def done_between(standing: StandingLog, athlete: str, *, first: date, last: date) -> DoneBetween:
    """Count what was done after the first test day and before the last one.

    A line done without results counts as written, and so does a session that was logged as done with nothing
    about its lines. Warm-ups and results marked unusual are not counted.
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
    lines = [one for one in trained if _about_a_line(one)]
    told = {one.session.ref for one in lines if one.session is not None}
    whole = [
        line
        for one in trained
        if one.entry.status == "done" and not _about_a_line(one) and one.session is not None
        for line in (one.session.prescriptions if one.session.ref not in told else ())
    ]
    return DoneBetween(
        sessions=len({one.session.ref for one in trained if one.session is not None} & planned),
        planned=len(planned),
        extras=len({one.entry.date for one in trained if one.place == "extra"}),
        metres=sum(_metres(one) for one in lines) + sum(map(_line_metres, whole)),
        sets=sum(_sets(one) for one in lines) + sum(map(_line_sets, whole)),
    )


def _about_a_line(one: StandingEntry) -> bool:
    return one.entry.line is not None or one.entry.exercise is not None


def _metres(one: StandingEntry) -> float:
    if one.entry.results:
        return sum(result.distance_m or 0.0 for result in one.entry.results if not result.mark)
    return _line_metres(one.line)


def _line_metres(line: Prescription | None) -> float:
    if line is None or line.purpose != "work" or line.distance_m is None:
        return 0.0
    return line.sets * line.reps * line.distance_m


def _sets(one: StandingEntry) -> int:
    if one.entry.results:
        counts = one.line is None or one.line.method in _STRENGTH
        return len({result.set for result in one.entry.results if counts and _lifted(result)})
    return _line_sets(one.line)


def _line_sets(line: Prescription | None) -> int:
    return line.sets if line is not None and line.purpose == "work" and line.method in _STRENGTH else 0


def _lifted(result: Result) -> bool:
    return result.distance_m is None and result.contacts is None and not result.mark


def done_by_athlete(standing: StandingLog, days: Iterable[tuple[str, date, date]]) -> dict[str, DoneBetween]:
    """Count for several athletes, each with a first and a last test day."""
    return {ref: done_between(standing, ref, first=first, last=last) for ref, first, last in days}
