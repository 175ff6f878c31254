"""The revision before, and from when it may change."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from speedloom.planning.ledger import Ledger
from speedloom.planning.past import Past, refs_of
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import digest
from speedloom.training.programme import AthleteProgramme, Programme, Revision, Week
from speedloom.training.rule import Rulebook


@dataclass(frozen=True)
class Earlier:
    """A programme that is planned again from a day on.

    Args:
        programme: the revision before.
        brief: the brief it was made from.
        since: first day that may change.
        rulebook: the rulebook it was made by.
        reason: why it is planned again, in the coach's words.
    """

    programme: Programme
    brief: ResolvedBrief
    since: date
    rulebook: Rulebook
    reason: str

    @cached_property
    def was(self) -> Ledger:
        """What the brief and the rulebook said then."""
        return Ledger(self.brief, self.rulebook)

    def past_of(self, athlete: str) -> Past:
        """Give what one athlete's weeks were; somebody who joins now has none."""
        own = next((one for one in self.programme.programmes if one.athlete == athlete), None)
        unmet = tuple(item for item in self.programme.unmet if item.athlete == athlete)
        return Past(self.since, own, self.was, unmet)

    def who_left(self, staying: set[str]) -> tuple[AthleteProgramme, ...]:
        """Give the athletes who are no longer planned, with the days that are over."""
        return tuple(
            _until(own, self.since) for own in self.programme.programmes if own.athlete not in staying
        )

    def revision(self) -> Revision:
        """Give the next revision's place in the line."""
        return Revision(
            number=self.programme.revision.number + 1,
            parent=digest(self.programme),
            cause="replan",
            reason=self.reason,
            frozen_until=self.since - timedelta(days=1),
        )


def _until(own: AthleteProgramme, since: date) -> AthleteProgramme:
    """Cut an athlete's weeks to the days that are over; nothing is planned for them any more."""
    weeks = tuple(_cut(week, since) for week in own.weeks if week.monday < since)
    kept = set(refs_of(weeks))
    gone = [ref for ref in refs_of(own.weeks) if ref not in kept]
    return own.model_copy(update={"weeks": weeks, "retired": (*own.retired, *gone)})


def _cut(week: Week, since: date) -> Week:
    """Keep a week's days that are over; what such a week should have held means nothing any more."""
    if week.monday + timedelta(days=6) < since:
        return week
    basis = {name: node for name, node in week.basis.items() if name == "specificity"}
    over = tuple(session for session in week.sessions if session.date < since)
    return week.model_copy(update={"volumes": {}, "basis": basis, "sessions": over})
