"""What an athlete did between two tests: added up from the log as the review adds it up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import reduce
from operator import add

from speedloom.training.exercise import Catalogue
from speedloom.training.rule import Rulebook
from speedloom.training.words import LIFTS
from speedloom.workflows.athlete_log import AthleteLog, athlete_logs, scene_of
from speedloom.workflows.reviewed import Amounts
from speedloom.workflows.standing_log import NOT_TRAINED, StandingLog


@dataclass(frozen=True)
class DoneBetween:
    """Sessions done of those planned, metres run (free, towed), sets of strength and power; extras apart."""

    sessions: int
    planned: int
    extras: int
    metres: float
    sets: int


def done_by_athlete(
    standing: StandingLog,
    days: Iterable[tuple[str, date, date]],
    *,
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> dict[str, DoneBetween]:
    """Count what each athlete did after the first test day and before the last one.

    Metres and sets are the review's: a line done without results counts as written, and so does a session
    that was logged as done with nothing about its lines; results marked unusual are not counted.

    Args:
        standing: the log.
        days: each athlete's ref, first and last test day.
        rulebook: the rules; the programme's own changes are added where it has none yet.
        catalogue: the exercises.
    """
    scene = scene_of(standing.programme, rulebook=rulebook, catalogue=catalogue)
    logs = {own.person.ref: own for own in athlete_logs(scene, standing.entries)}
    return {ref: _between(logs.get(ref), first, last) for ref, first, last in days}


def _between(whole: AthleteLog | None, first: date, last: date) -> DoneBetween:
    if whole is None:
        return DoneBetween(sessions=0, planned=0, extras=0, metres=0.0, sets=0)
    weeks = whole.person.programme.weeks
    planned = {session.ref for week in weeks for session in week.sessions if first < session.date < last}
    entries = tuple(one for one in whole.entries if first < one.entry.date < last)
    trained = [one for one in entries if one.entry.status not in NOT_TRAINED]
    between = AthleteLog(whole.scene, whole.person, entries)
    done = reduce(add, map(between.done, weeks), Amounts())
    return DoneBetween(
        sessions=len({one.session.ref for one in trained if one.session is not None} & planned),
        planned=len(planned),
        extras=len({one.entry.date for one in trained if one.place == "extra"}),
        metres=done.metres,
        sets=round(sum(done.volumes.get(method, 0.0) for method in LIFTS)),
    )
