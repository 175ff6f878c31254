"""The brief of a programme as its squad stands now: what planning again starts from."""

from __future__ import annotations

from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from datetime import date

from speedloom.training.athlete import Restriction
from speedloom.training.brief import Brief, ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.rule import Rulebook
from speedloom.workflows.learned import with_documents_limits, with_learned
from speedloom.workflows.replan import Lost, with_lost
from speedloom.workflows.resolve_brief import resolve_brief


def brief_now(
    was: ResolvedBrief,
    squad: Brief,
    measurements: Measurements,
    *,
    since: date,
    known: Mapping[str, AbstractSet[Restriction]],
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> ResolvedBrief:
    """Give a programme's brief with the squad's news in it: people, limits, tests, calendar, places, kit.

    Nobody joins by this: the athletes are those of the programme who are still of the squad. Where the
    squad's brief has gone on to another programme, with another start, only what is about people is news.
    A limit that only the programme's brief holds, and nobody lifted, stays in it.

    Args:
        was: the brief inside the programme.
        squad: the squad's brief now, with its athletes and their restrictions.
        measurements: everything measured and not struck out.
        since: first day that may change.
        known: every limit that the squad knows of, lifted or not, by athlete.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.
    """
    taken = {athlete.ref for athlete in was.athletes}
    whole = squad if (squad.start, squad.end) == (was.start, was.end) else was
    people = tuple(athlete for athlete in squad.athletes if athlete.ref in taken)
    now = whole.model_copy(update={"athletes": people, "tests": was.tests, "name": was.name})
    book = rulebook.with_changes(now.rules)
    resolved = resolve_brief(now, measurements, rulebook=book, catalogue=catalogue)
    return with_documents_limits(resolved, was, since=since, known=known)


def brief_again(was: ResolvedBrief, now: ResolvedBrief, *, lost: Lost, since: date) -> ResolvedBrief:
    """Give the brief that planning again goes by: the one of now, what was learned, and lost days.

    Args:
        was: the brief inside the programme.
        now: the brief as the squad stands now.
        lost: days on which an athlete was not trained although a session stood, by athlete.
        since: first day that may change.
    """
    return with_lost(with_learned(now, was, since=since), lost)
