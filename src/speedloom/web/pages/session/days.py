"""Which day is written down: the planned one, or another on which the session was really trained."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from speedloom.exchange.zone import zone_of
from speedloom.training.programme import Programme
from speedloom.web.access import Request


@dataclass(frozen=True)
class Days:
    """The day a session is planned for, today where it is trained, and the day that is written down.

    `on` is None while nobody has said it: then the page asks before it takes anything.
    """

    planned: date
    today: date
    on: date | None

    @property
    def to_come(self) -> bool:
        """Whether the day that is written down is still to come: nobody has trained on it."""
        return self.on is not None and self.on > self.today

    @property
    def written(self) -> date:
        """The day entries are of; the planned one as long as nobody said another."""
        return self.on or self.planned


def today_of(programme: Programme) -> date:
    """Give the day it is by a programme's clock."""
    return timezone.now().astimezone(zone_of(programme)).date()


def days_of(request: Request, programme: Programme, planned: date, *, past_is_planned: bool = False) -> Days:
    """Read for which day it is written down: as the form or the address says, else only today's is clear.

    Args:
        request: the call.
        programme: whose clock says what day it is.
        planned: the day of the session.
        past_is_planned: whether a session that is over is taken as trained on its day: paper is typed later.
    """
    today = today_of(programme)
    said = request.POST.get("on") or request.GET.get("on", "")
    clear = planned == today or (past_is_planned and planned < today)
    try:
        on = date.fromisoformat(said)
    except ValueError:
        return Days(planned, today, planned if clear else None)
    # On a day to come nobody has trained; that somebody will be away may be written beforehand, as planned:
    # work of such a day is refused where entries are taken.
    return Days(planned, today, on if on == planned or on <= today else None)
