"""What a change of the calendar would move in the programme that is running: said before it is saved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext as _

from speedloom.errors import ReplanError
from speedloom.planning.clash import Clash
from speedloom.store.cards import Actor, ProgrammeCard
from speedloom.store.permissions import allowed
from speedloom.store.plan_now import to_plan_again
from speedloom.store.programmes import programmes, read_programme
from speedloom.training.brief import ResolvedBrief
from speedloom.training.calendar import Away, Event, Peak, Slot
from speedloom.training.exercise import load_catalogue
from speedloom.training.kit import Kit, Place
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.wording.clashes import clash_text
from speedloom.wording.replanned import replanned_lines
from speedloom.workflows.replan import replan

TOLD_ELSEWHERE = "speedloom diff"
"""The last line of a long text is for a terminal; here the revisions' page tells the rest."""


@dataclass(frozen=True)
class NewSlot:
    """A slot as it would be, with the place it is at and what stands there; without `slot` it goes."""

    ref: str
    slot: Slot | None = None
    place: Place | None = None
    kit: tuple[Kit, ...] = ()

    def applied(self, content: ResolvedBrief) -> ResolvedBrief:
        """Give a programme's brief with the slot; a place that it does not know yet comes with its kit."""
        others = tuple(one for one in content.slots if one.ref != self.ref)
        if self.slot is None:
            lines = tuple(line for line in content.own_lines if line.slot != self.ref)
            return content.model_copy(update={"slots": others, "own_lines": lines})
        changed = content.model_copy(update={"slots": (*others, self.slot)})
        if self.place is None or self.place.ref in {one.ref for one in content.places}:
            return changed
        known = {one.ref for one in content.kit}
        new = tuple(one for one in self.kit if one.ref not in known)
        return changed.model_copy(
            update={"places": (*content.places, self.place), "kit": (*content.kit, *new)}
        )


@dataclass(frozen=True)
class Change:
    """What is new: all events or peaks as they would be, one slot, or one athlete's absences."""

    days: tuple[tuple[date, date], ...]
    """First and last days of what comes, goes or stays in another way."""
    reason: str
    events: tuple[Event, ...] | None = None
    athlete: str = ""
    gone: tuple[Away, ...] = ()
    come: tuple[Away, ...] = ()
    peaks: tuple[Peak, ...] | None = None
    slot: NewSlot | None = None

    def applied(self, content: ResolvedBrief) -> ResolvedBrief:
        """Give a programme's brief with the change."""
        if self.events is not None:
            ordered = sorted(self.events, key=lambda one: f"{one.date} {one.model_dump_json()}")
            return content.model_copy(update={"events": tuple(ordered)})
        if self.peaks is not None:
            inside = tuple(one for one in self.peaks if content.start <= one.date <= content.end)
            return content.model_copy(update={"goal": content.goal.model_copy(update={"peaks": inside})})
        if self.slot is not None:
            return self.slot.applied(content)
        athletes = tuple(
            one.model_copy(update={"away": self._away(one.away)}) if one.ref == self.athlete else one
            for one in content.athletes
        )
        return content.model_copy(update={"athletes": athletes})

    def _away(self, spans: Iterable[Away]) -> tuple[Away, ...]:
        kept = {span for span in spans if span not in self.gone} | set(self.come)
        return tuple(sorted(kept, key=lambda one: one.model_dump_json()))


@dataclass(frozen=True)
class Moved:
    """A programme that a change concerns, as it would be; None where it cannot be planned so."""

    card: ProgrammeCard
    made: Programme | None
    lines: tuple[str, ...]


def moved(actor: Actor, squad: str, change: Change, *, today: date) -> Moved | None:
    """Say what a change would move in the newest programme it concerns; None where there is none."""
    if not allowed(actor, "change_programme", squad=squad):
        return None
    for card in programmes(actor, squad):
        document = read_programme(actor, squad, card.id)
        since = _since(document, change, today=today)
        if since is not None:
            return _moved(card, document, to_plan_again(actor, squad, document), change, since)
    return None


def _since(document: Programme, change: Change, *, today: date) -> date | None:
    """Give the first day that may change, or None where the programme has no such days.

    In a season that is over (a trial run, or one written down afterwards) it is the day of the change.
    """
    content = document.brief.content
    if content is None or not _concerns(content, change):
        return None
    first = min(begin for begin, _ in change.days)
    tomorrow = first if today >= content.end else today + timedelta(days=1)
    frozen = document.revision.frozen_until
    since = max(tomorrow, content.start, *([frozen + timedelta(days=1)] if frozen else []))
    return since if since <= content.end else None


def _concerns(content: ResolvedBrief, change: Change) -> bool:
    if change.athlete and change.athlete not in {one.ref for one in content.athletes}:
        return False
    return any(first <= content.end and last >= content.start for first, last in change.days)


def _moved(card: ProgrammeCard, document: Programme, now: Programme, change: Change, since: date) -> Moved:
    # Planned anew the rest goes by limits and clearances as they stand now, which may be newer.
    content = now.brief.content
    if content is None:
        return Moved(card, None, ())
    brief = change.applied(content)
    try:
        outcome = replan(
            document,
            since=since,
            brief=brief,
            rulebook=load_rulebook(),
            catalogue=load_catalogue(),
            reason=change.reason,
        )
    except ReplanError as error:
        return Moved(card, None, (str(error),))
    if isinstance(outcome, Clash):
        cannot = _("With this change the programme cannot be planned.")
        return Moved(card, None, (f"{cannot} {clash_text(outcome, brief=brief)}",))
    lines = tuple(_sentences(replanned_lines(document, outcome, since=since)))
    return Moved(card, None if outcome == document else outcome, lines)


def _sentences(lines: Iterable[str]) -> Iterator[str]:
    """Join lines that were wrapped for a terminal."""
    whole = ""
    for line in (*lines, ""):
        if line.startswith("  "):
            whole = f"{whole} {line.strip()}"
            continue
        if whole and not whole.startswith(TOLD_ELSEWHERE):
            yield whole
        whole = line
