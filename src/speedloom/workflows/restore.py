"""Bring an earlier revision back, as a new one: nothing is ever undone silently."""

from __future__ import annotations

from datetime import date

from speedloom.errors import EditError
from speedloom.planning.restored import restored
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import digest
from speedloom.training.programme import BriefCopy, Programme, Revision
from speedloom.training.rule import Rulebook
from speedloom.training.succession import succeeding
from speedloom.workflows.replan import with_lost


def restore(latest: Programme, earlier: Programme, *, reason: str, rulebook: Rulebook) -> Programme:
    """Give the days ahead of an earlier revision back; days that are over stay as they were.

    Restrictions stay those of now: only people lift them.

    Args:
        latest: the newest revision.
        earlier: the revision that comes back.
        reason: why, in the coach's words.
        rulebook: the packaged rulebook.

    Raises:
        EditError: revisions of two programmes, or of one made by hand.
    """
    if latest.id != earlier.id:
        message = f"Expected a revision of programme {latest.id}, got one of {earlier.id}; take another file."
        raise EditError(message)
    now, then = latest.brief.content, earlier.brief.content
    if now is None or then is None:
        message = "Expected programmes that were planned, got one made by hand; keep its file instead."
        raise EditError(message)
    brief = _restricted(with_lost(then, _over(now, latest.revision.frozen_until)), now)
    made = restored(latest, earlier, brief=brief, rulebook=rulebook.with_changes(brief.rules))
    revision = Revision(
        number=latest.revision.number + 1,
        parent=digest(latest),
        cause="restore",
        reason=reason,
        frozen_until=latest.revision.frozen_until,
    )
    copy = BriefCopy(digest=digest(brief), content=brief)
    made = made.model_copy(update={"brief": copy, "seed": earlier.seed})
    return succeeding(made, before=latest, revision=revision)


def _restricted(brief: ResolvedBrief, now: ResolvedBrief) -> ResolvedBrief:
    held = {athlete.ref: athlete.restrictions for athlete in now.athletes}
    athletes = tuple(
        athlete.model_copy(update={"restrictions": held.get(athlete.ref, athlete.restrictions)})
        for athlete in brief.athletes
    )
    return brief.model_copy(update={"athletes": athletes})


def _over(brief: ResolvedBrief, frozen: date | None) -> dict[str, list[date]]:
    """Give the absences on days that are over: they happened, whatever comes back."""
    if frozen is None:
        return {}
    return {
        athlete.ref: [
            day
            for span in athlete.away
            for number in range(span.date.toordinal(), (span.until or span.date).toordinal() + 1)
            if (day := date.fromordinal(number)) <= frozen
        ]
        for athlete in brief.athletes
    }
