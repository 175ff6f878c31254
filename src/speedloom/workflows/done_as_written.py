"""Sessions noted as done as written, for one or many: nothing is made up, nothing noted is lost."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta, tzinfo
from difflib import get_close_matches
from hashlib import sha1
from typing import Any

from speedloom.errors import LogError
from speedloom.training.log import Log, LogEntry
from speedloom.training.programme import Prescription, Programme, Session
from speedloom.workflows.standing_log import NOT_TRAINED, StandingLog, standing_log

_SPACE = "3d1c8a52-54b1-5b0e-9a77-1f0f6f3e2c84"
_RUNS = frozenset({"unloaded_sprint", "resisted_sprint", "change_of_direction"})
ABSENT_REASONS = ("pain", "illness", "kit", "weather", "time", "other")
LINE_STATUSES = ("modified", "skipped", "stopped")
"""How a single line can have gone otherwise; what was really done of it is typed on its own."""


@dataclass(frozen=True)
class Noted:
    """What is noted in one go: one session or a day, for whom, who was absent, and which lines differed."""

    by: str
    session: str | None = None
    day: date | None = None
    athletes: tuple[str, ...] = ()
    absent: Mapping[str, str | None] = field(default_factory=dict)
    exceptions: Mapping[str, tuple[str, str | None]] = field(default_factory=dict)
    at: datetime | None = None


def done_as_written(programme: Programme, noted: Noted, *, zone: tzinfo, log: Log | None = None) -> Log:
    """Make the entries of sessions that were done as written; the same call again makes the same entries.

    Results are those prescribed, without times, reserves or efforts that nobody took. A line that the log
    has an entry about is left alone, unless it is one of the exceptions.

    Args:
        programme: the revision that was trained by.
        noted: what is noted.
        zone: the zone of the programme's times of day.
        log: what was written down before; None for nothing.

    Raises:
        LogError: every ref that the programme does not hold there, a line each.
    """
    chosen = list(_chosen(programme, noted))
    faults = [*_faults(programme, noted, chosen)]
    standing = standing_log(log, programme) if log is not None else None
    if not faults:
        faults = [*_came_after_all(noted, chosen, standing)]
    if faults:
        raise LogError("\n".join(faults))
    writer = _Writer(programme, noted, zone)
    entries = tuple(entry for own, session in chosen for entry in writer.session(own, session, standing))
    return Log(schema="speedloom.log/1", programme=programme.id, timezone=programme.timezone, entries=entries)


def _chosen(programme: Programme, noted: Noted) -> Iterator[tuple[str, Session]]:
    for own, session in programme.sessions():
        meant = session.ref == noted.session or (noted.session is None and session.date == noted.day)
        if meant and (not noted.athletes or own in {*noted.athletes, *noted.absent}):
            yield own, session


def _faults(programme: Programme, noted: Noted, chosen: list[tuple[str, Session]]) -> Iterator[str]:
    if (noted.session is None) == (noted.day is None):
        yield "Expected one session or one day, got both or neither; name one of them."
        return
    sessions = list(programme.sessions())
    if noted.session is not None and noted.session not in {session.ref for _, session in sessions}:
        near = _near(noted.session, (session.ref for _, session in sessions))
        yield f"{noted.session}: expected the ref of a session{near}"
        return
    if noted.day is not None and not chosen and not noted.athletes:
        yield _no_session(noted.day, {session.date for _, session in sessions})
        return
    yield from _who_and_what(noted, sessions, chosen)


def _no_session(day: date, days: Iterable[date]) -> str:
    nearest = sorted(days, key=lambda one: abs((one - day).days))[:2]
    said = " and ".join(map(str, sorted(nearest))) or "none"
    return f"{day}: expected a day with a session; the nearest are {said}."


def _who_and_what(
    noted: Noted, sessions: list[tuple[str, Session]], chosen: list[tuple[str, Session]]
) -> Iterator[str]:
    here = {own for own, _ in chosen}
    for athlete in (*noted.athletes, *noted.absent):
        if athlete not in here:
            everybody = (own for own, session in sessions if session.date in {one.date for _, one in chosen})
            yield f"{athlete}: expected an athlete who has this session{_near(athlete, everybody)}"
    lines = [line.ref for _, session in chosen for line in session.prescriptions]
    for line in noted.exceptions:
        if line not in lines:
            yield f"{line}: expected a line of what is noted{_near(line, lines)}"


def _near(word: str, known: Iterable[str]) -> str:
    found = get_close_matches(word, list(known), n=1, cutoff=0.5)
    return f"; did you mean {found[0]}?" if found else "; correct the ref."


def _came_after_all(
    noted: Noted, chosen: list[tuple[str, Session]], standing: StandingLog | None
) -> Iterator[str]:
    """Find athletes who are called absent though the log says that they trained."""
    for own, session in chosen:
        there = standing.of_session(session.ref) if standing and own in noted.absent else ()
        if any(one.entry.status not in NOT_TRAINED for one in there):
            yield f"{own}: expected nobody absent who trained; the log has entries about {session.ref}."


@dataclass(frozen=True)
class _Writer:
    """Writes the entries of sessions."""

    programme: Programme
    noted: Noted
    zone: tzinfo

    def session(self, own: str, session: Session, standing: StandingLog | None) -> Iterator[LogEntry]:
        """Write what is not in the log yet."""
        there = standing.of_session(session.ref) if standing else ()
        whole = any(one.line is None and one.entry.status in NOT_TRAINED for one in there)
        if own in self.noted.absent:
            if not whole:
                yield self._entry(own, session, None, status="absent", reason=self.noted.absent[own])
            return
        known = {one.line.ref: one.entry for one in there if one.line is not None}
        for line in session.prescriptions if not whole else ():
            status, reason = self.noted.exceptions.get(line.ref, ("done", None))
            old = known.get(line.ref)
            if old is None or (
                line.ref in self.noted.exceptions and (old.status, old.reason) != (status, reason)
            ):
                yield self._entry(own, session, line, status=status, reason=reason)

    def _entry(
        self, own: str, session: Session, line: Prescription | None, *, status: str, reason: str | None
    ) -> LogEntry:
        ref = line.ref if line else None
        # The id is made of what is said and of whom: the same said twice, or sent twice, is one entry.
        # Status and reason belong to it, or saying otherwise later would be taken for the same.
        name = [self.programme.id, session.ref, ref, str(session.date), self.noted.by, status, reason]
        ends = datetime.combine(session.date, session.start, tzinfo=self.zone) + timedelta(
            minutes=session.minutes
        )
        content = {
            "id": named_id(_SPACE, json.dumps(name)), "at": (self.noted.at or ends).isoformat(),
            "by": self.noted.by, "revision": self.programme.revision.number, "athlete": own,
            "session": session.ref, "line": ref, "date": session.date.isoformat(),
            "exercise": line.exercise if line else None, "replaces": None, "status": status,
            "reason": reason, "timing": None, "clock": None, "behind_m": None,
            "surface": line.surface if line else None,
            "results": list(prescribed_results(line)) if line and status == "done" else [],
            "effort": None, "minutes": None, "note": "",
        }  # fmt: skip
        return LogEntry.model_validate_json(json.dumps(content))


def named_id(space: str, name: str) -> str:
    """Make the id (UUID of version 5, RFC 9562) of a name in a name space: no chance, the same every time.

    >>> named_id("6ba7b810-9dad-11d1-80b4-00c04fd430c8", "www.example.com")
    '2ed6657d-e927-568b-95e1-2665a8aea6a2'
    """
    # The core imports no source of chance, so the module that also draws ids is left to the layers above.
    digest = bytearray(sha1(bytes.fromhex(space.replace("-", "")) + name.encode()).digest()[:16])  # noqa: S324
    digest[6] = digest[6] & 0x0F | 0x50
    digest[8] = digest[8] & 0x3F | 0x80
    text = digest.hex()
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))


def prescribed_results(line: Prescription) -> Iterator[dict[str, Any]]:
    """Give the results of a line as it is written: no times, no reserve; none for a range of repetitions."""
    if line.purpose == "warm_up":
        return
    run = line.distance_m is not None and line.method in _RUNS
    each = line.reps if run else 1
    for number in range(line.sets * each):
        yield {
            "set": number // each + 1, "rep": number % each + 1 if run else None, "load_kg": line.load_kg,
            "distance_m": line.distance_m, "time_s": None,
            "reps": None if run or line.reps_to is not None else line.reps, "rir": None,
            "contacts": None if line.contacts is None or run else line.contacts // line.sets, "mark": None,
        }  # fmt: skip
