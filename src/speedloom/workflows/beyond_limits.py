"""Does a programme keep the limits that hold for its athletes now? Some may be newer than it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date

from speedloom.checking.finding import Finding, merge
from speedloom.checking.register import CHECKS
from speedloom.checking.scene import Scene
from speedloom.training.athlete import Restriction
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme, Session
from speedloom.training.rule import Rulebook

RULE = "restriction_kept"


def beyond_limits(
    programme: Programme,
    held: Mapping[str, Sequence[Restriction]],
    *,
    since: date,
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> tuple[Finding, ...]:
    """Find what is above the limits in force, from a day on; nothing where the programme has no brief.

    Args:
        programme: the document, made before or after the limits were set.
        held: the restrictions of each athlete as they stand now; who is not named has none.
        since: the first day that is looked at.
        rulebook: the rules with the programme's changes.
        catalogue: the exercises.
    """
    content = programme.brief.content
    if content is None or not any(held.values()):
        return ()
    people = tuple(
        one.model_copy(update={"restrictions": tuple(held.get(one.ref, ()))}) for one in content.athletes
    )
    now = content.model_copy(update={"athletes": people})
    days = {
        session.ref: session.date
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
    }
    found = CHECKS[RULE](Scene(programme, now, rulebook, catalogue))
    return merge(one for one in found if days.get(one.session or "", date.min) >= since).items


def not_as_written(
    programme: Programme,
    held: Mapping[str, Sequence[Restriction]],
    *,
    first: date,
    last: date,
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> frozenset[str]:
    """Name the lines between two days that are each above a limit, and sessions that are as a whole.

    A check names the worst line of a session; who stands before it needs to know of every one.
    """
    near = _sessions_between(programme, first, last)
    most = max((len(one.prescriptions) for one in _sessions(near)), default=0)
    found: set[str] = set()
    for number in range(most):
        alone = _with_lines(near, number)
        for one in beyond_limits(alone, held, since=first, rulebook=rulebook, catalogue=catalogue):
            found.add(one.line or one.session or "")
    lines = {line.ref: one.ref for one in _sessions(near) for line in one.prescriptions}
    told = {lines[ref] for ref in found if ref in lines}
    whole = beyond_limits(near, held, since=first, rulebook=rulebook, catalogue=catalogue)
    return frozenset(found | {one.session for one in whole if one.session} - told)


def _sessions(programme: Programme) -> Iterator[Session]:
    for own in programme.programmes:
        for week in own.weeks:
            yield from week.sessions


def _sessions_between(programme: Programme, first: date, last: date) -> Programme:
    return _each_session(programme, lambda session: session if first <= session.date <= last else None)


def _with_lines(programme: Programme, number: int) -> Programme:
    """Leave each session one line: the one of this number."""

    def alone(session: Session) -> Session | None:
        line = session.prescriptions[number : number + 1]
        return session.model_copy(update={"prescriptions": line}) if line else None

    return _each_session(programme, alone)


def _each_session(programme: Programme, change: Callable[[Session], Session | None]) -> Programme:
    return programme.model_copy(
        update={
            "programmes": tuple(
                own.model_copy(
                    update={
                        "weeks": tuple(
                            week.model_copy(
                                update={"sessions": tuple(filter(None, map(change, week.sessions)))}
                            )
                            for week in own.weeks
                        )
                    }
                )
                for own in programme.programmes
            )
        }
    )
