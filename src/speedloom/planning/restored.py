"""An earlier revision brought back: its days ahead, with the days that are over as they were."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from speedloom.planning.edited import Edit, Tags, edit_names, holders, recounted, when
from speedloom.planning.ledger import Ledger, Tag
from speedloom.planning.past import refs_of
from speedloom.training.programme import AthleteProgramme, Prescription, Programme, Session, Week


def restored(latest: Programme, earlier: Programme, *, ledger: Ledger) -> Programme:
    """Give the latest revision with the days ahead of an earlier one; its revision is the latest's.

    Args:
        latest: the newest revision; its basis has been taken into the ledger.
        earlier: the revision whose days ahead come back, of the same programme.
        ledger: the ledger of the latest basis.
    """
    frozen = latest.revision.frozen_until or date.min
    merge = _Merge(Edit(ledger, ""), ledger.taken(earlier.basis), frozen)
    olds = {own.athlete: own for own in earlier.programmes}
    news = {own.athlete: own for own in latest.programmes}
    athletes = tuple(merge.athlete(news.get(ref), olds.get(ref)) for ref in sorted({*olds, *news}))
    names, basis = ledger.numbered(
        tag
        for own in athletes
        for key, holder in holders(own)
        for tag in merge.edit.tags(holder, key).values()
    )
    first = _first_open_week(latest, frozen)
    unmet = [item for item in latest.unmet if item.week < first]
    unmet += [item for item in earlier.unmet if item.week >= first]
    return latest.model_copy(
        update={
            "programmes": tuple(edit_names(own, merge.edit, names) for own in athletes),
            "basis": basis,
            "unmet": tuple(unmet),
            "rulebook": earlier.rulebook,
        }
    )


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
