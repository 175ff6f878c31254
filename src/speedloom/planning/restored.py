"""An earlier revision brought back: its days ahead, with the days that are over as they were."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from speedloom.planning.edited import (
    Edit,
    Tags,
    all_tags,
    edit_names,
    holders,
    known_again,
    recounted,
    under,
    when,
)
from speedloom.planning.ledger import Ledger, Tag, last_number
from speedloom.planning.past import refs_of
from speedloom.training.brief import ResolvedBrief
from speedloom.training.programme import AthleteProgramme, Node, Prescription, Programme, Session, Week
from speedloom.training.rule import Rulebook


def restored(latest: Programme, earlier: Programme, *, brief: ResolvedBrief, rulebook: Rulebook) -> Programme:
    """Give the latest revision with the days ahead of an earlier one; its revision is the latest's.

    Who is the same in both, steps and all, stays as it is: nothing of theirs is taken up.

    Args:
        latest: the newest revision.
        earlier: the revision whose days ahead come back, of the same programme.
        brief: the brief that stands behind what comes back.
        rulebook: the rulebook with that brief's changes.
    """
    frozen = latest.revision.frozen_until or date.min
    olds = {own.athlete: own for own in earlier.programmes}
    news = {own.athlete: own for own in latest.programmes}
    both = {ref: (news.get(ref), olds.get(ref)) for ref in sorted({*olds, *news})}
    steps = _Both(latest.basis, earlier.basis)
    differing = [ref for ref, (new, old) in both.items() if not steps.alike(new, old)]
    below = under(latest.basis, [news[ref] for ref in differing if ref in news])
    ledger = Ledger(brief, rulebook, basis=below, after=last_number(latest.basis))
    then = ledger.taken(under(earlier.basis, [olds[ref] for ref in differing if ref in olds]))
    merge = _Merge(Edit(ledger, ""), then, frozen)
    merged = [merge.athlete(*both[ref]) for ref in differing]
    names, added = known_again(latest.basis, *ledger.numbered(all_tags(merged, merge.edit)))
    made = {own.athlete: edit_names(own, merge.edit, names) for own in merged}
    athletes = tuple(made.get(ref) or news[ref] for ref in both)
    first = _first_open_week(latest, frozen)
    unmet = [item for item in latest.unmet if item.week < first]
    unmet += [item for item in earlier.unmet if item.week >= first]
    return latest.model_copy(
        update={
            "programmes": athletes,
            "basis": under(latest.basis | added, athletes),
            "unmet": tuple(unmet),
            "rulebook": earlier.rulebook,
        }
    )


@dataclass(frozen=True)
class _Both:
    """Two revisions, and the steps that have been found to be the same in both."""

    latest: Mapping[str, Node]
    earlier: Mapping[str, Node]
    same: set[str] = field(default_factory=set)

    def alike(self, new: AthleteProgramme | None, old: AthleteProgramme | None) -> bool:
        """Say whether an athlete has the same weeks in both, and the same steps behind them."""
        if new is None or old is None or not (new is old or new == old):
            return False
        waiting = [name for _, holder in holders(new) for name in holder.basis.values()]
        while waiting:
            name = waiting.pop()
            if name not in self.same:
                node, other = self.latest.get(name), self.earlier.get(name)
                if node is None or not (node is other or node == other):
                    return False
                self.same.add(name)
                waiting += [link for link in node.inputs.values() if ":" not in link]
        return True


def _first_open_week(programme: Programme, frozen: date) -> int:
    weeks = (week for own in programme.programmes for week in own.weeks)
    return min((week.number for week in weeks if week.monday + timedelta(days=6) > frozen), default=1)


@dataclass(frozen=True)
class _Merge:
    edit: Edit
    taken: Mapping[str, Tag]
    frozen: date

    def athlete(self, new: AthleteProgramme | None, old: AthleteProgramme | None) -> AthleteProgramme:
        """Join one athlete's weeks; refs that are gone are retired, and none is given out again."""
        base = new or old
        if base is None:
            raise ValueError(base)
        now = {week.number: week for week in (new.weeks if new else ())}
        done = {one.ref for week in now.values() for one in week.sessions if one.date <= self.frozen}
        then = {week.number: week for week in (old.weeks if old else ())}
        weeks = tuple(
            week
            for number in sorted({*now, *then})
            for week in self._week(base.athlete, now.get(number), then.get(number), done=done)
        )
        kept = set(refs_of(weeks))
        known = dict.fromkeys(ref for own in (new, old) if own for ref in (*own.retired, *refs_of(own.weeks)))
        return base.model_copy(
            update={
                "profile": old.profile if old else base.profile,
                "weeks": weeks,
                "next_ref": max(own.next_ref for own in (new, old) if own),
                "retired": tuple(ref for ref in known if ref not in kept),
            }
        )

    def _week(self, athlete: str, now: Week | None, then: Week | None, *, done: Container[str]) -> list[Week]:
        shown = now or then
        if shown is None:
            return []
        if shown.monday + timedelta(days=6) <= self.frozen:
            return [] if now is None else [now]
        over = [session for session in (now.sessions if now else ()) if session.date <= self.frozen]
        if then is None:
            return [self._cut(athlete, now, over)] if now and over else []
        self.edit.nodes[f"{athlete}-w{then.number}"] = self._tags(then)
        # A session that was moved and is over by now does not come back a second time on its earlier day.
        left = [one for one in then.sessions if one.date > self.frozen and one.ref not in done]
        ahead = [self._taken(session) for session in left]
        if over == [session for session in then.sessions if session.date <= self.frozen]:
            for session in over:
                self._taken(session)
            return [then]
        merged = then.model_copy(update={"sessions": tuple(sorted([*over, *ahead], key=when))})
        return [recounted(merged, f"{athlete}-w{then.number}", self.edit, volumes=set(then.volumes))]

    def _cut(self, athlete: str, week: Week, over: Sequence[Session]) -> Week:
        """Keep the days that are over of a week the earlier revision did not have, and what they hold."""
        cut = week.model_copy(update={"sessions": tuple(over)})
        return recounted(cut, f"{athlete}-w{week.number}", self.edit, volumes=set(week.volumes))

    def _taken(self, session: Session) -> Session:
        self.edit.nodes[session.ref] = self._tags(session)
        for line in session.prescriptions:
            self.edit.nodes[line.ref] = self._tags(line)
        return session

    def _tags(self, holder: Prescription | Session | Week) -> Tags:
        return {name: self.taken[node] for name, node in holder.basis.items()}
