"""Runs that count as near top speed, and days on which an athlete is spared them."""

from __future__ import annotations

from datetime import date

from speedloom.checking.line import Work
from speedloom.checking.people import Person
from speedloom.training.athlete import Limit

_NEARLY = 1e-9


def is_exposure(work: Work, share: float) -> bool:
    """Say whether a line's runs count as this share of top speed, or faster.

    A top-speed run at such an effort counts: its run-in ends at the athlete's own 95 % point.
    """
    by_effort = work.is_run and work.line.run == "top_speed" and work.effort >= share - _NEARLY
    return by_effort or work.reaches(share)


def spared(person: Person, day: date, share: float) -> bool:
    """Say whether a restriction keeps the athlete below a share of top speed on a date."""
    restrictions = person.entry.restrictions if person.entry else ()
    limits = [limit for one in restrictions if one.holds(day) for limit in one.limits]
    return any(_keeps_below(limit, share) for limit in limits)


def _keeps_below(limit: Limit, share: float) -> bool:
    if limit.what == "share_vmax":
        return limit.at_most < share
    free = limit.method in {None, "unloaded_sprint"}
    return free and limit.what == "distance_m" and limit.at_most == 0
