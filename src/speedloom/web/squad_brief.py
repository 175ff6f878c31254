"""A squad's brief changed from a page: looked at as a whole, then saved after the revision that was shown."""

from __future__ import annotations

from speedloom.exchange.brief_changed import new_faults
from speedloom.exchange.fault import Fault
from speedloom.store.briefs import save_brief
from speedloom.store.cards import BriefRevision, SquadCard
from speedloom.training.brief import Brief
from speedloom.web.access import Request


def shown_revision(request: Request, was: BriefRevision) -> int:
    """Give the number of the revision the page was made from; the newest where it does not say."""
    after = request.POST.get("after", "")
    return int(after) if after.isdecimal() else was.number


def keep(
    request: Request, squad: SquadCard, was: BriefRevision, changed: Brief, *, reason: str
) -> tuple[Fault, ...]:
    """Save a changed brief, or give what is wrong with it; then nothing is saved.

    Raises:
        ConflictError: somebody changed it since the page was made.
    """
    faults = new_faults(was.brief, changed)
    if not faults:
        save_brief(request.actor, squad.key, changed, after=shown_revision(request, was), reason=reason)
    return faults


def in_words(fault: Fault) -> str:
    """Say a fault beside a form: what was expected, what came, what to do."""
    came = f", got {fault.what_came}" if fault.what_came else ""
    todo = f"; {fault.todo}" if fault.todo else ""
    return f"Expected {fault.expected}{came}{todo}."
