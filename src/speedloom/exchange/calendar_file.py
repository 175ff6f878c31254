"""A programme as a calendar (RFC 5545): an event a session, which keeps its name when it moves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import ceil
from zoneinfo import ZoneInfo

from icalendar import Calendar, Event

from speedloom.errors import SpeedloomError
from speedloom.exchange.zone import zone_of
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme, Session
from speedloom.wording.calendar_entries import OFF, entry_text, entry_title
from speedloom.wording.names import athlete_name, athletes_of, place_name
from speedloom.wording.units import METRIC, Units

_MADE_BY = "-//Speedloom//EN"


class UnfitCalendarError(SpeedloomError, ValueError):
    """An earlier programme that is none, so that its events cannot be cancelled."""


@dataclass(frozen=True)
class Meeting:
    """One athlete's session."""

    athlete: str
    week: int
    session: Session


def calendar_file(
    programme: Programme,
    *,
    stamp: datetime,
    catalogue: Catalogue,
    athlete: str | None = None,
    week: int | None = None,
    since: Programme | None = None,
    units: Units = METRIC,
) -> bytes:
    """Write the sessions of all athletes, or of one, as events; those gone `since` then are cancelled.

    An event's UID is `id.ref` and its SEQUENCE the revision's number, so a session that moved is moved in
    the reader's calendar too. `stamp` is the moment of writing (with an offset).

    Raises:
        UnknownZoneError: an unknown time zone.
        UnfitCalendarError: a `since` that is no earlier revision of the programme.
    """
    if since is not None:
        _same_line(programme, since)
    writer = _Writer(programme, zone_of(programme), stamp, catalogue, units, named=athlete is None)
    now = list(_meetings(programme, athlete=athlete, week=week))
    kept = {meeting.session.ref for meeting in _meetings(programme, athlete=athlete, week=None)}
    before = _meetings(since, athlete=athlete, week=week) if since else ()
    gone = [meeting for meeting in before if meeting.session.ref not in kept]
    calendar = _empty(programme, athlete)
    for meetings, status in ((now, "CONFIRMED"), (gone, "CANCELLED")):
        for meeting in meetings:
            calendar.add_component(writer.event(meeting, status=status))
    _add_zone(calendar, days=[meeting.session.date for meeting in (*now, *gone)])
    return bytes(calendar.to_ical())


def _same_line(programme: Programme, since: Programme) -> None:
    if since.id != programme.id:
        raise UnfitCalendarError(
            f"Expected an earlier revision of programme {programme.id}, got programme {since.id}; "
            "choose the file that was handed out before."
        )
    if since.revision.number > programme.revision.number:
        raise UnfitCalendarError(
            f"Expected a revision up to {programme.revision.number}, got {since.revision.number}; "
            "the two programmes stand in the wrong order."
        )


def _meetings(programme: Programme, *, athlete: str | None, week: int | None) -> Iterator[Meeting]:
    for own in programme.programmes:
        for one in own.weeks:
            if athlete in (None, own.athlete) and week in (None, one.number):
                yield from (Meeting(own.athlete, one.number, session) for session in one.sessions)


def _empty(programme: Programme, athlete: str | None) -> Calendar:
    calendar = Calendar()
    calendar.add("prodid", _MADE_BY)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", _plain(f"Training, {_title(programme, athlete)}"))
    return calendar


def _title(programme: Programme, athlete: str | None) -> str:
    if athlete is not None:
        return athlete_name(programme, athlete)
    return programme.brief.content.name if programme.brief.content else programme.id


def _add_zone(calendar: Calendar, *, days: list[date]) -> None:
    """Write the zone's rules for the days of the calendar, clock changes among them."""
    if days:
        a_year = timedelta(days=366)
        calendar.add_missing_timezones(first_date=min(days) - a_year, last_date=max(days) + a_year)


@dataclass(frozen=True)
class _Writer:
    """Writes events of one programme."""

    programme: Programme
    zone: ZoneInfo
    stamp: datetime
    catalogue: Catalogue
    units: Units
    named: bool

    def event(self, meeting: Meeting, *, status: str) -> Event:
        """Write a session; no alarm goes with it, reminders are the reader's own."""
        session, off = meeting.session, status == "CANCELLED"
        start = datetime.combine(session.date, session.start, tzinfo=self.zone)
        event = Event()
        event.add("uid", f"{self.programme.id}.{session.ref}")
        event.add("sequence", self.programme.revision.number)
        event.add("dtstamp", self.stamp)
        event.add("dtstart", start)
        event.add("dtend", start + timedelta(minutes=ceil(session.minutes)))
        event.add("summary", _plain(f"{OFF}: {self._title(meeting)}" if off else self._title(meeting)))
        event.add("location", _plain(place_name(session.place)))
        if not off:
            event.add("description", _plain(self._text(meeting)))
        event.add("status", status)
        event.add("transp", "TRANSPARENT" if off else "OPAQUE")
        return event

    def _title(self, meeting: Meeting) -> str:
        name = athlete_name(self.programme, meeting.athlete) if self.named else ""
        return entry_title(meeting.session, name=name)

    def _text(self, meeting: Meeting) -> str:
        content = self.programme.brief.content
        kinds = {place.ref: place.kind for place in content.places} if content else {}
        return entry_text(
            meeting.session,
            catalogue=self.catalogue,
            place_kind=kinds.get(meeting.session.place, ""),
            person=athletes_of(self.programme).get(meeting.athlete),
            units=self.units,
        )


def _plain(text: str) -> str:
    """Leave out control signs, which RFC 5545 (3.3.11) forbids in text."""
    return "".join(sign if sign == "\n" or sign.isprintable() else " " for sign in text)
