"""In which time zone a page's days and times of day are: the squad's, as its brief says.

Django's own "current time zone" carries it: filters of templates and `localdate` follow by themselves.
"""

from __future__ import annotations

from contextlib import AbstractContextManager
from datetime import UTC, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.utils import timezone

from speedloom.store.cards import SquadCard


def zone_named(name: str) -> tzinfo:
    """Give a time zone by its name; UTC where no list of zones holds it."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return UTC


def in_zone_of(squad: SquadCard) -> AbstractContextManager[None]:
    """Let days and times of day be the squad's while something is said of it."""
    return timezone.override(zone_named(squad.timezone))
