"""What a change may not break: hard rules of the document, and limits that hold now though they are newer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from django.utils.timezone import localdate

from speedloom.checking.finding import Finding
from speedloom.store.cards import Actor
from speedloom.store.limits_now import with_people_now
from speedloom.store.plan_now import to_plan_again
from speedloom.training.athlete import Restriction
from speedloom.training.programme import Programme
from speedloom.wording.books import books_of
from speedloom.workflows.beyond_clearance import beyond_clearance
from speedloom.workflows.beyond_limits import beyond_limits
from speedloom.workflows.check_news import check_news

Held = Mapping[str, tuple[Restriction, ...]]


def above_limits_now(actor: Actor, squad: str, before: Programme, made: Programme) -> tuple[Finding, ...]:
    """Find where a change goes further above the limits in force now than the programme did before it.

    Sprint work for somebody who had none ahead, and is not cleared now, is such a limit too.

    Args:
        actor: who changes it.
        squad: the squad's key.
        before: the revision that is changed.
        made: the revision that would be saved.
    """
    was, now = (with_people_now(actor, squad, one) for one in (before, made))
    held = _held(now)
    above = check_news(_found(was, held), _found(now, held)).hard
    return (*above, *_joining_uncleared(*(to_plan_again(actor, squad, one) for one in (was, now))))


def held_now(actor: Actor, squad: str, programme: Programme) -> Held:
    """Give the restrictions of a programme's people as they stand now."""
    return _held(with_people_now(actor, squad, programme))


def _held(programme: Programme) -> Held:
    content = programme.brief.content
    return {one.ref: one.restrictions for one in content.athletes} if content else {}


def _joining_uncleared(was: Programme, now: Programme) -> Iterator[Finding]:
    """Find who comes to sprint work by a change: whoever had some before is the programme's own matter."""
    before = {one.athlete for one in _uncleared(was)}
    yield from (one for one in _uncleared(now) if one.athlete not in before)


def _uncleared(programme: Programme) -> tuple[Finding, ...]:
    rulebook, catalogue = books_of(programme)
    return beyond_clearance(programme, since=localdate(), rulebook=rulebook, catalogue=catalogue)


def _found(programme: Programme, held: Held) -> tuple[Finding, ...]:
    rulebook, catalogue = books_of(programme)
    return beyond_limits(programme, held, since=localdate(), rulebook=rulebook, catalogue=catalogue)
