"""Plan again what is left, with the fewest changes: the past stands, and no news changes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date, timedelta

from speedloom.errors import ReplanError
from speedloom.planning.clash import Clash
from speedloom.planning.earlier import Earlier
from speedloom.planning.plan import plan
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Away
from speedloom.training.document import digest
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme, Session
from speedloom.training.rule import Rulebook
from speedloom.training.succession import succeeding
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.learned import with_learned
from speedloom.workflows.plan_programme import measured_athletes

Lost = Mapping[str, Iterable[date]]


def replan(
    programme: Programme,
    *,
    since: date,
    lost: Lost | None = None,
    brief: ResolvedBrief | None = None,
    rulebook: Rulebook,
    catalogue: Catalogue,
    reason: str,
    progress: Callable[[str, float], None] | None = None,
) -> Programme | Clash:
    """Plan a programme again from a day on; the same programme comes back where there is no news.

    Args:
        programme: the revision before.
        since: first day that may change; the days before are frozen and not judged.
        lost: days on which an athlete was not trained although a session stood, by athlete.
        brief: the brief as it is now; None where it has not changed. What the programme has learned since
            (lost days, logged lifts, a sled's friction from runs) is kept beside it.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.
        reason: why, in the coach's words; it is kept with the revision.
        progress: called with the athlete being planned and the share that is done.

    Raises:
        ReplanError: a programme made by hand, days that are frozen already, or another first day.
    """
    was = programme.brief.content
    if was is None:
        message = "Expected a programme with its brief inside, got one made by hand; plan it from a brief."
        raise ReplanError(message)
    now = with_lost(with_learned(brief, was, since=since) if brief else was, lost or {})
    _refuse(programme, since, starts=(was.start, now.start))
    book = rulebook.with_changes(now.rules)
    measured = measured_athletes(now, rulebook=book)

    def again(before: Programme) -> Programme | Clash:
        earlier = Earlier(before, was, since, rulebook.with_changes(was.rules), reason)
        return plan(
            now,
            rulebook=book,
            catalogue=catalogue,
            measured=measured,
            earlier=earlier,
            progress=progress,
        )

    outcome = again(programme)
    if isinstance(outcome, Clash) or outcome is programme:
        return outcome
    freed = _without_unsafe_locks(outcome, programme, since=since, rulebook=book, catalogue=catalogue)
    if freed is programme:
        return outcome
    outcome = again(freed)
    if isinstance(outcome, Clash):
        return outcome
    revision = outcome.revision.model_copy(update={"parent": digest(programme)})
    return succeeding(outcome, before=programme, revision=revision)


def _without_unsafe_locks(
    made: Programme, before: Programme, *, since: date, rulebook: Rulebook, catalogue: Catalogue
) -> Programme:
    """Take locks ahead away that a hard rule or a restriction does not allow: safety goes before a lock."""
    findings = check_programme(made, brief=None, rulebook=rulebook, catalogue=catalogue).hard()
    named = {ref for finding in findings for ref in (finding.session, finding.line) if ref}
    if not named:
        return before
    athletes = tuple(
        own.model_copy(
            update={
                "weeks": tuple(
                    week.model_copy(
                        update={"sessions": tuple(_freed(one, named, since) for one in week.sessions)}
                    )
                    for week in own.weeks
                )
            }
        )
        for own in before.programmes
    )
    return before if athletes == before.programmes else before.model_copy(update={"programmes": athletes})


def _freed(session: Session, named: set[str], since: date) -> Session:
    if session.ref not in named or session.date < since:
        return session
    lines = tuple(
        line.model_copy(update={"locked": ()}) if session.locked or line.ref in named else line
        for line in session.prescriptions
    )
    return session.model_copy(update={"locked": False, "prescriptions": lines})


def _refuse(programme: Programme, since: date, *, starts: tuple[date, date]) -> None:
    frozen = programme.revision.frozen_until
    if frozen is not None and since <= frozen:
        message = f"Expected a first day after {frozen}, which is frozen, got {since}; take a later day."
        raise ReplanError(message)
    if starts[0] != starts[1]:
        message = (
            f"Expected a brief that starts on {starts[0]}, as the programme did, got {starts[1]}; "
            "keep the start, or plan a new programme."
        )
        raise ReplanError(message)


def with_lost(brief: ResolvedBrief, lost: Lost) -> ResolvedBrief:
    """Give the brief with lost days as absences, so that the programme stands alone."""
    athletes = tuple(
        athlete.model_copy(update={"away": _away(athlete.away, lost.get(athlete.ref, ()))})
        for athlete in brief.athletes
    )
    return brief.model_copy(update={"athletes": athletes})


def _away(spans: tuple[Away, ...], days: Iterable[date]) -> tuple[Away, ...]:
    new = sorted({day for day in days if not any(span.covers(day) for span in spans)})
    joined: list[Away] = []
    for day in new:
        last = joined[-1] if joined else None
        if last is not None and (last.until or last.date) + timedelta(days=1) == day:
            joined[-1] = last.model_copy(update={"until": day})
        else:
            joined.append(Away(date=day))
    return tuple(sorted((*spans, *joined), key=lambda span: span.date)) if new else spans
