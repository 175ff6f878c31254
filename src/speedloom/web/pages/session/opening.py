"""Opens a training with what is written of it: the squad's of a day, or one session of an athlete's own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date as Date  # noqa: N812 - `date` is a part of the address
from datetime import datetime
from uuid import uuid4

from django.http import Http404
from django.utils import timezone
from django.utils.translation import gettext as _

from speedloom.exchange.zone import zone_of
from speedloom.report.sheets.squad import SquadSession, squad_sessions
from speedloom.store.cards import AthleteCard, ProgrammeCard, SquadCard
from speedloom.store.limits_now import with_people_now
from speedloom.store.log_of_day import written_on
from speedloom.store.permissions import allowed
from speedloom.store.programmes import read_programme
from speedloom.training.exercise import Catalogue
from speedloom.training.log import LogEntry
from speedloom.training.programme import Programme
from speedloom.web.access import Request
from speedloom.web.pages.programme.shown import units_of
from speedloom.web.pages.session.above import above_limits
from speedloom.web.pages.session.days import Days, days_of, today_of
from speedloom.web.pages.session.pen import Pen
from speedloom.web.pages.session.writing import Sheet
from speedloom.wording.books import books_of
from speedloom.wording.dates import clock


@dataclass(frozen=True)
class Open:
    """A day's training as it was opened, with what is written of it."""

    document: Programme
    catalogue: Catalogue
    days: Days
    sessions: tuple[SquadSession, ...]
    session: SquadSession | None
    entries: tuple[LogEntry, ...]

    @property
    def day(self) -> Date:
        """The day it is planned for."""
        return self.days.planned

    def sheet(self, request: Request) -> Sheet:
        """Take up the pen.

        Raises:
            Http404: there is no training on this day.
        """
        if self.session is None:
            raise Http404(_("Nobody trains on this day."))
        now: datetime = timezone.now().astimezone(zone_of(self.document))
        nonce = request.POST.get("nonce", "")[:40]
        revision = self.document.revision.number
        pen = Pen(request.actor.login, now, revision, nonce or str(uuid4()), self.days.on)
        units = units_of(request.actor)
        limits = above_limits(self.document, self.session, units=units)
        return Sheet(self.session, self.entries, pen, self.catalogue, units, limits)


def opened(
    request: Request,
    squad: SquadCard,
    programme: ProgrammeCard,
    date: str,
    athlete: AthleteCard | None,
    *,
    past_is_planned: bool = False,
) -> Open:
    """Open the training of a day: the one that is named, else the first.

    Args:
        request: the call.
        squad: the squad.
        programme: the programme.
        date: the day it is planned for.
        athlete: whose session alone it is; None for the squad's.
        past_is_planned: as `days_of` has it.

    Raises:
        Http404: that is no day.
    """
    try:
        day = Date.fromisoformat(date)
    except ValueError as error:
        raise Http404(_("Expected a day as 2026-01-12 in the address.")) from error
    document = _now(request, squad, programme)
    sessions = squad_sessions(document, first=day, last=day, athletes=(athlete.ref,) if athlete else None)
    wanted = (request.GET.get("start"), request.GET.get("place"))
    named = (
        one for one in sessions if wanted[0] in {None, clock(one.start)} and wanted[1] in {None, one.place}
    )
    session = next(named, None)
    days = days_of(request, document, day, past_is_planned=past_is_planned)
    may = allowed(request.actor, "see_log", squad=squad.key, athlete=athlete.ref if athlete else None)
    entries = _written(request, squad, programme, session, days) if session and may else ()
    return Open(document, books_of(document)[1], days, sessions, session, entries)


def opened_own(
    request: Request, squad: SquadCard, programme: ProgrammeCard, athlete: AthleteCard, ref: str
) -> Open:
    """Open one session of an athlete's own, on the day on which it was trained as far as that is written.

    Raises:
        Http404: the session is not in the programme any more.
    """
    document = _now(request, squad, programme)
    own = (session for whose, session in document.sessions() if whose == athlete.ref)
    found = next((session for session in own if session.ref == ref), None)
    if found is None:
        raise Http404(_("This session is not in the programme any more; your page has what is."))
    sessions = squad_sessions(document, first=found.date, last=found.date, athletes=(athlete.ref,))
    session = next(each for each in sessions if any(one.session.ref == ref for one in each.present))
    days = Days(found.date, today_of(document), found.date)
    entries = _written(request, squad, programme, session, days)
    other = {entry.date for entry in entries if entry.session == ref} - {found.date}
    if other:
        days = Days(found.date, days.today, max(other))
        entries = _written(request, squad, programme, session, days)
    return Open(document, books_of(document)[1], days, sessions, session, entries)


def _now(request: Request, squad: SquadCard, programme: ProgrammeCard) -> Programme:
    """Read the programme with its people and their limits as they stand now."""
    return with_people_now(request.actor, squad.key, read_programme(request.actor, squad.key, programme.id))


def _written(
    request: Request, squad: SquadCard, programme: ProgrammeCard, session: SquadSession, days: Days
) -> tuple[LogEntry, ...]:
    """Give what is written of those who are in a training, on its day and on the one it was trained on."""
    refs: Sequence[str] = [one.session.ref for one in session.present]
    entries = written_on(
        request.actor, squad.key, programme.id, days.planned, sessions=refs, trained_on=days.on
    )
    here = {one.athlete for one in session.present}
    return tuple(one for one in entries if one.athlete in here)
