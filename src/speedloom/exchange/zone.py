"""The time zone a programme names."""

from __future__ import annotations

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from speedloom.errors import SpeedloomError
from speedloom.training.programme import Programme


class UnknownZoneError(SpeedloomError, ValueError):
    """A time zone that no list of zones holds."""


def zone_of(programme: Programme) -> ZoneInfo:
    """Give the zone in which a programme's dates and times of day are meant.

    Raises:
        UnknownZoneError: no such zone.
    """
    try:
        return ZoneInfo(programme.timezone)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise UnknownZoneError(
            f"Expected a time zone such as Europe/Amsterdam, got {programme.timezone}; "
            "correct timezone in the brief."
        ) from error
