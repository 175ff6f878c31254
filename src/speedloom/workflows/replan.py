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
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
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
        brief: the brief as it is now; None where it has not changed.
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
    now = with_lost(brief or was, lost or {})
    _refuse(programme, since, starts=(was.start, now.start))
    book = rulebook.with_changes(now.rules)
    earlier = Earlier(programme, was, since, rulebook.with_changes(was.rules), reason)
    return plan(
        now,
        rulebook=book,
        catalogue=catalogue,
        measured=measured_athletes(now, rulebook=book),
        earlier=earlier,
        progress=progress,
    )


def _refuse(programme: Programme, since: date, *, starts: tuple[date, date]) -> None:
    frozen = programme.revision.frozen_until
    if frozen is not None and since <= frozen:
        message = (
            f"Expected a first day after {frozen}, which is frozen, got {since}; take a later day."
        )
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
