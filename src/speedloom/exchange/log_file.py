"""A log beside its programme: is it usable, and how new entries join those already there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from speedloom.exchange.fault import Fault, UnusableFileError, did_you_mean, shown
from speedloom.training.log import Log, LogEntry
from speedloom.training.programme import Programme, Session


def check_log(log: Log, programme: Programme, *, file: str) -> None:
    """Find everything in a log that its programme cannot explain.

    Raises:
        UnusableFileError: every fault, each with its path in the log.
    """
    faults = list(_faults(log, programme, file))
    if faults:
        raise UnusableFileError(faults)


def appended(log: Log, draft: Log, *, file: str) -> Log:
    """Join a draft to a log: an entry that is there already is left out, a changed one replaces the old.

    Raises:
        UnusableFileError: another programme's log, or a correction that is not later than what it corrects.
    """
    if log.programme != draft.programme:
        todo = "choose another file for this programme's log"
        raise UnusableFileError(
            [Fault(file, None, "programme", shown(log.programme), shown(draft.programme), todo)]
        )
    known = {entry.id for entry in log.entries}
    latest = {_about(entry): entry for entry in sorted(log.entries, key=lambda one: one.order)}
    new = [_replacing(entry, latest.get(_about(entry))) for entry in draft.entries if entry.id not in known]
    early = [
        Fault(file, None, f"entries.{entry.id}.at", entry.at.isoformat(), f"later than {old.at.isoformat()}",
              f"{entry.line or entry.session} was written down before: a correction needs a later --at")
        for entry in new
        if (old := latest.get(_about(entry))) and entry.at <= old.at
    ]  # fmt: skip
    if early:
        raise UnusableFileError(early)
    return log.model_copy(update={"entries": (*log.entries, *new)})


def _about(entry: LogEntry) -> tuple[str | None, ...]:
    return (entry.athlete, entry.session, entry.line, None if entry.session else entry.id)


def _replacing(entry: LogEntry, old: LogEntry | None) -> LogEntry:
    return entry.model_copy(update={"replaces": old.id}) if old else entry


def _faults(log: Log, programme: Programme, file: str) -> Iterator[Fault]:
    if log.programme != programme.id:
        todo = "name the programme that the log is about"
        yield Fault(file, None, "programme", shown(log.programme), shown(programme.id), todo)
        return
    ids = Counter(entry.id for entry in log.entries)
    sessions = _sessions(programme)
    retired = {ref for own in programme.programmes for ref in own.retired}
    for number, entry in enumerate(log.entries, start=1):
        where = f"entries.{number}"
        if ids[entry.id] > 1:
            yield Fault(file, None, f"{where}.id", shown(entry.id), "each id once", "leave one entry out")
        if entry.replaces is not None and entry.replaces not in ids:
            yield Fault(file, None, f"{where}.replaces", shown(entry.replaces), "the id of an entry", "")
        if entry.revision > programme.revision.number:
            expected = f"a revision up to {programme.revision.number}"
            yield Fault(
                file, None, f"{where}.revision", str(entry.revision), expected, "name the newer programme"
            )
        for fault in (*_who(entry, programme), *_what(entry, sessions, retired)):
            column, came, expected, todo = fault
            yield Fault(file, None, f"{where}.{column}", came, expected, todo)


def _sessions(programme: Programme) -> dict[str, tuple[str, Session]]:
    return {
        session.ref: (own.athlete, session)
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
    }


def _who(entry: LogEntry, programme: Programme) -> Iterator[tuple[str, str, str, str]]:
    athletes = [own.athlete for own in programme.programmes]
    if entry.athlete not in athletes:
        todo = did_you_mean(entry.athlete, athletes, otherwise="correct the ref")
        yield "athlete", shown(entry.athlete), "an athlete of the programme", todo
    if entry.status == "extra" and (entry.session or entry.line):
        yield "session", shown(entry.session or entry.line), "null for an extra", "leave session and line out"
    if entry.status != "extra" and entry.session is None:
        yield "session", "null", "the session it is about", "or say status extra"


def _what(
    entry: LogEntry, sessions: dict[str, tuple[str, Session]], retired: set[str]
) -> Iterator[tuple[str, str, str, str]]:
    """Find sessions, lines and exercises that are not the programme's, now or before."""
    if entry.session is None or entry.session in retired or entry.status == "extra":
        return
    athlete, session = sessions.get(entry.session, ("", None))
    if session is None or athlete != entry.athlete:
        todo = did_you_mean(entry.session, sessions, otherwise="correct the ref")
        yield "session", shown(entry.session), f"a session of {entry.athlete}", todo
        return
    line = next((one for one in session.prescriptions if one.ref == entry.line), None)
    if entry.line is not None and line is None and entry.line not in retired:
        todo = did_you_mean(
            entry.line, [one.ref for one in session.prescriptions], otherwise="correct the ref"
        )
        yield "line", shown(entry.line), f"a line of {entry.session}", todo
    elif line is not None and entry.exercise not in (None, line.exercise):
        yield (
            "exercise",
            shown(entry.exercise),
            shown(line.exercise),
            "another exercise is an extra, or a note",
        )
