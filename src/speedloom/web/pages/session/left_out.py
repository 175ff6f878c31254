"""Whose lines are not "as written" in one tap: the stop rule spoke, or pain stopped another exercise."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from speedloom.report.sheets.squad import Attendance
from speedloom.store.stops import is_stop
from speedloom.training.exercise import Catalogue
from speedloom.training.log import LogEntry, Result
from speedloom.training.programme import Prescription
from speedloom.wording.line_words import stop_time
from speedloom.wording.names import exercise_name
from speedloom.workflows.done_as_written import prescribed_results
from speedloom.workflows.two_accounts import Account, Place

SLOW_ENOUGH = 2
"""Runs over the stop time after which the rule of a line says stop [count]."""


def rule_says_stop(line: Prescription, athlete: str, said: Mapping[Place, Sequence[Account]]) -> bool:
    """Say whether so many runs of a line were slower than its stop time that its rule ends it."""
    limit = float(stop_time(line) or 0.0)
    times = [one.time_s for one in _last_of(line, athlete, said)]
    return bool(limit) and sum(time is not None and time > limit for time in times) >= SLOW_ENOUGH


def pain_elsewhere(
    last: Iterable[LogEntry], one: Attendance, line: Prescription, *, catalogue: Catalogue
) -> str:
    """Name the exercise of this session that pain stopped for an athlete, another than this line; else ''."""
    found = [
        entry
        for entry in last
        if entry.athlete == one.athlete
        and is_stop(entry)
        and entry.session == one.session.ref
        and entry.line not in {None, line.ref}
    ]
    return exercise_name(found[-1].exercise or "", catalogue=catalogue) if found else ""


def held(line: Prescription, athlete: str, said: Mapping[Place, Sequence[Account]], *, pain: str) -> bool:
    """Say whether a line waits to be written by hand: nothing of it is, and pain stopped another one."""
    return bool(pain) and not any(True for _ in _last_of(line, athlete, said))


def _last_of(line: Prescription, athlete: str, said: Mapping[Place, Sequence[Account]]) -> Iterator[Result]:
    """Give what stands of each repetition of a line."""
    for written in prescribed_results(line):
        those = said.get((athlete, line.ref, "", int(written["set"]), int(written["rep"] or 0)), ())
        if those:
            yield those[-1].result
